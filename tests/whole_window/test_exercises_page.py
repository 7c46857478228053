"""The page "Exercises", worked as a learner does: by keys alone, and nothing is lost."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import (
    METRIC,
    Unreadable,
    demo_with,
    is_said_by_a_file,
    press,
    type_over,
    undo,
    window_at,
)
from tests.whole_window.checks.parts import settle
from tests.whole_window.exercise_learner import (
    Learner,
    hunt_of,
    learner_at,
    place_of,
    text_of,
)
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import few_tanks, strike_standard
from workbench import cli
from workbench.gui.pages.exercises.ask import FigureAsk, PickAsk
from workbench.gui.pages.exercises.hunt import HuntAsk
from workbench.gui.pages.exercises.page import ExercisesPage
from workbench.gui.pages.exercises.question import asked
from workbench.study.exercises.exercise import Figure, Hunt, HuntAnswer, Pick
from workbench.study.exercises.marking import mark
from workbench.study.exercises.slip import slips
from workbench.units import PRESSURE, Display, Unread

TOPICS = ("precharge", "tank", "fault", "readings", "complaint")
NO_TOPIC: dict[str, Any] = {f"topic_{name}": False for name in TOPICS}


def only(topic: str, count: int = 5, seed: int = 1) -> dict[str, Any]:
    """Exercises of one topic."""
    return NO_TOPIC | {
        f"topic_{topic}": True, "exercise_count": str(count), "exercise_seed": str(seed),
    }  # fmt: skip


@pytest.fixture
def learner(qtbot: QtBot) -> Iterator[Learner]:
    one = learner_at(qtbot, exercise_count="10")
    yield one
    one.leave()


# --- the rules of every page ---


def untouched(_page: ExercisesPage) -> None:
    pass


def wrong_figure(page: ExercisesPage) -> None:
    page.go_to(place_of(page, Figure))
    ask = page.exercises[page.place].ask
    assert isinstance(ask, Figure)
    assert isinstance(page.ask, FigureAsk)
    page.ask.field.insert(text_of(ask, ask.slips[0][1]))
    page.ask.field.textEdited.emit(page.ask.field.text())
    page.check()
    page._on_working()


def unread_figure(page: ExercisesPage) -> None:
    page.go_to(place_of(page, Figure))
    assert isinstance(page.ask, FigureAsk)
    page.ask.field.insert("some")
    page.ask.field.textEdited.emit("some")
    page.check()


def picked(page: ExercisesPage) -> None:
    page.go_to(place_of(page, Pick))
    assert isinstance(page.ask, PickAsk)
    ask = page.exercises[page.place].ask
    assert isinstance(ask, Pick)
    page.ask.choices.group.button(ask.right).click()
    page.check()


def half_hunted(page: ExercisesPage) -> None:
    page.go_to(place_of(page, Hunt))
    assert isinstance(page.ask, HuntAsk)
    for button in list(page.ask.buttons.values())[:3]:
        button.click()
    page.ask.choices.group.button(2).click()
    page.check()


STATES: dict[str, tuple[dict[str, Any], Callable[[ExercisesPage], None]]] = {
    "untouched": ({}, untouched),
    "wrong figure": (only("precharge"), wrong_figure),
    "unread figure": (only("precharge"), unread_figure),
    "picked": (only("complaint"), picked),
    "hunt": (only("fault"), half_hunted),
    "no topic": (NO_TOPIC, untouched),
    "no seed": ({"exercise_seed": Unreadable("x"), "exercise_count": "99"}, untouched),
}


@pytest.mark.parametrize(
    ("state", "metric"),
    [("untouched", True), ("wrong figure", False), ("unread figure", False), ("picked", True),
     ("hunt", False), ("no topic", False), ("no seed", True)],
)  # fmt: skip
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    few_tanks()
    entries, act = STATES[state]

    def build() -> QWidget:
        window = window_at("exercises", demo_with(**entries), metric=metric)
        page = window.page_of("exercises")
        assert isinstance(page, ExercisesPage)
        page.refresh()
        act(page)
        return window

    check_page(qtbot, build, untranslated=is_said_by_a_file)


# --- what is asked ---


@pytest.mark.parametrize("display", [Display(), METRIC])
def test_every_exercise_of_the_set_is_shown_as_the_study_made_it(
    learner: Learner, display: Display
) -> None:
    learner.window.store.set_display(display)
    page = learner.page
    assert page.walk.places.count() == len(page.exercises) == 10
    for place, one in enumerate(page.exercises):
        learner.go(place)
        shown = page.question
        assert one.display == display
        assert (shown.title.text(), shown.story.text()) == (one.title, one.story)
        assert shown.given.rows() == list(one.given)
        assert shown.question.text() == asked(one)
        assert shown.caution.isVisible() is bool(one.caution)
        assert one.caution in shown.caution.text()
        assert page.walk.places.currentIndex() == place


def test_the_command_asks_the_same(learner: Learner, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert cli.main(["exercises", "--seed", "1", "--count", "10", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["exercises"]
    page = learner.page
    for place, one in enumerate(told):
        learner.go(place)
        assert page.question.title.text() == one["title"]
        assert page.question.story.text() == one["story"]
        assert page.question.question.text() == one["question"]
        if isinstance(page.ask, FigureAsk):
            assert page.ask.field.property("unitText") == one["answer_in"]


# --- answering ---


def test_a_whole_set_is_done_by_keys_alone(learner: Learner) -> None:
    """Type or press a letter, Enter checks, Enter leads on."""
    page = learner.page
    learner.first().setFocus(Qt.FocusReason.TabFocusReason)
    for place in range(10):
        assert page.place == place
        focus = QApplication.focusWidget()
        assert focus is not None
        assert page.ask is not None
        assert page.ask.isAncestorOf(focus), "the focus is not where one answers"
        learner.answer_right()
        assert learner.said.startswith("Right"), learner.said
        learner.enter()
    assert page.progress.text() == "10 right at the first answer; 10 of 10 answered."
    assert page.place == 9  # there is none after it
    assert page.walk.places.itemText(3) == "4 of 10: right"


def test_every_error_is_told_by_its_name(learner: Learner) -> None:
    told = set()
    for place, one in enumerate(learner.page.exercises):
        if not isinstance(one.ask, Figure):
            continue
        learner.go(place)
        for slip, value in one.ask.slips:
            learner.type(text_of(one.ask, value))
            learner.enter()
            marked = learner.marked(value)
            assert marked.slip is slip
            assert learner.page.verdict.head.text() == f"Not right. {marked.words}"
            assert slips()[slip].label in marked.words
            assert learner.page.verdict.told.text() == marked.remedy
            told.add(slip)
    assert len(told) >= 5


def test_a_picked_answer_is_told_why(qtbot: QtBot) -> None:
    learner = learner_at(qtbot, **only("complaint", 7))
    picks = [n for n, one in enumerate(learner.page.exercises) if isinstance(one.ask, Pick)]
    assert len(picks) >= 3
    for place in picks:
        one = learner.go(place)
        assert isinstance(one.ask, Pick)
        for number, option in enumerate(one.ask.options):
            learner.choose(number)
            learner.page.check()
            marked = mark(one, number)
            assert marked.words in learner.said
            assert learner.said.startswith("Right" if option.right else "Not right")


def test_a_click_on_a_text_chooses_it(qtbot: QtBot) -> None:
    learner = learner_at(qtbot, **only("readings"))
    learner.go(place_of(learner.page, Pick))
    ask = learner.page.ask
    assert isinstance(ask, PickAsk)
    label = list(ask.choices._labels)[1]
    assert isinstance(label, QWidget)
    QTest.mouseClick(label, Qt.MouseButton.LeftButton)
    assert ask.answer() == 1
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Down)
    assert ask.answer() == 2


@pytest.mark.parametrize("metric", [False, True])
def test_other_units_are_understood_and_echoed(qtbot: QtBot, metric: bool) -> None:
    learner = learner_at(qtbot, **only("precharge"))
    if metric:
        learner.window.store.set_display(METRIC)
    place = place_of(learner.page, Figure, lambda one: one.ask.kind is PRESSURE)  # type: ignore[union-attr]
    ask = learner.go(place).ask
    assert isinstance(ask, Figure)
    number = f"{ask.right / 1e5:.6f}".replace(".", "," if metric else ".")
    learner.type(f"{number} bar")
    assert isinstance(learner.page.ask, FigureAsk)
    assert learner.page.ask.row.message.text().startswith("= ")
    learner.enter()
    assert learner.said.startswith("Right")


@pytest.mark.parametrize(
    ("text", "why"),
    [("", "Type an answer first."), ("some", "cannot be read"), ("12 gpm", "cannot be read")],
)
def test_what_cannot_be_read_is_told_and_never_marked(qtbot: QtBot, text: str, why: str) -> None:
    learner = learner_at(qtbot, **only("precharge"))
    learner.go(place_of(learner.page, Figure, lambda one: one.ask.kind is PRESSURE))  # type: ignore[union-attr]
    learner.type(text)
    learner.enter()
    assert why in learner.said
    assert isinstance(learner.page.ask, FigureAsk)
    assert bool(text) is learner.page.ask.row.message.text().startswith("Stop: ")
    assert learner.page.progress.text() == "None of 5 answered yet."
    assert learner.page.record.rows == []


# --- a hidden fault ---


def test_a_reading_is_told_only_once_it_is_taken_and_its_minutes_add_up(qtbot: QtBot) -> None:
    learner = learner_at(qtbot, **only("fault"))
    page = learner.page
    ask = hunt_of(learner.go(place_of(page, Hunt)))
    assert isinstance(page.ask, HuntAsk)
    learner.first().setFocus(Qt.FocusReason.TabFocusReason)
    spent = 0.0
    for reading in ask.offered:
        assert reading.shown not in page.ask.shown[reading.key].text()
        learner.enter()  # on the button that has the focus
        spent += reading.minutes
        assert page.ask.shown[reading.key].text().startswith(reading.shown)
        assert page.ask.spent.text().endswith(f"Minutes: {spent:g}")
        assert not page.ask.buttons[reading.key].isEnabled()
    learner.page.check()
    assert learner.said == "Choose a fault first."


def test_naming_a_fault_is_marked_with_the_readings_that_were_taken(qtbot: QtBot) -> None:
    learner = learner_at(qtbot, **only("fault"))
    page = learner.page
    hunts = [n for n, one in enumerate(page.exercises) if isinstance(one.ask, Hunt)]
    assert len(hunts) >= 3
    for place in hunts:
        one = learner.go(place)
        ask = hunt_of(one)
        assert isinstance(page.ask, HuntAsk)
        for fault in (ask.fault, *ask.suspects[:2]):
            learner.choose(ask.suspects.index(fault))
            learner.page.check()
            assert mark(one, HuntAnswer(fault, page.ask.attempt.taken)).words in learner.said
            button = next((b for b in page.ask.buttons.values() if b.isEnabled()), None)
            if button is not None:
                press(button)


# --- after the verdict ---


def test_the_first_answer_counts_and_another_may_be_tried(qtbot: QtBot) -> None:
    learner = learner_at(qtbot, **only("precharge"))
    page = learner.page
    learner.go(place_of(page, Figure))
    learner.answer_wrong()
    assert "counts for the class record: this one." in learner.said
    assert page.verdict.again_button.isVisible()
    learner.alt("t")
    assert learner.said.startswith("Not checked yet.")
    assert isinstance(page.ask, FigureAsk)
    assert page.ask.field.selectedText() == page.ask.field.text()
    learner.answer_right()
    assert learner.said.startswith("Right")
    assert "counts for the class record: it was not right." in learner.said
    assert page.progress.text() == "0 right at the first answer; 1 of 5 answered."
    assert page.walk.places.currentText() == "1 of 5: right at last"
    assert len(page.record.rows) == 1


def test_a_changed_answer_has_no_verdict(qtbot: QtBot) -> None:
    learner = learner_at(qtbot, **only("precharge"))
    learner.go(place_of(learner.page, Figure))
    learner.answer_right()
    learner.type("1")
    assert learner.said.startswith("Not checked yet.")
    assert "it was right" in learner.said


def test_the_working_is_shown_when_it_is_asked_for(qtbot: QtBot) -> None:
    learner = learner_at(qtbot, **only("tank"))
    page = learner.page
    one = learner.go(0)
    assert not page.verdict.working_button.isVisible()
    learner.answer_wrong()
    assert not page.verdict.working.isVisible()
    learner.alt("s")
    assert [name for name, _ in page.verdict.working.rows()] == [s.title for s in one.working]
    for step, (_, told) in zip(one.working, page.verdict.working.rows(), strict=True):
        assert step.numbers in told
    learner.go(1)
    assert not page.verdict.working.isVisible()
    learner.go(0)
    assert page.verdict.working.isVisible()


def test_the_verdict_is_told_to_a_screen_reader(qtbot: QtBot) -> None:
    learner = learner_at(qtbot, **only("precharge"))
    learner.go(place_of(learner.page, Figure))
    learner.answer_wrong()
    verdict = learner.page.verdict
    assert verdict.head.text() in verdict.check_button.accessibleDescription()
    assert learner.first().accessibleDescription() == learner.said


def test_the_verdict_comes_into_sight_after_a_long_list(qtbot: QtBot) -> None:
    learner = learner_at(qtbot, **only("fault"))
    page = learner.page
    learner.window.resize(1000, 560)
    learner.go(place_of(page, Hunt))
    learner.answer_wrong()
    settle()
    assert not page.verdict.head.visibleRegion().isEmpty()


# --- nothing is lost ---


def test_answers_survive_moving_about(learner: Learner) -> None:
    page = learner.page
    typed = {}
    for place in range(4):
        learner.go(place)
        learner.answer_wrong() if place % 2 else learner.answer_right()
        typed[place] = (page.ask.typed() if page.ask else "", learner.said)
    learner.window.go("tank")
    learner.window.go("exercises")
    settle()
    assert page.place == 3
    for place, (text, said) in typed.items():
        learner.go(place)
        assert page.ask is not None
        assert (page.ask.typed(), learner.said) == (text, said)


def test_another_seed_is_one_step_and_undo_brings_set_and_answers_back(learner: Learner) -> None:
    page, store = learner.page, learner.window.store
    learner.go(1)
    learner.answer_right()
    before = page.exercises
    press(page.seed_button)
    assert store.job.exercise_seed == demo_with(exercise_seed="2").exercise_seed
    assert page.exercises[0].seed == 2
    assert page.place == 0
    assert "A new set of exercises begins: seed 2." in page.notice.text()
    assert "come back with it" in page.notice.text()
    assert page.notice.isVisible()
    assert page.progress.text() == "None of 10 answered yet."
    undo()
    assert page.exercises == before
    assert page.notice.text() == "The set of seed 1 again, with its answers."
    assert page.place == 1
    assert learner.said.startswith("Right")
    assert page.progress.text() == "1 right at the first answer; 1 of 10 answered."


def test_topics_and_units_begin_a_new_set_and_the_count_does_not(learner: Learner) -> None:
    page = learner.page
    learner.go(0)
    learner.answer_right()
    type_over(page, "exercise_count", "12")
    assert not page.notice.isVisible()
    assert page.progress.text() == "1 right at the first answer; 1 of 12 answered."
    learner.window.store.set_display(METRIC)
    assert page.notice.isVisible()
    assert page.progress.text() == "None of 12 answered yet."
    learner.window.store.set_display(Display())
    press(page.inputs.rows["topic_tank"].field)  # type: ignore[arg-type]  # a box to tick
    assert "A new set of exercises begins" in page.notice.text()
    assert all(one.topic.value != "tank" for one in page.exercises)


def test_undo_in_the_answer_takes_back_what_was_typed_there(learner: Learner) -> None:
    page = learner.page
    press(page.seed_button)
    learner.go(place_of(page, Figure))
    learner.type("12")
    assert isinstance(page.ask, FigureAsk)
    strike_standard(page.ask.field, QKeySequence.StandardKey.Undo)
    assert page.ask.field.text() == ""
    assert page.ask.attempt.entry is None
    assert page.exercises[0].seed == 2


@pytest.mark.parametrize(
    "entries", [NO_TOPIC, {"exercise_seed": Unread("x", "Not a number.", "Type one.")}]
)
def test_without_a_set_the_page_says_what_to_mend(qtbot: QtBot, entries: dict[str, Any]) -> None:
    learner = learner_at(qtbot, **entries)
    page = learner.page
    assert page.why.isVisible()
    assert page.why.text().startswith("Mend first: ")
    for widget in (page.walk, page.question, page.verdict):
        assert not widget.isVisible()
    learner.window.store.edit({"topic_tank": True, "exercise_seed": "3"}, "")
    assert page.question.isVisible()
    assert not page.why.isVisible()


# --- going about ---


def test_one_goes_from_exercise_to_exercise(learner: Learner) -> None:
    page = learner.page
    learner.go(0)
    assert not page.walk.previous.isEnabled()
    learner.alt("n")
    assert page.place == 1
    focus = QApplication.focusWidget()
    assert focus is not None
    assert page.ask is not None
    assert page.ask.isAncestorOf(focus)
    learner.alt("p")
    assert page.place == 0
    page.walk.places.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(page.walk.places, Qt.Key.Key_End)
    assert page.place == 9
    assert QApplication.focusWidget() is page.walk.places
    assert not page.walk.next.isEnabled()
    page.go_to(10)
    assert page.place == 9
