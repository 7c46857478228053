"""The window of the working: ways in, keys, what it follows, and that nothing is made unasked."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import (
    METRIC,
    at_page,
    demo_with,
    is_said_by_a_file,
    window_at,
)
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import demo_job
from workbench.gui.explain import window as window_module
from workbench.gui.explain.figure import FigureLabel
from workbench.gui.explain.opening import explain, explain_page
from workbench.gui.explain.tables import TableFigures
from workbench.gui.explain.window import ExplainWindow
from workbench.gui.pages.bands.page import BandsPage
from workbench.gui.pages.bench.page import BenchPage
from workbench.gui.pages.cycle.page import CyclePage
from workbench.gui.pages.page import LazyPage
from workbench.gui.window import MainWindow
from workbench.units import FLOW, PRESSURE, Display, parse

F1 = Qt.Key.Key_F1


def strike_f1(window: MainWindow) -> ExplainWindow:
    """Strike F1 wherever the focus is."""
    focus = QApplication.focusWidget()
    assert focus is not None
    QTest.keyClick(focus, F1)
    return window_of(window)


def window_of(window: MainWindow) -> ExplainWindow:
    found = window.findChild(ExplainWindow)
    assert found is not None
    return found


def is_open(window: MainWindow) -> bool:
    found = window.findChild(ExplainWindow)
    return found is not None and found.isVisible()


def keys_of(told: ExplainWindow) -> list[str]:
    return [figure.key for figure in told.figures.figures]


# --- keys ---


def test_f1_lists_the_figures_of_the_page_and_esc_gives_the_focus_back(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "cycle", CyclePage, demo_job())
    field = page.inputs.rows["steady_draw"].field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    told = strike_f1(window)
    qtbot.waitUntil(lambda: QApplication.activeWindow() is told)
    assert keys_of(told)[:3] == ["cycle.steady", "cycle.worst", "cycle.tank"]
    assert QApplication.focusWidget() is told.figures
    assert told.title.text() == "At the steady draw"
    assert told.value.text() == page.steady.figure.text()
    QTest.keyClick(told.figures, Qt.Key.Key_Down)
    assert told.title.text() == "At worst, whatever is drawn"
    assert told.shown is not None
    assert told.shown.key == "cycle.worst"
    QTest.keyClick(told.figures, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: QApplication.focusWidget() is field)
    assert not told.isVisible()
    assert strike_f1(window).shown is not None
    assert told.shown.key == "cycle.worst"  # that which was seen last


def test_the_shortcut_is_nobody_elses(qtbot: QtBot) -> None:
    window, _ = at_page(qtbot, "cycle", CyclePage, demo_job())
    keys = [
        action.shortcut() for action in window.findChildren(type(window.page.tanks.copy_action))
    ]
    assert keys.count(QKeySequence("F1")) == 1


def test_tab_leads_from_the_list_to_the_working_and_the_buttons(qtbot: QtBot) -> None:
    window, _ = at_page(qtbot, "cycle", CyclePage, demo_job())
    told = strike_f1(window)
    qtbot.waitUntil(lambda: QApplication.activeWindow() is told)
    came: list[QWidget | None] = []
    for _ in range(3):
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        came.append(QApplication.focusWidget())
    assert came == [told.working, told.copy_button, told.close_button]


def test_the_working_is_copied_with_title_formula_numbers_and_source(qtbot: QtBot) -> None:
    window, _ = at_page(qtbot, "cycle", CyclePage, demo_job())
    told = strike_f1(window)
    told.copy_button.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(told.copy_button, Qt.Key.Key_Space)
    copied = QApplication.clipboard().text()
    assert told.shown is not None
    assert copied == told.shown.as_text()
    step = told.shown.steps[-1]
    for text in (told.shown.title, step.formula, step.numbers, step.source):
        assert text in copied
        assert text in told.working.toPlainText() or text == told.shown.title


# --- the mouse ---


def label_at(page: CyclePage) -> FigureLabel:
    return page.worst.figure


def test_a_click_on_a_figure_opens_its_working(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "cycle", CyclePage, demo_job())
    QTest.mouseClick(label_at(page), Qt.MouseButton.LeftButton, pos=QPoint(4, 4))
    qtbot.waitUntil(lambda: is_open(window))
    told = window_of(window).shown
    assert told is not None
    assert told.key == "cycle.worst"


def test_a_click_on_the_reason_opens_it_too(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "cycle", CyclePage, demo_job())
    QTest.mouseClick(page.worst.reason, Qt.MouseButton.LeftButton, pos=QPoint(4, 4))
    told = window_of(window).shown
    assert told is not None
    assert told.key == "cycle.worst"


def test_selecting_with_the_mouse_opens_nothing(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "cycle", CyclePage, demo_job())
    label, button = label_at(page), Qt.MouseButton.LeftButton
    end = QPoint(label.width() // 2, label.height() // 2)
    QTest.mousePress(label, button, pos=QPoint(1, label.height() // 2))
    QTest.mouseMove(label, end)
    QTest.mouseRelease(label, button, pos=end)
    QTest.qWait(QApplication.doubleClickInterval() + 50)
    assert not is_open(window)


def test_a_double_click_selects_a_word_and_opens_nothing(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "cycle", CyclePage, demo_job())
    label, button = label_at(page), Qt.MouseButton.LeftButton
    QTest.mouseClick(label, button, pos=QPoint(6, label.height() // 2))
    QTest.mouseDClick(label, button, pos=QPoint(6, label.height() // 2))
    QTest.mouseRelease(label, button, pos=QPoint(6, label.height() // 2))
    QTest.qWait(QApplication.doubleClickInterval() + 50)
    assert not is_open(window)
    assert label.hasSelectedText()


def test_the_menu_of_a_figure_explains_it_and_copies(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "cycle", CyclePage, demo_job())
    menu = label_at(page).menu()
    texts = {action.text().replace("&", ""): action for action in menu.actions()}
    assert list(texts) == ["Explain this", "", "Copy", "Select all"]
    assert not texts["Copy"].isEnabled()
    texts["Select all"].trigger()
    label_at(page).menu().actions()[2].trigger()
    assert QApplication.clipboard().text() == label_at(page).text()
    texts["Explain this"].trigger()
    assert is_open(window)


def test_a_figure_that_is_pointed_at_shows_that_it_can_be_asked(qtbot: QtBot) -> None:
    _, page = at_page(qtbot, "cycle", CyclePage, demo_job())
    label = label_at(page)
    before = label.cursor().shape()
    QTest.mouseMove(label, QPoint(4, 4))
    qtbot.waitUntil(lambda: label.cursor().shape() is Qt.CursorShape.PointingHandCursor)
    assert "F1" in label.toolTip()
    QTest.mouseMove(page, QPoint(1, 1))
    qtbot.waitUntil(lambda: label.cursor().shape() is before)


def test_a_dash_is_no_figure(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "cycle", CyclePage, demo_with(cut_out="20 psi"))
    assert label_at(page).text() == "—"
    assert not label_at(page).key
    QTest.mouseClick(label_at(page), Qt.MouseButton.LeftButton)
    told = strike_f1(window)
    assert keys_of(told) == []
    assert "no figure" in told.working.toPlainText()
    assert not told.copy_button.isEnabled()


# --- tables ---


def test_a_cell_of_the_ranking_is_explained_by_keys_and_by_its_menu(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "tank", BenchPage, demo_job())
    table = page.tanks.table
    table.setFocus(Qt.FocusReason.TabFocusReason)
    table.setCurrentIndex(table.model().index(2, 5))
    told = strike_f1(window)
    results = page.store.results
    assert results is not None
    assert results.ranking is not None
    candidate = int(results.ranking.order[2])
    assert told.shown is not None
    assert told.shown.key == f"bench.run:{candidate}"
    assert told.shown.value == table.model().index(2, 5).data()
    QTest.keyClick(told.figures, Qt.Key.Key_Escape)
    table.setCurrentIndex(table.model().index(3, 3))
    (figures,) = page.findChildren(TableFigures)
    menu = figures.menu()
    assert menu.actions()[0].text() == "&Explain this"
    assert page.tanks.copy_action in menu.actions()
    menu.actions()[0].trigger()
    assert told.shown.key == f"bench.drawdown:{int(results.ranking.order[3])}"


# --- what it follows ---


def test_it_follows_edits_undo_units_and_the_page(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "cycle", CyclePage, demo_job())
    told = strike_f1(window)
    before = told.value.text()
    window.store.edit({"steady_draw": parse("7 gpm", FLOW)}, "x")
    qtbot.waitUntil(lambda: told.value.text() == page.steady.figure.text() != before)
    assert told.shown is not None
    first = told.shown
    window.store.undo_stack.undo()
    qtbot.waitUntil(lambda: told.value.text() == before)
    assert told.shown.steps != first.steps
    window.store.set_display(METRIC)
    qtbot.waitUntil(lambda: "L/min" in told.working.toPlainText())
    window.go("pump")
    qtbot.waitUntil(lambda: told.title.text() == "Flow at cut-out")
    window.go("cycle")
    qtbot.waitUntil(lambda: told.title.text() == "At the steady draw")


def test_it_follows_the_band_that_is_compared(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "bands", BandsPage, demo_job())
    told = strike_f1(window)
    assert told.value.text().startswith("40/60 psi")
    page.choice.chosen.emit(2)
    qtbot.waitUntil(lambda: told.value.text().startswith("50/70 psi"))


def test_a_figure_that_goes_leaves_its_place_to_another(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "tank", BenchPage, demo_job())
    page.tanks.table.setFocus(Qt.FocusReason.TabFocusReason)
    page.tanks.table.setCurrentIndex(page.tanks.table.model().index(0, 3))
    told = strike_f1(window)
    assert told.shown is not None
    window.store.edit({"cut_out": parse("20 psi", PRESSURE)}, "x")
    qtbot.waitUntil(lambda: not keys_of(told))
    assert told.shown is None
    window.store.undo_stack.undo()
    qtbot.waitUntil(lambda: told.shown is not None and told.shown.key.startswith("bench.drawdown"))


def test_what_had_the_focus_may_be_gone_when_it_closes(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "cycle", CyclePage, demo_job())
    other = QWidget(page)
    other.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    other.show()
    other.setFocus()
    told = strike_f1(window)
    other.deleteLater()
    QTest.qWait(10)
    QTest.keyClick(told.figures, Qt.Key.Key_Escape)
    assert not told.isVisible()


def test_nothing_is_worked_out_before_it_is_asked(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    window, _ = at_page(qtbot, "cycle", CyclePage, demo_job())
    asked: list[str] = []

    def counted(key: str, *others: Any) -> Any:
        asked.append(key)
        return real(key, *others)

    real: Callable[..., Any] = window_module.explain
    monkeypatch.setattr(window_module, "explain", counted)
    window.store.edit({"steady_draw": parse("7 gpm", FLOW)}, "x")
    window.store.undo_stack.undo()
    QApplication.processEvents()
    assert asked == []
    told = strike_f1(window)
    assert asked == ["cycle.steady"]  # one, not all that are listed
    QTest.keyClick(told.figures, Qt.Key.Key_Escape)
    window.store.edit({"steady_draw": parse("7 gpm", FLOW)}, "x")
    QApplication.processEvents()
    assert asked == ["cycle.steady"]


# --- page rules ---


STATES: dict[str, tuple[str, str, dict[str, Any], Display]] = {
    "air": ("tank", "bench.required", {}, Display()),
    "turn": ("cycle", "cycle.steady", {}, METRIC),
    "head": ("pump", "pump.point:1", {"pump_entry": "curve"}, Display()),
    "gauge": ("tank", "bench.precharge", {}, METRIC),
    "table": ("header", "header.lost:0", {}, Display()),
    "nothing": ("cycle", "", {"cut_out": "20 psi"}, Display()),
}


@pytest.mark.parametrize("state", STATES)
def test_the_window_keeps_all_page_rules(qtbot: QtBot, state: str) -> None:
    page_key, key, entries, display = STATES[state]
    behind: list[MainWindow] = []  # they own what is looked at

    def build() -> QWidget:
        window = window_at(page_key, demo_with(**entries))
        window.store.set_display(display)
        qtbot.addWidget(window)
        behind.append(window)
        window.show()
        return told_at(window.page_of(page_key), key)

    check_page(qtbot, build, untranslated=is_said_by_a_file)


def told_at(page: LazyPage, key: str) -> ExplainWindow:
    """The window of a figure ("": of the page), not shown yet."""
    QTest.qWait(20)
    if key:
        explain(page, key)
    else:
        explain_page(page)
    told = page.window().findChild(ExplainWindow)
    assert told is not None
    told.hide()
    return told
