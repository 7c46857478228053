"""The small tank of a variable-speed pump against what its maker states."""

from __future__ import annotations

import inspect
import json
import re
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import GAL, GPM, PSI, SEA, results, tank
from workbench.study.drive import view as drives
from workbench.study.drive.record import drive_record, drive_steps
from workbench.study.drive.view import NEEDED, DriveView
from workbench.study.findings import Level
from workbench.units import Display, System

NOTE, CAUTION, STOP = Level.NOTE, Level.CAUTION, Level.STOP
STATED = {
    "drive_set": "60 psi",
    "drive_wake": "50 psi",
    "drive_tank": "4 gal",
    "drive_share": "70 %",
    "drive_ramp": "3 s",
    "drive_step": "5 gpm",
}
SHELF = (
    tank("Small 2", total_volume=2, diameter=9, height=12),
    tank("Weak 20", total_volume=20, height=20, max_working_pressure=70, highest_precharge=60),
    tank("Sound 20", total_volume=20, height=20, acceptance=4),
)


def view(*tanks: Any, **entries: Any) -> DriveView:
    return results(*tanks, **STATED | entries).drive


def test_the_reserve_is_the_water_between_wake_and_set_at_the_stated_share() -> None:
    found = view()
    assert found.pressures is not None
    assert found.pressures.precharge == pytest.approx(42 * PSI)  # of the gauge pressure
    charge, low, high = (pressure * PSI + SEA for pressure in (42, 50, 60))
    assert found.reserve is not None
    assert found.reserve.water == pytest.approx(4 * GAL * charge * (1 / low - 1 / high))
    assert found.reserve.at_wake == pytest.approx(4 * GAL * (1 - charge / low))


def test_the_need_is_time_to_speed_times_sudden_draw() -> None:
    found = view()
    assert found.needed == pytest.approx(3 * 5 * GPM)  # a quarter of a gallon
    assert found.carries is True
    assert view(drive_ramp="10 s").carries is False


def test_the_volume_needed_just_carries() -> None:
    short = view(drive_ramp="10 s")
    assert short.volume_needed is not None
    just = view(drive_ramp="10 s", drive_tank=f"{short.volume_needed / GAL:.12f} gal")
    assert just.reserve is not None
    assert just.reserve.water == pytest.approx(just.needed)
    assert just.carries is True


def test_a_tank_that_is_nearly_empty_at_wake_carries_only_what_is_answered_at_once() -> None:
    found = view(drive_wake="44 psi", drive_tank="2 gal")
    assert found.is_reserve_enough is True
    assert found.is_rest_enough is False
    assert found.carries is False
    assert found.volume_needed is not None
    just = view(drive_wake="44 psi", drive_tank=f"{found.volume_needed / GAL:.12f} gal")
    assert just.reserve is not None
    assert just.reserve.at_wake == pytest.approx(just.needed)
    assert just.reserve.lowest == pytest.approx(42 * PSI)  # its last drop
    assert just.carries is True
    assert view(drive_share="85 %").volume_needed == float("inf")


def test_the_lowest_pressure_is_where_the_water_at_wake_less_the_need_is_left() -> None:
    found = view()
    assert found.reserve is not None
    assert found.needed is not None
    assert found.reserve.lowest is not None
    left = 4 * GAL * (1 - (42 * PSI + SEA) / (found.reserve.lowest + SEA))
    assert left == pytest.approx(found.reserve.at_wake - found.needed)
    assert 42 * PSI < found.reserve.lowest < 50 * PSI
    assert found.is_rest_enough
    empty = view(drive_ramp="10 s")
    assert empty.reserve is not None
    assert empty.reserve.lowest is None
    assert empty.is_rest_enough is False


def test_without_a_time_to_speed_the_pressure_does_not_fall() -> None:
    found = view(drive_ramp="0 s")
    assert found.reserve is not None
    assert found.reserve.lowest == pytest.approx(50 * PSI)
    assert found.carries is True


def test_the_sudden_draw_is_the_largest_fixture_of_the_house_unless_typed() -> None:
    # US EPA, Private Water Systems, Household Uses: 8 gpm flow into a tub.
    found = view(drive_step=None)
    assert found.draw is not None
    assert found.draw.flow == pytest.approx(8 * GPM)
    assert set(found.draw.fixtures) == {"tubs", "washers"}
    none = dict.fromkeys(("tubs", "washers", "toilets", "kitchen_sinks", "dishwashers"), "0")
    hose = view(drive_step=None, **none)
    assert hose.draw is not None
    assert hose.draw.flow == pytest.approx(5 * GPM)  # International Residential Code P2903.1
    assert hose.draw.fixtures == ("hose_bibs",)


def test_a_leak_wakes_the_drive_once_for_each_reserve() -> None:
    found = view(leak="100 gal/d")
    assert found.reserve is not None
    assert found.leak_starts is not None
    day = 86_400.0
    assert found.leak_starts * day * found.reserve.water == pytest.approx(100 * GAL)
    assert found.starts_allowed == pytest.approx(300 / day)
    assert view().leak_starts == 0.0
    assert view(motor_limit="public_system").starts_allowed is None


def test_the_chosen_tank_is_held_to_the_smallest_volume() -> None:
    found = view(*SHELF, first_tank="small-2")
    assert found.tank is not None
    assert found.tank.is_named
    assert not found.tank.large_enough
    sound = view(*SHELF, first_tank="sound-20").tank
    assert sound is not None
    assert sound.large_enough
    held = min(20 * (1 - (42 * PSI + SEA) / (60 * PSI + SEA)), 4) * GAL
    left = 20 * GAL * (1 - (42 * PSI + SEA) / (50 * PSI + SEA))
    assert sound.reserve.water == pytest.approx(held - left)
    first = view(*SHELF).tank
    assert first is not None
    assert not first.is_named


def test_each_missing_statement_is_named() -> None:
    assert results().drive.missing == NEEDED
    assert results().drive.findings == ()
    for name in NEEDED:
        found = view(**{name: None})
        assert found.missing == (name,)
        assert found.findings == ()
        assert found.carries is None
    assert view().missing == ()


def test_the_picture_ends_with_the_reserve() -> None:
    found = view()
    assert found.picture is not None
    assert found.reserve is not None
    assert found.picture.pressure[-1] == 60 * PSI
    at_wake = found.picture.water[np.searchsorted(found.picture.pressure, 50 * PSI)]
    assert found.picture.water[-1] - at_wake == pytest.approx(found.reserve.water)
    assert at_wake == pytest.approx(found.reserve.at_wake)


PRODUCED: list[tuple[str, str, Level, dict[str, Any]]] = [
    *(("unread", name, STOP, {name: "?"}) for name in STATED),
    ("unread", "leak", CAUTION, {"leak": "?"}),
    ("not_above_zero", "drive_set", STOP, {"drive_set": "0 psi"}),
    ("below_zero", "drive_wake", STOP, {"drive_wake": "-1 psi"}),
    ("not_above_zero", "drive_tank", STOP, {"drive_tank": "0 gal"}),
    ("below_zero", "drive_ramp", STOP, {"drive_ramp": "-1 s"}),
    ("below_zero", "drive_share", STOP, {"drive_share": "-1 %"}),
    ("share_range", "drive_share", STOP, {"drive_share": "101 %"}),
    ("not_above_zero", "drive_step", STOP, {"drive_step": "0 gpm"}),
    ("wake_not_below_set", "drive_wake", STOP, {"drive_wake": "60 psi"}),
    ("drive_precharge_at_set", "drive_share", STOP, {"drive_share": "100 %"}),
    ("no_sudden_draw", "drive_step", STOP,
     {"drive_step": None} | dict.fromkeys(
         ("tubs", "washers", "toilets", "kitchen_sinks", "dishwashers", "basins", "showers",
          "laundry_sinks", "hose_bibs"), "0")),
    ("fixtures_unread", "drive_step", CAUTION, {"drive_step": None, "toilets": "2 or 3"}),
    ("set_above_80", "drive_set", CAUTION, {"drive_set": "81 psi"}),
    ("precharge_above_wake", "drive_share", CAUTION, {"drive_share": "85 %"}),
    ("reserve_small", "drive_tank", CAUTION, {"drive_tank": "2 gal"}),
    ("empty_while_starting", "drive_ramp", CAUTION, {"drive_ramp": "9 s"}),
    ("leak_starts_many", "leak", CAUTION, {"leak": "200 gal/d"}),
    ("tank_gone", "first_tank", STOP, {"first_tank": "no such"}),
    ("tank_below_smallest", "first_tank", CAUTION, {"first_tank": "small-2"}),
    ("tank_too_weak_for_drive", "first_tank", STOP, {"first_tank": "weak-20"}),
]  # fmt: skip


@pytest.mark.parametrize(("code", "field", "level", "entries"), PRODUCED)
def test_what_is_wrong_is_told_once_beside_its_entry(
    code: str, field: str, level: Level, entries: dict[str, Any]
) -> None:
    found = results(*SHELF, **STATED | entries)
    (finding,) = [one for one in found.drive.findings if one.code == code]
    assert (finding.field, finding.level) == (field, level)
    for display in (Display(), Display(System.METRIC, ",")):
        assert "{" not in finding.sentence(display)
    assert finding.remedy


def test_no_finding_of_the_page_is_left_without_a_job_that_produces_it() -> None:
    source = inspect.getsource(drives)
    codes = set(re.findall(r'Level\.\w+(?: if .*)?,\n +"(\w+)",', source))
    codes |= set(re.findall(r'Finding\(level, "(\w+)"', source))
    assert len(codes) >= 8
    assert codes <= {code for code, *_ in PRODUCED}


def test_altitude_and_exponent_are_told_with_the_setting_only() -> None:
    for entries in ({"altitude": "high"}, {"exponent": "2"}, {"altitude": "40000 ft"}):
        found = results(**STATED | entries)
        assert found.findings
        assert found.drive.findings == ()
        assert found.drive.reserve is None


def test_a_sound_drive_is_not_remarked_on() -> None:
    assert view(*SHELF).findings == ()
    assert view(*SHELF, cut_out="20 psi").reserve is not None  # the switch's band plays no part


TINY, HUGE = "0." + "0" * 30 + "1", "9" * 40
pressure = st.sampled_from(["20 psi", "50 psi", "60 psi", "4 bar", f"{TINY} psi", f"{HUGE} psi"])
some = st.fixed_dictionaries(
    {},
    optional={
        "drive_set": pressure,
        "drive_wake": st.one_of(pressure, st.just("0 psi")),
        "drive_tank": st.sampled_from(["2 gal", "20 L", f"{TINY} gal", f"{HUGE} gal", "x"]),
        "drive_share": st.sampled_from(["0 %", "65 %", "70 %", "99.9 %"]),
        "drive_ramp": st.sampled_from(["0 s", "3 s", "1 h", f"{HUGE} s"]),
        "drive_step": st.sampled_from([None, "5 gpm", f"{TINY} gpm"]),
        "leak": st.sampled_from(["0 gal/d", "50 gal/d", f"{HUGE} gal/d"]),
        "exponent": st.sampled_from(["1.0", "1.2", "1.4"]),
        "first_tank": st.sampled_from(["", "small-2", "sound-20"]),
    },
)


@settings(max_examples=200, deadline=None, derandomize=True, database=None)
@given(some)
def test_any_drive_is_answered_or_told_why_not(entries: dict[str, Any]) -> None:
    found = results(*SHELF, **STATED | entries)
    drive = found.drive
    stops = [one for one in drive.findings if one.level is STOP]
    assert stops or drive.carries is not None
    if drive.reserve is not None:
        assert drive.reserve.water >= 0.0
        if drive.reserve.lowest is not None and drive.pressures is not None:
            bottom = min(drive.pressures.precharge, drive.pressures.wake)
            assert drive.reserve.lowest >= bottom * (1 - 1e-9) - 1e-6
    json.dumps(drive_record(found), allow_nan=False)
    for display in (Display(), Display(System.METRIC, ",")):
        assert all(map(str, drive_steps(found, display)))


def test_the_record_holds_us_units() -> None:
    record = drive_record(results(*SHELF, **STATED | {"leak": "100 gal/d"}))
    assert record["precharge_psi"] == 42.0
    assert record["needed_gal"] == 0.25
    assert record["carries"] is True
    assert record["smallest_tank"]["total_volume_gal"] == 4.0
    assert record["leak_starts_per_day"] == pytest.approx(
        100 / record["smallest_tank"]["reserve_gal"]
    )
