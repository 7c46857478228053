"""A day and a year as plain data say what the views hold, in the units that their keys name."""

from __future__ import annotations

import json

import pytest

from tests.study.build import GAL, GPM
from tests.study.test_days import LARGE, LEAK_ONLY, PUMPS, SMALL, planned
from workbench.study.day.record import day_record
from workbench.study.day.simulated import DAYS, simulate_day, simulate_year

BOTH = {"first_tank": LARGE.id, "second_tank": SMALL.id}


def test_the_record_holds_the_days_figures_in_the_units_of_its_keys() -> None:
    view = simulate_day(planned(**BOTH, pump_efficiency="40 %", water_level="80 ft"))
    record = day_record(view)
    assert record["wanted_gal"] == pytest.approx(view.draws.volume / GAL)
    assert (record["cut_in_psi"], record["cut_out_psi"]) == (30.0, 50.0)
    assert record["limits"] == {
        "starts_per_hour": 15.0,
        "starts_per_day": 300.0,
        "shortest_rest_s": None,
    }
    for told, one in zip(record["tanks"], view.tanks, strict=True):
        assert told["name"] == one.tank.name
        assert told["starts"] == len(told["start_times_h"]) == one.starts
        assert told["start_times_h"] == pytest.approx(one.run.starts / 3600, abs=1e-6)
        assert told["pump_runs_min"] == pytest.approx(one.run_seconds / 60)
        assert told["pumped_gal"] == pytest.approx(one.run.pumped / GAL)
        assert one.energy is not None
        assert told["energy_kwh"] == pytest.approx(one.energy / 3.6e6)
    assert record["energy_is_without_pipe_friction"] is True
    assert record["year"] is None


def test_the_record_is_plain_data_whatever_is_unknown() -> None:
    for entries in ({"people": "0"}, LEAK_ONLY, PUMPS["two flows"], {"motor_limit": "own"}):
        plan = planned(**entries)
        record = day_record(simulate_day(plan))
        assert json.loads(json.dumps(record, allow_nan=False)) == record


def test_the_year_is_told_for_every_tank() -> None:
    plan = planned(**BOTH, motor_limit="own", own_starts_day="20 /d")
    year = simulate_year(plan)
    assert year is not None
    record = day_record(simulate_day(plan), year)
    assert [told["days"] for told in record["year"]] == [DAYS, DAYS]
    assert plan.motor is not None
    for told, one in zip(record["year"], year.tanks, strict=True):
        assert told["mean_starts_per_day"] == one.mean_starts
        assert told["share_of_days_over_limit"] == one.days_over(plan.motor)
    json.dumps(record, allow_nan=False)


def test_a_year_of_other_inputs_is_refused() -> None:
    year = simulate_year(planned(seed="2"))
    with pytest.raises(ValueError, match="other inputs"):
        day_record(simulate_day(planned()), year)


def test_irrigation_is_told_as_it_was_entered() -> None:
    watered = {"irrigation_flow": "6 gpm", "irrigation_time": "30 min", "irrigation_start": "20.5"}
    plan = planned(**watered)
    house = day_record(simulate_day(plan))["house"]
    assert (house["irrigation_gpm"], house["irrigation_min"]) == (6.0, 30.0)
    assert house["irrigation_start_hour"] == 20.5
    assert plan.house.irrigation is not None
    assert plan.house.irrigation.flow == pytest.approx(6 * GPM)


def test_findings_are_told_with_those_of_the_plan_first() -> None:
    view = simulate_day(planned(first_tank=SMALL.id, motor_limit="own", own_starts_day="5 /d"))
    codes = [told["code"] for told in day_record(view, None, view.findings)["findings"]]
    assert codes == ["day_starts_over", "day_starts_over"]
