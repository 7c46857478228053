"""``pump`` to ``tolerance``: every number is that of the evaluation which the window shows."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tests.cli import band_figures, figures
from tests.cli.any_job import any_job
from workbench.job import document
from workbench.job.job import Job
from workbench.study.certainty.plan import tolerance_plan
from workbench.study.certainty.view import run_plan
from workbench.study.day.plan import day_plan
from workbench.study.day.simulated import simulate_day, simulate_year
from workbench.study.desk import load_candidates
from workbench.study.evaluate import Results, evaluate
from workbench.study.findings import Finding, Level

if TYPE_CHECKING:
    from tests.cli.conftest import Run

JOBS = 48
CASES = 1000
Answer = tuple[Sequence[Finding], dict[str, Any] | None]
"""What stands in the way of a question, and the figures that answer it (None: it does)."""


@lru_cache
def jobs() -> tuple[Job, ...]:
    chance = random.Random(20260412)
    return tuple(any_job(chance) for _ in range(JOBS))


def stopped(*findings: Finding) -> bool:
    return any(finding.level is Level.STOP for finding in findings)


def _of_view(
    name: str, tell: Callable[[Any], dict[str, Any]] | None = None
) -> Callable[[Results], Answer]:
    attribute = {"demand": "house"}.get(name, name)

    def answer(results: Results) -> Answer:
        view = getattr(results, attribute)
        if view is None or stopped(*results.findings, *view.findings):
            return () if view is None else view.findings, None
        return view.findings, (tell or getattr(figures, name))(view)

    return answer


def day(results: Results, *, with_year: bool = False) -> Answer:
    plan, found = day_plan(results)
    if plan is None:
        return found, None
    view = simulate_day(plan)
    year = simulate_year(plan) if with_year else None
    sound = not stopped(*results.findings, *found)
    return (*found, *view.findings), figures.day(view, year) if sound else None


def tolerance(results: Results) -> Answer:
    plan, found = tolerance_plan(results)
    if plan is None:
        return found, None
    view = run_plan(replace(plan, cases=CASES), lambda _share: True)
    assert view is not None
    sound = not stopped(*results.findings, *found)
    return (*found, *view.findings), figures.tolerance(view) if sound else None


QUESTIONS: dict[str, Callable[[Results], Answer]] = {
    "day": day,
    "tolerance": tolerance,
    "bands": _of_view("bands", band_figures.bands),
    **{name: _of_view(name) for name in ("pump", "cycle", "demand", "header", "drive")},
}
FEWEST_ANSWERS = {"day": 15, "tolerance": 15, "header": 15, "drive": 15}
NAMES = {
    "first_tank": "tank",
    "second_tank": "second-tank",
    "motor_limit": "motor",
    "demand_method": "method",
}


@pytest.mark.parametrize("name", QUESTIONS)
def test_every_number_is_the_one_evaluated(
    name: str, run: Run, catalog: Path, tmp_path: Path
) -> None:
    more = ("--cases", str(CASES)) if name == "tolerance" else ()
    path, answered = tmp_path / "job.tankjob.json", 0
    for job in jobs():
        document.write(job, path)
        ran = run(name, path, "--catalog", catalog, "--json", *more)
        results = evaluate(job, load_candidates(catalog, job)[1])
        found, expected = QUESTIONS[name](results)
        told = (*results.findings, *found)
        stops = [finding for finding in told if finding.level is Level.STOP]
        assert ran.status == (2 if stops else 0), ran.err
        if stops:
            assert ran.out == ""
            field = stops[0].field
            assert f"--{NAMES.get(field, field.replace('_', '-'))}: " in ran.err
            continue
        assert expected is not None
        assert_same(ran.data, expected)
        assert [one["code"] for one in ran.data["findings"]] == [one.code for one in told]
        answered += 1
    assert FEWEST_ANSWERS.get(name, 24) <= answered, "hardly any job was answered"
    assert name == "pump" or answered < JOBS, "no job was refused"


def assert_same(record: dict[str, Any], expected: dict[str, Any]) -> None:
    printed, wanted = figures.numbers(record), figures.numbers(expected)
    assert printed.pop(("catalog_rows_not_used",)) == 0
    assert printed.keys() == wanted.keys()
    for path, value in wanted.items():
        assert printed[path] == pytest.approx(value, rel=1e-8, abs=1e-9), path


def test_the_year_has_the_numbers_of_the_evaluation(
    run: Run, catalog: Path, tmp_path: Path
) -> None:
    job = Job().changed(
        header_tanks=2, first_tank="usual", second_tank="small + small", leak="40 gal/d",
        water_level="80 ft", pump_efficiency="45 %", seed="9",
    )  # fmt: skip
    path = tmp_path / "job.tankjob.json"
    document.write(job, path)
    ran = run("day", path, "--catalog", catalog, "--year", "--json")
    results = evaluate(job, load_candidates(catalog, job)[1])
    _found, expected = day(results, with_year=True)
    assert expected is not None
    assert len(ran.data["year"]) == 2
    assert_same(ran.data, expected)
    text = run("day", path, "--catalog", catalog, "--year").out
    assert f"{ran.data['year'][1]['mean_starts_per_day']:.1f} starts on a mean day" in text


@pytest.mark.parametrize("name", QUESTIONS)
def test_the_text_tells_every_note_and_caution(
    name: str, run: Run, catalog: Path, tmp_path: Path
) -> None:
    more = ("--cases", str(CASES)) if name == "tolerance" else ()
    path, told = tmp_path / "job.tankjob.json", 0
    for job in jobs()[:16]:
        document.write(job, path)
        data = run(name, path, "--catalog", catalog, "--json", *more)
        ran = run(name, path, "--catalog", catalog, *more)
        assert (ran.status, ran.err) == (data.status, data.err)
        if ran.status:
            continue
        for one in data.data["findings"]:
            told += 1
            assert f"{one['level']}: {one['text']} {one['remedy']}".strip() in ran.out
        assert "None" not in ran.out
        assert "nan" not in ran.out.split()
    assert told
