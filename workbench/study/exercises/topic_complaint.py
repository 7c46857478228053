"""Exercises: from what the customer says to the cause and the cure."""

from __future__ import annotations

from workbench.physics.well import deficit_drawdown, storage_volume
from workbench.study.exercises import sums
from workbench.study.exercises.complaint_sums import figure_of_complaint, less_water
from workbench.study.exercises.draft import Draft, Maker, no, pick, yes
from workbench.study.exercises.draws import Draws
from workbench.study.exercises.exercise import Option, Pick
from workbench.study.exercises.neat import Neat
from workbench.study.exercises.slip import Slip
from workbench.study.setting import Setting
from workbench.study.working import Step
from workbench.units import FLOW, PRESSURE, SHORT_TIME, TIME, VOLUME
from workbench.words import tr

_CLICKS = 30.0
"""Shortest run [s] below which a pump clicks on and off "all the time" (our own figure)."""


def _source() -> str:
    return tr("Troubleshooting Bladder Pressure Tanks, Washington State Department of Health"
              " 331-342, November 2010")  # fmt: skip


def _reasoning(title: str, because: str) -> tuple[Step, ...]:
    return (Step(title, tr("sign → test → cause"), because, _source()),)


def _short_cycle(draws: Draws, neat: Neat) -> Draft | None:
    """The pump clicks every few seconds while water is drawn."""
    band = neat.a_band(draws)
    volume, flow = neat.a_tank(draws), neat.a_flow(draws)
    one = sums.setting(neat, band)
    run = sums.water(one, volume) / flow
    found = neat.round(one.precharge * draws.one_of((0.05, 0.1, 0.2)), 1, 5, PRESSURE)
    kind = draws.below(3)
    room = volume * (0.6 if kind == 1 else 1.0)  # water lies above a failed membrane
    short = sums.water(sums.setting(neat, band, found), room) / flow
    if (kind == 2) != (run < _CLICKS) or (kind != 2 and not short < _CLICKS < 0.6 * run):
        return None  # either it is the air, or the tank is too small for the pump
    charge = one.precharge if kind == 2 else found
    valve = tr("water came out") if kind == 1 else tr("dry")
    told = neat.say(charge, PRESSURE)
    run_told = neat.display.text(run, SHORT_TIME)
    options = _for_clicks(one, told, run_told, neat)[kind]
    return Draft(
        tr("It clicks all the time"),
        tr("The customer at {place}: “While the shower runs, the pump clicks on and off all the"
           " time.” With nothing open it is silent.", place=neat.place),
        (
            (tr("Total volume"), neat.say(volume, VOLUME)),
            (tr("Pump, measured at the tank"), neat.say(flow, FLOW)),
            (tr("Switch band, as read"), neat.band(*band)),
            (tr("Charge read, drained"), told),
            (tr("Air valve"), valve),
        ),
        tr("What cures it?"),
        pick(draws, options[0], options[1:]),
        _reasoning(tr("Clicks only while water is drawn"), options[0].why),
        sums.cautions_at_tank(),
    )  # fmt: skip


def _for_clicks(
    one: Setting, told: str, run_told: str, neat: Neat
) -> dict[int, tuple[Option, ...]]:
    """The right cure and wrong ones: lost air, failed membrane, tank too small."""
    add = tr("Add air to {right}, soap the valve, read it again in a week.",
             right=neat.say(one.precharge, PRESSURE))  # fmt: skip
    replace = tr("Replace the tank, or its membrane where the vessel allows that.")
    larger = tr("Fit a larger tank, or a second one on the header.")
    switch = tr("Widen the band by turning cut-out up.")
    pump = tr("Pull the pump: it gives too little.")
    dry = tr("The valve is dry, the charge is {told}: air is missing, the membrane is sound.",
             told=told)  # fmt: skip
    wet = tr("Water at the air valve has passed the membrane.")
    small = tr("With the right charge this tank lets the pump run {run} only.", run=run_told)
    lies = tr("A higher cut-out hides it for a while and strains the pump.")
    pumps = tr("A pump that gives too little runs long; this one hardly runs.")
    return {
        0: (yes(add, dry), no(replace, Slip.TANK_REPLACED, dry),
            no(larger, Slip.TANK_BLAMED, dry), no(switch, Slip.SWITCH_FOR_CHARGE, lies),
            no(pump, Slip.PUMP_BLAMED, pumps)),
        1: (yes(replace, wet), no(add, Slip.MEMBRANE_MISSED, wet),
            no(switch, Slip.SWITCH_FOR_CHARGE, lies), no(pump, Slip.PUMP_BLAMED, pumps)),
        2: (yes(larger, small), no(add, Slip.WITHIN_TOLERANCE, tr("It has that charge already.")),
            no(replace, Slip.TANK_REPLACED, tr("The same size would do the same.")),
            no(pump, Slip.PUMP_BLAMED, pumps)),
    }  # fmt: skip


def _dry_moment(draws: Draws, neat: Neat) -> Draft | None:
    """The water stops for a moment, then the pump starts."""
    band = neat.a_band(draws)
    kind = draws.below(3)
    off = neat.of(draws, (5, 6, 7, 8, 9), (30, 40, 45, 50, 60), PRESSURE)
    rule = band[0] - neat.below
    charge = band[0] + off if kind == 0 else rule
    closes = band[0] - off if kind == 1 else band[0]
    clicks = closes - neat.below - off if kind == 2 else closes
    if charge >= band[1] or clicks <= 0.0:
        return None
    options = _for_dry_moment(band, charge, closes, neat)[kind]
    slowly = neat.say(closes, PRESSURE)
    return Draft(
        tr("Dry for a moment"),
        tr("The customer at {place}: “The water stops dead, then the pump starts and it comes"
           " back.”", place=neat.place),
        (
            (tr("Switch was set to"), neat.band(*band)),
            (tr("Contacts close, pressure let fall slowly"), slowly),
            (tr("Gauge when they close, tap wide open"), neat.say(clicks, PRESSURE)),
            (tr("Charge read, drained"), neat.say(charge, PRESSURE)),
            (tr("Air valve"), tr("dry")),
        ),
        tr("What cures it?"),
        pick(draws, options[0], options[1:]),
        _reasoning(tr("No water between the emptying of the tank and the start"), options[0].why),
        sums.cautions_at_tank(),
    )  # fmt: skip


def _for_dry_moment(
    band: tuple[float, float], charge: float, closes: float, neat: Neat
) -> dict[int, tuple[Option, ...]]:
    """The right cure and wrong ones: too much air, drifted switch, plugged nipple."""
    out = tr(
        "Let air out, tank drained, to {right}.", right=neat.say(band[0] - neat.below, PRESSURE)
    )
    back = tr("Set the switch back to {band}.", band=neat.band(*band))
    clean = tr("Power off: clean or replace the nipple under the switch.")
    tank = tr("Replace the tank.")
    more = tr("Add air, so that the tank holds more.")
    high = tr("The charge, {charge}, lies above cut-in: the tank is empty before the pump starts.",
              charge=neat.say(charge, PRESSURE))  # fmt: skip
    drift = tr("It closes at {closes} although it was set to {low}: below the charge.",
               closes=neat.say(closes, PRESSURE), low=neat.say(band[0], PRESSURE))  # fmt: skip
    late = tr(
        "It closes at {low} when the pressure is let fall slowly, but late in use: it feels the"
        " pressure through a plugged nipple.",
        low=neat.say(band[0], PRESSURE),
    )
    fine = tr("The charge is right for the band that was set.")
    worse = tr("More air empties the tank still earlier.")
    return {
        0: (yes(out, high), no(more, Slip.OTHER_ROOT, worse), no(tank, Slip.TANK_REPLACED, high),
            no(tr("Turn cut-in down."), Slip.SWITCH_FOR_CHARGE, worse)),
        1: (yes(back, drift), no(out, Slip.CHARGE_FOR_SWITCH, fine),
            no(tank, Slip.TANK_BLAMED, fine), no(more, Slip.CHARGE_FOR_SWITCH, worse)),
        2: (yes(clean, late), no(out, Slip.CHARGE_FOR_SWITCH, fine),
            no(tank, Slip.TANK_BLAMED, fine),
            no(tr("Turn cut-in up until it is early enough."), Slip.SWITCH_BLAMED, late)),
    }  # fmt: skip


def _night_starts(draws: Draws, neat: Neat) -> Draft | None:
    """The pump starts while nobody draws."""
    band = neat.a_band(draws)
    minutes = draws.one_of((15, 20, 30, 45))
    top = band[1] - neat.of(draws, (1, 2, 3), (10, 15, 20), PRESSURE)
    fall = neat.of(draws, (4, 5, 6, 7, 9), (25, 30, 40, 50, 60), PRESSURE)
    is_well_side = draws.chance(0.5)
    after = top - fall if is_well_side else top
    well = tr("A leaking check valve or drop pipe: water runs back into the well.")
    house = tr("A leak in the house: a toilet, a tap, a softener.")
    air = tr("Lost air in the tank: add air.")
    switch = tr("A drifted switch: set it anew.")
    falls = tr("With the house shut off the gauge still fell: the water goes towards the well.")
    holds = tr("With the house shut off the gauge held: the well side is tight.")
    no_air = tr("Lost air makes more starts while water is drawn; it takes no water away.")
    no_switch = tr("A switch does not let water out; something does.")
    right, wrong = (yes(well, falls), no(house, Slip.WRONG_SIDE, falls))
    if not is_well_side:
        right, wrong = (yes(house, holds), no(well, Slip.WRONG_SIDE, holds))
    others: tuple[Option, ...] = (
        wrong,
        no(air, Slip.TANK_BLAMED, no_air),
        no(switch, Slip.SWITCH_BLAMED, no_switch),
    )
    return Draft(
        tr("It starts in the night"),
        tr("The customer at {place}: “At night, when all sleep, I hear the pump start.” You switch"
           " the pump off at cut-out and shut the valve to the house.", place=neat.place),
        (
            (tr("Switch band"), neat.band(*band)),
            (tr("Gauge at first"), neat.say(top, PRESSURE)),
            (tr("Gauge after {minutes} min", minutes=minutes), neat.say(after, PRESSURE)),
            (tr("House valve"), tr("shut")),
        ),
        tr("What is the cause?"),
        pick(draws, right, others),
        _reasoning(tr("Starts with nothing open"), right.why),
    )  # fmt: skip


def _long_shower(draws: Draws, neat: Neat) -> Draft | None:
    """Good at first, gone after a while: a weak well."""
    gives = neat.of(draws, (1, 1.5, 2, 2.5, 3), (4, 6, 8, 10, 12), FLOW)
    peak = neat.of(draws, (8, 9, 10, 12), (30, 35, 40, 45), FLOW)
    after = draws.one_of((12, 15, 18, 20, 25))
    band = neat.a_band(draws)
    missing = deficit_drawdown(peak, gives, 1.0)
    storage = storage_volume(peak, gives)
    show = neat.display
    return Draft(
        tr("Good at first, then it fades"),
        tr("The customer at {place}: “Two showers and the washer, and after {minutes} minutes"
           " nothing comes any more. In an hour it is fine again.”",
           place=neat.place, minutes=after),
        (
            (tr("The well gives, test-pumped"), neat.say(gives, FLOW)),
            (tr("The house draws at its peak"), neat.say(peak, FLOW)),
            (tr("Switch band"), neat.band(*band)),
            (tr("Charge read, drained"), tr("right")),
            (tr("Starts while drawing"), tr("none unusual")),
        ),
        tr("What cures it?"),
        _for_weak_well(draws, neat, gives, peak, band),
        (
            Step(
                tr("Missing at the peak"),
                tr("what the house draws − what the well gives"),
                f"{neat.say(peak, FLOW)} − {neat.say(gives, FLOW)}"
                f" → {show.text(missing, VOLUME)} / min",
                tr("mass balance"),
            ),
            Step(
                tr("Storage for two hours of it"),
                tr("missing × 120 min"),
                f"{show.text(missing, VOLUME)} × 120 = {show.text(storage, VOLUME, 0)}",
                tr("US EPA, Seahome library, Private Water Systems, Storage, “Reservoirs”"),
            ),
        ),
    )  # fmt: skip


def _for_weak_well(
    draws: Draws, neat: Neat, gives: float, peak: float, band: tuple[float, float]
) -> Pick:
    show, storage = neat.display, storage_volume(peak, gives)
    big = neat.tanks()[-1]
    gallons = sums.water(sums.setting(neat, band), big)
    extra = gallons / (peak - gives)
    big_told, extra_told = neat.say(big, VOLUME), show.text(extra, TIME, 1)
    right = yes(
        tr(
            "Storage without pressure of about {storage}, filled as the well gives it, and a"
            " second pump with its tank.",
            storage=show.text(storage, VOLUME, 0),
        ),
        tr(
            "The well gives {gives}; what is missing at the peak must be stored beforehand.",
            gives=neat.say(gives, FLOW),
        ),
    )
    wrong = (
        no(tr("A pressure tank of {volume}.", volume=big_told), Slip.BIGGER_TANK,
           tr("It gives {water} once, which lasts {minutes} longer, and then nothing has changed.",
              water=show.text(gallons, VOLUME), minutes=extra_told)),
        no(tr("A pump that gives twice as much."), Slip.PUMP_BLAMED,
           tr("It would empty the well sooner and run dry.")),
        no(tr("Turn the switch to a higher band."), Slip.SWITCH_BLAMED,
           tr("A higher band asks more of the pump and gives less drawdown.")),
        no(tr("More air in the tank."), Slip.TANK_BLAMED,
           tr("The tank does its part; it is the well that gives out.")),
    )  # fmt: skip
    return pick(draws, right, wrong)


def _never_stops(draws: Draws, neat: Neat) -> Draft | None:
    """The pump does not stop."""
    old, new = neat.two_bands(draws)
    off = neat.of(draws, (3, 4, 5, 7, 9), (20, 25, 35, 45, 60), PRESSURE)
    is_above = draws.chance(0.4)
    gauge = new[1] + 3.0 * off if is_above else new[1] - off
    band = neat.band(*new)
    told = neat.say(gauge, PRESSURE)
    asked = _for_endless_run(draws, told, neat.band(*old), is_above)
    return Draft(
        tr("It does not stop"),
        tr("The customer at {place}: “Since the pressure was set higher, the pump runs and runs.”"
           " You shut the valve to the house.", place=neat.place),
        (
            (tr("Band before"), neat.band(*old)),
            (tr("Band now"), band),
            (tr("House valve"), tr("shut")),
            (tr("Gauge, pump running"), tr("{told}, steady", told=told)),
            (tr("Leak found"), tr("none")),
        ),
        tr("What do you do?"),
        asked,
        _reasoning(tr("Runs without end"), asked.options[asked.right].why),
        sums.cautions_at_tank(),
    )  # fmt: skip


def _for_endless_run(draws: Draws, told: str, old: str, is_above: bool) -> Pick:
    over = tr("The gauge is above cut-out and the pump still runs: nothing but the relief valve"
              " stands between pump and tank.")  # fmt: skip
    short = tr("The gauge stands at {told} and does not rise: the pump cannot reach cut-out.",
               told=told)  # fmt: skip
    air = no(tr("Add air to the tank."), Slip.TANK_BLAMED,
             tr("Air changes how much water goes in, not how far the pump can press."))  # fmt: skip
    larger = no(tr("Fit a larger tank."), Slip.TANK_BLAMED,
                tr("A tank does not stop a pump; the pressure does."))  # fmt: skip
    wrong: tuple[Option, ...]
    if is_above:
        right = yes(tr("Power off at once and locked out; then look at contacts, nipple and"
                       " relief valve."), over)  # fmt: skip
        wrong = (
            no(tr("Turn cut-out down while the pump runs."), Slip.UNSAFE, over),
            no(tr("Wait until it stops by itself, and read the gauge."), Slip.UNSAFE, over),
            air,
        )
    else:
        right = yes(tr("Set the switch back to {band}, or fit a pump that reaches the new cut-out.",
                       band=old), short)  # fmt: skip
        wrong = (
            no(tr("Turn cut-out up a little more."), Slip.SWITCH_BLAMED, short),
            air,
            larger,
            no(tr("Bridge the switch and use a timer."), Slip.UNSAFE,
               tr("Nothing would stop the pump when the pressure is too high.")),
        )  # fmt: skip
    return pick(draws, right, wrong)


SORTS: dict[str, Maker] = {
    "short_cycle": _short_cycle,
    "dry_moment": _dry_moment,
    "night_starts": _night_starts,
    "long_shower": _long_shower,
    "never_stops": _never_stops,
    "less_water": less_water,
    "sum": figure_of_complaint,
}
