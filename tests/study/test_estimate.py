"""The options of an estimate: their bands, tanks, starts a day, prices, and what is open."""

from __future__ import annotations

import datetime
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from tests.study.build import GAL, PSI, results, tank
from workbench.study.estimate import dates, found, offer_findings, offers, open_points
from workbench.study.estimate.offers import Offer
from workbench.study.estimate.proposal import APART, STEPS, propose
from workbench.study.estimate.view import EstimateView
from workbench.study.evaluate import Results
from workbench.study.findings import Level
from workbench.study.pricing.parts import usual_items
from workbench.units import MONEY, parse

NOTE, CAUTION, STOP = Level.NOTE, Level.CAUTION, Level.STOP
DAY = 86_400.0
SHELF = (
    tank("Small 44", total_volume=44, diameter=22, height=36, price="300"),
    tank("Usual 85", price="800"),
    tank("Large 119", total_volume=119, diameter=26, height=66, price="1100"),
)
WHOLE = {
    "firm_name": "Invented Wells",
    "customer_name": "Invented Customer",
    "estimate_date": "2026-03-02",
    "permit": "not_needed",
    "licence": "not_needed",
    "prices": tuple(replace(item, price=parse("10", MONEY)) for item in usual_items().values()),
}


def of(*tanks: Any, **entries: Any) -> Results:
    return results(*(tanks or SHELF), **WHOLE | entries)


def view(*tanks: Any, **entries: Any) -> EstimateView:
    return of(*tanks, **entries).estimate


def codes(view_or_offer: EstimateView | Offer) -> list[tuple[Level, str, str]]:
    return [(one.level, one.code, one.field) for one in view_or_offer.findings]


# --- the options ---


def test_option_a_is_the_first_that_passes_and_the_others_need_a_tank() -> None:
    (only,) = view().offers
    assert (only.letter, only.label) == ("A", "Option A")
    assert only.one is not None
    assert only.one.name == "Small 44"
    assert only.band_name == "30/50 psi"
    assert not only.band_moves
    assert only.precharge is not None
    assert only.precharge.in_service == pytest.approx(28 * PSI)
    assert codes(only) == []


def test_an_option_is_judged_at_its_own_band() -> None:
    both = view(offer_b_tank="usual-85", offer_b_band="40/60 psi", offer_b_label="More pressure")
    a, b = both.offers
    charge, low, high = (p * PSI + 101_325.0 for p in (38, 40, 60))
    assert b.one is not None
    assert b.one.drawdown == pytest.approx(85 * GAL * charge * (1 / low - 1 / high))
    assert (b.label, b.band_name, b.band_moves) == ("More pressure", "40/60 psi", True)
    assert b.precharge is not None
    assert b.precharge.in_service == pytest.approx(38 * PSI)
    assert a.results.setting is not None
    assert a.results.setting.cut_in == pytest.approx(30 * PSI)


def test_the_first_of_the_options_band_is_taken_where_a_has_a_band_and_no_tank() -> None:
    (a,) = view(offer_a_band="50/70 psi").offers
    assert a.one is not None
    assert a.results.ranking is not None
    assert a.one.name == a.results.ranking.row(0).name
    assert a.one.passes


def test_starts_a_day_are_the_water_of_a_mean_day_over_the_drawdown() -> None:
    (a,) = view(daily_use="240 gal/d", leak="20 gal/d").offers
    assert a.one is not None
    assert a.daily_volume == pytest.approx(260 * GAL)
    assert a.starts_per_day == pytest.approx(260 * GAL / a.one.drawdown / DAY)


def test_starts_a_day_are_those_of_the_days_page() -> None:
    """The same volume that the day's simulation draws on the average, irrigation included."""
    from workbench.study.day.plan import day_plan

    there = of(irrigation_flow="6 gpm", irrigation_time="30 min", people="3")
    plan, _ = day_plan(there)
    assert plan is not None
    assert there.estimate.offers[0].daily_volume == pytest.approx(plan.house.mean_volume)


@pytest.mark.parametrize(
    ("entries", "moves"),
    [
        ({}, False),
        ({"found_cut_in": "31 psi", "found_cut_out": "49 psi"}, False),  # as near as a gauge tells
        ({"found_cut_in": "20 psi", "found_cut_out": "40 psi"}, True),
        ({"found_cut_in": "20 psi"}, False),  # half a band is none: the job's counts
        ({"found_cut_in": "20 psi", "found_cut_out": "40 psi", "offer_a_band": "20/40 psi"}, False),
        ({"offer_a_band": "40/60 psi"}, True),
        ({"offer_a_band": "31/51 psi", "tol_gauge": "0 psi"}, True),
    ],
)
def test_the_switch_moves_where_the_band_is_not_the_one_found(
    entries: dict[str, Any], moves: bool
) -> None:
    assert view(**entries).offers[0].band_moves is moves


def test_an_option_at_the_jobs_own_band_shares_its_results() -> None:
    there = of(offer_a_band="30/50 psi")
    assert there.estimate.offers[0].results is there


def test_the_tanks_of_all_options_are_told_once() -> None:
    told = view(offer_b_tank="usual-85", offer_c_tank="usual-85", offer_c_band="40/60 psi")
    assert [one.id for one in told.tanks] == ["small-44", "usual-85"]


# --- findings, each once ---


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        ({"estimate_date": ""}, (CAUTION, "no_date", "estimate_date")),
        ({"estimate_date": "2 March"}, (STOP, "date_unread", "estimate_date")),
        ({"estimate_date": "2026-02-30"}, (STOP, "date_unread", "estimate_date")),
        ({"estimate_date": "9999-12-30"}, (STOP, "date_far", "estimate_date")),
        ({"valid_days": "2.5"}, (STOP, "days_range", "valid_days")),
        ({"valid_days": "99999"}, (STOP, "days_range", "valid_days")),
        ({"valid_days": "0"}, (STOP, "not_above_zero", "valid_days")),
        ({"firm_name": " "}, (CAUTION, "no_firm", "firm_name")),
        ({"customer_name": ""}, (CAUTION, "no_customer", "customer_name")),
        ({"permit": "not_answered"}, (CAUTION, "permit_open", "permit")),
        ({"licence": "not_answered"}, (CAUTION, "licence_open", "licence")),
        ({"licence": "firm"}, (CAUTION, "licence_not_named", "firm_licence")),
        ({"found_cut_in": "50 psi", "found_cut_out": "30 psi"},
         (CAUTION, "found_upside_down", "found_cut_out")),
        ({"found_drawdown": "some"}, (CAUTION, "unread", "found_drawdown")),
        ({"highest_fixture": "up"}, (CAUTION, "unread", "highest_fixture")),
        ({"relief_setting": "high"}, (CAUTION, "unread", "relief_setting")),
        ({"offer_b_label": "Nothing yet"}, (CAUTION, "offer_without_tank", "offer_b_tank")),
        ({"offer_b_tank": "small-44"}, (CAUTION, "same_option", "offer_b_tank")),
        ({"firm_logo": "no picture"}, (CAUTION, "logo_unusable", "firm_logo")),
    ],
)  # fmt: skip
def test_what_is_open_on_the_paper_is_a_finding(
    entries: dict[str, Any], expected: tuple[Level, str, str]
) -> None:
    assert codes(view(**entries)) == [expected]


def test_a_whole_estimate_has_no_finding() -> None:
    assert view().every_finding == ()


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        ({"offer_a_band": "40 to 60"}, (STOP, "unread", "offer_a_band")),
        ({"offer_a_band": "30/50, 40/60 psi"}, (STOP, "one_band", "offer_a_band")),
        ({"offer_a_tank": "sold-out"}, (STOP, "tank_gone", "offer_a_tank")),
        ({"run_time": "30 min"}, (STOP, "none_passes", "offer_a_tank")),
        ({"people": "many"}, (CAUTION, "no_starts_a_day", "people")),
        ({"offer_a_tank": "small-44", "run_time": "3 min"},
         (CAUTION, "does_not_pass", "offer_a_tank")),
        ({"relief_setting": "130 psi"}, (CAUTION, "relief_above_marked", "offer_a_tank")),
        ({"offer_a_band": "75/95 psi"}, (CAUTION, "static_above_80", "offer_a_band")),
    ],
)  # fmt: skip
def test_what_speaks_against_an_option_is_its_finding(
    entries: dict[str, Any], expected: tuple[Level, str, str]
) -> None:
    assert expected in codes(view(**entries).offers[0])


def test_a_tank_that_may_not_be_set_so_withholds_its_setting() -> None:
    weak = tank("Weak 85", max_working_pressure=45, factory_precharge=28, highest_precharge=40)
    (a,) = view(weak, offer_a_tank="weak-85").offers
    assert (STOP, "above_marked", "offer_a_tank") in codes(a)
    assert a.precharge is None
    soft = tank("Soft 85", factory_precharge=18, highest_precharge=20)
    (a,) = view(soft, offer_a_tank="soft-85").offers
    assert (STOP, "charge_above_marked", "offer_a_tank") in codes(a)
    assert a.precharge is None


def test_a_tank_without_drawdown_is_no_option() -> None:
    typed = {"precharge_rule": "typed", "precharge": "55 psi", "offer_a_tank": "usual-85"}
    (a,) = view(**typed).offers
    assert (STOP, "no_drawdown", "offer_a_tank") in codes(a)
    assert a.precharge is None
    assert a.starts_per_day is None


def test_without_a_catalogue_there_is_no_option() -> None:
    (a,) = results(**WHOLE).estimate.offers
    assert codes(a) == [(STOP, "no_tank", "offer_a_tank")]
    assert a.one is None
    assert a.priced is None


def test_a_tank_that_is_not_in_stock_is_noted() -> None:
    (a,) = view(tank("Usual 85", in_stock=False)).offers
    assert codes(a) == [(NOTE, "not_in_stock", "offer_a_tank")]


def test_a_band_that_the_pump_cannot_reach_is_a_stop_of_its_option_alone() -> None:
    curve = {
        "pump_entry": "curve",
        "curve": "0 gpm 185 ft; 8 gpm 170 ft; 14 gpm 120 ft; 17 gpm 70 ft",
        "water_level": "40 ft",
        "run_time": "0.5 min",
    }
    there = of(**curve, offer_b_tank="usual-85", offer_b_band="50/70 psi")
    assert not [one for one in there.findings if one.level is STOP]
    a, b = there.estimate.offers
    assert a.precharge is not None
    assert (STOP, "cannot_reach", "offer_b_band") in codes(b)
    assert b.precharge is None


def test_every_code_of_the_estimate_is_produced_here() -> None:
    import inspect
    import re

    from tests.study import test_estimate

    modules = (dates, found, open_points, offers, offer_findings)
    source = "".join(inspect.getsource(module) for module in modules)
    written = set(re.findall(r'Level\.\w+,\s+"([a-z_0-9]+)"', source))
    written |= {"does_not_pass", "no_starts_a_day"}
    here = inspect.getsource(test_estimate)
    assert len(written) >= 18
    assert [code for code in written if f'"{code}"' not in here] == []


# --- dates ---


def test_the_last_day_is_so_many_days_after_the_date() -> None:
    dated = view(estimate_date="2026-03-02", valid_days="30")
    assert dated.date == datetime.date(2026, 3, 2)
    assert dated.valid_until == datetime.date(2026, 4, 1)


# --- what was found ---


def test_the_flow_found_is_what_was_drained_over_the_time_to_refill() -> None:
    read = view(found_drawdown="4.5 gal", found_refill="27 s").found
    assert read.flow == pytest.approx(10 * GAL / 60)
    assert view(found_drawdown="4.5 gal").found.flow is None


def test_the_air_that_is_missing_goes_by_the_cut_in_found() -> None:
    read = view(found_cut_in="31 psi", found_precharge="12 psi").found
    assert read.charge_missing == pytest.approx(17 * PSI)
    assert view().found.is_empty


# --- the proposal ---


def test_three_options_are_proposed_that_run_longer_and_longer() -> None:
    there = of(pump_flow="12 gpm")
    entries = propose(there)
    proposed = of(pump_flow="12 gpm", **entries).estimate.offers
    assert [offer.letter for offer in proposed] == ["A", "B", "C"]
    assert there.ranking is not None
    runs = [offer.one.run_time / there.ranking.least_run for offer in proposed if offer.one]
    assert runs[0] >= STEPS[0]
    assert all(later >= APART * before for before, later in pairwise(runs))
    assert all(offer.one is not None and offer.one.passes for offer in proposed)
    assert entries["offer_b_label"] == f"{runs[1]:.1f} times the required run"
    assert not [one for offer in proposed for one in offer.findings]


def test_the_cheapest_that_is_long_enough_is_proposed_whatever_the_order() -> None:
    dear = tank("Dear 46", total_volume=46, diameter=22, height=38, price="900")
    entries = propose(of(dear, *SHELF, order="longest_run"))
    assert entries["offer_a_tank"] == "small-44"


def test_what_does_not_exist_is_not_proposed() -> None:
    entries = propose(of(SHELF[0]))
    assert entries["offer_a_tank"] == "small-44"
    assert entries["offer_b_tank"] == entries["offer_c_tank"] == ""
    unpriced = propose(of(tank("Usual 85", price=None)))
    assert unpriced["offer_a_tank"] == ""
    assert propose(results(**WHOLE))["offer_a_tank"] == ""


def test_a_proposal_can_be_edited_into_the_job_as_it_is() -> None:
    there = of()
    entries = propose(there)
    assert set(entries) == {
        f"offer_{letter}_{what}" for letter in "abc" for what in ("tank", "band", "label")
    }
    assert there.job.changed(**entries).offer_a_label == "The required run"


# --- prices ---


def test_an_option_is_priced_with_its_own_tank() -> None:
    a, b = view(offer_b_tank="usual-85").offers
    assert a.priced is not None
    assert b.priced is not None
    assert a.priced.totals is not None
    assert b.priced.totals is not None
    assert b.priced.totals.total - a.priced.totals.total == 500


def test_invented_prices_are_told_once() -> None:
    told = view(prices_invented=True, offer_b_tank="usual-85")
    assert codes(told) == [(CAUTION, "prices_invented", "prices_invented")]


def test_a_tank_without_a_price_stops_the_estimate() -> None:
    told = view(tank("Usual 85", price=None))
    assert (STOP, "tank_without_price", "tank_price") in codes(told)
    assert [one.code for one in told.stops] == ["tank_without_price"]
    assert told.offers[0].priced is not None
    assert told.offers[0].priced.totals is None
