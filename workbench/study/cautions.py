"""What is possible but unwise, or worth knowing: findings about entries that could all be read."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.job.choices import RunTimeRule
from workbench.physics.tank import no_water_gap
from workbench.study.findings import Finding, Level
from workbench.study.inputs import Duty, Inputs
from workbench.study.setting import Setting, pressures
from workbench.study.sizing import Sizing, step_run_time
from workbench.units.kinds import FLOW, PRESSURE, TIME
from workbench.words import tr

_PSI = PRESSURE.units["psi"].factor
_GPM = FLOW.units["gpm"].factor
_MINUTE = TIME.units["min"].factor


def cautions(inputs: Inputs, sizing: Sizing | None) -> tuple[Finding, ...]:
    """Notes and cautions about setting and duty; a precharge that keeps water out is a stop."""
    found: list[Finding] = []
    if inputs.setting is not None:
        found += _about_precharge(inputs.setting)
        found += _about_band(inputs.setting)
    if inputs.duty is not None:
        found += _about_duty(inputs.duty, sizing)
    return tuple(found)


def _about_precharge(setting: Setting) -> Iterator[Finding]:
    precharge, cut_in, _ = pressures(setting)
    if setting.precharge >= setting.cut_out:
        yield Finding(
            Level.STOP,
            "precharge_above_cut_out",
            "precharge",
            tr("The precharge is at or above cut-out: no water enters the tank."),
            tr("Let air out, tank drained, to 2 psi below cut-in."),
        )
    elif setting.precharge > setting.cut_in:
        gap = float(no_water_gap(precharge, cut_in))
        yield Finding(
            Level.CAUTION,
            "precharge_above_cut_in",
            "precharge",
            tr("The tank is empty {gap} before the pump starts: a moment of no water."),
            tr("Let air out, tank drained, to 2 psi below cut-in."),
            (("gap", gap, PRESSURE),),
        )
    elif setting.below_cut_in > 5.05 * _PSI:  # the rule "less 5" is not low
        yield Finding(
            Level.NOTE,
            "precharge_low",
            "precharge",
            tr("Water stays in the tank at cut-in, so it gives less than it could."),
            tr("Usual: 2 psi below cut-in."),
        )


def _about_band(setting: Setting) -> Iterator[Finding]:
    if setting.cut_out > 80 * _PSI:
        yield Finding(
            Level.CAUTION,
            "static_above_80",
            "cut_out",
            tr("Above the 80 psi allowed at fixtures (International Residential Code P2903.3.1)."),
            tr("Lower the band, or fit a pressure-reducing valve after the tank."),
        )
    if setting.cut_out - setting.cut_in < 9.999 * _PSI:  # 40/50 typed is no narrow band
        yield Finding(
            Level.CAUTION,
            "band_narrow",
            "cut_out",
            tr("A band under 10 psi makes the pump start often (common practice)."),
            tr("Usual: 20 psi between cut-in and cut-out."),
        )


def _about_duty(duty: Duty, sizing: Sizing | None) -> Iterator[Finding]:
    if duty.pump_flow > 60 * _GPM:
        yield Finding(
            Level.CAUTION,
            "flow_unusual",
            "pump_flow",
            tr("Unusual for a private well."),
            tr("Check the unit: gallons per minute or per hour?"),
        )
    if sizing is not None and sizing.chosen.run_time < step_run_time(duty.pump_flow) - 1e-6:
        minutes = step_run_time(duty.pump_flow) / _MINUTE
        yield Finding(
            Level.CAUTION,
            "run_short",
            "starts_limit" if sizing.chosen.rule is RunTimeRule.STARTS else "run_time",
            tr("Shorter than the usual {minutes} min for this flow.", minutes=f"{minutes:g}"),
            tr("Short runs wear the motor; ask its instructions."),
        )
