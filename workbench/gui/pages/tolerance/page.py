"""Tolerances: will the chosen tank still run long enough when gauges, switch and bucket are off?"""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QPushButton, QWidget

from workbench.gui import theme
from workbench.gui.pages.answer import Answer
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.page import Page
from workbench.gui.pages.picture import Picture
from workbench.gui.pages.progress_row import ProgressRow
from workbench.gui.pages.steps import step_rows
from workbench.gui.pages.tolerance import words
from workbench.gui.pages.tolerance.table import CertaintyTable
from workbench.gui.plots.swings_plot import SwingsPlot
from workbench.gui.store import Store
from workbench.gui.worker import Background
from workbench.job.pump_choices import PumpEntry
from workbench.study.certainty.plan import MEASURED, TolerancePlan, tolerance_plan
from workbench.study.certainty.view import ToleranceView, run_plan
from workbench.study.certainty.words import tolerance_steps
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.units import Display
from workbench.words import tr

_PAUSE = 150  # ms without a change after which the cases are followed


def _groups() -> Groups:
    return (
        (tr("Tank"), ("first_tank",)),
        (
            tr("How far it may be off"),
            (
                *("tol_gauge", "tol_switch_in", "tol_switch_out", "tol_precharge"),
                *("tol_temperature", "tol_flow", "tol_bucket", "tol_watch"),
            ),
        ),
        (tr("Sample"), ("seed",)),
    )


class TolerancePage(Page):
    """Follows the cases beside the window whenever the plan has changed, and shows their view.

    A view of an earlier plan is never shown as the present one: the answers go, the rest is grey
    until the new figures are there.
    """

    own_changed = Signal()

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.background = Background(self)
        self.view: ToleranceView | None = None
        self._plan: TolerancePlan | None = None  # what the job asks for now
        self._findings: tuple[Finding, ...] = ()
        self._is_stopped = False
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE)
        self._pause.timeout.connect(self._start)
        self.verdict = Answer(
            tr("Long enough, whatever is off?"), self.results, key="tolerance.verdict"
        )
        self.worst = Answer(tr("Worst run"), self.results, key="tolerance.worst")
        self.progress = ProgressRow(self.background, tr("Following the cases"), self.results)
        self.again = QPushButton(tr("Work it out"), self.results)
        self.messages = Messages(self.results)
        self.plot = SwingsPlot(self.results)
        self.picture = Picture(self.plot, words.legend(), self.results)
        self.tanks = CertaintyTable(self.results)
        self.basis = Facts(tr("What the cases rest on"), self.results)
        self.working = Facts(tr("How these figures come about"), self.results)
        self._lay_out()
        self.again.clicked.connect(self._on_again)
        self.background.cancelled.connect(self._on_cancelled)
        self.tanks.picked.connect(self._on_picked)

    def _lay_out(self) -> None:
        self.add_abreast(self.verdict, self.worst)
        for widget in (
            self.progress, self.again, self.messages, self.picture, self.tanks, self.basis,
            self.working,
        ):  # fmt: skip
            self.column.addWidget(widget)
        self.column.addStretch(1)
        self.again.hide()

    # --- showing ---

    def arrange_inputs(self) -> None:
        """Bucket and watch only for a timed refill."""
        measured = self.store.job.pump_entry is PumpEntry.BUCKET
        for name in MEASURED:
            self.inputs.set_row_visible(f"tol_{name}", measured)

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job and of the plan, which is made here."""
        plan, self._findings = tolerance_plan(results)
        if plan != self._plan:
            self._plan, self._is_stopped = plan, False
        return (*results.findings, *self._findings)

    def present(self, results: Results, display: Display) -> None:
        """Show the view of the present plan, or start to work it out."""
        plan = self._plan
        if plan is None:
            self._pause.stop()
            self.background.cancel()
            self.view = None
            self._show_nothing(words.what_stops(results, self._findings))
        elif self.view is not None and self.view.plan == plan:
            self._pause.stop()
            self._show_view(self.view, results, display)
        elif not self._is_stopped:
            self._show_as_old()
            self._pause.start()
        self.again.setVisible(self._is_stopped)
        current = self.view if self.view is not None and self.view.plan == plan else None
        told = words.told_here(results, self._findings, current)
        self.messages.show_findings(self.inputs.elsewhere(told), display)

    def own(self) -> ToleranceView | None:
        """The view of the present plan; None while it is being worked out."""
        view = self.view
        return view if view is not None and view.plan == self._plan else None

    def _show_view(self, view: ToleranceView, results: Results, display: Display) -> None:
        ranking = results.ranking
        assert ranking is not None  # noqa: S101 - without one there is no plan
        self._show_parts(visible=True)
        self._hold_places(on=False)
        self.verdict.show_answer(*words.verdict_answer(view, ranking, display))
        self.worst.show_answer(*words.worst_answer(view, display))
        self.plot.setEnabled(True)
        if view.swings:
            self.plot.show_view(view, display)
            self.picture.show_plot()
        else:
            self.picture.show_words(words.no_picture(view))
        self.tanks.show_view(view, ranking, words.summary(view), display)
        self.basis.set_rows(words.basis_rows(view, display))
        steps = tolerance_steps(view, display)
        self.working.setVisible(bool(steps))
        self.working.set_rows(step_rows(steps))

    def _show_as_old(self) -> None:
        """Take the answers away and grey the rest; all stays in its place."""
        reason = tr("Being worked out for the entries of now.")
        self._hold_places(on=self.view is not None)
        self.verdict.show_answer("", reason)
        self.worst.show_answer("", reason)
        self._show_parts(visible=self.view is not None)
        if self.view is None:
            self.picture.show_words(reason)
        elif self.plot.isEnabled():
            self.plot.setEnabled(False)
            self.picture.reading.setText(tr("These belong to earlier entries."))
        self.tanks.show_as_old()
        self.working.hide()

    def _show_nothing(self, why: str) -> None:
        self._hold_places(on=False)
        self.verdict.show_answer("", why, "problem")
        self.worst.show_answer("", why, "problem")
        self._show_parts(visible=False)
        self.picture.show_words(tr("The picture needs a tank, and entries that can be used."))

    def _show_parts(self, *, visible: bool) -> None:
        for widget in (self.tanks, self.basis, self.working):
            widget.setVisible(visible)
        theme.set_role(self.picture.reading, "muted")

    def _hold_places(self, *, on: bool) -> None:
        """Let no text shrink while figures are worked out, so that nothing moves for that."""
        for label in (self.verdict.reason, self.worst.reason, self.picture.reading):
            label.setMinimumHeight(max(label.height(), label.minimumHeight()) if on else 0)

    # --- following the cases ---

    def _start(self) -> None:
        plan = self._plan
        if plan is not None:
            self.background.run(partial(run_plan, plan), self._on_done)

    def _on_done(self, view: ToleranceView | None) -> None:
        results = self.store.results
        if view is None or results is None or view.plan != self._plan:
            return  # another run is on its way
        self.view = view
        self.present(results, self.store.display)
        self.own_changed.emit()

    def hideEvent(self, event: QHideEvent) -> None:
        """Leave off what nobody looks at; it is taken up when the page is seen again."""
        super().hideEvent(event)
        if not event.spontaneous() and (self._pause.isActive() or self.background.busy):
            self.is_stale = True
            self._pause.stop()
            self.background.cancel()

    def _on_cancelled(self) -> None:
        """Stopped by hand; or because the entries cannot be used, or nobody looks."""
        if self._plan is None or self.is_stale:
            return
        self._is_stopped = True
        reason = tr("Stopped before the end.")
        self.verdict.show_answer("", reason, "caution")
        self.worst.show_answer("", reason, "caution")
        self.again.show()

    def _on_again(self) -> None:
        self._is_stopped = False
        self.show_results()

    def _on_picked(self, key: str) -> None:
        self.store.edit({"first_tank": key}, tr("choose the tank"))
