"""Results as plain data: US customary numbers, with the unit in each key."""

from __future__ import annotations

import math
from typing import Any

from workbench.job.choices import run_time_rules
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.study.ranking import Judged, Ranking
from workbench.study.reasons import reasons
from workbench.study.sizing import RuleResult
from workbench.study.working import required_steps
from workbench.units import FLOW, LENGTH, PRESSURE, STARTS_PER_HOUR, TIME, VOLUME, Display, Kind

_US = Display()


def us(value: float | None, kind: Kind) -> float | None:
    """An SI value in the US unit of its kind; None for "none" and for numbers without end.

    Twelve significant digits: what lies below is the noise of converting there and back, and
    "30 psi" shall come out as 30.0.
    """
    if value is None or not math.isfinite(value):
        return None
    return float(f"{_US.value(value, kind):.12g}")


def finding_record(finding: Finding) -> dict[str, Any]:
    """A finding as plain data."""
    return {
        "level": finding.level.name.lower(),
        "code": finding.code,
        "field": finding.field,
        "text": finding.told(_US),
        "remedy": finding.remedy,
    }


def size_record(results: Results) -> dict[str, Any]:
    """Everything that a sizing comes to. Call it only when no stop stands."""
    setting, sizing, precharge = results.setting, results.sizing, results.precharge
    if setting is None or sizing is None or precharge is None:
        raise ValueError("a stop stands against these results")
    duty = results.duty
    rules = run_time_rules()
    return {
        "required_drawdown_gal": us(sizing.required, VOLUME),
        "run_time_min": us(sizing.chosen.run_time, TIME),
        "worst_starts_per_hour": us(sizing.chosen.starts, STARTS_PER_HOUR),
        "precharge_psi": us(precharge.in_service, PRESSURE),
        "precharge_where_set_psi": us(precharge.where_set, PRESSURE),
        "cut_in_psi": us(setting.cut_in, PRESSURE),
        "cut_out_psi": us(setting.cut_out, PRESSURE),
        "ambient_psia": us(setting.ambient, PRESSURE),
        "exponent": setting.exponent,
        "pump_flow_gpm": us(duty.pump_flow, FLOW) if duty else None,
        "drawdown_factor": sizing.factor,
        "total_volume_gal": us(sizing.total_volume, VOLUME),
        "rule": sizing.chosen.rule.value,
        "rules": [
            _rule_record(rule) | {"source": rules[rule.rule].source} for rule in sizing.rules
        ],
        "rules_spread": sizing.spread,
        "order": results.job.order.value,
        "ranking": ranking_record(results.ranking) if results.ranking else [],
        "findings": [finding_record(finding) for finding in results.findings],
        "working": [
            str(step)
            for step in (
                required_steps(duty, sizing, rules[sizing.chosen.rule].source, _US) if duty else ()
            )
        ],
    }


def _rule_record(rule: RuleResult) -> dict[str, Any]:
    return {
        "rule": rule.rule.value,
        "drawdown_gal": us(rule.drawdown, VOLUME),
        "run_time_min": us(rule.run_time, TIME),
        "worst_starts_per_hour": us(rule.starts, STARTS_PER_HOUR),
    }


def ranking_record(ranking: Ranking) -> list[dict[str, Any]]:
    """Every candidate in order, those that pass first."""
    return [
        _candidate_record(position, ranking.row(position), ranking)
        for position in range(len(ranking))
    ]


def _candidate_record(position: int, one: Judged, ranking: Ranking) -> dict[str, Any]:
    return {
        "rank": position + 1 if one.passes else None,
        "id": one.tank.id,
        "name": one.tank.name,
        "kind": one.tank.kind.value,
        "beside": [tank.id for tank in one.kinds[1:]],
        "set": one.name,
        "tanks": one.count,
        "total_volume_gal": us(one.total_volume, VOLUME),
        "drawdown_gal": us(one.drawdown, VOLUME),
        "margin_gal": us(one.margin, VOLUME),
        "run_time_min": us(one.run_time, TIME),
        "worst_starts_per_hour": us(one.starts, STARTS_PER_HOUR),
        "price": one.price,
        "floor_sq_in": one.floor / LENGTH.units["in"].factor ** 2,
        "passes": one.passes,
        "reasons": reasons(one, ranking, _US),
    }
