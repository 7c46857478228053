"""The air: atmosphere at an altitude, gauge and absolute pressure, and a sealed charge."""

from __future__ import annotations

from typing import NewType

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
GaugePressure = NewType("GaugePressure", FloatArray)
"""Pressure above the surrounding air [Pa], as a gauge on the tank shows it."""
AbsolutePressure = NewType("AbsolutePressure", FloatArray)
"""Pressure above vacuum [Pa], as Boyle's law needs it."""

SEA_LEVEL_PRESSURE = 101_325.0  # Pa, US Standard Atmosphere 1976, table 2
_SEA_LEVEL_TEMPERATURE = 288.15  # K
_LAPSE = 0.0065  # K per geopotential metre
_EXPONENT = 9.80665 * 0.0289644 / (8.31432 * _LAPSE)  # g0 M0 / (R* L), about 5.25588
_EARTH_RADIUS = 6_356_766.0  # m
LOWEST_ALTITUDE, HIGHEST_ALTITUDE = -5_000.0, 11_000.0  # m, the standard's lowest layer


def gauge_pressure(value: npt.ArrayLike) -> GaugePressure:
    """Take number(s) [Pa] that were read on a gauge for what they are."""
    return GaugePressure(np.asarray(value, dtype=np.float64))


def ambient_pressure(altitude: npt.ArrayLike) -> AbsolutePressure:
    """Air pressure at an altitude in the US Standard Atmosphere.

    Args:
        altitude: geometric height above sea level [m], any shape, −5,000 to 11,000 m.

    Returns:
        Absolute pressure [Pa], same shape.

    Raises:
        ValueError: outside the lowest layer of the standard.

    Source: US Standard Atmosphere, 1976 (NOAA, NASA, USAF), equations 18 (geopotential height) and
    33a (pressure where the temperature falls steadily).

    >>> round(float(ambient_pressure(1500.0)))
    84560
    """
    height = np.asarray(altitude, dtype=np.float64)
    if not np.all((height >= LOWEST_ALTITUDE) & (height <= HIGHEST_ALTITUDE)):
        raise ValueError("altitude must lie between -5,000 m and 11,000 m")
    geopotential = _EARTH_RADIUS * height / (_EARTH_RADIUS + height)
    ratio = 1.0 - _LAPSE * geopotential / _SEA_LEVEL_TEMPERATURE
    return AbsolutePressure(SEA_LEVEL_PRESSURE * ratio**_EXPONENT)


def absolute(pressure: GaugePressure, ambient: AbsolutePressure) -> AbsolutePressure:
    """Absolute pressure [Pa] of a gauge reading where the surrounding air has ``ambient`` [Pa]."""
    return AbsolutePressure(np.asarray(pressure + ambient))


def gauge(pressure: AbsolutePressure, ambient: AbsolutePressure) -> GaugePressure:
    """Gauge reading [Pa] of an absolute pressure where the surrounding air has ``ambient`` [Pa]."""
    return GaugePressure(np.asarray(pressure - ambient))


def compression(
    start: AbsolutePressure, end: AbsolutePressure, exponent: npt.ArrayLike = 1.0
) -> FloatArray:
    """Share of its starting volume that air keeps when its pressure goes from start to end.

    Args:
        start, end: absolute pressures [Pa], broadcast together; ``end`` above zero.
        exponent: n in p·Vⁿ = constant; 1.0 is Boyle's law (slow, isothermal), 1.4 the limit of a
            change too quick for heat to leave (adiabatic).

    Returns:
        Volume at ``end`` divided by volume at ``start`` [-].

    Raises:
        ValueError: an exponent of zero or less.

    Source: Boyle's law, OpenStax College Physics, 2012, section 13.3; the polytropic form is
    textbook thermodynamics.

    >>> import numpy as np
    >>> float(compression(AbsolutePressure(np.array(2e5)), AbsolutePressure(np.array(4e5))))
    0.5
    """
    power = np.asarray(exponent, dtype=np.float64)
    if np.any(power <= 0.0):
        raise ValueError("the compression exponent must be above zero")
    ratio = np.asarray(start / end)
    return ratio if power.ndim == 0 and power == 1.0 else np.asarray(ratio ** (1.0 / power))


def charge_at_temperature(
    charge: AbsolutePressure, before: npt.ArrayLike, after: npt.ArrayLike
) -> AbsolutePressure:
    """Pressure of a sealed charge of air after its temperature changed at constant volume.

    Args:
        charge: absolute pressure [Pa] at the temperature ``before``.
        before, after: absolute temperatures [K], above zero.

    Raises:
        ValueError: a temperature of 0 K or below.

    Source: Gay-Lussac's law, OpenStax College Physics, 2012, section 13.3, the bicycle tyre
    (7.00e5 Pa at 18.0 °C becomes 7.41e5 Pa at 35.0 °C).

    >>> import numpy as np
    >>> warm = charge_at_temperature(AbsolutePressure(np.array(7.00e5)), 291.15, 308.15)
    >>> round(float(warm), -3)
    741000.0
    """
    cold, warm = np.asarray(before, dtype=np.float64), np.asarray(after, dtype=np.float64)
    if np.any(cold <= 0.0) or np.any(warm <= 0.0):
        raise ValueError("absolute temperatures must be above zero")
    return AbsolutePressure(np.asarray(charge * warm / cold))


def charge_reading(
    target: GaugePressure,
    at_tank: tuple[AbsolutePressure, float],
    where_read: tuple[AbsolutePressure, float],
) -> GaugePressure:
    """What a gauge must read where the charge is set, so that it is ``target`` where the tank runs.

    A sealed charge keeps its mass of air: carried uphill its gauge reading rises by what the
    surrounding air falls; warmed, its absolute pressure rises with the absolute temperature.

    Args:
        target: gauge pressure [Pa] wanted at the tank's place and temperature.
        at_tank, where_read: (ambient pressure [Pa], temperature [K]) of either place.

    >>> import numpy as np
    >>> sea, high = ambient_pressure(0.0), ambient_pressure(1524.0)
    >>> at_sea = charge_reading(gauge_pressure(193053.0), (high, 293.0), (sea, 293.0))
    >>> round(float(193053.0 - at_sea))  # a tank charged at sea level gains this at 5,000 ft
    17014
    """
    inside = absolute(target, at_tank[0])
    return gauge(charge_at_temperature(inside, at_tank[1], where_read[1]), where_read[0])
