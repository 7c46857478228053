"""What a step of pressure costs, on the page "Precharge"."""

from __future__ import annotations

from workbench.study.bands.words import signed
from workbench.study.explain.steps import ending_as
from workbench.study.shift.view import STEP, Cost, Shift
from workbench.study.shift.words import cost_sentence
from workbench.study.working import Step
from workbench.units import DAILY, PRESSURE, STARTS_PER_DAY, VOLUME, Display, System
from workbench.units.kinds import Kind
from workbench.words import tr

_FINE, _FINER = 4, 5  # decimals of drawdowns whose difference is told, and of the difference
_LARGE_STEP = 10 * PRESSURE.units["kPa"].factor
"""The step that is told in metric units [Pa]."""


def cost_steps(
    shift: Shift, cost: Cost, start: float, end: float, display: Display
) -> tuple[Step, ...]:
    """How the cost of the step from one gauge precharge [Pa] to another comes about."""
    here, there = shift.at(start), shift.at(end)
    first, second = (display.text(one.drawdown, VOLUME, _FINE) for one in (here, there))
    at, beside = (display.text(p, PRESSURE, 2) for p in (start, end))
    water = there.drawdown - here.drawdown
    steps = [
        Step(
            tr("Drawdown from {at} to {beside}", at=at, beside=beside),
            tr("Vd there − Vd here, each by Boyle's law"),
            f"{second} − {first} = {_signed(water, VOLUME, _FINE, display)}",
            tr("Boyle's law; trade magazine column for well drillers, February 2006"),
        )
    ]
    steps += _per_step(tr("Drawdown for each step"), water, VOLUME, 2, display)
    if cost.starts is not None and shift.daily is not None:
        use = display.text(shift.daily, DAILY, 2)
        more = display.number(cost.starts, STARTS_PER_DAY, _FINE).replace("-", "−")
        steps.append(
            Step(
                tr("Starts a day from {at} to {beside}", at=at, beside=beside),
                tr("N = use a day / Vd there − use a day / Vd here"),
                f"{use} / {second} − {use} / {first} = {more}",
                tr("arithmetic; fewer where the pump feeds an open tap, see the page “Day”"),
            )
        )
        steps += _per_step(tr("Starts for each step"), cost.starts, STARTS_PER_DAY, 1, display)
    last = Step(
        tr("Both"),
        tr("water and starts for each step"),
        cost_sentence(cost, display),
        tr("straight from the first {step} on; it curves beyond", step=_step_text(STEP, display)),
    )
    return (*steps, last)


def _signed(si: float, kind: Kind, decimals: int, display: Display) -> str:
    return display.text(si, kind, decimals).replace("-", "−")


def _per_step(
    title: str, si: float, kind: Kind, decimals: int, display: Display
) -> tuple[Step, ...]:
    """From a step of 1 psi to the step that is told in metric units; nothing where they agree."""
    scale = 1.0 if display.system is System.US else _LARGE_STEP / STEP
    shown = signed(si * scale, kind, display, decimals)
    if kind is STARTS_PER_DAY:
        shown = shown.removesuffix(display.symbol(kind)).strip()
    amount = display.number(abs(si), kind, _FINER if kind is VOLUME else _FINE)
    if display.system is System.US:
        told = f"{'−' if si < 0.0 else '+'}{amount}"
        step = Step(title, tr("for 1 {unit}", unit=display.symbol(PRESSURE)), told,
                    tr("definition"))  # fmt: skip
        return (ending_as(step, shown),)
    large, small = (display.number(step, PRESSURE, 3) for step in (_LARGE_STEP, STEP))
    sign = "−" if si < 0.0 else ""
    symbol = "" if kind is STARTS_PER_DAY else f" {display.symbol(kind)}"
    whole = display.number(abs(si) * scale, kind, _FINE)
    step = Step(
        title,
        tr("amount × {large} / {small}", large=_step_text(_LARGE_STEP, display),
           small=_step_text(STEP, display)),
        f"{sign}{amount} × {large} / {small} = {sign}{whole}{symbol}",
        tr("definition"),
    )  # fmt: skip
    return (ending_as(step, shown),)


def _step_text(step: float, display: Display) -> str:
    return display.text(step, PRESSURE, 2)
