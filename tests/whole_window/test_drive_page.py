"""The page "Variable speed", worked as a person does; it shows the study's figures, no others."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.study.build import GAL, PSI
from tests.whole_window.page_checks import check_page
from tests.whole_window.test_bench_page import is_said_by_a_file, unread
from tests.whole_window.user import at_window, demo_job, own_catalog
from workbench.gui.pages.drive.page import DrivePage
from workbench.gui.settings import Settings
from workbench.gui.window import MainWindow
from workbench.job.job import Job
from workbench.study.drive.view import NEEDED, DriveView
from workbench.units import Display, System

METRIC = Display(System.METRIC, ",")
STATED = {
    "drive_set": "60 psi",
    "drive_wake": "50 psi",
    "drive_tank": "4 gal",
    "drive_share": "70 %",
    "drive_ramp": "3 s",
    "drive_step": "5 gpm",
    "leak": "50 gal/d",
    "altitude": "0 ft",
}
STATES: dict[str, dict[str, Any]] = {
    "carries": STATED,
    "empty at wake": STATED | {"drive_share": "85 %", "leak": "500 gal/d", "drive_set": "85 psi"},
    "too small": STATED | {"drive_tank": "1 gal", "drive_step": None, "drive_ramp": "9 s"},
    "unread": STATED | {"first_tank": "gone"},
    "no ramp": STATED | {"drive_ramp": None},
    "empty": STATED | dict.fromkeys(NEEDED),
}


def in_state(state: str) -> Job:
    """The job of a state, read now, so that in a translation its reasons are translated."""
    entries = STATES[state]
    if state == "unread":
        entries = entries | {"drive_set": unread("60"), "leak": unread("some")}
    return demo_job().changed(**entries)


def at_page(qtbot: QtBot, state: str) -> tuple[MainWindow, DrivePage]:
    window = at_window(qtbot, in_state(state)).window
    window.go("drive")
    page = window.page_of("drive")
    assert isinstance(page, DrivePage)
    return window, page


def view_of(window: MainWindow) -> DriveView:
    assert window.store.results is not None
    return window.store.results.drive


@pytest.mark.parametrize(
    ("state", "metric"),
    [("carries", False), ("empty at wake", True), ("too small", False), ("unread", False),
     ("empty", False)],
)  # fmt: skip
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    def build() -> QWidget:
        settings = Settings()
        settings.catalog = own_catalog()
        window = MainWindow(settings)
        window.store.open_job(in_state(state), None)
        window._painted = True
        window._complete()
        if metric:
            window.store.set_display(METRIC)
        window.go("drive")
        return window

    check_page(qtbot, build, untranslated=is_said_by_a_file)


@pytest.mark.parametrize("display", [Display(), METRIC])
@pytest.mark.parametrize("state", ["carries", "empty at wake", "too small"])
def test_the_plot_shows_the_studys_figures(qtbot: QtBot, state: str, display: Display) -> None:
    window, page = at_page(qtbot, state)
    window.store.set_display(display)
    view = view_of(window)
    pressure, volume = (PSI, GAL) if display.system is System.US else (1e3, 1e-3)
    assert view.picture is not None
    assert view.pressures is not None
    (line,) = page.plot.lines().values()
    assert list(line[0]) == pytest.approx(list(view.picture.pressure / pressure))
    assert list(line[1]) == pytest.approx(list(view.picture.water / volume), abs=1e-12)
    stated = view.pressures
    places = sorted((stated.precharge, stated.wake, stated.set_pressure))
    assert page.plot.places() == pytest.approx([place / pressure for place in places])


def test_the_answer_says_whether_it_carries(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "carries")
    view = view_of(window)
    assert view.reserve is not None
    assert page.reserve.figure.text() == f"{view.reserve.water / GAL:.2f} gal"
    assert "It carries the drive: 0.25 gal" in page.reserve.reason.text()
    assert view.reserve.lowest is not None
    assert page.lowest.figure.text() == f"{view.reserve.lowest / PSI:.1f} psi"


def test_typing_changes_the_answer_and_undo_brings_it_back(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "carries")
    before = page.reserve.figure.text()
    field = page.inputs.rows["drive_tank"].field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(field, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(field, "1")
    assert page.reserve.figure.text() == "0.12 gal"
    assert "Too little" in page.reserve.reason.text()
    assert "larger tank" in page.inputs.rows["drive_tank"].message.text()
    keys = QKeySequence(QKeySequence.StandardKey.Undo)[0]  # type: ignore[index]
    QTest.keyClick(QApplication.focusWidget(), keys.key(), keys.keyboardModifiers())
    assert page.reserve.figure.text() == before
    assert window.store.job.drive_tank == in_state("carries").drive_tank


def test_missing_statements_are_named(qtbot: QtBot) -> None:
    _, page = at_page(qtbot, "empty")
    assert page.reserve.figure.text() == "—"
    for label in ("Set pressure", "Wake pressure", "Precharge", "Smallest tank", "Time to speed"):
        assert label in page.reserve.reason.text()
    assert page.picture.isHidden()
    assert page.facts.isHidden()


def test_without_a_time_to_speed_the_reserve_stands_alone(qtbot: QtBot) -> None:
    _, page = at_page(qtbot, "no ramp")
    assert page.reserve.figure.text().endswith("gal")
    assert page.reserve.reason.text().endswith("states: Time to speed.")
    assert page.lowest.isHidden()


def test_what_stops_is_named(qtbot: QtBot) -> None:
    _, page = at_page(qtbot, "unread")
    assert page.reserve.reason.text() == "Mend first: Set pressure."
    assert page.inputs.rows["drive_set"].message.isVisible()


def test_the_plot_is_read_by_keys(qtbot: QtBot) -> None:
    _, page = at_page(qtbot, "carries")
    page.plot.setFocus()
    QTest.keyClick(page.plot, Qt.Key.Key_End)
    told = page.picture.reading.text()
    assert told.startswith("At 60.0 psi — 4.0 gal tank: 1.0 gal")
    assert page.plot.accessibleDescription() == told
