"""The choices of the teaching pages."""

from __future__ import annotations

from enum import Enum

from workbench.job.choices import Choice
from workbench.words import tr


class Fault(Enum):
    """What is wrong with the system that is shown."""

    NONE = "none"
    LOST_CHARGE = "lost_charge"
    AIR_LEAK = "slow_leak_of_air"
    PINHOLE = "pinhole_in_membrane"
    SWITCH_DRIFT = "drifted_switch"
    PLUGGED_NIPPLE = "plugged_nipple"
    CHECK_VALVE = "leaking_check_valve"
    WORN_PUMP = "worn_pump"
    OLD_PRECHARGE = "old_precharge_on_new_band"


class Degree(Enum):
    """How far a fault has gone."""

    SLIGHT = "slight"
    CLEAR = "clear"
    SEVERE = "severe"


class SheetFor(Enum):
    """Who gets a sheet of exercises."""

    CLASS = "class"
    TRAINER = "trainer"


def faults() -> dict[Fault, Choice]:
    """What can be set loose."""
    return {
        Fault.NONE: Choice(tr("none, all is well"), ""),
        Fault.LOST_CHARGE: Choice(tr("lost charge"), tr(
            "Part of the air is gone; the membrane is whole and what is left stays.")),
        Fault.AIR_LEAK: Choice(tr("slow leak of air"), tr(
            "The air valve lets a little air out, every day a little more.")),
        Fault.PINHOLE: Choice(tr("pinhole in the membrane"), tr(
            "Water passes the membrane and lies above it; the air dissolves in it.")),
        Fault.SWITCH_DRIFT: Choice(tr("drifted switch"), tr(
            "The springs have changed: contacts close and open elsewhere than they were set.")),
        Fault.PLUGGED_NIPPLE: Choice(tr("plugged nipple"), tr(
            "The switch feels the pressure late through a nipple full of rust or sand.")),
        Fault.CHECK_VALVE: Choice(tr("leaking check valve"), tr(
            "Water runs back into the well while the pump rests.")),
        Fault.WORN_PUMP: Choice(tr("worn pump"), tr(
            "It gives less at every pressure, and may no longer reach cut-out.")),
        Fault.OLD_PRECHARGE: Choice(tr("old precharge on a new band"), tr(
            "The switch was set to another band and the air in the tank was not.")),
    }  # fmt: skip


def degrees() -> dict[Degree, Choice]:
    """How far."""
    return {
        Degree.SLIGHT: Choice(tr("slight"), ""),
        Degree.CLEAR: Choice(tr("clear"), ""),
        Degree.SEVERE: Choice(tr("severe"), ""),
    }


def sheets_for() -> dict[SheetFor, Choice]:
    """For whom."""
    return {
        SheetFor.CLASS: Choice(tr("the class: questions"), ""),
        SheetFor.TRAINER: Choice(tr("the trainer: key with the working"), ""),
    }
