"""The page about peak demand: how much will this house draw at once, and can it be given?"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import FigureLabel
from workbench.gui.pages.answer import Answer
from workbench.gui.pages.demand.rows import meaning_rows, method_rows
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.page import Page
from workbench.gui.plots.methods_plot import MethodsPlot
from workbench.gui.store import Store
from workbench.job.house_choices import DemandMethod
from workbench.job.labels import label_of
from workbench.study.findings import Level
from workbench.study.house.words import (
    estimates_note,
    no_cure_words,
    outcome_words,
    peak_reason,
    spread_words,
)
from workbench.units import FLOW
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results
    from workbench.study.findings import Finding
    from workbench.units import Display


_GIVING = QSizePolicy.Policy.Preferred


def _groups() -> Groups:
    return (
        (tr("House"), ("people", "bedrooms", "bathrooms")),
        (
            tr("Fixtures"),
            (
                "toilets", "basins", "tubs", "showers", "kitchen_sinks", "dishwashers", "washers",
                "laundry_sinks", "hose_bibs",
            ),
        ),
        (tr("Peak demand by"), ("demand_method", "peak_demand")),
        (tr("Day and well"), ("daily_use", "well_yield")),
    )  # fmt: skip


class DemandPage(Page):
    """Shows ``results.house``."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.peak = Answer(tr("Peak demand"), key="demand.peak")
        self.outcome = Answer(tr("Pump and well"), key="demand.outcome")
        for answer in (self.peak, self.outcome):  # one beneath the other where a word needs room
            answer.reason.setSizePolicy(_GIVING, _GIVING)
        self.messages = Messages(self.results)
        self.no_cure = self._text("caution")
        self.spread = self._text("muted")
        self.reading = self._text("muted")
        self.plot = MethodsPlot(self.results)
        self.plot.read.connect(self._show_reading)
        self.meaning = Facts(tr("What it means"), self.results)
        self.methods = Facts(tr("Methods and their sources"), self.results)
        self._show_reading("")
        self.add_abreast(self.peak, self.outcome)
        for widget in (
            self.no_cure, self.messages, self.spread, self.reading, self.plot, self.meaning,
            self.methods,
        ):  # fmt: skip
            self.column.addWidget(widget)
        self.column.addStretch(1)

    def _text(self, role: str) -> FigureLabel:
        label = FigureLabel("", self.results)
        theme.set_role(label, role)
        label.setWordWrap(True)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        return label

    def arrange_inputs(self) -> None:
        """One's own figure is asked for only where it is the method."""
        typed = self.store.job.demand_method is DemandMethod.TYPED
        self.inputs.set_row_visible("peak_demand", typed)

    def findings(self, results: Results) -> Iterable[Finding]:
        """The job's findings and the house's own."""
        return (*results.findings, *results.house.findings)

    def present(self, results: Results, display: Display) -> None:
        """Show the peak, what pump and well make of it, and every method."""
        view = results.house
        figure = "" if view.peak is None else display.text(view.peak, FLOW)
        self.peak.show_answer(figure, peak_reason(view), "muted" if figure else "problem")
        self.outcome.show_answer(*outcome_words(view, display))
        no_cure = no_cure_words(view)
        self.no_cure.setText(tr("Not a larger tank: {why}", why=no_cure))
        self.no_cure.setVisible(bool(no_cure))
        self.messages.show_findings(self._stops_elsewhere(results), display)
        self.spread.setText(f"{spread_words(view, display)} {estimates_note()}")
        key = "" if view.spread is None else "demand.spread"
        self.spread.explain_as(key, tr("How far the methods differ"))
        self.plot.show_view(view, display)
        self.meaning.set_rows(meaning_rows(view, display))
        self.methods.set_rows(method_rows(view, display))

    def _stops_elsewhere(self, results: Results) -> list[Finding]:
        """What withholds a figure here and stands beside a field of another page, which is named.

        Lesser findings are no matter of this page.
        """
        return [
            replace(finding, text=f"{label_of(finding.field)}: {finding.text}")
            for finding in self.inputs.elsewhere(self.findings(results))
            if finding.level is Level.STOP
        ]

    def _show_reading(self, text: str) -> None:
        self.reading.setText(
            text
            or tr(
                "Peak demand by each published method, the chosen one heavier; across them what"
                " pump and well give. Point at the plot or use the arrow keys to read it."
            )
        )
