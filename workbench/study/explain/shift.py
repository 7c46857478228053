"""How the figures of the page "Precharge" come about; the place of a cell is its row."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from workbench.job.choices import PrechargeRule, precharge_rules
from workbench.study.explain import pictures, shift_gap
from workbench.study.explain.explanation import Asked, Explain, Picture, Working
from workbench.study.explain.shift_cost import cost_steps
from workbench.study.explain.steps import Air, ending, ending_as, entered, held_step
from workbench.study.shift.view import AtCharge, Region, Shift
from workbench.study.shift.words import change_text, rows, starts_text
from workbench.study.shift.working import drawdown_at
from workbench.study.working import Step, air_step
from workbench.units import DAILY, PERCENT, PRESSURE, STARTS_PER_DAY, VOLUME, Display
from workbench.words import tr

_PSI = PRESSURE.units["psi"].factor


def _shift(asked: Asked) -> Shift | None:
    return asked.results.shift.shift


def _row(asked: Asked) -> tuple[Shift, str, AtCharge] | None:
    """The page's figures, and name and figures of the row that is asked about."""
    shift = _shift(asked)
    found = [] if shift is None else rows(shift, asked.display)
    if shift is None or asked.first >= len(found):
        return None
    name, at, _ = found[asked.first]
    return shift, name, at


# --- drawdown ---


def _drawdown_steps(shift: Shift, at: AtCharge, name: str, display: Display) -> tuple[Step, ...]:
    """Air, factor and drawdown at one precharge, with what the membrane takes off."""
    charge, high = (display.text(p, PRESSURE) for p in (at.precharge, shift.setting.cut_out))
    if at.region is Region.SHUT:
        return (
            Step(
                tr("Drawdown, {name}", name=name),
                tr("at or above cut-out no water enters: Pp ≥ Pout"),
                f"{charge} ≥ {high} → {display.text(at.drawdown, VOLUME, 2)}",
                tr("Boyle's law; trade magazine column for well drillers, February 2006"),
            ),
        )
    *first, last = drawdown_at(shift, at, name, display)
    return (air_step(shift.setting, display), *_limit(shift, at, display), *first, last)


def _limit(shift: Shift, at: AtCharge, display: Display) -> Iterator[Step]:
    """What the membrane lets in, where it ends the filling."""
    limited = shift.limited_below
    if limited is None or at.precharge >= limited:
        return
    most, left = (display.text(one, VOLUME, 2) for one in (shift.shell.acceptance, at.left))
    yield Step(
        tr("The membrane ends the filling"),
        tr("Vd = acceptance − water left at cut-in"),
        f"{most} − {left} = {display.text(at.drawdown, VOLUME, 2)}",
        tr("the tank's acceptance, as its row of the catalogue has it"),
    )


def _picture(shift: Shift, at: AtCharge, display: Display) -> Picture | None:
    if at.region is Region.SHUT:
        return None
    return pictures.air(replace(shift.setting, precharge=at.precharge), display)


def _drawdown(asked: Asked) -> Working | None:
    found, display = _row(asked), asked.display
    if found is None:
        return None
    shift, name, at = found
    *first, last = _drawdown_steps(shift, at, name, display)
    last = ending(last, at.drawdown, VOLUME, display)
    return Working((*first, last), picture=_picture(shift, at, display))


def _gives(asked: Asked) -> Working | None:
    """Today's drawdown, against the recommended precharge's where that is another."""
    shift, display = _shift(asked), asked.display
    if shift is None:
        return None
    own, right = shift.today, shift.recommended
    steps = [*_drawdown_steps(shift, own, tr("yours"), display)]
    picture = _picture(shift, own, display)
    beside = (_left_step(shift, own, display), *shift_gap.steps(shift, own, display))
    if shift.is_recommended:
        steps[-1] = ending(steps[-1], own.drawdown, VOLUME, display)
        return Working(tuple(steps), beside, picture)
    steps[-1] = ending(steps[-1], own.drawdown, VOLUME, display)
    more = [*_drawdown_steps(shift, right, tr("recommended"), display)]
    more[-1] = ending(more[-1], right.drawdown, VOLUME, display)
    every = dict.fromkeys((*steps, *more, _change_step(shift, own, display)))
    return Working(tuple(every), beside, picture)


def _change_step(shift: Shift, at: AtCharge, display: Display) -> Step:
    here, best = (display.text(one.drawdown, VOLUME, 3) for one in (at, shift.recommended))
    return Step(
        tr("Against the recommended precharge"),
        tr("Vd / Vd recommended − 1"),
        f"{here} / {best} − 1 = {change_text(at, display)}",
        tr("definition"),
    )


def _change(asked: Asked) -> Working | None:
    found, display = _row(asked), asked.display
    if found is None or found[2].change is None:
        return None
    shift, name, at = found
    first = _drawdown_steps(shift, at, name, display)
    best = _drawdown_steps(shift, shift.recommended, tr("recommended"), display)
    every = dict.fromkeys((*first, *best, _change_step(shift, at, display)))
    return Working(tuple(every))


def _greatest(asked: Asked) -> Working | None:
    shift, display = _shift(asked), asked.display
    if shift is None:
        return None
    at = shift.greatest
    charge = entered(
        tr("Precharge equal to cut-in"), display.text(at.precharge, PRESSURE), tr("Pp = Pin")
    )
    *first, last = _drawdown_steps(shift, at, tr("greatest"), display)
    last = ending(last, at.drawdown, VOLUME, display)
    return Working((charge, *first, last), picture=_picture(shift, at, display))


# --- the precharge ---


def _charge(asked: Asked) -> Working | None:
    shift = _shift(asked)
    return None if shift is None else Working((_right_step(asked, shift),))


def _right_step(asked: Asked, shift: Shift) -> Step:
    """The recommended precharge by the job's rule, or by the usual one where it is typed."""
    rule, display = asked.results.job.precharge_rule, asked.display
    rule = PrechargeRule.BELOW_2 if rule is PrechargeRule.TYPED else rule
    low, right = shift.setting.cut_in, shift.recommended.precharge
    cut_in, below, shown = (display.text(p, PRESSURE) for p in (low, low - right, right))
    return Step(
        tr("Recommended precharge"),
        tr("Pp = Pin − distance of the rule"),
        f"{cut_in} − {below} = {shown}",
        precharge_rules()[rule].source,
    )


def _precharge(asked: Asked) -> Working | None:
    """Of a row: a round distance from the recommended one, or the one that is set."""
    found, display = _row(asked), asked.display
    if found is None:
        return None
    shift, name, at = found
    right, first = shift.recommended.precharge, _right_step(asked, shift)
    away = at.precharge - right
    if abs(away) < 1e-3:
        return Working((first,))
    sign, distance = "−" if away < 0.0 else "+", display.text(abs(away), PRESSURE, 2)
    numbers = f"{display.text(right, PRESSURE, 2)} {sign} {distance}"
    last = Step(
        tr("Precharge, {name}", name=name),
        tr("recommended and the distance from it"),
        f"{numbers} = {display.text(at.precharge, PRESSURE)}",
        tr("definition"),
    )
    return Working((first, last))


# --- what stays, membrane, starts ---


def _left_step(shift: Shift, at: AtCharge, display: Display) -> Step:
    one = shift.setting
    air = Air.of(one, at.precharge)
    if at.left >= shift.shell.acceptance:
        return _full(tr("Left in the tank at cut-in"), shift, display)
    title = tr("Left in the tank at cut-in")
    return held_step(title, air, shift.shell.volume, one.cut_in, at.left, display)


def _full(title: str, shift: Shift, display: Display) -> Step:
    return Step(
        title,
        tr("at the membrane's limit the tank takes no more than its acceptance"),
        display.text(shift.shell.acceptance, VOLUME, 2),
        tr("the tank's acceptance, as its row of the catalogue has it"),
    )


def _left(asked: Asked) -> Working | None:
    found, display = _row(asked), asked.display
    if found is None:
        return None
    shift, _, at = found
    last = ending(_left_step(shift, at, display), at.left, VOLUME, display)
    return Working((air_step(shift.setting, display), last))


def _held_step(shift: Shift, at: AtCharge, title: str, display: Display) -> Step:
    one = shift.setting
    if at.held >= shift.shell.acceptance:
        return _full(title, shift, display)
    air = Air.of(one, at.precharge)
    return held_step(title, air, shift.shell.volume, one.cut_out, at.held, display)


def _reach_steps(shift: Shift, at: AtCharge, name: str, display: Display) -> tuple[Step, ...]:
    held, volume = display.text(at.held, VOLUME, 2), display.text(shift.shell.volume, VOLUME, 2)
    return (
        _held_step(shift, at, tr("Water at cut-out, {name}", name=name), display),
        Step(
            tr("Share of the tank, {name}", name=name),
            tr("water at cut-out / V"),
            f"{held} / {volume} = {display.text(at.reach, PERCENT)}",
            tr("definition"),
        ),
    )


def _membrane(asked: Asked) -> Working | None:
    shift, display = _shift(asked), asked.display
    if shift is None:
        return None
    own = shift.today
    steps = _reach_steps(shift, own, tr("yours"), display)
    if not shift.is_recommended:
        more = _reach_steps(shift, shift.recommended, tr("recommended"), display)
        steps = (*more, *steps)
    if own.of_acceptance is None:
        return Working(steps)
    most, held = (display.text(one, VOLUME, 2) for one in (shift.shell.acceptance, own.held))
    share = Step(
        tr("Share of its acceptance"),
        tr("water at cut-out / acceptance"),
        f"{held} / {most} = {display.text(own.of_acceptance, PERCENT)}",
        tr("the tank's acceptance, as its row of the catalogue has it"),
    )
    return Working((*steps, share), _limited_steps(shift, display))


def _limited_steps(shift: Shift, display: Display) -> tuple[Step, ...]:
    """The precharge under which the membrane is at its limit before cut-out."""
    if shift.limited_below is None:
        return ()
    one, shell = shift.setting, shift.shell

    def pressure(value: float) -> str:
        return display.number(value, PRESSURE, 3)

    most, volume = (display.text(v, VOLUME, 2) for v in (shell.acceptance, shell.volume))
    power = "" if one.exponent == 1.0 else f"^{one.exponent:g}".replace(".", display.mark)
    air = pressure(one.ambient)
    return (
        Step(
            tr("Below it the membrane is at its limit before cut-out"),
            tr("Pp = Pout × (1 − A / V)^n, absolute pressures in {unit}",
               unit=display.symbol(PRESSURE)),
            f"{pressure(one.cut_out + one.ambient)} × (1 − {most} / {volume}){power} − {air}"
            f" = {display.text(shift.limited_below, PRESSURE)}",
            tr("Boyle's law; trade magazine column for well drillers, February 2006"),
        ),
    )  # fmt: skip


def _starts_step(shift: Shift, at: AtCharge, display: Display) -> Step | None:
    if shift.daily is None or at.starts is None or math.isinf(at.starts):
        return None
    use, water = display.text(shift.daily, DAILY), display.text(at.drawdown, VOLUME, 3)
    often = display.number(at.starts, STARTS_PER_DAY, 2)
    step = Step(
        tr("Starts a day, at most"),
        tr("N = use a day / Vd"),
        f"{use} / {water} = {often}",
        tr("arithmetic; fewer where the pump feeds an open tap, see the page “Day”"),
    )
    return ending_as(step, starts_text(at.starts, display))


def _starts(asked: Asked) -> Working | None:
    found, display = _row(asked), asked.display
    last = None if found is None else _starts_step(found[0], found[2], display)
    if found is None or last is None:
        return None
    return Working((*_drawdown_steps(found[0], found[2], found[1], display), last))


def _starts_today(asked: Asked) -> Working | None:
    shift, display = _shift(asked), asked.display
    last = None if shift is None else _starts_step(shift, shift.today, display)
    if shift is None or last is None:
        return None
    return Working((*_drawdown_steps(shift, shift.today, tr("yours"), display), last))


# --- costs and the gap ---


def _below(asked: Asked) -> Working | None:
    shift = _shift(asked)
    if shift is None or shift.below is None:
        return None
    right = shift.recommended.precharge
    return Working(cost_steps(shift, shift.below, right, right - _PSI, asked.display))


def _above(asked: Asked) -> Working | None:
    shift = _shift(asked)
    if shift is None:
        return None
    low = shift.setting.cut_in
    return Working(cost_steps(shift, shift.above, low, low + _PSI, asked.display))


def _falter(asked: Asked) -> Working | None:
    found = _row(asked)
    if found is None:
        return None
    steps = shift_gap.steps(found[0], found[2], asked.display)
    return Working(steps) if steps else None


def _basis(asked: Asked) -> Working | None:
    shift, display = _shift(asked), asked.display
    if shift is None or shift.rig is None:
        return None
    typed = shift_gap.basis_steps(shift.rig.system, display)
    return Working(typed, shift_gap.steps(shift, shift.today, display))


FIGURES: dict[str, Explain] = {
    "gives": _gives,
    "charge": _charge,
    "precharge": _precharge,
    "drawdown": _drawdown,
    "change": _change,
    "left": _left,
    "starts": _starts,
    "falter": _falter,
    "below": _below,
    "above": _above,
    "greatest": _greatest,
    "membrane": _membrane,
    "starts_today": _starts_today,
    "basis": _basis,
}
"""The explaining function of each figure of the page."""
