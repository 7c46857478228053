"""What the page "Variable speed" says: figures as texts, with their reasons."""

from __future__ import annotations

import math

from workbench.gui.pages.facts import Row
from workbench.gui.pages.stops import mend_first
from workbench.gui.plots.header_plot import Place, WaterLine
from workbench.job.labels import label_of
from workbench.physics.forgiving import SAME
from workbench.study.drive.view import DriveView, TankForDrive, covers
from workbench.study.evaluate import Results
from workbench.units import DAILY, FLOW, PRESSURE, STARTS_PER_DAY, VOLUME, Display, distinct
from workbench.words import tr

Shown = tuple[str, str, str]
"""A figure, its reason, and the role of the reason."""

_SITE = ("altitude", "exponent")  # entries of the bench that this page reads too


def legend() -> str:
    """What stands above the plot."""
    return tr(
        "Water in the smallest tank that the maker asks for, over pressure. Point at the plot or"
        " use the arrow keys to read it."
    )


def what_is_missing(results: Results, view: DriveView) -> tuple[str, str]:
    """Which entries must be mended or made first, and the role of the text."""
    own = (one for one in view.findings if one.field != "first_tank")
    site = (one for one in results.findings if one.field in _SITE)
    stops = mend_first((*own, *site))
    if stops:
        return stops, "problem"
    names = ", ".join(label_of(name) for name in view.missing)
    return tr("Enter what the drive's maker states: {names}.", names=names), "muted"


def reserve_answer(results: Results, view: DriveView, display: Display) -> Shown:
    """The reserve against what is drawn while the pump comes to speed."""
    if view.reserve is None:
        return "", *what_is_missing(results, view)
    figure = display.text(view.reserve.water, VOLUME, 2)
    if view.needed is None:
        return figure, *what_is_missing(results, view)
    figure, needed = _two(view.reserve.water, view.needed, display)
    if view.carries:
        return figure, tr(
            "It carries the drive: {needed} are drawn while the pump comes to speed.", needed=needed
        ), "good"  # fmt: skip
    if view.is_reserve_enough:
        return figure, tr(
            "Enough for the {needed} drawn while the pump comes to speed, but only if the drive"
            " starts as soon as the draw begins.",
            needed=needed,
        ), "caution"  # fmt: skip
    return figure, tr(
        "Too little: {needed} are drawn while the pump comes to speed.", needed=needed
    ), "caution"  # fmt: skip


def lowest_answer(results: Results, view: DriveView, display: Display) -> Shown:
    """Where the pressure falls to when the draw begins just before the drive wakes."""
    if view.reserve is None or view.needed is None or view.pressures is None:
        return "", *what_is_missing(results, view)
    lowest = view.reserve.lowest
    if view.pressures.gap > 0.0:
        return tr("empty"), tr("The tank is empty before the drive wakes."), "caution"
    if lowest is None:
        left, needed = _two(view.reserve.at_wake, view.needed, display)
        return tr("empty"), tr(
            "A sudden draw that begins just above wake takes {needed} before the pump gives as"
            " much; {water} are left there.",
            water=left,
            needed=needed,
        ), "caution"  # fmt: skip
    wake = display.text(view.pressures.wake, PRESSURE)
    return display.text(lowest, PRESSURE), tr(
        "If the sudden draw begins just above the wake pressure of {wake} and the pump gives"
        " nothing until it is at speed.",
        wake=wake,
    ), "muted"  # fmt: skip


def facts(view: DriveView, display: Display) -> list[Row]:
    """Precharge, draw, volumes and leak; rows of which nothing is known are left out."""
    rows: list[Row] = []
    stated, reserve = view.pressures, view.reserve
    if stated is not None:
        text = tr(
            "{charge} on the gauge: the maker's share of the set pressure, both read on the gauge.",
            charge=display.text(stated.precharge, PRESSURE),
        )
        rows.append((tr("Precharge"), text, "", "drive.precharge"))
    if view.draw is not None:
        rows.append((tr("Sudden draw"), _draw_text(view, display), "", "drive.draw"))
    if stated is not None and reserve is not None:
        text = tr("{water} left in the tank", water=display.text(reserve.at_wake, VOLUME, 2))
        rows.append((tr("At wake"), text, "caution" if stated.gap > 0.0 else "", "drive.wake"))
    if view.volume_needed is not None:
        rows.append(_volume_row(view.volume_needed, display))
    rows += _leak_rows(view, display)
    if view.tank is not None:
        rows.append(_tank_row(view.tank, view, display))
    return rows


def _draw_text(view: DriveView, display: Display) -> str:
    assert view.draw is not None  # noqa: S101 - asked only then
    flow = display.text(view.draw.flow, FLOW)
    if not view.draw.fixtures:
        return tr("{flow}, as entered", flow=flow)
    if view.draw.fixtures == ("hose_bibs",):
        return tr(
            "{flow}, a hose, the largest of the house (International Residential Code, table"
            " P2903.1)",
            flow=flow,
        )
    names = ", ".join(label_of(name).lower() for name in view.draw.fixtures)
    return tr(
        "{flow}, the largest fixture of the house: {names} (US EPA, Private Water Systems,"
        " Household Uses)",
        flow=flow,
        names=names,
    )


def _volume_row(volume: float, display: Display) -> Row:
    name = tr("To carry it")
    if not math.isfinite(volume):
        return name, tr("No volume is enough at these pressures."), "caution", "drive.volume"
    text = tr(
        "{volume} of total volume hold what is drawn, between wake and set and below wake too.",
        volume=display.text(volume, VOLUME),
    )
    return name, text, "", "drive.volume"


def _leak_rows(view: DriveView, display: Display) -> list[Row]:
    if view.leak is None or view.leak_starts is None:
        return []
    name, key = tr("Leak"), "drive.leak"
    if view.leak == 0.0:
        return [(name, tr("None is entered, so none wakes the drive."), "", key)]
    text = tr(
        "{leak} empties the reserve {starts} times a day at most.",
        leak=display.text(view.leak, DAILY),
        starts=display.number(view.leak_starts, STARTS_PER_DAY, 0),
    )
    if view.starts_allowed is None:
        return [(name, text + " " + tr("The motor's limit says nothing of a day."), "", key)]
    limit = display.number(view.starts_allowed, STARTS_PER_DAY, 0)
    over = view.leak_starts > view.starts_allowed * (1.0 + SAME)
    text += " " + tr(
        "The chosen motor limit allows {limit} starts a day; it was written for motors that start"
        " at full voltage, a drive starts more softly.",
        limit=limit,
    )
    return [(name, text, "caution" if over else "", key)]


def _tank_row(tank: TankForDrive, view: DriveView, display: Display) -> Row:
    name = tr("Chosen tank") if tank.is_named else tr("First of the ranking")
    water = display.text(tank.reserve.water, VOLUME, 2)
    text = tr(
        "{name}, {volume}: {water} between wake and set at this precharge.",
        name=tank.one.name,
        volume=display.text(tank.one.total_volume, VOLUME),
        water=water,
    )
    both = (tank.reserve.water, tank.reserve.at_wake)
    carries = all(covers(water, view.needed) is not False for water in both)
    if not tank.large_enough:
        small = tr("Smaller than the drive's maker asks for.")
        return name, f"{text} {small}", "caution", "drive.tank"
    text += " " + tr("At least the maker's smallest volume.")
    if carries:
        return name, text, "", "drive.tank"
    fails = tr("It does not carry the sudden draw.")
    return name, f"{text} {fails}", "caution", "drive.tank"


def lines(view: DriveView, display: Display) -> tuple[WaterLine, ...]:
    """The picture's line."""
    if view.picture is None or view.reserve is None:
        return ()
    volume = display.text(view.reserve.volume, VOLUME)
    return (WaterLine(tr("{volume} tank", volume=volume), view.picture.water, own=True),)


def places(view: DriveView) -> tuple[Place, ...]:
    """The drive's pressures."""
    stated = view.pressures
    if stated is None:
        return ()
    return (
        Place(tr("precharge"), stated.precharge),
        Place(tr("wake"), stated.wake),
        Place(tr("set"), stated.set_pressure),
    )


def _two(a: float, b: float, display: Display) -> tuple[str, str]:
    """Two small volumes with two decimals, or more where they would read the same."""
    first, second = (display.text(value, VOLUME, 2) for value in (a, b))
    return distinct(a, b, VOLUME, display) if first == second and a != b else (first, second)
