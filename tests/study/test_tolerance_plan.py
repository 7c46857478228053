"""What the tolerance study rests on: entries read, findings beside them, plans that are equal."""

from __future__ import annotations

from typing import Any

import pytest

from tests.study.build import GAL, PSI, arranged, job, results, tank
from workbench.job.pump_choices import PumpEntry
from workbench.physics.pump import WATER_WEIGHT
from workbench.study.certainty.plan import TolerancePlan, tolerance_plan
from workbench.study.evaluate import evaluate
from workbench.study.findings import Finding, Level
from workbench.study.reader import LARGEST_SEED
from workbench.units import Display

TANKS = (tank("A"), tank("B", total_volume=40), tank("C", diameter=40))
BUCKET: dict[str, Any] = {
    "pump_entry": PumpEntry.BUCKET,
    "bucket_volume": "5 gal",
    "bucket_time": "30 s",
}


def of(**entries: Any) -> tuple[TolerancePlan | None, tuple[Finding, ...]]:
    return tolerance_plan(results(*TANKS, **entries))


def plan(**entries: Any) -> TolerancePlan:
    found, findings = of(**entries)
    assert found is not None, findings
    return found


def told(**entries: Any) -> list[tuple[str, str, str]]:
    return [(one.level.name, one.code, one.field) for one in of(**entries)[1]]


def test_a_plan_holds_the_entries_in_si() -> None:
    found = plan(tol_gauge="1 psi", tol_temperature="9 °F", tol_flow="5 %", seed="7")
    assert found.tolerances.gauge == pytest.approx(1 * PSI)
    assert found.tolerances.temperature == pytest.approx(5.0)
    assert found.tolerances.flow == pytest.approx(0.05)
    assert found.service_temperature == pytest.approx((55 + 459.67) * 5 / 9)
    assert found.required_run == pytest.approx(60.0)
    assert found.seed == 7
    assert of()[1] == ()


def test_bucket_and_watch_count_only_for_a_timed_refill() -> None:
    hidden: dict[str, Any] = {"tol_bucket": "-1 gal", "tol_watch": "-1 s"}
    without = plan(**hidden)
    assert (without.bucket, without.tolerances.bucket, without.tolerances.watch) == (None, 0.0, 0.0)
    measured = plan(**BUCKET)
    assert measured.bucket == pytest.approx((5 * GAL, 30.0))
    assert measured.tolerances.bucket == pytest.approx(0.25 * GAL)
    assert told(**BUCKET, **hidden) == [
        ("STOP", "below_zero", "tol_bucket"),
        ("STOP", "below_zero", "tol_watch"),
    ]


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        ({"tol_gauge": "-1 psi"}, ("STOP", "below_zero", "tol_gauge")),
        ({"tol_temperature": "-1 °F"}, ("STOP", "below_zero", "tol_temperature")),
        ({"tol_flow": "100 %"}, ("STOP", "share_range", "tol_flow")),
        ({"tol_flow": "250 %"}, ("STOP", "share_range", "tol_flow")),
        ({"tol_temperature": "600 °F"}, ("STOP", "reaches_absolute_zero", "tol_temperature")),
        ({"tol_bucket": "5 gal"}, ("STOP", "not_below_whole", "tol_bucket")),
        ({"tol_watch": "31 s"}, ("STOP", "not_below_whole", "tol_watch")),
        ({"seed": "1.5"}, ("STOP", "seed_range", "seed")),
        ({"seed": "-1"}, ("STOP", "seed_range", "seed")),
        ({"seed": str(LARGEST_SEED + 1)}, ("STOP", "seed_range", "seed")),
        ({"first_tank": "sold"}, ("STOP", "tank_gone", "first_tank")),
        ({"tank_temperature": "-500 °F"}, ("STOP", "not_above_zero", "tank_temperature")),
    ],
)
def test_each_wrong_entry_is_told_once_beside_its_field_and_stops_the_study(
    entries: dict[str, Any], expected: tuple[str, str, str]
) -> None:
    found, findings = of(**BUCKET, **entries)
    assert [(one.level.name, one.code, one.field) for one in findings] == [expected]
    if expected[1] == "tank_gone":  # the others can still be studied
        assert found is not None
        assert found.tank is None
    else:
        assert found is None


@pytest.mark.parametrize(
    ("entries", "code", "field", "said"),
    [
        ({"tol_gauge": "31 psi"}, "more_than_whole", "tol_gauge", "pressure itself, 30.0 psi"),
        ({"tol_precharge": "29 psi"}, "more_than_whole", "tol_precharge", "itself, 28.0 psi"),
        (
            {"tol_switch_in": "11 psi", "tol_switch_out": "11 psi"},
            "band_may_vanish", "tol_switch_out", "the band, 20.0 psi",
        ),
    ],
)  # fmt: skip
def test_what_is_larger_than_it_refers_to_is_a_caution(
    entries: dict[str, Any], code: str, field: str, said: str
) -> None:
    found, (finding,) = of(**entries)
    assert found is not None
    assert (finding.level, finding.code, finding.field) == (Level.CAUTION, code, field)
    assert said in finding.sentence(Display())
    assert "{" not in finding.sentence(Display())


def test_cautions_end_where_the_value_is_just_as_large() -> None:
    assert told(tol_gauge="30 psi", tol_switch_in="10 psi", tol_switch_out="10 psi") == []


def test_a_tank_that_fails_by_its_size_is_studied_with_a_caution() -> None:
    entries: dict[str, Any] = {"door_width": "30 in", "first_tank": "c"}
    assert told(**entries) == [("CAUTION", "fails_otherwise", "first_tank")]
    found = plan(**entries)
    assert found.tank not in found.rows
    assert found.studied == (*found.rows, found.tank)


def test_rows_fail_by_nothing_but_too_little_water_and_stand_as_ranked() -> None:
    ranked = results(*TANKS, door_width="30 in", header_tanks=2)
    found, _ = tolerance_plan(ranked)
    assert found is not None
    assert ranked.ranking is not None
    names = [ranked.ranking.judged(row).name for row in found.rows]
    assert names == [
        one.name
        for one in map(ranked.ranking.row, range(len(ranked.ranking)))
        if "C" not in one.name
    ]
    assert "B" in names
    assert found.tank == int(ranked.ranking.order[0])


def test_results_findings_are_not_told_again() -> None:
    wrong = results(*TANKS, tank_temperature="-500 °F", reading_altitude="100 ft")
    assert any(one.code == "not_above_zero" for one in wrong.findings)
    found, findings = tolerance_plan(wrong)
    assert found is None
    assert findings == ()


def test_without_a_catalogue_or_a_ranking_there_is_no_plan() -> None:
    assert tolerance_plan(results())[0] is None
    assert tolerance_plan(results(*TANKS, cut_out="20 psi"))[0] is None
    assert tolerance_plan(evaluate(job(), arranged([])))[0] is None


def test_a_curve_that_ends_a_hair_above_cut_in_is_told_and_not_studied() -> None:
    """Within rounding, which the sizing forgives; the study does not."""
    last = WATER_WEIGHT * (125 - 40) * 0.3048 / PSI
    curve = "0 gpm 230 ft\n3 gpm 180 ft\n6 gpm 125 ft"
    hair: dict[str, Any] = {
        "pump_entry": PumpEntry.CURVE,
        "water_level": "40 ft",
        "curve": curve,
        "cut_in": f"{last * (1 - 5e-13):.15f} psi",
        "cut_out": "60 psi",
    }
    found, findings = of(**hair)
    assert found is None
    assert [(one.code, one.field) for one in findings] == [("outside_data", "curve")]


@pytest.mark.parametrize(
    "entries",
    [
        {"tol_gauge": "1 psi"}, {"seed": "2"}, {"tank_temperature": "60 °F"},
        {"pump_flow": "11 gpm"}, {"run_time": "2 min"}, {"cut_out": "55 psi"},
        {"altitude": "900 ft"}, {"first_tank": "b"}, {"order": "longest_run"},
        {"door_width": "30 in"}, {"curve": "0 gpm 200 ft\n3 gpm 190 ft\n6 gpm 180 ft"},
    ],
)  # fmt: skip
def test_a_plan_differs_with_whatever_its_figures_rest_on(entries: dict[str, Any]) -> None:
    shelf = arranged(TANKS)
    usual, _ = tolerance_plan(evaluate(job(), shelf))
    other, _ = tolerance_plan(evaluate(job(**entries), shelf))
    assert usual is not None
    assert other is not None
    assert usual != other


def test_a_plan_is_the_same_whatever_else_changes() -> None:
    shelf = arranged(TANKS)
    plans = [
        tolerance_plan(evaluate(job(**entries), shelf))[0]
        for entries in ({}, {"title": "Cabin"}, {"people": "6"}, {"steady_draw": "3 gpm"})
    ]
    assert plans[0] is not None
    assert all(one == plans[0] for one in plans)
