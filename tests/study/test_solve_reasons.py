"""Why there is no answer, what stands in the way, and what becomes of an answer."""

from __future__ import annotations

import itertools
import json
import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import GAL, PSI, job, results
from tests.study.test_solve import FALLING, METRIC, only, view
from workbench.job.choices import PrechargeRule
from workbench.job.paper_choices import SolveFor
from workbench.job.pump_choices import PumpEntry
from workbench.study.findings import Level
from workbench.study.solve.answers import Cause
from workbench.study.solve.picture import SolvePicture
from workbench.study.solve.put import changes_for
from workbench.study.solve.record import solve_record
from workbench.study.solve.relation import Limit
from workbench.study.solve.words import kind_of, limit_name, limit_text, name_of, why_text
from workbench.study.solve.working import solve_steps
from workbench.units import Display

NO_SHUT_OFF = "2 gpm 276 ft; 5 gpm 262 ft; 10 gpm 225 ft; 15 gpm 150 ft"

# --- limits and no answers ---

NONE: list[tuple[SolveFor, dict[str, Any], Cause, str]] = [
    (SolveFor.PRECHARGE, {"pump_flow": "20 gpm"}, Cause.TOO_LITTLE,
     "Even with the precharge at cut-in this tank gives 13.6 gal of the 20.0 gal needed."),
    (SolveFor.PRECHARGE, FALLING[0] | {"run_time": "3 min"}, Cause.TOO_LITTLE,
     "Even with the precharge at cut-in the pump runs 1.39 min of the 3.00 min asked."),
    (SolveFor.CENTRE, {"run_time": "3 min"}, Cause.TOO_LITTLE,
     "at the best, its middle at 12.0 psi, where the precharge is zero, this tank gives 21.1 gal"),
    (SolveFor.CENTRE, {"run_time": "3 min", "precharge_rule": "cut_in"}, Cause.TOO_LITTLE,
     "where cut-in is zero"),
    (SolveFor.CENTRE, {"run_time": "3 min", "precharge_rule": "typed"}, Cause.TOO_LITTLE,
     "the best has its middle at 38.0 psi, and there this tank gives"),
    (SolveFor.CENTRE, FALLING[0] | {"run_time": "1 min"}, Cause.TOO_MUCH,
     "Every band of this width that the pump reaches runs longer than 1.00 min"),
    (SolveFor.CENTRE, FALLING[1] | {"run_time": "9 h"}, Cause.TOO_LITTLE,
     "where cut-out is at the pump's shut-off"),
    (SolveFor.CENTRE, FALLING[1] | {"run_time": "9 min", "curve": NO_SHUT_OFF}, Cause.TOO_LITTLE,
     "the pump runs"),
    (SolveFor.WIDTH, {"run_time": "4 min"}, Cause.TOO_LITTLE, "where the precharge is zero"),
    (SolveFor.WIDTH, {"run_time": "4 min", "precharge_rule": "cut_in"}, Cause.TOO_LITTLE,
     "at the widest, 80.0 psi, where cut-in is zero"),
    (SolveFor.WIDTH, FALLING[1] | {"run_time": "9 h", "cut_in": "50 psi", "cut_out": "70 psi"},
     Cause.TOO_LITTLE, "No width gives as much"),
    (SolveFor.WIDTH, {"cut_in": "1 psi", "cut_out": "2 psi"}, Cause.NO_RANGE,
     "At any width of the band the precharge would be below zero."),
    (SolveFor.WIDTH, FALLING[1] | {"cut_in": "90 psi", "cut_out": "110 psi"}, Cause.NO_RANGE,
     "cut-out would lie above the pump's shut-off"),
    (SolveFor.PRECHARGE, FALLING[1] | {"cut_in": "60 psi", "cut_out": "90 psi"}, Cause.NO_RANGE,
     "At any precharge cut-out would lie above the pump's shut-off"),
    (SolveFor.PRECHARGE, FALLING[1] | {"curve": NO_SHUT_OFF, "cut_in": "60 psi",
                                       "cut_out": "90 psi"}, Cause.NO_RANGE,
     "above the first point of the pump's curve"),
    (SolveFor.PRECHARGE, FALLING[1] | {"water_level": "5 ft", "cut_in": "20 psi",
                                       "cut_out": "40 psi"}, Cause.NO_RANGE,
     "below the last point of the pump's curve"),
    (SolveFor.CENTRE, FALLING[1] | {"cut_out": "130 psi"}, Cause.NO_RANGE, ", or "),
    (SolveFor.CENTRE, {"run_time": "0.0000000000000000000001 s"}, Cause.FILL_UNKNOWN,
     "check units"),
    (SolveFor.PUMP_FLOW, FALLING[0], Cause.FLOW_IS_KNOWN,
     "The flow of this pump is known, so its run is told"),
]  # fmt: skip


@pytest.mark.parametrize(("looked_for", "entries", "cause", "words"), NONE)
def test_why_there_is_no_answer_is_said_with_its_numbers(
    looked_for: SolveFor, entries: dict[str, Any], cause: Cause, words: str
) -> None:
    found = view(looked_for, **entries)
    assert found.why is not None, found.solutions
    assert found.why.cause is cause
    assert bool(found.solutions) is (cause is Cause.FLOW_IS_KNOWN)
    assert words in why_text(found, Display())
    assert "{" not in why_text(found, METRIC)
    json.dumps(solve_record(results(solve_for=looked_for.value, **entries)), allow_nan=False)


def test_every_cause_and_limit_is_produced() -> None:
    views = [view(looked_for, **entries) for looked_for, entries, *_ in NONE]
    views.append(view(SolveFor.WIDTH, precharge_rule="typed"))
    causes = {one.why.cause for one in views if one.why is not None}
    assert causes == set(Cause)
    limits = {
        end for one in views if one.range for end in (one.range.low_limit, one.range.high_limit)
    }
    limits |= {shade.limit for one in views if one.picture for shade in one.picture.shades}
    assert limits == set(Limit)
    for one in views:
        if one.known is not None:
            for limit in Limit:
                assert bool(limit_text(limit, one.known, METRIC)) is (limit is not Limit.NONE)
                assert bool(limit_name(limit)) is (limit is not Limit.NONE)


# --- what stands in the way ---

STOPS: list[tuple[SolveFor, dict[str, Any], str, str]] = [
    (SolveFor.VOLUME, {"run_time": "?"}, "unread", "run_time"),
    (SolveFor.VOLUME, {"run_time": "0 min"}, "not_above_zero", "run_time"),
    (SolveFor.RUN_TIME, {"solve_volume": "?"}, "unread", "solve_volume"),
    (SolveFor.CENTRE, {"solve_volume": "0 gal"}, "not_above_zero", "solve_volume"),
    (SolveFor.CENTRE, {"cut_in": "50 psi"}, "band_upside_down", "cut_out"),
    (SolveFor.PRECHARGE, {"exponent": "2"}, "exponent_range", "exponent"),
    (SolveFor.WIDTH, {"altitude": "high"}, "unread", "altitude"),
    (SolveFor.VOLUME, {"pump_flow": "0 gpm"}, "not_above_zero", "pump_flow"),
    (SolveFor.VOLUME, {"cut_in": "1 psi"}, "precharge_below_zero", "cut_in"),
    (SolveFor.RUN_TIME, {"precharge_rule": "typed", "precharge": "60 psi"},
     "precharge_above_cut_out", "precharge"),
    (SolveFor.RUN_TIME, FALLING[1] | {"cut_out": "99 psi", "cut_in": "70 psi"}, "cannot_reach",
     "cut_out"),
    (SolveFor.PUMP_FLOW, FALLING[1] | {"curve": None}, "needed", "curve"),
    (SolveFor.PUMP_FLOW, FALLING[0] | {"flow_at_cut_out": "13 gpm"}, "flows_rise",
     "flow_at_cut_out"),
]  # fmt: skip


@pytest.mark.parametrize(("looked_for", "entries", "code", "field"), STOPS)
def test_what_stands_in_the_way_is_named(
    looked_for: SolveFor, entries: dict[str, Any], code: str, field: str
) -> None:
    found = view(looked_for, **entries)
    assert found.known is None
    assert not found.solutions
    assert (code, field) in {(one.code, one.field) for one in found.blocked}
    assert all(one.level is Level.STOP for one in found.blocked)
    assert all(one not in results(**entries).findings for one in found.findings)


@pytest.mark.parametrize(
    ("looked_for", "entries"),
    [
        (SolveFor.PUMP_FLOW, {"pump_flow": "?"}),
        (SolveFor.PUMP_FLOW, {"pump_entry": "bucket", "bucket_time": "0 s"}),
        (SolveFor.RUN_TIME, {"run_time": "?"}),
        (SolveFor.VOLUME, {"solve_volume": "?"}),
        (SolveFor.PRECHARGE, {"precharge_rule": "typed", "precharge": "?"}),
        (SolveFor.PRECHARGE, {"precharge_rule": "typed", "precharge": "70 psi"}),
        (SolveFor.CENTRE, {"cut_in": "1 psi", "cut_out": "21 psi"}),
        (
            SolveFor.CENTRE,
            FALLING[1] | {"cut_in": "70 psi", "cut_out": "99 psi", "run_time": "1.6 min"},
        ),
        (SolveFor.WIDTH, FALLING[1] | {"cut_in": "35 psi", "cut_out": "79.5 psi"}),
    ],
)
def test_what_is_looked_for_cannot_stand_in_its_own_way(
    looked_for: SolveFor, entries: dict[str, Any]
) -> None:
    held = {"run_time": "0.4 min"} if "run_time" not in entries else {}
    found = view(looked_for, **entries | held)
    assert not found.blocked
    assert found.solutions


def test_beyond_two_measured_flows_the_pump_is_assumed() -> None:
    near = view(SolveFor.WIDTH, **FALLING[0])
    assert near.findings == ()
    far = view(SolveFor.WIDTH, **FALLING[0], run_time="1.8 min")
    (note,) = far.findings
    assert (note.level, note.code) == (Level.NOTE, "solve_flow_assumed")
    assert "30.0 psi to 50.0 psi" in note.told(Display())
    assert note.remedy


def test_what_the_job_would_be_told_with_the_answer_is_told_before() -> None:
    found = view(SolveFor.CENTRE, pump_flow="5 gpm")
    assert found.solutions[0].setting.cut_out > 80 * PSI
    assert [one.code for one in found.beyond] == ["static_above_80"]
    assert view(SolveFor.VOLUME).beyond == ()


# --- put into the job ---


def test_each_answer_changes_only_its_own_entries() -> None:
    own = {
        SolveFor.PUMP_FLOW: {"pump_flow", "pump_entry"},
        SolveFor.RUN_TIME: {"run_time"},
        SolveFor.VOLUME: {"solve_volume"},
        SolveFor.CENTRE: {"cut_in", "cut_out"},
        SolveFor.WIDTH: {"cut_in", "cut_out"},
        SolveFor.PRECHARGE: {"precharge_rule", "precharge"},
    }
    for looked_for, names in own.items():
        one = view(looked_for).solutions[0]
        assert set(changes_for(job(), looked_for, one)) == names
    typed = changes_for(job(), SolveFor.PRECHARGE, view(SolveFor.PRECHARGE).solutions[0])
    assert typed["precharge_rule"] is PrechargeRule.TYPED
    bucket = {"pump_entry": "bucket", "bucket_volume": "5 gal", "bucket_time": "30 s"}
    flow = changes_for(
        job(**bucket), SolveFor.PUMP_FLOW, view(SolveFor.PUMP_FLOW, **bucket).solutions[0]
    )
    assert flow["pump_entry"] is PumpEntry.CONSTANT


def test_two_flows_stay_where_they_were_measured() -> None:
    one = view(SolveFor.WIDTH, **FALLING[0]).solutions[0]
    before = job(**FALLING[0])
    changes = changes_for(before, SolveFor.WIDTH, one)
    assert (changes["flow_in_at"], changes["flow_out_at"]) == (before.cut_in, before.cut_out)
    again = before.changed(flow_in_at="25 psi", flow_out_at="55 psi")
    kept = changes_for(again, SolveFor.WIDTH, one)
    assert str(kept["flow_in_at"]) == "25 psi"


def test_a_round_answer_is_put_as_a_person_would_type_it() -> None:
    exact = results(solve_for="run_time").solved.solutions[0].run
    volume = only(SolveFor.VOLUME, run_time=f"{exact:.13g} s")
    assert str(changes_for(job(), SolveFor.VOLUME, volume)["solve_volume"]) == "44 gal"
    metric = changes_for(job(), SolveFor.VOLUME, volume, METRIC)["solve_volume"]
    assert metric.unit == "L"
    assert metric.si == pytest.approx(44 * GAL, rel=1e-12)


def test_a_number_that_cannot_be_typed_is_not_put() -> None:
    found = view(SolveFor.VOLUME, run_time="9" * 50 + " h", pump_flow="9" * 50 + " gpm")
    assert found.can_be_put
    assert changes_for(job(), SolveFor.VOLUME, found.solutions[0]) == {}
    assert found.beyond == ()


# --- picture, working, record ---


def at(picture: SolvePicture, place: float) -> float:
    return float(np.interp(place, picture.over, picture.run))


@pytest.mark.parametrize("falling", [{}, *FALLING])
@pytest.mark.parametrize("looked_for", SolveFor)
def test_the_picture_passes_through_its_answers(
    looked_for: SolveFor, falling: dict[str, Any]
) -> None:
    entries = {"run_time": "1.1 min"} | falling
    found = view(looked_for, **entries)
    assert found.picture is not None
    picture = found.picture
    assert len(picture.marks) == len(found.solutions)
    for mark in picture.marks:
        assert at(picture, mark.place) == pytest.approx(mark.run, rel=5e-3)
        assert 0.0 < mark.place < picture.end
    for shade in picture.shades:
        assert 0.0 <= shade.low < shade.high <= picture.end
    assert kind_of(picture.over_what).name
    assert name_of(picture.over_what)[0].isupper()


def test_the_working_ends_with_the_answer_put_back() -> None:
    for looked_for, falling in itertools.product(SolveFor, ({}, *FALLING)):
        for entries in ({}, {"exponent": "1.2"}):
            found = view(looked_for, **falling | entries | {"run_time": "1.1 min"})
            for display in (Display(), METRIC):
                steps = solve_steps(found, display)
                assert bool(steps) is bool(found.solutions)
                assert all(step.source and "{" not in str(step) for step in steps)
                if steps:
                    run = display.text(found.solutions[0].run, kind_of(SolveFor.RUN_TIME))
                    assert steps[-1].numbers.endswith(f"= {run}")


def test_the_working_of_a_precharge_can_be_reckoned_again() -> None:
    found = view(SolveFor.PRECHARGE)
    step = next(one for one in solve_steps(found, Display()) if one.title.startswith("Precharge"))
    left, _, right = step.numbers.partition(" = ")
    assert float(right) == pytest.approx(
        10 / 44 / (1 / 44.696 - 1 / 64.696), abs=5e-3
    )  # the absolute one
    assert "10.00 gal / (44.00 gal" in left


def test_the_record_holds_us_units() -> None:
    record = solve_record(results(solve_for="tank_volume"))
    (answer,) = record["answers"]
    assert answer["tank_volume_gal"] == pytest.approx(33.864, abs=1e-3)
    assert answer["pump_flow_gpm"] == pytest.approx(10.0)
    assert answer["run_time_min"] == 1.0
    assert (answer["cut_in_psi"], answer["cut_out_psi"]) == (30.0, 50.0)
    assert (record["looked_for"], record["why"], record["cause"]) == ("tank_volume", None, None)
    both = solve_record(results(solve_for="precharge"))
    assert [one["usual"] for one in both["answers"]] == [True, False]
    assert both["range"]["high_limit"] == "no_water_would_enter_the_tank"


TINY, HUGE = "0." + "0" * 30 + "1", "9" * 40
some_pressure = st.sampled_from(
    ["0 psi", "20 psi", "30 psi", "40.5 psi", "4 bar", f"{TINY} psi", f"{HUGE} psi", "?"]
)


@settings(max_examples=300, deadline=None, derandomize=True, database=None)
@given(
    looked_for=st.sampled_from(SolveFor), low=some_pressure, high=some_pressure,
    charge=some_pressure, rule=st.sampled_from(list(PrechargeRule)),
    run=st.sampled_from(["1 min", f"{TINY} min", f"{HUGE} h", "-1 min"]),
    volume=st.sampled_from(["44 gal", f"{TINY} gal", f"{HUGE} gal"]),
    flow=st.sampled_from(["10 gpm", f"{TINY} gpm", f"{HUGE} gpm"]),
    pump=st.sampled_from([{}, *FALLING, FALLING[0] | {"flow_at_cut_out": f"{TINY} gpm"},
                          FALLING[1] | {"water_level": "4000 ft"}]),
)  # fmt: skip
def test_any_job_is_answered_or_told_why_not(
    looked_for: SolveFor, low: str, high: str, charge: str, rule: PrechargeRule, run: str,
    volume: str, flow: str, pump: dict[str, Any],
) -> None:  # fmt: skip
    found = results(
        solve_for=looked_for.value, cut_in=low, cut_out=high, precharge=charge,
        precharge_rule=rule, run_time=run, solve_volume=volume, pump_flow=flow, **pump,
    )  # fmt: skip
    solved = found.solved
    assert bool(solved.blocked) is (solved.known is None)
    assert solved.blocked or solved.solutions or why_text(solved, Display())
    for one in solved.solutions:
        assert math.isfinite(one.value)
        if solved.can_be_put:
            assert solved.known is not None
            assert one.run == pytest.approx(solved.known.run or one.run, rel=1e-5)
            changes_for(found.job, solved.answered, one)
    json.dumps(solve_record(found), allow_nan=False)
    for display in (Display(), METRIC):
        assert "{" not in why_text(solved, display)
        solve_steps(solved, display)
