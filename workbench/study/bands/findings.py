"""What stands against a band: the tank's marking, its relief valve, the fixtures of the house."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from workbench.job.job import Job
from workbench.physics.forgiving import SAME
from workbench.study.bands.tank import TodaysTank
from workbench.study.findings import Finding, Level
from workbench.study.reader import Reader
from workbench.units import PRESSURE
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.bands.view import BandColumn
    from workbench.study.evaluate import Results

_PSI = PRESSURE.units["psi"].factor
STATIC_LIMIT = 80 * _PSI
"""Static pressure [Pa] allowed at a fixture: International Residential Code P2903.3.1."""
SHOWER, TAP = 20 * _PSI, 8 * _PSI
"""Least flow pressures [Pa] of showers and tubs, and of taps: International Residential Code,
table P2903.1."""
RELIEF_MARGIN = 10 * _PSI
"""A relief valve nearer to cut-out [Pa] gives a caution: trade judgement, no source."""


@dataclass(frozen=True, slots=True)
class SiteFacts:
    """The relief valve [Pa], depth of the lowest fixture below the tank and height of the highest
    above it [m], both 0 where not entered, and the job's margin under a marking [Pa]."""

    relief: float | None
    below: float
    above: float
    margin: float | None


def read_site(job: Job, reader: Reader) -> SiteFacts:
    """Read them; a fixture on the other side of the tank is typed with a minus."""
    relief = reader.above_zero("relief_setting")
    below = reader.value("lowest_fixture", needed=False)
    above = reader.value("highest_fixture", needed=False)
    margin = reader.not_below_zero("pressure_margin")
    if job.highest_fixture is not None and job.lowest_fixture is not None and (
        below is not None and above is not None and above < -below
    ):  # fmt: skip
        reader.report(
            Level.CAUTION,
            "fixtures_upside_down",
            "highest_fixture",
            tr("The highest fixture would lie below the lowest one."),
            tr("Measure both from the tank: down to the lowest, up to the highest."),
        )
    return SiteFacts(relief, below or 0.0, above or 0.0, margin)


def about_site(
    tank: TodaysTank,
    site: SiteFacts,
    shut_off: float | None,
    results: Results,
    *,
    compares: bool,
) -> Iterator[Finding]:
    """What is so at every band."""
    if site.relief is not None and tank.rating is not None and (
        site.relief > tank.rating * (1.0 + SAME)
    ):  # fmt: skip
        yield Finding(
            Level.STOP,
            "relief_above_rating",
            "relief_setting",
            tr("The relief valve opens at {relief}; the tank is marked {marked}."),
            tr("Fit a valve set no higher than the marking (International Plumbing Code 606.5.10,"
               " from memory), with no shut-off between it and the tank."),
            (("relief", site.relief, PRESSURE), ("marked", tank.rating, PRESSURE)),
        )  # fmt: skip
    if site.relief is None and shut_off is not None and tank.rating is not None and (
        shut_off > tank.rating * (1.0 + SAME)
    ):  # fmt: skip
        yield Finding(
            Level.CAUTION,
            "dead_head_unrelieved",
            "relief_setting",
            tr("No relief valve is known. If the switch failed with every tap closed, the pump"
               " would reach {most}; the tank is marked {marked}."),
            tr("Find the valve and its setting, or fit one set no higher than the marking and piped"
               " to a safe place."),
            (("most", shut_off, PRESSURE), ("marked", tank.rating, PRESSURE)),
        )  # fmt: skip
    supply = results.inputs.supply
    if compares and supply is not None and supply.delivery.is_constant:
        yield Finding(
            Level.NOTE,
            "one_flow_at_every_band",
            "pump_entry",
            tr("One flow is taken at every band. A pump gives less at a higher one, and whether it"
               " reaches it is not known."),
            tr("Enter two flows or the pump's curve on “Pump and well”."),
        )  # fmt: skip


def about_column(column: BandColumn, tank: TodaysTank, site: SiteFacts) -> Iterator[Finding]:
    """What stands against this band."""
    yield from _about_vessel(column, tank)
    yield from _about_relief(column, site)
    yield from _about_fixtures(column)


def _about_vessel(column: BandColumn, tank: TodaysTank) -> Iterator[Finding]:
    entry = "first_tank" if tank.parts else "today_rating"
    needs, marked, highest = column.needs, tank.rating, tank.highest_precharge
    if needs is not None and marked is not None and marked < needs * (1.0 - SAME):
        yield Finding(
            Level.STOP,
            "vessel_too_weak",
            entry,
            tr("Today's tank is marked {marked}; cut-out and margin need {needed}."),
            tr("Never pass the marked working pressure: choose a lower band or another tank."),
            (("marked", marked, PRESSURE), ("needed", needs, PRESSURE)),
        )
    setting = column.setting
    if setting is None or highest is None:
        return
    if highest < setting.precharge * (1.0 - SAME):
        yield Finding(
            Level.STOP,
            "precharge_above_allowed",
            "first_tank",
            tr("Today's tank may be charged to {highest}; {needed} is needed."),
            tr("Choose a lower band or another tank."),
            (("highest", highest, PRESSURE), ("needed", setting.precharge, PRESSURE)),
        )


def _about_relief(column: BandColumn, site: SiteFacts) -> Iterator[Finding]:
    above = column.relief_above
    if above is None or site.relief is None:
        return
    values = (("relief", site.relief, PRESSURE), ("cut_out", column.band.cut_out, PRESSURE))
    if above <= SAME * column.band.cut_out:
        yield Finding(
            Level.STOP,
            "relief_below_cut_out",
            "relief_setting",
            tr("The relief valve opens at {relief}, before the pump stops at {cut_out}."),
            tr("Choose a lower band, or a valve set higher but not above the tank's marking."),
            values,
        )
    elif above < RELIEF_MARGIN * (1.0 - SAME):
        yield Finding(
            Level.CAUTION,
            "relief_near_cut_out",
            "relief_setting",
            tr(
                "The relief valve opens at {relief}, close above cut-out at {cut_out}: it may drip."
            ),
            tr("Leave at least 10 psi (trade judgement)."),
            values,
        )


def _about_fixtures(column: BandColumn) -> Iterator[Finding]:
    # A cut-out that passes the limit by itself is told with the band.
    if column.band.cut_out <= STATIC_LIMIT and column.lowest > STATIC_LIMIT * (1.0 + SAME):
        yield Finding(
            Level.CAUTION,
            "lowest_above_80",
            "lowest_fixture",
            tr("{pressure} at the lowest fixture, above the 80 psi allowed (International"
               " Residential Code P2903.3.1)."),
            tr("Choose a lower band, or fit a pressure-reducing valve for that branch."),
            (("pressure", column.lowest, PRESSURE),),
        )  # fmt: skip
    yield from _about_highest(column)


def _about_highest(column: BandColumn) -> Iterator[Finding]:
    values = (("pressure", column.highest, PRESSURE),)
    if column.highest < TAP * (1.0 - SAME):
        yield Finding(
            Level.CAUTION,
            "highest_below_8",
            "highest_fixture",
            tr("{pressure} at the highest fixture at cut-in, before the pipe's friction: no fixture"
               " is to have less than 8 psi (International Residential Code, table P2903.1)."),
            tr("Choose a higher cut-in."),
            values,
        )  # fmt: skip
    elif column.highest < SHOWER * (1.0 - SAME):
        yield Finding(
            Level.CAUTION,
            "highest_below_20",
            "highest_fixture",
            tr("{pressure} at the highest fixture at cut-in, before the pipe's friction: showers"
               " and tubs are to have 20 psi (International Residential Code, table P2903.1)."),
            tr("Choose a higher cut-in."),
            values,
        )  # fmt: skip
