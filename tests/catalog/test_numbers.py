"""Numbers in cells: what they mean, what they cannot mean, and how they are written."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from workbench.catalog.numbers import (
    LONGEST,
    Marks,
    advice,
    digits_of,
    marks_in,
    read_number,
    si_of,
    unmistakable,
)
from workbench.units import LENGTH, MASS, PRESSURE, VOLUME, Unit, UnitError, parse

POINT, COMMA, MIXED = Marks(point=1), Marks(comma=1), Marks(point=1, comma=1)
NOTHING_SHOWN = Marks(separator=";")
UNITS = [unit for kind in (VOLUME, LENGTH, PRESSURE, MASS) for unit in kind.units.values()]
PSI, GAL = PRESSURE.units["psi"], VOLUME.units["gal"]


@pytest.mark.parametrize(
    ("texts", "shown"),
    [
        ([], ""),
        (["12", "7"], ""),
        (["1,500", "2.500"], ""),
        (["12.5"], "."),
        (["12,5"], ","),
        (["0,500"], ","),
        (["0.500"], "."),
        ([",5"], ","),
        (["5."], "."),
        (["1,234.5"], "."),
        (["1.234,5"], ","),
        (["1,234,567"], "."),
        (["1.234.567"], ","),
        (["1234,567"], ","),
        (["12,5", "1,500", "hello", "4O", ""], ","),
        (["12,5", "12.5"], ""),
        (["1,2,3", "1.2.3", "1,23.4", ".", ","], ""),
    ],
)
def test_the_cells_of_a_file_show_its_decimal_mark(texts: list[str], shown: str) -> None:
    assert marks_in(texts, ";").shown == shown


@pytest.mark.parametrize(
    ("text", "marks", "digits"),
    [
        ("20", NOTHING_SHOWN, "20"),
        ("+20", NOTHING_SHOWN, "20"),
        ("−20", NOTHING_SHOWN, "-20"),
        ("12.5", COMMA, "12.5"),
        ("12,5", POINT, "12.5"),
        ("12,5", MIXED, "12.5"),
        ("1,500", POINT, "1500"),
        ("1,500", COMMA, "1.500"),
        ("1.500", POINT, "1.500"),
        ("1.500", COMMA, "1500"),
        ("1.500", Marks(), "1.500"),
        ("1,234,567.8", NOTHING_SHOWN, "1234567.8"),
        ("1.234.567,8", NOTHING_SHOWN, "1234567.8"),
        (",5", NOTHING_SHOWN, "0.5"),
        ("5,", NOTHING_SHOWN, "5"),
        ("0.125", NOTHING_SHOWN, "0.125"),
    ],
)
def test_a_number_is_read_by_what_the_file_shows(text: str, marks: Marks, digits: str) -> None:
    assert read_number(text, marks) == digits


@pytest.mark.parametrize("marks", [NOTHING_SHOWN, MIXED])
@pytest.mark.parametrize(
    ("text", "both", "remedy"),
    [
        ("1,500", "could mean 1500 or 1,5.", "Write 1500, or 1,5."),
        ("1.500", "could mean 1500 or 1.5.", "Write 1500, or 1.5."),
        ("8,125", "could mean 8125 or 8,125.", "Write 8125, or 8,1250."),
        ("-999.999", "could mean -999999 or -999.999.", "Write -999999, or -999.9990."),
    ],
)
def test_a_number_with_two_readings_is_refused_with_both(
    text: str, both: str, remedy: str, marks: Marks
) -> None:
    with pytest.raises(UnitError) as caught:
        read_number(text, marks)
    assert (str(caught.value), caught.value.remedy) == (both, remedy)


def test_between_commas_a_comma_in_a_lone_number_is_still_ambiguous() -> None:
    with pytest.raises(UnitError, match="could mean 1500 or 1,5"):
        read_number("1,500", Marks())


@pytest.mark.parametrize(
    "text",
    [
        *("", ".", ",", "-", "1,2,3", "1.2.3", "1,23.4", "12,34,567", "1e5", "0x10", "1_000"),
        *("nan", "inf", "-inf", "NaN", "1/2", "٣", "１２", "--1", "1 500", "9" * (LONGEST + 1)),
    ],
)
@pytest.mark.parametrize("marks", [POINT, COMMA, MIXED, NOTHING_SHOWN])
def test_what_is_no_plain_number_is_refused(text: str, marks: Marks) -> None:
    with pytest.raises(UnitError, match="is not a number"):
        read_number(text, marks)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("4O", "Write 40."),
        ("l2", "Write 12."),
        ("75 psi", "Write 75."),
        ("75psi", "Write 75."),
        ("5 bar", "Write 72.5189: the column is in psi."),
        ("500 kPa", "Write 72.5189: the column is in psi."),
        ("1 500", "Write 1500."),
        ("1'500", "Write 1500."),
        ("1.5e2", "Write 150."),
        ("15 3/8", "Write 15.375."),
        ("15-3/8", "Write 15.375."),
        ("75 smoots", "Write the number alone, in psi."),
        ("about 75", "Write digits with at most one decimal mark, such as 12.5."),
        ("nan", "Write digits with at most one decimal mark, such as 12.5."),
        ("1/0 0/0", "Write digits with at most one decimal mark, such as 12.5."),
        ("9" * 5000, "Write digits with at most one decimal mark, such as 12.5."),
    ],
)
def test_the_likely_number_is_suggested(text: str, expected: str) -> None:
    assert advice(text, POINT, PRESSURE, PSI) == expected


def test_suggestions_use_the_file_s_decimal_mark() -> None:
    assert advice("5 bar", COMMA, PRESSURE, PSI) == "Write 72,5189: the column is in psi."
    assert advice("?", COMMA) == "Write digits with at most one decimal mark, such as 12,5."


@pytest.mark.parametrize("text", ["$549", "549 USD", "549 $"])
def test_a_price_is_suggested_without_its_currency(text: str) -> None:
    assert advice(text, POINT) == "Write 549."


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: unit.symbol)
@settings(max_examples=40)
@given(st.floats(0, 1e7) | st.floats(0, 1e-300))
@example(7.0)  # of its digits in bar, 0.00007, a float makes a little more
@example(5e-324)
@example(0.0)
def test_written_digits_read_back_as_exactly_the_same_float(unit: Unit, si: float) -> None:
    digits = digits_of(si, unit)
    assert len(digits) < LONGEST
    assert si_of(read_number(digits, POINT), unit) == si


@given(st.decimals(0, 100_000, places=3))
def test_typed_digits_are_written_as_short_as_they_were_typed(number: object) -> None:
    typed = f"{number:f}"
    shortest = typed.rstrip("0").rstrip(".")
    assert digits_of(si_of(typed, GAL), GAL) == (shortest or "0")


@pytest.mark.parametrize("text", ["37.5", "85", "0.1", "119.99"])
def test_a_cell_and_a_field_make_the_same_float(text: str) -> None:
    assert si_of(text, GAL) == parse(f"{text} gal", VOLUME).si


def test_no_digits_are_made_up_for_what_is_not_finite() -> None:
    for number in (math.inf, math.nan):
        with pytest.raises(ValueError, match="cannot be written"):
            digits_of(number, PSI)


def test_a_number_beyond_floats_is_infinite_and_so_out_of_bounds() -> None:
    assert si_of("9" * 399, PSI) == math.inf


@pytest.mark.parametrize(
    ("digits", "written"),
    [("8.125", "8.1250"), ("0.125", "0.125"), ("1234.567", "1234.567"), ("8.12", "8.12")],
)
def test_three_decimals_get_a_fourth_where_they_could_be_thousands(
    digits: str, written: str
) -> None:
    assert unmistakable(digits) == written


@pytest.mark.parametrize(
    ("marks", "mark"),
    [(POINT, "."), (COMMA, ","), (Marks(), "."), (NOTHING_SHOWN, ","), (Marks(2, 3), ",")],
)
def test_new_numbers_get_the_file_s_decimal_mark(marks: Marks, mark: str) -> None:
    assert marks.to_write == mark
