"""What of a job changes when an answer is put into it."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from workbench.job.choices import PrechargeRule
from workbench.job.job import Job
from workbench.job.paper_choices import SolveFor
from workbench.job.pump_choices import PumpEntry
from workbench.study.solve.answers import Solution
from workbench.units import (
    FLOW,
    PRESSURE,
    TIME,
    VOLUME,
    Display,
    Kind,
    Quantity,
    UnitError,
    parse,
)

_FINE = 13  # significant digits: it was worked out, not typed, and comes to the same run again
_NOTHING = 1e-6  # Pa; what rounding leaves of zero


def changes_for(
    job: Job, answered: SolveFor, answer: Solution, display: Display | None = None
) -> dict[str, Any]:
    """The entries that change, in the units of ``display`` (US customary).

    A precharge becomes a typed one; a volume changes that of this page alone. Two measured flows
    stay what they were at the pressures where they were measured. Empty where a number is too large
    or too small to be typed.
    """
    shown = Display() if display is None else display
    setting = answer.setting
    try:
        if answered is SolveFor.PUMP_FLOW:
            flow = _entry(answer.flow, FLOW, shown)
            return {"pump_flow": flow, "pump_entry": PumpEntry.CONSTANT}
        if answered is SolveFor.RUN_TIME:
            return {"run_time": _entry(answer.run, TIME, shown)}
        if answered is SolveFor.VOLUME:
            return {"solve_volume": _entry(answer.volume, VOLUME, shown)}
        if answered is SolveFor.PRECHARGE:
            precharge = _entry(setting.precharge, PRESSURE, shown)
            return {"precharge_rule": PrechargeRule.TYPED, "precharge": precharge}
        band = {
            "cut_in": _entry(setting.cut_in, PRESSURE, shown),
            "cut_out": _entry(setting.cut_out, PRESSURE, shown),
        }
    except UnitError:
        return {}
    return band | _measured(job)


def _measured(job: Job) -> dict[str, Any]:
    if job.pump_entry is not PumpEntry.TWO_FLOWS:
        return {}
    return {
        "flow_in_at": job.flow_in_at or job.cut_in,
        "flow_out_at": job.flow_out_at or job.cut_out,
    }


def _entry(si: float, kind: Kind, display: Display) -> Quantity:
    if kind is PRESSURE and abs(si) < _NOTHING:
        si = 0.0
    digits = f"{Decimal(f'{display.value(si, kind):.{_FINE}g}'):f}"
    return parse(f"{digits} {display.symbol(kind)}", kind)
