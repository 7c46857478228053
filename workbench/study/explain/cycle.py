"""How the figures of the page "Cycle" come about."""

from __future__ import annotations

from math import isinf

from workbench.job.pump_choices import motor_limits
from workbench.study.cycle.view import Check, State, TankCycle, Turn
from workbench.study.cycle.working import (
    constant_step,
    handbook,
    mean_step,
    run_step,
    steady_steps,
    worst_step,
)
from workbench.study.explain import pictures
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.steps import ending, entered
from workbench.study.explain.supply import flow_steps
from workbench.study.job_working import tank_steps
from workbench.study.motor import MotorStands
from workbench.study.working import Step
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


def _turning(asked: Asked) -> TankCycle | None:
    view = asked.results.cycle
    return None if view is None else view.cycle


def _steady(asked: Asked) -> Working | None:
    turning, display = _turning(asked), asked.display
    if turning is None or turning.steady is None or turning.state is None:
        return None
    if turning.state is not State.CYCLES:
        return Working((_endless(turning, turning.steady, display),))
    one = turning.steady
    first = (
        entered(tr("Steady draw"), display.text(one.draw, FLOW)),
        _rest_step(turning, one.draw, one.rest, display),
        _run_at(turning, one, display),
    )
    view = asked.results.cycle
    assert view is not None  # noqa: S101 - it holds the cycle
    beside = _check_steps(view.stands, view.steady_check, one.starts, one.rest, asked)
    picture = pictures.turn(one.run, one.rest, display)
    return Working((*first, *steady_steps(turning, display)), beside, picture)


def _endless(turning: TankCycle, steady: Turn, display: Display) -> Step:
    """Why the pump rests or runs on."""
    draw, least = display.text(steady.draw, FLOW), display.text(turning.flow_at_cut_out, FLOW)
    if turning.state is State.RESTS:
        return Step(
            tr("Steady draw"),
            tr("q = 0: nothing empties the tank"),
            draw,
            tr("mass balance of the tank"),
        )
    numbers = tr("{draw} drawn, {least} at cut-out", draw=draw, least=least)
    if turning.settles is not None:
        settles = display.text(turning.settles, PRESSURE)
        numbers = tr(
            "{numbers}; the pump gives {draw} at {settles}",
            numbers=numbers,
            draw=draw,
            settles=settles,
        )
    return Step(
        tr("Draw against the flow at cut-out"),
        tr("the pump stops only if q < Q at cut-out"),
        numbers,
        tr("mass balance of the tank"),
    )


def _rest_step(turning: TankCycle, draw: float, rest: float, display: Display) -> Step:
    water = display.text(turning.fill.drawdown, VOLUME, 2)
    return Step(
        tr("Rest"),
        tr("rest = Vd / q"),
        f"{water} / {display.text(draw, FLOW, 2)} = {display.text(rest, TIME)}",
        handbook(),
    )


def _run_at(turning: TankCycle, one: Turn, display: Display) -> Step:
    """The run at a draw."""
    water, run = display.text(turning.fill.drawdown, VOLUME, 2), display.text(one.run, TIME)
    draw = display.text(one.draw, FLOW, 2)
    if turning.fill.is_constant:
        flow = display.text(turning.mean_flow, FLOW, 2)
        return Step(
            tr("Run"), tr("run = Vd / (Q − q)"), f"{water} / ({flow} − {draw}) = {run}", handbook()
        )
    most, least = (
        display.text(flow, FLOW) for flow in (turning.flow_at_cut_in, turning.flow_at_cut_out)
    )
    return Step(
        tr("Run"),
        tr("run = ∫ dw / (Q(w) − q) from cut-in to cut-out"),
        f"{water}, {most} … {least}, {draw} → {run}",
        tr("mass balance of the tank"),
    )


def _worst(asked: Asked) -> Working | None:
    turning, display = _turning(asked), asked.display
    view = asked.results.cycle
    if turning is None or view is None:
        return None
    least = _rest_step(turning, turning.flow_at_cut_out, turning.shortest_rest, display)
    beside = (
        run_step(turning, display),
        Step(tr("Shortest rest"), tr("rest = Vd / Q at cut-out"), least.numbers, least.source),
        *_check_steps(view.stands, view.check, turning.worst.starts, turning.shortest_rest, asked),
    )
    last = worst_step(turning, display)
    first: tuple[Step, ...] = (
        _worst_draw(turning, display),
        _rest_step(turning, turning.worst.draw, turning.worst.rest, display),
        _run_at(turning, turning.worst, display),
    )
    if turning.fill.is_constant:
        last = constant_step(turning, display)
        last = Step(tr("Most starts over every draw"), last.formula, last.numbers, last.source)
    picture = pictures.turn(turning.worst.run, turning.worst.rest, display)
    return Working((*first, last), beside, picture)


def _worst_draw(turning: TankCycle, display: Display) -> Step:
    draw = display.text(turning.worst.draw, FLOW)
    if turning.fill.is_constant:
        flow = display.text(turning.mean_flow, FLOW, 2)
        return Step(tr("Worst draw"), tr("q = Q / 2"), f"{flow} / 2 = {draw}", handbook())
    formula = tr("where Vd / q² = ∫ dw / (Q(w) − q)²")
    first, last = (
        display.text(flow, FLOW) for flow in (turning.flow_at_cut_in, turning.flow_at_cut_out)
    )
    return Step(tr("Worst draw"), formula, f"{first} … {last} → {draw}", handbook())


def _check_steps(
    stands: MotorStands | None, check: Check | None, often: float, rest: float, asked: Asked
) -> tuple[Step, ...]:
    """How a limit is held against starts [1/s] and a rest [s]."""
    view, display = asked.results.cycle, asked.display
    if stands is None or check is None or view is None:
        return ()
    return _limit_steps(stands, check, often, rest, motor_limits()[view.limit].source, display)


def _limit_steps(
    stands: MotorStands, check: Check, often: float, rest: float, source: str, display: Display
) -> tuple[Step, ...]:
    steps = []
    if stands.starts_hour is not None:
        shown, limit = (display.number(n, STARTS_PER_HOUR) for n in (often, stands.starts_hour))
        told = (
            tr("{shown}, at most {limit}: kept", shown=shown, limit=limit)
            if check.starts_hour
            else tr("{shown}, more than {limit}", shown=shown, limit=limit)
        )
        steps.append(
            Step(tr("Limit of an hour"), tr("most starts an hour, at the worst draw"), told, source)
        )
    if stands.rest is not None:
        shown, limit = (display.text(s, SHORT_TIME) for s in (rest, stands.rest))
        told = (
            tr("{shown}, at least {limit}: kept", shown=shown, limit=limit)
            if check.rest
            else tr("{shown}, less than {limit}", shown=shown, limit=limit)
        )
        steps.append(Step(tr("Limit of the rest"), tr("shortest rest"), told, source))
    if stands.starts_day is not None:
        steps.append(_day_step(stands.starts_day, check, often, source, display))
    return tuple(steps)


def _day_step(limit: float, check: Check, often: float, source: str, display: Display) -> Step:
    shown = display.number(often, STARTS_PER_HOUR, 2)
    most = display.number(limit, STARTS_PER_DAY, 0)
    if check.day_hours is None:
        day = display.number(often, STARTS_PER_DAY, 1)
        told = tr("{numbers}, at most {most}: kept", numbers=f"{shown} × 24 = {day}", most=most)
        return Step(tr("Limit of a day"), tr("starts an hour × 24"), told, source)
    hours = display.number(check.day_hours, NUMBER, 1)
    return Step(
        tr("Hours of this draw that use up the day's starts"),
        tr("hours = starts a day / starts an hour"),
        f"{most} / {shown} = {hours}",
        source,
    )


def _tank(asked: Asked) -> Working | None:
    view, setting = asked.results.cycle, asked.results.setting
    if view is None or view.tank is None or view.cycle is None or setting is None:
        return None
    *first, last = tank_steps(setting, view.tank, asked.display)
    last = ending(last, view.cycle.fill.drawdown, VOLUME, asked.display)
    return Working((*first, last), picture=pictures.air(setting, asked.display))


def _pump(asked: Asked) -> Working | None:
    turning, display = _turning(asked), asked.display
    setting, supply = asked.results.setting, asked.results.inputs.supply
    if turning is None or setting is None or supply is None:
        return None
    ends: tuple[tuple[float, float, str], ...] = (
        (setting.cut_in, turning.flow_at_cut_in, tr("Flow at cut-in")),
        (setting.cut_out, turning.flow_at_cut_out, tr("Flow at cut-out")),
    )
    if turning.fill.is_constant:
        ends = ends[1:]
    steps: dict[str, Step] = {}
    for at, flow, title in ends:
        for step in flow_steps(asked.results, supply.delivery, at, flow, display, title):
            steps.setdefault(step.title, step)
    if turning.fill.is_constant:
        return Working(tuple(steps.values()))
    mean = ending(mean_step(turning, display), turning.mean_flow, FLOW, display)
    return Working((*steps.values(), run_step(turning, display), mean))


def _mean_worst(asked: Asked) -> Working | None:
    turning, display = _turning(asked), asked.display
    if turning is None:
        return None
    most, real = (
        display.number(one.starts, STARTS_PER_HOUR) for one in (turning.flow_worst, turning.worst)
    )
    half = Step(
        tr("Draw at a constant flow"),
        tr("q = Qm / 2"),
        f"{display.text(turning.mean_flow, FLOW, 2)} / 2 ="
        f" {display.text(turning.flow_worst.draw, FLOW)}",
        handbook(),
    )
    more = Step(
        tr("More than with the falling flow"),
        tr("starts at the mean flow / starts at the falling flow − 1"),
        f"{most} / {real} − 1 = {display.text(turning.difference, PERCENT, 1)}",
        tr("definition"),
    )
    return Working((half, constant_step(turning, display)), (worst_step(turning, display), more))


def _mean_steady(asked: Asked) -> Working | None:
    turning, display = _turning(asked), asked.display
    one = None if turning is None else turning.flow_steady
    if turning is None or one is None or isinf(one.run):
        return None
    water, mean = display.text(turning.fill.drawdown, VOLUME, 2), turning.mean_flow
    run, rest = display.text(one.run, TIME), display.text(one.rest, TIME)
    draw = display.text(one.draw, FLOW, 2)
    steps = (
        _rest_step(turning, one.draw, one.rest, display),
        Step(
            tr("Run"),
            tr("run = Vd / (Qm − q)"),
            f"{water} / ({display.text(mean, FLOW, 2)} − {draw}) = {run}",
            handbook(),
        ),
        Step(
            tr("Starts at the steady draw, at the mean flow"),
            tr("N = 1 / (run + rest)"),
            f"1 / ({run} + {rest}) = {display.text(one.starts, STARTS_PER_HOUR)}",
            handbook(),
        ),
    )
    return Working(steps, picture=pictures.turn(one.run, one.rest, display))


def _limit(asked: Asked) -> Working | None:
    view, turning = asked.results.cycle, _turning(asked)
    if view is None or turning is None or asked.first >= len(view.lines):
        return None
    line = view.lines[asked.first]
    source = motor_limits()[line.limit].source
    if line.stands is None or line.check is None:
        return Working((Step(tr("Limit"), tr("by the motor's power"), tr("not known"), source),))
    often, rest = turning.worst.starts, turning.shortest_rest
    last = _limit_steps(line.stands, line.check, often, rest, source, asked.display)
    return Working((worst_step(turning, asked.display), *last))


FIGURES: dict[str, Explain] = {
    "steady": _steady,
    "worst": _worst,
    "tank": _tank,
    "pump": _pump,
    "mean_worst": _mean_worst,
    "mean_steady": _mean_steady,
    "limit": _limit,
}
"""The explaining function of each figure of the page."""
