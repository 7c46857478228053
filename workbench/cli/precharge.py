"""``precharge``: how the precharge shifts the drawdown of one tank at one band."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from workbench.cli.asked import ask, needed_to_run, needed_with_tank
from workbench.cli.options import add_job_options, add_quantities, add_tank, own_group
from workbench.cli.output import answer, finding_lines
from workbench.cli.refusal import RefusalError, refuse_stops
from workbench.units import PRESSURE, VOLUME, Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.shift.view import Shift

_US = Display()


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("precharge", help=tr("drawdown over the precharge of one tank"))
    parser.description = tr(
        "How much water one tank gives at its precharge and beside it, what each psi costs in"
        " water and starts, and how long the taps falter where the tank is empty before the pump"
        " starts."
    )
    group = own_group(parser)
    add_tank(group)
    add_quantities(group, ["live_volume", "steady_draw", "line_give", "start_delay"])
    add_quantities(group, ["people", "daily_use"])
    add_job_options(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    typed = options.live_volume is not None
    asked = ask(options, needed_to_run(options) if typed else needed_with_tank(options))
    from workbench.study.shift.record import shift_record

    view = asked.results.shift
    refuse_stops(view.findings)
    if view.shift is None:
        raise RefusalError(tr("There is no tank: name one, or a total volume."))
    record = asked.source | shift_record(asked.results, asked.findings)
    return answer(record, [*_lines(view.shift), *finding_lines(record)], as_json=options.json)


def _lines(shift: Shift) -> Iterator[str]:
    from workbench.study.shift.words import (
        cost_sentence,
        gap_basis,
        reading,
        region_sentence,
        rows,
    )

    own, right = shift.today, shift.recommended
    yield tr(
        "{tank}, {charge}: {own}",
        tank=shift.shell.name,
        charge=_US.text(own.precharge, PRESSURE),
        own=_US.text(own.drawdown, VOLUME),
    )
    yield region_sentence(own, shift, _US)
    yield tr(
        "Recommended {charge}: {water}",
        charge=_US.text(right.precharge, PRESSURE),
        water=_US.text(right.drawdown, VOLUME),
    )
    for _name, at, _own in rows(shift, _US):
        yield f"  {reading(at, _US)}"
    if shift.below is not None:
        yield tr("Below the recommended: {cost}", cost=cost_sentence(shift.below, _US))
    yield tr("Above cut-in: {cost}", cost=cost_sentence(shift.above, _US))
    if gap_basis(shift, _US):
        yield gap_basis(shift, _US)
    yield tr(
        "Before the air is read or set: power off, locked out and proven dead; tank drained and"
        " gauge at zero. Never above the marked working pressure."
    )
