"""Pages built on the common ground, with every kind of row and panel, to try the ground on them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from PySide6.QtWidgets import QWidget

from workbench.gui.pages.answer import Answer
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.page import Page
from workbench.gui.pages.progress_row import ProgressRow
from workbench.gui.pages.registry import FIRST, PageEntry
from workbench.gui.store import Store
from workbench.gui.worker import Background
from workbench.job.job import Job
from workbench.study.findings import Finding, Level
from workbench.units import FLOW, PRESSURE, Display, Quantity
from workbench.words import tr


class SamplePage(Page):
    """Shows the cut-in as its answer, and counts how often it has shown anything."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        groups = (
            (tr("Pump"), ("pump_entry", "flow_at_cut_in", "curve", "fittings", "pipe_size")),
            (tr("Switch"), ("cut_in", "bands", "mixed_sets", "peak_demand")),
            (tr("Tanks"), ("header_set",)),
            (tr("Motor"), ("motor_limit", "own_rest")),
        )
        super().__init__(store, groups, parent)
        self.shows = 0
        self.told: tuple[Finding, ...] = ()
        self.answer = Answer(tr("Cut-in of this job"), self.results)
        self.second = Answer(tr("Another figure"), self.results)
        self.messages = Messages(self.results)
        self.facts = Facts(tr("More figures"), self.results)
        self.background = Background(self)
        self.progress = ProgressRow(self.background, tr("The day"), self.results)
        self.add_abreast(self.answer, self.second)
        for widget in (self.messages, self.facts, self.progress):
            self.column.addWidget(widget)
        self.column.addStretch(1)

    def arrange_inputs(self) -> None:
        self.inputs.set_row_visible("own_rest", visible=False, instead="motor_limit")
        flow = self.store.display.text(6e-4, FLOW)
        self.inputs.lock_row("peak_demand", tr("from another page: {flow}", flow=flow))

    def findings(self, results: Any) -> Iterable[Finding]:  # noqa: ARG002 - tells its own
        return self.told

    def present(self, results: Any, display: Display) -> None:
        self.shows += 1
        cut_in = results.job.cut_in
        figure = display.text(cut_in.si, PRESSURE) if isinstance(cut_in, Quantity) else ""
        self.answer.show_answer(figure, tr("As it was entered."))
        self.second.show_answer("", tr("There is none."), "problem")
        self.messages.show_findings(self.inputs.elsewhere(self.told), display)
        self.facts.set_rows(
            [
                (tr("Cut-in"), figure, ""),
                (tr("A name that takes more room than most names do"), figure, ""),
                (
                    tr("Source"),
                    tr("A published work with a long title, its year and page"),
                    "muted",
                ),
            ]
        )


OWN = Finding(Level.CAUTION, "own", "cut_in", tr("The cut-in is odd."), tr("Look at it."))
HIDDEN = Finding(Level.STOP, "hidden", "own_rest", tr("The rest is odd."), tr("Look at it."))
LOCKED = Finding(Level.NOTE, "locked", "peak_demand", tr("The demand is odd."))
FAR = Finding(Level.NOTE, "far", "altitude", tr("The altitude is odd."), tr("Look at the site."))
ALL = Finding(Level.STOP, "all", "", tr("The job is odd as a whole."), tr("Begin anew."))


def build() -> SamplePage:
    """The page alone, evaluated, with findings of every kind."""
    store = Store(Display())
    store.job = Job()
    page = SamplePage(store)
    store.setParent(page)
    page.told = tuple(
        Finding(one.level, one.code, one.field, tr("It is odd."), tr("Look at it."))
        for one in (OWN, HIDDEN, LOCKED, FAR, ALL)
    )
    store.wake()
    return page


def entries() -> tuple[PageEntry, ...]:
    """The bench, and fifteen pages more in five groups."""
    bench = PageEntry(FIRST, tr("Size"), tr("Tank"), "workbench.gui.pages.bench.page:BenchPage")
    names = "One Two Three Four Five Six Seven Eight Nine Ten Eleven Twelve Thirteen Fourteen End"
    groups = [tr("Size"), tr("Pump and day"), tr("On site"), tr("Paper"), tr("Teaching")]
    here = f"{__name__}:SamplePage"
    return (
        bench,
        *(
            PageEntry(name.lower(), groups[number // 3], f"{name}-{number}", here)
            for number, name in enumerate(names.split())
        ),
    )
