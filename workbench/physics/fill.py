"""Filling and emptying a tank by a pump whose flow falls as the pressure rises.

With w the water in the tank [m³], Q(w) the pump's flow and q the demand [m³/s]:

    dw/dt = Q(w) − q,   seconds from w₁ to w₂ = ∫ dw / (Q(w) − q)

Q is kept as straight lines between nodes. On one line, from net flow a to net flow b over a width
of h, the integral is h · ln(a / b) / (a − b), and the water after t seconds is
w₁ + a (exp(s t) − 1) / s with s = (b − a) / h. So the only error is that of the straight lines, and
at a constant flow there is none. With the nodes of ``FillCurve.of`` a run from cut-in to cut-out is
right to 1e-6 at any demand; emptying under a running pump to about 2e-7 divided by the share by
which the demand exceeds the flow where it ends (measured against an ODE solver).

Source: a mass balance on the tank; the integral is elementary. Reduces to MIL-HDBK-1005/9A, US
Department of Defense, paragraph 2.5.3.6, at a constant flow (``workbench.physics.cycle``).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from workbench.physics.air import AbsolutePressure, FloatArray, GaugePressure, gauge
from workbench.physics.fill_nodes import place_nodes
from workbench.physics.header import Vessels
from workbench.physics.pump import Delivery
from workbench.words import tr

_ROUNDING = 1e-9  # share of the water at cut-out by which a caller's sum may miss either end
_TABLES = 32  # demands whose tables are kept, about 16 kB each


@dataclass(frozen=True, eq=False)
class FillCurve:
    """The pump's flow over the water in the tank, straight between nodes; rows are read-only.

    ``water`` (k,) strictly rising [m³], from 0 (empty) to the water at cut-out; ``flow`` (k,)
    [m³/s], never rising; ``pressure`` (k,) gauge [Pa], rising. Where the pressure rises without the
    water (every membrane at its limit), two nodes lie one float apart. ``cut_in_water`` is one of
    ``water``. ``held_below``: gauge pressure [Pa] below which the pump's data end and its last flow
    is held; None where they reach. ``vessels`` and ``ambient`` let ``pressure_at`` be exact.

    Raises:
        ValueError: fewer than two nodes, unequal shapes, water that does not rise strictly from 0,
            flow that rises or is not a number, a cut-in that is no node or is the last one.
    """

    water: FloatArray
    flow: FloatArray
    pressure: FloatArray
    cut_in_water: float
    held_below: float | None = None
    vessels: Vessels | None = None
    ambient: AbsolutePressure | None = None

    def __post_init__(self) -> None:
        for name in ("water", "flow", "pressure"):
            row = np.array(getattr(self, name), dtype=np.float64)
            row.flags.writeable = False
            object.__setattr__(self, name, row)
        count = self.water.shape
        if len(count) != 1 or count[0] < 2 or not count == self.flow.shape == self.pressure.shape:
            raise ValueError(
                tr("water, flow and pressure must be three equal rows of 2 nodes or more")
            )
        if self.water[0] != 0.0 or not np.all(np.diff(self.water) > 0.0):
            raise ValueError(tr("the water at the nodes must rise strictly, from zero"))
        if not (np.all(np.diff(self.flow) <= 0.0) and self.flow[-1] >= 0.0):
            raise ValueError(
                tr("the flow must not rise with the water, and must not be below zero")
            )
        if not np.any(self.water[:-1] == self.cut_in_water):
            raise ValueError(tr("the water at cut-in must be a node below the last one"))

    @classmethod
    def of(
        cls,
        delivery: Delivery,
        vessels: Vessels,
        cut_in: GaugePressure,
        cut_out: GaugePressure,
        ambient: AbsolutePressure,
    ) -> FillCurve:
        """The curve of one pump, one or more tanks, and the switch's two pressures (scalars).

        A precharge above cut-in leaves no water at cut-in: the pump starts with the tank empty.

        Raises:
            ValueError: cut-out not above cut-in; a tank that gives no water between the two; a pump
                whose data do not reach over the whole band.
        """
        nodes = place_nodes(delivery, vessels, float(cut_in), float(cut_out), float(ambient))
        return cls(
            nodes.water,
            nodes.flow,
            nodes.pressure,
            nodes.cut_in_water,
            nodes.held_below,
            vessels,
            ambient,
        )

    @property
    def cut_out_water(self) -> float:
        """Water [m³] at cut-out."""
        return float(self.water[-1])

    @property
    def drawdown(self) -> float:
        """Water [m³] from cut-out down to cut-in."""
        return self.cut_out_water - self.cut_in_water

    @property
    def is_constant(self) -> bool:
        """Whether the flow is the same at every node."""
        return bool(self.flow[0] == self.flow[-1])

    @property
    def cut_in_node(self) -> int:
        """Index of the node at cut-in."""
        return int(np.searchsorted(self.water, self.cut_in_water))

    def flow_at(self, water: npt.ArrayLike) -> FloatArray:
        """Pump's flow [m³/s] with this water in the tank, any shape.

        Raises:
            ValueError: water below zero or above that at cut-out.
        """
        return np.asarray(np.interp(self._inside(water), self.water, self.flow))

    def pressure_at(self, water: npt.ArrayLike) -> GaugePressure:
        """Gauge pressure [Pa] with this water in the tank, any shape.

        Exact through the vessels; of nodes alone, straight between them.

        Raises:
            ValueError: water below zero or above that at cut-out.
        """
        held = self._inside(water)
        if self.vessels is None or self.ambient is None:
            return GaugePressure(np.asarray(np.interp(held, self.water, self.pressure)))
        return gauge(self.vessels.pressure(held), self.ambient)

    def cumulative(self, demand: float) -> FloatArray:
        """Seconds (k,) from cut-in to each node with the pump running; negative below cut-in.

        inf from the first node at which the demand is the pump's flow or more. If that is so at
        cut-in already, the nodes below it count back from the last one that the pump can pass.
        """
        rising = self.flow > demand
        seconds = _table(self, float(demand))
        last = int(np.count_nonzero(rising)) - 1
        origin = seconds[max(min(self.cut_in_node, last), 0)]
        return np.where(rising, seconds - origin, np.inf)

    def time(self, start: npt.ArrayLike, end: npt.ArrayLike, demand: float = 0.0) -> FloatArray:
        """Seconds with the pump running from one water [m³] to another at a steady demand [m³/s].

        Args:
            start, end: water, broadcast together; the tank may fill or empty.
            demand: zero or more.

        Returns:
            Seconds; 0 where start equals end, inf where the end is never reached.

        Raises:
            ValueError: a demand below zero; water below zero or above that at cut-out.
        """
        _check_demand(demand)
        first, last = np.broadcast_arrays(self._inside(start), self._inside(end))
        net = self.flow_at(last) - demand  # the flow falls with water, so the end decides
        reached = np.where(last > first, net > 0.0, net < 0.0)
        if self.is_constant:
            with np.errstate(divide="ignore", invalid="ignore"):
                seconds = (last - first) / net
        else:
            seconds = self._clock(last, float(demand)) - self._clock(first, float(demand))
        return np.where(last == first, 0.0, np.where(reached, seconds, np.inf))

    def water_after(self, start: float, seconds: float, demand: float) -> float:
        """Water [m³] after some seconds with the pump running, at a steady demand [m³/s].

        Stops at 0 (the tank is empty) and at the water at cut-out (the switch opens), since what
        follows there is not the pump's doing; ``time`` says when it gets there.

        Raises:
            ValueError: a demand below zero, seconds below zero, water outside the curve.
        """
        _check_demand(demand)
        if not seconds >= 0.0:
            raise ValueError(tr("the seconds must not be below zero"))
        held = float(self._inside(start))
        net = float(self.flow_at(held)) - demand
        if net == 0.0:
            return held
        clock = float(self._clock(np.asarray(held), float(demand))) + seconds
        table, top = _table(self, float(demand)), len(self.water) - 1
        # Nodes that the water can pass: those on its own side of the balance of flow and demand.
        if net > 0.0:
            passable = int(np.count_nonzero(self.flow > demand))
            node = int(np.searchsorted(table[:passable], clock, side="right")) - 1
            node = min(max(node, 0), top)
            if node == top:
                return self.cut_out_water
            beyond = node + 1
        else:
            lowest = len(self.flow) - int(np.count_nonzero(self.flow < demand))
            # The clock runs up as the water runs down, so the table falls from here on.
            behind = int(np.searchsorted(-table[lowest:], -clock, side="left"))
            node = min(lowest + behind, top)
            if node == 0:
                return 0.0
            beyond = node - 1
        return self._along(node, beyond, clock - float(table[node]), demand)

    def _along(self, node: int, beyond: int, seconds: float, demand: float) -> float:
        """Water some seconds after a node on the straight line towards its neighbour."""
        width = float(self.water[beyond] - self.water[node])
        rate = float(self.flow[beyond] - self.flow[node]) / width * seconds
        growth = float(np.expm1(rate)) / rate if rate != 0.0 else 1.0
        moved = (float(self.flow[node]) - demand) * seconds * growth
        return min(max(float(self.water[node]) + moved, 0.0), self.cut_out_water)

    def _inside(self, water: npt.ArrayLike) -> FloatArray:
        held = np.asarray(water, dtype=np.float64)
        slack = _ROUNDING * self.cut_out_water
        if not np.all((held >= -slack) & (held <= self.cut_out_water + slack)):
            raise ValueError(tr("the water must lie between zero and the water at cut-out"))
        return np.clip(held, 0.0, self.cut_out_water)  # no more than a sum's rounding

    def _clock(self, water: FloatArray, demand: float) -> FloatArray:
        """Reading [s] of a clock that shows the table's numbers at the nodes."""
        table = _table(self, demand)
        left = np.clip(np.searchsorted(self.water, water, side="right") - 1, 0, len(table) - 2)
        flow = np.asarray(np.interp(water, self.water, self.flow))
        # In the piece where flow and demand balance, each side counts from its own node.
        from_left = (self.flow[left] - demand) * (flow - demand) > 0.0
        node = np.where(from_left, left, left + 1)
        seconds = straight_seconds(self.flow[node], flow, water - self.water[node], demand)
        return np.asarray(table[node] + seconds)


def straight_seconds(
    flow: npt.ArrayLike, flow_after: npt.ArrayLike, width: npt.ArrayLike, demand: npt.ArrayLike
) -> FloatArray:
    """Seconds h · ln(a / b) / (a − b) over a piece where the flow is straight over the water.

    Args:
        flow, flow_after: the pump's flow at the two ends [m³/s]; both above or both below demand.
        width: water h from the first end to the second [m³], negative for emptying.
        demand: [m³/s]. All broadcast together.

    Returns:
        Seconds, below zero where the net flow runs the other way; 0 where flow and demand balance
        at an end or change places between them (such a piece is never crossed).

    >>> round(float(straight_seconds(2.0, 1.0, 1.0, 0.0)), 9)  # ln 2
    0.693147181
    """
    first, last = np.asarray(flow, dtype=np.float64), np.asarray(flow_after, dtype=np.float64)
    net = last - np.asarray(demand, dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        excess = np.asarray((first - last) / net)  # a / b − 1
        mean = np.where(excess == 0.0, 1.0, np.log1p(excess) / excess)
        crossed = (excess > -1.0) & np.isfinite(excess)
        return np.where(crossed, np.asarray(width) * mean / net, 0.0)


@lru_cache(maxsize=_TABLES)
def _table(fill: FillCurve, demand: float) -> FloatArray:
    """Clock (k,) [s] at the nodes: it rises where the tank fills and falls where it empties.

    Only differences between two nodes on the same side of the balance mean anything.
    """
    _check_demand(demand)
    pieces = straight_seconds(fill.flow[:-1], fill.flow[1:], np.diff(fill.water), demand)
    table = np.concatenate(([0.0], np.cumsum(pieces)))
    table.setflags(write=False)  # shared by every caller
    return table


def _check_demand(demand: float) -> None:
    if not demand >= 0.0:
        raise ValueError(tr("the demand must not be below zero"))
