"""New jobs begin with what is the firm's; its paper templates are copied from the File menu."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from pytestqt.qtbot import QtBot

from tests.whole_window.user import Answers, User, demo_job, show
from workbench import paths
from workbench.gui import app
from workbench.gui.settings import Settings
from workbench.gui.window import MainWindow
from workbench.job import document, firm
from workbench.job.job import Job
from workbench.report import typeset
from workbench.safe_file import SaveError


def own_firm(**entries: object) -> Job:
    """Keep these as the firm's own."""
    job = firm.new_job().changed(**entries)
    firm.write_firm(job, firm.own_firm_path())
    return job


def test_a_new_job_begins_with_what_the_firm_has_kept(user: User) -> None:
    assert user.store.job == Job()
    own = own_firm(firm_name="Ours (invented)", markup="55 %")
    user.menu("File", "New job")
    assert user.store.job == own
    assert user.store.is_saved
    assert not user.store.undo_stack.canUndo()


def test_a_start_gives_its_empty_job_what_is_the_firms_after_the_first_frame(qtbot: QtBot) -> None:
    Settings().mark_started()
    own = own_firm(firm_name="Ours (invented)")
    window = MainWindow(Settings())
    app._open_first(window, None)
    assert window.store.job == Job()  # nothing was read for the first frame
    user = show(qtbot, window)
    qtbot.waitUntil(lambda: user.store.job == own)
    assert user.store.results is not None
    assert user.store.results.job == own
    assert user.store.is_saved


def test_what_was_typed_by_then_stays_and_can_be_undone(user: User) -> None:
    own = own_firm(firm_name="Ours (invented)")
    user.enter("cut_in", "35")
    typed = user.store.job.cut_in
    user.window.jobs.begin()
    assert user.store.job == own.changed(cut_in=typed)
    user.undo()
    assert user.store.job == own


def test_what_was_opened_or_begun_by_then_stays(user: User, tmp_path: Path) -> None:
    own_firm(firm_name="Ours (invented)")
    user.store.edit({"firm_name": "Another (invented)"}, "")
    user.window.jobs.begin()
    assert user.store.job == Job(firm_name="Another (invented)")
    user.undo()
    document.write(Job(), tmp_path / "old.tankjob.json")
    user.store.open_job(Job(), tmp_path / "old.tankjob.json")
    user.window.jobs.begin()
    assert user.store.job == Job()
    user.store.open_job(demo_job(), None)
    user.window.jobs.begin()
    assert user.store.job == demo_job()


def test_a_firms_file_that_cannot_be_read_is_told_and_the_new_job_begins_without_it(
    user: User, answers: Answers
) -> None:
    own_firm(firm_name="Ours (invented)")
    shipped = Job().changed(**firm.shipped_entries())
    path = firm.own_firm_path()
    path.write_bytes(path.read_bytes().replace(b"Ours", b"Ouch"))
    answers.prepare("OK")
    user.menu("File", "New job")
    (told,) = answers.told()
    assert "The firm's file was not read firm.json was damaged" in told
    assert "begins with what comes with the program; its prices are invented." in told
    assert user.store.job == shipped
    assert path.exists()


def test_the_paper_templates_are_copied_only_after_a_yes(
    user: User, answers: Answers, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[str] = []

    def open_url(url: QUrl) -> bool:
        opened.append(url.toLocalFile())
        return True

    monkeypatch.setattr(QDesktopServices, "openUrl", open_url)
    folder = typeset.own_templates()
    answers.prepare("Leave it")
    user.menu("File", "Copy the paper templates …")
    (told,) = answers.told()
    assert str(folder) in told
    assert "every paper is set by these files" in told
    assert not folder.exists()
    assert opened == []
    answers.prepare("Copy and open the folder")
    user.menu("File", "Copy the paper templates …")
    assert len(answers.told()) == 1
    shipped = {path.name: path.read_bytes() for path in (paths.resources() / "papers").glob("*")}
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == shipped
    assert opened == [folder.as_posix()]
    (folder / "card.typ").write_text("ours", encoding="utf-8")
    answers.prepare("Copy and open the folder")
    user.menu("File", "Copy the paper templates …")
    answers.told()
    assert (folder / "card.typ").read_text(encoding="utf-8") == "ours"


def test_templates_that_cannot_be_copied_are_told(
    user: User, answers: Answers, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full() -> Path:
        raise SaveError("“card.typ” could not be saved: the disk is full.", "Make room on it.")

    monkeypatch.setattr(typeset, "copy_templates", full)
    answers.prepare("Copy and open the folder", "OK")
    user.menu("File", "Copy the paper templates …")
    assert "the disk is full. Make room" in answers.told()[1]
