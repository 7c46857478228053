"""Pump and well: whether the pump reaches cut-out, and what it delivers there."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QWidget

from workbench.gui.pages.answer import Answer
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.grid_table import GridTable
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.page import Page
from workbench.gui.pages.picture import Picture
from workbench.gui.pages.pump import words
from workbench.gui.pages.steps import step_rows
from workbench.gui.pages.stops import mend_first
from workbench.gui.plots.pump_plot import PumpPlot
from workbench.gui.store import Store
from workbench.job.pump_choices import PumpEntry
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.study.pump.working import pump_steps
from workbench.units import Display
from workbench.words import tr

_OF_ENTRY = {
    PumpEntry.CONSTANT: ("pump_flow",),
    PumpEntry.TWO_FLOWS: ("flow_at_cut_in", "flow_at_cut_out", "flow_in_at", "flow_out_at"),
    PumpEntry.CURVE: ("curve",),
    PumpEntry.BUCKET: ("bucket_volume", "bucket_time"),
}


def _groups() -> Groups:
    each = tuple(name for names in _OF_ENTRY.values() for name in names)
    return (
        (tr("Pump"), ("pump_entry", *each)),
        (tr("Switch"), ("cut_in", "cut_out")),
        (
            tr("Well and pipe"),
            (
                *("water_level", "pipe_length", "pipe_material", "pipe_size", "pipe_bore"),
                *("pipe_roughness", "fittings", "pump_efficiency", "well_yield"),
            ),
        ),
    )


class PumpPage(Page):
    """Shows ``Results.pump``."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.flow = Answer(tr("Flow at cut-out"), self.results, key="pump.flow")
        self.reach = Answer(tr("Reach above cut-out"), self.results, key="pump.reach")
        self.messages = Messages(self.results)
        self.picture = Picture(PumpPlot(self.results), words.legend(), self.results)
        self.facts = Facts(tr("What the pump works against"), self.results)
        self.pipes = GridTable(tr("Friction by size of pipe"), self.results)
        self.working = Facts(tr("How these figures come about"), self.results)
        self.add_abreast(self.flow, self.reach)
        for widget in (self.messages, self.picture, self.facts, self.pipes, self.working):
            self.column.addWidget(widget)
        self.column.addStretch(1)

    def arrange_inputs(self) -> None:
        """Only what belongs to the chosen way of knowing the pump."""
        chosen = self.store.job.pump_entry
        for entry, names in _OF_ENTRY.items():
            for name in names:
                self.inputs.set_row_visible(name, entry is chosen, instead="pump_entry")

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job and of this page."""
        return (*results.findings, *(results.pump.findings if results.pump else ()))

    def present(self, results: Results, display: Display) -> None:
        """Show the pump, or what must be mended first."""
        view = results.pump
        self.messages.show_findings(self.inputs.elsewhere(words.own_of(results)), display)
        for widget in (self.facts, self.pipes, self.working):
            widget.setVisible(view is not None)
        if view is None:
            first = mend_first(results.findings)
            self.flow.show_answer("", first, "problem")
            self.reach.show_answer("", first, "problem")
            self.picture.show_words(tr("The picture needs what is missing."))
            return
        self.flow.show_answer(*words.flow_answer(view, display))
        self.reach.show_answer(*words.reach_answer(view, display))
        if view.picture is None:
            self.picture.show_words(words.no_picture())
        else:
            plot = self.picture.plot
            assert isinstance(plot, PumpPlot)  # noqa: S101 - made above
            plot.show_view(view, display)
            self.picture.show_plot()
        self.facts.set_rows(words.facts(view, display))
        table = view.tables[display.system]
        self.pipes.show_table(*words.pipe_table(table, display))
        self.pipes.remark.setText(words.pipe_remark(table, display))
        steps = pump_steps(view, display)
        self.working.setVisible(bool(steps))
        self.working.set_rows(step_rows(steps))
