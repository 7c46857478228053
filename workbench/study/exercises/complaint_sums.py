"""Exercises: complaints that a sum explains."""

from __future__ import annotations

from workbench.physics.cycle import starts_per_second
from workbench.physics.pump import WATER_WEIGHT
from workbench.study.exercises import sums
from workbench.study.exercises.draft import Draft, within, within_share
from workbench.study.exercises.draws import Draws
from workbench.study.exercises.neat import Neat
from workbench.study.exercises.slip import Slip
from workbench.study.setting import Setting
from workbench.study.working import Step
from workbench.units import FLOW, HEAD, PERCENT, PRESSURE, STARTS_PER_DAY, VOLUME
from workbench.words import tr


def less_water(draws: Draws, neat: Neat) -> Draft | None:
    """Since the band was raised the pump starts sooner: by how much less water?"""
    old, new = neat.two_bands(draws)
    keeps_old = draws.chance(0.5)
    volume = neat.a_tank(draws)
    before = sums.setting(neat, old)
    right_new = sums.setting(neat, new)
    now = sums.setting(neat, new, before.precharge) if keeps_old else right_new
    was, is_now = sums.water(before, volume), sums.water(now, volume)
    right = 1.0 - is_now / was

    def by(one: Setting, other: Setting) -> float:
        return 1.0 - sums.factor(other) / sums.factor(one)

    slips = (
        (Slip.GAUGE_IN_BOYLE, by(sums.by_gauge(before), sums.by_gauge(now))),
        (Slip.LEFT_FOR_LOST, is_now / was),
        (Slip.OLD_PRECHARGE, by(before, right_new) if keeps_old else None),
        (Slip.TANK_AS_DRAWDOWN, 1.0 - is_now / volume),
    )
    charge = neat.say(now.precharge, PRESSURE)
    air = (
        tr("The air was left as it was.")
        if keeps_old
        else tr("The air was set anew, as the rule says.")
    )
    return Draft(
        tr("It starts sooner than before"),
        tr(
            "The customer at {place}: “Since the pressure is higher, the pump starts more often.”"
            " The band went from {old} to {new}. {air}",
            place=neat.place,
            old=neat.band(*old),
            new=neat.band(*new),
            air=air,
        ),
        (
            (tr("Total volume"), neat.say(volume, VOLUME)),
            (tr("Band and charge before"), tr("{band}, {charge}", band=neat.band(*old),
                                              charge=neat.say(before.precharge, PRESSURE))),
            (tr("Band and charge now"), tr("{band}, {charge}", band=neat.band(*new),
                                           charge=charge)),
        ),
        tr("How many percent less water does the tank give now?"),
        within(neat, PERCENT, right, 1.5, 1.5, slips),
        _less_steps(before, now, volume, neat),
    )  # fmt: skip


def _less_steps(before: Setting, now: Setting, volume: float, neat: Neat) -> tuple[Step, ...]:
    show, was, is_now = neat.display, sums.water(before, volume), sums.water(now, volume)
    return (
        *sums.water_steps(before, volume, show),
        *sums.water_steps(now, volume, show)[1:],
        sums.times_step(
            tr("Less by"),
            tr("1 − drawdown now / drawdown before"),
            f"1 − {show.number(is_now, VOLUME, 2)} / {show.number(was, VOLUME, 2)}"
            f" = {show.text(1.0 - is_now / was, PERCENT, 1)}",
        ),
    )


def figure_of_complaint(draws: Draws, neat: Neat) -> Draft | None:
    """Starts that a leak makes, or the pressure upstairs."""
    return draws.one_of((_leak_starts, _upstairs))(draws, neat)


def _leak_starts(draws: Draws, neat: Neat) -> Draft | None:
    band = neat.a_band(draws)
    volume, flow = neat.a_tank(draws), neat.a_flow(draws)
    leak = neat.of(draws, (0.1, 0.2, 0.25, 0.3, 0.4, 0.5), (0.4, 0.5, 0.8, 1, 1.2, 1.5), FLOW)
    one = sums.setting(neat, band)
    drawn = sums.water(one, volume)

    def starts(water: float) -> float:
        return float(starts_per_second(water, flow, leak))

    right = starts(drawn)
    slips = (
        (Slip.TANK_AS_DRAWDOWN, starts(volume)),
        (Slip.GAUGE_IN_BOYLE, starts(sums.water(sums.by_gauge(one), volume))),
        (Slip.TIME_MIXED, right / 24.0),
        (Slip.SIXTY_FOR_FIFTEEN, 4.0 * right),
    )
    show = neat.display
    often = show.text(right, STARTS_PER_DAY)
    return Draft(
        tr("A toilet that runs"),
        tr(
            "The customer at {place} finds that a toilet runs without end, and asks what that does"
            " to the pump.",
            place=neat.place,
        ),
        (
            (tr("Total volume"), neat.say(volume, VOLUME)),
            (tr("Pump"), neat.say(flow, FLOW)),
            (tr("Switch band"), neat.band(*band)),
            (tr("Charge, by the rule"), neat.say(one.precharge, PRESSURE)),
            (tr("The toilet takes"), neat.say(leak, FLOW)),
        ),
        tr("How many starts a day does that make, with nothing else drawn?"),
        within_share(neat, STARTS_PER_DAY, right, 5, slips),
        (
            *sums.water_steps(one, volume, show),
            Step(
                tr("Starts at a steady draw"),
                tr("N = q × (Q − q) / (Vd × Q)"),
                f"{neat.say(leak, FLOW)}, {neat.say(flow, FLOW)}, {show.text(drawn, VOLUME, 2)}"
                f" → {often}",
                tr("MIL-HDBK-1005/9A, paragraph 2.5.3.6"),
            ),
        ),
    )


def _upstairs(draws: Draws, neat: Neat) -> Draft | None:
    band = neat.a_band(draws)
    height = neat.of(draws, (12, 18, 22, 25, 30, 35), (4, 5, 6, 8, 10), HEAD)
    lost = WATER_WEIGHT * height
    per_unit = neat.display.value(height, HEAD) / neat.display.value(lost, PRESSURE)
    right = band[0] - lost
    if right <= 0.0:
        return None
    slips = (
        (Slip.HEAD_FORGOTTEN, band[0]),
        (Slip.HEAD_WRONG_WAY, band[0] - lost * per_unit**2),
        (Slip.CUT_OUT_FOR_CUT_IN, band[1] - lost),
    )
    show = neat.display
    return Draft(
        tr("Weak upstairs"),
        tr(
            "The customer at {place}: “Upstairs hardly anything comes, just before the pump"
            " starts.”",
            place=neat.place,
        ),
        (
            (tr("Switch band, at the tank"), neat.band(*band)),
            (tr("Tap above the gauge"), neat.say(height, HEAD)),
            (tr("Friction"), tr("none to speak of")),
        ),
        tr("What is the least pressure at that tap?"),
        within(neat, PRESSURE, right, 1, 6, slips),
        (
            Step(
                tr("Pressure that the height takes"),
                tr("p = ρ g h, water at 10 °C"),
                f"{neat.say(height, HEAD)} → {show.text(lost, PRESSURE, 1)}",
                tr("IAPWS-95; the trade's 2.31 ft for 1 psi is 0.1 % more"),
            ),
            sums.times_step(
                tr("At the tap"),
                tr("cut-in − height"),
                f"{neat.say(band[0], PRESSURE)} − {show.text(lost, PRESSURE, 1)}"
                f" = {show.text(right, PRESSURE, 1)}",
            ),
        ),
    )
