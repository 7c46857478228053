"""What the page "Cycle" says: figures as texts, with their reasons."""

from __future__ import annotations

from collections.abc import Iterable
from math import isinf

from workbench.gui.pages.facts import Row
from workbench.gui.pages.stops import mend_first
from workbench.job.labels import label_of
from workbench.job.pump_choices import motor_limits
from workbench.study.cycle.view import Check, CycleView, LimitLine, State, TankCycle, Turn
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.motor import MotorStands
from workbench.units import (
    FLOW,
    NUMBER,
    PERCENT,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
)
from workbench.words import tr

Shown = tuple[str, str, str]
"""A figure, its reason, and the role of the reason."""


def legend() -> str:
    """What stands above the plot."""
    return tr(
        "Starts an hour over a draw that never changes. The disc is the worst draw, the square"
        " yours. Point at the plot or use the arrow keys to read it."
    )


def what_stops(results: Results, view: CycleView) -> str:
    """Why there is no cycle."""
    stops = mend_first((*results.findings, *view.findings))
    return stops or tr("There is no tank to choose from: open a catalogue.")


def told_here(results: Results, view: CycleView) -> Iterable[Finding]:
    """The findings that this page must tell, wherever their field stands."""
    return view.findings if view.cycle else (*results.of_level(Level.STOP), *view.findings)


def steady_answer(view: CycleView, turning: TankCycle, display: Display) -> Shown:
    """Starts, run and rest at the steady draw."""
    steady = turning.steady
    if steady is None or turning.state is None:
        return "", tr("Mend first: {names}.", names=label_of("steady_draw")), "problem"
    flow = display.text(steady.draw, FLOW)
    if turning.state is State.RESTS:
        return (
            tr("rests"),
            tr("Nothing is drawn, so the pump does not start."),
            "muted",
        )
    if turning.state is not State.CYCLES:
        return tr("runs on"), _endless(turning, flow, display), "caution"
    figure = _starts(steady, display)
    reason = tr(
        "At {flow} it runs {run} and rests {rest}.",
        flow=flow,
        run=display.text(steady.run, TIME),
        rest=display.text(steady.rest, TIME),
    )
    return _with_verdict(figure, reason, view.stands, view.steady_check, display)


def _endless(turning: TankCycle, flow: str, display: Display) -> str:
    least = display.text(turning.flow_at_cut_out, FLOW)
    if turning.state is State.BALANCES:
        return tr("At {flow}, just the flow at cut-out, the pump never stops.", flow=flow)
    if turning.settles is None:
        return tr("{flow} is more than the pump gives: the pressure falls.", flow=flow)
    return tr(
        "{flow} is more than the {least} at cut-out: the pump never stops, and the pressure settles"
        " at {settles}.",
        flow=flow,
        least=least,
        settles=display.text(turning.settles, PRESSURE),
    )


def worst_answer(view: CycleView, turning: TankCycle, display: Display) -> Shown:
    """Most starts, at which draw, with the limit."""
    figure = _starts(turning.worst, display)
    reason = tr(
        "At {flow}. Shortest run {run} (nothing drawn), shortest rest {rest} (just under {least}).",
        flow=display.text(turning.worst.draw, FLOW),
        run=display.text(turning.shortest_run, TIME),
        rest=display.text(turning.shortest_rest, TIME),
        least=display.text(turning.flow_at_cut_out, FLOW),
    )
    return _with_verdict(figure, reason, view.stands, view.check, display)


def _starts(one: Turn, display: Display) -> str:
    return tr("{count} starts/h", count=display.number(one.starts, STARTS_PER_HOUR))


def _with_verdict(
    figure: str, reason: str, stands: MotorStands | None, check: Check | None, display: Display
) -> Shown:
    if check is None or stands is None:
        return figure, reason, "muted"
    exceeds = False in (check.starts_hour, check.rest)
    return figure, f"{reason} {verdict(check, stands, display)}", "caution" if exceeds else "muted"


def verdict(check: Check, stands: MotorStands, display: Display) -> str:
    """Whether a limit is kept, in words."""
    parts = []
    if stands.starts_hour is not None:
        limit = display.number(stands.starts_hour, STARTS_PER_HOUR)
        kept, broken = tr("passes {n} an hour", n=limit), tr("exceeds {n} an hour", n=limit)
        parts.append(kept if check.starts_hour else broken)
    if stands.rest is not None:
        limit = display.text(stands.rest, SHORT_TIME)
        kept, broken = tr("passes a rest of {s}", s=limit), tr("exceeds: rest below {s}", s=limit)
        parts.append(kept if check.rest else broken)
    if stands.starts_day is not None:
        limit = display.number(stands.starts_day, STARTS_PER_DAY, 0)
        if check.day_hours is None:
            parts.append(tr("passes {n} a day", n=limit))
        else:
            hours = display.number(check.day_hours, NUMBER, 1)
            parts.append(tr("exceeds {n} a day after {hours} h of it", n=limit, hours=hours))
    text = "; ".join(parts)
    return f"{text[:1].upper()}{text[1:]}."


def facts(view: CycleView, turning: TankCycle, display: Display) -> list[Row]:
    """The tank, the pump's flows, and the constant-flow answer beside the integrated one."""
    name = view.tank.name if view.tank else ""
    water = display.text(turning.fill.drawdown, VOLUME)
    told = tr("{name}, drawdown {water}", name=name, water=water)
    rows: list[Row] = [(tr("Tank"), told, "", "cycle.tank")]
    if turning.fill.is_constant:
        flow = display.text(turning.mean_flow, FLOW)
        told = tr("{flow}, taken as the same at every pressure", flow=flow)
        return [*rows, (tr("Pump"), told, "", "cycle.pump")]
    flows = tr(
        "{most} at cut-in, {least} at cut-out, mean {mean}",
        most=display.text(turning.flow_at_cut_in, FLOW),
        least=display.text(turning.flow_at_cut_out, FLOW),
        mean=display.text(turning.mean_flow, FLOW),
    )
    rows.append((tr("Pump"), flows, "", "cycle.pump"))
    told = _constant_worst(turning, display)
    rows.append((tr("Worst, at the mean flow"), told, "", "cycle.mean_worst"))
    constant = turning.flow_steady
    if constant is not None and turning.state is State.CYCLES and not isinf(constant.run):
        told = tr(
            "{starts}: run {run}, rest {rest}",
            starts=_starts(constant, display),
            run=display.text(constant.run, TIME),
            rest=display.text(constant.rest, TIME),
        )
        rows.append((tr("Steady draw, at the mean flow"), told, "", "cycle.mean_steady"))
    return rows


def _constant_worst(turning: TankCycle, display: Display) -> str:
    return tr(
        "{starts} at {flow}, {share} more than with the falling flow",
        starts=_starts(turning.flow_worst, display),
        flow=display.text(turning.flow_worst.draw, FLOW),
        share=display.text(turning.difference, PERCENT, 1),
    )


def limits(view: CycleView, display: Display) -> list[Row]:
    """Each published limit, whether it is kept, and for what it was written."""
    labels = motor_limits()
    return [
        (labels[line.limit].label, *_line(line, display), f"cycle.limit:{place}")
        for place, line in enumerate(view.lines)
    ]


def _line(line: LimitLine, display: Display) -> tuple[str, str]:
    if line.stands is None or line.check is None:
        told, role = tr("Needs a motor power within its table."), ""
    else:
        told = verdict(line.check, line.stands, display)
        role = "" if line.check.passes else "caution"
    if not line.suits:
        told, role = tr("Written for motors of another power."), ""
    if line.remark:
        told = f"{told} {tr('For {remark}.', remark=line.remark)}"
    return told, role
