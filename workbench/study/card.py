"""The setting card: what switch and precharge are set to, with which tolerance, on which tank.

The tank is the one that the entry ``first_tank`` names, else the first of the ranking that passes;
the estimate's options have no say, as each may have another band. Whatever would make the setting
unsafe or untrue is a stop here, and a stop withholds the whole card.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from workbench.job.job import Job
from workbench.job.labels import label_of
from workbench.physics.forgiving import SAME
from workbench.study.chosen import chosen
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.ranking import Fails, Judged, Ranking
from workbench.study.reader import Reader
from workbench.study.record import finding_record, us
from workbench.study.setting import Setting
from workbench.units import MASS, PRESSURE, SHORT_TIME, VOLUME
from workbench.words import tr

FULL_WATER = 8.34 * MASS.units["lb"].factor / VOLUME.units["gal"].factor
"""The weight of a tank's water [kg/m³] by the trade's 8.34 lb a gallon, as the cautions have it."""
ALARM = 2 * PRESSURE.units["psi"].factor
"""So far from the setting [Pa] a later check adds or lets out air. Washington State Department of
Health 331-342, "Troubleshooting Bladder Pressure Tanks", November 2010, has the same distance, but
from cut-in: with the usual target 2 psi below cut-in that would call a fresh setting too low."""
LONGEST = {"set_by": 40, "card_note": 200, "firm_name": 60, "firm_contact": 100}
"""Most characters of the texts on the card: what is longer would not leave it one page."""
MOST_LINES = 2
_PRINTED = {"precharge_above_cut_in", "static_above_80", "over_pressure", "reach_small"}
"""Cautions that the one in the basement must know."""


@dataclass(frozen=True, slots=True)
class Spread:
    """How far a setting may be off, either way: gauge pressures [Pa]."""

    precharge: float
    cut_in: float
    cut_out: float


@dataclass(frozen=True, slots=True)
class CardView:
    """All that the card says (SI). What is None follows from a stop of the findings or results.

    ``marked``: the lowest marked working pressure of the tanks [Pa]; ``highest``: the lowest of
    their highest precharges, None where none is stated; ``relief``: the relief valve, None where
    not known. ``alarm_low`` is None where it would lie at zero or below. ``full_water``: mass of
    the water [kg] that fills them. ``is_named``: the job names the tank. ``cautions`` are those
    that the card prints.
    """

    tank: Judged | None
    is_named: bool
    setting: Setting | None
    where_set: float | None
    spread: Spread | None
    marked: float | None
    highest: float | None
    relief: float | None
    alarm_low: float | None
    alarm_high: float | None
    full_water: float | None
    date: datetime.date | None
    cautions: tuple[Finding, ...]
    findings: tuple[Finding, ...]

    @property
    def stops(self) -> tuple[Finding, ...]:
        """Those of its own findings that withhold the card."""
        return tuple(one for one in self.findings if one.level is Level.STOP)


def card_view(results: Results) -> CardView:
    """What the card of a job says; its own findings are only those not already in the results."""
    job, reader = results.job, Reader(results.job)
    spread = _spread(reader)
    relief = None if job.relief_setting is None else reader.above_zero("relief_setting")
    tank, found = _tank(results)
    found = [*reader.findings, *found, *_long_texts(job)]
    setting = results.setting
    day = _date(job, found)
    marked = highest = None
    if tank is not None:
        marked = min(part.max_working_pressure for part in tank.parts)
        stated = [p.highest_precharge for p in tank.parts if p.highest_precharge is not None]
        highest = min(stated, default=None)
    if setting is not None and tank is not None and results.ranking is not None:
        found += _unsafe(tank, results.ranking, marked or 0.0, highest)
    if setting is not None:
        found += _about_relief(setting, relief, marked)
        found += _about_spread(setting, spread) if spread else ()
    charge = results.precharge
    low, high = _alarm(setting, spread)
    return CardView(
        tank=tank,
        is_named=bool(job.first_tank),
        setting=setting if charge is not None else None,
        where_set=charge.where_set if charge is not None else None,
        spread=spread,
        marked=marked,
        highest=highest,
        relief=relief,
        alarm_low=low,
        alarm_high=high,
        full_water=tank.total_volume * FULL_WATER if tank is not None else None,
        date=day,
        cautions=_printed(results),
        findings=tuple(found),
    )


def _spread(reader: Reader) -> Spread | None:
    values = [
        reader.not_below_zero(name) for name in ("tol_precharge", "tol_switch_in", "tol_switch_out")
    ]
    precharge, low, high = values
    if precharge is None or low is None or high is None:
        return None
    return Spread(precharge, low, high)


def _alarm(setting: Setting | None, spread: Spread | None) -> tuple[float | None, float | None]:
    """Never inside the tolerance of the setting itself."""
    if setting is None or spread is None:
        return None, None
    away = max(ALARM, spread.precharge)
    low = setting.precharge - away
    return (low if low > 0.0 else None), setting.precharge + away


def _printed(results: Results) -> tuple[Finding, ...]:
    of_pump = results.pump.findings if results.pump is not None else ()
    return tuple(one for one in (*results.findings, *of_pump) if one.code in _PRINTED)


# --- the tank ---


def _tank(results: Results) -> tuple[Judged | None, list[Finding]]:
    tank, found = chosen(results, "first_tank")
    if results.job.first_tank or results.setting is None or results.duty is None:
        return tank, list(found)
    if tank is None or not tank.passes:
        return None, [_no_tank()]
    text = tr("No tank is named: the card is for {tank}, the first that passes.", tank=tank.name)
    return tank, [Finding(Level.NOTE, "card_tank_not_named", "first_tank", text)]


def _no_tank() -> Finding:
    return Finding(
        Level.STOP,
        "card_no_tank",
        "first_tank",
        tr("No tank is named, and none of the catalogue passes."),
        tr("Choose the tank that this card is for."),
    )


def _unsafe(
    tank: Judged, ranking: Ranking, marked: float, highest: float | None
) -> Iterator[Finding]:
    setting = ranking.setting
    if Fails.WORKING_PRESSURE in tank.fails:
        needed = setting.cut_out + ranking.limits.pressure_margin
        yield Finding(
            Level.STOP,
            "card_above_marked",
            "first_tank",
            tr("The tank is marked {marked}; cut-out and margin need {needed}."),
            tr("Lower the band, or choose a tank that is marked higher."),
            (("marked", marked, PRESSURE), ("needed", needed, PRESSURE)),
        )
    if Fails.PRECHARGE_TOO_HIGH in tank.fails and highest is not None:
        yield Finding(
            Level.STOP,
            "card_charge_too_high",
            "first_tank",
            tr("The tank may be charged to {highest} at most; {precharge} is needed."),
            tr("Lower the band, or choose a tank that may be charged higher."),
            (("highest", highest, PRESSURE), ("precharge", setting.precharge, PRESSURE)),
        )


def _about_relief(
    setting: Setting, relief: float | None, marked: float | None
) -> Iterator[Finding]:
    if relief is None:
        return
    if marked is not None and relief > marked * (1.0 + SAME):
        yield Finding(
            Level.STOP,
            "card_relief_high",
            "relief_setting",
            tr("The relief valve opens at {relief}, above the {marked} marked on the tank."),
            tr("Fit one set no higher than the marking (International Plumbing Code 606.5.10,"
               " from memory)."),
            (("relief", relief, PRESSURE), ("marked", marked, PRESSURE)),
        )  # fmt: skip
    if relief <= setting.cut_out * (1.0 + SAME):
        yield Finding(
            Level.STOP,
            "card_relief_low",
            "relief_setting",
            tr("The relief valve opens at {relief}: it would spill before cut-out at {cut_out}."),
            tr("Lower the band, or fit a valve that opens later, no higher than the marking."),
            (("relief", relief, PRESSURE), ("cut_out", setting.cut_out, PRESSURE)),
        )


# --- tolerances, date, texts ---


def _about_spread(setting: Setting, spread: Spread) -> Iterator[Finding]:
    width = setting.cut_out - setting.cut_in
    if spread.cut_in + spread.cut_out >= width * (1.0 - SAME):
        yield Finding(
            Level.STOP,
            "card_switch_spread",
            "tol_switch_out",
            tr("With these tolerances the switch could start and stop at one pressure."),
            tr("Type smaller tolerances, or a wider band."),
        )
    if spread.precharge > setting.precharge:
        yield Finding(
            Level.STOP,
            "card_charge_spread",
            "tol_precharge",
            tr("The tolerance is larger than the precharge itself."),
            tr("Type a smaller tolerance."),
        )


def _date(job: Job, found: list[Finding]) -> datetime.date | None:
    """The day it was set; None where it is left for the pen, or is no date."""
    text = job.set_date.strip()
    if not text:
        return None
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        found.append(
            Finding(
                Level.STOP,
                "card_date_unread",
                "set_date",
                tr("“{text}” is no date.", text=text[:20]),
                tr("Type it as 2026-03-31, or leave it for the pen."),
            )
        )
        return None


def _long_texts(job: Job) -> Iterator[Finding]:
    for name, most in LONGEST.items():
        text = getattr(job, name).strip()
        lines = len(text.splitlines())
        if len(text) > most or lines > MOST_LINES:
            yield Finding(
                Level.STOP,
                "card_text_long",
                name,
                tr("{label} is too long for a card of one page: {count} characters in {lines}"
                   " lines.", label=label_of(name), count=len(text), lines=lines),
                tr("At most {most} characters in {lines} lines.", most=most, lines=MOST_LINES),
            )  # fmt: skip


def card_record(results: Results, view: CardView) -> dict[str, Any]:
    """The card as plain data, US customary, with units in the keys. Only where no stop stands."""
    setting, tank, spread = view.setting, view.tank, view.spread
    if setting is None or tank is None or spread is None:
        raise ValueError("a stop stands against this card")
    return {
        "tank": tank.name,
        "tank_ids": [part.id for part in tank.parts],
        "named_by_the_job": view.is_named,
        "total_volume_gal": us(tank.total_volume, VOLUME),
        "cut_in_psi": us(setting.cut_in, PRESSURE),
        "cut_out_psi": us(setting.cut_out, PRESSURE),
        "precharge_psi": us(setting.precharge, PRESSURE),
        "precharge_where_set_psi": us(view.where_set, PRESSURE),
        "tolerance_precharge_psi": us(spread.precharge, PRESSURE),
        "tolerance_cut_in_psi": us(spread.cut_in, PRESSURE),
        "tolerance_cut_out_psi": us(spread.cut_out, PRESSURE),
        "add_air_below_psi": us(view.alarm_low, PRESSURE),
        "let_air_out_above_psi": us(view.alarm_high, PRESSURE),
        "marked_working_pressure_psi": us(view.marked, PRESSURE),
        "highest_precharge_psi": us(view.highest, PRESSURE),
        "relief_valve_psi": us(view.relief, PRESSURE),
        "drawdown_gal": us(tank.drawdown, VOLUME),
        "run_at_no_demand_s": us(tank.run_time, SHORT_TIME),
        "water_when_full_lb": us(view.full_water, MASS),
        "set_on": view.date.isoformat() if view.date else None,
        "findings": [finding_record(one) for one in (*results.findings, *view.findings)],
    }
