"""``exercises``: a sheet of exercises or its key, as PDF, plain text or JSON."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path
from typing import Any

from workbench.cli.entered import quantity
from workbench.cli.options import add_json
from workbench.cli.papers import hand_over, new_job, refuse_place
from workbench.cli.refusal import RefusalError, refuse_stops
from workbench.file_reasons import shown
from workbench.job import document
from workbench.job.job import Job
from workbench.job.options import option
from workbench.job.teach_choices import SheetFor
from workbench.units import NUMBER, Display, System
from workbench.words import tr

TOPICS = ("precharge", "tank", "fault", "readings", "complaint")
_OPTIONS = {"exercise_seed": "seed", "exercise_count": "count", "topic_precharge": "topics"}
"""Entries whose option here has another name than they have."""


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("exercises", help=tr("a sheet of exercises, or its key"))
    parser.description = tr(
        "Write exercises on precharge, tank and faults: for the class the questions, with --key for"
        " the trainer the answers, what each wrong one tells, and the working. The same seed and"
        " topics give the same sheet, on every computer."
    )
    parser.add_argument(
        "job", nargs="?", type=Path, metavar="JOBFILE",
        help=tr("a saved job, with its topics, seed and class; as in a new job where it is left"
                " out"),
    )  # fmt: skip
    new = Job()
    parser.add_argument(
        "--seed", metavar="NUMBER",
        help=tr("a whole number (new job: {default})", default=new.exercise_seed),
    )  # fmt: skip
    parser.add_argument(
        "--count", metavar="NUMBER",
        help=tr("how many exercises (new job: {default})", default=new.exercise_count),
    )  # fmt: skip
    topics = "; ".join(f"{name}: {option(f'topic_{name}').tick}" for name in TOPICS)
    parser.add_argument(
        "--topics", metavar="LIST",
        help=tr("one or more, with commas between. {topics} (new job: all)", topics=topics),
    )  # fmt: skip
    parser.add_argument("--key", action="store_true", help=tr("the trainer's key to the sheet"))
    parser.add_argument(
        "-o", "--output", type=Path, metavar="FILE",
        help=tr("where the sheet is written: a PDF, or as plain text where the name ends in .txt"),
    )  # fmt: skip
    parser.add_argument(
        "--text", action="store_true", help=tr("plain text; printed where no FILE is named")
    )
    parser.add_argument(
        "--units", choices=[one.value for one in System], default=System.US.value,
        help=tr("the units of the exercises (US customary ones where it is left out)"),
    )  # fmt: skip
    add_json(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    refuse_place(options)  # before anything takes its time
    from workbench.report.exercise_record import exercises_record
    from workbench.report.exercises import date_findings, sheet_content
    from workbench.report.paper_display import paper_display
    from workbench.study.evaluate import evaluate
    from workbench.study.exercises.making import exercise_set

    job = _job(options)
    display = Display(System(options.units))
    made = exercise_set(job, paper_display(job, display))
    found = (*made.findings, *date_findings(job))
    refuse_stops(replace(one, field=_OPTIONS.get(one.field, one.field)) for one in found)
    content = sheet_content(evaluate(job, None), display, lambda _job, _display: made)
    return hand_over(options, content, exercises_record(job, made))


def _job(options: argparse.Namespace) -> Job:
    """The job of the file, or a new one, with what the options say.

    Raises:
        RefusalError, JobError: it cannot be used.
    """
    job = new_job() if options.job is None else document.read(options.job)
    changes: dict[str, Any] = {
        entry: quantity(text, NUMBER, f"--{name}")
        for entry, name in (("exercise_seed", "seed"), ("exercise_count", "count"))
        if (text := getattr(options, name)) is not None
    }
    if options.topics is not None:
        changes |= _ticks(options.topics)
    if options.key:
        changes["sheet_for"] = SheetFor.TRAINER
    return job.changed(**changes)


def _ticks(text: str) -> dict[str, bool]:
    asked = {name.strip() for name in text.split(",")}
    unknown = sorted(asked - set(TOPICS))
    if unknown:
        raise RefusalError(
            tr(
                "--topics: there is no “{name}”; there are {names}.",
                name=shown(unknown[0]),
                names=", ".join(TOPICS),
            )
        )
    return {f"topic_{name}": name in asked for name in TOPICS}
