"""Precharge: what the air in the drained tank does to the water that the tank gives."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QWidget

from workbench.gui.pages.answer import Answer
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.grid_table import GridTable
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.picture import Picture
from workbench.gui.pages.shift import words
from workbench.gui.pages.steps import step_rows
from workbench.gui.pages.tank_page import TankPage
from workbench.gui.plots.shift_plot import ShiftPlot
from workbench.gui.store import Store
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.study.shift.working import shift_steps
from workbench.units import Display
from workbench.words import tr


def _groups() -> Groups:
    return (
        (tr("Tank"), ("first_tank", "live_volume")),
        (tr("Switch"), ("cut_in", "cut_out")),
        (tr("Air"), ("precharge_rule", "precharge")),
        (tr("At the tap"), ("steady_draw", "line_give", "start_delay")),
        (tr("House and site"), ("people", "daily_use", "altitude")),
    )


class ShiftPage(TankPage):
    """Shows ``Results.shift``."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.gives = Answer(tr("Drawdown at this precharge"), self.results, key="shift.gives")
        self.gives.figure.setWordWrap(True)  # two figures, so it is long in large type
        self.charge = Answer(tr("Recommended precharge"), self.results, key="shift.charge")
        self.messages = Messages(self.results)
        self.plot = ShiftPlot(self.results)
        self.picture = Picture(self.plot, words.legend(), self.results)
        self.table = GridTable(tr("Other precharges"), self.results)
        self.facts = Facts(tr("What each step costs"), self.results)
        self.working = Facts(tr("How these figures come about"), self.results)
        self.add_abreast(self.gives, self.charge)
        for widget in (self.messages, self.picture, self.table, self.facts, self.working):
            self.column.addWidget(widget)
        self.column.addStretch(1)

    def arrange_inputs(self) -> None:
        """The precharge only where it is typed; the catalogue's tank only without a volume."""
        super().arrange_inputs()
        barred = (
            ""
            if self.store.job.live_volume is None
            else tr("Not used: a total volume is typed below.")
        )
        self.inputs.lock_row("first_tank", barred)

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job and of this page."""
        return (*results.findings, *results.shift.findings)

    def present(self, results: Results, display: Display) -> None:
        """Show the tank over its precharge, or what must be mended first."""
        view = results.shift
        shift = view.shift
        self.messages.show_findings(self.inputs.elsewhere(words.told_here(results, view)), display)
        for widget in (self.table, self.facts, self.working):
            widget.setVisible(shift is not None)
        if shift is None:
            first = words.what_stops(results, view)
            self.gives.show_answer("", first, "problem")
            self.charge.show_answer("", first, "problem")
            self.picture.show_words(tr("The picture needs a tank and a switch band."))
            return
        self.gives.show_answer(*words.gives_answer(shift, display))
        self.charge.show_answer(*words.charge_answer(results, shift, display))
        self.plot.show_shift(shift, display)
        self.picture.show_plot()
        self.table.show_table(words.columns(display), words.table(shift, display))
        self.facts.set_rows(words.facts(shift, display))
        self.working.set_rows(step_rows(shift_steps(shift, display)))
