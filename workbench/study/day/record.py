"""A simulated day, and year, as plain data: US customary numbers, with the unit in each key."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from workbench.study.day.energy import knows_energy, leaves_friction_out
from workbench.study.day.plan import DayPlan, Household
from workbench.study.day.simulated import DAY, HOUR, DayView, TankDay, TankYear, YearView
from workbench.study.findings import Finding
from workbench.study.motor import MotorStands
from workbench.study.record import finding_record, us
from workbench.units import (
    DAILY,
    ENERGY,
    FLOW,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
)


def day_record(
    view: DayView, year: YearView | None = None, findings: Sequence[Finding] = ()
) -> dict[str, Any]:
    """A day, the year where it was simulated for the same plan, and all findings.

    Args:
        view: the day.
        year: the year that follows; None leaves it out.
        findings: those of the results and of the plan, told before the day's own.

    Raises:
        ValueError: the year belongs to another plan.
    """
    if year is not None and year.plan != view.plan:
        raise ValueError("the year was simulated for other inputs than the day")
    plan = view.plan
    return {
        "seed": plan.house.seed,
        "house": _house_record(plan.house),
        "wanted_gal": us(view.draws.volume, VOLUME),
        "cut_in_psi": us(plan.setting.cut_in, PRESSURE),
        "cut_out_psi": us(plan.setting.cut_out, PRESSURE),
        "limits": _limits_record(plan.motor),
        "energy_is_without_pipe_friction": _friction_left_out(plan),
        "tanks": [_tank_record(one) for one in view.tanks],
        "year": None if year is None else [_year_record(one, plan) for one in year.tanks],
        "findings": [finding_record(one) for one in (*findings, *view.findings)],
    }


def _friction_left_out(plan: DayPlan) -> bool | None:
    """None where no energy is told at all."""
    return leaves_friction_out(plan.supply) if knows_energy(plan.supply) else None


def _house_record(house: Household) -> dict[str, Any]:
    garden = house.irrigation
    return {
        "people": house.people,
        "clothes_washer": house.washer,
        "dishwasher": house.dishwasher,
        "mean_indoor_gal_per_day": us(house.mean_indoor / DAY, DAILY),
        "leak_gal_per_day": us(house.leak, DAILY),
        "irrigation_gpm": us(garden.flow if garden else None, FLOW),
        "irrigation_start_hour": garden.start / HOUR if garden else None,
        "irrigation_min": us(garden.duration if garden else None, TIME),
    }


def _limits_record(motor: MotorStands | None) -> dict[str, Any] | None:
    """None where the chosen limit could not be read."""
    if motor is None:
        return None
    return {
        "starts_per_hour": us(motor.starts_hour, STARTS_PER_HOUR),
        "starts_per_day": us(motor.starts_day, STARTS_PER_DAY),
        "shortest_rest_s": us(motor.rest, SHORT_TIME),
    }


def _tank_record(one: TankDay) -> dict[str, Any]:
    run = one.run
    return {
        "key": one.tank.key,
        "name": one.tank.name,
        "drawdown_gal": us(one.tank.drawdown, VOLUME),
        "starts": one.starts,
        "start_times_h": [float(f"{time / HOUR:.9g}") for time in run.starts],
        "busiest_hour_starts": one.busiest,
        "busiest_hour_begins_h": float(f"{one.busiest_at / HOUR:.9g}"),
        "pump_runs_min": us(one.run_seconds, TIME),
        "shortest_run_s": us(one.shortest_run, SHORT_TIME),
        "shortest_rest_s": us(one.shortest_rest, SHORT_TIME),
        "longest_idle_min": us(one.longest_idle, TIME),
        "below_cut_in_s": us(one.below_cut_in, SHORT_TIME),
        "drawn_gal": us(run.drawn, VOLUME),
        "pumped_gal": us(run.pumped, VOLUME),
        "unmet_gal": us(run.unmet, VOLUME),
        "empty_s": us(run.empty_seconds, SHORT_TIME),
        "energy_kwh": us(one.energy, ENERGY),
        "begins_as_it_ends": one.is_steady,
    }


def _year_record(one: TankYear, plan: DayPlan) -> dict[str, Any]:
    return {
        "key": one.tank.key,
        "days": len(one.starts),
        "mean_starts_per_day": one.mean_starts,
        "most_starts_per_day": one.most_starts,
        "worst_hour_starts": one.worst_hour,
        "pump_runs_h": one.run_seconds / HOUR,
        "shortest_run_s": us(one.shortest_run, SHORT_TIME),
        "shortest_rest_s": us(one.shortest_rest, SHORT_TIME),
        "drawn_gal": us(one.drawn, VOLUME),
        "pumped_gal": us(one.pumped, VOLUME),
        "unmet_gal": us(one.unmet, VOLUME),
        "empty_s": us(one.empty_seconds, SHORT_TIME),
        "below_cut_in_s": us(one.below_cut_in, SHORT_TIME),
        "energy_kwh": us(one.energy, ENERGY),
        "share_of_days_over_limit": None if plan.motor is None else one.days_over(plan.motor),
    }
