"""Where a person stands in the lessons, and what was done so far; kept while the window is open."""

from __future__ import annotations

from dataclasses import dataclass, field

from workbench.study.lessons import shelf
from workbench.study.lessons.figures import Ground
from workbench.study.lessons.model import Answer, Lesson, Screen
from workbench.study.lessons.reading import MOST_SCREENS
from workbench.study.lessons.shelf import Shelved

Place = tuple[str, int]
"""A lesson's key and the number of a screen in it, from 0."""


@dataclass
class Course:
    """The lessons of a language, in order; one screen of one of them is shown.

    ``every`` is all that was found, ``tried`` where a goal was reached with the tank as it was
    then, ``answered`` which answer was chosen last.
    """

    language: str
    every: tuple[Shelved, ...] = ()
    key: str = ""
    tried: dict[Place, Ground] = field(default_factory=dict)
    answered: dict[Place, int] = field(default_factory=dict)
    _at: dict[str, int] = field(default_factory=dict)
    _stamp: tuple[tuple[str, int, int], ...] | None = None

    # --- the files ---

    @property
    def is_read(self) -> bool:
        """Whether the lessons were read, and no file was changed since."""
        return self._stamp == shelf.stamp(self.language)

    def read(self) -> None:
        """Read the lessons; of what changed since, what was done is forgotten."""
        before = {one.key: one.lesson for one in self.every}
        self._stamp = shelf.stamp(self.language)
        self.every = shelf.lessons(self.language)
        if self.key not in [lesson.key for lesson in self.lessons]:
            self.key = self.lessons[0].key if self.lessons else ""
        for lesson in self.lessons:
            if _content(lesson) != _content(before.get(lesson.key)):
                for number in range(MOST_SCREENS):
                    self.forget((lesson.key, number))
            self._at[lesson.key] = min(self._at.get(lesson.key, 0), len(lesson.screens) - 1)

    @property
    def lessons(self) -> tuple[Lesson, ...]:
        """Those that can be shown."""
        return tuple(one.lesson for one in self.every if one.lesson is not None)

    # --- where ---

    @property
    def lesson(self) -> Lesson | None:
        """The one that is shown; None where none can be used."""
        return next((one for one in self.lessons if one.key == self.key), None)

    @property
    def place(self) -> Place:
        """The screen that is shown."""
        return self.key, self._at.get(self.key, 0)

    @property
    def screen(self) -> Screen | None:
        """The screen that is shown."""
        lesson = self.lesson
        return None if lesson is None else lesson.screens[self.place[1]]

    @property
    def number(self) -> int:
        """The number of the lesson that is shown, from 0."""
        keys = [lesson.key for lesson in self.lessons]
        return keys.index(self.key) if self.key in keys else 0

    def go(self, number: int, screen: int | None = None) -> None:
        """Go to a lesson, from 0: to a screen of it, or where one stood last. Raises IndexError."""
        lesson = self.lessons[number]
        self.key = lesson.key
        if screen is not None:
            self._at[lesson.key] = screen % len(lesson.screens)

    def beside(self, by: int) -> tuple[int, int | None] | None:
        """Lesson and screen of the next one (1) or the one before (-1); None at either end."""
        if self.lesson is None:
            return None
        screen = self.place[1] + by
        if 0 <= screen < len(self.lesson.screens):
            return self.number, screen
        number = self.number + by
        if 0 <= number < len(self.lessons):
            return number, 0 if by > 0 else -1
        return None

    # --- what was done ---

    @property
    def chosen(self) -> Answer | None:
        """The answer that was chosen last on the screen that is shown."""
        screen, number = self.screen, self.answered.get(self.place)
        if screen is None or screen.question is None or number is None:
            return None
        return screen.question.answers[number]

    def forget(self, place: Place) -> None:
        """What was tried and answered on a screen."""
        self.tried.pop(place, None)
        self.answered.pop(place, None)

    def is_done(self, lesson: Lesson) -> bool:
        """Whether each goal was reached and each question answered rightly."""
        return all(
            self._is_screen_done((lesson.key, number), screen)
            for number, screen in enumerate(lesson.screens)
        )

    def _is_screen_done(self, place: Place, screen: Screen) -> bool:
        if screen.attempt is not None and place not in self.tried:
            return False
        if screen.question is None:
            return True
        chosen = self.answered.get(place)
        return chosen is not None and screen.question.answers[chosen].is_right


def _content(lesson: Lesson | None) -> object:
    """What tells one state of a lesson from another."""
    if lesson is None:
        return None
    return [(one.job, one.texts, one.attempt, one.question) for one in lesson.screens]
