"""The figures of estimate and chart in the units of their records, without the program's own."""

from __future__ import annotations

from typing import Any

from tests.cli.band_figures import per
from tests.cli.figures import GAL, GPM, PSI
from workbench.study.chart.view import ChartBand, ChartCell, ChartRow, ChartView, Pick, RunTable
from workbench.study.estimate.view import EstimateView, Found, Offer
from workbench.units import System


def estimate(view: EstimateView) -> dict[str, Any]:
    return {
        "found": _found(view.found),
        "options": [_offer(one) for one in view.offers],
    }


def _found(found: Found) -> dict[str, Any]:
    flow = None
    if found.drained is not None and found.refill is not None:
        flow = found.drained / found.refill / GPM
    return {
        "cut_in_psi": per(found.cut_in, PSI),
        "cut_out_psi": per(found.cut_out, PSI),
        "precharge_psi": per(found.precharge, PSI),
        "drained_gal": per(found.drained, GAL),
        "refill_s": found.refill,
        "flow_gpm": flow,
        "charge_missing_psi": per(found.charge_missing, PSI),
    }


def _offer(one: Offer) -> dict[str, Any]:
    tank, setting, charge = one.one, one.results.setting, one.precharge
    return {
        "cut_in_psi": setting and setting.cut_in / PSI,
        "cut_out_psi": setting and setting.cut_out / PSI,
        "total_volume_gal": tank and sum(part.total_volume for part in tank.parts) / GAL,
        "drawdown_gal": tank and tank.drawdown / GAL,
        "run_time_min": tank and tank.run_time / 60,
        "worst_starts_per_hour": tank and tank.starts * 3600,
        "starts_per_day_at_most": per(one.starts_per_day, 1 / 86_400),
        "daily_use_gal_per_day": per(one.daily_volume, GAL),
        "precharge_psi": charge and charge.in_service / PSI,
        "precharge_where_set_psi": charge and per(charge.where_set, PSI),
    }


def chart(view: ChartView) -> dict[str, Any]:
    return {
        "ambient_psia": view.ambient / PSI,
        "pressure_margin_psi": view.margin / PSI,
        "bands": [_band(one) for one in view.bands],
        "tanks": [_row(one) for one in view.rows],
        "runs": [_run(one) for one in view.runs[System.US]],
        "tanks_not_in_stock": view.away,
        "tanks_not_listed_for_potable_water": view.unlisted,
    }


def _band(one: ChartBand) -> dict[str, Any]:
    return {
        "cut_in_psi": one.cut_in / PSI,
        "cut_out_psi": one.cut_out / PSI,
        "precharge_psi": one.setting and one.setting.precharge / PSI,
    }


def _row(row: ChartRow) -> dict[str, Any]:
    return {
        "total_volume_gal": row.tank.total_volume / GAL,
        "drawdown_gal": [_cell(one) for one in row.cells],
    }


def _cell(cell: ChartCell | None) -> float | None:
    return None if cell is None or cell.fails else cell.drawdown / GAL


def _run(table: RunTable) -> dict[str, Any]:
    return {
        "run_min": table.run / 60,
        "flows": [
            {"pump_flow_gpm": flow / GPM, "picks": [_pick(one) for one in picks]}
            for flow, picks in zip(table.flows, table.picks, strict=True)
        ],
    }


def _pick(pick: Pick | None) -> dict[str, Any] | None:
    return pick and {"tanks": pick.count, "drawdown_gal": pick.drawdown / GAL}
