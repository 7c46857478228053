"""The figures of the page "Compare bands" in the units of the record's keys, as in ``figures``."""

from __future__ import annotations

from typing import Any

from tests.cli.figures import FOOT, GAL, GPM, PSI
from workbench.study.bands.view import BandColumn, BandsView


def per(value: float | None, unit: float) -> float | None:
    return None if value is None else value / unit


def bands(view: BandsView) -> dict[str, Any]:
    tank = view.tank
    return {
        "tank": tank and {
            "total_volume_gal": sum(tank.volume) / GAL,
            "acceptance_gal": sum(tank.acceptance) / GAL,
            "marked_psi": per(tank.rating, PSI),
            "highest_precharge_psi": per(tank.highest_precharge, PSI),
        },
        "relief_valve_psi": per(view.site.relief, PSI),
        "pump_shut_off_psi": per(view.shut_off, PSI),
        "steady_draw_gpm": per(view.draw, GPM),
        "bands": [_band(column) for column in view.columns],
    }  # fmt: skip


def _band(one: BandColumn) -> dict[str, Any]:
    gives, charge, pump, left, larger = (
        one.gives, one.precharge, one.pump, one.left, one.replacement
    )  # fmt: skip
    water = 999.7 * 9.80665 * FOOT  # Pa for a foot
    return {
        "cut_in_psi": one.band.cut_in / PSI,
        "cut_out_psi": one.band.cut_out / PSI,
        "drawdown_gal": gives and gives.drawdown / GAL,
        "drawdown_change_gal": per(one.change, GAL),
        "drawdown_change_percent": per(one.share, 0.01),
        "run_time_min": gives and per(gives.run, 60),
        "worst_starts_per_hour": gives and per(gives.starts, 1 / 3600),
        "precharge_psi": charge and charge.in_service / PSI,
        "precharge_where_set_psi": charge and per(charge.where_set, PSI),
        "precharge_moves_psi": per(one.moves, PSI),
        "head_at_cut_out_ft": one.band.cut_out / water,
        "head_change_ft": one.head_more / FOOT,
        "flow_at_cut_in_gpm": pump and pump.at_cut_in and pump.at_cut_in.flow / GPM,
        "flow_at_cut_out_gpm": pump and pump.at_cut_out and pump.at_cut_out.flow / GPM,
        "reach_margin_psi": pump and per(pump.margin, PSI),
        "lowest_fixture_psi": one.lowest / PSI,
        "highest_fixture_psi": one.highest / PSI,
        "cut_out_and_margin_psi": per(one.needs, PSI),
        "relief_above_cut_out_psi": per(one.relief_above, PSI),
        "precharge_left_as_it_is": left and {
            "precharge_psi": left.precharge / PSI,
            "drawdown_gal": left.drawdown / GAL,
            "loss_gal": left.loss / GAL,
            "loss_percent": left.share * 100,
            "no_water_gap_psi": left.gap / PSI,
            "water_lasts_s": left.lasts,
            "ends_too_early_by_s": left.sooner,
        },
        "smallest_with_todays_run": larger and {
            "total_volume_gal": larger.one.total_volume / GAL,
            "drawdown_gal": larger.one.drawdown / GAL,
            "run_time_min": larger.one.run_time / 60,
        },
    }  # fmt: skip
