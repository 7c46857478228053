"""The form for one tank when a save fails or is given up: all that is typed stays, nothing is lost.

What happens to the file itself is tested where files are written; here it is what a person sees.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from tests.whole_window.tank_user import BAD, ELM, FILE, HEADER, NEW, TankUser, disk_full
from workbench import paths, safe_file
from workbench.catalog.table import read_catalog


@pytest.fixture
def user(qtbot, tmp_path):
    return TankUser(qtbot, tmp_path)


# -- a save that fails --


def test_what_someone_else_changed_is_taken_in_and_what_was_typed_is_kept(user):
    user.open("ash-70")
    user.enter("price", "219")
    theirs = FILE.replace("207.50", "211").replace("sheet 3", "sheet 4").encode()
    user.file.write_bytes(theirs)
    user.press("save")
    assert "has been changed since it was read" in user.notice
    assert user.data == theirs
    user.press("again")
    assert "Price, Source" in user.notice
    assert "Price is now: 211" in user.notice
    assert (user.shown("price"), user.shown("source")) == ("219", "sheet 4")
    user.press("save")
    assert user.told == ["saved"]
    assert user.data == theirs.replace(b"211", b"219")


def test_a_row_that_someone_else_deleted_is_told_and_can_be_added(user):
    user.open("ash-70")
    user.enter("price", "219")
    user.file.write_bytes((HEADER + BAD + ELM).encode())
    user.press("save")
    user.press("again")
    assert "no tank with the id “ash-70” any more" in user.notice
    user.press("save")
    assert user.told == ["saved"]
    assert user.data.startswith((HEADER + BAD + ELM).encode())
    assert user.tank("ash-70").price == Decimal(219)


def test_an_id_that_someone_else_took_meanwhile_is_suggested_anew(user):
    user.open()
    user.enter_all(NEW)
    user.file.write_bytes((FILE + ELM.replace("elm-90", "oak-33-h")).encode())
    user.press("save")
    user.press("again")
    assert user.shown("id") == "oak-33-h-2"
    user.press("save")
    assert user.told == ["saved"]


def test_a_file_that_is_gone_can_be_saved_elsewhere(user):
    user.open("ash-70")
    user.enter("price", "219")
    user.file.unlink()
    user.press("save")
    assert "moved or deleted" in user.notice
    user.press("again")
    assert "no such file" in user.notice
    user.choose_elsewhere(user.file)
    assert user.told == [user.file]
    assert user.data == FILE.replace("207.50", "219").encode()


def test_a_full_disk_is_told_in_the_form_and_saving_again_works(user, monkeypatch):
    user.open("ash-70")
    user.enter("price", "219")
    with monkeypatch.context() as patch:
        patch.setattr(safe_file, "write_atomic", disk_full)
        user.press("save")
    assert "the disk is full. Make room." in user.notice
    assert user.form.isVisible()
    assert user.told == []
    assert user.data == FILE.encode()
    assert user.shown("price") == "219"
    user.press("save")
    assert user.told == ["saved"]
    assert user.data == FILE.replace("207.50", "219").encode()


def test_a_save_that_the_disk_did_not_confirm_counts_as_saved_and_is_told(user, monkeypatch):
    real = safe_file.write_atomic

    def unconfirmed(path: Path, data: bytes) -> None:
        real(path, data)
        error = safe_file.SaveError("It is saved, but not for certain: a fault.", "Copy it.")
        error.written = True
        raise error

    monkeypatch.setattr(safe_file, "write_atomic", unconfirmed)
    user.open()
    user.enter_all(NEW)
    user.press("save")
    assert user.told == ["saved"]
    assert "not for certain" in user.notice
    assert user.form.windowTitle() == "Correct “Oak 33 H”"
    user.press("cancel")  # nothing is left to be asked about
    assert not user.form.isVisible()
    assert user.tank("oak-33-h").name == "Oak 33 H"


def test_the_shipped_demo_that_cannot_be_changed_is_copied_elsewhere(user, tmp_path, monkeypatch):
    monkeypatch.setattr(paths, "shipped_catalogs", lambda: user.file.parent)
    user.file.chmod(0o444)
    user.open()
    user.enter_all(NEW)
    user.press("save")
    assert "read only" in user.notice
    assert "demo catalogue that came with the program" in user.notice
    (tmp_path / "mine").mkdir()
    copy = tmp_path / "mine" / "copy.csv"
    user.choose_elsewhere(copy)
    assert user.told == [copy]
    assert not user.form.isVisible()
    assert copy.read_bytes().startswith(FILE.encode())
    assert "oak-33-h" in read_catalog(copy).by_id
    assert user.data == FILE.encode()


def test_a_copy_never_takes_the_place_of_another_file(user, tmp_path, monkeypatch):
    other = tmp_path / "other.csv"
    other.write_bytes(b"precious")
    user.file.chmod(0o444)
    user.open("ash-70")
    user.enter("price", "219")
    user.press("save")
    user.choose_elsewhere(other)
    assert "There is a file “other.csv” already" in user.notice
    assert other.read_bytes() == b"precious"
    assert user.form.isVisible()
    assert user.told == []
    assert user.offers("elsewhere")


def fail_at_length(_path: Path, _data: bytes) -> None:
    raise safe_file.SaveError("It cannot be saved. " * 8, "Make room.")


def test_what_is_told_does_not_hide_the_field_in_which_one_types(user, monkeypatch):
    form = user.open("ash-70")
    form.resize(form.minimumSizeHint().width(), 2 * form.minimumSizeHint().height())
    QApplication.processEvents()
    user.enter("price", "219")
    view, bar, field = form.panel.viewport(), form.panel.verticalScrollBar(), user.field("price")
    below = view.height() - field.mapTo(view, field.rect().bottomLeft()).y() - 1
    bar.setValue(bar.value() - below)  # to the very edge
    before = view.height()
    monkeypatch.setattr(safe_file, "write_atomic", fail_at_length)
    user.key(Qt.Key.Key_Return)
    QApplication.processEvents()
    assert view.height() < before, "there is nothing to see here unless what is told takes room"
    assert form.focusWidget() is field
    assert field.visibleRegion().boundingRect() == field.rect()


# -- leaving --


def test_an_untouched_form_closes_at_once(user):
    user.open("ash-70")
    user.key(Qt.Key.Key_Escape)
    assert not user.form.isVisible()


def test_escape_asks_before_it_discards_and_can_be_taken_back(user):
    user.open("ash-70")
    user.enter("price", "219")
    user.key(Qt.Key.Key_Escape)
    assert user.notice == "Discard what you typed?"
    assert user.form.isVisible()
    user.key(Qt.Key.Key_Return)  # the safe answer has the focus
    assert user.notice == ""
    assert user.form.focusWidget() is user.field("price")
    user.press("cancel")
    user.key(Qt.Key.Key_Escape)
    assert user.form.isVisible()
    user.form.close()
    user.press("discard")
    assert not user.form.isVisible()
    assert user.told == []
    assert user.data == FILE.encode()


def test_a_failure_is_still_told_after_the_question(user, monkeypatch):
    user.open("ash-70")
    user.enter("price", "219")
    monkeypatch.setattr(safe_file, "write_atomic", disk_full)
    user.press("save")
    user.press("cancel")
    user.press("keep")
    assert "disk is full" in user.notice
    assert user.offers("again")


def test_the_form_blocks_its_window_only(user):
    user.open("ash-70")
    assert user.form.windowModality() is Qt.WindowModality.WindowModal
