"""From the options to a job."""

from __future__ import annotations

import argparse
from typing import Any

from workbench.cli.options import CHOICES, TANKS
from workbench.cli.refusal import RefusalError, option_of, place_of
from workbench.job.choices import PrechargeRule, RunTimeRule
from workbench.job.fields import fields
from workbench.job.house_choices import DemandMethod
from workbench.job.job import Job
from workbench.job.pump_choices import MotorLimit, PumpEntry
from workbench.job.typed import What
from workbench.units import UnitError, parse, parse_pairs
from workbench.words import tr

KNOWN_BY = {
    PumpEntry.CONSTANT: ("pump_flow",),
    PumpEntry.TWO_FLOWS: ("flow_at_cut_in", "flow_at_cut_out"),
    PumpEntry.CURVE: ("curve", "water_level"),
    PumpEntry.BUCKET: ("bucket_volume", "bucket_time"),
}
"""What each way of knowing the pump needs; all but the water level also tell the way."""
_GOES_WITH = {
    "precharge": ("precharge_rule", PrechargeRule.TYPED),
    "own_starts_hour": ("motor_limit", MotorLimit.OWN),
    "own_starts_day": ("motor_limit", MotorLimit.OWN),
    "own_rest": ("motor_limit", MotorLimit.OWN),
    "peak_demand": ("demand_method", DemandMethod.TYPED),
}
"""Quantities that count only with one choice: they make it, and another beside them is refused."""


def quantity(text: str, what: What, option: str) -> Any:
    """Read a quantity, or pairs of them. Raises RefusalError."""
    try:
        if isinstance(what, tuple):
            return parse_pairs(text, what)
        assert what is not None  # noqa: S101 - a list of bands is no option
        return parse(text, what, default="" if not what.us else None)
    except UnitError as error:
        raise RefusalError(f"{option}: {error} {error.remedy}") from error


def job_from(options: argparse.Namespace, base: Job) -> Job:
    """The job that the options describe, on top of ``base``. Raises RefusalError."""
    changes: dict[str, Any] = {
        name: quantity(text, field.kind, option_of(name))
        for name, field in fields().items()
        if (text := getattr(options, name, None)) is not None
    }
    for name, choice in CHOICES.items():
        if value := getattr(options, place_of(name), None):
            changes[name] = choice(value)
    for name in TANKS:
        if (key := getattr(options, place_of(name), None)) is not None:
            changes[name] = key.strip()
    _make_choices(changes)
    if getattr(options, "tanks", None):
        changes["header_tanks"] = options.tanks
    if getattr(options, "any_water", False):
        changes["potable_required"] = False
    if getattr(options, "mixed", False):
        changes["mixed_sets"] = True
    return base.changed(**changes)


def _make_choices(changes: dict[str, Any]) -> None:
    """Choose what follows from the quantities that were entered."""
    for name, (choice, wanted) in _GOES_WITH.items():
        if name in changes and changes.setdefault(choice, wanted) is not wanted:
            raise RefusalError(
                tr("{option}: goes only with {choice} {value}.",
                   option=option_of(name), choice=option_of(choice), value=wanted.value)
            )  # fmt: skip
    if "run_time" in changes:
        changes.setdefault("run_time_rule", RunTimeRule.TYPED)
    if "starts_limit" in changes:
        changes.setdefault("run_time_rule", RunTimeRule.STARTS)
    if told := _pump_told(changes):
        changes.setdefault("pump_entry", told)


def _pump_told(changes: dict[str, Any]) -> PumpEntry | None:
    """How the pump is known, by what was entered of it; None where nothing tells."""
    if entry := changes.get("pump_entry"):
        return PumpEntry(entry)
    told = {
        entry: name
        for entry, names in KNOWN_BY.items()
        for name in names
        if name in changes and name != "water_level"  # a well has one whatever the pump
    }
    if len(told) > 1:
        raise RefusalError(
            tr("{options}: the pump is known by one of them; say which with --pump.",
               options=", ".join(map(option_of, told.values())))
        )  # fmt: skip
    return next(iter(told), None)


def needed_of_pump(options: argparse.Namespace) -> tuple[str, ...]:
    """What must be entered of the pump, by what was."""
    entered = {name: value for name, value in vars(options).items() if value is not None}
    entered["pump_entry"] = options.pump
    return KNOWN_BY[_pump_told(entered) or PumpEntry.CONSTANT]


def needed_of_run(options: argparse.Namespace) -> tuple[str, ...]:
    """What must be entered for the run-time rule."""
    by_limit = RunTimeRule.STARTS if options.starts_limit else RunTimeRule.TYPED
    rule = RunTimeRule(options.rule) if options.rule else by_limit
    return {RunTimeRule.TYPED: ("run_time",), RunTimeRule.STARTS: ("starts_limit",)}.get(rule, ())
