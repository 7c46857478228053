"""How the figures of the page "Tank" come about: answers, rules, and the ranked tanks."""

from __future__ import annotations

from dataclasses import replace

from workbench.job.choices import RunTimeRule, run_time_rules
from workbench.study.explain import pictures
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.steps import ending, ending_as
from workbench.study.explain.supply import mean_flow_steps
from workbench.study.explain.tank_reasons import failure_steps, note_steps
from workbench.study.inputs import Duty
from workbench.study.job_working import precharge_steps, run_steps, tank_steps
from workbench.study.ranking import Fails, Judged, Ranking
from workbench.study.reasons import margin_text
from workbench.study.sizing import RuleResult, Sizing
from workbench.study.working import Step, air_step, factor_step, required_steps
from workbench.units import (
    FLOW,
    LENGTH,
    NUMBER,
    PRESSURE,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
    distinct,
)
from workbench.words import tr

# --- the answers ---


def _required(asked: Asked) -> Working | None:
    results, display = asked.results, asked.display
    sizing, duty, setting = results.sizing, results.duty, results.setting
    if sizing is None or duty is None or setting is None:
        return None
    steps = _rule_steps(asked, duty, sizing, sizing.chosen)
    _, worst, total = required_steps(duty, sizing, steps[-1].source, display)
    beside = (
        air_step(setting, display),
        factor_step(setting, sizing.factor, display),
        ending_as(total, display.text(sizing.total_volume, VOLUME, 0)),
        worst,
    )
    return Working(steps, beside, pictures.air(setting, display))


def _rule_steps(asked: Asked, duty: Duty, sizing: Sizing, result: RuleResult) -> tuple[Step, ...]:
    """How a rule comes to its drawdown, which ends the last step."""
    display, source = asked.display, run_time_rules()[result.rule].source
    flow = mean_flow_steps(asked.results, duty.supply, display)
    if result.rule is RunTimeRule.STARTS and duty.starts_limit is not None:
        last = _starts_step(duty, duty.starts_limit, result, source, display)
        return (*flow, ending(last, result.drawdown, VOLUME, display))
    run = display.text(result.run_time, TIME)
    by = _steps_step(duty, run, source, display)
    if result.rule is RunTimeRule.TYPED:
        by = Step(tr("Minimum run"), tr("t as entered"), run, source)
    last, *_ = required_steps(duty, replace(sizing, chosen=result), source, display)
    return (*flow, by, ending(last, result.drawdown, VOLUME, display))


def _steps_step(duty: Duty, run: str, source: str, display: Display) -> Step:
    return Step(
        tr("Minimum run by the pump's flow"),
        tr("1 min up to 10 gpm, 1.5 min up to 20 gpm, 2 min above"),
        f"{display.text(duty.pump_flow, FLOW, 2)} → {run}",
        source,
    )


def _starts_step(
    duty: Duty, limit: float, result: RuleResult, source: str, display: Display
) -> Step:
    """The drawdown by a limit of starts, at the draw that is worst."""
    most, water = display.text(limit, STARTS_PER_HOUR), display.text(result.drawdown, VOLUME, 2)
    title = tr("Required drawdown")
    if duty.supply.unit is None:
        flow = display.text(duty.pump_flow, FLOW, 2)
        return Step(title, tr("Vd = Q / (4 N)"), f"{flow} / (4 × {most}) = {water}", source)
    factor = display.text(duty.supply.starts_factor, FLOW, 3)
    draw = display.text(duty.supply.worst_draw, FLOW, 2)
    return Step(
        title,
        tr("Vd = F / N; F is Vd over run and rest at the worst draw {draw}", draw=draw),
        f"{factor} / {most} = {water}",
        source,
    )


def _precharge(asked: Asked) -> Working | None:
    results, display = asked.results, asked.display
    setting, charge = results.setting, results.precharge
    if setting is None or charge is None:
        return None
    *first, last = precharge_steps(results, setting, display)
    shown, air = charge.in_service, setting.ambient
    reading = results.inputs.reading
    if charge.where_set is not None and reading is not None:
        shown, air = charge.where_set, reading.ambient
    last = ending(last, shown, PRESSURE, display)
    return Working((*first, last), picture=pictures.gauge(shown, air, display))


# --- the rules ---


def _rule(asked: Asked) -> tuple[Duty, Sizing, RuleResult] | None:
    duty, sizing = asked.results.duty, asked.results.sizing
    if duty is None or sizing is None:
        return None
    rule = tuple(RunTimeRule)[asked.first]
    found = next((one for one in sizing.rules if one.rule is rule), None)
    return None if found is None else (duty, sizing, found)


def _rule_water(asked: Asked) -> Working | None:
    found = _rule(asked)
    return None if found is None else Working(_rule_steps(asked, *found))


def _rule_starts(asked: Asked) -> Working | None:
    found, display = _rule(asked), asked.display
    if found is None:
        return None
    duty, sizing, result = found
    steps = _rule_steps(asked, duty, sizing, result)
    starts = display.text(result.starts, STARTS_PER_HOUR)
    water = display.text(result.drawdown, VOLUME, 2)
    last = Step(
        tr("Most starts over every draw"),
        tr("N = Q / (4 Vd), half the pump's flow drawn"),
        f"{display.text(duty.pump_flow, FLOW, 2)} / (4 × {water}) = {starts}",
        tr("MIL-HDBK-1005/9A, paragraph 2.5.3.6"),
    )
    if duty.supply.unit is not None:
        _, last, _ = required_steps(duty, replace(sizing, chosen=result), last.source, display)
        last = ending_as(last, starts)
    return Working((*steps, last))


def _spread(asked: Asked) -> Working | None:
    sizing, display = asked.results.sizing, asked.display
    if sizing is None:
        return None
    waters = sorted(rule.drawdown for rule in sizing.rules)
    most, least = (display.text(water, VOLUME, 2) for water in (waters[-1], waters[0]))
    factor = display.number(sizing.spread, NUMBER, 1)
    step = Step(
        tr("Most that a rule asks for, by the least"),
        tr("factor = most / least"),
        f"{most} / {least} = {factor}",
        tr("definition"),
    )
    return Working((step,))


# --- the ranked tanks ---


def _one(asked: Asked) -> Judged | None:
    """The arrangement whose index is the key's place."""
    ranking = asked.results.ranking
    if ranking is None or asked.first >= len(ranking):
        return None
    return ranking.judged(asked.first)


def _row() -> str:
    return tr("the catalogue's row")


def _volume(asked: Asked) -> Working | None:
    one, display = _one(asked), asked.display
    if one is None:
        return None
    each = [display.text(part.total_volume, VOLUME) for part in one.parts]
    whole = display.text(one.total_volume, VOLUME)
    numbers = f"{' + '.join(each)} = {whole}" if len(each) > 1 else whole
    return Working((Step(tr("Total volume"), tr("V = sum of the tanks"), numbers, _row()),))


def _drawdown(asked: Asked) -> Working | None:
    one, setting, display = _one(asked), asked.results.setting, asked.display
    if one is None or setting is None:
        return None
    *first, last = tank_steps(setting, one, display)
    last = ending(last, one.drawdown, VOLUME, display)
    return Working((*first, last), picture=pictures.air(setting, display))


def _detail(asked: Asked) -> Working | None:
    """The sentences beneath the table: drawdown, and beside it run, starts and what else counts."""
    found, duty, one = _drawdown(asked), asked.results.duty, _one(asked)
    ranking, required = asked.results.ranking, _required(asked)
    if found is None or duty is None or one is None or ranking is None or required is None:
        return None
    beside = [*required.steps, *run_steps(duty, one, asked.display)]
    beside += [*_least(one, ranking, asked.display), *failure_steps(one, ranking, asked.display)]
    beside += note_steps(one, ranking, asked.display)
    return Working(found.steps, tuple(beside), found.picture)


def _least(one: Judged, ranking: Ranking, display: Display) -> tuple[Step, ...]:
    """What the drawdown, or the run that a membrane ends, is held against."""
    source = run_time_rules()[ranking.rule].source
    water, required = distinct(one.drawdown, ranking.required, VOLUME, display)
    steps = [
        Step(
            tr("Drawdown against the required one"),
            tr("at least what is required"),
            tr("{water}, {required} required", water=water, required=required),
            source,
        )
    ]
    if Fails.RUN in one.fails:
        run, needed = distinct(one.run_time, ranking.least_run, TIME, display)
        starts, most = distinct(one.starts, ranking.most_starts, STARTS_PER_HOUR, display)
        steps.append(
            Step(
                tr("Run and starts against the required ones"),
                tr("by the run-time rule"),
                tr(
                    "{run}, {needed} required; {starts}, {most} allowed",
                    run=run,
                    needed=needed,
                    starts=starts,
                    most=most,
                ),
                source,
            )
        )
    return tuple(steps)


def _why(asked: Asked) -> Working | None:
    """The column "Why": the limits that the tank is held against."""
    one, ranking, found = _one(asked), asked.results.ranking, _detail(asked)
    if one is None or ranking is None or found is None:
        return None
    notes = note_steps(one, ranking, asked.display)
    judged = (
        *_least(one, ranking, asked.display),
        *failure_steps(one, ranking, asked.display),
    )
    steps = (*judged, *notes) if one.passes else (*notes, *judged)  # what decides comes last
    return Working(steps, (*found.steps, *run_steps(ranking.duty, one, asked.display)))


def _margin(asked: Asked) -> Working | None:
    one, ranking, display = _one(asked), asked.results.ranking, asked.display
    if one is None or ranking is None:
        return None
    water, required = (
        display.text(amount, VOLUME, 3) for amount in (one.drawdown, ranking.required)
    )
    step = Step(
        tr("Margin"),
        tr("margin = drawdown − required drawdown"),
        f"{water} − {required} = {margin_text(one, display)}",
        tr("definition"),
    )
    return Working((step,), _before(asked))


def _before(asked: Asked) -> tuple[Step, ...]:
    """How the drawdown of the tank and the required one come about."""
    found, required = _drawdown(asked), _required(asked)
    own = () if found is None else found.steps
    return own if required is None else (*own, *required.steps)


def _run(asked: Asked) -> Working | None:
    one, duty, display = _one(asked), asked.results.duty, asked.display
    found = _drawdown(asked)
    if one is None or duty is None or found is None:
        return None
    run, *_ = (*run_steps(duty, one, display), _no_water(display.number(one.run_time, TIME)))
    flow = mean_flow_steps(asked.results, duty.supply, display)
    last = ending(run, one.run_time, TIME, display)
    return Working((*found.steps, *flow, last))


def _no_water(shown: str) -> Step:
    return Step(
        tr("No cycle"), tr("no water comes in between cut-in and cut-out"), shown, tr("definition")
    )


def _starts(asked: Asked) -> Working | None:
    one, duty, display = _one(asked), asked.results.duty, asked.display
    found = _drawdown(asked)
    if one is None or duty is None or found is None:
        return None
    steps = tuple(run_steps(duty, one, display))
    if not steps:
        return Working((*found.steps, _no_water("∞")))
    run, last = steps
    last = ending(last, one.starts, STARTS_PER_HOUR, display)
    rest = 1.0 / one.starts - one.run_time
    picture = None
    if duty.supply.unit is None:  # at half the flow run and rest are equal, twice the shortest run
        picture = pictures.turn(2.0 * one.run_time, rest - one.run_time, display)
    return Working((*found.steps, run, last), picture=picture)


def _price(asked: Asked) -> Working | None:
    one, display = _one(asked), asked.display
    if one is None or one.price is None:
        return None
    each = [f"{part.price:.2f}".replace(".", display.mark) for part in one.parts]
    whole = f"{one.price:.2f}".replace(".", display.mark) + f" {one.tank.currency}"
    numbers = f"{' + '.join(each)} = {whole}" if len(each) > 1 else whole
    return Working((Step(tr("Price"), tr("sum of the tanks"), numbers, _row()),))


def _size(asked: Asked) -> Working | None:
    one, display = _one(asked), asked.display
    if one is None:
        return None
    steps = [
        Step(
            tr("Size of {tank}", tank=tank.name),
            tr("diameter × height"),
            f"{display.number(tank.diameter, LENGTH)} × {display.number(tank.height, LENGTH)}",
            _row(),
        )
        for tank in one.kinds
    ]
    return Working(tuple(steps))


FIGURES: dict[str, Explain] = {
    "required": _required,
    "precharge": _precharge,
    "rule_water": _rule_water,
    "rule_starts": _rule_starts,
    "spread": _spread,
    "volume": _volume,
    "drawdown": _drawdown,
    "detail": _detail,
    "margin": _margin,
    "run": _run,
    "starts": _starts,
    "price": _price,
    "size": _size,
    "why": _why,
}
"""The explaining function of each figure of the page; those of a tank by its place in the columns
of candidates."""
