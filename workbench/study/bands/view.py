"""Today's tank and pump at other switch bands: what each band costs, and what it brings.

Every column is the evaluation of the job with its switch moved (:mod:`workbench.study.at_band`), so
its figures are those of the job once the band is made the job's. The tank stays the one that is
there today, though the ranking of another band may begin with another.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from workbench.physics.forgiving import SAME
from workbench.physics.pump import WATER_WEIGHT
from workbench.study.at_band import at_band, band_changes
from workbench.study.bands.findings import SiteFacts, about_column, about_site, read_site
from workbench.study.bands.tank import Gives, Replacement, TodaysTank, replacement, todays_tank
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.pump.view import PumpView
from workbench.study.reader import Reader
from workbench.study.setting import Setting
from workbench.study.sizing import PrechargeToSet
from workbench.units import Band, Bands

_UNREACHED = {"cannot_reach", "curve_too_short"}  # there is no cycle at such a band
_NOT_OF_A_BAND = {"bands", "run_time", "starts_limit"}  # entries that go with the job, not a band


@dataclass(frozen=True, slots=True)
class LeftAsIs:
    """The usual slip: the band is moved, the precharge stays today's (SI).

    ``drawdown`` [m³], ``loss`` [m³] against the right precharge and ``share`` of it [-]. ``gap``
    [Pa]: from the emptying of the tank to cut-in, 0 where it does not empty. ``lasts`` and
    ``sooner`` [s]: after the pump's stop the water lasts so long at the steady draw, and ends so
    much sooner than with the right precharge; None without a gap or a draw.
    """

    precharge: float
    drawdown: float
    loss: float
    share: float
    gap: float
    lasts: float | None
    sooner: float | None


@dataclass(frozen=True, eq=False)
class BandColumn:
    """One band (SI, gauge pressures). None: not known, or withheld by a stop.

    ``gives``: today's tank at this band; None where the pump never stops there. ``change`` [m³] and
    ``share`` [-] of its drawdown against today's. ``precharge`` to set, and ``moves`` [Pa] from
    today's. ``head`` [m] of water at cut-out, ``head_more`` than today's. ``pump``: its flows and
    its reach at this band. ``lowest``: static pressure at the lowest fixture at cut-out;
    ``highest``: at the highest fixture at cut-in. ``needs``: cut-out and the job's margin.
    ``relief_above``: of the relief valve over cut-out. ``keeps_run``: whether today's tank runs as
    long as today; ``replacement``: the smallest that does, where it does not. ``findings``: what
    this band brings that today's does not, and what stands against tank and house at it.
    """

    name: str
    unit: str
    band: Band
    is_today: bool
    results: Results
    setting: Setting | None
    gives: Gives | None
    change: float | None
    share: float | None
    precharge: PrechargeToSet | None
    moves: float | None
    head: float
    head_more: float
    pump: PumpView | None
    lowest: float
    highest: float
    needs: float | None
    relief_above: float | None
    left: LeftAsIs | None
    keeps_run: bool | None
    replacement: Replacement | None
    findings: tuple[Finding, ...]

    @property
    def never_stops(self) -> bool:
        """Whether the pump cannot reach cut-out with every tap closed."""
        return self.pump is not None and self.pump.reaches is False

    @property
    def is_stopped(self) -> bool:
        """Whether a stop stands against this band."""
        return any(one.level is Level.STOP for one in self.findings)


@dataclass(frozen=True, eq=False)
class BandsView:
    """All that the page shows. ``columns``: today's band first, then the others as entered.

    There are none while today's band or tank is not known. ``draw`` [m³/s]: the steady draw.
    ``shut_off`` [Pa]: what the pump can reach; None where not known.
    """

    tank: TodaysTank | None
    site: SiteFacts
    draw: float | None
    shut_off: float | None
    columns: tuple[BandColumn, ...]
    findings: tuple[Finding, ...]

    @property
    def today(self) -> BandColumn | None:
        """Today's band."""
        return self.columns[0] if self.columns else None

    @property
    def others(self) -> tuple[BandColumn, ...]:
        """The bands that it is compared with."""
        return self.columns[1:]


def bands_view(results: Results) -> BandsView:
    """The page's figures; what stands in the way is among its findings or those of ``results``."""
    with np.errstate(all="ignore"):  # numbers beyond all tanks end in a finding, or in inf
        return _view(results)


def adopting(results: Results, column: BandColumn) -> dict[str, Any]:
    """The entries that make a column the job: its band, and today's tank by its name."""
    changes = band_changes(results.job, column.band, column.unit)
    tank = results.bands.tank
    if tank is not None and not tank.is_named:
        changes["first_tank"] = tank.key  # the first of the ranking may be another there
    return changes


def _view(results: Results) -> BandsView:
    reader = Reader(results.job)
    tank, gone = todays_tank(results, reader)
    site = read_site(results.job, reader)
    draw = reader.not_below_zero("steady_draw", needed=False)
    shut_off = results.pump.shut_off if results.pump else None
    columns: tuple[BandColumn, ...] = ()
    if tank is not None and results.setting is not None:
        columns = tuple(_columns(results, results.setting, tank, site, draw))
    told = [*gone, *reader.findings]
    if tank is not None:
        told += about_site(tank, site, shut_off, results, compares=len(columns) > 1)
    # The margin was read, and told, with the limits too.
    findings = tuple(one for one in told if one not in results.findings)
    if any(one.level is Level.STOP for one in findings):
        columns = tuple(replace(one, precharge=None, moves=None) for one in columns)
    return BandsView(tank, site, draw, shut_off, columns, findings)


def _columns(
    results: Results, setting: Setting, tank: TodaysTank, site: SiteFacts, draw: float | None
) -> Iterator[BandColumn]:
    line = results.lines[0]
    band = Band(setting.cut_in, setting.cut_out, line.name)
    today = _column(results, band, line.unit, None, tank, site, draw)
    yield today
    entered = results.job.bands
    if not isinstance(entered, Bands):
        return
    seen = [band]
    for other in entered.bands:
        if not any(_same(other, one) for one in seen):
            seen.append(other)
            moved = at_band(results, other, entered.unit)
            yield _column(moved, other, entered.unit, today, tank, site, draw)


def _same(one: Band, other: Band) -> bool:
    pairs = ((one.cut_in, other.cut_in), (one.cut_out, other.cut_out))
    return all(abs(a - b) <= SAME * max(a, b) for a, b in pairs)


def _column(
    at: Results,
    band: Band,
    unit: str,
    today: BandColumn | None,
    tank: TodaysTank,
    site: SiteFacts,
    draw: float | None,
) -> BandColumn:
    codes = {one.code for one in at.findings if one.level is Level.STOP}
    gives = None
    if at.setting is not None and not codes & _UNREACHED:
        gives = tank.gives(at.setting, at.inputs.supply)
    column = BandColumn(
        name=band.name,
        unit=unit,
        band=band,
        is_today=today is None,
        results=at,
        setting=at.setting,
        gives=gives,
        change=None,
        share=None,
        precharge=at.precharge,
        moves=None,
        head=band.cut_out / WATER_WEIGHT,
        head_more=0.0,
        pump=at.pump,
        lowest=band.cut_out + site.below * WATER_WEIGHT,
        highest=band.cut_in - site.above * WATER_WEIGHT,
        needs=None if site.margin is None else band.cut_out + site.margin,
        relief_above=None if site.relief is None else site.relief - band.cut_out,
        left=None,
        keeps_run=None,
        replacement=None,
        findings=(),
    )
    if today is not None:
        column = _against(column, today, tank, draw)
    brought = () if today is None else _brought(at, today.results)
    found = (*brought, *about_column(column, tank, site))
    if any(one.level is Level.STOP for one in found):
        column = replace(column, precharge=None, moves=None)
    return replace(column, findings=found)


def _brought(at: Results, today: Results) -> tuple[Finding, ...]:
    """What the evaluation says of this band and not of today's."""
    new = (one for one in at.findings if one not in today.findings)
    return tuple(one for one in new if one.field not in _NOT_OF_A_BAND)


def _against(
    column: BandColumn, today: BandColumn, tank: TodaysTank, draw: float | None
) -> BandColumn:
    """The column with what differs from today's."""
    changes: dict[str, Any] = {"head_more": column.head - today.head}
    if column.precharge is not None and today.setting is not None:
        changes["moves"] = column.precharge.in_service - today.setting.precharge
    if column.gives is not None and today.setting is not None and column.setting is not None:
        changes["left"] = _left(column, today.setting, tank, draw)
    if column.gives is None or today.gives is None:
        return replace(column, **changes)
    changes["change"] = change = column.gives.drawdown - today.gives.drawdown
    if today.gives.drawdown > 0.0:
        changes["share"] = change / today.gives.drawdown
    run, before = column.gives.run, today.gives.run
    if run is not None and before is not None:
        changes["keeps_run"] = run >= before * (1.0 - SAME)
        if not changes["keeps_run"]:
            changes["replacement"] = replacement(column.results, before, tank)
    return replace(column, **changes)


def _left(
    column: BandColumn, today: Setting, tank: TodaysTank, draw: float | None
) -> LeftAsIs | None:
    """With today's precharge; None where that is the right one here too."""
    setting, gives = column.setting, column.gives
    assert setting is not None  # noqa: S101 - asked only then
    assert gives is not None  # noqa: S101
    charge = today.precharge
    if abs(charge - setting.precharge) <= SAME * max(charge, setting.precharge):
        return None
    water = tank.gives(replace(setting, precharge=charge), None).drawdown
    loss = gives.drawdown - water
    gap = max(charge - setting.cut_in, 0.0)
    seconds = gap > 0.0 and draw is not None and draw > 0.0
    return LeftAsIs(
        precharge=charge,
        drawdown=water,
        loss=loss,
        share=loss / gives.drawdown if gives.drawdown > 0.0 else 0.0,
        gap=gap,
        lasts=water / draw if seconds and draw else None,
        sooner=loss / draw if seconds and draw else None,
    )
