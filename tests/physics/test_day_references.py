"""The simulated day against a differential-equation solver, balances, and a plain stepped loop."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp  # type: ignore[import-untyped]

from tests.bench.stepped import stepped_starts
from tests.physics.day_samples import (
    CONSTANT,
    FALLING,
    GPM,
    PUMPS,
    air_work,
    boyle,
    filled,
    invented_draws,
)
from workbench.physics.air import FloatArray, gauge_pressure
from workbench.physics.day import Draws, Run, simulate
from workbench.physics.day_figures import energy, open_flow, run_seconds, water_at
from workbench.physics.fill import FillCurve
from workbench.physics.pump import WATER_WEIGHT, Delivery

HOURS = 6 / 24


class Followed:
    """Pump, tank and switch by solve_ivp, from Boyle's law and the pump's own curve alone."""

    def __init__(self, pump: Delivery, fill: FillCurve, draws: Draws) -> None:
        self.starts: list[float] = []
        self.stops: list[float] = []
        self._pump = pump
        self._low, self._high = fill.cut_in_water, fill.cut_out_water
        self.water, self._on = self._high, False
        for piece, demand in enumerate(draws.flow):
            self._follow(draws.edges[piece], draws.edges[piece + 1], float(demand))

    def _flow(self, water: float) -> float:
        return float(self._pump.flow(gauge_pressure(boyle(max(water, 0.0)))))

    def _follow(self, time: float, end: float, demand: float) -> None:
        while time < end:
            if self._on and self.water <= 1e-12 and demand >= self._flow(0.0):
                self.water = 0.0
                return
            level = self._high if self._on else self._low
            events = [self._crossing(level), self._crossing(0.0)]
            solved = solve_ivp(
                lambda _t, w: [(self._flow(w[0]) if self._on else 0.0) - demand],
                (time, end),
                [self.water],
                events=events,
                rtol=1e-11,
                atol=1e-14,
                max_step=60.0,
            )
            time, self.water = float(solved.t[-1]), float(solved.y[0, -1])
            if len(solved.t_events[0]):
                (self.stops if self._on else self.starts).append(time)
                self.water, self._on = level, not self._on

    def _crossing(self, level: float) -> Callable[[float, FloatArray], float]:
        def event(_t: float, water: FloatArray) -> float:
            return float(water[0]) - level

        event.terminal = True  # type: ignore[attr-defined]
        event.direction = 1.0 if self._on and level > 0.0 else -1.0  # type: ignore[attr-defined]
        return event


@pytest.mark.parametrize("most", [6.0, 16.0])
@pytest.mark.parametrize("name", PUMPS)
def test_hours_of_random_draws_equal_those_of_an_ode_solver(name: str, most: float) -> None:
    fill, draws = filled(PUMPS[name]), invented_draws(HOURS, seed=11, a_day=200, most=most)
    run, other = simulate(fill, draws), Followed(PUMPS[name], fill, draws)
    assert len(run.starts) >= 4
    assert len(run.starts) == len(other.starts)
    # Each fill takes a minute or more; the fill curve's straight lines are good to 1e-6 of it.
    assert run.starts == pytest.approx(other.starts, abs=2e-3)
    assert run.stops == pytest.approx(other.stops, abs=2e-3)
    assert run.final_water == pytest.approx(other.water, rel=1e-5)


def agrees_with_the_stepped_loop(name: str, seed: int) -> None:
    fill, draws = filled(PUMPS[name]), invented_draws(30, seed)
    run, stepped = simulate(fill, draws), stepped_starts(fill, draws)
    assert len(run.starts) == len(stepped) > 300
    within = 1e-6 if fill.is_constant else 0.25  # the stepped loop's error, a part of its step
    assert np.max(np.abs(run.starts - stepped)) < within


@pytest.mark.parametrize(("name", "seed"), [("constant", 0), ("constant", 1), ("curve", 2)])
def test_a_second_by_second_loop_finds_the_same_starts_in_30_days(name: str, seed: int) -> None:
    agrees_with_the_stepped_loop(name, seed)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(3, 9))
@pytest.mark.parametrize("name", PUMPS)
def test_a_second_by_second_loop_finds_the_same_starts_with_more_seeds(
    name: str, seed: int
) -> None:
    agrees_with_the_stepped_loop(name, seed)


def moments(run: Run, piece: int) -> tuple[FloatArray, FloatArray]:
    """Gauss points in time over one piece, in eight equal parts, and their weights [s]."""
    points, weights = np.polynomial.legendre.leggauss(8)
    edges = np.linspace(run.time[piece], run.time[piece + 1], 9)
    half = np.diff(edges)[:, np.newaxis] / 2
    times = np.clip(edges[:-1, np.newaxis] + half * (1 + points), edges[0], edges[-1])
    return times.reshape(-1), (half * weights).reshape(-1)


def pumped_by_the_pump(run: Run, fill: FillCurve) -> float:
    """∫ Q dt over the running pieces: no balance of volumes in it."""
    total = 0.0
    for piece in np.flatnonzero(run.pump_on).tolist():
        if run.tank_empty[piece]:
            total += float(run.seconds[piece] * run.supply[piece])
        else:
            times, weights = moments(run, piece)
            total += float(np.dot(weights, fill.flow_at(water_at(run, fill, times))))
    return total


@pytest.mark.parametrize("seed", range(4))
def test_volumes_balance_at_constant_flow(seed: int) -> None:
    fill, draws = filled(CONSTANT), invented_draws(10, seed, most=14)
    run = simulate(fill, draws)
    pumped = 10 * GPM * run_seconds(run)  # also while empty: the taps then want more
    assert run.unmet > 0.0
    assert run.pumped == pytest.approx(pumped, rel=1e-9)
    left = draws.volume - run.unmet + run.final_water
    assert pumped + fill.cut_out_water == pytest.approx(left, rel=1e-9)


@pytest.mark.parametrize("name", ["falling", "curve"])
def test_volumes_balance_on_a_curve(name: str) -> None:
    fill, draws = filled(PUMPS[name]), invented_draws(3, seed=2, most=16)
    run = simulate(fill, draws, open_flow=open_flow(PUMPS[name]))
    assert run.empty_seconds > 0.0
    pumped = pumped_by_the_pump(run, fill)
    left = draws.volume - run.unmet + run.final_water
    assert run.pumped == pytest.approx(pumped, rel=1e-9)
    assert pumped + fill.cut_out_water == pytest.approx(left, rel=1e-9)


def work(run: Run, fill: FillCurve) -> tuple[float, float, float]:
    """What the pump does at the tank, what arrives at the taps, what goes into the air [J].

    The first two are integrals of p·flow in time by Gauss points, the last is Boyle's closed form.
    """
    by_pump = to_taps = 0.0
    for piece, pump_on in enumerate(run.pump_on):
        times, weights = moments(run, piece)
        water = water_at(run, fill, times)
        pressure = np.array([boyle(w) for w in water])
        to_taps += float(np.dot(weights, pressure) * run.demand[piece])
        if pump_on:
            by_pump += float(np.dot(weights, pressure * fill.flow_at(water)))
    return by_pump, to_taps, air_work(float(run.water[0]), run.final_water)


@pytest.mark.parametrize(
    ("name", "within"), [("constant", 1e-9), ("falling", 1e-8), ("curve", 1e-8)]
)
def test_work_balances_between_pump_taps_and_air(name: str, within: float) -> None:
    """∫ p Q dt = ∫ p q dt + ∫ p dw, p the gauge pressure at the tank, to the last half cycle."""
    fill = filled(PUMPS[name])
    run = simulate(fill, invented_draws(1, seed=3, most=6))
    assert run.empty_seconds == 0.0
    by_pump, to_taps, in_air = work(run, fill)
    assert abs(in_air) > 1e-6 * by_pump
    assert by_pump == pytest.approx(to_taps + in_air, rel=within)


def test_a_flat_heads_energy_is_weight_times_height() -> None:
    run = simulate(filled(FALLING), invented_draws(5, seed=4, most=14))
    taken = energy(run, filled(FALLING), lambda flow: np.full(flow.shape, 60.0), 0.4)
    assert taken == pytest.approx(WATER_WEIGHT * 60.0 * run.pumped / 0.4, rel=1e-9)


def test_the_pumps_energy_equals_an_integral_over_time() -> None:
    fill = filled(FALLING)
    run = simulate(fill, invented_draws(1, seed=6, most=14))

    def head(flow: FloatArray) -> FloatArray:
        return np.asarray(75.0 - 3e7 * flow**2)

    def efficiency(flow: FloatArray) -> FloatArray:
        return np.asarray(0.2 + 400.0 * flow)

    def power(moment: float, piece: int) -> float:
        empty = run.tank_empty[piece]
        flow = run.supply[piece] if empty else fill.flow_at(water_at(run, fill, moment))
        return float(WATER_WEIGHT * flow * head(flow) / efficiency(flow))

    whole = sum(
        quad(power, run.time[piece], run.time[piece + 1], args=(piece,), epsrel=1e-8)[0]
        for piece in np.flatnonzero(run.pump_on)
    )
    assert energy(run, fill, head, efficiency) == pytest.approx(whole, rel=1e-7)


@pytest.mark.parametrize("efficiency", [0.0, -0.1, 1.01, np.nan])
def test_an_efficiency_that_cannot_be_is_refused(efficiency: float) -> None:
    run = simulate(filled(CONSTANT), invented_draws(1, seed=1))
    with pytest.raises(ValueError, match="efficiency"):
        energy(run, filled(CONSTANT), lambda flow: flow + 60.0, efficiency)


def test_a_head_that_is_not_known_is_not_left_out() -> None:
    run = simulate(filled(FALLING), invented_draws(1, seed=1))
    with pytest.raises(ValueError, match="head is not known"):
        energy(run, filled(FALLING), lambda flow: np.where(flow > 8 * GPM, np.nan, 60.0))
