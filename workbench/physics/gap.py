"""The taps falter: what an overcharged tank costs between its last water and the next.

With the precharge above cut-in the tank is empty before the pump starts. From then on only the
pipes give water, and they give little: with their give C [m³/Pa], gauge pressures Pp (precharge)
and Pin (cut-in), the tap's draw q, what flows back b and the pump's start d,

    fall      T = C (Pp − Pin) / (q + b) + d       until the pump gives
    then      S = max(C Pp − (q + b) T, 0)         is left in the pipes; at 0 the tap is dry
    refill    ∫ dS / (Q(S) − q) from S to C Pp     until the tank takes water again

The same T holds at a precharge just below cut-in, with the water that the tank still has at cut-in
in the place of C Pin: a slow start can empty it too.

Source: the mass balance of :mod:`workbench.physics.system`; no publication is known to us that
gives this time, which needs the pipes' give.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from workbench.physics.system import System
from workbench.words import tr


@dataclass(frozen=True, slots=True)
class NoWater:
    """Seconds of each cycle in which the taps get less than they should.

    ``falter``: from the tank's last water until it takes water again; inf if it never does.
    ``dry``: of these, those without any pressure at the tap; inf if that goes on, or comes again
    and again because the pump stops before the tank takes water.
    """

    falter: float
    dry: float


def no_water(system: System, tap: float) -> NoWater:
    """How long taps falter, and are dry, at a steady draw [m³/s]; both zero where they are not.

    The pump rests when it begins. A draw above what the pump gives at cut-in empties any tank in
    the end, with the pump running; that is no fault of the precharge and is not counted here. At
    no draw at all an overcharged tank that is empty stays so.

    Raises:
        ValueError: a draw below zero or without bound; a switch that feels the pressure late, which
            only :mod:`workbench.physics.motion` can follow.

    >>> from workbench.physics.pump import ConstantFlow
    >>> one = System(0.1, 3e5, 1e5, ConstantFlow(6e-4), 2e5, 4e5, 6e5, 2e-9, 1.0)
    >>> gap = no_water(one, 3e-4)  # 2/3 s of fall, 1 s of start, 5/3 s of filling
    >>> round(gap.falter, 9), round(gap.dry, 9)
    (3.333333333, 0.0)
    """
    if not 0.0 <= tap < math.inf:
        raise ValueError(tr("{name} must be zero or above", name=tr("draw")))
    if system.sensing_lag > 0.0:
        raise ValueError(tr("the seconds without water are only known for a switch without lag"))
    draw = tap + system.back_flow
    if draw == 0.0:
        return NoWater(math.inf if system.precharge > system.cut_in else 0.0, 0.0)
    until_gives = (system.emptied_at - system.starts_at) / draw + system.start_delay
    if until_gives <= 0.0:
        return NoWater(0.0, 0.0)
    left = max(system.emptied_at - draw * until_gives, 0.0)
    dry = max(until_gives - system.emptied_at / draw, 0.0)
    at_open_pipe = system.pump_flow(0.0)  # the most that the pump can give
    if at_open_pipe < tap or (at_open_pipe == tap and left == 0.0):
        return NoWater(math.inf, math.inf)
    if system.precharge >= system.cut_out:
        again = dry > 0.0 and system.pump_flow(system.top) > tap
        return NoWater(math.inf, math.inf if again else dry)
    return NoWater(until_gives + _refill(system, tap, left), dry)


def _refill(system: System, tap: float, left: float) -> float:
    """Seconds from the pump's first water until the tank takes some; inf if it never does."""
    if left >= system.emptied_at:  # a tank without charge takes the first drop
        return 0.0
    return float(system.fill.time(left, system.emptied_at, tap))
