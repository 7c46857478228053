"""How the figures of the page "Day" come about.

``asked.own`` is the simulated day and year, each None where it is not there; the place of a figure
is its tank, or 2 for the difference of the two.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from workbench.job.pump_choices import motor_limits
from workbench.study.day.energy import knows_energy
from workbench.study.day.plan import DayPlan
from workbench.study.day.simulated import DAYS, DayView, TankDay, TankYear, YearView
from workbench.study.day.told import lasting
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.steps import entered
from workbench.study.working import Step
from workbench.units import (
    ENERGY,
    FLOW,
    NUMBER,
    PERCENT,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
)
from workbench.words import tr

_DIFFERENCE = 2
Told = Callable[[float, Display], str]


@dataclass(frozen=True, slots=True)
class _Figure:
    """A figure of a day or a year: what it is counted by, its value, and how it is told."""

    formula: Callable[[], str]
    value: Callable[[Any], float | None]
    told: Told


def _whole(count: float, _display: Display) -> str:
    return f"{count:.0f}"


def _mean(count: float, display: Display) -> str:
    return display.number(count, NUMBER, 1)


def _water(volume: float, display: Display) -> str:
    return display.text(volume, VOLUME)


def _much_water(volume: float, display: Display) -> str:
    return display.text(volume, VOLUME, 0)


def _energy(joules: float, display: Display) -> str:
    return display.text(joules, ENERGY)


def _source() -> str:
    return tr(
        "simulated from event to event by the mass balance of the tank; draws: Residential End Uses"
        " of Water, version 2, 2016, without its leaks; hours: National Renewable Energy Laboratory"
        " and ANSI/RESNET/ICC 301-2022"
    )


def _both(asked: Asked) -> tuple[DayView | None, YearView | None]:
    if isinstance(asked.own, tuple) and len(asked.own) == 2:
        return asked.own
    return None, None


# --- the answers ---


def _starts(asked: Asked) -> Working | None:
    day, _ = _both(asked)
    if day is None or asked.first >= len(day.tanks):
        return None
    one, display = day.tanks[asked.first], asked.display
    steps = [*_drawn_steps(one, display)]
    motor = day.plan.motor
    source = motor_limits()[asked.results.job.motor_limit].source
    if motor is not None and motor.starts_day is not None:
        most = display.number(motor.starts_day, STARTS_PER_DAY, 0)
        steps.append(
            Step(tr("Limit of a day"), tr("starts a day by the motor's limit"), most, source)
        )
    beside = [_step(tr("Busiest hour, starts"), _DAY["busiest"], one, display)]
    if motor is not None and motor.starts_hour is not None:
        most = display.number(motor.starts_hour, STARTS_PER_HOUR)
        beside.append(
            Step(tr("Limit of an hour"), tr("starts an hour by the motor's limit"), most, source)
        )
    steps.append(_starts_step(one))
    return Working(tuple(steps), tuple(beside))


def _drawn_steps(one: TankDay, display: Display) -> tuple[Step, ...]:
    """The drawdown of a tank, and what is drawn in the day."""
    name = tr("Drawdown, {tank}", tank=one.tank.name)
    drawdown = Step(
        name,
        tr("Vd from cut-out to cut-in"),
        _water(one.tank.drawdown, display),
        tr("Boyle's law; its working: see the page “Tank”"),
    )
    return drawdown, _step(tr("Drawn in the day"), _DAY["drawn"], one, display)


def _starts_step(one: TankDay) -> Step:
    shown = tr("1 start") if one.starts == 1 else tr("{count} starts", count=one.starts)
    formula = tr(
        "a start whenever the resting tank is drawn down to cut-in; while the pump runs it"
        " feeds the draw itself"
    )
    return Step(tr("Starts this day"), formula, tr("counted → {shown}", shown=shown), _source())


# --- the tables ---


_DAY: dict[str, _Figure] = {
    "busiest": _Figure(
        lambda: tr("most starts within any 60 minutes"), lambda one: one.busiest, _whole
    ),
    "runs": _Figure(
        lambda: tr("all runs of the pump added up"), lambda one: one.run_seconds, lasting
    ),
    "shortest_run": _Figure(
        lambda: tr("the shortest of the runs"), lambda one: one.shortest_run, lasting
    ),
    "shortest_rest": _Figure(
        lambda: tr("the shortest of the rests"), lambda one: one.shortest_rest, lasting
    ),
    "longest_rest": _Figure(
        lambda: tr("the longest of the rests"), lambda one: one.longest_idle, lasting
    ),
    "drawn": _Figure(lambda: tr("all draws added up"), lambda one: one.run.drawn, _water),
    "pumped": _Figure(lambda: tr("Σ Q × time of the runs"), lambda one: one.run.pumped, _water),
    "missing": _Figure(
        lambda: tr("what is wanted while the tank is empty and the pump gives less"),
        lambda one: one.run.unmet,
        _water,
    ),
    "empty": _Figure(
        lambda: tr("time with an empty tank"), lambda one: one.run.empty_seconds, lasting
    ),
    "below": _Figure(
        lambda: tr("time with the pressure below cut-in"), lambda one: one.below_cut_in, lasting
    ),
    "energy": _Figure(
        lambda: tr("E = ∫ ρ g Q H / η dt over the runs"), lambda one: one.energy, _energy
    ),
}
_YEAR: dict[str, _Figure] = {
    "mean_starts": _Figure(
        lambda: tr("starts of the year / 365"), lambda one: one.mean_starts, _mean
    ),
    "most_starts": _Figure(
        lambda: tr("starts of the worst day"), lambda one: one.most_starts, _whole
    ),
    "worst_hour": _Figure(
        lambda: tr("most starts within any 60 minutes"), lambda one: one.worst_hour, _whole
    ),
    "year_shortest_run": _Figure(
        lambda: tr("the shortest of the runs"), lambda one: one.shortest_run, lasting
    ),
    "year_shortest_rest": _Figure(
        lambda: tr("the shortest of the rests"), lambda one: one.shortest_rest, lasting
    ),
    "year_runs": _Figure(
        lambda: tr("all runs of the pump added up"), lambda one: one.run_seconds, lasting
    ),
    "year_pumped": _Figure(
        lambda: tr("Σ Q × time of the runs"), lambda one: one.pumped, _much_water
    ),
    "year_missing": _Figure(
        lambda: tr("what is wanted while the tank is empty and the pump gives less"),
        lambda one: one.unmet,
        _much_water,
    ),
    "year_energy": _Figure(
        lambda: tr("E = ∫ ρ g Q H / η dt over the runs"), lambda one: one.energy, _energy
    ),
}


def _titles() -> dict[str, str]:
    return {
        "busiest": tr("Busiest hour, starts"),
        "runs": tr("Pump runs"),
        "shortest_run": tr("Shortest run"),
        "shortest_rest": tr("Shortest rest"),
        "longest_rest": tr("Longest rest"),
        "drawn": tr("Drawn"),
        "pumped": tr("Pumped"),
        "missing": tr("Water missing"),
        "empty": tr("Tank empty"),
        "below": tr("Below cut-in"),
        "energy": tr("Energy"),
        "mean_starts": tr("Starts a day, mean"),
        "most_starts": tr("Starts a day, most"),
        "worst_hour": tr("Worst hour, starts"),
    }


def _title(word: str) -> str:
    return _titles()[word.removeprefix("year_")]


def _step(title: str, figure: _Figure, one: TankDay | TankYear, display: Display) -> Step:
    """A figure that is counted."""
    value = figure.value(one)
    shown = tr("none") if value is None else _or_none(value, figure, display)
    return Step(title, figure.formula(), tr("counted → {shown}", shown=shown), _source())


def _or_none(value: float, figure: _Figure, display: Display) -> str:
    """The value as it is told; "none" for water and times that round to nothing."""
    shown = figure.told(value, display)
    can_be_none = figure in {_DAY["missing"], _DAY["empty"], _DAY["below"], _YEAR["year_missing"]}
    return tr("none") if can_be_none and shown == figure.told(0.0, display) else shown


def _explain(word: str, asked: Asked) -> Working | None:
    """A cell of one of the tables."""
    day, year = _both(asked)
    view, figure = (day, _DAY[word]) if word in _DAY else (year, _YEAR[word])
    if view is None:
        return None
    if word.endswith("energy") and not knows_energy(view.plan.supply):
        return Working((_no_energy(),))
    if asked.first == _DIFFERENCE:
        return _difference(word, figure, view)(asked)
    if asked.first >= len(view.tanks):
        return None
    one = view.tanks[asked.first]
    before = _before(word, one, view.plan, asked.display)
    return Working((*before, _step(_title(word), figure, one, asked.display)))


def _before(
    word: str, one: TankDay | TankYear, plan: DayPlan, display: Display
) -> tuple[Step, ...]:
    """What can be recomputed on the way to a counted figure."""
    flow = plan.supply.delivery
    name = word.removeprefix("year_")
    if name == "runs" and flow.is_constant:
        water = one.run.pumped if isinstance(one, TankDay) else one.pumped
        rate = flow.highest_flow
        return (
            entered(tr("Flow of the pump"), display.text(rate, FLOW)),
            Step(
                tr("Run by the water"),
                tr("pumped / Q"),
                f"{display.text(water, VOLUME, 2)} / {display.text(rate, FLOW, 3)}"
                f" = {display.text(one.run_seconds, TIME, 1)}",
                tr("mass balance of the tank"),
            ),
        )
    if name == "pumped" and isinstance(one, TankDay) and one.is_steady:
        drawn, unmet, pumped = (
            display.text(size, VOLUME, 2) for size in (one.run.drawn, one.run.unmet, one.run.pumped)
        )
        return (
            Step(
                tr("By the water of a day that ends as it begins"),
                tr("drawn − missing"),
                f"{drawn} − {unmet} = {pumped}",
                tr("mass balance of the tank"),
            ),
        )
    if name == "mean_starts" and isinstance(one, TankYear):
        total = int(one.starts.sum())
        return (
            Step(
                tr("Starts of the year"),
                tr("starts of the year / 365"),
                f"{total} / {DAYS} = {display.number(one.mean_starts, NUMBER, 2)}",
                _source(),
            ),
        )
    return ()


def _difference(word: str, figure: _Figure, view: DayView | YearView) -> Explain:
    """The second tank less the first."""

    def explain(asked: Asked) -> Working | None:
        display = asked.display
        if len(view.tanks) < _DIFFERENCE:
            return None
        first, second = (figure.value(one) for one in view.tanks)
        if first is None or second is None:
            return None
        change, nothing = second - first, figure.told(0.0, display)
        size = figure.told(abs(change), display)
        shown = tr("none") if size == nothing else f"{'+' if change > 0 else '−'}{size}"
        each = tuple(
            _step(f"{_title(word)}, {one.tank.name}", figure, one, display) for one in view.tanks
        )
        told = [figure.told(value, display) for value in (second, first)]
        last = Step(
            tr("Difference"),
            tr("second tank − first tank, each worked out unrounded"),
            f"{told[0]} − {told[1]} → {shown}",
            tr("definition"),
        )
        return Working((*each, last))

    return explain


def _no_energy() -> Step:
    return Step(
        tr("Energy"),
        tr("E = ∫ ρ g Q H / η dt over the runs"),
        tr("needs pumping level and efficiency"),
        tr("DOE-HDBK-1012/3-92, US Department of Energy, 1992, module 3 (from memory)"),
    )


def _over(asked: Asked) -> Working | None:
    """The share of days over a limit of starts."""
    _, year = _both(asked)
    motor = None if year is None else year.plan.motor
    source = motor_limits()[asked.results.job.motor_limit].source
    if year is None:
        return None
    title = tr("Days over the limit")
    if motor is None or (motor.starts_day is None and motor.starts_hour is None):
        return Working((Step(title, tr("days over / 365"), tr("no limit of starts"), source),))
    shares = [one.days_over(motor) for one in year.tanks]
    shown = [asked.display.text(share, PERCENT, 1) for share in shares]
    steps = [
        Step(title, tr("days over / 365"), f"{round(share * DAYS)} / {DAYS} = {text}", source)
        for share, text in zip(shares, shown, strict=True)
    ]
    if asked.first < len(steps):
        return Working((steps[asked.first],))
    if len(shares) < _DIFFERENCE:
        return None
    change = shares[1] - shares[0]
    size = asked.display.text(abs(change), PERCENT, 1)
    is_nothing = size == asked.display.text(0.0, PERCENT, 1)
    told = tr("none") if is_nothing else f"{'+' if change > 0 else '−'}{size}"
    last = Step(
        tr("Difference"),
        tr("second tank − first tank, each worked out unrounded"),
        f"{shown[1]} − {shown[0]} → {told}",
        tr("definition"),
    )
    return Working((*steps, last))


FIGURES: dict[str, Explain] = {
    "starts": _starts,
    "over": _over,
    **{word: partial(_explain, word) for word in (*_DAY, *_YEAR)},
}
"""The explaining function of each figure of the page; by the tank."""
