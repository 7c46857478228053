"""``demand``: how much the house draws at once, and whether pump and well give it."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from workbench.cli.asked import ask, needed_to_size
from workbench.cli.options import add_choice, add_job_options, add_quantities, own_group
from workbench.cli.output import answer, finding_lines
from workbench.cli.refusal import refuse_stops
from workbench.units import FLOW, Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.house.view import HouseView

FIXTURES = (
    "people", "bedrooms", "bathrooms", "toilets", "basins", "tubs", "showers", "kitchen_sinks",
    "dishwashers", "washers", "laundry_sinks", "hose_bibs",
)  # fmt: skip
_US = Display()


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("demand", help=tr("peak demand of the house by every method"))
    parser.description = tr(
        "How much the house draws at once, by every published method, and whether pump and well"
        " give it."
    )
    group = own_group(parser)
    add_choice(group, "demand_method")
    add_quantities(group, (*FIXTURES, "daily_use", "peak_demand"))
    add_job_options(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = ask(options, needed_to_size(options))
    from workbench.study.house.record import house_record
    from workbench.study.record import finding_record

    view = asked.results.house
    refuse_stops(view.findings)
    record = asked.source | house_record(view)
    record["findings"] = [*map(finding_record, asked.findings), *record["findings"]]
    return answer(record, [*_lines(view), *finding_lines(record)], as_json=options.json)


def _lines(view: HouseView) -> Iterator[str]:
    from workbench.study.house import words

    reason = words.peak_reason(view)
    if view.peak is None:
        yield tr("Peak demand: none. {reason}", reason=reason)
    else:
        peak = _US.text(view.peak, FLOW)
        yield tr("Peak demand {flow}. {reason}", flow=peak, reason=reason)
    verdict, why, _ = words.outcome_words(view, _US)
    yield f"{verdict}. {why}" if verdict else why
    yield from filter(None, (words.no_cure_words(view), words.spread_words(view, _US)))
    if view.tank is not None:
        yield words.tank_words(view.tank, _US)
    for one in view.estimates:
        yield "  " + words.against_words(one, view, _US)
