"""Setting card: what the one in the basement sets, in which order, on one page."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from workbench.gui.explain.figure import Figure
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
        (tr("What is set"), ("first_tank", "cut_in", "cut_out", "relief_setting")),
        (tr("May be off by"), ("tol_switch_in", "tol_switch_out", "tol_precharge")),
        (tr("Record"), ("set_by", "set_date", "card_note")),
        (tr("Paper"), ("paper",)),
    )


class CardPage(PaperPage):
    """Shows :func:`workbench.report.card.card_content`."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)

    def content(self, results: Results, display: Display) -> PaperContent | str:
        """The card, or what must be mended before a setting is printed."""
        from workbench.report.card import card_content

        return card_content(results, display)

    def figures(self, results: Results, display: Display) -> Iterable[Figure]:
        """Those of the paper."""
        from workbench.gui.pages.card.figures import figures_of

        return figures_of(results, display)

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job and of the card."""
        from workbench.study.card import card_view

        return (*results.findings, *card_view(results).findings)
