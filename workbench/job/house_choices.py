"""The published methods of estimating a house's peak demand; one is chosen on purpose."""

from __future__ import annotations

from enum import Enum

from workbench.job.choices import Choice
from workbench.words import tr


class DemandMethod(Enum):
    """How the peak demand is estimated."""

    OUTLETS = "one_per_outlet"
    ALLOWANCES = "allowances"
    FIXTURE_UNITS_HIGH = "fixture_units_ipc"
    FIXTURE_UNITS_LOW = "fixture_units_nspc"
    SEVEN_MINUTES = "seven_minutes"
    TWO_HOURS = "two_hours"
    TWO_FIXTURES = "two_fixtures"
    BEDROOMS = "bedrooms"
    TYPED = "typed"


def demand_methods() -> dict[DemandMethod, Choice]:
    """The methods with their sources."""
    return {
        **_by_fixtures(),
        **_by_use(),
        DemandMethod.TYPED: Choice(
            tr("as typed"), tr("Your own figure, for example from a meter or an engineer.")
        ),
    }


def _by_fixtures() -> dict[DemandMethod, Choice]:
    return {
        DemandMethod.OUTLETS: Choice(
            tr("one gpm per outlet"),
            tr(
                "As many gpm as there are outlets, a hot and cold pair counting once, but never"
                " less than the largest fixture: trade magazine column “Booster systems for"
                " low-yield wells”, part 1; training slides “Well pump basics”, 2008, slide 54."
            ),
        ),
        DemandMethod.ALLOWANCES: Choice(
            tr("sum of allowances"),
            tr(
                "A share of each fixture's flow, added up: US EPA, Private Water Systems,"
                " Household Uses (web library, archived 2008). The line for tubs is from memory."
            ),
        ),
        DemandMethod.FIXTURE_UNITS_HIGH: Choice(
            tr("fixture units, plumbing code"),
            tr(
                "Water supply fixture units and their demand with flush tanks: International"
                " Plumbing Code, 2018, appendix E, tables E103.3(2) and E103.3(3)."
            ),
        ),
        DemandMethod.FIXTURE_UNITS_LOW: Choice(
            tr("fixture units, standard code"),
            tr(
                "The same fixture units through the other published curve: National Standard"
                " Plumbing Code, table B.5.4. The two differ about twofold for a small house."
            ),
        ),
    }


def _by_use() -> dict[DemandMethod, Choice]:
    return {
        DemandMethod.SEVEN_MINUTES: Choice(
            tr("seven-minute peak by bathrooms"),
            tr(
                "Water used in the seven busiest minutes, by number of bathrooms: well-industry"
                " table, its middle rows from memory."
            ),
        ),
        DemandMethod.TWO_HOURS: Choice(
            tr("the day's use in two hours"),
            tr(
                "A system should deliver the whole day's use within two hours: Penn State"
                " Extension, Water System Planning: Estimating Water Needs, 2017."
            ),
        ),
        DemandMethod.TWO_FIXTURES: Choice(
            tr("two fixtures at once"),
            tr(
                "Two fixtures of 2.5 gpm together: New York State Department of Health, Individual"
                " Water Supply Wells, Fact Sheet 2."
            ),
        ),
        DemandMethod.BEDROOMS: Choice(
            tr("use by bedrooms, in two hours"),
            tr(
                "110 gal a day per bedroom (New York State Department of Health, Fact Sheet 2),"
                " delivered within two hours (Penn State Extension, 2017)."
            ),
        ),
    }
