"""On the teaching pages the tank stays the one that is shown, whatever is turned.

Nothing names it at first: it is the first of the ranking, which another precharge may change.
"""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import at_page, demo_with, results_of, type_over
from tests.whole_window.live_user import recording_of
from tests.whole_window.user import demo_job
from workbench.gui.pages.faults.page import FaultsPage
from workbench.gui.pages.live.page import LivePage
from workbench.gui.pages.page import Page
from workbench.gui.pages.shift.page import ShiftPage
from workbench.job.choices import PrechargeRule


def first_of_the_ranking(page: Page) -> str | None:
    ranking = results_of(page).ranking
    return ranking.row(0).name if ranking is not None and len(ranking) else None


def test_in_the_picture_a_moved_precharge_keeps_it_in_one_step(qtbot: QtBot) -> None:
    _, page = at_page(qtbot, "live", LivePage, demo_job())
    first = page.store.job
    tank = first_of_the_ranking(page)
    assert recording_of(page.panel).rig.tank_name == tank
    page.panel.tank.setFocus()
    QTest.keyClick(page.panel.tank, Qt.Key.Key_1)
    for _ in range(20):
        QTest.keyClick(page.panel.tank, Qt.Key.Key_Up)
    assert str(page.store.job.precharge) == "38 psi"
    assert first_of_the_ranking(page) != tank
    assert recording_of(page.panel).rig.tank_name == tank
    assert page.store.undo_stack.count() == 1
    page.store.undo_stack.undo()
    assert page.store.job == first


def test_in_the_fields_a_visit_is_one_step_and_gives_the_choice_back(qtbot: QtBot) -> None:
    _, page = at_page(qtbot, "live", LivePage, demo_job())
    first = page.store.job
    tank = recording_of(page.panel).rig.tank_name
    type_over(page, "cut_in", "25")
    type_over(page, "cut_out", "60")
    assert recording_of(page.panel).rig.tank_name == tank
    assert page.store.undo_stack.count() == 2
    page.store.undo_stack.undo()
    page.store.undo_stack.undo()
    assert page.store.job == first


@pytest.mark.parametrize(("key", "kind"), [("shift", ShiftPage), ("faults", FaultsPage)])
def test_the_other_pages_keep_it_too(qtbot: QtBot, key: str, kind: type[Page]) -> None:
    typed = {"precharge_rule": PrechargeRule.TYPED, "precharge": "28 psi"}
    _, page = at_page(qtbot, key, kind, demo_with(**typed))
    tank = first_of_the_ranking(page)
    type_over(page, "precharge", "38")
    assert first_of_the_ranking(page) != tank
    rig = results_of(page).live.rig
    assert rig is not None
    assert rig.tank_name == tank


def test_what_does_not_move_the_ranking_leaves_the_choice_open(qtbot: QtBot) -> None:
    _, page = at_page(qtbot, "live", LivePage, demo_job())
    type_over(page, "steady_draw", "3")
    type_over(page, "live_air", "80")
    assert page.store.job.first_tank == ""
    type_over(page, "live_volume", "40")
    type_over(page, "cut_in", "25")
    assert page.store.job.first_tank == ""
