"""``header``: several tanks on one header, each with its own air, and old plain tanks."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from workbench.cli.asked import BAND, ask, needed_to_size
from workbench.cli.options import add_job_options, add_quantities, own_group
from workbench.cli.output import answer, finding_lines
from workbench.cli.refusal import RefusalError, option_of, refuse_stops
from workbench.units import FLOW, PERCENT, PRESSURE, TIME, VOLUME, Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results
    from workbench.study.header.plain import PlainTank
    from workbench.study.header.view import TankSet

OWN = ("header_set", "plain_volume", "plain_residual")
_US = Display()


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("header", help=tr("several tanks, and old plain tanks"))
    parser.description = tr(
        "What several unequal tanks give on one header, each with the air that it really has; and"
        " what an old plain tank gives, with what replaces it."
    )
    add_quantities(own_group(parser), OWN)
    add_job_options(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = ask(options, needed_to_size(options) if options.header_set else BAND)
    from workbench.study.header.record import header_record

    results = asked.results
    view = results.header
    refuse_stops(view.findings)
    if view.tanks is None and view.plain is None:
        either, other = map(option_of, OWN[:2])
        raise RefusalError(
            tr("one of these options is needed: {either}, {other}", either=either, other=other)
        )
    record = asked.source | header_record(results)
    lines = [
        *(_of_set(view.tanks, results) if view.tanks else ()),
        *(_of_plain(view.plain, results) if view.plain else ()),
        *finding_lines(record),
    ]
    return answer(record, lines, as_json=options.json)


def _of_set(tanks: TankSet, results: Results) -> Iterator[str]:
    water, matched = _US.text(tanks.drawdown, VOLUME), _US.text(tanks.matched, VOLUME)
    yield tr("Together {water}; {matched} with {precharge} in every tank", water=water,
             matched=matched, precharge=_US.text(tanks.setting.precharge, PRESSURE))  # fmt: skip
    for tank in tanks.tanks:
        yield "  " + tr(
            "Tank {number}, {volume} at {precharge}: {water}; {matched} by the rule",
            number=tank.number,
            volume=_US.text(tank.volume, VOLUME),
            precharge=_US.text(tank.precharge, PRESSURE),
            water=_US.text(tank.drawdown, VOLUME),
            matched=_US.text(tank.matched, VOLUME),
        )
    supply = results.inputs.supply
    if tanks.run is not None and supply is not None:
        yield tr(
            "A pump of {flow} fills them in {run}",
            flow=_US.text(supply.mean_flow, FLOW),
            run=_US.text(tanks.run, TIME),
        )


def _of_plain(plain: PlainTank, results: Results) -> Iterator[str]:
    from workbench.study.header.plain import comes_first, to_do, to_remove

    yield tr(
        "Old plain tank: {water} of {volume}, {share}",
        water=_US.text(plain.drawdown, VOLUME),
        volume=_US.text(plain.volume, VOLUME),
        share=_US.text(plain.usable_share, PERCENT, 1),
    )
    if plain.gallons_for_gallon > 0.0:
        equal = _US.text(plain.equal_volume, VOLUME)
        yield tr("A pre-charged tank of {volume} gives as much", volume=equal)
    if plain.replacement is not None:
        yield tr(
            "The smallest of the catalogue that does: {tank}, {water}",
            tank=plain.replacement.name,
            water=_US.text(plain.replacement.drawdown, VOLUME),
        )
    yield comes_first()
    yield tr("Remove:")
    yield from (f"  {step}" for step in to_remove())
    yield tr("Do:")
    yield from (f"  {number}. {step}" for number, step in enumerate(to_do(results, _US), 1))
