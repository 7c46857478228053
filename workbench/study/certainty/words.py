"""What the tolerance study says, in words: verdicts, shares, runs, and what one tolerance does."""

from __future__ import annotations

import math
from decimal import Decimal

from workbench.study.certainty.plan import TolerancePlan
from workbench.study.certainty.tolerance import FAIL_SHARE, PASS_SHARE, Swing, Verdict
from workbench.study.certainty.view import ToleranceView
from workbench.study.working import Step
from workbench.units import (
    PERCENT,
    PRESSURE,
    SHORT_TIME,
    TEMPERATURE_STEP,
    TIME,
    VOLUME,
    Display,
    Kind,
)
from workbench.words import tr

_KINDS: dict[str, Kind] = {
    "temperature": TEMPERATURE_STEP,
    "flow": PERCENT,
    "bucket": VOLUME,
    "watch": SHORT_TIME,
}  # the others are pressures


_MOST_PLACES = 6  # decimals of a per cent; one of a million cases is 0.0001 %


def kind_of(name: str) -> Kind:
    """The kind of quantity of a tolerance."""
    return _KINDS.get(name, PRESSURE)


def tolerance_name(name: str) -> str:
    """What can be off, as it stands before "±"."""
    names = {
        "gauge": tr("Gauge"),
        "switch_in": tr("Cut-in drift"),
        "switch_out": tr("Cut-out drift"),
        "precharge": tr("Precharge"),
        "temperature": tr("Air temperature"),
        "flow": tr("Flow"),
        "bucket": tr("Bucket"),
        "watch": tr("Watch"),
    }
    return names[name]


def half_text(plan: TolerancePlan, name: str, display: Display, sign: str = "±") -> str:
    """A tolerance's half-width with its sign, such as "±2 psi"; four digits at most."""
    kind = kind_of(name)
    number = display.value(plan.half_width(name), kind)
    digits = f"{Decimal(f'{number:.4g}'):f}".replace(".", display.mark)
    return f"{sign}{digits} {display.symbol(kind)}"


def verdict_word(verdict: Verdict) -> str:
    """The verdict in a word."""
    words = {
        Verdict.PASS: tr("Pass"),
        Verdict.BORDERLINE: tr("Borderline"),
        Verdict.FAIL: tr("Fail"),
    }
    return words[verdict]


def share_text(share: float, display: Display) -> str:
    """A share of the cases; with more digits where fewer would read as another verdict.

    >>> share_text(0.7056, Display()), share_text(0.94999, Display()), share_text(1.0, Display())
    ('70.6 %', '94.999 %', '100 %')
    """
    if share in {0.0, 1.0}:
        return display.text(share, PERCENT, 0)
    for places in range(1, _MOST_PLACES + 1):
        rounded = round(share, places + 2)
        if _side(rounded) == _side(share) and 0.0 < rounded < 1.0:
            break
    return display.text(share, PERCENT, places)


def _side(share: float) -> tuple[bool, bool]:
    return share < FAIL_SHARE, share < PASS_SHARE


def run_text(run: float, display: Display) -> str:
    """A run at no demand; words where the pump never stops."""
    return tr("never stops") if math.isinf(run) else display.text(run, TIME)


def percent_text(change: float, display: Display) -> str:
    """By how much a run changes in per cent, such as "−9.1 %"."""
    if math.isinf(change):
        return tr("never stops")
    return _signed(display.text(change, PERCENT, 1))


def change_text(change: float, nominal: float, display: Display) -> str:
    """By how much a run changes, in per cent and in seconds, such as "−9.1 %, −8.8 s"."""
    if math.isinf(change):
        return tr("never stops")
    return tr(
        "{percent}, {seconds}",
        percent=percent_text(change, display),
        seconds=_signed(display.text(change * nominal, SHORT_TIME, 1)),
    )


def _signed(text: str) -> str:
    if text.startswith("-"):
        return f"−{text[1:]}"
    return f"+{text}" if text.strip("0., %s") else text


def swing_sentence(swing: Swing, view: ToleranceView, display: Display) -> str:
    """What one tolerance does alone, in words for reading aloud."""
    if view.tank is None:
        return ""
    nominal = view.tank.nominal_run
    low, high = (
        tr(
            "at {off}: {change}, {run}",
            off=half_text(view.plan, swing.name, display, sign),
            change=change_text(change, nominal, display),
            run=run_text(nominal * (1.0 + change), display),
        )
        if math.isfinite(change)
        else tr(
            "at {off} the pump never stops",
            off=half_text(view.plan, swing.name, display, sign),
        )
        for sign, change in (("−", swing.low), ("+", swing.high))
    )
    return tr("{name} {low}; {high}", name=tolerance_name(swing.name), low=low, high=high)


def tolerance_steps(view: ToleranceView, display: Display) -> tuple[Step, ...]:
    """How the share of cases comes about."""
    plan, tank = view.plan, view.tank
    if tank is None:
        return ()
    return (
        Step(
            tr("Run of a case"),
            tr("t = ∫ dw / Q(w) from cut-in to cut-out, each off by its own"),
            tr(
                "nothing off: {nominal}; worst corner: {worst}",
                nominal=run_text(tank.nominal_run, display),
                worst=run_text(tank.worst_run, display),
            ),
            tr("each deviation uniform within its ±: JCGM 100:2008 (GUM), 4.3.7"),
        ),
        Step(
            tr("Share of cases that meet the required run"),
            tr("cases with t ≥ {run} / all cases", run=display.text(plan.required_run, TIME)),
            tr(
                "{met} / {cases} = {share}",
                met=f"{round(tank.share * plan.cases):,}",
                cases=f"{plan.cases:,}",
                share=share_text(tank.share, display),
            ),
            tr(
                "pass from {most}, fail below {least}: our own choice, no source",
                most=display.text(PASS_SHARE, PERCENT),
                least=display.text(FAIL_SHARE, PERCENT),
            ),
        ),
    )
