"""The working of the figures of the teaching pages and of the papers' pages recomputes."""

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
from workbench.gui.explain.painted import PaintedFigures
from workbench.gui.explain.tables import TableFigures
from workbench.gui.explain.window import ExplainWindow
from workbench.gui.live.panel import LivePanel
from workbench.gui.pages.faults.page import FaultsPage
from workbench.gui.pages.lessons.page import LessonsPage
from workbench.gui.pages.live.page import LivePage
from workbench.gui.pages.page import LazyPage
from workbench.gui.window import MainWindow
from workbench.job.teach_choices import Degree, Fault
from workbench.study.explain.book import explain, figures_of
from workbench.study.explain.explanation import Explanation
from workbench.study.pricing.money import decimal_mark
from workbench.units import PRESSURE, Display

MONEY_PAGES = ("prices", "estimate", "firm", "card", "chart")
"""Pages that write their numbers by the form of the firm's own papers."""
LONG_WAIT = 30_000  # ms, on a machine that has much else to do
FALLING = TWO_FLOWS | {"steady_draw": "5 gpm"}
TYPED: dict[str, Any] = {"live_volume": "44 gal", "precharge_rule": "typed"}
OVER = TYPED | {"precharge": "38 psi"}
JOBS: dict[str, tuple[dict[str, Any], Display]] = {
    "demo": ({}, Display()),
    "falling flow, metric": (FALLING, METRIC),
    "another exponent": ({"exponent": "1.2", "live_air": "40 °F"}, Display()),
    "old air": (TYPED | {"precharge": "18 psi", "cut_in": "40 psi", "cut_out": "60 psi"}, METRIC),
    "overcharged": (OVER | {"line_give": "0.05 gal", "start_delay": "2 s"}, Display()),
    "overcharged, runs dry": (OVER | FALLING | {"start_delay": "5 s"}, METRIC),
    "above cut-out": (TYPED | {"precharge": "70 psi"}, Display()),
    "drawn faster than the pump": (OVER | {"steady_draw": "25 gpm"}, Display()),
    "stops": ({"cut_out": "20 psi"}, Display()),
}
PLAIN = re.compile(r"(?<![\w.,])\d[\d.,]*(?<![.,])(?!\w)")


def opened(qtbot: QtBot, key: str, entries: dict[str, Any], display: Display) -> MainWindow:
    window, page = at_page(qtbot, key, LazyPage, demo_with(**entries))
    window.store.set_display(display)
    if isinstance(page, FaultsPage):
        view = window.store.results.faults if window.store.results else None
        if view is not None and view.faulty is not None:
            qtbot.waitUntil(lambda: bool(_others(page)), timeout=LONG_WAIT)
    QApplication.processEvents()
    return window


def _others(page: FaultsPage) -> tuple[object, ...]:
    own = page.own()
    return getattr(own, "others", ())


def told_of(page: LazyPage, figure: Figure) -> Explanation | None:
    results, found = page.store.results, own_of(page)
    assert results is not None
    own = None if found is None else found.own()
    return explain(figure.key, figure.name, figure.value, results, page.store.display, own)


def display_of(page: LazyPage, figure: Figure) -> Display:
    shown = page.store.display
    if figure.key.partition(".")[0] in MONEY_PAGES:
        return Display(shown.system, decimal_mark(page.store.job))
    return shown


def without_currency(text: str, mark: str) -> str:
    plain = re.sub(r"[$€£]", "", text).replace("\u00a0", " ")
    return re.sub(r"(?<=\d)\.(?=\d{3})", "", plain) if mark == "," else plain


def faults_of(page: LazyPage, figure: Figure, checked: list[str]) -> list[str]:
    """What is wrong with the working of a figure; ``checked`` gets what was recomputed."""
    told = told_of(page, figure)
    if told is None or not told.steps:
        return [f"{figure}: no working"]
    display, faults = display_of(page, figure), []
    for step in (*told.steps, *told.beside):
        if not all(part.strip() for part in (step.title, step.formula, step.numbers, step.source)):
            faults.append(f"{figure}: a part is empty: {step}")
        is_right = recomputes(without_currency(step.numbers, display.mark), display)
        if is_right:
            checked.append(step.numbers)
        if is_right is False:
            faults.append(f"{figure}: does not recompute: {step}")
    shown = numbers_in(figure.value) or PLAIN.findall(figure.value)
    every = told.as_text().partition("\n")[2]  # the first line repeats the figure
    faults += [f"{figure}: {one} is not in {every}" for one in shown if not holds(every, one)]
    last = told.steps[-1].numbers
    if shown and not any(holds(last, one) for one in (*shown, *PLAIN.findall(figure.value))):
        faults.append(f"{figure}: the last step does not hold it: {last}")
    return faults


def holds(text: str, number: str) -> bool:
    return re.search(rf"(?<![\d.,]){re.escape(number)}(?!\d)", text) is not None


def every_figure(page: LazyPage) -> list[Figure]:
    """Those that are listed, with those of every row of the tables."""
    found = {figure.key: figure for figure in figures_on(page)}
    for table in page.findChildren(TableFigures):
        model = table.table.model()
        for row in range(model.rowCount()):
            table.table.setCurrentIndex(model.index(row, 0))
            found |= {figure.key: figure for figure in table.figures()}
    return list(found.values())


def check(page: LazyPage, least: int) -> None:
    figures, checked = every_figure(page), list[str]()
    faults = [fault for figure in figures for fault in faults_of(page, figure, checked)]
    assert not faults, f"{len(faults)} of {len(figures)}:\n" + "\n".join(faults)
    assert len(figures) >= least
    assert len(checked) >= least // 2


def unexplained(page: LazyPage) -> list[str]:
    """Texts with a figure that name no working; a working told step by step explains itself, and
    so does the name of a tank with its band.
    """
    found = []
    for label in page.findChildren(FigureLabel):
        said, text = label.accessibleName(), label.text()
        is_name = not said or said.startswith((f"{text}, ", "Tank: ")) or "\n" in text
        if label.isVisibleTo(page) and numbers_in(text) and not label.key and not is_name:
            found.append(text)
    return found


@pytest.mark.parametrize("page", ["shift", "live", "faults", "prices", "estimate", "firm"])
def test_no_figure_of_these_pages_goes_without_a_working(qtbot: QtBot, page: str) -> None:
    entries = OVER | {"fault": Fault.PINHOLE}
    assert unexplained(opened(qtbot, page, entries, Display()).page_of(page)) == []


# --- the precharge page ---


@pytest.mark.parametrize("job", JOBS)
def test_each_figure_of_the_precharge_page_has_a_working(qtbot: QtBot, job: str) -> None:
    window = opened(qtbot, "shift", *JOBS[job])
    check(window.page_of("shift"), 0 if job == "stops" else 30)


def test_the_gap_is_told_in_pieces_that_add_up(qtbot: QtBot) -> None:
    window = opened(qtbot, "shift", *JOBS["overcharged"])
    page = window.page_of("shift")
    figure = next(one for one in figures_on(page) if one.key == "shift.basis")
    told = told_of(page, figure)
    assert told is not None
    titles = [step.title for step in told.beside]
    for piece in ("pipes give while", "pump's start", "Filling the pipes", "Taps falter"):
        assert any(piece in title for title in titles), piece


# --- the live tank ---


def live(qtbot: QtBot, entries: dict[str, Any], display: Display) -> LivePage:
    page = opened(qtbot, "live", entries, display).page_of("live")
    assert isinstance(page, LivePage)
    return page


@pytest.mark.parametrize("job", JOBS)
def test_what_the_live_tank_paints_has_a_working_at_every_moment(qtbot: QtBot, job: str) -> None:
    page = live(qtbot, *JOBS[job])
    if job in ("stops", "above cut-out"):
        check(page, 0)
        return
    seen = set()
    for _ in range(6):
        check(page, 7)
        seen |= {figure.key for figure in figures_on(page)}
        page.panel.step()
        page.panel.player.go_on(0.7)
    assert {"live.gauge", "live.water", "live.air", "live.drawdown", "live.tap"} <= seen


def test_a_moment_of_the_past_is_explained_with_its_own_figures(qtbot: QtBot) -> None:
    page = live(qtbot, {}, Display())
    page.panel.step()
    at_click = page.panel.player.time
    page.panel.step()
    page.panel.seek(0.5 * at_click)
    check(page, 9)
    told = {figure.key: figure.value for figure in figures_on(page)}
    scene = page.panel.tank.scene
    assert scene is not None
    assert told["live.gauge"] == page.store.display.text(scene.moment.pressure, PRESSURE)


def test_the_window_follows_a_step_of_the_tank_but_not_its_frames(qtbot: QtBot) -> None:
    page = live(qtbot, {}, Display())
    painted = page.panel.tank.findChild(PaintedFigures)
    assert painted is not None
    painted.explain()
    window = page.window().findChild(ExplainWindow)
    assert window is not None
    QApplication.processEvents()
    assert window.shown is not None
    before = window.shown.value
    page.panel.player.plays = True
    page.panel.go_on(0.5)
    QApplication.processEvents()
    assert window.shown.value == before
    page.panel.step()
    QApplication.processEvents()
    assert window.shown.value != before
    assert window.shown.key == "live.gauge"
    page.panel.pause()


def test_every_explaining_function_of_the_live_tank_serves_a_figure(qtbot: QtBot) -> None:
    page = live(qtbot, {}, Display())
    page.panel.step()
    page.panel.step()
    page.panel.player.go_on(2.0)
    found = {figure.key.partition(".")[2] for figure in figures_on(page)}
    assert set(figures_of("live")) == found


# --- faults ---


@pytest.mark.parametrize("degree", Degree)
@pytest.mark.parametrize("fault", [one for one in Fault if one is not Fault.NONE])
def test_each_reading_and_each_verdict_of_a_fault_has_a_working(
    qtbot: QtBot, fault: Fault, degree: Degree
) -> None:
    display = METRIC if degree is Degree.CLEAR else Display()
    pump = FALLING if fault is Fault.WORN_PUMP and degree is not Degree.SLIGHT else {}
    entries = pump | {"fault": fault, "degree": degree}
    page = opened(qtbot, "faults", entries, display).page_of("faults")
    check(page, 60)


def test_a_sound_system_explains_itself_too(qtbot: QtBot) -> None:
    check(opened(qtbot, "faults", {}, Display()).page_of("faults"), 50)


def test_a_membrane_at_its_limit_and_a_leak_are_explained_while_they_play(qtbot: QtBot) -> None:
    entries = {"fault": Fault.AIR_LEAK, "degree": Degree.SEVERE, "steady_draw": "8 gpm"}
    page = opened(qtbot, "faults", entries, Display()).page_of("faults")
    assert isinstance(page, FaultsPage)
    for _ in range(12):
        page.live.step()
    check(page, 60)
    page.live.seek(0.3 * page.live.player.time)
    check(page, 60)


@pytest.mark.parametrize("word", ["gauge", "ear", "tap"])
@pytest.mark.parametrize("fault", [one for one in Fault if one is not Fault.NONE])
def test_each_number_that_gauge_ear_and_tap_tell_stands_in_a_step_of_its_own(
    qtbot: QtBot, fault: Fault, word: str
) -> None:
    entries = {"fault": fault, "degree": Degree.CLEAR}
    page = opened(qtbot, "faults", entries, Display()).page_of("faults")
    figure = next(one for one in figures_on(page) if one.key == f"faults.{word}")
    told = told_of(page, figure)
    assert told is not None
    before = "\n".join(str(step) for step in (*told.steps[:-1], *told.beside))
    assert [one for one in numbers_in(figure.value) if not holds(before, one)] == []


# --- lessons ---


def test_the_tank_of_a_lesson_is_explained_from_its_own_results(qtbot: QtBot) -> None:
    page = opened(qtbot, "lessons", {}, Display()).page_of("lessons")
    assert isinstance(page, LessonsPage)
    assert isinstance(page.panel, LivePanel)
    check(page, 7)
    page.panel.step()
    check(page, 7)


# --- the papers' pages ---


@pytest.mark.parametrize("page", MONEY_PAGES)
@pytest.mark.parametrize(
    "entries",
    [
        {},
        {"rounding": "to_5", "tax": "6.25 %", "offer_b_band": "40/60 psi"},
        {"money_form": "de_DE"},
        {"prices": ()},
    ],
    ids=["demo", "rounded", "another form", "no prices"],
)
def test_each_amount_has_a_working(qtbot: QtBot, page: str, entries: dict[str, Any]) -> None:
    shown = opened(qtbot, page, entries, Display()).page_of(page)
    least = {"prices": 12, "estimate": 30, "firm": 1, "card": 9, "chart": 40}[page]
    check(shown, {"prices": 0, "estimate": 6}.get(page, least) if "prices" in entries else least)
