"""The working behind the page "Precharge"."""

from __future__ import annotations

from dataclasses import replace

from workbench.physics.tank import drawdown_factor
from workbench.study.setting import pressures
from workbench.study.shift.view import AtCharge, Shift
from workbench.study.shift.words import gap_text, starts_text
from workbench.study.working import Step, air_step, factor_step, water_step
from workbench.units import DAILY, FLOW, VOLUME, Display
from workbench.words import tr


def shift_steps(shift: Shift, display: Display) -> tuple[Step, ...]:
    """How the drawdowns at today's and at the recommended precharge, starts and gap come about."""
    parts = [air_step(shift.setting, display)]
    if not shift.is_recommended:
        parts += drawdown_at(shift, shift.today, tr("yours"), display)
    parts += drawdown_at(shift, shift.recommended, tr("recommended"), display)
    parts += starts_steps(shift, display)
    parts += gap_steps(shift, display)
    return tuple(parts)


def drawdown_at(shift: Shift, at: AtCharge, name: str, display: Display) -> tuple[Step, ...]:
    """Factor and drawdown at one precharge; ``name`` says which."""
    setting = replace(shift.setting, precharge=at.precharge)
    factor = float(drawdown_factor(*pressures(setting), setting.exponent))
    return (
        factor_step(setting, factor, display, tr("Drawdown factor, {name}", name=name)),
        water_step(
            factor, shift.shell.volume, at.drawdown, display, tr("Drawdown, {name}", name=name)
        ),
    )


def starts_steps(shift: Shift, display: Display) -> tuple[Step, ...]:
    """Starts over a day at today's precharge, where the day's use is known."""
    at = shift.today
    if shift.daily is None or at.starts is None:
        return ()
    return (
        Step(
            tr("Starts a day, at most"),
            tr("N = use a day / Vd"),
            f"{display.text(shift.daily, DAILY)} / {display.text(at.drawdown, VOLUME, 2)}"
            f" = {starts_text(at.starts, display)}",
            tr("arithmetic; fewer where the pump feeds an open tap, see the page “Day”"),
        ),
    )


def gap_steps(shift: Shift, display: Display) -> tuple[Step, ...]:
    """The seconds in which the taps falter, at today's precharge."""
    gap = shift.today.gap
    if gap is None or shift.tap is None:
        return ()
    return (
        Step(
            tr("Taps falter in each cycle"),
            tr("t = C (Pp − Pin) / q + start + ∫ dS / (Q(S) − q)"),
            tr("at {draw}: {gap}", draw=display.text(shift.tap, FLOW),
               gap=gap_text(gap, display)),
            tr("mass balance of tank and pipes; no publication is known to us"),
        ),
    )  # fmt: skip
