"""Reading a whole file: its dialect, its tanks, and everything that is wrong in it."""

from __future__ import annotations

import codecs
import datetime
import os
from decimal import Decimal
from pathlib import Path

import pytest

from tests.catalog.samples import (
    GAL,
    HEADER,
    INCH,
    ROW,
    file_text,
    make,
    read,
    read_rows,
    row,
    told,
)
from workbench import safe_file
from workbench.catalog.problems import CatalogError, CellProblem
from workbench.catalog.table import LARGEST, read_catalog
from workbench.catalog.tank import TankKind

UP_TO_EIGHT = ",".join(ROW.values())


def test_a_file_is_read_with_its_path_and_digest(tmp_path: Path) -> None:
    path = tmp_path / "tanks.csv"
    path.write_text(file_text(row(), row(id="b", name="Birch")), encoding="utf-8")
    catalog = read_catalog(path)
    assert catalog.path == path
    assert catalog.digest == safe_file.digest(path.read_bytes())
    assert [tank.id for tank in catalog.tanks] == ["a", "b"]
    assert catalog.by_id["b"].name == "Birch"
    assert catalog.all_problems == ()
    assert catalog.bad_rows == ()


@pytest.mark.parametrize("kind", ["missing", "folder", "forbidden", "large"])
def test_what_is_no_readable_file_is_refused_by_name(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "tanks.csv"
    if kind == "folder":
        path.mkdir()
    elif kind == "large":
        with path.open("wb") as file:
            file.truncate(LARGEST + 1)
    elif kind == "forbidden":
        path.write_text(file_text(row()), encoding="utf-8")
        path.chmod(0)
        if os.access(path, os.R_OK):
            pytest.skip("this user may read everything")
    with pytest.raises(CatalogError, match=r"“tanks\.csv” could not be read") as caught:
        read_catalog(path)
    assert caught.value.remedy


@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("bom", [b"", codecs.BOM_UTF8])
@pytest.mark.parametrize(
    ("separator", "volume", "height"),
    [
        *((",", "20.0", "28.25"), (";", "20,0", "28,25"), (";", "20.0", "28.25")),
        *(("\t", "20.0", "28.25"), ("\t", "20,0", "28,25"), (",", '"20,0"', '"28,25"')),
    ],
)
@pytest.mark.parametrize("end", ["", "blank", "cells"])
def test_every_dialect_gives_the_same_tanks(
    newline: str, bom: bytes, separator: str, volume: str, height: str, end: str
) -> None:
    cells = [row(total_volume_gal=volume, height_in=height, notes="drückt, é; ok")]
    cells[0]["notes"] = f'"{cells[0]["notes"]}"'
    text = file_text(*cells, separator=separator, newline=newline)
    text += {"": "", "blank": newline * 3, "cells": separator * 8 + newline}[end]
    catalog = read(bom + text.encode())
    assert catalog.all_problems == ()
    assert catalog.tanks == (make(height=28.25 * INCH, notes="drückt, é; ok"),)


def test_a_last_line_needs_no_ending() -> None:
    assert read(file_text(row()).rstrip("\n")).tanks == (make(),)


def test_quoted_cells_may_hold_separators_quotes_and_line_breaks() -> None:
    notes = '"a, ""b""\nc"'
    catalog = read(file_text(row(notes=notes), row(id="b", notes="")))
    assert catalog.tanks[0].notes == 'a, "b"\nc'
    assert [(r.row, r.line) for r in catalog.rows] == [(2, 2), (3, 4)]


def test_every_column_is_read() -> None:
    catalog = read_rows(
        row(
            kind="diaphragm horizontal",
            acceptance_gal="18",
            connection="1-1/4",
            highest_precharge_psi="60",
            empty_weight_lb="40",
            potable_listed="yes",
            price_usd="549.50",
            in_stock="no",
            notes="by the door",
            source="data sheet page 2",
            date="2026-03-14",
        )
    )
    assert catalog.all_problems == ()
    (tank,) = catalog.tanks
    assert tank.kind is TankKind.DIAPHRAGM_HORIZONTAL
    assert tank.acceptance == 18 * GAL
    assert (tank.connection, tank.notes, tank.source) == (
        *("1-1/4", "by the door", "data sheet page 2"),
    )
    assert (tank.potable_listed, tank.in_stock) == (True, False)
    assert (tank.price, tank.date) == (Decimal("549.50"), datetime.date(2026, 3, 14))


def test_blank_optional_cells_mean_not_stated() -> None:
    names = ("acceptance_gal", "highest_precharge_psi", "empty_weight_lb", "potable_listed",
             "price_usd", "in_stock", "notes", "source", "date", "connection")  # fmt: skip
    assert read_rows(row(**dict.fromkeys(names, " "))).tanks == (make(),)


@pytest.mark.parametrize(
    ("cell", "flag"),
    [
        *((c, True) for c in ("yes", "YES", "y", "true", "TRUE", "1", "x", "X", "✓", " Yes ")),
        *((c, False) for c in ("no", "No", "n", "false", "FALSE", "0")),
        ("", None),
    ],
)
def test_yes_and_no_are_read_in_every_usual_spelling(cell: str, flag: bool | None) -> None:
    (tank,) = read_rows(row(in_stock=cell, potable_listed=cell)).tanks
    assert (tank.in_stock, tank.potable_listed) == (flag, flag)


@pytest.mark.parametrize(
    ("cell", "kind"),
    [
        ("Bladder Vertical", TankKind.BLADDER_VERTICAL),
        ("vertical  bladder", TankKind.BLADDER_VERTICAL),
        ("bladder_in_ground", TankKind.BLADDER_IN_GROUND),
        ("in-ground diaphragm tank", TankKind.DIAPHRAGM_IN_GROUND),
        ("diaphragm/inground", TankKind.DIAPHRAGM_IN_GROUND),
    ],
)
def test_the_words_of_a_kind_may_stand_in_any_order(cell: str, kind: TankKind) -> None:
    assert read_rows(row(kind=cell)).tanks[0].kind is kind


@pytest.mark.parametrize(
    ("column", "cell", "rule", "suggestion"),
    [
        ("total_volume_gal", "4O", "is not a number.", "Write 40."),
        ("max_working_pressure_psi", "75 psi", "is not a number.", "Write 75."),
        ("total_volume_gal", "-20", "must be above zero.", "Write a positive number."),
        ("total_volume_gal", "9999", "is more than any tank's, 5000 gal.", "Was it meant"),
        ("height_in", "", "is empty, but needed.", "Take it from"),
        ("name", "", "is empty, but needed.", "Take it from"),
        ("kind", "diafragm vertical", "is no kind of tank.",
         f"Use one of: {', '.join(TankKind)}. Did you mean diaphragm vertical?"),
        ("kind", "vertical diafragm", "is no kind of tank.",
         f"Use one of: {', '.join(TankKind)}. Did you mean diaphragm vertical?"),
        ("in_stock", "maybe", "is neither yes nor no.", "Write yes or no;"),
        ("date", "14 March", "is no day of the calendar.", "Write year-month-day"),
        ("date", "3/4/2026", "could mean 2026-04-03 or 2026-03-04.", "Write 2026-04-03, or"),
        ("price_usd", "0", "must be above zero.", "Write a positive number."),
        ("connection", "4-Mar", "is a date that a spreadsheet made of a pipe size.", "Format"),
        ("factory_precharge_psi", "120", "is above the maximum working pressure, 100 psi.",
         "Compare both"),
    ],
)  # fmt: skip
def test_a_bad_cell_is_told_with_row_column_value_rule_and_remedy(
    column: str, cell: str, rule: str, suggestion: str
) -> None:
    catalog = read_rows(row(id="good"), row(**{column: cell}))
    assert [tank.id for tank in catalog.tanks] == ["good"]
    ((bad),) = catalog.bad_rows
    (problem,) = bad.problems
    assert (problem.row, problem.line, problem.column) == (3, 3, column)
    assert problem.value == cell
    assert problem.rule == rule
    assert problem.suggestion.startswith(suggestion)


def test_everything_wrong_in_a_file_is_told_at_once() -> None:
    catalog = read_rows(
        row(total_volume_gal="4O", max_working_pressure_psi="20", date="soon"),
        row(id="b"),
        row(id="c", kind="barrel", diameter_in="", highest_precharge_psi="10"),
    )
    assert told(catalog) == [
        (2, "total_volume_gal", "4O"),
        (2, "date", "soon"),
        (2, "factory_precharge_psi", "30"),
        (4, "kind", "barrel"),
        (4, "diameter_in", ""),
        (4, "highest_precharge_psi", "10"),
    ]
    assert [tank.id for tank in catalog.tanks] == ["b"]


def test_limits_are_told_in_the_unit_and_with_the_mark_of_the_file() -> None:
    cells = {"id": "a", "name": "A", "kind": "bladder vertical", "total_volume_l": "75,7",
             "acceptance_l": "80", "diameter_mm": "406", "height_mm": "711",
             "max_working_pressure_bar": "6,9", "factory_precharge_bar": "2"}  # fmt: skip
    catalog = read(file_text(cells, header=tuple(cells), separator=";"))
    assert str(catalog.all_problems[0]) == (
        "row 2, acceptance_l, “80”: is more than the total volume, 75,7 L. "
        "Compare both with the tank's data sheet: one may be in another unit."
    )


def test_rows_are_counted_as_a_spreadsheet_counts_them() -> None:
    catalog = read(f"\n{','.join(HEADER)}\n\n,,,,,,,\n{UP_TO_EIGHT.replace('20', 'x')}\n")
    assert told(catalog) == [(5, "total_volume_gal", "x")]


@pytest.mark.parametrize(
    ("line", "rule"),
    [
        (UP_TO_EIGHT + ",30", "has 9 cells, but the header has 8."),
        ("a,Alder,bladder vertical,20", "has 4 cells, but the header has 8."),
    ],
)
def test_a_row_with_too_few_or_many_cells_is_told_as_such(line: str, rule: str) -> None:
    catalog = read(f"{','.join(HEADER)}\n{line}\n{UP_TO_EIGHT.replace('a,', 'b,', 1)}\n")
    assert [(p.row, p.value, p.rule) for p in catalog.all_problems] == [(2, "a", rule)]
    assert len(catalog.tanks) == 1


def test_surplus_cells_that_are_blank_do_not_matter() -> None:
    assert read(f"{','.join(HEADER)}\n{UP_TO_EIGHT},, ,\n").tanks == (make(),)


def test_an_id_that_occurs_twice_makes_all_its_rows_bad() -> None:
    catalog = read_rows(row(), row(id="b"), row(id=" a "), row(height_in="x"))
    assert [tank.id for tank in catalog.tanks] == ["b"]
    doubles = [(p.row, p.rule) for p in catalog.all_problems if p.column == "id"]
    assert doubles == [
        (2, "is also the id of row 4, 5."),
        (4, "is also the id of row 2, 5."),
        (5, "is also the id of row 2, 4."),
    ]
    assert (5, "height_in", "x") in told(catalog)


def test_ids_differ_by_case() -> None:
    assert len(read_rows(row(), row(id="A")).tanks) == 2


@pytest.mark.parametrize(
    ("evidence", "price"), [("28.5", "1500"), ("28,5", "1.500"), ("1.000.000,5", "1.500")]
)
def test_other_cells_decide_how_an_ambiguous_number_is_read(evidence: str, price: str) -> None:
    # Cells of rows that are bad in another way show the mark as well as others.
    catalog = read_rows(row(price_usd="1,500"), row(id="b", height_in=evidence), separator=";")
    assert catalog.by_id["a"].price == Decimal(price)


def test_an_ambiguous_number_with_nothing_to_decide_it_is_bad_with_both_readings() -> None:
    catalog = read_rows(row(price_usd="1,500"), row(id="b"), separator=";")
    assert str(catalog.all_problems[0]) == (
        "row 2, price_usd, “1,500”: could mean 1500 or 1,5. Write 1500, or 1,5."
    )
    assert [tank.id for tank in catalog.tanks] == ["b"]


def test_contradicting_decimal_marks_make_only_the_ambiguous_numbers_bad() -> None:
    catalog = read_rows(
        row(height_in="28.5"),
        row(id="b", height_in="28,5"),
        row(id="c", price_usd="1,500"),
        row(id="d", price_usd="1.500"),
        separator=";",
    )
    assert [tank.height for tank in catalog.tanks] == [28.5 * INCH] * 2
    assert told(catalog) == [(4, "price_usd", "1,500"), (5, "price_usd", "1.500")]
    assert catalog.notes[0].startswith("Some numbers have a decimal point and others a decimal")


def test_a_file_separated_by_commas_has_the_decimal_point_unless_it_shows_another() -> None:
    assert read_rows(row(diameter_in="16.125")).tanks[0].diameter == 16.125 * INCH
    assert told(read_rows(row(price_usd='"1,500"'))) == [(2, "price_usd", "1,500")]
    catalog = read_rows(row(diameter_in="16.125"), row(id="b", height_in='"28,5"'))
    assert told(catalog)[0] == (2, "diameter_in", "16.125")  # 16125 in is too wide


def test_dates_that_a_spreadsheet_has_rewritten_are_read_by_what_the_others_show() -> None:
    catalog = read_rows(row(date="3/4/2026"), row(id="b", date="3/14/2026"))
    assert [tank.date for tank in catalog.tanks] == [
        datetime.date(2026, 3, 4),
        datetime.date(2026, 3, 14),
    ]


@pytest.mark.parametrize(
    ("cell", "text"),
    [("'=1+1", "=1+1"), ("'+a", "+a"), ("'@a", "@a"), ("'-a", "-a"), ("''=a", "'=a"),
     ("'a", "'a"), ("-5", "-5"), ("'-5", "'-5"), ("'", "'"), ("=1", "=1")],
)  # fmt: skip
def test_the_apostrophe_before_what_looks_like_a_formula_is_taken_away(
    cell: str, text: str
) -> None:
    assert read_rows(row(name=cell)).tanks[0].name == text


@pytest.mark.parametrize(
    ("data", "line", "rule"),
    [
        (b"", 0, "it is empty."),
        (b"\n \n\r\n", 0, "it is empty."),
        (codecs.BOM_UTF8, 0, "it is empty."),
        (b"id,name\na,b\xe9\n", 2, "it is not written in UTF-8 (byte E9 in line 2)."),
        ("id,name\n".encode("utf-16"), 1, "it is written in UTF-16, not in UTF-8."),
        (b"id,name\n\na\0,b\n", 3, "it holds a zero byte: it is damaged, or no text file."),
        (b"id\n" + b"a\n" * 500_001, 1, "it has more than 500,000 lines."),
    ],
)
def test_a_file_that_holds_no_text_of_rows_is_told_as_a_whole(
    data: bytes, line: int, rule: str
) -> None:
    catalog = read(data)
    (problem,) = catalog.all_problems
    assert (problem.row, problem.line, problem.rule) == (0, line, rule)
    assert problem.suggestion
    assert (catalog.rows, catalog.digest) == ((), safe_file.digest(data))


def test_a_quote_that_is_not_closed_costs_only_its_own_row() -> None:
    text = file_text(row(), row(id="b", name='"Birch'), row(id="c"), row(id="d"))
    catalog = read(text)
    assert [tank.id for tank in catalog.tanks] == ["a", "c", "d"]
    (bad,) = catalog.bad_rows
    assert (bad.row, bad.line, bad.cells) == (3, 3, ())
    assert bad.problems[0].rule == "a quotation mark is not closed, or stands within a cell."


def test_a_header_that_cannot_be_split_is_told_and_nothing_is_read() -> None:
    catalog = read('"id,name\n' + file_text(row()))
    assert [problem.row for problem in catalog.all_problems] == [1]
    assert (catalog.rows, catalog.tanks) == ((), ())


def test_a_quote_within_a_cell_is_a_quote_unless_the_cell_begins_with_one() -> None:
    assert read_rows(row(name='Alder 16"')).tanks[0].name == 'Alder 16"'
    assert len(read_rows(row(name='"Alder" 16')).bad_rows) == 1


def test_a_line_of_ten_million_characters_is_told_and_the_next_is_read() -> None:
    text = file_text(row(), row(id="b", name="x" * 10_000_000), row(id="c"))
    catalog = read(text)
    assert [tank.id for tank in catalog.tanks] == ["a", "c"]
    assert catalog.all_problems[0].rule == "the line is longer than 100,000 characters."


def test_a_file_that_is_bad_throughout_is_read_only_so_far() -> None:
    catalog = read_rows(*(row(id=str(i), height_in="x") for i in range(1500)))
    assert len(catalog.bad_rows) == 1000
    assert [(p.row, p.rule) for p in catalog.problems] == [
        (1001, "this many rows cannot be used, and the rest was not read.")
    ]


def test_a_problem_is_told_on_one_short_printable_line() -> None:
    problem = CellProblem(7, 9, "total\nvolume", "\x1b[31m" + "x" * 99, "is not a number.", "No.")
    text = str(problem)
    assert text.isprintable()
    assert text.startswith("row 7, total volume, “·[31mxxx")
    assert len(text) < 100
    assert str(CellProblem(0, 0, "", "", "it is empty.", "")) == "the file: it is empty."
