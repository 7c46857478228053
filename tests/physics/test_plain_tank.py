"""The old plain tank, air over water without a membrane, against published numbers.

Texts of the trade use 14.7 psi for the air, so these checks do too.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad  # type: ignore[import-untyped]

from workbench.physics.air import AbsolutePressure
from workbench.physics.header import Vessels, equal_precharged_volume, plain_drawdown
from workbench.physics.tank import drawdown, drawdown_factor

PSI = 6894.757293168361
GAL = 3.785411784e-3
any_case = settings(max_examples=100, deadline=None, derandomize=True, database=None)

# US EPA, "Private Water Systems", Pumping Installation, Storage, Amount (archived 2008): gallons of
# a plain tank by pump flow [gpm] and switch band. Its columns run together in the copy at hand and
# were split again so that each row rises and has stock sizes only.
CHART_BANDS = ((20, 40), (30, 50), (40, 60), (50, 70), (60, 80), (70, 100))
CHART = {
    4: (42, 82, 120, 120, 120, 120),
    8: (82, 120, 180, 220, 315, 315),
    12: (120, 180, 220, 315, 315, 315),
    15: (144, 220, 315, 525, 525, 525),
    18: (180, 315, 315, 525, 525, 525),
    24: (220, 315, 525, 525, 1000, 1000),
    32: (315, 525, 525, 1000, 1000, 1000),
}


def psia(gauge: float) -> AbsolutePressure:
    return AbsolutePressure(np.asarray((gauge + 14.7) * PSI))


AIR = psia(0.0)


def plain_gallons(volume: float, cut_in: float, cut_out: float) -> float:
    return float(plain_drawdown(volume * GAL, psia(cut_in), psia(cut_out), AIR)) / GAL


def test_the_published_chart_lets_the_pump_run_one_to_two_minutes() -> None:
    minutes = [
        plain_gallons(size, *band) / flow
        for flow, row in CHART.items()
        for band, size in zip(CHART_BANDS, row, strict=True)
    ]
    assert min(minutes) == pytest.approx(1.09, abs=0.005)
    assert max(minutes) == pytest.approx(2.16, abs=0.005)
    assert np.median(minutes) == pytest.approx(1.5, abs=0.1)


def test_the_chart_is_not_one_for_super_charged_tanks() -> None:
    """With 10 % residual water its tanks would run the pump three to ten minutes."""
    minutes = [
        float(plain_drawdown(size, psia(low), psia(high), AIR, psia(low), 0.1)) / flow
        for flow, row in CHART.items()
        for (low, high), size in zip(CHART_BANDS, row, strict=True)
    ]
    assert 2.8 < min(minutes) < 3.6
    assert 8.0 < max(minutes) < 11.0


@pytest.mark.parametrize(
    ("band", "share"),
    [((20, 40), 0.1549), ((30, 50), 0.1017), ((40, 60), 0.0720), ((50, 70), 0.0536)],
)
def test_a_plain_tanks_usable_share_is_boyles_law_from_atmospheric_air(
    band: tuple[int, int], share: float
) -> None:
    assert plain_gallons(1.0, *band) == pytest.approx(share, abs=5e-5)
    by_hand = 14.7 / (band[0] + 14.7) - 14.7 / (band[1] + 14.7)
    assert plain_gallons(1.0, *band) == pytest.approx(by_hand, rel=1e-12)


def test_a_usable_share_of_10_to_20_percent_holds_at_20_40_and_30_50_but_not_at_40_60() -> None:
    # Salvato, Environmental Engineering, chapter "Public Water Systems": 10-20 % of a plain tank.
    assert 0.10 < plain_gallons(1.0, 20, 40) < 0.20
    assert 0.10 < plain_gallons(1.0, 30, 50) < 0.20
    assert plain_gallons(1.0, 40, 60) < 0.10


def test_super_charged_with_10_percent_residual_water_a_tank_gives_24_percent_at_40_60() -> None:
    # UFC 3-420-01 (US Department of Defense): withdrawal of 24 %. The formula and the band are
    # reconstructed from that figure: (1 − r)(1 − Pin/Pout).
    share = float(plain_drawdown(1.0, psia(40), psia(60), AIR, air_at=psia(40), residual=0.1))
    assert share == pytest.approx(0.24, abs=0.005)
    assert share == pytest.approx(0.9 * (1 - 54.7 / 74.7), rel=1e-12)


@pytest.mark.parametrize(("band", "water", "equal"), [((30, 50), 12.2, 41), ((40, 60), 8.6, 33)])
def test_a_120_gallon_plain_tank_is_replaced_by_a_third_of_its_gallons(
    band: tuple[int, int], water: float, equal: float
) -> None:
    """Arithmetic from Boyle's law; precharge 2 psi below cut-in."""
    low, high = map(psia, band)
    assert plain_gallons(120, *band) == pytest.approx(water, abs=0.05)
    gallons = float(equal_precharged_volume(120, psia(band[0] - 2), low, high, AIR))
    assert gallons == pytest.approx(equal, abs=0.5)


@pytest.mark.parametrize(
    ("band", "ratio"), [((20, 40), 2.2), ((30, 50), 2.9), ((40, 60), 3.6), ((50, 70), 4.3)]
)
def test_gallon_for_gallon_a_precharge_is_worth_its_ratio_to_the_atmosphere(
    band: tuple[int, int], ratio: float
) -> None:
    low, high = map(psia, band)
    volume = float(equal_precharged_volume(1.0, psia(band[0] - 2), low, high, AIR))
    assert 1 / volume == pytest.approx(ratio, abs=0.05)
    assert 1 / volume == pytest.approx((band[0] - 2 + 14.7) / 14.7, rel=1e-12)


def test_a_super_charged_plain_tank_is_replaced_gallon_for_gallon() -> None:
    # Trade magazine for water-well drillers, on captive-air tanks: the ratio falls to 1.0.
    charge, low, high = psia(38), psia(40), psia(60)
    volume = equal_precharged_volume(120, charge, low, high, AIR, air_at=charge)
    assert float(volume) == pytest.approx(120, rel=1e-12)


@any_case
@given(
    st.floats(0.05, 4.0),
    st.floats(10.0, 70.0),
    st.floats(5.0, 40.0),
    st.floats(0.0, 100.0),
    st.floats(0.0, 0.9),
)
def test_a_plain_tank_gives_what_its_air_gains_by_quadrature(
    volume: float, cut_in: float, width: float, charge: float, residual: float
) -> None:
    """−∫ dV/dP dP over the band, from where air fills all but the residual water."""
    room, start = (1.0 - residual) * volume, float(psia(charge))
    low, high = float(psia(cut_in)), float(psia(cut_in + width))
    bottom, top = max(low, start), max(high, start)
    gained = quad(lambda p: room * start / p**2, bottom, top, epsrel=1e-11)[0]
    ours = plain_drawdown(volume, psia(cut_in), psia(cut_in + width), AIR, psia(charge), residual)
    assert float(ours) == pytest.approx(gained, rel=1e-9, abs=1e-13)


@any_case
@given(st.floats(0.05, 4.0), st.floats(10.0, 70.0), st.floats(5.0, 40.0), st.floats(0.0, 5.0))
def test_the_tank_that_replaces_a_plain_one_gives_the_same_water(
    volume: float, cut_in: float, width: float, below: float
) -> None:
    charge, low, high = psia(cut_in - below), psia(cut_in), psia(cut_in + width)
    new = float(equal_precharged_volume(volume, charge, low, high, AIR))
    assert float(drawdown(charge, low, high, new)) == pytest.approx(
        float(plain_drawdown(volume, low, high, AIR)), rel=1e-9
    )


def test_a_plain_tank_is_a_vessel_charged_with_the_atmosphere() -> None:
    vessel = Vessels.one(120 * GAL, AIR)
    given_by_vessel = float(vessel.water(psia(50)) - vessel.water(psia(30)))
    assert given_by_vessel == pytest.approx(plain_gallons(120, 30, 50) * GAL, rel=1e-12)


def test_thinner_air_leaves_a_plain_tank_less_to_give_and_a_precharged_one_more() -> None:
    def shares(air: float) -> tuple[float, float]:
        local, charge, low, high = (
            AbsolutePressure(np.asarray((g + air) * PSI)) for g in (0.0, 28.0, 30.0, 50.0)
        )
        return float(plain_drawdown(1.0, low, high, local)), float(
            drawdown_factor(charge, low, high)
        )

    (plain_low, charged_low), (plain_high, charged_high) = shares(14.7), shares(12.228)
    assert plain_high < plain_low
    assert charged_high > charged_low


def test_volumes_bands_and_residuals_broadcast_together() -> None:
    low = AbsolutePressure(np.array([[20.0], [30.0]]) * PSI + float(AIR))
    high = AbsolutePressure(low + 20 * PSI)
    assert plain_drawdown([0.1, 0.2, 0.3], low, high, AIR).shape == (2, 3)
    assert plain_drawdown(0.1, low, high, AIR, low, [0.0, 0.1]).shape == (2, 2)
    assert equal_precharged_volume([0.1, 0.2], low, low, high, AIR).shape == (2, 2)


def test_a_precharge_at_cut_out_can_replace_nothing() -> None:
    assert np.isinf(equal_precharged_volume(1.0, psia(50), psia(30), psia(50), AIR))


@pytest.mark.parametrize("residual", [-0.01, 1.0, np.nan])
def test_a_share_of_water_that_leaves_no_air_is_refused(residual: float) -> None:
    with pytest.raises(ValueError, match="residual"):
        plain_drawdown(1.0, psia(30), psia(50), AIR, residual=residual)


def test_less_air_than_the_atmosphere_in_a_drained_tank_is_refused() -> None:
    with pytest.raises(ValueError, match="surrounding pressure"):
        plain_drawdown(1.0, psia(30), psia(50), AIR, air_at=psia(-5))


def test_a_band_upside_down_is_refused() -> None:
    with pytest.raises(ValueError, match="cut-out must be at or above cut-in"):
        plain_drawdown(1.0, psia(50), psia(30), AIR)
