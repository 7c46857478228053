"""What replaces an old plain tank: equal usable water, not equal gallons."""

from __future__ import annotations

from typing import Any

import pytest

from tests.study.build import GAL, SEA, results, tank
from workbench.job.choices import PrechargeRule
from workbench.physics.air import ambient_pressure
from workbench.physics.header import equal_precharged_volume, plain_drawdown
from workbench.study.header.plain import PlainTank, plain_steps, to_do
from workbench.study.header.record import header_record
from workbench.study.setting import pressures
from workbench.units import VOLUME, Display, System

SHELF = (
    tank("Small 20", total_volume=20, height=20),
    tank("Narrow 44", total_volume=44, height=30, acceptance=5),
    tank("Weak 44", total_volume=44, height=30, max_working_pressure=60, highest_precharge=50),
    tank("Fit 44", total_volume=44, height=30, price="500"),
    tank("Fit 44 Dear", total_volume=44, height=30, price="900"),
    tank("Large 85"),
)


def plain(*tanks: Any, volume: str = "120 gal", **entries: Any) -> PlainTank:
    found = results(*tanks, plain_volume=volume, **entries).header.plain
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("band", "water", "equal"), [(("30", "50"), 12.2, 41), (("40", "60"), 8.6, 33)]
)
def test_120_plain_gallons_equal_a_third_of_pre_charged_ones(
    band: tuple[str, str], water: float, equal: int
) -> None:
    # Derived with 14.7 psi of air: a·(1/Pin − 1/Pout), and (cut-in − 2 + a)/a old gallons for new.
    found = plain(cut_in=f"{band[0]} psi", cut_out=f"{band[1]} psi")
    assert found.drawdown / GAL == pytest.approx(water, abs=0.05)
    assert round(found.equal_volume / GAL) == equal


@pytest.mark.parametrize(("cut_in", "ratio"), [(20, 2.2), (30, 2.9), (40, 3.6), (50, 4.3)])
def test_gallon_for_gallon_by_band(cut_in: int, ratio: float) -> None:
    found = plain(cut_in=f"{cut_in} psi", cut_out=f"{cut_in + 20} psi")
    assert found.gallons_for_gallon == pytest.approx(ratio, abs=0.05)


def test_kept_charged_with_10_percent_left_it_gives_the_24_percent_of_ufc_3_420_01() -> None:
    found = plain(cut_in="40 psi", cut_out="60 psi", plain_residual="10 %")
    assert found.usable_share == pytest.approx(0.24, abs=0.002)


def test_kept_charged_with_no_water_left_it_is_replaced_gallon_for_gallon() -> None:
    # Trade magazine for ground water: super-charged, the ratio falls to 1.
    found = plain(plain_residual="0 %", precharge_rule=PrechargeRule.AT_CUT_IN)
    assert found.gallons_for_gallon == pytest.approx(1.0, rel=1e-12)


def test_the_figures_are_those_of_the_physics_at_the_altitude() -> None:
    found = plain(altitude="5000 ft", plain_residual="12 %")
    precharge, cut_in, cut_out = pressures(found.setting)
    air = ambient_pressure(5000 * 0.3048)
    case = (cut_in, cut_out, air, cut_in, 0.12)
    assert found.drawdown == pytest.approx(float(plain_drawdown(120 * GAL, *case)), rel=1e-12)
    equal = float(equal_precharged_volume(120 * GAL, precharge, *case))
    assert found.equal_volume == pytest.approx(equal, rel=1e-12)
    assert found.setting.ambient < SEA


def test_the_same_label_gives_far_more() -> None:
    found = plain()
    assert found.same_label / GAL == pytest.approx(120 * 0.2953, abs=0.02)
    assert found.same_label / found.drawdown == pytest.approx(found.gallons_for_gallon)


def test_the_smallest_that_gives_it_and_fits_is_offered_whatever_run_is_required() -> None:
    found = plain(*SHELF, run_time="2 min")
    assert found.replacement is not None
    assert found.replacement.name == "Fit 44"
    assert found.replacement.drawdown >= found.drawdown
    assert not found.replacement.passes  # the job requires 20 gal


def test_no_smaller_one_that_fits_gives_as_much() -> None:
    found = plain(*SHELF)
    ranked = results(*SHELF).ranking
    assert ranked is not None
    assert found.replacement is not None
    for place in range(len(ranked)):
        one = ranked.row(place)
        if one.total_volume < found.replacement.total_volume:
            assert one.drawdown < found.drawdown or one.tank.max_working_pressure < 65 * 6894.8


def test_several_tanks_may_replace_a_large_one() -> None:
    found = plain(*SHELF, volume="400 gal", header_tanks=3)
    assert found.replacement is not None
    assert found.replacement.count > 1
    assert found.replacement.drawdown >= found.drawdown


def test_a_precharge_at_cut_out_replaces_nothing() -> None:
    found = plain(precharge_rule=PrechargeRule.TYPED, precharge="50 psi")
    assert found.equal_volume == float("inf")
    assert found.gallons_for_gallon == 0.0
    assert all(map(str, plain_steps(found, Display())))


def test_the_steps_tell_the_precharge_only_while_nothing_stops_it() -> None:
    sound = " ".join(to_do(results(plain_volume="120 gal"), Display()))
    assert "28.0 psi" in sound
    assert "locked out" in sound
    high = results(plain_volume="120 gal", precharge_rule=PrechargeRule.TYPED, precharge="60 psi")
    stopped = " ".join(to_do(high, Display()))
    assert "60" not in stopped
    assert "until then none is told" in stopped


def test_the_working_puts_in_the_numbers_shown() -> None:
    for residual in (None, "10 %"):
        found = plain(plain_residual=residual)
        for display in (Display(), Display(System.METRIC, ",")):
            first = str(plain_steps(found, display)[0])
            assert display.text(found.drawdown, VOLUME, 2) in first


def test_the_record_names_the_replacement() -> None:
    record = header_record(results(*SHELF, plain_volume="120 gal"))["plain"]
    assert record["replacement"]["set"] == "Fit 44"
    assert record["replacement"]["meets_required_run"] is True
    assert record["equal_precharged_volume_gal"] == pytest.approx(41.3, abs=0.1)
    assert record["residual_water_percent"] is None
    assert record["remove"]
