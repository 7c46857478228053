"""What the live tank shows of the past is what was: rig, tap, words and water of that moment."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import results_of, type_over
from tests.whole_window.live_user import recording_of, scene_of, seen_share, shown
from workbench.job.teach_choices import Degree, Fault


def test_before_a_change_the_old_tank_stands_there_again(qtbot: QtBot) -> None:
    page = shown(qtbot)
    panel = page.panel
    panel.player.go_on(30.0)
    panel.seek(30.0)
    before, drawn = recording_of(panel).at(30.0), seen_share(panel)
    old = scene_of(panel).rig
    type_over(page, "live_volume", "70")
    assert scene_of(panel).rig.system.volume > 1.5 * old.system.volume
    panel.player.go_on(30.0)
    panel.seek(30.0 - 1e-3)
    assert scene_of(panel).rig.system.volume == old.system.volume
    assert scene_of(panel).moment.water == pytest.approx(before.water, rel=1e-3)
    assert seen_share(panel) == pytest.approx(drawn, abs=0.01)
    panel.seek(recording_of(panel).time)
    assert scene_of(panel).rig.system.volume > 1.5 * old.system.volume


def test_the_words_of_the_past_know_that_the_tap_was_shut_then(qtbot: QtBot) -> None:
    page = shown(qtbot)
    panel = page.panel
    panel.turn_tap()
    panel.player.go_on(20.0)
    panel.turn_tap()
    panel.player.go_on(20.0)
    panel.seek(40.0 - 1e-3)
    drawing = panel.words.text()
    panel.seek(10.0)
    assert panel.words.text() != drawing
    assert panel.player.drawn == 0.0
    assert panel.player.tap > 0.0


def test_start_again_gives_the_leaking_tank_its_charge_back(qtbot: QtBot) -> None:
    page = shown(qtbot, fault=Fault.AIR_LEAK, degree=Degree.SEVERE)
    rig = results_of(page).faults.faulty
    assert rig is not None
    panel = page.panel
    panel.player.set_rig(rig, 3e-4)
    for _ in range(6):
        panel.player.step()
    recording = recording_of(panel)
    assert recording.rig.system.precharge < rig.system.precharge
    panel.start_again()
    assert recording_of(panel).rig.system.precharge == rig.system.precharge
