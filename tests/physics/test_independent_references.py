"""Our formulas against other people's code: real air, another atmosphere, root finders, an ODE."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from fluids.atmosphere import ATMOSPHERE_1976
from scipy.integrate import solve_ivp  # type: ignore[import-untyped]
from scipy.optimize import brentq  # type: ignore[import-untyped]

from workbench.physics.air import AbsolutePressure, ambient_pressure, compression
from workbench.physics.cycle import run_time, starts_per_second
from workbench.physics.tank import (
    cut_out_for_drawdown,
    drawdown,
    drawdown_factor,
    highest_cut_out,
    precharge_for_drawdown,
    volume_for_drawdown,
    water_in_tank,
)

PSI = 6894.757293168361
AIR = 14.7
GAL = 3.785411784e-3
GPM = GAL / 60
BANDS = ((20, 40), (30, 50), (40, 60), (60, 80))


def psia(gauge: float) -> AbsolutePressure:
    return AbsolutePressure(np.asarray((gauge + AIR) * PSI))


@pytest.mark.parametrize("metres", [-5000, -400, 0, 150, 1609, 2500, 4000, 8848, 11_000])
def test_the_atmosphere_equals_the_one_of_fluids(metres: float) -> None:
    assert float(ambient_pressure(metres)) == pytest.approx(ATMOSPHERE_1976(metres).P, rel=1e-6)


@pytest.mark.parametrize("kelvin", [278.15, 285.93, 310.15])
@pytest.mark.parametrize("band", BANDS)
def test_real_air_compressed_slowly_follows_boyle(band: tuple[int, int], kelvin: float) -> None:
    """The volume of one kilogram of real air, by CoolProp, instead of p·V = constant."""

    def air_volume(gauge: float) -> float:
        return 1.0 / float(PropsSI("D", "T", kelvin, "P", (gauge + AIR) * PSI, "Air"))

    empty = air_volume(band[0] - 2)
    real = (air_volume(band[0]) - air_volume(band[1])) / empty
    ours = drawdown_factor(psia(band[0] - 2), psia(band[0]), psia(band[1]))
    assert float(ours) == pytest.approx(real, rel=0.005)


def test_real_air_compressed_without_losing_heat_follows_the_exponent_1_4() -> None:
    start, end = (28 + AIR) * PSI, (50 + AIR) * PSI
    entropy = PropsSI("S", "T", 285.0, "P", start, "Air")
    real = PropsSI("D", "T", 285.0, "P", start, "Air") / PropsSI("D", "S", entropy, "P", end, "Air")
    assert float(compression(psia(28), psia(50), 1.4)) == pytest.approx(real, rel=0.005)
    assert abs(float(compression(psia(28), psia(50), 1.0)) - real) > 0.05


def test_the_polytropic_form_is_the_integral_of_its_differential_equation() -> None:
    """dp/dV = −n p / V from the drained tank down to the air's volume at cut-out."""
    for exponent in (1.0, 1.2, 1.4):
        held = float(water_in_tank(psia(50), psia(28), 1.0, np.inf, exponent))
        solved = solve_ivp(
            lambda v, p, n=exponent: -n * p / v,
            (1.0, 1.0 - held),
            [float(psia(28))],
            rtol=1e-10,
            atol=1e-3,
        )
        assert solved.y[0, -1] == pytest.approx(float(psia(50)), rel=1e-7)


def _root(function: Callable[[float], float], low: float, high: float) -> float:
    return float(brentq(function, low, high, xtol=1e-9, rtol=1e-12))


@pytest.mark.parametrize("exponent", [1.0, 1.2, 1.4])
@pytest.mark.parametrize("band", BANDS)
class TestInversesAgainstARootFinder:
    """Every closed form against brentq on the forward function alone."""

    def test_volume(self, band: tuple[int, int], exponent: float) -> None:
        pp, pin, pout = psia(band[0] - 2), psia(band[0]), psia(band[1])
        wanted = 10 * GAL

        def missing(volume: float) -> float:
            return float(drawdown(pp, pin, pout, volume, np.inf, exponent)) - wanted

        ours = float(volume_for_drawdown(wanted, pp, pin, pout, exponent))
        assert ours == pytest.approx(_root(missing, 1e-6, 10.0), rel=1e-9)

    def test_both_precharges(self, band: tuple[int, int], exponent: float) -> None:
        pin, pout, volume = psia(band[0]), psia(band[1]), 85 * GAL
        wanted = 0.8 * float(drawdown(pin, pin, pout, volume, np.inf, exponent))

        def missing(precharge: float) -> float:
            charge = AbsolutePressure(np.asarray(precharge))
            return float(drawdown(charge, pin, pout, volume, np.inf, exponent)) - wanted

        under, over = precharge_for_drawdown(wanted, pin, pout, volume, exponent)
        assert float(under) == pytest.approx(_root(missing, 1.0, float(pin)), rel=1e-9)
        assert float(over) == pytest.approx(_root(missing, float(pin), float(pout)), rel=1e-9)

    def test_cut_out(self, band: tuple[int, int], exponent: float) -> None:
        pp, pin, volume = psia(band[0] - 2), psia(band[0]), 85 * GAL
        wanted = 0.9 * float(drawdown(pp, pin, psia(band[1]), volume, np.inf, exponent))

        def missing(cut_out: float) -> float:
            high = AbsolutePressure(np.asarray(cut_out))
            return float(drawdown(pp, pin, high, volume, np.inf, exponent)) - wanted

        ours = float(cut_out_for_drawdown(wanted, pp, pin, volume, exponent))
        assert ours == pytest.approx(_root(missing, float(pin), 10 * float(pin)), rel=1e-9)


@pytest.mark.parametrize("below", [0.0, 2.0, 5.0])
@pytest.mark.parametrize("share", [0.05, 0.15, 0.25, 0.35])
def test_the_highest_cut_out_is_the_greater_root(below: float, share: float) -> None:
    width = 20 * PSI

    def missing(cut_in: float) -> float:
        pin = AbsolutePressure(np.asarray(cut_in))
        pp = AbsolutePressure(np.asarray(cut_in - below * PSI))
        pout = AbsolutePressure(np.asarray(cut_in + width))
        return float(drawdown_factor(pp, pin, pout)) - share

    # The factor falls from here on: its greatest value lies at x = d + sqrt(d² + d w).
    d = below * PSI
    peak = d + np.sqrt(d * d + d * width) or 1.0
    root = _root(missing, peak, 1e9)
    ours = float(highest_cut_out(share * 85 * GAL, width, d, 85 * GAL))
    assert ours == pytest.approx(root + width, rel=1e-9)


def test_a_run_followed_step_by_step_takes_as_long_as_the_formula_says() -> None:
    """The water in the tank as a differential equation, with the switch's two events."""
    pp, pin, pout = psia(28), psia(30), psia(50)
    volume, pump, demand = 85 * GAL, 10 * GPM, 3 * GPM

    def pressure(water: float) -> float:
        return float(pp) * volume / (volume - water)

    def until(limit: AbsolutePressure, start: float, net: float) -> tuple[float, float]:
        def event(_t: float, water: list[float]) -> float:
            return pressure(water[0]) - float(limit)

        event.terminal = True  # type: ignore[attr-defined]
        solved = solve_ivp(
            lambda _t, _w: [net],
            (0.0, 1e5),
            [start],
            events=event,
            first_step=1.0,
            max_step=5.0,
            rtol=1e-10,
        )
        return float(solved.t[-1]), float(solved.y[0, -1])

    at_cut_in = float(water_in_tank(pin, pp, volume))
    running, full = until(pout, at_cut_in, pump - demand)
    resting, empty = until(pin, full, -demand)
    water = drawdown(pp, pin, pout, volume)

    assert running == pytest.approx(float(run_time(water, pump, demand)), rel=1e-6)
    assert resting == pytest.approx(float(water) / demand, rel=1e-6)
    expected = float(starts_per_second(water, pump, demand))
    assert 1 / (running + resting) == pytest.approx(expected, rel=1e-6)
    assert full - empty == pytest.approx(float(water), rel=1e-6)
    # What the pump delivered in a whole cycle is what the taps drew in it.
    assert pump * running == pytest.approx(demand * (running + resting), rel=1e-6)
