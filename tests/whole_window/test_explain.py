"""The working of every figure on the pages: it opens, ends with what is shown, and recomputes."""

from __future__ import annotations

import re
from typing import Any

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.study.arithmetic import numbers_in, recomputes
from tests.study.build import TWO_FLOWS
from tests.whole_window.at_page import METRIC, at_page, demo_with
from workbench.gui.explain.figure import Figure, FigureLabel
from workbench.gui.explain.listing import figures_on, own_of
from workbench.gui.explain.tables import TableFigures
from workbench.gui.pages.day.page import DayPage
from workbench.gui.pages.page import LazyPage
from workbench.gui.pages.tolerance.page import TolerancePage
from workbench.gui.window import MainWindow
from workbench.job.choices import precharge_rules
from workbench.study.explain.book import explain
from workbench.study.explain.explanation import Explanation
from workbench.study.working import Step
from workbench.units import Display

PAGES = (
    *("tank", "bands", "solve", "pump", "cycle", "day", "demand", "header", "drive", "tolerance"),
)
PLAIN = re.compile(r"(?<![\w.,])\d[\d.,]*(?<![.,])(?!\w)")  # a number of a table's cell
LONG_WAIT = 20_000  # ms, on a machine that has much else to do
FALLING = TWO_FLOWS | {"steady_draw": "5 gpm", "well_yield": "20 gpm"}
JOBS: dict[str, tuple[dict[str, Any], Display]] = {
    "demo": ({}, Display()),
    "falling flow": (FALLING, Display()),
    "metric": (FALLING | {"bands": "2/4, 3/5 bar"}, METRIC),
    "pump curve": ({"pump_entry": "curve", "today_volume": "44 gal"}, METRIC),
    "another exponent": (
        {"exponent": "1.2", "reading_altitude": "6000 ft", "reading_temperature": "90 °F"},
        Display(),
    ),
    "timed refill": (
        {"pump_entry": "bucket", "second_tank": "alder-12-v", "run_time_rule": "starts"},
        Display(),
    ),
    "several tanks": (
        FALLING | {"header_tanks": 2, "mixed_sets": True, "second_tank": "alder-12-v"},
        Display(),
    ),
    "stops": ({"cut_out": "20 psi", "header_set": None}, Display()),
    "a stop at the pump": (TWO_FLOWS | {"cut_out": "70 psi"}, Display()),
}
FEWEST = dict.fromkeys(JOBS, 200) | {"stops": 20}
"""So many figures are looked at, lest the walk pass by empty pages."""


def worked_out(page: LazyPage) -> bool:
    """Whether all that is simulated is there."""
    if isinstance(page, DayPage):
        return page.work.plan is None or page.work.year is not None
    if isinstance(page, TolerancePage):
        return page._plan is None or page.own() is not None
    return True


def opened(qtbot: QtBot, entries: dict[str, Any], display: Display) -> MainWindow:
    window, _ = at_page(qtbot, "tank", LazyPage, demo_with(**entries))
    window.store.set_display(display)
    return window


def come_to(qtbot: QtBot, window: MainWindow, key: str) -> LazyPage:
    """Go to a page and wait until all its figures are there."""
    window.go(key)
    page = window.page_of(key)
    qtbot.waitUntil(lambda: worked_out(page), timeout=LONG_WAIT)
    QApplication.processEvents()
    return page


def told_of(page: LazyPage, figure: Figure) -> Explanation | None:
    results, found = page.store.results, own_of(page)
    assert results is not None
    own = None if found is None else found.own()
    return explain(figure.key, figure.name, figure.value, results, page.store.display, own)


def faults_of(page: LazyPage, figure: Figure, checked: list[str]) -> list[str]:
    """What is wrong with the working of a figure; ``checked`` gets what was recomputed."""
    try:
        told = told_of(page, figure)
    except KeyError as missing:
        return [f"{figure}: nothing explains it ({missing})"]
    if told is None or not told.steps:
        return [f"{figure}: no working"]
    faults = []
    for step in (*told.steps, *told.beside):
        display = page.store.display
        faults += [f"{figure}: {fault}" for fault in faults_of_step(step, display, checked)]
    shown = numbers_in(figure.value) or PLAIN.findall(figure.value)
    faults += untold(figure.value, told)
    last = told.steps[-1].numbers
    if shown and not any(holds(last, one) for one in (*shown, *PLAIN.findall(figure.value))):
        faults.append(f"{figure}: the last step does not hold it: {last}")
    return faults


def untold(text: str, told: Explanation) -> list[str]:
    """The figures of a text that do not stand in its working."""
    shown = numbers_in(text) or PLAIN.findall(text)
    every = told.as_text().partition("\n")[2]  # the first line repeats the figure
    return [f"{told.key}: {one} of “{text}”" for one in shown if not holds(every, one)]


def holds(text: str, number: str) -> bool:
    """Whether a number stands in a text, and not only as the end of a longer one."""
    return re.search(rf"(?<![\d.,]){re.escape(number)}(?![\d])", text) is not None


def faults_of_step(step: Step, display: Display, checked: list[str]) -> list[str]:
    faults = [] if step.title.strip() else [f"no title: {step}"]
    faults += [] if step.source.strip() else [f"no source: {step}"]
    faults += [] if step.formula.strip() and step.numbers.strip() else [f"empty: {step}"]
    is_right = recomputes(step.numbers, display)
    if is_right:
        checked.append(step.numbers)
    if is_right is False:
        faults.append(f"does not recompute: {step}")
    return faults


def rows_of(table: TableFigures) -> list[int]:
    """Some rows: both ends and the middle."""
    count = table.table.model().rowCount()
    return sorted({0, count // 3, count // 2, count - 1} & set(range(count)))


def every_figure(page: LazyPage) -> list[Figure]:
    """Those that are listed, with those of other rows of the tables and of the reasons."""
    found = {figure.key: figure for figure in figures_on(page)}
    for table in page.findChildren(TableFigures):
        for row in rows_of(table):
            table.table.setCurrentIndex(table.table.model().index(row, 0))
            found |= {figure.key: figure for figure in table.figures()}
    return list(found.values())


def figure_labels(page: LazyPage) -> list[FigureLabel]:
    """The labels of figures that are seen; a working told step by step explains itself."""
    labels = page.findChildren(FigureLabel)
    return [one for one in labels if one.isVisibleTo(page) and "\n" not in one.text()]


def unexplained(page: LazyPage) -> list[str]:
    """Texts with a figure that name no working."""
    return [
        f"{label.accessibleName()}: no key"
        for label in figure_labels(page)
        if numbers_in(label.text()) and not label.key and not is_heading(label)
    ]


def is_heading(label: FigureLabel) -> bool:
    """Whether it names a column or a row of a table, and is no figure of it."""
    said = label.accessibleName()
    return not said or said.startswith(f"{label.text()}, ")


def without_rules(text: str) -> str:
    """A reason without the names of rules, such as "cut-in less 2 psi"."""
    for rule in precharge_rules().values():
        text = text.replace(rule.label, "").replace(rule.label.capitalize(), "")
    return text


def faults_of_reasons(page: LazyPage) -> list[str]:
    """Figures in the reason under an answer that its working does not hold."""
    faults = []
    for label in figure_labels(page):
        if label.key and label.figure() is None:
            told = told_of(page, Figure(label.key, "reason", label.text()))
            assert told is not None, label.key
            faults += untold(without_rules(label.text()), told)
    return faults


@pytest.mark.parametrize("job", JOBS)
def test_each_figure_has_a_working_that_ends_with_it(qtbot: QtBot, job: str) -> None:
    entries, display = JOBS[job]
    window = opened(qtbot, entries, display)
    faults, count, checked = [], 0, list[str]()
    for key in PAGES:
        page = come_to(qtbot, window, key)
        figures = every_figure(page)
        count += len(figures)
        found = [fault for figure in figures for fault in faults_of(page, figure, checked)]
        faults += [f"{key}: {one}" for one in (*found, *unexplained(page))]
        faults += [f"{key}: {one}" for one in faults_of_reasons(page)]
    assert not faults, f"{len(faults)} of {count} figures:\n" + "\n".join(faults)
    assert count >= FEWEST[job]
    assert len(set(checked)) >= FEWEST[job] // 2
