"""What the page "Day" says: figures as texts, with their reasons."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from workbench.gui.pages.answer import NONE
from workbench.gui.pages.day.compared import Line
from workbench.gui.plots.time_axis import clock
from workbench.study.day.energy import knows_energy, leaves_friction_out
from workbench.study.day.findings import over_day, over_hour, short_rest
from workbench.study.day.plan import DayPlan
from workbench.study.day.simulated import (
    DAY,
    HOUR,
    DayView,
    TankDay,
    TankYear,
    YearView,
)
from workbench.study.day.told import lasting
from workbench.study.motor import MotorStands
from workbench.units import (
    ENERGY,
    NUMBER,
    PERCENT,
    SHORT_TIME,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    VOLUME,
    Display,
    Kind,
)
from workbench.words import tr

Shown = tuple[str, str, str]
"""A figure, its reason, and the role of the reason."""
Told = Callable[[float], str]


# --- the answers ---


def answer(view: DayView, place: int, display: Display) -> Shown:
    """Starts of the day beside their limit, with the busiest hour beneath."""
    one, motor = view.tanks[place], view.plan.motor
    limit = None if motor is None else motor.starts_day
    figure = _count(one.starts)
    if limit is not None:
        most = _limit(limit, DAY, STARTS_PER_DAY, display)
        figure = tr("{starts} of {limit} starts", starts=one.starts, limit=most)
    parts = [tr("{name}, drawdown {water}.", name=one.tank.name,
                water=display.text(one.tank.drawdown, VOLUME))]  # fmt: skip
    if place:
        parts.append(_difference(one.starts - view.tanks[0].starts))
    parts.append(_verdict(one, motor, display))
    is_over = motor is not None and bool(
        over_day(one.starts, motor)
        or over_hour(one.busiest, motor)
        or short_rest(one.shortest_rest, motor)
    )
    return figure, " ".join(parts), "caution" if is_over else "muted"


def _count(starts: int) -> str:
    return tr("1 start") if starts == 1 else tr("{count} starts", count=starts)


def _limit(rate: float, span: float, kind: Kind, display: Display) -> str:
    """A limit as a count, without needless decimals."""
    is_whole = abs(rate * span - round(rate * span)) < 1e-6
    return display.number(rate, kind, 0 if is_whole else 1)


def _difference(more: int) -> str:
    if more == 0:
        return tr("As many starts as with the first tank.")
    if more > 0:
        return tr("{count} more than with the first tank.", count=more)
    return tr("{count} fewer than with the first tank.", count=-more)


def _verdict(one: TankDay, motor: MotorStands | None, display: Display) -> str:
    """The busiest hour, its limit, and whether the limits are kept."""
    busiest = tr("Busiest hour: {starts}", starts=_count(one.busiest))
    if one.busiest:
        busiest = tr("{busiest} from {time}", busiest=busiest, time=clock(one.busiest_at))
    if motor is None:
        return tr("{busiest}.", busiest=busiest)
    if motor.starts_hour is not None:
        most = _limit(motor.starts_hour, HOUR, STARTS_PER_HOUR, display)
        busiest = tr("{busiest}, limit {limit}", busiest=busiest, limit=most)
    parts = [f"{busiest}."]
    if over_day(one.starts, motor):
        parts.append(tr("Exceeds the limit of a day."))
    if over_hour(one.busiest, motor):
        parts.append(tr("Exceeds the limit of an hour."))
    if motor.rest is not None and short_rest(one.shortest_rest, motor):
        least = display.text(motor.rest, SHORT_TIME)
        parts.append(tr("Exceeds the limit: a rest below {rest}.", rest=least))
    if motor.starts_day is None:
        parts.append(tr("The chosen limit says nothing of a whole day."))
    return " ".join(parts)


# --- the table of the day ---


def columns(plan: DayPlan) -> list[str]:
    """The names over the figures of two tanks and over their difference; none for a lone one."""
    if len(plan.tanks) == 1:
        return []
    return [*(tank.name for tank in plan.tanks), tr("Difference")]


def _line(
    name: str, values: Sequence[float | None], told: Told, missing: str = NONE
) -> Line:  # fmt: skip
    """A line of figures, with the second less the first."""
    texts = tuple(missing if value is None else told(value) for value in values)
    if len(values) < 2:
        return Line(name, texts)
    first, second = values[0], values[1]
    if first is None or second is None:
        return Line(name, texts, NONE)
    change = second - first
    sign = "+" if change > 0 else "−"
    is_nothing = told(abs(change)) == told(0.0)
    return Line(name, texts, tr("none") if is_nothing else f"{sign}{told(abs(change))}")


def _or_none(told: Told) -> Told:
    """The same, but "none" for what rounds to nothing."""
    return lambda value: tr("none") if told(value) == told(0.0) else told(value)


def day_lines(view: DayView, display: Display) -> list[Line]:
    """The day of every tank."""
    tanks = view.tanks

    def time(seconds: float) -> str:
        return lasting(seconds, display)

    def water(volume: float) -> str:
        return display.text(volume, VOLUME)

    lines = [
        _line(tr("Busiest hour, starts"), [one.busiest for one in tanks], _whole),
        _line(tr("Pump runs"), [one.run_seconds for one in tanks], time),
        _line(tr("Shortest run"), [one.shortest_run for one in tanks], time),
        _line(tr("Shortest rest"), [one.shortest_rest for one in tanks], time),
        _line(tr("Longest rest"), [one.longest_idle for one in tanks], time),
        _line(tr("Drawn"), [one.run.drawn for one in tanks], water),
        _line(tr("Pumped"), [one.run.pumped for one in tanks], water),
        _line(tr("Water missing"), [one.run.unmet for one in tanks], _or_none(water)),
        _line(tr("Tank empty"), [one.run.empty_seconds for one in tanks], _or_none(time)),
        _line(tr("Below cut-in"), [one.below_cut_in for one in tanks], _or_none(time)),
    ]
    lines.append(_energy_line(view.plan, [one.energy for one in tanks], display))
    return _keyed(lines, _DAY_WORDS)


_DAY_WORDS = (
    *("busiest", "runs", "shortest_run", "shortest_rest", "longest_rest", "drawn", "pumped"),
    *("missing", "empty", "below", "energy"),
)
_YEAR_WORDS = (
    *("mean_starts", "most_starts", "worst_hour", "year_shortest_run", "year_shortest_rest"),
    *("year_runs", "year_pumped", "year_missing", "year_energy", "over"),
)


def _keyed(lines: Iterable[Line], words: Sequence[str]) -> list[Line]:
    """The lines, each with the key of its working."""
    return [replace(line, key=f"day.{word}") for line, word in zip(lines, words, strict=True)]


def _whole(count: float) -> str:
    return f"{count:.0f}"


def _energy_line(plan: DayPlan, energies: Sequence[float | None], display: Display) -> Line:
    def told(joules: float) -> str:
        return display.text(joules, ENERGY)

    name = tr("Energy")
    if not knows_energy(plan.supply):
        return Line(name, (tr("needs pumping level and efficiency"),) * len(energies))
    if leaves_friction_out(plan.supply):
        name = tr("Energy, without the pipe's friction")
    return _line(name, energies, told)


def day_source(view: DayView, display: Display) -> str:
    """What the house draws on this day, and where its habits come from."""
    house = view.plan.house
    drawn = display.text(view.draws.volume, VOLUME)
    mean = display.text(house.mean_volume, VOLUME)
    parts = [
        tr("Day {number}: the house wants {drawn}; on average {mean} a day, all included.",
           number=house.seed, drawn=drawn, mean=mean),
        tr("How much and how often: Residential End Uses of Water, version 2, 2016, without its"
           " leaks."),
        tr("At which hour: schedules of the National Renewable Energy Laboratory and of"
           " ANSI/RESNET/ICC 301-2022."),
    ]  # fmt: skip
    if all(one.is_steady for one in view.tanks):
        parts.append(tr("The day begins as it ends."))
    return " ".join(parts)


# --- the year ---


def year_lines(plan: DayPlan, year: YearView | None, display: Display) -> list[Line]:
    """The year of every tank; dashes while there is none."""
    tanks: Sequence[TankYear | None] = year.tanks if year else (None,) * len(plan.tanks)

    def of(figure: Callable[[TankYear], float | None]) -> list[float | None]:
        return [None if one is None else figure(one) for one in tanks]

    def time(seconds: float) -> str:
        return lasting(seconds, display)

    def mean(count: float) -> str:
        return display.number(count, NUMBER, 1)

    def water(volume: float) -> str:
        return display.text(volume, VOLUME, 0)

    lines = [
        _line(tr("Starts a day, mean"), of(lambda one: one.mean_starts), mean),
        _line(tr("Starts a day, most"), of(lambda one: one.most_starts), _whole),
        _line(tr("Worst hour, starts"), of(lambda one: one.worst_hour), _whole),
        _line(tr("Shortest run"), of(lambda one: one.shortest_run), time),
        _line(tr("Shortest rest"), of(lambda one: one.shortest_rest), time),
        _line(tr("Pump runs"), of(lambda one: one.run_seconds), time),
        _line(tr("Pumped"), of(lambda one: one.pumped), water),
        _line(tr("Water missing"), of(lambda one: one.unmet), _or_none(water)),
    ]
    lines.append(_energy_line(plan, of(lambda one: one.energy), display))
    lines.append(_over_line(plan, of, display))
    return lines if year is None else _keyed(lines, _YEAR_WORDS)


def _over_line(
    plan: DayPlan,
    of: Callable[[Callable[[TankYear], float | None]], list[float | None]],
    display: Display,
) -> Line:
    motor, name = plan.motor, tr("Days over the limit")
    if motor is None or (motor.starts_day is None and motor.starts_hour is None):
        return Line(name, (tr("no limit of starts"),) * len(plan.tanks))

    def told(share: float) -> str:
        return display.text(share, PERCENT, 1)

    shares = of(lambda one: one.days_over(motor))
    roles = tuple("caution" if share else "" for share in shares)
    line = _line(name, shares, told)
    return Line(line.name, line.values, line.difference, roles)
