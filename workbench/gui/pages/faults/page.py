"""Faults: one set loose in the job's system, what shows it, and what tells it from others."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QWidget

from workbench.gui.live.panel import LivePanel
from workbench.gui.pages.answer import Answer
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.faults import words
from workbench.gui.pages.faults.readings_table import ReadingsTable
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.stops import untold
from workbench.gui.pages.tank_page import TankPage
from workbench.gui.store import Store
from workbench.gui.worker import Background
from workbench.job.teach_choices import Fault
from workbench.study.evaluate import Results
from workbench.study.faults.apart import Other
from workbench.study.faults.view import FaultsView
from workbench.study.findings import Finding
from workbench.units import Display
from workbench.words import tr

_PAUSE = 150  # ms without a change after which it is worked out what tells the faults apart


def _groups() -> Groups:
    return (
        (tr("Fault"), ("fault", "degree")),
        (tr("Tank and draw"), ("first_tank", "live_volume", "steady_draw")),
        (tr("Switch and air"), ("cut_in", "cut_out", "precharge_rule", "precharge")),
        (tr("Tolerances of the tools"), ("tol_gauge", "tol_precharge", "tol_bucket", "tol_watch")),
    )


class FaultsPage(TankPage):
    """Shows ``Results.faults``; what tells the faults apart is worked out beside the window."""

    own_changed = Signal()

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.background = Background(self)
        self._asked: FaultsView | None = None
        self._worked_out: tuple[FaultsView, tuple[Other, ...]] | None = None
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE)
        self._pause.timeout.connect(self._start)
        self.wrong = Answer(tr("What is wrong"), self.results, key="faults.wrong")
        self.wrong.figure.setWordWrap(True)  # a name, which in large type has no room on one line
        self.messages = Messages(self.results)
        self.live = LivePanel(store, words.faulty_rig, self.results)
        self.symptoms = Facts(tr("What gauge, ear and tap tell"), self.results)
        self.table = ReadingsTable(self.results)
        self.others = Facts(tr("What looks the same, and what tells it apart"), self.results)
        self.remedy = Facts(tr("What mends it"), self.results)
        self.cautions = Facts(tr("Before anything is touched"), self.results)
        self.cautions.set_rows(words.caution_rows())
        for widget in (
            self.wrong, self.messages, self.live, self.symptoms, self.table, self.others,
            self.remedy, self.cautions,
        ):  # fmt: skip
            self.column.addWidget(widget)
        self.column.addStretch(1)
        self.live.settled.connect(self.own_changed)

    def own(self) -> object:
        """The moment that the tank shows, and the other faults once they are told apart."""
        own = self.live.watching()
        if own is None or self._worked_out is None:
            return own
        view, others = self._worked_out
        return replace(own, others=others if own.results.faults is view else ())

    def arrange_inputs(self) -> None:
        """How far only where there is a fault, the precharge only where it is typed."""
        super().arrange_inputs()
        has_fault = self.store.job.fault is not Fault.NONE
        self.inputs.set_row_visible("degree", has_fault, instead="fault")

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job, of the live view and of this page."""
        return (*results.findings, *words.own_findings(results))

    def present(self, results: Results, display: Display) -> None:
        """Show the fault, or what must be mended first."""
        view = results.faults
        told = untold(words.told_here(results), self.findings(results), self.inputs)
        self.messages.show_findings(told, display)
        self.live.refresh()
        for widget in (self.symptoms, self.others, self.cautions):
            widget.setVisible(view.faulty is not None)
        self.remedy.setVisible(view.faulty is not None and view.fault is not Fault.NONE)
        self.table.setVisible(bool(view.rows))
        if view.healthy is None or view.faulty is None:
            self._pause.stop()
            self.background.cancel()
            self.wrong.show_answer("", words.what_stops(results), "problem")
            return
        self.wrong.show_answer(*words.answer(view, view.healthy, display))
        self.symptoms.set_rows(words.symptom_rows(view, view.healthy, view.faulty, display))
        self.table.show_view(view, display)
        self.remedy.set_rows(words.remedy_rows(view, view.healthy, display))
        self._present_others(view)

    # --- what tells the faults apart ---

    def _present_others(self, view: FaultsView) -> None:
        if self._worked_out is not None and self._worked_out[0] is view:
            self._pause.stop()
            self.others.set_rows(words.other_rows(self._worked_out[1]))
        else:
            self.others.set_rows(words.waiting_rows())
            if self.isVisible():
                self._pause.start()

    def _start(self) -> None:
        results = self.store.results
        if results is not None and results.faults.faulty is not None:
            self._asked = results.faults
            self.background.run(self._asked.work_out, self._on_done)

    def _on_done(self, others: tuple[Other, ...] | None) -> None:
        results, asked = self.store.results, self._asked
        if others is None or asked is None:
            return
        self._worked_out = asked, others
        if results is not None and results.faults is asked:
            self.others.set_rows(words.other_rows(others))
            self.own_changed.emit()

    def hideEvent(self, event: QHideEvent) -> None:
        """Leave off what nobody looks at; it is taken up when the page is seen again."""
        super().hideEvent(event)
        if not event.spontaneous() and (self._pause.isActive() or self.background.busy):
            self.is_stale = True
            self._pause.stop()
            self.background.cancel()
