"""How the figures of the page "Day" come about.

``asked.own`` is the simulated day and year, each None where it is not there; the place of a figure
is its tank, or 2 for the difference of the two.
"""

from __future__ import annotations

from functools import partial

from workbench.job.pump_choices import motor_limits
from workbench.study.day.energy import knows_energy
from workbench.study.day.plan import DayPlan
from workbench.study.day.simulated import DAY, DAYS, DayView, TankDay, TankYear, YearView
from workbench.study.explain.day_counted import (
    OF_A_DAY,
    OF_A_YEAR,
    Counted,
    day_source,
    title_of,
)
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.steps import entered
from workbench.study.working import Step
from workbench.units import (
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
    beside = [_step(tr("Busiest hour, starts"), OF_A_DAY["busiest"], one, display)]
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
        display.text(one.tank.drawdown, VOLUME),
        tr("Boyle's law; its working: see the page “Tank”"),
    )
    return drawdown, _step(tr("Drawn in the day"), OF_A_DAY["drawn"], one, display)


def _starts_step(one: TankDay) -> Step:
    shown = tr("1 start") if one.starts == 1 else tr("{count} starts", count=one.starts)
    formula = tr(
        "a start whenever the resting tank is drawn down to cut-in; while the pump runs it"
        " feeds the draw itself"
    )
    return Step(tr("Starts this day"), formula, tr("counted → {shown}", shown=shown), day_source())


def _wanted(asked: Asked) -> Working | None:
    """What the house wants on the day, and on a mean one."""
    day, _ = _both(asked)
    if day is None:
        return None
    display, house = asked.display, day.plan.house
    garden = house.irrigation
    watered = garden.flow * garden.duration if garden else 0.0
    indoor, leak, water, mean = (
        display.text(size, VOLUME)
        for size in (house.mean_indoor, house.leak * DAY, watered, house.mean_volume)
    )
    steps = [
        Step(
            tr("Indoors in a mean day"),
            tr("Σ draws a day × water of each, or the use a day as entered"),
            tr("added up → {water}", water=indoor),
            day_source(),
        )
    ]
    if garden is not None:
        flow, time = display.text(garden.flow, FLOW, 3), display.text(garden.duration, TIME)
        numbers = f"{flow} × {time} = {water}"
        steps.append(Step(tr("Irrigation"), tr("flow × time"), numbers, tr("as entered")))
    steps.append(
        Step(
            tr("Wanted in a mean day"),
            tr("indoors + leak + irrigation"),
            f"{indoor} + {leak} + {water} = {mean}",
            tr("definition"),
        )
    )
    wanted = display.text(day.draws.volume, VOLUME)
    steps.append(
        Step(
            tr("Wanted this day"),
            tr("all draws of the day with this number"),
            tr("added up → {water}", water=wanted),
            day_source(),
        )
    )
    return Working(tuple(steps))


# --- the tables ---


def _step(title: str, figure: Counted, one: TankDay | TankYear, display: Display) -> Step:
    """A figure that is counted."""
    value = figure.value(one)
    shown = tr("none") if value is None else _or_none(value, figure, display)
    return Step(title, figure.formula(), tr("counted → {shown}", shown=shown), day_source())


def _or_none(value: float, figure: Counted, display: Display) -> str:
    """The value as it is told; "none" for water and times that round to nothing."""
    shown = figure.told(value, display)
    can_be_none = figure in {
        *(OF_A_DAY[word] for word in ("missing", "empty", "below")),
        OF_A_YEAR["year_missing"],
    }
    return tr("none") if can_be_none and shown == figure.told(0.0, display) else shown


def _explain(word: str, asked: Asked) -> Working | None:
    """A cell of one of the tables."""
    day, year = _both(asked)
    view, figure = (day, OF_A_DAY[word]) if word in OF_A_DAY else (year, OF_A_YEAR[word])
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
    return Working((*before, _step(title_of(word), figure, one, asked.display)))


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
                day_source(),
            ),
        )
    return ()


def _difference(word: str, figure: Counted, view: DayView | YearView) -> Explain:
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
            _step(f"{title_of(word)}, {one.tank.name}", figure, one, display) for one in view.tanks
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
    "wanted": _wanted,
    "over": _over,
    **{word: partial(_explain, word) for word in (*OF_A_DAY, *OF_A_YEAR)},
}
"""The explaining function of each figure of the page; by the tank."""
