"""``exercises``: the files are the sheets of the program, the JSON is the set of the study."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tests.report.reading import reader
from workbench.cli.papers import new_job
from workbench.job import document
from workbench.job.job import Job
from workbench.report.exercise_questions import question_of
from workbench.report.exercises import sheet_content
from workbench.report.plain_text import plain_text
from workbench.report.typeset import pdf
from workbench.study.evaluate import evaluate
from workbench.study.exercises.exercise import Figure, Hunt, Pick
from workbench.study.exercises.making import exercise_set
from workbench.study.exercises.marking import right_answer
from workbench.units import Display, System

if TYPE_CHECKING:
    from tests.cli.conftest import Run

ROOT = Path(__file__).resolve().parents[2]
UNITS = pytest.mark.parametrize("units", ["us", "metric"])
ANSWERS = ("answer", "right", "slips", "tolerance", "answers", "working", "shown", "cheapest",
           "degree")  # fmt: skip


def content_of(job: Job, units: str = "us") -> Any:
    return sheet_content(evaluate(job, None), Display(System(units)))


@UNITS
@pytest.mark.parametrize("key", [False, True])
def test_the_file_is_the_sheet_of_the_program(
    run: Run, tmp_path: Path, units: str, key: bool
) -> None:
    out = tmp_path / "sheet.pdf"
    more = ("--key",) if key else ()
    ran = run("exercises", "--seed", 7, "--count", 6, "--units", units, *more, "-o", out)
    assert (ran.status, ran.err) == (0, "")
    job = new_job().changed(
        exercise_seed="7", exercise_count="6", sheet_for="trainer" if key else "class"
    )
    made = content_of(job, units)
    assert out.read_bytes() == pdf(made)
    assert ran.out == f"sheet.pdf: PDF, pages: {len(reader(out.read_bytes()).pages)}\n"
    text = run("exercises", "--seed", 7, "--count", 6, "--units", units, *more, "--text")
    assert text.out == plain_text(made)


@UNITS
def test_the_json_is_the_set_and_tells_answers_with_the_key_alone(run: Run, units: str) -> None:
    asked = ("exercises", "--seed", 3, "--count", 15, "--units", units, "--json")
    job = new_job().changed(exercise_seed="3", exercise_count="15")
    made = exercise_set(job, Display(System(units))).exercises
    plain, key = run(*asked).data, run(*asked, "--key").data
    assert (plain["seed"], plain["units"], plain["sheet_for"]) == (3, units, "class")
    assert key["sheet_for"] == "trainer"
    for one, question, answer in zip(made, plain["exercises"], key["exercises"], strict=True):
        assert question["title"] == one.title
        assert question["question"] == question_of(one)
        assert [(row["name"], row["text"]) for row in question["given"]] == list(one.given)
        assert not question.keys() & set(ANSWERS)
        assert answer.items() >= question.items()
        assert answer["answer"] == right_answer(one)
        assert [step["numbers"] for step in answer["working"]] == [s.numbers for s in one.working]
        check_answer(answer, one.ask)


def check_answer(told: dict[str, Any], ask: Figure | Pick | Hunt) -> None:
    if isinstance(ask, Figure):
        unit = ask.kind.units[told["answer_in"]]
        assert (told["right"] + unit.zero) * unit.factor == pytest.approx(ask.right)
        assert told["tolerance"] * unit.factor == pytest.approx(ask.tolerance)
        assert list(told["slips"]) == [slip.value for slip, _ in ask.slips]
        for slip, value in ask.slips:
            assert (told["slips"][slip.value] + unit.zero) * unit.factor == pytest.approx(value)
    elif isinstance(ask, Pick):
        assert told["options"] == [one.text for one in ask.options]
        assert told["right"] == ask.right
        assert [one["why"] for one in told["answers"]] == [one.why for one in ask.options]
    else:
        assert told["right"] == ask.fault.value
        assert told["right"] in told["faults"]
        assert [one["key"] for one in told["readings"]] == list(told["shown"])
        assert told["shown"] == {one.key: one.shown for one in ask.offered}
        assert told["cheapest"] == list(ask.cheapest)


def test_topics_are_named_with_commas(run: Run) -> None:
    told = run("exercises", "--topics", "tank, readings", "--count", 4, "--json").data
    topics = [one["topic"] for one in told["exercises"]]
    assert topics == ["tank", "readings", "tank", "readings"]


def test_a_saved_job_gives_what_no_option_says(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "class.tankjob.json"
    document.write(
        Job().changed(exercise_seed="9", exercise_count="3", topic_fault=False,
                      class_name="Apprentices", sheet_for="trainer"),
        path,
    )  # fmt: skip
    before = path.read_bytes()
    told = run("exercises", path, "--json").data
    assert (told["seed"], len(told["exercises"]), told["sheet_for"]) == (9, 3, "trainer")
    assert "fault" not in [one["topic"] for one in told["exercises"]]
    assert run("exercises", path, "--seed", 4, "--json").data["seed"] == 4
    assert "Apprentices" in run("exercises", path, "--text").out
    assert path.read_bytes() == before


def test_file_and_json_can_be_had_at_once(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    told = run("exercises", "--count", 2, "-o", out, "--json").data
    assert len(told["exercises"]) == 2
    assert out.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ((), "say where to write it"),
        (("--json", "--text"), "either --text or --json"),
        (("-o", "sheet.doc"), "must end in .pdf or .txt"),
        (("--text", "--seed", "1.5"), "--seed: "),
        (("--text", "--seed", "-1"), "--seed: "),
        (("--text", "--seed", "one"), "--seed: "),
        (("--text", "--count", "0"), "--count: "),
        (("--text", "--count", "41"), "--count: "),
        (("--text", "--count", "5 gal"), "--count: "),
        (("--text", "--topics", "tank,pumps"), "there is no “pumps”; there are precharge, tank"),
        (("--text", "--topics", ""), "--topics: "),
        (("--text", "--units", "imperial"), "--units"),
    ],
)
def test_what_cannot_be_used_is_refused(
    arguments: tuple[str, ...], why: str, refused: Callable[..., str]
) -> None:
    assert why in refused("exercises", *arguments)


def test_stops_of_a_saved_job_are_told_at_their_options(
    refused: Callable[..., str], tmp_path: Path
) -> None:
    path = tmp_path / "class.tankjob.json"
    topics = dict.fromkeys(
        ("topic_precharge", "topic_tank", "topic_fault", "topic_readings", "topic_complaint"), False
    )
    document.write(Job().changed(class_date="soon", **topics), path)
    told = refused("exercises", path, "--text")
    assert "--topics: No topic is ticked." in told
    assert "--class-date: “soon” is no date." in told


def test_it_needs_no_qt() -> None:
    code = (
        "import sys; from workbench.cli import main;"
        "main(['exercises', '--count', '5', '--json']);"
        "assert not any(name.startswith(('PySide6', 'pyqtgraph')) for name in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, check=False)
    assert done.returncode == 0, done.stderr.decode()
