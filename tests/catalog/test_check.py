"""What the command line is told about a catalogue."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.catalog.samples import file_text, row
from workbench import paths
from workbench.catalog.check import check_file
from workbench.catalog.problems import CatalogError

QUOTE = (
    "a quotation mark is not closed, or stands within a cell. "
    "Mend it in a text editor; within quotes a quotation mark is written twice."
)


def checked(tmp_path: Path, text: str) -> tuple[list[str], bool]:
    path = tmp_path / "tanks.csv"
    path.write_text(text, encoding="utf-8")
    return check_file(path)


def test_a_sound_catalogue_is_told_in_one_line() -> None:
    lines, ok = check_file(paths.default_catalog())
    assert ok
    assert lines == ["48 tanks can be used, 0 rows cannot."]


def test_each_problem_is_a_line_and_a_summary_closes(tmp_path: Path) -> None:
    lines, ok = checked(
        tmp_path,
        file_text(row(), row(id="b", total_volume_gal="4O"), row(id="c", name='"x'), row(id="d")),
    )
    assert not ok
    assert lines == [
        "row 3, total_volume_gal, “4O”: is not a number. Write 40.",
        f"row 4: {QUOTE}",
        "2 tanks can be used, 2 rows cannot.",
    ]


def test_notes_are_told_and_are_no_problem(tmp_path: Path) -> None:
    lines, ok = checked(tmp_path, file_text(row(shelf="B7")))
    assert ok
    assert lines == [
        "The column “shelf” is kept, but not used.",
        "1 tank can be used, 0 rows cannot.",
    ]


def test_a_wrong_header_leaves_no_tank(tmp_path: Path) -> None:
    lines, ok = checked(tmp_path, file_text(row()).replace("height_in", "height"))
    assert not ok
    assert lines == [
        "row 1, height: does not name its unit. Write height_in or height_mm.",
        "0 tanks can be used, 1 row cannot.",
    ]


def test_a_file_that_is_not_there_is_told_by_name(tmp_path: Path) -> None:
    with pytest.raises(CatalogError, match="could not be read: there is no such file"):
        check_file(tmp_path / "tanks.csv")
