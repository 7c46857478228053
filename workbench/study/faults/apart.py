"""Which readings tell one fault from another, whatever the size of that other one.

A fault has no fixed size, so a reading that differs from what another fault reads in one of its
degrees says nothing yet: a little more or less of it might read the same. Each other fault is
therefore followed from hardly any of it to a severe one. Between two sizes its readings are taken
to lie between those of the two; a reading tells the fault from that stretch where it lies outside
of both by more than the tolerances explain (:func:`readings.tells_apart`).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import combinations, pairwise

from workbench.job.teach_choices import Degree, Fault
from workbench.study.faults.made import touched, with_fault
from workbench.study.faults.readings import (
    Reading,
    Taken,
    ToolTolerances,
    least_difference,
    readings,
    take,
)
from workbench.study.live.rig import Rig

_HARDLY = 0.1  # share of the first degree with which a fault begins
_WAYS: dict[Fault, tuple[tuple[Degree, ...], ...]] = {
    Fault.SWITCH_DRIFT: ((Degree.SLIGHT,), (Degree.CLEAR,), (Degree.SEVERE,)),
    Fault.OLD_PRECHARGE: ((Degree.SLIGHT,), (Degree.CLEAR, Degree.SEVERE)),
}
"""Faults that can go more than one way; all others go from slight to severe."""


@dataclass(frozen=True, slots=True)
class Other:
    """Another fault beside the one in question.

    ``by``: the reading of fewest minutes that tells the two apart, whatever the size of the other;
    several, where it takes them together; empty where in some size no reading does (*alike*).
    ``same_kind``: both change the same quantity the same way, so they differ in size alone: then
    ``by`` is empty too, for only what is known of the system's past tells which one it is.
    """

    fault: Fault
    by: tuple[Reading, ...]
    same_kind: bool

    @property
    def is_alike(self) -> bool:
        """Whether no reading tells it apart at some size."""
        return not self.by

    @property
    def minutes(self) -> float:
        """Of all the readings that it takes."""
        return sum(one.minutes for one in self.by)


class NotWantedError(Exception):
    """Nobody waits for the answer any more."""


def _always() -> bool:
    return True


def other(
    healthy: Rig,
    faulty: Rig,
    fault: Fault,
    asked: tuple[float, ToolTolerances],
    wanted: Callable[[], bool] = _always,
) -> Other | None:
    """How ``fault`` in any size is told from a rig with another one.

    Args:
        healthy: the sound rig. faulty: with the fault in question, or sound.
        asked: the steady draw [m³/s], and the tools.
        wanted: asked before each reading that must be followed.

    Returns:
        None where the system cannot have that fault.

    Raises:
        NotWantedError: ``wanted`` has answered no.
    """
    ways = _ways(healthy, fault)
    if not ways:
        return None
    changed = touched(healthy, faulty)
    if changed and any(touched(healthy, way[-1]) == changed for way in ways):
        return Other(fault, (), same_kind=True)
    if changed:
        stretches = [pair for way in ways for pair in pairwise([way[0], *way])]
    else:  # hardly any of a fault is always like a sound system: it is asked for each degree
        stretches = [(rig, rig) for way in ways for rig in way[1:]]
    return Other(fault, _cheapest(_Table(faulty, stretches, *asked, wanted, {})), same_kind=False)


def _ways(healthy: Rig, fault: Fault) -> list[list[Rig]]:
    """Rigs with the fault, from hardly any of it to most, for each way that it can go."""
    if fault is Fault.NONE:
        return [[healthy]]
    ways = []
    for degrees in _WAYS.get(fault, (tuple(Degree),)):
        way: list[Rig] = []
        for degree, share in ((degrees[0], _HARDLY), *((one, 1.0) for one in degrees)):
            try:
                way.append(_rig(healthy, fault, degree, share))
            except ValueError:  # further it cannot go in this system
                break
        if len(way) > 1:
            ways.append(way)
    return ways


def _rig(healthy: Rig, fault: Fault, degree: Degree, share: float) -> Rig:
    if fault is Fault.PLUGGED_NIPPLE and share == _HARDLY:
        return healthy  # so short a lag reads the same, and takes long to follow
    return with_fault(healthy, fault, degree, share)


@dataclass(frozen=True, eq=False)
class _Table:
    """For each reading the stretches that it tells apart, worked out when first asked for."""

    faulty: Rig
    stretches: list[tuple[Rig, Rig]]
    tap: float
    tolerances: ToolTolerances
    wanted: Callable[[], bool]
    kept: dict[str, frozenset[int]]

    def told_by(self, reading: Reading) -> frozenset[int]:
        """The places of the stretches that this reading tells apart."""
        if reading.key not in self.kept:
            if not self.wanted():
                raise NotWantedError
            here = take(self.faulty, reading, self.tap, self.tolerances)
            self.kept[reading.key] = frozenset(
                place
                for place, (first, last) in enumerate(self.stretches)
                if is_outside(
                    here,
                    take(first, reading, self.tap, self.tolerances),
                    take(last, reading, self.tap, self.tolerances),
                )
            )
        return self.kept[reading.key]


def is_outside(here: Taken, first: Taken, last: Taken) -> bool:
    """Whether a reading lies outside of a stretch of readings by more than the tolerances."""
    if here.value is None:
        return first.value is not None and last.value is not None
    if isinstance(here.value, bool):
        return here.value not in (first.value, last.value)
    ends = [float(one.value) for one in (first, last) if one.value is not None]
    if not ends:
        return True
    away = least_difference(here.tolerance, max(first.tolerance, last.tolerance))
    value = float(here.value)
    return value < min(ends) - away or value > max(ends) + away


def _cheapest(table: _Table) -> tuple[Reading, ...]:
    """The readings that together tell every stretch apart; empty: all together do not.

    One reading is preferred to several, however quick: it is the one that a person remembers.
    """
    every = frozenset(range(len(table.stretches)))
    ordered = sorted(readings(), key=_minutes)
    for one in ordered:
        if table.told_by(one) == every:
            return (one,)
    if frozenset().union(*(table.told_by(one) for one in ordered)) != every:
        return ()
    pairs = [
        pair
        for pair in combinations(ordered, 2)
        if table.told_by(pair[0]) | table.told_by(pair[1]) == every
    ]
    return min(pairs, key=_sum) if pairs else _greedy(table, ordered, every)


def _greedy(table: _Table, ordered: list[Reading], every: frozenset[int]) -> tuple[Reading, ...]:
    """Three readings or more: each the one that tells most of what is left, then the quickest."""
    chosen: list[Reading] = []
    left = every
    while left:
        best = max(ordered, key=lambda one: len(table.told_by(one) & left))
        chosen.append(best)
        left -= table.told_by(best)
    return tuple(chosen)


def _minutes(one: Reading) -> float:
    return one.minutes


def _sum(pair: tuple[Reading, ...]) -> float:
    return sum(one.minutes for one in pair)
