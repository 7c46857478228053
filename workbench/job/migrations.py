"""The steps from each older schema version of a job's file to the next.

What a step puts in is written out here and never changes, whatever a new job begins with later.
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

from workbench.job.job import SCHEMA_VERSION

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


_NEW_IN_3: dict[str, Any] = {
    "flow_in_at": None,
    "flow_out_at": None,
    "today_volume": None,
    "today_acceptance": None,
    "today_rating": None,
    "relief_setting": None,
    "lowest_fixture": None,
    "highest_fixture": None,
    "solve_for": "tank_volume",
    "solve_volume": "44 gal",
    "firm_name": "",
    "firm_address": "",
    "firm_contact": "",
    "firm_licence": "",
    "firm_insurance": "",
    "firm_logo": "",
    "currency": "USD",
    "money_form": "en_US",
    "paper": "us_letter",
    "prices": [],
    "prices_invented": False,
    "tank_price": "selling_price",
    "tank_taxed": True,
    "markup": "0 %",
    "labour_rate": None,
    "labour_cost": None,
    "tax": "0 %",
    "rounding": "smallest_coin",
    "valid_days": "30",
    "clause_allowances": "",
    "clause_assumptions": "",
    "clause_exclusions": "",
    "clause_schedule": "",
    "clause_payment": "",
    "clause_warranty": "",
    "clause_acceptance": "",
    "customer_name": "",
    "customer_address": "",
    "customer_contact": "",
    "site_address": "",
    "prepared_by": "",
    "estimate_number": "",
    "estimate_date": "",
    "problem": "",
    "scope": "",
    "found_cut_in": None,
    "found_cut_out": None,
    "found_precharge": None,
    "found_drawdown": None,
    "found_refill": None,
    "found_note": "",
    "work_kind": "tank_and_header_parts",
    "offer_a_tank": "",
    "offer_a_band": None,
    "offer_a_label": "",
    "offer_b_tank": "",
    "offer_b_band": None,
    "offer_b_label": "",
    "offer_c_tank": "",
    "offer_c_band": None,
    "offer_c_label": "",
    "counts": [],
    "permit": "not_answered",
    "licence": "not_answered",
    "permit_note": "",
    "copy_for": "customer",
    "with_readings": True,
    "with_plot": True,
    "with_lines": True,
    "with_allowances": True,
    "with_assumptions": True,
    "with_exclusions": True,
    "with_schedule": True,
    "with_payment": True,
    "with_warranty": True,
    "with_permit": True,
    "with_acceptance": True,
    "with_working": False,
    "revisions": [],
    "set_by": "",
    "set_date": "",
    "card_note": "",
}
"""Version 2 knew neither firm nor estimate; every list was empty and every text."""


def from_2(content: dict[str, Any]) -> dict[str, Any]:
    """Version 3 adds the firm with its prices, the estimate, the setting card and other bands."""
    return copy.deepcopy(_NEW_IN_3) | content | {"schema_version": 3}


_NEW_IN_4: dict[str, Any] = {
    "live_volume": None,
    "live_air": None,
    "line_give": "0.005 gal",
    "start_delay": "1 s",
    "fault": "none",
    "degree": "clear",
    "topic_precharge": True,
    "topic_tank": True,
    "topic_fault": True,
    "topic_readings": True,
    "topic_complaint": True,
    "exercise_seed": "1",
    "exercise_count": "10",
    "sheet_for": "class",
    "class_name": "",
    "class_date": "",
}
"""Version 3 taught nothing yet."""


def from_3(content: dict[str, Any]) -> dict[str, Any]:
    """Version 4 adds the live tank, its faults, and the exercises."""
    return copy.deepcopy(_NEW_IN_4) | content | {"schema_version": 4}


STEPS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {1: from_1, 2: from_2, 3: from_3}
"""From each older schema version, the step to the next. A golden file of each is kept in tests."""


def migrated(content: dict[str, Any]) -> dict[str, Any]:
    """The same entries as the schema version of today has them; ``content`` is of a known one."""
    for version in range(content["schema_version"], SCHEMA_VERSION):
        content = STEPS[version](content)
    return content
