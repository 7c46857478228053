"""The house's peak demand as plain data: US customary numbers, with the unit in each key."""

from __future__ import annotations

from typing import Any

from workbench.job.house_choices import demand_methods
from workbench.study.house.methods import Estimate
from workbench.study.house.view import HouseView, PeakTank, WellCheck
from workbench.study.house.words import estimate_words, estimates_note, house_steps, no_cure_words
from workbench.study.record import finding_record, us
from workbench.units import DAILY, FLOW, PRESSURE, TIME, VOLUME, Display

_US = Display()
_DAY = 86_400.0


def house_record(view: HouseView) -> dict[str, Any]:
    """Everything that the page shows; what is not known is None."""
    largest, spread, daily = view.largest, view.spread, view.household.daily_use
    return {
        "peak_demand_gpm": us(view.peak, FLOW),
        "method": view.chosen.method.value,
        "source": demand_methods()[view.chosen.method].source,
        "methods": [_estimate_record(one, view) for one in view.estimates],
        "methods_least_gpm": us(spread.least.flow, FLOW) if spread else None,
        "methods_most_gpm": us(spread.most.flow, FLOW) if spread else None,
        "methods_spread": spread.factor if spread else None,
        "daily_use_gal_per_day": None if daily is None else us(daily / _DAY, DAILY),
        "daily_use_typed": view.household.daily_is_typed,
        "pump_flow_at_cut_in_gpm": us(view.flows.at_cut_in, FLOW) if view.flows else None,
        "pump_flow_at_cut_out_gpm": us(view.flows.at_cut_out, FLOW) if view.flows else None,
        "pump_flow_mean_gpm": us(view.flows.mean, FLOW) if view.flows else None,
        "settles_at_psi": us(view.settles_at, PRESSURE),
        "well_yield_gpm": us(view.well_yield, FLOW),
        "largest_fixture_gpm": us(largest.flow, FLOW) if largest else None,
        "largest_fixtures": list(largest.fixtures) if largest else [],
        "supply_gpm": us(view.supply, FLOW),
        "short_gpm": None if view.outcome is None else us(view.deficit, FLOW),
        "verdict": view.outcome.value if view.outcome else None,
        "larger_tank_is_no_cure": view.tank_is_no_cure if view.outcome else None,
        "why_no_cure": no_cure_words(view),
        "tank": _tank_record(view.tank) if view.tank else None,
        "well": _well_record(view.well) if view.well else None,
        "caution": estimates_note(),
        "findings": [finding_record(finding) for finding in view.findings],
        "working": [str(step) for step in house_steps(view, _US)],
    }


def _estimate_record(one: Estimate, view: HouseView) -> dict[str, Any]:
    return {
        "method": one.method.value,
        "peak_demand_gpm": us(one.flow, FLOW),
        "fixture_units": None if one.units is None else float(f"{one.units:.12g}"),
        "chosen": one is view.chosen,
        "usable": one.flow is not None,
        "source": demand_methods()[one.method].source,
        "told": estimate_words(one, _US),
    }


def _tank_record(tank: PeakTank) -> dict[str, Any]:
    return {
        "extra_drawdown_gal": us(tank.extra, VOLUME),
        "required_drawdown_gal": us(tank.required, VOLUME),
        "drawdown_for_peak_gal": us(tank.together, VOLUME),
        "total_volume_for_peak_gal": us(tank.total_volume, VOLUME),
        "required_drawdown_lasts_min": us(tank.lasts, TIME),
    }


def _well_record(well: WellCheck) -> dict[str, Any]:
    low = well.low
    return {
        "verdict": low.verdict.name.lower(),
        "yield_gal_per_day": us(low.daily_yield / _DAY, DAILY),
        "storage_gal": us(low.storage, VOLUME),
        "storage_lasts_mean_use_min": us(well.cover, TIME),
        "day_balance_storage_gal": us(well.balance, VOLUME),
        "day_can_be_met": us(well.balance, VOLUME) is not None,
        "household_supply": well.household.name.lower(),
    }
