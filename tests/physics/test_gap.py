"""The seconds without water: against the system in motion, by hand, and in the limits."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq  # type: ignore[import-untyped]

from tests.physics.day_samples import GAL, GPM, PSI, PUMPS
from tests.physics.motion_reference import sample
from workbench.physics.gap import NoWater, no_water
from workbench.physics.motion import Happening, advance, step
from workbench.physics.pump import ConstantFlow, TwoFlows
from workbench.physics.system import State, System

HOUR = 3600.0


def in_motion(one: System, tap: float) -> NoWater:
    """The same by following the system from cut-out until its tank takes water again."""
    state, emptied, dry, dry_since = one.at_rest(one.cut_out - 1.0), None, 0.0, None
    if one.precharge >= one.cut_out:
        state = one.at_rest(one.precharge)
        emptied = 0.0
    while state.time < HOUR:
        before = state
        state, event = step(one, state, HOUR - state.time, tap)
        if dry_since is not None and (state.stored > 0.0 or event is None):
            dry += before.time - dry_since if state.stored > 0.0 else math.inf
            dry_since = None
        kind = None if event is None else event.kind
        if kind is Happening.EMPTIED and emptied is None:
            emptied = state.time
        if kind is Happening.DRY:
            emptied = state.time if emptied is None else emptied
            dry_since = state.time
        filled = _filled(one, before, state, tap)
        if emptied is not None and filled is not None:
            return NoWater(filled - emptied, dry)
        if kind is Happening.OPENED and emptied is None:
            return NoWater(0.0, 0.0)
    return NoWater(0.0, 0.0) if emptied is None else NoWater(math.inf, dry)


def _filled(one: System, before: State, state: State, tap: float) -> float | None:
    """When the tank begins to take water, between two states while the pump gives."""
    gives = before.closed and before.delay <= 0.0
    if not (gives and before.stored <= one.emptied_at < state.stored):
        return None

    def above(seconds: float) -> float:
        return advance(one, before, seconds, tap)[0].stored - one.emptied_at

    if before.stored == one.emptied_at:
        return before.time
    return before.time + float(brentq(above, 0.0, state.time - before.time, xtol=1e-13))


def invented(seed: int) -> tuple[System, float]:
    dice = np.random.default_rng(seed)
    one = sample(
        volume=float(dice.uniform(5.0, 60.0)) * GAL,
        precharge=float(dice.choice([0.0, 38.0, 39.95, 40.0, 41.0, 48.0, 57.0])) * PSI,
        delivery=PUMPS[("constant", "falling", "curve")[seed % 3]],
        line_give=float(10.0 ** dice.uniform(-10.0, -8.0)),
        start_delay=float(dice.choice([0.0, 0.3, 2.0])),
        exponent=float(dice.choice([1.0, 1.2])),
        back_flow=float(dice.choice([0.0, 0.0, 0.5])) * GPM,
    )
    return one, float(dice.uniform(0.3, 9.0)) * GPM


@pytest.mark.parametrize("seed", range(120))
def test_the_gap_is_what_the_system_in_motion_shows(seed: int) -> None:
    one, tap = invented(seed)
    gap, seen = no_water(one, tap), in_motion(one, tap)
    assert gap.falter == pytest.approx(seen.falter, rel=1e-6, abs=1e-6)
    assert gap.dry == pytest.approx(seen.dry, rel=1e-6, abs=1e-6)
    assert 0.0 <= gap.dry <= gap.falter


def test_the_random_systems_have_gaps_of_every_kind() -> None:
    gaps = [no_water(*invented(seed)) for seed in range(120)]
    assert sum(gap.falter == 0.0 for gap in gaps) > 10
    assert sum(gap.falter > 0.0 and gap.dry == 0.0 for gap in gaps) > 10
    assert sum(gap.dry > 0.0 and gap.falter < math.inf for gap in gaps) > 10
    assert sum(gap.falter == math.inf for gap in gaps) > 0


def test_by_hand() -> None:
    """50 psi in a 40/60 band: the pipes give 0.05 gal on 10 psi, the tap draws 3 gpm."""
    one = sample(precharge=50 * PSI, line_give=0.005 * GAL / PSI)
    fall, refill = 0.05 / 3 * 60, 0.1 / 7 * 60  # s; 0.05 gal go again while the pump starts
    gap = no_water(one, 3 * GPM)
    assert gap.falter == pytest.approx(fall + 1.0 + refill, rel=1e-9)
    assert gap.dry == 0.0


def test_by_hand_with_a_dry_tap() -> None:
    """The same pipes, 6 gpm, 4 s of start: 2 s until the last of 0.2 gal, 2 s dry, then 0.25."""
    one = sample(precharge=50 * PSI, line_give=0.005 * GAL / PSI, start_delay=4.0)
    gap = no_water(one, 6 * GPM)
    assert gap.dry == pytest.approx(2.0, rel=1e-9)
    assert gap.falter == pytest.approx(0.5 + 4.0 + 0.25 / 4 * 60, rel=1e-9)


def test_a_right_precharge_and_a_quick_start_leave_no_gap() -> None:
    assert no_water(sample(), 6 * GPM) == NoWater(0.0, 0.0)
    assert no_water(sample(precharge=0.0), 6 * GPM) == NoWater(0.0, 0.0)
    assert no_water(sample(precharge=40 * PSI, start_delay=0.0), 6 * GPM) == NoWater(0.0, 0.0)


def test_a_slow_start_empties_a_tank_charged_just_below_cut_in() -> None:
    one = sample(precharge=39.9 * PSI, start_delay=5.0)
    left = one.starts_at - one.emptied_at
    gap = no_water(one, 6 * GPM)
    assert gap.falter > 5.0 - left / (6 * GPM) > 0.0
    assert gap.falter == pytest.approx(in_motion(one, 6 * GPM).falter, rel=1e-9)


def test_pipes_that_hardly_give_leave_the_start_of_the_pump() -> None:
    one = sample(precharge=50 * PSI, line_give=1e-16)
    assert no_water(one, 3 * GPM).falter == pytest.approx(1.0, abs=1e-6)
    assert no_water(one, 3 * GPM).dry == pytest.approx(1.0, abs=1e-6)


def test_a_pump_that_starts_at_once_leaves_what_the_pipes_bridge() -> None:
    one = sample(precharge=50 * PSI, start_delay=0.0)
    between = one.line_give * 10 * PSI
    gap = no_water(one, 3 * GPM)
    assert gap.falter == pytest.approx(between / (3 * GPM) + between / (7 * GPM), rel=1e-9)
    assert gap.dry == 0.0


def test_the_smaller_the_draw_the_longer_the_gap() -> None:
    one = sample(precharge=50 * PSI)
    draws = [0.0, 1e-9, 1e-4, 1e-2, 0.1]
    gaps = [no_water(one, draw * GPM).falter for draw in draws]
    assert gaps[0] == math.inf
    assert gaps == sorted(gaps, reverse=True)
    assert gaps[1] * 1e-9 * GPM == pytest.approx(one.line_give * 10 * PSI, rel=1e-6)
    assert no_water(sample(), 0.0) == NoWater(0.0, 0.0)


def test_the_higher_the_precharge_the_longer_the_gap() -> None:
    gaps = [no_water(sample(precharge=psi * PSI), 4 * GPM).falter for psi in range(30, 60)]
    assert gaps == sorted(gaps)
    assert gaps[0] == 0.0
    assert 1.0 < gaps[11] < gaps[20] < gaps[29]  # the start alone takes a second


@pytest.mark.parametrize("charge", [60.0, 75.0])
def test_a_precharge_from_cut_out_on_never_lets_water_in(charge: float) -> None:
    one = sample(precharge=charge * PSI, start_delay=0.0)
    assert no_water(one, 4 * GPM) == NoWater(math.inf, 0.0)
    slow = replace(one, start_delay=3.0)  # dry at each of its starts, again and again
    assert no_water(slow, 4 * GPM) == NoWater(math.inf, math.inf)
    worn = TwoFlows.of(40 * PSI, 10 * GPM, 60 * PSI, 3 * GPM)  # does not reach cut-out at 4 gpm
    slow_worn = replace(slow, delivery=worn)
    once = 3.0 - slow_worn.starts_at / (4 * GPM)
    assert no_water(slow_worn, 4 * GPM).falter == math.inf
    assert no_water(slow_worn, 4 * GPM).dry == pytest.approx(once, rel=1e-12)


def test_a_pump_that_settles_below_the_precharge_falters_for_ever() -> None:
    falling = TwoFlows.of(40 * PSI, 10 * GPM, 60 * PSI, 3 * GPM)
    one = sample(precharge=55 * PSI, delivery=falling, start_delay=0.0)
    draw = one.pump_flow(one.stored(50 * PSI))
    assert no_water(one, draw) == NoWater(math.inf, 0.0)


@pytest.mark.parametrize("draw", [10.0, 11.0])
def test_a_draw_that_the_pump_never_overcomes_is_dry_for_ever(draw: float) -> None:
    one = sample(precharge=50 * PSI, start_delay=4.0, delivery=ConstantFlow(10 * GPM))
    assert no_water(one, draw * GPM) == NoWater(math.inf, math.inf)


def test_a_draw_of_just_the_pumps_flow_keeps_what_pressure_there_is() -> None:
    one = sample(precharge=50 * PSI, start_delay=0.0)
    assert no_water(one, 10 * GPM) == NoWater(math.inf, 0.0)


@pytest.mark.parametrize("wrong", [-1e-6, math.nan, math.inf])
def test_a_draw_that_cannot_be_is_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match="draw must be zero or above"):
        no_water(sample(), wrong)


def test_a_switch_that_lags_is_refused() -> None:
    with pytest.raises(ValueError, match="only known for a switch without lag"):
        no_water(sample(sensing_lag=3.0), 1e-4)
