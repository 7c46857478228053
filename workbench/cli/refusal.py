"""Input that cannot be used is refused in one line."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, NoReturn

from workbench.units import Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.findings import Finding

_NAMES = {
    "pump_entry": "pump",
    "pipe_material": "pipe",
    "run_time_rule": "rule",
    "motor_limit": "motor",
    "demand_method": "method",
    "first_tank": "tank",
    "header_tanks": "tanks",
    "mixed_sets": "mixed",
    "solve_for": "for",
    "solve_volume": "tank_volume",
}
"""Entries whose option has another name than they have."""


class RefusalError(Exception):
    """Input that cannot be used; its text is the one line that the user reads."""


class Parser(argparse.ArgumentParser):
    """argparse, but an error is one line."""

    def error(self, message: str) -> NoReturn:
        """Refuse in the place of printing the usage."""
        raise RefusalError(message)


def option_of(entry: str) -> str:
    """The option of an entry of the job, such as "--cut-in"."""
    return "--" + _NAMES.get(entry, entry).replace("_", "-")


def place_of(entry: str) -> str:
    """The name of an entry's option in the parsed options."""
    return _NAMES.get(entry, entry)


def refuse_stops(findings: Iterable[Finding]) -> None:
    """Raise a refusal that tells all stops among the findings, if there are any."""
    from workbench.study.findings import Level

    stops = [finding for finding in findings if finding.level is Level.STOP]
    if stops:
        raise RefusalError("; ".join(map(_told, stops)))


def _told(stop: Finding) -> str:
    sentence = stop.sentence(Display())
    return f"{option_of(stop.field)}: {sentence}" if stop.field else sentence


def refuse_missing(names: Sequence[str]) -> None:
    """Raise a refusal that names the options of these entries, if there are any."""
    if names:
        options = ", ".join(map(option_of, names))
        raise RefusalError(tr("these options are needed: {options}", options=options))
