"""Steps that the explanations of several pages share."""

from __future__ import annotations

from dataclasses import dataclass, replace

from workbench.study.setting import Setting
from workbench.study.working import ABSOLUTE_PLACES, Step
from workbench.units import PRESSURE, VOLUME, Display, Kind
from workbench.words import tr


def ending(step: Step, value: float, kind: Kind, display: Display) -> Step:
    """The step, ending with the SI ``value`` as it is shown; unchanged where it does so already.

    A working carries more decimals than a page, so "9.97 gal" is told to be shown as "10.0 gal".
    """
    return ending_as(step, display.text(value, kind))


def ending_as(step: Step, shown: str) -> Step:
    """The step, ending with a figure as it is ``shown``; unchanged where it does so already."""
    if step.numbers.endswith(shown):
        return step
    told = tr("{numbers}, shown as {shown}", numbers=step.numbers, shown=shown)
    return replace(step, numbers=told)


def entered(title: str, shown: str, formula: str = "") -> Step:
    """A figure that was typed."""
    return Step(title, formula or tr("as entered"), shown, tr("as entered"))


@dataclass(frozen=True, slots=True)
class Air:
    """The air of a tank: precharge [gauge Pa], air pressure around it [Pa], exponent [-]."""

    precharge: float
    ambient: float
    exponent: float

    @classmethod
    def of(cls, setting: Setting, precharge: float | None = None) -> Air:
        """As a setting has it, or with another precharge [gauge Pa]."""
        charge = setting.precharge if precharge is None else precharge
        return cls(charge, setting.ambient, setting.exponent)


def held_step(
    title: str, air: Air, volume: float, pressure: float, water: float, display: Display
) -> Step:
    """The water [m³] in a tank [m³] at a gauge pressure [Pa]; none below its precharge."""

    def absolute(gauge: float) -> str:
        return display.number(gauge + air.ambient, PRESSURE, ABSOLUTE_PLACES)

    unit, size = display.symbol(PRESSURE), display.text(volume, VOLUME)
    held = display.text(water, VOLUME, 2)
    charge, at = absolute(air.precharge), absolute(pressure)
    if pressure <= air.precharge:
        formula = tr(
            "at or below its precharge a tank is empty, absolute pressures in {unit}", unit=unit
        )
        return Step(title, formula, f"{at} ≤ {charge} → {held}", boyle())
    is_boyle = air.exponent == 1.0
    formula = (
        tr("w = V × (1 − Pp/P), absolute pressures in {unit}", unit=unit)
        if is_boyle
        else tr("w = V × (1 − (Pp/P)^(1/n)), absolute pressures in {unit}", unit=unit)
    )
    power = "" if is_boyle else f"^(1/{air.exponent:g})".replace(".", display.mark)
    return Step(title, formula, f"{size} × (1 − ({charge}/{at}){power}) = {held}", boyle())


def boyle() -> str:
    """The source of what air does in a tank."""
    return tr("Boyle's law; trade magazine column for well drillers, February 2006")
