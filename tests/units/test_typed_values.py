"""What a person types, at a desk with a decimal point and at one with a decimal comma."""

from __future__ import annotations

import pytest

from workbench.units import (
    ALTITUDE,
    FLOW,
    LENGTH,
    NUMBER,
    PRESSURE,
    STARTS_PER_HOUR,
    TEMPERATURE,
    TIME,
    VOLUME,
    Kind,
    UnitError,
    parse,
    parse_number,
)

NOT_A_NUMBER, NO_NUMBER = "is not a plain number", "has no number"
MISSING, FOREIGN, UNKNOWN = "unit is missing", "is not a unit of", "is not a known unit"
ABSOLUTE, LONG, EMPTY = "absolute pressure", "too long", "Nothing is entered"


def both(*readings: str) -> str:
    return f"could mean {readings[0]} or {readings[1]}."


# kind, text, what is kept with a decimal point, and with a decimal comma; a refusal begins with "!"
TYPED: list[tuple[Kind, str, str, str]] = [
    (PRESSURE, "50 psi", "50 psi", "50 psi"),
    (PRESSURE, "50psi", "50 psi", "50 psi"),
    (PRESSURE, "  50   PSIG ", "50 psi", "50 psi"),
    (PRESSURE, "50\u00a0psi", "50 psi", "50 psi"),
    (PRESSURE, "+50 psi", "50 psi", "50 psi"),
    (PRESSURE, "50.5 psi", "50.5 psi", "50.5 psi"),
    (PRESSURE, "3,4 bar", "3.4 bar", "3.4 bar"),
    (PRESSURE, "3,40 bar(g)", "3.40 bar", "3.40 bar"),
    (PRESSURE, "345 kPa", "345 kPa", "345 kPa"),
    (PRESSURE, "345 kpa(g)", "345 kPa", "345 kPa"),
    (PRESSURE, "0,345 MPa", "0.345 MPa", "0.345 MPa"),
    (PRESSURE, "0.345 MPa", "0.345 MPa", "0.345 MPa"),
    (PRESSURE, "40 lbs", "40 psi", "40 psi"),
    (PRESSURE, "−2 psi", "-2 psi", "-2 psi"),
    (PRESSURE, "64.7 psia", f"!{ABSOLUTE}", f"!{ABSOLUTE}"),
    (PRESSURE, "4.5 bar(a)", f"!{ABSOLUTE}", f"!{ABSOLUTE}"),
    (PRESSURE, "450 kPa abs", f"!{ABSOLUTE}", f"!{ABSOLUTE}"),
    (PRESSURE, "450 kPa(a)", f"!{ABSOLUTE}", f"!{ABSOLUTE}"),
    (PRESSURE, "64 psi absolute", f"!{ABSOLUTE}", f"!{ABSOLUTE}"),
    (PRESSURE, "50", f"!{MISSING}", f"!{MISSING}"),
    (PRESSURE, "50 gal", f"!{FOREIGN} gauge pressure", f"!{FOREIGN} gauge pressure"),
    (PRESSURE, "50 psx", f"!{UNKNOWN}", f"!{UNKNOWN}"),
    (PRESSURE, "psi", f"!{NO_NUMBER}", f"!{NO_NUMBER}"),
    (PRESSURE, "", f"!{EMPTY}", f"!{EMPTY}"),
    (PRESSURE, "30/50 psi", f"!{FOREIGN}", f"!{FOREIGN}"),
    (PRESSURE, "30-50 psi", f"!{FOREIGN}", f"!{FOREIGN}"),
    (PRESSURE, "1e2 psi", f"!{UNKNOWN}", f"!{UNKNOWN}"),
    (VOLUME, "1,500 gal", "!" + both("1500", "1.500"), "1.500 gal"),
    (VOLUME, "1.500 gal", "1.500 gal", "!" + both("1500", "1,500")),
    (VOLUME, "0,500 gal", "0.500 gal", "0.500 gal"),
    (VOLUME, "0.500 gal", "0.500 gal", "0.500 gal"),
    (VOLUME, "1,5000 gal", "1.5000 gal", "1.5000 gal"),
    (VOLUME, "1,234.5 gal", "1234.5 gal", "1234.5 gal"),
    (VOLUME, "1.234,5 gal", "1234.5 gal", "1234.5 gal"),
    (VOLUME, "1,234,567 gal", "1234567 gal", "1234567 gal"),
    (VOLUME, "1.234.567 L", "1234567 L", "1234567 L"),
    (VOLUME, "12,34,567 gal", f"!{NOT_A_NUMBER}", f"!{NOT_A_NUMBER}"),
    (VOLUME, "1,23.4 gal", f"!{NOT_A_NUMBER}", f"!{NOT_A_NUMBER}"),
    (VOLUME, "1..5 gal", f"!{NOT_A_NUMBER}", f"!{NOT_A_NUMBER}"),
    (VOLUME, ".5 gal", "0.5 gal", "0.5 gal"),
    (VOLUME, ",5 gal", "0.5 gal", "0.5 gal"),
    (VOLUME, "5. gal", "5 gal", "5 gal"),
    (VOLUME, "20 GALLONS", "20 gal", "20 gal"),
    (VOLUME, "76 litres", "76 L", "76 L"),
    (VOLUME, "0.3 m^3", "0.3 m³", "0.3 m³"),
    (VOLUME, "20 imperial gallons", "20 imp gal", "20 imp gal"),
    (VOLUME, "20 m", f"!{FOREIGN} volume", f"!{FOREIGN} volume"),
    (VOLUME, "1 500 gal", f"!{FOREIGN} volume", f"!{FOREIGN} volume"),
    (FLOW, "10 gal/min", "10 gpm", "10 gpm"),
    (FLOW, "38 lpm", "38 L/min", "38 L/min"),
    (FLOW, "2,3 m3/h", "2.3 m³/h", "2.3 m³/h"),
    (FLOW, "600 gph", "600 gph", "600 gph"),
    (FLOW, "8 igpm", "8 imp gpm", "8 imp gpm"),
    (FLOW, "10 gal", f"!{FOREIGN} flow", f"!{FOREIGN} flow"),
    (TIME, "1,5 min", "1.5 min", "1.5 min"),
    (TIME, "90 sec", "90 s", "90 s"),
    (TIME, "1:30", f"!{FOREIGN} time", f"!{FOREIGN} time"),
    (LENGTH, '28"', "28 in", "28 in"),
    (LENGTH, "710 mm", "710 mm", "710 mm"),
    (LENGTH, "2' 4\"", f"!{FOREIGN} length", f"!{FOREIGN} length"),
    (ALTITUDE, "5280 ft", "5280 ft", "5280 ft"),
    (ALTITUDE, "5,280 ft", "!" + both("5280", "5.280"), "5.280 ft"),
    (ALTITUDE, "-50 m", "-50 m", "-50 m"),
    (TEMPERATURE, "55 °F", "55 °F", "55 °F"),
    (TEMPERATURE, "12,5 c", "12.5 °C", "12.5 °C"),
    (TEMPERATURE, "-4 deg F", "-4 °F", "-4 °F"),
    (TEMPERATURE, "55", f"!{MISSING}", f"!{MISSING}"),
    (STARTS_PER_HOUR, "6 /h", "6 /h", "6 /h"),
    (STARTS_PER_HOUR, "7,5 per hour", "7.5 /h", "7.5 /h"),
    (STARTS_PER_HOUR, "6 1/h", "6 /h", "6 /h"),
    (STARTS_PER_HOUR, "6", f"!{MISSING}", f"!{MISSING}"),
    (STARTS_PER_HOUR, "6 h", f"!{FOREIGN}", f"!{FOREIGN}"),
    (NUMBER, "1.2", "1.2", "1.2"),
    (NUMBER, "1,2", "1.2", "1.2"),
    (NUMBER, "1.2 psi", f"!{FOREIGN} plain number", f"!{FOREIGN} plain number"),
]


@pytest.mark.parametrize(("kind", "text", "point", "comma"), TYPED)
def test_typed_text_is_kept_or_refused(kind: Kind, text: str, point: str, comma: str) -> None:
    for mark, expected in ((".", point), (",", comma)):
        if expected.startswith("!"):
            with pytest.raises(UnitError) as refused:
                parse(text, kind, mark)
            assert expected[1:] in str(refused.value)
            assert refused.value.remedy
        else:
            assert str(parse(text, kind, mark)) == expected


@pytest.mark.parametrize("mark", [".", ","])
@pytest.mark.parametrize("digits", ["1500", "12345678", "1,5", "0.001"])
def test_the_value_is_that_of_the_digits(digits: str, mark: str) -> None:
    expected = float(digits.replace(",", "."))  # "0.001" is never the start of thousands
    assert parse(f"{digits} L", VOLUME, mark).si == pytest.approx(expected * 1e-3, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "mark", "ways_out"),
    [
        ("1,500", ".", ("1500", "1.5000")),
        ("12.345", ",", ("12345", "12,3450")),
        ("-1,500", ".", ("-1500", "-1.5000")),
    ],
)
def test_either_way_out_of_an_ambiguity_is_read(
    text: str, mark: str, ways_out: tuple[str, str]
) -> None:
    with pytest.raises(UnitError) as refused:
        parse_number(text, mark)
    readings = []
    for way in ways_out:
        assert way in refused.value.remedy
        readings.append(float(parse_number(way, mark)))
    assert readings == [
        float(text.replace(".", "").replace(",", "")),
        float(text.replace(",", ".")),
    ]


def test_a_missing_unit_is_taken_only_where_it_is_offered() -> None:
    assert str(parse("50", PRESSURE, default="psi")) == "50 psi"
    assert str(parse("50 kPa", PRESSURE, default="psi")) == "50 kPa"
    with pytest.raises(UnitError, match="missing"):
        parse("50", PRESSURE)


@pytest.mark.parametrize("kind", [PRESSURE, VOLUME, FLOW, TIME, LENGTH, TEMPERATURE, ALTITUDE])
def test_a_refusal_names_units_that_would_be_read(kind: Kind) -> None:
    with pytest.raises(UnitError) as refused:
        parse("5 furlongs/fortnight/kg", kind)
    for symbol in kind.units:
        assert symbol in refused.value.remedy


@pytest.mark.parametrize("kind", [PRESSURE, VOLUME, FLOW, TIME, LENGTH, ALTITUDE, NUMBER])
@pytest.mark.parametrize("mark", [".", ","])
def test_the_example_in_a_refusal_is_itself_read(kind: Kind, mark: str) -> None:
    with pytest.raises(UnitError) as refused:
        parse("", kind, mark)
    example = refused.value.remedy.split("“")[1].split("”")[0]
    assert parse(example, kind, mark).si > 0


def test_a_long_text_is_refused_whole_and_not_cut() -> None:
    with pytest.raises(UnitError, match=LONG):
        parse("1" * 57 + " psi", PRESSURE)
    assert parse("1" * 56 + " psi", PRESSURE).digits == "1" * 56


@pytest.mark.parametrize(
    ("text", "kind"),
    [("20 gpm", VOLUME), ("6 rpm", STARTS_PER_HOUR), ("10 delta_degF", TEMPERATURE)],
)
def test_a_unit_of_something_else_is_refused_by_name(text: str, kind: Kind) -> None:
    with pytest.raises(UnitError, match=f"is not a unit of {kind.name}"):
        parse(text, kind)
