"""A day and a year of the pump: against closed forms, against themselves, and entry by entry."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from tests.study.build import GAL, GPM, arranged, job, tank
from workbench.job.job import Job
from workbench.physics.day import Run, simulate
from workbench.physics.day_figures import open_flow, water_at
from workbench.physics.pump import WATER_WEIGHT
from workbench.study.day.energy import leaves_friction_out
from workbench.study.day.plan import MOST_DRAWS, DayPlan, day_plan
from workbench.study.day.simulated import (
    DAY,
    DAYS,
    HOUR,
    DayView,
    TankDay,
    in_a_row,
    joined,
    simulate_day,
    simulate_year,
)
from workbench.study.evaluate import evaluate
from workbench.study.findings import Level
from workbench.study.supply import fill_of

LARGE = tank("Invented 85")
SMALL = tank("Invented 20", total_volume=20.0, diameter=15.0, height=32.0)
LEAK_ONLY = {"people": "0", "leak": "200 gal/d"}
CURVE = "0 gpm 262 ft\n5 gpm 250 ft\n10 gpm 215 ft\n15 gpm 150 ft\n18 gpm 95 ft"
PUMPS: dict[str, dict[str, Any]] = {
    "one flow": {},
    "two flows": {
        "pump_entry": "two_flows", "flow_at_cut_in": "12 gpm", "flow_at_cut_out": "7 gpm",
    },
    "a curve": {"pump_entry": "curve", "curve": CURVE, "water_level": "80 ft"},
}  # fmt: skip


def read(**entries: Any) -> tuple[DayPlan | None, list[str]]:
    """The plan of a job with both tanks on offer, and the codes of its own findings."""
    plan, found = day_plan(evaluate(job(**entries), arranged([LARGE, SMALL])))
    return plan, [finding.code for finding in found]


def planned(**entries: Any) -> DayPlan:
    plan, found = read(**entries)
    assert plan is not None, found
    return plan


def day(**entries: Any) -> DayView:
    return simulate_day(planned(**entries))


def one(**entries: Any) -> TankDay:
    return day(**entries).tanks[0]


# --- against closed forms ---


def test_a_house_of_four_draws_the_published_use_without_its_leaks() -> None:
    """58.6 gal a person, of which 17.0 of 137.7 leak: Residential End Uses of Water, 2016."""
    house = planned().house
    assert house.mean_indoor == pytest.approx(4 * 58.6 * (1 - 17.0 / 137.7) * GAL, rel=1e-12)


def test_a_leaking_toilet_starts_the_pump_as_the_cycle_formula_says() -> None:
    """200 gal a day (US EPA WaterSense); cycle V/q + V/(Q − q): MIL-HDBK-1005/9A, 2.5.3.6."""
    plan = planned(**LEAK_ONLY, first_tank=SMALL.id)
    water, pump, leak = plan.tanks[0].drawdown, 10 * GPM, 200 * GAL / DAY
    cycle = water / leak + water / (pump - leak)
    year = simulate_year(plan)
    assert year is not None
    assert year.tanks[0].mean_starts == pytest.approx(DAY / cycle, abs=1.5 / DAYS)
    shown = simulate_day(plan).tanks[0]
    assert shown.shortest_run == pytest.approx(water / (pump - leak), rel=1e-9)
    assert shown.shortest_rest == pytest.approx(water / leak, rel=1e-9)
    assert abs(shown.starts - DAY / cycle) < 1.0


def test_irrigation_beyond_the_pump_is_missing_in_full() -> None:
    """One hour of 15 gpm from a pump of 10: the tank gives its water, 5 gpm of the rest lack."""
    view = day(people="0", irrigation_flow="15 gpm", irrigation_time="60 min", first_tank=SMALL.id)
    run, plan = view.tanks[0].run, view.plan
    fill = fill_of(plan.supply, plan.tanks[0].vessels)
    from_full = 60 * 5 * GAL - fill.cut_out_water
    before_the_pump = 60 * 10 * GAL - (60 * 60 - fill.drawdown / (15 * GPM)) * 10 * GPM
    assert run.unmet == pytest.approx(from_full + before_the_pump, rel=1e-9)
    assert [finding.code for finding in view.findings] == ["unmet"]
    assert run.drawn + run.unmet == pytest.approx(900 * GAL, rel=1e-12)


def test_a_short_large_draw_lies_below_cut_in_but_lacks_nothing() -> None:
    view = day(people="0", irrigation_flow="12 gpm", irrigation_time="3 min")
    assert view.tanks[0].run.unmet == 0.0
    assert [finding.code for finding in view.findings] == ["below_cut_in"]


@pytest.mark.parametrize("pump", PUMPS)
def test_energy_is_known_while_the_taps_draw_more_than_the_pump_gives(pump: str) -> None:
    known = {"water_level": "80 ft", "pipe_length": "100 ft", "pump_efficiency": "40 %"}
    watered = {"irrigation_flow": "25 gpm", "irrigation_time": "1 h"}
    shown = one(**PUMPS[pump] | known | watered)
    assert shown.run.unmet > 0.0
    assert shown.energy is not None
    least = WATER_WEIGHT * shown.run.pumped * 80 * 0.3048 / 0.40  # what the lift alone takes
    assert least < shown.energy < 3.0 * least


@pytest.mark.parametrize("pump", PUMPS)
def test_energy_is_that_of_every_moment_summed_up(pump: str) -> None:
    """ρ g Q H / η over fine steps of time, with the head built up anew from what was entered."""
    entries = {"water_level": "80 ft", "pipe_length": "100 ft", "pump_efficiency": "40 %"}
    plan = planned(**PUMPS[pump] | entries)
    shown = simulate_day(plan).tanks[0]
    fill = fill_of(plan.supply, plan.tanks[0].vessels)
    edges = np.union1d(np.linspace(0.0, DAY, 200_001), shown.run.time)
    middle = (edges[1:] + edges[:-1]) / 2
    piece = np.searchsorted(shown.run.time, middle, "right") - 1
    on = shown.run.pump_on[piece]
    water = water_at(shown.run, fill, middle[on])
    flow, pressure = fill.flow_at(water), fill.pressure_at(water)
    riser = plan.supply.well.riser
    assert riser is not None
    head = 80 * 0.3048 + riser.head_lost(flow) + pressure / WATER_WEIGHT
    joules = float(np.dot(np.diff(edges)[on], WATER_WEIGHT * flow * head)) / 0.40
    assert shown.energy == pytest.approx(joules, rel=2e-5)


def test_energy_is_told_only_where_head_and_efficiency_are_known() -> None:
    assert one(water_level="80 ft").energy is None
    assert one(pump_efficiency="40 %").energy is None
    plan = planned(pump_efficiency="40 %", water_level="80 ft")
    assert simulate_day(plan).tanks[0].energy is not None
    assert leaves_friction_out(plan.supply)
    assert not leaves_friction_out(planned(pipe_length="100 ft").supply)


# --- the day follows itself ---


@pytest.mark.parametrize("pump", PUMPS)
@pytest.mark.parametrize("seed", ["1", "2", "7"])
def test_a_steady_day_begins_as_it_ends(pump: str, seed: str) -> None:
    view = day(**PUMPS[pump], seed=seed, first_tank=SMALL.id)
    shown = view.tanks[0]
    assert shown.is_steady
    assert view.findings == ()
    drawdown = view.plan.tanks[0].drawdown
    assert shown.run.final_water == pytest.approx(float(shown.run.water[0]), abs=1e-9 * drawdown)
    assert shown.run.pumped == pytest.approx(view.draws.volume, rel=1e-9)
    assert len(shown.run.starts) == len(shown.run.stops)


def test_a_tank_that_lasts_for_days_says_which_day_is_shown() -> None:
    """A sixth of a drawdown a day: every sixth day or so begins alike."""
    drawdown = planned().tanks[0].drawdown
    view = day(people="0", leak=f"{drawdown / 6.5 / GAL:.6f} gal/d")
    shown = view.tanks[0]
    assert not shown.is_steady
    assert [(f.level, f.code, f.field) for f in view.findings] == [
        (Level.NOTE, "not_steady", "seed")
    ]


def test_a_rest_across_midnight_is_told_whole() -> None:
    shown = one(first_tank=SMALL.id)
    night = float(shown.run.starts[0]) + DAY - float(shown.run.stops[-1])
    assert shown.longest_idle >= night > HOUR


def test_the_busiest_hour_may_lie_round_midnight() -> None:
    """Watering from half past eleven to half past twelve, in one piece of time."""
    shown = one(
        people="0", irrigation_flow="5 gpm", irrigation_start="23.5", irrigation_time="1 h",
        first_tank=SMALL.id,
    )  # fmt: skip
    first, last = shown.run.starts < DAY / 2, shown.run.starts > DAY / 2
    both = np.count_nonzero(first) + np.count_nonzero(last)
    assert abs(shown.busiest - both) <= 1  # the day before may begin half a cycle earlier
    assert shown.busiest > max(np.count_nonzero(first), np.count_nonzero(last))
    assert shown.busiest_at > 23.4 * HOUR


def test_hour_24_is_midnight() -> None:
    watered = {"people": "0", "irrigation_flow": "5 gpm", "irrigation_time": "1 h"}
    assert planned(**watered, irrigation_start="24") == planned(**watered, irrigation_start="0")


# --- two tanks, limits ---


def test_two_tanks_meet_the_same_day() -> None:
    view = day(first_tank=LARGE.id, second_tank=SMALL.id)
    large, small = view.tanks
    assert (large.tank.name, small.tank.name) == (LARGE.name, SMALL.name)
    assert large.run.drawn == pytest.approx(small.run.drawn, rel=1e-12)
    assert small.starts > large.starts
    assert small.starts == one(first_tank=SMALL.id).starts


def test_without_a_choice_it_is_the_first_tank_of_the_ranking() -> None:
    results = evaluate(Job(), arranged([LARGE, SMALL]))
    plan, _ = day_plan(results)
    assert plan is not None
    assert results.ranking is not None
    assert [one.name for one in plan.tanks] == [results.ranking.row(0).name]


def test_what_passes_a_limit_is_said_once_for_each_tank() -> None:
    own = {"motor_limit": "own", "own_starts_day": "20 /d", "own_starts_hour": "2 /h"}
    view = day(**own, own_rest="10 min", first_tank=LARGE.id, second_tank=SMALL.id)
    said = [(finding.code, finding.text.partition(":")[0]) for finding in view.findings]
    assert said == [
        ("day_starts_over", SMALL.name),
        ("hour_starts_over", SMALL.name),
        ("rest_short", SMALL.name),
    ]
    assert {(f.level, f.field) for f in view.findings} == {(Level.CAUTION, "motor_limit")}


def test_a_count_at_its_limit_passes() -> None:
    starts = one(first_tank=SMALL.id).starts
    own = {"motor_limit": "own", "first_tank": SMALL.id}
    assert day(**own, own_starts_day=f"{starts} /d").findings == ()
    assert len(day(**own, own_starts_day=f"{starts - 1} /d").findings) == 1


def test_an_unreadable_limit_does_not_withhold_the_day() -> None:
    plan, found = read(motor_limit="own")
    assert plan is not None
    assert plan.motor is None
    assert found == ["no_own_limit"]
    assert simulate_day(plan).findings == ()


# --- what is typed ---


@pytest.mark.parametrize(
    ("entries", "code", "field"),
    [
        ({"people": "-1"}, "below_zero", "people"),
        ({"people": "many"}, "unread", "people"),
        ({"washers": "-1"}, "below_zero", "washers"),
        ({"leak": "-5 gal/d"}, "below_zero", "leak"),
        ({"daily_use": "lots"}, "unread", "daily_use"),
        ({"people": "0", "daily_use": "200 gal/d"}, "nobody_draws", "people"),
        ({"seed": "1.5"}, "seed_range", "seed"),
        ({"seed": "-1"}, "seed_range", "seed"),
        ({"seed": "1000000000"}, "seed_range", "seed"),
        ({"irrigation_flow": "5 gpm"}, "irrigation_half", "irrigation_time"),
        ({"irrigation_time": "5 min"}, "irrigation_half", "irrigation_flow"),
        ({"irrigation_flow": "0 gpm", "irrigation_time": "5 min"}, "not_above_zero",
         "irrigation_flow"),
        ({"irrigation_flow": "5 gpm", "irrigation_time": "25 h"}, "irrigation_long",
         "irrigation_time"),
        ({"irrigation_flow": "5 gpm", "irrigation_time": "1 h", "irrigation_start": "25"},
         "hour_range", "irrigation_start"),
        ({"first_tank": "sold-long-ago"}, "tank_gone", "first_tank"),
        ({"second_tank": "sold-long-ago"}, "tank_gone", "second_tank"),
        ({"daily_use": "90000 gal/d"}, "too_many_draws", "daily_use"),
        ({"people": "500"}, "too_many_draws", "people"),
        ({"leak": "90000 gal/d", "first_tank": SMALL.id}, "too_many_starts", "first_tank"),
    ],
)  # fmt: skip
def test_what_cannot_be_followed_is_said_once_where_it_stands(
    entries: dict[str, str], code: str, field: str
) -> None:
    plan, found = day_plan(evaluate(job(**entries), arranged([LARGE, SMALL])))
    assert plan is None
    assert [(f.level, f.code, f.field) for f in found] == [(Level.STOP, code, field)]
    assert found[0].text
    assert code == "unread" or found[0].remedy


def test_an_hour_that_nothing_uses_only_cautions() -> None:
    plan, found = day_plan(
        evaluate(job(irrigation_start="dawn"), arranged([LARGE]))
    )  # fmt: skip
    assert plan is not None
    assert [(f.level, f.field) for f in found] == [(Level.CAUTION, "irrigation_start")]


def test_without_a_catalogue_there_is_no_tank() -> None:
    plan, found = day_plan(evaluate(Job(), None))
    assert plan is None
    assert [finding.code for finding in found] == ["no_tank"]


def test_a_tank_that_gives_no_water_has_no_day() -> None:
    full = tank("Invented stiff", acceptance=9.0)  # full before cut-in is reached
    plan, found = day_plan(evaluate(job(cut_in="45 psi", precharge_rule="typed",
                                        precharge="20 psi"), arranged([full])))  # fmt: skip
    assert plan is None
    assert [(f.code, f.field) for f in found] == [("no_drawdown", "first_tank")]


def test_the_same_tank_twice_is_one() -> None:
    plan, found = read(first_tank=SMALL.id, second_tank=SMALL.id)
    assert plan is not None
    assert len(plan.tanks) == 1
    assert found == ["same_tank"]


def test_nobody_and_no_leak_is_a_day_without_a_start() -> None:
    shown = one(people="0")
    assert (shown.starts, shown.busiest, shown.run_seconds) == (0, 0, 0.0)
    assert (shown.shortest_run, shown.shortest_rest) == (None, None)
    assert shown.longest_idle == DAY
    year = simulate_year(planned(people="0"))
    assert year is not None
    assert year.tanks[0].worst_hour == 0


def test_so_many_draws_can_just_be_followed() -> None:
    assert planned(people="150").house.mean_draws < MOST_DRAWS
    assert not planned(people="150").is_quick
    assert planned().is_quick


# --- whether a day still belongs to the job ---


def test_a_plan_is_equal_while_nothing_that_it_rests_on_changes() -> None:
    assert planned() == planned()
    assert planned() == planned(title="for Monday", door_width="40 in", tol_flow="3 %")


@pytest.mark.parametrize(
    "entries",
    [
        {"people": "5"}, {"washers": "0"}, {"dishwashers": "0"}, {"daily_use": "300 gal/d"},
        {"leak": "10 gal/d"}, {"irrigation_flow": "5 gpm", "irrigation_time": "10 min"},
        {"seed": "2"}, {"motor_limit": "public_system"}, {"pump_flow": "11 gpm"},
        {"cut_out": "55 psi"}, {"altitude": "900 ft"}, {"water_level": "50 ft"},
        {"pump_efficiency": "40 %"}, {"first_tank": SMALL.id},
        {"first_tank": LARGE.id, "second_tank": SMALL.id}, {"precharge_rule": "cut_in"},
    ],
)  # fmt: skip
def test_a_plan_differs_as_soon_as_something_does(entries: dict[str, str]) -> None:
    base = {"first_tank": LARGE.id}
    assert planned(**base) != planned(**base | entries)


# --- the same numbers everywhere ---


def test_the_same_number_gives_the_same_day_on_every_machine() -> None:
    shown = one(first_tank=SMALL.id)
    assert (shown.starts, shown.busiest) == (31, 6)
    pinned = [19012.322167870938, 21831.174525529914, 22044.776999075915]
    assert shown.run.starts[:3] == pytest.approx(pinned, abs=1e-6)


def test_another_number_gives_another_day() -> None:
    assert one(seed="1").run.starts.tolist() != one(seed="2").run.starts.tolist()


# --- the year ---


def test_the_year_is_its_days_simulated_in_one_go() -> None:
    plan = planned(first_tank=SMALL.id)
    year = simulate_year(plan)
    assert year is not None
    fill = fill_of(plan.supply, plan.tanks[0].vessels)
    whole = simulate(
        fill,
        in_a_row([planned(seed=str(1 + later)).house.day() for later in range(DAYS)]),
        open_flow=open_flow(plan.supply.delivery),
    )
    one = year.tanks[0]
    by_day = np.bincount((whole.starts // DAY).astype(int), minlength=DAYS)
    assert one.starts.tolist() == by_day.tolist()
    assert one.pumped == pytest.approx(whole.pumped, rel=1e-9)
    assert one.mean_starts * DAYS == pytest.approx(len(whole.starts))
    assert one.most_starts == by_day.max()


def test_parts_of_a_run_join_to_the_whole() -> None:
    plan = planned(**PUMPS["two flows"])
    fill, house = fill_of(plan.supply, plan.tanks[0].vessels), plan.house
    days = [house.day(), house.day(1)]
    whole = simulate(fill, in_a_row(days))
    first = simulate(fill, days[0])
    shifted = replace(days[1], edges=days[1].edges + DAY)
    second = simulate(fill, shifted, start_water=first.final_water, pump_on=first.pump_on_at_end)
    both: Run = joined([first, second])
    assert both.starts == pytest.approx(whole.starts, abs=1e-6)
    assert both.pumped == pytest.approx(whole.pumped, rel=1e-9)
    assert len(both.time) == len(both.demand) + 1


def test_a_year_counts_the_days_over_a_limit() -> None:
    own = {"motor_limit": "own", "own_starts_day": "30 /d", "own_starts_hour": "6 /h"}
    plan = planned(**own, first_tank=SMALL.id)
    year = simulate_year(plan)
    assert year is not None
    assert plan.motor is not None
    one = year.tanks[0]
    over = [s > 30 or h > 6 for s, h in zip(one.starts, one.busiest, strict=True)]
    assert 0 < one.days_over(plan.motor) == sum(over) / DAYS < 1
    assert one.worst_hour == max(one.busiest)


def test_a_year_reports_its_progress_and_can_be_ended() -> None:
    plan = planned(first_tank=LARGE.id, second_tank=SMALL.id)
    shares: list[float] = []

    def watch(share: float) -> bool:
        shares.append(share)
        return True

    assert simulate_year(plan, watch) is not None
    assert shares == sorted(shares)
    assert shares[-1] == 1.0
    assert len(shares) > 50
    calls: list[float] = []

    def stop(share: float) -> bool:
        calls.append(share)
        return len(calls) < 3

    assert simulate_year(plan, stop) is None
    assert len(calls) == 3


def test_two_tanks_have_the_years_that_each_has_alone() -> None:
    both = simulate_year(planned(first_tank=LARGE.id, second_tank=SMALL.id))
    alone = simulate_year(planned(first_tank=SMALL.id))
    assert both is not None
    assert alone is not None
    assert both.tanks[1].starts.tolist() == alone.tanks[0].starts.tolist()
    assert both.tanks[1].tank.name == SMALL.name
