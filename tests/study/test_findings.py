"""Every finding is produced by some job, beside the right entry, at the right level."""

from __future__ import annotations

import ast
from pathlib import Path
from typing import Any

import pytest

from tests.study.build import job, results, tank
from workbench import study
from workbench.job.fields import fields
from workbench.study.evaluate import evaluate
from workbench.study.findings import Finding, Level
from workbench.units import Display, System

NOTE, CAUTION, STOP = Level.NOTE, Level.CAUTION, Level.STOP
TYPED = {"precharge_rule": "typed"}

# code, field, level, entries that produce it
PRODUCED: list[tuple[str, str, Level, dict[str, Any]]] = [
    ("unread", "pump_flow", STOP, {"pump_flow": "ten gpm"}),
    ("unread", "run_time", STOP, {"run_time": "1"}),
    ("unread", "run_time", CAUTION, {"run_time": "1", "run_time_rule": "steps"}),
    ("unread", "run_time", CAUTION, {"run_time": "1", "run_time_rule": "starts"}),
    ("unread", "starts_limit", CAUTION, {"starts_limit": "6"}),
    ("unread", "starts_limit", STOP, {"starts_limit": "6", "run_time_rule": "starts"}),
    ("unread", "cut_in", STOP, {"cut_in": "30 psia"}),
    ("unread", "cut_out", STOP, {"cut_out": "1,500 kPa"}),
    ("unread", "precharge", STOP, {"precharge": "soft", **TYPED}),
    ("unread", "altitude", STOP, {"altitude": "high"}),
    ("unread", "exponent", STOP, {"exponent": "1.2 psi"}),
    ("unread", "tank_temperature", CAUTION, {"tank_temperature": "cold"}),
    ("unread", "tank_temperature", STOP, {"tank_temperature": "?", "reading_altitude": "0 ft"}),
    ("unread", "reading_temperature", STOP, {"reading_temperature": "70"}),
    ("unread", "reading_altitude", STOP, {"reading_altitude": "70"}),
    ("unread", "door_width", STOP, {"door_width": "wide"}),
    ("unread", "headroom", STOP, {"headroom": "tall"}),
    ("unread", "pressure_margin", STOP, {"pressure_margin": "some"}),
    ("unread", "bands", CAUTION, {"bands": "low/high"}),
    ("not_above_zero", "pump_flow", STOP, {"pump_flow": "0 gpm"}),
    ("not_above_zero", "pump_flow", STOP, {"pump_flow": "-3 gpm"}),
    ("not_above_zero", "run_time", STOP, {"run_time": "0 min"}),
    ("not_above_zero", "run_time", CAUTION, {"run_time": "0 min", "run_time_rule": "steps"}),
    ("not_above_zero", "starts_limit", CAUTION, {"starts_limit": "0 /h"}),
    ("not_above_zero", "starts_limit", STOP, {"starts_limit": "0 /h", "run_time_rule": "starts"}),
    ("not_above_zero", "cut_out", STOP, {"cut_in": "0 psi", "cut_out": "0 psi"}),
    ("not_above_zero", "door_width", STOP, {"door_width": "0 in"}),
    ("not_above_zero", "headroom", STOP, {"headroom": "-1 in"}),
    ("not_above_zero", "reading_temperature", STOP, {"reading_temperature": "-500 °F"}),
    ("below_zero", "cut_in", STOP, {"cut_in": "-1 psi"}),
    ("below_zero", "precharge", STOP, {"precharge": "-1 psi", **TYPED}),
    ("below_zero", "pressure_margin", STOP, {"pressure_margin": "-1 psi"}),
    ("altitude_range", "altitude", STOP, {"altitude": "12000 m"}),
    ("altitude_range", "altitude", STOP, {"altitude": "-5001 m"}),
    ("altitude_range", "reading_altitude", STOP, {"reading_altitude": "40000 ft"}),
    ("band_upside_down", "cut_out", STOP, {"cut_in": "50 psi", "cut_out": "30 psi"}),
    ("band_upside_down", "cut_out", STOP, {"cut_in": "50 psi", "cut_out": "50 psi"}),
    ("exponent_range", "exponent", STOP, {"exponent": "0.9"}),
    ("exponent_range", "exponent", STOP, {"exponent": "1.41"}),
    ("precharge_below_zero", "cut_in", STOP, {"cut_in": "1 psi", "cut_out": "20 psi"}),
    ("precharge_above_cut_out", "precharge", STOP, {"precharge": "50 psi", **TYPED}),
    ("precharge_above_cut_out", "precharge", STOP, {"precharge": "60 psi", **TYPED}),
    ("precharge_above_cut_in", "precharge", CAUTION, {"precharge": "38 psi", **TYPED}),
    ("precharge_low", "precharge", NOTE, {"precharge": "24 psi", **TYPED}),
    ("static_above_80", "cut_out", CAUTION, {"cut_in": "61 psi", "cut_out": "81 psi"}),
    ("band_narrow", "cut_out", CAUTION, {"cut_out": "39.9 psi"}),
    ("flow_unusual", "pump_flow", CAUTION, {"pump_flow": "61 gpm", "run_time": "2 min"}),
    ("run_short", "run_time", CAUTION, {"run_time": "50 s"}),
    ("run_short", "run_time", CAUTION, {"pump_flow": "12 gpm"}),
    ("run_short", "starts_limit", CAUTION, {"starts_limit": "20 /h", "run_time_rule": "starts"}),
    ("band_low", "bands", NOTE, {"bands": "1/20, 30/50 psi"}),
    (
        "where_set_below_zero",
        "reading_altitude",
        STOP,
        {"precharge": "1 psi", "altitude": "5000 ft", "reading_altitude": "0 ft", **TYPED},
    ),
]

# What lies just on the good side of a limit, and must not be remarked on.
QUIET: list[dict[str, Any]] = [
    {},
    {"cut_in": "60 psi", "cut_out": "80 psi"},
    {"precharge": "25 psi", **TYPED},
    {"precharge": "30 psi", **TYPED},
    {"precharge_rule": "cut_in_less_5_psi"},
    {"pump_flow": "60 gpm", "run_time": "2 min"},
    {"pump_flow": "20 gpm", "run_time": "1.5 min"},
    {"exponent": "1.4"},
    {"altitude": "11000 m"},
    {"precharge": "nonsense"},  # not used by the rule
    {"door_width": "28 in", "headroom": "2 m"},
    {"pressure_margin": "0 psi"},
    {"bands": ""},
    {"starts_limit": "15 /h", "run_time_rule": "starts"},
    {"pump_flow": "600 gph", "run_time_rule": "steps"},
]


@pytest.mark.parametrize(("code", "field", "level", "entries"), PRODUCED)
def test_a_finding_stands_beside_the_entry_that_caused_it(
    code: str, field: str, level: Level, entries: dict[str, Any]
) -> None:
    found = results(tank(), **entries)
    (finding,) = [one for one in found.findings if one.code == code and one.field == field]
    assert finding.level is level
    assert finding.text
    assert "{" not in finding.sentence(Display())
    if level is not NOTE:
        assert finding.remedy
    if level is not STOP:
        assert found.of_level(STOP) == ()
        assert found.ranking is not None


@pytest.mark.parametrize("entries", QUIET)
def test_what_is_usual_is_not_remarked_on(entries: dict[str, Any]) -> None:
    assert results(tank(), **entries).findings == ()


@pytest.mark.parametrize("cut_in", range(10, 81))
def test_a_band_of_exactly_10_psi_is_not_narrow(cut_in: int) -> None:
    found = results(cut_in=f"{cut_in} psi", cut_out=f"{cut_in + 10} psi")
    assert "band_narrow" not in {finding.code for finding in found.findings}


def _codes_in_the_source() -> set[str]:
    """The second argument of every Finding(…) and report(…) call in the package."""
    codes = set()
    for path in Path(study.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or len(node.args) < 4:
                continue
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            second = node.args[1]
            if name in {"Finding", "report"} and isinstance(second, ast.Constant):
                codes.add(str(second.value))
    return codes


def test_no_finding_is_left_without_a_job_that_produces_it() -> None:
    source = _codes_in_the_source()
    assert len(source) >= 15
    assert {code for code, *_ in PRODUCED} == source


def test_every_field_of_a_finding_is_an_input() -> None:
    assert {field for _, field, *_ in PRODUCED} <= {*fields(), "bands"}


@pytest.mark.parametrize(
    "entries",
    [
        {"precharge": "50 psi", **TYPED},
        {"reading_temperature": "70"},
        {"reading_altitude": "40000 ft"},
        {"tank_temperature": "?", "reading_temperature": "70 °F"},
        {"cut_in": "fifty"},
        {"precharge": "?", **TYPED},
    ],
)
def test_a_stop_against_the_precharge_withholds_it(entries: dict[str, Any]) -> None:
    assert results(**entries).precharge is None


def test_a_stop_elsewhere_leaves_the_precharge_to_be_set() -> None:
    found = results(tank(), pump_flow="ten", door_width="wide")
    assert found.precharge is not None
    assert found.sizing is None
    assert found.ranking is None


def test_an_unread_limit_ranks_nothing_but_still_sizes() -> None:
    found = results(tank(), headroom="tall")
    assert found.sizing is not None
    assert found.ranking is None


def test_everything_that_is_wrong_is_told_at_once() -> None:
    found = results(pump_flow="?", cut_in="?", altitude="?", door_width="?", exponent="2")
    assert {finding.field for finding in found.of_level(STOP)} == {
        "pump_flow",
        "cut_in",
        "altitude",
        "door_width",
        "exponent",
    }


def test_the_gap_without_water_is_told_in_the_readers_units() -> None:
    (finding,) = results(precharge="38 psi", **TYPED).findings
    assert "8.0 psi" in finding.told(Display())
    assert "55 kPa" in finding.told(Display(System.METRIC))


def test_without_a_catalogue_there_is_no_ranking_and_no_finding_about_it() -> None:
    found = evaluate(job(), None)
    assert found.ranking is None
    assert found.sizing is not None
    assert found.findings == ()


def test_a_finding_cannot_be_changed() -> None:
    finding = Finding(NOTE, "a", "b", "c")
    with pytest.raises(AttributeError):
        finding.text = "d"  # type: ignore[misc]
