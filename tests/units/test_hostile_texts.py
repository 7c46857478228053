"""Whatever is typed or pasted: a quantity or a UnitError, never another error, and no effect."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from workbench.units import (
    PRESSURE,
    STARTS_PER_HOUR,
    TEMPERATURE,
    VOLUME,
    Kind,
    Quantity,
    UnitError,
    parse,
    parse_bands,
    reading,
)

HOSTILE = [
    "1 __import__('os').system('touch owned')",
    "1 ().__class__",
    "1 psi; import os",
    "1 {unit.factor}",
    "1 %s%n",
    "1 \x00psi",
    "1 psi\u202e",
    "१२ psi",
    "１２ psi",
    "1 " + "(" * 28,
    "1 psi**psi",
    "1 " + "*" * 20,
    "9" * 10_000,
    "1" * 30 + "e" * 20,
    "." * 60,
    "-" * 60,
    "NaN psi",
    "inf psi",
    "1 nan",
    "1e400 psi",
    "0x10 psi",
    "1_000 psi",
    "½ gal",
    "²psi",
    "1 psi\n2 psi",
    "1 $$$",
    "💧 5 gal",
    "\ud800 1 psi",
]


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
@pytest.mark.parametrize("kind", [PRESSURE, VOLUME], ids=lambda kind: kind.name)
def test_a_hostile_text_is_refused_and_does_nothing(
    text: str, kind: Kind, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(UnitError) as refused:
        parse(text, kind)
    assert refused.value.remedy
    assert len(str(refused.value)) < 200
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "text",
    [
        "1 __import__('os')",
        "1 a.b",
        "1 [psi]",
        "1 psi;bar",
        "1 10**10**10",
        "1 2**99",
        "1 psi\\bar",
        "1 m22",
    ],
)
def test_only_a_text_that_looks_like_a_unit_ever_reaches_pint(
    text: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def must_not_be_asked(*_args: object) -> None:
        raise AssertionError(f"pint was asked about {text!r}")

    monkeypatch.setattr(reading, "_ask_pint", must_not_be_asked)
    with pytest.raises(UnitError):
        parse(text, PRESSURE)


def test_everyday_units_need_no_pint(monkeypatch: pytest.MonkeyPatch) -> None:
    def must_not_be_asked(*_args: object) -> None:
        raise AssertionError("pint was asked")

    monkeypatch.setattr(reading, "_ask_pint", must_not_be_asked)
    for text, kind in (("50 psi", PRESSURE), ("3 bar", PRESSURE), ("20 gallons", VOLUME)):
        parse(text, kind)


def test_a_typed_unit_defines_nothing_for_those_after_it() -> None:
    for text in ("1 psi = 2 bar", "1 foo = 3 psi", "1 @alias psi = foo"):
        with pytest.raises(UnitError):
            parse(text, PRESSURE)
    with pytest.raises(UnitError):
        parse("1 foo", PRESSURE)
    assert parse("1 psi", PRESSURE).si == pytest.approx(6894.757293168361, rel=1e-12)


@pytest.mark.parametrize("text", ["2 degree_Celsius", "2 degree_Fahrenheit"])
def test_a_temperature_scale_with_an_offset_is_not_taken_for_a_plain_factor(text: str) -> None:
    with pytest.raises(UnitError):
        parse(text, TEMPERATURE)


LOOKS_LIKE_INPUT = st.text(
    alphabet="0123456789.,+-−/ ()^*²³°'\"_psigalbrkPLminhft\u00a0", max_size=70
)


def _explained(refused: UnitError) -> None:
    assert str(refused)
    assert refused.remedy


@settings(max_examples=200, deadline=None, derandomize=True, database=None)
@given(
    st.one_of(LOOKS_LIKE_INPUT, st.text(max_size=70)),
    st.sampled_from([PRESSURE, VOLUME, TEMPERATURE, STARTS_PER_HOUR]),
    st.sampled_from([".", ","]),
)
@example("1 (", PRESSURE, ".")
@example("1 psi)", PRESSURE, ".")
@example("1 °", TEMPERATURE, ".")
@example("1 ^", VOLUME, ".")
def test_any_text_is_a_quantity_or_a_refusal(text: str, kind: Kind, mark: str) -> None:
    try:
        read = parse(text, kind, mark)
    except UnitError as error:
        _explained(error)
    else:
        assert isinstance(read, Quantity)
        assert math.isfinite(read.si)


@settings(max_examples=200, deadline=None, derandomize=True, database=None)
@given(st.text(alphabet="0123456789.,;/ -psibark()", max_size=260), st.sampled_from([".", ","]))
@example("1 " * 120, ".")
@example("1/" * 120, ".")
@example(",;" * 120, ".")
def test_any_text_is_a_list_of_bands_or_a_refusal(text: str, mark: str) -> None:
    try:
        bands = parse_bands(text, mark)
    except UnitError as error:
        _explained(error)
    else:
        assert all(0 <= band.cut_in < band.cut_out for band in bands.bands)
        assert parse_bands(str(bands)) == bands
