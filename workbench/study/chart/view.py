"""The firm's stock at the usual bands: what each tank gives, and which one a run asks for.

Every figure comes from the evaluation of the job with its switch at that band, so the chart says
what the bench says. The job's door, headroom and pump have no say: a chart is for every job.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from workbench.catalog.columns import TankColumns
from workbench.catalog.tank import Tank
from workbench.job.choices import Order, RunTimeRule
from workbench.job.job import Job
from workbench.job.pump_choices import PumpEntry
from workbench.physics.forgiving import SAME
from workbench.study.at_band import band_changes
from workbench.study.candidates import Candidates
from workbench.study.evaluate import Results, evaluate
from workbench.study.findings import Finding, Level
from workbench.study.lines import band_lines
from workbench.study.ranking import Fails, Ranking
from workbench.study.setting import Setting
from workbench.units import FLOW, STARTS_PER_HOUR, TIME, Band, Bands, System, parse
from workbench.words import tr

MOST_TANKS = 300
"""More tanks than this make no chart that anyone pins up."""
MOST_ON_HEADER = 2
_FLOWS = {
    System.US: tuple(parse(f"{n} gpm", FLOW).si for n in (5, 7, 10, 12, 15, 20, 25)),
    System.METRIC: tuple(parse(f"{n} L/min", FLOW).si for n in (20, 25, 40, 45, 60, 75, 100)),
}
_RUNS = tuple(parse(f"{n} min", TIME).si for n in (1, 1.5, 2))
_LACKS = Fails.DRAWDOWN | Fails.RUN  # against a required drawdown; here there is none


@dataclass(frozen=True, slots=True)
class ChartBand:
    """One column: the band's name as typed with its unit, and how switch and tank are set.

    ``setting`` is None where the precharge would lie below zero or keep water out. ``is_own``: it
    is the job's band.
    """

    name: str
    unit: str
    cut_in: float
    cut_out: float
    setting: Setting | None
    is_own: bool


@dataclass(frozen=True, slots=True)
class ChartCell:
    """One tank at one band: its drawdown [m³], and what keeps it from being used there."""

    drawdown: float
    fails: Fails

    @property
    def can_be_used(self) -> bool:
        """Whether nothing but a too great demand speaks against it."""
        return not self.fails


@dataclass(frozen=True, slots=True)
class ChartRow:
    """One tank of the stock over all bands; a cell is None where the band has no setting."""

    tank: Tank
    cells: tuple[ChartCell | None, ...]


@dataclass(frozen=True, slots=True)
class Pick:
    """The smallest of the stock that gives a drawdown: one tank, or two equal ones.

    A tank that is made to be buried is never picked: where it goes is no question of size.
    """

    tank: Tank
    count: int
    drawdown: float


@dataclass(frozen=True, slots=True)
class RunTable:
    """The tank for each pump flow [m³/s] (rows) and band (columns) at one run [s].

    A pick is None where neither one tank of the stock nor two equal ones give so much.
    """

    run: float
    flows: tuple[float, ...]
    picks: tuple[tuple[Pick | None, ...], ...]


@dataclass(frozen=True, slots=True)
class ChartView:
    """The chart (SI). ``rows`` are sorted by total volume; ``runs`` are there for each system.

    ``bands`` is empty where an entry stands in the way. ``away`` counts the tanks that are not in
    stock, ``unlisted`` those left out because the job asks for a potable-water listing. ``margin``
    [Pa] is what a marked working pressure must have over cut-out.
    """

    bands: tuple[ChartBand, ...]
    rows: tuple[ChartRow, ...]
    runs: dict[System, tuple[RunTable, ...]]
    margin: float
    ambient: float
    away: int
    unlisted: int
    findings: tuple[Finding, ...]

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to print."""
        return not self.rows


def chart_view(results: Results) -> ChartView:
    """The chart of a job's bands; what stands in the way is a stop of its findings."""
    plain = _plain(results.job)
    own = evaluate(plain, None)
    setting, stops = own.setting, own.of_level(Level.STOP)
    if setting is None or stops:
        return _nothing(stops)
    if results.candidates is None:
        return _nothing((_no_stock(),))
    stock, away, unlisted = _stock(results.candidates, results.job.potable_required)
    if not stock or len(stock) > MOST_TANKS:
        return _nothing((_too_many(len(stock)) if stock else _no_stock(),), away, unlisted)
    by_id = {tank.id: tank for tank in stock}
    candidates = Candidates.of(TankColumns.from_tanks(stock), by_id, MOST_ON_HEADER)
    columns = [_column(plain, one, candidates) for one in _bands(plain, setting)]
    bands = tuple(band for band, _ in columns)
    rankings = tuple(found.ranking if band.setting is not None else None for band, found in columns)
    limits = own.inputs.limits
    return ChartView(
        bands=bands,
        rows=tuple(_row(tank, rankings) for tank in stock),
        runs={
            system: tuple(_run_table(run, flows, rankings) for run in _RUNS)
            for system, flows in _FLOWS.items()
        },
        margin=limits.pressure_margin if limits else 0.0,
        ambient=setting.ambient,
        away=away,
        unlisted=unlisted,
        findings=(*_low(bands), *_unstated(stock)),
    )


def _nothing(findings: tuple[Finding, ...], away: int = 0, unlisted: int = 0) -> ChartView:
    return ChartView((), (), {}, 0.0, 0.0, away, unlisted, findings)


def _plain(job: Job) -> Job:
    """The job without what is this site's alone; whatever then stops it stops every band."""
    return replace(
        job,
        pump_entry=PumpEntry.CONSTANT,
        pump_flow=parse("10 gpm", FLOW),
        run_time_rule=RunTimeRule.TYPED,
        run_time=parse("1 min", TIME),
        starts_limit=parse("6 /h", STARTS_PER_HOUR),
        door_width=None,
        headroom=None,
        reading_temperature=None,
        reading_altitude=None,
        order=Order.PRICE,
    )


# --- the stock ---


def _stock(candidates: Candidates, potable: bool) -> tuple[tuple[Tank, ...], int, int]:
    """The tanks in stock or not stated, smallest first; how many are away; how many unlisted."""
    every = candidates.tanks.values()
    there = [tank for tank in every if tank.in_stock is not False]
    fit = [tank for tank in there if tank.potable_listed or not potable]
    fit.sort(key=lambda tank: (tank.total_volume, *_price_name_id(tank)))
    return tuple(fit), len(every) - len(there), len(there) - len(fit)


def _price_name_id(tank: Tank) -> tuple[float, str, str]:
    """As the ranking breaks its ties."""
    price = float("inf") if tank.price is None else float(tank.price)
    return price, tank.name.casefold(), tank.id


# --- bands ---


def _bands(job: Job, setting: Setting) -> Iterator[tuple[Band, str, bool]]:
    """The bands of the list and the job's own, the lowest first, with their units."""
    listed, unit = (job.bands.bands, job.bands.unit) if isinstance(job.bands, Bands) else ((), "")
    others = [
        (one, unit, False)
        for one in dict.fromkeys(listed)
        if not _same(one.cut_in, setting.cut_in) or not _same(one.cut_out, setting.cut_out)
    ]
    own = band_lines(job, setting)[0]
    mine = (Band(setting.cut_in, setting.cut_out, own.name), own.unit, True)
    yield from sorted([mine, *others], key=lambda one: (one[0].cut_in, one[0].cut_out))


def _same(a: float, b: float) -> bool:
    return abs(a - b) <= SAME * max(abs(a), abs(b))


def _column(
    plain: Job, one: tuple[Band, str, bool], candidates: Candidates
) -> tuple[ChartBand, Results]:
    """A band, and the whole stock judged at it."""
    band, unit, is_own = one
    there = plain if is_own else replace(plain, **band_changes(plain, band, unit))
    found = evaluate(there, candidates)
    is_sound = found.ranking is not None and found.precharge is not None  # else a stop stands
    usable = found.setting if is_sound else None
    return ChartBand(band.name, unit, band.cut_in, band.cut_out, usable, is_own), found


# --- cells ---


def _row(tank: Tank, rankings: tuple[Ranking | None, ...]) -> ChartRow:
    return ChartRow(
        tank,
        tuple(
            None if one is None else _cell(one, one.candidates.by_key[tank.id]) for one in rankings
        ),
    )


def _cell(ranking: Ranking, index: int) -> ChartCell:
    return ChartCell(float(ranking.drawdown[index]), Fails(int(ranking.fails[index])) & ~_LACKS)


def _run_table(
    run: float, flows: tuple[float, ...], rankings: tuple[Ranking | None, ...]
) -> RunTable:
    return RunTable(
        run,
        flows,
        tuple(tuple(_pick(one, flow * run) for one in rankings) for flow in flows),
    )


def _pick(ranking: Ranking | None, required: float) -> Pick | None:
    """The smallest single tank that gives ``required`` [m³], else the smallest equal pair."""
    if ranking is None:
        return None
    every = ranking.candidates
    enough = (
        (ranking.drawdown >= required * (1.0 - SAME))
        & ((ranking.fails & ~_LACKS) == 0)
        & ~every.columns.in_ground[every.tank]
    )
    for count in range(1, MOST_ON_HEADER + 1):
        fit = np.flatnonzero(enough & (every.count == count))
        if fit.size:
            best = min(fit, key=lambda index: _smallest(every, int(index)))
            return Pick(every.parts(int(best))[0], count, float(ranking.drawdown[best]))
    return None


def _smallest(every: Candidates, index: int) -> tuple[float, float, str, str]:
    return float(every.volume[index]), *_price_name_id(every.parts(index)[0])


# --- findings ---


def _no_stock() -> Finding:
    return Finding(
        Level.STOP,
        "chart_no_stock",
        "",
        tr("No tank of the catalogue is in stock and usable here."),
        tr("Choose the firm's own catalogue, and say in it what is in stock."),
    )


def _too_many(count: int) -> Finding:
    return Finding(
        Level.STOP,
        "chart_too_many",
        "",
        tr(
            "{count} tanks are in stock or not stated; a chart holds {most}.",
            count=count,
            most=MOST_TANKS,
        ),
        tr("Say in the catalogue what is not in stock."),
    )


def _low(bands: tuple[ChartBand, ...]) -> Iterator[Finding]:
    low = [band.name for band in bands if band.setting is None]
    if low:
        yield Finding(
            Level.CAUTION,
            "chart_band_low",
            "bands",
            tr("The precharge rule does not suit these, so they stand without figures: {names}.",
               names=", ".join(low)),
            tr("Leave them out, or choose another rule."),
        )  # fmt: skip


def _unstated(stock: tuple[Tank, ...]) -> Iterator[Finding]:
    count = sum(tank.in_stock is None for tank in stock)
    if count:
        yield Finding(
            Level.NOTE,
            "chart_stock_not_stated",
            "",
            tr("Tanks of which the catalogue does not say whether they are in stock, marked on the"
               " chart: {count}.", count=count),
        )  # fmt: skip
