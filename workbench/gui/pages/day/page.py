"""Day: what a day of the house does to the pump, with one tank or with two."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import FigureLabel
from workbench.gui.pages.abreast import Abreast
from workbench.gui.pages.answer import Answer
from workbench.gui.pages.day import words
from workbench.gui.pages.day.compared import Compared
from workbench.gui.pages.day.picture import DayPicture
from workbench.gui.pages.day.work import DayWork
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.page import Page
from workbench.gui.pages.progress_row import ProgressRow
from workbench.gui.pages.stops import mend_first
from workbench.gui.store import Store
from workbench.job.pump_choices import MotorLimit
from workbench.study.day.simulated import DayView, YearView
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.units import Display
from workbench.words import tr

_OWN = ("own_starts_hour", "own_starts_day", "own_rest")


def _groups() -> Groups:
    return (
        (tr("Tanks"), ("first_tank", "second_tank")),
        (tr("House"), ("people", "washers", "dishwashers", "daily_use")),
        (
            tr("On top of it"),
            ("leak", "irrigation_flow", "irrigation_start", "irrigation_time"),
        ),
        (tr("Which day"), ("seed",)),
        (tr("Motor"), ("motor_limit", "motor_power", *_OWN)),
    )


class DayPage(Page):
    """Shows the day and the year of :class:`DayWork`, never those of other inputs."""

    own_changed = Signal()

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.work = DayWork(self)
        self.first = Answer(tr("Starts this day"), self.results, key="day.starts:0")
        self.second = Answer(tr("Starts this day, second tank"), self.results, key="day.starts:1")
        self.messages = Messages(self.results)
        self.picture = DayPicture(self.results)
        self.day = Compared(tr("This day"), self.results)
        self.year = Compared(tr("A year of such days"), self.results)
        self.source = self._text()
        self.year_state = self._text()
        self.progress = ProgressRow(self.work.years, tr("365 days"), self.results)
        self.again = QPushButton(tr("Simulate the year"), self.results)
        self.again.clicked.connect(self._start_year)
        self._lay_out()
        self.work.changed.connect(self._on_work)

    def _lay_out(self) -> None:
        self.answers = Abreast(self.first, self.second, parent=self.results)
        row = QHBoxLayout()
        row.setSpacing(theme.NEAR)
        row.addWidget(self.year_state, 1)
        row.addWidget(self.again)
        tables = Abreast(self.day, self.year, parent=self.results)
        self.column.addWidget(self.answers)
        self.column.addWidget(self.messages)
        self.column.addWidget(self.picture, 1)  # it takes what height there is
        self.column.addWidget(self.source)
        self.column.addWidget(tables)
        self.column.addLayout(row)
        self.column.addWidget(self.progress)

    def _text(self) -> FigureLabel:
        label = FigureLabel("", self.results)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        label.setWordWrap(True)  # after the policy, which it amends
        theme.set_role(label, "muted")
        return label

    def refresh(self) -> None:
        """Follow the job before anything is shown of it."""
        if self.store.results is not None:
            self.work.follow(self.store.results)
        super().refresh()

    def showEvent(self, event: QShowEvent) -> None:
        """Go on with what was under way when the page was left."""
        super().showEvent(event)
        self.work.go_on()

    def hideEvent(self, event: QHideEvent) -> None:
        """Simulate nothing that nobody sees."""
        self.work.rest()
        super().hideEvent(event)

    def arrange_inputs(self) -> None:
        """The motor's own limits only where they are chosen."""
        own = self.store.job.motor_limit is MotorLimit.OWN
        for name in _OWN:
            self.inputs.set_row_visible(name, own, instead="motor_limit")

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job, of what the day rests on, and of the day."""
        return (*results.findings, *self._own_findings())

    def own(self) -> tuple[DayView | None, YearView | None]:
        """The simulated day and year, as far as they are there."""
        return self.work.day, self.work.year

    def _own_findings(self) -> tuple[Finding, ...]:
        day = self.work.day
        return (*self.work.findings, *(day.findings if day else ()))

    def present(self, results: Results, display: Display) -> None:
        """Show day and year, or what must be mended first."""
        day = self.work.day
        told = self._own_findings()
        if self.work.plan is None:
            told = (*results.of_level(Level.STOP), *told)
        self.messages.show_findings(self.inputs.elsewhere(told), display)
        for widget in (self.day, self.year, self.source):
            widget.setVisible(day is not None)
        self.second.setVisible(day is not None and len(day.tanks) > 1)
        if day is None:
            self._show_none(results)
        else:
            self._show_day(day, display)
        self._show_state()

    def _show_none(self, results: Results) -> None:
        if self.work.plan is None:
            self.first.show_answer("", self._what_stops(results), "problem")
            self.picture.show_words(tr("The picture needs a tank, a pump, and what is drawn."))
        else:
            self.first.show_answer("", tr("The day is being simulated."))
            self.picture.show_words("")

    def _what_stops(self, results: Results) -> str:
        return mend_first((*results.findings, *self.work.findings))

    def _show_day(self, day: DayView, display: Display) -> None:
        for answer, place in zip((self.first, self.second), range(len(day.tanks)), strict=False):
            answer.show_answer(*words.answer(day, place, display))
        columns = words.columns(day.plan)
        self.picture.show_day(day, display)
        self.day.show_lines(columns, words.day_lines(day, display))
        self.year.show_lines(columns, words.year_lines(day.plan, self.work.year, display))
        self.source.setText(words.day_source(day, display))
        self.source.explain_as("day.wanted", tr("What the house wants"))

    def _show_state(self) -> None:
        """Whether the year is there, on its way, or waits for a person who stopped it."""
        work = self.work
        can_run = work.day is not None and work.year is None and work.is_declined
        self.again.setVisible(can_run)
        if work.day is None:
            self.year_state.setText("")
        elif work.year is not None:
            self.year_state.setText(
                tr(
                    "The year: 365 days of this house one after the other, from day {number} on,"
                    " beginning with a full tank.",
                    number=work.year.plan.house.seed,
                )
            )
        elif can_run:
            self.year_state.setText(tr("The year was not simulated."))
        else:
            self.year_state.setText(tr("The year is being simulated."))

    def _start_year(self) -> None:
        self.work.start_year()
        self._show_state()

    def _on_work(self) -> None:
        """Something has come; what a hidden page would show of it may be old."""
        if not self.is_stale:
            self.refresh()
            self.own_changed.emit()
