"""The working behind an answer: the factor, the formula turned about, and the answer put back."""

from __future__ import annotations

from workbench.job.paper_choices import SolveFor
from workbench.study.solve.answers import Solution
from workbench.study.solve.known import Known
from workbench.study.solve.relation import Range
from workbench.study.solve.view import SolveView
from workbench.study.solve.words import limit_text, name_of, value_text
from workbench.study.working import (
    ABSOLUTE_PLACES,
    FACTOR_PLACES,
    Step,
    air_step,
    factor_step,
)
from workbench.units import FLOW, NUMBER, PRESSURE, TIME, VOLUME, Display
from workbench.words import tr


def solve_steps(view: SolveView, display: Display, place: int = 0) -> tuple[Step, ...]:
    """The working of the answer at that place, the first by default; () where there is none.

    The last step but one comes to the answer, the last one puts it back.
    """
    known = view.known
    if known is None or place >= len(view.solutions):
        return ()
    one = view.solutions[place]
    return (
        air_step(one.setting, display),
        factor_step(one.setting, one.drawdown / one.volume, display),
        _drawdown(one, display),
        _turned(view, known, one, display),
        _put_back(known, one, display),
    )


def _share(one: Solution, display: Display) -> str:
    return display.number(one.drawdown / one.volume, NUMBER, FACTOR_PLACES)


def _drawdown(one: Solution, display: Display) -> Step:
    volume, water = display.text(one.volume, VOLUME), display.text(one.drawdown, VOLUME, 2)
    return Step(
        tr("Drawdown"),
        tr("Vd = f × V"),
        f"{_share(one, display)} × {volume} = {water}",
        tr("definition of the factor; the membrane's limit is not part of it"),
    )


def _turned(view: SolveView, known: Known, one: Solution, display: Display) -> Step:
    """The formula for what is looked for."""
    title, answer = name_of(view.answered), value_text(view.answered, one.value, display)
    water, run = display.text(one.drawdown, VOLUME, 2), display.text(one.run, TIME)
    flow = display.text(one.flow, FLOW, 2)
    mil = tr("MIL-HDBK-1005/9A, paragraph 2.5.3.6, at no demand")
    if view.answered is SolveFor.PUMP_FLOW:
        return Step(title, tr("Q = Vd / t"), f"{water} / {run} = {answer}", mil)
    if view.answered is SolveFor.RUN_TIME:
        return Step(title, tr("t = Vd / Q"), f"{water} / {flow} = {answer}", mil)
    if view.answered is SolveFor.VOLUME:
        share = _share(one, display)
        return Step(
            title, tr("V = Q × t / f"), f"{flow} × {run} / {share} = {answer}",
            tr("non-profit well council information sheet “Pressure Tanks”, January 2007, p. 2"),
        )  # fmt: skip
    if view.answered is SolveFor.PRECHARGE and known.is_constant:
        return _precharge(known, one, display)
    assert view.range is not None  # noqa: S101 - a band or a precharge lies in one
    return Step(
        title,
        tr("looked for: V × f / Q = t"),
        f"{_range(view.answered, view.range, known, display)} → {answer}",
        tr("all of the range is looked at; where the run passes the asked one, ever closer"),
    )


def _range(what: SolveFor, span: Range, known: Known, display: Display) -> str:
    low = value_text(what, span.low, display)
    below, above = (limit_text(one, known, display) for one in (span.low_limit, span.high_limit))
    low = tr("from {low} (below it {why})", low=low, why=below) if below else low
    if not above:
        return tr("{low}, upwards", low=low)
    high = value_text(what, span.high, display)
    return tr("{low} to {high} (above it {why})", low=low, high=high, why=above)


def _precharge(known: Known, one: Solution, display: Display) -> Step:
    def absolute(gauge: float) -> str:
        return display.number(gauge + known.ambient, PRESSURE, ABSOLUTE_PLACES)

    is_boyle = known.exponent == 1.0
    exponent = display.number(known.exponent, NUMBER, 2)
    n, root = ("", "") if is_boyle else (f"^{exponent}", f"^(1/{exponent})")
    low, high, charge = map(absolute, (known.cut_in, known.cut_out, one.setting.precharge))
    water, volume = (display.text(size, VOLUME, 2) for size in (one.drawdown, one.volume))
    if one.gap:
        formula = tr("Pp = Pout × (1 − Vd / V)") if is_boyle else tr("Pp = Pout × (1 − Vd / V)^n")
        numbers = f"{high} × (1 − {water} / {volume}){n} = {charge}"
    else:
        formula = (
            tr("Pp = Vd / (V × (1/Pin − 1/Pout))")
            if is_boyle
            else tr("Pp = (Vd / (V × (Pin^(−1/n) − Pout^(−1/n))))^n")
        )
        numbers = f"({water} / ({volume} × ((1/{low}){root} − (1/{high}){root}))){n} = {charge}"
    title = tr("Precharge, absolute pressures in {unit}", unit=display.symbol(PRESSURE))
    return Step(title, formula, numbers, tr("Boyle's law, turned about"))


def _put_back(known: Known, one: Solution, display: Display) -> Step:
    water, flow = display.text(one.drawdown, VOLUME, 2), display.text(one.flow, FLOW, 2)
    source = tr("the answer, put in again")
    if not known.is_constant:
        source = tr("the answer, put in again; the flow is the mean over the band, its integral")
    return Step(
        tr("Run with the answer"),
        tr("t = Vd / Q"),
        f"{water} / {flow} = {display.text(one.run, TIME)}",
        source,
    )
