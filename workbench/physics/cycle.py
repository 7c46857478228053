"""The pump's cycle at a constant flow: runs, rests and starts.

With the drawdown Vd [m³], pump flow Q and demand q [m³/s], 0 < q < Q:

    run = Vd / (Q − q),  rest = Vd / q,  starts per second = q (Q − q) / (Vd Q)

Source: MIL-HDBK-1005/9A, US Department of Defense, paragraph 2.5.3.6, equations 1 and 2 (written
for a sump; filling and emptying change places and the sum is the same).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray


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
