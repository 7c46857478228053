"""Water on its way, one float at a time, against the fill curve's own arrays."""

from __future__ import annotations

import numpy as np
import pytest

from tests.physics.day_samples import GPM, PUMPS, filled
from workbench.physics.way import Ways


@pytest.mark.parametrize("often", [True, False])
@pytest.mark.parametrize("name", PUMPS)
def test_both_ways_agree_with_the_fill_curve(name: str, often: bool) -> None:
    fill, dice = filled(PUMPS[name]), np.random.default_rng(1)
    rising = falling = ended = 0
    for _ in range(300):
        demand = float(dice.choice([0.0, *dice.uniform(0.0, 16.0, 3)])) * GPM
        ways = Ways(fill, {demand} if often else ())
        start = float(dice.uniform(0.0, fill.cut_out_water))
        seconds = float(dice.choice([0.5, 10.0, 100.0, 1000.0]))
        water, used = ways.after(start, seconds, demand)
        assert water == pytest.approx(fill.water_after(start, seconds, demand), abs=1e-14)
        if used < seconds:
            ended += 1
            assert water in (0.0, fill.cut_out_water)
            assert used == pytest.approx(float(fill.time(start, water, demand)), rel=1e-9)
        rising += water > start
        falling += water < start
    assert min(rising, falling, ended) > 20


@pytest.mark.parametrize("name", ["falling", "curve"])
def test_a_level_where_flow_and_demand_balance_is_never_passed(name: str) -> None:
    fill = filled(PUMPS[name])
    level = fill.cut_in_water + 0.4 * fill.drawdown
    demand = float(fill.flow_at(level))
    for start in (fill.cut_in_water, fill.cut_out_water):
        water = start
        for seconds in (10.0, 1e3, 1e5, 1e7):
            water, used = Ways(fill).after(water, seconds, demand)
            assert used == seconds
            assert (water - level) * (start - level) >= -1e-15
        assert water == pytest.approx(level, rel=1e-9)


@pytest.mark.parametrize("name", PUMPS)
def test_going_on_in_small_parts_equals_going_at_once(name: str) -> None:
    fill = filled(PUMPS[name])
    ways = Ways(fill)
    for demand in (0.0, 3 * GPM, 15 * GPM):
        water = (fill.cut_in_water + fill.cut_out_water) / 2
        whole, _ = ways.after(water, 20.0, demand)
        for _ in range(200):
            water, _ = ways.after(water, 0.1, demand)
        assert water == pytest.approx(whole, rel=1e-11)
