"""The page "Live tank": its rules, what plays, what is moved by hand and by keys, what is heard."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.report.reading import packed, text_of
from tests.whole_window.at_page import METRIC, is_said_by_a_file, press, type_over
from tests.whole_window.checks.parts import controls
from tests.whole_window.live_user import (
    ARRANGED,
    LEFT,
    build,
    drag,
    grip,
    recording_of,
    scene_of,
    shown,
)
from tests.whole_window.page_checks import check_page
from workbench.gui.live import panel as panel_module
from workbench.gui.live.handles import ORDER, changes, handles_of
from workbench.gui.live.places import dial_end
from workbench.gui.live.player import Player
from workbench.gui.live.still import still_paper
from workbench.gui.pages.live.page import LivePage
from workbench.job.choices import PrechargeRule
from workbench.physics.motion import Happening
from workbench.report.typeset import pdf
from workbench.units import FLOW, PRESSURE, TIME, VOLUME, Display, Quantity, parse

SHIFT = Qt.KeyboardModifier.ShiftModifier
GAP = {"precharge_rule": "typed", "precharge": "44 psi", "steady_draw": "9 gpm"}


# --- the rules of all pages ---

STATES: dict[str, tuple[Display, dict[str, Any], float]] = {
    "paused at the start": (Display(), {}, 0.0),
    "in the middle of a run": (METRIC, {"live_volume": None, "catalog": True}, 200.0),
    "a gap without water": (Display(), GAP, 100.0),
    "no tank": (Display(), {"live_volume": None}, 0.0),
    "an entry that cannot be": (METRIC, {"cut_in": "60 psi"}, 0.0),
}


@pytest.mark.parametrize("state", STATES)
def test_the_page_keeps_all_page_rules(qtbot: QtBot, state: str) -> None:
    display, entries, seconds = STATES[state]

    def page() -> QWidget:
        made = build(display, **({"catalog": False} | entries))
        made.panel.refresh()
        made.panel.go_on(seconds)
        return made

    check_page(qtbot, page, untranslated=is_said_by_a_file)


# --- playing ---


def test_nothing_moves_before_play_is_pressed(qtbot: QtBot) -> None:
    panel = shown(qtbot).panel
    assert not panel.timer.isActive()
    assert panel.player.time == 0.0
    assert panel.transport.play.text() == "Play"
    press(panel.transport.play)
    assert panel.timer.isActive()
    assert panel.transport.play.text() == "Pause"
    press(panel.transport.play)
    assert not panel.timer.isActive()


class FakeClock:
    """Says that so many seconds have passed since the last frame."""

    def __init__(self, seconds: float) -> None:
        self.seconds = seconds

    def nsecsElapsed(self) -> int:
        return round(self.seconds * 1e9)

    def restart(self) -> int:
        return 0

    def start(self) -> None:
        """Nothing to start."""


@pytest.mark.parametrize(
    ("late", "passes"), [(0.016, 0.016), (0.2, 0.2), (0.9, 0.9), (3600.0, 1.0)]
)
def test_a_late_frame_keeps_true_time_but_does_not_race_after_a_sleep(
    qtbot: QtBot, late: float, passes: float
) -> None:
    panel = shown(qtbot).panel
    panel._clock = FakeClock(late)  # type: ignore[assignment]
    panel.set_speed(5.0)
    panel._on_frame()
    assert panel.player.time == pytest.approx(5.0 * passes)


@pytest.mark.parametrize("place", range(5))
def test_each_speed_is_what_it_says(qtbot: QtBot, place: int) -> None:
    panel = shown(qtbot).panel
    field = panel.transport.speed
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_Home)
    for _ in range(place):
        QTest.keyClick(field, Qt.Key.Key_Down)
    panel.go_on(2.0)
    assert panel.player.time == pytest.approx(2.0 * (0.25, 1.0, 5.0, 20.0, 60.0)[place])


def test_it_rests_while_nobody_sees_it_and_goes_on_after(qtbot: QtBot) -> None:
    page = shown(qtbot)
    panel = page.panel
    press(panel.transport.play)
    page.hide()
    assert not panel.timer.isActive()
    assert panel.player.plays
    page.show()
    assert panel.timer.isActive()
    panel.pause()
    page.hide()
    page.show()
    assert not panel.timer.isActive()


def test_it_rests_while_nothing_moves_until_the_tap_is_opened(qtbot: QtBot) -> None:
    panel = shown(qtbot).panel
    press(panel.transport.play)
    press(panel.transport.tap)
    assert panel.transport.tap.text() == "Open the tap"
    assert panel.player.is_still
    assert not panel.timer.isActive()
    assert "Nothing is drawn" in panel.words.text()
    press(panel.transport.tap)
    assert panel.timer.isActive()


def test_steps_go_from_event_to_event_and_back(qtbot: QtBot) -> None:
    panel = shown(qtbot, steady_draw="6 gpm").panel
    kinds, times = [], []
    for _ in range(4):
        press(panel.transport.step)
        last = panel.player.last_event
        assert last is not None
        kinds.append(last.kind)
        times.append(panel.player.time)
        assert panel.player.time == last.time
    assert kinds[:3] == [Happening.CLOSED, Happening.GIVES, Happening.OPENED]
    assert times == sorted(times)
    for time in (*reversed(times[:-1]), 0.0, 0.0):
        press(panel.transport.back)
        assert panel.player.time == time
    press(panel.transport.step)
    assert panel.player.time == times[0]
    assert recording_of(panel).time == times[-1]


def test_a_step_where_nothing_happens_stays_where_it_is(qtbot: QtBot) -> None:
    panel = shown(qtbot, steady_draw="0 gpm").panel
    press(panel.transport.step)
    assert panel.player.time == 0.0


def test_the_slider_goes_through_the_past_and_play_goes_through_it_again(qtbot: QtBot) -> None:
    panel = shown(qtbot).panel
    panel.set_speed(20.0)
    for _ in range(30):
        panel.go_on(0.3)
    end, last = panel.player.time, panel.player.moment
    slider = panel.transport.slider
    panel.step_back()
    slider.setValue(600)
    assert panel.player.time == pytest.approx(60.0)
    assert panel.player.is_past
    assert panel.player.moment == recording_of(panel).at(60.0)
    assert f"60.0 s of {end:.1f} s" == slider.accessibleDescription()
    panel.go_on(1.0)
    assert panel.player.time == pytest.approx(80.0)
    slider.setValue(slider.maximum())
    assert panel.player.time == end
    assert panel.player.moment == last


def test_what_is_changed_in_the_past_makes_it_the_present(qtbot: QtBot) -> None:
    panel = shown(qtbot, steady_draw="6 gpm").panel
    panel.set_speed(60.0)
    for _ in range(10):
        panel.go_on(1.0)
    panel.seek(50.0)
    pressure = panel.player.moment.pressure
    panel.turn_tap()
    assert recording_of(panel).time == 50.0
    assert panel.player.moment.pressure == pytest.approx(pressure)
    assert panel.player.moment.tap_flow == 0.0
    assert all(event.time <= 50.0 for event in panel.player._events)


@pytest.mark.parametrize(
    "entries",
    [{"pump_entry": "two_flows", "flow_at_cut_in": "12 gpm", "flow_at_cut_out": "8 gpm"},
     {"pump_entry": "curve", "curve": "0 gpm 300 ft; 10 gpm 220 ft; 18 gpm 90 ft",
      "water_level": "80 ft"}],
    ids=["two flows", "a curve"],
)  # fmt: skip
def test_an_entry_that_touches_no_rig_leaves_what_came_after_the_past_that_is_shown(
    qtbot: QtBot, entries: dict[str, Any]
) -> None:
    page = shown(qtbot, steady_draw="6 gpm", **entries)
    panel = page.panel
    panel.set_speed(60.0)
    for _ in range(10):
        panel.go_on(1.0)
    end, last = recording_of(panel).time, recording_of(panel).moment
    panel.seek(50.0)
    moment, before = panel.player.moment, panel.results
    page.store.edit({"run_time": parse("3 min", TIME)}, "x")
    assert panel.results is not before
    assert (panel.player.time, panel.player.moment) == (50.0, moment)
    assert (recording_of(panel).time, recording_of(panel).moment) == (end, last)
    page.store.edit({"cut_out": parse("52 psi", PRESSURE)}, "x")
    assert recording_of(panel).time == 50.0
    assert recording_of(panel).rig.system.cut_out == pytest.approx(parse("52 psi", PRESSURE).si)
    panel.go_on(1.0)
    panel.seek(50.0)
    page.store.edit({"steady_draw": parse("7 gpm", FLOW)}, "x")
    assert recording_of(panel).time == 50.0
    assert panel.player.moment.tap_flow == pytest.approx(parse("7 gpm", FLOW).si)


def test_it_tells_each_time_that_another_moment_stands_there(qtbot: QtBot) -> None:
    panel = shown(qtbot).panel
    seen: list[float] = []

    def look() -> None:
        seen.append(panel.player.time)

    panel.moved.connect(look)
    panel.go_on(0.25)
    press(panel.transport.step)
    press(panel.transport.back)
    panel.seek(0.1)
    press(panel.transport.again)
    assert len(seen) == 5
    assert seen[0] == 0.25
    assert seen[1] > 0.25
    assert seen[2:] == [0.0, 0.1, 0.0]
    panel.turn_tap()
    assert len(seen) == 5


def test_a_pointer_in_the_trace_goes_back_in_time(qtbot: QtBot) -> None:
    panel = shown(qtbot).panel
    panel.set_speed(20.0)
    for _ in range(10):
        panel.go_on(0.5)
    ground = panel.trace.ground
    QTest.mouseClick(panel.trace, LEFT, pos=QPointF(ground.px(0.5), ground.py(8.0)).toPoint())
    assert panel.player.time == pytest.approx(30.0, abs=1.0)
    QTest.mouseClick(panel.trace, LEFT, pos=QPointF(ground.px(0.0) - 3, ground.py(8.0)).toPoint())
    assert panel.player.time == 0.0


def test_start_again_forgets_all_and_stands_still(qtbot: QtBot) -> None:
    panel = shown(qtbot).panel
    press(panel.transport.play)
    panel.set_speed(60.0)
    panel.go_on(5.0)
    press(panel.transport.again)
    assert panel.player.time == recording_of(panel).time == 0.0
    assert not panel.player.plays
    assert panel.player.last_event is None
    assert panel.player.moment.pressure == pytest.approx(recording_of(panel).rig.setting.cut_out)


def test_a_changed_entry_goes_on_from_the_same_gauge_pressure(qtbot: QtBot) -> None:
    page = shown(qtbot)
    panel = page.panel
    panel.go_on(30.0)
    before = panel.player.moment
    page.store.edit({"live_volume": parse("80 gal", VOLUME)}, "x")
    after = panel.player.moment
    assert after.time == before.time
    assert after.pressure == pytest.approx(before.pressure)
    assert after.water == pytest.approx(2.0 * before.water, rel=1e-6)
    page.store.edit({"steady_draw": parse("7 gpm", FLOW)}, "x")
    assert panel.player.moment.tap_flow == pytest.approx(parse("7 gpm", FLOW).si)


def test_other_units_change_nothing_that_moves(qtbot: QtBot) -> None:
    page = shown(qtbot)
    panel = page.panel
    panel.go_on(30.0)
    before = panel.player.moment
    page.store.set_display(METRIC)
    assert panel.player.moment == before
    assert "kPa" in panel.tank.accessibleDescription()


def test_without_a_rig_it_says_why_and_comes_back(qtbot: QtBot) -> None:
    page = shown(qtbot)
    panel = page.panel
    press(panel.transport.play)
    page.store.edit({"cut_in": parse("70 psi", PRESSURE)}, "x")
    assert not panel.timer.isActive()
    assert not panel.pictures.isVisible()
    assert panel.words.text().startswith("Mend first:")
    assert panel.words.property("role") == "problem"
    page.store.undo_stack.undo()
    assert panel.pictures.isVisible()
    assert panel.words.property("role") == "heading"


def test_a_player_without_a_rig_does_nothing() -> None:
    player = Player()
    assert player.is_still
    assert not player.is_past
    assert player.last_event is None
    player.open_tap(False)
    player.set_draw(1e-4)
    player.start_again()
    with pytest.raises(ValueError, match="no rig"):
        player.go_on(1.0)


# --- handles ---

MOVES: dict[str, tuple[QPointF, str]] = {
    "precharge": (QPointF(-14.0, 6.0), "psi"),
    "cut_in": (QPointF(-4.0, 10.0), "psi"),
    "cut_out": (QPointF(12.0, 4.0), "psi"),
    "live_volume": (QPointF(0.0, 20.0), "gal"),
    "steady_draw": (QPointF(15.0, 0.0), "gpm"),
    "altitude": (QPointF(14.0, -12.0), "ft"),
    "live_air": (QPointF(12.0, 0.0), "°F"),
}


def entry_of(page: LivePage, entry: str) -> Quantity:
    found = getattr(page.store.job, entry)
    assert isinstance(found, Quantity)
    return found


@ARRANGED
@pytest.mark.parametrize("entry", ORDER)
def test_a_drag_a_key_and_a_field_make_the_same_entry_each_in_one_step(
    qtbot: QtBot, entry: str, *, tall: bool
) -> None:
    page = shown(qtbot, tall=tall)
    panel, stack = page.panel, page.store.undo_stack
    first = page.store.job
    by, unit = MOVES[entry]
    drag(panel.tank, grip(panel, entry), by * 0.5, by * 0.5)
    dragged = page.store.job
    assert stack.count() == 1
    assert dragged != first
    made = entry_of(page, entry)
    assert made.unit == unit
    stack.undo()
    assert page.store.job == first

    panel.tank.setFocus()
    QTest.keyClick(panel.tank, Qt.Key(Qt.Key.Key_1 + ORDER.index(entry)))
    wanted = made.si - scene_of(panel).handle(entry).value
    key = Qt.Key.Key_Up if wanted > 0 else Qt.Key.Key_Down
    for _ in range(200):
        QTest.keyClick(panel.tank, key)
        if entry_of(page, entry) == made:
            break
    assert page.store.job == dragged
    assert stack.count() == 1
    stack.undo()
    assert page.store.job == first

    if entry == "precharge":
        page.store.edit({"precharge_rule": PrechargeRule.TYPED}, "x")
    type_over(page, entry, made.digits)
    assert entry_of(page, entry) == made
    assert page.store.job == dragged
    assert scene_of(panel).handle(entry).value == pytest.approx(made.si)


def test_shift_moves_ten_steps_and_the_first_goes_to_a_neat_value(qtbot: QtBot) -> None:
    page = shown(qtbot, METRIC, cut_out="51.3 psi")
    tank = page.panel.tank
    tank.setFocus()
    QTest.keyClick(tank, Qt.Key.Key_3)
    QTest.keyClick(tank, Qt.Key.Key_Up)
    assert str(page.store.job.cut_out) == "355 kPa"
    QTest.keyClick(tank, Qt.Key.Key_Up, SHIFT)
    assert str(page.store.job.cut_out) == "405 kPa"
    QTest.keyClick(tank, Qt.Key.Key_Down, SHIFT)
    QTest.keyClick(tank, Qt.Key.Key_Minus)
    assert str(page.store.job.cut_out) == "350 kPa"
    assert page.store.undo_stack.count() == 1


def test_left_and_right_choose_and_the_line_beneath_says_what_the_keys_do(qtbot: QtBot) -> None:
    panel = shown(qtbot).panel
    panel.tank.setFocus()
    assert "1 to 7" in panel.hint.text()
    QTest.keyClick(panel.tank, Qt.Key.Key_Left)
    assert panel.hint.text().startswith("7 Air now 55 °F")
    QTest.keyClick(panel.tank, Qt.Key.Key_Right)
    assert panel.hint.text().startswith("1 Precharge 28.0 psi")
    QTest.keyClick(panel.tank, Qt.Key.Key_Up)
    assert panel.hint.text().startswith("1 Precharge 28.5 psi")
    QTest.keyClick(panel.tank, Qt.Key.Key_Space)
    assert panel.player.plays


def test_another_visit_or_another_handle_is_another_step(qtbot: QtBot) -> None:
    page = shown(qtbot)
    tank, stack = page.panel.tank, page.store.undo_stack
    tank.setFocus()
    for key in (Qt.Key.Key_2, Qt.Key.Key_Up, Qt.Key.Key_Up, Qt.Key.Key_3, Qt.Key.Key_Up):
        QTest.keyClick(tank, key)
    assert stack.count() == 2
    page.panel.transport.play.setFocus()
    tank.setFocus()
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Up)
    assert stack.count() == 3


def test_moving_the_precharge_types_it(qtbot: QtBot) -> None:
    page = shown(qtbot)
    assert not page.inputs.rows["precharge"].field.isVisible()
    page.panel.tank.setFocus()
    QTest.keyClick(page.panel.tank, Qt.Key.Key_1)
    QTest.keyClick(page.panel.tank, Qt.Key.Key_Up)
    assert str(page.store.job.precharge) == "28.5 psi"
    assert page.store.job.precharge_rule is PrechargeRule.TYPED
    assert page.inputs.rows["precharge"].field.isVisible()
    page.store.undo_stack.undo()
    assert page.store.job.precharge_rule is PrechargeRule.BELOW_2


@pytest.mark.parametrize("entry", ["precharge", "cut_in", "cut_out"])
def test_the_lines_of_the_trace_can_be_dragged_too(qtbot: QtBot, entry: str) -> None:
    page = shown(qtbot, precharge_rule="typed", precharge="22 psi")
    trace = page.panel.trace
    before = entry_of(page, entry).si
    ground = trace.ground
    start = QPointF(ground.px(1.0), ground.py(before / PRESSURE.units["psi"].factor))
    up = ground.py(0.0) - ground.py(4.0)
    drag(trace, start, QPointF(0.0, -0.5 * up), QPointF(0.0, -0.5 * up))
    moved = (entry_of(page, entry).si - before) / PRESSURE.units["psi"].factor
    assert moved == pytest.approx(4.0, abs=0.8)
    assert page.store.undo_stack.count() == 1


def test_a_drag_does_not_leave_what_can_be(qtbot: QtBot) -> None:
    page = shown(qtbot)
    panel = page.panel
    centre = panel.tank.places().gauge
    drag(
        panel.tank,
        grip(panel, "cut_in"),
        QPointF(2, -8),
        centre + QPointF(60, 30) - grip(panel, "cut_in"),
    )
    assert entry_of(page, "cut_in").si < entry_of(page, "cut_out").si
    assert panel.pictures.isVisible()
    for handle in scene_of(panel).handles:
        for steps in (-5000, 5000):
            quantity = handle.moved(steps, page.store.display)
            page.store.edit(changes(handle.entry, quantity), "x")
            assert page.store.results is not None
            assert page.store.results.live.rig is not None, (
                handle.entry,
                str(quantity),
                page.store.results.findings,
            )
            page.store.undo_stack.undo()


@ARRANGED
def test_scales_stay_while_a_handle_is_held(qtbot: QtBot, *, tall: bool) -> None:
    page = shown(qtbot, tall=tall)
    tank = page.panel.tank
    places = tank.places()
    at = grip(page.panel, "cut_out").toPoint()
    QTest.mousePress(tank, LEFT, pos=at)
    QTest.mouseMove(tank, at + QPointF(45, 45).toPoint())
    assert entry_of(page, "cut_out").si > parse("60 psi", PRESSURE).si
    assert tank.places().dial == places.dial
    QTest.mouseRelease(tank, LEFT, pos=at)
    rig = scene_of(page.panel).rig
    assert tank.places().dial == dial_end(rig, page.store.display)


def test_keys_that_come_back_to_where_they_began_leave_no_step(qtbot: QtBot) -> None:
    page = shown(qtbot)
    tank = page.panel.tank
    tank.setFocus()
    for key in (Qt.Key.Key_2, Qt.Key.Key_Up, Qt.Key.Key_Down):
        QTest.keyClick(tank, key)
    assert str(page.store.job.cut_in) == "30 psi"
    assert page.store.undo_stack.count() == 0


@ARRANGED
def test_a_click_beside_every_handle_changes_nothing(qtbot: QtBot, *, tall: bool) -> None:
    page = shown(qtbot, tall=tall)
    tank = page.panel.tank
    places = tank.places()
    drag(tank, QPointF(places.axis, places.bottom - 60.0), QPointF(20.0, -40.0))
    assert page.store.undo_stack.count() == 0


def test_every_handle_reaches_to_where_it_is(qtbot: QtBot) -> None:
    page = shown(qtbot, altitude="12000 ft", steady_draw="90 gpm", live_volume="900 gal")
    rig = scene_of(page.panel).rig
    for handle in handles_of(page.store.job, rig, dial_end(rig, page.store.display)):
        assert handle.low <= handle.value <= handle.high


# --- the keyboard, the ear, the paper ---


def test_the_keyboard_reaches_everything(qtbot: QtBot) -> None:
    page = shown(qtbot)
    panel = page.panel
    stops = controls(page)
    moves = panel.transport
    for one in (panel.tank.focusProxy(), moves.play, moves.back, moves.step, moves.tap, moves.speed,
                moves.slider, moves.again, moves.save, moves.print):  # fmt: skip
        assert one in stops
    panel.tank.setFocus(Qt.FocusReason.TabFocusReason)
    seen = []
    for _ in range(9):
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        seen.append(QApplication.focusWidget())
    assert seen[:4] == [moves.play, moves.back, moves.step, moves.tap]
    assert seen[-1] is moves.print


def test_the_description_follows_the_state(qtbot: QtBot) -> None:
    panel = shown(qtbot, steady_draw="6 gpm").panel
    assert "Gauge 50.0 psi" in panel.tank.accessibleDescription()
    panel.step()
    told = panel.tank.accessibleDescription()
    assert "Gauge 30.0 psi" in told
    assert "Contacts closed" in told
    assert panel.words.text() in told
    panel.step()
    assert "up to speed" in panel.tank.accessibleDescription()


def test_it_speaks_when_something_happens_and_not_at_each_frame(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    panel = shown(qtbot, steady_draw="6 gpm").panel
    heard: list[str] = []

    class Ear:
        @staticmethod
        def isActive() -> bool:
            return True

        @staticmethod
        def updateAccessibility(event: Any) -> None:
            heard.append(event.message())

    monkeypatch.setattr(panel_module, "QAccessible", Ear)
    for _ in range(60):
        panel.go_on(1 / 60)
    assert heard == []
    panel.set_speed(20.0)
    for _ in range(900):
        panel.go_on(1 / 60)
    assert 3 <= len(heard) <= 60
    assert any("contacts have closed" in text for text in heard)


def test_the_picture_becomes_a_paper_of_this_moment(qtbot: QtBot) -> None:
    panel = shown(qtbot, METRIC).panel
    panel.go_on(42.0)
    content = still_paper(panel)
    assert content is not None
    read = text_of(pdf(content))
    moment, display = panel.player.moment, panel.store.display
    comma = display.text(moment.pressure, PRESSURE).replace(",", ".")
    assert packed(comma) in read
    assert packed(display.text(moment.water, VOLUME).replace(",", ".")) in read
    assert packed(panel.words.text()) in read
    assert panel.store.display == METRIC


def test_saving_and_printing_say_what_they_did(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Any
) -> None:
    from PySide6.QtWidgets import QFileDialog

    panel = shown(qtbot).panel
    target = tmp_path / "tank.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(target), ""))
    press(panel.transport.save)
    assert target.read_bytes().startswith(b"%PDF")
    assert panel.done.text() == "Saved as tank.pdf."
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: ("", ""))
    press(panel.transport.save)
    assert panel.done.isHidden()
    monkeypatch.setattr("workbench.gui.paper.printing.print_paper", lambda *_: True)
    press(panel.transport.print)
    assert panel.done.text() == "Given to the printer."
