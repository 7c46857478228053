"""A system at rest: its water, its pressure, the pump's flow over it, and what is refused."""

from __future__ import annotations

import math
from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.physics.day_samples import GAL, GPM, PSI, PUMPS
from tests.physics.motion_reference import sample
from workbench.physics.air import AbsolutePressure, gauge_pressure
from workbench.physics.curve import PumpCurve
from workbench.physics.motion import advance
from workbench.physics.pump import CurveThroughPipe, TwoFlows
from workbench.physics.system import System
from workbench.physics.tank import water_in_tank

AIR = 14.7 * PSI
few = settings(max_examples=150, deadline=None, derandomize=True, database=None)


systems = st.builds(
    lambda volume, charge, exponent, give, most: sample(
        volume=volume * GAL,
        precharge=charge * PSI,
        exponent=exponent,
        line_give=10.0**give,
        acceptance=volume * GAL * most,
    ),
    st.floats(2.0, 500.0),
    st.floats(0.0, 80.0),
    st.sampled_from([1.0, 1.2, 1.4, 0.9]),
    st.floats(-10.0, -8.0),
    st.sampled_from([math.inf, 0.6, 0.3, 0.05]),
)


# --- water and pressure ---


@few
@given(systems, st.floats(0.0, 150.0))
def test_pressure_and_stored_water_are_inverse(one: System, psi: float) -> None:
    pressure = psi * PSI
    stored = one.stored(pressure)
    assert one.pressure(stored) == pytest.approx(pressure, rel=1e-12, abs=1e-6)
    assert one.stored(one.pressure(stored)) == pytest.approx(stored, rel=1e-12)


@few
@given(systems, st.floats(0.0, 1.0))
def test_stored_water_and_pressure_are_inverse(one: System, share: float) -> None:
    most = one.stored(120 * PSI)
    again = one.stored(one.pressure(share * most))
    assert again == pytest.approx(share * most, rel=1e-12, abs=1e-13 * most)
    assert one.pressure(share * most) >= 0.0


@few
@given(systems, st.floats(0.0, 150.0))
def test_the_water_is_the_tanks_own(one: System, psi: float) -> None:
    expected = water_in_tank(
        AbsolutePressure(np.asarray(psi * PSI + AIR)),
        AbsolutePressure(np.asarray(one.precharge + AIR)),
        one.volume,
        one.acceptance,
        one.exponent,
    )
    assert one.water(psi * PSI) == pytest.approx(float(expected), rel=1e-12, abs=1e-15)


@few
@given(systems)
def test_pressure_rises_with_the_water(one: System) -> None:
    stored = np.linspace(0.0, one.stored(120 * PSI), 500)
    pressure = [one.pressure(float(each)) for each in stored]
    assert np.all(np.diff(pressure) > 0.0)


def test_corners_are_where_the_tank_is_empty_and_full() -> None:
    one = sample(acceptance=15 * GAL)
    assert one.water(one.full_at) == pytest.approx(15 * GAL, rel=1e-14)
    assert one.water(one.full_at * 1.01) == 15 * GAL
    assert one.water(one.full_at * 0.99) < 15 * GAL
    assert one.pressure(one.emptied_at) == pytest.approx(38 * PSI, rel=1e-15)
    assert one.pressure(one.filled_at) == pytest.approx(one.full_at, rel=1e-12)
    assert sample().full_at == sample().filled_at == math.inf
    assert sample(acceptance=44 * GAL).full_at == math.inf


def test_one_more_pascal_takes_what_tank_and_pipes_give() -> None:
    one, at = sample(exponent=1.2), 50 * PSI
    tank = one.volume / 1.2 * (38 * PSI + AIR) ** (1 / 1.2) * (at + AIR) ** (-1 / 1.2 - 1)
    change = (one.stored(at + 10.0) - one.stored(at - 10.0)) / 20.0
    assert change == pytest.approx(tank + one.line_give, rel=1e-8)


# --- the pump over the water ---


@pytest.mark.parametrize("name", PUMPS)
@pytest.mark.parametrize("lag", [0.0, 5.0])
def test_the_pumps_flow_is_that_of_its_data(name: str, lag: float) -> None:
    one = sample(delivery=PUMPS[name], sensing_lag=lag, acceptance=12 * GAL)
    highest = 85.0 if lag else 60.0
    for psi in np.linspace(32.0, highest, 200):  # the curve's data begin at 31 psi
        expected = float(PUMPS[name].flow(gauge_pressure(psi * PSI)))
        flow = one.pump_flow(one.stored(float(psi) * PSI))
        assert flow == pytest.approx(expected, rel=1e-5, abs=1e-8)


def test_corners_of_the_flow_are_met_exactly() -> None:
    worn = TwoFlows.of(30 * PSI, 10 * GPM, 50 * PSI, 4 * GPM)
    one = sample(delivery=worn, acceptance=13 * GAL, precharge=30 * PSI)
    assert worn.shut_off < 60 * PSI
    pressures = np.asarray(one.fill.pressure)
    for corner in (0.0, 30 * PSI, 40 * PSI, one.full_at, worn.shut_off, 60 * PSI):
        assert corner in pressures
    assert one.pump_flow(one.stored(worn.shut_off)) == 0.0
    assert one.fill.cut_in_water == one.starts_at
    assert one.top == one.stored(60 * PSI)


def test_below_the_data_the_greatest_flow_is_held_above_them_the_least() -> None:
    curve = PumpCurve.of(np.array([5.0, 8.0, 14.0]) * GPM, np.array([80.0, 70.0, 50.0]))
    short = CurveThroughPipe(curve, 25.0, None)  # reaches from 36 to 78 psi
    one = sample(delivery=short, sensing_lag=5.0)
    assert one.pump_flow(one.stored(10 * PSI)) == pytest.approx(14 * GPM)
    assert one.pump_flow(one.stored(84 * PSI)) == pytest.approx(5 * GPM)


def test_a_pump_that_does_not_lift_to_the_tank_gives_nothing() -> None:
    curve = PumpCurve.of(np.array([0.0, 8.0, 14.0]) * GPM, np.array([20.0, 15.0, 5.0]))
    one = sample(delivery=CurveThroughPipe(curve, 30.0, None))
    assert one.pump_flow(0.0) == one.pump_flow(one.top) == 0.0
    state, events = advance(one, one.at_rest(40 * PSI), 3600.0, 0.0)
    assert events == ()
    assert one.pressure(state.stored) == pytest.approx(40 * PSI, rel=1e-12)


# --- states ---


def test_a_system_begins_running_at_or_below_cut_in_only() -> None:
    one = sample()
    assert one.at_rest(40 * PSI).closed
    assert one.at_rest(12 * PSI, time=3.0).time == 3.0
    assert not one.at_rest(40.01 * PSI).closed
    assert one.at_rest(50 * PSI).sensed == 50 * PSI
    assert one.at_rest(50 * PSI, starts=7).starts == 7


@few
@given(systems, systems, st.floats(0.0, 84.0))
def test_moved_into_another_system_the_gauge_shows_the_same(
    before: System, after: System, psi: float
) -> None:
    state = replace(before.at_rest(psi * PSI, 12.5, 3), delay=0.4, closed=True)
    moved = after.moved_here(state, before)
    shown = before.pressure(state.stored)
    assert after.pressure(moved.stored) == pytest.approx(shown, rel=1e-11, abs=1e-6)
    assert replace(moved, stored=0.0, sensed=0.0) == replace(state, stored=0.0, sensed=0.0)


def test_moved_into_a_system_without_lag_the_switch_feels_the_gauge() -> None:
    late, prompt = sample(sensing_lag=30.0), sample()
    state = replace(late.at_rest(50 * PSI), sensed=45 * PSI)
    assert prompt.moved_here(state, late).sensed == pytest.approx(50 * PSI, rel=1e-12)
    assert late.moved_here(state, prompt).sensed == 45 * PSI


@few
@given(systems, st.just(0.0) | st.floats(0.01, 84.0), st.floats(0.0, 20.0), st.booleans())
def test_what_is_seen_belongs_together(one: System, psi: float, tap: float, closed: bool) -> None:
    one = replace(one, back_flow=1e-5)
    state = replace(one.at_rest(psi * PSI), closed=closed)
    at = one.moment(state, tap * GPM)
    assert at.water + at.air == pytest.approx(one.volume, rel=1e-12)
    assert at.water + one.line_give * at.pressure == pytest.approx(state.stored, rel=1e-9)
    assert (at.pump_flow > 0.0) == at.gives == closed
    assert at.back_flow == (0.0 if closed or state.stored == 0.0 else 1e-5)
    assert at.is_empty == (at.water <= 1e-12 * one.volume)
    assert 0.0 <= at.tap_flow <= tap * GPM
    assert at.is_dry == (state.stored == 0.0 and at.tap_flow < tap * GPM)
    assert at.is_full == (at.pressure >= one.full_at)
    assert at.relief_flow == 0.0


def test_a_start_that_is_awaited_gives_nothing_yet() -> None:
    one = sample(back_flow=1e-5)
    waiting = replace(one.at_rest(39 * PSI), delay=0.3)
    assert one.moment(waiting, 0.0).closed
    assert not one.moment(waiting, 0.0).gives
    assert one.moment(waiting, 0.0).back_flow == 1e-5
    dry = one.moment(replace(waiting, stored=0.0), 1e-4)
    assert (dry.is_dry, dry.tap_flow, dry.back_flow, dry.pressure) == (True, 0.0, 0.0, 0.0)


# --- what cannot be ---


@pytest.mark.parametrize("wrong", [math.nan, math.inf, -math.inf, -1.0, 0.0])
@pytest.mark.parametrize(
    ("entry", "name"),
    [
        ("volume", "total volume must be above zero"),
        ("acceptance", "acceptance must be above zero"),
        ("exponent", "compression exponent must be above zero"),
        ("ambient", "air pressure must be above zero"),
        ("line_give", "give of the pipes must be above zero"),
        ("precharge", "precharge must be zero or above"),
        ("start_delay", "start of the pump must be zero or above"),
        ("back_flow", "flow back to the well must be zero or above"),
        ("sensing_lag", "lag of the switch must be zero or above"),
        ("cut_in", "cut-in must be above zero, cut-out above it"),
        ("cut_out", "cut-out above it"),
        ("relief", "relief valve above both"),
    ],
)
def test_a_value_out_of_its_range_is_refused_by_name(entry: str, name: str, wrong: float) -> None:
    may_be_zero = name.endswith("zero or above")
    if (wrong == 0.0 and may_be_zero) or (entry == "acceptance" and wrong == math.inf):
        assert getattr(sample(**{entry: wrong}), entry) == wrong
        return
    with pytest.raises(ValueError, match=name):
        sample(**{entry: wrong})


def test_every_number_of_a_system_is_among_those_refused() -> None:
    tried = {"volume", "acceptance", "exponent", "ambient", "line_give", "precharge"}
    tried |= {"start_delay", "back_flow", "sensing_lag", "cut_in", "cut_out", "relief"}
    assert {one.name for one in fields(System)} == tried | {"delivery"}


@pytest.mark.parametrize(
    ("entry", "psi"), [("cut_in", 60), ("cut_out", 40), ("relief", 60), ("cut_in", 90)]
)
def test_a_band_out_of_order_is_refused(entry: str, psi: float) -> None:
    with pytest.raises(ValueError, match="cut-out above it, the relief valve above both"):
        sample(**{entry: psi * PSI})


def test_a_pump_whose_data_end_within_the_band_is_refused() -> None:
    curve = PumpCurve.of(np.array([5.0, 8.0, 14.0]) * GPM, np.array([80.0, 75.0, 70.0]))
    with pytest.raises(ValueError, match="do not reach from cut-in to cut-out"):
        sample(delivery=CurveThroughPipe(curve, 25.0, None))


def test_a_band_that_holds_almost_nothing_is_refused() -> None:
    assert sample(line_give=1e-15).top > 0.0  # the tank holds water: the pipes need not
    with pytest.raises(ValueError, match="thousands of times a second"):
        sample(line_give=1e-15, precharge=61 * PSI)


@pytest.mark.parametrize("wrong", [-1.0, math.nan, math.inf])
def test_a_pressure_that_cannot_be_is_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match="pressure must be zero or above"):
        sample().at_rest(wrong)
