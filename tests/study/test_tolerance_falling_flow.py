"""How sure a run is at a falling flow: the fill curve, the shut-off, and the ends of the data."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad

from tests.study.build import GAL, GPM, PSI, SEA
from tests.study.tolerance_build import (
    CURVE,
    FALLING,
    KELVIN,
    NONE,
    SETTING,
    TEN,
    USUAL,
    basis,
    fill_seconds,
    found,
    halves,
    only,
)
from workbench.physics.air import gauge_pressure
from workbench.physics.header import Vessels
from workbench.physics.pump import WATER_WEIGHT, CurveThroughPipe, Delivery, PumpCurve, TwoFlows
from workbench.study.setting import Setting


def run_of_one(setting: Setting, delivery: Delivery, volume: float, acceptance: float) -> float:
    vessels = Vessels.one(volume, setting.precharge + setting.ambient, acceptance, setting.exponent)
    return fill_seconds(setting, delivery, vessels)


SETTINGS = {
    "usual": SETTING,
    "quick air": replace(SETTING, exponent=1.3),
    "overcharged": replace(SETTING, precharge=36 * PSI),
    "high up": replace(SETTING, ambient=75_000.0),
}


@pytest.mark.parametrize("acceptance", [np.inf, 13.0, 9.0])
@pytest.mark.parametrize("delivery", [FALLING, CURVE], ids=["two flows", "curve"])
@pytest.mark.parametrize("setting", SETTINGS.values(), ids=SETTINGS)
def test_a_falling_flow_takes_as_long_as_the_fill_curve_says(
    setting: Setting, delivery: Delivery, acceptance: float
) -> None:
    """The nominal run, and that of each switch point moved by ±2 psi alone (worst and best)."""
    exact = run_of_one(setting, delivery, 40 * GAL, acceptance * GAL)
    of = basis(setting, delivery)
    assert found(of, NONE, 40, acceptance).nominal_run[0] == pytest.approx(exact, rel=1e-5)
    result = found(of, only(switch_out=2 * PSI), 40, acceptance, cases=100)
    for run, shift in ((result.worst_run[0], -2 * PSI), (result.best_run[0], 2 * PSI)):
        moved = replace(setting, cut_out=setting.cut_out + shift)
        exact = run_of_one(moved, delivery, 40 * GAL, acceptance * GAL)
        assert run == pytest.approx(exact, rel=1e-5)


@pytest.mark.parametrize("delivery", [FALLING, CURVE], ids=["two flows", "curve"])
@pytest.mark.parametrize("below", [1e-1, 1e-2, 1e-3, 1e-4, 1e-5])
def test_near_the_shut_off_too(delivery: TwoFlows | CurveThroughPipe, below: float) -> None:
    assert delivery.shut_off is not None
    cut_out = delivery.shut_off * (1 - below)
    setting = replace(SETTING, cut_out=cut_out)
    charge = SETTING.precharge + SEA

    # ∫ dx/Q over the flow's logarithm: pressure is explicit there, and the steep end even
    def rate(log_flow: float) -> float:
        flow = math.exp(log_flow)
        slope = (
            2 * delivery.k * flow
            if isinstance(delivery, TwoFlows)
            else -WATER_WEIGHT * float(delivery.curve.slope(flow))
        )
        return slope * charge / (float(delivery.pressure(flow)) + SEA) ** 2

    ends = [float(delivery.flow(gauge_pressure(p))) for p in (cut_out, SETTING.cut_in)]
    knots = [k for k in delivery.knots if ends[0] < k < ends[1]]
    edges = [math.log(flow) for flow in (ends[0], *knots, ends[1])]
    exact = sum(quad(rate, a, b, limit=200, epsrel=1e-9)[0] for a, b in pairwise(edges))
    run = found(basis(setting, delivery), NONE, 40, cases=10).nominal_run[0]
    assert run == pytest.approx(40 * GAL * exact, rel=1e-5)


def test_falling_flow_cases_agree_with_fill_curves_one_by_one() -> None:
    """200 pseudo-random cases, each with a fill curve of its own; one membrane limits, one not."""
    dice = np.random.default_rng(3).uniform(-1, 1, (200, 8)) * halves()
    for acceptance in (np.inf, 13.0):
        runs = []
        for g, i, o, c, w, f, *_ in dice:
            charge = (SETTING.precharge + c + SEA) * (KELVIN + w) / KELVIN - SEA
            moved = Setting(SETTING.cut_in + g + i, SETTING.cut_out + g + o, charge, SEA, 1.0)
            seconds = run_of_one(moved, FALLING, 40 * GAL, acceptance * GAL)
            runs.append(seconds / (1 + f))
        for quantile in (0.2, 0.5, 0.8):
            required = float(np.quantile(runs, quantile))
            share = found(basis(SETTING, FALLING, required), USUAL, 40, acceptance).share[0]
            spread = math.sqrt(quantile * (1 - quantile) / 200)
            assert share == pytest.approx(1 - quantile, abs=4 * spread)


def test_cut_outs_above_the_shut_off_never_stop_and_are_not_met() -> None:
    """Shut-off 66 psi, cut-out 65 ± 4 psi: 3 of 8 parts lie above."""
    setting = replace(SETTING, cut_out=65 * PSI)
    result = found(basis(setting, FALLING, 1.0), only(switch_out=4 * PSI), 40)
    assert result.never_stops == pytest.approx(3 / 8, abs=5e-5)
    assert result.share[0] == pytest.approx(5 / 8, abs=5e-5)
    assert result.best_run[0] == np.inf
    assert np.isfinite(result.worst_run[0])
    assert result.swings[0].high == np.inf
    above = found(basis(replace(SETTING, cut_out=66.5 * PSI), FALLING, 1.0), NONE, 40, cases=10)
    assert (above.never_stops, above.share[0], above.nominal_run[0]) == (1.0, 0.0, np.inf)
    assert found(basis(delivery=TEN), USUAL, 40, cases=10).never_stops == 0.0


def test_a_pump_that_does_not_lift_to_the_tank_never_stops() -> None:
    deep = replace(CURVE, lift=100.0)
    result = found(basis(delivery=deep), USUAL, 40, cases=100)
    assert (result.never_stops, result.share[0]) == (1.0, 0.0)


def test_cases_outside_the_pumps_data_are_told() -> None:
    points = PumpCurve.of(np.array([4, 8, 12]) * GPM, np.array([80, 72, 60.0]))
    narrow = CurveThroughPipe(points, 30.0, None)
    reach = [float(narrow.pressure(flow)) for flow in (12 * GPM, 4 * GPM)]
    setting = Setting(reach[0] + 1 * PSI, reach[1] - 1 * PSI, reach[0] - 1 * PSI, SEA, 1.0)
    below = found(basis(setting, narrow, 1.0), only(switch_in=2 * PSI), 40)
    assert below.off_curve == pytest.approx(0.25, abs=5e-5)
    assert below.share[0] == 1.0  # the flow of the last point is held
    above = found(basis(setting, narrow, 1.0), only(switch_out=2 * PSI), 40)
    assert above.off_curve == pytest.approx(0.25, abs=5e-5)
    assert above.share[0] == pytest.approx(0.75, abs=5e-5)
    assert (above.never_stops, below.never_stops) == (0.0, 0.0)
    with pytest.raises(ValueError, match="add points"):
        found(basis(replace(setting, cut_out=reach[1] + 1 * PSI), narrow), NONE, 40)
