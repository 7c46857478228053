"""Water moving through a tank while the pump runs and the taps draw steadily, solved exactly.

The pump's flow is straight between the nodes of a :class:`~workbench.physics.fill.FillCurve`, so in
each piece dw/dt = Q(w) − q is a linear equation: with the speed v at the piece's beginning and the
slope b = dQ/dw ≤ 0,

    w(t) = w + v (exp(b t) − 1) / b,        t(w → w') = ln(1 + b (w' − w) / v) / b

and a level at which Q = q is approached for ever and never reached. Arithmetic, no source needed.
``FillCurve`` gives the same answers for arrays; this form is for one float at a time and remembers
what it can, since a year's simulation asks tens of thousands of times.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Collection

import numpy as np

from workbench.physics.air import FloatArray
from workbench.physics.fill import FillCurve


class Way:
    """One direction, in which the speed ``flow − draw`` only falls.

    Rising water is the plain case. Falling water is the same with every sign turned: places −w in
    turned order, flows −Q, and a draw of −q, so that nothing has to be written twice.
    """

    def __init__(self, place: FloatArray, flow: FloatArray, often: Collection[float]) -> None:
        self._flow, self._change, self._step = flow, np.diff(flow), np.diff(place)
        slope = self._change / self._step
        self._flat = slope == 0.0
        self._any_flat = bool(self._flat.any())
        self._per_slope = 1.0 / np.where(self._flat, 1.0, slope)
        self._places, self._flows = place.tolist(), flow.tolist()
        self._slopes, self._climbs = slope.tolist(), (-flow).tolist()
        self._short_of_end = math.nextafter(self._places[-1], -math.inf)
        self._often = often
        self._tables: dict[float, FloatArray] = {}

    def speed(self, place: float, draw: float) -> float:
        """The speed [m³/s] at a place; zero or less where water does not go this way."""
        piece = self._piece(place)
        into = place - self._places[piece]
        return float(self._flows[piece] + self._slopes[piece] * into - draw)

    def go(self, place: float, seconds: float, draw: float) -> tuple[float, float]:
        """Where water is after ``seconds`` at most, and the seconds used until the way's end.

        The place is the way's end only if the end was reached, never by rounding.
        """
        piece, last = self._piece(place), len(self._slopes) - 1
        slope = self._slopes[piece]
        speed = self._flows[piece] + slope * (place - self._places[piece]) - draw
        if speed <= 0.0:
            return place, seconds
        within = _seconds(self._places[piece + 1] - place, speed, slope)
        if within > seconds:
            return self._short_of(place + _distance(seconds, speed, slope)), seconds
        if piece == last:
            return self._places[-1], within
        first, table = self._table(piece + 1, place + speed * seconds, draw)
        begun = float(table[piece + 1 - first])
        goal = begun + seconds - within
        node = first + int(table.searchsorted(goal, "right")) - 1
        if node > last:
            return self._places[-1], within + float(table[-1]) - begun
        left = goal - float(table[node - first])
        speed = self._flows[node] - draw
        return self._short_of(
            self._places[node] + _distance(left, speed, self._slopes[node])
        ), seconds

    def _short_of(self, place: float) -> float:
        return min(place, self._short_of_end)

    def _piece(self, place: float) -> int:
        return min(max(bisect_right(self._places, place) - 1, 0), len(self._slopes) - 1)

    def _table(self, node: int, reach: float, draw: float) -> tuple[int, FloatArray]:
        """The first node and the seconds from it to each node after it that can be reached.

        A draw that comes often gets a table of the whole way, which is kept; another one only a
        table as far as its speed at the start would carry it.
        """
        reached = bisect_left(self._climbs, -draw)  # nodes at which flow > draw
        if draw not in self._often:
            beyond = bisect_left(self._places, reach) + 1
            return node, self._times(node, min(beyond, reached), draw)
        table = self._tables.get(draw)
        if table is None:
            table = self._tables[draw] = self._times(0, reached, draw)
        return 0, table

    def _times(self, first: int, beyond: int, draw: float) -> FloatArray:
        """Seconds from node ``first`` to each node before ``beyond``; the speed is above zero."""
        last = max(beyond - 1, first)
        pieces = slice(first, last)
        speed = self._flow[pieces] - draw
        parts = np.log1p(self._change[pieces] / speed)
        parts *= self._per_slope[pieces]
        if self._any_flat:
            parts = np.where(self._flat[pieces], self._step[pieces] / speed, parts)
        times = np.zeros(last - first + 1)
        parts.cumsum(out=times[1:])
        return times


class Ways:
    """Both directions of a fill curve: where its water goes while the pump runs."""

    def __init__(self, fill: FillCurve, often: Collection[float] = ()) -> None:
        # One piece is enough where the flow never changes.
        ends = slice(None, None, len(fill.water) - 1) if fill.is_constant else slice(None)
        water, flow = fill.water[ends], fill.flow[ends]
        self._full, self._least = float(water[-1]), float(flow[-1])
        self._rise = Way(water, flow, often)
        self._fall = Way(-water[::-1], -flow[::-1], {-draw for draw in often})

    def after(self, water: float, seconds: float, draw: float) -> tuple[float, float]:
        """Water [m³] after ``seconds`` of pump and draw [m³/s], and the seconds used.

        Fewer seconds are used where the tank gets full (the pump stops) or empty (the line is then
        the pump's alone); the water is then exactly the fill curve's last or first.
        """
        if draw < self._least or self._rise.speed(water, draw) > 0.0:
            return self._rise.go(water, seconds, draw)
        place, used = self._fall.go(-water, seconds, -draw)
        return 0.0 - place, used


def _seconds(distance: float, speed: float, slope: float) -> float:
    change = slope * distance / speed
    if change <= -1.0:
        return math.inf
    return distance / speed if change == 0.0 else math.log1p(change) / slope


def _distance(seconds: float, speed: float, slope: float) -> float:
    exponent = slope * seconds
    return speed * seconds if exponent == 0.0 else speed * math.expm1(exponent) / slope
