"""What a page says of its findings beside the rows: what to mend first, and what no row tells."""

from __future__ import annotations

from collections.abc import Iterable

from workbench.gui.pages.inputs import InputsPanel
from workbench.job.labels import label_of
from workbench.study.findings import Finding, Level
from workbench.words import tr


def mend_first(findings: Iterable[Finding]) -> str:
    """The entries at which stops stand, by their labels; "" where there is no stop."""
    stops = [finding for finding in findings if finding.level is Level.STOP]
    names = dict.fromkeys(label_of(stop.field) for stop in stops if stop.field)
    return tr("Mend first: {names}.", names=", ".join(names)) if names else ""


def untold(own: Iterable[Finding], every: Iterable[Finding], inputs: InputsPanel) -> list[Finding]:
    """Those of a page's ``own`` findings that no row tells, for a row tells but its gravest one.

    Args:
        every: the findings that the rows were given, in the same order.
    """
    own = list(own)
    told: dict[str, Finding] = {}
    for finding in every:
        before = told.get(finding.field)
        if before is None or finding.level > before.level:
            told[finding.field] = finding
    away = inputs.elsewhere(own)
    return [one for one in own if one in away or told.get(one.field) != one]
