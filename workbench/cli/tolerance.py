"""``tolerance``: how sure a tank is to pass when gauges, switch and bucket are off."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from workbench.cli.asked import ask, needed_to_size
from workbench.cli.entered import quantity
from workbench.cli.options import add_job_options, add_quantities, add_tank, own_group
from workbench.cli.output import answer, finding_lines
from workbench.cli.refusal import RefusalError, refuse_stops
from workbench.units import NUMBER, TIME, Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.certainty.view import Certainty, ToleranceView
    from workbench.study.ranking import Ranking

OFF = (
    "tol_gauge", "tol_switch_in", "tol_switch_out", "tol_precharge", "tol_temperature", "tol_flow",
    "tol_bucket", "tol_watch", "seed",
)  # fmt: skip
FEWEST, MOST = 1_000, 1_000_000
"""Cases: with fewer a share means little, more take gigabytes (our own choice, no source)."""
_US = Display()


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("tolerance", help=tr("how sure each tank is to pass"))
    parser.description = tr(
        "In which share of cases each tank still meets the required run when gauge, switch,"
        " precharge, air and flow are off, and which of them matters most."
    )
    group = own_group(parser)
    add_tank(group)
    add_quantities(group, OFF)
    group.add_argument(
        "--cases", metavar="COUNT", help=tr("how many cases are followed (100000 if left out)")
    )
    add_job_options(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    cases = None if options.cases is None else _cases(options.cases)
    asked = ask(options, needed_to_size(options))
    from workbench.study.certainty.plan import tolerance_plan
    from workbench.study.certainty.record import tolerance_record
    from workbench.study.certainty.view import run_plan

    plan, found = tolerance_plan(asked.results)
    refuse_stops(found)
    ranking = asked.refuse_no_tank()
    assert plan is not None  # noqa: S101 - what stands in its way was refused
    view = run_plan(plan if cases is None else replace(plan, cases=cases), lambda _share: True)
    assert view is not None  # noqa: S101 - nobody ended it
    findings = (*asked.findings, *found)
    record = asked.source | tolerance_record(view, ranking, findings)
    lines = [*_lines(view, ranking), *finding_lines(record)]
    return answer(record, lines, as_json=options.json)


def _cases(text: str) -> int:
    number = quantity(text, NUMBER, "--cases").si
    if number % 1.0 or not FEWEST <= number <= MOST:
        raise RefusalError(
            tr("--cases: must be a whole number from {fewest} to {most}.", fewest=FEWEST, most=MOST)
        )
    return int(number)


def _lines(view: ToleranceView, ranking: Ranking) -> Iterator[str]:
    from workbench.study.certainty.words import change_text, half_text, tolerance_name

    plan, tank = view.plan, view.tank
    run = _US.text(plan.required_run, TIME)
    yield tr("Required run {run}; {cases} cases", run=run, cases=plan.cases)
    if tank is not None:
        yield _tank(tank, ranking)
        for swing in view.swings:
            low, high = (
                change_text(change, tank.nominal_run, _US) for change in (swing.low, swing.high)
            )
            half = half_text(plan, swing.name, _US)
            yield f"  {tolerance_name(swing.name)} {half}: {low} … {high}"
    for place in range(len(plan.rows)):
        row = view.row(place)
        if tank is None or row.candidate != tank.candidate:
            yield _tank(row, ranking)


def _tank(one: Certainty, ranking: Ranking) -> str:
    from workbench.study.certainty.words import run_text, share_text, verdict_word

    return tr(
        "{verdict}  {tank}  {share} met; run {nominal}, {worst} to {best}",
        verdict=verdict_word(one.verdict),
        tank=ranking.judged(one.candidate).name,
        share=share_text(one.share, _US),
        nominal=run_text(one.nominal_run, _US),
        worst=run_text(one.worst_run, _US),
        best=run_text(one.best_run, _US),
    )
