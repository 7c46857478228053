"""A figure that is worked out forwards is looked for backwards: where does it reach what is wanted?

The caller gives a function over an array and places to look at, close enough that between two of
them it turns at most once. Every zero is found, those too where it only touches: a turning point
between two places is followed until it is known to a float's last digits. What changes sign is then
cut into ever shorter sections, so that nothing can run away, as it could along a tangent.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from workbench.physics.air import FloatArray

TOUCH = 1e-10
"""At a turning point or an end a function so near to zero counts as zero."""
_SECTIONS = 32
_TURN = 1e-9  # share of a place to which a turning point is followed; the value is then exact

Function = Callable[[FloatArray], FloatArray]


class Look(NamedTuple):
    """Places at which a function is zero, rising; where it is greatest; where it is least."""

    zeros: tuple[float, ...]
    greatest: float
    least: float


def look(function: Function, places: FloatArray) -> Look:
    """All zeros of a continuous function from the first to the last place, and its extremes.

    Args:
        function: of an array (m,), giving an array (m,) of finite numbers.
        places: rising (m,), at least three; the function may have a kink at any of them.

    >>> found = look(lambda x: (x - 1.0) * (x - 3.0), np.linspace(0.0, 4.0, 7))
    >>> [round(zero, 12) for zero in found.zeros], round(found.least, 6)
    ([1.0, 3.0], 2.0)
    """
    values = function(places)
    turns = [_turn(function, places, values, place) for place in _turning(values)]
    if turns:
        places, order = np.unique(np.concatenate((places, turns)), return_index=True)
        values = np.concatenate((values, function(np.array(turns))))[order]
    ends_and_turns = np.isin(places, [places[0], places[-1], *turns])
    values = np.where(ends_and_turns & (np.abs(values) <= TOUCH), 0.0, values)
    signs = np.sign(values)
    crossed = np.flatnonzero(signs[:-1] * signs[1:] < 0.0)
    zeros = [float(place) for place in places[signs == 0.0]]
    zeros += [_between(function, places[at], places[at + 1]) for at in crossed]
    return Look(
        tuple(sorted(zeros)),
        float(places[int(np.argmax(values))]),
        float(places[int(np.argmin(values))]),
    )


def _turning(values: FloatArray) -> list[int]:
    """The places whose two neighbours both lie above, or both below."""
    slope = np.sign(np.diff(values))
    return [int(at) for at in np.flatnonzero(slope[:-1] * slope[1:] < 0.0) + 1]


def _turn(function: Function, places: FloatArray, values: FloatArray, at: int) -> float:
    """The turning point between the neighbours of a place."""
    low, high = float(places[at - 1]), float(places[at + 1])
    side = 1.0 if values[at] > values[at - 1] else -1.0
    best = float(places[at])
    while high - low > _TURN * max(abs(low), abs(high)):
        some = np.unique(np.append(np.linspace(low, high, _SECTIONS + 1), best))
        top = int(np.argmax(side * function(some)))
        best = float(some[top])
        shorter = float(some[max(top - 1, 0)]), float(some[min(top + 1, len(some) - 1)])
        if shorter == (low, high):
            break
        low, high = shorter
    return best


def _between(function: Function, low: float, high: float) -> float:
    """The zero between two places at which the signs differ, to a float's last digits."""
    while True:
        some = np.linspace(low, high, _SECTIONS + 1)
        signs = np.sign(function(some))
        over = int(np.argmax(signs != signs[0]))
        if over == 0 or signs[over] == 0.0:
            return float(some[over])
        shorter = float(some[over - 1]), float(some[over])
        if shorter == (low, high) or np.nextafter(shorter[0], shorter[1]) >= shorter[1]:
            return shorter[1]
        low, high = shorter
