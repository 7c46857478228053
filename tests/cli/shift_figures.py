"""The figures of the page "Precharge" in the units of the record's keys, as in ``figures``."""

from __future__ import annotations

import math
from typing import Any

from tests.cli.band_figures import per
from tests.cli.figures import GAL, GPD, GPM, PSI
from workbench.study.shift.view import AtCharge, Cost, Shift, ShiftView
from workbench.study.shift.words import rows
from workbench.units import Display


def shift(view: ShiftView) -> dict[str, Any] | None:
    found = view.shift
    return None if found is None else _shift(found)


def _shift(found: Shift) -> dict[str, Any]:
    return {
        "total_volume_gal": found.shell.volume / GAL,
        "acceptance_gal": found.shell.acceptance / GAL,
        "cut_in_psi": found.setting.cut_in / PSI,
        "cut_out_psi": found.setting.cut_out / PSI,
        "steady_draw_gpm": per(found.tap, GPM),
        "use_gal_per_day": per(found.daily, GPD),
        "today": _at(found.today),
        "recommended": _at(found.recommended),
        "greatest": _at(found.greatest),
        "each_psi_below_recommended": _cost(found.below),
        "each_psi_above_cut_in": _cost(found.above),
        "membrane_limits_below_psi": per(found.limited_below, PSI),
        "table": [_at(one) for _name, one, _own in rows(found, Display())],
    }


def _at(one: AtCharge) -> dict[str, Any]:
    gap = one.gap
    return {
        "precharge_psi": one.precharge / PSI,
        "drawdown_gal": one.drawdown / GAL,
        "change_percent": per(one.change, 0.01),
        "water_left_at_cut_in_gal": one.left / GAL,
        "water_at_cut_out_gal": one.held / GAL,
        "membrane_travels_percent_of_tank": one.reach * 100,
        "percent_of_acceptance": per(one.of_acceptance, 0.01),
        "starts_per_day": per(one.starts, 1 / 86_400),
        "no_water": gap and {
            "falter_s": gap.falter if math.isfinite(gap.falter) else None,
            "dry_s": gap.dry if math.isfinite(gap.dry) else None,
        },
    }  # fmt: skip


def _cost(one: Cost | None) -> dict[str, Any] | None:
    if one is None:
        return None
    return {
        "drawdown_lost_gal": one.water / GAL,
        "more_starts_per_day": per(one.starts, 1 / 86_400),
    }
