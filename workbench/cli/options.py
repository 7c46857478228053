"""What can be given on the command line: quantities, choices, tanks, and where answers go."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from enum import Enum
from pathlib import Path
from typing import Any

from workbench.cli.refusal import option_of, place_of
from workbench.job.choices import Order, PrechargeRule, RunTimeRule
from workbench.job.fields import Field, fields, sizing_fields
from workbench.job.house_choices import DemandMethod
from workbench.job.job import Job
from workbench.job.options import option
from workbench.job.paper_choices import SolveFor
from workbench.job.pump_choices import MotorLimit, PipeMaterial, PipeSize, PumpEntry
from workbench.words import tr

CHOICES: dict[str, type[Enum]] = {
    "pump_entry": PumpEntry,
    "pipe_material": PipeMaterial,
    "pipe_size": PipeSize,
    "run_time_rule": RunTimeRule,
    "precharge_rule": PrechargeRule,
    "order": Order,
    "motor_limit": MotorLimit,
    "demand_method": DemandMethod,
    "solve_for": SolveFor,
}
"""The entries that are chosen from a list; on the command line each by its value in a job file."""
TANKS = ("first_tank", "second_tank")
MOTOR = ("motor_power", "own_starts_hour", "own_starts_day", "own_rest")


def add_job_options(parser: argparse.ArgumentParser) -> None:
    """A job file, all that sizing goes by, the catalogue, and JSON."""
    parser.epilog = tr(
        "What is left out is as in JOBFILE; without one as in a new job, told as (new job: …), but"
        " what the answer cannot do without must then be given."
    )
    parser.add_argument("job", nargs="?", type=Path, metavar="JOBFILE", help=tr("a saved job"))
    group = parser.add_argument_group(tr("pump, switch, site and tanks"))
    add_quantities(group, sizing_fields())
    add_choice(group, "pump_entry", tr("told by the options given, where it is left out"))
    for name in ("pipe_material", "pipe_size", "run_time_rule", "precharge_rule", "order"):
        add_choice(group, name)
    group.add_argument(
        "--tanks", type=int, choices=(1, 2, 3), help=tr("most tanks on a header (new job: 1)")
    )
    group.add_argument(
        "--mixed", action="store_true", help=tr("also offer pairs of different tanks")
    )
    group.add_argument(
        "--any-water",
        action="store_true",
        help=tr("also offer tanks without a potable-water listing"),
    )
    group.add_argument(
        "--catalog", type=Path, metavar="FILE", help=tr("catalogue of tanks; the demo's if none")
    )
    add_json(parser)


def add_json(parser: argparse.ArgumentParser) -> None:
    """Ask for JSON in place of text."""
    parser.add_argument("--json", action="store_true", help=tr("print JSON"))


def own_group(parser: argparse.ArgumentParser) -> argparse._ArgumentGroup:
    """The group for the options of one question alone."""
    return parser.add_argument_group(tr("for this question"))


def add_quantities(parser: argparse._ActionsContainer, names: Iterable[str]) -> None:
    """An option for each of these quantities."""
    every, new = fields(), Job()
    for name in names:
        text = _help(every[name], getattr(new, name))
        parser.add_argument(option_of(name), metavar="TEXT", help=text)


def _help(field: Field, default: Any) -> str:
    told = (
        tr("left out: {meaning}", meaning=field.empty)
        if default is None
        else tr("new job: {default}", default=default)
    )
    text = tr("{label}. {help} ({told})", label=field.label, help=field.help, told=told)
    return text.replace("%", "%%")  # argparse fills in "%"


def add_choice(parser: argparse._ActionsContainer, name: str, remark: str = "") -> None:
    """An option for an entry that is chosen from a list.

    Args:
        remark: told in the place of a new job's choice.
    """
    entry = option(name)
    values = "; ".join(f"{value.value}: {label}" for value, label in entry.labels.items())
    default = remark or tr("new job: {value}", value=getattr(Job(), name).value)
    text = tr("{label}. {values} ({default})",
              label=entry.label, values=values, default=default)  # fmt: skip
    parser.add_argument(
        option_of(name),
        choices=[value.value for value in CHOICES[name]],
        metavar="CHOICE",
        help=text.replace("%", "%%"),
    )


def add_motor(parser: argparse._ActionsContainer) -> None:
    """The motor's limit, and its own statements."""
    add_choice(parser, "motor_limit")
    add_quantities(parser, MOTOR)


def add_tank(parser: argparse._ActionsContainer, name: str = "first_tank") -> None:
    """A tank of the catalogue, or several on one header."""
    left_out = tr("the first of “size”") if name == "first_tank" else tr("none")
    text = tr(
        "Tank by its id in the catalogue; several on one header as “a + a” with --tanks, or as"
        " “a + b” with --mixed. (left out: {left_out})",
        left_out=left_out,
    )
    parser.add_argument(option_of(name), dest=place_of(name), metavar="ID", help=text)
