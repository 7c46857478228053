"""How results and entries read: decimals, signs, both systems, and texts that must differ."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

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
    Display,
    Kind,
    System,
    distinct,
    parse,
)

US, METRIC = Display(), Display(System.METRIC)
COMMA = Display(System.METRIC, ",")


@pytest.mark.parametrize(
    ("typed", "kind", "us", "metric"),
    [
        ("28 psi", PRESSURE, "28.0 psi", "193 kPa"),
        ("10 gal", VOLUME, "10.0 gal", "37.9 L"),
        ("10 gpm", FLOW, "10.0 gpm", "37.9 L/min"),
        ("90 s", TIME, "1.50 min", "1.50 min"),
        ("28 in", LENGTH, "28.0 in", "711 mm"),
        ("55 °F", TEMPERATURE, "55 °F", "12.8 °C"),
        ("6 /h", STARTS_PER_HOUR, "6.0 /h", "6.0 /h"),
        ("1.2", NUMBER, "1.20", "1.20"),
    ],
)
def test_a_result_reads_in_either_system(typed: str, kind: Kind, us: str, metric: str) -> None:
    si = parse(typed, kind).si
    assert US.text(si, kind) == us
    assert METRIC.text(si, kind) == metric
    assert COMMA.text(si, kind) == metric.replace(".", ",")


@pytest.mark.parametrize("number", [-0.0, -0.04, -1e-12])
def test_a_minus_that_is_rounded_away_is_not_shown(number: float) -> None:
    assert US.text(number * 6894.757293168361, PRESSURE) == "0.0 psi"
    assert US.text(-0.06 * 6894.757293168361, PRESSURE) == "-0.1 psi"


def test_an_array_is_shown_value_by_value() -> None:
    values = np.array([0.0, 37.85411784e-3])
    assert US.value(values, VOLUME) == pytest.approx([0.0, 10.0])


@pytest.mark.parametrize(
    ("typed", "kind", "us", "metric"),
    [
        ("30 psi", PRESSURE, "30 psi", "206.8 kPa"),
        ("30.00 psi", PRESSURE, "30.00 psi", "206.8 kPa"),
        ("3.40 bar", PRESSURE, "49.31 psi", "3.40 bar"),
        ("5280 ft", LENGTH, "5280 ft", "1609344 mm"),
        ("90 s", TIME, "90 s", "90 s"),
        ("3047.9 m", ALTITUDE, "10000 ft", "3047.9 m"),  # not "1e+04 ft"
        ("0.00002 m", LENGTH, "0.0007874 in", "0.00002 m"),
        ("0.000002 m", LENGTH, "0.00007874 in", "0.000002 m"),
        ("12.5 °C", TEMPERATURE, "54.5 °F", "12.5 °C"),
    ],
)
def test_an_entry_is_shown_as_typed_or_converted(
    typed: str, kind: Kind, us: str, metric: str
) -> None:
    kept = parse(typed, kind)
    assert US.typed(kept, kind) == us
    assert METRIC.typed(kept, kind) == metric


def test_a_tank_that_falls_short_by_a_spoonful_is_not_said_to_give_enough() -> None:
    gallon = VOLUME.units["gal"].factor
    assert distinct(9.98 * gallon, 10 * gallon, VOLUME, US) == ("9.98 gal", "10.00 gal")
    assert distinct(10 * gallon, 10 * gallon, VOLUME, US) == ("10.0 gal", "10.0 gal")


values = st.floats(1e-6, 1e7)
shares = st.floats(2e-9, 0.5)


@settings(max_examples=200, deadline=None, derandomize=True, database=None)
@given(
    values,
    shares,
    st.sampled_from([PRESSURE, VOLUME, LENGTH, FLOW]),
    st.sampled_from([US, METRIC, COMMA]),
)
def test_unequal_values_never_read_equal(
    value: float, share: float, kind: Kind, display: Display
) -> None:
    si = value * display.unit(kind).factor
    first, second = distinct(si * (1 - share), si, kind, display)
    assert first != second


@settings(max_examples=100, deadline=None, derandomize=True, database=None)
@given(values, st.sampled_from([PRESSURE, VOLUME, LENGTH]), st.sampled_from([US, METRIC]))
def test_values_apart_by_rounding_alone_read_equal(
    value: float, kind: Kind, display: Display
) -> None:
    """60 psi and 15 psi add up to 75 psi and a fraction of a float; no one should see that."""
    si = value * display.unit(kind).factor
    first, second = distinct(si, si * (1 + 1e-14), kind, display)
    assert first == second
