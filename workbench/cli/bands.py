"""``bands``: today's tank and pump at other switch bands, beside today's."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from workbench.cli.asked import ask, needed_to_run, needed_to_size
from workbench.cli.options import add_job_options, add_quantities, add_tank, own_group
from workbench.cli.output import answer, finding_lines
from workbench.cli.refusal import RefusalError, refuse_stops
from workbench.units import FLOW, PRESSURE, Display, UnitError, parse_bands
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.bands.view import BandColumn, BandsView
    from workbench.study.evaluate import Results

TODAY = ("today_volume", "today_acceptance", "today_rating", "relief_setting")
HOUSE = ("lowest_fixture", "highest_fixture", "steady_draw")
_US = Display()


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("bands", help=tr("today's tank at other switch bands"))
    parser.description = tr(
        "Today's tank and pump at other switch bands: drawdown, run, starts, precharge and how far"
        " it moves, what the pump, the house and the vessel say, the tank that keeps today's run,"
        " and what comes of leaving the precharge as it was."
    )
    group = own_group(parser)
    group.add_argument(
        "--bands",
        metavar="TEXT",
        help=tr("Bands to compare with, for example “20/40, 40/60 psi”. (left out: the job's)"),
    )
    add_quantities(group, (*TODAY, *HOUSE))
    add_tank(group)
    add_job_options(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    has_tank = options.tank is not None or options.today_volume is not None
    asked = ask(options, needed_to_run(options) if has_tank else needed_to_size(options))
    asked = replace(asked, results=_with_bands(asked.results, options.bands))
    from workbench.study.bands.record import bands_record

    view = asked.results.bands
    refuse_stops(view.findings)
    if view.tank is None:
        asked.refuse_no_tank()
    record = asked.source | bands_record(asked.results, asked.findings)
    return answer(record, [*_lines(view), *finding_lines(record)], as_json=options.json)


def _with_bands(results: Results, text: str | None) -> Results:
    """The results with the bands of the option in the place of the job's. Raises RefusalError."""
    from workbench.study.evaluate import evaluate

    if text is None:
        return results
    try:
        bands = parse_bands(text)
    except UnitError as error:
        raise RefusalError(f"--bands: {error} {error.remedy}") from error
    return evaluate(results.job.changed(bands=bands), results.candidates)


def _lines(view: BandsView) -> Iterator[str]:
    from workbench.study.bands.words import tank_name

    yield tr("Today's tank: {tank}", tank=tank_name(view, _US))
    for column in view.columns:
        yield from _column_lines(column, view)
    yield ""
    yield tr(
        "Power off and locked out, tank drained, gauge at zero: only then read or set the air, and"
        " never above the vessel's marked working pressure."
    )


def _column_lines(column: BandColumn, view: BandsView) -> Iterator[str]:
    from workbench.study.bands import words

    name = words.band_name(column, _US)
    yield ""
    yield tr("{band}, today", band=name) if column.is_today else name
    told = [
        words.against_today(column, view, _US),
        words.charge_sentence(column, _US),
        words.left_sentence(column.left, _US) if column.left else "",
        words.head_sentence(column, _US),
        _pump_line(column),
        _house_line(column),
        words.replacement_sentence(column, _US),
    ]
    for line in filter(None, told):
        yield f"  {line}"
    for one in column.findings:
        yield f"  {one.level.name.lower()}: {one.sentence(_US)}"


def _pump_line(column: BandColumn) -> str:
    """Flows and reach, where more than one flow is known."""
    pump = column.pump
    if pump is None or pump.delivery.is_constant:
        return ""
    points = ((tr("cut-in"), pump.at_cut_in), (tr("cut-out"), pump.at_cut_out))
    told = [
        tr("{flow} at {place}", flow=_US.text(point.flow, FLOW), place=place)
        for place, point in points
        if point is not None
    ]
    if pump.margin is not None:
        told.append(tr("reach above cut-out {margin}", margin=_US.text(pump.margin, PRESSURE)))
    return tr("Pump: {figures}.", figures=", ".join(told)) if told else ""


def _house_line(column: BandColumn) -> str:
    return tr(
        "Lowest fixture {low} at cut-out, highest {high} at cut-in.",
        low=_US.text(column.lowest, PRESSURE),
        high=_US.text(column.highest, PRESSURE),
    )
