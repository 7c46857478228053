"""What the page "Compare bands" says: figures as texts, with their reasons."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from workbench.gui.pages.answer import NONE
from workbench.gui.pages.grid_table import Cell
from workbench.gui.pages.stops import mend_first
from workbench.job.choices import precharge_rules
from workbench.study.bands.findings import SHOWER, STATIC_LIMIT
from workbench.study.bands.view import BandColumn, BandsView
from workbench.study.bands.words import (
    against_today,
    band_name,
    head_sentence,
    in_shown_units,
    left_sentence,
    less_or_more,
    price_text,
    replacement_sentence,
    share_text,
    signed,
    tank_name,
    water,
    why_no_cycle,
)
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.pump.view import WorkingPoint
from workbench.units import FLOW, HEAD, PRESSURE, STARTS_PER_HOUR, TIME, Display
from workbench.words import tr

Shown = tuple[str, str, str]
"""A figure, its reason, and the role of the reason."""


def legend() -> str:
    """What stands above the plot."""
    return tr(
        "Water from cut-out to cut-in. Full bar: precharge set for the band. Hatched bar: precharge"
        " left as it is today, the common slip. Point at a band or use the arrow keys to read it."
    )


def why_none(results: Results, view: BandsView) -> Shown:
    """What is missing where nothing can be compared."""
    stops = mend_first((*view.findings, *results.findings))
    if stops:
        return "", stops, "problem"
    if results.candidates is None:
        return "", tr("Type the total volume of today's tank; no catalogue is open."), "muted"
    return "", tr("There is no tank to compare with."), "muted"


def cost_answer(view: BandsView, column: BandColumn | None, display: Display) -> Shown:
    """What the other band costs."""
    if column is None:
        return "", tr("Type bands to compare with, for example “30/50, 40/60 psi”."), "muted"
    name = band_name(column, display)
    if column.gives is None:
        figure = tr("{band}: {why}", band=name, why=why_no_cycle(column))
        return figure, against_today(column, view, display), "problem"
    reason = [against_today(column, view, display), head_sentence(column, display)]
    reason += [replacement_sentence(column, display)]
    if column.change is None:
        figure = tr("{band}: {why}", band=name, why=water(column.gives.drawdown, display))
    else:
        figure = tr("{band}: {why}", band=name, why=less_or_more(column.change, display))
    if column.is_stopped:
        reason.insert(0, tr("A stop stands against this band, see below."))
    return figure, " ".join(filter(None, reason)), "problem" if column.is_stopped else "muted"


def charge_answer(
    results: Results, view: BandsView, column: BandColumn | None, display: Display
) -> Shown:
    """The precharge to set there, and what comes of leaving it."""
    if column is None:
        return "", "", "muted"
    charge = column.precharge
    if charge is None:
        stops = (*column.findings, *view.findings, *column.results.findings)
        told = [one for one in stops if one.level is Level.STOP]
        reason = told[0].sentence(display) if told else ""
        return "", tr("Withheld. {why}", why=reason), "problem"
    figure = charge.in_service if charge.where_set is None else charge.where_set
    parts = [_rule(results)]
    if column.moves is not None:
        moves = signed(column.moves, PRESSURE, display)
        parts.append(tr("{moves} against today.", moves=moves))
    if column.left is not None:
        parts.append(left_sentence(column.left, display))
    parts.append(
        tr("Power off and locked out, tank drained, gauge at zero: only then read or set the air.")
    )
    if charge.where_set is not None:
        service = display.text(charge.in_service, PRESSURE)
        parts.insert(0, tr("Where it is set, to be {service} in service.", service=service))
    role = "muted"
    if _is_above_cut_in(column):
        role = "caution"
        parts.insert(0, tr("Above cut-in: the tank empties before the pump starts."))
    return display.text(figure, PRESSURE), " ".join(parts), role


def _is_above_cut_in(column: BandColumn) -> bool:
    """As a precharge stays that was typed so; by a rule none is."""
    return column.setting is not None and column.setting.below_cut_in < 0.0


def _rule(results: Results) -> str:
    rule = precharge_rules()[results.job.precharge_rule].label
    return f"{rule[:1].upper()}{rule[1:]}."


def told_of_bands(columns: Iterable[BandColumn], display: Display) -> list[Finding]:
    """What stands against bands, each with the band before it."""
    return [
        replace(one, text=f"{band_name(column, display)}: {one.text}")
        for column in columns
        for one in column.findings
    ]


# --- the table ---


def table(view: BandsView, display: Display) -> tuple[list[str], list[list[Cell]]]:
    """Bands as columns, today's first and heavier."""
    columns = ["", *(_heading(one, display) for one in view.columns)]
    shown = [in_shown_units(one, display) for one in view.columns]
    cells = [Cell(text) for text in shown] if any(shown) else []
    rows = [
        *([_row(view, tr("Cut-in and cut-out"), cells, "band")] if cells else []),
        *_tank_rows(view, display),
        *_pump_rows(view, display),
        *_site_rows(view, display),
        *_vessel_rows(view, display),
        _row(view, tr("Tank for today's run"), [_tank(one) for one in view.columns], "tank"),
        _row(view, tr("Its catalogue price"), _each(view, _price, display), "price"),
    ]
    return columns, rows


Tell = Callable[[BandColumn, Display], Cell]


def _each(view: BandsView, tell: Tell, display: Display) -> list[Cell]:
    return [tell(one, display) for one in view.columns]


def _tank_rows(view: BandsView, display: Display) -> list[list[Cell]]:
    """What today's tank gives, and its precharge."""
    told: tuple[tuple[str, Tell, str], ...] = (
        (tr("Drawdown"), _drawdown, "drawdown"),
        (tr("Against today"), _change, "change"),
        (tr("Run, no tap open"), _run, "run"),
        (tr("Starts an hour at worst"), _starts, "starts"),
        (tr("Precharge to set"), _charge, "charge"),
        (tr("Precharge moves"), _moves, "moves"),
        (tr("Precharge left as it is"), _left, "left"),
        (tr("Head at cut-out"), _head, "head"),
    )
    return [_row(view, name, _each(view, tell, display), word) for name, tell, word in told]


def _site_rows(view: BandsView, display: Display) -> list[list[Cell]]:
    return [
        _row(view, tr("Lowest fixture, cut-out"), _each(view, _lowest, display), "lowest"),
        _row(view, tr("Highest fixture, cut-in"), _each(view, _highest, display), "highest"),
    ]


def table_remark(view: BandsView, display: Display) -> str:
    """What the figures of the table rest on."""
    return tr(
        "Today's tank: {tank}. At most 80 psi at rest at a fixture (International Residential Code"
        " P2903.3.1); while it flows at least 8 psi, showers and tubs 20 (table P2903.1), less what"
        " the house's pipes lose. Head by 2.307 ft for 1 psi; the trade's 2.31 is 0.1 % more. The"
        " tank for today's run is the smallest by total volume that passes every other limit.",
        tank=tank_name(view, display),
    )


def _heading(column: BandColumn, display: Display) -> str:
    name = band_name(column, display)
    return tr("{band}, today", band=name) if column.is_today else name


_NONE = "-"  # the key of a cell that says in words why it has no figure


def _row(view: BandsView, name: str, cells: list[Cell], word: str) -> list[Cell]:
    """A row; ``word`` names the working of its figures."""
    own = [
        cell._replace(own=one.is_today, key=_key(cell.key or word, place))
        for place, (one, cell) in enumerate(zip(view.columns, cells, strict=True))
    ]
    return [Cell(name), *own]


def _key(word: str, place: int) -> str:
    return "" if word == _NONE else f"bands.{word}:{place}"


def _drawdown(column: BandColumn, display: Display) -> Cell:
    if column.gives is None:
        return Cell(why_no_cycle(column), "problem", key="reach" if column.never_stops else _NONE)
    return Cell(water(column.gives.drawdown, display))


def _change(column: BandColumn, display: Display) -> Cell:
    if column.share is None or column.change is None:
        return Cell(NONE)
    amount = less_or_more(column.change, display)
    return Cell(tr("{amount}, {share}", amount=amount, share=share_text(column.share, display)))


def _run(column: BandColumn, display: Display) -> Cell:
    if column.gives is None or column.gives.run is None:
        return Cell(NONE)
    return Cell(display.text(column.gives.run, TIME))


def _starts(column: BandColumn, display: Display) -> Cell:
    if column.gives is None or column.gives.starts is None:
        return Cell(NONE)
    return Cell(display.number(column.gives.starts, STARTS_PER_HOUR))


def _charge(column: BandColumn, display: Display) -> Cell:
    charge = column.precharge
    if charge is None:
        return Cell(tr("withheld"), "problem", key=_NONE)
    text = display.text(charge.in_service, PRESSURE)
    if charge.where_set is not None:
        where = display.text(charge.where_set, PRESSURE)
        text = tr("{where}, {service} in service", where=where, service=text)
    if _is_above_cut_in(column):
        return Cell(tr("{pressure}, above cut-in", pressure=text), "caution")
    return Cell(text)


def _moves(column: BandColumn, display: Display) -> Cell:
    return Cell(NONE if column.moves is None else signed(column.moves, PRESSURE, display))


def _left(column: BandColumn, display: Display) -> Cell:
    left = column.left
    if left is None:
        return Cell(NONE)
    share = share_text(-left.share, display)
    text = tr("{amount}, {share}", amount=water(left.drawdown, display), share=share)
    if left.gap > 0.0:
        return Cell(tr("{text}, then none", text=text), "caution")
    return Cell(text)


def _head(column: BandColumn, display: Display) -> Cell:
    head = display.text(column.head, HEAD)
    if column.is_today:
        return Cell(head)
    more = signed(column.head_more, HEAD, display)
    return Cell(tr("{amount}, {share}", amount=head, share=more))


def _pump_rows(view: BandsView, display: Display) -> list[list[Cell]]:
    """Flows and reach; left out where one flow tells nothing of them."""
    pumps = [one.pump for one in view.columns]
    if all(pump is None or pump.delivery.is_constant for pump in pumps):
        return []
    return [
        _row(view, tr("Flow at cut-in"), [
            _flow(pump.at_cut_in if pump else None, display) for pump in pumps
        ], "flow_in"),
        _row(view, tr("Flow at cut-out"), [
            _flow(pump.at_cut_out if pump else None, display) for pump in pumps
        ], "flow_out"),
        _row(view, tr("Reach above cut-out"), _each(view, _reach, display), "reach"),
    ]  # fmt: skip


def _flow(point: WorkingPoint | None, display: Display) -> Cell:
    return Cell(NONE if point is None else display.text(point.flow, FLOW))


def _reach(column: BandColumn, display: Display) -> Cell:
    pump = column.pump
    if pump is None or pump.margin is None:
        return Cell(NONE)
    margin = signed(pump.margin, PRESSURE, display)
    if column.never_stops:
        return Cell(tr("{margin}, never stops", margin=margin), "problem")
    if pump.small_margin:
        return Cell(tr("{margin}, little", margin=margin), "caution")
    return Cell(margin)


def _lowest(column: BandColumn, display: Display) -> Cell:
    text = display.text(column.lowest, PRESSURE)
    if column.lowest > STATIC_LIMIT and _has(column, "lowest_above_80", "static_above_80"):
        return Cell(tr("{pressure}, too high", pressure=text), "caution")
    return Cell(text)


def _highest(column: BandColumn, display: Display) -> Cell:
    text = display.text(column.highest, PRESSURE)
    if column.highest < SHOWER and _has(column, "highest_below_8", "highest_below_20"):
        return Cell(tr("{pressure}, low", pressure=text), "caution")
    return Cell(text)


def _has(column: BandColumn, *codes: str) -> bool:
    return any(one.code in codes for one in (*column.findings, *column.results.findings))


def _vessel_rows(view: BandsView, display: Display) -> list[list[Cell]]:
    """What tank and relief valve are marked, where that is known."""
    rows = []
    tank = view.tank
    if tank is not None and tank.rating is not None:
        name = tr("Of the {marked} marked", marked=display.text(tank.rating, PRESSURE))
        rows.append(_row(view, name, _each(view, _vessel, display), "vessel"))
    if view.site.relief is not None:
        rows.append(
            _row(view, tr("Relief valve above cut-out"), _each(view, _relief, display), "relief")
        )
    if tank is not None and tank.highest_precharge is not None:
        most = display.text(tank.highest_precharge, PRESSURE)
        name = tr("Charge, {most} allowed", most=most)
        rows.append(_row(view, name, [_allowed(one) for one in view.columns], "allowed"))
    return rows


def _vessel(column: BandColumn, display: Display) -> Cell:
    if column.needs is None:
        return Cell(NONE)
    text = tr("{needs} needed", needs=display.text(column.needs, PRESSURE))
    if _has(column, "vessel_too_weak"):
        return Cell(tr("{text}, too weak", text=text), "problem")
    return Cell(text)


def _relief(column: BandColumn, display: Display) -> Cell:
    if column.relief_above is None:
        return Cell(NONE)
    text = signed(column.relief_above, PRESSURE, display)
    if _has(column, "relief_below_cut_out"):
        return Cell(tr("{text}, opens first", text=text), "problem")
    if _has(column, "relief_near_cut_out"):
        return Cell(tr("{margin}, little", margin=text), "caution")
    return Cell(text)


def _allowed(column: BandColumn) -> Cell:
    if column.setting is None:
        return Cell(NONE)
    if _has(column, "precharge_above_allowed"):
        return Cell(tr("too high"), "problem")
    return Cell(tr("within"))


def _tank(column: BandColumn) -> Cell:
    if column.is_today or column.keeps_run is None:
        return Cell(NONE)
    if column.keeps_run:
        return Cell(tr("today's"), key=_NONE)
    if column.replacement is None:
        return Cell(tr("none passes"), "caution", key=_NONE)
    return Cell(column.replacement.one.name)


def _price(column: BandColumn, display: Display) -> Cell:
    if column.replacement is None:
        return Cell(NONE)
    return Cell(price_text(column.replacement, display) or NONE)
