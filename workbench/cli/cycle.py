"""``cycle``: how long the pump runs and rests with one tank, and how often it starts."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from workbench.cli.asked import ask, needed_with_tank
from workbench.cli.options import add_job_options, add_motor, add_quantities, add_tank, own_group
from workbench.cli.output import answer, finding_lines
from workbench.cli.refusal import refuse_stops
from workbench.job.pump_choices import motor_limits
from workbench.units import (
    FLOW,
    NUMBER,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
)
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.cycle.view import Check, CycleView, TankCycle, Turn

_US = Display()


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("cycle", help=tr("runs, rests and starts of one tank"))
    parser.description = tr(
        "How long the pump runs and rests with one tank at a steady draw, how often it starts at"
        " worst, and what the motor stands."
    )
    group = own_group(parser)
    add_tank(group)
    add_quantities(group, ["steady_draw"])
    add_motor(group)
    add_job_options(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = ask(options, needed_with_tank(options))
    from workbench.study.cycle.record import cycle_record

    view = asked.results.cycle
    assert view is not None  # noqa: S101 - it is worked out for every job
    refuse_stops(view.findings)
    asked.refuse_no_tank()
    record = asked.source | cycle_record(asked.results, asked.findings)
    return answer(record, [*_lines(view), *finding_lines(record)], as_json=options.json)


def _lines(view: CycleView) -> Iterator[str]:
    turning, tank = view.cycle, view.tank
    assert turning is not None  # noqa: S101 - else something was refused
    assert tank is not None  # noqa: S101
    yield tr("{tank}: drawdown {water}", tank=tank.name,
             water=_US.text(turning.fill.drawdown, VOLUME))  # fmt: skip
    yield tr("At worst {turn}", turn=_turn(turning.worst))
    yield tr(
        "Shortest run {run}, shortest rest {rest}",
        run=_US.text(turning.shortest_run, SHORT_TIME),
        rest=_US.text(turning.shortest_rest, SHORT_TIME),
    )
    if turning.steady is not None:
        yield tr("Steady draw: {turn}", turn=_steady(turning, turning.steady))
    labels = motor_limits()
    yield f"{labels[view.limit].label}: {_verdict(view.check)}"
    for line in view.lines:
        if line.limit is not view.limit and line.suits:
            yield f"  {labels[line.limit].label}: {_verdict(line.check)}"


def _turn(one: Turn) -> str:
    return tr(
        "{starts} starts an hour at {draw}, with runs of {run} and rests of {rest}",
        starts=_US.number(one.starts, STARTS_PER_HOUR),
        draw=_US.text(one.draw, FLOW, 2),
        run=_US.text(one.run, TIME),
        rest=_US.text(one.rest, TIME),
    )


def _steady(turning: TankCycle, steady: Turn) -> str:
    from workbench.study.cycle.view import State

    draw = _US.text(steady.draw, FLOW, 2)
    if turning.state is State.CYCLES:
        return _turn(steady)
    if turning.state is State.RESTS:
        return tr("nothing is drawn, so the pump rests")
    if turning.settles is not None:
        settles = _US.text(turning.settles, PRESSURE)
        return tr("at {draw} the pump never stops; the pressure settles at {settles}",
                  draw=draw, settles=settles)  # fmt: skip
    return tr("at {draw} the pump never stops", draw=draw)


def _verdict(check: Check | None) -> str:
    if check is None:
        return tr("no figure for this motor")
    parts = []
    for kept, good, bad in (
        (check.starts_hour, tr("starts an hour kept"), tr("starts an hour exceeded")),
        (check.rest, tr("rest kept"), tr("rest too short")),
        (check.starts_day, tr("starts a day kept"), _day_used_up(check)),
    ):
        if kept is not None:
            parts.append(good if kept else bad)
    return ", ".join(parts)


def _day_used_up(check: Check) -> str:
    if check.day_hours is None:
        return ""
    return tr("starts a day used up after {hours} h of the worst draw",
              hours=_US.number(check.day_hours, NUMBER, 1))  # fmt: skip
