"""Days of use: starts, limits, an empty tank, balances, and the figures told of a run."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.physics.day_samples import (
    AMBIENT,
    CONSTANT,
    DAY,
    FALLING,
    GAL,
    GPM,
    PSI,
    PUMPS,
    filled,
    invented_draws,
    psi,
    steady,
    ten_gallons,
)
from workbench.physics.air import absolute
from workbench.physics.cycle import run_time, starts_per_second
from workbench.physics.day import Draws, Run, simulate
from workbench.physics.day_figures import (
    busiest_hour,
    longest_idle,
    open_flow,
    rest_lengths,
    run_lengths,
    run_seconds,
    seconds_below_cut_in,
    starts_in_each,
    starts_per_day,
    trace,
    water_at,
)
from workbench.physics.fill import FillCurve
from workbench.physics.header import Vessels

# Share of a day's hot water at fixtures, hour by hour: public repository OpenStudio-HPXML (US
# National Renewable Energy Laboratory), default schedules, after the Building America programme.
HOURLY = np.array(
    [12, 6, 4, 5, 10, 34, 78, 87, 80, 67, 56, 47, 40, 35, 33, 31, 39, 51, 60, 60, 55, 48, 38, 26]
)


@pytest.mark.parametrize("demand", [0.05, 1, 3, 5, 7, 9.9])
def test_a_steady_draw_starts_the_pump_as_often_as_the_closed_form_says(demand: float) -> None:
    fill, draw = filled(CONSTANT), demand * GPM
    run = simulate(fill, steady(draw, 30 * DAY))
    apart = 1 / float(starts_per_second(fill.drawdown, 10 * GPM, draw))
    assert run.starts[0] == pytest.approx(fill.drawdown / draw, rel=1e-12)
    assert np.diff(run.starts) == pytest.approx(apart, rel=1e-7)  # of a difference of days
    assert run.starts[-1] - run.starts[0] == pytest.approx(apart * (len(run.starts) - 1), rel=1e-11)
    assert run_lengths(run) == pytest.approx(
        float(run_time(fill.drawdown, 10 * GPM, draw)), rel=1e-6
    )


@pytest.mark.parametrize("name", ["falling", "curve"])
def test_a_steady_draw_on_a_curve_cycles_by_the_fill_curves_own_times(name: str) -> None:
    fill = filled(PUMPS[name])
    for demand in (0.5 * GPM, 4 * GPM, float(fill.flow[-1]) * (1 - 1e-6)):
        run = simulate(fill, steady(demand, 4 * DAY))
        fills = float(fill.time(fill.cut_in_water, fill.cut_out_water, demand))
        assert np.diff(run.starts) == pytest.approx(fills + fill.drawdown / demand, rel=1e-7)


def test_what_a_leak_does_in_a_day() -> None:
    # US EPA WaterSense: a leaking toilet wastes about 200 gallons a day. By arithmetic, 276 gal
    # out of 10 gal are at most 27.6 starts, and 200 gal at most 20; the pump's runs take a few.
    for gallons, most in ((276, 27.6), (200, 20.0)):
        leak = steady(gallons * GAL / DAY, 365 * DAY)
        huge = starts_per_day(simulate(ten_gallons(pump=1e5), leak))
        usual = starts_per_day(simulate(ten_gallons(), leak))
        assert huge == pytest.approx(most, abs=2 / 365)
        assert usual == pytest.approx(most * (1 - gallons / 1440 / 10), abs=2 / 365)


def test_an_hourly_profile_of_276_gallons_gives_26_9_starts_a_day() -> None:
    days = 60
    flow = np.tile(HOURLY / HOURLY.sum(), days) * 276 * GAL / 3600
    run = simulate(ten_gallons(), Draws(np.linspace(0.0, days * DAY, 24 * days + 1), flow))
    assert starts_per_day(run) == pytest.approx(26.9, abs=0.05)


@pytest.mark.parametrize("name", PUMPS)
def test_no_demand_leaves_everything_as_it_is(name: str) -> None:
    fill = filled(PUMPS[name])
    run = simulate(fill, steady(0.0, 10 * DAY))
    assert len(run.starts) == len(run.stops) == 0
    assert run.final_water == fill.cut_out_water
    assert run.pumped == run.drawn == run.unmet == 0.0
    assert longest_idle(run) == 10 * DAY
    assert busiest_hour(run) == (0, 0.0)


@pytest.mark.parametrize("name", PUMPS)
def test_a_half_full_tank_with_the_pump_running_fills_and_rests(name: str) -> None:
    fill = filled(PUMPS[name])
    half = (fill.cut_in_water + fill.cut_out_water) / 2
    run = simulate(fill, steady(0.0, DAY), start_water=half, pump_on=True)
    assert len(run.starts) == 0
    assert run.stops == pytest.approx([float(fill.time(half, fill.cut_out_water))], rel=1e-12)
    assert run.pumped == pytest.approx(fill.cut_out_water - half, rel=1e-12)


def test_a_tank_at_or_below_cut_in_starts_the_pump_at_once() -> None:
    fill = filled(FALLING)
    for water in (fill.cut_in_water, fill.cut_in_water / 2, 0.0):
        run = simulate(fill, steady(0.0, DAY), start_water=water)
        assert run.starts.tolist() == [0.0]
        assert run.final_water == fill.cut_out_water


def test_demand_equal_to_a_constant_flow_keeps_the_water_where_it_is() -> None:
    fill = filled(CONSTANT)
    run = simulate(fill, steady(10 * GPM, DAY))
    assert len(run.starts) == 1
    assert len(run.stops) == 0
    assert run.pump_on_at_end
    assert run.final_water == fill.cut_in_water
    assert run.unmet == run.empty_seconds == seconds_below_cut_in(run, fill) == 0.0


def test_demand_between_a_curves_ends_settles_where_the_pump_just_meets_it() -> None:
    fill = filled(FALLING)
    run = simulate(fill, steady(9 * GPM, DAY))
    assert len(run.starts) == 1
    assert len(run.stops) == 0
    assert float(fill.flow_at(run.final_water)) == pytest.approx(9 * GPM, rel=1e-9)


def test_demand_above_a_constant_flow_empties_the_tank_and_the_rest_is_unmet() -> None:
    fill = filled(CONSTANT)
    run = simulate(fill, steady(12 * GPM, 3600.0))
    start = fill.drawdown / (12 * GPM)
    emptied = start + fill.cut_in_water / (2 * GPM)
    assert run.starts.tolist() == pytest.approx([start])
    assert run.empty_seconds == pytest.approx(3600 - emptied, rel=1e-12)
    assert run.unmet == pytest.approx((3600 - emptied) * 2 * GPM, rel=1e-12)
    assert seconds_below_cut_in(run, fill) == pytest.approx(3600 - start, rel=1e-12)
    assert run.final_water == 0.0


def test_an_empty_tank_takes_water_again_when_the_taps_close() -> None:
    fill = filled(CONSTANT)
    run = simulate(fill, Draws(np.array([0.0, 3600.0, 7200.0]), np.array([12.0, 0.0]) * GPM))
    assert len(run.starts) == 1
    refill = fill.cut_out_water / (10 * GPM)
    assert run.stops == pytest.approx([3600 + refill], rel=1e-12)


def test_a_falling_pump_gives_more_into_the_line_of_an_empty_tank() -> None:
    """It meets a demand up to its flow at nil gauge, and no more."""
    fill, most = filled(FALLING), open_flow(FALLING)
    assert most == pytest.approx(FALLING.highest_flow)
    met = simulate(fill, steady(13 * GPM, 3600.0), open_flow=most)
    assert met.empty_seconds > 600
    assert met.unmet == 0.0
    _, pressure = trace(met, fill, 50, FALLING.pressure)
    assert pressure[-1] == pytest.approx(float(FALLING.pressure(13 * GPM)))
    assert 0.0 < pressure[-1] < 38 * PSI
    unmet = simulate(fill, steady(20 * GPM, 3600.0), open_flow=most)
    assert unmet.unmet == pytest.approx(unmet.empty_seconds * (20 * GPM - most), rel=1e-12)
    _, pressure = trace(unmet, fill, 50, FALLING.pressure)
    assert pressure[-1] == 0.0


def test_without_an_open_flow_the_pump_gives_no_more_than_at_the_empty_tank() -> None:
    fill = filled(FALLING)
    run = simulate(fill, steady(13 * GPM, 3600.0))
    assert run.unmet == pytest.approx(run.empty_seconds * (13 * GPM - fill.flow[0]), rel=1e-12)


def test_an_overcharged_tank_gives_all_its_water_before_the_pump_starts() -> None:
    fill = filled(FALLING, precharge=45)
    assert fill.cut_in_water == 0.0
    run = simulate(fill, steady(2 * GPM, DAY))
    assert run.starts[0] == pytest.approx(fill.cut_out_water / (2 * GPM), rel=1e-12)
    assert run.water.min() == 0.0
    assert run.unmet == run.empty_seconds == 0.0


def test_a_membrane_at_its_limit_lets_the_pump_settle_just_below_cut_out() -> None:
    """The last pounds of pressure pass without water; a demand met in between is met for ever."""
    full = filled(FALLING).cut_out_water
    charge = absolute(psi(38), AMBIENT)
    limited = FillCurve.of(
        FALLING, Vessels.one(44 * GAL, charge, 0.8 * full), psi(40), psi(60), AMBIENT
    )
    assert limited.flow[-2] > 7.2 * GPM > limited.flow[-1]
    run = simulate(limited, steady(7.2 * GPM, DAY))
    assert len(run.stops) == 0
    assert run.pump_on_at_end
    assert run.final_water == pytest.approx(limited.cut_out_water, rel=1e-12)
    assert len(simulate(limited, steady(6.9 * GPM, DAY)).stops) > 20


@settings(max_examples=60, deadline=None)
@given(
    share=st.floats(0.01, 0.99),
    pump=st.floats(2.0, 40.0),
    small=st.floats(10.0, 200.0),
    more=st.floats(1.0, 4.0),
)
def test_more_volume_never_means_more_starts(
    share: float, pump: float, small: float, more: float
) -> None:
    draws = steady(share * pump * GPM, DAY)
    few, many = (
        len(simulate(filled(type(CONSTANT)(pump * GPM), volume), draws).starts)
        for volume in (small * more, small)
    )
    assert few <= many


@settings(max_examples=15, deadline=None)
@given(draw=st.floats(0.1, 6.9), small=st.floats(15.0, 100.0), more=st.floats(1.0, 4.0))
def test_more_volume_never_means_more_starts_on_a_curve(
    draw: float, small: float, more: float
) -> None:
    draws = steady(draw * GPM, DAY)
    few, many = (len(simulate(filled(FALLING, v), draws).starts) for v in (small * more, small))
    assert few <= many


@pytest.mark.parametrize("name", PUMPS)
@pytest.mark.parametrize("seed", range(3))
def test_a_simulation_in_two_halves_equals_one_in_a_whole(name: str, seed: int) -> None:
    fill, draws = filled(PUMPS[name]), invented_draws(6, seed, most=12)
    whole = simulate(fill, draws)
    cut = len(draws.flow) // 2 + seed
    first = simulate(fill, Draws(draws.edges[: cut + 1], draws.flow[:cut]))
    second = simulate(
        fill,
        Draws(draws.edges[cut:], draws.flow[cut:]),
        start_water=first.final_water,
        pump_on=first.pump_on_at_end,
    )
    starts = np.concatenate((first.starts, second.starts))
    assert starts == pytest.approx(whole.starts, abs=1e-6)
    assert first.unmet + second.unmet == pytest.approx(whole.unmet, abs=1e-12)


@pytest.mark.parametrize("name", PUMPS)
def test_cutting_the_same_demand_into_more_pieces_changes_nothing(name: str) -> None:
    fill, draws = filled(PUMPS[name]), invented_draws(4, seed=5, most=12)
    edges = np.union1d(draws.edges, np.arange(0.0, 4 * DAY, 17.0))
    flow = draws.flow[np.searchsorted(draws.edges, edges[:-1], "right") - 1]
    whole, finer = simulate(fill, draws), simulate(fill, Draws(edges, flow))
    assert finer.starts == pytest.approx(whole.starts, abs=1e-6)
    assert finer.stops == pytest.approx(whole.stops, abs=1e-6)


@pytest.mark.parametrize("name", PUMPS)
@pytest.mark.parametrize("seed", range(4))
def test_a_run_is_told_in_order_and_within_the_tank(name: str, seed: int) -> None:
    fill, draws = filled(PUMPS[name]), invented_draws(5, seed, most=14)
    run = simulate(fill, draws)
    assert np.all(np.diff(run.time) > 0.0)
    assert np.all(np.isin(draws.edges, run.time))
    assert np.all((run.water >= 0.0) & (run.water <= fill.cut_out_water))
    assert np.all(run.starts[: len(run.stops)] < run.stops)
    assert np.all(run.stops[: len(run.starts) - 1] < run.starts[1:])
    assert np.all(np.diff(run.pump_on.astype(int)).nonzero()[0].size >= len(run.starts))
    at_starts = run.water[np.searchsorted(run.time, run.starts)]
    at_stops = run.water[np.searchsorted(run.time, run.stops)]
    assert np.all(at_starts == fill.cut_in_water)
    assert np.all(at_stops == fill.cut_out_water)
    assert run.drawn + run.unmet == pytest.approx(draws.volume, rel=1e-12)


def busy_run() -> tuple[FillCurve, Run]:
    fill = filled(FALLING, volume=20)
    return fill, simulate(fill, invented_draws(3, seed=8, a_day=200, most=14))


def test_starts_are_counted_by_the_clock_and_by_any_60_minutes() -> None:
    _, run = busy_run()
    hours = [
        int(np.sum((run.starts >= h) & (run.starts < h + 3600))) for h in range(0, 259200, 3600)
    ]
    assert starts_in_each(run).tolist() == hours
    assert starts_in_each(run, DAY).sum() == len(run.starts) == 3 * starts_per_day(run)
    most, begin = busiest_hour(run)
    assert most == max(int(np.sum((run.starts >= s) & (run.starts < s + 3600))) for s in run.starts)
    assert most == np.sum((run.starts >= begin) & (run.starts < begin + 3600))
    assert most >= max(hours)


@pytest.mark.parametrize(
    ("starts", "most"),
    [([0.0, 3599.9], 2), ([0.0, 3600.0], 1), ([10.0, 3500.0, 3609.0, 3611.0], 3), ([7.0], 1)],
)
def test_60_minutes_are_60_minutes(starts: list[float], most: int) -> None:
    run = dataclasses.replace(busy_run()[1], starts=np.array(starts))
    assert busiest_hour(run)[0] == most


def test_runs_and_rests_fill_the_whole_time() -> None:
    _, run = busy_run()
    rests = float(run.starts[0]) + float(np.sum(rest_lengths(run)))
    runs = float(np.sum(run_lengths(run)))
    last = float(run.time[-1]) - max(run.starts[-1], run.stops[-1])
    assert not run.pump_on_at_end
    assert runs == pytest.approx(run_seconds(run))
    assert rests + runs + last == pytest.approx(3 * DAY, rel=1e-12)
    assert longest_idle(run) == pytest.approx(max(*rest_lengths(run), run.starts[0], last))


def test_a_run_cut_off_at_the_end_is_no_whole_run() -> None:
    fill = filled(CONSTANT)
    run = simulate(fill, steady(5 * GPM, fill.drawdown / (5 * GPM) + 1.0))
    assert len(run.starts) == 1
    assert len(run_lengths(run)) == len(rest_lengths(run)) == 0
    assert run_seconds(run) == pytest.approx(1.0)


def test_time_below_cut_in_agrees_with_looking_often() -> None:
    fill, run = busy_run()
    looks = np.linspace(0.0, 3 * DAY, 200_001)
    seen = float(np.mean(water_at(run, fill, looks) < fill.cut_in_water * (1 - 1e-9))) * 3 * DAY
    assert seen > 60.0
    assert seconds_below_cut_in(run, fill) == pytest.approx(seen, abs=20.0)


def test_an_empty_overcharged_tank_counts_as_below_cut_in() -> None:
    fill = filled(CONSTANT, precharge=45)
    run = simulate(fill, steady(12 * GPM, 3600.0))
    assert run.empty_seconds == pytest.approx(3600.0 - fill.cut_out_water / (12 * GPM))
    assert seconds_below_cut_in(run, fill) == pytest.approx(run.empty_seconds)


def test_the_trace_keeps_every_corner_and_jumps_only_where_the_tank_is_empty() -> None:
    fill, run = busy_run()
    time, pressure = trace(run, fill, 500)
    assert np.all(np.diff(time) >= 0.0)
    assert np.all(np.isin(run.time, time))
    assert pressure.max() == pytest.approx(60 * PSI)
    assert pressure[np.searchsorted(time, run.starts)] == pytest.approx(40 * PSI)
    jumps = time[1:][np.diff(time) == 0.0]
    empty = np.flatnonzero(run.tank_empty)
    assert len(empty) > 0
    assert set(jumps) <= set(run.time[empty]) | set(run.time[empty + 1])
    assert np.all(pressure[np.searchsorted(time, run.time[empty], "right")] == 0.0)


def test_water_outside_the_simulated_time_is_not_made_up() -> None:
    fill, run = busy_run()
    assert water_at(run, fill, run.time) == pytest.approx(run.water, abs=1e-15)
    with pytest.raises(ValueError, match="outside the simulated time"):
        water_at(run, fill, [-1.0])


@pytest.mark.parametrize(
    ("edges", "flow", "told"),
    [
        ([0.0], [], "two edges"),
        ([0.0, 1.0], [1.0, 2.0], "one flow fewer"),
        ([0.0, 2.0, 2.0], [0.0, 0.0], "edge 3"),
        ([0.0, 2.0, 3.0], [0.0, -1e-9], "flow 2"),
        ([0.0, np.nan], [0.0], "finite"),
        ([0.0, 1.0], [np.inf], "finite"),
    ],
)
def test_draws_that_make_no_sense_are_refused(
    edges: list[float], flow: list[float], told: str
) -> None:
    with pytest.raises(ValueError, match=told):
        Draws(np.array(edges), np.array(flow))


def test_a_simulation_that_makes_no_sense_is_refused() -> None:
    fill, draws = filled(FALLING), steady(GPM, DAY)
    for water in (-1e-6, fill.cut_out_water * 1.01, np.nan):
        with pytest.raises(ValueError, match="water at the start"):
            simulate(fill, draws, start_water=water)
    for flow in (float(fill.flow[0]) * 0.99, np.inf, np.nan):
        with pytest.raises(ValueError, match="open line"):
            simulate(fill, draws, open_flow=flow)
    thimble = FillCurve(fill.water * 1e-9, fill.flow, fill.pressure, fill.cut_in_water * 1e-9)
    with pytest.raises(ValueError, match="larger tank"):
        simulate(thimble, draws)
