"""The counter chart as plain data: US customary numbers, with the unit in each key."""

from __future__ import annotations

from typing import Any

from workbench.study.chart.view import ChartBand, ChartRow, Pick, RunTable
from workbench.study.evaluate import Results
from workbench.study.record import finding_record, us
from workbench.units import FLOW, PRESSURE, TIME, VOLUME, System


def chart_record(results: Results) -> dict[str, Any]:
    """Bands, drawdowns of the stock, and the tank for each run."""
    view = results.chart
    return {
        "precharge_rule": results.job.precharge_rule.value,
        "ambient_psia": us(view.ambient, PRESSURE),
        "pressure_margin_psi": us(view.margin, PRESSURE),
        "bands": [_band(one) for one in view.bands],
        "tanks": [_row(one) for one in view.rows],
        "runs": [_run(table) for table in view.runs.get(System.US, ())],
        "tanks_not_in_stock": view.away,
        "tanks_not_listed_for_potable_water": view.unlisted,
        "findings": [finding_record(one) for one in (*results.findings, *view.findings)],
    }


def _band(band: ChartBand) -> dict[str, Any]:
    return {
        "name": band.name,
        "unit": band.unit,
        "cut_in_psi": us(band.cut_in, PRESSURE),
        "cut_out_psi": us(band.cut_out, PRESSURE),
        "precharge_psi": us(band.setting.precharge, PRESSURE) if band.setting else None,
        "is_the_jobs": band.is_own,
    }


def _row(row: ChartRow) -> dict[str, Any]:
    return {
        "id": row.tank.id,
        "name": row.tank.name,
        "total_volume_gal": us(row.tank.total_volume, VOLUME),
        "in_stock": row.tank.in_stock,
        "drawdown_gal": [
            us(cell.drawdown, VOLUME) if cell is not None and cell.can_be_used else None
            for cell in row.cells
        ],
        "fails": [
            [] if cell is None else [flag.name.lower() for flag in cell.fails if flag.name]
            for cell in row.cells
        ],
    }


def _run(table: RunTable) -> dict[str, Any]:
    return {
        "run_min": us(table.run, TIME),
        "flows": [
            {"pump_flow_gpm": us(flow, FLOW), "picks": [_pick(one) for one in picks]}
            for flow, picks in zip(table.flows, table.picks, strict=True)
        ],
    }


def _pick(pick: Pick | None) -> dict[str, Any] | None:
    if pick is None:
        return None
    return {"id": pick.tank.id, "tanks": pick.count, "drawdown_gal": us(pick.drawdown, VOLUME)}
