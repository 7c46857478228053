"""Price list: what this job costs with today's prices, and the prices themselves."""

from __future__ import annotations

from collections.abc import Iterable, Set

from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.fields.field_row import told
from workbench.gui.pages.answer import Answer
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.fitted import Fitted
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.page import Page
from workbench.gui.pages.prices.table import PricesTable
from workbench.gui.pages.stops import mend_first, untold
from workbench.gui.store import Store
from workbench.job.job import Job
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.pricing import words
from workbench.study.pricing.money import money
from workbench.study.pricing.sheet import PriceSheet, price_sheet
from workbench.units import Display
from workbench.words import tr


def _groups() -> Groups:
    return (
        (tr("Whose prices"), ("prices_invented",)),
        (tr("Prices and labour"), ("markup", "labour_rate", "labour_cost")),
        (tr("Tanks of the catalogue"), ("tank_price", "tank_taxed")),
        (tr("Tax and total"), ("tax", "rounding")),
        (tr("How money is written"), ("currency", "money_form")),
    )


class PricesPage(Page):
    """Shows a :class:`PriceSheet`: the office's view, with cost and margin."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.total = Answer(tr("Total of option A"), self.results, key="prices.total")
        self.made_of = Facts(tr("What it is made of"), self.results)
        self.for_us = Facts(tr("For the office alone"), self.results)
        self.list = PricesTable(self.results)
        self.messages = Messages(self.results)
        self.add_abreast(self._stacked(self.total, self.for_us), self._stacked(self.made_of))
        for widget in (self.list, self.messages):
            self.column.addWidget(widget)
        self.column.setStretchFactor(self.list, 1)
        self.list.edited.connect(self._on_edited)
        self._sheet: PriceSheet | None = None

    def _stacked(self, *widgets: QWidget) -> QWidget:
        """Widgets one under the other, from the top."""
        side = Fitted(self.results)
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.NEAR)
        for widget in widgets:
            column.addWidget(widget)
        column.addStretch(1)
        return side

    @property
    def input_names(self) -> Set[str]:
        """Those that have a row, the list and the quantities."""
        return self.inputs.rows.keys() | {"prices", "counts"}

    def refresh(self) -> None:
        """Price the job once for inputs and results."""
        results = self.store.results
        self._sheet = None if results is None else price_sheet(results)
        super().refresh()

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job and of its prices."""
        return (*results.findings, *(self._sheet.findings if self._sheet else ()))

    def present(self, results: Results, display: Display) -> None:
        """Show the total, what it is made of, and the list."""
        sheet = self._sheet
        if sheet is None:
            return
        job = results.job
        self.total.show_answer(*_answer(results, sheet, job, display))
        self.made_of.set_rows(words.made_of(sheet, job))
        own = words.for_us(sheet.priced, job) if sheet.priced is not None else []
        self.for_us.setVisible(bool(own))
        self.for_us.set_rows(own)
        self.list.show_sheet(sheet, job, display)
        self.messages.show_findings(
            untold(sheet.findings, self.findings(results), self.inputs), display
        )

    def _on_edited(self, changes: dict[str, object], text: str) -> None:
        self.store.edit(changes, text)


def _answer(
    results: Results, sheet: PriceSheet, job: Job, display: Display
) -> tuple[str, str, str]:
    """The total and where it comes from, or what stands in its way, and the role of that."""
    priced = sheet.priced
    if priced is not None and priced.totals is not None:
        count = len(priced.lines)
        reason = tr("{count} lines with tax, each rounded to the coin.", count=count)
        return money(priced.totals.total, job), reason, "muted"
    stop = next((one for one in sheet.findings if one.level is Level.STOP), None)
    if stop is not None:
        return "", told(stop, display), "problem"
    first = mend_first(results.findings)
    return "", first or tr("No tank is chosen yet."), "problem" if first else "muted"
