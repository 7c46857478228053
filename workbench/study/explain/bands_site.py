"""The rest of the comparison of bands: head, pump, fixtures, markings, and the tank to replace."""

from __future__ import annotations

from workbench.study.bands.findings import RELIEF_MARGIN
from workbench.study.bands.tank import price_of
from workbench.study.bands.view import BandColumn
from workbench.study.bands.words import in_shown_units, money, price_text, signed
from workbench.study.bands.working import highest_step, lowest_step
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.steps import ending, ending_as, entered
from workbench.study.explain.supply import flow_steps
from workbench.study.job_working import run_steps, tank_steps
from workbench.study.pump.view import PumpView, WorkingPoint
from workbench.study.pump.working import reach_steps
from workbench.study.working import Step, head_step
from workbench.units import FLOW, HEAD, PRESSURE, TIME, VOLUME, distinct
from workbench.words import tr


def _column(asked: Asked) -> BandColumn | None:
    """The band of a cell."""
    columns = asked.results.bands.columns
    return columns[asked.first] if asked.first < len(columns) else None


def _band(asked: Asked) -> Working | None:
    """A band typed in another unit, in that which is shown."""
    column, display = _column(asked), asked.display
    if column is None:
        return None
    typed = f"{column.name} {column.unit}".strip().replace(".", display.mark)
    shown = in_shown_units(column, display)
    if not shown:
        return None
    step = Step(
        tr("Cut-in and cut-out"),
        tr("as entered, in {unit}", unit=display.symbol(PRESSURE)),
        f"{typed} → {shown}",
        tr("NIST Special Publication 811, 2008, appendix B"),
    )
    return Working((step,))


def _head(asked: Asked) -> Working | None:
    column, display, today = _column(asked), asked.display, asked.results.bands.today
    if column is None:
        return None
    step = head_step(tr("Head at cut-out"), column.band.cut_out, column.head, display)
    if column.is_today or today is None:
        return Working((step,))
    new, old = (display.text(one.head, HEAD, 2) for one in (column, today))
    more = Step(
        tr("More than today"),
        tr("h there − h today"),
        f"{new} − {old} = {signed(column.head_more, HEAD, display)}",
        tr("definition"),
    )
    return Working((more, step))


# --- the pump ---


def _flow_in(asked: Asked) -> Working | None:
    column = _column(asked)
    pump = None if column is None else column.pump
    return _flow(asked, pump, None if pump is None else pump.at_cut_in, tr("Flow at cut-in"))


def _flow_out(asked: Asked) -> Working | None:
    column = _column(asked)
    pump = None if column is None else column.pump
    return _flow(asked, pump, None if pump is None else pump.at_cut_out, tr("Flow at cut-out"))


def _flow(
    asked: Asked, pump: PumpView | None, point: WorkingPoint | None, title: str
) -> Working | None:
    column, display = _column(asked), asked.display
    if column is None or pump is None or point is None:
        return None
    steps = flow_steps(column.results, pump.delivery, point.pressure, point.flow, display, title)
    *first, last = steps
    return Working((*first, ending(last, point.flow, FLOW, display)))


def _reach(asked: Asked) -> Working | None:
    column, display = _column(asked), asked.display
    if column is None or column.pump is None or column.pump.margin is None:
        return None
    pump = column.pump
    steps: tuple[Step, ...] = reach_steps(pump, display)
    if pump.curve is None and pump.at_cut_in is not None:
        at = pump.at_cut_in
        flow = flow_steps(column.results, pump.delivery, at.pressure, at.flow, display, "")
        steps = (*flow[:-1], *steps)
    return Working(steps)


# --- fixtures, markings ---


def _lowest(asked: Asked) -> Working | None:
    column, view, display = _column(asked), asked.results.bands, asked.display
    if column is None:
        return None
    step = ending(lowest_step(view, column, display), column.lowest, PRESSURE, display)
    return Working((step,))


def _highest(asked: Asked) -> Working | None:
    column, view, display = _column(asked), asked.results.bands, asked.display
    if column is None:
        return None
    step = ending(highest_step(view, column, display), column.highest, PRESSURE, display)
    return Working((step,))


def _vessel(asked: Asked) -> Working | None:
    column, view, display = _column(asked), asked.results.bands, asked.display
    margin = view.site.margin
    if column is None or column.needs is None or margin is None or view.tank is None:
        return None
    high, more, needs = (
        display.text(at, PRESSURE) for at in (column.band.cut_out, margin, column.needs)
    )
    step = Step(
        tr("Marked working pressure that is needed"),
        tr("cut-out + the job's margin"),
        f"{high} + {more} = {needs}",
        tr("the margin: as entered, our own judgement"),
    )
    if view.tank.rating is None:
        return Working((step,))
    marked = Step(
        tr("Marked on the tank"),
        tr("never above it"),
        display.text(view.tank.rating, PRESSURE),
        tr("the tank's label"),
    )
    return Working((marked, step))


def _relief(asked: Asked) -> Working | None:
    column, view, display = _column(asked), asked.results.bands, asked.display
    if column is None or column.relief_above is None or view.site.relief is None:
        return None
    opens, high = (display.text(at, PRESSURE) for at in (view.site.relief, column.band.cut_out))
    least = Step(
        tr("Least distance"),
        tr("a relief valve nearer to cut-out gives a caution"),
        display.text(RELIEF_MARGIN, PRESSURE),
        tr("trade judgement, no source"),
    )
    step = Step(
        tr("Relief valve above cut-out"),
        tr("it opens at − cut-out"),
        f"{opens} − {high} = {signed(column.relief_above, PRESSURE, display)}",
        tr("definition"),
    )
    return Working((least, step))


def _allowed(asked: Asked) -> Working | None:
    column, view, display = _column(asked), asked.results.bands, asked.display
    if column is None or column.setting is None or view.tank is None:
        return None
    most = view.tank.highest_precharge
    if most is None:
        return None
    charge, limit = (display.text(at, PRESSURE) for at in (column.setting.precharge, most))
    over = column.setting.precharge > most
    told = tr("{charge} > {limit}: too high", charge=charge, limit=limit)
    kept = tr("{charge} ≤ {limit}: within", charge=charge, limit=limit)
    step = Step(
        tr("Charge against the highest allowed"),
        tr("Pp at most as the catalogue states"),
        told if over else kept,
        tr("the catalogue's row"),
    )
    return Working((step,))


# --- what keeps today's run ---


def _tank(asked: Asked) -> Working | None:
    column, display, today = _column(asked), asked.display, asked.results.bands.today
    found = None if column is None else column.replacement
    if column is None or found is None or today is None or today.gives is None:
        return None
    setting, duty = column.results.setting, column.results.duty
    if setting is None or duty is None or today.gives.run is None:
        return None
    least = Step(
        tr("Run of today's tank today"),
        tr("the smallest tank that runs as long"),
        display.text(today.gives.run, TIME),
        tr("the least total volume of the ranking at that band"),
    )
    volume = Step(
        tr("Total volume of {tank}", tank=found.one.name),
        tr("V = sum of the tanks"),
        display.text(found.one.total_volume, VOLUME),
        tr("the catalogue's row"),
    )
    steps = (*tank_steps(setting, found.one, display), *run_steps(duty, found.one, display))
    run, before = distinct(found.one.run_time, today.gives.run, TIME, display)
    last = Step(
        tr("Tank that keeps today's run"),
        tr("its run ≥ today's"),
        tr("{tank}: {run}, today {before}", tank=found.one.name, run=run, before=before),
        least.source,
    )
    return Working((least, volume, *steps, last))


def _price(asked: Asked) -> Working | None:
    column, view, display = _column(asked), asked.results.bands, asked.display
    found = None if column is None else column.replacement
    if found is None or found.price is None or view.tank is None:
        return None
    shown, row = price_text(found, display), tr("the catalogue's row")
    price, before = money(found.price, display), price_of(view.tank.parts)
    if found.price_more is None or before is None:
        alone = entered(tr("Catalogue price of {tank}", tank=found.one.name), shown)
        return Working((Step(alone.title, tr("as in the catalogue"), shown, row),))
    more = money(found.price_more, display).replace("-", "−")
    step = Step(
        tr("Price against today's tank"),
        tr("price of {tank} − price of today's", tank=found.one.name),
        f"{price} − {money(before, display)} = {more} {found.currency}",
        row,
    )
    return Working((ending_as(step, shown),))


FIGURES: dict[str, Explain] = {
    "band": _band,
    "head": _head,
    "flow_in": _flow_in,
    "flow_out": _flow_out,
    "reach": _reach,
    "lowest": _lowest,
    "highest": _highest,
    "vessel": _vessel,
    "relief": _relief,
    "allowed": _allowed,
    "tank": _tank,
    "price": _price,
}
"""They belong to the page "Compare bands"."""
