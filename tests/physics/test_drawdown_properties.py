"""What must hold for any tank and any setting, over random ones; and every inverse gives back."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from workbench.physics.air import AbsolutePressure
from workbench.physics.tank import (
    cut_out_for_drawdown,
    drawdown,
    drawdown_factor,
    highest_cut_out,
    precharge_for_drawdown,
    volume_for_drawdown,
    water_in_tank,
    water_left_at_cut_in,
)

PSI = 6894.757293168361
any_case = settings(max_examples=100, deadline=None, derandomize=True, database=None)

air = st.floats(9.0, 15.0)
cut_ins = st.floats(5.0, 100.0)
usual_cut_ins = st.floats(15.0, 100.0)
widths = st.floats(5.0, 60.0)
belows = st.floats(0.0, 5.0)
volumes = st.floats(0.005, 2.0)
exponents = st.floats(1.0, 1.4)
shares = st.floats(0.02, 0.98)


def absolute(psia: float) -> AbsolutePressure:
    return AbsolutePressure(np.asarray(psia * PSI))


def setting(
    cut_in: float, width: float, below: float, ambient: float
) -> tuple[AbsolutePressure, AbsolutePressure, AbsolutePressure]:
    """Precharge, cut-in and cut-out, absolute [Pa], of gauge numbers in psi."""
    low = cut_in + ambient
    return absolute(low - min(below, cut_in)), absolute(low), absolute(low + width)


@any_case
@given(cut_ins, widths, belows, air, volumes, st.floats(1.001, 10.0), exponents)
def test_drawdown_rises_in_proportion_to_volume(
    cut_in: float, width: float, below: float, ambient: float, volume: float, times: float, n: float
) -> None:
    pressures = setting(cut_in, width, below, ambient)
    small = drawdown(*pressures, volume, np.inf, n)
    large = drawdown(*pressures, volume * times, np.inf, n)
    assert large > small > 0
    assert large == pytest.approx(float(small) * times, rel=1e-9)


@any_case
@given(cut_ins, widths, st.floats(0.5, 20.0), belows, air, exponents)
def test_drawdown_rises_with_the_bands_width(
    cut_in: float, width: float, wider: float, below: float, ambient: float, n: float
) -> None:
    narrow = drawdown_factor(*setting(cut_in, width, below, ambient), n)
    wide = drawdown_factor(*setting(cut_in, width + wider, below, ambient), n)
    assert wide > narrow


@any_case
@given(usual_cut_ins, widths, st.floats(0.5, 40.0), belows, air)
def test_drawdown_falls_when_the_band_moves_up(
    cut_in: float, width: float, higher: float, below: float, ambient: float
) -> None:
    """Equal width, and the precharge follows at an equal distance below cut-in."""
    low = drawdown_factor(*setting(cut_in, width, below, ambient))
    high = drawdown_factor(*setting(cut_in + higher, width, below, ambient))
    assert high < low


@any_case
@given(usual_cut_ins, widths, belows, st.floats(0.1, 20.0), air, volumes)
def test_a_lower_precharge_leaves_more_water_behind_and_gives_less(
    cut_in: float, width: float, below: float, lower: float, ambient: float, volume: float
) -> None:
    assume(below + lower <= cut_in)
    usual = setting(cut_in, width, below, ambient)
    low = setting(cut_in, width, below + lower, ambient)
    assert drawdown(*low, volume) < drawdown(*usual, volume)
    assert water_left_at_cut_in(low[0], low[1], volume) > water_left_at_cut_in(
        usual[0], usual[1], volume
    )


@any_case
@given(usual_cut_ins, st.floats(10.0, 60.0), belows, air, st.floats(0.005, 0.2), exponents)
def test_drawdown_falls_with_the_exponent(
    cut_in: float, width: float, below: float, ambient: float, step: float, n: float
) -> None:
    assume(n + step <= 1.4 and cut_in >= 20)
    pressures = setting(cut_in, width, below, ambient)
    assert drawdown_factor(*pressures, n + step) < drawdown_factor(*pressures, n)


@any_case
@given(cut_ins, widths, st.floats(-80.0, 100.0), air, volumes, st.floats(0.001, 2.0), exponents)
def test_water_is_never_lost_or_made(
    cut_in: float,
    width: float,
    below: float,
    ambient: float,
    volume: float,
    acceptance: float,
    n: float,
) -> None:
    """0 ≤ water(cut-in) ≤ water(cut-out) ≤ acceptance, volume; drawdown is the difference."""
    pp = absolute(ambient + max(cut_in - below, 0.0))
    pin, pout = absolute(ambient + cut_in), absolute(ambient + cut_in + width)
    low = float(water_in_tank(pin, pp, volume, acceptance, n))
    high = float(water_in_tank(pout, pp, volume, acceptance, n))
    given_back = float(drawdown(pp, pin, pout, volume, acceptance, n))
    assert 0.0 <= low <= high <= min(volume, acceptance)
    assert low + given_back == pytest.approx(high, rel=1e-12, abs=1e-15)
    assert float(water_left_at_cut_in(pp, pin, volume, acceptance, n)) == low


@any_case
@given(cut_ins, widths, belows, air, st.floats(1e-4, 1.0), exponents)
def test_volume_gives_back_the_drawdown_it_was_found_for(
    cut_in: float, width: float, below: float, ambient: float, wanted: float, n: float
) -> None:
    pressures = setting(cut_in, width, below, ambient)
    volume = volume_for_drawdown(wanted, *pressures, n)
    assert float(drawdown(*pressures, volume, np.inf, n)) == pytest.approx(wanted, rel=1e-9)


@any_case
@given(cut_ins, widths, air, volumes, shares, exponents)
def test_both_precharges_give_back_the_drawdown(
    cut_in: float, width: float, ambient: float, volume: float, share: float, n: float
) -> None:
    _, pin, pout = setting(cut_in, width, 0.0, ambient)
    wanted = share * float(drawdown(pin, pin, pout, volume, np.inf, n))
    under, over = precharge_for_drawdown(wanted, pin, pout, volume, n)
    assert under < pin < over < pout
    for charge in (under, over):
        back = drawdown(AbsolutePressure(charge), pin, pout, volume, np.inf, n)
        assert float(back) == pytest.approx(wanted, rel=1e-8)


@any_case
@given(cut_ins, widths, air, volumes, st.floats(1.001, 2.0), exponents)
def test_no_precharge_gives_more_than_one_at_cut_in(
    cut_in: float, width: float, ambient: float, volume: float, times: float, n: float
) -> None:
    _, pin, pout = setting(cut_in, width, 0.0, ambient)
    greatest = float(drawdown(pin, pin, pout, volume, np.inf, n))
    under, over = precharge_for_drawdown(times * greatest, pin, pout, volume, n)
    assert np.isnan(under)
    assert np.isnan(over)


@any_case
@given(cut_ins, widths, st.floats(-4.0, 5.0), air, volumes, exponents)
def test_cut_out_gives_back_the_drawdown_it_was_found_for(
    cut_in: float, width: float, below: float, ambient: float, volume: float, n: float
) -> None:
    """Also with the precharge up to 4 psi above cut-in."""
    pp = absolute(ambient + cut_in - below)
    pin, pout = absolute(ambient + cut_in), absolute(ambient + cut_in + width)
    wanted = float(drawdown(pp, pin, pout, volume, np.inf, n))
    found = cut_out_for_drawdown(wanted, pp, pin, volume, n)
    assert float(found) == pytest.approx(float(pout), rel=1e-8)


@any_case
@given(usual_cut_ins, widths, belows, air, volumes)
def test_the_highest_cut_out_gives_back_the_band_it_was_found_for(
    cut_in: float, width: float, below: float, ambient: float, volume: float
) -> None:
    pressures = setting(cut_in, width, below, ambient)
    wanted = float(drawdown(*pressures, volume))
    found = highest_cut_out(wanted, width * PSI, below * PSI, volume)
    assert float(found) == pytest.approx(float(pressures[2]), rel=1e-6)
