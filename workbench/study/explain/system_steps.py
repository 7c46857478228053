"""Steps about a system that is set in motion: its water, its pressure, and seconds of both."""

from __future__ import annotations

import math

import numpy as np

from workbench.physics.air import gauge_pressure
from workbench.physics.system import System
from workbench.study.cycle.working import handbook
from workbench.study.evaluate import Results
from workbench.study.explain.steps import Air, boyle, held_step
from workbench.study.explain.supply import flow_steps
from workbench.study.faults.scaled import Scaled
from workbench.study.working import Step
from workbench.units import FLOW, PERCENT, PRESSURE, SHORT_TIME, TIME, VOLUME, Display
from workbench.words import tr

_DIGITS = 5  # that count, of what the pipes give
_FINE = 4  # decimals of the little water that the pipes hold
_MINUTE = 60.0  # s


def fine(value: float, display: Display) -> str:
    """A number with as many decimals as make five digits that count."""
    places = 0 if value == 0.0 else max(0, _DIGITS - 1 - math.floor(math.log10(abs(value))))
    return f"{value:.{places}f}".replace(".", display.mark)


def give_text(system: System, display: Display) -> str:
    """What the pipes give for one shown unit of pressure, as a number of shown volumes."""
    each = system.line_give * display.unit(PRESSURE).factor / display.unit(VOLUME).factor
    return fine(each, display)


def span_text(seconds: float, display: Display) -> str:
    """Seconds to a tenth, or minutes from one minute on."""
    if seconds < _MINUTE:
        return display.text(seconds, SHORT_TIME, 1)
    return display.text(seconds, TIME, 2)


def balance() -> str:
    """The source of what tank and pipes hold together."""
    return tr("mass balance of tank and pipes")


# --- water ---


def held_at(system: System, title: str, pressure: float, display: Display) -> Step:
    """The water in a system's tank at a gauge pressure [Pa], up to the membrane's limit."""
    if pressure >= system.full_at:
        most = display.text(system.acceptance, VOLUME, 2)
        at, limit = (display.text(p, PRESSURE) for p in (pressure, system.full_at))
        return Step(
            title,
            tr("at the membrane's limit the tank takes no more than its acceptance"),
            f"{at} ≥ {limit} → {most}",
            tr("the tank's acceptance, as its row of the catalogue has it"),
        )
    air = Air(system.precharge, system.ambient, system.exponent)
    return held_step(title, air, system.volume, pressure, system.water(pressure), display)


def stored_step(system: System, title: str, pressure: float, display: Display) -> Step:
    """The water under pressure in tank and pipes [m³] at a gauge pressure [Pa]."""
    water = display.number(system.water(pressure), VOLUME, _FINE)
    at, give = display.number(pressure, PRESSURE, 2), give_text(system, display)
    stored = display.text(system.stored(pressure), VOLUME, _FINE)
    return Step(
        title,
        tr(
            "S = w + C × p, C: what the pipes give, {volume} for 1 {pressure}",
            volume=display.symbol(VOLUME),
            pressure=display.symbol(PRESSURE),
        ),
        f"{water} + {give} × {at} = {stored}",
        tr("mass balance of tank and pipes; C as entered"),
    )


def between_steps(system: System, display: Display) -> tuple[Step, ...]:
    """The water that tank and pipes give from cut-out to cut-in."""
    ends = (system.stored(system.cut_out), system.stored(system.cut_in))
    high, low = (display.text(one, VOLUME, _FINE) for one in ends)
    return (
        held_at(system, tr("Water in the tank at cut-out"), system.cut_out, display),
        held_at(system, tr("Water in the tank at cut-in"), system.cut_in, display),
        stored_step(system, tr("Tank and pipes at cut-out"), system.cut_out, display),
        stored_step(system, tr("Tank and pipes at cut-in"), system.cut_in, display),
        Step(
            tr("Between cut-out and cut-in"),
            tr("Vs = S at cut-out − S at cut-in"),
            f"{high} − {low} = {display.text(ends[0] - ends[1], VOLUME, _FINE)}",
            balance(),
        ),
    )


# --- run and rest ---


def rest_seconds(system: System, tap: float) -> float | None:
    """From stop to start [s] at a draw [m³/s]; None where it has no end or the switch lags."""
    draw = tap + system.back_flow
    if draw <= 0.0 or system.sensing_lag > 0.0:
        return None
    return (system.stored(system.cut_out) - system.starts_at) / draw


def run_seconds(system: System, tap: float) -> float | None:
    """From start to stop [s] at a draw [m³/s]; None where it has no end, the taps run dry, or the
    switch lags.
    """
    start = system.starts_at - (tap + system.back_flow) * system.start_delay
    if system.sensing_lag > 0.0 or start < 0.0:
        return None
    if system.pump_flow(system.top) <= tap * (1.0 + 1e-9):
        return None
    return system.start_delay + float(system.fill.time(start, system.top, tap))


def draw_text(system: System, tap: float, display: Display) -> str:
    """What leaves tank and pipes while the pump rests, as a term of a formula."""
    draw = display.text(tap, FLOW, 2)
    if system.back_flow == 0.0:
        return draw
    back = display.text(system.back_flow, FLOW, 2)
    return back if tap == 0.0 else f"({draw} + {back})"


def rest_steps(system: System, tap: float, seconds: float, display: Display) -> tuple[Step, ...]:
    """How a rest comes about."""
    *first, last = between_steps(system, display)
    water = display.text(system.stored(system.cut_out) - system.starts_at, VOLUME, _FINE)
    formula = tr("rest = Vs / q") if system.back_flow == 0.0 else (
        tr("rest = Vs / (q + b), b: what runs back into the well")
    )  # fmt: skip
    numbers = f"{water} / {draw_text(system, tap, display)} = {span_text(seconds, display)}"
    return (*first, last, Step(tr("Rest"), formula, numbers, handbook()))


def run_steps(
    results: Results, system: System, tap: float, seconds: float, display: Display
) -> tuple[Step, ...]:
    """How a run comes about, with the pump's start and what is drawn meanwhile."""
    late, draw = system.start_delay, tap + system.back_flow
    water = system.stored(system.cut_out) - system.starts_at + draw * late
    steps = [*between_steps(system, display)]
    if draw * late > 0.0:
        meanwhile = f"{draw_text(system, tap, display)} × {display.text(late, SHORT_TIME, 1)}"
        drawn = display.text(draw * late, VOLUME, _FINE)
        steps.append(
            Step(tr("Drawn until the pump gives"), tr("q × start"), f"{meanwhile} = {drawn}",
                 balance())
        )  # fmt: skip
    filled = display.text(water, VOLUME, _FINE)
    shown, start = span_text(seconds, display), display.text(late, SHORT_TIME, 1)
    ends = (system.cut_in, system.cut_out)
    flows = [system.pump_flow(system.stored(p)) for p in ends]
    if math.isclose(*flows, rel_tol=1e-9):
        flow = display.text(flows[0], FLOW, 2)
        net = flow if tap == 0.0 else f"({flow} − {display.text(tap, FLOW, 2)})"
        formula, numbers = (
            tr("run = start + filled / (Q − q)"),
            f"{start} + {filled} / {net} = {shown}",
        )
    else:
        most, least = (display.text(flow, FLOW) for flow in flows)
        formula, numbers = (
            tr("run = start + ∫ dS / (Q(S) − q) from cut-in to cut-out"),
            f"{start}, {filled}, {most} … {least}, {display.text(tap, FLOW)} → {shown}",
        )
    pump = pump_steps(results, system, system.cut_in, flows[0], display, tr("Flow of the pump"))
    return (*steps, *pump, Step(tr("Run"), formula, numbers, handbook()))


# --- the pump ---


def pump_steps(
    results: Results, system: System, pressure: float, flow: float, display: Display, title: str
) -> tuple[Step, ...]:
    """What a system's pump gives [m³/s] at a gauge pressure [Pa]; the last step ends with it."""
    delivery = system.delivery
    if np.isnan(float(delivery.flow(gauge_pressure(pressure)))):
        told = display.text(flow, FLOW)
        low, at = display.text(system.cut_in, PRESSURE), display.text(pressure, PRESSURE)
        return (
            Step(
                title,
                tr("where the entered data end their last flow is held"),
                tr("{at}, below cut-in {low} → {flow}", at=at, low=low, flow=told),
                tr("our assumption"),
            ),
        )
    if not isinstance(delivery, Scaled):
        return flow_steps(results, delivery, pressure, flow, display, title)
    felt, sound = pressure / delivery.head_share, flow / delivery.flow_share
    named = tr("Flow when sound, at {pressure}", pressure=display.text(felt, PRESSURE))
    first = flow_steps(results, delivery.inner, felt, sound, display, named)
    share = display.text(delivery.flow_share, PERCENT)
    formula = tr("Q = flow share × Q sound")
    source = tr("the fault's size is our own choice")
    if not delivery.is_constant:
        formula = tr("Q(p) = s × Q sound at p / s², s: share of the speed")
        source = tr("affinity laws, textbook (from memory); the fault's size is our own choice")
    worn = f"{share} × {display.text(sound, FLOW, 2)} = {display.text(flow, FLOW)}"
    return (*first, Step(title, formula, worn, source))


# --- pressure ---


def gauge_steps(system: System, stored: float, pressure: float, display: Display) -> list[Step]:
    """What the gauge reads [Pa] with this much water [m³] under pressure."""
    if stored <= system.emptied_at or pressure >= system.full_at:
        return [_by_pipes(system, stored, pressure, display)]
    water = system.water(pressure)

    def absolute(gauge: float) -> str:
        return display.text(gauge + system.ambient, PRESSURE, 3)

    volume, room = (display.text(one, VOLUME, 2) for one in (system.volume, system.volume - water))
    power = "" if system.exponent == 1.0 else f"^{system.exponent:g}".replace(".", display.mark)
    held = display.text(water, VOLUME, 2)
    charge, ambient = display.text(system.precharge, PRESSURE, 2), absolute(0.0)
    return [
        Step(tr("Room of the air"), tr("V − w"), f"{volume} − {held} = {room}",
             tr("what is not water is air")),
        Step(tr("Air in the drained tank, absolute"), tr("absolute = gauge + air pressure"),
             f"{charge} + {ambient} = {absolute(system.precharge)}",
             tr("US Standard Atmosphere 1976")),
        Step(tr("Air now, absolute"),
             tr("P = Pp × V / air") if not power else tr("P = Pp × (V / air)^n"),
             f"{absolute(system.precharge)} × ({volume} / {room}){power} = {absolute(pressure)}",
             boyle()),
        Step(tr("Gauge"), tr("gauge = absolute − air pressure"),
             f"{absolute(pressure)} − {ambient} = {display.text(pressure, PRESSURE)}",
             tr("a gauge reads zero in the open air")),
    ]  # fmt: skip


def _by_pipes(system: System, stored: float, pressure: float, display: Display) -> Step:
    """The gauge where only the pipes still give: an empty tank, or a full membrane."""
    give, shown = give_text(system, display), display.text(pressure, PRESSURE)
    water = fine(float(display.value(stored, VOLUME)), display)
    if stored <= system.emptied_at:
        return Step(
            tr("Gauge, the tank empty"),
            tr("p = S / C: only the pipes still give"),
            f"{water} / {give} = {shown}",
            tr("mass balance of tank and pipes; C as entered"),
        )
    most = fine(float(display.value(system.acceptance, VOLUME)), display)
    return Step(
        tr("Gauge, the membrane at its limit"),
        tr("p = (S − A) / C: only the pipes still take"),
        f"({water} − {most}) / {give} = {shown}",
        tr("mass balance of tank and pipes; C as entered"),
    )
