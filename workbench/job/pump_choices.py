"""How the pump is known, which pipe carries the water, and which limit the motor has."""

from __future__ import annotations

from enum import Enum

from workbench.job.choices import Choice
from workbench.words import tr


class PumpEntry(Enum):
    """How the pump's flow at the tank is known."""

    CONSTANT = "constant"
    TWO_FLOWS = "two_flows"
    CURVE = "curve"
    BUCKET = "bucket"


class PipeMaterial(Enum):
    """What the pipe from pump to tank is made of; the values are keys of ``physics.pipe.PIPES``."""

    POLYETHYLENE = "polyethylene"
    PLASTIC_40 = "plastic_40"
    GALVANIZED = "galvanized"
    COPPER_L = "copper_l"


class PipeSize(Enum):
    """Nominal pipe size in inches, as the trade names it."""

    THREE_QUARTERS = "3/4"
    ONE = "1"
    ONE_QUARTER = "1-1/4"
    ONE_HALF = "1-1/2"
    TWO = "2"
    TWO_HALF = "2-1/2"
    THREE = "3"


class MotorLimit(Enum):
    """Which limit of starts and rests the motor is held to."""

    WELL_TANK_SMALL = "well_tank_to_three_quarter_hp"
    WELL_TANK_LARGE = "well_tank_above_three_quarter_hp"
    JOURNAL_SMALL = "journal_below_one_hp"
    JOURNAL_LARGE = "journal_above_five_hp"
    PUBLIC_SYSTEM = "public_system"
    HANDBOOK_CYCLE = "six_minute_cycle"
    NEMA_TWO_POLE = "nema_two_pole"
    NEMA_FOUR_POLE = "nema_four_pole"
    OWN = "own"


def pump_entries() -> dict[PumpEntry, Choice]:
    """The ways to enter the pump."""
    return {
        PumpEntry.CONSTANT: Choice(
            tr("one flow"), tr("The flow is taken as the same at every pressure of the band.")
        ),
        PumpEntry.TWO_FLOWS: Choice(
            tr("flow at cut-in and at cut-out"),
            tr(
                "Two flows measured at the tank. Between and beyond them pressure falls with the"
                " square of the flow, p = p0 − k·Q², the usual form of a pump's curve (EPANET 2"
                " Users Manual, US EPA, 2000, section 3.1)."
            ),
        ),
        PumpEntry.CURVE: Choice(
            tr("pump curve"),
            tr(
                "Points of the pump's curve, with the pumping water level and the pipe to the tank."
            ),
        ),
        PumpEntry.BUCKET: Choice(
            tr("timed refill"),
            tr(
                "What was drained from cut-out to cut-in, and the seconds to refill it with every"
                " tap closed: the mean flow over the band, taken as the same at every pressure."
            ),
        ),
    }


def pipe_materials() -> dict[PipeMaterial, Choice]:
    """The materials of pipe, with the roughness coefficient that each is given."""
    design = tr(
        "Design value of the training sheet “Determining total dynamic head” for well contractors."
        " New pipe is smoother: 140 to 150 for plastic, 120 for galvanized steel (EPANET 2 Users"
        " Manual, US EPA, 2000, table 3.2)."
    )
    return {
        PipeMaterial.POLYETHYLENE: Choice(tr("polyethylene, C 140"), design),
        PipeMaterial.PLASTIC_40: Choice(tr("plastic schedule 40, C 140"), design),
        PipeMaterial.GALVANIZED: Choice(tr("galvanized steel, C 100"), design),
        PipeMaterial.COPPER_L: Choice(tr("copper type L, C 130"), design),
    }


def pipe_sizes() -> dict[PipeSize, Choice]:
    """The nominal sizes; the real bore is looked up for the material."""
    return {size: Choice(f"{size.value} in", "") for size in PipeSize}


def motor_limits() -> dict[MotorLimit, Choice]:
    """The published limits of starts, each with what it was written for, and the motor's own."""
    return {
        MotorLimit.WELL_TANK_SMALL: Choice(
            tr("up to 3/4 hp: 15 an hour, 300 a day"),
            _well_tank("15", tr("up to 3/4 hp")),
        ),
        MotorLimit.WELL_TANK_LARGE: Choice(
            tr("above 3/4 hp: 7.5 an hour, 300 a day"),
            _well_tank("7.5", tr("above 3/4 hp")),
        ),
        MotorLimit.JOURNAL_SMALL: Choice(
            tr("below 1 hp: 300 a day"), _journal(300, tr("below 1 hp"))
        ),
        MotorLimit.JOURNAL_LARGE: Choice(
            tr("above 5 hp: 50 a day"), _journal(50, tr("above 5 hp"))
        ),
        MotorLimit.PUBLIC_SYSTEM: Choice(
            tr("public systems: 6 an hour"),
            tr(
                "Six cycles an hour, for public systems: Washington State Department of Health"
                " 331-123, 2009, chapter 11; Idaho Administrative Code 58.01.08.547."
            ),
        ),
        MotorLimit.HANDBOOK_CYCLE: Choice(
            tr("cycle of 6 min: 10 an hour"),
            tr(
                "A cycle of at least 6 min below 50 hp, written for wastewater pumps:"
                " MIL-HDBK-1005/9A, paragraph 2.5.3.6."
            ),
        ),
        MotorLimit.NEMA_TWO_POLE: Choice(
            tr("three-phase surface motor, 2 poles"), _nema(tr("two poles"))
        ),
        MotorLimit.NEMA_FOUR_POLE: Choice(
            tr("three-phase surface motor, 4 poles"), _nema(tr("four poles"))
        ),
        MotorLimit.OWN: Choice(
            tr("as on the motor's plate"),
            tr("Starts an hour, starts a day and shortest rest as the motor's maker states them."),
        ),
    }


def _well_tank(limit: str, size: str) -> str:
    return tr(
        "At most 300 starts in 24 h, and {limit} an hour for motors {size}: Water Systems Council,"
        " PST performance standard for pressurised tanks, 2000, introduction.",
        limit=limit,
        size=size,
    )


def _journal(limit: int, size: str) -> str:
    return tr(
        "At most {limit} starts in 24 h {size}, spread evenly: National Ground Water Association"
        " journal, “Tank selection by the numbers”. Between 1 and 5 hp the article gives no single"
        " figure.",
        limit=limit,
        size=size,
    )


def _nema(poles: str) -> str:
    return tr(
        "Starts an hour and shortest rest by motor power: NEMA MG 10-2001, table 2-3, {poles}. For"
        " three-phase surface motors of design A or B, not for submersible or single-phase motors:"
        " a guide only.",
        poles=poles,
    )
