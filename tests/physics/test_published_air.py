"""The air against published tables: the atmosphere at altitudes, and a sealed charge."""

from __future__ import annotations

import numpy as np
import pytest

from workbench.physics.air import (
    AbsolutePressure,
    absolute,
    ambient_pressure,
    charge_at_temperature,
    charge_reading,
    compression,
    gauge,
    gauge_pressure,
)

PSI = 6894.757293168361
FOOT = 0.3048


def fahrenheit(degrees: float) -> float:
    return (degrees + 459.67) * 5 / 9


@pytest.mark.parametrize(
    ("metres", "pascal"),
    [
        (0, 101_325),
        (500, 95_461),
        (1000, 89_876),
        (1500, 84_560),
        (2000, 79_501),
        (2500, 74_692),
        (3000, 70_121),
    ],
)
def test_us_standard_atmosphere_by_geometric_height(metres: float, pascal: float) -> None:
    # US Standard Atmosphere, 1976 (NOAA, NASA, USAF), table of pressure by geometric altitude,
    # recomputed from its equations 18 and 33a.
    assert float(ambient_pressure(metres)) == pytest.approx(pascal, abs=1.0)


@pytest.mark.parametrize(
    ("feet", "psia"),
    [
        (0, 14.696),
        (500, 14.430),
        (1000, 14.175),
        (2000, 13.664),
        (3000, 13.173),
        # 4000 ft is left out: the printed 12.682 is a misprint, the table's own formula says 12.692
        (5000, 12.230),
        (6000, 11.778),
        (7000, 11.341),
        (8000, 10.914),
        (9000, 10.506),
        (10000, 10.108),
    ],
)
def test_ashraes_table_of_standard_atmospheric_data(feet: float, psia: float) -> None:
    # ASHRAE Handbook, Fundamentals, chapter Psychrometrics, table 1; the print rounds by up to
    # 0.003 psi, and its heights are geopotential.
    assert float(ambient_pressure(feet * FOOT)) / PSI == pytest.approx(psia, abs=0.004)


def test_ashraes_formula_shows_the_misprint_at_4000_feet() -> None:
    # ASHRAE Handbook, Fundamentals, chapter Psychrometrics: p = 14.696 (1 − 6.8754e-6 Z)^5.2559.
    formula = 14.696 * (1 - 6.8754e-6 * 4000) ** 5.2559
    assert formula == pytest.approx(12.692, abs=0.001)
    assert float(ambient_pressure(4000 * FOOT)) / PSI == pytest.approx(formula, abs=0.002)


def test_air_below_sea_level_is_denser() -> None:
    # US Standard Atmosphere, 1976, equations 18 and 33a, worked by hand: 5000 m below sea level
    # is −5003.94 m geopotential.
    by_hand = 101_325 * (1 + 0.0065 * 5003.94 / 288.15) ** 5.25588
    assert float(ambient_pressure(-5000.0)) == pytest.approx(by_hand, rel=1e-6)


@pytest.mark.parametrize("metres", [-5000.1, 11_000.1, np.nan, np.inf])
def test_heights_outside_the_lowest_layer_are_refused(metres: float) -> None:
    with pytest.raises(ValueError, match="between -5,000 m and 11,000 m"):
        ambient_pressure(metres)


def test_one_bad_height_among_good_ones_is_refused() -> None:
    with pytest.raises(ValueError, match="altitude"):
        ambient_pressure([0.0, 12_000.0])


def test_the_bicycle_tyre() -> None:
    # OpenStax College Physics, 2012, section 13.3, example 13.6 (from memory): 7.00e5 Pa at
    # 18.0 °C becomes 7.41e5 Pa at 35.0 °C.
    cold = AbsolutePressure(np.asarray(7.00e5))
    assert float(charge_at_temperature(cold, 291.15, 308.15)) == pytest.approx(7.41e5, abs=500)


@pytest.mark.parametrize(("warm", "cold"), [(38.0, 35.02), (28.0, 25.58)])
def test_a_charge_set_at_70_degrees_reads_3_psi_less_at_40(warm: float, cold: float) -> None:
    # Worked by hand: (P2+a)/(P1+a) = T2/T1 at constant volume with a = 14.696 psi. It is the rule
    # of thumb of 1 psi for each 10 °F (common practice, no source).
    sea = ambient_pressure(0.0)
    sealed = absolute(gauge_pressure(warm * PSI), sea)
    after = charge_at_temperature(sealed, fahrenheit(70), fahrenheit(40))
    assert float(gauge(after, sea)) / PSI == pytest.approx(cold, abs=0.005)


@pytest.mark.parametrize(
    ("metres", "gain"), [(500, 0.85), (1000, 1.66), (1500, 2.43), (2000, 3.17), (3000, 4.53)]
)
def test_a_sealed_charge_brought_uphill_gains_what_the_air_loses(
    metres: float, gain: float
) -> None:
    # Differences of the US Standard Atmosphere, 1976, in psi; worked by hand.
    sea, high = ambient_pressure(0.0), ambient_pressure(metres)
    target = gauge_pressure(28 * PSI)
    to_set = charge_reading(target, (high, 285.0), (sea, 285.0))
    assert float(target - to_set) / PSI == pytest.approx(gain, abs=0.007)


def test_a_charge_set_warm_and_low_reads_right_in_the_cold_cellar() -> None:
    """The reading, carried back to the tank by hand, is the target."""
    sea, high = ambient_pressure(0.0), ambient_pressure(1600.0)
    target = gauge_pressure(38 * PSI)
    to_set = charge_reading(target, (high, 283.15), (sea, 299.15))
    inside = float(to_set + sea) * 283.15 / 299.15
    assert inside - float(high) == pytest.approx(38 * PSI, rel=1e-12)


@pytest.mark.parametrize("temperatures", [(0.0, 300.0), (300.0, 0.0), (-1.0, 300.0)])
def test_temperatures_at_or_below_absolute_zero_are_refused(
    temperatures: tuple[float, float],
) -> None:
    charge = AbsolutePressure(np.asarray(3e5))
    with pytest.raises(ValueError, match="above zero"):
        charge_at_temperature(charge, *temperatures)


@pytest.mark.parametrize("exponent", [0.0, -1.0])
def test_a_compression_exponent_of_zero_or_less_is_refused(exponent: float) -> None:
    low, high = AbsolutePressure(np.asarray(2e5)), AbsolutePressure(np.asarray(4e5))
    with pytest.raises(ValueError, match="exponent"):
        compression(low, high, exponent)


def test_gauge_and_absolute_are_each_others_inverse() -> None:
    air = ambient_pressure([0.0, 1500.0])
    reading = gauge_pressure([[1e5], [3e5]])
    assert gauge(absolute(reading, air), air) == pytest.approx(np.broadcast_to(reading, (2, 2)))
