"""Going from page to page: by the list, the menu and the keys; pages are made when visited."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import is_said_by_a_file, window_at
from tests.whole_window.page_checks import check_page
from tests.whole_window.sample_pages import SamplePage, entries
from tests.whole_window.test_keyboard import clashes, menus
from tests.whole_window.user import CTRL, User, at_window, demo_job, plain
from workbench.gui import window as window_module
from workbench.gui.page_list import PageList
from workbench.gui.pages.page import LazyPage
from workbench.gui.pages.registry import FIRST, pages
from workbench.gui.settings import Settings
from workbench.units import PRESSURE, parse


@pytest.fixture
def many_pages(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(window_module, "pages", entries)


def page_list(user: User) -> PageList:
    return user.window._stack.list


def sample(user: User, key: str) -> SamplePage:
    page = user.window.page_of(key)
    assert isinstance(page, SamplePage)
    return page


def test_every_page_of_the_registry_can_be_made_and_has_a_name_of_its_own(qtbot: QtBot) -> None:
    user = at_window(qtbot, demo_job())
    for entry in pages():
        user.window.go(entry.key)
        assert user.window.shown == entry.key
        assert isinstance(user.window.page_of(entry.key), LazyPage)
        assert user.window.page_of(entry.key).isVisible()
    assert len({entry.key for entry in pages()}) == len(pages())
    assert len({entry.title for entry in pages()}) == len(pages())
    grouped = [entry.group for entry in pages()]
    assert grouped == sorted(grouped, key=grouped.index)  # those of a group stand together


@pytest.mark.usefixtures("many_pages")
def test_the_bench_comes_first_and_no_other_page_is_made_before_its_visit(qtbot: QtBot) -> None:
    user = at_window(qtbot, demo_job())
    assert user.window.shown == FIRST
    assert user.page.isVisible()
    assert user.window.findChildren(SamplePage) == []
    user.window.go("three")
    assert len(user.window.findChildren(SamplePage)) == 1
    assert sample(user, "three").isVisible()
    assert not user.page.isVisible()
    user.window.go(FIRST)
    user.window.go("three")
    assert len(user.window.findChildren(SamplePage)) == 1
    with pytest.raises(KeyError):
        user.window.go("nowhere")


class _Painted(QObject):
    def __init__(self) -> None:
        super().__init__()
        self.count = 0

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        self.count += event.type() == QEvent.Type.Paint
        return False


@pytest.mark.usefixtures("many_pages")
def test_the_bench_rests_while_another_page_is_seen_and_catches_up(qtbot: QtBot) -> None:
    user = at_window(qtbot, demo_job())
    user.window.go("one")
    painted = _Painted()
    user.page.installEventFilter(painted)
    user.plot.viewport().installEventFilter(painted)
    figures, rows, shown = user.figures(), user.rows(), sample(user, "one").shows
    for number in range(31, 36):
        user.store.edit({"cut_in": parse(f"{number} psi", PRESSURE)}, "edit")
        QApplication.processEvents()
    user.store.select(0)
    assert painted.count == 0
    assert (user.figures(), user.rows()) == (figures, rows)
    assert sample(user, "one").shows == shown + 5
    user.window.go(FIRST)
    QApplication.processEvents()
    assert painted.count > 0
    assert user.figures()[1] == "33.0 psi"
    assert user.rows() != rows
    assert user.texts()["cut_in"] == "35 psi"
    assert user.chosen_row() == user.model.row_of(0)


@pytest.mark.usefixtures("many_pages")
def test_the_list_is_walked_by_arrows_which_step_over_headings(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.go_to(page_list(user))
    seen = [user.window.shown]
    for _ in range(len(entries())):
        user.press(Qt.Key.Key_Down)
        seen.append(user.window.shown)
        assert page_list(user).hasFocus()
    expected = [entry.key for entry in entries()]
    assert seen == [*expected, expected[-1]]
    user.press(Qt.Key.Key_Home)
    assert user.window.shown in (FIRST, "end")  # a heading stands at the very top
    user.window.go("two")
    user.press(Qt.Key.Key_Up)
    assert user.window.shown == "one"
    user.press(Qt.Key.Key_Return)
    assert QApplication.focusWidget() is sample(user, "one").inputs.rows["pump_entry"].field


@pytest.mark.usefixtures("many_pages")
def test_pages_are_reached_by_their_keys_and_the_focus_comes_along(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.go_to("cut_out")
    user.press(Qt.Key.Key_3, CTRL)
    assert user.window.shown == "two"
    page = sample(user, "two")
    assert page.isAncestorOf(QApplication.focusWidget())
    page.inputs.rows["cut_in"].field.setFocus()
    user.press(Qt.Key.Key_1, CTRL)
    assert user.window.shown == FIRST
    assert QApplication.focusWidget() is user.field("cut_out")  # where it was
    user.press(Qt.Key.Key_3, CTRL)
    assert QApplication.focusWidget() is page.inputs.rows["cut_in"].field
    user.menu("Go", "b Ten-9")
    assert user.window.shown == "ten"
    assert user.entry("Go", "b Ten-9").isChecked()
    assert not user.entry("Go", "1 Tank").isChecked()
    assert page_list(user).currentIndex().data() == "Ten-9"


@pytest.mark.usefixtures("many_pages")
def test_a_click_goes_to_a_page_and_one_on_a_heading_nowhere(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    names = page_list(user)
    for row, expected in ((3, "two"), (5, "two"), (6, "four")):
        place = names.visualRect(names.model().index(row, 0)).center()
        QTest.mouseClick(names.viewport(), Qt.MouseButton.LeftButton, pos=place)
        assert user.window.shown == expected, row
        assert names.currentIndex().isValid()


@pytest.mark.usefixtures("many_pages")
def test_what_is_typed_on_one_page_is_undone_on_another(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.window.go("one")
    field = sample(user, "one").inputs.rows["cut_in"].field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    field.selectAll()  # type: ignore[attr-defined]
    user.type("37")
    user.press(Qt.Key.Key_1, CTRL)
    assert user.texts()["cut_in"] == "37 psi"
    user.undo()
    assert user.texts()["cut_in"] == "30 psi"


def test_the_list_is_hidden_and_stays_so(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    assert page_list(user).isVisible()
    assert user.entry("View", "Page list").shortcut() == QKeySequence("F9")
    user.press(Qt.Key.Key_F9)
    assert not page_list(user).isVisible()
    assert Settings().shows_page_list is False
    again = at_window(qtbot)
    assert not page_list(again).isVisible()
    again.menu("View", "Page list")
    assert page_list(again).isVisible()
    assert Settings().shows_page_list is True


@pytest.mark.usefixtures("many_pages")
def test_sixteen_pages_stand_in_the_list_without_scrolling_at_usual_text(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.window.resize(1366, 728)
    QApplication.processEvents()
    names = page_list(user)
    bar = names.verticalScrollBar()
    assert bar.maximum() == 0
    user.window.resize(1366, 400)
    QApplication.processEvents()
    assert bar.maximum() > 0
    assert names.viewport().width() >= names.sizeHintForColumn(0)  # the bar has room of its own
    user.window.go("end")
    last = names.visualRect(names.currentIndex())
    assert names.viewport().rect().contains(last)


@pytest.mark.usefixtures("many_pages")
def test_menu_keys_of_many_pages_do_not_clash(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    assert clashes(user.window.menuBar().actions()) == []
    for menu in menus(user):
        if plain(menu.title()) in ("Go", "View"):
            assert clashes(menu.actions()) == []
    keys = [action.shortcut().toString() for action in user.window._go_actions.values()]
    assert keys == [*(f"Ctrl+{n}" for n in range(1, 10)), *[""] * 7]


@pytest.mark.usefixtures("many_pages")
def test_the_tables_copy_belongs_to_the_bench(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.window.go("one")
    assert not user.entry("Edit", "Copy the table").isEnabled()
    user.window.go(FIRST)
    assert user.entry("Edit", "Copy the table").isEnabled()


@pytest.mark.usefixtures("many_pages")
def test_a_window_with_many_pages_keeps_every_page_rule(qtbot: QtBot) -> None:
    def build() -> QWidget:
        return window_at("two", demo_job())

    names = {entry.title for entry in entries()}
    check_page(
        qtbot,
        build,
        untranslated=lambda text: is_said_by_a_file(text) or any(n in text for n in names),
    )


def test_our_own_pages_stand_in_the_list_without_scrolling_at_usual_text(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.window.resize(1366, 728)
    QApplication.processEvents()
    assert len(user.window.entries) > 20
    assert page_list(user).verticalScrollBar().maximum() == 0
