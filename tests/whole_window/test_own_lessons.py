"""A firm's own lessons: copied from the menu, read when they change, told where they are spoilt."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QLocale, QUrl
from PySide6.QtGui import QDesktopServices
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import press
from tests.whole_window.lessons_user import KEYS, opened, own, place, shipped, verdict
from tests.whole_window.user import Answers, User
from workbench.safe_file import SaveError
from workbench.study.lessons import shelf


def test_a_spoilt_file_of_the_firm_is_told_on_every_screen(qtbot: QtBot) -> None:
    own("4-precharge.toml", shipped("4-precharge.toml").replace("{drawdown}", "{drawdawn}", 1))
    _, page = opened(qtbot)
    told = page.column.problems.text()
    assert page.column.problems.isVisible()
    assert told.startswith("Caution: “4-precharge.toml”, screen 1, text: There is no figure")
    assert "“drawdawn”" in told
    assert "Use for example drawdown" in told
    assert told.endswith("Until then the program's own lesson is shown.")
    page.go(3, 0)
    assert page.column.heading.text() == "Too low: water stays behind"


def test_more_spoilt_files_than_have_room_are_counted(qtbot: QtBot) -> None:
    for key in KEYS[:5]:
        own(f"{key}.toml", "title = 1")
    _, page = opened(qtbot)
    told = page.column.problems.text()
    assert told.count("Caution: ") == 3
    assert told.endswith("And 2 more.")


def test_a_file_of_ones_own_that_is_none_is_told_and_left_out(qtbot: QtBot) -> None:
    own("9-more.toml", "screen = [{}]")
    _, page = opened(qtbot)
    assert page.column.chooser.count() == 8
    assert page.column.problems.text().startswith("Stop: “9-more.toml”: “title” is missing.")


def test_what_a_trainer_changes_is_read_when_the_page_is_seen_again(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    page.column.onward.click()
    press(page.column.question.buttons[2])
    window.go("tank")
    text = shipped("1-pressure.toml").replace("Why it matters: squeezed air", "Our squeezed air")
    own("1-pressure.toml", text.replace('"51 psi"', '"52 psi"'))
    window.go("lessons")
    assert page.column.heading.text() == "Our squeezed air"
    assert verdict(page) == ""
    assert place(page) == "Lesson 1 of 8, screen 2 of 2"


def test_lessons_come_in_the_language_of_the_system(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    own("2-air.toml", shipped("2-air.toml").replace("What the air does", "Die Luft"), "de")
    before = QLocale()
    QLocale.setDefault(QLocale("de_AT"))
    try:
        _, page = opened(qtbot)
    finally:
        QLocale.setDefault(before)
    assert page.column.chooser.itemText(1) == "2 Die Luft"
    assert page.column.chooser.itemText(2) == "3 Drawdown is not volume"


def test_without_any_lesson_the_page_says_so(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shelf, "shipped_lessons", lambda: Path("nowhere"))
    _, page = opened(qtbot)
    assert page.column.heading.text() == "There are no lessons"
    assert not page.column.onward.isEnabled()
    assert not page.column.again.isEnabled()


def test_the_lessons_are_copied_only_after_a_yes(
    user: User, answers: Answers, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown: list[str] = []

    def open_url(url: QUrl) -> bool:
        shown.append(url.toLocalFile())
        return True

    monkeypatch.setattr(QDesktopServices, "openUrl", open_url)
    folder = shelf.own_lessons()
    answers.prepare("Leave it")
    user.menu("File", "Copy the lessons …")
    (told,) = answers.told()
    assert str(folder) in told
    assert not folder.exists()
    answers.prepare("Copy and open the folder")
    user.menu("File", "Copy the lessons …")
    answers.told()
    assert {path.name for path in (folder / "en").iterdir()} == {f"{key}.toml" for key in KEYS}
    assert shown == [folder.as_posix()]


def test_lessons_that_cannot_be_copied_are_told(
    user: User, answers: Answers, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full() -> Path:
        raise SaveError("“2-air.toml” could not be saved: the disk is full.", "Make room on it.")

    monkeypatch.setattr(shelf, "copy_lessons", full)
    answers.prepare("Copy and open the folder", "OK")
    user.menu("File", "Copy the lessons …")
    assert "the disk is full. Make room" in answers.told()[1]
