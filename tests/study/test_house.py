"""Peak demand: every method side by side, and what the peak means for pump, tank and well."""

from __future__ import annotations

import json
import math
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import GAL, GPM, PSI, SEA, TWO_FLOWS, job, results
from workbench.job.fields import fields
from workbench.job.house_choices import DemandMethod, demand_methods
from workbench.physics.demand import OUTLETS, HouseholdSupply
from workbench.physics.well import Supply as WellVerdict
from workbench.study.findings import Level
from workbench.study.house.methods import Estimate, needs
from workbench.study.house.record import house_record
from workbench.study.house.view import HouseView, Outcome
from workbench.study.house.words import (
    against_words,
    estimate_words,
    house_steps,
    no_cure_words,
    outcome_words,
    peak_reason,
    spread_words,
)
from workbench.units import Display, System

M = DemandMethod
COUNTS = ("people", "bedrooms", *OUTLETS)
NOTHING = dict.fromkeys((*COUNTS, "bathrooms"), "0")


def view(**entries: Any) -> HouseView:
    return results(**entries).house


def asked(peak: str, **entries: Any) -> HouseView:
    """A house whose peak is typed."""
    return view(demand_method=M.TYPED, peak_demand=peak, **entries)


def estimate(found: HouseView, method: DemandMethod) -> Estimate:
    (one,) = [one for one in found.estimates if one.method is method]
    return one


def gpm(found: HouseView, method: DemandMethod) -> float:
    flow = estimate(found, method).flow
    assert flow is not None, estimate(found, method).remark
    return flow / GPM


# --- the methods ---


def test_one_gpm_per_outlet_of_the_published_house() -> None:
    # Trade magazine for water-well drillers, "Booster systems for low-yield wells, part 1": 10 gpm.
    house = dict.fromkeys(("tubs", "toilets", "basins", "hose_bibs"), "2")
    found = view(**NOTHING | house | {"kitchen_sinks": "1", "dishwashers": "1"})
    assert gpm(found, M.OUTLETS) == pytest.approx(10.0)


def test_the_sum_of_allowances_of_the_published_house() -> None:
    # US EPA, Seahome library, Private Water Systems, "Household Uses": 7.25 gpm.
    one = dict.fromkeys(("toilets", "kitchen_sinks", "dishwashers", "washers", "tubs"), "1")
    found = view(**NOTHING | one | {"basins": "2"})
    assert gpm(found, M.ALLOWANCES) == pytest.approx(7.25)
    assert found.largest is not None
    assert found.largest.flow / GPM == pytest.approx(8.0)
    assert set(found.largest.fixtures) == {"tubs", "washers"}


def test_fixture_units_by_both_published_curves() -> None:
    # International Plumbing Code, 2018, tables E103.3(2) and (3): 6.4 units are 11.1 gpm; National
    # Standard Plumbing Code, table B.5.4: 5.4 gpm.
    house = dict.fromkeys(("toilets", "basins", "tubs", "kitchen_sinks", "washers"), "1")
    found = view(**NOTHING | house)
    assert estimate(found, M.FIXTURE_UNITS_HIGH).units == pytest.approx(6.4)
    assert gpm(found, M.FIXTURE_UNITS_HIGH) == pytest.approx(11.1, abs=0.06)
    assert gpm(found, M.FIXTURE_UNITS_LOW) == pytest.approx(5.4, abs=0.01)


@pytest.mark.parametrize("hoses", [1, 2, 5])
def test_one_hose_goes_on_top_of_the_fixture_units_however_many_taps_there_are(hoses: int) -> None:
    # International Plumbing Code, 2018, E102.2: continuous demand as flow. IRC table P2903.1: a
    # hose bib is 5 gpm. That one runs is our judgement, and is said.
    without = view(hose_bibs="0")
    found = view(hose_bibs=str(hoses))
    for method in (M.FIXTURE_UNITS_HIGH, M.FIXTURE_UNITS_LOW):
        assert gpm(found, method) - gpm(without, method) == pytest.approx(5.0)
        assert "hose" in estimate(found, method).remark
        assert "hose" not in estimate(without, method).remark


@pytest.mark.parametrize(("toilets", "from_memory"), [(3, False), (7, True), (60, False)])
def test_the_rows_of_the_low_curve_that_are_from_memory_say_so(
    toilets: int, from_memory: bool
) -> None:
    found = view(**NOTHING | {"toilets": str(toilets)})
    low, high = (estimate(found, m) for m in (M.FIXTURE_UNITS_LOW, M.FIXTURE_UNITS_HIGH))
    assert low.flow is not None
    assert ("from memory" in low.remark) is from_memory
    assert "from memory" not in high.remark


@pytest.mark.parametrize(
    ("bathrooms", "flow"), [("1", 7), ("1.5", 10), ("2", 14), ("2.5", 14), ("3", 17), ("4", 17)]
)
def test_the_seven_minute_table_by_bathrooms(bathrooms: str, flow: float) -> None:
    # Well-industry table, from memory; its ends (7 and 17 gpm) were seen.
    assert gpm(view(bathrooms=bathrooms), M.SEVEN_MINUTES) == pytest.approx(flow)


def test_the_days_use_in_two_hours() -> None:
    # Penn State Extension, Water System Planning: Estimating Water Needs, 2017: 3.33 gpm.
    assert gpm(view(daily_use="400 gal/d"), M.TWO_HOURS) == pytest.approx(3.33, abs=0.005)


def test_without_a_typed_use_the_day_goes_by_people() -> None:
    # Residential End Uses of Water, version 2, 2016: 58.6 gal a person indoors.
    found = view(people="5")
    assert found.household.daily_use is not None
    assert found.household.daily_use / GAL == pytest.approx(5 * 58.6)
    assert not found.household.daily_is_typed
    assert gpm(found, M.TWO_HOURS) == pytest.approx(5 * 58.6 / 120)
    typed = view(people="5", daily_use="300 gal/d")
    assert typed.household.daily_use is not None
    assert typed.household.daily_use / GAL == pytest.approx(300)
    assert typed.household.daily_is_typed


def test_two_fixtures_and_bedrooms() -> None:
    # New York State Department of Health, Fact Sheet 2: 2 × 2.5 gpm; 110 gal a day per bedroom.
    found = view(bedrooms="4")
    assert gpm(found, M.TWO_FIXTURES) == pytest.approx(5.0)
    assert gpm(found, M.BEDROOMS) == pytest.approx(4 * 110 / 120)


def test_every_method_stands_once_and_has_a_source() -> None:
    assert [one.method for one in view().estimates] == [m for m in M if m is not M.TYPED]
    assert next(one.method for one in asked("9 gpm").estimates) is M.TYPED
    assert {one.method for one in asked("9 gpm").estimates} == set(M)
    for one in asked("9 gpm").estimates:
        assert demand_methods()[one.method].source


@pytest.mark.parametrize("method", list(M))
def test_the_chosen_method_gives_the_peak_and_changes_no_other(method: DemandMethod) -> None:
    usual = view()
    found = view(demand_method=method, peak_demand="9 gpm")
    assert found.chosen.method is method
    assert found.peak == found.chosen.flow
    assert [one for one in found.estimates if one.method is not M.TYPED] == list(usual.estimates)
    assert demand_methods()[method].source in peak_reason(found)


def test_an_empty_house_has_no_peak_but_by_the_method_that_asks_for_nothing() -> None:
    found = view(**NOTHING)
    assert found.findings == ()
    for one in found.estimates:
        assert (one.flow is None) is (one.method is not M.TWO_FIXTURES)
        assert one.remark
    assert (found.outcome, found.tank, found.largest) == (None, None, None)
    assert outcome_words(found, Display())[0] == ""


def test_outside_a_table_a_method_says_how_far_it_goes() -> None:
    found = view(bathrooms="4.5", toilets="300", basins="300", tubs="300")
    assert "1 to 4 bathrooms" in estimate(found, M.SEVEN_MINUTES).remark
    assert "1 to 100 fixture units" in estimate(found, M.FIXTURE_UNITS_HIGH).remark
    assert "3 to 500 fixture units" in estimate(found, M.FIXTURE_UNITS_LOW).remark


def test_each_method_is_held_against_pump_and_well() -> None:
    found = view(pump_flow="12 gpm", well_yield="10.5 gpm")
    told = {one.method: against_words(one, found, Display()) for one in found.estimates}
    assert told[M.OUTLETS] == (
        "One gpm per outlet: 11.0 gpm. The pump gives it. That is 0.5 gpm more than the well gives."
    )
    assert told[M.ALLOWANCES].endswith("10.0 gpm. The pump gives it. The well gives it.")
    assert "2.0 gpm more than the pump gives. That is 3.5 gpm" in told[M.SEVEN_MINUTES]
    (empty,) = [one for one in view(**NOTHING).estimates if one.method is M.BEDROOMS]
    assert "cannot be used here. No bedroom" in against_words(empty, found, Display())


def test_the_spread_is_that_of_the_published_methods() -> None:
    found = asked("500 gpm")
    flows = [one.flow for one in found.estimates if one.flow and one.method is not M.TYPED]
    assert found.spread is not None
    assert found.spread.least.flow == min(flows)
    assert found.spread.most.flow == max(flows)
    assert found.spread.factor == max(flows) / min(flows)
    told = spread_words(found, Display())
    assert "10.6 times" in told
    assert "on purpose" in told


# --- what is entered wrong ---


@pytest.mark.parametrize("name", COUNTS)
@pytest.mark.parametrize(
    ("text", "code"), [("two", "unread"), ("-1", "below_zero"), ("1.5", "not_whole")]
)
def test_a_bad_count_stands_beside_its_field_and_withholds_what_needs_it(
    name: str, text: str, code: str
) -> None:
    found = view(**{name: text})
    (finding,) = found.findings
    assert (finding.code, finding.field) == (code, name)
    assert finding.remedy
    label = fields()[name].label
    for one in found.estimates:
        needed = name in needs(job(), one.method)
        assert (one.flow is None) is needed
        if needed:
            assert label in one.remark
    stops = name in needs(job(), M.OUTLETS)
    assert finding.level is (Level.STOP if stops else Level.CAUTION)
    assert (found.peak is None) is stops


@pytest.mark.parametrize(
    ("text", "code"), [("two", "unread"), ("-1", "below_zero"), ("1.7", "not_halves")]
)
def test_bathrooms_go_by_halves(text: str, code: str) -> None:
    (finding,) = view(bathrooms=text, demand_method=M.SEVEN_MINUTES).findings
    assert (finding.code, finding.field, finding.level) == (code, "bathrooms", Level.STOP)
    assert view(bathrooms="2.5").findings == ()


@pytest.mark.parametrize(("text", "code"), [("much", "unread"), ("0 gal/d", "not_above_zero")])
def test_a_bad_use_a_day_is_a_stop_only_where_it_is_used(text: str, code: str) -> None:
    for entries, level in (
        ({}, Level.CAUTION),
        ({"demand_method": M.TWO_HOURS}, Level.STOP),
        ({"well_yield": "5 gpm"}, Level.STOP),
    ):
        found = view(daily_use=text, **entries)
        (finding,) = found.findings
        assert (finding.code, finding.field, finding.level) == (code, "daily_use", level)
        assert found.household.daily_use is None
        assert found.well is None
    assert found.outcome is None  # the well's verdict needs the day's use
    assert outcome_words(found, Display())[2] == "problem"


@pytest.mark.parametrize(
    ("text", "code"), [(None, "needed"), ("?", "unread"), ("0 gpm", "not_above_zero")]
)
def test_a_typed_peak_must_be_there_when_it_is_chosen(text: str | None, code: str) -> None:
    found = view(demand_method=M.TYPED, peak_demand=text)
    (finding,) = found.findings
    assert (finding.code, finding.field, finding.level) == (code, "peak_demand", Level.STOP)
    assert found.peak is None
    assert peak_reason(found)
    assert view(peak_demand=text).findings == ()  # not used by another method


def test_a_yield_that_cannot_be_used_is_not_taken_for_none() -> None:
    found = view(well_yield="0 gpm")
    assert (found.outcome, found.tank, found.well) == (None, None, None)
    assert found.peak is not None


def test_an_unread_pump_leaves_the_peak() -> None:
    found = view(pump_flow="ten")
    assert found.peak is not None
    assert (found.outcome, found.flows, found.supply) == (None, None, None)
    assert "pump" in outcome_words(found, Display())[1]


# --- pump and tank ---


def test_the_worked_example_of_a_small_deficit() -> None:
    # Trade magazine for water-well drillers, "When the well runs dry": 10 gpm given, 13 asked for,
    # 3 × 7 = 21 gal, with the 10 gal of one minute's run 31 gal.
    found = asked("13 gpm", pump_flow="10 gpm", run_time="1 min")
    assert found.tank is not None
    assert found.tank.extra / GAL == pytest.approx(21.0)
    assert found.tank.required / GAL == pytest.approx(10.0)
    assert found.tank.together / GAL == pytest.approx(31.0)
    assert found.outcome is Outcome.TANK_FOR_PUMP
    assert not found.tank_is_no_cure
    assert no_cure_words(found) == ""
    pp, pin, pout = (p * PSI + SEA for p in (28, 30, 50))
    assert found.tank.total_volume is not None
    assert found.tank.total_volume / GAL == pytest.approx(31.0 / (pp / pin - pp / pout))
    extra, together = house_steps(found, Display())
    assert extra.numbers == "(13.0 gpm − 10.0 gpm) × 7 min = 21.0 gal"
    assert together.numbers == "10.0 gal + 21.0 gal = 31.0 gal"


@pytest.mark.parametrize(
    ("peak", "outcome"),
    [
        ("9 gpm", Outcome.COVERED),
        ("10 gpm", Outcome.COVERED),
        ("600 gph", Outcome.COVERED),
        ("37.85411784 L/min", Outcome.COVERED),
        ("10.01 gpm", Outcome.TANK_FOR_PUMP),
        ("13 gpm", Outcome.TANK_FOR_PUMP),
        ("49.210353192 L/min", Outcome.TANK_FOR_PUMP),
        ("13.01 gpm", Outcome.LARGER_PUMP),
    ],
)
def test_the_pump_alone_is_judged_where_no_yield_is_entered(peak: str, outcome: Outcome) -> None:
    found = asked(peak)
    assert found.outcome is outcome
    assert (found.tank is None) is (outcome is Outcome.COVERED)
    assert found.well is None
    assert ("lends water" in no_cure_words(found)) is (outcome is Outcome.LARGER_PUMP)


def test_a_falling_flow_is_judged_at_cut_in_and_the_pressure_settles_where_it_meets_the_peak() -> (
    None
):
    found = asked("11 gpm", **TWO_FLOWS)
    assert found.outcome is Outcome.COVERED
    assert found.flows is not None
    assert found.flows.at_cut_in / GPM == pytest.approx(12.0)
    assert found.flows.at_cut_out / GPM == pytest.approx(8.0)
    assert 8.0 < found.flows.mean / GPM < 12.0
    # p = p0 - k Q² through both points: 50 - 20 (11² - 8²) / (12² - 8²) psi
    assert found.settles_at is not None
    assert found.settles_at / PSI == pytest.approx(50 - 20 * (121 - 64) / (144 - 64), rel=1e-4)
    assert asked("7 gpm", **TWO_FLOWS).settles_at is None  # the pump cycles
    short = asked("13 gpm", **TWO_FLOWS)
    assert short.settles_at is None
    assert short.deficit / GPM == pytest.approx(1.0)


def test_no_tank_is_told_where_nothing_can_be_sized() -> None:
    assert asked("13 gpm", cut_in="thirty").tank is None
    full = asked("13 gpm", precharge_rule="typed", precharge="55 psi")
    assert full.tank is not None
    assert full.tank.total_volume is None  # it takes no water


# --- the well ---


def test_the_storage_rule_covers_two_hours() -> None:
    # US EPA, Seahome library, Storage, "Reservoirs": 20 gpm short is 2,400 gal.
    found = asked("25 gpm", pump_flow="25 gpm", well_yield="5 gpm", daily_use="600 gal/d")
    assert found.outcome is Outcome.STORAGE
    assert found.well is not None
    assert found.well.low.storage / GAL == pytest.approx(2400.0)
    assert found.well.cover is not None
    assert found.well.cover / 86_400 == pytest.approx(4.0)
    assert found.well_is_less
    assert "lends water" in no_cure_words(found)
    assert house_steps(found, Display())[-1].numbers.endswith("× 120 min = 2400 gal")


@pytest.mark.parametrize(("use", "gives", "store"), [(400, 0.5, 8), (400, 0.3, 58), (600, 0.5, 70)])
def test_the_days_balance_by_the_hours(use: float, gives: float, store: float) -> None:
    # Recomputed by hand from the hourly shape of the HPXML simulation project, National Renewable
    # Energy Laboratory: 8, 58 and 70 gal.
    found = asked("9 gpm", well_yield=f"{gives} gpm", daily_use=f"{use} gal/d")
    assert found.well is not None
    assert found.well.balance / GAL == pytest.approx(store, abs=0.5)


@pytest.mark.parametrize(
    ("well_yield", "verdict", "outcome"),
    [
        ("10 gpm", WellVerdict.PLAIN, Outcome.COVERED),
        ("9 gpm", WellVerdict.PLAIN, Outcome.COVERED),
        ("8.9 gpm", WellVerdict.SMALL_DEFICIT, Outcome.TANK_FOR_WELL),
        ("6 gpm", WellVerdict.SMALL_DEFICIT, Outcome.TANK_FOR_WELL),
        ("5.9 gpm", WellVerdict.STORAGE, Outcome.STORAGE),
        ("0.2 gpm", WellVerdict.STORAGE, Outcome.STORAGE),
        ("0.1 gpm", WellVerdict.NOT_SOLVABLE, Outcome.NOT_SOLVABLE),
    ],
)
def test_the_verdict_on_the_well(well_yield: str, verdict: WellVerdict, outcome: Outcome) -> None:
    found = asked("9 gpm", pump_flow="10 gpm", well_yield=well_yield)  # 234 gal a day: 0.163 gpm
    assert found.well is not None
    assert found.well.low.verdict is verdict
    assert found.outcome is outcome
    assert math.isinf(found.well.balance) is (outcome is Outcome.NOT_SOLVABLE)
    assert found.tank_is_no_cure is (outcome in {Outcome.STORAGE, Outcome.NOT_SOLVABLE})


def test_a_good_well_with_a_small_pump_asks_for_a_larger_pump() -> None:
    found = asked("15 gpm", pump_flow="10 gpm", well_yield="20 gpm")
    assert found.well is not None
    assert found.well.low.verdict is WellVerdict.PLAIN
    assert found.outcome is Outcome.LARGER_PUMP
    assert not found.well_is_less
    assert "a pump that gives more" in no_cure_words(found)
    assert asked("12 gpm", pump_flow="10 gpm", well_yield="20 gpm").outcome is (
        Outcome.TANK_FOR_PUMP
    )


def test_a_book_on_wells_is_quoted_on_the_yield() -> None:
    # Alberta Agriculture, Water Wells that Last, module 2, p. 11: below 5 gpm, to 10, from 10.
    for well_yield, said in (
        ("4.9 gpm", HouseholdSupply.STORAGE_USUALLY_NEEDED),
        ("5 gpm", HouseholdSupply.USUALLY_ENOUGH),
        ("10 gpm", HouseholdSupply.ENOUGH_FOR_HEAVY_USE),
    ):
        found = view(well_yield=well_yield)
        assert found.well is not None
        assert found.well.household is said


def test_more_yield_never_makes_a_worse_verdict() -> None:
    ladder = [Outcome.NOT_SOLVABLE, Outcome.STORAGE, Outcome.TANK_FOR_WELL, Outcome.COVERED]
    places = []
    for tenth in range(1, 130):
        outcome = asked("12 gpm", pump_flow="12 gpm", well_yield=f"{tenth / 10} gpm").outcome
        assert outcome is not None
        places.append(ladder.index(outcome))
    assert all(low <= high for low, high in pairwise(places))
    assert set(places) == set(range(4))


# --- whatever is typed ---

ODD = ["0", "-1", "1,500", "x", "", "9" * 40, "0." + "0" * 30 + "5"]
count = st.sampled_from(["0", "1", "2", "3", "1.5", *ODD])
flow = st.sampled_from(["0.1 gpm", "4 gpm", "10 gpm", "40 L/min", "x", "0 gpm", f"{'9' * 40} gpm"])
entries = st.fixed_dictionaries(
    {},
    optional={
        **dict.fromkeys(NOTHING, count),
        "demand_method": st.sampled_from(list(M)),
        "peak_demand": st.one_of(st.none(), flow),
        "well_yield": st.one_of(st.none(), flow),
        "pump_flow": flow,
        "daily_use": st.one_of(st.none(), st.sampled_from(["300 gal/d", "9 m³/d", "x", "0 L/d"])),
        "precharge": st.sampled_from(["28 psi", "60 psi"]),
        "precharge_rule": st.sampled_from(["typed", "cut_in"]),
    },
)


@settings(max_examples=200, deadline=None, derandomize=True, database=None)
@given(entries)
def test_whatever_is_typed_there_is_a_peak_or_a_reason(given_entries: dict[str, Any]) -> None:
    found = view(**given_entries)
    data = house_record(found)
    json.dumps(data, allow_nan=False)
    assert len({(one.code, one.field) for one in found.findings}) == len(found.findings)
    for display in (Display(), Display(System.METRIC, ",")):
        for one in found.estimates:
            assert estimate_words(one, display)
            assert (one.flow is None) or one.flow > 0.0
        figure, reason, _ = outcome_words(found, display)
        assert reason
        assert bool(figure) is (found.outcome is not None)
        assert peak_reason(found)
        assert "{" not in f"{figure}{reason}{spread_words(found, display)}"
    if found.outcome is Outcome.COVERED:
        assert found.deficit == 0.0
        assert found.tank is None


def test_the_record_has_the_unit_of_each_figure_in_its_key() -> None:
    data = house_record(asked("13 gpm", well_yield="4 gpm"))
    assert data["peak_demand_gpm"] == 13.0
    assert data["supply_gpm"] == 4.0
    assert data["verdict"] == "storage"
    assert data["tank"]["extra_drawdown_gal"] == pytest.approx(63.0)
    assert data["well"]["storage_gal"] == pytest.approx(1080.0)
    assert {row["method"] for row in data["methods"]} == {method.value for method in M}
    assert all(row["source"] for row in data["methods"])
    plain = {"methods_spread", "fixture_units"}
    units = ("_gpm", "_gal", "_gal_per_day", "_psi", "_min")
    for part in (data, *data["methods"], data["tank"], data["well"]):
        for key, value in part.items():
            if isinstance(value, float):
                assert key in plain or key.endswith(units), key
