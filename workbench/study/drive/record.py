"""The tank of a variable-speed pump: the working of the figures, and all of it as plain data."""

from __future__ import annotations

from typing import Any

from workbench.study.drive.view import DrivePressures, Reserve
from workbench.study.evaluate import Results
from workbench.study.record import finding_record, us
from workbench.study.working import Step
from workbench.units import (
    DAILY,
    FLOW,
    PERCENT,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    VOLUME,
    Display,
    Quantity,
)
from workbench.words import tr


def drive_steps(results: Results, display: Display) -> tuple[Step, ...]:
    """The working of what could be worked out."""
    view = results.drive
    steps: list[Step] = []
    if view.pressures is not None:
        steps.append(precharge_step(results, view.pressures, display))
    if view.pressures is not None and view.reserve is not None:
        steps.append(reserve_step(view.pressures, view.reserve, display))
    return (*steps, *needed_steps(results, display), *leak_steps(results, display))


def needed_steps(results: Results, display: Display) -> tuple[Step, ...]:
    """What is drawn while the pump comes to speed; none where that is not known."""
    view, ramp = results.drive, results.job.drive_ramp
    if view.needed is None or view.draw is None or not isinstance(ramp, Quantity):
        return ()
    step = Step(
        tr("Drawn while the pump comes to speed"), tr("time to speed × sudden draw"),
        f"{display.typed(ramp, SHORT_TIME)} × {display.text(view.draw.flow, FLOW)}"
        f" = {display.text(view.needed, VOLUME, 2)}",
        tr("definition; the time is the maker's"),
    )  # fmt: skip
    return (step,)


def leak_steps(results: Results, display: Display) -> tuple[Step, ...]:
    """The starts by the leak; none without a leak or a reserve."""
    view = results.drive
    if not view.leak or view.leak_starts is None or view.reserve is None:
        return ()
    step = Step(
        tr("Starts by the leak alone, at most"), tr("leak / reserve"),
        f"{display.text(view.leak, DAILY)} / {display.text(view.reserve.water, VOLUME, 2)}"
        f" = {display.text(view.leak_starts, STARTS_PER_DAY, 0)}",
        tr("a turn empties the reserve once; the time of the run is left out"),
    )  # fmt: skip
    return (step,)


def precharge_step(results: Results, stated: DrivePressures, display: Display) -> Step:
    """The precharge by the maker's share."""
    share = results.job.drive_share
    text = display.typed(share, PERCENT) if isinstance(share, Quantity) else ""
    return Step(
        tr("Precharge, on the gauge"),
        tr("share × set pressure"),
        f"{text} × {display.text(stated.set_pressure, PRESSURE)}"
        f" = {display.text(stated.precharge, PRESSURE)}",
        tr("the drive's maker, as entered"),
    )


def reserve_step(stated: DrivePressures, reserve: Reserve, display: Display) -> Step:
    """What a tank gives between wake and set."""

    def absolute(gauge: float) -> str:
        return display.number(gauge + stated.ambient, PRESSURE, 3)

    power = "" if stated.exponent == 1.0 else f"^(1/{stated.exponent:g})"
    charge, low, high = map(absolute, (stated.precharge, stated.wake, stated.set_pressure))
    volume, water = display.text(reserve.volume, VOLUME), display.text(reserve.water, VOLUME, 2)
    if stated.gap > 0.0:
        formula = tr("V × (1 − Pp/Pset)")
        numbers = f"{volume} × (1 − ({charge}/{high}){power}) = {water}"
    else:
        formula = tr("V × (Pp/Pwake − Pp/Pset)")
        numbers = f"{volume} × (({charge}/{low}){power} − ({charge}/{high}){power}) = {water}"
    title = tr("Reserve, absolute pressures in {unit}", unit=display.symbol(PRESSURE))
    return Step(title, formula, numbers, tr("Boyle's law"))


def drive_record(results: Results) -> dict[str, Any]:
    """The page as plain data, US customary, with units in the keys."""
    view = results.drive
    stated, tank = view.pressures, view.tank
    return {
        "missing": list(view.missing),
        "set_psi": us(stated.set_pressure, PRESSURE) if stated else None,
        "wake_psi": us(stated.wake, PRESSURE) if stated else None,
        "precharge_psi": us(stated.precharge, PRESSURE) if stated else None,
        "sudden_draw_gpm": us(view.draw.flow, FLOW) if view.draw else None,
        "sudden_draw_of": list(view.draw.fixtures) if view.draw else [],
        "needed_gal": us(view.needed, VOLUME),
        "carries": view.carries,
        "reserve_is_enough": view.is_reserve_enough,
        "water_at_wake_is_enough": view.is_rest_enough,
        "smallest_tank": _reserve_record(view.reserve),
        "total_volume_needed_gal": us(view.volume_needed, VOLUME),
        "leak_gal_per_day": us(view.leak, DAILY),
        "leak_starts_per_day": us(view.leak_starts, STARTS_PER_DAY),
        "starts_per_day_allowed": us(view.starts_allowed, STARTS_PER_DAY),
        "chosen_tank": None
        if tank is None
        else {
            "set": tank.one.name,
            "ids": [part.id for part in tank.one.parts],
            "named_by_the_job": tank.is_named,
            "large_enough": tank.large_enough,
            **(_reserve_record(tank.reserve) or {}),
        },
        "findings": [finding_record(one) for one in (*results.findings, *view.findings)],
        "working": [str(step) for step in drive_steps(results, Display())],
    }


def _reserve_record(reserve: Reserve | None) -> dict[str, Any] | None:
    if reserve is None:
        return None
    return {
        "total_volume_gal": us(reserve.volume, VOLUME),
        "reserve_gal": us(reserve.water, VOLUME),
        "water_at_wake_gal": us(reserve.at_wake, VOLUME),
        "lowest_psi": us(reserve.lowest, PRESSURE),
    }
