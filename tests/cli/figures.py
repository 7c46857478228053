"""The figures of each page in the units of the record's keys, worked out without the program's own.

Only numbers that are known and finite stand in them; the records are held against them.
"""

from __future__ import annotations

import math
from typing import Any

from workbench.study.certainty.view import Certainty, ToleranceView
from workbench.study.cycle.view import Check, CycleView, Turn
from workbench.study.day.simulated import DayView, YearView
from workbench.study.drive.view import DriveView, Reserve
from workbench.study.header.view import HeaderView
from workbench.study.house.view import HouseView
from workbench.study.motor import MotorStands
from workbench.study.pump.view import PumpView, WorkingPoint

PSI = 6894.757293168361
FOOT, INCH = 0.3048, 0.0254
GAL = 231 * INCH**3
GPM = GAL / 60
GPD = GAL / 86_400
HP = 550 * FOOT * 0.45359237 * 9.80665
KWH = 3.6e6


def numbers(data: Any, path: tuple[Any, ...] = ()) -> dict[tuple[Any, ...], float]:
    """Every finite number in nested data by its path; truth values are none."""
    if isinstance(data, dict):
        parts: list[tuple[Any, Any]] = list(data.items())
    elif isinstance(data, list | tuple):
        parts = list(enumerate(data))
    elif isinstance(data, bool) or not isinstance(data, int | float) or not math.isfinite(data):
        return {}
    else:
        return {path: float(data)}
    return {
        key: value for name, part in parts for key, value in numbers(part, (*path, name)).items()
    }


def _per(value: float | None, unit: float) -> float | None:
    return None if value is None else value / unit


def pump(view: PumpView) -> dict[str, Any]:
    riser = view.well.riser
    return {
        "cut_in_psi": view.setting.cut_in / PSI,
        "cut_out_psi": view.setting.cut_out / PSI,
        "shut_off_psi": _per(view.shut_off, PSI),
        "reach_margin_psi": _per(view.margin, PSI),
        "mean_flow_gpm": _per(view.mean_flow, GPM),
        "at_cut_in": _point(view.at_cut_in),
        "at_cut_out": _point(view.at_cut_out),
        "lift_ft": _per(view.well.lift, FOOT),
        "pipe_length_ft": riser and riser.length / FOOT,
        "pipe_bore_in": _per(view.well.bore, INCH),
        "pipe_roughness_c": riser and riser.roughness_c,
        "fittings_percent": riser and riser.fittings * 100,
        "efficiency_percent": _per(view.well.efficiency, 0.01),
        "well_yield_gpm": _per(view.well.yield_flow, GPM),
        "tank_marked_psi": _per(view.marked, PSI),
    }


def _point(point: WorkingPoint | None) -> dict[str, Any] | None:
    if point is None:
        return None
    head = point.head
    return {
        "pressure_psi": point.pressure / PSI,
        "flow_gpm": point.flow / GPM,
        "velocity_ft_per_s": _per(point.velocity, FOOT),
        "lift_ft": head and head.lift / FOOT,
        "pressure_head_ft": head and head.pressure / FOOT,
        "friction_ft": head and _per(head.friction, FOOT),
        "total_head_ft": head and head.total / FOOT,
        "power_kw": _per(point.power, 1000),
        "energy_kwh_per_1000_gal": _per(point.energy, KWH / (1000 * GAL)),
    }


def cycle(view: CycleView) -> dict[str, Any]:
    turning = view.cycle
    assert turning is not None
    return {
        "drawdown_gal": turning.fill.drawdown / GAL,
        "flow_at_cut_in_gpm": turning.flow_at_cut_in / GPM,
        "flow_at_cut_out_gpm": turning.flow_at_cut_out / GPM,
        "mean_flow_gpm": turning.mean_flow / GPM,
        "steady": _turn(turning.steady),
        "settles_at_psi": _per(turning.settles, PSI),
        "worst": _turn(turning.worst),
        "shortest_run_s": turning.shortest_run,
        "shortest_rest_s": turning.shortest_rest,
        "steady_at_mean_flow": _turn(turning.flow_steady),
        "worst_at_mean_flow": _turn(turning.flow_worst),
        "mean_flow_misses_percent": turning.difference * 100,
        "motor_stands": _stands(view.stands),
        "check": _check(view.check),
        "steady_check": _check(view.steady_check),
        "published_limits": [
            {"stands": _stands(line.stands), "check": _check(line.check)} for line in view.lines
        ],
    }


def _turn(one: Turn | None) -> dict[str, Any] | None:
    return one and {
        "draw_gpm": one.draw / GPM,
        "run_min": one.run / 60,
        "rest_min": one.rest / 60,
        "starts_per_hour": one.starts * 3600,
    }


def _stands(one: MotorStands | None) -> dict[str, Any] | None:
    return one and {
        "starts_per_hour": _per(one.starts_hour, 1 / 3600),
        "starts_per_day": _per(one.starts_day, 1 / 86_400),
        "shortest_rest_s": one.rest,
        "table_row_hp": _per(one.row, HP),
    }


def _check(one: Check | None) -> dict[str, Any] | None:
    return one and {"day_used_up_after_h": one.day_hours}


def day(view: DayView, year: YearView | None) -> dict[str, Any]:
    house, setting, motor = view.plan.house, view.plan.setting, view.plan.motor
    garden = house.irrigation
    assert motor is not None
    return {
        "seed": house.seed,
        "house": {
            "people": house.people,
            "mean_indoor_gal_per_day": house.mean_indoor / GAL,
            "leak_gal_per_day": house.leak / GPD,
            "irrigation_gpm": garden and garden.flow / GPM,
            "irrigation_start_hour": garden and garden.start / 3600,
            "irrigation_min": garden and garden.duration / 60,
        },
        "wanted_gal": view.draws.volume / GAL,
        "cut_in_psi": setting.cut_in / PSI,
        "cut_out_psi": setting.cut_out / PSI,
        "limits": {key: v for key, v in (_stands(motor) or {}).items() if key != "table_row_hp"},
        "tanks": [
            {
                "drawdown_gal": one.tank.drawdown / GAL,
                "starts": one.starts,
                "start_times_h": [float(time) / 3600 for time in one.run.starts],
                "busiest_hour_starts": one.busiest,
                "busiest_hour_begins_h": one.busiest_at / 3600,
                "pump_runs_min": one.run_seconds / 60,
                "shortest_run_s": one.shortest_run,
                "shortest_rest_s": one.shortest_rest,
                "longest_idle_min": one.longest_idle / 60,
                "below_cut_in_s": one.below_cut_in,
                "drawn_gal": one.run.drawn / GAL,
                "pumped_gal": one.run.pumped / GAL,
                "unmet_gal": one.run.unmet / GAL,
                "empty_s": one.run.empty_seconds,
                "energy_kwh": _per(one.energy, KWH),
            }
            for one in view.tanks
        ],
        "year": year and [
            {
                "days": 365,
                "mean_starts_per_day": float(one.starts.sum()) / 365,
                "most_starts_per_day": int(one.starts.max()),
                "worst_hour_starts": int(one.busiest.max()),
                "pump_runs_h": one.run_seconds / 3600,
                "shortest_run_s": one.shortest_run,
                "shortest_rest_s": one.shortest_rest,
                "drawn_gal": one.drawn / GAL,
                "pumped_gal": one.pumped / GAL,
                "unmet_gal": one.unmet / GAL,
                "empty_s": one.empty_seconds,
                "below_cut_in_s": one.below_cut_in,
                "energy_kwh": _per(one.energy, KWH),
                "share_of_days_over_limit": one.days_over(motor),
            }
            for one in year.tanks
        ],
    }  # fmt: skip


def demand(view: HouseView) -> dict[str, Any]:
    spread, flows, tank, well = view.spread, view.flows, view.tank, view.well
    return {
        "peak_demand_gpm": _per(view.peak, GPM),
        "methods": [
            {"peak_demand_gpm": _per(one.flow, GPM), "fixture_units": one.units}
            for one in view.estimates
        ],
        "methods_least_gpm": spread and _per(spread.least.flow, GPM),
        "methods_most_gpm": spread and _per(spread.most.flow, GPM),
        "methods_spread": spread and spread.factor,
        "daily_use_gal_per_day": _per(view.household.daily_use, GAL),
        "pump_flow_at_cut_in_gpm": flows and flows.at_cut_in / GPM,
        "pump_flow_at_cut_out_gpm": flows and flows.at_cut_out / GPM,
        "pump_flow_mean_gpm": flows and flows.mean / GPM,
        "settles_at_psi": _per(view.settles_at, PSI),
        "well_yield_gpm": _per(view.well_yield, GPM),
        "largest_fixture_gpm": view.largest and view.largest.flow / GPM,
        "supply_gpm": _per(view.supply, GPM),
        "short_gpm": view.deficit / GPM if view.outcome else None,
        "tank": tank and {
            "extra_drawdown_gal": tank.extra / GAL,
            "required_drawdown_gal": tank.required / GAL,
            "drawdown_for_peak_gal": tank.together / GAL,
            "total_volume_for_peak_gal": _per(tank.total_volume, GAL),
            "required_drawdown_lasts_min": tank.lasts / 60,
        },
        "well": well and {
            "yield_gal_per_day": well.low.daily_yield / GAL,
            "storage_gal": well.low.storage / GAL,
            "storage_lasts_mean_use_min": _per(well.cover, 60),
            "day_balance_storage_gal": well.balance / GAL,
        },
    }  # fmt: skip


def header(view: HeaderView) -> dict[str, Any]:
    some, plain = view.tanks, view.plain
    one = plain and plain.replacement
    return {
        "set": some and {
            "drawdown_gal": some.drawdown / GAL,
            "matched_drawdown_gal": some.matched / GAL,
            "share_of_matched": some.of_matched,
            "matched_precharge_psi": some.setting.precharge / PSI,
            "first_to_empty": some.first_to_empty,
            "no_water_gap_psi": some.gap / PSI,
            "run_time_min": _per(some.run, 60),
            "required_run_time_min": _per(some.required_run, 60),
            "missing_air_costs_gal_per_psi": _per(some.cost, GAL / PSI),
            "tanks": [
                {
                    "tank": tank.number,
                    "total_volume_gal": tank.volume / GAL,
                    "precharge_psi": tank.precharge / PSI,
                    "drawdown_gal": tank.drawdown / GAL,
                    "share": tank.share,
                    "water_at_cut_in_gal": tank.at_cut_in / GAL,
                    "water_at_cut_out_gal": tank.at_cut_out / GAL,
                    "matched_drawdown_gal": tank.matched / GAL,
                    "lost_gal_per_psi": _per(tank.cost, GAL / PSI),
                }
                for tank in some.tanks
            ],
        },
        "plain": plain and {
            "total_volume_gal": plain.volume / GAL,
            "residual_water_percent": _per(plain.residual, 0.01),
            "drawdown_gal": plain.drawdown / GAL,
            "usable_share": plain.drawdown / plain.volume,
            "equal_precharged_volume_gal": plain.equal_volume / GAL,
            "drawdown_of_same_label_gal": plain.same_label / GAL,
            "replacement": one and {
                "total_volume_gal": one.total_volume / GAL,
                "drawdown_gal": one.drawdown / GAL,
            },
        },
    }  # fmt: skip


def drive(view: DriveView) -> dict[str, Any]:
    stated = view.pressures
    return {
        "set_psi": stated and stated.set_pressure / PSI,
        "wake_psi": stated and stated.wake / PSI,
        "precharge_psi": stated and stated.precharge / PSI,
        "sudden_draw_gpm": view.draw and view.draw.flow / GPM,
        "needed_gal": _per(view.needed, GAL),
        "smallest_tank": _reserve(view.reserve),
        "total_volume_needed_gal": _per(view.volume_needed, GAL),
        "leak_gal_per_day": _per(view.leak, GPD),
        "leak_starts_per_day": _per(view.leak_starts, 1 / 86_400),
        "starts_per_day_allowed": _per(view.starts_allowed, 1 / 86_400),
        "chosen_tank": view.tank and _reserve(view.tank.reserve),
    }


def _reserve(one: Reserve | None) -> dict[str, Any] | None:
    return one and {
        "total_volume_gal": one.volume / GAL,
        "reserve_gal": one.water / GAL,
        "water_at_wake_gal": one.at_wake / GAL,
        "lowest_psi": _per(one.lowest, PSI),
    }


def tolerance(view: ToleranceView) -> dict[str, Any]:
    plan, tank = view.plan, view.tank
    half = plan.tolerances
    return {
        "required_run_min": plan.required_run / 60,
        "cases": plan.cases,
        "seed": plan.seed,
        "passes_from_share": 0.95,
        "fails_below_share": 0.05,
        "service_temperature_f": plan.service_temperature * 1.8 - 459.67,
        "tolerances": {
            "gauge_psi": half.gauge / PSI,
            "cut_in_drift_psi": half.switch_in / PSI,
            "cut_out_drift_psi": half.switch_out / PSI,
            "precharge_psi": half.precharge / PSI,
            "air_temperature_f": half.temperature * 1.8,
            "flow_percent": half.flow * 100,
            "bucket_gal": half.bucket / GAL,
            "watch_s": half.watch,
        },
        "tank": tank and _certainty(tank),
        "swings": [
            {
                end: {"change_percent": change * 100, "change_s": change * tank.nominal_run}
                for end, change in (("at_minus", swing.low), ("at_plus", swing.high))
            }
            for swing in view.swings
            if tank is not None
        ],
        "never_stops_share": view.outcome.never_stops,
        "off_curve_share": view.outcome.off_curve,
        "tanks": [_certainty(view.row(place)) for place in range(len(plan.rows))],
    }


def _certainty(one: Certainty) -> dict[str, Any]:
    return {
        "share_met": one.share,
        "nominal_run_min": one.nominal_run / 60,
        "worst_run_min": one.worst_run / 60,
        "best_run_min": one.best_run / 60,
    }
