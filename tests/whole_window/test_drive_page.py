"""The page "Variable speed", worked as a person does; it shows the study's figures, no others."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.study.build import GAL, PSI
from tests.whole_window.at_page import (
    METRIC,
    Unreadable,
    at_page,
    check_page_at,
    demo_with,
    results_of,
    type_over,
    undo,
)
from workbench.gui.pages.drive.page import DrivePage
from workbench.gui.window import MainWindow
from workbench.job.job import Job
from workbench.study.drive.view import NEEDED, DriveView
from workbench.units import Display, System

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
    "unread": STATED
    | {"first_tank": "gone", "drive_set": Unreadable("60"), "leak": Unreadable("some")},
    "no ramp": STATED | {"drive_ramp": None},
    "empty": STATED | dict.fromkeys(NEEDED),
}


def in_state(state: str) -> Job:
    return demo_with(**STATES[state])


def opened(qtbot: QtBot, state: str) -> tuple[MainWindow, DrivePage]:
    return at_page(qtbot, "drive", DrivePage, in_state(state))


def view_of(window: MainWindow) -> DriveView:
    return results_of(window).drive


@pytest.mark.parametrize(
    ("state", "metric"),
    [("carries", False), ("empty at wake", True), ("too small", False), ("unread", False),
     ("empty", False)],
)  # fmt: skip
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    check_page_at(qtbot, "drive", lambda: in_state(state), metric=metric)


@pytest.mark.parametrize("display", [Display(), METRIC])
@pytest.mark.parametrize("state", ["carries", "empty at wake", "too small"])
def test_the_plot_shows_the_studys_figures(qtbot: QtBot, state: str, display: Display) -> None:
    window, page = opened(qtbot, state)
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
    window, page = opened(qtbot, "carries")
    view = view_of(window)
    assert view.reserve is not None
    assert page.reserve.figure.text() == f"{view.reserve.water / GAL:.2f} gal"
    assert "It carries the drive: 0.25 gal" in page.reserve.reason.text()
    assert view.reserve.lowest is not None
    assert page.lowest.figure.text() == f"{view.reserve.lowest / PSI:.1f} psi"


def test_typing_changes_the_answer_and_undo_brings_it_back(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "carries")
    before = page.reserve.figure.text()
    type_over(page, "drive_tank", "1")
    assert page.reserve.figure.text() == "0.12 gal"
    assert "Too little" in page.reserve.reason.text()
    assert "larger tank" in page.inputs.rows["drive_tank"].message.text()
    undo()
    assert page.reserve.figure.text() == before
    assert window.store.job.drive_tank == in_state("carries").drive_tank


def test_missing_statements_are_named(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "empty")
    assert page.reserve.figure.text() == "—"
    for label in ("Set pressure", "Wake pressure", "Precharge", "Smallest tank", "Time to speed"):
        assert label in page.reserve.reason.text()
    assert page.picture.isHidden()
    assert page.facts.isHidden()


def test_without_a_time_to_speed_the_reserve_stands_alone(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "no ramp")
    assert page.reserve.figure.text().endswith("gal")
    assert page.reserve.reason.text().endswith("states: Time to speed.")
    assert page.lowest.isHidden()


def test_what_stops_is_named(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "unread")
    assert page.reserve.reason.text() == "Mend first: Set pressure."
    assert page.inputs.rows["drive_set"].message.isVisible()


def test_the_plot_is_read_by_keys(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "carries")
    page.plot.setFocus()
    QTest.keyClick(page.plot, Qt.Key.Key_End)
    told = page.picture.reading.text()
    assert told.startswith("At 60.0 psi — 4.0 gal tank: 1.0 gal")
    assert page.plot.accessibleDescription() == told
