"""Pump curves and heads against scipy, CoolProp and worked examples; sources beside each."""

from __future__ import annotations

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from scipy.constants import g as standard_gravity  # type: ignore[import-untyped]
from scipy.interpolate import PchipInterpolator  # type: ignore[import-untyped]
from scipy.optimize import brentq  # type: ignore[import-untyped]

from workbench.physics.air import gauge_pressure
from workbench.physics.pump import (
    WATER_DENSITY,
    WATER_WEIGHT,
    CurveThroughPipe,
    PumpCurve,
    Riser,
    TwoFlows,
    affinity,
    energy_per_volume,
    hydraulic_power,
    reach_margin,
    total_dynamic_head,
)

PSI = 6894.757293168361
GPM = 3.785411784e-3 / 60
FOOT, INCH = 0.3048, 0.0254
TRADE_FEET_PER_PSI = 2.31

# Invented curves: gpm and feet.
CURVES = {
    "usual": ([0, 4, 8, 10, 12, 15], [310, 296, 258, 228, 190, 118]),
    "uneven gaps": ([0, 0.5, 9, 9.5, 20], [200, 199.9, 150, 120, 119]),
    "flat then steep": ([0, 5, 10, 15], [150, 149.99, 149.9, 20]),
    "steep then flat": ([0, 5, 10, 15], [150, 60, 50, 49.99]),
    "no shut-off": ([3, 6, 9], [250, 220, 140]),
    "end slope held at zero": ([0, 10, 11], [100, 99, 50]),
}


def made(name: str) -> PumpCurve:
    flow, head = CURVES[name]
    return PumpCurve.of(np.array(flow) * GPM, np.array(head) * FOOT)


@pytest.mark.parametrize("name", CURVES)
def test_heads_between_points_equal_those_of_scipy(name: str) -> None:
    curve = made(name)
    theirs = PchipInterpolator(curve.flows, curve.heads)
    flows = np.linspace(curve.flows[0], curve.flows[-1], 2001)
    assert curve.head(flows) == pytest.approx(theirs(flows), rel=1e-12, abs=1e-12 * curve.heads[0])
    steepest = np.abs(np.diff(curve.heads) / np.diff(curve.flows)).max()
    slopes = theirs.derivative()(flows)
    assert curve.slope(flows) == pytest.approx(slopes, rel=1e-11, abs=1e-12 * steepest)


def test_random_curves_equal_those_of_scipy() -> None:
    draw = np.random.default_rng(20)
    for count in range(3, 21):
        flows = np.cumsum(draw.uniform(1e-6, 3e-4, count))
        heads = 300.0 - np.cumsum(draw.uniform(1e-3, 14.0, count))
        within = np.linspace(flows[0], flows[-1], 501)
        theirs = PchipInterpolator(flows, heads)(within)
        assert PumpCurve.of(flows, heads).head(within) == pytest.approx(theirs, rel=1e-12)


@pytest.mark.parametrize("pipe", [None, Riser(200 * FOOT, 1.049 * INCH, 140.0)])
@pytest.mark.parametrize("name", CURVES)
def test_the_flow_at_a_pressure_equals_scipys_root(name: str, pipe: Riser | None) -> None:
    delivery = CurveThroughPipe(made(name), 40 * FOOT, pipe)
    first, last = delivery.lowest_flow, delivery.highest_flow
    top, bottom = (float(delivery.pressure(q)) for q in (first, last))
    wanted = top - (top - bottom) * np.linspace(0.02, 0.98, 25)
    ours = delivery.flow(gauge_pressure(wanted))
    for pressure, flow in zip(wanted, ours, strict=True):
        root = brentq(
            lambda q, p=pressure: float(delivery.pressure(q)) - p,
            first,
            last,
            xtol=1e-22,
            rtol=1e-15,
        )
        # Where the curve is all but flat the pressure's last bit moves the flow by more.
        drop = float(delivery.pressure(flow * (1 - 1e-6)) - delivery.pressure(flow * (1 + 1e-6)))
        last_bits = 4e-15 * top * 2e-6 * flow / drop
        assert flow == pytest.approx(root, abs=1e-14 * last + last_bits)


def test_the_pressure_at_the_tank_is_head_less_lift_and_friction() -> None:
    curve, riser = made("usual"), Riser(250 * FOOT, 1.049 * INCH, 140.0)
    delivery = CurveThroughPipe(curve, 80 * FOOT, riser)
    flow = 8 * GPM
    lost = 1.25 * 2.5 * 0.2083 * (100 / 140) ** 1.852 * 8**1.852 / 1.049**4.8655  # ft in 312.5 ft
    left = (258 - 80 - lost) * FOOT * WATER_DENSITY * standard_gravity
    assert float(delivery.pressure(flow)) == pytest.approx(left, rel=1e-12)
    back = total_dynamic_head(delivery.pressure(flow), 80 * FOOT, riser.head_lost(flow))
    assert float(back) == pytest.approx(258 * FOOT, rel=1e-12)


def test_the_quadratic_through_two_flows_by_a_system_of_equations() -> None:
    pump = TwoFlows.of(40 * PSI, 11 * GPM, 60 * PSI, 7 * GPM)
    shut_off, k = np.linalg.solve([[1, -(11**2)], [1, -(7**2)]], [40, 60])
    assert pump.shut_off / PSI == pytest.approx(shut_off, rel=1e-12)
    assert pump.k / PSI * GPM**2 == pytest.approx(k, rel=1e-12)
    middle = brentq(lambda q: shut_off - k * q**2 - 50, 7, 11, xtol=1e-13)
    assert float(pump.flow(gauge_pressure(50 * PSI))) / GPM == pytest.approx(middle, rel=1e-12)
    assert pump.highest_flow / GPM == pytest.approx(np.sqrt(shut_off / k), rel=1e-12)


@pytest.mark.parametrize("celsius", [8.0, 10.0, 12.0])
def test_the_density_of_cool_water_is_coolprops(celsius: float) -> None:
    # IAPWS-95 as CoolProp has it; gauge pressure up to 60 psi changes it by 0.02 %.
    theirs = PropsSI("D", "T", 273.15 + celsius, "P", 101_325.0, "Water")
    within = 0.05 if celsius == 10.0 else 0.3
    assert pytest.approx(theirs, abs=within) == WATER_DENSITY
    assert pytest.approx(theirs * standard_gravity, rel=4e-4) == WATER_WEIGHT


def test_feet_for_one_psi_are_the_trades_within_a_fifth_of_a_percent() -> None:
    ours = PSI / WATER_WEIGHT / FOOT
    assert ours == pytest.approx(TRADE_FEET_PER_PSI, rel=0.002)
    assert ours == pytest.approx(2.3074, abs=5e-5)


def test_the_worked_total_dynamic_head() -> None:
    # Trade magazine for water-well drillers: lift 60 ft, switch 30/50, friction 27.5 ft:
    # 60 + 2.31 × 50 + 27.5 = 203.0 ft, by the rounder 2.31.
    ours = total_dynamic_head(gauge_pressure(50 * PSI), 60 * FOOT, 27.5 * FOOT) / FOOT
    assert float(ours) == pytest.approx(203.0, rel=1e-3)
    at_cut_in = total_dynamic_head(gauge_pressure(30 * PSI), 60 * FOOT, 27.5 * FOOT) / FOOT
    assert float(ours - at_cut_in) == pytest.approx(20 * TRADE_FEET_PER_PSI, rel=0.002)


def test_the_worked_dead_head_is_far_above_a_100_psi_vessel() -> None:
    # (400 ft − 60 ft) / 2.31 = 147 psi.
    curve = PumpCurve.of([0, 6 * GPM, 12 * GPM], np.array([400, 340, 180]) * FOOT)
    delivery = CurveThroughPipe(curve, 60 * FOOT, Riser(120 * FOOT, 1.049 * INCH, 140.0))
    assert delivery.shut_off is not None
    assert delivery.shut_off / PSI == pytest.approx(147, abs=0.5)
    assert delivery.shut_off / PSI == pytest.approx((400 - 60) / TRADE_FEET_PER_PSI, rel=0.002)
    margin = float(reach_margin(delivery.shut_off, gauge_pressure(60 * PSI)))
    assert margin / PSI == pytest.approx(87.2, abs=0.3)
    assert float(reach_margin(delivery.shut_off, gauge_pressure(150 * PSI))) < 0


def test_energy_for_a_thousand_gallons() -> None:
    # Arithmetic: kWh for 1,000 gal = 0.003141 × feet / efficiency; 250 ft at 45 %: 1.75 kWh.
    thousand, kwh = 3.785411784, 3.6e6
    one_foot = float(energy_per_volume(FOOT, 1.0)) * thousand / kwh
    assert one_foot == pytest.approx(0.003141, rel=1e-3)
    worked = float(energy_per_volume(250 * FOOT, 0.45)) * thousand / kwh
    assert worked == pytest.approx(1.75, abs=0.005)
    # The same from power and time: 10 gpm for 100 minutes.
    power = float(hydraulic_power(10 * GPM, 250 * FOOT)) / 0.45
    assert power * 6000 / kwh == pytest.approx(worked, rel=1e-12)


def test_hydraulic_power_is_the_trades_flow_times_head_over_3960() -> None:
    # Water horsepower = gpm × ft / 3960 (common practice).
    ours = float(hydraulic_power(20 * GPM, 198 * FOOT)) / 745.6998715822702
    assert ours == pytest.approx(1.0, rel=0.002)


@pytest.mark.parametrize(
    ("flow", "head", "power", "speeds", "printed"),
    [
        # DOE-HDBK-1012/3-92, US Department of Energy, 1992, module HT-03, p. 50: gpm, ft, kW; its
        # question printed there, the answer by its equations 3-23 to 3-25.
        (400, 48, 45, (1800, 3600), (800, 192, 360)),
        # A public wiki's worked example: gpm, ft, brake horsepower.
        (100, 100, 5, (1750, 3500), (200, 400, 40)),
    ],
)
def test_worked_examples_of_the_affinity_laws(
    flow: float,
    head: float,
    power: float,
    speeds: tuple[float, float],
    printed: tuple[float, float, float],
) -> None:
    faster, higher = affinity(flow, head, speeds[1] / speeds[0])
    stronger = power * float(hydraulic_power(faster, higher) / hydraulic_power(flow, head))
    assert (float(faster), float(higher), stronger) == pytest.approx(printed, rel=1e-12)


def test_a_slowed_curve_is_the_curve_of_slowed_points() -> None:
    curve = made("usual")
    slow = PumpCurve.of(*affinity(curve.flows, curve.heads, 0.8))
    flows = np.linspace(0, curve.flows[-1], 101)
    expected = 0.8**2 * curve.head(flows)
    assert slow.head(0.8 * flows) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("ratio", [0.0, -1.0, np.inf, np.nan])
def test_a_speed_ratio_that_is_not_above_zero_is_refused(ratio: float) -> None:
    with pytest.raises(ValueError, match="ratio of the speeds"):
        affinity(1.0, 1.0, ratio)


@pytest.mark.parametrize("share", [0.0, -0.1, 1.01, np.nan])
def test_an_impossible_efficiency_is_refused(share: float) -> None:
    with pytest.raises(ValueError, match="efficiency"):
        energy_per_volume(50.0, share)
