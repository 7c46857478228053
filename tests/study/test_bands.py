"""Today's tank at other switch bands: each column is what the job gives with its switch there."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import GAL, GPM, PSI, SEA, TWO_FLOWS, arranged, results, tank
from workbench.study.at_band import at_band, band_changes, one_band
from workbench.study.bands.record import bands_record
from workbench.study.bands.view import BandColumn, BandsView, adopting
from workbench.study.bands.words import sentences
from workbench.study.evaluate import Results, evaluate
from workbench.study.findings import Level
from workbench.units import PRESSURE, Band, Display, parse, parse_bands

STOP = Level.STOP
SHELF = (
    tank("Weak 30", total_volume=30, height=20, max_working_pressure=70, price="200"),
    tank("Soft 40", total_volume=40, height=20, highest_precharge=40, price="300"),
    tank("Plain 44", total_volume=44, height=36, price="400.10"),
    tank("Bladder 52", total_volume=52, acceptance=10, height=36, price="450"),
    tank("Tall 58", total_volume=58, height=90, price="430"),
    tank("Sound 60", total_volume=60, height=40, price="510.25"),
    tank("Sound 85", price="800"),
)
PLAIN = {"first_tank": "plain-44"}
LABEL = {"today_volume": "44 gal"}
CURVE = {
    "pump_entry": "curve",
    "curve": "0 gpm 280 ft; 5 gpm 262 ft; 10 gpm 225 ft; 15 gpm 150 ft",
    "water_level": "110 ft",
}


def view(*shelf: Any, **entries: Any) -> BandsView:
    return results(*(shelf or SHELF), **entries).bands


def column(name: str, **entries: Any) -> BandColumn:
    (found,) = [one for one in view(**entries).columns if one.name == name]
    return found


def factor(low: float, high: float, charge: float, ambient: float = SEA) -> float:
    """Boyle's law by itself, gauge psi."""
    low, high, charge = (at * PSI + ambient for at in (low, high, charge))
    return 1 - charge / high if charge > low else charge / low - charge / high


# --- published and worked figures ---


def test_a_higher_band_gives_30_then_26_percent_and_asks_10_psi_of_air_and_23_feet() -> None:
    # Worked from Boyle's law and 2.307 ft/psi; a trade's reckoning has 30 %, 26 %, 10 psi, 23.1 ft.
    today, other = column("30/50", **LABEL), column("40/60", **LABEL)
    assert today.gives is not None
    assert other.gives is not None
    assert today.gives.drawdown / (44 * GAL) == pytest.approx(0.30, abs=0.005)
    assert other.gives.drawdown / (44 * GAL) == pytest.approx(0.26, abs=0.005)
    assert other.moves == pytest.approx(10 * PSI)
    assert other.head_more / 0.3048 == pytest.approx(23.1, abs=0.05)


@pytest.mark.parametrize(
    ("today", "other", "right", "left", "loss"),
    [("30/50", "40/60", 11.35, 9.20, 0.19), ("40/60", "30/50", 12.99, 8.16, 0.37)],
)
def test_a_precharge_left_as_it_was_costs_a_fifth_or_a_third(
    today: str, other: str, right: float, left: float, loss: float
) -> None:
    # 44 gal: 28 psi left on 40/60 gives 9.2 of 11.35 gal; 38 psi left on 30/50 gives 8.2 of 13.0.
    low, high = today.split("/")
    found = column(other, cut_in=f"{low} psi", cut_out=f"{high} psi", **LABEL)
    assert found.gives is not None
    assert found.left is not None
    assert found.gives.drawdown / GAL == pytest.approx(right, abs=0.005)
    assert found.left.drawdown / GAL == pytest.approx(left, abs=0.005)
    assert found.left.share == pytest.approx(loss, abs=0.005)


def test_a_charge_above_the_new_cut_in_empties_early_by_seconds_of_the_steady_draw() -> None:
    found = column("30/50", cut_in="40 psi", cut_out="60 psi", steady_draw="5 gpm", **LABEL)
    left = found.left
    assert left is not None
    assert left.gap == pytest.approx(8 * PSI)
    assert left.lasts == pytest.approx(left.drawdown / (5 * GPM))
    assert left.sooner == pytest.approx((44 * GAL * factor(30, 50, 28) - left.drawdown) / (5 * GPM))
    without = column("30/50", cut_in="40 psi", cut_out="60 psi", steady_draw="0 gpm", **LABEL)
    assert without.left is not None
    assert without.left.lasts is None
    below = column("40/60", steady_draw="5 gpm", **LABEL).left
    assert below is not None
    assert (below.gap, below.lasts, below.sooner) == (0.0, None, None)


def test_a_charge_at_or_above_the_new_cut_out_lets_no_water_in() -> None:
    found = column("20/40", cut_in="50 psi", cut_out="70 psi", **LABEL)
    assert found.left is not None
    assert found.left.drawdown == 0.0
    assert found.left.share == pytest.approx(1.0)
    assert "no water enters" in sentences(found, view(**LABEL), Display())


def test_where_the_precharge_stays_nothing_is_left_behind() -> None:
    wider = column("30/60", bands="30/60 psi", **LABEL)
    assert wider.moves == pytest.approx(0.0, abs=1e-6)
    assert wider.left is None


# --- each column is the job's ---


JOBS: dict[str, dict[str, Any]] = {
    "one flow": PLAIN,
    "first of the ranking": {},
    "typed tank": LABEL | {"today_acceptance": "12 gal"},
    "typed precharge": PLAIN | {"precharge_rule": "typed", "precharge": "1.8 bar"},
    "pump curve": PLAIN | CURVE,
    "two flows": PLAIN | TWO_FLOWS,
    "timed refill": PLAIN
    | {"pump_entry": "bucket", "bucket_volume": "5 gal", "bucket_time": "30 s"},
    "high and metric": PLAIN
    | TWO_FLOWS
    | {"altitude": "1600 m", "bands": "2/3.5, 2.5/4 bar", "exponent": "1.2"},
    "set elsewhere": PLAIN | {"reading_altitude": "5000 ft", "reading_temperature": "75 °F"},
    "two tanks": {"header_tanks": 2, "first_tank": "bladder-52 + bladder-52"} | CURVE,
}


def same_numbers(one: Results, other: Results) -> None:
    """Whatever the pages show of two jobs is the same."""
    assert one.setting == other.setting
    assert one.precharge == other.precharge
    assert one.sizing == other.sizing
    assert one.findings == other.findings
    assert (one.duty is None) == (other.duty is None)
    if one.ranking is not None:
        assert other.ranking is not None
        for name in ("drawdown", "run_time", "starts", "fails", "notes", "order"):
            np.testing.assert_array_equal(getattr(one.ranking, name), getattr(other.ranking, name))
    assert one.cycle.cycle is not None
    assert other.cycle.cycle is not None
    assert one.cycle.cycle.worst == other.cycle.cycle.worst


@pytest.mark.parametrize("name", JOBS)
def test_making_a_column_the_job_gives_its_numbers_everywhere(name: str) -> None:
    before = results(*SHELF, **JOBS[name])
    for found in before.bands.columns:
        changes = adopting(before, found)
        after = evaluate(before.job.changed(**changes), before.candidates)
        assert after.bands.today is not None
        if found.gives is None:
            assert after.bands.today.gives is None
            continue
        named = evaluate(before.job.changed(first_tank=after.job.first_tank), before.candidates)
        same_numbers(at_band(named, found.band, found.unit), after)
        today = after.bands.today
        assert today.gives == found.gives
        assert today.precharge == found.precharge
        assert (today.head, today.lowest, today.highest) == (
            found.head, found.lowest, found.highest,
        )  # fmt: skip
        assert after.bands.tank is not None
        assert before.bands.tank is not None
        assert after.bands.tank.key == before.bands.tank.key


@pytest.mark.parametrize("name", JOBS)
def test_todays_band_gives_todays_numbers(name: str) -> None:
    found = results(*SHELF, **JOBS[name])
    (today, *_others) = found.bands.columns
    assert today.is_today
    same_numbers(found, at_band(found, today.band, today.unit))


@pytest.mark.parametrize("name", JOBS)
def test_a_tank_of_the_catalogue_gives_what_the_ranking_and_the_cycle_say(name: str) -> None:
    found = results(*SHELF, **JOBS[name])
    key = found.bands.tank.key if found.bands.tank else ""
    if not key:
        return
    for one in found.bands.columns:
        ranking = one.results.ranking
        if one.gives is None or ranking is None:
            continue
        judged = ranking.judged(ranking.candidates.by_key[key])
        assert one.gives.drawdown == pytest.approx(judged.drawdown, rel=1e-12)
        assert one.gives.run == pytest.approx(judged.run_time, rel=1e-12)
        assert one.gives.starts == pytest.approx(judged.starts, rel=1e-12)


def test_a_typed_precharge_moves_with_cut_in_in_its_own_unit() -> None:
    job = results(precharge_rule="typed", precharge="1.8 bar").job
    (moved,) = [band_changes(job, Band(40 * PSI, 60 * PSI, "40/60"), "psi")["precharge"]]
    assert moved.unit == "bar"
    assert moved.si == pytest.approx(1.8e5 + 10 * PSI)
    exact = results(precharge_rule="typed", precharge="28 psi").job
    changes = band_changes(exact, Band(40 * PSI, 60 * PSI, "40/60"), "psi")
    assert str(changes["precharge"]) == "38 psi"


def test_a_precharge_that_moves_to_nothing_is_a_plain_nought_that_can_be_read_again() -> None:
    job = results(precharge_rule="typed", precharge="0.7 psi", cut_in="30.1 psi").job
    moved = band_changes(job, Band(29.4 * PSI, 50 * PSI, "29.4/50"), "psi")["precharge"]
    assert str(moved) == "0 psi"
    tiny = band_changes(job, Band(29.400001 * PSI, 50 * PSI, "29.400001/50"), "psi")["precharge"]
    assert parse(str(tiny), PRESSURE).si == pytest.approx(1e-6 * PSI)


def test_two_flows_keep_their_curve_at_another_band() -> None:
    found = results(*SHELF, **PLAIN | TWO_FLOWS)
    moved = at_band(found, Band(40 * PSI, 60 * PSI, "40/60"), "psi")
    assert str(moved.job.flow_in_at) == "30 psi"
    assert str(moved.job.flow_out_at) == "50 psi"
    assert moved.pump is not None
    assert found.pump is not None
    assert moved.pump.shut_off == found.pump.shut_off == pytest.approx(66 * PSI)
    twice = at_band(moved, Band(20 * PSI, 40 * PSI, "20/40"), "psi")
    assert str(twice.job.flow_in_at) == "30 psi"
    assert twice.pump is not None
    assert twice.pump.shut_off == found.pump.shut_off


def test_flows_entered_for_a_pump_known_otherwise_stay_where_they_were_measured() -> None:
    found = results(*SHELF, **PLAIN | TWO_FLOWS | {"pump_entry": "constant"})
    moved = at_band(found, Band(40 * PSI, 60 * PSI, "40/60"), "psi").job
    again = evaluate(moved.changed(pump_entry="two_flows"), found.candidates)
    assert again.pump is not None
    assert again.pump.shut_off == pytest.approx(66 * PSI)


def test_one_band_is_told_from_several() -> None:
    assert one_band(parse_bands("40/60 psi")) == (parse_bands("40/60 psi").bands[0], "psi")
    assert one_band(parse_bands("30/50, 40/60 psi")) is None
    assert one_band(None) is None


# --- properties ---

pressure = st.floats(10, 80)


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(pressure, st.floats(5, 40), st.floats(1, 30), st.floats(-300, 9000))
def test_a_wider_band_at_the_same_cut_in_gives_more(
    low: float, width: float, wider: float, altitude: float
) -> None:
    low, high = round(low, 3), round(low + width, 3)
    entries = {
        "cut_in": f"{low} psi",
        "cut_out": f"{high} psi",
        "bands": f"{low}/{round(high + wider, 3)} psi",
        "altitude": f"{altitude:.1f} ft",
    }
    (other,) = view(**LABEL | entries).others
    assert other.change is not None
    assert other.change > 0.0
    assert other.left is None


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(pressure, st.floats(5, 40), pressure, st.floats(5, 40), st.floats(-300, 9000))
def test_without_a_limit_the_change_is_that_of_the_factors_at_any_altitude(
    low: float, width: float, other_low: float, other_width: float, altitude: float
) -> None:
    low, other_low = round(low, 2), round(other_low, 2)
    high, other_high = round(low + width, 2), round(other_low + other_width, 2)
    entries = {
        "cut_in": f"{low} psi",
        "cut_out": f"{high} psi",
        "bands": f"{other_low}/{other_high} psi",
        "altitude": f"{altitude:.0f} ft",
    }
    found = results(*SHELF, **LABEL | entries)
    others = found.bands.others
    if not others:
        assert (low, high) == (other_low, other_high)
        return
    assert found.setting is not None
    ambient = found.setting.ambient
    ratio = factor(other_low, other_high, other_low - 2, ambient) / factor(
        low, high, low - 2, ambient
    )
    assert others[0].share == pytest.approx(ratio - 1, rel=1e-9, abs=1e-12)


def test_a_band_in_another_unit_gives_the_same_numbers() -> None:
    falling = PLAIN | TWO_FLOWS | {"flow_at_cut_out": "11 gpm"}
    by_psi = column("40/60", bands="40/60 psi", **falling)
    in_bar = "/".join(f"{at * PSI / 1e5:.12f}" for at in (40, 60))
    (by_bar,) = view(bands=f"{in_bar} bar", **falling).others
    assert by_psi.gives is not None
    assert by_bar.gives is not None
    assert by_bar.gives.drawdown == pytest.approx(by_psi.gives.drawdown, rel=1e-9)
    assert by_bar.gives.run == pytest.approx(by_psi.gives.run, rel=1e-9)
    assert by_bar.moves == pytest.approx(by_psi.moves, rel=1e-9)


# --- columns and tank ---


def test_todays_band_stands_first_and_an_equal_one_does_not_follow() -> None:
    found = view(bands="20/40, 30/50, 40/60, 40.0/60 psi", **LABEL)
    assert [one.name for one in found.columns] == ["30/50", "20/40", "40/60"]
    assert [one.is_today for one in found.columns] == [True, False, False]
    in_bar = view(cut_in="2 bar", cut_out="3.5 bar", bands="2/3.5, 200/350 kPa", **LABEL)
    assert [one.name for one in in_bar.columns] == ["2/3.5", "2/3.5"]


def test_the_tank_is_typed_or_named_or_the_first_of_the_ranking() -> None:
    typed = view(**PLAIN | LABEL | {"today_volume": "50 gal", "today_rating": "90 psi"}).tank
    assert typed is not None
    assert (typed.parts, typed.rating) == ((), pytest.approx(90 * PSI))
    assert typed.total_volume == pytest.approx(50 * GAL)
    named = view(**PLAIN).tank
    assert named is not None
    assert (named.key, named.is_named) == ("plain-44", True)
    first = view().tank
    assert first is not None
    assert (first.key, first.is_named) == ("soft-40", False)


def test_the_tank_stays_todays_though_another_band_ranks_another_first() -> None:
    found = results(*SHELF, run_time="1.1 min")
    other = next(one for one in found.bands.columns if one.name == "40/60")
    assert other.results.ranking is not None
    assert other.results.ranking.row(0).tank.id != "soft-40"
    assert other.gives is not None
    assert other.gives.drawdown == pytest.approx(40 * GAL * factor(40, 60, 38))
    assert adopting(found, other)["first_tank"] == "soft-40"
    assert "first_tank" not in adopting(results(*SHELF, **PLAIN), other)


def test_the_smallest_tank_with_todays_run_passes_all_other_limits() -> None:
    # Plain 44 at 30/50 gives 13.0 gal; at 40/60 that takes 50.4 gal of total volume. The tank of
    # 52 gal is held by its membrane, that of 58 is too tall.
    found = column("40/60", headroom="74 in", **PLAIN)
    assert found.keeps_run is False
    assert found.replacement is not None
    assert found.replacement.one.tank.id == "sound-60"
    assert found.replacement.price_more == Decimal("110.15")
    assert column("40/60", **PLAIN).replacement is not None
    taller = column("40/60", **PLAIN).replacement
    assert taller is not None
    assert taller.one.tank.id == "tall-58"
    assert taller.price_more == Decimal("29.90")
    lower = column("20/40", **PLAIN)
    assert (lower.keeps_run, lower.replacement) == (True, None)
    by_label = column("40/60", **LABEL)
    assert by_label.replacement is not None
    assert (by_label.replacement.price, by_label.replacement.price_more) == (Decimal(430), None)


def test_no_tank_that_restores_the_run_is_said_so() -> None:
    found = view(SHELF[2], **PLAIN)
    other = next(one for one in found.columns if one.name == "40/60")
    assert (other.keeps_run, other.replacement) == (False, None)
    assert "No tank of the catalogue" in _all_words(other, found)


def test_an_acceptance_limits_a_typed_tank() -> None:
    limited = column("40/60", **LABEL | {"today_acceptance": "12 gal"})
    assert limited.gives is not None
    high, low = factor(38, 60, 38), 1 - (38 * PSI + SEA) / (40 * PSI + SEA)
    assert limited.gives.drawdown == pytest.approx((min(44 * high, 12) - 44 * low) * GAL)


def test_a_band_that_the_pump_cannot_reach_is_a_stop_and_has_no_figures_of_a_cycle() -> None:
    found = column("50/70", **PLAIN | TWO_FLOWS)  # shut-off at 66 psi
    assert found.never_stops
    assert found.gives is None
    assert found.precharge is None
    assert found.is_stopped
    assert [one.code for one in found.findings if one.level is STOP] == ["cannot_reach"]
    assert found.pump is not None
    assert found.pump.margin == pytest.approx(-4 * PSI)


def test_where_todays_band_cannot_be_reached_a_lower_one_is_still_answered() -> None:
    found = view(**PLAIN | CURVE | {"cut_in": "60 psi", "cut_out": "80 psi"})
    assert found.today is not None
    assert found.today.never_stops
    lower = next(one for one in found.columns if one.name == "30/50")
    assert lower.gives is not None
    assert lower.gives.run is not None
    assert lower.precharge is not None
    assert lower.change is None


def test_static_and_highest_pressure_are_those_of_a_column_of_water() -> None:
    found = column("40/60", lowest_fixture="23.07 ft", highest_fixture="-11.535 ft", **LABEL)
    assert found.lowest / PSI == pytest.approx(70, abs=0.01)
    assert found.highest / PSI == pytest.approx(45, abs=0.01)


def test_a_stop_withholds_the_precharge_of_that_band_alone() -> None:
    found = view(**PLAIN | {"first_tank": "soft-40"})  # may be charged to 40 psi
    charges = {one.name: one.precharge is not None for one in found.columns}
    assert charges == {"30/50": True, "20/40": True, "40/60": True, "50/70": False}
    everywhere = view(**PLAIN | {"relief_setting": "130 psi"})
    assert not any(one.precharge for one in everywhere.columns)


def _all_words(one: BandColumn, found: BandsView) -> str:
    from workbench.study.bands.words import replacement_sentence

    return sentences(one, found, Display()) + replacement_sentence(one, Display())


# --- as plain data ---


def test_the_record_holds_us_units() -> None:
    record = bands_record(results(*SHELF, **PLAIN))
    today, _, other, _ = record["bands"]
    assert (today["band"], today["today"]) == ("30/50 psi", True)
    assert other["precharge_psi"] == 38.0
    assert other["precharge_moves_psi"] == 10.0
    assert other["drawdown_gal"] == pytest.approx(44 * factor(40, 60, 38))
    assert other["smallest_with_todays_run"]["price_more"] == "29.90"
    assert any("0.2580 × 44.0 gal" in step for step in other["working"])


def test_a_catalogue_in_two_currencies_has_prices_but_no_difference() -> None:
    shelf = (SHELF[2], SHELF[6].model_copy(update={"currency": "CAD"}))
    found = replace(results(**PLAIN), candidates=arranged(shelf))
    found = evaluate(found.job, found.candidates)
    other = next(one for one in found.bands.columns if one.name == "40/60")
    assert other.replacement is not None
    assert (other.replacement.price, other.replacement.price_more) == (Decimal(800), None)


# --- flows that were measured at another band ---


def test_flows_count_at_the_pressures_where_they_were_measured() -> None:
    found = results(*SHELF, **PLAIN | TWO_FLOWS | {"flow_in_at": "20 psi", "flow_out_at": "45 psi"})
    assert found.pump is not None
    k = 25 * PSI / (144 - 64)  # p = p0 − k Q², Q in gpm
    assert found.pump.shut_off == pytest.approx(20 * PSI + 144 * k)
    assert found.pump.at_cut_in is not None
    assert found.pump.at_cut_in.flow / GPM == pytest.approx(
        ((found.pump.shut_off - 30 * PSI) / k) ** 0.5
    )


def test_an_empty_pressure_is_the_present_cut_in_or_cut_out() -> None:
    one = results(*SHELF, **PLAIN | TWO_FLOWS | {"flow_out_at": "50 psi"})
    other = results(*SHELF, **PLAIN | TWO_FLOWS | {"flow_in_at": "30 psi"})
    both = results(*SHELF, **PLAIN | TWO_FLOWS)
    for found in (one, other):
        assert found.pump is not None
        assert both.pump is not None
        assert found.pump.shut_off == both.pump.shut_off
