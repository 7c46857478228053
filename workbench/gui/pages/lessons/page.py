"""Lessons: short and guided, each screen with a live tank of its own that no job knows of."""

from __future__ import annotations

from PySide6.QtCore import QLocale, Signal
from PySide6.QtGui import QShowEvent, QUndoStack
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.live.panel import LivePanel
from workbench.gui.pages.lessons.column import LessonColumn
from workbench.gui.pages.lessons.course import Course
from workbench.gui.pages.page import LazyPage, results_area
from workbench.gui.store import Store
from workbench.physics.motion import Happening
from workbench.study.lessons.figures import Ground
from workbench.study.lessons.goals import Seen
from workbench.study.lessons.rigs import rig_of


class LessonsPage(LazyPage):
    """Leads through the lessons. ``tank`` is the store of the tank that is shown beside them."""

    own_changed = Signal()

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, parent)
        self.tank = Store(store.display, self)
        self.course = Course(QLocale().name())
        self._happened: set[Happening] = set()
        self._now: Ground | None = None  # of the results that the panel shows
        self._is_beginning = False
        self.column = LessonColumn(self.tank, self)
        area, results = results_area(self)
        self.panel = LivePanel(self.tank, rig_of, results)
        beside = QVBoxLayout(results)
        beside.setContentsMargins(0, 0, theme.CLOSE, 0)
        beside.addWidget(self.panel)
        area.setWidget(results)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, theme.CLOSE, theme.CLOSE, theme.CLOSE)
        row.setSpacing(theme.NEAR)
        row.addWidget(self.column, 2)
        row.addWidget(area, 3)
        self.areas = (area, self.column.area)
        self.first_field = self.column.chooser
        self.column.lesson_chosen.connect(self._on_lesson_chosen)
        self.column.stepped.connect(self._on_stepped)
        self.column.restarted.connect(self.restart)
        self.column.question.chosen.connect(self._on_answered)
        self.tank.changed.connect(self._on_tank_changed)
        self.panel.settled.connect(self.own_changed)
        self.panel.moved.connect(self._look_at_goal)

    @property
    def undo_stack(self) -> QUndoStack:
        """The lesson's tank has a history of its own."""
        return self.tank.undo_stack

    def own(self) -> object:
        """The moment that the lesson's tank shows, with results of its own."""
        return self.panel.watching()

    # --- showing ---

    def showEvent(self, event: QShowEvent) -> None:
        """Read the lessons again if a trainer has changed a file meanwhile."""
        self.is_stale = self.is_stale or not self.course.is_read
        super().showEvent(event)

    def refresh(self) -> None:
        """Show the lessons, in the units of the window."""
        if self.store.results is None:
            return  # the first frame comes first
        if self.course.is_read:
            self.tank.set_display(self.store.display)
        else:
            self.tank.display = self.store.display
            self.course.read()
            self.begin()

    def begin(self) -> None:
        """Show the screen where the course stands, its tank as it begins there."""
        screen = self.course.screen
        self._happened = set()
        if screen is not None:
            self._is_beginning = True  # what the last screen's tank did is not this one's
            try:
                self.tank.open_job(screen.job, None)
                if self.tank.results is None:
                    self.tank.wake()
                self.panel.refresh()
                self.panel.player.open_tap(is_open=True)
                self.panel.start_again()
            finally:
                self._is_beginning = False
        self._show()

    def _show(self) -> None:
        self.column.show_course(self.course, self.store.display)

    # --- what a person does ---

    def restart(self) -> None:
        """Begin the screen again, as if nothing had been tried or answered."""
        self.course.forget(self.course.place)
        self.begin()

    def go(self, number: int, screen: int | None = None) -> None:
        """Show a lesson, from 0: a screen of it, or the one that was shown last."""
        self.course.go(number, screen)
        self.begin()
        self.column.area.verticalScrollBar().setValue(0)

    def _on_lesson_chosen(self, number: object) -> None:
        if isinstance(number, int):
            self.go(number)

    def _on_stepped(self, by: int) -> None:
        beside = self.course.beside(by)
        if beside is not None:
            self.go(*beside)

    def _on_answered(self, number: int) -> None:
        self.course.answered[self.course.place] = number
        self._show()

    def _on_tank_changed(self) -> None:
        if not self._is_beginning:
            self.panel.refresh()
            self._look_at_goal()
            self._show()

    def _look_at_goal(self) -> None:
        """Acknowledge the goal as soon as it is reached; called at every frame.

        As long as it is met, what is said follows the tank: on the way to "28 psi" is "2 psi".
        """
        screen, recording = self.course.screen, self.panel.player.recording
        if self._is_beginning or screen is None or recording is None:
            return
        results, goal = self.panel.results, screen.goal
        if results is None or goal is None:
            return
        place, tried = self.course.place, self.course.tried
        if self._now is None or self._now.results is not results:
            self._now = Ground(results)
        if tried.get(place) is self._now:
            return  # said already
        kinds = recording.trace.kind
        self._happened |= {Happening(kind) for kind in set(kinds[kinds != 0].tolist())}
        if goal.is_met(self._now, Seen(frozenset(self._happened), self.panel.player.moment)):
            tried[place] = self._now
            self._show()
