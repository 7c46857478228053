"""The page "Our firm", worked as a person does: letterhead, logo, clauses, and what is kept."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.study.test_firm_logo import CIRCLE, JPEG, png
from tests.whole_window.at_page import at_page, check_page_at, press, undo, unread
from tests.whole_window.user import Answers, demo_job, few_tanks
from workbench.gui.pages.firm.page import FirmPage
from workbench.gui.window import MainWindow
from workbench.job import firm
from workbench.job.firm import FIRM_ENTRIES
from workbench.job.job import Job
from workbench.job.paper_choices import Paper
from workbench.study.firm.logo import logo_from

LONG = "A clause that goes on and on.\n" * 130
LOGO = logo_from(png(60, 20)).text


def in_state(state: str) -> Job:
    """The job of a state, with the firm's file that goes with it."""
    job = demo_job()
    own = firm.own_firm_path()
    match state:
        case "kept":
            job = job.changed(firm_logo=LOGO, clause_warranty=LONG)
            firm.write_firm(job, own)
        case "differs":
            firm.write_firm(job, own)
            job = job.changed(firm_logo=logo_from(CIRCLE).text, markup="41 %", with_plot=False)
        case "unreadable":
            own.parent.mkdir(parents=True, exist_ok=True)
            own.write_text("{", encoding="utf-8")
            job = job.changed(firm_logo="no picture", valid_days=unread("soon"))
        case "empty":
            job = Job()
    return job


def opened(qtbot: QtBot, state: str = "not kept") -> tuple[MainWindow, FirmPage]:
    return at_page(qtbot, "firm", FirmPage, in_state(state), few_tanks())


def told(page: FirmPage) -> tuple[str, str]:
    return page.keeping.answer.figure.text(), page.keeping.answer.reason.text()


@pytest.mark.parametrize("state", ["not kept", "kept", "differs", "unreadable", "empty"])
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str) -> None:
    check_page_at(qtbot, "firm", lambda: in_state(state), metric=state == "differs")


# --- typing -----------------------------------------------------------------------------------


def test_what_is_typed_is_in_the_job_and_one_step_back_takes_it_away(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "empty")
    for name, row in (page.inputs.rows | page.clauses.rows).items():
        if name in ("paper", "valid_days"):
            continue
        row.field.setFocus(Qt.FocusReason.TabFocusReason)
        QTest.keyClicks(row.field, "as typed")
        assert getattr(window.store.job, name) == "as typed"
        undo(row.field)
        assert getattr(window.store.job, name) == ""
        assert window.store.undo_stack.undoText() == ""
        assert page.isVisible()


def test_undo_of_a_clause_comes_back_to_this_page(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    field: Any = page.clauses.rows["clause_payment"].field
    field.setFocus()
    QTest.keyClicks(field, "Well, ")
    assert window.store.undo_stack.undoText() == "change Payment"
    window.go("tank")
    window.store.undo_stack.undo()
    assert window.shown == "firm"
    assert field.toPlainText() == demo_job().clause_payment


def test_a_long_clause_scrolls_in_its_field_and_ends_where_a_job_ends(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "kept")
    field: Any = page.clauses.rows["clause_warranty"].field
    assert field.verticalScrollBar().maximum() > 50
    assert field.height() < page.height() / 4
    field.selectAll()
    QApplication.clipboard().setText("x" * 5000)
    field.paste()
    assert window.store.job.clause_warranty == "x" * 4000


def test_paper_and_validity_are_entered_here_with_what_is_wrong_beside_them(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    sheet: Any = page.inputs.rows["paper"].field
    sheet.setFocus()
    QTest.keyClick(sheet, Qt.Key.Key_Down)
    assert window.store.job.paper is Paper.A4
    days: Any = page.inputs.rows["valid_days"].field
    days.setFocus()
    days.selectAll()
    QTest.keyClicks(days, "soon")
    assert page.inputs.rows["valid_days"].message.isVisible()


def test_prompts_stand_beside_the_clauses_and_name_place_and_source(qtbot: QtBot) -> None:
    from PySide6.QtWidgets import QLabel

    _, page = opened(qtbot)
    texts = [label.text() for label in page.clauses.findChildren(QLabel)]
    for piece in ("no legal advice", "Massachusetts: A deposit of at most one third",
                  "read in secondary copies", "16 CFR Part 429, from memory",
                  "common practice, no source"):  # fmt: skip
        assert any(piece in text for text in texts), piece


# --- what is kept -------------------------------------------------------------------------------


def test_keeping_makes_the_jobs_the_firms_and_says_where(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    assert told(page)[0] == "Not kept yet"
    assert "invented prices" in told(page)[1]
    steps = window.store.undo_stack.count()
    press(page.keeping.keep_button)
    path = firm.own_firm_path()
    assert page.keeping.told.text() == f"Kept in {path}."
    assert page.keeping.told.isVisible()
    assert firm.differing(window.store.job, firm.read_firm(path)) == ()
    assert told(page)[0] == "As kept"
    assert not page.keeping.keep_button.isEnabled()
    assert not page.keeping.take_button.isEnabled()
    assert window.store.undo_stack.count() == steps  # no input was changed
    assert firm.new_job().firm_name == "Millbrook Well & Tank (invented)"


def test_what_differs_is_named_and_keeping_can_be_repeated(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "differs")
    assert told(page) == (
        "3 differ",
        "This job's differ from your firm's file in: Logo, Markup, part “plot of the options”.",
    )
    press(page.keeping.keep_button)
    assert told(page)[0] == "As kept"
    window.store.edit({"clause_warranty": "None."}, "edit")
    assert told(page) == ("1 differ", "This job's differ from your firm's file in: Warranty.")
    assert page.keeping.told.isHidden()
    press(page.keeping.keep_button)
    assert firm.new_job().clause_warranty == "None."


def test_taking_the_firms_is_one_step_that_can_be_undone(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "differs")
    before = window.store.job
    press(page.keeping.take_button)
    kept = firm.firm_entries()
    assert firm.entries_of(window.store.job) == kept
    others = set(Job.entries()) - set(FIRM_ENTRIES)
    assert all(getattr(window.store.job, name) == getattr(before, name) for name in others)
    assert page.logo.picture.isHidden()
    assert told(page)[0] == "As kept"
    assert window.store.undo_stack.count() == 1
    window.store.undo_stack.undo()
    assert window.store.job == before
    assert told(page)[0] == "3 differ"
    assert page.logo.picture.isVisible()


def test_before_anything_is_kept_what_comes_with_the_program_can_be_taken(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "empty")
    assert page.keeping.take_button.text() == "&Take the starting ones"
    press(page.keeping.take_button)
    assert window.store.job == firm.new_job()
    assert not page.keeping.take_button.isEnabled()
    assert page.keeping.keep_button.isEnabled()


def test_a_file_that_cannot_be_read_is_told_and_set_aside_when_another_is_kept(
    qtbot: QtBot,
) -> None:
    window, page = opened(qtbot, "unreadable")
    figure, reason = told(page)
    assert figure == "Cannot be read"
    assert "firm.json is damaged" in reason
    assert not page.keeping.take_button.isEnabled()
    press(page.keeping.keep_button)
    path = firm.own_firm_path()
    assert "the file before is firm.json.bak now" in page.keeping.told.text()
    assert path.with_name("firm.json.bak").read_text(encoding="utf-8") == "{"
    assert firm.differing(window.store.job, firm.read_firm(path)) == ("valid_days",)
    assert str(firm.read_firm(path)["valid_days"].text) == "soon"


def test_what_cannot_be_kept_is_told_and_nothing_is_lost(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    firm.own_firm_path().parent.parent.mkdir(parents=True, exist_ok=True)
    firm.own_firm_path().parent.write_text("in the way", encoding="utf-8")
    press(page.keeping.keep_button)
    assert page.keeping.told.text().startswith("Not kept: ")
    assert "firm.json" in page.keeping.told.text()
    assert page.keeping.keep_button.accessibleDescription() == page.keeping.told.text()
    assert told(page)[0] == "Not kept yet"
    assert window.store.job == demo_job()


def test_what_another_window_keeps_is_seen_at_the_next_visit(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    window.go("tank")
    firm.write_firm(window.store.job.changed(markup="55 %"), firm.own_firm_path())
    window.go("firm")
    assert told(page) == ("1 differ", "This job's differ from your firm's file in: Markup.")


# --- the logo -----------------------------------------------------------------------------------


def written(tmp_path: Path, name: str, data: bytes) -> Path:
    path = tmp_path / name
    path.write_bytes(data)
    return path


@pytest.mark.parametrize(
    ("name", "data", "what"),
    [
        ("logo.png", png(60, 20), "PNG, 60 × 20 pixels, 1 kB"),
        ("logo.txt", JPEG, "JPEG, 8 × 8 pixels, 1 kB"),
        ("logo.svg", CIRCLE, "SVG, 1 kB"),
    ],
)
def test_a_logo_is_chosen_shown_on_white_and_taken_away_again(
    qtbot: QtBot, answers: Answers, tmp_path: Path, name: str, data: bytes, what: str
) -> None:
    window, page = opened(qtbot)
    assert page.logo.what.text() == "none"
    answers.prepare(files=[written(tmp_path, name, data)])
    press(page.logo.choose_button)
    assert answers.told() == []
    assert window.store.job.firm_logo == logo_from(data).text
    assert page.logo.what.text() == what
    assert page.logo.picture.isVisible()
    image = page.logo.picture.pixmap().toImage()
    assert not image.isNull()
    wide, high = (60, 20) if "60" in what else (1, 1)
    assert image.width() / image.height() == pytest.approx(wide / high, rel=0.05)
    assert page.logo.message.isHidden()
    assert window.store.undo_stack.undoText() == "change Logo"
    press(page.logo.remove_button)
    assert window.store.job.firm_logo == ""
    assert page.logo.picture.isHidden()
    assert not page.logo.remove_button.isEnabled()
    window.store.undo_stack.undo()
    assert page.logo.what.text() == what


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"my logo", "Choose a PNG, JPEG or SVG picture."),
        (png()[:-1], "not complete"),
        (png() + bytes(600_000), "a logo may have 512 kB"),
        (png(pixels=b"\x09" * 4), "cannot be printed"),
        (None, "there is no such file"),
    ],
)
def test_a_picture_that_cannot_be_the_logo_is_refused_beside_the_button(
    qtbot: QtBot, answers: Answers, tmp_path: Path, data: bytes | None, reason: str
) -> None:
    window, page = opened(qtbot, "kept")
    path = tmp_path / "gone.png" if data is None else written(tmp_path, "logo.png", data)
    answers.prepare(files=[path])
    press(page.logo.choose_button)
    assert page.logo.message.text().startswith("Not taken: ")
    assert reason in page.logo.message.text()
    assert page.logo.choose_button.accessibleDescription() == page.logo.message.text()
    assert window.store.job.firm_logo == LOGO
    assert window.store.undo_stack.count() == 0
    answers.prepare(files=[None])
    press(page.logo.choose_button)
    assert window.store.job.firm_logo == LOGO


def test_a_logo_that_another_program_spoilt_is_told_and_can_be_removed(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "unreadable")
    assert page.logo.message.text().startswith("Caution: The logo in this job is damaged")
    press(page.logo.remove_button)
    assert window.store.job.firm_logo == ""
    assert page.logo.message.isHidden()


def test_a_picture_dropped_on_the_row_is_the_logo(qtbot: QtBot, tmp_path: Path) -> None:
    window, page = opened(qtbot)
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(written(tmp_path, "logo.png", png())))])
    drop = QDropEvent(
        QPointF(5, 5),
        Qt.DropAction.CopyAction,
        mime,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    page.logo.dropEvent(drop)
    assert window.store.job.firm_logo == logo_from(png()).text
