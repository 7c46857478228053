"""The page "Faults": its rules, its readings, and what is chosen in it."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import (
    Unreadable,
    at_page,
    check_page_at,
    demo_with,
    press,
    results_of,
    type_over,
    undo,
)
from tests.whole_window.checks.parts import settle
from workbench.gui.pages.faults.page import FaultsPage
from workbench.job.choices import PrechargeRule
from workbench.job.teach_choices import Degree, Fault
from workbench.study.faults.sizes import size_in_words
from workbench.study.faults.symptoms import symptoms
from workbench.study.faults.view import FaultsView
from workbench.study.faults.words import can_be_taken, fault_name, value_text
from workbench.units import Display, System, parse
from workbench.units.kinds import PRESSURE

STATES: dict[str, tuple[bool, dict[str, Any]]] = {
    "sound": (False, {}),
    "a hole": (True, {"fault": Fault.PINHOLE, "degree": Degree.SEVERE}),
    "a late switch": (False, {"fault": Fault.PLUGGED_NIPPLE, "degree": Degree.SEVERE}),
    "none that tells": (
        True,
        {"fault": Fault.WORN_PUMP, "degree": Degree.SLIGHT, "tol_watch": "90 s",
         "tol_bucket": "9 gal", "steady_draw": "0 gpm"},
    ),
    "impossible": (False, {"fault": Fault.SWITCH_DRIFT, "relief_setting": "52 psi"}),
    "unreadable": (False, {"fault": Fault.LOST_CHARGE, "tol_gauge": Unreadable("about two")}),
    "no system": (False, {"first_tank": "elsewhere", "cut_out": "20 psi"}),
}  # fmt: skip


@pytest.mark.parametrize("state", STATES)
def test_the_page_keeps_all_page_rules(qtbot: QtBot, state: str) -> None:
    metric, entries = STATES[state]
    check_page_at(qtbot, "faults", lambda: demo_with(**entries), metric=metric)


def page_with(qtbot: QtBot, **entries: Any) -> FaultsPage:
    return at_page(qtbot, "faults", FaultsPage, demo_with(**entries))[1]


def view_of(page: FaultsPage) -> FaultsView:
    return results_of(page).faults


def worked_out(qtbot: QtBot, page: FaultsPage) -> list[tuple[str, str]]:
    qtbot.waitUntil(lambda: not page.others.rows()[0][1].startswith("Being worked out"))
    return page.others.rows()


def test_the_figures_are_those_of_the_study(qtbot: QtBot) -> None:
    page = page_with(qtbot, fault=Fault.PINHOLE)
    view, display = view_of(page), page.store.display
    assert view.healthy is not None
    assert view.faulty is not None
    assert page.wrong.figure.text() == fault_name(Fault.PINHOLE)
    size = size_in_words(view.healthy, view.fault, view.degree, display)
    assert page.wrong.reason.text().startswith(size)
    told = symptoms(view.healthy, view.faulty, view.tap or 0.0, display)
    assert [text for _, text in page.symptoms.rows()] == [told.gauge, told.ear, told.tap]
    rows = [row for row in view.rows if can_be_taken(row)]
    assert len(rows) == len(view.rows) - 1  # the pump stops, so its needle stands nowhere
    for texts, row in zip(page.table.texts(), rows, strict=True):
        assert texts[0] == row.reading.name
        assert texts[2] == value_text(row.healthy, row.reading, display)
        assert texts[3] == value_text(row.faulty, row.reading, display)
        assert texts[5] == ("differs" if row.differs else "the same")


def test_the_live_panel_shows_the_rig_with_its_fault(qtbot: QtBot) -> None:
    page = page_with(qtbot, fault=Fault.PINHOLE)
    recording = page.live.player.recording
    assert recording is not None
    assert recording.rig is view_of(page).faulty
    page.store.edit({"fault": Fault.NONE}, "x")
    recording = page.live.player.recording
    assert recording is not None
    assert recording.rig is view_of(page).healthy


def test_what_tells_the_faults_apart_comes_after_a_pause(qtbot: QtBot) -> None:
    page = page_with(qtbot, fault=Fault.LOST_CHARGE)
    assert page.others.rows()[0][1].startswith("Being worked out")
    rows = worked_out(qtbot, page)
    assert rows[0][0] == fault_name(Fault.OLD_PRECHARGE)
    assert rows[0][1].startswith("Looks the same")
    told = dict(rows[1:])
    names = "; ".join(told.values())
    for one in Fault:
        if one not in (Fault.LOST_CHARGE, Fault.OLD_PRECHARGE):
            assert fault_name(one) in names
    assert "Slow leak of air" in told["Bubbles at the air valve (hand, 5 min)"]
    page.store.edit({"fault": Fault.AIR_LEAK}, "x")
    assert page.others.rows()[0][1].startswith("Being worked out")  # nothing old is shown
    page.store.undo_stack.undo()
    assert worked_out(qtbot, page) == rows


def test_nothing_is_worked_out_for_a_page_that_is_left(qtbot: QtBot) -> None:
    window, page = at_page(qtbot, "faults", FaultsPage, demo_with(fault=Fault.PLUGGED_NIPPLE))
    window.go("tank")
    assert not page._pause.isActive()
    assert not page.background.busy
    window.go("faults")
    assert worked_out(qtbot, page)


def test_a_fault_is_chosen_by_keys_and_undone(qtbot: QtBot) -> None:
    page = page_with(qtbot)
    assert page.wrong.figure.text() == "Nothing"
    assert not page.inputs.rows["degree"].field.isVisible()
    assert page.remedy.isHidden()
    field = page.inputs.rows["fault"].field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(field, Qt.Key.Key_Down)
    assert page.store.job.fault is Fault.LOST_CHARGE
    assert page.wrong.figure.text() == "Lost charge"
    assert page.inputs.rows["degree"].field.isVisible()
    assert not page.remedy.isHidden()
    undo(field)
    assert page.store.job.fault is Fault.NONE
    assert page.wrong.figure.text() == "Nothing"


def test_a_coarser_tool_tells_less_and_typing_is_undone(qtbot: QtBot) -> None:
    page = page_with(qtbot, fault=Fault.SWITCH_DRIFT, degree=Degree.CLEAR)

    def verdict() -> str:
        return next(row[5] for row in page.table.texts() if row[0] == "Cut-out, on the gauge")

    assert verdict() == "differs"
    type_over(page, "tol_gauge", "9 psi")
    assert page.store.job.tol_gauge == parse("9 psi", PRESSURE)
    assert verdict() == "the same"
    undo()
    assert verdict() == "differs"


def test_the_precharge_is_asked_for_only_where_it_is_typed(qtbot: QtBot) -> None:
    page = page_with(qtbot, fault=Fault.LOST_CHARGE)
    assert not page.inputs.rows["precharge"].field.isVisible()
    page.store.edit({"precharge_rule": PrechargeRule.TYPED, "precharge": parse("20 psi", PRESSURE)},
                    "x")  # fmt: skip
    assert page.inputs.rows["precharge"].field.isVisible()
    assert "of the 20.0 psi precharge" in page.wrong.reason.text()


def test_readings_follow_the_units(qtbot: QtBot) -> None:
    page = page_with(qtbot, fault=Fault.LOST_CHARGE)
    assert any("psi" in text for row in page.table.texts() for text in row)
    page.store.set_display(Display(System.METRIC, ","))
    assert not any("psi" in text or "gal" in text for row in page.table.texts() for text in row)
    assert any("kPa" in text for row in page.table.texts() for text in row)


def test_a_reading_that_cannot_be_taken_says_why(qtbot: QtBot) -> None:
    page = page_with(qtbot, fault=Fault.OLD_PRECHARGE)
    cut_in = next(row for row in page.table.texts() if row[0] == "Cut-in, on the gauge")
    assert (cut_in[3], cut_in[5]) == ("none", "differs")
    assert "Cut-in, on the gauge: The tank is empty" in page.table.reasons.text()
    page.store.edit({"fault": Fault.NONE}, "x")
    assert "Cut-in" not in page.table.reasons.text()


def test_what_cannot_be_is_said_at_its_field(qtbot: QtBot) -> None:
    page = page_with(qtbot, fault=Fault.SWITCH_DRIFT, relief_setting="52 psi")
    assert page.wrong.figure.text() == "—"
    message = page.inputs.rows["fault"].message.text()
    assert message.startswith("Stop: This system cannot have it: the relief valve")
    assert page.table.isHidden()
    assert page.symptoms.isHidden()
    page.store.edit({"degree": Degree.SLIGHT}, "x")
    assert page.wrong.figure.text() == "Drifted switch"
    assert not page.table.isHidden()


def test_a_fault_that_no_tool_sees_is_said(qtbot: QtBot) -> None:
    page = page_with(qtbot, **STATES["none that tells"][1])
    assert "No reading tells this from a sound system" in page.inputs.rows["degree"].message.text()
    assert "Soonest" not in page.wrong.reason.text()


def test_a_table_without_room_takes_three_rows_for_a_reading_and_hides_nothing(
    qtbot: QtBot,
) -> None:
    page = page_with(qtbot, fault=Fault.PINHOLE)
    table, window = page.table, page.window()
    texts = table.texts()
    window.resize(1366, 728)
    settle()
    lines = {row.name.y() for row in table._rows if row.name.isVisible()}
    assert all(row.verdict.y() - row.name.y() < row.name.height() for row in table._rows)
    page.results.setMaximumWidth(500)
    settle()
    shown = [row for row in table._rows if not row.name.isHidden()]
    assert len({row.name.y() for row in shown}) == len(lines) == len(texts)
    boxes = [label.geometry() for row in shown for label in row]
    for box, other in combinations(boxes, 2):
        assert not box.intersects(other)
    for row in shown:
        assert row.name.y() < row.tools.y() < row.sound.y()
        assert abs(row.verdict.geometry().center().y() - row.tools.geometry().center().y()) < 4
    assert table.texts() == texts
    assert max(box.right() for box in boxes) < 500


def test_the_live_panel_plays_by_its_button(qtbot: QtBot) -> None:
    page = page_with(qtbot, fault=Fault.LOST_CHARGE)
    press(page.live.transport.play)
    assert page.live.player.plays
    press(page.live.transport.play)
    assert not page.live.player.plays
