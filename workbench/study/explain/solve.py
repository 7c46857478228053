"""How the figures of the page "Solve for one" come about."""

from __future__ import annotations

from workbench.job.paper_choices import SolveFor
from workbench.study.explain import bench, pictures
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.steps import Air, ending, ending_as, entered, held_step
from workbench.study.explain.supply import mean_flow_steps
from workbench.study.solve.answers import Solution
from workbench.study.solve.known import MOVES_BAND
from workbench.study.solve.words import kind_of, name_of, value_text
from workbench.study.solve.working import solve_steps
from workbench.study.working import Step, air_step
from workbench.units import FLOW, PERCENT, PRESSURE, TIME, VOLUME, Quantity
from workbench.words import tr


def _solution(asked: Asked) -> Solution | None:
    """The answer at the place, the first one where no place is told."""
    solutions = asked.results.solved.solutions
    place = asked.first if asked.place else 0
    return solutions[place] if place < len(solutions) else None


def _answer(asked: Asked) -> Working | None:
    view, display, one = asked.results.solved, asked.display, _solution(asked)
    if one is None:
        return None
    place = asked.first if asked.place else 0
    *before, water, turned, back = solve_steps(view, display, place)
    first = (*before, ending(water, one.drawdown, VOLUME, display))
    steps = (*first, turned)
    shown = value_text(view.answered, one.value, display)
    if view.answered is SolveFor.PRECHARGE and not turned.numbers.endswith(shown):
        steps = (*steps, _gauge_step(one, asked))
    else:
        steps = (*first, ending_as(turned, shown))
    if view.answered is SolveFor.RUN_TIME and view.known and not view.known.is_constant:
        steps = (*_flows(asked), *steps)
    beside = (back, *_share_steps(one, asked), *_gap_steps(one, asked))
    return Working(steps, beside, pictures.air(one.setting, display))


def _flows(asked: Asked) -> tuple[Step, ...]:
    supply = asked.results.inputs.supply
    return () if supply is None else mean_flow_steps(asked.results, supply, asked.display)


def _gauge_step(one: Solution, asked: Asked) -> Step:
    """The absolute precharge as a gauge reads it."""
    display, setting = asked.display, one.setting
    whole, air = (
        display.number(p, PRESSURE, 3) for p in (one.value + setting.ambient, setting.ambient)
    )
    return Step(
        tr("Precharge, on the gauge"),
        tr("gauge = absolute − air pressure"),
        f"{whole} − {air} = {display.text(one.value, PRESSURE)}",
        tr("US Standard Atmosphere 1976"),
    )


def _share_steps(one: Solution, asked: Asked) -> tuple[Step, ...]:
    display = asked.display
    water, volume = (display.text(size, VOLUME, 3) for size in (one.drawdown, one.volume))
    share = display.text(one.drawdown / one.volume, PERCENT, 1)
    step = Step(
        tr("Share of the volume"), tr("Vd / V"), f"{water} / {volume} = {share}", tr("definition")
    )
    return (step,)


def _gap_steps(one: Solution, asked: Asked) -> tuple[Step, ...]:
    if one.setting.cut_in == one.setting.precharge:
        return ()
    charge, low, off = (
        asked.display.text(p, PRESSURE)
        for p in (
            one.setting.precharge,
            one.setting.cut_in,
            abs(one.setting.cut_in - one.setting.precharge),
        )
    )
    if one.gap:
        title, numbers = tr("Empty above cut-in by"), f"{charge} − {low} = {off}"
        return (Step(title, tr("precharge − cut-in"), numbers, tr("definition")),)
    title, numbers = tr("Precharge below cut-in by"), f"{low} − {charge} = {off}"
    return (Step(title, tr("cut-in − precharge"), numbers, tr("definition")),)


def _now(asked: Asked) -> Working | None:
    """What the job holds of what is looked for."""
    results, display, what = asked.results, asked.display, asked.results.solved.looked_for
    setting, supply = results.setting, results.inputs.supply
    if what is SolveFor.PRECHARGE:
        found = bench.FIGURES["precharge"](asked)
        if found is not None or setting is None:
            return found
        return Working((entered(tr("Precharge"), display.text(setting.precharge, PRESSURE)),))
    if what is SolveFor.PUMP_FLOW:
        if supply is None:
            return None
        *first, last = mean_flow_steps(results, supply, display)
        return Working((*first, ending(last, supply.mean_flow, FLOW, display)))
    if what in MOVES_BAND:
        return _now_band(asked)
    entry = results.job.run_time if what is SolveFor.RUN_TIME else results.job.solve_volume
    if not isinstance(entry, Quantity):
        return None
    return Working((entered(name_of(what), display.text(entry.si, kind_of(what))),))


def _now_band(asked: Asked) -> Working | None:
    setting, display = asked.results.setting, asked.display
    if setting is None:
        return None
    low, high = (display.text(p, PRESSURE) for p in (setting.cut_in, setting.cut_out))
    if asked.results.solved.looked_for is SolveFor.CENTRE:
        middle = display.text(0.5 * (setting.cut_in + setting.cut_out), PRESSURE)
        formula, numbers = tr("(cut-in + cut-out) / 2"), f"({low} + {high}) / 2 = {middle}"
    else:
        width = display.text(setting.cut_out - setting.cut_in, PRESSURE)
        formula, numbers = tr("cut-out − cut-in"), f"{high} − {low} = {width}"
    title = name_of(asked.results.solved.looked_for)
    return Working((Step(title, formula, numbers, tr("definition; the band as entered")),))


def _setting(asked: Asked) -> Working | None:
    one, display, view = _solution(asked), asked.display, asked.results.solved
    if one is None:
        return None
    low, high, charge = (
        display.text(p, PRESSURE)
        for p in (one.setting.cut_in, one.setting.cut_out, one.setting.precharge)
    )
    band = entered(tr("Switch band"), tr("{low} to {high}", low=low, high=high))
    if view.answered is SolveFor.PRECHARGE:
        found = _answer(asked)
        steps = () if found is None else found.steps
        return Working((band, *steps))
    found = bench.FIGURES["precharge"](asked)
    if found is None or one.setting != asked.results.setting:
        return Working((band, entered(tr("Precharge"), charge)))
    *first, last = found.steps
    picture = pictures.gauge(one.setting.precharge, one.setting.ambient, display)
    return Working((band, *first, ending_as(last, charge)), picture=picture)


def _drawdown(asked: Asked) -> Working | None:
    one, display = _solution(asked), asked.display
    if one is None:
        return None
    air, factor, water, *_ = solve_steps(asked.results.solved, display)
    last = ending(water, one.drawdown, VOLUME, display)
    picture = pictures.air(one.setting, display)
    return Working((air, factor, last), _share_steps(one, asked), picture)


def _run(asked: Asked) -> Working | None:
    one, display = _solution(asked), asked.display
    if one is None:
        return None
    *first, _, back = solve_steps(asked.results.solved, display)
    flow = Step(
        tr("Flow"),
        tr("Q = Vd / t"),
        f"{display.text(one.drawdown, VOLUME, 3)} / {display.text(one.run, TIME, 4)}"
        f" = {display.text(one.flow, FLOW)}",
        tr("definition; where the flow falls with the pressure, its mean over the band"),
    )
    return Working((*first, flow, ending(back, one.run, TIME, display)))


def _held(asked: Asked) -> Working | None:
    one, display = _solution(asked), asked.display
    if one is None:
        return None
    setting = one.setting
    step = held_step(
        tr("Water in the tank at cut-out"),
        Air.of(setting),
        one.volume,
        setting.cut_out,
        one.held,
        display,
    )
    last = ending(step, one.held, VOLUME, display)
    return Working((air_step(setting, display), last), picture=pictures.air(setting, display))


def _margin(asked: Asked) -> Working | None:
    one, display = _solution(asked), asked.display
    if one is None or one.margin is None:
        return None
    high = one.setting.cut_out
    most, at, margin = (display.text(p, PRESSURE) for p in (high + one.margin, high, one.margin))
    last = Step(
        tr("Shut-off above cut-out"),
        tr("margin = p0 − cut-out"),
        f"{most} − {at} = {margin}",
        tr("at least 10 psi: trade judgement; the pump's shut-off: as on “Pump and well”"),
    )
    return Working((*_flows(asked)[:2], last))


FIGURES: dict[str, Explain] = {
    "answer": _answer,
    "also": _answer,
    "now": _now,
    "setting": _setting,
    "drawdown": _drawdown,
    "run": _run,
    "held": _held,
    "margin": _margin,
}
"""The explaining function of each figure of the page."""
