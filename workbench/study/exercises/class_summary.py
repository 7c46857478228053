"""What a class's answers come to: for each name, and for each error."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from workbench.study.exercises.exercise import Topic
from workbench.study.exercises.results import Row
from workbench.study.exercises.slip import Slip


@dataclass(frozen=True, slots=True)
class OfName:
    """One person's answers: how many, how many right, and which errors how often.

    ``unknown`` are wrong answers of which no error is known.
    """

    name: str
    answers: int
    right: int
    slips: tuple[tuple[Slip, int], ...]
    unknown: int


@dataclass(frozen=True, slots=True)
class OfSlip:
    """One error: how often it was made, and by whom."""

    slip: Slip
    count: int
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OfTopic:
    """One topic: how many answers, how many right."""

    topic: Topic
    answers: int
    right: int


@dataclass(frozen=True, eq=False)
class Summary:
    """A class: names by the alphabet, errors by how often they were made, topics in their order."""

    names: tuple[OfName, ...]
    slips: tuple[OfSlip, ...]
    topics: tuple[OfTopic, ...]


def summary(rows: Iterable[Row]) -> Summary:
    """Count the answers. Names that differ by spaces around them or by case are one."""
    by_name: dict[str, list[Row]] = {}
    for row in rows:
        by_name.setdefault(row.name.strip().casefold(), []).append(row)
    every = [row for some in by_name.values() for row in some]
    counted = Counter(row.slip for row in every if row.slip is not None)
    return Summary(
        tuple(_of_name(some) for _, some in sorted(by_name.items())),
        tuple(OfSlip(slip, count, _names_with(every, slip)) for slip, count in _ordered(counted)),
        tuple(
            OfTopic(topic, len(some), sum(row.right for row in some))
            for topic in Topic
            if (some := [row for row in every if row.topic is topic])
        ),
    )


def _of_name(rows: list[Row]) -> OfName:
    counted = Counter(row.slip for row in rows if row.slip is not None)
    return OfName(
        rows[0].name.strip(),
        len(rows),
        sum(row.right for row in rows),
        _ordered(counted),
        sum(not row.right and row.slip is None for row in rows),
    )


def _ordered(counted: Counter[Slip]) -> tuple[tuple[Slip, int], ...]:
    """Most often first, equal ones in the order of the list of errors."""
    places = list(Slip)
    return tuple(sorted(counted.items(), key=lambda one: (-one[1], places.index(one[0]))))


def _names_with(rows: Iterable[Row], slip: Slip) -> tuple[str, ...]:
    names = {row.name.strip().casefold(): row.name.strip() for row in rows if row.slip is slip}
    return tuple(names[key] for key in sorted(names))
