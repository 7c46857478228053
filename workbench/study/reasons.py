"""Why a candidate passes or does not, in words: failures first, then what it gives, then notes."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from workbench.catalog.tank import Tank
from workbench.job.choices import RunTimeRule
from workbench.study.ranking import DOOR_CLEARANCE, Fails, Judged, Notes, Ranking
from workbench.units import (
    LENGTH,
    PRESSURE,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
    distinct,
)
from workbench.words import tr


def reasons(one: Judged, ranking: Ranking, display: Display) -> list[str]:
    """Complete sentences, the most important first."""
    return [*_failures(one, ranking, display), _gives(one, ranking, display),
            *_charge(one, ranking, display), *_notes(one, ranking, display)]  # fmt: skip


def headline(one: Judged, ranking: Ranking, display: Display) -> str:
    """All failures, or for a candidate that passes what is left to know; for a table."""
    failures = list(_failures(one, ranking, display))
    known = (*_charge(one, ranking, display), *_notes(one, ranking, display))
    return " ".join(failures or known)


def margin_text(one: Judged, display: Display) -> str:
    """By how much an arrangement gives more than is required, with its sign."""
    text = display.number(one.margin, VOLUME)
    if one.margin < 0 and not text.startswith("-"):  # short by less than is shown
        text = display.number(one.margin, VOLUME, 3)
    return text.replace("-", "−") if one.margin < 0 else f"+{text}"


def _gives(one: Judged, ranking: Ranking, display: Display) -> str:
    water, required = distinct(one.drawdown, ranking.required, VOLUME, display)
    if Fails.DRAWDOWN in one.fails or one.drawdown <= 0.0:
        return tr(
            "Runs {run} at no demand, {starts} in the worst case.",
            run=display.text(one.run_time, TIME),
            starts=_starts(one.starts, display),
        )
    return tr(
        "Gives {water} of {required} required; runs {run} at no demand, {starts} at worst.",
        water=water,
        required=required,
        run=display.text(one.run_time, TIME),
        starts=_starts(one.starts, display),
    )


def _starts(starts: float, display: Display) -> str:
    if starts == float("inf"):
        return tr("starts without end")
    return tr("{count} starts an hour", count=display.number(starts, STARTS_PER_HOUR))


def _failures(one: Judged, ranking: Ranking, display: Display) -> Iterator[str]:
    writers: dict[Fails, Callable[[Judged, Ranking, Display], str]] = {
        Fails.DRAWDOWN: _too_little,
        Fails.WORKING_PRESSURE: _too_weak,
        Fails.PRECHARGE_TOO_HIGH: _charge_too_high,
        Fails.DOOR: _too_wide,
        Fails.HEADROOM: _too_tall,
        Fails.POTABLE: _not_listed,
        Fails.RUN: _too_quick,
    }
    for flag, write in writers.items():
        if flag in one.fails:
            yield write(one, ranking, display)


def _too_little(one: Judged, ranking: Ranking, display: Display) -> str:
    water, required = distinct(one.drawdown, ranking.required, VOLUME, display)
    return tr("Gives {water}, less than the {required} required.", water=water, required=required)


def _too_quick(one: Judged, ranking: Ranking, display: Display) -> str:
    if ranking.rule is RunTimeRule.STARTS:
        starts, limit = distinct(one.starts, ranking.most_starts, STARTS_PER_HOUR, display)
        return tr("Starts {starts} at worst; {limit} are allowed.", starts=starts, limit=limit)
    run, needed = distinct(one.run_time, ranking.least_run, TIME, display)
    return tr(
        "Runs {run}, less than the {needed} required: its membrane ends the fill while the pump"
        " still gives most.",
        run=run,
        needed=needed,
    )


def _too_weak(one: Judged, ranking: Ranking, display: Display) -> str:
    marked, needed = distinct(
        min(part.max_working_pressure for part in one.parts),
        ranking.setting.cut_out + ranking.limits.pressure_margin,
        PRESSURE,
        display,
    )
    return tr(
        "Marked for {marked}; cut-out and margin need {needed}.", marked=marked, needed=needed
    )


def _charge_too_high(one: Judged, ranking: Ranking, display: Display) -> str:
    highest = min(p.highest_precharge for p in one.parts if p.highest_precharge is not None)
    limit, needed = distinct(highest, ranking.setting.precharge, PRESSURE, display)
    return tr("May be charged to {limit} at most; {needed} is needed.", limit=limit, needed=needed)


def _too_wide(one: Judged, ranking: Ranking, display: Display) -> str:
    diameter, width = distinct(
        max(p.diameter for p in one.parts if not p.kind.in_ground),
        (ranking.limits.door_width or 0.0) - DOOR_CLEARANCE,
        LENGTH,
        display,
    )
    return tr("{diameter} across; the door leaves {width}.", diameter=diameter, width=width)


def _too_tall(one: Judged, ranking: Ranking, display: Display) -> str:
    height, limit = distinct(
        max(
            part.diameter if part.kind.horizontal else part.height
            for part in one.parts
            if not part.kind.in_ground
        ),
        ranking.limits.headroom or 0.0,
        LENGTH,
        display,
    )
    return tr("{height} high; the headroom is {limit}.", height=height, limit=limit)


def _not_listed(one: Judged, _ranking: Ranking, _display: Display) -> str:
    if all(part.potable_listed is not False for part in one.parts):
        return tr("A potable-water listing is not stated.")
    return tr("Not listed for potable water.")


def _charge(one: Judged, ranking: Ranking, display: Display) -> Iterator[str]:
    """How far the factory charge is from the one to set."""
    for tank in one.kinds:
        text = _charge_of(tank, ranking, display)
        yield text if len(one.kinds) == 1 else f"{tank.name}: {text}"


def _charge_of(tank: Tank, ranking: Ranking, display: Display) -> str:
    change = ranking.setting.precharge - tank.factory_precharge
    usual = 0.5 * PRESSURE.units["psi"].factor  # nobody reads a tyre gauge finer
    if abs(change) < usual:
        return tr("The factory precharge is the one to set; check it.")
    amount = display.text(abs(change), PRESSURE)
    factory = display.text(tank.factory_precharge, PRESSURE)
    if change > 0:
        return tr("Comes charged to {factory}: add {amount}.", factory=factory, amount=amount)
    return tr("Comes charged to {factory}: let out {amount}.", factory=factory, amount=amount)


def _notes(one: Judged, _ranking: Ranking, _display: Display) -> Iterator[str]:
    texts = {
        Notes.EMPTIES_EARLY: tr(
            "The precharge is above cut-in: the tank empties before the pump starts."
        ),
        Notes.ACCEPTANCE_LIMITS: tr("The membrane's acceptance limits the water it holds."),
        Notes.ACCEPTANCE_NOT_STATED: tr("Its maximum acceptance is not stated."),
        Notes.HIGHEST_NOT_STATED: tr("Its highest precharge is not stated; see its label."),
        Notes.NOT_IN_STOCK: tr("Not in stock."),
        Notes.NO_PRICE: tr("No price in the catalogue."),
        Notes.ABOVE_CODE_VOLUME: tr("Over 120 gal: many states ask for a code stamp."),
    }
    for flag, text in texts.items():
        if flag in one.notes:
            yield text
    if one.count > 1:
        yield tr("All tanks on one header must have the same precharge.")
