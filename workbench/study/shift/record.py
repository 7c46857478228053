"""The page "Precharge" as plain data: US customary numbers, with the unit in each key."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from workbench.physics.gap import NoWater
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.study.record import finding_record, us
from workbench.study.shift.view import AtCharge, Cost
from workbench.study.shift.words import rows
from workbench.study.shift.working import shift_steps
from workbench.units import (
    DAILY,
    FLOW,
    PERCENT,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    VOLUME,
    Display,
)


def shift_record(results: Results, findings: Sequence[Finding] = ()) -> dict[str, Any]:
    """All that the page shows; what is not known is None, seconds without end are so too.

    Args:
        results: of a job.
        findings: those of the results, told before the view's own.

    Raises:
        ValueError: there is no tank, or a stop stands against the setting.
    """
    view = results.shift
    shift = view.shift
    if shift is None:
        raise ValueError("there is no tank at a setting")
    limit = None if math.isinf(shift.shell.acceptance) else shift.shell.acceptance
    return {
        "tank": shift.shell.name,
        "total_volume_gal": us(shift.shell.volume, VOLUME),
        "acceptance_gal": us(limit, VOLUME),
        "cut_in_psi": us(shift.setting.cut_in, PRESSURE),
        "cut_out_psi": us(shift.setting.cut_out, PRESSURE),
        "steady_draw_gpm": us(shift.tap, FLOW),
        "use_gal_per_day": us(shift.daily, DAILY),
        "today": _at_record(shift.today),
        "recommended": _at_record(shift.recommended),
        "greatest": _at_record(shift.greatest),
        "each_psi_below_recommended": _cost_record(shift.below),
        "each_psi_above_cut_in": _cost_record(shift.above),
        "membrane_limits_below_psi": us(shift.limited_below, PRESSURE),
        "seconds_not_known_because": shift.no_gap or None,
        "table": [
            {"row": name} | _at_record(at) for name, at, _own in rows(shift, Display())
        ],
        "findings": [finding_record(one) for one in (*findings, *view.findings)],
        "working": [str(step) for step in shift_steps(shift, Display())],
    }  # fmt: skip


def _at_record(at: AtCharge) -> dict[str, Any]:
    return {
        "precharge_psi": us(at.precharge, PRESSURE),
        "region": at.region.name.lower(),
        "drawdown_gal": us(at.drawdown, VOLUME),
        "change_percent": us(at.change, PERCENT),
        "water_left_at_cut_in_gal": us(at.left, VOLUME),
        "water_at_cut_out_gal": us(at.held, VOLUME),
        "membrane_travels_percent_of_tank": us(at.reach, PERCENT),
        "percent_of_acceptance": us(at.of_acceptance, PERCENT),
        "starts_per_day": us(at.starts, STARTS_PER_DAY),
        "no_water": _gap_record(at.gap),
    }


def _gap_record(gap: NoWater | None) -> dict[str, Any] | None:
    if gap is None:
        return None
    return {
        "falter_s": us(gap.falter, SHORT_TIME),
        "dry_s": us(gap.dry, SHORT_TIME),
        "without_end": math.isinf(gap.falter),
    }


def _cost_record(cost: Cost | None) -> dict[str, Any] | None:
    if cost is None:
        return None
    return {
        "drawdown_lost_gal": us(cost.water, VOLUME),
        "more_starts_per_day": us(cost.starts, STARTS_PER_DAY),
    }
