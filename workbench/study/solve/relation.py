"""How long the pump runs at no demand over the one quantity that is looked for.

    run = V · ∫ dw / Q(w) from cut-in to cut-out, of one cubic metre of tank (V · f / Q if Q holds)

Water is proportional to (Pp / p)^(1/n), so with a falling flow too one fill, from the lowest
pressure that the pump's data know to its shut-off, holds the run of every band and precharge:

    ∫ from p₁ to p₂ at Pp  =  (Pp / Pr)^(1/n) · ∫ from p₁ to p₂ at Pr

That fill serves to look all over the range at once; what is found there is then corrected by the
fill of that very band, as everywhere else in the program.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np

from workbench.job.paper_choices import SolveFor
from workbench.physics.air import AbsolutePressure, FloatArray, absolute, gauge_pressure
from workbench.physics.cycle import fill_time
from workbench.physics.fill import FillCurve
from workbench.physics.forgiving import SAME
from workbench.physics.header import Vessels
from workbench.physics.pump import Delivery
from workbench.physics.tank import drawdown_factor
from workbench.study.setting import Setting, pressures
from workbench.study.solve.known import Known
from workbench.study.supply import unit_fill

_NEAREST = 1e-6
"""Share of the shut-off that a cut-out stays below it: closer, a pump would run as long as one
likes, but by the last digits of what was typed and not by anything that can be set."""


class Limit(Enum):
    """What ends a range; a gap ends none, but no one wants it."""

    NONE = "none"
    CUT_IN_ZERO = "cut_in_would_be_below_zero"
    CHARGE_ZERO = "precharge_would_be_below_zero"
    CURVE_ENDS = "below_the_curve_s_last_point"
    CURVE_BEGINS = "above_the_curve_s_first_point"
    SHUT_OFF = "above_the_pump_s_shut_off"
    NO_WATER = "no_water_would_enter_the_tank"
    GAP = "empty_before_cut_in"


@dataclass(frozen=True, slots=True)
class Range:
    """Where what is looked for may lie (SI), and what ends it. Empty where ``high <= low``."""

    low: float
    high: float
    low_limit: Limit
    high_limit: Limit

    @property
    def is_empty(self) -> bool:
        """Whether nothing lies in it; to a person equal ends leave nothing either."""
        return self.high <= self.low + SAME * abs(self.low)


@dataclass(frozen=True, slots=True)
class Reach:
    """Gauge pressures [Pa] over which the pump is known; ``top_limit`` is what ends them."""

    bottom: float
    top: float
    top_limit: Limit


def reach_of(delivery: Delivery | None) -> Reach:
    """The pressures between which a pump can be used; all of them where its flow is constant."""
    if delivery is None or delivery.is_constant:
        return Reach(-np.inf, np.inf, Limit.NONE)
    bottom = max(float(delivery.pressure(delivery.highest_flow)), 0.0)
    shut_off = delivery.shut_off
    if shut_off is not None:
        return Reach(bottom, shut_off * (1.0 - _NEAREST), Limit.SHUT_OFF)
    return Reach(bottom, float(delivery.pressure(delivery.lowest_flow)), Limit.CURVE_BEGINS)


def range_of(known: Known) -> Range:
    """Where the middle, the width or the precharge may lie; others have no limit above zero."""
    reach = reach_of(known.delivery)
    if known.looked_for is SolveFor.CENTRE:
        return _of_centre(known, reach)
    if known.looked_for is SolveFor.WIDTH:
        return _of_width(known, reach)
    if known.looked_for is SolveFor.PRECHARGE:
        lows = [(0.0, Limit.CHARGE_ZERO)]
        if known.cut_in < reach.bottom:
            lows.append((reach.bottom, Limit.CURVE_ENDS))
        if known.cut_out > reach.top:
            return Range(0.0, 0.0, Limit.NONE, reach.top_limit)
        return _range(lows, [(known.cut_out, Limit.NO_WATER)])
    return Range(0.0, np.inf, Limit.NONE, Limit.NONE)


def _lowest_cut_in(known: Known, reach: Reach) -> list[tuple[float, Limit]]:
    lows = [(0.0, Limit.CUT_IN_ZERO)]
    if known.below:
        lows.append((known.below, Limit.CHARGE_ZERO))
    # A tank that is empty at a higher pressure than cut-in never asks the pump for less.
    if known.precharge is None or known.precharge < reach.bottom:
        lows.append((reach.bottom, Limit.CURVE_ENDS))
    return lows


def _of_centre(known: Known, reach: Reach) -> Range:
    half = 0.5 * known.width
    lows = [(cut_in + half, limit) for cut_in, limit in _lowest_cut_in(known, reach)]
    if known.precharge is not None:
        lows.append((known.precharge - half, Limit.NO_WATER))
    return _range(lows, [(reach.top - half, reach.top_limit)])


def _of_width(known: Known, reach: Reach) -> Range:
    centre = known.centre
    lows = [(0.0, Limit.NONE)]
    if known.precharge is not None:
        lows.append((2.0 * (known.precharge - centre), Limit.NO_WATER))
    highs = [(2.0 * (centre - cut_in), limit) for cut_in, limit in _lowest_cut_in(known, reach)]
    return _range(lows, [*highs, (2.0 * (reach.top - centre), reach.top_limit)])


def _range(lows: list[tuple[float, Limit]], highs: list[tuple[float, Limit]]) -> Range:
    low, low_limit = max(lows, key=lambda end: end[0])
    high, high_limit = min(highs, key=lambda end: end[0])
    return Range(low, high, low_limit, high_limit)


def gap_of(known: Known, span: Range) -> Range | None:
    """The part of a range in which the tank is empty before cut-in is reached; None if none is.

    It begins, or ends, where precharge and cut-in meet.
    """
    if known.looked_for is SolveFor.PRECHARGE:
        low, high = known.cut_in, span.high
    elif known.precharge is None:
        return None
    elif known.looked_for is SolveFor.CENTRE:
        low, high = span.low, known.precharge + 0.5 * known.width
    else:
        low, high = 2.0 * (known.centre - known.precharge), span.high
    gap = Range(max(low, span.low), min(high, span.high), Limit.GAP, Limit.GAP)
    return None if gap.is_empty else gap


class Relation:
    """Run [s] over what is looked for, one of middle, width and precharge of the band.

    Raises:
        ValueError: floats cannot tell the fill of this pump.
    """

    def __init__(self, known: Known) -> None:
        self._known = known
        self._table = None if known.is_constant else _table(known)

    def seconds(self, values: FloatArray) -> FloatArray:
        """Run [s] of the held tank at values (m,) within the range [Pa]; (m,)."""
        known = self._known
        assert known.volume is not None  # noqa: S101 - it is not what is looked for
        precharge, cut_in, cut_out = self._pressures(values)
        if self._table is None:
            assert known.delivery is not None  # noqa: S101 - nor is the flow
            water = drawdown_factor(precharge, cut_in, cut_out, known.exponent)
            return np.asarray(known.volume * water / known.delivery.highest_flow)
        table, lowest = self._table
        power = 1.0 / known.exponent
        start = np.clip(1.0 - (lowest / np.maximum(cut_in, precharge)) ** power, 0.0, None)
        end = np.minimum(1.0 - (lowest / cut_out) ** power, table.cut_out_water)
        whole = (precharge / lowest) ** power * table.time(np.minimum(start, end), end)
        return np.asarray(known.volume * whole)

    def exact(self, value: float) -> float:
        """Run [s] at one value, by the fill of just this band."""
        known = self._known
        assert known.volume is not None  # noqa: S101 - as above
        return known.volume * unit_run(known.delivery, known.setting_at(value))

    def _pressures(
        self, values: FloatArray
    ) -> tuple[AbsolutePressure, AbsolutePressure, AbsolutePressure]:
        known = self._known
        low = np.full(np.shape(values), known.cut_in)
        high = np.full(np.shape(values), known.cut_out)
        if known.looked_for is SolveFor.CENTRE:
            low, high = values - 0.5 * known.width, values + 0.5 * known.width
        elif known.looked_for is SolveFor.WIDTH:
            low, high = known.centre - 0.5 * values, known.centre + 0.5 * values
        if known.looked_for is SolveFor.PRECHARGE:
            charge = values
        elif known.precharge is not None:
            charge = np.full(np.shape(values), known.precharge)
        else:
            charge = low - (known.below or 0.0)
        ambient = AbsolutePressure(np.asarray(known.ambient))
        charge, low, high = (absolute(gauge_pressure(one), ambient) for one in (charge, low, high))
        return charge, low, high


def _table(known: Known) -> tuple[FillCurve, float]:
    """The fill from the lowest pressure that matters to the highest, and that absolute pressure."""
    assert known.delivery is not None  # noqa: S101 - a flow that falls is held
    reach, ambient = reach_of(known.delivery), AbsolutePressure(np.asarray(known.ambient))
    lowest = absolute(gauge_pressure(reach.bottom), ambient)
    fill = FillCurve.of(
        known.delivery,
        Vessels.one(1.0, lowest, np.inf, known.exponent),
        gauge_pressure(reach.bottom),
        gauge_pressure(reach.top),
        ambient,
    )
    return fill, float(lowest)


def unit_run(delivery: Delivery | None, setting: Setting) -> float:
    """Run [s] of one cubic metre of tank at a setting; nan where floats cannot tell it.

    Zero where no water enters.
    """
    assert delivery is not None  # noqa: S101 - asked only where the flow is held
    if setting.precharge >= setting.cut_out or setting.cut_in >= setting.cut_out:
        return 0.0
    if delivery.is_constant:
        return unit_drawdown(setting) / delivery.highest_flow
    fill = unit_fill(delivery, setting)
    return float("nan") if fill is None else float(fill_time(fill))


def unit_drawdown(setting: Setting) -> float:
    """Drawdown of one cubic metre of tank at a setting [-]."""
    return float(drawdown_factor(*pressures(setting), setting.exponent))
