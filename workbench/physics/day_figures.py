"""What a person wants to know of a simulated run: starts, runs and rests, energy, and the trace.

Every figure is counted or integrated from the run's own moments; nothing is simulated again.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray, GaugePressure, gauge_pressure
from workbench.physics.day import Run
from workbench.physics.fill import FillCurve
from workbench.physics.pump import Delivery, hydraulic_power
from workbench.physics.way import Ways
from workbench.words import tr

IntArray = npt.NDArray[np.int64]
DAY, HOUR = 86_400.0, 3_600.0
_GAUSS, _WEIGHTS = np.polynomial.legendre.leggauss(8)


def open_flow(delivery: Delivery) -> float:
    """The pump's flow into a line at nil gauge [m³/s], or its highest flow where data end before.

    For ``simulate``: what an empty tank's taps can get at most.
    """
    flow = float(delivery.flow(gauge_pressure(0.0)))
    return flow if np.isfinite(flow) else float(delivery.highest_flow)


def starts_per_day(run: Run) -> float:
    """Starts [1/day], on average over the whole run."""
    return len(run.starts) / (float(run.time[-1] - run.time[0]) / DAY)


def starts_in_each(run: Run, span: float = HOUR) -> IntArray:
    """Starts in each clock hour (or day, with ``span`` 86,400 s) that the run touches.

    Spans are counted from 0, midnight of the first day; the first and last may be cut short.
    """
    first = np.floor(run.time[0] / span)
    count = int(np.ceil(run.time[-1] / span) - first)
    places = (np.floor(run.starts / span) - first).astype(np.int64)
    return np.bincount(places, minlength=count)


def busiest_hour(run: Run, seconds: float = HOUR) -> tuple[int, float]:
    """Most starts in any 60 minutes whatever the clock says, and when those begin [s].

    The hour begins with a start and ends just before another one would be 60 minutes later. At no
    start: (0, the run's beginning).
    """
    if len(run.starts) == 0:
        return 0, float(run.time[0])
    within = np.searchsorted(run.starts, run.starts + seconds, "left") - np.arange(len(run.starts))
    busiest = int(np.argmax(within))
    return int(within[busiest]), float(run.starts[busiest])


def run_lengths(run: Run) -> FloatArray:
    """Seconds of every whole run, from a start to its stop; one cut off at an end is left out."""
    after = np.searchsorted(run.stops, run.starts, "right")
    whole = after < len(run.stops)
    return np.asarray(run.stops[after[whole]] - run.starts[whole])


def rest_lengths(run: Run) -> FloatArray:
    """Seconds of every whole rest, from a stop to the next start."""
    after = np.searchsorted(run.starts, run.stops, "left")
    whole = after < len(run.starts)
    return np.asarray(run.starts[after[whole]] - run.stops[whole])


def run_seconds(run: Run) -> float:
    """Time with the pump running [s], cut-off runs included."""
    return float(np.sum(run.seconds[run.pump_on]))


def longest_idle(run: Run) -> float:
    """Longest time with the pump at rest [s], the rests at both ends included; 0 if it never is."""
    resting = np.concatenate(([False], ~run.pump_on, [False]))
    turns = np.flatnonzero(np.diff(resting.astype(np.int8)))
    return float(np.max(run.time[turns[1::2]] - run.time[turns[::2]], initial=0.0))


def seconds_below_cut_in(run: Run, fill: FillCurve) -> float:
    """Time [s] with less water in the tank than at cut-in, or none: the pump runs and is outdrawn.

    Where the precharge is above cut-in there is no water at cut-in, and only an empty tank counts.
    """
    level, on = fill.cut_in_water, run.pump_on
    before, after = run.water[:-1], run.water[1:]
    below = (before <= level) & (after <= level) & (np.minimum(before, after) < level)
    seconds = float(np.sum(run.seconds[(on & below) | run.tank_empty]))
    for piece in np.flatnonzero(on & (before < level) & (after > level)):
        passing = float(fill.time(before[piece], level, run.demand[piece]))
        seconds += min(passing, float(run.seconds[piece]))
    for piece in np.flatnonzero(on & (before > level) & (after < level)):
        passing = float(fill.time(level, after[piece], run.demand[piece]))
        seconds += min(passing, float(run.seconds[piece]))
    return seconds


def water_at(run: Run, fill: FillCurve, times: npt.ArrayLike) -> FloatArray:
    """Water in the tank [m³] at any moments of the run [s], exact; same shape as ``times``.

    Raises:
        ValueError: a moment outside the run.
    """
    asked = np.asarray(times, dtype=np.float64)
    if not np.all((asked >= run.time[0]) & (asked <= run.time[-1])):
        raise ValueError(tr("a moment outside the simulated time was asked for"))
    water = np.asarray(np.interp(asked, run.time, run.water))
    if fill.is_constant:
        return water
    piece = np.minimum(np.searchsorted(run.time, asked, "right") - 1, len(run.demand) - 1)
    curved = run.pump_on[piece] & (asked > run.time[piece])
    ways, flat = Ways(fill), water.reshape(-1)
    pieces, moments = piece.reshape(-1), asked.reshape(-1)
    for place in np.flatnonzero(curved):
        start = pieces[place]
        passed = float(moments[place] - run.time[start])
        flat[place], _ = ways.after(float(run.water[start]), passed, float(run.demand[start]))
    return water


def trace(
    run: Run,
    fill: FillCurve,
    points: int,
    line_pressure: Callable[[FloatArray], GaugePressure] | None = None,
) -> tuple[FloatArray, GaugePressure]:
    """The gauge pressure over time, for drawing.

    Args:
        run, fill: what was simulated, and with what.
        points: moments spread evenly besides the run's own, so that no corner is lost.
        line_pressure: the pump's gauge pressure [Pa] at a flow (``Delivery.pressure``) for when the
            tank is empty; None draws nil gauge there, right for a constant flow.

    Returns:
        Time [s], never falling, and gauge pressure [Pa], equal shapes. Where the pressure jumps
        (the tank has just emptied, or takes water again) the same time comes twice.
    """
    even = np.linspace(run.time[0], run.time[-1], max(points, 2))
    between = np.clip(np.searchsorted(run.time, even, "right") - 1, 0, len(run.demand) - 1)
    every = np.arange(len(run.demand))
    # Both ends of every piece, and what lies between: neighbours meet, or jump, at their ends.
    time = np.concatenate((run.time[:-1], even, run.time[1:]))
    piece = np.concatenate((every, between, every))
    order = np.lexsort((time, piece))
    time, piece = time[order], piece[order]
    pressure = np.array(fill.pressure_at(water_at(run, fill, time)))
    empty = run.tank_empty[piece]
    pressure[empty] = _alone(run, line_pressure)[piece[empty]]
    new = (np.diff(time, prepend=-np.inf) > 0.0) | (np.diff(pressure, prepend=np.nan) != 0.0)
    return time[new], GaugePressure(pressure[new])


def _alone(run: Run, line_pressure: Callable[[FloatArray], GaugePressure] | None) -> GaugePressure:
    """Gauge pressure of the line in every piece in which the tank is empty, elsewhere nil."""
    pressure = np.zeros(len(run.demand))
    if line_pressure is not None:
        met = run.tank_empty & (run.supply >= run.demand)
        pressure[met] = line_pressure(run.supply[met])
    return GaugePressure(pressure)


def energy(
    run: Run,
    fill: FillCurve,
    head_of_flow: Callable[[FloatArray], FloatArray],
    efficiency: float | Callable[[FloatArray], FloatArray] = 1.0,
) -> float:
    """Energy that the running pump takes [J]: the integral of ρ g H Q / η over its time.

    Args:
        head_of_flow: the pump's total head [m] at a flow [m³/s], any shape.
        efficiency: η from wire to water, above 0 to 1, one number or of the flow.

    Raises:
        ValueError: an efficiency outside 0 to 1, or a head that is not known at a pumped flow.

    In a piece with demand q, power P(Q) and any constant c,
        ∫ P dt = c Δt + ∫ (P(Q) − c) / (Q − q) dw,
    since dw = (Q − q) dt. With c = P(q), carried on straight where q lies beyond the pump's flows,
    the second integrand stays smooth where Q comes near q, and eight Gauss points are plenty.
    """
    on = run.pump_on
    before, after, empty = run.water[:-1][on], run.water[1:][on], run.tank_empty[on]
    demand, supply = run.demand[on], run.supply[on]

    def power(flow: FloatArray) -> FloatArray:
        share = np.asarray(efficiency(flow) if callable(efficiency) else efficiency)
        if not np.all((share > 0.0) & (share <= 1.0)):
            raise ValueError(tr("the efficiency must be above 0 and at most 1"))
        return np.asarray(hydraulic_power(flow, head_of_flow(flow)) / share)

    lowest, highest = float(fill.flow[-1]), float(fill.flow[0])
    level = power(np.where(empty, supply, np.clip(demand, lowest, highest)))
    if lowest < highest:
        level[~empty] += _carried_on(power, lowest, highest, demand[~empty])
    half = (after - before) / 2.0
    water = ((before + after) / 2.0)[:, np.newaxis] + half[:, np.newaxis] * _GAUSS
    flow = np.asarray(fill.flow_at(water))
    rise, speed = power(flow) - level[:, np.newaxis], flow - demand[:, np.newaxis]
    slope = np.divide(rise, speed, out=np.zeros_like(rise), where=(speed != 0.0))
    slope[half == 0.0] = 0.0
    total = float(np.dot(level, run.seconds[on]) + np.dot(half, slope @ _WEIGHTS))
    if not np.isfinite(total):
        raise ValueError(tr("the pump's head is not known at every flow that it gave"))
    return total


def _carried_on(
    power: Callable[[FloatArray], FloatArray], lowest: float, highest: float, demand: FloatArray
) -> FloatArray:
    """What the tangents at the ends of the pump's flows add at a demand beyond them, else zero."""
    step = (highest - lowest) * 1e-3
    first, second, before_last, last = power(
        np.array([lowest, lowest + step, highest - step, highest])
    )
    return np.asarray(
        np.minimum(demand - lowest, 0.0) * (second - first) / step
        + np.maximum(demand - highest, 0.0) * (last - before_last) / step
    )
