"""Lists of pairs, such as a pump's curve: every way of writing one, and each refusal's line."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from workbench.units import (
    FLOW,
    HEAD,
    PRESSURE,
    VOLUME,
    Display,
    Kind,
    Pairs,
    Quantity,
    System,
    UnitError,
    parse,
    parse_pairs,
)
from workbench.units.pairs import MOST_PAIRS

CURVE, TANKS = (FLOW, HEAD), (VOLUME, PRESSURE)
KINDS = pytest.mark.parametrize("kinds", [CURVE, TANKS], ids=["curve", "tanks"])


def refusal(text: str, kinds: tuple[Kind, Kind] = CURVE, mark: str = ".") -> UnitError:
    with pytest.raises(UnitError) as refused:
        parse_pairs(text, kinds, mark)
    assert refused.value.remedy
    assert len(str(refused.value)) < 200
    return refused.value


@pytest.mark.parametrize(
    "text",
    [
        "0 gpm 280 ft\n5 gpm 262 ft",
        "0 gpm 280 ft\r\n5 gpm 262 ft\r\n",
        "0 gpm 280 ft\r5 gpm 262 ft",
        "0 gpm 280 ft; 5 gpm 262 ft;",
        "\n\n0 gpm\t280 ft\n\n5 gpm\t262 ft\n\n",
        "0gpm 280ft\n5gpm 262ft",
        "0 gpm, 280 ft\n5 gpm , 262 ft",
        "0 gpm @ 280 ft\n5 gpm@262 ft",
        "  0 gpm   280 feet \n 5 GPM\u00a0262 foot",
        "0 gpm 280'\n+5 gallons per minute +262 ′",
    ],
)
def test_one_list_may_be_written_in_many_ways(text: str) -> None:
    assert str(parse_pairs(text, CURVE)) == "0 gpm 280 ft\n5 gpm 262 ft"


def test_rows_of_a_spreadsheet_are_read_in_the_units_of_the_form() -> None:
    pasted = "0\t280\n5\t262.5\n10\t230\n"
    read = parse_pairs(pasted, CURVE, defaults=("gpm", "ft"))
    assert str(read) == "0 gpm 280 ft\n5 gpm 262.5 ft\n10 gpm 230 ft"
    assert "unit is missing" in str(refusal(pasted))


def test_a_comma_is_a_decimal_mark_and_no_gap_between_numbers() -> None:
    read = parse_pairs("1,5 L/s 82,25 m\n2,5 L/s 71 m", CURVE, ",")
    assert str(read) == "1.5 L/s 82.25 m\n2.5 L/s 71 m"
    assert read.pairs[0][0].si == pytest.approx(1.5e-3)
    assert str(parse_pairs("0,5\t80,5\n1,5\t70", CURVE, ",", ("L/s", "m"))) == (
        "0.5 L/s 80.5 m\n1.5 L/s 70 m"
    )
    assert "not a pair" in str(refusal("5,262"))
    assert "could mean" in str(refusal("1,500 gpm 200 ft"))


@pytest.mark.parametrize("unit", ["m3/h", "m^3/h", "m³/h", "m3/hr"])
def test_a_digit_in_a_unit_begins_no_second_number(unit: str) -> None:
    (pair,) = parse_pairs(f"2 {unit} 80 m", CURVE).pairs
    assert str(pair[0]) == "2 m³/h"
    assert pair[1].si == 80.0


def test_pressures_and_volumes_pair_too() -> None:
    read = parse_pairs("44 gal 28 lb/in2; 20 imp gal 2.1 bar; 0.2 m^3 0.19 MPa", TANKS)
    assert str(read) == "44 gal 28 psi\n20 imp gal 2.1 bar\n0.2 m³ 0.19 MPa"
    assert read.pairs[2][1].si == pytest.approx(190_000.0)


@pytest.mark.parametrize(
    ("text", "line", "why"),
    [
        ("5 gpm", 1, "not a pair"),
        ("0 gpm 280 ft\n5 gpm", 2, "not a pair"),
        ("0 gpm 280 ft\n\n\n5 gpm 262 ft 7", 4, "not a pair"),
        ("0 gpm 280 ft; 5 gpm 262 psi", 2, "not a unit of head"),
        ("0 gpm 280 ft; 5 ft 262 ft", 2, "not a unit of flow"),
        ("0 gpm 280 ft\r\n5 262 ft", 2, "unit is missing"),
        ("0 gpm 280 ft\n5 gpm 26..2 ft", 2, "not a plain number"),
        ("flow head\n0 gpm 280 ft", 1, "not a pair"),
        ("0 gpm 280 ft\n5 gpm 1,250 ft", 2, "could mean"),
    ],
)
def test_a_refusal_names_its_line_as_the_person_counts_it(text: str, line: int, why: str) -> None:
    message = str(refusal(text))
    assert message.startswith(f"Line {line}: ")
    assert why in message


@KINDS
def test_the_example_in_a_remedy_can_be_typed(kinds: tuple[Kind, Kind]) -> None:
    for mark in ".,":
        remedy = refusal("x", kinds, mark).remedy
        example_text = remedy[remedy.index("“") + 1 : remedy.index("”")]
        assert len(parse_pairs(example_text, kinds, mark).pairs) == 1


@KINDS
@pytest.mark.parametrize("text", ["", " ", "\n;\r\n;;", "\t"])
def test_nothing_is_an_empty_list(text: str, kinds: tuple[Kind, Kind]) -> None:
    assert parse_pairs(text, kinds) == Pairs(())
    assert str(Pairs(())) == ""


def test_a_list_without_end_is_refused_at_once() -> None:
    line = "5 gpm 262 ft\n"
    assert len(parse_pairs(line * MOST_PAIRS, CURVE).pairs) == MOST_PAIRS
    assert str(MOST_PAIRS) in str(refusal(line * (MOST_PAIRS + 1)))
    refusal("x\n" * 100_000)


HOSTILE = [
    "1 __import__('os') 2 ft",
    "1 gpm 2 ().__class__",
    "1 gpm 2 ft**9**9",
    "1 gpm @@ 2 ft",
    "NaN gpm inf ft",
    "1e400 gpm 1 ft",
    "१ gpm २ ft",
    "1 gpm\x00 2 ft",
    "1 %s 2 %n",
    "{0} {1}",
    "1 gpm " + "2" * 10_000,
    " " * 5000 + "x",
    "\t@" * 3000,
    "5" + "\t" * 3000 + "x",  # once hours of a pattern's going back and forth
    "5 gpm" + " \t" * 3000 + "@" + " \t" * 3000 + "x",
    "\ud800 1 2",
]


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
@KINDS
def test_a_hostile_text_is_refused(text: str, kinds: tuple[Kind, Kind]) -> None:
    refusal(text, kinds)


def _explained(refused: UnitError) -> None:
    assert str(refused)
    assert refused.remedy


any_case = settings(max_examples=150, deadline=None, derandomize=True, database=None)
MARKS = st.sampled_from([".", ","])


@st.composite
def lists(draw: st.DrawFn) -> tuple[str, tuple[Kind, Kind], str]:
    """A well-formed list as someone may type it, its kinds and the decimal mark."""
    kinds = draw(st.sampled_from([CURVE, TANKS]))
    mark = draw(MARKS)

    def one(kind: Kind) -> str:
        fraction = draw(st.one_of(st.just(""), st.from_regex(r"[0-9]{1,6}", fullmatch=True)))
        unit = draw(st.sampled_from([*kind.units, *kind.spellings]))
        return f"{draw(st.integers(0, 10**6))}{mark + fraction if fraction else ''} {unit}"

    gap = draw(st.sampled_from([" ", "\t", "  ", " @ ", ", "]))
    end = draw(st.sampled_from(["\n", "\r\n", ";", "; ", "\n\n"]))
    count = draw(st.integers(0, 6))
    return end.join(one(kinds[0]) + gap + one(kinds[1]) for _ in range(count)), kinds, mark


@any_case
@given(lists())
def test_what_files_hold_is_read_back_identically(
    case: tuple[str, tuple[Kind, Kind], str],
) -> None:
    text, kinds, mark = case
    kept = parse_pairs(text, kinds, mark)
    assert parse_pairs(str(kept), kinds) == kept
    assert len(kept.pairs) == len([line for line in text.replace(";", "\n").splitlines() if line])
    for pair in kept.pairs:
        for quantity, kind in zip(pair, kinds, strict=True):
            assert quantity == parse(str(quantity), kind)


def shown(pairs: Pairs, kinds: tuple[Kind, Kind], display: Display) -> str:
    return "\n".join(
        " ".join(display.typed(one, kind) for one, kind in zip(pair, kinds, strict=True))
        for pair in pairs.pairs
    )


@any_case
@given(lists())
def test_units_switched_back_and_forth_never_drift(
    case: tuple[str, tuple[Kind, Kind], str],
) -> None:
    """Leaving the field enters what it shows; where that is what was typed, nothing changes."""
    text, kinds, mark = case
    kept = first = parse_pairs(text, kinds, mark)
    seen: dict[tuple[System, str], str] = {}
    for turn in range(12):
        display = Display(list(System)[turn % 2], ".,"[turn // 2 % 2])
        now = shown(kept, kinds, display)
        assert seen.setdefault((display.system, display.mark), now) == now
        if now == str(kept).replace(".", display.mark):
            kept = parse_pairs(now, kinds, display.mark)
    assert kept == first


@any_case
@given(
    st.one_of(st.text(max_size=90), st.text("0123456789.,;@ \t\n\rgpmftlbar/²³-−+", max_size=90))
)
@example("1" + " " * 88 + "x")
@example("1@" * 45)
@example("1;" * 45)
def test_any_text_is_a_list_or_a_refusal(text: str) -> None:
    for kinds in (CURVE, TANKS):
        for mark in ".,":
            try:
                read = parse_pairs(
                    text, kinds, mark, ("gpm", "ft") if kinds is CURVE else ("gal", "psi")
                )
            except UnitError as error:
                _explained(error)
            else:
                assert all(isinstance(one, Quantity) for pair in read.pairs for one in pair)
                assert parse_pairs(str(read), kinds) == read
