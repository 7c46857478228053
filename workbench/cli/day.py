"""``day``: a simulated day of the house with one tank or two, and on demand the year."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from workbench.cli.asked import ask, needed_with_tank
from workbench.cli.options import add_job_options, add_motor, add_quantities, add_tank, own_group
from workbench.cli.output import answer, finding_lines
from workbench.cli.refusal import refuse_stops
from workbench.units import ENERGY, NUMBER, PERCENT, SHORT_TIME, TIME, VOLUME, Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.day.simulated import DayView, TankDay, TankYear, YearView

DRAWN = (
    "people", "washers", "dishwashers", "daily_use", "leak",
    "irrigation_flow", "irrigation_start", "irrigation_time", "seed",
)  # fmt: skip
"""The entries that say what the house draws in a day."""
_US = Display()


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("day", help=tr("a simulated day, and year, of the house"))
    parser.description = tr(
        "A day of the house, simulated draw by draw with one tank or with two to compare: starts,"
        " runs, rests, water and energy."
    )
    group = own_group(parser)
    add_tank(group)
    add_tank(group, "second_tank")
    add_quantities(group, DRAWN)
    add_motor(group)
    group.add_argument("--year", action="store_true", help=tr("also simulate 365 days"))
    add_job_options(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = ask(options, needed_with_tank(options))
    from workbench.study.day.plan import day_plan
    from workbench.study.day.record import day_record
    from workbench.study.day.simulated import simulate_day, simulate_year

    plan, found = day_plan(asked.results)
    refuse_stops(found)
    assert plan is not None  # noqa: S101 - what stands in its way was refused
    view = simulate_day(plan)
    year = simulate_year(plan) if options.year else None
    record = asked.source | day_record(view, year, (*asked.findings, *found))
    return answer(record, [*_lines(view, year), *finding_lines(record)], as_json=options.json)


def _lines(view: DayView, year: YearView | None) -> Iterator[str]:
    wanted = _US.text(view.draws.volume, VOLUME)
    yield tr("Day {number}: the house draws {water}", number=view.plan.house.seed, water=wanted)
    for one in view.tanks:
        yield from _day(one)
    for whole in year.tanks if year else ():
        yield from _year(whole, year)


def _day(one: TankDay) -> Iterator[str]:
    yield tr(
        "{tank}: {starts} starts, {busiest} in the busiest hour; the pump runs {time}",
        tank=one.tank.name,
        starts=one.starts,
        busiest=one.busiest,
        time=_US.text(one.run_seconds, TIME),
    )
    yield "  " + _shortest(one.shortest_run, one.shortest_rest)
    yield "  " + _water(one.run.pumped, one.run.unmet, one.energy)


def _year(one: TankYear, year: YearView | None) -> Iterator[str]:
    yield tr(
        "{tank}, 365 days: {mean} starts on a mean day, {most} on the worst; {hour} in the worst"
        " hour; the pump runs {time} h",
        tank=one.tank.name,
        mean=_US.number(one.mean_starts, NUMBER, 1),
        most=one.most_starts,
        hour=one.worst_hour,
        time=_US.number(one.run_seconds / 3600.0, NUMBER, 1),
    )
    yield "  " + _shortest(one.shortest_run, one.shortest_rest)
    yield "  " + _water(one.pumped, one.unmet, one.energy)
    motor = year.plan.motor if year else None
    if motor is not None:
        share = _US.text(one.days_over(motor), PERCENT)
        yield "  " + tr("Days over the motor's limit: {share}", share=share)


def _shortest(run: float | None, rest: float | None) -> str:
    return tr(
        "Shortest run {run}, shortest rest {rest}",
        run=tr("none") if run is None else _US.text(run, SHORT_TIME),
        rest=tr("none") if rest is None else _US.text(rest, SHORT_TIME),
    )


def _water(pumped: float, unmet: float, energy: float | None) -> str:
    parts = [tr("{water} pumped", water=_US.text(pumped, VOLUME))]
    if energy is not None:
        parts.append(_US.text(energy, ENERGY))
    if unmet > 0.0:
        parts.append(tr("{water} missing", water=_US.text(unmet, VOLUME)))
    return ", ".join(parts)
