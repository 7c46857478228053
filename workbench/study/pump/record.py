"""Pump and well as plain data: US customary numbers, with the unit in each key."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.study.pump.view import WorkingPoint
from workbench.study.pump.working import pump_steps
from workbench.study.record import finding_record, us
from workbench.units import (
    ENERGY,
    FLOW,
    HEAD,
    LENGTH,
    PERCENT,
    POWER,
    PRESSURE,
    VELOCITY,
    VOLUME,
    Display,
    System,
)

_KILO_GALLON = 1000.0 * VOLUME.units["gal"].factor


def pump_record(results: Results, findings: Sequence[Finding] = ()) -> dict[str, Any]:
    """All that the page shows in figures; what is not known is None.

    Args:
        results: of a job.
        findings: those of the results, told before the view's own.

    Raises:
        ValueError: there is no pump, since a stop stands against it.
    """
    view = results.pump
    if view is None:
        raise ValueError("there is no pump")
    well = view.well
    return {
        "pump_known_by": view.entry.value,
        "cut_in_psi": us(view.setting.cut_in, PRESSURE),
        "cut_out_psi": us(view.setting.cut_out, PRESSURE),
        "reaches_cut_out": view.reaches,
        "shut_off_psi": us(view.shut_off, PRESSURE),
        "reach_margin_psi": us(view.margin, PRESSURE),
        "margin_is_small": view.small_margin,
        "mean_flow_gpm": us(view.mean_flow, FLOW),
        "at_cut_in": _point_record(view.at_cut_in),
        "at_cut_out": _point_record(view.at_cut_out),
        "lift_ft": us(well.lift, HEAD),
        "pipe_length_ft": us(well.riser.length, HEAD) if well.riser else None,
        "pipe_bore_in": us(well.bore, LENGTH),
        "pipe_roughness_c": well.riser.roughness_c if well.riser else None,
        "fittings_percent": us(well.riser.fittings, PERCENT) if well.riser else None,
        "efficiency_percent": us(well.efficiency, PERCENT),
        "well_yield_gpm": us(well.yield_flow, FLOW),
        "tank": view.tank.name if view.tank else None,
        "tank_marked_psi": us(view.marked, PRESSURE),
        "findings": [finding_record(one) for one in (*findings, *view.findings)],
        "working": [str(step) for step in pump_steps(view, Display())],
    }


def _point_record(point: WorkingPoint | None) -> dict[str, Any] | None:
    """Power in kW, as it is metered; energy for 1,000 gal."""
    if point is None:
        return None
    head, energy = point.head, point.energy
    return {
        "pressure_psi": us(point.pressure, PRESSURE),
        "flow_gpm": us(point.flow, FLOW),
        "velocity_ft_per_s": us(point.velocity, VELOCITY),
        "lift_ft": us(head.lift, HEAD) if head else None,
        "pressure_head_ft": us(head.pressure, HEAD) if head else None,
        "friction_ft": us(head.friction, HEAD) if head else None,
        "total_head_ft": us(head.total, HEAD) if head else None,
        "power_kw": None if point.power is None else _kilowatts(point.power),
        "energy_kwh_per_1000_gal": None if energy is None else us(energy * _KILO_GALLON, ENERGY),
    }


def _kilowatts(power: float) -> float:
    return float(f"{Display(System.METRIC).value(power, POWER):.12g}")
