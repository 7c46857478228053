"""The tank: how much water a pre-charged tank holds, gives back, and what would be needed.

Symbols throughout: Pp precharge, Pin cut-in, Pout cut-out, all absolute [Pa]; V total volume [m³];
A the most water that the membrane lets in (acceptance) [m³]; n compression exponent [-]. Every
argument may be a float array; shapes broadcast. With the tank drained the air fills all of V.

    water(P) = min( V · (1 − (Pp / P)^(1/n)), A )   for P above Pp, else 0
    drawdown = water(Pout) − water(Pin)

Source: the acceptance factor of a pre-charged tank, Vd/V = Pp/Pin − Pp/Pout in absolute pressure:
technical column of a trade magazine for water-well drillers, "How to calculate and control pressure
tank drawdown", February 2006; same structure as the diaphragm tank of the ASHRAE Handbook, HVAC
Systems and Equipment, 2000, chapter 12, equation 14. It is plain Boyle.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from workbench.physics.air import AbsolutePressure, FloatArray, compression


def water_in_tank(
    pressure: AbsolutePressure,
    precharge: AbsolutePressure,
    volume: npt.ArrayLike,
    acceptance: npt.ArrayLike = np.inf,
    exponent: npt.ArrayLike = 1.0,
) -> FloatArray:
    """Water [m³] in the tank at a pressure; zero until the pressure passes the precharge.

    Args:
        pressure, precharge: absolute [Pa].
        volume, acceptance: total volume V and most water A [m³]; inf where A is not known.
        exponent: compression exponent n, 1.0 unless the change is quick.

    >>> from workbench.physics.air import AbsolutePressure as P
    >>> import numpy as np
    >>> float(water_in_tank(P(np.array(4e5)), P(np.array(2e5)), 0.1))
    0.05
    """
    air_share = compression(precharge, pressure, exponent)
    water = np.asarray(volume, dtype=np.float64) * np.maximum(1.0 - air_share, 0.0)
    return np.asarray(np.minimum(water, acceptance))


def drawdown(
    precharge: AbsolutePressure,
    cut_in: AbsolutePressure,
    cut_out: AbsolutePressure,
    volume: npt.ArrayLike,
    acceptance: npt.ArrayLike = np.inf,
    exponent: npt.ArrayLike = 1.0,
) -> FloatArray:
    """Water [m³] that a tank gives from cut-out down to cut-in, or until it is empty.

    With the precharge above cut-in the tank is empty before the pump starts: the drawdown is all
    its water, and :func:`no_water_gap` is above zero. At or above cut-out it is nothing.

    >>> from workbench.physics.air import absolute, ambient_pressure, gauge_pressure
    >>> psi, gal = 6894.757293168361, 3.785411784e-3
    >>> p28, p30, p50 = (absolute(gauge_pressure(p * psi), ambient_pressure(0.0))
    ...                  for p in (28, 30, 50))
    >>> round(float(drawdown(p28, p30, p50, 85 * gal)) / gal, 2)  # the column's example: 25.1
    25.1
    """
    high = water_in_tank(cut_out, precharge, volume, acceptance, exponent)
    low = water_in_tank(cut_in, precharge, volume, acceptance, exponent)
    return np.asarray(high - low)


def drawdown_factor(
    precharge: AbsolutePressure,
    cut_in: AbsolutePressure,
    cut_out: AbsolutePressure,
    exponent: npt.ArrayLike = 1.0,
) -> FloatArray:
    """Drawdown as a share of total volume [-], as long as the membrane does not limit it."""
    return drawdown(precharge, cut_in, cut_out, 1.0, np.inf, exponent)


def no_water_gap(precharge: AbsolutePressure, cut_in: AbsolutePressure) -> FloatArray:
    """Span of pressure [Pa] between the emptying of the tank and the start of the pump, 0 if none.

    At the precharge the last water leaves; nothing then holds the pressure up until the switch
    closes at cut-in, so the taps falter. Arithmetic from Boyle's law.
    """
    return np.asarray(np.maximum(precharge - cut_in, 0.0))


def water_left_at_cut_in(
    precharge: AbsolutePressure,
    cut_in: AbsolutePressure,
    volume: npt.ArrayLike,
    acceptance: npt.ArrayLike = np.inf,
    exponent: npt.ArrayLike = 1.0,
) -> FloatArray:
    """Water [m³] that stays in the tank when the pump starts: the price of a low precharge."""
    return water_in_tank(cut_in, precharge, volume, acceptance, exponent)


def volume_for_drawdown(
    wanted: npt.ArrayLike,
    precharge: AbsolutePressure,
    cut_in: AbsolutePressure,
    cut_out: AbsolutePressure,
    exponent: npt.ArrayLike = 1.0,
) -> FloatArray:
    """Total volume [m³] whose drawdown is ``wanted`` [m³]: V = Vd / factor.

    inf where no volume is enough (the precharge is at or above cut-out). The tank must also accept
    ``water_in_tank`` of that volume at cut-out.

    Source: required volume = water needed / acceptance factor, non-profit well council information
    sheet "Pressure Tanks", January 2007, p. 2.
    """
    factor = drawdown_factor(precharge, cut_in, cut_out, exponent)
    need = np.asarray(wanted, dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(factor > 0.0, need / factor, np.where(need > 0.0, np.inf, 0.0))


def precharge_for_drawdown(
    wanted: npt.ArrayLike,
    cut_in: AbsolutePressure,
    cut_out: AbsolutePressure,
    volume: npt.ArrayLike,
    exponent: npt.ArrayLike = 1.0,
) -> tuple[FloatArray, FloatArray]:
    """The two precharges, absolute [Pa], that give ``wanted`` [m³] of drawdown.

    A drawdown below the greatest one is reached from both sides: with too little air (water stays
    behind) and with too much (the tank empties before cut-in). They meet at Pp = Pin.

    Returns:
        (at or below cut-in, at or above cut-in); nan where even Pp = Pin does not give ``wanted``.

    Closed forms: Pp = (Vd / (V (Pin^(−1/n) − Pout^(−1/n))))ⁿ, and Pp = Pout (1 − Vd/V)ⁿ.
    """
    power = np.asarray(exponent, dtype=np.float64)
    share = np.asarray(wanted, dtype=np.float64) / np.asarray(volume, dtype=np.float64)
    greatest = drawdown_factor(cut_in, cut_in, cut_out, power)
    possible = (share >= 0.0) & (share <= greatest)
    spread = cut_in ** (-1.0 / power) - cut_out ** (-1.0 / power)
    under = np.where(possible, np.abs(share / spread) ** power, np.nan)
    over = np.where(possible, cut_out * np.maximum(1.0 - share, 0.0) ** power, np.nan)
    return np.minimum(under, cut_in), np.maximum(over, cut_in)


def cut_out_for_drawdown(
    wanted: npt.ArrayLike,
    precharge: AbsolutePressure,
    cut_in: AbsolutePressure,
    volume: npt.ArrayLike,
    exponent: npt.ArrayLike = 1.0,
) -> FloatArray:
    """Cut-out, absolute [Pa], at which the drawdown reaches ``wanted`` [m³], cut-in held.

    inf where no pressure is enough: the tank would have to fill with water entirely.
    Closed form: Pout = Pp (r − Vd/V)^(−n), with r the share of air at cut-in.
    """
    power = np.asarray(exponent, dtype=np.float64)
    share = np.asarray(wanted, dtype=np.float64) / np.asarray(volume, dtype=np.float64)
    air_left = np.minimum(compression(precharge, cut_in, power), 1.0) - share
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(air_left > 0.0, precharge * np.abs(air_left) ** -power, np.inf)


def highest_cut_out(
    wanted: npt.ArrayLike,
    width: npt.ArrayLike,
    below_cut_in: npt.ArrayLike,
    volume: npt.ArrayLike,
) -> FloatArray:
    """Highest cut-out, absolute [Pa], of a band of given width that still gives ``wanted`` [m³].

    The band is moved up as a whole and the precharge follows at ``below_cut_in`` under cut-in.
    Boyle's law (n = 1): f = (x − d) w / (x (x + w)) with x = Pin, w the width, d the distance and
    f = Vd/V, so f x² + (f − 1) w x + w d = 0, and the larger root is the answer.

    Args:
        wanted, volume: [m³], above zero.
        width: cut-out less cut-in [Pa], above zero.
        below_cut_in: cut-in less precharge [Pa], zero or above.

    Returns:
        Pout = x + w; nan where no band of this width gives so much.
    """
    share = np.asarray(wanted, dtype=np.float64) / np.asarray(volume, dtype=np.float64)
    w, d = np.asarray(width, dtype=np.float64), np.asarray(below_cut_in, dtype=np.float64)
    middle = (1.0 - share) * w
    inside = middle**2 - 4.0 * share * w * d
    with np.errstate(invalid="ignore", divide="ignore"):
        root = (middle + np.sqrt(inside)) / (2.0 * share)
    return np.where((inside >= 0.0) & (root > 0.0), root + w, np.nan)
