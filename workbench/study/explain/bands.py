"""How the figures of the page "Compare bands" come about: water, runs and precharge of a band.

``asked.own`` is the band that is compared with today's; the place of a cell is its band's column.
"""

from __future__ import annotations

from dataclasses import replace

from workbench.study.bands.view import BandColumn
from workbench.study.bands.words import band_name, share_text, signed, water
from workbench.study.bands.working import drawdown_steps, left_steps, run_steps
from workbench.study.explain import bands_site, pictures
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.steps import ending, ending_as
from workbench.study.explain.supply import mean_flow_steps
from workbench.study.job_working import precharge_steps
from workbench.study.working import Step
from workbench.units import (
    FLOW,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
)
from workbench.words import tr

_FINE = 3  # decimals of volumes whose difference is told


def _column(asked: Asked) -> BandColumn | None:
    """The band of a cell."""
    columns = asked.results.bands.columns
    return columns[asked.first] if asked.first < len(columns) else None


def _chosen(asked: Asked) -> BandColumn | None:
    """The band that the answers are about."""
    return asked.own if isinstance(asked.own, BandColumn) else None


def _at(asked: Asked, column: BandColumn) -> Asked:
    """The same question about the cell of a band."""
    place = asked.results.bands.columns.index(column)
    return replace(asked, place=(place,))


# --- the answers ---


def _cost(asked: Asked) -> Working | None:
    column = _chosen(asked)
    if column is None:
        return None
    at = _at(asked, column)
    if column.gives is None:
        return bands_site.FIGURES["reach"](at)
    found = _change(at) or _drawdown(at)
    if found is None:
        return None
    today = _run(replace(asked, place=(0,)))
    beside: list[Step] = [] if today is None else [*today.steps]
    for word in ("run", "starts", "head", "tank", "price"):
        more = FIGURES[word](at)
        beside += () if more is None else more.steps
    return Working(found.steps, _once(beside, found.steps), found.picture)


def _once(steps: list[Step], before: tuple[Step, ...]) -> tuple[Step, ...]:
    """Each step once, and none that stands before."""
    return tuple(step for step in dict.fromkeys(steps) if step not in before)


def _charge_answer(asked: Asked) -> Working | None:
    column = _chosen(asked)
    if column is None or column.precharge is None:
        return None
    at = _at(asked, column)
    found = _charge(at)
    if found is None:
        return None
    beside: list[Step] = []
    for word in ("moves", "left"):
        more = FIGURES[word](at)
        beside += () if more is None else more.steps
    return Working(found.steps, (*_once(beside, found.steps), *_gap(asked, column)), found.picture)


def _gap(asked: Asked, column: BandColumn) -> tuple[Step, ...]:
    """How long a tank whose precharge was left lasts at the steady draw."""
    left, draw, display = column.left, asked.results.bands.draw, asked.display
    if left is None or left.gap <= 0.0:
        return ()
    charge, low, gap = (
        display.text(at, PRESSURE) for at in (left.precharge, column.band.cut_in, left.gap)
    )
    empty = Step(
        tr("Empty above cut-in by"),
        tr("precharge − cut-in"),
        f"{charge} − {low} = {gap}",
        tr("definition"),
    )
    if left.lasts is None or left.sooner is None or draw is None:
        return (empty,)
    flow = display.text(draw, FLOW, 2)
    lasts, sooner = (display.text(time, SHORT_TIME) for time in (left.lasts, left.sooner))
    return (
        empty,
        Step(
            tr("Water ends after the stop in"),
            tr("t = Vd / q"),
            f"{display.text(left.drawdown, VOLUME, _FINE)} / {flow} = {lasts}",
            tr("definition"),
        ),
        Step(
            tr("Sooner than with the right precharge"),
            tr("t = lost / q"),
            f"{display.text(left.loss, VOLUME, _FINE)} / {flow} = {sooner}",
            tr("definition"),
        ),
    )


# --- water ---


def _drawdown(asked: Asked) -> Working | None:
    column, view, display = _column(asked), asked.results.bands, asked.display
    if column is None or column.gives is None or column.setting is None:
        return None
    *first, last = drawdown_steps(view, column, display)
    last = ending_as(last, water(column.gives.drawdown, display))
    return Working((*first, last), picture=pictures.air(column.setting, display))


def _change(asked: Asked) -> Working | None:
    column, view, display = _column(asked), asked.results.bands, asked.display
    today, found = view.today, _drawdown(asked)
    if column is None or today is None or found is None:
        return None
    if column.gives is None or today.gives is None or column.change is None:
        return None
    *before, last = drawdown_steps(view, today, display)
    before = [*before, ending_as(last, water(today.gives.drawdown, display))]
    new, old = (display.text(one.drawdown, VOLUME, _FINE) for one in (column.gives, today.gives))
    change = display.text(column.change, VOLUME, _FINE).replace("-", "−")
    against = Step(
        tr("Against today"),
        tr("Vd there − Vd today"),
        f"{new} − {old} = {change}",
        tr("definition"),
    )
    against = ending_as(against, water(abs(column.change), display))
    if column.share is None:
        return Working((*before, *found.steps, against), picture=found.picture)
    share = Step(
        tr("Change in per cent"),
        tr("change / Vd today"),
        f"{change} / {old} = {share_text(column.share, display)}",
        tr("definition"),
    )
    return Working((*before, *found.steps, share, against), picture=found.picture)


def _left(asked: Asked) -> Working | None:
    column, view, display = _column(asked), asked.results.bands, asked.display
    if column is None or column.left is None or column.gives is None or column.setting is None:
        return None
    left = column.left
    steps = [*drawdown_steps(view, column, display), *left_steps(view, column, display)]
    right, as_left = (
        display.text(size, VOLUME, _FINE) for size in (column.gives.drawdown, left.drawdown)
    )
    steps.append(
        Step(
            tr("Against the right precharge"),
            tr("(Vd as left − Vd at the right precharge) / Vd at the right precharge"),
            f"({as_left} − {right}) / {right} = {share_text(-left.share, display)}",
            tr("definition"),
        )
    )
    shown = water(left.drawdown, display)
    if left.drawdown <= 0.0:
        none = tr("at or above cut-out no water enters")
        charge = display.text(left.precharge, PRESSURE)
        last = Step(tr("Precharge left as it is"), none, f"{charge} → {shown}", tr("Boyle's law"))
    else:
        last = ending_as(steps.pop(-2), shown)
    setting = replace(column.setting, precharge=left.precharge)
    return Working((*steps, last), _gap(asked, column), pictures.air(setting, display))


# --- run and starts ---


def _run(asked: Asked) -> Working | None:
    column, display, found = _column(asked), asked.display, _drawdown(asked)
    if column is None or column.gives is None or found is None:
        return None
    supply, run = column.results.inputs.supply, column.gives.run
    steps = tuple(run_steps(column, display))
    if supply is None or run is None or not steps:
        return None
    flow = mean_flow_steps(column.results, supply, display)
    return Working((*found.steps, *flow, ending(steps[-1], run, TIME, display)))


def _starts(asked: Asked) -> Working | None:
    column, display, found = _column(asked), asked.display, _drawdown(asked)
    if column is None or column.gives is None or found is None:
        return None
    supply, starts = column.results.inputs.supply, column.gives.starts
    if supply is None or starts is None:
        return None
    amount, shown = (
        display.text(column.gives.drawdown, VOLUME, 2),
        display.text(starts, STARTS_PER_HOUR),
    )
    return Working(
        (
            *found.steps,
            _starts_step(
                amount,
                shown,
                supply.unit is None,
                display.text(supply.mean_flow, FLOW, 2),
                display.text(supply.worst_draw, FLOW, 2),
            ),
        )
    )


def _starts_step(amount: str, shown: str, is_constant: bool, flow: str, draw: str) -> Step:
    handbook = tr("MIL-HDBK-1005/9A, paragraph 2.5.3.6")
    if is_constant:
        return Step(
            tr("Most starts, half the pump's flow drawn"),
            tr("N = Q / (4 Vd)"),
            f"{flow} / (4 × {amount}) = {shown}",
            handbook,
        )
    return Step(
        tr("Most starts over every draw"),
        tr("where Vd / q² = ∫ dw / (Q(w) − q)²"),
        tr("{amount}, at {draw} → {shown}", amount=amount, draw=draw, shown=shown),
        handbook,
    )


# --- precharge ---


def _charge(asked: Asked) -> Working | None:
    column, display = _column(asked), asked.display
    if column is None or column.precharge is None or column.setting is None:
        return None
    *first, last = precharge_steps(column.results, column.setting, display)
    charge, reading = column.precharge, column.results.inputs.reading
    shown, air = charge.in_service, column.setting.ambient
    if charge.where_set is not None and reading is not None:
        shown, air = charge.where_set, reading.ambient
    last = ending(last, shown, PRESSURE, display)
    return Working((*first, last), picture=pictures.gauge(shown, air, display))


def _moves(asked: Asked) -> Working | None:
    column, display, today = _column(asked), asked.display, asked.results.bands.today
    found = _charge(asked)
    if column is None or column.moves is None or column.precharge is None or found is None:
        return None
    if today is None or today.setting is None:
        return None
    new, old = (
        display.text(at, PRESSURE) for at in (column.precharge.in_service, today.setting.precharge)
    )
    last = Step(
        tr("Precharge moves from today"),
        tr("Pp at {band} − Pp today", band=band_name(column, display)),
        f"{new} − {old} = {signed(column.moves, PRESSURE, display)}",
        tr("definition"),
    )
    return Working((*found.steps, last))


FIGURES: dict[str, Explain] = {
    "cost": _cost,
    "charge_answer": _charge_answer,
    "drawdown": _drawdown,
    "change": _change,
    "left": _left,
    "run": _run,
    "starts": _starts,
    "charge": _charge,
    "moves": _moves,
    **bands_site.FIGURES,
}
"""The explaining function of each figure of the page; those of a cell by the band's column."""
