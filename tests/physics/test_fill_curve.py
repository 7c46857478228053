"""Fill times against scipy's solver over random pumps and tanks, and the curve's own promises."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from tests.physics.run_reference import (
    AIR,
    GAL,
    GPM,
    PSI,
    WEIGHT,
    Parabola,
    Points,
    Tanks,
    seconds,
)
from workbench.physics.air import AbsolutePressure, gauge_pressure
from workbench.physics.fill import FillCurve
from workbench.physics.header import Vessels
from workbench.physics.pipe import PIPES
from workbench.physics.pump import (
    ConstantFlow,
    CurveThroughPipe,
    Delivery,
    PumpCurve,
    Riser,
    TwoFlows,
)

AMBIENT = AbsolutePressure(np.asarray(AIR))
BORE = PIPES["plastic_40"].bores["1-1/4"]


@dataclass
class Case:
    pump: Parabola | Points
    tanks: Tanks
    cut_in: float
    cut_out: float
    fill: FillCurve

    @property
    def start(self) -> float:
        """Pressure from which a run takes time: an overcharged tank is empty at cut-in."""
        return max(self.cut_in, min(self.tanks.precharge) - AIR)

    @property
    def least_flow(self) -> float:
        return self.pump.flow(self.cut_out)


def make(delivery: Delivery, tanks: Tanks, cut_in: float, cut_out: float) -> FillCurve:
    vessels = Vessels(
        np.array(tanks.volume),
        AbsolutePressure(np.array(tanks.precharge)),
        np.array(tanks.most),
        tanks.exponent,
    )
    return FillCurve.of(delivery, vessels, gauge_pressure(cut_in), gauge_pressure(cut_out), AMBIENT)


def two_flows(
    rng: np.random.Generator, cut_in: float, cut_out: float, margin: float
) -> tuple[Parabola, Delivery]:
    flow_in = rng.uniform(4, 40) * GPM
    flow_out = flow_in * np.sqrt(margin / (cut_out - cut_in + margin))
    pump = Parabola(cut_in, flow_in, cut_out, flow_out)
    return pump, TwoFlows.of(cut_in, flow_in, cut_out, flow_out)


def curve(
    rng: np.random.Generator, cut_in: float, cut_out: float, margin: float
) -> tuple[Points, Delivery]:
    """Three to eight points that fall as pumps' curves do, at random steps; shut-off as told."""
    count, lift = int(rng.integers(3, 9)), rng.uniform(5, 60)
    flow = np.concatenate(([0.0], np.cumsum(rng.uniform(0.5, 1.5, count - 1)))) * 3 * GPM
    drop = np.concatenate(([0.0], np.cumsum(rng.uniform(0.3, 1.0, count - 1) * flow[1:])))
    reach = cut_out + margin + 10 * PSI  # down to 10 psi below nothing: the data cover the band
    head = (cut_out + margin - drop / drop[-1] * reach) / WEIGHT + lift
    length = rng.uniform(10, 100)
    riser = Riser(length, BORE, 140.0, 0.0)
    delivery = CurveThroughPipe(PumpCurve.of(flow, head), lift, riser)
    return Points(flow, head, lift, length, BORE), delivery


def any_tanks(rng: np.random.Generator, cut_in: float, cut_out: float, kind: str) -> Tanks:
    count = int(rng.integers(2, 5)) if kind == "several" else 1
    volume = (rng.uniform(5, 120, count) * GAL).tolist()
    exponent = float(rng.choice([1.0, rng.uniform(1.0, 1.4), 1.4]))
    charges = np.full(count, cut_in - 2 * PSI)
    if kind == "undercharged":
        charges -= rng.uniform(0, 0.8) * cut_in
    if kind == "overcharged":
        charges = np.full(count, cut_in + rng.uniform(0, 0.8) * (cut_out - cut_in))
    if kind == "several":
        charges = cut_in + rng.uniform(-15, 8, count) * PSI
    most = [np.inf] * count
    tanks = Tanks(volume, (charges + AIR).tolist(), most, exponent)
    if kind in {"limited", "several"}:  # full somewhere in the upper part of the band
        full_at = cut_in + rng.uniform(0.3, 1.3, count) * (cut_out - cut_in) + AIR
        share = 1 - (np.array(tanks.precharge) / full_at) ** (1 / exponent)
        most = [s * v if s > 0.01 else np.inf for s, v in zip(share, volume, strict=True)]
        tanks = Tanks(volume, tanks.precharge, most, exponent)
    return tanks


KINDS = ("usual", "undercharged", "overcharged", "limited", "several")


def random_case(kind: str, pump: str, number: int) -> Case:
    rng = np.random.default_rng([KINDS.index(kind), len(pump), number])
    cut_in = rng.uniform(20, 60) * PSI
    cut_out = cut_in + rng.uniform(10, 30) * PSI
    margin = (0.1 if number % 3 == 0 else rng.uniform(0.5, 80)) * PSI
    make_pump = two_flows if pump == "two flows" else curve
    reference, delivery = make_pump(rng, cut_in, cut_out, margin)
    tanks = any_tanks(rng, cut_in, cut_out, kind)
    return Case(reference, tanks, cut_in, cut_out, make(delivery, tanks, cut_in, cut_out))


random_cases = pytest.mark.parametrize(
    ("kind", "pump", "number"),
    [(k, p, n) for k in KINDS for p in ("two flows", "curve") for n in range(6)],
)


@random_cases
def test_a_run_takes_as_long_as_scipy_says(kind: str, pump: str, number: int) -> None:
    case = random_case(kind, pump, number)
    for share in (0.0, 0.5, 0.95, 1 - 1e-3, 1 - 1e-6):
        demand = share * case.least_flow
        ours = float(case.fill.time(case.fill.cut_in_water, case.fill.cut_out_water, demand))
        theirs = seconds(case.pump, case.tanks, case.start, case.cut_out, demand)
        assert ours == pytest.approx(theirs, rel=1e-6), share


@random_cases
def test_a_tank_empties_under_a_running_pump_as_scipy_says(
    kind: str, pump: str, number: int
) -> None:
    """Close to a balance at cut-in the time hangs on the last digits, and errs as much more."""
    case = random_case(kind, pump, number)
    bottom = case.pump.flow(case.start)
    for times in (1.01, 1.5, 3.0):
        ours = float(
            case.fill.time(case.fill.cut_out_water, case.fill.cut_in_water, times * bottom)
        )
        theirs = seconds(case.pump, case.tanks, case.cut_out, case.start, times * bottom)
        assert ours == pytest.approx(theirs, rel=5e-7 / min(times - 1, 0.5)), times


@random_cases
def test_water_after_a_time_undoes_the_time_to_a_water(kind: str, pump: str, number: int) -> None:
    fill = random_case(kind, pump, number).fill
    rng = np.random.default_rng(number)
    for _ in range(20):
        start, end = rng.uniform(0, fill.cut_out_water, 2)
        flow_at_end = float(fill.flow_at(end))
        demand = flow_at_end * (rng.uniform(0, 0.99) if end > start else rng.uniform(1.01, 2))
        after = fill.water_after(start, float(fill.time(start, end, demand)), demand)
        assert after == pytest.approx(end, rel=1e-9)


@random_cases
def test_the_nodes_lie_on_the_pumps_and_the_tanks_own_lines(
    kind: str, pump: str, number: int
) -> None:
    case = random_case(kind, pump, number)
    fill = case.fill
    assert fill.water.size <= 2100
    assert fill.pressure[-1] == case.cut_out
    assert np.all(np.diff(fill.pressure) > 0)
    for node in range(0, fill.water.size, 97):
        pressure = float(fill.pressure[node])
        assert fill.water[node] == pytest.approx(case.tanks.water(pressure), rel=1e-9, abs=1e-15)
        assert fill.flow[node] == pytest.approx(case.pump.flow(pressure), rel=1e-9)
    assert fill.cut_in_water == pytest.approx(case.tanks.water(case.cut_in), rel=1e-9, abs=1e-15)
    assert fill.drawdown == fill.cut_out_water - fill.cut_in_water


def usual(delivery: Delivery, precharge: float = 28.0, most: float = np.inf) -> FillCurve:
    """85 gal at 30/50 psi; precharge in psi, most water in gal."""
    tanks = Tanks([85 * GAL], [precharge * PSI + AIR], [most * GAL])
    return make(delivery, tanks, 30 * PSI, 50 * PSI)


FALLING = TwoFlows.of(30 * PSI, 12 * GPM, 50 * PSI, 8 * GPM)


class TestTime:
    def test_arrays_give_what_single_numbers_give(self) -> None:
        fill = usual(FALLING)
        starts = np.linspace(0, fill.cut_out_water, 7)[:, None]
        ends = np.linspace(0, fill.cut_out_water, 5)
        times = fill.time(starts, ends, 9 * GPM)
        assert times.shape == (7, 5)
        for i in range(7):
            for j in range(5):
                assert times[i, j] == float(fill.time(starts[i, 0], ends[j], 9 * GPM))

    def test_parts_add_up_to_the_whole(self) -> None:
        fill = usual(FALLING)
        stations = np.linspace(fill.cut_in_water, fill.cut_out_water, 50)
        parts = fill.time(stations[:-1], stations[1:], 5 * GPM)
        assert parts.sum() == pytest.approx(float(fill.time(stations[0], stations[-1], 5 * GPM)))

    def test_nothing_crosses_the_balance_of_flow_and_demand(self) -> None:
        fill = usual(FALLING)
        low, high = fill.cut_in_water, fill.cut_out_water
        balance = float(np.interp(-10 * GPM, -fill.flow, fill.water))
        assert float(fill.time(low, high, 10 * GPM)) == np.inf
        assert float(fill.time(high, low, 10 * GPM)) == np.inf
        for start in (low, high):
            short = float(fill.time(start, balance + (start - balance) * 1e-3, 10 * GPM))
            assert 0 < short < np.inf
            assert fill.water_after(start, 1e9, 10 * GPM) == pytest.approx(balance, rel=1e-9)

    def test_standing_still_takes_no_time(self) -> None:
        fill = usual(FALLING)
        assert float(fill.time(0.01, 0.01, 9 * GPM)) == 0.0
        assert fill.water_after(0.01, 0.0, 9 * GPM) == pytest.approx(0.01, rel=1e-12)

    def test_water_stops_at_cut_out_and_at_empty(self) -> None:
        fill = usual(FALLING)
        assert fill.water_after(0.01, 1e6, 0.0) == fill.cut_out_water
        assert fill.water_after(0.01, 1e6, 100 * GPM) == 0.0

    def test_cumulative_counts_from_cut_in_and_ends_at_the_balance(self) -> None:
        fill = usual(FALLING)
        seconds_to = fill.cumulative(9 * GPM)
        node = fill.cut_in_node
        assert seconds_to[node] == 0.0
        assert np.all(seconds_to[:node] < 0.0)
        assert np.array_equal(np.isinf(seconds_to), fill.flow <= 9 * GPM)
        middle = node + 300
        whole = float(fill.time(fill.cut_in_water, fill.water[middle], 9 * GPM))
        assert seconds_to[middle] == pytest.approx(whole, rel=1e-12)

    def test_a_flow_that_is_almost_constant_takes_as_long_as_a_constant_one(self) -> None:
        steady = usual(ConstantFlow(10 * GPM))
        for spread in (1e-12, 1e-10, 1e-8, 1e-6):
            delivery = TwoFlows.of(30 * PSI, 10 * GPM * (1 + spread), 50 * PSI, 10 * GPM)
            fill = usual(delivery)
            ours = float(fill.time(fill.cut_in_water, fill.cut_out_water, 4 * GPM))
            theirs = float(steady.time(fill.cut_in_water, fill.cut_out_water, 4 * GPM))
            assert ours == pytest.approx(theirs, rel=2 * spread + 1e-12)

    @pytest.mark.parametrize(
        ("start", "demand", "said"),
        [(-0.01, 0.0, "water"), (9.0, 0.0, "water"), (np.nan, 0.0, "water"), (0.01, -1.0, "dem")],
    )
    def test_water_or_demand_out_of_range_is_refused(
        self, start: float, demand: float, said: str
    ) -> None:
        fill = usual(FALLING)
        with pytest.raises(ValueError, match=said):
            fill.time(start, fill.cut_out_water, demand)
        with pytest.raises(ValueError, match=said):
            fill.water_after(start, 1.0, demand)
        with pytest.raises(ValueError, match=said):
            usual(ConstantFlow(10 * GPM)).time(start, 0.02, demand)


class TestShapes:
    def test_a_constant_flow_needs_three_nodes(self) -> None:
        fill = usual(ConstantFlow(10 * GPM))
        assert fill.is_constant
        assert fill.water.size == 3
        pressure = fill.pressure_at(0.5 * (fill.cut_in_water + fill.cut_out_water))
        assert float(fill.vessels.water(AbsolutePressure(pressure + AIR))) == pytest.approx(  # type: ignore[union-attr]
            0.5 * (fill.cut_in_water + fill.cut_out_water), rel=1e-12
        )

    def test_an_overcharged_tank_is_empty_at_cut_in(self) -> None:
        fill = usual(FALLING, precharge=38.0)
        assert fill.cut_in_water == 0.0
        assert fill.pressure[0] == pytest.approx(38 * PSI, rel=1e-12)
        assert fill.drawdown == fill.cut_out_water

    def test_water_stops_at_the_membranes_limit_and_pressure_jumps_to_cut_out(self) -> None:
        fill = usual(FALLING, most=20.0)
        assert fill.cut_out_water == pytest.approx(20 * GAL, rel=1e-12)
        full = 42.7 / (1 - 20 / 85) - 14.7  # psi, Boyle by hand
        assert fill.pressure[-2] == pytest.approx(full * PSI, rel=1e-9)
        assert fill.pressure[-1] == 50 * PSI
        # Full at 41.1 psi, where 9.9 gpm come; a demand of 9 gpm then holds the pressure below 50.
        assert float(fill.time(fill.cut_in_water, fill.cut_out_water, 9 * GPM)) == np.inf
        assert float(fill.time(fill.cut_in_water, fill.cut_out_water, 7.9 * GPM)) < np.inf

    def test_pressure_and_flow_jump_between_a_full_tank_and_the_next_ones_start(self) -> None:
        first_full = 42.7 / (1 - 10 / 85) - 14.7  # 33.7 psi; the second tank begins at 40 psi
        tanks = Tanks([85 * GAL] * 2, [28 * PSI + AIR, 40 * PSI + AIR], [10 * GAL, np.inf])
        fill = make(FALLING, tanks, 30 * PSI, 50 * PSI)
        node = int(np.searchsorted(fill.water, 10 * GAL * (1 - 1e-12)))
        assert fill.pressure[node] == pytest.approx(first_full * PSI, rel=1e-9)
        assert fill.pressure[node + 1] == pytest.approx(40 * PSI, rel=1e-12)
        reference = Parabola(30 * PSI, 12 * GPM, 50 * PSI, 8 * GPM)
        ours = float(fill.time(fill.cut_in_water, fill.cut_out_water, 6 * GPM))
        theirs = seconds(reference, tanks, 30 * PSI, 50 * PSI, 6 * GPM)
        assert ours == pytest.approx(theirs, rel=1e-6)

    def test_beyond_the_curves_last_point_its_flow_is_held_and_said_so(self) -> None:
        flow, psi = np.array([0.0, 5.0, 10.0]) * GPM, np.array([70.0, 60.0, 25.0])
        curve_at_tank = CurveThroughPipe(PumpCurve.of(flow, psi * PSI / WEIGHT), 0.0, None)
        fill = usual(curve_at_tank, precharge=10.0)
        assert fill.held_below is not None
        assert fill.held_below == pytest.approx(25 * PSI, rel=1e-9)
        below = fill.pressure <= fill.held_below * (1 + 1e-12)
        assert np.all(fill.flow[below] == 10 * GPM)
        assert np.all(fill.flow[~below] < 10 * GPM)
        assert usual(curve_at_tank, precharge=28.0).held_below is None

    def test_a_shut_off_below_cut_out_is_never_passed(self) -> None:
        fill = usual(TwoFlows.of(20 * PSI, 10 * GPM, 40 * PSI, 4 * GPM))
        assert fill.flow[-1] == 0.0
        assert float(fill.time(fill.cut_in_water, fill.cut_out_water)) == np.inf
        rest = float(fill.time(fill.cut_out_water, fill.cut_in_water, 11 * GPM))
        assert 0 < rest < np.inf

    def test_nodes_alone_give_pressures_along_straight_lines(self) -> None:
        fill = FillCurve(np.array([0.0, 0.1]), np.full(2, 1e-3), np.array([2e5, 4e5]), 0.0)
        assert float(fill.pressure_at(0.05)) == 3e5


class TestRefusals:
    def test_a_tank_that_takes_or_gives_no_water(self) -> None:
        with pytest.raises(ValueError, match="takes no water"):
            usual(FALLING, precharge=50.0)
        with pytest.raises(ValueError, match="gives no water"):
            usual(FALLING, precharge=10.0, most=5.0)

    def test_a_band_upside_down(self) -> None:
        tanks = Tanks([85 * GAL], [28 * PSI + AIR], [np.inf])
        with pytest.raises(ValueError, match="above cut-in"):
            make(FALLING, tanks, 50 * PSI, 50 * PSI)

    @pytest.mark.parametrize("psi", [(70.0, 60.0, 35.0), (45.0, 40.0, 10.0)])
    def test_a_curve_that_does_not_cover_the_band(self, psi: tuple[float, ...]) -> None:
        flow = np.array([2.0, 5.0, 10.0]) * GPM
        points = PumpCurve.of(flow, np.array(psi) * PSI / WEIGHT)
        with pytest.raises(ValueError, match="do not reach"):
            usual(CurveThroughPipe(points, 0.0, None))

    @pytest.mark.parametrize(
        ("water", "flow", "cut_in", "said"),
        [
            ((0.0, 0.0), (2.0, 1.0), 0.0, "rise strictly"),
            ((0.1, 0.2), (2.0, 1.0), 0.1, "from zero"),
            ((0.0, 0.1), (1.0, 2.0), 0.0, "must not rise"),
            ((0.0, 0.1), (1.0, np.nan), 0.0, "must not rise"),
            ((0.0, 0.1), (1.0, -1.0), 0.0, "below zero"),
            ((0.0, 0.1), (2.0, 1.0), 0.05, "a node"),
            ((0.0, 0.1), (2.0, 1.0), 0.1, "a node"),
            ((0.0,), (2.0,), 0.0, "2 nodes"),
        ],
    )
    def test_nodes_that_make_no_curve(
        self, water: tuple[float, ...], flow: tuple[float, ...], cut_in: float, said: str
    ) -> None:
        with pytest.raises(ValueError, match=said):
            FillCurve(np.array(water), np.array(flow), np.zeros(len(water)), cut_in)
