"""Which catalogue is ranked: choosing it, following the file, and telling what is wrong with it."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QDesktopServices
from pytestqt.qtbot import QtBot

from tests.whole_window.user import (
    Answers,
    User,
    at_window,
    demo_job,
    few_tanks,
    own_catalog,
    show,
)
from workbench import paths
from workbench.gui.settings import Settings
from workbench.gui.theme import LIGHT
from workbench.gui.window import MainWindow

PATIENCE = 5000  # ms for the system to tell of a changed file; it takes some tens


@pytest.fixture
def user(qtbot: QtBot) -> User:
    return at_window(qtbot, demo_job(), few_tanks(8))


def rewrite(change: Callable[[list[str]], list[str]]) -> None:
    """Change the lines of the catalogue behind the program's back."""
    path = own_catalog()
    lines = path.read_text(encoding="utf-8").splitlines()
    path.write_text("\n".join(change(lines)) + "\n", encoding="utf-8")


def until(qtbot: QtBot, shows: Callable[[], bool]) -> None:
    qtbot.waitUntil(shows, timeout=PATIENCE)


def test_the_demo_is_ranked_until_a_file_was_chosen(qtbot: QtBot) -> None:
    user = show(qtbot, MainWindow(Settings()))
    assert user.window.source.path == paths.default_catalog()
    assert user.status() == "demo-tanks.csv: 48 tanks"


def test_a_chosen_file_is_ranked_now_and_at_the_next_start(
    qtbot: QtBot, user: User, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = tmp_path / "our stock.csv"
    other.write_bytes(own_catalog().read_bytes().replace(b"Alder", b"Sloe"))
    answers = Answers(monkeypatch)
    answers.prepare(files=[None])
    user.menu("Catalogue", "Choose a file …")
    assert user.status() == "demo-tanks.csv: 8 tanks"
    answers.prepare(files=[other])
    user.menu("Catalogue", "Choose a file …")
    assert user.status() == "our stock.csv: 8 tanks"
    assert any("Sloe" in name for name in user.column("Tank"))
    assert Settings().catalog == other
    assert not user.window.isWindowModified()


def test_a_file_changed_behind_the_programs_back_is_read_again(qtbot: QtBot, user: User) -> None:
    rewrite(lambda lines: lines[:4])
    until(qtbot, lambda: user.status() == "demo-tanks.csv: 3 tanks")
    assert len(user.rows()) == len(user.marks()) == 3
    rewrite(lambda lines: [line.replace("Alder", "Sloe") for line in lines])
    until(qtbot, lambda: "Sloe" in " ".join(user.column("Tank")))


def test_a_file_put_in_place_of_the_old_one_is_read_and_followed(qtbot: QtBot, user: User) -> None:
    path = own_catalog()
    for count in (3, 5):  # twice, since the second is another file to the system
        lines = paths.default_catalog().read_text(encoding="utf-8").splitlines(keepends=True)
        new = path.with_name("new.tmp")
        new.write_text("".join(lines[: count + 1]), encoding="utf-8")
        os.replace(new, path)  # noqa: PTH105
        wanted = f"demo-tanks.csv: {count} tanks"
        until(qtbot, lambda wanted=wanted: user.status() == wanted)  # type: ignore[misc]


def test_a_vanished_file_is_told_while_its_rows_stay_until_it_is_back(
    qtbot: QtBot, user: User
) -> None:
    path, shown = own_catalog(), user.everything()
    content = path.read_bytes()
    path.unlink()
    until(qtbot, lambda: user.status().startswith("Catalogue: “demo-tanks.csv”"))
    assert user.window._catalog_label.property("role") == "problem"
    assert user.everything() == shown
    user.enter("run_time", "1")
    assert len(user.rows()) == 8  # and they are still judged
    path.write_bytes(content)
    until(qtbot, lambda: user.status() == "demo-tanks.csv: 8 tanks")
    assert user.window._catalog_label.property("role") == "muted"


def test_a_file_that_cannot_be_read_is_told_while_the_rows_stay(
    qtbot: QtBot, user: User, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown = user.everything()
    answers = Answers(monkeypatch)
    for bad in (tmp_path, tmp_path / "nowhere.csv"):  # a folder, and nothing at all
        answers.prepare(files=[bad])
        user.menu("Catalogue", "Choose a file …")
        assert user.status().startswith(f"Catalogue: “{bad.name}”")
        assert user.everything() == shown


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", "the file: it is empty."),
        (b"\xff\xfeh\0", "the file: it is written in UTF-16"),
        (b"one,two\n1,2\n", "demo-tanks.csv: 0 tanks · "),
    ],
)
def test_a_file_that_is_no_catalogue_is_told_and_offers_nothing_old(
    qtbot: QtBot, user: User, content: bytes, told: str
) -> None:
    own_catalog().write_bytes(content)
    user.menu("Catalogue", "Read again")
    assert told in user.status()
    assert user.window._catalog_label.property("role") == "problem"
    assert [row for row in user.rows() if row[0] != "Unusable"] == []
    assert user.marks() == []


def test_rows_that_cannot_be_used_stand_greyed_at_the_end_with_reasons(
    qtbot: QtBot, user: User
) -> None:
    def spoil(lines: list[str]) -> list[str]:
        lines[2] = re.sub("(bladder|diaphragm) [a-z-]+", "barrel", lines[2])
        cells = lines[4].split(",")
        cells[lines[0].split(",").index("max_working_pressure_psi")] = ""
        lines[4] = ",".join(cells)
        return lines

    rewrite(spoil)
    user.menu("Catalogue", "Read again")
    assert user.status() == "demo-tanks.csv: 6 tanks · 2 rows cannot be used"
    rows = user.rows()
    assert [row[0] for row in rows[-2:]] == ["Unusable", "Unusable"]
    assert "Unusable" not in [row[0] for row in rows[:-2]]
    assert [row[1] for row in rows[-2:]] == ["Row 3", "Row 5"]
    assert "“barrel”" in rows[-2][-1]
    assert "max_working_pressure_psi" in rows[-1][-1]
    assert "is empty, but needed" in rows[-1][-1]
    last = user.model.index(len(rows) - 1, 1)
    grey = last.data(Qt.ItemDataRole.ForegroundRole)
    assert grey.name().upper() == LIGHT.muted
    assert len(user.marks()) == 6  # never offered, so never drawn
    assert "of 6 pass" in user.summary()
    user.table.selectRow(len(rows) - 1)
    assert user.ring() is None
    assert user.store.selection is None
    for column in range(user.model.columnCount()):
        user.table.sortByColumn(column, Qt.SortOrder.DescendingOrder)
        assert [row[0] for row in user.rows()[-2:]] == ["Unusable", "Unusable"]


def test_reading_unchanged_content_again_moves_nothing(qtbot: QtBot, user: User) -> None:
    user.table.selectRow(2)
    shown, changes = user.everything(), []
    user.store.changed.connect(lambda: changes.append(1))
    rewrite(lambda lines: lines)
    user.menu("Catalogue", "Read again")
    assert changes == []
    assert user.everything() == shown
    assert user.chosen_row() == 2


def test_a_catalogue_change_keeps_the_job_and_its_undo(qtbot: QtBot, user: User) -> None:
    user.enter("cut_in", "32")
    job = user.store.job
    rewrite(lambda lines: lines[:3])
    user.menu("Catalogue", "Read again")
    assert user.store.job == job
    user.undo()
    assert user.texts()["cut_in"] == "30 psi"
    assert len(user.rows()) == 2


def test_the_folder_of_the_catalogue_can_be_shown(
    user: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[str] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: opened.append(url.toLocalFile()))
    user.menu("Catalogue", "Open its folder")
    assert opened == [str(own_catalog().parent)]


def test_a_file_name_with_markup_is_shown_as_it_is(
    user: User, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    odd = tmp_path / "<b>stock<b>.csv"
    odd.write_bytes(own_catalog().read_bytes())
    answers = Answers(monkeypatch)
    answers.prepare(files=[odd])
    user.menu("Catalogue", "Choose a file …")
    assert user.status() == "<b>stock<b>.csv: 8 tanks"
    assert user.window._catalog_label.textFormat() is Qt.TextFormat.PlainText
