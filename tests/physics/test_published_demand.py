"""Demand and slow wells against published worked examples; the source stands beside each."""

from __future__ import annotations

import math
from dataclasses import fields

import numpy as np
import pytest

from workbench.physics import demand, well
from workbench.physics.demand import Fixtures, HouseholdSupply
from workbench.physics.household import FIXTURE_HOURS, WELL_PUMP_HOURS, hourly_use
from workbench.physics.well import Supply

GAL = 3.785411784e-3
GPM = GAL / 60
INCH, FOOT = 0.0254, 0.3048


def test_one_gpm_for_each_outlet() -> None:
    # Trade magazine for water-well drillers, "Booster systems for low-yield wells, part 1": two
    # bathrooms of tub, toilet and basin, kitchen sink, dishwasher and two hose bibs: 10 gpm.
    house = Fixtures(tubs=2, toilets=2, basins=2, kitchen_sinks=1, dishwashers=1, hose_bibs=2)
    assert demand.one_per_outlet(house) / GPM == pytest.approx(10.0, rel=1e-12)


def test_one_gpm_for_each_outlet_never_gives_less_than_the_largest_outlet_needs() -> None:
    # IRC table P2903.1: a hose bib needs 5 gpm, a basin 0.8 gpm.
    cabin = Fixtures(hose_bibs=1, basins=1)
    assert demand.one_per_outlet(cabin) / GPM == pytest.approx(5.0, rel=1e-12)
    assert demand.one_per_outlet(Fixtures(basins=1)) / GPM == pytest.approx(1.0, rel=1e-12)
    assert demand.one_per_outlet(Fixtures(people=4, bedrooms=3, bathrooms=2)) == 0.0


@pytest.mark.parametrize("outlet", demand.OUTLETS)
def test_every_outlet_counts_in_one_gpm_each(outlet: str) -> None:
    assert demand.one_per_outlet(Fixtures(**{outlet: 9.0})) / GPM == pytest.approx(9.0)


def test_the_allowances_of_epas_example() -> None:
    # US EPA, Seahome library, Private Water Systems, "Household Uses": 2 lavatories, toilet,
    # kitchen sink, dishwasher, clothes washer 5.25 gpm as printed; with the tub 7.25 gpm in all.
    printed = Fixtures(basins=2, toilets=1, kitchen_sinks=1, dishwashers=1, washers=1)
    assert demand.peak_allowances(printed).total / GPM == pytest.approx(5.25, rel=1e-12)
    house = Fixtures(basins=2, toilets=1, kitchen_sinks=1, dishwashers=1, washers=1, tubs=1)
    peak = demand.peak_allowances(house)
    assert peak.total / GPM == pytest.approx(7.25, rel=1e-12)
    assert peak.largest / GPM == pytest.approx(8.0, rel=1e-12)
    assert demand.peak_allowances(house, several_houses=True).total / GPM == pytest.approx(3.625)


@pytest.mark.parametrize(
    ("fixture", "allowance", "rate"),
    [
        ("showers", 1.0, 4.0),
        ("basins", 0.5, 2.0),
        ("toilets", 0.75, 3.0),
        ("kitchen_sinks", 1.0, 4.0),
        ("dishwashers", 0.5, 2.0),
        ("laundry_sinks", 1.5, 6.0),
        ("washers", 2.0, 8.0),
        ("hose_bibs", 0.0, 0.0),  # no row
    ],
)
def test_epas_allowance_and_flow_rate_of_one_fixture(
    fixture: str, allowance: float, rate: float
) -> None:
    peak = demand.peak_allowances(Fixtures(**{fixture: 1.0}))
    assert peak.total / GPM == pytest.approx(allowance)
    assert peak.largest / GPM == pytest.approx(rate)


def test_the_days_use_in_two_hours() -> None:
    # Penn State Extension, Water System Planning: Estimating Water Needs, 2017: 400 gal, 3.33 gpm.
    assert demand.two_hour_peak(400 * GAL) / GPM == pytest.approx(3.33, abs=0.005)


def test_two_fixtures_at_once() -> None:
    # New York State Department of Health, Individual Water Supply Wells, Fact Sheet 2: 5 gpm.
    assert demand.two_fixtures() / GPM == pytest.approx(5.0)


HOUSES = [
    (Fixtures(toilets=1, basins=1, tubs=1, kitchen_sinks=1, washers=1), 6.4),
    (Fixtures(toilets=2, basins=2, tubs=2, kitchen_sinks=1, washers=1, dishwashers=1), 11.4),
    (Fixtures(toilets=3, basins=3, tubs=2, kitchen_sinks=1, washers=1, dishwashers=1), 14.3),
]


@pytest.mark.parametrize(("house", "units"), HOUSES)
def test_fixture_units_of_small_houses(house: Fixtures, units: float) -> None:
    # Added up by hand from the International Plumbing Code, 2018, table E103.3(2).
    assert demand.fixture_units(house) == pytest.approx(units, rel=1e-12)


def test_a_shower_makes_a_bathroom_group_as_a_tub_does_and_what_is_left_counts_alone() -> None:
    assert demand.fixture_units(Fixtures(toilets=1, basins=1, showers=1)) == pytest.approx(3.6)
    assert demand.fixture_units(Fixtures(toilets=1, basins=1, tubs=1, showers=1)) == pytest.approx(
        3.6 + 1.4
    )
    assert demand.fixture_units(Fixtures(toilets=1, basins=1)) == pytest.approx(2.9)


@pytest.mark.parametrize(
    ("units", "curve", "gpm"),
    [
        (6.4, "ipc", 11.1),
        (6.4, "nspc", 5.4),
        (11.4, "ipc", 15.6),
        (11.4, "nspc", 8.7),
        (14.3, "ipc", 17.2),  # 17.15 by hand
        (1, "ipc", 3.0),
        (100, "ipc", 43.5),
        (3, "nspc", 3.0),
        (120, "nspc", 49.0),
        (500, "nspc", 125.0),
    ],
)
def test_the_published_curves_between_and_on_their_rows(
    units: float, curve: str, gpm: float
) -> None:
    # International Plumbing Code, 2018, table E103.3(3); National Standard Plumbing Code, B.5.4.
    assert demand.fixture_unit_peak(units, curve) / GPM == pytest.approx(gpm, abs=0.051)


def test_what_runs_on_and_on_is_added_to_the_fixtures() -> None:
    # International Plumbing Code, 2018, appendix E, E102.2.
    alone = demand.fixture_unit_peak(6.4, "ipc")
    assert demand.fixture_unit_peak(6.4, "ipc", 5 * GPM) == pytest.approx(alone + 5 * GPM)


@pytest.mark.parametrize("curve", sorted(demand.FIXTURE_UNIT_CURVES))
def test_a_curve_rises_evenly_and_is_not_continued_beyond_its_rows(curve: str) -> None:
    units, flows = demand.FIXTURE_UNIT_CURVES[curve]
    assert len(units) == len(flows)
    assert np.all(np.diff(units) > 0)
    assert np.all(np.diff(flows) > 0)
    slopes = np.diff(flows) / np.diff(units)
    assert slopes.max() <= 2.0  # a mistyped row would jump
    for outside in (units[0] - 0.01, units[-1] + 0.01, 0.0, math.nan):
        with pytest.raises(ValueError, match=f"{units[0]} to {units[-1]} fixture units"):
            demand.fixture_unit_peak(outside, curve)


def test_the_rows_from_memory_join_those_seen_and_the_other_code_at_the_top() -> None:
    low, high = demand.FROM_MEMORY["nspc"] or (math.nan, math.nan)
    units, flows = (np.array(side) for side in demand.FIXTURE_UNIT_CURVES["nspc"])
    inside = (units >= low) & (units <= high)
    x, y = units[inside], flows[inside]
    # The curve bends down (flows are rounded to half a gpm): the rows lie above the straight line
    # from the last row seen below to the first seen above, and below how the rows seen go on.
    assert x.size == 15
    assert np.all(y >= np.interp(x, [low, high], [10.5, 49.0]))
    assert np.all(y <= 10.5 + 0.6 * (x - low) + 0.5)  # 0.6 gpm a unit from 3 to 14 units at most
    assert np.all(y <= 49.0 - 0.2 * (high - x) + 0.5)  # 0.2 gpm a unit from 120 to 200 units
    # Both descend from one curve, and meet where the number of fixtures is large.
    assert demand.fixture_unit_peak(100, "nspc") == pytest.approx(
        demand.fixture_unit_peak(100, "ipc"), rel=0.02
    )


@pytest.mark.parametrize(
    ("bathrooms", "gallons", "gpm"),
    [(1, 45, 7), (1.5, 75, 10), (1.75, 98, 14), (2, 98, 14), (2.5, 98, 14), (4, 122, 17)],
)
def test_the_seven_minutes_of_the_well_industry(
    bathrooms: float, gallons: float, gpm: float
) -> None:
    # Table of the well industry, from memory; 7 and 17 gpm at its ends were seen.
    peak = demand.seven_minute_peak(bathrooms)
    assert peak.volume / GAL == pytest.approx(gallons)
    assert peak.flow / GPM == pytest.approx(gpm)
    assert peak.flow == pytest.approx(peak.volume / 420, abs=0.75 * GPM)


@pytest.mark.parametrize("bathrooms", [0.0, 0.5, 4.5, math.nan])
def test_the_seven_minutes_have_no_row_below_one_or_above_four_bathrooms(bathrooms: float) -> None:
    with pytest.raises(ValueError, match="1 to 4 bathrooms"):
        demand.seven_minute_peak(bathrooms)


@pytest.mark.parametrize(
    ("gpm", "verdict"),
    [
        (0, HouseholdSupply.STORAGE_USUALLY_NEEDED),
        (4.9, HouseholdSupply.STORAGE_USUALLY_NEEDED),
        (5, HouseholdSupply.USUALLY_ENOUGH),
        (9.9, HouseholdSupply.USUALLY_ENOUGH),
        (10, HouseholdSupply.ENOUGH_FOR_HEAVY_USE),
    ],
)
def test_albertas_judgement_of_a_well(gpm: float, verdict: HouseholdSupply) -> None:
    # Alberta Agriculture, Water Wells that Last, Agdex 716 (A10), module 2, p. 11.
    assert demand.household_supply(gpm * GPM) is verdict


def test_a_days_use_by_people_and_by_bedrooms() -> None:
    # Penn State Extension, 2017; New York State DOH, Fact Sheet 2; Southborough, chapter 228-5.
    low, high = demand.daily_use(4)
    assert (low / GAL, high / GAL) == pytest.approx((200, 400))
    assert demand.daily_use_by_bedrooms(3, "new_york") / GAL == pytest.approx(330)
    assert demand.daily_use_by_bedrooms(3, "southborough") / GAL == pytest.approx(600)


@pytest.mark.parametrize(
    ("feet", "gpm"), [(0, 5), (150, 5), (151, 4), (200, 4), (300, 3), (301, 2), (900, 2)]
)
def test_southboroughs_yield_by_depth(feet: float, gpm: float) -> None:
    assert demand.southborough_yield(feet * FOOT) / GPM == pytest.approx(gpm)


@pytest.mark.parametrize("name", [entry.name for entry in fields(Fixtures)])
@pytest.mark.parametrize("value", [-1.0, math.nan, math.inf])
def test_a_count_that_is_no_count_is_refused_by_its_name(name: str, value: float) -> None:
    with pytest.raises(ValueError, match=f"{name} must be zero or more"):
        Fixtures(**{name: value})


# --- A well that gives less than the peak ----------------------------------------------------


def test_a_pressure_tank_for_a_small_deficit() -> None:
    # Trade magazine for water-well drillers, "When the well runs dry": 3 gpm for 7 min, 21 gal,
    # with 10 gal for one minute's run 31 gal of usable water.
    extra = well.deficit_drawdown(13 * GPM, 10 * GPM) / GAL
    assert extra == pytest.approx(21.0)
    assert extra + 10.0 == pytest.approx(31.0)
    assert well.deficit_drawdown(10 * GPM, 13 * GPM) == 0.0


def test_storage_for_two_hours() -> None:
    # US EPA, Seahome library, Storage, "Reservoirs": a difference of 20 gpm, 2,400 gal.
    assert well.storage_volume(22 * GPM, 2 * GPM) / GAL == pytest.approx(2400.0)


@pytest.mark.parametrize(("inches", "gallons"), [(4, 0.65), (6, 1.47), (8, 2.61)])
def test_water_in_a_foot_of_casing(inches: float, gallons: float) -> None:
    # American Ground Water Trust: 0.0408 d² gal/ft.
    water = well.casing_storage(inches * INCH, FOOT) / GAL
    assert water == pytest.approx(gallons, abs=0.005)
    assert water == pytest.approx(0.0408 * inches**2, rel=1e-4)


@pytest.mark.parametrize(
    ("daily", "gpm", "gallons"), [(400, 0.5, 8), (400, 0.3, 58), (600, 0.5, 70)]
)
def test_a_days_mass_balance(daily: float, gpm: float, gallons: float) -> None:
    # Worked by hand over the Building America fixture shape.
    use = hourly_use(daily * GAL, FIXTURE_HOURS)
    assert well.mass_balance_storage(use, gpm * GPM) / GAL == pytest.approx(gallons, abs=0.5)


@pytest.mark.parametrize("turn", range(0, 24, 5))
def test_the_mass_balance_does_not_mind_when_the_day_begins(turn: int) -> None:
    use = hourly_use(500 * GAL, WELL_PUMP_HOURS)
    turned = well.mass_balance_storage(np.roll(use, turn), 0.4 * GPM)
    assert turned == pytest.approx(well.mass_balance_storage(use, 0.4 * GPM), rel=1e-12)


@pytest.mark.parametrize("yield_gpm", [0.28, 0.3, 0.4, 0.55, 1.0])
def test_a_store_of_the_mass_balance_just_lasts(yield_gpm: float) -> None:
    # An independent walk through ten days: a full store of this size just lasts.
    use, inflow = hourly_use(400 * GAL, FIXTURE_HOURS), yield_gpm * GPM * 3600
    size = well.mass_balance_storage(use, yield_gpm * GPM)

    def driest(store: float) -> float:
        level = lowest = store
        for hour in range(240):
            level = min(store, level + inflow - use[hour % 24])
            lowest = min(lowest, level)
        return lowest

    assert driest(size) == pytest.approx(0.0, abs=1e-12)
    assert size == 0.0 or driest(0.99 * size) < 0.0


def test_no_store_makes_up_for_a_well_that_gives_less_than_the_day_uses() -> None:
    use = hourly_use(400 * GAL, FIXTURE_HOURS)
    assert well.mass_balance_storage(use, 0.27 * GPM) == math.inf
    enough = well.mass_balance_storage(use, 400 * GAL / 86_400)
    assert 0.0 < enough < 400 * GAL
    for wrong in ([], [-1.0], [math.nan], [[1.0]]):
        with pytest.raises(ValueError, match="list of volumes"):
            well.mass_balance_storage(wrong, GPM)


@pytest.mark.parametrize(
    ("dwellings", "kind", "gallons"),
    [(1, "existing", 720), (1, "proposed", 1200), (4, "proposed", 4800)],
)
def test_the_shared_well_rule(dwellings: float, kind: str, gallons: float) -> None:
    # US Department of Housing and Urban Development, FAQ KA-03945 on Handbook 4000.1.
    assert well.shared_well_volume(dwellings, kind) / GAL == pytest.approx(gallons)


@pytest.mark.parametrize("dwellings", [0, 5])
def test_a_shared_well_serves_one_to_four_dwellings(dwellings: float) -> None:
    with pytest.raises(ValueError, match="1 to 4 dwellings"):
        well.shared_well_volume(dwellings, "existing")


@pytest.mark.parametrize(
    ("daily", "peak", "pump", "yield_gpm", "verdict"),
    [
        (400, 10, 10, 10, Supply.PLAIN),
        (400, 13, 10, 10, Supply.SMALL_DEFICIT),  # the worked example, right at the limit
        (400, 13.01, 10, 10, Supply.STORAGE),
        (400, 10, 10, 1, Supply.STORAGE),
        (400, 10, 10, 400 / 1440, Supply.STORAGE),  # just enough for the day
        (400, 10, 10, 0.27, Supply.NOT_SOLVABLE),
        (400, 10, 8, 12, Supply.PLAIN),  # the well is no trouble, the pump is too small
        (400, 11, 8, 10, Supply.SMALL_DEFICIT),
        (400, 12, 8, 10, Supply.STORAGE),
    ],
)
def test_the_verdict_on_a_well(
    daily: float, peak: float, pump: float, yield_gpm: float, verdict: Supply
) -> None:
    found = well.low_yield(daily * GAL, peak * GPM, pump * GPM, yield_gpm * GPM)
    assert found.verdict is verdict
    supply = min(pump, yield_gpm)
    assert found.supply / GPM == pytest.approx(supply)
    assert found.deficit / GPM == pytest.approx(max(0.0, peak - supply), abs=1e-9)
    assert found.extra_drawdown == pytest.approx(found.deficit * 420)
    assert found.storage == pytest.approx(found.deficit * 7200)
    assert found.daily_yield / GAL == pytest.approx(yield_gpm * 1440)


def test_a_well_of_no_sense_is_refused() -> None:
    with pytest.raises(ValueError, match="well_yield must be zero or more"):
        well.low_yield(GAL, GPM, GPM, -GPM)
