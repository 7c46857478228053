"""The same pump and tank followed second by second, as one would write it first; no part of us.

In each second the demand is taken as it is, piece by piece; the pump's flow is taken at the middle
of the step; where the water passes the level of cut-in or cut-out, the step is cut there and the
rest of the second goes on with the pump switched. So the starts are those of the exact run.
"""

from __future__ import annotations

import numpy as np

from workbench.physics.day import Draws
from workbench.physics.fill import FillCurve

STEP = 1.0  # s


def stepped_starts(fill: FillCurve, draws: Draws) -> list[float]:
    """Seconds at which the pump starts; the tank begins as at cut-out with the pump at rest."""
    water, cut_in, full = np.float64(fill.cut_out_water), fill.cut_in_water, fill.cut_out_water
    edges, flows = draws.edges, draws.flow
    time, end, piece = edges[0], edges[-1], 0
    pump_on = False
    starts: list[float] = []
    while time < end:
        step_end = min(time + STEP, end)
        while time < step_end:
            while edges[piece + 1] <= time:
                piece += 1
            demand = flows[piece]
            seconds = min(step_end, edges[piece + 1]) - time
            if pump_on:
                half_way = water + 0.5 * seconds * (_flow(fill, water) - demand)
                change = _flow(fill, half_way) - demand
            else:
                change = -demand
            after = water + change * seconds
            if pump_on and after >= full:
                time += (full - water) / change
                water, pump_on = np.float64(full), False
            elif not pump_on and after <= cut_in:
                time += (water - cut_in) / demand
                water, pump_on = np.float64(cut_in), True
                starts.append(float(time))
            else:
                time += seconds
                water = max(after, np.float64(0.0))
    return starts


def _flow(fill: FillCurve, water: np.float64) -> np.float64:
    if fill.is_constant:
        return np.float64(fill.flow[0])
    return np.float64(np.interp(water, fill.water, fill.flow))
