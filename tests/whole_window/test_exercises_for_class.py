"""Results of a class at the page "Exercises": each first answer goes into the file."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import demo_with, is_said_by_a_file, press, window_at
from tests.whole_window.exercise_learner import Learner, learner_at, place_of
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import Answers, few_tanks
from workbench import __version__
from workbench.gui.pages.exercises.page import ExercisesPage
from workbench.study.exercises import results
from workbench.study.exercises.exercise import Figure, Hunt
from workbench.study.exercises.results import Row
from workbench.study.exercises.slip import slips

NOW = datetime.datetime(2026, 3, 31, 9, 5, tzinfo=datetime.timezone.utc)  # noqa: UP017
NAME = "Ann Example"


@pytest.fixture
def learner(qtbot: QtBot) -> Iterator[Learner]:
    one = learner_at(qtbot, exercise_count="10")
    one.page.record._now = lambda: NOW
    yield one
    one.leave()


@pytest.fixture
def answers(monkeypatch: pytest.MonkeyPatch) -> Answers:
    return Answers(monkeypatch)


def type_name(learner: Learner, name: str) -> None:
    field = learner.page.for_class.name
    field.setFocus(Qt.FocusReason.TabFocusReason)
    field.selectAll()
    QTest.keyClicks(field, name)


def keep_in(learner: Learner, answers: Answers, path: Path) -> None:
    """Press the button, and name a file."""
    answers.prepare(files=[path])
    press(learner.page.for_class.file_button)
    answers.told()


def rows_of(path: Path) -> tuple[Row, ...]:
    found = results.read(path)
    assert found.problems == ()
    return found.rows


def answer(learner: Learner, place: int, *, right: bool) -> None:
    learner.go(place)
    learner.answer_right() if right else learner.answer_wrong()


def test_each_first_answer_is_written_at_once(
    learner: Learner, answers: Answers, tmp_path: Path
) -> None:
    path = tmp_path / "spring.csv"
    page = learner.page
    type_name(learner, NAME)
    keep_in(learner, answers, path)
    assert page.for_class.file.text() == "spring.csv: 0 of this session kept."
    place, hunt = place_of(page, Figure), place_of(page, Hunt)
    answer(learner, place, right=False)
    (row,) = rows_of(path)
    one = page.exercises[place]
    assert isinstance(one.ask, Figure)
    assert (row.date, row.time, row.name, row.program) == (
        "2026-03-31", "09:05", NAME, __version__,
    )  # fmt: skip
    assert (row.seed, row.number, row.topic, row.question) == (
        one.seed, one.number, one.topic, one.title,
    )  # fmt: skip
    assert (row.right, row.slip, row.minutes) == (False, one.ask.slips[0][0], None)
    assert row.answer == page.ask.typed() if page.ask else ""
    learner.answer_right()  # a second answer is none of the record
    assert len(rows_of(path)) == 1
    answer(learner, hunt, right=True)
    asked = page.exercises[hunt].ask
    assert isinstance(asked, Hunt)
    row = rows_of(path)[-1]
    assert (row.right, row.minutes) == (True, sum(one.minutes for one in asked.offered))
    assert page.for_class.file.text() == "spring.csv: 2 of this session kept."
    assert not page.for_class.problem.isVisible()


def test_answers_given_before_a_file_is_chosen_go_there_too(
    learner: Learner, answers: Answers, tmp_path: Path
) -> None:
    type_name(learner, NAME)
    answer(learner, 0, right=True)
    answer(learner, 1, right=False)
    assert learner.page.for_class.file.text() == "No file: results are not kept."
    keep_in(learner, answers, tmp_path / "late")  # the dialog gives no ending
    rows = rows_of(tmp_path / "late.csv")
    assert [(row.number, row.right, row.name) for row in rows] == [
        (1, True, NAME), (2, False, NAME),
    ]  # fmt: skip


def test_a_file_that_cannot_be_written_is_told_and_tried_again(
    learner: Learner, answers: Answers, tmp_path: Path
) -> None:
    page, path = learner.page, tmp_path / "gone" / "spring.csv"
    type_name(learner, NAME)
    keep_in(learner, answers, path)
    answer(learner, 0, right=True)
    told = page.for_class.problem
    assert told.isVisible()
    assert "“spring.csv” could not be saved" in told.text()
    assert "1 wait here and are tried again." in told.text()
    assert told.text() in page.for_class.file_button.accessibleDescription()
    assert learner.said.startswith("Right"), "the verdict does not wait for the file"
    answer(learner, 1, right=True)
    assert "2 wait here" in told.text()
    path.parent.mkdir()
    answer(learner, 2, right=True)  # the next answer takes the others with it
    assert [row.number for row in rows_of(path)] == [1, 2, 3]
    assert not told.isVisible()
    assert not page.for_class.retry_button.isVisible()


def test_what_waits_is_written_by_the_button_or_by_itself(
    learner: Learner, answers: Answers, tmp_path: Path
) -> None:
    page, path = learner.page, tmp_path / "gone" / "spring.csv"
    type_name(learner, NAME)
    keep_in(learner, answers, path)
    answer(learner, 0, right=True)
    assert page.for_class._timer.isActive()
    path.parent.mkdir()
    press(page.for_class.retry_button)
    assert len(rows_of(path)) == 1
    assert not page.for_class._timer.isActive()
    path.rename(path.with_name("away.csv"))
    path.mkdir()
    answer(learner, 1, right=True)
    path.rmdir()
    page.for_class._timer.timeout.emit()
    assert [row.number for row in rows_of(path)] == [2]


def test_a_file_of_something_else_is_left_alone_and_told(
    learner: Learner, answers: Answers, tmp_path: Path
) -> None:
    path = tmp_path / "prices.csv"
    path.write_bytes(b"item,price\r\ntee,4.50\r\n")
    before = path.read_bytes()
    keep_in(learner, answers, path)
    assert "is not a file of answers" in learner.page.for_class.problem.text()
    answer(learner, 0, right=True)
    assert path.read_bytes() == before
    keep_in(learner, answers, tmp_path / "spring.csv")
    assert len(rows_of(tmp_path / "spring.csv")) == 1


def test_rows_of_others_stay(learner: Learner, answers: Answers, tmp_path: Path) -> None:
    path = tmp_path / "spring.csv"
    type_name(learner, NAME)
    keep_in(learner, answers, path)
    answer(learner, 0, right=False)
    press(learner.page.for_class.another_button)
    field = learner.page.for_class.name
    assert field.text() == ""
    assert field.hasFocus()
    assert learner.page.progress.text() == "None of 10 answered yet."
    type_name(learner, "Ben Example")
    answer(learner, 0, right=True)
    assert [(row.name, row.right) for row in rows_of(path)] == [
        (NAME, False), ("Ben Example", True),
    ]  # fmt: skip


def test_without_a_name_the_trainer_is_warned(
    learner: Learner, answers: Answers, tmp_path: Path
) -> None:
    warned = learner.page.for_class.nameless
    assert not warned.isVisible()
    keep_in(learner, answers, tmp_path / "spring.csv")
    assert warned.isVisible()
    assert "nobody can tell whose answers" in learner.page.for_class.name.accessibleDescription()
    type_name(learner, "A")
    assert not warned.isVisible()


def test_a_dialog_that_is_left_changes_nothing(learner: Learner, answers: Answers) -> None:
    answers.prepare(files=[None])
    press(learner.page.for_class.file_button)
    assert learner.page.record.path is None


def test_the_trainer_sees_how_often_each_error_was_made(
    learner: Learner, answers: Answers, tmp_path: Path
) -> None:
    page, path = learner.page, tmp_path / "spring.csv"
    assert not page.errors.isVisible()
    place = place_of(page, Figure)
    for name in (NAME, "Ben Example"):
        type_name(learner, name)
        answer(learner, place, right=False)
        press(page.for_class.another_button)
    one = page.exercises[place].ask
    assert isinstance(one, Figure)
    label = slips()[one.slips[0][0]].label
    assert page.errors.texts() == [["Error", "Times", "Learners"], [label, "2", "2"]]
    assert "0 of 2 first answers right; learners: 2 (this session)." in page.errors.remark.text()
    keep_in(learner, answers, path)
    type_name(learner, "Eve Example")
    learner.go(place)
    learner.type("9999999")
    learner.enter()
    assert page.errors.texts()[-1] == ["none of the usual errors", "1", "1"]
    assert "learners: 3 (spring.csv)" in page.errors.remark.text()
    with path.open("ab") as file:
        file.write(b"spoilt\r\n")
    answer(learner, place_of(page, Hunt), right=True)
    assert "Rows that cannot be read: 1." in page.errors.remark.text()


def test_neither_name_nor_file_is_part_of_the_job(
    learner: Learner, answers: Answers, tmp_path: Path
) -> None:
    job, store = learner.window.store.job, learner.window.store
    type_name(learner, NAME)
    keep_in(learner, answers, tmp_path / "spring.csv")
    answer(learner, 0, right=True)
    assert store.job is job
    assert store.is_saved


STATES = ("kept", "failing")


@pytest.mark.parametrize("state", STATES)
def test_the_page_keeps_every_page_rule_with_a_file(
    qtbot: QtBot, tmp_path: Path, state: str
) -> None:
    few_tanks()
    path = tmp_path / ("class.csv" if state == "kept" else "gone/class.csv")

    def build() -> QWidget:
        window = window_at("exercises", demo_with(topic_fault=False))
        page = window.page_of("exercises")
        assert isinstance(page, ExercisesPage)
        page.refresh()
        fail_at(page, path)
        return window

    def is_known(text: str) -> bool:
        return is_said_by_a_file(text) or path.name in text

    check_page(qtbot, build, untranslated=is_known)


def fail_at(page: ExercisesPage, path: Path) -> None:
    """Answer one exercise wrongly, with a file."""
    page.for_class.take_file(path)
    ask: Any = page.ask
    page.go_to(place_of(page, Figure))
    ask = page.ask
    ask.field.insert("1")
    ask.field.textEdited.emit("1")
    page.check()
    focus = QApplication.focusWidget()
    if focus is not None:
        focus.clearFocus()
