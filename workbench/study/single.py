"""One tank at one setting: its drawdown with the working. Used where no catalogue is."""

from __future__ import annotations

import math
from typing import Any

from workbench.job.job import Job
from workbench.physics.tank import (
    drawdown,
    drawdown_factor,
    no_water_gap,
    water_in_tank,
    water_left_at_cut_in,
)
from workbench.study.cautions import cautions
from workbench.study.findings import Finding
from workbench.study.inputs import read_inputs
from workbench.study.record import finding_record, us
from workbench.study.setting import pressures
from workbench.study.working import drawdown_steps
from workbench.units import PRESSURE, VOLUME, Display


def drawdown_record(
    job: Job, volume: float, acceptance: float | None = None
) -> tuple[dict[str, Any], tuple[Finding, ...]]:
    """Drawdown of a tank of total volume [m³] at the job's setting, as plain data with findings.

    The record is empty when an entry could not be used; a stop in the findings forbids to show it.
    """
    inputs = read_inputs(job)
    findings = (*inputs.findings, *cautions(inputs, None))
    setting = inputs.setting
    if setting is None:
        return {}, findings
    precharge, cut_in, cut_out = pressures(setting)
    limit = math.inf if acceptance is None else acceptance
    water = float(drawdown(precharge, cut_in, cut_out, volume, limit, setting.exponent))
    factor = float(drawdown_factor(precharge, cut_in, cut_out, setting.exponent))
    held = float(water_in_tank(cut_out, precharge, volume, limit, setting.exponent))
    left = float(water_left_at_cut_in(precharge, cut_in, volume, limit, setting.exponent))
    record = {
        "drawdown_gal": us(water, VOLUME),
        "drawdown_factor": factor,
        "total_volume_gal": us(volume, VOLUME),
        "acceptance_gal": us(acceptance, VOLUME),
        "water_at_cut_out_gal": us(held, VOLUME),
        "water_left_at_cut_in_gal": us(left, VOLUME),
        "precharge_psi": us(setting.precharge, PRESSURE),
        "cut_in_psi": us(setting.cut_in, PRESSURE),
        "cut_out_psi": us(setting.cut_out, PRESSURE),
        "ambient_psia": us(setting.ambient, PRESSURE),
        "exponent": setting.exponent,
        "no_water_gap_psi": us(float(no_water_gap(precharge, cut_in)), PRESSURE),
        "working": [
            str(step) for step in drawdown_steps(setting, volume, water, factor, Display())
        ],
        "findings": [finding_record(finding) for finding in findings],
    }
    return record, findings
