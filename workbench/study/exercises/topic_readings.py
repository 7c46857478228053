"""Exercises: what a set of readings tells, and what it does not."""

from __future__ import annotations

from workbench.physics.air import AbsolutePressure, gauge
from workbench.physics.tank import precharge_for_drawdown
from workbench.study.exercises import sums
from workbench.study.exercises.draft import Draft, Maker, no, pick, within, within_share, yes
from workbench.study.exercises.draws import Draws
from workbench.study.exercises.exercise import Pick
from workbench.study.exercises.neat import Neat
from workbench.study.exercises.slip import Slip
from workbench.study.exercises.verdict import verdict
from workbench.study.setting import Setting, pressures
from workbench.study.working import Step
from workbench.units import DAILY, FLOW, PRESSURE, SHORT_TIME, TIME, VOLUME
from workbench.words import tr


def _pump_flow(draws: Draws, neat: Neat) -> Draft | None:
    """Drained between cut-out and cut-in, then the seconds until the pump stops."""
    is_imperial = draws.chance(0.35)
    number = draws.one_of((6, 7, 8, 9, 10, 11, 12, 14, 15, 16)) + draws.one_of((0.0, 0.5))
    imperial = number * VOLUME.units["imp gal"].factor
    litres = neat.of(draws, (7, 8, 9.5, 10.5, 12, 13.5, 15), (28, 32, 36, 45, 52, 60), VOLUME)
    drawn = imperial if is_imperial else litres
    seconds = 60.0 + draws.one_of((12, 14, 15, 18, 20, 25, 30, 35, 40, 45, 50))
    volume = neat.a_tank(draws)
    right = drawn / seconds
    low, high = neat.step(4, 15, FLOW), neat.step(18, 70, FLOW)
    if not low <= right <= high or not 0.2 < drawn / volume < 0.38:
        return None
    slips = (
        (Slip.TIME_MIXED, drawn / sums.clock_misread(seconds)),
        (Slip.IMPERIAL_GALLONS, right / sums.IMPERIAL if is_imperial else None),
        (Slip.TANK_AS_DRAWDOWN, volume / seconds),
        (Slip.HALF_FLOW, right / 2.0),
    )
    told = f"{neat.digits(number)} imp gal" if is_imperial else neat.say(drawn, VOLUME)
    show = neat.display
    return Draft(
        tr("Bucket and watch"),
        tr(
            "At {place} you drain water from the moment the pump stops until it starts, shut the"
            " tap at once, and watch how long it runs.",
            place=neat.place,
        ),
        (
            (tr("Drained into buckets"), told),
            (tr("From start to stop, tap shut"), tr("{clock} min", clock=sums.clock(seconds))),
            (tr("Total volume, on the label"), neat.say(volume, VOLUME)),
        ),
        tr("What does the pump give, in {unit}?", unit=neat.flow_name()),
        within_share(neat, FLOW, right, 3, slips),
        (
            sums.times_step(
                tr("Flow into the tank"),
                tr("Q = Vd / t"),
                f"{show.text(drawn, VOLUME, 2)} / {show.text(seconds, SHORT_TIME, 0)}"
                f" = {show.text(right, FLOW, 2)}",
            ),
        ),
    )


def _no_bucket(draws: Draws, neat: Neat) -> Draft | None:
    """A steady draw and a watch: run and rest tell the pump's flow."""
    draw = neat.of(draws, (2, 2.5, 3, 4, 5), (8, 10, 12, 15, 18), FLOW)
    rest = 60.0 * draws.one_of((2, 3, 4, 5)) + draws.one_of((0, 15, 20, 30, 45))
    run = 60.0 + draws.one_of((10, 15, 20, 25, 30, 40, 50))
    right = draw * (run + rest) / run
    if not neat.step(5, 18, FLOW) <= right <= neat.step(20, 75, FLOW):
        return None
    mixed_run, mixed_rest = sums.clock_misread(run), sums.clock_misread(rest)
    slips = (
        (Slip.DEMAND_FORGOTTEN, draw * rest / run),
        (Slip.RUN_FOR_REST, draw * (run + rest) / rest),
        (Slip.TIME_MIXED, draw * (mixed_run + mixed_rest) / mixed_run),
        (Slip.HALF_FLOW, right / 2.0),
    )
    show = neat.display
    return Draft(
        tr("No bucket at hand"),
        tr(
            "At {place} a tap is left open at a steady draw, measured with a flow cup. You time"
            " the pump over a whole cycle.",
            place=neat.place,
        ),
        (
            (tr("Drawn all the time"), neat.say(draw, FLOW)),
            (tr("The pump rests"), tr("{clock} min", clock=sums.clock(rest))),
            (tr("The pump runs"), tr("{clock} min", clock=sums.clock(run))),
        ),
        tr("What does the pump give while it runs?"),
        within_share(neat, FLOW, right, 3, slips),
        (
            sums.times_step(
                tr("Drawdown, from the rest"),
                tr("Vd = q × rest"),
                f"{neat.say(draw, FLOW)} × {show.text(rest, TIME, 2)}"
                f" = {show.text(draw * rest, VOLUME, 2)}",
            ),
            Step(
                tr("Flow of the pump"),
                tr("Q = Vd / run + q"),
                f"{show.text(draw * rest, VOLUME, 2)} / {show.text(run, TIME, 2)}"
                f" + {neat.say(draw, FLOW)} = {show.text(right, FLOW, 2)}",
                tr("mass balance of the tank"),
            ),
        ),
    )


def _implied_charge(draws: Draws, neat: Neat) -> Draft | None:
    """The charge that follows from a drawdown, and which of the two it is."""
    band = neat.a_band(draws)
    volume = neat.a_tank(draws)
    one = sums.setting(neat, band)
    share = draws.one_of((0.45, 0.5, 0.55, 0.6, 0.65, 0.7, 0.75))
    drawn = neat.round(sums.water(one, volume) * share, 0.5, 1, VOLUME)

    def roots(ambient: float) -> tuple[float, float]:
        ins, outs = (sums.pressure_of(p, ambient) for p in band)
        both = precharge_for_drawdown(drawn, ins, outs, volume)
        air = AbsolutePressure(sums.pressure_of(0.0, ambient))
        return tuple(float(gauge(AbsolutePressure(root), air)) for root in both)  # type: ignore[return-value]

    under, over = roots(one.ambient)
    is_over = draws.chance(0.4)
    right, other = (over, under) if is_over else (under, over)
    if not 0.0 < under < band[0] < over < band[1]:
        return None
    by_gauge = roots(0.0)[1 if is_over else 0]
    slips = (
        (Slip.OTHER_ROOT, other),
        (Slip.GAUGE_IN_BOYLE, by_gauge),
        (Slip.OLD_PRECHARGE, one.precharge),
    )
    end = (
        tr("the water stopped dead for a moment before the pump started")
        if is_over
        else tr("the water ran on evenly until the pump started")
    )
    return Draft(
        tr("The charge, without draining"),
        tr(
            "At {place} you drained the tank from cut-out; {end}. The air valve is seized, so the"
            " charge cannot be read.",
            place=neat.place,
            end=end,
        ),
        (
            (tr("Total volume"), neat.say(volume, VOLUME)),
            (tr("Drained from cut-out to cut-in"), neat.say(drawn, VOLUME)),
            (tr("Switch band, as read"), neat.band(*band)),
            (tr("Charge that belongs there"), neat.say(one.precharge, PRESSURE)),
        ),
        tr("Which charge does the tank have, as a gauge would show it?"),
        within(neat, PRESSURE, right, 1, 7, slips),
        _implied_steps(one, volume, drawn, right, is_over, neat),
    )


def _implied_steps(
    one: Setting, volume: float, drawn: float, right: float, is_over: bool, neat: Neat
) -> tuple[Step, ...]:
    show = neat.display
    _, low, high = pressures(one)
    absolutes = " / ".join(show.number(float(p), PRESSURE, 1) for p in (low, high))
    formula = tr("Pp = Pout × (1 − Vd/V)") if is_over else tr("Pp = Vd / (V × (1/Pin − 1/Pout))")
    inside, air = (show.number(p, PRESSURE, 1) for p in (right + one.ambient, one.ambient))
    return (
        Step(
            tr("Charge, absolute pressures in {unit}", unit=show.symbol(PRESSURE)),
            formula,
            f"{neat.say(drawn, VOLUME)} / {neat.say(volume, VOLUME)}, {absolutes} → {inside}",
            tr("Boyle's law, solved for the charge"),
        ),
        sums.times_step(
            tr("As a gauge shows it"),
            tr("gauge = absolute − air pressure"),
            f"{inside} − {air} = {show.text(right, PRESSURE, 1)}",
        ),
    )


def _leak_down(draws: Draws, neat: Neat) -> Draft | None:
    """The gauge falls while nothing is drawn: how much water is that in a day?"""
    band = neat.a_band(draws)
    volume = neat.a_tank(draws)
    minutes = draws.one_of((10, 12, 15, 20, 25, 30, 40, 45))
    fall = neat.of(draws, (3, 4, 5, 6, 7, 8, 9), (20, 25, 30, 40, 50, 60), PRESSURE)
    one = sums.setting(neat, band)
    top = band[1] - neat.of(draws, (1, 2, 3), (10, 15, 20), PRESSURE)
    charge = one.precharge
    if top - fall <= band[0]:
        return None
    watched = sums.setting(neat, (top - fall, top), charge)
    lost = sums.water(watched, volume)
    right = lost / (60.0 * minutes)
    slips = (
        (Slip.GAUGE_IN_BOYLE, sums.water(sums.by_gauge(watched), volume) / (60.0 * minutes)),
        (Slip.TIME_MIXED, right / 24.0),
        (Slip.WHOLE_BAND, sums.water(one, volume) / (60.0 * minutes)),
    )
    show = neat.display
    return Draft(
        tr("The gauge falls by itself"),
        tr(
            "At {place} the power is off and the house valve is shut, and still the gauge falls.",
            place=neat.place,
        ),
        (
            (tr("Total volume"), neat.say(volume, VOLUME)),
            (tr("Charge, by the rule"), neat.say(charge, PRESSURE)),
            (tr("Gauge at first"), neat.say(top, PRESSURE)),
            (tr("Gauge after {minutes} min", minutes=minutes), neat.say(top - fall, PRESSURE)),
        ),
        tr("How much water is lost in a day at this rate?"),
        within_share(neat, DAILY, right, 4, slips),
        (
            *sums.water_steps(watched, volume, show),
            sums.times_step(
                tr("In a day"),
                tr("water lost × 1440 min / minutes watched"),
                f"{show.text(lost, VOLUME, 2)} × 1440 / {minutes} = {show.text(right, DAILY)}",
            ),
        ),
    )


def _what_it_tells(draws: Draws, neat: Neat) -> Draft | None:
    """Air valve and water gauge agree while the tank is in service."""
    low, high = neat.a_band(draws)
    right_charge = low - neat.below
    shown = low + neat.of(draws, (1, 3, 5, 8, 10, 12), (10, 20, 35, 50, 65, 80), PRESSURE)
    if not low < shown < high:
        return None
    told = neat.say(shown, PRESSURE)
    return Draft(
        tr("Two gauges agree"),
        tr(
            "An apprentice reports from {place}: tyre gauge on the air valve {told}, gauge on the"
            " water side {told}, pump off, nobody draws.",
            place=neat.place,
            told=told,
        ),
        (
            (tr("Switch band"), neat.band(low, high)),
            (tr("At the air valve"), told),
            (tr("On the water side"), told),
            (tr("Charge that belongs there"), neat.say(right_charge, PRESSURE)),
        ),
        tr("What do these readings tell about the charge?"),
        _telling(draws, told, neat.say(shown - right_charge, PRESSURE)),
        (
            Step(
                tr("A membrane in between"),
                tr("p air = p water while water stands in the tank"),
                f"{told} = {told}",
                tr("balance of forces on the membrane"),
            ),
        ),
        sums.cautions_at_tank(),
    )


def _telling(draws: Draws, told: str, over: str) -> Pick:
    right = yes(
        tr("Nothing about the charge: drain the tank first."),
        tr("Water and air press on the membrane alike, so both gauges show the system."),
    )
    wrong = (
        no(
            tr("The charge is {told}; {over} must be let out.", told=told,
               over=over),
            Slip.AIR_READ_WITH_WATER,
            tr("Then it would be far too low once the tank is drained."),
        ),
        no(
            tr("The membrane is torn, since both sides show the same."),
            Slip.TANK_REPLACED,
            tr("They show the same in every sound tank that holds water."),
        ),
        no(
            tr("Cut-in must be raised above {told}.", told=told),
            Slip.SWITCH_FOR_CHARGE,
            tr("The band has nothing to do with what is read between its ends."),
        ),
        no(
            tr("The charge is right, since it agrees with the water gauge."),
            Slip.AIR_READ_WITH_WATER,
            tr("They agree whatever the charge is, as long as water stands in the tank."),
        ),
    )  # fmt: skip
    return pick(draws, right, wrong)


def _within_gauge(draws: Draws, neat: Neat) -> Draft | None:
    """Is the difference more than the gauge may be wrong?"""
    low, high = neat.a_band(draws)
    should = low - neat.below
    tolerance = neat.of(draws, (1, 2, 2.5), (7, 14, 20), PRESSURE)
    off = neat.of(draws, (0.5, 1, 1.5, 4, 6, 9, 12), (4, 6, 10, 30, 45, 60, 80), PRESSURE)
    if 0.8 * tolerance < off < 1.4 * tolerance:
        return None
    read = should - off
    off_told, tolerance_told = neat.say(off, PRESSURE), neat.say(tolerance, PRESSURE)
    return Draft(
        tr("How far is off?"),
        tr(
            "At {place} the tank is drained, power off. The air valve is dry. The tyre gauge is"
            " good to {tolerance} either way.",
            place=neat.place,
            tolerance=tolerance_told,
        ),
        (
            (tr("Switch band, as read"), neat.band(low, high)),
            (tr("Charge that belongs there"), neat.say(should, PRESSURE)),
            (tr("Charge read, drained"), neat.say(read, PRESSURE)),
            (tr("Tolerance of the gauge"), tr("± {tolerance}", tolerance=tolerance_told)),
        ),
        tr("What do you do about the charge?"),
        _to_do(draws, should, read, tolerance, neat),
        (
            sums.times_step(
                tr("Off by"),
                tr("charge that belongs there − charge read"),
                f"{neat.say(should, PRESSURE)} − {neat.say(read, PRESSURE)} = {off_told}"
                f"; ± {tolerance_told}",
            ),
        ),
        sums.cautions_at_tank(),
    )


def _to_do(draws: Draws, should: float, read: float, tolerance: float, neat: Neat) -> Pick:
    off = should - read
    off_told, tolerance_told = neat.say(off, PRESSURE), neat.say(tolerance, PRESSURE)
    is_real = off > tolerance
    why = tr(
        "It is {off} off, and the gauge may be wrong by {tolerance}.",
        off=off_told,
        tolerance=tolerance_told,
    )
    add = tr("Add air to {should}, and read again in a week.", should=neat.say(should, PRESSURE))
    leave = tr("Leave it: the gauge cannot tell this from the right charge.")
    right = yes(add if is_real else leave, why)
    wrong = (
        no(leave, Slip.BEYOND_TOLERANCE, why) if is_real else no(add, Slip.WITHIN_TOLERANCE, why),
        no(
            tr("Replace the tank: it loses air."),
            Slip.TANK_REPLACED,
            tr("One reading tells no loss, and the air valve is dry."),
        ),
        no(
            tr("Turn cut-in down to {low}.", low=neat.say(read + neat.below, PRESSURE)),
            Slip.SWITCH_FOR_CHARGE,
            tr("The band was chosen for the house; the air follows it."),
        ),
    )
    return pick(draws, right, wrong)


SORTS: dict[str, Maker] = {
    "pump_flow": _pump_flow,
    "no_bucket": _no_bucket,
    "implied_charge": _implied_charge,
    "leak_down": _leak_down,
    "what_it_tells": _what_it_tells,
    "verdict": verdict,
    "within_gauge": _within_gauge,
}
