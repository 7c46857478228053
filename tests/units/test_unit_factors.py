"""Every listed unit's size, with pint as an independent witness."""

from __future__ import annotations

import pytest

from workbench.units import (
    ALTITUDE,
    DAILY,
    ENERGY,
    FLOW,
    HEAD,
    LENGTH,
    MASS,
    MONEY,
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
    Kind,
    UnitError,
    parse,
    to_si,
)
from workbench.units.kinds import KINDS as EVERY_KIND
from workbench.units.reading import _registry

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
    MONEY,
)
PINTS_SPELLING = {
    "psi": "pound_force_per_square_inch",
    "kPa": "kilopascal",
    "bar": "bar",
    "gal": "US_liquid_gallon",
    "L": "liter",
    "m³": "meter ** 3",
    "imp gal": "imperial_gallon",
    "gpm": "US_liquid_gallon / minute",
    "L/min": "liter / minute",
    "L/s": "liter / second",
    "m³/h": "meter ** 3 / hour",
    "gph": "US_liquid_gallon / hour",
    "imp gpm": "imperial_gallon / minute",
    "min": "minute",
    "s": "second",
    "h": "hour",
    "in": "inch",
    "mm": "millimeter",
    "cm": "centimeter",
    "ft": "foot",
    "m": "meter",
    "°F": "degree_Fahrenheit",
    "°C": "degree_Celsius",
    "K": "kelvin",
    "lb": "avoirdupois_pound",
    "kg": "kilogram",
    "/h": "1 / hour",
    "/d": "1 / day",
    "gal/d": "US_liquid_gallon / day",
    "L/d": "liter / day",
    "m³/d": "meter ** 3 / day",
    "imp gal/d": "imperial_gallon / day",
    "ft/s": "foot / second",
    "m/s": "meter / second",
    "hp": "horsepower",
    "kW": "kilowatt",
    "W": "watt",
    "kWh": "kilowatt_hour",
    "%": "percent",
    "": "dimensionless",
}
PINTS_STEPS = {"°F": "delta_degree_Fahrenheit", "°C": "delta_degree_Celsius", "K": "kelvin"}
EVERY_UNIT = [(kind, symbol) for kind in KINDS for symbol in kind.units]


@pytest.mark.parametrize(("kind", "symbol"), EVERY_UNIT)
@pytest.mark.parametrize("number", [-40.0, 0.0, 1.0, 32.0, 1234.5])
def test_every_listed_unit_is_as_large_as_pints(kind: Kind, symbol: str, number: float) -> None:
    spelling = (PINTS_STEPS if kind is TEMPERATURE_STEP else PINTS_SPELLING)[symbol]
    witness = _registry().Quantity(number, spelling).to(kind.pint).magnitude
    assert to_si(number, kind.units[symbol]) == pytest.approx(witness, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(("kind", "symbol"), EVERY_UNIT)
def test_a_symbol_is_a_spelling_of_its_own_unit(kind: Kind, symbol: str) -> None:
    assert parse(f"7 {symbol}", kind, default="").unit == symbol


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_other_spelling_leads_to_a_listed_unit(kind: Kind) -> None:
    for spelling, symbol in kind.spellings.items():
        assert symbol in kind.units
        assert kind.find(spelling) is kind.units[symbol]
        assert kind.find(f"  {spelling.upper()} ") is kind.units[symbol]
        assert spelling not in {s.casefold() for s in kind.units}, "spelled twice"


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_both_systems_show_a_listed_unit(kind: Kind) -> None:
    assert kind.us in kind.units
    assert kind.metric in kind.units


def test_every_kind_of_the_program_is_held_against_pint() -> None:
    assert set(map(id, KINDS)) == set(map(id, EVERY_KIND))


def test_a_step_of_temperature_is_no_temperature() -> None:
    assert parse("10 °F", TEMPERATURE_STEP).si == pytest.approx(50 / 9, rel=1e-12)
    assert parse("0 °C", TEMPERATURE_STEP).si == 0.0
    assert parse("10 °F", TEMPERATURE).si == pytest.approx(260.9278, abs=1e-4)


def test_the_exact_definitions() -> None:
    # NIST Special Publication 811, 2008 edition, appendix B.8.
    assert PRESSURE.units["psi"].factor == pytest.approx(6.894757e3, rel=1e-7)
    assert VOLUME.units["gal"].factor == pytest.approx(3.785412e-3, rel=1e-7)
    assert VOLUME.units["imp gal"].factor == pytest.approx(4.54609e-3, rel=1e-12)
    assert FLOW.units["gpm"].factor == pytest.approx(6.309020e-5, rel=1e-7)
    assert to_si(32.0, TEMPERATURE.units["°F"]) == pytest.approx(273.15, rel=1e-12)
    assert to_si(212.0, TEMPERATURE.units["°F"]) == pytest.approx(373.15, rel=1e-12)


def test_an_imperial_gallon_is_a_fifth_more_than_a_us_gallon() -> None:
    imperial, us = parse("1 imp gal", VOLUME).si, parse("1 gal", VOLUME).si
    assert imperial / us == pytest.approx(1.20095, abs=5e-6)
    assert parse("1 imp gpm", FLOW).si / parse("1 gpm", FLOW).si == pytest.approx(1.20095, abs=5e-6)
    assert parse("5 UK gal", VOLUME).unit == "imp gal"


@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("0.35 MPa", PRESSURE, 0.35e6),
        ("3500 mbar", PRESSURE, 3.5e5),
        ("20 ftH2O", PRESSURE, 20 * 2989.067),  # NIST SP 811: foot of water, 39.2 °F
        ("2 ft^3", VOLUME, 2 * 0.3048**3),
        ("4 quart", VOLUME, 3.785411784e-3),
        ("500 mL", VOLUME, 5e-4),
        ("1440 gal/day", FLOW, 3.785411784e-3 / 60),
        ("1 day", TIME, 86_400.0),
        ("2 yd", LENGTH, 1.8288),
        ("1.2 km", ALTITUDE, 1200.0),
        ("16 oz", MASS, 0.45359237),
        ("2 km", HEAD, 2000.0),
        ("12 in/s", VELOCITY, 0.3048),
        ("0.5 acre_foot/year", DAILY, 0.5 * 1233.48 / 31_556_926),
        ("1 MJ", ENERGY, 1e6),
        ("0.001 MW", POWER, 1000.0),
        ("500 ms", SHORT_TIME, 0.5),
    ],
)
def test_a_unit_that_is_seldom_typed_is_read_by_pint(text: str, kind: Kind, si: float) -> None:
    read = parse(text, kind)
    assert read.si == pytest.approx(si, rel=2e-4)
    assert str(read) == text


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("10 ft", PERCENT),
        ("10 %", NUMBER),
        ("5 gpm", HEAD),
        ("5 ft", FLOW),
        ("5 gal", DAILY),
        ("10 /h", STARTS_PER_DAY),
        ("10 /d", STARTS_PER_HOUR),
        ("10 rpm", STARTS_PER_DAY),
        ("3 psi", TEMPERATURE_STEP),
        ("3 delta_degF", TEMPERATURE_STEP),
        ("3 kWh", POWER),
        ("3 hp", ENERGY),
        ("0.5 ppm", PERCENT),
        ("3 ft", VELOCITY),
    ],
)
def test_a_unit_of_another_kind_is_refused(text: str, kind: Kind) -> None:
    with pytest.raises(UnitError) as refused:
        parse(text, kind)
    assert refused.value.remedy
