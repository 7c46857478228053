"""The edges of the formulas, and whole arrays against one value at a time."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest

from workbench.physics.air import AbsolutePressure, ambient_pressure, charge_at_temperature
from workbench.physics.tank import (
    cut_out_for_drawdown,
    drawdown,
    drawdown_factor,
    highest_cut_out,
    no_water_gap,
    precharge_for_drawdown,
    volume_for_drawdown,
    water_in_tank,
    water_left_at_cut_in,
)

PSI = 6894.757293168361


def psia(gauge: npt.ArrayLike) -> AbsolutePressure:
    return AbsolutePressure((np.asarray(gauge, dtype=np.float64) + 14.7) * PSI)


def test_with_the_precharge_at_cut_in_no_water_stays_behind() -> None:
    assert float(water_left_at_cut_in(psia(30), psia(30), 0.3)) == 0.0
    assert float(no_water_gap(psia(30), psia(30))) == 0.0
    assert float(drawdown_factor(psia(30), psia(30), psia(50))) == pytest.approx(1 - 44.7 / 64.7)


def test_a_plain_tank_starts_from_the_air_around_it() -> None:
    factor = float(drawdown_factor(psia(0), psia(30), psia(50)))
    assert factor == pytest.approx(14.7 / 44.7 - 14.7 / 64.7)


@pytest.mark.parametrize("precharge", [50.0, 50.1, 90.0])
def test_a_precharge_at_or_above_cut_out_keeps_all_water_out(precharge: float) -> None:
    assert float(drawdown(psia(precharge), psia(30), psia(50), 0.3)) == 0.0
    assert float(volume_for_drawdown(0.01, psia(precharge), psia(30), psia(50))) == np.inf
    assert float(volume_for_drawdown(0.0, psia(precharge), psia(30), psia(50))) == 0.0


def test_a_precharge_above_cut_in_empties_the_tank_and_leaves_a_gap() -> None:
    assert float(no_water_gap(psia(38), psia(30))) == pytest.approx(8 * PSI)
    assert float(no_water_gap(psia(28), psia(30))) == 0.0
    all_of_it = float(water_in_tank(psia(50), psia(38), 0.3))
    assert float(drawdown(psia(38), psia(30), psia(50), 0.3)) == all_of_it > 0
    # The formula for a low precharge would promise more than the tank holds.
    assert all_of_it < 0.3 * (52.7 / 44.7 - 52.7 / 64.7)


def test_the_drawdown_is_greatest_with_the_precharge_at_cut_in() -> None:
    charges = np.linspace(0.0, 50.0, 501)
    factors = drawdown_factor(psia(list(charges)), psia(30), psia(50))
    assert charges[np.argmax(factors)] == pytest.approx(30.0)


def test_a_membrane_that_lets_nothing_in_gives_nothing() -> None:
    assert float(drawdown(psia(28), psia(30), psia(50), 0.3, 0.0)) == 0.0


def test_a_membrane_without_limit_changes_nothing() -> None:
    free = drawdown(psia(28), psia(30), psia(50), 0.3)
    assert drawdown(psia(28), psia(30), psia(50), 0.3, np.inf) == free
    assert drawdown(psia(28), psia(30), psia(50), 0.3, 0.3) == free


def test_the_membrane_limits_the_water_at_cut_out_not_the_drawdown() -> None:
    left = float(water_left_at_cut_in(psia(28), psia(30), 0.3))
    limited = float(drawdown(psia(28), psia(30), psia(50), 0.3, 0.06))
    assert limited == pytest.approx(0.06 - left)
    assert float(drawdown(psia(28), psia(30), psia(50), 0.3, left / 2)) == 0.0


def test_more_than_the_tanks_air_can_never_be_drawn() -> None:
    assert float(cut_out_for_drawdown(0.3, psia(28), psia(30), 0.3)) == np.inf
    assert float(cut_out_for_drawdown(0.4, psia(28), psia(30), 0.3)) == np.inf
    assert float(cut_out_for_drawdown(0.0, psia(28), psia(30), 0.3)) == pytest.approx(
        float(psia(30))
    )


def test_no_drawdown_at_all_is_reached_with_no_air_or_with_air_up_to_cut_out() -> None:
    under, over = precharge_for_drawdown(0.0, psia(30), psia(50), 0.3)
    assert float(under) == 0.0
    assert float(over) == pytest.approx(float(psia(50)))


def test_the_two_precharges_meet_at_cut_in() -> None:
    greatest = float(drawdown(psia(30), psia(30), psia(50), 0.3))
    under, over = precharge_for_drawdown(greatest, psia(30), psia(50), 0.3)
    assert float(under) == pytest.approx(float(psia(30)), rel=1e-12)
    assert float(over) == pytest.approx(float(psia(30)), rel=1e-12)


def test_no_band_gives_more_than_its_greatest_factor() -> None:
    width, below = 20 * PSI, 2 * PSI
    peak = below + np.sqrt(below * below + below * width)
    most = (peak - below) * width / (peak * (peak + width))
    assert np.isnan(highest_cut_out(1.0001 * most, width, below, 1.0))
    assert float(highest_cut_out(0.9999 * most, width, below, 1.0)) > peak + width
    assert np.isnan(highest_cut_out(1.2, width, 0.0, 1.0))  # more than the whole tank


def test_a_column_of_tanks_equals_one_tank_at_a_time() -> None:
    rng = np.random.default_rng(7)
    n = 200
    pp, pin = psia(list(rng.uniform(0, 60, n))), psia(list(rng.uniform(15, 60, n)))
    pout = AbsolutePressure(pin + rng.uniform(5, 40, n) * PSI)
    volume, acceptance = rng.uniform(0.01, 1.0, n), rng.uniform(0.005, 0.5, n)
    exponent = rng.uniform(1.0, 1.4, n)
    water = drawdown(pp, pin, pout, volume, acceptance, exponent)
    needed = volume_for_drawdown(0.05, pp, pin, pout, exponent)
    under, over = precharge_for_drawdown(0.05, pin, pout, volume, exponent)
    high = cut_out_for_drawdown(0.02, pp, pin, volume, exponent)
    assert water.shape == needed.shape == under.shape == over.shape == high.shape == (n,)
    for i in range(n):
        p, a, b = (AbsolutePressure(x[i]) for x in (pp, pin, pout))
        one = float(drawdown(p, a, b, volume[i], acceptance[i], exponent[i]))
        assert water[i] == pytest.approx(one, rel=1e-12, abs=1e-15)
        alone = float(volume_for_drawdown(0.05, p, a, b, exponent[i]))
        assert needed[i] == pytest.approx(alone, rel=1e-12)
        pair = precharge_for_drawdown(0.05, a, b, volume[i], exponent[i])
        for column, single in ((under, pair[0]), (over, pair[1])):
            assert column[i] == pytest.approx(float(single), rel=1e-12, nan_ok=True)
        found = float(cut_out_for_drawdown(0.02, p, a, volume[i], exponent[i]))
        assert high[i] == pytest.approx(found, rel=1e-12)


def test_tanks_bands_and_sites_broadcast_together() -> None:
    tanks = np.linspace(0.02, 0.5, 4)
    cut_ins = psia([[20.0], [30.0], [40.0]])
    air = AbsolutePressure(ambient_pressure([0.0, 1500.0])[:, None, None])
    charge = AbsolutePressure(cut_ins - 2 * PSI + (air - air[0]))
    low, high = (AbsolutePressure(cut_ins + w * PSI + (air - air[0])) for w in (0, 20))
    assert drawdown(charge, low, high, tanks).shape == (2, 3, 4)
    assert drawdown_factor(charge, low, high).shape == (2, 3, 1)
    assert volume_for_drawdown(tanks, charge, low, high).shape == (2, 3, 4)
    assert cut_out_for_drawdown(0.005, charge, low, tanks).shape == (2, 3, 4)
    assert no_water_gap(charge, low).shape == (2, 3, 1)
    assert charge_at_temperature(charge, [280.0, 290.0, 300.0, 310.0], 285.0).shape == (2, 3, 4)
    assert highest_cut_out(0.005, [[1e5], [2e5]], 0.0, tanks).shape == (2, 4)


def test_arguments_are_never_written_to() -> None:
    pp, pin, pout, volume = psia([28.0]), psia([30.0]), psia([50.0]), np.array([0.3])
    for value in (pp, pin, pout, volume):
        value.flags.writeable = False  # writing would now raise
    drawdown(pp, pin, pout, volume, volume, volume + 1)
    volume_for_drawdown(volume, pp, pin, pout)
    precharge_for_drawdown(0.01, pin, pout, volume)
    cut_out_for_drawdown(0.01, pp, pin, volume)
    highest_cut_out(0.01, pin, pp, volume)
