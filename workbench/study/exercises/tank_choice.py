"""Exercises: which pump reaches it, and which tank of a list serves."""

from __future__ import annotations

from workbench.physics.air import gauge_pressure
from workbench.physics.header import equal_precharged_volume, plain_drawdown
from workbench.physics.pump import total_dynamic_head
from workbench.study.exercises import sums
from workbench.study.exercises.draft import Draft, no, pick, within, within_share, yes
from workbench.study.exercises.draws import Draws
from workbench.study.exercises.exercise import Pick
from workbench.study.exercises.neat import Neat
from workbench.study.exercises.slip import Slip
from workbench.study.setting import Setting, pressures
from workbench.study.working import Step, factor_step, head_step, water_step
from workbench.units import FLOW, HEAD, NUMBER, PRESSURE, VOLUME
from workbench.words import tr


def head(draws: Draws, neat: Neat) -> Draft | None:
    """The head that a pump must reach."""
    band = neat.a_band(draws)
    static = neat.of(draws, (30, 45, 60, 80, 95, 120), (10, 15, 20, 25, 30, 40), HEAD)
    fall = neat.of(draws, (20, 25, 35, 50, 60), (6, 8, 12, 15, 20), HEAD)
    friction = neat.of(draws, (4, 6, 9, 12, 15), (2, 3, 4, 5), HEAD)
    pumping = static + fall

    def total(pressure: float, lift: float) -> float:
        return float(total_dynamic_head(gauge_pressure(pressure), lift, friction))

    right = total(band[1], pumping)
    rise = total(band[1], 0.0) - friction
    per_unit = neat.display.value(rise, HEAD) / neat.display.value(band[1], PRESSURE)
    turned = rise / per_unit**2
    slips = (
        (Slip.STATIC_LEVEL, total(band[1], static)),
        (Slip.CUT_IN_FOR_HEAD, total(band[0], pumping)),
        (Slip.HEAD_WRONG_WAY, turned + pumping + friction),
        (Slip.HEAD_FORGOTTEN, rise + friction),
    )
    show = neat.display
    return Draft(
        tr("Can the pump reach it?"),
        tr("For {place} a pump is looked for. The well was test-pumped.", place=neat.place),
        (
            (tr("Static water level, below the tank"), neat.say(static, HEAD)),
            (tr("Pumping water level, below the tank"), neat.say(pumping, HEAD)),
            (tr("Friction in the pipe"), neat.say(friction, HEAD)),
            (tr("Switch band"), neat.band(*band)),
        ),
        tr("Which head must the pump still give, so that it stops?"),
        within(neat, HEAD, right, 3, 1, slips),
        (
            head_step(tr("Cut-out as head"), band[1], rise, show),
            sums.times_step(
                tr("Total dynamic head"),
                tr("H = pumping level + cut-out as head + friction"),
                f"{neat.say(pumping, HEAD)} + {show.text(rise, HEAD)} + {neat.say(friction, HEAD)}"
                f" = {show.text(right, HEAD)}",
            ),
        ),
    )


def choose(draws: Draws, neat: Neat) -> Draft | None:
    """The smallest tank of a list that gives enough."""
    band = neat.a_band(draws)
    flow = neat.a_flow(draws)
    run = draws.one_of((60.0, 90.0, 120.0))
    one, wanted = sums.setting(neat, band), flow * run
    sizes = neat.tanks()

    def smallest(at_least: float) -> int | None:
        return next((i for i, size in enumerate(sizes) if size >= at_least), None)

    best = smallest(sums.volume_for(one, wanted))
    naive = smallest(wanted)
    gauge = smallest(sums.volume_for(sums.by_gauge(one), wanted))
    if best is None or naive is None or gauge is None or not naive < best - 1:
        return None
    if sums.water(one, sizes[best]) < 1.03 * wanted or best + 1 >= len(sizes):
        return None  # too near to call, or nothing larger to tempt

    below = Slip.GAUGE_IN_BOYLE if gauge == best - 1 else Slip.TOO_SMALL
    temptations = ((naive, Slip.TANK_AS_DRAWDOWN), (best - 1, below), (best + 1, Slip.TOO_LARGE))
    listed = ", ".join(neat.display.number(size, VOLUME, 0) for size in sizes)
    return Draft(
        tr("The smallest that serves"),
        tr(
            "The shop has tanks of {sizes} {unit}. One is wanted for {place}, the smallest that"
            " serves.",
            sizes=listed,
            unit=neat.display.symbol(VOLUME),
            place=neat.place,
        ),
        (
            (tr("Pump, measured at the tank"), neat.say(flow, FLOW)),
            (tr("Shortest run wanted"), tr("{clock} min", clock=sums.clock(run))),
            (tr("Switch band"), neat.band(*band)),
            (tr("Charge, by the rule"), neat.say(one.precharge, PRESSURE)),
        ),
        tr("Which do you take?"),
        _of_list(draws, neat, one, wanted, best, temptations),
        (
            factor_step(one, sums.factor(one), neat.display),
            water_step(sums.factor(one), sizes[best], sums.water(one, sizes[best]), neat.display),
        ),
    )


def _of_list(
    draws: Draws,
    neat: Neat,
    one: Setting,
    wanted: float,
    best: int,
    temptations: tuple[tuple[int, Slip], ...],
) -> Pick:
    sizes, show = neat.tanks(), neat.display

    def why(index: int) -> str:
        return tr(
            "It gives {water}; wanted are {wanted}.",
            water=show.text(sums.water(one, sizes[index]), VOLUME),
            wanted=show.text(wanted, VOLUME),
        )

    right = yes(neat.say(sizes[best], VOLUME), why(best))
    wrong = [no(neat.say(sizes[i], VOLUME), slip, why(i)) for i, slip in temptations]
    return pick(draws, right, wrong)


def plain_tank(draws: Draws, neat: Neat) -> Draft | None:
    """An old plain tank goes; which pre-charged one gives as much?"""
    band = neat.a_band(draws)
    old = neat.of(draws, (42, 82, 120, 144, 180, 220), (150, 200, 300, 500, 750), VOLUME)
    one = sums.setting(neat, band)
    charge, low, high = pressures(one)
    air = sums.pressure_of(0.0, one.ambient)
    right = float(equal_precharged_volume(old, charge, low, high, air))
    drawn = float(plain_drawdown(old, low, high, air))
    slips = (
        (Slip.SAME_GALLONS, old),
        (Slip.TANK_AS_DRAWDOWN, sums.volume_for(one, old)),
        (Slip.DRAWDOWN_AS_TANK, drawn),
        (Slip.GAUGE_IN_BOYLE, sums.volume_for(sums.by_gauge(one), drawn)),
    )
    show = neat.display
    return Draft(
        tr("The old plain tank goes"),
        tr(
            "At {place} an old galvanised tank without a membrane rusts through. It was filled"
            " with nothing but the air that stood in it.",
            place=neat.place,
        ),
        (
            (tr("Old plain tank"), neat.say(old, VOLUME)),
            (tr("Switch band"), neat.band(*band)),
            (tr("Charge of the new one, by the rule"), neat.say(one.precharge, PRESSURE)),
        ),
        tr("Which total volume of pre-charged tank gives as much water?"),
        within_share(neat, VOLUME, right, 3, slips),
        (
            Step(
                tr("What the plain tank gave"),
                tr("Vd = V × (Pa/Pin − Pa/Pout), absolute pressures"),
                f"{neat.say(old, VOLUME)} → {show.text(drawn, VOLUME, 2)}",
                tr("Boyle's law, the air at the pressure around at first"),
            ),
            factor_step(one, sums.factor(one), show),
            sums.times_step(
                tr("Total volume"),
                tr("V = Vd / f"),
                f"{show.text(drawn, VOLUME, 2)} / {show.number(sums.factor(one), NUMBER, 4)}"
                f" = {show.text(right, VOLUME)}",
            ),
        ),
        tr("Take out the old air control, or it will put air into the lines. ")
        + sums.cautions_at_tank(),
    )
