"""What every reading would show with every fault, and which readings tell one from all others.

A fault can be of any size, so it is held as a chain of sizes, from the slight one to the severe one
(:mod:`workbench.study.faults.made`). Between two neighbours of the chain a reading lies between
those of the two. A fault fits a set of readings if somewhere on its chain all of them fit: each
within what its own tolerance allows (:func:`~workbench.study.faults.readings.least_difference`).
A reading therefore speaks against a *case*, one link of a chain; against a fault when it or others
do so for every link.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from workbench.job.teach_choices import Degree, Fault
from workbench.study.faults.readings import (
    Taken,
    ToolTolerances,
    least_difference,
    readings,
    take,
)
from workbench.study.live.rig import Rig

_SLIGHT, _CLEAR, _SEVERE = Degree.SLIGHT, Degree.CLEAR, Degree.SEVERE
_Size = tuple[Degree, float]
_USUAL: tuple[tuple[_Size, ...], ...] = (
    ((_SLIGHT, 1.0), (_CLEAR, 0.7), (_CLEAR, 1.0), (_SEVERE, 0.8), (_SEVERE, 1.0)),
)
_CHAINS: dict[Fault, tuple[tuple[_Size, ...], ...]] = {
    Fault.LOST_CHARGE: _USUAL,
    Fault.AIR_LEAK: _USUAL,
    Fault.PINHOLE: _USUAL,
    # Each degree of a drift is a drift of its own: of cut-in, of cut-out, of both.
    Fault.SWITCH_DRIFT: tuple(((degree, 0.5), (degree, 1.0)) for degree in Degree),
    # The two ends alone, as each size is followed in short steps and takes a fifth of a second.
    Fault.PLUGGED_NIPPLE: (((_SLIGHT, 1.0), (_SEVERE, 1.0)),),
    Fault.CHECK_VALVE: _USUAL,
    Fault.WORN_PUMP: _USUAL,
    # A charge that is too high. One that is too low is lost charge to every gauge; the exercises
    # say that the band was never raised.
    Fault.OLD_PRECHARGE: (((_CLEAR, 0.6), (_CLEAR, 1.0), (_SEVERE, 0.75), (_SEVERE, 1.0)),),
}


@dataclass(frozen=True, slots=True)
class Span:
    """What a reading shows in a case: from ``low`` to ``high`` (SI; no is 0 and yes 1).

    Both are None where it can never be taken; ``lacks``: somewhere in the case it cannot. Where it
    can at one end of the case alone, its value on the way there is not known, so nothing that is
    read speaks against the case.
    """

    low: float | None
    high: float | None
    lacks: bool

    def excludes(self, value: float | None, tolerance: float) -> bool:
        """Whether what was read (None: it could not be taken) speaks against the case."""
        if value is None:
            return not self.lacks
        if self.low is None or self.high is None:
            return True
        if self.lacks:
            return False
        far = least_difference(tolerance, 0.0)
        return not self.low - far <= value <= self.high + far


NEVER = Span(None, None, lacks=True)
"""Of a reading that cannot be taken."""


@dataclass(frozen=True, eq=False)
class Case:
    """One link of a fault's chain, with the span of every reading by its key."""

    fault: Fault
    spans: dict[str, Span]


AtSize = Callable[[Fault, Degree, float], dict[str, Taken] | None]
"""Every reading by its key at a rig with a fault of some size; None where it cannot have that."""


def all_taken(rig: Rig, tap: float, tolerances: ToolTolerances) -> dict[str, Taken]:
    """Every reading at a rig, by its key."""
    return {one.key: take(rig, one, tap, tolerances) for one in readings()}


def cases_of(at_size: AtSize) -> tuple[Case, ...]:
    """The cases of every fault that a rig can have; that it is sound is one of them."""
    sound = at_size(Fault.NONE, Degree.CLEAR, 1.0)
    assert sound is not None  # noqa: S101 - every rig can be sound
    found = [_case(Fault.NONE, sound, sound)]
    for fault, chains in _CHAINS.items():
        for chain in chains:
            links = [at_size(fault, *size) for size in chain]
            found += [_case(fault, a, b) for a, b in pairwise(links) if a and b]
    return tuple(found)


def _case(fault: Fault, one: dict[str, Taken], other: dict[str, Taken]) -> Case:
    return Case(fault, {key: _span(one[key], other[key]) for key in one})


def _span(*ends: Taken) -> Span:
    values = [float(end.value) for end in ends if end.value is not None]
    lacks = len(values) < len(ends)
    return Span(min(values), max(values), lacks) if values else NEVER


def hidden_sizes() -> tuple[tuple[Fault, Degree], ...]:
    """What may be hidden."""
    low_charge = (Fault.OLD_PRECHARGE, Degree.SLIGHT)
    pairs = [(fault, degree) for fault in _CHAINS for degree in Degree]
    return ((Fault.NONE, Degree.CLEAR), *(pair for pair in pairs if pair != low_charge))


# --- what tells ---

Excludes = Callable[[str, Case], bool]
"""Whether the reading of a key speaks against a case."""


def still_possible(
    cases: Iterable[Case], keys: Sequence[str], excludes: Excludes
) -> tuple[Fault, ...]:
    """The faults that fit all of these readings, each once."""
    fit = [case.fault for case in cases if not any(excludes(key, case) for key in keys)]
    return tuple(dict.fromkeys(fit))


def cheapest_set(
    cases: Iterable[Case],
    fault: Fault,
    minutes: dict[str, float],
    excludes: Excludes,
    taken: Sequence[str] = (),
) -> tuple[str, ...] | None:
    """The readings that speak against every other fault, in the fewest minutes.

    Args:
        minutes: of each reading that may be taken.
        taken: readings that are there already, at no cost.

    Returns:
        Their keys in the order of ``minutes``; None where even all of them do not tell.
    """
    others = [case for case in cases if case.fault is not fault]
    open_cases = [case for case in others if not any(excludes(key, case) for key in taken)]
    against = [frozenset(key for key in minutes if excludes(key, case)) for case in open_cases]
    if not all(against):
        return None
    chosen = _cheapest(sorted(set(against), key=lambda keys: (len(keys), sorted(keys))), minutes)
    return tuple(key for key in minutes if key in chosen)


def _cheapest(against: list[frozenset[str]], minutes: dict[str, float]) -> frozenset[str]:
    """The set with the fewest minutes that meets each of these: by trying, cheapest first."""
    best: tuple[float, frozenset[str]] = (float("inf"), frozenset())

    def search(spent: float, chosen: frozenset[str]) -> None:
        nonlocal best
        if spent >= best[0]:
            return
        unmet = next((keys for keys in against if not keys & chosen), None)
        if unmet is None:
            best = (spent, chosen)
            return
        for key in sorted(unmet, key=lambda one: (minutes[one], one)):
            search(spent + minutes[key], chosen | {key})

    search(0.0, frozenset())
    return best[1]
