"""How the figures of a paper are written."""

from __future__ import annotations

from workbench.job.job import Job
from workbench.study.pricing.money import decimal_mark
from workbench.units import Display


def on_paper(job: Job, display: Display) -> Display:
    """The units shown, with the decimal mark of the firm's own papers."""
    return Display(display.system, decimal_mark(job))
