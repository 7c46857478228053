"""The page "Lessons", worked as a person does: read, try, answer; no job knows of it."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import (
    METRIC,
    is_said_by_a_file,
    page_alone,
    press,
    undo,
    window_at,
)
from tests.whole_window.lessons_user import (
    KEYS,
    SHIPPED,
    opened,
    own,
    place,
    shipped,
    state,
    type_into,
    verdict,
)
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import User, demo_job, few_tanks
from workbench.gui.live.handles import Handle, changes, handles_of
from workbench.gui.live.places import dial_end
from workbench.gui.pages.lessons.page import LessonsPage
from workbench.job.job import Job
from workbench.study.lessons.figures import Ground
from workbench.study.lessons.goals import SEEN, Seen
from workbench.study.lessons.reading import TYPED
from workbench.units import PRESSURE, Display, parse

# --- the page rules ---


def _first(_page: LessonsPage) -> None:
    pass


def _wrong(page: LessonsPage) -> None:
    page.go(KEYS.index("4-precharge"), 2)
    page.column.question.buttons[0].click()


def _right(page: LessonsPage) -> None:
    page.go(KEYS.index("7-testing"), 1)
    page.column.question.buttons[0].click()
    page.column.attempt.fields.rows["precharge"].field.setFocus()
    type_into(page, "precharge", "20 psi")


def _unread(page: LessonsPage) -> None:
    page.go(KEYS.index("4-precharge"), 0)
    type_into(page, "precharge", "some")


STATES: dict[str, tuple[Callable[[LessonsPage], None], bool]] = {
    "first": (_first, False),
    "answered wrong": (_wrong, False),
    "answered right, tried, metric": (_right, True),
    "unreadable": (_unread, False),
    "own broken": (_first, False),
}


@pytest.mark.parametrize("name", STATES)
def test_the_page_keeps_every_page_rule(qtbot: QtBot, name: str) -> None:
    few_tanks()
    come_to, metric = STATES[name]
    if name == "own broken":
        own("4-precharge.toml", shipped("4-precharge.toml").replace("{drawdown}", "{drawdawn}"))
    said: set[str] = set()

    def build() -> QWidget:
        page = page_alone(LessonsPage, Job(), METRIC if metric else Display(), None)
        page.refresh()
        come_to(page)
        said.update(button.accessibleName() for button in page.column.question.buttons)
        return page

    check_page(qtbot, build, untranslated=said.__contains__)


def test_in_the_window_it_keeps_them_too(qtbot: QtBot) -> None:
    few_tanks()
    said: set[str] = set()

    def build() -> QWidget:
        window = window_at("lessons", demo_job())
        page = window.page_of("lessons")
        assert isinstance(page, LessonsPage)
        page.refresh()
        said.update(button.accessibleName() for button in page.column.question.buttons)
        return window

    check_page(
        qtbot,
        build,
        untranslated=lambda text: text in said or is_said_by_a_file(text),
    )


# --- going through ---


def test_it_begins_with_the_first_screen_and_lists_all_eight(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    chooser = page.column.chooser
    titles = [chooser.itemText(row) for row in range(chooser.count())]
    assert titles == [f"{n} {lesson.title}" for n, lesson in enumerate(SHIPPED, start=1)]
    assert place(page) == "Lesson 1 of 8, screen 1 of 2"
    assert page.column.heading.text() == "What the gauge leaves out"
    assert state(page) == "Not done yet."
    assert verdict(page) == ""
    assert not page.column.back.isEnabled()
    assert not page.column.problems.isVisible()


def test_next_and_back_go_through_every_screen_and_end_at_the_ends(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    places = [place(page)]
    while page.column.onward.isEnabled():
        page.column.onward.click()
        places.append(place(page))
    every = [
        f"Lesson {n} of 8, screen {m} of {len(lesson.screens)}"
        for n, lesson in enumerate(SHIPPED, start=1)
        for m in range(1, len(lesson.screens) + 1)
    ]
    assert places == every
    for wanted in reversed(every[:-1]):
        page.column.back.click()
        assert place(page) == wanted
    assert not page.column.back.isEnabled()


def test_a_whole_lesson_by_keys_alone(qtbot: QtBot) -> None:
    """Precharge: choose it, type, play to the next event, answer, go on, to its end."""
    window, page = opened(qtbot)
    page.enter()
    assert QApplication.focusWidget() is page.column.chooser

    def tab_to(widget: QWidget) -> None:
        for _ in range(80):
            if QApplication.focusWidget() is widget:
                return
            QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        pytest.fail(f"Tab never comes to {widget}")

    for _ in range(3):
        QTest.keyClick(page.column.chooser, Qt.Key.Key_Down)
    assert place(page) == "Lesson 4 of 8, screen 1 of 3"
    fields, question = page.column.attempt.fields.rows, page.column.question
    answers = {1: "28", 2: "38", 3: "38"}
    right = {1: 1, 2: 0, 3: 1}
    for screen in (1, 2, 3):
        assert place(page) == f"Lesson 4 of 8, screen {screen} of 3"
        tab_to(fields["precharge"].field)
        QTest.keyClicks(QApplication.focusWidget(), answers[screen])
        if screen == 2:
            tab_to(page.panel.transport.step)
            QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Space)
        assert state(page).startswith("Done. ")
        tab_to(question.buttons[right[screen]])
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Space)
        assert verdict(page).startswith("ABCDE"[right[screen]] + " is right.")
        tab_to(page.column.onward)
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Space)
    assert place(page) == "Lesson 5 of 8, screen 1 of 3"
    assert page.column.chooser.itemText(3) == "4 Precharge (done)"
    assert window.shown == "lessons"


def test_a_wrong_answer_is_told_why_and_another_may_be_given(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    buttons = page.column.question.buttons
    press(buttons[0])
    assert verdict(page).startswith("Not A. That is what the gauge shows.")
    assert [button.isChecked() for button in buttons] == [True, False, False, False, False]
    QTest.mouseClick(page.column.question.answers[1], Qt.MouseButton.LeftButton)
    assert verdict(page) == "B is right. 30 psi on the gauge and 14.7 psi of air."
    assert [button.isChecked() for button in buttons] == [False, True, False, False, False]


def test_nothing_needs_to_be_done_to_go_on_and_what_was_done_is_kept(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    page.column.onward.click()
    press(page.column.question.buttons[2])
    page.column.onward.click()
    window.go("tank")
    window.go("lessons")
    assert place(page) == "Lesson 2 of 8, screen 1 of 2"
    page.column.back.click()
    assert verdict(page).startswith("C is right.")


def test_this_screen_again_forgets_what_was_done_on_it(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    type_into(page, "altitude", "6000 ft")
    press(page.column.question.buttons[1])
    assert state(page).startswith("Done. Up here")
    press(page.column.again)
    assert state(page) == "Not done yet."
    assert verdict(page) == ""
    assert str(page.tank.job.altitude) == "0 ft"


# --- the tank ---


def test_the_buttons_that_lessons_speak_of_are_called_so(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    transport = page.panel.transport
    said = shipped("1-pressure.toml") + shipped("2-air.toml")
    assert f"press {transport.play.text()}:" in said
    assert f"“{transport.step.text()}”" in said
    assert f"{transport.speed.accessibleName()} makes the time go faster" in said


def test_the_figures_follow_the_units_of_the_window(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    type_into(page, "altitude", "5000 ft")
    assert "12.2 psi; it was 14.7 psi" in state(page)
    window.store.set_display(METRIC)
    assert "84 kPa; it was 101 kPa" in state(page)
    assert "101 kPa" in page.column.text.text()
    assert page.tank.display is window.store.display
    window.go("tank")
    window.store.set_display(Display())
    window.go("lessons")
    assert "14.7 psi" in page.column.text.text()


def test_what_happens_in_the_tank_is_acknowledged_while_it_plays(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    page.go(1, 0)
    page.panel.set_speed(60.0)
    press(page.panel.transport.play)
    said = "Done. From 50 psi down to 30 psi"
    qtbot.waitUntil(lambda: state(page).startswith(said), timeout=20_000)
    page.panel.pause()


def test_what_the_last_screen_saw_is_not_seen_on_the_next(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    page.go(1, 0)
    press(page.panel.transport.step)
    assert state(page).startswith("Done.")
    page.go(2, 1)  # where the pump must start as well
    assert state(page) == "Not done yet."
    assert page.panel.player.time == 0.0
    press(page.panel.transport.step)
    assert state(page).startswith("Done.")


def test_what_is_said_follows_the_tank_while_the_goal_is_met_and_then_stays(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    page.go(3, 0)
    type_into(page, "precharge", "28 psi")  # "2 psi" on the way to it meets the goal too
    ground = now(page)
    assert f"Now {ground.text('water_left', Display())} stays behind" in state(page)
    assert ground.value("precharge") == parse("28 psi", PRESSURE).si
    page.tank.edit(changes("precharge", parse("20 psi", PRESSURE)), "drag")
    then = state(page)
    assert f"Now {now(page).text('water_left', Display())} stays behind" in then
    page.tank.edit(changes("precharge", parse("38 psi", PRESSURE)), "drag")
    assert state(page) == then


@pytest.mark.parametrize("display", [Display(), METRIC], ids=("us", "metric"))
@pytest.mark.parametrize(
    ("number", "screen", "entries"),
    [
        (number, screen, one.attempt.fields)
        for number, lesson in enumerate(SHIPPED)
        for screen, one in enumerate(lesson.screens)
        if one.attempt is not None and one.attempt.fields
    ],
)
def test_each_goal_that_asks_for_a_change_can_be_dragged_to(
    qtbot: QtBot, number: int, screen: int, entries: tuple[str, ...], display: Display
) -> None:
    """In the neat steps of the picture's handles, in either units."""
    window, page = opened(qtbot)
    window.store.set_display(display)
    page.go(number, screen)
    goal = SHIPPED[number].screens[screen].goal
    assert goal is not None
    for entry in reversed(entries):  # a band is widened before it is narrowed
        aims = [one for one in goal.compared if one.name == entry or one.name not in TYPED]
        sign = UP_OR_DOWN.get((number, entry)) or (
            1 if aims[0].value.si > handle(page, entry).value else -1
        )
        for _ in range(200):
            if all(one.name in SEEN or one.is_met(now(page), Seen()) for one in aims):
                break
            page.tank.edit(changes(entry, handle(page, entry).moved(sign, display)), "drag")
        if any(one.name in SEEN for one in aims):
            page.tank.edit(changes(entry, parse("51 psi", PRESSURE)), "drag")
    for _ in range(6):
        if not state(page).startswith("Done."):
            press(page.panel.transport.step)
    assert state(page).startswith("Done.")


UP_OR_DOWN = {(5, "live_volume"): 1, (6, "precharge"): -1}


def now(page: LessonsPage) -> Ground:
    assert page.tank.results is not None
    return Ground(page.tank.results)


def handle(page: LessonsPage, entry: str) -> Handle:
    recording = page.panel.player.recording
    assert recording is not None
    end = dial_end(recording.rig, page.tank.display)
    (found,) = [one for one in handles_of(page.tank.job, recording.rig, end) if one.entry == entry]
    return found


# --- the job is untouched ---


def test_the_job_and_its_history_know_nothing_of_the_lessons(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    job, results = window.store.job, window.store.results
    type_into(page, "altitude", "6000 ft")
    press(page.panel.transport.step)
    press(page.column.question.buttons[0])
    page.column.onward.click()
    assert window.store.job is job
    assert window.store.results is results
    assert window.store.is_saved
    assert not window.store.undo_stack.count()
    assert not window.isWindowModified()


def test_undo_takes_back_what_was_done_to_the_tank_that_is_shown(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    window.store.edit({"title": "Ours"}, "change title")
    window.go("lessons")
    type_into(page, "altitude", "6000 ft")
    undo()
    assert str(page.tank.job.altitude) == "0 ft"
    assert window.store.job.title == "Ours"
    undo(window)  # nothing is left of the lesson
    assert window.store.job.title == "Ours"
    window.go("tank")
    undo(window)
    assert window.store.job.title != "Ours"
    assert window.shown == "tank"


def test_redo_follows_the_page_too(qtbot: QtBot, user: User) -> None:
    window = user.window
    window.go("lessons")
    page = window.page_of("lessons")
    assert isinstance(page, LessonsPage)
    redo = user.entry("Edit", "Redo")
    assert not redo.isEnabled()
    type_into(page, "altitude", "6000 ft")
    undo()
    assert redo.isEnabled()
    redo.trigger()
    assert str(page.tank.job.altitude) == "6000 ft"
    page.column.onward.click()
    assert not redo.isEnabled()
    assert not user.entry("Edit", "Undo").isEnabled()
