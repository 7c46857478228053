"""What is kept is read back as it was, and what is shown is read back as far as it was shown."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.units import (
    ALTITUDE,
    DAILY,
    ENERGY,
    FLOW,
    HEAD,
    LENGTH,
    MASS,
    NUMBER,
    PERCENT,
    POWER,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    TEMPERATURE,
    TEMPERATURE_STEP,
    TIME,
    VELOCITY,
    VOLUME,
    Display,
    Kind,
    Quantity,
    System,
    UnitError,
    parse,
    parse_number,
    to_si,
)

KINDS = (
    PRESSURE,
    VOLUME,
    FLOW,
    TIME,
    LENGTH,
    ALTITUDE,
    TEMPERATURE,
    MASS,
    STARTS_PER_HOUR,
    STARTS_PER_DAY,
    DAILY,
    HEAD,
    VELOCITY,
    SHORT_TIME,
    POWER,
    ENERGY,
    PERCENT,
    TEMPERATURE_STEP,
    NUMBER,
)
any_case = settings(max_examples=150, deadline=None, derandomize=True, database=None)
marks = st.sampled_from([".", ","])
kinds = st.sampled_from(KINDS)
systems = st.sampled_from(list(System))


@st.composite
def typed(draw: st.DrawFn) -> tuple[str, Kind, str]:
    """A well-formed text, its kind, and the decimal mark at the desk where it was typed."""
    kind = draw(kinds)
    mark = draw(marks)
    whole = draw(st.integers(0, 10**7))
    fraction = draw(st.one_of(st.just(""), st.from_regex(r"[0-9]{1,6}", fullmatch=True)))
    sign = draw(st.sampled_from(["", "-", "\u2212", "+"]))
    space = draw(st.sampled_from(["", " ", "\u00a0", "  "]))
    unit = draw(st.sampled_from([*kind.units, *kind.spellings]))
    number = f"{sign}{whole}{mark + fraction if fraction else ''}"
    return f"{number}{space or ' '}{unit}", kind, mark


@any_case
@given(typed())
def test_what_files_hold_is_read_back_identically(case: tuple[str, Kind, str]) -> None:
    text, kind, mark = case
    kept = parse(text, kind, mark)
    assert parse(str(kept), kind) == kept


@any_case
@given(typed())
def test_what_a_field_shows_unconverted_is_read_back_identically(
    case: tuple[str, Kind, str],
) -> None:
    """Leaving a field without typing must never change an entry."""
    text, kind, mark = case
    kept = parse(text, kind, mark)
    for system in System:
        display = Display(system, mark)
        if kept.unit == display.symbol(kind):
            assert parse(display.typed(kept, kind), kind, mark) == kept


def _read_shown(shown: str, kind: Kind, mark: str) -> Quantity:
    """Read a text that may be longer than one that is typed."""
    digits, _, unit = shown.partition(" ")
    number = float(digits.replace(mark, "."))
    return Quantity(digits.replace(mark, "."), unit, to_si(number, kind.units[unit]))


@any_case
@given(typed(), systems)
def test_a_converted_entry_is_shown_to_four_digits(
    case: tuple[str, Kind, str], system: System
) -> None:
    text, kind, mark = case
    kept = parse(text, kind, mark)
    display = Display(system, mark)
    shown = display.typed(kept, kind)
    again = _read_shown(shown, kind, mark)
    if again.unit == kept.unit:  # not converted
        assert again == kept
    else:
        exact = float(display.value(kept.si, kind))
        assert float(again.digits) == pytest.approx(exact, rel=5.1e-4, abs=1e-12)


@any_case
@given(st.floats(-1e6, 1e6), kinds, systems, marks, st.integers(0, 6))
def test_a_shown_number_is_read_back_to_its_last_decimal(
    number: float, kind: Kind, system: System, mark: str, decimals: int
) -> None:
    display = Display(system, mark)
    unit = display.unit(kind)
    si = (number + unit.zero) * unit.factor
    read = parse(display.text(si, kind, decimals), kind, mark)
    assert float(read.digits) == pytest.approx(number, abs=0.5000001 * 10.0**-decimals, rel=1e-9)
    assert read.unit == unit.symbol


@any_case
@given(st.from_regex(r"[+-]?[0-9]{1,7}([.,][0-9]{1,6})?", fullmatch=True), marks)
def test_a_number_is_read_as_python_reads_it_or_refused_as_ambiguous(text: str, mark: str) -> None:
    whole, found, fraction = text.lstrip("+-").replace(",", ".").partition(".")
    if found and mark not in text and len(fraction) == 3 and int(whole):
        with pytest.raises(UnitError, match="could mean"):
            parse_number(text, mark)
        return
    digits = parse_number(text, mark)
    assert float(digits) == float(text.replace(",", "."))
    assert parse_number(digits) == digits


@any_case
@given(st.integers(1000, 10**12), marks)
def test_grouped_thousands_are_read_where_they_cannot_be_decimals(number: int, mark: str) -> None:
    group = "," if mark == "." else "."
    grouped = f"{number:,}".replace(",", group)
    if grouped.count(group) > 1:
        assert parse_number(grouped, mark) == str(number)
    assert parse_number(f"{grouped}{mark}25", mark) == f"{number}.25"
