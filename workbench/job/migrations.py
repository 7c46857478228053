"""The steps from each older schema version of a job's file to the next.

What a step puts in is written out here and never changes, whatever a new job begins with later.
"""

from __future__ import annotations

from typing import Any

_NEW_IN_2: dict[str, Any] = {
    "mixed_sets": False,
    "pump_entry": "constant",
    "flow_at_cut_in": None,
    "flow_at_cut_out": None,
    "curve": None,
    "bucket_volume": None,
    "bucket_time": None,
    "water_level": None,
    "pipe_length": None,
    "pipe_material": "polyethylene",
    "pipe_size": "1",
    "pipe_bore": None,
    "pipe_roughness": None,
    "fittings": "25 %",
    "pump_efficiency": None,
    "well_yield": None,
    "motor_limit": "well_tank_to_three_quarter_hp",
    "motor_power": None,
    "own_starts_hour": None,
    "own_starts_day": None,
    "own_rest": None,
    "steady_draw": "5 gpm",
    "people": "4",
    "bedrooms": "3",
    "bathrooms": "2",
    "toilets": "2",
    "basins": "2",
    "tubs": "2",
    "showers": "0",
    "kitchen_sinks": "1",
    "dishwashers": "1",
    "washers": "1",
    "laundry_sinks": "0",
    "hose_bibs": "2",
    "daily_use": None,
    "demand_method": "one_per_outlet",
    "peak_demand": None,
    "leak": "0 gal/d",
    "irrigation_flow": None,
    "irrigation_start": "5",
    "irrigation_time": None,
    "seed": "1",
    "first_tank": "",
    "second_tank": "",
    "header_set": None,
    "plain_volume": None,
    "plain_residual": None,
    "tol_gauge": "2 psi",
    "tol_switch_in": "2 psi",
    "tol_switch_out": "2 psi",
    "tol_precharge": "1 psi",
    "tol_temperature": "10 °F",
    "tol_flow": "10 %",
    "tol_bucket": "0.25 gal",
    "tol_watch": "1 s",
    "drive_set": None,
    "drive_wake": None,
    "drive_tank": None,
    "drive_share": None,
    "drive_ramp": None,
    "drive_step": None,
}
"""Version 1 knew only a constant pump flow; everything here is as a new job of version 2 had it."""


def from_1(content: dict[str, Any]) -> dict[str, Any]:
    """Version 2 adds the pump's curve, the well, the motor, the house, its day and tolerances."""
    return _NEW_IN_2 | content | {"schema_version": 2}
