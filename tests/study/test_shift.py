"""How the precharge shifts the drawdown: regions, costs, the gap, and what stands in the way."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import GAL, GPM, PSI, SEA, TWO_FLOWS, US, results, tank
from tests.study.shift_build import BIG, shift, typed, view
from workbench.physics.gap import no_water
from workbench.physics.motion import Happening
from workbench.study.findings import Level
from workbench.study.live.recording import Recording
from workbench.study.live.view import live_view
from workbench.study.shift.view import LOWEST_RIGHT, Region, region_of, shift_view
from workbench.study.shift.words import (
    gap_sentence,
    gap_text,
    region_sentence,
    starts_text,
)

HIGHER = {"cut_in": "40 psi", "cut_out": "60 psi"}


def water(volume: float, precharge: float, pressure: float) -> float:
    """Boyle's law by hand, in gal and psi gauge at sea level."""
    air = SEA / PSI
    return max(volume * (1.0 - (precharge + air) / (pressure + air)), 0.0)


# --- published numbers ---


def test_a_band_raised_with_the_old_air_costs_a_fifth_of_the_water() -> None:
    # The error list of our references: 44 gal, 28 psi on 40/60: 9.2 gal in place of 11.35, -19 %.
    found = typed("28 psi", **HIGHER)
    assert found.today.drawdown / GAL == pytest.approx(9.2, abs=0.05)
    assert found.recommended.drawdown / GAL == pytest.approx(11.35, abs=0.01)
    assert found.today.change == pytest.approx(-0.19, abs=0.005)
    assert found.today.region is Region.UNDER


def test_the_makers_charge_left_on_a_lower_band_costs_a_third() -> None:
    # The same list: 38 psi left at 30/50: 8.16 gal in place of 12.99, -37 %.
    found = typed("38 psi")
    assert found.today.drawdown / GAL == pytest.approx(8.16, abs=0.01)
    assert found.recommended.drawdown / GAL == pytest.approx(12.99, abs=0.01)
    assert found.today.change == pytest.approx(-0.37, abs=0.005)
    assert found.today.region is Region.OVER


def test_the_trade_column_of_2006_gives_the_recommended_drawdown() -> None:
    # "How to calculate and control pressure tank drawdown", February 2006: 85 gal, 28 psi on
    # 30/50: 25.1 gal.
    assert shift(live_volume="85 gal").recommended.drawdown / GAL == pytest.approx(25.1, abs=0.05)


# --- the curve ---


def test_the_curve_is_boyles_law_on_either_side_of_cut_in() -> None:
    found = shift()
    for place in range(0, len(found.over), 7):
        charge = float(found.over[place]) / PSI
        held, left = water(44, charge, 50), water(44, charge, 30)
        assert found.curve[place] / GAL == pytest.approx(held - left, abs=1e-9)
        assert found.left[place] / GAL == pytest.approx(left, abs=1e-9)
    assert found.over[0] == 0.0
    assert found.over[-1] > found.setting.cut_out
    assert found.curve[-1] == 0.0


def test_the_most_water_comes_at_cut_in_and_falls_to_either_side() -> None:
    found = shift()
    peak = int(np.argmax(found.curve))
    assert found.over[peak] == pytest.approx(30 * PSI)
    assert found.curve[peak] == pytest.approx(found.greatest.drawdown)
    assert np.all(np.diff(found.curve[: peak + 1]) > 0.0)
    assert np.all(np.diff(found.curve[peak:]) <= 0.0)


def test_a_membrane_limits_what_too_little_air_would_take_in() -> None:
    found = shift_view(
        results(tank("Small 44", total_volume=44.0, acceptance=20.0), pump_flow="5 gpm")
    ).shift
    assert found is not None
    assert found.limited_below is not None
    limit = found.limited_below
    assert found.at(limit).held == pytest.approx(20 * GAL)
    assert found.at(limit).of_acceptance == pytest.approx(1.0)
    assert found.at(limit + PSI).held < 20 * GAL
    assert found.at(limit - PSI).drawdown == pytest.approx(20 * GAL - found.at(limit - PSI).left)
    assert shift().limited_below is None
    assert shift().today.of_acceptance is None


def test_the_regions_meet_at_five_psi_below_cut_in_at_cut_in_and_at_cut_out() -> None:
    one = shift().setting
    expected = {
        0.0: Region.UNDER, 24.9: Region.UNDER, 25.0: Region.RIGHT, 30.0: Region.RIGHT,
        30.1: Region.OVER, 49.9: Region.OVER, 50.0: Region.SHUT, 60.0: Region.SHUT,
    }  # fmt: skip
    assert {charge: region_of(charge * PSI, one) for charge in expected} == expected
    assert shift().lowest_right == pytest.approx(one.cut_in - LOWEST_RIGHT)
    assert shift(cut_in="4 psi").lowest_right == 0.0


# --- the costs ---


def test_each_psi_costs_what_the_curve_says() -> None:
    found = shift()
    assert found.below is not None
    lost = found.at(28 * PSI).drawdown - found.at(27 * PSI).drawdown
    assert found.below.water == pytest.approx(lost)
    above = found.at(30 * PSI).drawdown - found.at(31 * PSI).drawdown
    assert found.above.water == pytest.approx(above)
    # Past cut-in each psi takes V / (Pout + air), below it V (1/(Pin + air) − 1/(Pout + air)).
    air = SEA / PSI
    assert found.above.water / GAL == pytest.approx(44 / (50 + air))
    assert found.below.water / GAL == pytest.approx(44 / (30 + air) - 44 / (50 + air))
    assert shift(cut_in="2.5 psi", cut_out="20 psi").below is None


def test_starts_a_day_are_the_days_use_over_the_drawdown() -> None:
    found = shift(daily_use="260 gal/d")
    assert found.daily is not None
    starts = found.recommended.starts
    assert starts is not None
    assert starts * 86_400 == pytest.approx(260 / (found.recommended.drawdown / GAL))
    assert found.above.starts is not None
    more = found.at(31 * PSI).starts
    assert more is not None
    assert found.greatest.starts is not None
    assert found.above.starts == pytest.approx(more - found.greatest.starts)
    assert found.at(50 * PSI).starts is None  # no water, no start that helps


def test_leak_and_garden_count_as_on_the_page_day() -> None:
    plain, more = shift(daily_use="260 gal/d"), shift(daily_use="260 gal/d", leak="40 gal/d")
    assert plain.daily is not None
    assert more.daily is not None
    assert (more.daily - plain.daily) * 86_400 / GAL == pytest.approx(40.0)


# --- the gap ---


@pytest.mark.parametrize("pump", [{}, TWO_FLOWS])
@pytest.mark.parametrize("charge", ["33 psi", "38 psi", "45 psi"])
def test_the_seconds_without_water_are_those_of_the_tank_in_motion(
    charge: str, pump: dict[str, Any]
) -> None:
    entries: dict[str, Any] = BIG | pump | {"precharge_rule": "typed", "precharge": charge}
    entries |= {"line_give": "0.2 gal", "start_delay": "2 s"}
    found, live = shift(**entries), live_view(results(**entries))
    assert live.rig is not None
    assert live.tap is not None
    gap = found.today.gap
    assert gap is not None
    tape = Recording(live.rig, live.tap)
    while (event := tape.step_to_next()) is not None:
        if event.kind is Happening.EMPTIED:
            break
    began = tape.time
    dry = 0.0
    while tape.moment.is_empty and tape.time < began + 100.0:
        tape.advance(0.002)
        dry += 0.002 if tape.moment.is_dry else 0.0
    assert gap.falter == pytest.approx(tape.time - began, abs=0.01)
    assert gap.dry == pytest.approx(dry, abs=0.01)
    assert gap.falter > 1.0


def test_the_gap_is_that_of_the_physics_and_none_at_the_recommended_precharge() -> None:
    found = typed("38 psi")
    assert found.rig is not None
    assert found.today.gap == no_water(found.rig.system, 5 * GPM)
    assert found.recommended.gap is not None
    assert found.recommended.gap.falter == 0.0


def test_a_pump_below_the_draw_never_fills_the_tank_again() -> None:
    found = typed("38 psi", pump_flow="4 gpm")
    assert found.today.gap is not None
    assert math.isinf(found.today.gap.falter)
    assert "never takes water again" in region_sentence(found.today, found, US)
    assert gap_text(found.today.gap, US) == "without end"


def test_no_gap_is_told_where_nothing_is_drawn_or_the_pump_is_not_known() -> None:
    for entries, said in (
        ({"steady_draw": "0 gpm"}, "Nothing is drawn."),
        ({"steady_draw": "much"}, "The steady draw cannot be read."),
        ({"line_give": "0 gal"}, "Mend first: Pipes give."),
        ({"pump_flow": "some"}, "Mend first: Pump flow."),
    ):
        found = typed("38 psi", **entries)
        assert found.today.gap is None
        assert found.no_gap == said
        assert gap_sentence(found.today, found, US).endswith(said)
        assert gap_text(found.today.gap, US) == "not known"
        assert found.today.drawdown == pytest.approx(typed("38 psi").today.drawdown)


def test_where_hardly_any_water_is_left_to_be_followed_no_gap_is_told() -> None:
    found = shift(line_give="0.0000001 gal")
    shut = found.at(55 * PSI)
    assert shut.gap is None
    assert gap_sentence(shut, found, US).endswith("hardly any water between cut-in and cut-out.")


# --- what is recommended ---


@pytest.mark.parametrize(
    ("rule", "right"),
    [("cut_in_less_2_psi", 28), ("cut_in", 30), ("cut_in_less_5_psi", 25), ("typed", 28)],
)
def test_the_recommended_precharge_is_the_rules_or_two_psi_below(rule: str, right: int) -> None:
    found = shift(precharge_rule=rule, precharge="20 psi")
    assert found.recommended.precharge == pytest.approx(right * PSI)
    assert found.is_recommended is (rule != "typed")
    assert found.recommended.change == pytest.approx(0.0)


def test_several_tanks_of_the_catalogue_stand_as_one() -> None:
    one = tank("Invented 44", total_volume=44.0)
    found = shift_view(results(one, header_tanks=2, run_time="90 s")).shift
    assert found is not None
    assert found.shell.volume == pytest.approx(88 * GAL)
    assert found.today.drawdown == pytest.approx(2 * shift().today.drawdown)


# --- findings ---


def test_so_low_a_cut_in_that_nothing_can_be_recommended_is_a_stop() -> None:
    found = view(cut_in="1 psi", cut_out="20 psi", precharge_rule="typed", precharge="0 psi")
    assert found.shift is None
    assert [one.code for one in found.findings if one.level is Level.STOP] == [
        "recommended_below_zero"
    ]


def test_what_is_wrong_at_pump_pipes_or_house_is_a_caution_here() -> None:
    found = view(steady_draw="much", start_delay="-1 s", people="many")
    assert {one.field for one in found.findings} == {"steady_draw", "start_delay", "people"}
    assert all(one.level is Level.CAUTION for one in found.findings)
    assert found.shift is not None
    assert found.shift.today.starts is None
    assert found.shift.below is not None
    assert found.shift.below.starts is None
    assert starts_text(None, US) == "not known"


def test_a_tank_that_cannot_be_read_or_is_gone_is_told_once() -> None:
    broken = view(live_volume="much")
    assert broken.shift is None
    assert [one.code for one in broken.findings] == ["unread"]
    gone = shift_view(results(tank(), first_tank="elsewhere"))
    assert gone.shift is None
    assert [one.code for one in gone.findings] == ["tank_gone"]
    assert shift_view(results()).shift is None


def test_a_precharge_above_cut_out_is_shown_with_no_water() -> None:
    found = typed("55 psi")
    assert found.today.region is Region.SHUT
    assert found.today.drawdown == 0.0
    assert found.today.change == pytest.approx(-1.0)
    assert found.over[-1] > 55 * PSI
    assert "no water enters" in region_sentence(found.today, found, US)
    far = typed("400 psi")
    assert far.over[-1] < 100 * PSI


# --- any tank ---


@settings(deadline=None, max_examples=60)
@given(
    volume=st.floats(1.0, 500.0),
    share=st.floats(0.05, 1.0),
    cut_in=st.floats(3.0, 80.0),
    width=st.floats(1.0, 60.0),
    charge=st.floats(0.0, 200.0),
)
def test_any_tank_keeps_its_balance(
    volume: float, share: float, cut_in: float, width: float, charge: float
) -> None:
    one = shift()
    setting = replace(one.setting, cut_in=cut_in * PSI, cut_out=(cut_in + width) * PSI)
    shell = replace(one.shell, volume=volume * GAL, acceptance=share * volume * GAL)
    found = replace(one, setting=setting, shell=shell, rig=None).at(charge * PSI)
    assert found.drawdown == pytest.approx(found.held - found.left, abs=1e-12)
    assert 0.0 <= found.left <= found.held <= shell.acceptance * (1 + 1e-12)
    assert (
        found.drawdown <= volume * GAL * width * PSI / (setting.cut_out + setting.ambient) + 1e-12
    )
    if charge * PSI >= setting.cut_in:
        assert found.left == 0.0
    assert found.reach == pytest.approx(found.held / shell.volume)
