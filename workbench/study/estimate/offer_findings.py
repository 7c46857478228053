"""What speaks against one option: its band where it is not the job's, and its tank."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.ranking import Fails, Judged, Notes, Ranking
from workbench.units.kinds import PRESSURE
from workbench.words import tr

DOES_NOT_PASS = "does_not_pass"  # noqa: S105 - a finding's code


def about_band(today: Results, there: Results, field: str) -> tuple[Finding, ...]:
    """What stands against the option's band and not against the job's, shown beside the option."""
    known = {(one.code, one.level) for one in today.findings}
    return tuple(
        replace(one, field=field)
        for one in there.findings
        if one.level is not Level.NOTE and (one.code, one.level) not in known
    )


def about_tank(
    one: Judged, ranking: Ranking, relief: float | None, letter: str
) -> tuple[Finding, ...]:
    """What speaks against the option's tank: what cannot be offered is a stop.

    ``relief`` is where the relief valve opens [Pa]; None where that is not entered.
    """
    field = f"offer_{letter.lower()}_tank"
    return (
        *_not_to_be_set(one, ranking, field),
        *_not_passing(one, letter, field),
        *_relief(one, relief, field),
        *_worth_knowing(one, field),
    )


def _not_to_be_set(one: Judged, ranking: Ranking, field: str) -> Iterator[Finding]:
    marked = min(part.max_working_pressure for part in one.parts)
    if ranking.setting.cut_out > marked * (1.0 + 1e-9):
        yield Finding(
            Level.STOP,
            "above_marked",
            field,
            tr("Cut-out lies above the working pressure marked on this tank, {marked}."),
            tr("Choose a tank that is marked higher, or a lower band."),
            (("marked", marked, PRESSURE),),
        )
    if Fails.PRECHARGE_TOO_HIGH in one.fails:
        yield Finding(
            Level.STOP,
            "charge_above_marked",
            field,
            tr("The precharge to set, {charge}, lies above the highest that this tank allows."),
            tr("Choose another tank, or a lower band."),
            (("charge", ranking.setting.precharge, PRESSURE),),
        )
    if not one.drawdown > 0.0:
        yield Finding(
            Level.STOP,
            "no_drawdown",
            field,
            tr("This tank gives no water between cut-out and cut-in."),
            tr("Choose another tank, or mend band and precharge."),
        )


def _not_passing(one: Judged, letter: str, field: str) -> Iterator[Finding]:
    words = failure_words()
    if told := [words[flag] for flag in Fails if flag in one.fails]:
        yield Finding(
            Level.CAUTION,
            DOES_NOT_PASS,
            field,
            tr("Option {letter} does not pass: {why}.", letter=letter, why=", ".join(told)),
            tr("It may be offered, and the paper then says why."),
        )


def failure_words() -> dict[Fails, str]:
    """Each failure in a few words, without its figures."""
    return {
        Fails.DRAWDOWN: tr("less drawdown than required"),
        Fails.WORKING_PRESSURE: tr("working pressure too near cut-out"),
        Fails.PRECHARGE_TOO_HIGH: tr("precharge above its highest"),
        Fails.DOOR: tr("too wide for the door"),
        Fails.HEADROOM: tr("too tall for the headroom"),
        Fails.POTABLE: tr("no potable-water listing stated"),
        Fails.RUN: tr("too short a run"),
    }


def _relief(one: Judged, relief: float | None, field: str) -> Iterator[Finding]:
    marked = min(part.max_working_pressure for part in one.parts)
    if relief is not None and relief > marked * (1.0 + 1e-9):
        yield Finding(
            Level.CAUTION,
            "relief_above_marked",
            field,
            tr("The relief valve opens at {relief}, above this tank's marked {marked}."),
            tr("Fit a relief valve that opens at or below the marked pressure."),
            (("relief", relief, PRESSURE), ("marked", marked, PRESSURE)),
        )


def _worth_knowing(one: Judged, field: str) -> Iterator[Finding]:
    if Notes.NOT_IN_STOCK in one.notes:
        text = tr("This tank is not in stock.")
        yield Finding(Level.NOTE, "not_in_stock", field, text, tr("Ask for the time of delivery."))
