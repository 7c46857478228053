"""The tolerance study as plain data: US customary numbers, with the unit in each key."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from workbench.study.certainty.tolerance import FAIL_SHARE, PASS_SHARE
from workbench.study.certainty.view import Certainty, ToleranceView
from workbench.study.certainty.words import kind_of, tolerance_steps
from workbench.study.findings import Finding
from workbench.study.ranking import Judged, Ranking
from workbench.study.record import finding_record, us
from workbench.units import SHORT_TIME, TEMPERATURE, TIME, Display

_UNITS = {
    "gauge": "gauge_psi",
    "switch_in": "cut_in_drift_psi",
    "switch_out": "cut_out_drift_psi",
    "precharge": "precharge_psi",
    "temperature": "air_temperature_f",
    "flow": "flow_percent",
    "bucket": "bucket_gal",
    "watch": "watch_s",
}


def tolerance_record(
    view: ToleranceView, ranking: Ranking, findings: Sequence[Finding] = ()
) -> dict[str, Any]:
    """What the study of a job comes to.

    Args:
        view: of the job's plan.
        ranking: of the same job; it names the tanks.
        findings: those of the results and of the plan, told before the view's own.

    Raises:
        ValueError: the ranking is of other candidates.
    """
    plan = view.plan
    if ranking.candidates is not plan.candidates:
        raise ValueError("the ranking is of other candidates than the study")
    rows = [view.row(place) for place in range(len(plan.rows))]
    tank = view.tank
    return {
        "required_run_min": us(plan.required_run, TIME),
        "cases": plan.cases,
        "seed": plan.seed,
        "passes_from_share": PASS_SHARE,
        "fails_below_share": FAIL_SHARE,
        "service_temperature_f": us(plan.service_temperature, TEMPERATURE),
        "tolerances": {
            key: us(plan.half_width(name), kind_of(name)) for name, key in _UNITS.items()
        },
        "tank": None if tank is None else _tank_record(tank, ranking.judged(tank.candidate)),
        "swings": [
            {
                "tolerance": swing.name,
                "at_minus": _change_record(swing.low, tank),
                "at_plus": _change_record(swing.high, tank),
            }
            for swing in view.swings
            if tank is not None
        ],
        "never_stops_share": view.outcome.never_stops,
        "off_curve_share": view.outcome.off_curve,
        "tanks": [_tank_record(row, ranking.judged(row.candidate)) for row in rows],
        "findings": [finding_record(one) for one in (*findings, *view.findings)],
        "working": [str(step) for step in tolerance_steps(view, Display())],
    }


def _change_record(change: float, tank: Certainty) -> dict[str, Any]:
    """The changes are None where the pump never stops."""
    return {
        "never_stops": math.isinf(change),
        "change_percent": None if math.isinf(change) else float(f"{change * 100.0:.12g}"),
        "change_s": us(change * tank.nominal_run, SHORT_TIME),
    }


def _tank_record(one: Certainty, judged: Judged) -> dict[str, Any]:
    """A run is None where the pump never stops."""
    return {
        "tanks": [part.id for part in judged.parts],
        "set": judged.name,
        "passes_as_entered": judged.passes,
        "verdict": one.verdict.name.lower(),
        "share_met": one.share,
        "nominal_run_min": us(one.nominal_run, TIME),
        "worst_run_min": us(one.worst_run, TIME),
        "best_run_min": us(one.best_run, TIME),
    }
