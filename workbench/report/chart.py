"""The counter chart: the firm's stock at the usual bands, to print and pin up. No prices."""

from __future__ import annotations

import datetime
import hashlib
import json
from collections.abc import Iterator, Sequence

from workbench.job.choices import precharge_rules
from workbench.report.blocks import Block, PaperContent, Section, Table, Warn, Words
from workbench.report.estimate_words import level_word
from workbench.report.letterhead import sheet_of
from workbench.report.paper_display import paper_display
from workbench.report.sheet import LANGUAGE, NO_BREAK, foot_line, small_head, withheld
from workbench.study.chart.record import chart_record
from workbench.study.chart.view import ChartBand, ChartCell, ChartRow, ChartView, Pick, RunTable
from workbench.study.evaluate import Results
from workbench.study.findings import Level
from workbench.study.pricing.money import date_text
from workbench.study.ranking import Fails
from workbench.units import (
    FLOW,
    PRESSURE,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
    Kind,
    Quantity,
)
from workbench.units.kinds import ALTITUDE
from workbench.words import tr

_NONE = "–"
_PSI = PRESSURE.units["psi"].factor
_MOST_SOURCES = 3
_STATIC_LIMIT = 80 * _PSI  # International Residential Code P2903.3.1


def chart_content(results: Results, display: Display, file: str = "") -> PaperContent | str:
    """The chart of a job's bands, or in words why there is none.

    Args:
        file: what the catalogue is called, without its folder.
    """
    job, view = results.job, results.chart
    display = paper_display(job, display)
    if view.is_empty:
        stops = [one for one in view.findings if one.level is Level.STOP]
        return withheld(stops, display, tr("There is no chart."))
    dates = _dates(view)
    tables = view.runs[display.system]
    return PaperContent(
        kind="chart",
        title=tr("Counter chart"),
        language=LANGUAGE,
        sheet=sheet_of(job),
        date=dates[-1].isoformat() if dates else "",
        head=small_head(job),
        facts=tuple(_facts(results, dates, file, display)),
        sections=(
            Section(key="caution", heading="", blocks=tuple(_cautions(results))),
            _drawdowns(view, display),
            *(_run(table, view, display) for table in tables),
            _about_picks(view, tables),
        ),
        foot=foot_line(_fingerprint(results)),
    )


def _fingerprint(results: Results) -> str:
    """Twelve hexadecimal digits over all that the chart rests on, and no other entry."""
    figures = {name: one for name, one in chart_record(results).items() if name != "findings"}
    rows = [row.tank.model_dump(mode="json") for row in results.chart.rows]
    text = json.dumps([figures, rows], sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:12]


# --- beside the title ---


def _facts(
    results: Results, dates: Sequence[datetime.date], file: str, display: Display
) -> Iterator[tuple[str, str]]:
    job, rows = results.job, results.chart.rows
    if file:
        yield tr("Catalogue"), file
    yield tr("Rows dated"), _span(results, dates)
    sources = sorted({row.tank.source for row in rows if row.tank.source})
    if len(sources) > _MOST_SOURCES:
        yield tr("Their sources"), tr("{count} different ones", count=len(sources))
    elif sources:
        yield tr("Their source"), "; ".join(sources)
    if isinstance(job.altitude, Quantity):
        yield tr("Altitude"), display.typed(job.altitude, ALTITUDE)
    yield tr("Precharge"), precharge_rules()[job.precharge_rule].label


def _dates(view: ChartView) -> list[datetime.date]:
    return sorted({row.tank.date for row in view.rows if row.tank.date is not None})


def _span(results: Results, dates: Sequence[datetime.date]) -> str:
    if not dates:
        return tr("not stated")
    first, last = (date_text(day, results.job) for day in (dates[0], dates[-1]))
    text = first if first == last else tr("{first} to {last}", first=first, last=last)
    if all(row.tank.date is not None for row in results.chart.rows):
        return text
    return tr("{dates}, some not stated", dates=text)


def _cautions(results: Results) -> Iterator[Block]:
    view = results.chart
    caution = level_word(Level.CAUTION)
    yield Warn(
        word=caution,
        text=tr("A drawdown holds only with the precharge of its band, set with the tank drained,"
                " and only up to the working pressure marked on the tank. Hold both against the"
                " tank's label and the local codes. Power off and locked, proven dead, before a"
                " tank or a switch is touched."),
    )  # fmt: skip
    high = [band.name for band in view.bands if band.setting and band.cut_out > _STATIC_LIMIT]
    if high:
        yield Warn(
            word=caution,
            text=tr("Above the 80 psi allowed at fixtures (International Residential Code"
                    " P2903.3.1): {names}.", names=", ".join(high)),
        )  # fmt: skip
    if any(band.setting and band.setting.below_cut_in < 0.0 for band in view.bands):
        yield Warn(
            word=caution,
            text=tr("This precharge lies above cut-in: the tank is empty before the pump starts."),
        )


# --- drawdowns ---


def _drawdowns(view: ChartView, display: Display) -> Section:
    unit = display.symbol(VOLUME)
    columns = (
        tr("Tank"),
        tr("Total, {unit}", unit=unit),
        tr("Acceptance, {unit}", unit=unit),
        *(_band_name(band, display) for band in view.bands),
    )
    heading = tr("Drawdown: water between the pump's stop and its next start, in {unit}", unit=unit)
    table = Table(
        name=heading,
        columns=columns,
        rows=(_precharges(view, display), *(_tank_row(row, display) for row in view.rows)),
        strong=(0,),
    )
    return Section(
        key="drawdown",
        heading=heading,
        blocks=(table, *_legend(view, display)),
    )  # fmt: skip


def _band_name(band: ChartBand, display: Display) -> str:
    """As typed; beneath it in the shown unit where that is another."""
    typed = f"{band.name} {band.unit}".strip()
    if band.unit == display.symbol(PRESSURE):
        return typed
    numbers = "/".join(display.number(one, PRESSURE) for one in (band.cut_in, band.cut_out))
    return f"{typed}\n{numbers} {display.symbol(PRESSURE)}"


def _precharges(view: ChartView, display: Display) -> tuple[str, ...]:
    return (
        tr("Precharge, {unit}", unit=display.symbol(PRESSURE)),
        "",
        "",
        *(
            _NONE if band.setting is None else display.number(band.setting.precharge, PRESSURE)
            for band in view.bands
        ),
    )


def _tank_row(row: ChartRow, display: Display) -> tuple[str, ...]:
    tank = row.tank
    limit = tank.acceptance
    return (
        _tank_name(row),
        _short_number(tank.total_volume, VOLUME, display),
        tr("not stated") if limit is None else display.number(limit, VOLUME),
        *(_cell(cell, display) for cell in row.cells),
    )


def _tank_name(row: ChartRow) -> str:
    return f"{row.tank.name} *" if row.tank.in_stock is None else row.tank.name


def _cell(cell: ChartCell | None, display: Display) -> str:
    if cell is None:
        return _NONE
    if Fails.WORKING_PRESSURE in cell.fails:
        return tr("{none} marking", none=_NONE)
    if Fails.PRECHARGE_TOO_HIGH in cell.fails:
        return tr("{none} charge", none=_NONE)
    return display.number(cell.drawdown, VOLUME)


def _legend(view: ChartView, display: Display) -> Iterator[Words]:
    """What the marks in the table mean, and which tanks are not in it."""
    told = [*_about_cells(view, display), *_about_stock(view)]
    if told:
        yield Words(text=" ".join(told), tone="muted")


def _about_cells(view: ChartView, display: Display) -> Iterator[str]:
    fails = Fails(0)
    for row in view.rows:
        for cell in row.cells:
            fails |= Fails(0) if cell is None else cell.fails
    if Fails.WORKING_PRESSURE in fails:
        yield tr(
            "{none} marking: the working pressure marked on the tank is under cut-out and"
            " {margin}.",
            none=_NONE,
            margin=display.text(view.margin, PRESSURE),
        )
    if Fails.PRECHARGE_TOO_HIGH in fails:
        yield tr("{none} charge: it may not be charged so high.", none=_NONE)
    if any(band.setting is None for band in view.bands):
        yield tr("{none}: the precharge rule does not suit this band.", none=_NONE)


def _about_stock(view: ChartView) -> Iterator[str]:
    if any(row.tank.in_stock is None for row in view.rows):
        yield tr("* The catalogue does not say whether it is in stock.")
    if any(row.tank.acceptance is None for row in view.rows):
        yield tr("Acceptance not stated: the membrane may let in less than is worked out here.")
    if view.away:
        yield tr("Not in stock and left out: {count}.", count=view.away)
    if view.unlisted:
        yield tr("Without a potable-water listing and left out: {count}.", count=view.unlisted)


# --- runs ---


def _run(table: RunTable, view: ChartView, display: Display) -> Section:
    heading = tr(
        "Smallest tank for a run of {run} at no demand, at most {starts} starts an hour",
        run=_short(table.run, TIME, display),
        starts=_short_number(1.0 / (4.0 * table.run), STARTS_PER_HOUR, display),
    )
    rows = tuple(
        (_short(flow, FLOW, display), *(_pick(one, display) for one in picks))
        for flow, picks in zip(table.flows, table.picks, strict=True)
    )
    columns = (tr("Pump flow"), *(_band_name(band, display) for band in view.bands))
    return Section(
        key=f"run-{table.run:g}",
        heading=heading,
        blocks=(Table(name=heading, columns=columns, rows=rows),),
    )


def _short(value: float, kind: Kind, display: Display) -> str:
    return f"{_short_number(value, kind, display)} {display.symbol(kind)}".strip()


def _short_number(value: float, kind: Kind, display: Display) -> str:
    """As usual, but a whole number without its noughts."""
    whole, mark, part = display.number(value, kind).partition(display.mark)
    part = part.rstrip("0")
    return f"{whole}{mark}{part}" if part else whole


def _pick(pick: Pick | None, display: Display) -> str:
    if pick is None:
        return _NONE
    volume = _short(pick.tank.total_volume, VOLUME, display).replace(" ", NO_BREAK)
    if pick.count == 1:
        return f"{pick.tank.name}, {volume}"
    return tr("two of {tank}, {volume}", tank=pick.tank.name, volume=volume)


def _about_picks(view: ChartView, tables: Sequence[RunTable]) -> Section:
    every = [pick for table in tables for row in table.picks for pick in row]
    told = [tr("Pump flow: the mean over the band, measured at the tank.")]
    if any(pick is not None and pick.count > 1 for pick in every):
        told.append(tr("Two of: both on one header, at the same precharge."))
    if None in every:
        told.append(
            tr(
                "{none}: neither one tank of the stock nor two equal ones give so much, or"
                " the band has no figures.",
                none=_NONE,
            )
        )
    if any(row.tank.kind.in_ground for row in view.rows):
        told.append(tr("Tanks to be buried are not chosen here."))
    return Section(key="about", heading="", blocks=(Words(text=" ".join(told), tone="muted"),))
