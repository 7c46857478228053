"""A person at the page "Lessons": comes to it, types, answers, and reads what it says."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import at_page
from tests.whole_window.user import CTRL, demo_job, few_tanks
from workbench import paths
from workbench.gui.pages.lessons.page import LessonsPage
from workbench.gui.window import MainWindow
from workbench.study.lessons import shelf
from workbench.study.lessons.reading import read_lesson

FOLDER = paths.resources() / "lessons" / "en"
SHIPPED = [read_lesson(path) for path in sorted(FOLDER.glob("*.toml"))]
KEYS = [lesson.key for lesson in SHIPPED]


def opened(qtbot: QtBot) -> tuple[MainWindow, LessonsPage]:
    few_tanks()
    return at_page(qtbot, "lessons", LessonsPage, demo_job())


def own(name: str, text: str, language: str = "en") -> Path:
    path = shelf.own_lessons() / language / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def shipped(name: str) -> str:
    return (FOLDER / name).read_text(encoding="utf-8")


def type_into(page: LessonsPage, name: str, text: str) -> None:
    """Come to a field of the lesson and type over what it holds."""
    field = page.column.attempt.fields.rows[name].field
    assert field.isVisibleTo(page)
    field.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(field, Qt.Key.Key_A, CTRL)
    QTest.keyClicks(field, text)


def state(page: LessonsPage) -> str:
    return page.column.attempt.state.text()


def verdict(page: LessonsPage) -> str:
    return page.column.question.verdict.text()


def place(page: LessonsPage) -> str:
    """Where one stands, without how many lessons are done."""
    return page.column.place.text().partition(";")[0]
