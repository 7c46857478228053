"""What one learner has answered: kept while the program runs, apart from the job."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

from workbench import __version__
from workbench.gui.pages.exercises.made import Identity, identity
from workbench.safe_file import FileError, SaveError
from workbench.study.exercises import results
from workbench.study.exercises.exercise import Answer, Exercise
from workbench.study.exercises.marking import Marked, mark
from workbench.words import tr


@dataclass
class Attempt:
    """All that was done at one exercise.

    ``entry`` is what stands in the field of a figure, ``picked`` the place of what is chosen,
    ``taken`` the readings of a hunt in their order. ``first`` is the verdict on the first answer,
    ``marked`` that on the last one, or None since something was changed after it.
    """

    entry: Any = None
    picked: int | None = None
    taken: tuple[str, ...] = ()
    first: Marked | None = None
    marked: Marked | None = None
    shows_working: bool = False


class Progress(NamedTuple):
    """How many exercises there are, how many are answered, and how many at once rightly."""

    total: int
    answered: int
    right: int


@dataclass
class Learner:
    """One who answers: the attempts at every exercise that was met, of whatever set."""

    name: str = ""
    attempts: dict[Identity, Attempt] = field(default_factory=dict)

    def at(self, exercise: Exercise) -> Attempt:
        """The attempt at an exercise, a new one where there is none."""
        return self.attempts.setdefault(identity(exercise), Attempt())

    def progress(self, exercises: Iterable[Exercise]) -> Progress:
        """How far a set is done."""
        first = [self.at(one).first for one in exercises]
        answered = [one for one in first if one is not None]
        return Progress(len(first), len(answered), sum(one.right for one in answered))


class ClassRecord:
    """The first answers of all learners, and the file in which they are kept once there is one.

    A row that could not be written waits and is tried again with the next.
    """

    def __init__(self, now: Callable[[], datetime.datetime] = datetime.datetime.now) -> None:
        self._now = now
        self.path: Path | None = None
        self.rows: list[results.Row] = []
        self.waiting: list[results.Row] = []
        self.problem = ""

    def keep_in(self, path: Path) -> None:
        """From now on keep results in this file; what waits goes there at once."""
        self.path = path
        self.write()

    def add(self, exercise: Exercise, name: str, typed: str, marked: Marked) -> None:
        """Take the first answer to an exercise, and write it if there is a file."""
        now = self._now()
        row = results.row_of(
            exercise,
            marked,
            name=name,
            answer=typed,
            date=now.date().isoformat(),
            time=now.strftime("%H:%M"),
            program=__version__,
        )
        self.rows.append(row)
        self.waiting.append(row)
        self.write()

    def write(self) -> None:
        """Append what waits; ``problem`` says why that failed, or is "" again."""
        self.problem = ""
        if self.path is None:
            return
        try:
            if self.waiting:
                results.append(self.path, self.waiting)
            elif _is_there(self.path):
                results.read(self.path)  # to say at once that it cannot be used
        except FileError as error:
            self.problem = str(error)
            if not (isinstance(error, SaveError) and error.written):
                return
        self.waiting.clear()

    def kept(self) -> results.ResultsFile:
        """What the file holds and what still waits; without a file that of this session."""
        if self.path is not None and _is_there(self.path):
            try:
                found = results.read(self.path)
            except FileError:  # told when it is written to
                pass
            else:
                return results.ResultsFile((*found.rows, *self.waiting), found.problems)
        return results.ResultsFile(tuple(self.rows), ())


def _is_there(path: Path) -> bool:
    """Whether there is such a file; one that may not be looked at says so when it is read."""
    try:
        return path.exists()
    except OSError:
        return True


def check(
    learner: Learner, record: ClassRecord, exercise: Exercise, answer: Answer, typed: str
) -> Marked:
    """Mark an answer; the first to an exercise goes into the record."""
    attempt = learner.at(exercise)
    marked = mark(exercise, answer)
    attempt.marked = marked
    if attempt.first is None:
        attempt.first = marked
        record.add(exercise, learner.name.strip(), typed, marked)
    return marked


def count_words(progress: Progress) -> str:
    """How far a set is done, in words."""
    if not progress.answered:
        return tr("None of {total} answered yet.", total=progress.total)
    return tr(
        "{right} right at the first answer; {answered} of {total} answered.",
        right=progress.right,
        answered=progress.answered,
        total=progress.total,
    )
