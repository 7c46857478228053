"""The missing quantity as plain data, US customary, with units in the keys."""

from __future__ import annotations

from typing import Any

from workbench.job.paper_choices import SolveFor
from workbench.study.evaluate import Results
from workbench.study.record import finding_record, us
from workbench.study.solve.answers import Solution
from workbench.study.solve.known import of_this_question
from workbench.study.solve.relation import Range
from workbench.study.solve.words import why_text
from workbench.study.solve.working import solve_steps
from workbench.units import FLOW, PRESSURE, TIME, VOLUME, Display


def solve_record(results: Results) -> dict[str, Any]:
    """The page as plain data; ``answers`` is empty where there is none, and ``why`` says so.

    ``with_the_answer`` is what the job would be told with the first answer in it.
    """
    view = results.solved
    found = (*of_this_question(results), *view.findings)
    return {
        "looked_for": view.looked_for.value,
        "answered": view.answered.value,
        "asked_run_time_min": us(view.known.run, TIME) if view.known else None,
        "answers": [_answer(one) for one in view.solutions],
        "cause": view.why.cause.value if view.why else None,
        "why": why_text(view, Display()) or None,
        "range": _range(view.looked_for, view.range) if view.range else None,
        "with_the_answer": [finding_record(one) for one in view.beyond],
        "findings": [finding_record(one) for one in found],
        "working": [str(step) for step in solve_steps(view, Display())],
    }


def _answer(one: Solution) -> dict[str, Any]:
    setting = one.setting
    return {
        "usual": one.is_usual,
        "pump_flow_gpm": us(one.flow, FLOW),
        "run_time_min": us(one.run, TIME),
        "tank_volume_gal": us(one.volume, VOLUME),
        "band_centre_psi": us(0.5 * (setting.cut_in + setting.cut_out), PRESSURE),
        "band_width_psi": us(setting.cut_out - setting.cut_in, PRESSURE),
        "precharge_psi": us(setting.precharge, PRESSURE),
        "cut_in_psi": us(setting.cut_in, PRESSURE),
        "cut_out_psi": us(setting.cut_out, PRESSURE),
        "drawdown_gal": us(one.drawdown, VOLUME),
        "water_at_cut_out_gal": us(one.held, VOLUME),
        "no_water_gap_psi": us(one.gap, PRESSURE),
        "reach_margin_psi": us(one.margin, PRESSURE),
    }


def _range(looked_for: SolveFor, span: Range) -> dict[str, Any]:
    return {
        "of": looked_for.value,
        "low_psi": us(span.low, PRESSURE),
        "low_limit": span.low_limit.value,
        "high_psi": us(span.high, PRESSURE),
        "high_limit": span.high_limit.value,
    }
