"""A learner at the page "Exercises": types, presses letters and Enter, and reads what is shown."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import at_page, demo_with
from tests.whole_window.checks.parts import settle
from tests.whole_window.user import few_tanks, strike
from workbench.gui.pages.exercises.ask import FigureAsk, PickAsk
from workbench.gui.pages.exercises.hunt import HuntAsk
from workbench.gui.pages.exercises.page import ExercisesPage
from workbench.gui.window import MainWindow
from workbench.study.exercises.exercise import Exercise, Figure, Hunt, Pick
from workbench.study.exercises.marking import Marked, mark
from workbench.study.exercises.slip import Slip

LETTERS = "abcdefghijklmnopqrstuvwxyz"


def learner_at(qtbot: QtBot, **entries: object) -> Learner:
    """A learner at the page with the demo job and these entries."""
    few_tanks()
    window, page = at_page(qtbot, "exercises", ExercisesPage, demo_with(**entries))
    settle()
    return Learner(window, page)


def place_of(page: ExercisesPage, kind: type, which: Callable[[Exercise], bool] = bool) -> int:
    """The first exercise of the set that asks in this way."""
    return next(
        place
        for place, one in enumerate(page.exercises)
        if isinstance(one.ask, kind) and which(one)
    )


def text_of(ask: Figure, value: float) -> str:
    """A value [SI] as one would type it, in the unit that is asked for."""
    unit = ask.kind.units[ask.unit]
    return f"{value / unit.factor - unit.zero:.6f} {unit.symbol}".strip()


class Learner:
    """Works one page."""

    def __init__(self, window: MainWindow, page: ExercisesPage) -> None:
        self.window = window
        self.page = page

    def leave(self) -> None:
        """Let go of the window: pytest keeps its fixtures for longer."""
        self.__dict__.clear()

    # --- keys ---

    def press(
        self, key: Qt.Key, modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier
    ) -> None:
        QTest.keyClick(QApplication.focusWidget() or self.window, key, modifiers)
        settle()

    def enter(self) -> None:
        self.press(Qt.Key.Key_Return)

    def alt(self, letter: str) -> None:
        """Strike Alt and a letter."""
        key = Qt.Key(ord(letter.upper()))
        QTest.keyClick(self.window, key, Qt.KeyboardModifier.AltModifier)
        QTest.qWait(150)  # a button that is pressed by its letter stays down for a moment
        settle()

    def go(self, place: int) -> Exercise:
        """Come to an exercise, ready to answer."""
        self.page.go_to(place)
        settle()
        self.first().setFocus(Qt.FocusReason.TabFocusReason)
        return self.page.exercises[place]

    def first(self) -> QWidget:
        assert self.page.ask is not None
        return self.page.ask.first

    # --- answering ---

    def type(self, text: str) -> None:
        """Type over what stands in the field."""
        ask = self.page.ask
        assert isinstance(ask, FigureAsk)
        ask.field.setFocus(Qt.FocusReason.TabFocusReason)
        ask.field.selectAll()
        strike(ask.field, text) if text else self.press(Qt.Key.Key_Delete)

    def answer_right(self) -> None:
        """Give the right answer by keys alone, and have it checked."""
        exercise = self.page.exercises[self.page.place]
        ask = exercise.ask
        if isinstance(ask, Figure):
            self.type(text_of(ask, ask.right))
        elif isinstance(ask, Pick):
            self.choose(ask.right)
        else:
            self.take_all()
            self.choose(ask.suspects.index(ask.fault))
        self.enter()

    def answer_wrong(self) -> None:
        """Give a wrong answer, and have it checked."""
        exercise = self.page.exercises[self.page.place]
        ask = exercise.ask
        if isinstance(ask, Figure):
            self.type(text_of(ask, ask.slips[0][1]))
        elif isinstance(ask, Pick):
            self.choose(next(n for n, one in enumerate(ask.options) if not one.right))
        else:
            self.choose(next(n for n, one in enumerate(ask.suspects) if one is not ask.fault))
        self.enter()

    def choose(self, place: int) -> None:
        """Strike the letter of an answer."""
        ask = self.page.ask
        assert isinstance(ask, PickAsk | HuntAsk)
        ask.choices.focus_place().setFocus(Qt.FocusReason.TabFocusReason)
        QTest.keyClicks(QApplication.focusWidget(), LETTERS[place])
        settle()

    def take_all(self) -> None:
        """Press Enter on each reading; the focus walks on by itself."""
        ask = self.page.ask
        assert isinstance(ask, HuntAsk)
        self.first().setFocus(Qt.FocusReason.TabFocusReason)
        for _ in ask.buttons:
            self.enter()

    # --- reading ---

    @property
    def said(self) -> str:
        """The verdict with all that stands beneath it."""
        return self.page.verdict.spoken()

    def marked(self, value: float) -> Marked:
        """What the study says of a value [SI] at the present exercise."""
        return mark(self.page.exercises[self.page.place], value)


def slip_of(exercise: Exercise) -> Slip:
    """The first error that has a number of its own."""
    assert isinstance(exercise.ask, Figure)
    return exercise.ask.slips[0][0]


def hunt_of(exercise: Exercise) -> Hunt:
    assert isinstance(exercise.ask, Hunt)
    return exercise.ask
