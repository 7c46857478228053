"""The class's file: it opens in a spreadsheet, harms nobody, and loses nothing."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import US
from workbench import safe_file
from workbench.study.exercises import results
from workbench.study.exercises.class_summary import summary
from workbench.study.exercises.exercise import Figure, Topic
from workbench.study.exercises.making import make
from workbench.study.exercises.marking import mark
from workbench.study.exercises.results import HEADER, ResultsError, Row, append, read, row_of
from workbench.study.exercises.slip import Slip

ONE = Row(
    "2026-03-31",
    "09:15",
    "Ada",
    7,
    3,
    Topic.TANK,
    "What the tank gives",
    "11.3 gal",
    True,
    None,
    None,
    "1.0",
)
WRONG = replace(ONE, number=4, answer="44 gal", right=False, slip=Slip.TANK_AS_DRAWDOWN)
HUNT = replace(ONE, number=5, topic=Topic.FAULT, answer="lost charge", minutes=32.5)

# What a person or a paste may leave in a field; lone surrogates are none of Unicode's text.
TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=40)
FORMULAS = st.sampled_from(
    [
        "=1+1",
        "+49",
        "-12",
        "@SUM(A1)",
        "\t=1",
        "\r=1",
        "'=1",
        "''=1",
        "'",
        "''",
        "'tis",
        "＝1",
        "−3",
    ]
)


@st.composite
def rows(draw: st.DrawFn) -> Row:
    cell = st.one_of(TEXT, FORMULAS)
    return Row(
        draw(cell),
        draw(cell),
        draw(cell),
        draw(st.integers(0, 999_999_999)),
        draw(st.integers(1, 40)),
        draw(st.sampled_from(Topic)),
        draw(cell),
        draw(cell),
        draw(st.booleans()),
        draw(st.none() | st.sampled_from(Slip)),
        draw(st.none() | st.integers(0, 500).map(lambda n: n / 2)),
        draw(cell),
    )


def table(path: Path) -> list[list[str]]:
    """As another program reads it."""
    text = path.read_bytes().decode("utf-8-sig")
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


# --- what is written is read back ---


@given(st.lists(rows(), max_size=4), st.lists(rows(), max_size=3))
@settings(max_examples=80, deadline=None)
def test_whatever_was_typed_comes_back(
    tmp_path_factory: pytest.TempPathFactory, first: list[Row], second: list[Row]
) -> None:
    path = tmp_path_factory.mktemp("class") / "class.csv"
    append(path, first)
    append(path, second)
    found = read(path)
    assert not found.problems
    assert list(found.rows) == first + second


def test_the_file_is_as_the_standard_says(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    append(path, [replace(ONE, name='Ada "A", née Bö', answer="two\r\nlines"), WRONG])
    data = path.read_bytes()
    assert data.startswith(b"\xef\xbb\xbfdate,time,name,seed,number,topic,question,answer")
    assert data.endswith(b"\r\n")
    assert b'"Ada ""A"", n\xc3\xa9e B\xc3\xb6"' in data
    assert data.count(b"\n") == 4  # three rows, and the line break that was typed
    assert table(path)[0] == list(HEADER)


@pytest.mark.parametrize(
    "typed", ["=HYPERLINK(1)", "+1", "-1", "@A1", "\t=1", "\r=1", "\n=1", "＝1", "'=1", "=1+1;2"]
)
def test_no_cell_is_a_formula(tmp_path: Path, typed: str) -> None:
    path = tmp_path / "class.csv"
    append(path, [replace(ONE, name=typed, answer=typed)])
    for cell in table(path)[1]:
        assert not cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n", "＝"))
    assert read(path).rows[0].answer == typed


def test_a_plain_cell_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    append(path, [replace(ONE, name="'t Hart", answer="11,3 L")])
    assert table(path)[1][2] == "'t Hart"
    assert read(path).rows[0].name == "'t Hart"


def test_a_row_tells_what_was_asked_and_how_it_was_marked() -> None:
    exercise = next(
        one for one in (make(Topic.TANK, 5, n, US) for n in range(1, 9)) if _is_figure(one)
    )
    assert isinstance(exercise.ask, Figure)
    slip, value = exercise.ask.slips[0]
    row = row_of(
        exercise,
        mark(exercise, value),
        name="Ada",
        answer="44 gal",
        date="2026-03-31",
        time="09:15",
        program="1.2",
    )
    assert (row.seed, row.number, row.topic) == (5, exercise.number, Topic.TANK)
    assert (row.question, row.answer) == (exercise.title, "44 gal")
    assert (row.right, row.slip, row.minutes) == (False, slip, None)
    assert (row.date, row.time, row.name, row.program) == ("2026-03-31", "09:15", "Ada", "1.2")


def _is_figure(exercise: Any) -> bool:
    return isinstance(exercise.ask, Figure)


# --- adding ---


def test_rows_of_others_stay_byte_for_byte(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    append(path, [ONE])
    by_hand = path.read_bytes() + b"a note,of,the,trainer\r\n"
    path.write_bytes(by_hand)
    append(path, [WRONG])
    assert path.read_bytes().startswith(by_hand)
    found = read(path)
    assert found.rows == (ONE, WRONG)
    assert [(p.line, p.column) for p in found.problems] == [(3, "")]


def test_a_last_line_without_an_end_is_ended_first(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    append(path, [ONE])
    path.write_bytes(path.read_bytes().rstrip(b"\r\n"))
    append(path, [WRONG])
    assert read(path).rows == (ONE, WRONG)


@pytest.mark.parametrize("separator", [";", "\t"])
def test_a_file_that_a_spreadsheet_saved_anew_is_carried_on(tmp_path: Path, separator: str) -> None:
    path = tmp_path / "class.csv"
    append(path, [ONE, HUNT])
    cells = table(path)
    cells[2][10] = "32,5"
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=separator).writerows(cells)
    path.write_text(text.getvalue(), encoding="utf-8", newline="")
    append(path, [replace(WRONG, answer="1;2,3\t4")])
    assert read(path).rows == (ONE, HUNT, replace(WRONG, answer="1;2,3\t4"))


def test_what_another_writes_meanwhile_is_not_lost(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another program adds a row between our reading and our writing."""
    path = tmp_path / "class.csv"
    append(path, [ONE])
    plain, calls = safe_file.read_bytes, []

    def late(where: Path, limit: int) -> bytes:
        data = plain(where, limit)
        calls.append(where)
        if len(calls) == 1:
            monkeypatch.setattr(safe_file, "read_bytes", plain)
            append(path, [HUNT])
            monkeypatch.setattr(safe_file, "read_bytes", late)
        return data

    monkeypatch.setattr(safe_file, "read_bytes", late)
    append(path, [WRONG])
    monkeypatch.undo()
    assert read(path).rows == (ONE, HUNT, WRONG)


def test_a_file_that_never_rests_is_given_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "class.csv"
    append(path, [ONE])
    plain, count = path.read_bytes(), iter(range(1000))
    monkeypatch.setattr(safe_file, "read_bytes", lambda *_: plain + b"\r\n" * next(count))
    with pytest.raises(ResultsError, match=r"class\.csv"):
        append(path, [WRONG])
    assert path.read_bytes() == plain


def test_nothing_is_added_behind_an_open_quote(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    append(path, [ONE])
    broken = path.read_bytes() + b'2026-03-31,09:15,"Ada'
    path.write_bytes(broken)
    with pytest.raises(ResultsError, match="line 3"):
        append(path, [WRONG])
    assert path.read_bytes() == broken


@pytest.mark.parametrize("content", [b"a,b,c\r\n1,2,3\r\n", b"\r\n", b"name\r\n", b"{}"])
def test_a_file_that_is_none_of_ours_is_left_alone(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "class.csv"
    path.write_bytes(content)
    with pytest.raises(ResultsError) as told:
        append(path, [ONE])
    assert "class.csv" in told.value.message
    assert told.value.remedy
    with pytest.raises(ResultsError):
        read(path)
    assert path.read_bytes() == content


def test_a_file_in_another_encoding_is_refused_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    append(path, [replace(ONE, name="Bö")])
    path.write_bytes(path.read_bytes().replace("ö".encode(), b"\xf6"))
    for act in (read, lambda where: append(where, [ONE])):
        with pytest.raises(ResultsError, match="line 2"):
            act(path)


def test_an_answer_that_is_no_text_is_refused_and_the_file_stays(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    append(path, [ONE])
    before = path.read_bytes()
    with pytest.raises(ResultsError):
        append(path, [WRONG, replace(ONE, answer="\ud800")])
    assert path.read_bytes() == before


def test_an_empty_file_is_begun(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    path.write_bytes(b"")
    append(path, [ONE])
    assert read(path).rows == (ONE,)


def test_a_missing_file_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(safe_file.ReadError):
        read(tmp_path / "none.csv")


# --- what cannot be read is told with its place ---


@pytest.mark.parametrize(
    ("column", "text"),
    [
        ("seed", "many"),
        ("seed", "-1"),
        ("number", "1.5"),
        ("topic", "cooking"),
        ("right", "perhaps"),
        ("slip", "laziness"),
        ("minutes", "soon"),
        ("minutes", "1e999"),
    ],
)
def test_a_wrong_cell_is_told_by_line_and_column(tmp_path: Path, column: str, text: str) -> None:
    path = tmp_path / "class.csv"
    append(path, [replace(ONE, answer="two\nlines"), WRONG, HUNT])
    cells = table(path)
    cells[2][HEADER.index(column)] = text
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows(cells)
    path.write_text(out.getvalue(), encoding="utf-8", newline="")
    found = read(path)
    assert [(p.line, p.column) for p in found.problems] == [(4, column)]
    assert text in str(found.problems[0])
    assert "4" in str(found.problems[0])
    assert found.rows == (replace(ONE, answer="two\nlines"), HUNT)


def test_where_a_quote_is_left_open_the_rows_before_it_are_read(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    append(path, [ONE, WRONG])
    path.write_bytes(path.read_bytes() + b'x,"open')
    found = read(path)
    assert found.rows == (ONE, WRONG)
    assert [(p.line, p.column) for p in found.problems] == [(4, "")]


def test_empty_lines_are_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    append(path, [ONE])
    path.write_bytes(path.read_bytes() + b"\r\n\r\n")
    append(path, [WRONG])
    found = read(path)
    assert found.rows == (ONE, WRONG)
    assert not found.problems


# --- the trainer's summary ---


def test_a_summary_counts_by_name_and_by_error() -> None:
    unknown = replace(WRONG, slip=None, name=" ada ")
    guess = replace(HUNT, name="Bo", slip=Slip.GUESSED)
    told = summary([WRONG, ONE, unknown, guess, replace(WRONG, name="Bo"), WRONG])
    ada, bo = told.names
    assert (ada.name, ada.answers, ada.right, ada.unknown) == ("Ada", 4, 1, 1)
    assert ada.slips == ((Slip.TANK_AS_DRAWDOWN, 2),)
    assert (bo.name, bo.answers, bo.right, bo.unknown) == ("Bo", 2, 1, 0)
    first, second = told.slips
    assert (first.slip, first.count, first.names) == (Slip.TANK_AS_DRAWDOWN, 3, ("Ada", "Bo"))
    assert (second.slip, second.count, second.names) == (Slip.GUESSED, 1, ("Bo",))
    assert [(one.topic, one.answers, one.right) for one in told.topics] == [
        (Topic.TANK, 5, 1),
        (Topic.FAULT, 1, 1),
    ]


@given(st.lists(rows(), max_size=12))
def test_no_answer_is_lost_in_a_summary(some: list[Row]) -> None:
    told = summary(some)
    assert sum(one.answers for one in told.names) == len(some)
    assert sum(one.answers for one in told.topics) == len(some)
    assert sum(one.right for one in told.names) == sum(row.right for row in some)
    assert sum(one.count for one in told.slips) == sum(row.slip is not None for row in some)


def test_of_nothing_there_is_an_empty_summary() -> None:
    told = summary([])
    assert (told.names, told.slips, told.topics) == ((), (), ())


def test_a_full_disk_leaves_the_file_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "class.csv"
    append(path, [ONE])
    before = path.read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "no room")

    monkeypatch.setattr(safe_file, "_write_all", full)
    with pytest.raises(safe_file.SaveError):
        append(path, [WRONG])
    assert path.read_bytes() == before
    assert results.LARGEST > 1_000_000
