"""``drive``: the tank of a variable-speed pump, against what the drive's maker states."""

from __future__ import annotations

import argparse
import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from workbench.cli.asked import ask
from workbench.cli.demand import FIXTURES
from workbench.cli.options import add_job_options, add_motor, add_quantities, add_tank, own_group
from workbench.cli.output import answer, finding_lines
from workbench.cli.refusal import refuse_missing, refuse_stops
from workbench.units import FLOW, PRESSURE, STARTS_PER_DAY, VOLUME, Display, distinct
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.drive.view import DriveView, Reserve

STATED = ("drive_set", "drive_wake", "drive_tank", "drive_share", "drive_ramp", "drive_step")
"""What the drive's maker states; the last may be left out."""
_US = Display()


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("drive", help=tr("the tank of a variable-speed pump"))
    parser.description = tr(
        "The tank of a variable-speed pump: precharge, reserve, and whether it carries a sudden"
        " draw until the pump is at speed, by what the drive's maker states."
    )
    group = own_group(parser)
    add_quantities(group, (*STATED, "leak", *FIXTURES[2:]))
    add_tank(group)
    add_motor(group)
    add_job_options(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = ask(options)
    from workbench.study.drive.record import drive_record

    view = asked.results.drive
    refuse_stops(view.findings)
    refuse_missing(view.missing)
    record = asked.source | drive_record(asked.results)
    return answer(record, [*_lines(view), *finding_lines(record)], as_json=options.json)


def _lines(view: DriveView) -> Iterator[str]:
    stated, reserve, needed = view.pressures, view.reserve, view.needed
    assert stated is not None  # noqa: S101 - what was missing was refused
    assert reserve is not None  # noqa: S101
    assert needed is not None  # noqa: S101
    yield _verdict(view, reserve, needed)
    yield tr("Precharge {pressure} on the gauge", pressure=_US.text(stated.precharge, PRESSURE))
    if view.draw is not None:
        yield tr("Sudden draw {flow}", flow=_US.text(view.draw.flow, FLOW))
    if reserve.lowest is not None:
        yield tr("The pressure falls to {lowest} meanwhile, beginning just above wake",
                 lowest=_US.text(reserve.lowest, PRESSURE))  # fmt: skip
    if view.volume_needed is not None:
        yield _volume(view.volume_needed)
    if view.leak and view.leak_starts is not None:
        yield tr("Starts a day by the leak alone, at most: {starts}",
                 starts=_US.number(view.leak_starts, STARTS_PER_DAY, 0))  # fmt: skip
    if view.tank is not None and view.tank.is_named:
        water = _US.text(view.tank.reserve.water, VOLUME, 2)
        yield tr("{tank}: reserve {water}", tank=view.tank.one.name, water=water)


def _verdict(view: DriveView, reserve: Reserve, needed: float) -> str:
    water, asked = distinct(reserve.water, needed, VOLUME, _US)
    left, _ = distinct(reserve.at_wake, needed, VOLUME, _US)
    verdict = tr("It carries the drive") if view.carries else tr("Too little")
    return tr(
        "{verdict}: reserve {water}, at wake {left}, drawn until at speed {asked}",
        verdict=verdict,
        water=water,
        left=left,
        asked=asked,
    )


def _volume(needed: float) -> str:
    if math.isinf(needed):
        return tr("No total volume carries the draw: at wake the tank is empty")
    return tr("Total volume that carries the draw: {volume}", volume=_US.text(needed, VOLUME))
