"""The page "Several tanks", worked as a person does; it shows the study's figures, no others."""

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
    undo,
)
from workbench.gui.pages.header.page import HeaderPage
from workbench.gui.window import MainWindow
from workbench.job.choices import PrechargeRule
from workbench.job.job import Job
from workbench.study.header.view import HeaderView, TankSet
from workbench.units import VOLUME, Display, System

BAND = {"cut_in": "30 psi", "cut_out": "50 psi", "altitude": "0 ft"}
THREE = "85 gal 28 psi; 44 gal 38 psi; 44 gal 18 psi"
STATES: dict[str, dict[str, Any]] = {
    "unequal": BAND | {"header_set": THREE, "plain_volume": "120 gal"},
    "much wrong": BAND | {
        "header_set": "44 gal 34 psi; 20 gal 60 psi; 10 gal 33 psi; 10 gal 33 psi",
        "plain_volume": "2000 gal", "plain_residual": "10 %",
    },
    "many": BAND | {
        "header_set": "; ".join(f"{20 + n} gal {20 + n} psi" for n in range(12)),
        "plain_volume": None,
    },
    "none takes water": BAND | {
        "header_set": "44 gal 60 psi", "plain_volume": "120 gal",
        "precharge_rule": PrechargeRule.TYPED, "precharge": "55 psi",
    },
    "unread": BAND | {
        "header_set": Unreadable("44"), "plain_volume": Unreadable("big"),
        "plain_residual": "100 %",
    },
    "empty": BAND | {"header_set": None, "plain_volume": None, "plain_residual": None},
}  # fmt: skip


def in_state(state: str) -> Job:
    return demo_with(**STATES[state])


def opened(qtbot: QtBot, state: str) -> tuple[MainWindow, HeaderPage]:
    return at_page(qtbot, "header", HeaderPage, in_state(state))


def view_of(window: MainWindow) -> HeaderView:
    return results_of(window).header


def set_of(window: MainWindow) -> TankSet:
    found = view_of(window).tanks
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("state", "metric"),
    [("unequal", False), ("much wrong", True), ("many", False), ("none takes water", False),
     ("unread", False), ("empty", False)],
)  # fmt: skip
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    check_page_at(qtbot, "header", lambda: in_state(state), metric=metric)


@pytest.mark.parametrize("display", [Display(), METRIC])
def test_plot_and_table_show_the_studys_figures(qtbot: QtBot, display: Display) -> None:
    window, page = opened(qtbot, "unequal")
    window.store.set_display(display)
    tanks = set_of(window)
    pressure, volume = (PSI, GAL) if display.system is System.US else (1e3, 1e-3)
    drawn = page.plot.lines()
    assert len(drawn) == 5
    for line, water in zip(
        drawn.values(),
        (tanks.picture.total, tanks.picture.matched, *tanks.picture.each.T),
        strict=True,
    ):
        assert list(line[0]) == pytest.approx(list(tanks.picture.pressure / pressure))
        assert list(line[1]) == pytest.approx(list(water / volume), abs=1e-12)
    band = [tanks.setting.cut_in / pressure, tanks.setting.cut_out / pressure]
    assert page.plot.places() == pytest.approx(band)
    assert set(drawn) <= set(page.plot.texts())
    _, *rows = page.tanks.texts()
    for one, row in zip(tanks.tanks, rows, strict=True):
        assert float(row[2].replace(",", ".")) == pytest.approx(one.drawdown / volume, abs=0.051)
        assert float(row[4].replace(",", ".")) == pytest.approx(one.at_cut_in / volume, abs=0.051)
    assert page.drawdown.figure.text() == display.text(tanks.drawdown, VOLUME)
    assert "early" in rows[1][1]


def test_typing_a_tank_changes_the_answer_and_undo_brings_it_back(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "empty")
    assert page.drawdown.figure.text() == "—"
    assert "one to a line" in page.drawdown.reason.text()
    field = page.inputs.rows["header_set"].field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClicks(field, "119 gal 28 psi")
    alone = page.drawdown.figure.text()
    assert alone == "35.1 gal"  # 119 gal at 30/50, charged to 28 psi
    assert not page.messages.isVisible()
    QTest.keyClick(field, Qt.Key.Key_Return)
    QTest.keyClicks(field, "119 gal 28 psi")
    assert page.drawdown.figure.text() == "70.3 gal"
    assert "100 %" in page.drawdown.reason.text()
    assert "shut off from the pressure switch and the relief valve" in page.messages.texts()[0]
    undo()
    assert page.drawdown.figure.text() == "—"
    assert window.store.job.header_set is None


def test_what_no_row_can_tell_stands_in_the_messages(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "much wrong")
    beside = page.inputs.rows["header_set"].message.text()
    told = [beside, *page.messages.texts()]
    for code in ("tank_takes_no_water", "header_no_water", "precharges_differ", "service_valves"):
        (finding,) = [one for one in view_of(window).findings if one.code == code]
        sentence = finding.sentence(window.store.display)
        assert sum(sentence in text for text in told) == 1, code


def test_more_unlike_tanks_than_can_be_told_apart_stand_in_the_table_only(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "many")
    assert len(page.plot.lines()) == 2
    assert len(page.tanks.texts()) == 13


def test_the_old_tank_is_answered_with_what_replaces_it(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "unequal")
    plain = view_of(window).plain
    assert plain is not None
    assert page.gives.figure.text() == "12.2 gal"
    assert page.equal.figure.text() == "41.3 gal"
    assert plain.replacement is not None
    assert plain.replacement.name in page.replacement.rows()[0][1]
    assert len(page.remove.rows()) == 3
    steps = [text for _, text in page.steps.rows()]
    assert "locked out" in steps[0]
    assert "28.0 psi" in " ".join(steps)


def test_a_stopped_precharge_is_not_told_as_a_step(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "none takes water")
    assert "55" not in " ".join(text for _, text in page.steps.rows())
    assert page.equal.figure.text() == "—"
    assert page.run.figure.text() == "—"


def test_without_an_old_tank_its_half_only_asks_for_one(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "empty")
    assert "total volume" in page.gives.reason.text()
    for widget in (page.equal, page.replacement, page.remove, page.steps, page.picture, page.tanks):
        assert widget.isHidden()


def test_the_plot_is_read_by_keys(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "unequal")
    plot, tanks = page.plot, set_of(window)
    usual = page.picture.reading.text()
    plot.setFocus()
    QTest.keyClick(plot, Qt.Key.Key_End)
    told = page.picture.reading.text()
    assert told.startswith("At 50.0 psi")
    water = tanks.picture.total[-1] / GAL
    assert f"all tanks: {water:.1f} gal" in told
    assert plot.accessibleDescription() == told
    window.store.set_display(METRIC)
    assert page.picture.reading.text() == usual
    QTest.keyClick(plot, Qt.Key.Key_End)
    assert page.picture.reading.text().startswith("At 345 kPa")
