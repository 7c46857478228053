"""Drawdown and volume against published numbers and formulas; the source stands beside each.

Texts of the trade use 14.7 psi for the air, so these checks do too.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from workbench.physics.air import (
    AbsolutePressure,
    absolute,
    ambient_pressure,
    gauge_pressure,
)
from workbench.physics.tank import drawdown, drawdown_factor, volume_for_drawdown

PSI = 6894.757293168361
GAL = 3.785411784e-3
FOOT = 0.3048
BANDS = ((20, 40), (30, 50), (40, 60), (50, 70))


def psia(gauge: float, air: float = 14.7) -> AbsolutePressure:
    """Absolute pressure [Pa] of a gauge reading [psi] where the air has ``air`` [psi]."""
    return absolute(gauge_pressure(gauge * PSI), AbsolutePressure(np.asarray(air * PSI)))


def factor(precharge: float, cut_in: float, cut_out: float, air: float = 14.7) -> float:
    return float(drawdown_factor(psia(precharge, air), psia(cut_in, air), psia(cut_out, air)))


def gallons(volume: float, precharge: float, cut_in: float, cut_out: float) -> float:
    water = drawdown(psia(precharge), psia(cut_in), psia(cut_out), volume * GAL)
    return float(water) / GAL


def test_a_trade_columns_85_gallon_example() -> None:
    # Trade magazine for water-well drillers, technical column "How to calculate and control
    # pressure tank drawdown", February 2006, example 1: precharge 28, switch 30/50, 85 gal.
    assert factor(28, 30, 50) == pytest.approx(0.295, abs=0.0005)
    assert gallons(85, 28, 30, 50) == pytest.approx(25.1, abs=0.05)


def test_a_trade_columns_119_gallon_example_needs_a_precharge_at_cut_in() -> None:
    # Trade magazine for water-well drillers, technical column "Using multiple pressure tanks for
    # larger systems", 2008: 119 gal at 30/50 gives 36.8 gal. It does not name its precharge.
    assert gallons(119, 30, 30, 50) == pytest.approx(36.8, abs=0.05)
    assert gallons(119, 28, 30, 50) == pytest.approx(35.1, abs=0.05)


@pytest.mark.parametrize(
    ("band", "printed"), [((20, 40), 0.37), ((30, 50), 0.31), ((40, 60), 0.27)]
)
def test_the_usual_trio_of_factors_assumes_a_precharge_at_cut_in(
    band: tuple[int, int], printed: float
) -> None:
    # Common practice, no source; from memory.
    assert factor(band[0], *band) == pytest.approx(printed, abs=0.005)
    assert factor(band[0] - 2, *band) < printed - 0.005  # not the precharge that texts advise


@pytest.mark.parametrize("band", [*BANDS, (60, 80), (40, 50), (20, 50)])
@pytest.mark.parametrize("below", [0, 2, 5])
def test_factors_equal_boyles_law_in_exact_fractions(band: tuple[int, int], below: int) -> None:
    # No publication: the same arithmetic in whole tenths of a psi, without floating point.
    cut_in, cut_out = (Fraction(10 * p + 147) for p in band)
    charge = Fraction(10 * (band[0] - below) + 147)
    exact = float(charge / cut_in - charge / cut_out)
    assert factor(band[0] - below, *band) == pytest.approx(exact, rel=1e-12)


def test_required_volume_is_water_needed_over_the_acceptance_factor() -> None:
    # Non-profit well council information sheet "Pressure Tanks", January 2007, p. 2: total volume
    # = water needed / acceptance factor, with the precharge 2 psi below cut-in.
    needed = 10 * GAL
    for cut_in, cut_out in BANDS:
        volume = volume_for_drawdown(needed, psia(cut_in - 2), psia(cut_in), psia(cut_out))
        assert float(volume) == pytest.approx(
            needed / factor(cut_in - 2, cut_in, cut_out), rel=1e-12
        )
        assert gallons(float(volume) / GAL, cut_in - 2, cut_in, cut_out) == pytest.approx(10.0)


def test_salvatos_volume_of_a_pressure_tank() -> None:
    # Salvato, Environmental Engineering, chapter on public water systems, as restated in a civil
    # engineering reference: V = Vm / (1 − P1/P2), absolute; the air fills the tank at P1.
    for cut_in, cut_out in BANDS:
        printed = 1.0 / (1.0 - (cut_in + 14.7) / (cut_out + 14.7))
        ours = volume_for_drawdown(1.0, psia(cut_in), psia(cut_in), psia(cut_out))
        assert float(ours) == pytest.approx(printed, rel=1e-12)


def test_ashraes_diaphragm_tank_has_the_same_structure() -> None:
    # ASHRAE Handbook, HVAC Systems and Equipment, 2000, chapter 12, equation 14: expansion divided
    # by (1 − P1/P2), absolute, P1 the charge. Here 10 gal between 12 and 30 psi.
    volume = volume_for_drawdown(10 * GAL, psia(12), psia(12), psia(30))
    assert float(volume) / GAL == pytest.approx(10 / (1 - 26.7 / 44.7), rel=1e-12)


def test_the_military_criterion_of_24_percent() -> None:
    # UFC 3-420-01, Plumbing Systems, US Department of Defense: 24 % of a tank with compressor can
    # be withdrawn. Reconstructed: 40/60 with a tenth of the volume left as water at cut-in.
    water = drawdown(psia(40), psia(40), psia(60), 0.9)
    assert float(water) == pytest.approx(0.24, abs=0.002)


def test_washingtons_bladder_tank_numbers_imply_a_precharge_5_psi_below_cut_in() -> None:
    # Washington State Department of Health 331-123, Water System Design Manual, 2009, chapter 11;
    # the bladder formula is from memory: R = 15 (P1+14.7)(P2+14.7) / [(P1−P2)(P2+9.7)].
    for (cut_in, cut_out), printed in zip(
        (*BANDS, (60, 80)), (47.93, 54.64, 61.66, 68.85, 76.12), strict=True
    ):
        assert 15 / factor(cut_in - 5, cut_in, cut_out) == pytest.approx(printed, abs=0.005)


EPA_CHART = {  # pump gpm: gallons at 20-40, 30-50, 40-60, 50-70, 60-80, 70-100
    4: (42, 82, 120, 120, 120, 120),
    8: (82, 120, 180, 220, 315, 315),
    12: (120, 180, 220, 315, 315, 315),
    15: (144, 220, 315, 525, 525, 525),
    18: (180, 315, 315, 525, 525, 525),
    24: (220, 315, 525, 525, 1000, 1000),
    32: (315, 525, 525, 1000, 1000, 1000),
}
EPA_BANDS = ((20, 40), (30, 50), (40, 60), (50, 70), (60, 80), (70, 100))


def test_plain_tanks_of_the_epas_chart_run_the_pump_one_to_two_minutes() -> None:
    # US EPA, "Private Water Systems: Pumping Installation, Storage, Amount", pressure tank
    # selection chart for tanks without a membrane: air at atmospheric pressure when empty.
    minutes = [
        gallons(volume, 0, *band) / flow
        for flow, row in EPA_CHART.items()
        for band, volume in zip(EPA_BANDS, row, strict=True)
    ]
    assert min(minutes) == pytest.approx(1.09, abs=0.005)
    assert max(minutes) == pytest.approx(2.16, abs=0.005)
    assert np.median(minutes) == pytest.approx(1.5, abs=0.1)


def test_ten_to_twenty_percent_of_a_plain_tank_is_usable_at_the_lower_bands() -> None:
    # Salvato, Environmental Engineering, chapter on public water systems: 10 to 20 % of gross.
    assert 0.10 < factor(0, 30, 50) < factor(0, 20, 40) < 0.20


def test_a_plain_tanks_equal_is_far_smaller() -> None:
    # Derived from the two factors, no publication: 120 gal plain at 30/50 is 41 gal pre-charged.
    water = gallons(120, 0, 30, 50)
    assert water == pytest.approx(12.2, abs=0.05)
    assert water / factor(28, 30, 50) == pytest.approx(41, abs=0.5)
    assert gallons(120, 0, 40, 60) / factor(38, 40, 60) == pytest.approx(33, abs=0.6)


def test_slips_of_the_trade_cost_what_the_error_list_says() -> None:
    # Derived with Boyle's law from usual settings, no publication.
    assert gallons(44, 38, 40, 60) == pytest.approx(11.3, abs=0.05)
    assert gallons(44, 28, 40, 60) == pytest.approx(9.2, abs=0.05)  # the old charge left in
    assert gallons(44, 28, 30, 50) == pytest.approx(13.0, abs=0.05)
    assert gallons(44, 38, 30, 50) == pytest.approx(8.2, abs=0.05)  # empty before the pump starts


@pytest.mark.parametrize(
    ("feet", "factors"),
    [
        (0, (0.3446, 0.2953, 0.2579, 0.2288)),
        (5_000, (0.3592, 0.3062, 0.2663, 0.2354)),
        (10_000, (0.3726, 0.3161, 0.2739, 0.2414)),
    ],
)
def test_altitude_raises_the_drawdown_a_little(feet: float, factors: tuple[float, ...]) -> None:
    # Worked by hand from the US Standard Atmosphere, 1976, and Boyle's law; precharge 2 psi below.
    air = float(ambient_pressure(feet * FOOT)) / PSI
    ours = [factor(cut_in - 2, cut_in, cut_out, air) for cut_in, cut_out in BANDS]
    assert ours == pytest.approx(factors, abs=0.0001)


def test_at_5000_feet_the_drawdown_at_30_50_is_four_percent_up() -> None:
    air = float(ambient_pressure(5_000 * FOOT)) / PSI
    gain = factor(28, 30, 50, air) / factor(28, 30, 50, 14.696) - 1
    assert gain == pytest.approx(0.037, abs=0.001)
