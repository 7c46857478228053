"""``faults``: a fault set loose in the job's system, what it shows, and what tells it apart."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from workbench.cli.asked import Asked, ask, needed_with_tank
from workbench.cli.options import add_job_options, add_quantities, add_tank, own_group
from workbench.cli.output import answer, finding_lines
from workbench.cli.refusal import RefusalError, refuse_stops
from workbench.job.options import option
from workbench.job.teach_choices import Degree, Fault
from workbench.units import Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.faults.view import FaultsView

_US = Display()
_QUANTITIES = (
    *("live_volume", "steady_draw", "relief_setting", "line_give", "start_delay"),
    *("tol_gauge", "tol_precharge", "tol_bucket", "tol_watch"),
)
_CHOICES: dict[str, type[Fault] | type[Degree]] = {"fault": Fault, "degree": Degree}


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("faults", help=tr("a fault set loose, and what tells it apart"))
    parser.description = tr(
        "What gauge, ear and tap tell of a fault in the job's system, every reading that could be"
        " taken beside that of a sound one, and which readings tell it from other faults."
    )
    group = own_group(parser)
    for name in _CHOICES:
        group.add_argument(f"--{name}", choices=_values(name), metavar="CHOICE", help=_help(name))
    add_tank(group)
    add_quantities(group, _QUANTITIES)
    add_job_options(parser)
    parser.set_defaults(run=_run)


def _values(name: str) -> list[str]:
    return [one.value for one in _CHOICES[name]]


def _help(name: str) -> str:
    entry = option(name)
    values = "; ".join(f"{value.value}: {label}" for value, label in entry.labels.items())
    text = tr("{label}. {values} (left out: that of the job)", label=entry.label, values=values)
    return text.replace("%", "%%")


def _run(options: argparse.Namespace) -> int:
    asked = _with_choices(ask(options, needed_with_tank(options)), options)
    from workbench.study.faults.record import faults_record

    live, view = asked.results.live, asked.results.faults
    refuse_stops((*live.findings, *view.findings))
    if view.healthy is None:
        raise RefusalError(live.why)
    record = asked.source | faults_record(asked.results, asked.findings)
    return answer(record, [*_lines(view, record), *finding_lines(record)], as_json=options.json)


def _with_choices(asked: Asked, options: argparse.Namespace) -> Asked:
    """The same job with the fault that the options name."""
    from workbench.study.evaluate import evaluate

    changes = {
        name: choice(value)
        for name, choice in _CHOICES.items()
        if (value := getattr(options, name)) is not None
    }
    if not changes:
        return asked
    job = asked.results.job.changed(**changes)
    return replace(asked, results=evaluate(job, asked.results.candidates))


def _lines(view: FaultsView, record: dict[str, Any]) -> Iterator[str]:
    from workbench.study.faults.words import (
        alike_text,
        apart_texts,
        can_be_taken,
        fault_name,
        reason_text,
        tolerance_text,
        tools_text,
        value_text,
        verdict_text,
    )

    yield tr("{tank}: {fault}. {size}", tank=record["tank"], fault=fault_name(view.fault),
             size=record["size"])  # fmt: skip
    yield tr("Gauge: {told}", told=record["gauge"])
    yield tr("Ear: {told}", told=record["ear"])
    yield tr("Tap: {told}", told=record["tap"])
    yield tr("Readings:")
    for row in filter(can_be_taken, view.rows):
        reading = row.reading
        yield "  " + tr(
            "{name} ({tools}): sound {sound}, now {now} {tolerance} - {verdict}",
            name=reading.name,
            tools=tools_text(reading),
            sound=value_text(row.healthy, reading, _US),
            now=value_text(row.faulty, reading, _US),
            tolerance=tolerance_text(row.faulty, reading, _US),
            verdict=verdict_text(row),
        ).replace("  ", " ")
        if row.faulty.value is None:
            yield f"    {reason_text(row)}"
    yield tr("Other faults:")
    for one in view.others:
        if one.is_alike:
            yield f"  {fault_name(one.fault)}: {alike_text(one)}"
    for reading_name, told in apart_texts(view.others):
        yield f"  {reading_name} {told}"
    yield tr("Remedy: {told}", told=record["remedy"])
    yield from record["cautions"]
