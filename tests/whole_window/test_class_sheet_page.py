"""The page "Exercise sheet", worked as a person does: it shows the report's sheet, or none."""

from __future__ import annotations

import re
from typing import Any

import pytest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import (
    METRIC,
    Unreadable,
    at_page,
    demo_with,
    is_said_by_a_file,
    press,
    results_of,
    type_over,
    undo,
    window_at,
)
from tests.whole_window.checks import words
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import few_tanks
from workbench.gui.pages.class_sheet.page import SheetPage
from workbench.gui.window import MainWindow
from workbench.job.job import Job
from workbench.report.exercises import sheet_content
from workbench.report.paper_data import texts_of
from workbench.report.plain_text import plain_text
from workbench.study.evaluate import evaluate
from workbench.units import Display

STATES: dict[str, dict[str, Any]] = {
    "class": {"class_name": "Apprentices", "class_date": "2026-03-31", "exercise_count": "6"},
    "key": {"sheet_for": "trainer", "exercise_count": "5", "topic_fault": False},
    "stopped": {"class_date": "soon", "exercise_seed": Unreadable("some"), "exercise_count": "99"},
    "no topic": {
        f"topic_{name}": False for name in ("precharge", "tank", "fault", "readings", "complaint")
    },
}


def in_state(state: str) -> Job:
    return demo_with(**STATES[state])


def opened(qtbot: QtBot, state: str) -> tuple[MainWindow, SheetPage]:
    return at_page(qtbot, "sheet", SheetPage, in_state(state))


def copied(page: SheetPage) -> str:
    page.copy()
    return QApplication.clipboard().text()


@pytest.mark.parametrize(
    ("state", "metric"), [("class", False), ("key", True), ("stopped", False), ("no topic", True)]
)
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    few_tanks()
    firm = in_state(state).firm_name

    def build() -> QWidget:
        return window_at("sheet", in_state(state), metric=metric)

    def is_known(text: str) -> bool:  # the paper as text begins with the firm's name
        return is_said_by_a_file(text) or text.startswith(firm)

    check_page(qtbot, build, untranslated=is_known)


@pytest.mark.parametrize("who", ["class", "trainer"])
def test_all_that_the_sheet_says_can_be_translated(who: str) -> None:
    with words.pseudo_translation():
        job = Job().changed(sheet_for=who, exercise_count="15")
        made = sheet_content(evaluate(job, None), Display())
        assert not isinstance(made, str)
        bare = {
            word
            for _, text in texts_of(made)
            for word in re.findall(r"[^\W\d_]{3,}", words._outside_brackets(text))
        }
    assert bare <= words._UNIT_WORDS, bare


@pytest.mark.parametrize("display", [Display(), METRIC])
@pytest.mark.parametrize("state", ["class", "key"])
def test_it_shows_the_sheet_of_the_job(qtbot: QtBot, state: str, display: Display) -> None:
    window, page = opened(qtbot, state)
    window.store.set_display(display)
    qtbot.waitUntil(lambda: page.preview.page_count > 1)
    made = sheet_content(results_of(window), display)
    assert not isinstance(made, str)
    assert copied(page) == plain_text(made)


def test_typing_makes_another_sheet_and_undo_brings_it_back(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "class")
    before = copied(page)
    type_over(page, "exercise_seed", "2")
    other = copied(page)
    assert other != before
    assert "seed 2" in other
    undo()
    assert copied(page) == before
    press(page.inputs.rows["topic_tank"].field)  # type: ignore[arg-type]  # a box to tick
    assert "choose a tank" not in copied(page)
    undo()
    assert copied(page) == before
    assert window.store.job == in_state("class")


def test_a_stop_puts_words_in_the_place_of_the_sheet(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "stopped")
    assert page.preview.page_count == 0
    assert page.preview.words.text().startswith("No sheet is made. Mend first: ")
    assert not page.save_button.isEnabled()
    for name in ("class_date", "exercise_seed", "exercise_count"):
        assert page.inputs.rows[name].message.isVisible(), name


def test_no_topic_is_told_beside_the_topics(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "no topic")
    assert "No topic is ticked." in page.inputs.rows["topic_precharge"].message.text()
    press(page.inputs.rows["topic_readings"].field)  # type: ignore[arg-type]
    qtbot.waitUntil(lambda: page.preview.page_count > 0)
    assert "judge readings" in copied(page)
