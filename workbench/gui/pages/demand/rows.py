"""The tables of the page about peak demand: each row's name, its text and the text's role."""

from __future__ import annotations

from workbench.gui.pages.facts import Row
from workbench.job.house_choices import demand_methods
from workbench.study.house import words
from workbench.study.house.view import HouseView
from workbench.units import Display
from workbench.words import tr


def meaning_rows(view: HouseView, display: Display) -> list[Row]:
    """What the peak means for pump, tank and well; rows of which nothing is known are left out."""
    rows: list[Row] = []
    if view.flows is not None:
        rows.append((tr("Pump's flow"), words.flows_words(view.flows, display), "", "demand.flows"))
    settles = words.settles_words(view, display)
    rows.append((tr("Pressure at the peak"), settles, "", "demand.settles"))
    largest, role = words.largest_words(view, display)
    rows.append((tr("Largest fixture"), largest, role, "demand.largest"))
    rows += _tank_rows(view, display)
    rows += _well_rows(view, display)
    return [row for row in rows if row[1]]


def _tank_rows(view: HouseView, display: Display) -> list[Row]:
    if view.tank is None:
        return []
    extra, _ = words.tank_steps(view.tank, view, display)
    return [
        (tr("To bridge 7 min"), f"{extra.numbers} ({extra.source})", "", "demand.extra"),
        (tr("Drawdown for it"), words.tank_words(view.tank, display), "", "demand.together"),
        (tr("As sized now"), words.lasts_words(view.tank, display), "", "demand.lasts"),
    ]


def _well_rows(view: HouseView, display: Display) -> list[Row]:
    well, daily = view.well, view.household.daily_use
    if well is None or daily is None:
        return []
    rows: list[Row] = []
    if well.low.storage > 0.0 and view.well_is_less:
        step = words.storage_step(well, view, display)
        rows.append((step.title, f"{step.numbers} ({step.source})", "", "demand.storage"))
        rows.append((tr("Storage lasts"), words.cover_words(well, display), "", "demand.cover"))
    rows.append((tr("In a day"), words.day_words(well, daily, display), "", "demand.in_a_day"))
    rows.append((tr("By the hours"), words.balance_words(well, display), "", "demand.hours"))
    rows.append((tr("In general"), words.household_words(well), "", "demand.household"))
    return rows


def method_rows(view: HouseView, display: Display) -> list[Row]:
    """Every method with its figure, or why it has none, and its source."""
    return [
        (
            tr("{method} (chosen)", method=words.capital(choice.label))
            if one is view.chosen
            else words.capital(choice.label),
            f"{words.estimate_words(one, display)} {choice.source}",
            "muted" if one.flow is None else "",
            f"demand.method:{place}",
        )
        for place, one in enumerate(view.estimates)
        for choice in (demand_methods()[one.method],)
    ]
