"""The cycle of a pump whose flow falls, against the trade's algebra, limits and common sense."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar  # type: ignore[import-untyped]

from tests.physics.run_reference import AIR, GAL, GPM, PSI, Parabola, Tanks, seconds
from workbench.physics.air import AbsolutePressure, gauge_pressure
from workbench.physics.cycle import (
    equilibrium,
    fill_time,
    mean_flow,
    rest_time,
    run_time,
    shortest_rest,
    starts,
    starts_per_second,
    worst_starts,
    worst_starts_per_second,
)
from workbench.physics.fill import FillCurve
from workbench.physics.header import Vessels
from workbench.physics.pump import ConstantFlow, Delivery, TwoFlows

AMBIENT = AbsolutePressure(np.asarray(AIR))
any_case = settings(max_examples=60, deadline=None, derandomize=True, database=None)
flows = st.floats(3.0, 40.0)  # gpm
shares = st.floats(0.05, 0.98)
volumes = st.floats(5.0, 120.0)  # gal
margins = st.floats(0.1, 80.0)  # psi between cut-out and shut-off
exponents = st.floats(1.0, 1.4)


def pump(flow_in: float, margin: float) -> TwoFlows:
    """Two flows at 30/50 psi whose shut-off lies ``margin`` psi above cut-out."""
    flow_out = flow_in * np.sqrt(margin / (20 + margin))
    return TwoFlows.of(30 * PSI, flow_in * GPM, 50 * PSI, flow_out * GPM)


def tank(delivery: Delivery, volume: float = 85.0, exponent: float = 1.0) -> FillCurve:
    vessels = Vessels.one(volume * GAL, 28 * PSI + AIR, np.inf, exponent)
    return FillCurve.of(
        delivery, vessels, gauge_pressure(30 * PSI), gauge_pressure(50 * PSI), AMBIENT
    )


def ten_gallons() -> FillCurve:
    """Ten gallons of drawdown at a constant 10 gpm."""
    water = np.array([0.0, 10.0]) * GAL
    return FillCurve(water, np.full(2, 10 * GPM), np.array([30.0, 50.0]) * PSI, 0.0)


class TestConstantFlow:
    """The trade's algebra: t = (V / D) [1 / (1 − Q/D) + 1 / (Q/D)], MIL-HDBK-1005/9A, 2.5.3.6."""

    @pytest.mark.parametrize(("demand", "minutes"), [(3.0, 4.76), (5.0, 4.0)])
    def test_a_cycle_lasts_what_the_handbooks_equation_gives(
        self, demand: float, minutes: float
    ) -> None:
        fill, share = ten_gallons(), demand / 10.0
        cycle = float(fill_time(fill, demand * GPM) + rest_time(fill, demand * GPM)) / 60
        assert cycle == pytest.approx(1 / (1 - share) + 1 / share, rel=1e-12)
        assert cycle == pytest.approx(minutes, abs=0.005)
        assert float(starts(fill, demand * GPM)) == pytest.approx(1 / (60 * cycle), rel=1e-12)

    def test_the_worst_demand_is_half_the_flow_and_gives_fifteen_starts_an_hour(self) -> None:
        demand, often = worst_starts(ten_gallons())
        assert demand == pytest.approx(5 * GPM, rel=1e-9)
        assert 3600 * often == pytest.approx(15.0, rel=1e-9)

    @any_case
    @given(flows, shares, volumes, exponents)
    def test_every_figure_equals_its_closed_form(
        self, flow: float, share: float, volume: float, exponent: float
    ) -> None:
        fill = tank(ConstantFlow(flow * GPM), volume, exponent)
        flow, demand, water = flow * GPM, share * flow * GPM, fill.drawdown
        assert fill.is_constant
        run = float(run_time(water, flow, demand))
        assert float(fill_time(fill, demand)) == pytest.approx(run, rel=1e-12)
        whole = float(fill.time(fill.cut_in_water, fill.cut_out_water, demand))
        assert whole == pytest.approx(run, rel=1e-12)
        closed = float(starts_per_second(water, flow, demand))
        assert float(starts(fill, demand)) == pytest.approx(closed, rel=1e-12)
        assert mean_flow(fill) == pytest.approx(flow, rel=1e-12)
        assert shortest_rest(fill) == pytest.approx(water / flow, rel=1e-12)
        worst, often = worst_starts(fill)
        assert worst == pytest.approx(flow / 2, rel=1e-9)
        assert often == pytest.approx(float(worst_starts_per_second(water, flow)), rel=1e-9)
        assert equilibrium(fill, flow) is None


class TestFallingFlow:
    @pytest.mark.parametrize("margin", [0.1, 2.0, 40.0])
    def test_runs_starts_and_mean_flow_agree_with_scipy(self, margin: float) -> None:
        fill, flow_out = tank(pump(10.0, margin)), 10 * GPM * np.sqrt(margin / (20 + margin))
        reference = Parabola(30 * PSI, 10 * GPM, 50 * PSI, flow_out)
        tanks = Tanks([85 * GAL], [28 * PSI + AIR], [np.inf])
        water = tanks.water(50 * PSI) - tanks.water(30 * PSI)
        demands = flow_out * np.array([0.0, 0.3, 0.9, 0.9999])
        runs = [seconds(reference, tanks, 30 * PSI, 50 * PSI, float(q)) for q in demands]
        assert fill_time(fill, demands) == pytest.approx(np.array(runs), rel=1e-6)
        often = [1 / (run + water / q) for run, q in zip(runs[1:], demands[1:], strict=True)]
        assert starts(fill, demands[1:]) == pytest.approx(np.array(often), rel=1e-6)
        assert mean_flow(fill) == pytest.approx(water / runs[0], rel=1e-6)

    @pytest.mark.parametrize("margin", [0.1, 2.0, 40.0])
    def test_the_worst_demand_is_where_scipys_minimiser_finds_the_shortest_cycle(
        self, margin: float
    ) -> None:
        fill = tank(pump(10.0, margin))
        top = float(fill.flow[-1])
        found = minimize_scalar(
            lambda share: float(fill_time(fill, share * top) + rest_time(fill, share * top)),
            bounds=(1e-6, 1 - 1e-9),
            method="bounded",
            options={"xatol": 1e-9},
        )
        demand, often = worst_starts(fill)
        assert often == pytest.approx(1 / found.fun, rel=1e-9)
        assert demand == pytest.approx(found.x * top, rel=1e-5)

    def test_the_time_from_node_to_node_adds_up_to_the_run(self) -> None:
        fill = tank(pump(10.0, 5.0))
        demand = 0.7 * float(fill.flow[-1])
        assert fill.cumulative(demand)[-1] == pytest.approx(float(fill_time(fill, demand)))

    @any_case
    @given(flows, margins, st.floats(0.001, 0.999))
    def test_at_equilibrium_the_pump_gives_just_the_demand(
        self, flow: float, margin: float, share: float
    ) -> None:
        delivery = pump(flow, margin)
        fill = tank(delivery)
        demand = float(fill.flow[-1] + share * (fill.flow[0] - fill.flow[-1]))
        found = equilibrium(fill, demand)
        assert found is not None
        assert float(delivery.flow(gauge_pressure(found))) == pytest.approx(demand, rel=1e-6)


class TestLimits:
    def test_no_demand_means_one_run_and_no_further_start(self) -> None:
        fill = tank(pump(10.0, 5.0))
        assert float(rest_time(fill, 0.0)) == np.inf
        assert float(starts(fill, 0.0)) == 0.0
        assert 0.0 < float(fill_time(fill)) < np.inf

    @pytest.mark.parametrize("times", [1.0, 1.0000001, 1.5, 100.0])
    def test_a_demand_from_the_flow_at_cut_out_on_never_lets_the_pump_stop(
        self, times: float
    ) -> None:
        fill = tank(pump(10.0, 5.0))
        demand = times * float(fill.flow[-1])
        assert float(fill_time(fill, demand)) == np.inf
        assert float(starts(fill, demand)) == 0.0

    def test_just_below_the_flow_at_cut_out_runs_grow_without_bound_but_stay_finite(self) -> None:
        fill = tank(pump(10.0, 5.0))
        runs = fill_time(fill, float(fill.flow[-1]) * (1 - 10.0 ** -np.arange(2, 15)))
        assert np.all(np.diff(runs) > 0)
        assert np.isfinite(runs[-1])

    def test_the_shortest_rest_is_at_the_flow_at_cut_out(self) -> None:
        fill = tank(pump(10.0, 5.0))
        just_below = float(fill.flow[-1]) * (1 - 1e-12)
        assert shortest_rest(fill) == pytest.approx(float(rest_time(fill, just_below)), rel=1e-9)

    def test_the_pump_settles_at_cut_out_at_exactly_its_flow_there(self) -> None:
        fill = tank(pump(10.0, 5.0))
        assert equilibrium(fill, float(fill.flow[-1])) == 50 * PSI
        assert equilibrium(fill, 0.99 * float(fill.flow[-1])) is None
        assert equilibrium(fill, 1.01 * float(fill.flow[0])) is None

    def test_a_pump_that_cannot_reach_cut_out_hangs_at_its_shut_off(self) -> None:
        delivery = TwoFlows.of(20 * PSI, 10 * GPM, 40 * PSI, 4 * GPM)  # shut-off below 44 psi
        fill = tank(delivery)
        assert float(fill_time(fill)) == np.inf
        assert worst_starts(fill) == (0.0, 0.0)
        assert mean_flow(fill) == 0.0
        assert shortest_rest(fill) == np.inf
        assert equilibrium(fill, 0.0) == pytest.approx(delivery.shut_off, rel=1e-9)

    @pytest.mark.parametrize("demand", [-1e-9, np.nan])
    def test_a_demand_below_zero_is_refused(self, demand: float) -> None:
        fill = ten_gallons()
        for figure in (fill_time, rest_time, starts, equilibrium):
            with pytest.raises(ValueError, match="below zero"):
                figure(fill, demand)

    def test_demands_of_any_shape_give_figures_of_that_shape(self) -> None:
        fill = tank(pump(10.0, 5.0))
        demands = np.linspace(0.0, 12 * GPM, 300).reshape(3, 100)
        runs, often = fill_time(fill, demands), starts(fill, demands)
        assert runs.shape == often.shape == (3, 100)
        assert runs[1, 7] == float(fill_time(fill, demands[1, 7]))
        assert fill_time(fill, np.empty(0)).shape == (0,)


class TestProperties:
    @any_case
    @given(flows, margins, volumes, st.floats(1.001, 10.0), shares, exponents)
    def test_a_larger_tank_never_runs_shorter(
        self, flow: float, margin: float, volume: float, times: float, share: float, n: float
    ) -> None:
        small, large = (tank(pump(flow, margin), v, n) for v in (volume, times * volume))
        demand = share * float(small.flow[-1])
        run = float(fill_time(small, demand))
        assert float(fill_time(large, demand)) >= run
        assert float(fill_time(large, demand)) == pytest.approx(times * run, rel=1e-6)

    @any_case
    @given(flows, margins, volumes, exponents)
    def test_more_demand_never_shortens_the_run_nor_lengthens_the_rest(
        self, flow: float, margin: float, volume: float, exponent: float
    ) -> None:
        fill = tank(pump(flow, margin), volume, exponent)
        demands = float(fill.flow[-1]) * np.linspace(0.0, 0.999999, 50)
        assert np.all(np.diff(fill_time(fill, demands)) > 0)
        assert np.all(np.diff(rest_time(fill, demands)[1:]) < 0)

    @any_case
    @given(flows, margins, volumes, exponents)
    def test_no_demand_gives_more_starts_than_the_worst(
        self, flow: float, margin: float, volume: float, exponent: float
    ) -> None:
        fill = tank(pump(flow, margin), volume, exponent)
        demand, often = worst_starts(fill)
        assert 0.0 < demand < float(fill.flow[-1])
        demands = np.concatenate(
            (np.linspace(0.0, float(fill.flow[0]), 200), demand * np.array([0.999, 1.001]))
        )
        assert np.all(starts(fill, demands) <= often * (1 + 1e-12))

    @any_case
    @given(flows, margins, volumes, shares)
    def test_a_run_lies_between_those_at_the_flows_at_cut_in_and_cut_out(
        self, flow: float, margin: float, volume: float, share: float
    ) -> None:
        fill = tank(pump(flow, margin), volume)
        demand = share * float(fill.flow[-1])
        at_cut_in = float(fill.flow_at(fill.cut_in_water))
        run = float(fill_time(fill, demand))
        assert float(run_time(fill.drawdown, at_cut_in, demand)) < run
        assert run < float(run_time(fill.drawdown, fill.flow[-1], demand))
