"""The comparison of bands as plain data: US customary numbers, with the unit in each key."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from workbench.study.bands.tank import Replacement
from workbench.study.bands.view import BandColumn, BandsView, LeftAsIs
from workbench.study.bands.working import band_steps
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.study.record import finding_record, us
from workbench.units import (
    FLOW,
    HEAD,
    PERCENT,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
)


def bands_record(results: Results, findings: Sequence[Finding] = ()) -> dict[str, Any]:
    """All that the page shows in figures; what is not known or is withheld is None.

    Args:
        results: of a job.
        findings: those of the results, told before the view's own.
    """
    view = results.bands
    return {
        "tank": _tank_record(view),
        "relief_valve_psi": us(view.site.relief, PRESSURE),
        "pump_shut_off_psi": us(view.shut_off, PRESSURE),
        "steady_draw_gpm": us(view.draw, FLOW),
        "bands": [_column_record(column, view) for column in view.columns],
        "findings": [finding_record(one) for one in (*findings, *view.findings)],
    }


def _tank_record(view: BandsView) -> dict[str, Any] | None:
    tank = view.tank
    if tank is None:
        return None
    return {
        "set": tank.name or None,
        "ids": [part.id for part in tank.parts],
        "named_by_the_job": tank.is_named,
        "total_volume_gal": us(tank.total_volume, VOLUME),
        "acceptance_gal": us(float(tank.acceptance.sum()), VOLUME),
        "marked_psi": us(tank.rating, PRESSURE),
        "highest_precharge_psi": us(tank.highest_precharge, PRESSURE),
        "price": None if tank.price is None else str(tank.price),
    }


def _column_record(column: BandColumn, view: BandsView) -> dict[str, Any]:
    gives, charge, pump = column.gives, column.precharge, column.pump
    points = [getattr(pump, name, None) for name in ("at_cut_in", "at_cut_out")]
    return {
        "band": f"{column.name} {column.unit}".strip(),
        "today": column.is_today,
        "cut_in_psi": us(column.band.cut_in, PRESSURE),
        "cut_out_psi": us(column.band.cut_out, PRESSURE),
        "never_stops": column.never_stops,
        "drawdown_gal": us(gives.drawdown, VOLUME) if gives else None,
        "drawdown_change_gal": us(column.change, VOLUME),
        "drawdown_change_percent": us(column.share, PERCENT),
        "run_time_min": us(gives.run, TIME) if gives else None,
        "worst_starts_per_hour": us(gives.starts, STARTS_PER_HOUR) if gives else None,
        "precharge_psi": us(charge.in_service, PRESSURE) if charge else None,
        "precharge_where_set_psi": us(charge.where_set, PRESSURE) if charge else None,
        "precharge_moves_psi": us(column.moves, PRESSURE),
        "head_at_cut_out_ft": us(column.head, HEAD),
        "head_change_ft": us(column.head_more, HEAD),
        "flow_at_cut_in_gpm": us(points[0].flow, FLOW) if points[0] else None,
        "flow_at_cut_out_gpm": us(points[1].flow, FLOW) if points[1] else None,
        "reach_margin_psi": us(pump.margin, PRESSURE) if pump else None,
        "lowest_fixture_psi": us(column.lowest, PRESSURE),
        "highest_fixture_psi": us(column.highest, PRESSURE),
        "cut_out_and_margin_psi": us(column.needs, PRESSURE),
        "relief_above_cut_out_psi": us(column.relief_above, PRESSURE),
        "precharge_left_as_it_is": _left_record(column.left),
        "runs_as_long_as_today": column.keeps_run,
        "smallest_with_todays_run": _replacement_record(column.replacement),
        "findings": [finding_record(one) for one in column.findings],
        "working": [str(step) for step in band_steps(view, column, Display())],
    }


def _left_record(left: LeftAsIs | None) -> dict[str, Any] | None:
    if left is None:
        return None
    return {
        "precharge_psi": us(left.precharge, PRESSURE),
        "drawdown_gal": us(left.drawdown, VOLUME),
        "loss_gal": us(left.loss, VOLUME),
        "loss_percent": us(left.share, PERCENT),
        "no_water_gap_psi": us(left.gap, PRESSURE),
        "water_lasts_s": us(left.lasts, SHORT_TIME),
        "ends_too_early_by_s": us(left.sooner, SHORT_TIME),
    }


def _replacement_record(found: Replacement | None) -> dict[str, Any] | None:
    if found is None:
        return None
    one = found.one
    return {
        "set": one.name,
        "ids": [part.id for part in one.parts],
        "total_volume_gal": us(one.total_volume, VOLUME),
        "drawdown_gal": us(one.drawdown, VOLUME),
        "run_time_min": us(one.run_time, TIME),
        "price": None if found.price is None else str(found.price),
        "price_more": None if found.price_more is None else str(found.price_more),
        "currency": found.currency,
    }
