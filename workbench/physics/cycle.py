"""The pump's cycle: runs, rests and starts, at a constant flow or a falling one.

At a constant flow, with the drawdown Vd [m³], pump flow Q and demand q [m³/s], 0 < q < Q:

    run = Vd / (Q − q),  rest = Vd / q,  starts per second = q (Q − q) / (Vd Q)

Source: MIL-HDBK-1005/9A, US Department of Defense, paragraph 2.5.3.6, equations 1 and 2 (written
for a sump; filling and emptying change places and the sum is the same).

Where the flow Q(w) falls with the water w in the tank, the run is ∫ dw / (Q(w) − q) from cut-in to
cut-out; the rest is Vd / q as before (:mod:`workbench.physics.fill`).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray
from workbench.physics.fill import FillCurve, straight_seconds
from workbench.words import tr

_BLOCK = 64  # demands at a time, so that their tables of nodes stay small


def run_time(
    drawdown: npt.ArrayLike, pump_flow: npt.ArrayLike, demand: npt.ArrayLike = 0.0
) -> FloatArray:
    """Seconds the pump runs from cut-in to cut-out; the shortest run is at no demand, Vd / Q.

    inf where the demand is the pump's flow or more: the pump does not stop.
    """
    surplus = np.asarray(pump_flow, dtype=np.float64) - np.asarray(demand, dtype=np.float64)
    water = np.asarray(drawdown, dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(surplus > 0.0, water / surplus, np.inf)


def starts_per_second(
    drawdown: npt.ArrayLike, pump_flow: npt.ArrayLike, demand: npt.ArrayLike
) -> FloatArray:
    """Starts per second [1/s] at a steady demand; zero at no demand and where the pump never stops.

    inf where the drawdown is zero and the demand is not.
    """
    flow, draw = np.asarray(pump_flow, dtype=np.float64), np.asarray(demand, dtype=np.float64)
    water = np.asarray(drawdown, dtype=np.float64)
    cycling = (draw > 0.0) & (draw < flow)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(cycling, draw * (flow - draw) / (water * flow), 0.0)


def worst_starts_per_second(drawdown: npt.ArrayLike, pump_flow: npt.ArrayLike) -> FloatArray:
    """Starts per second [1/s] at the demand that is worst, half the pump's flow: Q / (4 Vd).

    Source: MIL-HDBK-1005/9A, paragraph 2.5.3.6, equation 2 (t = 4 V / D).

    >>> gal = 3.785411784e-3
    >>> round(3600 * float(worst_starts_per_second(10 * gal, 10 * gal / 60)), 9)  # per hour
    15.0
    """
    water = np.asarray(drawdown, dtype=np.float64)
    with np.errstate(divide="ignore"):
        return np.asarray(np.asarray(pump_flow, dtype=np.float64) / (4.0 * water))


def drawdown_for_starts(pump_flow: npt.ArrayLike, starts: npt.ArrayLike) -> FloatArray:
    """Drawdown [m³] at which the worst demand gives ``starts`` [1/s]: Vd = Q / (4 N).

    In gallons, gallons per minute and starts per hour: Vd = 15 Q / N.

    Raises:
        ValueError: starts of zero or less.

    Source: MIL-HDBK-1005/9A, paragraph 2.5.3.6; Water System Design Manual, Washington State
    Department of Health 331-123, 2009, equation 11-1 (the factor 15).

    >>> gal = 3.785411784e-3
    >>> round(float(drawdown_for_starts(10 * gal / 60, 6 / 3600)) / gal, 9)
    25.0
    """
    limit = np.asarray(starts, dtype=np.float64)
    if np.any(limit <= 0.0):
        raise ValueError("starts must be above zero")
    return np.asarray(np.asarray(pump_flow, dtype=np.float64) / (4.0 * limit))


def fill_time(fill: FillCurve, demand: npt.ArrayLike = 0.0) -> FloatArray:
    """Seconds the pump runs from cut-in to cut-out at steady demands [m³/s], any shape.

    inf where the demand is at or above the flow at cut-out: the pump does not stop.

    Raises:
        ValueError: a demand below zero or not a number.

    >>> water, flow = np.array([0.0, 0.1]), np.array([2e-3, 1e-3])
    >>> tank = FillCurve(water, flow, np.array([2e5, 4e5]), 0.0)
    >>> round(float(fill_time(tank)), 6)  # 0.1 · ln 2 / 1e-3
    69.314718
    """
    draw = _demands(demand)
    seconds = np.full(draw.shape, np.inf)
    cycling = draw < fill.flow[-1]
    flow, width = _run(fill)
    parts = [
        straight_seconds(flow[:-1], flow[1:], width, some[:, np.newaxis]).sum(axis=-1)
        for some in np.split(draw[cycling], range(_BLOCK, int(np.sum(cycling)), _BLOCK))
    ]
    seconds[cycling] = np.concatenate(parts)
    return seconds


def rest_time(fill: FillCurve, demand: npt.ArrayLike) -> FloatArray:
    """Seconds the pump rests from cut-out to cut-in at steady demands [m³/s]; inf at none.

    Raises:
        ValueError: a demand below zero or not a number.
    """
    with np.errstate(divide="ignore"):
        return np.asarray(fill.drawdown / _demands(demand))


def starts(fill: FillCurve, demand: npt.ArrayLike) -> FloatArray:
    """Starts per second [1/s] at steady demands [m³/s]; zero at none and where it never stops.

    Raises:
        ValueError: a demand below zero or not a number.
    """
    return np.asarray(1.0 / (fill_time(fill, demand) + rest_time(fill, demand)))


def mean_flow(fill: FillCurve) -> float:
    """Constant flow [m³/s] that would fill the tank as soon at no demand: Vd / run time.

    Zero where the pump does not reach cut-out.
    """
    return fill.drawdown / float(fill_time(fill))


def worst_starts(fill: FillCurve) -> tuple[float, float]:
    """Demand [m³/s] that makes the pump start most often, and its starts per second [1/s].

    A cycle lasts C(q) = Vd / q + ∫ dw / (Q − q), which is convex; its least value is where
    Vd / q² = ∫ dw / (Q − q)². On a straight piece from net flow a to b the integral is h / (a b).
    At a constant flow q = Q / 2 and the starts are Q / (4 Vd). (0, 0) where the pump does not reach
    cut-out at any demand.

    Source: arithmetic from MIL-HDBK-1005/9A, paragraph 2.5.3.6, equation 1, at a falling flow.

    >>> tank = FillCurve(np.array([0.0, 0.1]), np.array([1e-3, 1e-3]), np.array([2e5, 4e5]), 0.0)
    >>> demand, often = worst_starts(tank)
    >>> round(demand, 12), round(often, 12)
    (0.0005, 0.0025)
    """
    flow, width = _run(fill)
    top = float(flow[-1])
    if top == 0.0:
        return 0.0, 0.0
    low, high, demand = 0.0, top, 0.5 * top
    # f(q) = sqrt(Vd / S) − q with S = ∫ dw / (Q − q)² falls, and is straight at a constant flow.
    while True:
        net = flow - demand
        product = net[:-1] * net[1:]
        total = float(np.sum(width / product))
        slope = float(np.sum(width * (net[:-1] + net[1:]) / product**2))
        root = float(np.sqrt(fill.drawdown / total))
        low, high = (demand, high) if root > demand else (low, demand)
        better = demand + (root - demand) / (1.0 + 0.5 * root * slope / total)
        if min(abs(better - demand), high - low) <= 1e-14 * top:
            return demand, float(starts(fill, demand))
        if not low < better < high:
            better = 0.5 * (low + high)
        demand = better


def shortest_rest(fill: FillCurve) -> float:
    """Seconds of rest at the highest demand at which the pump still cycles: Vd / flow at cut-out.

    inf where the pump does not reach cut-out.
    """
    top = float(fill.flow[-1])
    return fill.drawdown / top if top > 0.0 else float(np.inf)


def equilibrium(fill: FillCurve, demand: float) -> float | None:
    """Gauge pressure [Pa], up to cut-out, at which the pump just meets a demand [m³/s].

    The lowest such pressure. None where there is none: the demand is below the flow at cut-out (the
    pump cycles) or above the flow into the empty tank, or the flow is the same at every pressure.
    Within a jump of pressure with every membrane at its limit it is read along a straight line.

    Raises:
        ValueError: a demand below zero or not a number.
    """
    draw = float(_demands(demand))
    if fill.is_constant or not fill.flow[-1] <= draw <= fill.flow[0]:
        return None
    node = int(np.argmax(fill.flow <= draw))  # the first that the demand overtakes
    if node == 0 or fill.flow[node] == draw:
        return float(fill.pressure[node])
    share = (fill.flow[node - 1] - draw) / (fill.flow[node - 1] - fill.flow[node])
    return float(fill.pressure[node - 1] + share * np.diff(fill.pressure)[node - 1])


def _run(fill: FillCurve) -> tuple[FloatArray, FloatArray]:
    """Flows at the nodes from cut-in on, and the widths between them."""
    first = fill.cut_in_node
    return fill.flow[first:], np.diff(fill.water[first:])


def _demands(demand: npt.ArrayLike) -> FloatArray:
    draw = np.asarray(demand, dtype=np.float64)
    if not np.all(draw >= 0.0):
        raise ValueError(tr("the demand must not be below zero"))
    return draw
