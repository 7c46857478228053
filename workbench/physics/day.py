"""Days of use: what pump and tank do while a household draws water, from event to event.

The demand is steady between its edges and does not depend on the pressure. Between two events the
tank's water w [m³] follows

    dw/dt = −q          while the pump rests, until w falls to the water at cut-in: the pump starts
    dw/dt = Q(w) − q    while it runs, until w rises to the water at cut-out: the pump stops

and both are solved exactly, so there is no time step and nothing that a step would miss. While the
pump rests only the sum of the demand counts; it never falls, so the next start is one search in it
however often the taps open meanwhile. The switch closes at once at or below cut-in; where the
precharge is above cut-in, that is when the tank is empty.

An empty tank. Where the taps draw more than the pump gives at the tank's empty pressure, the tank
stays empty and the line is the pump's alone: its pressure falls until the pump gives the demand, or
to nil gauge. What the pump does not give even there (``open_flow``) is unmet and lost: nobody draws
it later. The tank takes water again as soon as the demand is below the pump's flow at its empty
pressure. Our own model, from the balance of volumes.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray
from workbench.physics.fill import FillCurve
from workbench.physics.way import Ways
from workbench.words import tr

MOST_STARTS = 2_000_000
_ROUNDING = 1e-9
_OFTEN = 30  # a demand that comes so often is worth a table of its own


@dataclass(frozen=True, eq=False)
class Draws:
    """What the taps draw: steady pieces of demand, one after the other.

    Attributes:
        edges: shape (n + 1,), seconds, strictly rising; 0 is midnight of the first day.
        flow: shape (n,), demand between two edges [m³/s], zero or above.

    Raises:
        ValueError: shapes that do not fit, edges that do not rise, a negative or not finite value.

    >>> hour = Draws(np.array([0.0, 600.0, 3600.0]), np.array([1e-4, 0.0]))
    >>> round(hour.volume, 9)
    0.06
    """

    edges: FloatArray
    flow: FloatArray

    def __post_init__(self) -> None:
        edges, flow = (np.asarray(a, dtype=np.float64) for a in (self.edges, self.flow))
        if edges.ndim != 1 or len(edges) < 2 or flow.shape != (len(edges) - 1,):
            raise ValueError(tr("draws need at least two edges and one flow fewer than edges"))
        if not np.all(np.isfinite(edges)) or not np.all(np.isfinite(flow)):
            raise ValueError(tr("every edge and every flow of the draws must be a finite number"))
        if np.any(back := np.diff(edges) <= 0.0):
            number = int(np.argmax(back)) + 2
            raise ValueError(tr("edge {number} of the draws must come later", number=number))
        if np.any(below := flow < 0.0):
            number = int(np.argmax(below)) + 1
            raise ValueError(tr("flow {number} of the draws must not be negative", number=number))
        object.__setattr__(self, "edges", edges)
        object.__setattr__(self, "flow", flow)

    @property
    def seconds(self) -> float:
        """The time that the draws cover [s]."""
        return float(self.edges[-1] - self.edges[0])

    @property
    def volume(self) -> float:
        """All water that the taps want [m³]."""
        return float(np.dot(np.diff(self.edges), self.flow))


@dataclass(frozen=True, eq=False)
class Run:
    """What happened, piece by piece between m moments at which anything changed.

    Attributes:
        time: shape (m,), seconds, strictly rising, from the draws' first edge to their last.
        water: shape (m,), water in the tank at each of them [m³].
        demand: shape (m − 1,), what the taps want in each piece [m³/s].
        supply: shape (m − 1,), what they get; less than the demand only while the tank is empty.
        pump_on: shape (m − 1,), whether the pump runs.
        starts, stops: seconds at which the pump starts and stops.
        tank_empty: shape (m − 1,), whether the tank stays empty with the pump running.
    """

    time: FloatArray
    water: FloatArray
    demand: FloatArray
    supply: FloatArray
    pump_on: npt.NDArray[np.bool_]
    tank_empty: npt.NDArray[np.bool_]
    starts: FloatArray
    stops: FloatArray

    @cached_property
    def seconds(self) -> FloatArray:
        """Length of each piece [s], shape (m − 1,)."""
        return np.diff(self.time)

    @property
    def unmet(self) -> float:
        """Water that the taps wanted and did not get [m³]."""
        return float(np.dot(self.seconds, self.demand - self.supply))

    @property
    def drawn(self) -> float:
        """Water that the taps got [m³]."""
        return float(np.dot(self.seconds, self.supply))

    @property
    def pumped(self) -> float:
        """Water that the pump gave [m³]: what the tank gained and the taps got while it ran."""
        given = np.diff(self.water) + self.seconds * self.supply
        return float(np.sum(given[self.pump_on]))

    @property
    def empty_seconds(self) -> float:
        """Time with the pump running and no water in the tank [s]."""
        return float(np.sum(self.seconds[self.tank_empty]))

    @property
    def final_water(self) -> float:
        """Water in the tank at the end [m³]."""
        return float(self.water[-1])

    @property
    def pump_on_at_end(self) -> bool:
        """Whether the pump still runs at the end."""
        return bool(self.pump_on[-1]) and not (
            len(self.stops) > 0 and self.stops[-1] == self.time[-1]
        )


def simulate(
    fill: FillCurve,
    draws: Draws,
    *,
    start_water: float | None = None,
    pump_on: bool = False,
    open_flow: float | None = None,
) -> Run:
    """Follow pump and tank through the draws.

    Args:
        fill: the pump's flow over the water in the tank.
        draws: the demand.
        start_water: water in the tank at the first edge [m³]; None means as at cut-out.
        pump_on: whether the pump runs at the first edge (this is no start).
        open_flow: the pump's flow into a line at nil gauge [m³/s], for an empty tank; None means
            its flow at the empty tank's pressure, which for a constant flow is the same.

    Raises:
        ValueError: start water outside the tank, no drawdown, an open flow below the flow at the
            empty tank, or a drawdown so small that the pump would start millions of times.

    >>> gal = 3.785411784e-3
    >>> water, flow = np.array([0.0, 10.0]) * gal, np.full(2, 10 * gal / 60)
    >>> fill = FillCurve(water, flow, np.array([2e5, 4e5]), 0.0)
    >>> leak = Draws(np.array([0.0, 86400.0]), np.array([200 * gal / 86400]))
    >>> len(simulate(fill, leak).starts)  # 200 gal a day out of 10 gal: about 20
    19
    """
    start = fill.cut_out_water if start_water is None else float(start_water)
    most = float(fill.flow[0] if open_flow is None else open_flow)
    _check(fill, draws, start, most)
    diary = _Diary(fill, draws)
    time, piece, water = diary.edges[0], 0, start
    runs = pump_on
    while piece < len(diary.flow):
        time, piece, water = (diary.run if runs else diary.rest)(time, piece, water)
        runs = not runs
    return diary.written(draws, start, max(most, float(fill.flow[0])), begun_running=pump_on)


def _check(fill: FillCurve, draws: Draws, start_water: float, open_flow: float) -> None:
    if not 0.0 <= start_water <= fill.cut_out_water:
        raise ValueError(tr("the water at the start must lie between none and that at cut-out"))
    if not fill.drawdown > 0.0:
        raise ValueError(tr("the tank gives no water between cut-out and cut-in"))
    if not fill.flow[0] * (1.0 - _ROUNDING) <= open_flow < math.inf:
        raise ValueError(tr("the flow into an open line must not be below that at an empty tank"))
    if draws.volume > MOST_STARTS * fill.drawdown:
        raise ValueError(
            tr(
                "so small a drawdown means over {most} starts; choose a larger tank",
                most=MOST_STARTS,
            )
        )


class _Diary:
    """Follows the tank from one start or stop to the next and keeps what is needed to tell it.

    A moment is told by its time, the piece of demand that it lies in, and the tank's water.
    """

    def __init__(self, fill: FillCurve, draws: Draws) -> None:
        flows, counts = np.unique(draws.flow, return_counts=True)
        self._ways = Ways(fill, set(flows[counts >= _OFTEN].tolist()))
        self._cut_in, self._cut_out = float(fill.cut_in_water), float(fill.cut_out_water)
        self.edges: list[float] = draws.edges.tolist()
        self.flow: list[float] = draws.flow.tolist()
        sums = np.concatenate(([0.0], np.cumsum(draws.flow * np.diff(draws.edges))))
        self._drawn: list[float] = sums.tolist()
        self._edge_water = [math.nan] * len(self.edges)  # while the pump runs, and beside it
        self._moments: list[tuple[float, float]] = []  # (time, water) that are no edges
        self._begins: list[float] = []
        self._ends: list[float] = []
        self._rests: list[tuple[float, float, int, int]] = []  # water, drawn, edges from, to

    def rest(self, time: float, piece: int, water: float) -> tuple[float, int, float]:
        """From a stop to the next start, or to the end."""
        if water <= self._cut_in:
            return time, piece, water
        drawn, edges = self._drawn, self.edges
        before = drawn[piece] + self.flow[piece] * (time - edges[piece])
        goal = before + (water - self._cut_in)
        edge = bisect_left(drawn, goal, piece + 1)  # the first by which so much is drawn
        self._rests.append((water, before, piece + 1, edge))
        if edge == len(edges):
            return edges[-1], edge - 1, water - (drawn[-1] - before)
        rate = self.flow[edge - 1]
        passed = edges[edge - 1] + ((goal - drawn[edge - 1]) / rate if rate else 0.0)
        time = max(passed, time)
        if time >= edges[edge]:
            self._edge_water[edge] = self._cut_in
            return edges[edge], edge, self._cut_in
        return time, edge - 1, self._cut_in

    def run(self, time: float, piece: int, water: float) -> tuple[float, int, float]:
        """From a start to the next stop, or to the end."""
        edges, flow, full = self.edges, self.flow, self._cut_out
        self._begins.append(time)
        self._moments.append((time, water))
        while water < full:
            edge = edges[piece + 1]
            water, used = self._ways.after(water, edge - time, flow[piece])
            if water >= full:
                time = min(time + used, edge)
            else:
                if used < edge - time:
                    self._moments.append((time + used, water))  # empty from here to the edge
                time = edge
            if time >= edge:
                piece += 1
                self._edge_water[piece] = water
                if piece == len(flow):
                    break
        self._ends.append(time if water >= full else math.inf)
        self._moments.append((time, water))
        return time, piece, water

    def written(
        self, draws: Draws, start_water: float, open_flow: float, *, begun_running: bool
    ) -> Run:
        """All of it in order of time."""
        at_edges = np.array(self._edge_water)
        drawn = np.array(self._drawn)
        for full, before, first, beyond in self._rests:
            at_edges[first:beyond] = full - (drawn[first:beyond] - before)
        at_edges[0] = start_water
        moments = np.array(self._moments).reshape(-1, 2)
        time = np.concatenate((draws.edges, moments[:, 0]))
        water = np.concatenate((at_edges, moments[:, 1]))
        order = np.argsort(time, kind="stable")
        order = order[np.diff(time[order], prepend=-np.inf) > 0.0]
        time, water = time[order], water[order]
        demand = draws.flow[np.searchsorted(draws.edges, time[:-1], "right") - 1]
        begins, ends = np.array(self._begins), np.array(self._ends)
        run = np.searchsorted(begins, time[:-1], "right")
        pump_on = time[:-1] < np.concatenate(([-np.inf], ends))[run]
        empty = pump_on & (water[:-1] <= 0.0) & (water[1:] <= 0.0)
        supply = np.where(empty, np.minimum(demand, open_flow), demand)
        starts, stops = begins[1:] if begun_running else begins, ends[np.isfinite(ends)]
        return Run(time, water, demand, supply, pump_on, empty, starts, stops)
