"""How the figures of the page "Variable speed" come about."""

from __future__ import annotations

from math import isfinite

from workbench.job.pump_choices import motor_limits
from workbench.physics.forgiving import SAME
from workbench.study.drive.record import leak_steps, needed_steps, precharge_step, reserve_step
from workbench.study.drive.view import DrivePressures, Reserve
from workbench.study.explain import pictures
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.steps import Air, boyle, ending_as, entered, held_step
from workbench.study.working import Step
from workbench.units import (
    DAILY,
    FLOW,
    NUMBER,
    PRESSURE,
    STARTS_PER_DAY,
    VOLUME,
    Display,
    distinct,
)
from workbench.words import tr


def _two(a: float, b: float, display: Display) -> tuple[str, str]:
    """Two volumes with two decimals, or more where they would read the same."""
    first, second = (display.text(value, VOLUME, 2) for value in (a, b))
    return distinct(a, b, VOLUME, display) if first == second and a != b else (first, second)


def _air(stated: DrivePressures) -> Air:
    return Air(stated.precharge, stated.ambient, stated.exponent)


def _first(asked: Asked, stated: DrivePressures) -> tuple[Step, ...]:
    """Precharge, and the air pressure that is added to every reading."""
    ambient = Step(
        tr("Air pressure at the tank"),
        tr("absolute = gauge + air pressure"),
        asked.display.text(stated.ambient, PRESSURE, 3),
        tr("US Standard Atmosphere 1976"),
    )
    return (ambient, precharge_step(asked.results, stated, asked.display))


def _reserve(asked: Asked) -> Working | None:
    view, display = asked.results.drive, asked.display
    if view.pressures is None or view.reserve is None:
        return None
    shown = display.text(view.reserve.water, VOLUME, 2)
    beside: tuple[Step, ...] = ()
    if view.needed is not None:
        shown, needed = _two(view.reserve.water, view.needed, display)
        beside = tuple(ending_as(one, needed) for one in needed_steps(asked.results, display))
    last = ending_as(reserve_step(view.pressures, view.reserve, display), shown)
    return Working((*_first(asked, view.pressures), last), beside)


def _at_wake(stated: DrivePressures, reserve: Reserve, display: Display) -> Step:
    return held_step(
        tr("Water left at wake"),
        _air(stated),
        reserve.volume,
        stated.wake,
        reserve.at_wake,
        display,
    )


def _lowest(asked: Asked) -> Working | None:
    view, display = asked.results.drive, asked.display
    stated, reserve = view.pressures, view.reserve
    if stated is None or reserve is None or view.needed is None:
        return None
    left = _at_wake(stated, reserve, display)
    wake = entered(tr("Wake pressure"), display.text(stated.wake, PRESSURE))
    before = (*_first(asked, stated), wake, left, *needed_steps(asked.results, display))
    if reserve.lowest is None or stated.gap > 0.0:
        water, needed = _two(reserve.at_wake, view.needed, display)
        numbers = tr("{water} left, {needed} drawn", water=water, needed=needed)
        empty = tr("empty where less is left than is drawn")
        step = Step(tr("Lowest pressure"), empty, numbers, boyle())
        return Working((*before, step))
    return Working((*before, _lowest_step(stated, reserve, view.needed, display)))


def _lowest_step(stated: DrivePressures, reserve: Reserve, needed: float, display: Display) -> Step:
    """The pressure that the water which is left stands under."""

    def absolute(gauge: float) -> str:
        return display.number(gauge + stated.ambient, PRESSURE, 3)

    assert reserve.lowest is not None  # noqa: S101 - asked only then
    after = max(reserve.at_wake - needed, 0.0)
    is_boyle = stated.exponent == 1.0
    power = "" if is_boyle else f"^{stated.exponent:g}".replace(".", display.mark)
    formula = (
        tr("p = Pp / (1 − w/V) − air pressure, in {unit}", unit=display.symbol(PRESSURE))
        if is_boyle
        else tr("p = Pp / (1 − w/V)^n − air pressure, in {unit}", unit=display.symbol(PRESSURE))
    )
    water, volume = display.text(after, VOLUME, 4), display.text(reserve.volume, VOLUME, 2)
    ambient = display.number(stated.ambient, PRESSURE, 3)
    return Step(
        tr("Lowest pressure, {water} left", water=display.text(after, VOLUME, 2)),
        formula,
        f"{absolute(stated.precharge)} / (1 − {water} / {volume}){power} − {ambient}"
        f" = {display.text(reserve.lowest, PRESSURE)}",
        boyle(),
    )


def _precharge(asked: Asked) -> Working | None:
    stated = asked.results.drive.pressures
    if stated is None:
        return None
    step = precharge_step(asked.results, stated, asked.display)
    picture = pictures.gauge(stated.precharge, stated.ambient, asked.display)
    return Working((step,), picture=picture)


def _draw(asked: Asked) -> Working | None:
    view, display = asked.results.drive, asked.display
    if view.draw is None:
        return None
    flow, title = display.text(view.draw.flow, FLOW), tr("Sudden draw")
    if not view.draw.fixtures:
        return Working((entered(title, flow),))
    source = (
        tr("International Residential Code, table P2903.1")
        if view.draw.fixtures == ("hose_bibs",)
        else tr("US EPA, Private Water Systems, Household Uses")
    )
    return Working((Step(title, tr("the largest single fixture of the house"), flow, source),))


def _wake(asked: Asked) -> Working | None:
    view, display = asked.results.drive, asked.display
    if view.pressures is None or view.reserve is None:
        return None
    step = _at_wake(view.pressures, view.reserve, display)
    last = ending_as(step, display.text(view.reserve.at_wake, VOLUME, 2))
    return Working((*_first(asked, view.pressures), last))


def _volume(asked: Asked) -> Working | None:
    """The total volume that carries the draw: the larger of two."""
    view, display = asked.results.drive, asked.display
    stated = view.pressures
    if stated is None or view.needed is None or view.volume_needed is None:
        return None
    wake = max(stated.wake, stated.precharge)
    between = _factor_step(
        tr("Share between wake and set"), stated, wake, stated.set_pressure, display
    )
    steps = (*_first(asked, stated), *needed_steps(asked.results, display), between[0])
    if stated.wake > stated.precharge:
        below = _factor_step(tr("Share below wake"), stated, stated.precharge, stated.wake, display)
    else:
        below = (between[0], 0.0)
    least = min(between[1], below[1])
    if not isfinite(view.volume_needed) or least <= 0.0:
        none = Step(
            tr("Total volume that carries it"),
            tr("V = drawn / share"),
            tr("no water is left below wake"),
            boyle(),
        )
        return Working((*steps, none))
    last = Step(
        tr("Total volume that carries it, by the smaller share"),
        tr("V = drawn / share"),
        f"{display.text(view.needed, VOLUME, 4)} / {display.number(least, NUMBER, 5)}"
        f" = {display.text(view.volume_needed, VOLUME)}",
        boyle(),
    )
    return Working((*steps, below[0], last))


def _factor_step(
    title: str, stated: DrivePressures, low: float, high: float, display: Display
) -> tuple[Step, float]:
    """The step to the share that a tank gives between two gauge pressures [Pa], and that share."""

    def absolute(gauge: float) -> str:
        return display.number(gauge + stated.ambient, PRESSURE, 3)

    def share(at: float) -> float:
        charge = stated.precharge + stated.ambient
        return float((charge / (at + stated.ambient)) ** (1.0 / stated.exponent))

    power = "" if stated.exponent == 1.0 else f"^(1/{stated.exponent:g})"
    power = power.replace(".", display.mark)
    charge, factor = absolute(stated.precharge), share(low) - share(high)
    step = Step(
        tr("{title}, absolute pressures in {unit}", title=title, unit=display.symbol(PRESSURE)),
        tr("f = Pp/Plow − Pp/Phigh"),
        f"({charge}/{absolute(low)}){power} − ({charge}/{absolute(high)}){power}"
        f" = {display.number(factor, NUMBER, 5)}",
        boyle(),
    )
    return step, factor


def _leak(asked: Asked) -> Working | None:
    view, display = asked.results.drive, asked.display
    if view.leak is None:
        return None
    leak = entered(tr("Leak"), display.text(view.leak, DAILY))
    steps = leak_steps(asked.results, display)
    if not steps or view.leak_starts is None:
        return Working((leak,))
    last = ending_as(steps[0], display.number(view.leak_starts, STARTS_PER_DAY, 0))
    if steps[0].numbers.endswith(display.text(view.leak_starts, STARTS_PER_DAY, 0)):
        last = steps[0]
    beside: tuple[Step, ...] = ()
    if view.starts_allowed is not None:
        source = motor_limits()[asked.results.job.motor_limit].source
        most = display.number(view.starts_allowed, STARTS_PER_DAY, 0)
        over = view.leak_starts > view.starts_allowed * (1.0 + SAME)
        told = tr("{most}: exceeded", most=most) if over else tr("{most}: kept", most=most)
        beside = (
            Step(tr("Limit of a day"), tr("starts a day by the motor's limit"), told, source),
        )
    return Working((leak, last), beside)


def _tank(asked: Asked) -> Working | None:
    view, display = asked.results.drive, asked.display
    stated, tank = view.pressures, view.tank
    if stated is None or tank is None:
        return None
    whole = display.text(tank.one.total_volume, VOLUME)
    row = tr("the catalogue's row")
    volume = Step(tr("Total volume"), tr("V = sum of the tanks"), whole, row)
    step = reserve_step(stated, tank.reserve, display)
    last = Step(
        step.title,
        tr("{formula}, at most the membrane's acceptance", formula=step.formula),
        step.numbers.replace(" = ", " → "),
        step.source,
    )
    return Working((*_first(asked, stated), volume, last))


FIGURES: dict[str, Explain] = {
    "reserve": _reserve,
    "lowest": _lowest,
    "precharge": _precharge,
    "draw": _draw,
    "wake": _wake,
    "volume": _volume,
    "leak": _leak,
    "tank": _tank,
}
"""The explaining function of each figure of the page."""
