"""The working behind a result: formula, the numbers put in, and the source, ready to read aloud."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.physics.air import SEA_LEVEL_PRESSURE
from workbench.study.inputs import Duty
from workbench.study.setting import Setting
from workbench.study.sizing import Sizing
from workbench.units import FLOW, HEAD, NUMBER, PRESSURE, STARTS_PER_HOUR, TIME, VOLUME, Display
from workbench.words import tr

FACTOR_PLACES = 4
"""Decimals of a drawdown factor, and below those of absolute pressures."""
ABSOLUTE_PLACES = 3


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a calculation: ``formula`` in trade symbols, ``numbers`` the same with values."""

    title: str
    formula: str
    numbers: str
    source: str

    def __str__(self) -> str:
        return f"{self.title}: {self.formula} → {self.numbers} [{self.source}]"


def drawdown_steps(
    setting: Setting, volume: float, water: float, factor: float, display: Display
) -> tuple[Step, ...]:
    """How a total volume [m³] comes to its drawdown ``water`` [m³] at a setting."""
    return (
        air_step(setting, display),
        factor_step(setting, factor, display),
        water_step(factor, volume, water, display),
    )


def water_step(
    factor: float, volume: float, water: float, display: Display, title: str = ""
) -> Step:
    """How the factor gives the drawdown ``water`` [m³] of a total volume [m³]."""
    share, whole = display.number(factor, NUMBER, FACTOR_PLACES), display.text(volume, VOLUME)
    return Step(
        title or tr("Drawdown"),
        tr("Vd = f × V, at most the membrane's acceptance"),
        f"{share} × {whole} → {display.text(water, VOLUME, 2)}",
        tr("definition of the factor"),
    )


def factor_step(setting: Setting, factor: float, display: Display, title: str = "") -> Step:
    """How the drawdown of each volume of tank [-] comes from the setting.

    The pressures' unit is told in the title, or with a ``title`` of one's own in the formula.
    """

    def absolute(gauge: float) -> str:
        return display.number(gauge + setting.ambient, PRESSURE, ABSOLUTE_PLACES)

    pp, pin, pout = map(absolute, (setting.precharge, setting.cut_in, setting.cut_out))
    power = "" if setting.exponent == 1.0 else "^(1/n)"
    exponent = f"{setting.exponent:g}".replace(".", display.mark)
    shown = "" if setting.exponent == 1.0 else f"^(1/{exponent})"
    if setting.precharge > setting.cut_in:
        formula = tr("f = 1 − (Pp/Pout){power}", power=power)
        numbers = f"1 − ({pp}/{pout}){shown}"
    else:
        formula = tr("f = (Pp/Pin){power} − (Pp/Pout){power}", power=power)
        numbers = f"({pp}/{pin}){shown} − ({pp}/{pout}){shown}"
    unit = display.symbol(PRESSURE)
    if title:
        formula = tr("{formula}, absolute pressures in {unit}", formula=formula, unit=unit)
    return Step(
        title or tr("Drawdown factor, absolute pressures in {unit}", unit=unit),
        formula,
        f"{numbers} = {display.number(factor, NUMBER, FACTOR_PLACES)}",
        tr("Boyle's law; trade magazine column for well drillers, February 2006"),
    )


def air_step(setting: Setting, display: Display) -> Step:
    """The air pressure at the site, which is added to every gauge reading."""
    where = (
        tr("sea level")
        if abs(setting.ambient - SEA_LEVEL_PRESSURE) < 1
        else tr("the site's altitude")
    )
    return Step(
        tr("Air pressure at {where}", where=where),
        tr("absolute = gauge + air pressure"),
        display.text(setting.ambient, PRESSURE, ABSOLUTE_PLACES),
        tr("US Standard Atmosphere 1976"),
    )


def head_step(title: str, pressure: float, head: float, display: Display) -> Step:
    """A gauge pressure [Pa] as a head of water [m]."""
    return Step(
        title,
        tr("h = p / (ρ g), water at 10 °C"),
        f"{display.text(pressure, PRESSURE)} → {display.text(head, HEAD)}",
        tr("IAPWS-95; the trade's 2.31 ft for 1 psi is 0.1 % more"),
    )


def required_steps(duty: Duty, sizing: Sizing, source: str, display: Display) -> tuple[Step, ...]:
    """How the required drawdown comes from pump flow and the chosen rule (with its source)."""
    flow = display.text(duty.pump_flow, FLOW, 2)
    run = display.text(sizing.chosen.run_time, TIME)
    factor = display.number(sizing.factor, NUMBER, FACTOR_PLACES)
    return (
        Step(
            tr("Required drawdown"),
            tr("Vd = Q × t"),
            f"{flow} × {run} = {display.text(sizing.required, VOLUME, 2)}",
            source,
        ),
        _worst_step(duty, sizing, run, display),
        Step(
            tr("Total volume that gives it at this band"),
            tr("V = Vd / f"),
            f"{display.text(sizing.required, VOLUME, 2)} / {factor}"
            f" = {display.text(sizing.total_volume, VOLUME)}",
            tr("non-profit well council information sheet “Pressure Tanks”, January 2007, p. 2"),
        ),
    )


def _worst_step(duty: Duty, sizing: Sizing, run: str, display: Display) -> Step:
    starts = display.number(sizing.chosen.starts, STARTS_PER_HOUR)
    source = tr("MIL-HDBK-1005/9A, paragraph 2.5.3.6")
    if duty.supply.unit is None:
        return Step(
            tr("Worst case, half the pump's flow drawn"),
            tr("N = 15 / t, t in minutes"),
            tr("15 / {run} = {starts} starts an hour", run=run, starts=starts),
            source,
        )
    draw = duty.supply.worst_draw
    rest = sizing.required / draw
    running = 1.0 / sizing.chosen.starts - rest
    return Step(
        tr("Worst case, {draw} drawn", draw=display.text(draw, FLOW, 2)),
        tr("N = 60 / (rest + run), in minutes"),
        tr(
            "60 / ({rest} + {run}) = {starts} starts an hour",
            rest=display.text(rest, TIME),
            run=display.text(running, TIME),
            starts=starts,
        ),
        source,
    )
