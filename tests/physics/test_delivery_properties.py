"""What must hold for whatever a pump delivers, over random pumps, and every refusal by name."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.physics.air import gauge_pressure
from workbench.physics.pump import (
    WATER_WEIGHT,
    ConstantFlow,
    CurveThroughPipe,
    Delivery,
    PumpCurve,
    Riser,
    TwoFlows,
)

PSI = 6894.757293168361
GPM = 3.785411784e-3 / 60
FOOT, INCH = 0.3048, 0.0254
any_pump = settings(max_examples=60, deadline=None, derandomize=True, database=None)

risers = st.none() | st.builds(
    Riser,
    st.floats(0.0, 200.0),
    st.floats(0.02, 0.08),
    st.floats(80.0, 150.0),
    st.floats(0.0, 0.5),
)


@st.composite
def curves(draw: st.DrawFn, *, from_no_flow: bool | None = None) -> CurveThroughPipe:
    """A delivery through 3 to 20 points; the first at no flow, at some, or either (None)."""
    count = draw(st.integers(3, 20))
    gaps = draw(st.lists(st.floats(0.05, 5.0), min_size=count, max_size=count))
    falls = draw(st.lists(st.floats(0.1, 60.0), min_size=count, max_size=count))
    if from_no_flow or (from_no_flow is None and draw(st.booleans())):
        gaps[0] = 0.0
    heads = np.sum(falls) - np.cumsum(falls) + draw(st.floats(0.0, 300.0))
    curve = PumpCurve.of(np.cumsum(gaps) * GPM, heads * FOOT)
    return CurveThroughPipe(curve, draw(st.floats(-20.0, 200.0)) * FOOT, draw(risers))


@st.composite
def two_flows(draw: st.DrawFn) -> TwoFlows:
    cut_in, width = draw(st.floats(10.0, 80.0)), draw(st.floats(5.0, 40.0))
    flow, share = draw(st.floats(1.0, 60.0)), draw(st.floats(0.0, 0.99))
    return TwoFlows.of(cut_in * PSI, flow * GPM, (cut_in + width) * PSI, flow * share * GPM)


falling = curves() | two_flows()


def covered_flows(delivery: Delivery, count: int = 101) -> np.ndarray:
    return np.linspace(delivery.lowest_flow, delivery.highest_flow, count)


def span(delivery: Delivery) -> tuple[float, float]:
    """Gauge pressures at the largest and the smallest flow covered."""
    ends = delivery.pressure([delivery.highest_flow, delivery.lowest_flow])
    return float(ends[0]), float(ends[1])


def slope(delivery: Delivery, flows: np.ndarray) -> np.ndarray:
    if isinstance(delivery, CurveThroughPipe):
        return delivery._slope(flows)
    assert isinstance(delivery, TwoFlows)
    return -2 * delivery.k * flows


def largest_term(delivery: Delivery) -> float:
    """What the pressure is the difference of, so what its rounding goes by [Pa]."""
    if isinstance(delivery, CurveThroughPipe):
        lost = delivery.pipe.head_lost(delivery.highest_flow) if delivery.pipe else 0.0
        return WATER_WEIGHT * float(delivery.curve.heads[0] + abs(delivery.lift) + lost)
    assert delivery.shut_off is not None
    return delivery.shut_off


@any_pump
@given(falling)
def test_flow_falls_as_pressure_rises(delivery: Delivery) -> None:
    low, high = span(delivery)
    flows = delivery.flow(gauge_pressure(np.linspace(low, high, 301)))
    assert np.all(np.isfinite(flows))
    assert np.all(np.diff(flows) < 0)
    ends = delivery.highest_flow, delivery.lowest_flow
    assert (flows[0], flows[-1]) == pytest.approx(ends, abs=1e-12 * delivery.highest_flow)


@any_pump
@given(falling)
def test_pressure_falls_as_flow_rises(delivery: Delivery) -> None:
    assert np.all(np.diff(delivery.pressure(covered_flows(delivery))) < 0)


@any_pump
@given(falling)
def test_the_flow_at_a_flows_pressure_is_that_flow(delivery: Delivery) -> None:
    """As near as the last bits of the pressure tell, everywhere on the curve."""
    flows = covered_flows(delivery)
    pressures = delivery.pressure(flows)
    again = delivery.flow(pressures)
    last_bits = np.finfo(float).eps * largest_term(delivery)
    assert np.abs(delivery.pressure(again) - pressures).max() <= 8 * last_bits
    steepness = np.abs(slope(delivery, flows))
    sloping = steepness > 0.0
    allowed = 1e-14 * delivery.highest_flow + 16 * last_bits / steepness[sloping]
    assert np.all(np.abs(again - flows)[sloping] <= allowed)


@any_pump
@given(curves(from_no_flow=True) | two_flows())
def test_no_water_comes_from_the_shut_off_on(delivery: Delivery) -> None:
    assert delivery.shut_off is not None
    assert delivery.lowest_flow == 0.0
    assert float(delivery.pressure(0.0)) == pytest.approx(delivery.shut_off, rel=1e-12, abs=1e-6)
    above = delivery.shut_off + np.array([0.0, 1e-3, 1e3, 1e9, np.inf])
    assert delivery.flow(gauge_pressure(above)).tolist() == [0.0] * above.size
    assert float(delivery.flow(gauge_pressure(delivery.shut_off - 100.0))) > 0.0


@any_pump
@given(curves(from_no_flow=False))
def test_a_curve_that_starts_at_a_flow_has_no_shut_off_and_tells_nothing_above_it(
    delivery: CurveThroughPipe,
) -> None:
    assert delivery.shut_off is None
    _, high = span(delivery)
    above = delivery.flow(gauge_pressure([high + 1.0, high + 1e6, np.inf]))
    assert np.all(np.isnan(above))
    assert np.isnan(delivery.pressure(delivery.lowest_flow * 0.99))
    assert np.isnan(delivery.pressure(0.0))


@any_pump
@given(falling)
def test_data_end_where_the_points_end(delivery: Delivery) -> None:
    low, _ = span(delivery)
    assert np.all(np.isnan(delivery.flow(gauge_pressure([low - 1.0, low - 1e5, np.nan]))))
    assert np.isnan(delivery.pressure(delivery.highest_flow * 1.001))
    assert np.isnan(delivery.pressure(-1e-9))


@any_pump
@given(falling)
def test_shapes_are_kept_and_one_pressure_gives_what_many_give(delivery: Delivery) -> None:
    low, high = span(delivery)
    grid = np.linspace(low, high, 6).reshape(2, 3)
    flows = delivery.flow(gauge_pressure(grid))
    assert flows.shape == delivery.pressure(flows).shape == (2, 3)
    assert delivery.flow(gauge_pressure(np.empty((0, 2)))).shape == (0, 2)
    single = delivery.flow(gauge_pressure(grid[1, 0]))
    assert single.shape == ()
    assert float(single) == pytest.approx(flows[1, 0], rel=1e-12)


@any_pump
@given(curves())
def test_a_higher_lift_or_a_longer_pipe_never_gives_more(delivery: CurveThroughPipe) -> None:
    low, high = span(delivery)
    pressures = gauge_pressure(np.linspace(low, high, 31))
    before = delivery.flow(pressures)
    deeper = dataclasses.replace(delivery, lift=delivery.lift + 3.0).flow(pressures)
    pipe = delivery.pipe or Riser(0.0, 0.03, 140.0)
    longer = dataclasses.replace(delivery, pipe=dataclasses.replace(pipe, length=pipe.length + 50))
    known = np.isfinite(deeper)
    assert np.all(deeper[known] <= before[known])
    slower = longer.flow(pressures)
    known = np.isfinite(slower)
    assert np.all(slower[known] <= before[known] + 1e-12 * delivery.highest_flow)


@any_pump
@given(two_flows())
def test_two_measured_flows_are_given_back(pump: TwoFlows) -> None:
    for pressure in np.linspace(0.0, 0.95, 20) * pump.shut_off:
        flow = pump.flow(gauge_pressure(pressure))
        assert pump.shut_off - pump.k * float(flow) ** 2 == pytest.approx(pressure, abs=1e-6)


def test_a_constant_flow_comes_at_every_pressure_and_belongs_to_none() -> None:
    pump: Delivery = ConstantFlow(10 * GPM)
    assert pump.is_constant
    assert pump.shut_off is None
    assert pump.highest_flow == pump.lowest_flow == 10 * GPM
    assert pump.flow(gauge_pressure([[0.0, 1e5, 1e6]])).tolist() == [[10 * GPM] * 3]
    with pytest.raises(ValueError, match="second flow"):
        pump.pressure(10 * GPM)


def test_pieces_of_a_curve_meet_at_its_points() -> None:
    curve = PumpCurve.of([0.0, 4e-4, 9e-4], [90.0, 80.0, 40.0])
    delivery: Delivery = CurveThroughPipe(curve, 10.0, None)
    assert delivery.knots.tolist() == [0.0, 4e-4, 9e-4]
    assert not delivery.is_constant
    for pump in (ConstantFlow(1e-3), TwoFlows.of(2e5, 1e-3, 3e5, 5e-4)):
        assert pump.knots.size == 0


def test_a_curve_keeps_its_points_whatever_becomes_of_what_it_was_made_from() -> None:
    flow = np.array([0.0, 4e-4, 9e-4])
    curve = PumpCurve.of(flow, [90.0, 80.0, 40.0])
    flow[1] = 8e-4
    assert curve.flows[1] == 4e-4
    with pytest.raises(ValueError, match="read-only"):
        curve.flows[1] = 8e-4


GOOD = ([0.0, 4.0, 8.0, 12.0], [300.0, 280.0, 230.0, 150.0])


@pytest.mark.parametrize("column", ["flow", "head"])
@pytest.mark.parametrize("place", [1, 2, 3])
@pytest.mark.parametrize("by", [0.0, 1.0])
def test_the_point_that_breaks_the_order_is_named(column: str, place: int, by: float) -> None:
    """Equal to the point before, or beyond it."""
    flow, head = list(GOOD[0]), list(GOOD[1])
    if column == "flow":
        flow[place] = flow[place - 1] - min(by, flow[place - 1])
    else:
        head[place] = head[place - 1] + by
    with pytest.raises(ValueError, match=rf"point {place + 1} of the pump curve: its {column}"):
        PumpCurve.of(flow, head)


@pytest.mark.parametrize("place", range(4))
@pytest.mark.parametrize("column", [0, 1])
@pytest.mark.parametrize("value", [np.nan, np.inf, -np.inf])
def test_a_point_that_is_no_number_is_named(place: int, column: int, value: float) -> None:
    points = [list(GOOD[0]), list(GOOD[1])]
    points[column][place] = value
    name = ("flow", "head")[column]
    with pytest.raises(ValueError, match=rf"point {place + 1} of the pump curve: its {name}"):
        PumpCurve.of(*points)


def test_a_first_point_below_no_flow_is_named() -> None:
    with pytest.raises(ValueError, match="point 1 of the pump curve: its flow must be 0 or more"):
        PumpCurve.of([-1.0, 4.0, 8.0], [300.0, 280.0, 230.0])


@pytest.mark.parametrize("count", [0, 1, 2, 21])
def test_too_few_or_too_many_points_are_counted(count: int) -> None:
    with pytest.raises(ValueError, match=f"3 to 20 points; there are {count}"):
        PumpCurve.of(np.arange(count), 100.0 - np.arange(count))


def test_the_fewest_and_the_most_points_are_taken() -> None:
    for count in (3, 20):
        assert PumpCurve.of(np.arange(count), 100.0 - np.arange(count)).flows.size == count


@pytest.mark.parametrize(
    ("flow", "head"), [([0, 1, 2], [3, 2]), ([[0, 1, 2]], [[3, 2, 1]]), (1.0, [3, 2, 1])]
)
def test_a_flow_without_a_head_is_refused(flow: list[float], head: list[float]) -> None:
    with pytest.raises(ValueError, match="a flow and a head"):
        PumpCurve.of(flow, head)


@pytest.mark.parametrize(
    ("cut_in", "flow_in", "cut_out", "flow_out", "message"),
    [
        (2e5, 1e-3, 2e5, 5e-4, "cut-out must be above cut-in"),
        (3e5, 1e-3, 2e5, 5e-4, "cut-out must be above cut-in"),
        (-1e5, 1e-3, 2e5, 5e-4, "neither below zero"),
        (np.nan, 1e-3, 2e5, 5e-4, "cut-out must be above cut-in"),
        (2e5, 0.0, 3e5, 0.0, "must be above zero"),
        (2e5, 1e-3, 3e5, -1e-4, "must be above zero"),
        (2e5, np.nan, 3e5, 5e-4, "must be above zero"),
        (2e5, np.inf, 3e5, 5e-4, "must be above zero"),
        (2e5, 1e-3, 3e5, 1e-3, "equal"),
        (2e5, 5e-4, 3e5, 1e-3, "swapped"),
    ],
)
def test_two_flows_that_no_pump_gives_are_refused(
    cut_in: float, flow_in: float, cut_out: float, flow_out: float, message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        TwoFlows.of(cut_in, flow_in, cut_out, flow_out)


def test_a_pump_that_just_reaches_cut_out_has_its_shut_off_there() -> None:
    assert TwoFlows.of(2e5, 1e-3, 3e5, 0.0).shut_off == pytest.approx(3e5, rel=1e-15)


@pytest.mark.parametrize("value", [0.0, -1e-3, np.nan, np.inf])
def test_a_constant_flow_must_be_above_zero(value: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        ConstantFlow(value)


def test_a_lift_must_be_a_number() -> None:
    curve = PumpCurve.of(np.array(GOOD[0]) * GPM, np.array(GOOD[1]) * FOOT)
    with pytest.raises(ValueError, match="lift"):
        CurveThroughPipe(curve, float("nan"), None)


def test_a_well_deeper_than_the_pumps_head_has_a_shut_off_below_zero() -> None:
    curve = PumpCurve.of(np.array(GOOD[0]) * GPM, np.array(GOOD[1]) * FOOT)
    delivery = CurveThroughPipe(curve, 320 * FOOT, None)
    assert delivery.shut_off is not None
    assert delivery.shut_off < 0
    assert float(delivery.flow(gauge_pressure(0.0))) == 0.0
