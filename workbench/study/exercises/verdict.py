"""Exercises: a sheet of readings, and the one cause that explains them all.

The readings come from the system as it is with its fault in it, by the same physics as the rest;
how far the faults have gone is invented.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum, auto

from workbench.study.exercises import sums
from workbench.study.exercises.draft import Draft, no, pick, yes
from workbench.study.exercises.draws import Draws
from workbench.study.exercises.exercise import Option
from workbench.study.exercises.neat import Neat
from workbench.study.exercises.slip import Slip
from workbench.study.working import Step, water_step
from workbench.units import FLOW, PRESSURE, SHORT_TIME, VOLUME
from workbench.words import tr


class Cause(Enum):
    """What a sheet of readings can tell."""

    WELL = auto()
    LOST_AIR = auto()
    TOO_MUCH_AIR = auto()
    MEMBRANE = auto()
    SWITCH = auto()
    PUMP = auto()


_WELL, _LOST, _OVER = Cause.WELL, Cause.LOST_AIR, Cause.TOO_MUCH_AIR
_MEMBRANE, _SWITCH, _PUMP = Cause.MEMBRANE, Cause.SWITCH, Cause.PUMP

_TAKEN_FOR: dict[Cause, dict[Cause, Slip]] = {
    _WELL: {
        _LOST: Slip.WITHIN_TOLERANCE,
        _SWITCH: Slip.WITHIN_TOLERANCE,
        _PUMP: Slip.PUMP_BLAMED,
        _MEMBRANE: Slip.TANK_REPLACED,
    },
    _LOST: {
        _MEMBRANE: Slip.TANK_REPLACED,
        _SWITCH: Slip.SWITCH_FOR_CHARGE,
        _PUMP: Slip.PUMP_BLAMED,
        _OVER: Slip.OTHER_ROOT,
        _WELL: Slip.BEYOND_TOLERANCE,
    },
    _OVER: {
        _LOST: Slip.OTHER_ROOT,
        _SWITCH: Slip.SWITCH_FOR_CHARGE,
        _MEMBRANE: Slip.TANK_REPLACED,
        _PUMP: Slip.PUMP_BLAMED,
        _WELL: Slip.BEYOND_TOLERANCE,
    },
    _MEMBRANE: {
        _LOST: Slip.MEMBRANE_MISSED,
        _SWITCH: Slip.SWITCH_FOR_CHARGE,
        _PUMP: Slip.PUMP_BLAMED,
    },
    _SWITCH: {
        _LOST: Slip.CHARGE_FOR_SWITCH,
        _OVER: Slip.CHARGE_FOR_SWITCH,
        _PUMP: Slip.PUMP_BLAMED,
        _MEMBRANE: Slip.TANK_BLAMED,
        _WELL: Slip.LABEL_BAND,
    },
    _PUMP: {
        _LOST: Slip.TANK_BLAMED,
        _MEMBRANE: Slip.TANK_BLAMED,
        _SWITCH: Slip.SWITCH_BLAMED,
        _WELL: Slip.LABEL_FLOW,
    },
}
"""The error of naming one cause (inner) where another (outer) is at work."""


@dataclass(frozen=True)
class _Sheet:
    """What should be, and what was read [SI]."""

    band: tuple[float, float]
    volume: float
    charge: float
    flow: float
    should_give: float
    read_band: tuple[float, float]
    read_charge: float
    read_water: float
    read_seconds: float
    is_wet: bool

    @property
    def read_flow(self) -> float:
        """What drained water and seconds come to [m³/s]."""
        return self.read_water / self.read_seconds


def verdict(draws: Draws, neat: Neat) -> Draft | None:
    """One sheet of readings, one cause."""
    cause = draws.one_of(tuple(Cause))
    sheet = _sheet(cause, draws, neat)
    if sheet is None:
        return None
    show, wet = neat.display, tr("water came out") if sheet.is_wet else tr("dry")
    tell = neat.say
    right = _option(cause, cause, sheet, neat)
    wrong = [_option(other, cause, sheet, neat) for other in _TAKEN_FOR[cause]]
    return Draft(
        tr("One cause for all readings"),
        tr(
            "At {place} a technician wrote this sheet. Gauges are good to {pressure}, the bucket"
            " to a twentieth. The customer says nothing but that something is not as it was.",
            place=neat.place,
            pressure=neat.say_step(neat.step(2, 14, PRESSURE), PRESSURE),
        ),
        (
            (tr("Total volume"), tell(sheet.volume, VOLUME)),
            (tr("Band and charge as set"), tr("{band}, {charge}", band=neat.band(*sheet.band),
                                              charge=tell(sheet.charge, PRESSURE))),
            (tr("So it should give"), show.text(sheet.should_give, VOLUME)),
            (tr("Pump should give"), tell(sheet.flow, FLOW)),
            (tr("Cut-in and cut-out read"), neat.band(*sheet.read_band)),
            (tr("Drained between them"), show.text(sheet.read_water, VOLUME)),
            (tr("Then ran, tap shut"), show.text(sheet.read_seconds, SHORT_TIME)),
            (tr("Charge read, drained"), tell(sheet.read_charge, PRESSURE)),
            (tr("Air valve"), wet),
        ),
        tr("What explains all of it?"),
        pick(draws, right, wrong),
        _working(sheet, neat),
        sums.cautions_at_tank(),
    )  # fmt: skip


def _sheet(cause: Cause, draws: Draws, neat: Neat) -> _Sheet | None:
    """Readings of a system in which this cause is at work, rounded as one reads them."""
    band, volume, flow = neat.a_band(draws), neat.a_tank(draws), neat.a_flow(draws)
    one = sums.setting(neat, band)
    should = sums.water(one, volume)
    slight = neat.of(draws, (-1, -0.5, 0, 0.5, 1), (-6, -3, 0, 3, 6), PRESSURE)
    drift = neat.of(draws, (-8, -6, 6, 8, 10), (-55, -40, 40, 55, 70), PRESSURE)
    over = neat.of(draws, (6, 8, 10), (40, 55, 70), PRESSURE)
    keeps = draws.one_of((0.35, 0.45, 0.55, 0.65))
    charge = {
        Cause.LOST_AIR: neat.round(one.precharge * keeps, 0.5, 5, PRESSURE),
        Cause.MEMBRANE: neat.round(one.precharge * keeps, 0.5, 5, PRESSURE),
        Cause.TOO_MUCH_AIR: one.precharge + over,
    }.get(cause, one.precharge)
    moved = drift if cause is Cause.SWITCH else 0.0
    read_band = (band[0] + moved, band[1] + moved)
    if not 0.0 < charge < read_band[0] + neat.step(9, 60, PRESSURE) or charge >= read_band[1]:
        return None
    room = volume * (0.6 if cause is Cause.MEMBRANE else 1.0)  # water lies above the membrane
    drawn = sums.water(sums.setting(neat, read_band, charge), room)
    gives = flow * (0.6 if cause is Cause.PUMP else 1.0)
    seconds = drawn / gives
    if not 20.0 <= seconds <= 400.0:
        return None
    return _Sheet(
        band,
        volume,
        one.precharge,
        flow,
        should,
        read_band,
        charge + (slight if charge == one.precharge else 0.0),
        neat.round(drawn, 0.1, 0.5, VOLUME),
        round(seconds),
        cause is Cause.MEMBRANE,
    )


def _option(named: Cause, cause: Cause, sheet: _Sheet, neat: Neat) -> Option:
    """Naming one cause where another is at work, with what the sheet says about it."""
    text, why = _claims(sheet, neat)[named]
    if named is cause:
        return yes(text, why())
    return no(text, _TAKEN_FOR[cause][named], why())


def _claims(sheet: _Sheet, neat: Neat) -> dict[Cause, tuple[str, Callable[[], str]]]:
    """How each cause is named, and what the sheet says for or against it."""
    show = neat.display

    def of_charge() -> str:
        if sheet.is_wet:
            return tr("Water at the air valve has passed the membrane: air would not stay.")
        return tr(
            "Charge read {read}, set to {should}.",
            read=neat.say(sheet.read_charge, PRESSURE),
            should=neat.say(sheet.charge, PRESSURE),
        )

    def of_valve() -> str:
        if sheet.is_wet:
            return tr("Water at the air valve has passed the membrane.")
        return tr("A dry air valve speaks for a sound membrane.")

    def of_switch() -> str:
        return tr(
            "Band read {read}, set to {should}.",
            read=neat.band(*sheet.read_band),
            should=neat.band(*sheet.band),
        )

    def of_pump() -> str:
        return tr(
            "Drained water over seconds comes to {read}; it should give {should}.",
            read=show.text(sheet.read_flow, FLOW),
            should=neat.say(sheet.flow, FLOW),
        )

    def of_all() -> str:
        return " ".join((of_switch(), of_charge(), of_pump()))

    return {
        Cause.WELL: (tr("All is as it was set; nothing to mend in what was read."), of_all),
        Cause.LOST_AIR: (tr("The tank has lost air and needs its charge again."), of_charge),
        Cause.TOO_MUCH_AIR: (tr("There is too much air in the tank; let some out."), of_charge),
        Cause.MEMBRANE: (tr("The membrane has failed; replace the tank or membrane."), of_valve),
        Cause.SWITCH: (tr("The switch has drifted; set it back to its band."), of_switch),
        Cause.PUMP: (tr("The pump gives less than it should; look at pump and well."), of_pump),
    }


def _working(sheet: _Sheet, neat: Neat) -> tuple[Step, ...]:
    show = neat.display
    one = sums.setting(neat, sheet.band)
    return (
        water_step(sums.factor(one), sheet.volume, sheet.should_give, show, tr("It should give")),
        sums.times_step(
            tr("The pump gave"),
            tr("Q = Vd / t"),
            f"{show.text(sheet.read_water, VOLUME)} / {show.text(sheet.read_seconds, SHORT_TIME)}"
            f" = {show.text(sheet.read_flow, FLOW)}",
        ),
    )
