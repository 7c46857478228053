"""``pump``: whether the pump reaches cut-out, and what it delivers over the band."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from workbench.cli.asked import ask, needed_to_run
from workbench.cli.options import add_job_options, add_tank, own_group
from workbench.cli.output import answer, finding_lines
from workbench.cli.refusal import refuse_stops
from workbench.units import FLOW, HEAD, PRESSURE, VELOCITY, Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.pump.view import PumpView, WorkingPoint

_US = Display()


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("pump", help=tr("reach of the pump, its flow, head and energy"))
    parser.description = tr(
        "Whether the pump reaches cut-out, and its flow, velocity, head, power and energy at both"
        " ends of the band. The tank's marking is held against the pump's shut-off."
    )
    add_tank(own_group(parser))
    add_job_options(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = ask(options, needed_to_run(options))
    from workbench.study.chosen import chosen
    from workbench.study.pump.record import pump_record

    if options.tank:  # the page "Cycle" tells it in the window
        refuse_stops(chosen(asked.results, "first_tank")[1])
    view = asked.results.pump
    assert view is not None  # noqa: S101 - else a stop was refused
    refuse_stops(view.findings)
    record = asked.source | pump_record(asked.results, asked.findings)
    return answer(record, [*_lines(view), *finding_lines(record)], as_json=options.json)


def _lines(view: PumpView) -> Iterator[str]:
    yield _reach(view)
    for name, point in (
        (tr("At cut-in"), view.at_cut_in),
        (tr("At cut-out"), view.at_cut_out),
    ):
        if point is not None:
            yield f"{name}: {_point(point)}"
    if view.mean_flow is not None:
        yield tr("Mean flow over the band: {flow}", flow=_US.text(view.mean_flow, FLOW))


def _reach(view: PumpView) -> str:
    if view.reaches is None:
        return tr("One flow does not tell whether the pump reaches cut-out")
    if view.shut_off is None or view.margin is None:
        return tr("The pump reaches cut-out")
    return tr(
        "The pump reaches cut-out with {margin} to spare; shut-off at the tank is {most}",
        margin=_US.text(view.margin, PRESSURE),
        most=_US.text(view.shut_off, PRESSURE),
    )


def _point(point: WorkingPoint) -> str:
    from workbench.study.pump.working import energy_text, power_text

    parts = [tr("{flow} at {pressure}", flow=_US.text(point.flow, FLOW),
                pressure=_US.text(point.pressure, PRESSURE))]  # fmt: skip
    if point.velocity is not None:
        parts.append(_US.text(point.velocity, VELOCITY))
    if point.head is not None:
        total = _US.text(point.head.total, HEAD)
        known = point.head.friction is not None
        parts.append(
            tr("total head {head}", head=total)
            if known
            else tr("total head {head} without friction", head=total)
        )
    if point.power is not None and point.energy is not None:
        parts += [power_text(point.power, _US), energy_text(point.energy, _US)]
    return ", ".join(parts)
