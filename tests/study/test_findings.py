"""Every finding is produced by some job, beside the right entry, at the right level."""

from __future__ import annotations

import ast
from pathlib import Path
from typing import Any

import pytest

from tests.study.build import TWO_FLOWS, job, results, tank
from workbench import study
from workbench.job.fields import fields
from workbench.study.evaluate import evaluate
from workbench.study.findings import Finding, Level
from workbench.units import Display, System

NOTE, CAUTION, STOP = Level.NOTE, Level.CAUTION, Level.STOP
TYPED = {"precharge_rule": "typed"}
TWO = TWO_FLOWS | {"run_time": "1.5 min"}
BUCKET = {"pump_entry": "bucket", "bucket_volume": "5 gal", "bucket_time": "30 s"}
WHOLE = "0 gpm 280 ft; 5 gpm 262 ft; 10 gpm 225 ft; 15 gpm 150 ft"
CURVE = {
    "pump_entry": "curve",
    "curve": WHOLE,
    "water_level": "90 ft",
    "pipe_length": "120 ft",
    "pipe_size": "1-1/4",
    "run_time": "1.5 min",
}

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
    ("unread", "flow_at_cut_in", STOP, TWO | {"flow_at_cut_in": "12"}),
    ("unread", "flow_at_cut_out", STOP, TWO | {"flow_at_cut_out": "few"}),
    ("unread", "flow_in_at", STOP, TWO | {"flow_in_at": "low"}),
    ("unread", "flow_out_at", STOP, TWO | {"flow_out_at": "50"}),
    ("below_zero", "flow_in_at", STOP, TWO | {"flow_in_at": "-1 psi"}),
    ("below_zero", "flow_out_at", STOP, TWO | {"flow_out_at": "-1 psi"}),
    ("measured_upside_down", "flow_out_at", STOP, TWO | {"flow_in_at": "50 psi"}),
    ("unread", "bucket_volume", STOP, BUCKET | {"bucket_volume": "a bucket"}),
    ("unread", "bucket_time", STOP, BUCKET | {"bucket_time": "30"}),
    ("unread", "curve", STOP, CURVE | {"curve": "0 gpm 280 ft; 5 gpm"}),
    ("unread", "water_level", STOP, CURVE | {"water_level": "deep"}),
    ("unread", "pipe_length", STOP, CURVE | {"pipe_length": "long"}),
    ("unread", "pipe_bore", STOP, CURVE | {"pipe_bore": "1"}),
    ("unread", "pipe_roughness", STOP, CURVE | {"pipe_roughness": "smooth"}),
    ("unread", "fittings", STOP, CURVE | {"fittings": "some"}),
    # Nothing of the sizing rests on these; and with one flow none of the pipe's entries counts.
    ("unread", "pump_efficiency", CAUTION, CURVE | {"pump_efficiency": "good"}),
    ("unread", "well_yield", CAUTION, CURVE | {"well_yield": "plenty"}),
    ("unread", "pump_efficiency", CAUTION, {"pump_efficiency": "good"}),
    ("unread", "well_yield", CAUTION, {"well_yield": "plenty"}),
    ("unread", "water_level", CAUTION, {"water_level": "deep"}),
    ("unread", "pipe_length", CAUTION, {"pipe_length": "long"}),
    ("unread", "pipe_bore", CAUTION, {"pipe_bore": "1"}),
    ("unread", "pipe_roughness", CAUTION, {"pipe_roughness": "smooth"}),
    ("unread", "fittings", CAUTION, {"fittings": "some"}),
    ("needed", "flow_at_cut_in", STOP, TWO | {"flow_at_cut_in": None}),
    ("needed", "flow_at_cut_out", STOP, TWO | {"flow_at_cut_out": None}),
    ("needed", "bucket_volume", STOP, BUCKET | {"bucket_volume": None}),
    ("needed", "bucket_time", STOP, BUCKET | {"bucket_time": None}),
    ("needed", "curve", STOP, CURVE | {"curve": None}),
    ("needed", "water_level", STOP, CURVE | {"water_level": None}),
    ("not_above_zero", "flow_at_cut_in", STOP, TWO | {"flow_at_cut_in": "0 gpm"}),
    ("not_above_zero", "flow_at_cut_out", STOP, TWO | {"flow_at_cut_out": "0 gpm"}),
    ("not_above_zero", "bucket_volume", STOP, BUCKET | {"bucket_volume": "0 gal"}),
    ("not_above_zero", "bucket_time", STOP, BUCKET | {"bucket_time": "-1 s"}),
    ("not_above_zero", "pipe_bore", STOP, CURVE | {"pipe_bore": "0 in"}),
    ("not_above_zero", "pipe_roughness", STOP, CURVE | {"pipe_roughness": "0"}),
    ("not_above_zero", "pipe_roughness", CAUTION, {"pipe_roughness": "-140"}),
    ("not_above_zero", "pump_efficiency", CAUTION, {"pump_efficiency": "0 %"}),
    ("not_above_zero", "well_yield", CAUTION, {"well_yield": "0 gpm"}),
    ("below_zero", "pipe_length", STOP, CURVE | {"pipe_length": "-1 ft"}),
    ("below_zero", "pipe_length", CAUTION, {"pipe_length": "-1 ft"}),
    ("below_zero", "fittings", STOP, CURVE | {"fittings": "-1 %"}),
    ("share_range", "fittings", STOP, CURVE | {"fittings": "1001 %"}),
    ("share_range", "fittings", CAUTION, {"fittings": "1001 %"}),
    ("share_range", "pump_efficiency", CAUTION, {"pump_efficiency": "101 %"}),
    ("flows_rise", "flow_at_cut_out", STOP, TWO | {"flow_at_cut_out": "12.1 gpm"}),
    ("curve_unfit", "curve", STOP, CURVE | {"curve": ""}),
    ("curve_unfit", "curve", STOP, CURVE | {"curve": "0 gpm 280 ft; 15 gpm 150 ft"}),
    ("curve_unfit", "curve", STOP, CURVE | {"curve": WHOLE + "; 16 gpm 151 ft"}),
    ("curve_unfit", "curve", STOP, CURVE | {"curve": WHOLE + "; 14 gpm 140 ft"}),
    (
        "curve_too_short",
        "curve",
        STOP,
        CURVE | {"curve": "11 gpm 205 ft; 13 gpm 180 ft; 15 gpm 120 ft"},
    ),
    (
        "curve_ends_early",
        "curve",
        STOP,
        CURVE | {"curve": "0 gpm 280 ft; 5 gpm 262 ft; 9 gpm 235 ft"},
    ),
    ("cannot_reach", "cut_out", STOP, CURVE | {"water_level": "165 ft"}),
    ("cannot_reach", "cut_out", STOP, CURVE | {"water_level": "300 ft"}),
    ("reach_small", "cut_out", CAUTION, CURVE | {"water_level": "160 ft"}),
    ("reach_small", "cut_out", CAUTION, TWO | {"flow_at_cut_out": "2 gpm"}),
    ("velocity_high", "pipe_size", CAUTION, CURVE | {"pipe_size": "3/4"}),
    ("velocity_high", "pipe_size", CAUTION, {"pipe_bore": "0.9 in"}),
    ("velocity_high", "pipe_size", CAUTION, {"pipe_length": "9 ft", "pipe_size": "3/4"}),
    ("no_friction", "pipe_length", CAUTION, CURVE | {"pipe_length": None}),
    (
        "fill_unknown",
        "flow_at_cut_out",
        STOP,
        TWO | {"cut_in": "0 psi", "cut_out": f"0.{'0' * 30}1 psi", "precharge_rule": "cut_in"},
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
    TWO,
    BUCKET,
    CURVE,
    CURVE | {"fittings": "1000 %", "pipe_length": "1 ft", "pump_efficiency": "100 %"},
    CURVE | {"water_level": "-10 ft", "cut_in": "70 psi", "cut_out": "80 psi"},  # well on a hill
    CURVE | {"pipe_length": "0 ft"},
    CURVE | {"curve": "9 gpm 240 ft; 13 gpm 180 ft; 15 gpm 120 ft"},  # no shut-off, but cut-out
    TWO | {"flow_at_cut_out": "12 gpm"},  # a constant flow
    TWO | {"flow_at_cut_out": "7 gpm"},  # shut-off 10.3 psi above cut-out
    {"flow_at_cut_in": "?", "curve": "?", "bucket_time": "?"},  # not what the pump is known by
    TWO | {"pump_flow": "?", "curve": "?", "bucket_volume": "0 gal"},
    CURVE | {"pump_flow": "?", "flow_at_cut_out": "0 gpm"},
    {"water_level": "90 ft", "pipe_length": "100 ft", "well_yield": "3 gpm"},
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


def _parts_of_evaluate() -> set[Path]:
    """The modules of the study that evaluating a job needs: those of single pages are not."""
    folder = Path(study.__file__).parent
    known, new = set(), {folder / "evaluate.py"}
    while new:
        path = new.pop()
        known.add(path)
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(study.__name__):
                inside = str(node.module).removeprefix(study.__name__ + ".").replace(".", "/")
                new.add(folder / f"{inside}.py")
        new -= known
    return known


def _codes_in_the_source() -> set[str]:
    """The second argument of every Finding(…) and report(…) call in what evaluates a job."""
    codes = set()
    for path in _parts_of_evaluate():
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
    assert len(source) >= 28
    # A large catalogue is needed: test_mixed_sets; a page that draws at random: test_days.
    elsewhere = {"not_all_paired", "seed_range"}
    assert {code for code, *_ in PRODUCED} == source - elsewhere


def test_every_field_of_a_finding_is_an_input() -> None:
    assert {field for _, field, *_ in PRODUCED} <= {*fields(), "bands", "pipe_size"}


@pytest.mark.parametrize(
    "entries",
    [
        {"precharge": "50 psi", **TYPED},
        {"reading_temperature": "70"},
        {"reading_altitude": "40000 ft"},
        {"tank_temperature": "?", "reading_temperature": "70 °F"},
        {"cut_in": "fifty"},
        {"precharge": "?", **TYPED},
        CURVE | {"water_level": "170 ft"},  # the pump would never stop at this band
        CURVE | {"curve": "11 gpm 205 ft; 13 gpm 180 ft; 15 gpm 120 ft"},
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


def test_what_a_pump_reaches_is_told_in_the_readers_units() -> None:
    """280 ft less 165 ft are 115 ft or 35.052 m, and ρ g times that 343.6 kPa or 49.8 psi."""
    (finding,) = results(**CURVE | {"water_level": "165 ft"}).findings
    assert "49.8 psi" in finding.told(Display())
    assert "344 kPa" in finding.told(Display(System.METRIC))


def test_the_speed_in_a_pipe_is_that_of_the_flow_at_cut_in() -> None:
    """0.4085 Q / d²: 12 gpm in 0.9 in run at 6.05 ft/s."""
    (finding,) = results(**TWO, pipe_bore="0.9 in").findings
    assert "6.1 ft/s" in finding.told(Display())
    assert "1.84 m/s" in finding.told(Display(System.METRIC))


def test_a_stop_elsewhere_in_the_pump_leaves_the_precharge_to_be_set() -> None:
    for entries in (CURVE | {"curve": None}, TWO | {"flow_at_cut_out": "13 gpm"}):
        found = results(tank(), **entries)
        assert found.precharge is not None
        assert found.sizing is None


def test_too_much_air_and_too_little_head_are_told_at_once() -> None:
    entries = CURVE | TYPED | {"precharge": "60 psi", "water_level": "170 ft"}
    codes = {finding.code for finding in results(**entries).of_level(STOP)}
    assert codes == {"precharge_above_cut_out", "cannot_reach"}


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
