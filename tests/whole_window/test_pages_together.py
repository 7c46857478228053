"""What goes from page to page: undo, the pump's flow on the bench, the keys of long pages."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.whole_window.checks.parts import settle
from tests.whole_window.user import User, at_window, demo_job, few_tanks
from workbench.gui.fields.quantity_field import QuantityField
from workbench.gui.pages.page import Page
from workbench.job.pump_choices import PumpEntry
from workbench.units import FLOW


@pytest.fixture
def demo(qtbot: QtBot) -> User:
    return at_window(qtbot, demo_job(), few_tanks(12))


def at(user: User, key: str) -> Page:
    user.window.go(key)
    page = user.window.page_of(key)
    assert isinstance(page, Page)
    settle()
    return page


def type_into(page: Page, name: str, text: str) -> None:
    field = page.inputs.rows[name].field
    assert isinstance(field, QuantityField)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)


def test_undo_and_redo_show_the_page_on_which_something_changes(demo: User) -> None:
    window, stack = demo.window, demo.store.undo_stack
    type_into(at(demo, "cycle"), "steady_draw", "7")
    type_into(at(demo, "demand"), "bedrooms", "5")
    window.go("tank")
    stack.undo()
    assert window.shown == "demand"
    stack.undo()
    assert window.shown == "cycle"
    stack.redo()
    assert window.shown == "cycle"
    stack.redo()
    assert window.shown == "demand"


def test_undo_stays_where_the_same_input_stands_too(demo: User) -> None:
    type_into(at(demo, "pump"), "cut_out", "55")
    demo.window.go("header")
    demo.store.undo_stack.undo()
    assert demo.window.shown == "header"


def test_the_bench_says_where_a_falling_flow_was_entered(demo: User) -> None:
    row = demo.window.page.inputs.rows["pump_flow"]
    assert row.field.isEnabled()
    demo.store.edit({"pump_entry": PumpEntry.CURVE}, "")
    assert not row.field.isEnabled()
    results = demo.store.results
    assert results is not None
    assert results.duty is not None
    flow = demo.store.display.text(results.duty.pump_flow, FLOW)
    assert flow in row.message.text()
    assert "Pump and well" in row.message.text()
    assert f"{flow} on average" in demo.window.page.answers.drawdown.reason.text()
    demo.store.edit({"water_level": None}, "")
    assert "Not used: the pump is entered by pump curve" in row.message.text()
    demo.store.undo_stack.undo()
    demo.store.undo_stack.undo()
    assert row.field.isEnabled()
    assert row.message.text() == ""


def test_page_down_leafs_through_the_results_while_one_types(demo: User) -> None:
    page = at(demo, "cycle")
    bar = page.areas[-1].verticalScrollBar()
    assert bar.maximum() > 0, "all of it is seen; choose a longer page"
    field = page.inputs.rows["steady_draw"].field
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_PageDown)
    assert bar.value() > 0
    QTest.keyClick(field, Qt.Key.Key_PageUp)
    assert bar.value() == 0
    assert field.hasFocus()
