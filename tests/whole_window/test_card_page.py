"""The page "Setting card", worked as a person does: the card it shows is the study's, or none."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import (
    METRIC,
    Unreadable,
    at_page,
    check_page_at,
    demo_with,
    results_of,
    type_over,
    undo,
)
from tests.whole_window.user import few_tanks
from workbench.gui.pages.card.page import CardPage
from workbench.gui.window import MainWindow
from workbench.job.job import Job
from workbench.report.card import card_content
from workbench.report.plain_text import plain_text
from workbench.units import Display

STATES: dict[str, dict[str, Any]] = {
    "usual": {"first_tank": "birch-60-v", "card_note": "Valve behind the beam."},
    "for the pen": {"set_by": "", "set_date": "", "reading_temperature": "70 °F"},
    "stopped": {"first_tank": "gone", "relief_setting": "20 psi", "set_date": "soon",
                "cut_out": Unreadable("some"), "tol_precharge": Unreadable("x")},
    "long": {"card_note": "One line.\n" * 9},
}  # fmt: skip


def in_state(state: str) -> Job:
    return demo_with(**STATES[state])


def opened(qtbot: QtBot, state: str) -> tuple[MainWindow, CardPage]:
    return at_page(qtbot, "card", CardPage, in_state(state))


@pytest.mark.parametrize(
    ("state", "metric"), [("usual", False), ("for the pen", True), ("stopped", False)]
)
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    few_tanks()

    check_page_at(qtbot, "card", lambda: in_state(state), metric=metric)


@pytest.mark.parametrize("display", [Display(), METRIC])
@pytest.mark.parametrize("state", ["usual", "for the pen"])
def test_it_shows_the_card_of_the_job_on_one_page(
    qtbot: QtBot, state: str, display: Display
) -> None:
    window, page = opened(qtbot, state)
    window.store.set_display(display)
    qtbot.waitUntil(lambda: page.preview.page_count == 1)
    made = card_content(results_of(window), display)
    assert not isinstance(made, str)
    page.copy()
    assert QApplication.clipboard().text() == plain_text(made)


def test_typing_changes_the_card_and_undo_brings_it_back(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "usual")
    page.copy()
    before = QApplication.clipboard().text()
    assert "30/50 psi" in before
    type_over(page, "cut_out", "55")
    page.copy()
    assert "30/55 psi" in QApplication.clipboard().text()
    undo()
    page.copy()
    assert QApplication.clipboard().text() == before
    assert window.store.job.cut_out == in_state("usual").cut_out


def test_a_stop_puts_words_in_the_place_of_the_card(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "stopped")
    assert page.preview.page_count == 0
    told = page.preview.words.text()
    assert told.startswith("No setting is printed. Mend first: ")
    assert "Relief valve" not in told  # it is held against a cut-out that cannot be read
    assert not page.save_button.isEnabled()
    for name in ("cut_out", "tol_precharge", "set_date"):
        assert page.inputs.rows[name].message.isVisible(), name


def test_a_remark_that_is_too_long_is_told_beside_it(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "long")
    assert "At most 200 characters" in page.inputs.rows["card_note"].message.text()
    assert page.preview.page_count == 0
    type_over(page, "card_note", "Short.")
    qtbot.waitUntil(lambda: page.preview.page_count == 1)
    assert window.store.job.card_note == "Short."


def test_a_tank_that_is_not_named_is_told(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "for the pen")
    assert "No tank is named" in page.inputs.rows["first_tank"].message.text()
