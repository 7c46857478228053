"""How much water a household asks for at its peak and in a day, by published methods.

The methods stand side by side; they differ by a factor of two and more, so whoever shows a figure
shows the method's name with it. All flows in m³/s, volumes in m³, counts as floats.
"""

from __future__ import annotations

import enum
import math
from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import NamedTuple

import numpy as np

from workbench.physics.forgiving import SAME
from workbench.words import tr

_GAL = 3.785411784e-3  # m³
_GPM = _GAL / 60.0  # m³/s
_FOOT = 0.3048  # m

OUTLETS = (
    "toilets",
    "basins",
    "tubs",
    "showers",
    "kitchen_sinks",
    "dishwashers",
    "washers",
    "laundry_sinks",
    "hose_bibs",
)
"""The counts of :class:`Fixtures` that draw water; a tub with a shower over it is one tub."""


@dataclass(frozen=True)
class Fixtures:
    """What a household has: counts, zero or more; fractions are allowed (2.5 bathrooms).

    Raises:
        ValueError: a count below zero or not finite; the text names it.
    """

    toilets: float = 0.0
    basins: float = 0.0
    tubs: float = 0.0
    showers: float = 0.0
    kitchen_sinks: float = 0.0
    dishwashers: float = 0.0
    washers: float = 0.0
    laundry_sinks: float = 0.0
    hose_bibs: float = 0.0
    people: float = 0.0
    bedrooms: float = 0.0
    bathrooms: float = 0.0

    def __post_init__(self) -> None:
        for entry in fields(self):
            not_negative(entry.name, getattr(self, entry.name))

    def weighted(self, weights: Mapping[str, float]) -> float:
        """Sum of count times weight over the counts that ``weights`` names."""
        return sum((float(getattr(self, name)) * w for name, w in weights.items()), start=0.0)

    def largest(self, weights: Mapping[str, float]) -> float:
        """Largest weight of an outlet that is there; zero where none is."""
        return max((w for name, w in weights.items() if getattr(self, name) > 0.0), default=0.0)


def not_negative(name: str, value: float) -> None:
    """Refuse a figure below zero or not finite with a ValueError that names it."""
    if not (math.isfinite(value) and value >= 0.0):
        raise ValueError(tr("{name} must be zero or more, not {value}", name=name, value=value))


# --- Peak flow -------------------------------------------------------------------------------

OUTLET_FLOW = {
    "toilets": 3.0 * _GPM,
    "basins": 0.8 * _GPM,
    "tubs": 4.0 * _GPM,
    "showers": 2.5 * _GPM,
    "kitchen_sinks": 1.75 * _GPM,
    "dishwashers": 2.75 * _GPM,
    "washers": 4.0 * _GPM,
    "laundry_sinks": 4.0 * _GPM,
    "hose_bibs": 5.0 * _GPM,
}
"""Flow [m³/s] that an outlet needs: International Residential Code, table P2903.1 (the same in the
International Plumbing Code, table 604.3). The clothes washer has no row: taken as the laundry tray,
our judgement."""


def one_per_outlet(fixtures: Fixtures) -> float:
    """Peak flow [m³/s] as 1 gpm for each outlet, never below the largest that one outlet needs.

    A hot and cold pair of taps is one outlet. The largest need comes from :data:`OUTLET_FLOW`.

    Source: trade magazine for water-well drillers, "Booster systems for low-yield wells, part 1"
    (10 gpm for the house below); the same rule in "Well pump basics", training of a state
    environmental health association, 2008, slide 54.

    >>> house = Fixtures(
    ...     toilets=2, basins=2, tubs=2, kitchen_sinks=1, dishwashers=1, hose_bibs=2)
    >>> round(one_per_outlet(house) / (3.785411784e-3 / 60), 9)  # gpm
    10.0
    """
    each = fixtures.weighted(dict.fromkeys(OUTLETS, _GPM))
    return max(each, fixtures.largest(OUTLET_FLOW))


PEAK_ALLOWANCE = {
    "showers": 1.0 * _GPM,
    "tubs": 2.0 * _GPM,
    "basins": 0.5 * _GPM,
    "toilets": 0.75 * _GPM,
    "kitchen_sinks": 1.0 * _GPM,
    "dishwashers": 0.5 * _GPM,
    "laundry_sinks": 1.5 * _GPM,
    "washers": 2.0 * _GPM,
}
"""Peak demand allowance [m³/s] of each fixture, from the source of :func:`peak_allowances`. Its tub
is from memory, and is what makes the source's own example add up. Hose bibs have no row."""

_RATE_OVER_ALLOWANCE = 4.0  # each fixture flow rate in the source is four times its allowance


class Allowances(NamedTuple):
    """Sum of the allowances, and flow rate of the largest fixture, which the pump must reach."""

    total: float
    largest: float


def peak_allowances(fixtures: Fixtures, *, several_houses: bool = False) -> Allowances:
    """Peak flow [m³/s] as the sum of peak demand allowances, and the largest fixture flow rate.

    Args:
        fixtures: of all houses together; hose bibs are not in the method and add nothing.
        several_houses: one pump serves more than one house; the sum is divided by two.

    Source: US Environmental Protection Agency, Seahome library, Private Water Systems, Pumping
    Installation, "Household Uses" (7.25 gpm for the house below).

    >>> house = Fixtures(basins=2, toilets=1, kitchen_sinks=1, dishwashers=1, washers=1, tubs=1)
    >>> [round(flow / (3.785411784e-3 / 60), 9) for flow in peak_allowances(house)]  # gpm
    [7.25, 8.0]
    """
    total = fixtures.weighted(PEAK_ALLOWANCE)
    largest = _RATE_OVER_ALLOWANCE * fixtures.largest(PEAK_ALLOWANCE)
    return Allowances(total / 2.0 if several_houses else total, largest)


def two_hour_peak(daily_use: float) -> float:
    """Peak flow [m³/s] that gives the whole day's use [m³] within two hours.

    Source: Penn State Extension, Water System Planning: Estimating Water Needs, 2017 (400 gal/day).

    >>> round(two_hour_peak(400 * 3.785411784e-3) / (3.785411784e-3 / 60), 2)  # gpm
    3.33
    """
    not_negative("daily_use", daily_use)
    return daily_use / 7_200.0


def two_fixtures() -> float:
    """Peak flow [m³/s] of two fixtures at once, 2.5 gpm each.

    Source: New York State Department of Health, Individual Water Supply Wells, Fact Sheet 2,
    "Water Storage".

    >>> round(two_fixtures() / (3.785411784e-3 / 60), 9)  # gpm
    5.0
    """
    return 2.0 * 2.5 * _GPM


FIXTURE_UNITS = {
    "toilets": 2.2,
    "basins": 0.7,
    "tubs": 1.4,
    "showers": 1.4,
    "kitchen_sinks": 1.4,
    "dishwashers": 1.4,
    "washers": 1.4,
    "laundry_sinks": 1.4,
}
"""Water supply fixture units, hot and cold together, private use, flush tanks: International
Plumbing Code, 2018, table E103.3(2). Hose bibs have no row."""
BATHROOM_GROUP_UNITS = 3.6  # the same table: a toilet, a basin and a tub or shower, flush tank

# fmt: off
_IPC = (
    (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15,
     16, 17, 18, 19, 20, 25, 30, 35, 40, 45, 50, 60, 80, 100),
    (3.0, 5.0, 6.5, 8.0, 9.4, 10.7, 11.8, 12.8, 13.7, 14.6, 15.4, 16.0, 16.5, 17.0, 17.5,
     18.0, 18.4, 18.8, 19.2, 19.6, 21.5, 23.3, 24.9, 26.3, 27.7, 29.1, 32.0, 38.0, 43.5),
)
_NSPC = (  # the middle row of each is from memory
    (3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14,
     15, 16, 17, 18, 19, 20, 25, 30, 40, 50, 60, 80, 100,
     120, 140, 160, 180, 200, 225, 250, 300, 400, 500),
    (3.0, 4.0, 4.5, 5.0, 6.0, 7.0, 7.5, 8.0, 8.5, 9.0, 10.0, 10.5,
     11.0, 12.0, 12.5, 13.0, 13.5, 14.0, 17.0, 20.0, 25.0, 29.0, 33.0, 39.0, 44.0,
     49.0, 53.0, 57.0, 61.0, 65.0, 70.0, 75.0, 85.0, 105.0, 125.0),
)
# fmt: on
FIXTURE_UNIT_CURVES = {"ipc": _IPC, "nspc": _NSPC}
"""Fixture units and gpm for systems with flush tanks: "ipc" International Plumbing Code, 2018,
table E103.3(3); "nspc" National Standard Plumbing Code, table B.5.4, whose rows between 14 and 120
units are from memory (:data:`FROM_MEMORY`)."""
FROM_MEMORY = {"ipc": None, "nspc": (14.0, 120.0)}
"""Fixture units between which a curve's rows are from memory; None: all were seen."""


def fixture_units(fixtures: Fixtures) -> float:
    """Water supply fixture units [-]; each toilet, basin and tub or shower make one bathroom group.

    What is left over counts by itself. Hose bibs have no fixture units: the code adds continuous
    demands as flow (:func:`fixture_unit_peak`).

    Source: International Plumbing Code, 2018, appendix E, table E103.3(2).

    >>> round(fixture_units(
    ...     Fixtures(toilets=3, basins=3, tubs=2, kitchen_sinks=1, dishwashers=1, washers=1)), 9)
    14.3
    """
    groups = min(fixtures.toilets, fixtures.basins, fixtures.tubs + fixtures.showers)
    apart = FIXTURE_UNITS["toilets"] + FIXTURE_UNITS["basins"] + FIXTURE_UNITS["tubs"]
    return fixtures.weighted(FIXTURE_UNITS) - groups * (apart - BATHROOM_GROUP_UNITS)


def fixture_unit_peak(units: float, curve: str, continuous: float = 0.0) -> float:
    """Peak flow [m³/s] for fixture units by a published curve, straight between its rows.

    Args:
        units: from :func:`fixture_units`.
        curve: a key of :data:`FIXTURE_UNIT_CURVES`.
        continuous: flow [m³/s] of what runs on and on, such as a garden hose, added as it is.

    Raises:
        ValueError: units outside the table, which is not continued; the text gives its range.
        KeyError: an unknown curve.

    Source: International Plumbing Code, 2018, E102.2 and table E103.3(3); National Standard
    Plumbing Code, table B.5.4. Both descend from R. Hunter, BMS65, National Bureau of Standards,
    1940 (from memory), the 99th percentile of that time's fixtures, widely held to be too high now.

    >>> [round(fixture_unit_peak(6.4, curve) / (3.785411784e-3 / 60), 1) for curve in
    ...     ("ipc", "nspc")]  # gpm
    [11.1, 5.4]
    """
    not_negative("continuous", continuous)
    rows, flows = FIXTURE_UNIT_CURVES[curve]
    if not rows[0] <= units <= rows[-1]:
        raise ValueError(
            tr(
                "the table goes from {low} to {high} fixture units, not to {units}",
                low=rows[0],
                high=rows[-1],
                units=f"{units:g}",
            )
        )
    return float(np.interp(units, rows, flows)) * _GPM + continuous


class SevenMinutes(NamedTuple):
    """What a house draws [m³] in its busiest seven minutes, and the pump flow [m³/s] for it."""

    volume: float
    flow: float


_SEVEN_MINUTES = ((1.0, 45.0, 7.0), (1.5, 75.0, 10.0), (2.5, 98.0, 14.0), (4.0, 122.0, 17.0))


def seven_minute_peak(bathrooms: float) -> SevenMinutes:
    """Draw [m³] of the busiest seven minutes, and pump flow [m³/s], by bathrooms, from 1 to 4.

    A count between two rows takes the row above. The flows are the table's, rounded from a seventh.

    Raises:
        ValueError: fewer than 1 or more than 4 bathrooms, where the table has no row.

    Source: table of the well industry, from memory; its ends (7 gpm for one bathroom, 17 gpm for
    three or four) were seen attributed to a state's guide.

    >>> peak = seven_minute_peak(2)
    >>> round(peak.volume / 3.785411784e-3, 9), round(peak.flow / (3.785411784e-3 / 60), 9)
    (98.0, 14.0)
    """
    if not 1.0 <= bathrooms <= _SEVEN_MINUTES[-1][0]:
        raise ValueError(
            tr("the table goes from 1 to 4 bathrooms, not to {count}", count=f"{bathrooms:g}")
        )
    _, gallons, flow = next(row for row in _SEVEN_MINUTES if bathrooms <= row[0])
    return SevenMinutes(gallons * _GAL, flow * _GPM)


class HouseholdSupply(enum.Enum):
    """What Alberta's book says about a well of a given flow."""

    STORAGE_USUALLY_NEEDED = enum.auto()
    USUALLY_ENOUGH = enum.auto()
    ENOUGH_FOR_HEAVY_USE = enum.auto()


def household_supply(well_yield: float) -> HouseholdSupply:
    """Judge a well's flow [m³/s] over an hour of peak use: below 5 gpm, to 10 gpm, from 10 gpm.

    For heavy use the book wants the 10 gpm for at least two hours on end. US gallons are assumed;
    the book does not say, and Imperial gallons would put its limits 20 % higher.

    Source: Alberta Agriculture, Water Wells that Last, Agdex 716 (A10), module 2, p. 11.

    >>> household_supply(4 * 3.785411784e-3 / 60).name
    'STORAGE_USUALLY_NEEDED'
    """
    not_negative("well_yield", well_yield)
    if well_yield < 5.0 * _GPM * (1.0 - SAME):
        return HouseholdSupply.STORAGE_USUALLY_NEEDED
    if well_yield < 10.0 * _GPM * (1.0 - SAME):
        return HouseholdSupply.USUALLY_ENOUGH
    return HouseholdSupply.ENOUGH_FOR_HEAVY_USE


# --- A day's use -----------------------------------------------------------------------------

USE_PER_PERSON = {
    "planning_low": 50.0 * _GAL,
    "indoor_measured": 58.6 * _GAL,
    "domestic_2015": 83.0 * _GAL,
    "planning_high": 100.0 * _GAL,
}
"""Water [m³] per person and day. Planning: Penn State Extension, Water System Planning: Estimating
Water Needs, 2017. Indoor, measured: Residential End Uses of Water, version 2, Water Research
Foundation, 2016 (from memory). Indoor and outdoor, US average: US Geological Survey, 2015."""
USE_PER_BEDROOM = {"new_york": 110.0 * _GAL, "southborough": 200.0 * _GAL}
"""Water [m³] per bedroom and day: New York State Department of Health, Individual Water Supply
Wells, Fact Sheet 2; Code of Southborough, Massachusetts, chapter 228-5."""


class DailyUse(NamedTuple):
    """Lowest and highest published figure for a day [m³]."""

    low: float
    high: float


def daily_use(people: float) -> DailyUse:
    """Range [m³] of a day's use by people: 50 to 100 gal each (:data:`USE_PER_PERSON`).

    Source: Penn State Extension, Water System Planning: Estimating Water Needs, 2017. Its upper
    end is US EPA WaterSense's "up to 400 gal" for a family of four.

    >>> [round(volume / 3.785411784e-3, 9) for volume in daily_use(4)]
    [200.0, 400.0]
    """
    not_negative("people", people)
    return DailyUse(
        people * USE_PER_PERSON["planning_low"], people * USE_PER_PERSON["planning_high"]
    )


def daily_use_by_bedrooms(bedrooms: float, rule: str) -> float:
    """A day's use [m³] by bedrooms; ``rule`` is a key of :data:`USE_PER_BEDROOM`, with its source.

    Raises:
        KeyError: an unknown rule.

    >>> round(daily_use_by_bedrooms(3, "southborough") / 3.785411784e-3, 9)
    600.0
    """
    not_negative("bedrooms", bedrooms)
    return bedrooms * USE_PER_BEDROOM[rule]


def southborough_yield(depth: float) -> float:
    """Well yield [m³/s], over 4 hours, that one town asks of a well of some depth [m].

    5 gpm (the code: 5 to 6) to 150 ft, 4 to 200 ft, 3 to 300 ft, 2 below, since a deeper
    well stores more.

    Source: Code of Southborough, Massachusetts, chapter 228-5.

    >>> round(southborough_yield(250 * 0.3048) / (3.785411784e-3 / 60), 9)  # gpm
    3.0
    """
    not_negative("depth", depth)
    steps = ((150.0, 5.0), (200.0, 4.0), (300.0, 3.0), (math.inf, 2.0))
    feet = depth / _FOOT * (1.0 - SAME)
    return next(flow for limit, flow in steps if feet <= limit) * _GPM
