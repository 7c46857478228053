"""``size``: the same numbers as the evaluation, as text and as JSON."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from workbench import cli, paths
from workbench.job import document
from workbench.job.choices import Order, RunTimeRule
from workbench.job.fields import sizing_fields
from workbench.job.job import Job
from workbench.study.desk import load_candidates
from workbench.study.evaluate import evaluate
from workbench.units import VOLUME

if TYPE_CHECKING:
    from tests.cli.conftest import Run

GAL = VOLUME.units["gal"].factor
USUAL = ("size", "--pump-flow", "10 gpm", "--cut-in", "30 psi", "--cut-out", "50 psi")
MINUTE = ("--run-time", "1 min")


def test_json_has_the_numbers_of_the_evaluation(run: Run, catalog: Path) -> None:
    data = run(*USUAL, *MINUTE, "--catalog", catalog, "--json").data
    job = Job()
    found = evaluate(job, load_candidates(catalog, job)[1])
    assert found.sizing is not None
    assert found.ranking is not None
    assert found.precharge is not None
    assert data["required_drawdown_gal"] == pytest.approx(found.sizing.required / GAL, rel=1e-11)
    assert data["drawdown_factor"] == found.sizing.factor
    assert data["total_volume_gal"] == pytest.approx(found.sizing.total_volume / GAL, rel=1e-11)
    assert data["precharge_psi"] == 28.0
    assert len(data["ranking"]) == len(found.ranking) == 4
    for position, row in enumerate(data["ranking"]):
        one = found.ranking.row(position)
        assert (row["id"], row["tanks"], row["passes"]) == (one.tank.id, one.count, one.passes)
        assert row["drawdown_gal"] == pytest.approx(one.drawdown / GAL, rel=1e-11)
        assert row["margin_gal"] == pytest.approx(one.margin / GAL, rel=1e-9)
        assert row["price"] == one.price


def test_json_says_what_it_was_computed_from(run: Run, catalog: Path) -> None:
    data = run(*USUAL, *MINUTE, "--catalog", catalog, "--json").data
    assert data["catalog"] == "invented.csv"
    assert (data["pump_flow_gpm"], data["run_time_min"]) == (10.0, 1.0)
    assert (data["cut_in_psi"], data["cut_out_psi"]) == (30.0, 50.0)
    assert data["ambient_psia"] == pytest.approx(14.696, abs=0.001)
    assert data["exponent"] == 1.0
    assert (data["rule"], data["order"]) == ("typed", "lowest_price")
    assert data["worst_starts_per_hour"] == 15.0


def test_the_text_leads_with_the_answer_and_ranks_what_passes(run: Run, catalog: Path) -> None:
    ran = run(*USUAL, *MINUTE, "--catalog", catalog)
    assert ran.status == 0
    assert ran.err == ""
    lines = ran.out.splitlines()
    assert lines[0] == ("Required drawdown 10.0 gal (1.00 min run, 15.0 starts an hour at worst)")
    assert lines[1] == "Precharge 28.0 psi, tank drained"
    marked = [line for line in lines if line[:3].strip() in {"1", "2", "3", "–"}]
    assert [line.split("  ")[1:] for line in (" ".join(m.split(" ")) for m in marked)]
    assert "Invented 85" in marked[0]
    assert marked[0].startswith("  1  ")
    assert marked[-1].startswith("  –  ")
    assert "Gives 25.1 gal of 10.0 gal required" in ran.out


def test_the_precharge_in_the_text_is_the_one_to_set_where_it_is_set(
    run: Run, catalog: Path
) -> None:
    arguments = (*USUAL, *MINUTE, "--catalog", catalog, "--altitude", "5000 ft")
    plain = run(*arguments).out.splitlines()[1]
    carried = run(*arguments, "--reading-altitude", "0 ft").out.splitlines()[1]
    assert plain == "Precharge 28.0 psi, tank drained"
    assert carried == (
        "Precharge 25.5 psi where it is set, tank drained, to be 28.0 psi in service"
    )


def test_findings_are_printed_with_their_level(run: Run, catalog: Path) -> None:
    out = run(*USUAL, "--run-time", "30 s", "--catalog", catalog).out
    assert "caution: Shorter than the usual 1 min for this flow." in out


def test_rows_of_the_catalogue_that_cannot_be_used_are_not_passed_over(
    run: Run, catalog: Path
) -> None:
    assert run(*USUAL, *MINUTE, "--catalog", catalog, "--json").data["catalog_rows_not_used"] == 0
    text = catalog.read_text(encoding="utf-8").replace("30,,18,35", "thirty,,18,35")
    catalog.write_text(text, encoding="utf-8")
    data = run(*USUAL, *MINUTE, "--catalog", catalog, "--json").data
    assert data["catalog_rows_not_used"] == 1
    assert len(data["ranking"]) == 3
    assert "cannot be used: 1. See check-catalog." in run(*USUAL, *MINUTE, "--catalog", catalog).out


def test_without_a_catalogue_named_the_shipped_one_is_ranked(run: Run) -> None:
    data = run(*USUAL, *MINUTE, "--json").data
    assert data["catalog"] == paths.default_catalog().name
    assert len(data["ranking"]) > 20


OPTIONS: list[tuple[tuple[str, ...], dict[str, Any]]] = [
    (("--rule", "steps"), {"run_time_rule": RunTimeRule.STEPS}),
    (("--starts-limit", "8 /h"), {"run_time_rule": RunTimeRule.STARTS, "starts_limit": "8 /h"}),
    ((*MINUTE, "--precharge", "26 psi"), {"precharge_rule": "typed", "precharge": "26 psi"}),
    ((*MINUTE, "--precharge-rule", "cut_in"), {"precharge_rule": "cut_in"}),
    ((*MINUTE, "--order", "longest_run"), {"order": Order.RUN_TIME}),
    ((*MINUTE, "--tanks", "3"), {"header_tanks": 3}),
    ((*MINUTE, "--any-water"), {"potable_required": False}),
    ((*MINUTE, "--altitude", "1500 m"), {"altitude": "1500 m"}),
    ((*MINUTE, "--altitude", "-50 m"), {"altitude": "-50 m"}),
    ((*MINUTE, "--exponent", "1.2"), {"exponent": "1.2"}),
    ((*MINUTE, "--door-width", "24 in", "--headroom", "1,2 m"),
     {"door_width": "24 in", "headroom": "1.2 m"}),
    ((*MINUTE, "--pressure-margin", "1 bar"), {"pressure_margin": "1 bar"}),
    ((*MINUTE, "--reading-temperature", "70 °F", "--tank-temperature", "45 °F"),
     {"reading_temperature": "70 °F", "tank_temperature": "45 °F"}),
    ((*MINUTE, "--mixed"), {"mixed_sets": True}),
    ((*MINUTE, "--well-yield", "4 gpm"), {"well_yield": "4 gpm"}),
]  # fmt: skip
POINTS = "0 gpm 280 ft; 5 gpm 262 ft; 10 gpm 225 ft; 15 gpm 150 ft"
CURVE = ("--curve", POINTS, "--water-level", "90 ft", *MINUTE)
PUMPS: list[tuple[tuple[str, ...], dict[str, Any]]] = [
    (("--flow-at-cut-in", "12 gpm", "--flow-at-cut-out", "8 gpm", *MINUTE),
     {"pump_entry": "two_flows", "flow_at_cut_in": "12 gpm", "flow_at_cut_out": "8 gpm"}),
    (("--bucket-volume", "5 gal", "--bucket-time", "35 s", *MINUTE),
     {"pump_entry": "bucket", "bucket_volume": "5 gal", "bucket_time": "35 s"}),
    (CURVE, {"pump_entry": "curve", "curve": POINTS, "water_level": "90 ft"}),
    ((*CURVE, "--pipe-length", "150 ft", "--pipe", "galvanized", "--pipe-size", "1-1/4",
      "--fittings", "40 %"),
     {"pump_entry": "curve", "curve": POINTS, "water_level": "90 ft", "pipe_length": "150 ft",
      "pipe_material": "galvanized", "pipe_size": "1-1/4", "fittings": "40 %"}),
    ((*CURVE, "--pump-flow", "7 gpm", "--pump", "constant"), {"pump_flow": "7 gpm"}),
    (("--pump-flow", "7 gpm", "--water-level", "90 ft", *MINUTE), {"pump_flow": "7 gpm"}),
]  # fmt: skip


@pytest.mark.parametrize(("options", "entries"), OPTIONS)
def test_every_option_is_an_entry_of_the_job(
    options: tuple[str, ...], entries: dict[str, Any], run: Run, catalog: Path
) -> None:
    data = run(*USUAL, *options, "--catalog", catalog, "--json").data
    job = Job().changed(**entries)
    found = evaluate(job, load_candidates(catalog, job)[1])
    assert found.sizing is not None
    assert found.ranking is not None
    assert found.setting is not None
    assert data["rule"] == found.sizing.chosen.rule.value
    assert data["required_drawdown_gal"] == pytest.approx(found.sizing.required / GAL, rel=1e-11)
    assert data["drawdown_factor"] == found.sizing.factor
    expected = [found.ranking.row(k) for k in range(len(found.ranking))]
    assert [(row["id"], row["tanks"], row["passes"]) for row in data["ranking"]] == [
        (one.tank.id, one.count, one.passes) for one in expected
    ]


@pytest.mark.parametrize(("options", "entries"), PUMPS)
def test_what_is_entered_of_the_pump_tells_how_it_is_known(
    options: tuple[str, ...], entries: dict[str, Any], run: Run, catalog: Path
) -> None:
    ran = run("size", *USUAL[3:], *options, "--catalog", catalog, "--json")
    assert ran.status == 0, ran.err
    job = Job().changed(**entries)
    found = evaluate(job, load_candidates(catalog, job)[1])
    assert found.sizing is not None
    assert found.duty is not None
    assert ran.data["required_drawdown_gal"] == pytest.approx(found.sizing.required / GAL, rel=1e-9)
    assert ran.data["pump_flow_gpm"] == pytest.approx(found.duty.pump_flow / GAL * 60, rel=1e-9)


def test_a_pump_entered_on_top_of_a_saved_job_is_the_one_that_counts(
    run: Run, catalog: Path, tmp_path: Path
) -> None:
    path = tmp_path / "site.tankjob.json"
    saved = Job().changed(pump_entry="curve", curve=POINTS, water_level="90 ft")
    document.write(saved, path)
    plain = run("size", path, "--catalog", catalog, "--json").data
    deeper = run("size", path, "--water-level", "110 ft", "--catalog", catalog, "--json").data
    assert deeper["pump_flow_gpm"] < plain["pump_flow_gpm"]
    flow = run("size", path, "--pump-flow", "8 gpm", "--catalog", catalog, "--json").data
    assert flow["pump_flow_gpm"] == 8.0


def test_a_pair_of_different_tanks_is_named_by_both(run: Run, catalog: Path) -> None:
    arguments = (*USUAL, *MINUTE, "--catalog", catalog, "--mixed", "--tanks", "2")
    out = run(*arguments).out
    assert "  Invented 30 + Invented 85  34.0 gal" in out
    assert "  2 × Invented 30  17.7 gal" in out
    assert "2 × Invented 30 +" not in out
    rows = run(*arguments, "--json").data["ranking"]
    (pair,) = [row for row in rows if row["set"] == "Invented 30 + Invented 85"]
    assert (pair["id"], pair["beside"], pair["tanks"]) == ("small", ["usual"], 2)
    assert pair["price"] == 1100.0


def test_size_offers_the_benchs_entries_and_the_pumps_and_no_others(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with pytest.raises(SystemExit):
        cli.main(["size", "--help"])
    out = capsys.readouterr().out
    offered = set(re.findall(r"^  (--[a-z-]+)", out, re.MULTILINE))
    quantities = {f"--{name.replace('_', '-')}" for name in sizing_fields()}
    assert quantities < offered
    assert offered - quantities == {
        *("--rule", "--precharge-rule", "--order", "--pump", "--pipe", "--pipe-size"),
        *("--tanks", "--mixed", "--any-water", "--catalog", "--json"),
    }
    assert "30 to 55 % (common" in " ".join(out.split())
    assert "%%" not in out


def test_a_saved_job_is_sized_and_options_go_on_top_of_it(
    run: Run, catalog: Path, tmp_path: Path
) -> None:
    path = tmp_path / "site.tankjob.json"
    document.write(Job().changed(pump_flow="12 gpm", run_time="2 min"), path)
    before = path.read_bytes()
    plain = run("size", path, "--catalog", catalog, "--json").data
    assert plain["required_drawdown_gal"] == pytest.approx(24.0)
    changed = run("size", path, "--run-time", "1 min", "--catalog", catalog, "--json").data
    assert changed["required_drawdown_gal"] == pytest.approx(12.0)
    assert path.read_bytes() == before


def test_a_run_time_on_top_of_a_saved_job_counts_whatever_rule_it_was_saved_with(
    run: Run, catalog: Path, tmp_path: Path
) -> None:
    path = tmp_path / "site.tankjob.json"
    document.write(Job().changed(run_time_rule=RunTimeRule.STEPS), path)
    data = run("size", path, "--run-time", "3 min", "--catalog", catalog, "--json").data
    assert data["rule"] == "typed"
    assert data["required_drawdown_gal"] == pytest.approx(30.0)


def test_the_demo_job_can_be_sized(run: Run) -> None:
    ran = run("size", paths.demo_job(), "--json")
    assert ran.status == 0
    assert any(row["passes"] for row in ran.data["ranking"])
