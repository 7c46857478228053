"""How the figures of the page "Pump and well" come about."""

from __future__ import annotations

from workbench.study.explain import pictures
from workbench.study.explain.explanation import Asked, Explain, Picture, Working
from workbench.study.explain.steps import ending, ending_as, entered
from workbench.study.explain.supply import flow_steps, mean_flow_steps
from workbench.study.pump.pipes import FrictionTable
from workbench.study.pump.reading import SMALL_MARGIN
from workbench.study.pump.view import PumpView, WorkingPoint
from workbench.study.pump.working import (
    energy_steps,
    energy_text,
    head_steps,
    reach_steps,
    velocity_steps,
)
from workbench.study.working import Step
from workbench.units import (
    FLOW,
    HEAD,
    LENGTH,
    PERCENT,
    PRESSURE,
    VELOCITY,
    Display,
    System,
)
from workbench.words import tr


def _flow(asked: Asked) -> Working | None:
    view, display = asked.results.pump, asked.display
    if view is None or view.at_cut_out is None:
        return None
    steps = _flow_at(asked, view, view.at_cut_out, tr("Flow at cut-out"))
    if view.delivery.is_constant:
        return Working(steps)
    beside: tuple[Step, ...] = ()
    if view.at_cut_in is not None:
        beside = _flow_at(asked, view, view.at_cut_in, tr("Flow at cut-in"))[-1:]
    supply = asked.results.inputs.supply
    if supply is not None and view.mean_flow is not None:
        mean = mean_flow_steps(asked.results, supply, display)[-1]
        beside = (*beside, ending(mean, view.mean_flow, FLOW, display))
    return Working(steps, beside, _head_picture(view.at_cut_out, display))


def _flow_at(asked: Asked, view: PumpView, point: WorkingPoint, title: str) -> tuple[Step, ...]:
    return flow_steps(
        asked.results, view.delivery, point.pressure, point.flow, asked.display, title
    )


def _head_picture(point: WorkingPoint, display: Display) -> Picture | None:
    head = point.head
    if head is None:
        return None
    parts = [(tr("lift"), head.lift), (tr("pressure"), head.pressure)]
    if head.friction is not None:
        parts.append((tr("friction"), head.friction))
    return pictures.head(tuple(parts), display)


def _reach(asked: Asked) -> Working | None:
    view, display = asked.results.pump, asked.display
    if view is None or view.shut_off is None:
        return None
    steps = reach_steps(view, display)
    if view.curve is None and view.at_cut_out is not None:
        steps = (*_flow_at(asked, view, view.at_cut_out, "")[:-1], *steps)
    beside: tuple[Step, ...] = ()
    if view.small_margin:
        least = display.text(SMALL_MARGIN, PRESSURE)
        step = Step(
            tr("Least reach"),
            tr("at least 10 psi above cut-out"),
            least,
            tr("trade judgement, no source"),
        )
        beside = (step,)
    return Working(steps, beside)


def _point(asked: Asked) -> Working | None:
    """The head at cut-in (place 0) or cut-out (1), and its flow."""
    view, display = asked.results.pump, asked.display
    point = None if view is None else (view.at_cut_in, view.at_cut_out)[asked.first]
    if view is None or point is None:
        return None
    title = tr("Flow at cut-out") if asked.first else tr("Flow at cut-in")
    flow = _flow_at(asked, view, point, title)
    if point.head is None:
        return Working(flow)
    steps = head_steps(view, point, display)
    return Working((*flow, *_sum_last(steps)), picture=_head_picture(point, display))


def _sum_last(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The parts of a head first, with their sum at the end."""
    return tuple(sorted(steps, key=lambda step: "+" in step.numbers))


def _speed(asked: Asked) -> Working | None:
    view, display = asked.results.pump, asked.display
    if view is None:
        return None
    points = [one for one in (view.at_cut_in, view.at_cut_out) if one and one.velocity]
    if not points:
        return None
    fastest = max(points, key=lambda one: one.velocity or 0.0)
    *_, last = velocity_steps(view, fastest, display)
    speed = fastest.velocity or 0.0
    limit = display.text(5 * 0.3048, VELOCITY)
    told = Step(tr("Usual limit"), tr("at most 5 ft/s"), limit, last.source)
    return Working((ending(last, speed, VELOCITY, display),), (told,))


def _power(asked: Asked) -> Working | None:
    view, display = asked.results.pump, asked.display
    point = None if view is None else view.at_cut_out or view.at_cut_in
    if view is None or point is None:
        return None
    steps = energy_steps(view, point, display)
    if not steps or point.energy is None:
        return Working((_needs_more(),))
    last = ending_as(steps[-1], energy_text(point.energy, display))
    at = display.text(point.pressure, PRESSURE)
    where = Step(tr("Pressure at the tank"), tr("as the switch is set"), at, tr("as entered"))
    return Working((where, *_sum_last(head_steps(view, point, display)), last))


def _needs_more() -> Step:
    return Step(
        tr("Electric power"),
        tr("P = ρ g Q H / η"),
        tr("Needs pumping level and efficiency."),
        tr("DOE-HDBK-1012/3-92, US Department of Energy, 1992, module 3 (from memory)"),
    )


def _marked(asked: Asked) -> Working | None:
    view, display = asked.results.pump, asked.display
    if view is None:
        return None
    source = tr("the catalogue's row; International Plumbing Code 606.5.10")
    if view.tank is None or view.marked is None:
        return Working(
            (
                Step(
                    tr("Marked working pressure"),
                    tr("of the chosen tank"),
                    tr("no tank is ranked now"),
                    source,
                ),
            )
        )
    marked = display.text(view.marked, PRESSURE)
    last = Step(
        tr("Marked working pressure"), tr("the least of the tanks on the header"), marked, source
    )
    return Working((*_shut_off(asked, view), last))


def _shut_off(asked: Asked, view: PumpView) -> tuple[Step, ...]:
    """What the pump can reach with every tap closed."""
    found = _reach(asked)
    return () if found is None or view.shut_off is None else found.steps


def _yield(asked: Asked) -> Working | None:
    view, display = asked.results.pump, asked.display
    if view is None or view.well.yield_flow is None:
        return None
    given = entered(tr("Well yield"), display.text(view.well.yield_flow, FLOW))
    point = view.at_cut_in or view.at_cut_out
    if point is None:
        return Working((given,))
    taken = _flow_at(asked, view, point, tr("Most that the pump takes"))
    return Working((*taken, given))


def _friction(asked: Asked) -> Working | None:
    """A cell of the table of pipes: row and column."""
    view, display = asked.results.pump, asked.display
    if view is None:
        return None
    table, (row, column) = view.tables[display.system], asked.place
    shape = table.loss.shape
    if row >= shape[0] or column >= shape[1]:
        return None
    loss = float(table.loss[row, column])
    shown = display.number(loss, PERCENT, 2 if loss < 0.1 else 0)
    last = ending_as(_lost_step(table, row, column, display), shown)
    speed = Step(
        tr("Velocity"),
        tr("v = 4 Q / (π d²), at most 5 ft/s"),
        tr(
            "{flow} through {bore} → {speed}",
            flow=display.text(float(table.flows[column]), FLOW, 0),
            bore=display.text(float(table.bores[row]), LENGTH, 3),
            speed=display.text(float(table.speed[row, column]), VELOCITY, 2),
        ),
        tr(
            "continuity; limit of 5 ft/s: training sheet “Determining total dynamic head” for well"
            " contractors"
        ),
    )
    return Working((last,), (speed,))


def _lost_step(table: FrictionTable, row: int, column: int, display: Display) -> Step:
    """The formula in gpm and inches, whose numbers recompute."""
    us = Display(System.US, display.mark)
    flow = us.number(float(table.flows[column]), FLOW, 4)
    bore = us.number(float(table.bores[row]), LENGTH, 4)
    rough = f"{table.roughness:g}".replace(".", display.mark)
    lost = display.number(float(table.loss[row, column]), PERCENT, 3)
    factor, power, fifth, hundred = (
        text.replace(".", display.mark) for text in ("0.2083", "1.852", "4.8655", "100")
    )
    unit = display.symbol(HEAD)
    return Step(
        tr("Head lost in 100 {unit} of plain pipe", unit=unit),
        tr("h = 0.2083 (100/C)^1.852 Q^1.852 / d^4.8655, gpm, in, {unit}/100 {unit}", unit=unit),
        f"{factor} × ({hundred}/{rough})^{power} × {flow}^{power} / {bore}^{fifth} = {lost}",
        tr("Hazen and Williams; EPANET 2 Users Manual, US EPA, 2000, table 3.1"),
    )


FIGURES: dict[str, Explain] = {
    "flow": _flow,
    "reach": _reach,
    "point": _point,
    "speed": _speed,
    "power": _power,
    "marked": _marked,
    "yield": _yield,
    "friction": _friction,
}
"""The explaining function of each figure of the page."""
