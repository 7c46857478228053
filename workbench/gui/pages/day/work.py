"""Keeps the day and the year that belong to the job: at once what is quick, beside what is not."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer, Signal

from workbench.gui.worker import Background, Progress
from workbench.study.day.plan import DayPlan
from workbench.study.day.simulated import (
    DayView,
    YearView,
    day_plan,
    simulate_day,
    simulate_year,
)
from workbench.study.evaluate import Results
from workbench.study.findings import Finding

_PAUSE = 400  # ms without a change before the year begins, so that typing has the processor


class DayWork(QObject):
    """``day`` and ``year`` are those of ``plan``, or None. ``changed``: one of them has come, or a
    person has stopped the year; it then waits for :meth:`start_year`.
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.plan: DayPlan | None = None
        self.findings: tuple[Finding, ...] = ()
        self.day: DayView | None = None
        self.year: YearView | None = None
        self.is_declined = False
        self.days, self.years = Background(self), Background(self)
        self._is_dropping = False
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE)
        self._pause.timeout.connect(self.start_year)
        self.years.cancelled.connect(self._on_cancelled)

    def follow(self, results: Results) -> None:
        """Take what the job asks for now; what belongs to another plan is dropped."""
        plan, self.findings = day_plan(results)
        if plan != self.plan:
            self.rest()
            self.plan, self.day, self.year, self.is_declined = plan, None, None, False
        self.go_on()

    def rest(self) -> None:
        """Stop what is under way, since nobody looks."""
        self._is_dropping = True
        self._pause.stop()
        self.days.cancel()
        self.years.cancel()
        self._is_dropping = False

    def go_on(self) -> None:
        """Simulate what is still missing."""
        plan = self.plan
        if plan is None or self.days.busy or self.years.busy or self._pause.isActive():
            return
        if self.day is None and not plan.is_quick:
            self.days.run(lambda _progress: simulate_day(plan), self._take_day)
            return
        if self.day is None:
            self.day = simulate_day(plan)
        if self.year is None and not self.is_declined:
            self._pause.start()

    def start_year(self) -> None:
        """Begin the year of the present plan."""
        plan, self.is_declined = self.plan, False
        if plan is not None:

            def work(progress: Progress) -> YearView | None:
                return simulate_year(plan, progress)

            self.years.run(work, self._take_year)

    def _on_cancelled(self) -> None:
        if not self._is_dropping:
            self.is_declined = True
            self.changed.emit()

    def _take_day(self, day: DayView) -> None:
        if day.plan == self.plan:
            self.day = day
            self.changed.emit()

    def _take_year(self, year: YearView | None) -> None:
        if year is not None and year.plan == self.plan:
            self.year = year
            self.changed.emit()
