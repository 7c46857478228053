"""What an exercise is: a story with its figures, a question, the right answer and wrong ones."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from workbench.job.choices import Choice
from workbench.job.teach_choices import Degree, Fault
from workbench.study.exercises.cases import Case
from workbench.study.exercises.slip import Slip
from workbench.study.live.rig import Rig
from workbench.study.working import Step
from workbench.units import Display, Kind
from workbench.words import tr


class Topic(Enum):
    """What is practised; the values are the job's entries without their "topic_"."""

    PRECHARGE = "precharge"
    TANK = "tank"
    FAULT = "fault"
    READINGS = "readings"
    COMPLAINT = "complaint"


def topics() -> dict[Topic, Choice]:
    """How each topic reads, and what is practised in it."""
    return {
        Topic.PRECHARGE: Choice(tr("set a precharge"), tr(
            "For a band, a place and a temperature; what a wrong one costs.")),
        Topic.TANK: Choice(tr("choose a tank"), tr(
            "Drawdown, total volume, run time, starts per hour and head.")),
        Topic.FAULT: Choice(tr("find the hidden fault"), tr(
            "By as few minutes of reading as it takes.")),
        Topic.READINGS: Choice(tr("judge readings"), tr(
            "What a set of readings tells, and what it does not.")),
        Topic.COMPLAINT: Choice(tr("explain a complaint"), tr(
            "From what the customer says to the cause and the cure.")),
    }  # fmt: skip


@dataclass(frozen=True, slots=True)
class Figure:
    """A number is asked for, in ``unit``; all values in SI.

    Right is what lies within ``tolerance`` of ``right``. Each of ``slips`` lies further than two
    tolerances from it and from each other, so that an answer tells which error was made.
    ``within`` says the tolerance in words, "within 0.5 psi".
    """

    kind: Kind
    unit: str
    right: float
    tolerance: float
    slips: tuple[tuple[Slip, float], ...]
    within: str


@dataclass(frozen=True, slots=True)
class Option:
    """One answer to pick. A wrong one names the error that leads to it; ``why`` explains either."""

    text: str
    right: bool
    slip: Slip | None
    why: str


@dataclass(frozen=True, slots=True)
class Pick:
    """One of several answers is right."""

    options: tuple[Option, ...]

    @property
    def right(self) -> int:
        """The place of the right one, from zero."""
        return next(i for i, option in enumerate(self.options) if option.right)


@dataclass(frozen=True, slots=True)
class Offered:
    """A reading that may be taken, and what it would show; ``shown`` only once it is taken.

    ``value`` is as read (SI, no is 0 and yes 1, None where there is nothing to read), with the
    gauge's error in it; ``tolerance`` [SI] is how far off the gauge may be. ``how`` says how it is
    taken.
    """

    key: str
    name: str
    tool: str
    how: str
    minutes: float
    value: float | None
    tolerance: float
    shown: str


@dataclass(frozen=True, eq=False)
class Hunt:
    """A hidden fault is looked for by taking readings, each of which costs minutes.

    ``rig`` is the system with the fault in it, for showing once it is found; ``tap`` [m³/s] what
    is drawn in it. ``suspects`` are the faults that may be named, ``cases`` what every reading
    shows with each. ``cheapest`` is the set of readings that tells the fault in the fewest minutes.
    """

    rig: Rig
    tap: float
    fault: Fault
    degree: Degree
    suspects: tuple[Fault, ...]
    offered: tuple[Offered, ...]
    cases: tuple[Case, ...]
    cheapest: tuple[str, ...]

    def reading(self, key: str) -> Offered:
        """The reading of this key."""
        return next(offered for offered in self.offered if offered.key == key)

    def minutes(self, keys: tuple[str, ...]) -> float:
        """What these readings cost together."""
        return sum(self.reading(key).minutes for key in keys)


@dataclass(frozen=True, slots=True)
class HuntAnswer:
    """A fault that was named, and the readings that were taken before, by their keys."""

    fault: Fault
    taken: tuple[str, ...]


Answer = float | int | HuntAnswer
"""To a :class:`Figure` its SI value, to a :class:`Pick` the place of an option, to a hunt both."""


@dataclass(frozen=True, eq=False)
class Exercise:
    """One exercise. ``display`` is what its texts and round numbers were made for.

    ``sort`` names the sort of question within its topic; ``given`` are rows of a name and a text;
    ``caution`` is said wherever someone is told to do something at a tank, else "".
    """

    topic: Topic
    sort: str
    seed: int
    number: int
    display: Display
    title: str
    story: str
    given: tuple[tuple[str, str], ...]
    question: str
    ask: Figure | Pick | Hunt
    working: tuple[Step, ...]
    caution: str = ""
