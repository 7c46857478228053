"""The required drawdown by every run-time rule, and the precharge to set."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from workbench.job.choices import RunTimeRule
from workbench.physics.air import (
    AbsolutePressure,
    charge_reading,
    gauge_pressure,
)
from workbench.physics.cycle import run_time
from workbench.physics.forgiving import SAME
from workbench.physics.tank import drawdown_factor, volume_for_drawdown
from workbench.study.inputs import Duty, Reading
from workbench.study.setting import Setting, pressures
from workbench.units.kinds import FLOW, TIME

_GPM = FLOW.units["gpm"].factor
_MINUTE = TIME.units["min"].factor

STEPS: tuple[tuple[float, float], ...] = (
    (10 * _GPM, 1.0 * _MINUTE),
    (20 * _GPM, 1.5 * _MINUTE),
    (np.inf, 2.0 * _MINUTE),
)
"""(up to this pump flow [m³/s], this run [s]).

Steps by flow: common practice, no source. The minutes equal published worst-case limits through
run = 15 / starts per hour: 15 and 7.5 per hour (Water Systems Council, PST performance standard
for pressurised tanks, 2000, introduction) and a cycle of 6 min, 10 per hour (MIL-HDBK-1005/9A,
paragraph 2.5.3.6).
"""


@dataclass(frozen=True, slots=True)
class RuleResult:
    """What one rule asks for: drawdown [m³], run at no demand [s], worst starts [1/s]."""

    rule: RunTimeRule
    drawdown: float
    run_time: float
    starts: float


@dataclass(frozen=True, slots=True)
class Sizing:
    """The required drawdown by the chosen rule, and every rule beside it for comparison."""

    chosen: RuleResult
    rules: tuple[RuleResult, ...]
    factor: float
    total_volume: float

    @property
    def required(self) -> float:
        """Required drawdown [m³]."""
        return self.chosen.drawdown

    @property
    def spread(self) -> float:
        """The most that any rule asks for, divided by the least [-]."""
        asked = [rule.drawdown for rule in self.rules]
        return max(asked) / min(asked)


@dataclass(frozen=True, slots=True)
class PrechargeToSet:
    """Gauge readings [Pa]: at the tank in service, and where it is set (None: the same place)."""

    in_service: float
    where_set: float | None


def step_run_time(pump_flow: float) -> float:
    """Minimum run [s] by the steps of pump flow [m³/s]; each step holds up to its own limit.

    >>> round(step_run_time(10 * 6.30901964e-05))
    60
    """
    # A flow at its step's limit belongs to it, in whatever unit it was typed: 600 gph is 10 gpm.
    return next(run for limit, run in STEPS if pump_flow <= limit * (1.0 + SAME))


def size(rule: RunTimeRule, duty: Duty, setting: Setting) -> Sizing:
    """Required drawdown by the chosen rule with all others beside it, and the volume it implies.

    A rule whose own entry is missing is left out of the comparison (its finding says so).
    """
    asked: dict[RunTimeRule, float] = {}
    if duty.run_time is not None:
        asked[RunTimeRule.TYPED] = duty.pump_flow * duty.run_time
    asked[RunTimeRule.STEPS] = duty.pump_flow * step_run_time(duty.pump_flow)
    if duty.starts_limit is not None:
        asked[RunTimeRule.STARTS] = duty.supply.starts_factor / duty.starts_limit
    results = {
        name: RuleResult(
            name,
            water,
            float(run_time(water, duty.pump_flow)),
            duty.supply.starts_factor / water,
        )
        for name, water in asked.items()
    }
    chosen = results[rule]
    precharge, cut_in, cut_out = pressures(setting)
    return Sizing(
        chosen,
        tuple(results.values()),
        float(drawdown_factor(precharge, cut_in, cut_out, setting.exponent)),
        float(volume_for_drawdown(chosen.drawdown, precharge, cut_in, cut_out, setting.exponent)),
    )


def precharge_to_set(setting: Setting, reading: Reading | None) -> PrechargeToSet:
    """The gauge reading to set, corrected to the place and temperature where it is set."""
    if reading is None:
        return PrechargeToSet(setting.precharge, None)
    corrected = charge_reading(
        gauge_pressure(setting.precharge),
        (AbsolutePressure(np.asarray(setting.ambient)), reading.service_temperature),
        (AbsolutePressure(np.asarray(reading.ambient)), reading.temperature),
    )
    return PrechargeToSet(setting.precharge, float(corrected))
