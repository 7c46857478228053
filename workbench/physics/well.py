"""A well that gives less than the peak asks for: what a tank, storage or nothing can make up.

All flows in m³/s, volumes in m³. What the household asks for comes from ``demand``.
"""

from __future__ import annotations

import enum
import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from workbench.physics.demand import not_negative
from workbench.physics.forgiving import SAME
from workbench.words import tr

_GPM = 3.785411784e-3 / 60.0  # m³/s
_DAY = 86_400.0  # s


def deficit_drawdown(peak: float, supply: float, minutes: float = 7.0) -> float:
    """Drawdown [m³] to cover the peak for some minutes, on top of the pump's run time; 0 if none.

    Args:
        peak, supply: flows [m³/s] asked for and given.
        minutes: how long the peak lasts.

    Source: trade magazine for water-well drillers, "When the well runs dry": 10 gpm given, 13 asked
    for, 21 gal, and with the 10 gal of one minute's run 31 gal of usable water.

    >>> gpm = 3.785411784e-3 / 60
    >>> round(deficit_drawdown(13 * gpm, 10 * gpm) / 3.785411784e-3, 9)
    21.0
    """
    for name, value in {"peak": peak, "supply": supply, "minutes": minutes}.items():
        not_negative(name, value)
    return max(0.0, peak - supply) * 60.0 * minutes


def storage_volume(peak: float, supply: float, minutes: float = 120.0) -> float:
    """Storage without pressure [m³] to cover the peak for two hours; 0 where supply covers it.

    Source: US Environmental Protection Agency, Seahome library, Private Water Systems, Storage,
    "Reservoirs": pressure pump less well pump, times 120 min; 20 gpm is 2,400 gal.

    >>> round(storage_volume(25 * 3.785411784e-3 / 60, 5 * 3.785411784e-3 / 60) / 3.785411784e-3, 6)
    2400.0
    """
    return deficit_drawdown(peak, supply, minutes)


def casing_storage(diameter: float, depth: float) -> float:
    """Water [m³] that stands in a round casing of some inside diameter [m] over a depth [m].

    Source: American Ground Water Trust, note on well disinfection: 0.0408 d² gal/ft, d in inches.

    >>> round(casing_storage(6 * 0.0254, 0.3048) / 3.785411784e-3, 2)  # gal in a foot of 6-in pipe
    1.47
    """
    not_negative("diameter", diameter)
    not_negative("depth", depth)
    return math.pi / 4.0 * diameter**2 * depth


def mass_balance_storage(hourly_use: npt.ArrayLike, well_yield: float) -> float:
    """Storage [m³] that lets a steady yield serve a day that repeats, from hourly volumes.

    The largest use less yield over any run of hours: the deepest that a full store is drawn down.
    Hours hide the peaks of minutes, so this is a floor; :func:`storage_volume` looks at the peak.

    Args:
        hourly_use: water used in each hour of the day [m³], shape (n,), n hours (usually 24).
        well_yield: [m³/s].

    Returns:
        [m³]; inf where the day's yield is less than the day's use.

    Raises:
        ValueError: a use below zero, or no list of hours.

    Source: mass balance of the store (derived; the sequent-peak method of reservoir design).

    >>> hours = [0.0] * 22 + [0.5, 0.5]
    >>> round(mass_balance_storage(hours, 0.1 / 3600), 9)  # 0.4 m³ an hour short, twice
    0.8
    """
    use = np.asarray(hourly_use, dtype=np.float64)
    if use.ndim != 1 or use.size == 0 or not np.all(np.isfinite(use) & (use >= 0.0)):
        raise ValueError(tr("hourly use must be a list of volumes of zero or more"))
    not_negative("well_yield", well_yield)
    short = use - well_yield * 3_600.0
    if short.sum() > SAME * use.sum():
        return math.inf
    missing = np.concatenate(([0.0], np.cumsum(np.tile(short, 2))))  # twice: round midnight
    return float(np.max(missing - np.minimum.accumulate(missing)))


SHARED_WELL_FLOW = {"existing": 3.0 * _GPM, "proposed": 5.0 * _GPM}
"""Flow [m³/s] for each dwelling on a shared well, over 4 hours (:func:`shared_well_volume`)."""


def shared_well_volume(dwellings: float, kind: str) -> float:
    """Water [m³] that a shared well must give within 4 hours, or hold in pressurised storage.

    Args:
        dwellings: 1 to 4.
        kind: "existing" (3 gpm each) or "proposed" (5 gpm each).

    Raises:
        ValueError: more dwellings than the rule allows, or none.
        KeyError: an unknown kind.

    Source: US Department of Housing and Urban Development, FAQ KA-03945 on Handbook 4000.1
    (720 and 1,200 gal for each dwelling).

    >>> round(shared_well_volume(1, "existing") / 3.785411784e-3, 6)
    720.0
    """
    if not 1.0 <= dwellings <= 4.0:
        raise ValueError(
            tr("the shared-well rule is for 1 to 4 dwellings, not {count}", count=f"{dwellings:g}")
        )
    return dwellings * SHARED_WELL_FLOW[kind] * 4.0 * 3_600.0


SMALL_DEFICIT = 3.0 * _GPM
"""Deficit [m³/s] up to which a pressure tank may cover the peak: "a few gpm", common practice; the
figure is that of the worked example of :func:`deficit_drawdown`."""


class Supply(enum.Enum):
    """What kind of system a well's yield asks for."""

    PLAIN = enum.auto()  # the yield covers the peak
    SMALL_DEFICIT = enum.auto()  # a pressure tank can cover what is missing
    STORAGE = enum.auto()  # storage without pressure and a second pump
    NOT_SOLVABLE = enum.auto()  # the day's yield is less than the day's use


@dataclass(frozen=True)
class LowYield:
    """The verdict on a well, and what it comes from."""

    verdict: Supply
    daily_yield: float  # m³
    supply: float  # m³/s: the lesser of pump and well
    deficit: float  # m³/s: peak less supply, zero or more; above zero with PLAIN: pump too small
    extra_drawdown: float  # m³, for seven minutes, on top of the pump's run time
    storage: float  # m³, for two hours


def low_yield(daily_use: float, peak: float, pump: float, well_yield: float) -> LowYield:
    """Say whether a plain system, a larger pressure tank or storage serves a day's use and a peak.

    Args:
        daily_use: [m³]. peak, pump, well_yield: flows [m³/s].

    Raises:
        ValueError: a figure below zero or not finite.

    Source: :func:`deficit_drawdown`, :func:`storage_volume`; the order of the questions is common
    practice.

    >>> gal, gpm = 3.785411784e-3, 3.785411784e-3 / 60
    >>> low_yield(400 * gal, 13 * gpm, 10 * gpm, 10 * gpm).verdict.name
    'SMALL_DEFICIT'
    """
    given = {"daily_use": daily_use, "peak": peak, "pump": pump, "well_yield": well_yield}
    for name, value in given.items():
        not_negative(name, value)
    supply = min(pump, well_yield)
    deficit = max(0.0, peak - supply)
    if well_yield * _DAY < daily_use * (1.0 - SAME):
        verdict = Supply.NOT_SOLVABLE
    elif well_yield >= peak * (1.0 - SAME):
        verdict = Supply.PLAIN
    elif deficit <= SMALL_DEFICIT * (1.0 + SAME):
        verdict = Supply.SMALL_DEFICIT
    else:
        verdict = Supply.STORAGE
    extra, storage = deficit_drawdown(peak, supply), storage_volume(peak, supply)
    return LowYield(verdict, well_yield * _DAY, supply, deficit, extra, storage)
