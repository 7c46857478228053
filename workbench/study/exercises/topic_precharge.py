"""Exercises: set a precharge for a band, a place and a temperature."""

from __future__ import annotations

from workbench.physics.air import (
    AbsolutePressure,
    charge_at_temperature,
    charge_reading,
    gauge,
    gauge_pressure,
)
from workbench.study.exercises import sums
from workbench.study.exercises.draft import Draft, Maker, no, pick, within, within_share, yes
from workbench.study.exercises.draws import Draws
from workbench.study.exercises.exercise import Pick
from workbench.study.exercises.neat import Neat
from workbench.study.exercises.slip import Slip
from workbench.study.working import Step, air_step
from workbench.units import ALTITUDE, PRESSURE, TEMPERATURE, VOLUME
from workbench.words import tr

_TOLERANCE = (0.5, 4.0)  # psi, kPa


def _new_tank(draws: Draws, neat: Neat) -> Draft | None:
    """A new tank comes with some charge; what must it be set to?"""
    low, high = neat.a_band(draws)
    factory = neat.of(draws, (20, 25, 30, 38, 40), (150, 200, 250, 260), PRESSURE)
    below = neat.below
    slips = (
        (Slip.OLD_PRECHARGE, factory),
        (Slip.PRECHARGE_AT_CUT_IN, low),
        (Slip.PRECHARGE_ABOVE, low + below),
        (Slip.FROM_CUT_OUT, high - below),
    )
    right = low - below
    return Draft(
        tr("A new tank"),
        tr(
            "A new tank stands ready at {place}. The air gauge shows {factory} as it came out of"
            " the carton; the switch is set to {band}.",
            place=neat.place,
            factory=neat.say(factory, PRESSURE),
            band=neat.band(low, high),
        ),
        (
            (tr("Cut-in"), neat.say(low, PRESSURE)),
            (tr("Cut-out"), neat.say(high, PRESSURE)),
            (tr("Charge as delivered"), neat.say(factory, PRESSURE)),
            (tr("Rule"), neat.rule()),
        ),
        tr("What must the air gauge show when you are done, the tank still empty of water?"),
        within(neat, PRESSURE, right, *_TOLERANCE, slips),
        (sums.precharge_step(neat, low),),
        sums.cautions_at_tank(),
    )


def _band_changed(draws: Draws, neat: Neat) -> Draft | None:
    """The band goes up or down; how much air must be added or let out?"""
    first, second = neat.two_bands(draws)
    goes_up = draws.chance(0.5)
    old, new = (first, second) if goes_up else (second, first)
    below, sign = neat.below, 1.0 if goes_up else -1.0
    found, target = old[0] - below, new[0] - below
    right = sign * (target - found)
    slips = (
        (Slip.OLD_PRECHARGE, 0.0),
        (Slip.PRECHARGE_AT_CUT_IN, right + sign * below),
        (Slip.PRECHARGE_ABOVE, right + sign * 2.0 * below),
        (Slip.WHOLE_FOR_CHANGE, target),
        (Slip.FROM_CUT_OUT, new[1] - below - found if goes_up else None),
    )
    bands = (neat.band(*old), neat.band(*new))
    question = (
        tr("By how much must the charge be raised, the tank drained?")
        if goes_up
        else tr("By how much must the charge be lowered, the tank drained?")
    )
    change = Step(
        tr("Change of the charge"),
        tr("new precharge less what is found, or the reverse"),
        f"{neat.say(max(target, found), PRESSURE)} − {neat.say(min(target, found), PRESSURE)}"
        f" = {neat.say(right, PRESSURE)}",
        tr("arithmetic"),
    )
    return Draft(
        tr("The band is changed"),
        tr(
            "At {place} the switch was set from {old} to {new}. The tank is drained and its air"
            " gauge shows {found}.",
            place=neat.place,
            old=bands[0],
            new=bands[1],
            found=neat.say(found, PRESSURE),
        ),
        (
            (tr("Old band"), bands[0]),
            (tr("New band"), bands[1]),
            (tr("Charge found, drained"), neat.say(found, PRESSURE)),
            (tr("Rule"), neat.rule()),
        ),
        question,
        within(neat, PRESSURE, right, *_TOLERANCE, slips),
        (sums.precharge_step(neat, new[0]), change),
        sums.cautions_at_tank(),
    )


def _charged_below(draws: Draws, neat: Neat) -> Draft | None:
    """Set in the shop in the valley, used up on the mountain."""
    low, high = neat.a_band(draws)
    height = neat.a_height(draws)
    target = low - neat.below
    valley, mountain = neat.ambient(), neat.ambient(height)
    warm = 293.15  # the same at both places, so it does not matter
    there = (AbsolutePressure(gauge_pressure(mountain)), warm)
    here = (AbsolutePressure(gauge_pressure(valley)), warm)
    right = float(charge_reading(gauge_pressure(target), there, here))
    slips = (
        (Slip.ALTITUDE_FORGOTTEN, target),
        (Slip.ALTITUDE_WRONG_WAY, 2.0 * target - right),
        (Slip.FROM_CUT_OUT, right + high - low),
    )
    show = neat.display
    step = Step(
        tr("Gauge in the shop: the absolute pressure stays the same"),
        tr("p shop = p site + air at the site − air in the shop"),
        f"{neat.say(target, PRESSURE)} + {show.number(mountain, PRESSURE, 2)}"
        f" − {show.number(valley, PRESSURE, 2)} = {show.text(right, PRESSURE, 1)}",
        tr("US Standard Atmosphere 1976; the charge is sealed"),
    )
    return Draft(
        tr("Charged in the valley"),
        tr(
            "A tank for {place} is charged in the shop at sea level and then carried up."
            " The temperature is the same at both places.",
            place=neat.place,
        ),
        (
            (tr("Switch band"), neat.band(low, high)),
            (tr("Altitude of the site"), neat.say(height, ALTITUDE)),
            (tr("Air there, standard atmosphere"), show.text(mountain, PRESSURE, 1)),
            (tr("Air at sea level"), show.text(valley, PRESSURE, 1)),
            (tr("Rule, at the site"), neat.rule()),
        ),
        tr("What must the gauge show in the shop, so that it is right at the site?"),
        within(neat, PRESSURE, right, *_TOLERANCE, slips),
        (sums.precharge_step(neat, low), step),
        sums.cautions_at_tank(),
    )


def _charged_warm(draws: Draws, neat: Neat) -> Draft | None:
    """Set in a warm van, used in a cold cellar."""
    low, high = neat.a_band(draws)
    warm, cold = neat.a_warmth(draws), neat.a_coolness(draws)
    target, air = low - neat.below, neat.ambient()
    around = AbsolutePressure(gauge_pressure(air))
    right = float(charge_reading(gauge_pressure(target), (around, cold), (around, warm)))
    scale = neat.display.value

    def heated(charge: float, cold_number: float, warm_number: float, ambient: float) -> float:
        inside = sums.pressure_of(charge, ambient)
        hot = charge_at_temperature(inside, cold_number, warm_number)
        return float(gauge(hot, AbsolutePressure(gauge_pressure(ambient))))

    slips = (
        (Slip.TEMPERATURE_FORGOTTEN, target),
        (Slip.TEMPERATURE_WRONG_WAY, heated(target, warm, cold, air)),
        (
            Slip.NOT_ABSOLUTE_TEMPERATURE,
            heated(target, scale(cold, TEMPERATURE), scale(warm, TEMPERATURE), air),
        ),
        (Slip.GAUGE_IN_BOYLE, heated(target, cold, warm, 0.0)),
    )
    return Draft(
        tr("Charged in a warm van"),
        tr(
            "The tank for {place} is charged in the van, in the sun. It will stand in a cold"
            " well house.",
            place=neat.place,
        ),
        (
            (tr("Switch band"), neat.band(low, high)),
            (tr("Air in the van"), neat.say(warm, TEMPERATURE, 0)),
            (tr("Air in the well house"), neat.say(cold, TEMPERATURE, 0)),
            (tr("Air around, both places"), neat.display.text(air, PRESSURE, 1)),
            (tr("Rule, in the well house"), neat.rule()),
        ),
        tr("What must the gauge show in the van, so that it is right in the well house?"),
        within(neat, PRESSURE, right, 0.3, 2.0, slips),
        (sums.precharge_step(neat, low), _warmed_step(target, right, warm, cold, neat)),
        sums.cautions_at_tank(),
    )


def _warmed_step(target: float, right: float, warm: float, cold: float, neat: Neat) -> Step:
    show, air = neat.display, neat.ambient()
    return Step(
        tr("Gauge in the van, pressures and temperatures absolute"),
        tr("(p van + air) = (p site + air) × T van / T site"),
        f"({show.number(target, PRESSURE, 1)} + {show.number(air, PRESSURE, 1)})"
        f" × {neat.absolute_warmth(warm)} / {neat.absolute_warmth(cold)}"
        f" − {show.number(air, PRESSURE, 1)} = {show.text(right, PRESSURE, 1)}",
        tr("Gay-Lussac's law, OpenStax College Physics, 2012, section 13.3"),
    )


def _lost_drawdown(draws: Draws, neat: Neat) -> Draft | None:
    """The band went up, the air did not: what is lost?"""
    old, new = neat.two_bands(draws)
    volume = neat.a_tank(draws)
    height = neat.a_height(draws) if draws.chance(0.3) else 0.0
    charge = old[0] - neat.below
    should, found = sums.setting(neat, new, None, height), sums.setting(neat, new, charge, height)
    full, left = sums.water(should, volume), sums.water(found, volume)
    right = full - left
    gauge_loss = sums.water(sums.by_gauge(should), volume) - sums.water(
        sums.by_gauge(found), volume
    )
    slips = (
        (Slip.OLD_PRECHARGE, 0.0),
        (Slip.LEFT_FOR_LOST, left),
        (Slip.GAUGE_IN_BOYLE, gauge_loss),
        (Slip.TANK_AS_DRAWDOWN, volume - left),
    )
    show = neat.display
    lost = sums.times_step(
        tr("What is lost"),
        tr("drawdown with the right charge − drawdown with the old one"),
        f"{show.number(full, VOLUME, 2)} − {show.number(left, VOLUME, 2)}"
        f" = {show.text(right, VOLUME, 2)}",
    )
    return Draft(
        tr("The price of the old charge"),
        tr(
            "At {place} someone set the switch from {old} to {new} and left the air alone.",
            place=neat.place,
            old=neat.band(*old),
            new=neat.band(*new),
        ),
        (
            (tr("Total volume"), neat.say(volume, VOLUME)),
            (tr("Charge found, drained"), neat.say(charge, PRESSURE)),
            (tr("Charge that belongs there"), neat.say(new[0] - neat.below, PRESSURE)),
            *neat.height_row(height),
        ),
        tr("How much drawdown is lost by the old charge, compared with the right one?"),
        within_share(neat, VOLUME, right, 5, slips),
        (
            *sums.water_steps(should, volume, show),
            *sums.water_steps(found, volume, show)[1:],
            lost,
        ),
    )


def _let_out(draws: Draws, neat: Neat) -> Draft | None:
    """Too much air for the band: the taps go dry for a moment. How much must go?"""
    low, high = neat.a_band(draws)
    over = neat.of(draws, (3, 4, 6, 7, 8, 9), (20, 25, 40, 50, 60, 70), PRESSURE)
    below = neat.below
    found = low + over
    right = found - (low - below)
    slips = (
        (Slip.PRECHARGE_AT_CUT_IN, over),
        (Slip.PRECHARGE_ABOVE, over - below),
        (Slip.WHOLE_FOR_CHANGE, low - below),
        (Slip.FROM_CUT_OUT, high - below - found),
    )
    return Draft(
        tr("A moment without water"),
        tr(
            "At {place} the water stops for a moment just before the pump starts. Drained, the"
            " tank's air gauge shows {found}.",
            place=neat.place,
            found=neat.say(found, PRESSURE),
        ),
        (
            (tr("Switch band, as read"), neat.band(low, high)),
            (tr("Charge found, drained"), neat.say(found, PRESSURE)),
            (tr("Rule"), neat.rule()),
        ),
        tr("By how much must the charge be lowered?"),
        within(neat, PRESSURE, right, *_TOLERANCE, slips),
        (
            sums.precharge_step(neat, low),
            sums.times_step(
                tr("To let out"),
                tr("charge found − right charge"),
                f"{neat.say(found, PRESSURE)} − {neat.say(low - below, PRESSURE)}"
                f" = {neat.say(right, PRESSURE)}",
            ),
        ),
        sums.cautions_at_tank(),
    )


def _first_step(draws: Draws, neat: Neat) -> Draft | None:
    """In which order is the charge read and set?"""
    low, high = neat.a_band(draws)
    shown = low + neat.of(draws, (4, 6, 9, 11, 13, 16), (30, 45, 60, 75, 90, 110), PRESSURE)
    if shown >= high:
        return None
    told = neat.say(shown, PRESSURE)
    return Draft(
        tr("What comes first?"),
        tr(
            "At {place} you put a tyre gauge on the air valve of a tank in service: {told}. The"
            " gauge on the water side shows the same.",
            place=neat.place,
            told=told,
        ),
        (
            (tr("Switch band"), neat.band(low, high)),
            (tr("At the air valve, tank in service"), told),
            (tr("Gauge on the water side"), told),
            (tr("Rule"), neat.rule()),
        ),
        tr("The charge is to be checked. What do you do?"),
        _first_options(draws, neat, low, told),
        (
            air_step(sums.setting(neat, (low, high)), neat.display),
            sums.precharge_step(neat, low),
        ),
        sums.cautions_at_tank(),
    )


def _first_options(draws: Draws, neat: Neat, low: float, told: str) -> Pick:
    right = yes(
        tr("Switch the power off and lock it out, drain the tank until the gauge shows zero, then"
           " read and set the air."),
        tr("Only with the tank empty of water does the air valve show the charge."),
    )  # fmt: skip
    wrong = (
        no(
            tr("Let air out until the tyre gauge shows {right}.",
               right=neat.say(low - neat.below, PRESSURE)),
            Slip.AIR_READ_WITH_WATER,
            tr("{told} is the pressure of the whole system; the charge may be right already.",
               told=told),
        ),
        no(
            tr("Turn the switch until cut-in lies just above {told}.", told=told),
            Slip.SWITCH_FOR_CHARGE,
            tr("The band was chosen for the house; the air follows it."),
        ),
        no(
            tr("Drain the tank with the power on, and set the air while the pump runs."),
            Slip.UNSAFE,
            tr("The pump fills what you drain, and the terminals of the switch are live."),
        ),
        no(
            tr("Replace the tank: no charge may be above cut-in."),
            Slip.TANK_REPLACED,
            tr("Nothing is known of the charge yet."),
        ),
    )  # fmt: skip
    return pick(draws, right, wrong)


SORTS: dict[str, Maker] = {
    "new_tank": _new_tank,
    "band_changed": _band_changed,
    "charged_below": _charged_below,
    "charged_warm": _charged_warm,
    "lost_drawdown": _lost_drawdown,
    "let_out": _let_out,
    "first_step": _first_step,
}
