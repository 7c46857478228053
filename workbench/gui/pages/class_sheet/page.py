"""Exercise sheet: the questions for a class, or the key for its trainer, to print."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from workbench.gui.pages.exercises.made import TOPICS, MadeSets
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.paper_page import PaperPage
from workbench.gui.store import Store
from workbench.report.blocks import PaperContent
from workbench.units import Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results
    from workbench.study.findings import Finding


def _groups() -> Groups:
    return (
        (tr("Topics"), TOPICS),
        (tr("The set"), ("exercise_seed", "exercise_count")),
        (tr("Sheet"), ("sheet_for", "class_name", "class_date", "paper")),
    )


class SheetPage(PaperPage):
    """Shows :func:`workbench.report.exercises.sheet_content`."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self._made = MadeSets()

    def content(self, results: Results, display: Display) -> PaperContent | str:
        """The sheet, or what must be mended first."""
        from workbench.report.exercises import sheet_content

        return sheet_content(results, display, self._made.of)

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job, of the set, and of the day."""
        from workbench.report.exercises import date_findings
        from workbench.report.paper_display import paper_display

        job = results.job
        made = self._made.of(job, paper_display(job, self.store.display))
        return (*results.findings, *made.findings, *date_findings(job))
