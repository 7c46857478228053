"""The gauge reading to set, corrected to the place and temperature where it is set, by hand."""

from __future__ import annotations

from typing import Any

import pytest

from tests.study.build import PSI, results

SEA = 101_325.0


def air_at(feet: float) -> float:
    """US Standard Atmosphere, 1976, equations 18 and 33a, by hand [Pa]."""
    metres = feet * 0.3048
    geopotential = 6_356_766.0 * metres / (6_356_766.0 + metres)
    return float(SEA * (1 - 0.0065 * geopotential / 288.15) ** 5.255876)


def kelvin(fahrenheit: float) -> float:
    return (fahrenheit + 459.67) * 5 / 9


def reading(**entries: Any) -> tuple[float, float | None]:
    """In service, and where it is set, in psi."""
    found = results(**entries).precharge
    assert found is not None
    where = None if found.where_set is None else found.where_set / PSI
    return found.in_service / PSI, where


def test_set_in_service_at_the_site_it_is_the_rules_precharge() -> None:
    for entries in ({}, {"altitude": "5000 ft", "tank_temperature": "40 °F"}):
        service, where = reading(**entries)
        assert service == pytest.approx(28.0)
        assert where is None


def test_set_warm_it_must_read_more() -> None:
    _, where = reading(reading_temperature="70 °F", tank_temperature="40 °F")
    by_hand = (28 * PSI + SEA) * kelvin(70) / kelvin(40) - SEA
    assert where == pytest.approx(by_hand / PSI, rel=1e-9)
    assert where == pytest.approx(30.56, abs=0.01)


def test_set_at_sea_level_for_a_site_in_the_hills_it_must_read_less() -> None:
    _, where = reading(altitude="5000 ft", reading_altitude="0 ft")
    by_hand = 28 * PSI + air_at(5000) - SEA
    assert where == pytest.approx(by_hand / PSI, rel=1e-6)
    assert where == pytest.approx(28 - 2.47, abs=0.01)


def test_set_in_the_hills_for_a_site_by_the_sea_it_must_read_more() -> None:
    _, where = reading(altitude="0 ft", reading_altitude="5000 ft")
    assert where == pytest.approx(28 + 2.47, abs=0.01)


def test_altitude_and_temperature_together() -> None:
    service, where = reading(
        cut_in="40 psi",
        cut_out="60 psi",
        altitude="6200 ft",
        tank_temperature="48 °F",
        reading_altitude="900 ft",
        reading_temperature="81 °F",
    )
    by_hand = (38 * PSI + air_at(6200)) * kelvin(81) / kelvin(48) - air_at(900)
    assert service == pytest.approx(38.0)
    assert where == pytest.approx(by_hand / PSI, rel=1e-6)


def test_the_same_place_and_temperature_named_anew_changes_nothing() -> None:
    service, where = reading(
        altitude="3000 ft",
        reading_altitude="3000 ft",
        tank_temperature="55 °F",
        reading_temperature="55 °F",
    )
    assert where == pytest.approx(service, rel=1e-12)


def test_a_place_alone_leaves_the_temperature_as_in_service() -> None:
    only_place = reading(altitude="5000 ft", reading_altitude="0 ft", tank_temperature="40 °F")
    other = reading(altitude="5000 ft", reading_altitude="0 ft", tank_temperature="80 °F")
    assert only_place == other


def test_the_correction_changes_no_drawdown() -> None:
    plain, corrected = results(), results(reading_temperature="90 °F", reading_altitude="4000 ft")
    assert plain.setting == corrected.setting
    assert plain.sizing == corrected.sizing
