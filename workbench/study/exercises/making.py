"""An exercise from topic, seed and number; a set of them from a job."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

from workbench.job.job import Job
from workbench.study.exercises import (
    topic_complaint,
    topic_fault,
    topic_precharge,
    topic_readings,
    topic_tank,
)
from workbench.study.exercises.draft import Draft, Maker
from workbench.study.exercises.draws import Draws
from workbench.study.exercises.exercise import Exercise, Figure, Topic
from workbench.study.exercises.neat import Neat, places
from workbench.study.findings import Finding, Level
from workbench.study.reader import LARGEST_SEED, Reader
from workbench.units import Display
from workbench.words import tr

MOST = 40
"""How many exercises a sheet holds at most."""
_ATTEMPTS = 400  # of drawing numbers whose errors can be told apart; a handful is usual
_TOPICS = tuple(Topic)

SORTS: dict[Topic, dict[str, Maker]] = {
    Topic.PRECHARGE: topic_precharge.SORTS,
    Topic.TANK: topic_tank.SORTS,
    Topic.FAULT: topic_fault.SORTS,
    Topic.READINGS: topic_readings.SORTS,
    Topic.COMPLAINT: topic_complaint.SORTS,
}
"""The sorts of question of each topic. Their number is a prime above five, so that a set that goes
round one to five topics meets each sort of each before one comes again."""


@dataclass(frozen=True, eq=False)
class ExerciseSet:
    """The exercises of a job, or none and the findings that stand in the way."""

    exercises: tuple[Exercise, ...]
    findings: tuple[Finding, ...]


def make(topic: Topic, seed: int, number: int, display: Display) -> Exercise:
    """Make the exercise of this topic, seed and number; the same for ever.

    Args:
        seed: 0 to 999,999,999. number: the place on the sheet, from 1.
        display: the units in which its numbers are round; another decimal mark leaves them alone.

    Raises:
        ValueError: a seed or number out of its range.
    """
    if not 0 <= seed <= LARGEST_SEED or number < 1:
        raise ValueError(
            tr("a seed lies between 0 and {most}, a number from 1 on", most=LARGEST_SEED)
        )
    key = _TOPICS.index(topic)
    once = Draws(key, seed)
    sort = _in_turn(once, tuple(SORTS[topic]), number)
    neat = Neat(display, _in_turn(once, places(), number), number)
    for attempt in range(_ATTEMPTS):
        draft = SORTS[topic][sort](Draws(key, seed, number, attempt), neat)
        if draft is not None and can_be_told(draft):
            return draft.exercise(topic, sort, seed, number, display)
    raise AssertionError(f"{topic.value}/{sort}: nothing in {_ATTEMPTS} attempts")


def can_be_told(draft: Draft) -> bool:
    """Whether every error leads to an answer of its own, further than two tolerances away."""
    if not isinstance(draft.ask, Figure):
        return True
    values = [draft.ask.right, *(value for _, value in draft.ask.slips)]
    apart = 2.0 * draft.ask.tolerance
    return all(abs(a - b) > apart for a, b in combinations(values, 2))


def exercise_set(job: Job, display: Display) -> ExerciseSet:
    """The exercises that the job asks for, its topics in turn.

    Findings (stops): "unread"; "seed_range" and "count_range" at their entries; "no_topic".
    """
    reader = Reader(job)
    seed = _whole(reader, "exercise_seed", "seed_range", 0, LARGEST_SEED)
    count = _whole(reader, "exercise_count", "count_range", 1, MOST)
    chosen = [topic for topic in Topic if getattr(job, f"topic_{topic.value}")]
    if not chosen:
        reader.report(
            Level.STOP,
            "no_topic",
            "topic_precharge",
            tr("No topic is ticked."),
            tr("Tick at least one."),
        )
    if seed is None or count is None or not chosen:
        return ExerciseSet((), tuple(reader.findings))
    numbered = ((chosen[i % len(chosen)], i + 1) for i in range(count))
    made = tuple(make(topic, seed, number, display) for topic, number in numbered)
    return ExerciseSet(made, tuple(reader.findings))


def _whole(reader: Reader, name: str, code: str, least: int, most: int) -> int | None:
    value = reader.value(name)
    if value is None:
        return None
    if value % 1.0 or not least <= value <= most:
        reader.report(
            Level.STOP,
            code,
            name,
            tr("This must be a whole number from {least} to {most}.", least=least, most=most),
            tr("Type 1, 2, 3 and so on."),
        )
        return None
    return int(value)


def _in_turn(draws: Draws, items: tuple[str, ...], number: int) -> str:
    """Each of the items in turn, in an order that is drawn."""
    return draws.shuffled(items)[number % len(items)]
