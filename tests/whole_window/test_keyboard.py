"""The whole job without a mouse, and Alt and Ctrl keys that do not get in each other's way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QMenu, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.user import CTRL, Answers, User, at_window, own_catalog, plain, show
from workbench.gui import app
from workbench.gui.settings import Settings
from workbench.gui.window import MainWindow
from workbench.job import document
from workbench.units import System

# The offscreen platform prints this when a menu opens; it has no window system to ask.
OPENS_MENUS = pytest.mark.qt_log_ignore("This plugin does not support (raise|grabbing)")

ALT = Qt.KeyboardModifier.AltModifier
READING_ORDER = [
    *("pump_flow", "run_time_rule", "run_time", "starts_limit"),
    *("cut_in", "cut_out", "bands", "precharge_rule", "reading_temperature", "reading_altitude"),
    *("altitude", "tank_temperature", "exponent"),
    *("door_width", "headroom", "pressure_margin", "header_tanks", "mixed_sets"),
    "potable_required",
    *("Drawdown against total volume", "Order of the tanks that pass", "Ranked tanks"),
    *("Pages", "title"),  # stand first; the sizing begins behind them
]


class _NoMouse(QObject):
    """Keeps every mouse event that comes to anything."""

    KINDS = (
        QEvent.Type.MouseButtonPress,
        QEvent.Type.MouseButtonRelease,
        QEvent.Type.MouseButtonDblClick,
        QEvent.Type.MouseMove,
        QEvent.Type.Wheel,
    )

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in self.KINDS:
            self.seen.append(f"{event.type().name} to {type(watched).__name__}")
        return False


@pytest.fixture
def no_mouse(qapp: QApplication) -> Iterator[None]:
    """Fail a test in which a mouse was used."""
    guard = _NoMouse()
    qapp.installEventFilter(guard)
    yield
    qapp.removeEventFilter(guard)
    assert guard.seen == []


@OPENS_MENUS
@pytest.mark.usefixtures("no_mouse")
def test_a_tank_is_found_read_and_saved_by_keys_alone(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings = Settings()
    settings.catalog = own_catalog()
    window = MainWindow(settings)
    app._open_first(window, None)
    user = show(qtbot, window)
    assert QApplication.focusWidget() is user.field("pump_flow")  # one can type at once
    user.press(Qt.Key.Key_A, CTRL)
    user.type("9 gpm")
    user.press(Qt.Key.Key_Tab)
    user.press(Qt.Key.Key_Tab)
    user.type("2")
    user.enter("cut_in", "40")
    user.press(Qt.Key.Key_Tab)
    user.type("60")
    assert user.figures() == ("18.0 gal", "38.0 psi")
    for _ in range(60):
        if QApplication.focusWidget() is user.table:
            break
        user.press(Qt.Key.Key_Tab)
    user.press(Qt.Key.Key_Space)
    first = user.rows()[0]
    assert first[0] == "Passes"
    assert user.detail().startswith(f"{first[1]}: Gives ")
    user.press(Qt.Key.Key_Down)
    assert user.detail().startswith(f"{user.rows()[1][1]}: ")
    user.go_to(user.plot)
    for _ in range(5):
        user.press(Qt.Key.Key_Right)
    assert "40/60: " in user.reading()
    user.press(Qt.Key.Key_Up)
    row = user.chosen_row()
    assert row is not None
    assert user.detail().startswith(f"{user.rows()[row][1]}: ")
    answers = Answers(monkeypatch)
    answers.prepare(files=[tmp_path / "by keys"])
    user.press(Qt.Key.Key_S, CTRL)
    assert answers.told() == []
    saved = document.read(tmp_path / "by keys.tankjob.json")
    assert [str(q) for q in (saved.pump_flow, saved.run_time, saved.cut_in, saved.cut_out)] == [
        *("9 gpm", "2 min", "40 psi", "60 psi"),
    ]
    assert not window.isWindowModified()
    user.press(Qt.Key.Key_F, ALT)
    popup = QApplication.activePopupWidget()
    assert popup is not None
    QTest.keyClick(popup, Qt.Key.Key_Q)
    assert not window.isVisible()


@pytest.mark.usefixtures("no_mouse")
def test_tab_goes_as_one_reads_and_shift_tab_back(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    for key, expected in (
        (Qt.Key.Key_Tab, READING_ORDER),
        (Qt.Key.Key_Backtab, [READING_ORDER[0], *reversed(READING_ORDER[1:])]),
    ):
        user.go_to("pump_flow")
        seen = []
        for _ in READING_ORDER:
            here = focused()
            seen.append(here.objectName() or here.accessibleName())
            user.press(key)
        assert seen == expected
        assert QApplication.focusWidget() is user.field("pump_flow")


@pytest.mark.usefixtures("no_mouse")
def test_what_gets_the_focus_is_scrolled_into_sight(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.window.resize(user.window.minimumSizeHint())
    user.field("title").setFocus()
    for key in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
        for _ in range(len(READING_ORDER) + 1):
            here = focused()
            painted = here.viewport() if isinstance(here, QAbstractScrollArea) else here
            seen = painted.visibleRegion().boundingRect()
            assert seen.height() >= min(here.height(), 24), here.objectName()
            user.press(key)


def focused() -> QWidget:
    widget = QApplication.focusWidget()
    assert widget is not None
    return widget


def menus(user: User) -> list[QMenu]:
    """Every menu of the bar and those within."""
    found = []
    waiting = [action.menu() for action in user.window.menuBar().actions()]
    while waiting:
        menu = waiting.pop(0)
        assert isinstance(menu, QMenu)
        menu.aboutToShow.emit()
        found.append(menu)
        waiting += [action.menu() for action in menu.actions() if action.menu() is not None]
    return found


def clashes(actions: list[QAction]) -> list[str]:
    entries = [action for action in actions if not action.isSeparator()]
    keys = [QKeySequence.mnemonic(action.text()).toString() for action in entries]
    twice = {key for key, count in Counter(keys).items() if count > 1 or not key}
    return [plain(a.text()) for a, key in zip(entries, keys, strict=True) if key in twice]


def test_no_two_entries_of_a_menu_have_the_same_alt_key(qtbot: QtBot, tmp_path: Path) -> None:
    user = at_window(qtbot)
    for number in range(9):
        user.store.save_job(tmp_path / f"{number}.tankjob.json")
        user.window.settings.add_recent(tmp_path / f"{number}.tankjob.json")
    user.enter("cut_in", "35")
    assert clashes(user.window.menuBar().actions()) == []
    for menu in menus(user):
        assert clashes(menu.actions()) == [], plain(menu.title())


def test_no_two_actions_have_the_same_shortcut(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    keys = Counter(
        key.toString()
        for menu in menus(user)
        for action in menu.actions()
        for key in action.shortcuts()
    )
    assert {key for key, count in keys.items() if count > 1} == set()
    assert {"Ctrl+N", "Ctrl+O", "Ctrl+S", "Ctrl+Z", "Ctrl+C", "F5"} <= set(keys)


@OPENS_MENUS
@pytest.mark.usefixtures("no_mouse")
def test_a_menu_opens_by_its_alt_key_and_its_entry_is_chosen_by_a_letter(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.go_to("cut_in")
    user.press(Qt.Key.Key_V, ALT)
    popup = QApplication.activePopupWidget()
    assert isinstance(popup, QMenu)
    assert plain(popup.title()) == "View"
    QTest.keyClick(popup, Qt.Key.Key_S)
    assert user.store.display.system is System.METRIC
    assert user.texts()["cut_in"] == "206.8 kPa"


@pytest.mark.usefixtures("no_mouse")
def test_lists_and_tick_boxes_are_worked_by_keys(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.go_to("run_time_rule")
    user.press(Qt.Key.Key_Down)
    assert user.texts()["run_time_rule"] == "steps by pump flow"
    assert user.reasons()[0].startswith("10 gpm × 1.00 min, steps by pump flow.")
    user.press(Qt.Key.Key_L)  # by its first letter
    assert user.figures()[0] == "25.0 gal"
    user.go_to("potable_required")
    user.press(Qt.Key.Key_Space)
    assert user.store.job.potable_required is False
