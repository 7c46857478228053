"""``drawdown``: what one tank gives at one setting, with the working."""

from __future__ import annotations

import argparse
from typing import Any

from workbench.cli.asked import BAND
from workbench.cli.entered import job_from, quantity
from workbench.cli.options import add_choice, add_json, add_quantities
from workbench.cli.output import answer
from workbench.cli.refusal import RefusalError, refuse_missing, refuse_stops
from workbench.job.job import Job
from workbench.units import VOLUME
from workbench.words import tr


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("drawdown", help=tr("drawdown of one tank"))
    parser.description = tr("Drawdown of one tank at one setting, with the working.")
    parser.add_argument("--volume", required=True, metavar="TEXT", help=tr("total volume"))
    parser.add_argument("--acceptance", metavar="TEXT", help=tr("most water it lets in"))
    add_quantities(parser, [*BAND, "precharge", "altitude", "exponent"])
    add_choice(parser, "precharge_rule")
    add_json(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from workbench.study.single import drawdown_record  # imports NumPy

    refuse_missing([name for name in BAND if getattr(options, name) is None])
    volume = quantity(options.volume, VOLUME, "--volume")
    acceptance = None
    if options.acceptance is not None:
        acceptance = quantity(options.acceptance, VOLUME, "--acceptance").si
    for option, value in (("--volume", volume.si), ("--acceptance", acceptance)):
        if value is not None and value <= 0:
            raise RefusalError(tr("{option}: must be above zero.", option=option))
    if acceptance is not None and acceptance > volume.si:
        raise RefusalError(tr("--acceptance: cannot be more than the total volume."))
    record, findings = drawdown_record(job_from(options, Job()), volume.si, acceptance)
    refuse_stops(findings)
    return answer(record, _lines(record), as_json=options.json)


def _lines(record: dict[str, Any]) -> list[str]:
    told = (f"{one['text']} {one['remedy']}" for one in record["findings"])
    first = tr("Drawdown {water} gal", water=f"{record['drawdown_gal']:.2f}")
    return [first, *record["working"], "\n".join(told)]
