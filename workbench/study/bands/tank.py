"""The tank that is there now: typed from its label, or one of the catalogue; and what it gives."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

import numpy as np

from workbench.catalog.tank import Tank
from workbench.physics.air import FloatArray
from workbench.physics.forgiving import SAME
from workbench.physics.tank import drawdown
from workbench.study.chosen import chosen
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.ranking import Fails, Judged
from workbench.study.reader import Reader
from workbench.study.setting import Setting, pressures
from workbench.study.supply import Supply
from workbench.words import tr

LABEL = ("today_acceptance", "today_rating")
"""What is typed of today's tank besides its total volume."""


@dataclass(frozen=True, slots=True)
class Gives:
    """A tank at a setting: drawdown [m³], run at no demand [s], worst starts [1/s] (None: not
    known, as no pump is)."""

    drawdown: float
    run: float | None
    starts: float | None


@dataclass(frozen=True, eq=False)
class TodaysTank:
    """What stands on the header now (SI). ``key`` and ``parts`` are empty where it was typed.

    ``volume`` and ``acceptance`` (n,) [m³], inf where not known. ``rating``: highest marked
    pressure [Pa]; ``highest_precharge`` [Pa]; None where not known. ``is_named``: typed, or named
    by the job, and not by the ranking alone.
    """

    key: str
    parts: tuple[Tank, ...]
    volume: FloatArray
    acceptance: FloatArray
    rating: float | None
    highest_precharge: float | None
    is_named: bool

    @property
    def name(self) -> str:
        """As the ranking names it; empty where it was typed."""
        kinds = list(dict.fromkeys(part.name for part in self.parts))
        if len(kinds) == 1 and len(self.parts) > 1:
            return f"{len(self.parts)} × {kinds[0]}"
        return " + ".join(kinds)

    @property
    def total_volume(self) -> float:
        """Of all tanks [m³]."""
        return float(self.volume.sum())

    @property
    def price(self) -> Decimal | None:
        """By the catalogue; None where it has none."""
        return price_of(self.parts)

    def gives(self, setting: Setting, supply: Supply | None) -> Gives:
        """Its drawdown, run and worst starts, as they are ranked."""
        precharge, cut_in, cut_out = pressures(setting)
        exponent = setting.exponent
        one = drawdown(precharge, cut_in, cut_out, self.volume, self.acceptance, exponent)
        water = float(one.sum())
        if supply is None:
            return Gives(water, None, None)
        run, factor = supply.runs(one, self.volume, self.acceptance)
        with np.errstate(divide="ignore", invalid="ignore"):
            starts = np.max(factor) / water if np.all(factor == factor[0]) else (
                1.0 / np.sum(one / factor)
            )  # fmt: skip
        return Gives(water, float(run.sum()), float(starts))


def price_of(parts: tuple[Tank, ...]) -> Decimal | None:
    """What these tanks cost by the catalogue; None where one has no price, or there are none."""
    prices = [part.price for part in parts]
    known = [price for price in prices if price is not None]
    return sum(known, Decimal(0)) if known and len(known) == len(prices) else None


def todays_tank(results: Results, reader: Reader) -> tuple[TodaysTank | None, tuple[Finding, ...]]:
    """The tank that was typed, else the one that the job names, else the first of the ranking."""
    if results.job.today_volume is not None:
        return _typed(results, reader), ()
    for name in LABEL:
        if getattr(results.job, name) is not None:
            reader.report(
                Level.NOTE,
                "label_not_used",
                name,
                tr("Not used: the tank is one of the catalogue."),
                tr("Type the total volume too, or leave this empty."),
            )
    key, candidates = results.job.first_tank, results.candidates
    if key and candidates is not None and key in candidates.by_key:
        # Without a ranking too: where the pump cannot stop, another band is just what is looked for
        return _of_catalog(key, candidates.parts(candidates.by_key[key]), is_named=True), ()
    one, gone = chosen(results, "first_tank")
    if one is None:
        return None, gone
    return _of_catalog(" + ".join(part.id for part in one.parts), one.parts, is_named=False), gone


def _of_catalog(key: str, parts: tuple[Tank, ...], *, is_named: bool) -> TodaysTank:
    highest = [part.highest_precharge for part in parts if part.highest_precharge is not None]
    return TodaysTank(
        key=key,
        parts=parts,
        volume=np.array([part.total_volume for part in parts]),
        acceptance=np.array(
            [np.inf if part.acceptance is None else part.acceptance for part in parts]
        ),
        rating=min(part.max_working_pressure for part in parts),
        highest_precharge=min(highest, default=None),
        is_named=is_named,
    )


def _typed(results: Results, reader: Reader) -> TodaysTank | None:
    volume = reader.above_zero("today_volume")
    acceptance, rating = (reader.above_zero(name) for name in LABEL)
    if acceptance is not None and volume is not None and acceptance > volume * (1.0 + SAME):
        reader.report(
            Level.STOP,
            "acceptance_above_volume",
            "today_acceptance",
            tr("A tank cannot accept more water than its total volume."),
            tr("Check both against the label."),
        )
        return None
    known = {"today_acceptance": acceptance, "today_rating": rating}
    unread = [name for name in LABEL if getattr(results.job, name) and known[name] is None]
    if volume is None or unread:
        return None
    if rating is None:
        reader.report(
            Level.CAUTION,
            "rating_unknown",
            "today_rating",
            tr("Without its marked working pressure the tank is held against no band."),
            tr("Read it from the label; without one treat no higher band as safe."),
        )
    limit = np.inf if acceptance is None else acceptance
    return TodaysTank("", (), np.array([volume]), np.array([limit]), rating, None, is_named=True)


@dataclass(frozen=True, slots=True)
class Replacement:
    """The smallest tank of the catalogue that runs as long as today's; what it costs more.

    ``price_more`` is None where one of the two has no price, or they are in different money.
    """

    one: Judged
    price: Decimal | None
    price_more: Decimal | None

    @property
    def currency(self) -> str:
        """The money in which the price stands, an ISO 4217 code."""
        return self.one.tank.currency


def replacement(results: Results, run: float, today: TodaysTank) -> Replacement | None:
    """The tank with the least total volume that runs at least so long [s] at the results' band.

    It passes every other limit of the job; that of the job's own minimum run is another question.
    Of equal volumes the cheapest is taken, then the first of the ranking.
    """
    ranking = results.ranking
    if ranking is None:
        return None
    others = ranking.fails & ~int(Fails.DRAWDOWN | Fails.RUN)
    enough = np.flatnonzero((ranking.run_time >= run * (1.0 - SAME)) & (others == 0))
    if not len(enough):
        return None
    place = np.empty(len(ranking), dtype=np.int64)
    place[ranking.order] = np.arange(len(ranking))
    price = np.nan_to_num(ranking.candidates.price[enough], nan=np.inf)
    volume = ranking.candidates.volume[enough]
    best = enough[np.lexsort((place[enough], price, volume))[0]]
    one = ranking.judged(int(best))
    price_now, before = price_of(one.parts), today.price
    more = None
    if price_now is not None and before is not None and _same_money((*one.parts, *today.parts)):
        more = price_now - before
    return Replacement(one, price_now, more)


def _same_money(parts: tuple[Tank, ...]) -> bool:
    return len({part.currency for part in parts}) == 1
