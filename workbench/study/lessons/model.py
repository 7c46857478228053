"""What a lesson is: two or three screens, each with a tank, one thing to try and one question."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from workbench import safe_file
from workbench.job.job import Job
from workbench.study.evaluate import evaluate
from workbench.study.lessons.figures import Ground
from workbench.study.lessons.goals import Goal
from workbench.study.lessons.texts import Text
from workbench.units import Display

START = "start"
"""The name by which a text calls the screen's own setting, whatever was changed since."""


class LessonError(safe_file.FileError):
    """A lesson's file that cannot be used: its name and the place in it, and what to do."""


@dataclass(frozen=True, slots=True)
class Attempt:
    """One thing to try: what to ``do``, the ``goal`` that is recognised, what to say once ``done``.

    In ``done`` a figure without a setting's name is that of the tank as it is then. ``fields`` are
    the entries that are offered to be typed.
    """

    do: Text
    goal: Goal
    done: Text
    fields: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer, and ``why`` it is right or wrong."""

    text: Text
    why: Text
    is_right: bool


@dataclass(frozen=True, slots=True)
class Question:
    """One question; exactly one of its answers is right."""

    ask: Text
    answers: tuple[Answer, ...]


@dataclass(frozen=True, eq=False)
class Screen:
    """One screen of a lesson.

    ``job`` is the setting of its tank, ``others`` further settings that its texts tell of, by
    their names. ``paragraphs`` stand beneath the ``heading``. ``caution`` and ``source`` may be
    empty.
    """

    heading: Text
    paragraphs: tuple[Text, ...]
    caution: Text
    source: str
    job: Job
    others: Mapping[str, Job]
    attempt: Attempt | None
    question: Question | None

    @cached_property
    def grounds(self) -> dict[str, Ground]:
        """The figures of its settings; those of its own under "" and under "start"."""
        own = Ground(evaluate(self.job, None))
        others = {name: Ground(evaluate(job, None)) for name, job in self.others.items()}
        return {"": own, START: own, **others}

    @property
    def goal(self) -> Goal | None:
        """What is to be reached, if something is to be tried."""
        return None if self.attempt is None else self.attempt.goal

    def told(self, text: Text, display: Display) -> str:
        """One of its texts with its figures. Raises TextProblem: a figure has no value."""
        return text.filled(self.grounds, display, self.goal)

    def told_when_done(self, then: Ground, display: Display) -> str:
        """What is said once the goal is reached; ``then`` is the tank as it was then."""
        if self.attempt is None:
            return ""
        grounds = {**self.grounds, "": then}
        return self.attempt.done.filled(grounds, display, self.goal, missing="—")

    @property
    def texts(self) -> tuple[tuple[str, Text], ...]:
        """Every text of it but what is said once something was done, with its place."""
        found = [("heading", self.heading), ("caution", self.caution)]
        found += [("text", paragraph) for paragraph in self.paragraphs]
        if self.attempt is not None:
            found.append(("try, do", self.attempt.do))
        if self.question is not None:
            found.append(("question, ask", self.question.ask))
            for number, answer in enumerate(self.question.answers, start=1):
                found.append((f"question, answer {number}, text", answer.text))
                found.append((f"question, answer {number}, why", answer.why))
        return tuple(found)


@dataclass(frozen=True, eq=False)
class Lesson:
    """A lesson: ``key`` is its file's name without the ending, by which they are in order."""

    key: str
    title: str
    screens: tuple[Screen, ...]
