"""The page "Price list", worked by keys as a person does; it shows the study's amounts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import (
    METRIC,
    Unreadable,
    at_page,
    demo_with,
    is_said_by_a_file,
    press,
    results_of,
    type_over,
    undo,
    unread,
    window_at,
)
from tests.whole_window.checks.parts import settle
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import demo_job
from workbench.gui.fields.choice_field import ChoiceField
from workbench.gui.models.prices_model import Column
from workbench.gui.pages.prices.page import PricesPage
from workbench.gui.window import MainWindow
from workbench.job.job import Job
from workbench.job.paper_choices import Currency, ItemKind
from workbench.job.prices import Count, PriceItem
from workbench.study.pricing.money import money
from workbench.study.pricing.sheet import PriceSheet, price_sheet
from workbench.units import MONEY, NUMBER, Quantity, Unread, parse

STATES: dict[str, dict[str, Any]] = {
    "demo": {},
    "with cost": {"tank_price": "cost", "rounding": "to_10", "prices_invented": False},
    "at a loss": {"tank_price": "cost", "labour_cost": "400"},
    "unread": {"tax": Unreadable("lots")},
    "no list": {"prices": ()},
    "some missing": {"counts": (Count(code="gone", quantity=parse("2", NUMBER)),)},
    "no tank": {"offer_a_tank": "gone"},
    "job stopped": {"cut_in": Unreadable("30")},
}


def in_state(state: str) -> Job:
    """The job of a state, read now, so that in a translation its reasons are translated."""
    job = demo_job()
    entries = dict(STATES[state])
    if state == "unread":
        first, second, *others = job.prices
        bad = replace(first, cost=unread("lots")), replace(second, price=unread("9,800"))
        entries["prices"] = (*bad, *others)
        entries["counts"] = (Count(code="union", quantity=unread("lots")),)
    if state == "some missing":
        entries["prices"] = job.prices[3:]
    return demo_with(**entries)


def opened(qtbot: QtBot, job: Job | None = None) -> tuple[MainWindow, PricesPage]:
    window, page = at_page(qtbot, "prices", PricesPage, in_state("demo") if job is None else job)
    settle()
    return window, page


def said(text: str) -> bool:
    """Items of the demo's price list, and codes of currencies, need no translation."""
    if text in {one.value for one in Currency}:
        return True
    names = {item.name for item in demo_job().prices}
    return is_said_by_a_file(text) or any(name in text for name in names)


@pytest.mark.parametrize(
    ("state", "metric"),
    [*((state, False) for state in STATES), ("demo", True), ("unread", True)],
)
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, *, metric: bool) -> None:
    def build() -> QWidget:
        window = window_at("prices", in_state(state), metric=metric)
        page = window.page_of("prices")
        assert isinstance(page, PricesPage)
        page.list.table.setCurrentIndex(page.list.model.index(1, Column.PRICE))
        return window

    check_page(qtbot, build, untranslated=said)


# --- working in it by keys ---


def sheet_of(window: MainWindow) -> PriceSheet:
    return price_sheet(results_of(window))


def at_cell(page: PricesPage, code: str, column: Column) -> None:
    codes = [item.code for item in page.store.job.prices]
    page.list.table.setFocus(Qt.FocusReason.TabFocusReason)
    page.list.table.setCurrentIndex(page.list.model.index(codes.index(code), column))


def strike(key: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    focus = QApplication.focusWidget()
    assert focus is not None
    QTest.keyClick(focus, key, modifier)
    settle()


def type_in(page: PricesPage, code: str, column: Column, text: str) -> None:
    """Go to a cell, type over what it holds, and end with Enter."""
    at_cell(page, code, column)
    QTest.keyClicks(page.list.table, text[0])
    editor = QApplication.focusWidget()
    assert isinstance(editor, QLineEdit)
    QTest.keyClicks(editor, text[1:])
    strike(Qt.Key.Key_Return)


def take_back() -> None:
    undo()
    settle()


def cell(page: PricesPage, code: str, column: Column) -> str:
    codes = [item.code for item in page.store.job.prices]
    return page.list.model.text(codes.index(code), column)


def item(page: PricesPage, code: str) -> PriceItem:
    (one,) = [item for item in page.store.job.prices if item.code == code]
    return one


def values(rows: Iterable[tuple[str, str]]) -> dict[str, str]:
    return dict(rows)


def test_the_total_and_what_it_is_made_of_are_the_studys(qtbot: QtBot) -> None:
    window, page = opened(qtbot, in_state("with cost"))
    priced = sheet_of(window).priced
    assert priced is not None
    totals, job = priced.totals, window.store.job
    assert totals is not None
    assert page.total.figure.text() == money(totals.total, job)
    shown = values(page.made_of.rows())
    assert shown["Tanks and parts"] == money(totals.parts, job)
    assert shown["Labour"] == money(totals.labour, job)
    assert shown["Fees"] == money(totals.fees, job)
    assert shown[f"Tax, 6 % of {money(totals.taxable, job)}"] == money(totals.tax, job)
    assert shown["Rounding"] == money(totals.rounding, job)
    own = values(page.for_us.rows())
    assert totals.cost is not None
    assert totals.margin is not None
    assert own["Cost"] == money(totals.cost, job)
    assert own["Margin"].startswith(money(totals.margin, job))
    amounts = [cell(page, one.code, Column.AMOUNT) for one in job.prices]
    lines = [money(line.amount, job) for line in priced.lines if line.code != "tank"]
    assert [amount for amount in amounts if amount] == lines


def test_the_page_shows_the_same_as_the_estimate(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    priced = results_of(window).estimate.offers[0].priced
    assert priced is not None
    assert priced.totals is not None
    assert page.total.figure.text() == money(priced.totals.total, window.store.job)


def test_typing_a_price_changes_the_total_in_one_step_of_undo(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    before, index = page.total.figure.text(), window.store.undo_stack.index()
    type_in(page, "tee", Column.PRICE, "60.50")
    assert item(page, "tee").price == parse("60.50", MONEY)
    assert cell(page, "tee", Column.PRICE) == "60.50"
    assert cell(page, "tee", Column.AMOUNT) == "$60.50"
    assert page.total.figure.text() != before
    assert window.store.undo_stack.index() == index + 1
    take_back()
    assert item(page, "tee").price is None
    assert page.total.figure.text() == before


def test_a_decimal_comma_is_read_and_shown_as_typed(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    window.store.set_display(METRIC)
    type_in(page, "tee", Column.PRICE, "60,5")
    assert item(page, "tee").price == parse("60.5", MONEY)
    assert cell(page, "tee", Column.PRICE) == "60,5"


def test_a_text_that_is_no_price_is_kept_marked_and_told(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    type_in(page, "tee", Column.PRICE, "9,800")
    kept = item(page, "tee").price
    assert isinstance(kept, Unread)
    assert kept.text == cell(page, "tee", Column.PRICE) == "9,800"
    assert page.total.figure.text() == "—"
    assert any("Tank tee with ports, price" in text for text in page.messages.texts())
    index = page.list.model.index(0, Column.PRICE)
    assert index.data(Qt.ItemDataRole.DecorationRole) is not None
    assert index.data(Qt.ItemDataRole.ForegroundRole) is not None
    assert "9800 or 9,800" in page.list.remark.text() or "9800" in page.list.remark.text()
    take_back()
    assert page.total.figure.text() != "—"


def test_a_quantity_goes_before_the_count_until_it_is_cleared(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    at_cell(page, "gauge", Column.QUANTITY)
    assert page.list.remark.text().startswith("Pressure gauge, 0 to 100 psi: Counted: 1, ")
    type_in(page, "gauge", Column.QUANTITY, "2.5")
    assert cell(page, "gauge", Column.QUANTITY) == "2.5"
    assert "Counted it would be 1" in page.list.remark.text()
    assert cell(page, "gauge", Column.AMOUNT) == "$34.30"  # 2.5 × 9.80 × 1.40
    strike(Qt.Key.Key_Delete)
    assert cell(page, "gauge", Column.QUANTITY) == "1"
    assert "gauge" not in [count.code for count in window.store.job.counts]
    take_back()
    assert cell(page, "gauge", Column.QUANTITY) == "2.5"


def test_a_count_can_be_typed_as_it_is_counted(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    type_in(page, "gauge", Column.QUANTITY, "1")
    assert "gauge" in [count.code for count in window.store.job.counts]


def test_looking_into_a_cell_changes_nothing(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    for column in (Column.NAME, Column.UNIT, Column.KIND, Column.COST, Column.QUANTITY):
        at_cell(page, "gauge", column)
        strike(Qt.Key.Key_F2)
        assert QApplication.focusWidget() is not page.list.table
        strike(Qt.Key.Key_Return)
    assert window.store.is_saved


def test_tab_goes_from_cell_to_cell_while_editing(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    at_cell(page, "tee", Column.HOURS)
    strike(Qt.Key.Key_F2)
    strike(Qt.Key.Key_Tab)  # over the tick
    assert page.list.table.currentIndex().column() == Column.QUANTITY
    strike(Qt.Key.Key_Tab)  # over the amount
    now = page.list.table.currentIndex()
    assert (now.row(), now.column()) == (1, Column.NAME)
    assert isinstance(QApplication.focusWidget(), QLineEdit)
    strike(Qt.Key.Key_Backtab, Qt.KeyboardModifier.ShiftModifier)
    assert page.list.table.currentIndex().column() == Column.QUANTITY
    strike(Qt.Key.Key_Escape)
    assert QApplication.focusWidget() is page.list.table


def test_kind_and_tax_are_chosen_by_keys(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    at_cell(page, "sample", Column.KIND)
    strike(Qt.Key.Key_F2)
    editor = QApplication.focusWidget()
    assert isinstance(editor, ChoiceField)
    strike(Qt.Key.Key_Up)
    strike(Qt.Key.Key_Return)
    assert item(page, "sample").kind is ItemKind.LABOUR
    at_cell(page, "tee", Column.KIND)
    strike(Qt.Key.Key_F2)
    strike(Qt.Key.Key_Down)
    strike(Qt.Key.Key_Down)  # two steps are one edit
    strike(Qt.Key.Key_Return)
    assert item(page, "tee").kind is ItemKind.FEE
    take_back()
    assert item(page, "tee").kind is ItemKind.PART
    at_cell(page, "sample", Column.TAXED)
    strike(Qt.Key.Key_Space)
    assert item(page, "sample").taxed is True
    take_back()
    take_back()
    assert item(page, "sample") == next(i for i in demo_job().prices if i.code == "sample")


def test_the_wheel_changes_no_cell(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    at_cell(page, "sample", Column.KIND)
    strike(Qt.Key.Key_F2)
    place = QPointF(page.list.table.viewport().rect().center())
    wheel = QWheelEvent(
        place,
        page.list.table.viewport().mapToGlobal(place),
        QPoint(0, -120),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(page.list.table.viewport(), wheel)
    strike(Qt.Key.Key_Escape)
    assert window.store.is_saved


def click(button: QPushButton) -> None:
    press(button)
    settle()


def test_an_item_of_ones_own_is_added_priced_and_removed(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    before, items = page.total.figure.text(), window.store.job.prices
    at_cell(page, "tee", Column.NAME)
    click(page.list.add)
    assert window.store.job.prices[1].code == "own_1"
    editor = QApplication.focusWidget()
    assert isinstance(editor, QLineEdit)  # its name can be typed at once
    QTest.keyClicks(editor, "Frost cable")
    strike(Qt.Key.Key_Return)
    assert window.store.job.prices[1].name == "Frost cable"
    type_in(page, "own_1", Column.PRICE, "100")
    assert page.total.figure.text() == before  # none is taken yet
    type_in(page, "own_1", Column.QUANTITY, "2")
    assert cell(page, "own_1", Column.AMOUNT) == "$200.00"
    assert page.total.figure.text() != before
    click(page.list.remove)
    assert window.store.job.prices == items
    assert "own_1" not in [count.code for count in window.store.job.counts]
    assert page.total.figure.text() == before
    take_back()
    assert cell(page, "own_1", Column.AMOUNT) == "$200.00"


def test_a_row_is_moved_and_stays_current(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    at_cell(page, "tee", Column.NAME)
    strike(Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert [one.code for one in window.store.job.prices[:2]] == ["gauge", "tee"]
    assert page.list.table.currentIndex().row() == 1
    click(page.list.up)
    assert [one.code for one in window.store.job.prices[:2]] == ["tee", "gauge"]
    assert page.list.table.currentIndex().row() == 0
    assert not page.list.up.isEnabled()
    click(page.list.down)
    assert window.store.job.prices[1].code == "tee"


def test_what_the_list_lacks_is_added_with_one_key(qtbot: QtBot) -> None:
    window, page = opened(qtbot, in_state("some missing"))
    texts = " ".join(page.messages.texts())
    assert "The price list has no: Tank tee with ports" in texts
    click(page.list.drop_orphans)
    assert window.store.job.counts == ()
    click(page.list.add_usual)
    codes = [one.code for one in window.store.job.prices]
    assert set(codes) == {one.code for one in demo_job().prices}
    assert page.list.add_usual.isHidden()
    assert "Tank tee with ports has neither a price nor a cost" in " ".join(page.messages.texts())


def test_rates_are_typed_beside_it(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    type_over(page, "markup", "50")
    assert cell(page, "tee", Column.AMOUNT) == "$47.25"  # 31.50 × 1.5
    assert isinstance(window.store.job.markup, Quantity)


def test_why_there_is_no_total_is_told(qtbot: QtBot) -> None:
    for state, why in (
        ("no list", "There is no price list in this job."),
        ("no tank", "gone"),
        ("job stopped", "Mend first: Cut-in."),
    ):
        _, page = opened(qtbot, in_state(state))
        assert page.total.figure.text() == "—"
        assert why in page.total.reason.text()


def test_undo_from_elsewhere_comes_back_to_the_list(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    type_in(page, "tee", Column.PRICE, "60")
    window.go("tank")
    window.store.undo_stack.undo()
    assert window.shown == "prices"
