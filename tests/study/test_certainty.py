"""The page "Tolerances": shares, verdicts and runs of a job's tanks, and what they are as data."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import PSI, TWO_FLOWS, results, tank
from workbench.job.pump_choices import PumpEntry
from workbench.study.certainty.plan import CASES, tolerance_plan
from workbench.study.certainty.record import tolerance_record
from workbench.study.certainty.tolerance import NAMES, Swing, Verdict
from workbench.study.certainty.view import ToleranceView, run_plan
from workbench.study.certainty.words import (
    change_text,
    half_text,
    run_text,
    share_text,
    swing_sentence,
    tolerance_name,
    tolerance_steps,
)
from workbench.study.evaluate import Results
from workbench.study.findings import Level
from workbench.units import Display, System

TANKS = (
    tank("A", total_volume=40, price="300"),
    tank("B", total_volume=42, acceptance=10.5, price="400"),
    tank("C", total_volume=52, price="500"),
    tank("D", total_volume=20, acceptance=4.5, price="200", diameter=16, height=30),
)
NO_TOLERANCE: dict[str, Any] = {
    f"tol_{name}": f"0 {unit}"
    for name, unit in zip(NAMES, ("psi", "psi", "psi", "psi", "°F", "%", "gal", "s"), strict=True)
}


def go_on(_share: float) -> bool:
    return True


def studied(**entries: Any) -> tuple[Results, ToleranceView]:
    found = results(*TANKS, **entries)
    plan, findings = tolerance_plan(found)
    assert plan is not None, findings
    view = run_plan(plan, go_on)
    assert view is not None
    return found, view


@pytest.mark.parametrize(
    "entries", [{}, TWO_FLOWS, {"mixed_sets": True}, TWO_FLOWS | {"mixed_sets": True}]
)
def test_nominal_runs_are_those_of_the_ranking(entries: dict[str, Any]) -> None:
    found, view = studied(**entries)
    assert found.ranking is not None
    for place, candidate in enumerate(view.plan.rows):
        judged = found.ranking.judged(candidate)
        assert view.row(place).nominal_run == pytest.approx(judged.run_time, rel=2e-6)


@pytest.mark.parametrize("entries", [{}, TWO_FLOWS, {"mixed_sets": True}])
def test_with_nothing_off_the_verdict_is_the_rankings(entries: dict[str, Any]) -> None:
    found, view = studied(**entries, **NO_TOLERANCE)
    assert found.ranking is not None
    verdicts = {view.row(place).verdict for place in range(len(view.plan.rows))}
    assert verdicts == {Verdict.PASS, Verdict.FAIL}
    for place, candidate in enumerate(view.plan.rows):
        row = view.row(place)
        assert (row.verdict is Verdict.PASS) == found.ranking.judged(candidate).passes
        assert row.worst_run == pytest.approx(row.nominal_run)
    assert view.swings == ()


def test_the_chosen_tank_is_the_first_of_the_ranking_or_the_one_named() -> None:
    found, view = studied()
    assert view.tank == view.row(0)
    assert found.ranking is not None
    assert found.ranking.row(0).name == "A"
    _, named = studied(first_tank="c")
    assert named.tank is not None
    assert named.tank.share > view.row(0).share


def test_a_tank_that_fails_otherwise_is_judged_without_a_row() -> None:
    _, view = studied(first_tank="c", door_width="27 in")
    assert view.tank is not None
    assert view.tank.candidate not in view.plan.rows
    _, usual = studied(first_tank="c")
    assert usual.tank is not None
    assert view.tank.share == usual.tank.share


def test_the_same_job_has_the_same_figures_and_another_seed_others() -> None:
    one, again, other = (
        run_plan(studied(seed=seed)[1].plan, go_on) for seed in ("3", "3", "4")
    )  # fmt: skip
    assert one is not None
    assert again is not None
    assert other is not None
    assert one.outcome.share.tolist() == again.outcome.share.tolist()
    assert one.outcome.share.tolist() != other.outcome.share.tolist()
    assert one.outcome.share == pytest.approx(other.outcome.share, abs=2e-3)


def test_swings_are_those_of_the_chosen_tank_and_its_membrane() -> None:
    _, free = studied(first_tank="c")
    _, held = studied(first_tank="b")
    by_name = [{swing.name: swing for swing in view.swings} for view in (free, held)]
    assert by_name[0]["switch_out"].high > 0.05
    assert by_name[1]["switch_out"].high < 0.03  # its membrane is nearly at its limit anyway
    sizes = [swing.size for swing in held.swings]
    assert sizes == sorted(sizes, reverse=True)


def test_the_flows_swing_is_the_closed_form() -> None:
    """run = water / flow, so ±10 % of the flow is +1/0.9 and −1/1.1."""
    _, view = studied(tol_flow="10 %")
    (flow,) = (swing for swing in view.swings if swing.name == "flow")
    assert flow.low == pytest.approx(1 / 0.9 - 1)
    assert flow.high == pytest.approx(1 / 1.1 - 1)


def test_a_pump_that_might_never_stop_is_told_with_the_number_of_cases() -> None:
    """Shut-off 66 psi by the two flows; cut-out reaches 50 ± 20."""
    _, view = studied(**TWO_FLOWS, tol_switch_out="20 psi", tol_gauge="0 psi")
    assert view.outcome.never_stops == pytest.approx(4 / 40, abs=1e-4)
    (finding,) = view.findings
    assert finding.code == "never_stops"
    assert f"{round(view.outcome.never_stops * CASES):,} of 100,000" in finding.text
    (swing,) = (one for one in view.swings if one.name == "switch_out")
    assert swing.high == float("inf")
    assert "at +20 psi the pump never stops" in swing_sentence(swing, view, Display())


def test_a_tank_without_a_run_has_no_swings() -> None:
    _, view = studied(precharge_rule="typed", precharge="55 psi")
    assert view.tank is not None
    assert (view.tank.verdict, view.tank.nominal_run, view.swings) == (Verdict.FAIL, 0.0, ())


def test_nothing_comes_of_a_study_that_nobody_waits_for() -> None:
    plan = studied(mixed_sets=True)[1].plan
    assert run_plan(plan, lambda _share: False) is None


# Only what the study adds to a job; whatever else is typed is in test_any_job.
_ODD = st.sampled_from(["0", "1", "2.5", "15", "60", "-3", "1e40", "x"])


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(
    st.fixed_dictionaries(
        {},
        optional={
            **{f"tol_{name}": _ODD for name in NAMES},
            "seed": st.sampled_from(["0", "1.5", "12", "-1", "1e30"]),
            "first_tank": st.sampled_from(["", "b", "sold"]),
            "tank_temperature": st.sampled_from(["55 °F", "-459 °F", "x"]),
            "precharge_rule": st.sampled_from(["cut_in", "typed"]),
            "precharge": st.sampled_from(["0 psi", "28 psi", "49 psi", "55 psi"]),
            "pump_entry": st.sampled_from(
                [PumpEntry.CONSTANT, PumpEntry.BUCKET, PumpEntry.TWO_FLOWS]
            ),
            "mixed_sets": st.booleans(),
        },
    )
)
def test_any_job_has_figures_or_a_stop_that_says_why(entries: dict[str, Any]) -> None:
    usual = TWO_FLOWS | {"bucket_volume": "5 gal", "bucket_time": "30 s"}
    found = results(*TANKS, **usual | entries)
    plan, findings = tolerance_plan(found)
    if plan is None:
        assert any(one.level is Level.STOP for one in (*findings, *found.findings))
        return
    view = run_plan(plan, go_on)
    assert view is not None
    assert found.ranking is not None
    for share in view.outcome.share:
        assert 0.0 <= share <= 1.0
    assert (view.outcome.worst_run <= view.outcome.nominal_run * (1 + 1e-12)).all()
    assert (view.outcome.best_run >= view.outcome.nominal_run * (1 - 1e-12)).all()
    json.dumps(tolerance_record(view, found.ranking), allow_nan=False)
    for swing in view.swings:
        assert "nan" not in swing_sentence(swing, view, Display())


# --- words ---


@pytest.mark.parametrize(
    ("share", "text"),
    [
        (0.0, "0 %"), (1.0, "100 %"), (0.7056, "70.6 %"), (0.95, "95.0 %"), (0.94999, "94.999 %"),
        (0.04999, "4.999 %"), (0.05, "5.0 %"), (0.00001, "0.001 %"), (0.99999, "99.999 %"),
    ],
)  # fmt: skip
def test_a_share_never_reads_as_another_verdict(share: float, text: str) -> None:
    assert share_text(share, Display()) == text


def test_words_follow_units_and_decimal_mark() -> None:
    _, view = studied(tol_precharge="0.5 psi")
    metric = Display(System.METRIC, ",")
    assert half_text(view.plan, "precharge", Display()) == "±0.5 psi"
    assert half_text(view.plan, "precharge", metric, "−") == "−3,447 kPa"
    assert half_text(view.plan, "temperature", metric) == "±5,556 °C"
    assert run_text(90.0, metric) == "1,50 min"
    assert run_text(float("inf"), Display()) == "never stops"
    assert change_text(-0.125, 80.0, metric) == "−12,5 %, −10,0 s"
    assert change_text(0.0, 80.0, Display()) == "0.0 %, 0.0 s"


def test_a_swings_sentence_tells_both_sides_with_the_runs() -> None:
    _, view = studied(tol_flow="10 %")
    assert view.tank is not None
    run = view.tank.nominal_run
    swing = Swing("flow", 1 / 0.9 - 1, 1 / 1.1 - 1)
    said = swing_sentence(swing, view, Display())
    assert said == (
        f"Flow at −10 %: +11.1 %, +{run / 9:.1f} s, {run / 54:.2f} min;"
        f" at +10 %: −9.1 %, −{run / 11:.1f} s, {run / 66:.2f} min"
    )
    assert len({tolerance_name(name) for name in NAMES}) == len(NAMES)


# --- plain data ---


def test_the_record_holds_the_same_figures_with_units_in_its_keys() -> None:
    found, view = studied(tol_flow="10 %", tol_temperature="10 °F", seed="5")
    assert found.ranking is not None
    assert view.tank is not None
    record = json.loads(json.dumps(tolerance_record(view, found.ranking)))
    assert record["required_run_min"] == 1.0
    assert record["service_temperature_f"] == 55.0
    assert record["tolerances"]["gauge_psi"] == 2.0
    assert record["tolerances"]["air_temperature_f"] == 10.0
    assert record["tolerances"]["flow_percent"] == 10.0
    assert (record["cases"], record["seed"]) == (CASES, 5)
    assert record["tank"]["share_met"] == view.tank.share
    assert record["tank"]["verdict"] == view.tank.verdict.name.lower()
    assert [one["tanks"] for one in record["tanks"]] == [
        [part.id for part in found.ranking.judged(row).parts] for row in view.plan.rows
    ]
    worst = record["tank"]["worst_run_min"]
    assert worst == pytest.approx(view.tank.worst_run / 60)
    (flow,) = (one for one in record["swings"] if one["tolerance"] == "flow")
    assert flow["at_minus"]["change_percent"] == pytest.approx(100 / 9)
    assert flow["at_minus"]["change_s"] == pytest.approx(view.tank.nominal_run / 9)
    assert record["working"] == [str(step) for step in tolerance_steps(view, Display())]


def test_the_record_says_never_where_a_number_would_have_no_end() -> None:
    found, view = studied(**TWO_FLOWS, tol_switch_out="20 psi")
    assert found.ranking is not None
    record = json.loads(json.dumps(tolerance_record(view, found.ranking), allow_nan=False))
    (drift,) = (one for one in record["swings"] if one["tolerance"] == "switch_out")
    assert drift["at_plus"] == {"never_stops": True, "change_percent": None, "change_s": None}
    assert record["findings"][0]["code"] == "never_stops"


def test_the_record_refuses_another_catalogues_ranking() -> None:
    _, view = studied()
    other = results(tank("E")).ranking
    assert other is not None
    with pytest.raises(ValueError, match="other candidates"):
        tolerance_record(view, other)


def test_gauge_readings_are_what_is_typed() -> None:
    assert studied(tol_gauge="10 kPa")[1].plan.tolerances.gauge == pytest.approx(10_000.0)
    assert studied(tol_gauge="1 psi")[1].plan.tolerances.gauge == pytest.approx(PSI)
