"""The working behind a page's figures, as rows of :class:`workbench.gui.pages.facts.Facts`."""

from __future__ import annotations

from collections.abc import Iterable

from workbench.gui.pages.facts import Row
from workbench.study.working import Step


def step_rows(steps: Iterable[Step]) -> list[Row]:
    """Each step's title beside its formula, the numbers put in, and the source."""
    return [(step.title, f"{step.formula}\n{step.numbers}\n{step.source}", "") for step in steps]
