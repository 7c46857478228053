"""Runs, rests and other times at a watched rig, as its readings and its symptoms tell them."""

from __future__ import annotations

import math

from workbench.study.cycle.working import handbook
from workbench.study.explain.steps import ending_as, entered
from workbench.study.explain.system_steps import span_text
from workbench.study.faults.watched import Watched
from workbench.study.working import Step
from workbench.units import FLOW, SHORT_TIME, TIME, VOLUME, Display
from workbench.words import tr

_SAME = 1e-3  # share by which what was followed and what a formula gives count as one


def followed() -> str:
    """The source of what is found by following a system."""
    return tr("this system, followed from event to event by a mass balance of tank and pipes")


def turn_steps(seen: Watched, display: Display) -> tuple[Step, ...]:
    """Run and rest at the steady draw, where the pump turns on and off at it."""
    turned, system = seen.turned, seen.system
    if turned is None or math.isinf(turned.run + turned.rest):
        return ()
    draw = display.text(seen.tap, FLOW, 2)
    stop, start = (system.stored(p) for p in (system.cut_out, system.cut_in))
    rest, run = span_text(turned.rest, display), span_text(turned.run, display)
    water = display.text(stop - start, VOLUME, 3)
    plain = (stop - start) / (seen.tap + system.back_flow)
    if system.sensing_lag == 0.0 and math.isclose(plain, turned.rest, rel_tol=_SAME):
        back = display.text(system.back_flow, FLOW, 2)
        below = draw if system.back_flow == 0.0 else f"({draw} + {back})"
        numbers = f"{water} / {below} = {rest}"
    else:
        numbers = f"{draw} → {rest}"
    flows = [display.text(system.pump_flow(at), FLOW) for at in (start, stop)]
    return (
        Step(tr("Rest"), tr("rest = water of tank and pipes between stop and start / draw"),
             numbers, handbook()),
        Step(tr("Run"), tr("run = ∫ dS / (Q(S) − q) from start to stop, the pump's start in it"),
             f"{' … '.join(flows)}, {draw} → {run}", handbook()),
    )  # fmt: skip


def every_steps(seen: Watched, display: Display) -> tuple[Step, ...]:
    """The draw, and from one start to the next at it, as a person with a watch tells it."""
    turned = seen.turned
    draw = entered(tr("Steady draw"), display.text(seen.tap, FLOW))
    if turned is None or math.isinf(turned.run + turned.rest):
        return (draw,)
    parts = [(tr("Run, told"), turned.run), (tr("Rest, told"), turned.rest)]
    told = [
        Step(title, tr("to a second below a minute"), _told(span_text(one, display), one, display),
             followed())
        for title, one in parts
    ]  # fmt: skip
    run, rest = (span_text(one, display) for _, one in parts)
    turn = turned.run + turned.rest
    whole = Step(
        tr("From start to start"), tr("run + rest"), f"{run} + {rest} = {span_text(turn, display)}",
        tr("definition"),
    )  # fmt: skip
    return (draw, *told, ending_as(whole, told_span(turn, display)))


def _told(shown: str, seconds: float, display: Display) -> str:
    told = told_span(seconds, display)
    return told if told == shown else f"{shown} → {told}"


def told_span(seconds: float, display: Display) -> str:
    """A time as the symptoms tell it: to a second, or in minutes."""
    return display.text(seconds, SHORT_TIME if seconds < 60.0 else TIME)


def back_step(seconds: float, display: Display) -> Step:
    """The time to refill as the symptoms tell it."""
    shown, told = display.text(seconds, SHORT_TIME, 1), display.text(seconds, SHORT_TIME)
    return Step(
        tr("It is back after"), tr("time to refill, to a second"), f"{shown} → {told}", followed()
    )
