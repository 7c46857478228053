"""``precharge``: every number is that of the evaluation, and what stands in the way is said."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tests.cli import figures, shift_figures
from tests.cli.any_job import any_job
from workbench.job import document
from workbench.job.job import Job
from workbench.study.desk import load_candidates
from workbench.study.evaluate import evaluate
from workbench.study.findings import Level

if TYPE_CHECKING:
    from tests.cli.conftest import Run

Refused = Callable[..., str]
BAND = ("--cut-in", "30 psi", "--cut-out", "50 psi")
USUAL = ("--pump-flow", "10 gpm", *BAND, "--live-volume", "44 gal")


def jobs() -> list[Job]:
    """Jobs of every page, with entries of this one."""
    chance = random.Random(20260425)
    found = []
    for _ in range(40):
        entries: dict[str, Any] = {
            "live_volume": chance.choice([None, "44 gal", "200 L", "0 gal"]),
            "line_give": chance.choice(["0.005 gal", "0.2 L", "0 gal"]),
            "start_delay": chance.choice(["0 s", "1 s", "3 s"]),
        }
        if chance.random() < 0.6:
            charge = chance.choice(["0 psi", "18 psi", "29 psi", "38 psi", "2.2 bar", "90 psi"])
            entries |= {"precharge_rule": "typed", "precharge": charge}
        found.append(any_job(chance).changed(**entries))
    return found


def test_every_number_is_the_one_evaluated(run: Run, catalog: Path, tmp_path: Path) -> None:
    path, answered, refusals = tmp_path / "job.tankjob.json", 0, 0
    for job in jobs():
        document.write(job, path)
        ran = run("precharge", path, "--catalog", catalog, "--json")
        results = evaluate(job, load_candidates(catalog, job)[1])
        told = (*results.findings, *results.shift.findings)
        expected = shift_figures.shift(results.shift)
        if any(one.level is Level.STOP for one in told) or expected is None:
            assert (ran.status, ran.out) == (2, "")
            assert ran.err.startswith("tank-workbench: ")
            refusals += 1
            continue
        assert ran.status == 0, ran.err
        printed, wanted = figures.numbers(ran.data), figures.numbers(expected)
        assert printed.pop(("catalog_rows_not_used",)) == 0
        assert printed.keys() == wanted.keys()
        for key, value in wanted.items():
            assert printed[key] == pytest.approx(value, rel=1e-8, abs=1e-9), key
        assert [one["code"] for one in ran.data["findings"]] == [one.code for one in told]
        plain = run("precharge", path, "--catalog", catalog)
        for one in ran.data["findings"]:
            assert f"{one['level']}: {one['text']} {one['remedy']}".strip() in plain.out
        assert "None" not in plain.out
        assert "nan" not in plain.out
        answered += 1
    assert answered >= 15
    assert refusals >= 3


def test_the_text_says_what_the_slip_costs(run: Run) -> None:
    out = run("precharge", *USUAL, "--precharge", "38 psi").out
    assert "Tank of 44 gal, 38.0 psi: 8.2 gal\nOvercharged: the tank is empty at 38.0 psi" in out
    assert "the taps falter 1.3 s" in out
    assert "Recommended 28.0 psi: 13.0 gal" in out
    assert "−0.68 gal" in out
    assert "power off, locked out and proven dead" in out


def test_a_tank_of_the_catalogue_is_named_or_the_first_of_the_ranking(
    run: Run, catalog: Path
) -> None:
    asked = ("precharge", "--pump-flow", "10 gpm", *BAND, "--catalog", catalog)
    named = run(*asked, "--tank", "usual", "--json").data
    assert named["tank"] == "Invented 85"
    assert named["acceptance_gal"] == pytest.approx(60.0)
    assert run(*asked, "--run-time", "1 min", "--json").data["tank"] == "Invented 85"


def test_what_it_cannot_do_without_is_asked_for(refused: Refused, catalog: Path) -> None:
    asked = ("precharge", "--catalog", catalog)
    assert "--pump-flow" in refused(*asked, *BAND, "--live-volume", "44 gal")
    assert "--cut-in" in refused(*asked, "--pump-flow", "9 gpm", "--live-volume", "44 gal")
    assert "--run-time" in refused(*asked, "--pump-flow", "9 gpm", *BAND)
    assert "--live-volume: " in refused("precharge", *USUAL[:-1], "0 gal")
    assert "--tank: " in refused(*asked, "--pump-flow", "9 gpm", *BAND, "--tank", "elsewhere")
