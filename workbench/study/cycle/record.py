"""The cycle of one tank as plain data: US customary numbers, with the unit in each key."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from workbench.job.pump_choices import motor_limits
from workbench.study.cycle.view import Check, LimitLine, TankCycle, Turn
from workbench.study.cycle.working import cycle_steps
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.study.motor import MotorStands
from workbench.study.record import finding_record, us
from workbench.units import (
    FLOW,
    PERCENT,
    POWER,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
)


def cycle_record(results: Results, findings: Sequence[Finding] = ()) -> dict[str, Any]:
    """All that the page shows; what is not known, and a run or rest without end, is None.

    Args:
        results: of a job.
        findings: those of the results, told before the view's own.

    Raises:
        ValueError: there is no cycle, since a stop stands against it or there is no tank.
    """
    view = results.cycle
    if view is None or view.cycle is None or view.tank is None:
        raise ValueError("there is no cycle")
    return {
        "tank": {"set": view.tank.name, "ids": [part.id for part in view.tank.parts]},
        **_turning(view.cycle),
        "motor_limit": view.limit.value,
        "motor_limit_source": motor_limits()[view.limit].source,
        "motor_stands": _stands_record(view.stands),
        "passes": view.check.passes if view.check else None,
        "check": _check_record(view.check),
        "steady_check": _check_record(view.steady_check),
        "published_limits": [_line_record(line) for line in view.lines],
        "findings": [finding_record(one) for one in (*findings, *view.findings)],
        "working": [str(step) for step in cycle_steps(view.cycle, Display())],
    }


def _turning(turning: TankCycle) -> dict[str, Any]:
    return {
        "drawdown_gal": us(turning.fill.drawdown, VOLUME),
        "flow_at_cut_in_gpm": us(turning.flow_at_cut_in, FLOW),
        "flow_at_cut_out_gpm": us(turning.flow_at_cut_out, FLOW),
        "mean_flow_gpm": us(turning.mean_flow, FLOW),
        "state": turning.state.name.lower() if turning.state else None,
        "steady": _turn_record(turning.steady),
        "settles_at_psi": us(turning.settles, PRESSURE),
        "worst": _turn_record(turning.worst),
        "shortest_run_s": us(turning.shortest_run, SHORT_TIME),
        "shortest_rest_s": us(turning.shortest_rest, SHORT_TIME),
        "steady_at_mean_flow": _turn_record(turning.flow_steady),
        "worst_at_mean_flow": _turn_record(turning.flow_worst),
        "mean_flow_misses_percent": us(turning.difference, PERCENT),
    }


def _turn_record(one: Turn | None) -> dict[str, Any] | None:
    if one is None:
        return None
    return {
        "draw_gpm": us(one.draw, FLOW),
        "run_min": us(one.run, TIME),
        "rest_min": us(one.rest, TIME),
        "starts_per_hour": us(one.starts, STARTS_PER_HOUR),
    }


def _stands_record(stands: MotorStands | None) -> dict[str, Any] | None:
    if stands is None:
        return None
    return {
        "starts_per_hour": us(stands.starts_hour, STARTS_PER_HOUR),
        "starts_per_day": us(stands.starts_day, STARTS_PER_DAY),
        "shortest_rest_s": us(stands.rest, SHORT_TIME),
        "table_row_hp": us(stands.row, POWER),
    }


def _check_record(check: Check | None) -> dict[str, Any] | None:
    if check is None:
        return None
    return {
        "passes": check.passes,
        "starts_per_hour_kept": check.starts_hour,
        "starts_per_day_kept": check.starts_day,
        "rest_kept": check.rest,
        "day_used_up_after_h": None
        if check.day_hours is None
        else float(f"{check.day_hours:.12g}"),
    }


def _line_record(line: LimitLine) -> dict[str, Any]:
    return {
        "limit": line.limit.value,
        "written_for": line.remark,
        "suits_this_power": line.suits,
        "stands": _stands_record(line.stands),
        "check": _check_record(line.check),
    }
