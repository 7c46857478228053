"""The page "Estimate", worked as a person does: what it shows is what the paper says."""

from __future__ import annotations

import datetime
import io
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import (
    METRIC,
    Unreadable,
    demo_with,
    is_said_by_a_file,
    results_of,
    type_over,
    window_with,
)
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import CTRL, Answers, User, at_window, demo_job
from workbench import safe_file
from workbench.gui.pages.estimate import page as page_module
from workbench.gui.pages.estimate.page import EstimatePage
from workbench.gui.pages.estimate.sent import NOW, SentDialog
from workbench.gui.window import MainWindow
from workbench.job import document
from workbench.job.job import Job
from workbench.job.paper_choices import Copy, MoneyForm, Paper
from workbench.report.plain_text import content_lines
from workbench.report.revisions import Change, issue
from workbench.report.typeset import pdf
from workbench.units import Display, System, parse
from workbench.units.kinds import MONEY

TODAY = datetime.date(2026, 12, 1)
STATES: dict[str, dict[str, Any]] = {
    "demo": {},
    "stop": {"offer_b_band": Unreadable("two")},
    "job stop": {"cut_in": Unreadable("thirty")},
    "office": {"copy_for": Copy.OFFICE, "paper": Paper.A4, "money_form": MoneyForm.DE_DE},
    "one option": {"offer_b_tank": "", "offer_b_label": "", "offer_b_band": None,
                   "offer_c_tank": "", "offer_c_label": "", "offer_c_band": None},
    "not offered": {"offer_c_tank": "", "offer_b_tank": "gone"},
}  # fmt: skip


@pytest.fixture(autouse=True)
def same_day(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(page_module, "_today", lambda: TODAY)


def in_state(state: str) -> Job:
    """The job of a state, made now, so that in a translation its reasons are translated."""
    if state == "empty":
        return Job()
    return demo_with(**STATES[state])


def opened(qtbot: QtBot, state: str = "demo") -> tuple[User, EstimatePage]:
    user = at_window(qtbot, in_state(state))
    user.window.go("estimate")
    page = user.window.page_of("estimate")
    assert isinstance(page, EstimatePage)
    return user, page


def record_twice(window: MainWindow) -> None:
    """Two revisions, and a change since the second."""
    for entries in ({"problem": "It hums."}, {"labour_rate": parse("100", MONEY)}):
        made = issue(results_of(window), window.store.display, TODAY)
        window.store.edit(made.changes, "")
        window.store.edit(entries, "")
    window.store.undo_stack.setClean()


def words_of(data: bytes) -> str:
    """The text of a PDF without spaces and line breaks."""
    return "".join(
        "".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages).split()
    )


def shown_in_paper(page: EstimatePage) -> str:
    """What the preview shows, as it is told to who cannot see it."""
    return page.preview.area.accessibleDescription()


def wait_for_paper(qtbot: QtBot, page: EstimatePage, text: str) -> None:
    qtbot.waitUntil(lambda: text in shown_in_paper(page))


# --- page rules ---


@pytest.mark.parametrize(
    ("state", "metric"),
    [("demo", False), ("office", True), ("empty", False), ("stop", True), ("job stop", False),
     ("one option", True), ("not offered", False), ("revisions", False)],
)  # fmt: skip
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    def build() -> QWidget:
        window = window_with(in_state("demo" if state == "revisions" else state))
        if state == "revisions":
            record_twice(window)
        if metric:
            window.store.set_display(METRIC)
        window.go("estimate")
        return window

    check_page(qtbot, build, untranslated=is_said_by_a_file)


@pytest.mark.parametrize("same", [False, True])
def test_the_window_of_what_was_sent_keeps_every_page_rule(qtbot: QtBot, same: bool) -> None:
    def build() -> QWidget:
        window = window_with(demo_job())
        record_twice(window)
        dialog = SentDialog(results_of(window), window.store.display)
        qtbot.addWidget(window)
        if same:
            dialog.other.show_value(2)
            dialog.compare()
        return dialog

    check_page(qtbot, build, untranslated=is_said_by_a_file)


def test_half_of_the_first_page_is_seen_on_a_small_office_screen(qtbot: QtBot) -> None:
    user, page = opened(qtbot)
    user.window.resize(1366, 728)
    qtbot.waitUntil(lambda: page.preview.page_count > 1)
    while page.preview.zoom_label.text() != "80 %":
        page.preview.zoom_out()
    seen = page.preview.area.viewport().height()
    assert seen >= page.preview.sheets.sizeHint().height() / page.preview.page_count / 2
    assert page.areas[-1].verticalScrollBar().maximum() == 0  # the paper alone scrolls


# --- the options ---


@pytest.mark.parametrize("display", [Display(), METRIC])
@pytest.mark.parametrize("state", ["demo", "office", "one option"])
def test_every_figure_of_the_options_stands_on_the_paper(
    qtbot: QtBot, state: str, display: Display
) -> None:
    user, page = opened(qtbot, state)
    user.store.set_display(display)
    offers = results_of(user).estimate.offers
    read = words_of(pdf(page.content(results_of(user), display)))
    shown = [answer for answer in page.answers if answer.isVisible()]
    assert len(shown) == len(offers) == (1 if state == "one option" else 3)
    for answer, offer in zip(shown, offers, strict=True):
        assert "".join(answer.figure.text().split()) in read
        drawdown, _, rest = (
            answer.reason.text().removeprefix(f"{offer.label}: ").partition(" drawdown, ")
        )
        run, _, _ = rest.partition(" run at ")
        assert "".join(drawdown.split()) in read
        assert "".join(run.split()) in read
        assert drawdown.endswith("gal" if display.system is System.US else "L")


def test_typing_changes_the_paper_and_undo_brings_it_back(qtbot: QtBot) -> None:
    user, page = opened(qtbot)
    wait_for_paper(qtbot, page, "The pump starts again and again")
    before = results_of(user).job
    type_over(page, "problem", "It clicks at night.")
    wait_for_paper(qtbot, page, "It clicks at night.")
    user.undo()
    wait_for_paper(qtbot, page, "The pump starts again and again")
    assert results_of(user).job == before


def test_another_band_of_an_option_changes_its_figures_alone(qtbot: QtBot) -> None:
    user, page = opened(qtbot)
    before = [answer.reason.text() for answer in page.answers]
    type_over(page, "offer_b_band", "20/40 psi")
    after = [answer.reason.text() for answer in page.answers]
    assert after[1].endswith("run at 20/40 psi")
    assert (after[0], after[2]) == (before[0], before[2])
    user.undo()
    assert [answer.reason.text() for answer in page.answers] == before


def test_options_are_proposed_as_one_step_of_undo(qtbot: QtBot) -> None:
    user, page = opened(qtbot, "one option")
    before = user.store.job
    page.propose_button.click()
    offers = results_of(user).estimate.offers
    runs = [offer.one.run_time for offer in offers if offer.one is not None]
    assert len(runs) == len(offers) >= 2
    assert runs == sorted(runs)
    assert page.done.text().startswith(f"{len(runs)} options")
    user.store.undo_stack.undo()
    assert user.store.job == before


def test_without_a_tank_that_passes_nothing_can_be_proposed_or_sent(qtbot: QtBot) -> None:
    user, page = opened(qtbot, "job stop")
    assert not page.propose_button.isEnabled()
    assert page.propose_button.accessibleDescription() == "Mend first: Cut-in."
    assert not page.record_button.isEnabled()
    assert page.answers[0].figure.text() == "—"
    assert page.answers[0].reason.text() == "Mend first: Cut-in."
    user.store.edit({"cut_in": demo_job().cut_in}, "mend")
    assert page.propose_button.isEnabled()
    assert page.record_button.isEnabled()


def test_a_stop_of_an_option_keeps_the_estimate_from_being_recorded(qtbot: QtBot) -> None:
    user, page = opened(qtbot, "stop")
    assert not page.record_button.isEnabled()
    assert page.record_button.toolTip() == "Mend first: Band, option B."
    assert page.inputs.rows["offer_b_band"].message.isVisible()
    page.record()  # as by a key that was struck just before
    assert user.store.job.revisions == ()


def test_the_date_of_today_is_one_step_of_undo(qtbot: QtBot) -> None:
    user, page = opened(qtbot)
    page.date_button.click()
    assert user.store.job.estimate_date == "2026-12-01"
    wait_for_paper(qtbot, page, "December 1, 2026")
    user.store.undo_stack.undo()
    assert user.store.job.estimate_date == demo_job().estimate_date


# --- what was sent ---


def test_what_is_recorded_is_what_the_file_says(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    user, page = opened(qtbot)
    answers = Answers(monkeypatch)
    answers.prepare(files=[tmp_path / "first"])
    user.store.edit({"estimate_date": ""}, "no date")
    page.record_button.click()
    answers.told()
    (revision,) = user.store.job.revisions
    assert (revision.number, revision.date) == (1, "2026-12-01")
    assert user.store.job.estimate_date == "2026-12-01"
    read = words_of((tmp_path / "first.pdf").read_bytes())
    for label, value in revision.lines:
        assert "".join(value.split()) in read, label
    assert revision.fingerprint in read
    assert "Revision1" in read
    assert page.since.text() == "As sent in revision 1."
    assert "first.pdf" in page.done.text()
    user.store.undo_stack.undo()
    assert user.store.job.revisions == ()
    assert user.store.job.estimate_date == ""
    assert page.since.isHidden()


def test_the_paper_of_a_recorded_job_is_the_one_that_was_sent(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    user, page = opened(qtbot)
    Answers(monkeypatch).prepare(files=[tmp_path / "sent.pdf"])
    page.record_button.click()
    (revision,) = user.store.job.revisions
    now = dict(content_lines(page.content(results_of(user), user.store.display)))
    assert now.pop("Revision") == "Revision 1, sent 2026-11-25"
    sent = dict(revision.lines)
    assert sent.pop("Revision") == "Revision 1"
    assert now == sent


@pytest.mark.parametrize("why", ["cancelled", "disk full"])
def test_what_was_not_saved_is_not_recorded(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, why: str
) -> None:
    user, page = opened(qtbot)
    answers = Answers(monkeypatch)

    def refuse(*_arguments: object) -> None:
        raise safe_file.SaveError("The disk is full.", "Make room.")

    if why == "cancelled":
        answers.prepare(files=[None])
    else:
        monkeypatch.setattr(safe_file, "write_atomic", refuse)
        answers.prepare("OK", files=[tmp_path / "x.pdf"])
    before = user.store.job
    page.record_button.click()
    told = answers.told()
    assert told == ([] if why == "cancelled" else [
        "The paper was not saved The disk is full. Make room."
    ])  # fmt: skip
    assert user.store.job == before
    assert not user.store.undo_stack.canUndo()
    assert list(tmp_path.iterdir()) == []


def test_the_same_job_gives_the_same_bytes(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    user, page = opened(qtbot)
    answers = Answers(monkeypatch)
    answers.prepare(files=[tmp_path / "a.pdf", tmp_path / "b.pdf", tmp_path / "c.pdf"])
    page.save_button.click()
    page.record_button.click()
    user.store.undo_stack.undo()
    page.record_button.click()
    drafted, first, second = (tmp_path / name for name in ("a.pdf", "b.pdf", "c.pdf"))
    assert first.read_bytes() == second.read_bytes() != drafted.read_bytes()


def test_the_page_counts_the_lines_that_have_changed_since(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    user, page = opened(qtbot)
    Answers(monkeypatch).prepare(files=[tmp_path / "x.pdf"])
    assert page.since.isHidden()
    assert not page.sent_button.isEnabled()
    page.record_button.click()
    user.store.edit({"problem": "It hums."}, "change")
    assert page.since.text() == "Changed since revision 1: 1 line."
    user.store.set_display(METRIC)
    assert page.since.text() == "Changed since revision 1: 1 line."
    user.store.edit({"permit_note": "Number 7."}, "change")
    assert page.since.text() == "Changed since revision 1: 2 lines."
    user.store.edit({"card_note": "not on this paper"}, "change")
    assert page.since.text() == "Changed since revision 1: 2 lines."
    user.store.undo_stack.setIndex(1)
    assert page.since.text() == "As sent in revision 1."


def at_sent(qtbot: QtBot) -> tuple[User, SentDialog]:
    user, page = opened(qtbot)
    record_twice(user.window)
    page.sent_button.click()
    (dialog,) = page.findChildren(SentDialog)
    with qtbot.waitExposed(dialog):
        dialog.show()
    return user, dialog


def test_any_two_revisions_and_the_present_are_compared(qtbot: QtBot) -> None:
    user, dialog = at_sent(qtbot)
    assert [row[0] for row in dialog.list.texts.rows] == ["revision 1", "revision 2"]
    totals = [answer.figure.text() for answer in _page(user).answers]
    sent = [row[2] for row in dialog.list.texts.rows]
    assert sent[0] == sent[1]
    assert not any(total in sent[0] for total in totals)  # the hour has become dearer since
    assert dialog.summary.text().endswith(
        "differ between revision 2 and the estimate as it is now."
    )
    after = {row[3] for row in dialog.table.texts.rows}
    assert set(totals) <= after
    dialog.list.setFocus()
    QTest.keyClick(dialog.list, Qt.Key.Key_Up)
    assert dialog.summary.text().endswith("between revision 1 and the estimate as it is now.")
    dialog.other.setFocus()
    QTest.keyClick(dialog.other, Qt.Key.Key_End)
    assert dialog.summary.text() == "1 line differs between revision 1 and revision 2."
    (found,) = dialog.found()
    assert (found.change, found.label, found.after) == (Change.CHANGED, "Problem", "It hums.")
    assert dialog.table.texts.rows == (("Problem", "changed", demo_job().problem, "It hums."),)
    QTest.keyClick(dialog.list, Qt.Key.Key_Down)
    assert dialog.summary.text() == "No line differs between revision 2 and revision 2."
    assert not dialog.copy_differences.isEnabled()
    dialog.close_button.click()


def _page(user: User) -> EstimatePage:
    page = user.window.page_of("estimate")
    assert isinstance(page, EstimatePage)
    return page


def test_differences_and_what_was_sent_can_be_copied(qtbot: QtBot) -> None:
    user, dialog = at_sent(qtbot)
    dialog.other.show_value(2)
    dialog.list.selectRow(0)
    dialog.copy_differences.click()
    assert QApplication.clipboard().text() == (
        "1 line differs between revision 1 and revision 2.\n"
        "Line\tChange\tBefore\tAfter\n"
        f"Problem\tchanged\t{demo_job().problem}\tIt hums."
    )
    dialog.table.setFocus()
    QTest.keyClick(dialog.table, Qt.Key.Key_C, CTRL)
    assert QApplication.clipboard().text().splitlines()[1].startswith("Problem\tchanged")
    dialog.copy_sent.click()
    copied = QApplication.clipboard().text()
    assert copied.startswith("revision 1\t2026-11-25\t")
    for label, value in user.store.job.revisions[0].lines:
        assert f"{label}\t{value}" in copied
    dialog.close_button.click()


def test_a_job_that_was_read_again_shows_what_was_sent(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    user, page = opened(qtbot)
    user.store.open_job(demo_job().changed(demo=False), None)
    Answers(monkeypatch).prepare(files=[tmp_path / "x.pdf"])
    page.record_button.click()
    user.store.save_job(tmp_path / "job.tankjob.json")
    user.store.open_job(document.read(tmp_path / "job.tankjob.json"), None)
    assert page.since.text() == "As sent in revision 1."
    dialog = SentDialog(results_of(user), user.store.display, page)
    assert dialog.other.value_at(dialog.other.currentIndex()) == NOW
    assert dialog.found() == ()
    dialog.deleteLater()


def test_the_whole_job_is_done_by_keys(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    user, page = opened(qtbot, "one option")
    answers = Answers(monkeypatch)
    answers.prepare(files=[tmp_path / "by keys"])
    page.enter()
    user.press(Qt.Key.Key_A, CTRL)
    user.type("A. Person (invented)")
    _tab_to(user, page.inputs.rows["offer_a_label"].field)
    user.press(Qt.Key.Key_A, CTRL)
    user.type("As asked")
    _tab_to(user, page.propose_button)
    user.press(Qt.Key.Key_Space)
    _tab_to(user, page.record_button)
    user.press(Qt.Key.Key_Space)
    assert answers.told() == []
    (revision,) = user.store.job.revisions
    assert dict(revision.lines)["Customer"].startswith("A. Person (invented)\n")
    assert (tmp_path / "by keys.pdf").exists()
    _tab_to(user, page.sent_button)
    user.press(Qt.Key.Key_Space)
    (dialog,) = page.findChildren(SentDialog)
    assert dialog.found() == ()
    qtbot.waitUntil(lambda: QApplication.activeWindow() is dialog)
    user.press(Qt.Key.Key_Escape)
    user.window.activateWindow()  # as the desktop does, which a test has not
    qtbot.waitUntil(lambda: QApplication.activeWindow() is user.window)
    while user.store.undo_stack.canUndo():
        user.press(Qt.Key.Key_Z, CTRL)
    assert user.store.job == in_state("one option")


def _tab_to(user: User, widget: QWidget) -> None:
    for _ in range(80):
        if QApplication.focusWidget() is widget:
            return
        user.press(Qt.Key.Key_Tab)
    pytest.fail(f"Tab never comes to {widget.objectName() or widget.accessibleName()}")
