"""What is said of each band, once and beside its entry; and whatever is typed is answered."""

from __future__ import annotations

import inspect
import json
import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import TWO_FLOWS, results
from tests.study.test_bands import CURVE, LABEL, PLAIN, SHELF, view
from workbench.study.bands import findings as finding_words
from workbench.study.bands import tank as tanks
from workbench.study.bands.record import bands_record
from workbench.study.bands.view import adopting
from workbench.study.bands.words import sentences
from workbench.study.evaluate import evaluate
from workbench.study.findings import Level
from workbench.units import Display, System

NOTE, CAUTION, STOP = Level.NOTE, Level.CAUTION, Level.STOP


PRODUCED: list[tuple[str, str, Level, dict[str, Any]]] = [
    ("unread", "today_volume", STOP, {"today_volume": "big"}),
    ("not_above_zero", "today_volume", STOP, {"today_volume": "0 gal"}),
    ("unread", "today_acceptance", STOP, LABEL | {"today_acceptance": "?"}),
    ("unread", "today_rating", STOP, LABEL | {"today_rating": "?"}),
    ("acceptance_above_volume", "today_acceptance", STOP, LABEL | {"today_acceptance": "45 gal"}),
    ("rating_unknown", "today_rating", CAUTION, LABEL),
    ("label_not_used", "today_rating", NOTE, PLAIN | {"today_rating": "100 psi"}),
    ("label_not_used", "today_acceptance", NOTE, PLAIN | {"today_acceptance": "9 gal"}),
    ("tank_gone", "first_tank", STOP, {"first_tank": "no such"}),
    ("unread", "relief_setting", STOP, PLAIN | {"relief_setting": "75"}),
    ("unread", "lowest_fixture", CAUTION, PLAIN | {"lowest_fixture": "deep"}),
    ("unread", "highest_fixture", CAUTION, PLAIN | {"highest_fixture": "up"}),
    ("unread", "steady_draw", CAUTION, PLAIN | {"steady_draw": "some"}),
    ("below_zero", "steady_draw", CAUTION, PLAIN | {"steady_draw": "-1 gpm"}),
    (
        "fixtures_upside_down",
        "highest_fixture",
        CAUTION,
        PLAIN | {"lowest_fixture": "-10 ft", "highest_fixture": "5 ft"},
    ),
    ("relief_above_rating", "relief_setting", STOP, PLAIN | {"relief_setting": "126 psi"}),
    (
        "dead_head_unrelieved",
        "relief_setting",
        CAUTION,
        PLAIN | CURVE | {"water_level": "-20 ft"},
    ),
    ("one_flow_at_every_band", "pump_entry", NOTE, PLAIN),
]
OF_A_BAND: list[tuple[str, str, Level, dict[str, Any]]] = [
    ("vessel_too_weak", "first_tank", STOP, {"first_tank": "weak-30"}),
    ("vessel_too_weak", "today_rating", STOP, LABEL | {"today_rating": "70 psi"}),
    ("precharge_above_allowed", "first_tank", STOP,
     {"first_tank": "soft-40", "bands": "43/60 psi"}),
    ("relief_below_cut_out", "relief_setting", STOP, PLAIN | {"relief_setting": "60 psi"}),
    ("relief_near_cut_out", "relief_setting", CAUTION, PLAIN | {"relief_setting": "65 psi"}),
    ("lowest_above_80", "lowest_fixture", CAUTION, PLAIN | {"lowest_fixture": "60 ft"}),
    ("highest_below_20", "highest_fixture", CAUTION, PLAIN | {"highest_fixture": "60 ft"}),
    ("highest_below_8", "highest_fixture", CAUTION, PLAIN | {"highest_fixture": "90 ft"}),
    ("cannot_reach", "cut_out", STOP, PLAIN | TWO_FLOWS | {"bands": "50/70 psi"}),
    ("static_above_80", "cut_out", CAUTION, PLAIN | {"bands": "65/85 psi"}),
]  # fmt: skip


@pytest.mark.parametrize(("code", "field", "level", "entries"), PRODUCED)
def test_what_is_so_at_every_band_is_told_once(
    code: str, field: str, level: Level, entries: dict[str, Any]
) -> None:
    found = view(**entries)
    (finding,) = [one for one in found.findings if (one.code, one.field) == (code, field)]
    assert finding.level is level
    _reads_well(finding)
    if level is STOP:
        assert not any(one.precharge for one in found.columns)


@pytest.mark.parametrize(("code", "field", "level", "entries"), OF_A_BAND)
def test_what_a_band_brings_is_told_in_its_column(
    code: str, field: str, level: Level, entries: dict[str, Any]
) -> None:
    found = view(**{"bands": "40/60 psi"} | entries)
    (other,) = found.others
    (finding,) = [one for one in other.findings if one.code == code]
    assert (finding.field, finding.level) == (field, level)
    _reads_well(finding)
    assert other.is_stopped == (level is STOP)


def _reads_well(finding: Any) -> None:
    for display in (Display(), Display(System.METRIC, ",")):
        assert "{" not in finding.sentence(display)
    assert finding.remedy


def test_no_finding_is_left_without_a_job_that_produces_it() -> None:
    source = inspect.getsource(finding_words) + inspect.getsource(tanks)
    codes = set(re.findall(r'Level\.\w+,\n +"(\w+)",', source))
    codes |= set(re.findall(r'code = "(\w+)"', source))
    assert len(codes) == 14
    assert codes <= {code for code, *_ in (*PRODUCED, *OF_A_BAND)}


def test_a_relief_valve_that_is_known_answers_the_dead_head() -> None:
    found = view(**PLAIN | CURVE | {"water_level": "-20 ft", "relief_setting": "100 psi"})
    assert "dead_head_unrelieved" not in {one.code for one in found.findings}


def test_what_today_has_too_is_no_fault_of_another_band() -> None:
    found = view(cut_out="39.9 psi", bands="40/49 psi", **PLAIN)  # both are narrow
    (other,) = found.others
    assert "band_narrow" not in {one.code for one in other.findings}
    assert other.findings == ()


def test_unread_bands_leave_today_alone() -> None:
    found = view(bands="low to high", **PLAIN)
    assert [one.name for one in found.columns] == ["30/50"]
    assert found.others == ()


def test_without_a_band_or_a_tank_there_is_no_column() -> None:
    assert view(cut_in="?", **PLAIN).columns == ()
    assert results().bands.columns == ()
    assert results(**LABEL).bands.columns != ()  # no catalogue is needed for a typed tank


# --- whatever is typed ---

TINY, HUGE = "0." + "0" * 30 + "1", "9" * 40
some = st.fixed_dictionaries(
    {},
    optional={
        "cut_in": st.sampled_from(["20 psi", "40 psi", "2 bar", "0 psi", f"{HUGE} psi"]),
        "cut_out": st.sampled_from(["40 psi", "60 psi", "4 bar", f"{HUGE}9 psi"]),
        "bands": st.sampled_from(
            ["40/60 psi", "0/1, 30/50 psi", "2/3.5 bar", f"{TINY}/{HUGE} psi", "", "x"]
        ),
        "precharge_rule": st.sampled_from(["typed", "cut_in", "cut_in_less_5_psi"]),
        "precharge": st.sampled_from(["28 psi", "0 psi", "1.9 bar", f"{HUGE} kPa", f"{TINY} psi"]),
        "first_tank": st.sampled_from(["", "plain-44", "bladder-52", "gone"]),
        "today_volume": st.sampled_from([None, "44 gal", f"{TINY} gal", f"{HUGE} gal"]),
        "today_acceptance": st.sampled_from([None, "9 gal", f"{TINY} gal"]),
        "today_rating": st.sampled_from([None, "75 psi", f"{HUGE} psi"]),
        "relief_setting": st.sampled_from([None, "75 psi", f"{TINY} psi"]),
        "lowest_fixture": st.sampled_from([None, "30 ft", "-5 m", f"{HUGE} ft"]),
        "highest_fixture": st.sampled_from([None, "30 ft", f"{HUGE} ft"]),
        "steady_draw": st.sampled_from(["0 gpm", "5 gpm", f"{TINY} gpm"]),
        "pump_entry": st.sampled_from(["constant", "two_flows", "curve"]),
        "flow_at_cut_in": st.sampled_from([None, "12 gpm"]),
        "flow_at_cut_out": st.sampled_from([None, "8 gpm", "12 gpm"]),
        "flow_in_at": st.sampled_from([None, "20 psi", "60 psi"]),
        "flow_out_at": st.sampled_from([None, "45 psi", f"{HUGE} psi"]),
        "curve": st.just(CURVE["curve"]),
        "water_level": st.sampled_from(["110 ft", "250 ft"]),
    },
)


@settings(max_examples=150, deadline=None, derandomize=True, database=None)
@given(some)
def test_any_job_is_compared_or_told_why_not(entries: dict[str, Any]) -> None:
    found = results(*SHELF, **entries)
    compared = found.bands
    stops = any(one.level is STOP for one in (*found.findings, *compared.findings))
    assert stops or compared.columns
    json.dumps(bands_record(found), allow_nan=False)
    for one in compared.columns:
        for display in (Display(), Display(System.METRIC, ",")):
            assert sentences(one, compared, display)
        if one.gives is not None:
            assert one.gives.drawdown >= 0.0
        if one.is_stopped:
            assert one.precharge is None
        changes = adopting(found, one)
        evaluate(found.job.changed(**changes), found.candidates)
