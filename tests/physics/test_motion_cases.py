"""The system in motion in cases that can be told beforehand: draws, precharges, changes, a lag."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tests.physics.day_samples import PUMPS
from tests.physics.motion_reference import GIVE, kinds, sample
from tests.physics.run_reference import GAL, GPM, PSI
from workbench.physics.motion import Event, Happening, advance, step
from workbench.physics.pump import TwoFlows
from workbench.physics.system import State, System

# --- draws ---


def test_without_a_draw_a_sound_system_stays_as_it_is() -> None:
    one = sample()
    state, events = advance(one, one.at_rest(50 * PSI), 1e7, 0.0)
    assert events == ()
    assert one.pressure(state.stored) == pytest.approx(50 * PSI, rel=1e-13)


def test_without_a_draw_a_leaking_check_valve_makes_the_pump_start() -> None:
    one = sample(back_flow=0.2 * GPM)
    state, events = advance(one, one.at_rest(60 * PSI), 7200.0, 0.0)
    assert state.starts >= 2
    assert kinds(events)[:4] == ["CLOSED", "GIVES", "OPENED", "CLOSED"]
    rest = (one.top - one.starts_at) / one.back_flow
    assert events[0].time == pytest.approx(rest, rel=1e-12)
    assert one.moment(state, 0.0).back_flow == 0.2 * GPM


@pytest.mark.parametrize("name", ["constant"])
def test_a_draw_of_just_the_pumps_flow_keeps_the_pressure(name: str) -> None:
    one = sample(delivery=PUMPS[name])
    state, events = advance(one, one.at_rest(40 * PSI), 1e5, 10 * GPM)
    assert events == ()
    assert one.pressure(state.stored) == pytest.approx(40 * PSI, rel=1e-12)


@pytest.mark.parametrize("lag", [0.0, 5.0])
@pytest.mark.parametrize("name", ["falling", "curve"])
def test_a_draw_that_the_pump_meets_below_cut_out_settles_there(name: str, lag: float) -> None:
    one = sample(delivery=PUMPS[name], sensing_lag=lag)
    draw = one.pump_flow(one.stored(52 * PSI))
    for begin in (40 * PSI, 44 * PSI):
        settled, events = advance(one, replace(one.at_rest(begin), closed=True), 1e5, draw)
        assert events == ()
        assert one.pressure(settled.stored) == pytest.approx(52 * PSI, rel=1e-6)


@pytest.mark.parametrize("lag", [0.0, 5.0])
def test_a_draw_above_the_pumps_flow_empties_the_tank_under_the_running_pump(lag: float) -> None:
    one = sample(sensing_lag=lag)
    state, events = advance(one, one.at_rest(40 * PSI), 3600.0, 12 * GPM)
    assert kinds(events) == ["EMPTIED", "DRY"]
    left = one.starts_at - one.emptied_at
    assert events[0].time == pytest.approx(left / (2 * GPM), rel=1e-9)
    assert events[1].time == pytest.approx(one.starts_at / (2 * GPM), rel=1e-9)
    at = one.moment(state, 12 * GPM)
    assert (at.pressure, at.is_dry, at.is_empty, at.gives) == (0.0, True, True, True)
    assert at.tap_flow == at.pump_flow == 10 * GPM


@pytest.mark.parametrize("lag", [0.0, 5.0])
def test_a_falling_pump_overdrawn_settles_in_the_pipes(lag: float) -> None:
    one = sample(delivery=TwoFlows.of(40 * PSI, 12 * GPM, 60 * PSI, 7 * GPM), sensing_lag=lag)
    draw = one.pump_flow(one.stored(20 * PSI))
    state, events = advance(one, one.at_rest(40 * PSI), 1e5, draw)
    assert kinds(events) == ["EMPTIED"]
    assert one.pressure(state.stored) == pytest.approx(20 * PSI, rel=1e-6)


@pytest.mark.parametrize("lag", [0.0, 5.0])
def test_a_worn_pump_never_reaches_cut_out(lag: float) -> None:
    one = sample(delivery=TwoFlows.of(30 * PSI, 10 * GPM, 50 * PSI, 4 * GPM), sensing_lag=lag)
    shut_off = one.delivery.shut_off
    assert shut_off is not None
    assert shut_off < 60 * PSI
    state, events = advance(one, one.at_rest(40 * PSI), 1e6, 0.0)
    assert events == ()
    assert one.moment(state, 0.0).gives
    assert 0.99 * shut_off < one.pressure(state.stored) <= shut_off * (1 + 1e-9)


# --- precharges ---


def test_without_precharge_the_tank_gives_to_the_last_drop() -> None:
    one = sample(precharge=0.0, start_delay=300.0)
    state, events = advance(one, one.at_rest(40.1 * PSI), 250.0, 10 * GPM)
    assert kinds(events) == ["CLOSED", "DRY"]
    assert one.moment(state, 10 * GPM).is_dry


@pytest.mark.parametrize("lag", [0.0, 2.0])
def test_without_precharge_an_overdrawn_tank_is_told_dry_alone(lag: float) -> None:
    one = sample(precharge=0.0, sensing_lag=lag)
    _, events = advance(one, one.at_rest(40 * PSI), 1e5, 12 * GPM)
    assert kinds(events) == ["DRY"]


@pytest.mark.parametrize("charge", [60.0, 70.0])
def test_a_precharge_at_or_above_cut_out_leaves_the_tank_without_water(charge: float) -> None:
    one = sample(precharge=charge * PSI, start_delay=0.1)
    state, tap, starts = one.at_rest(50 * PSI), 1 * GPM, []
    while state.time < 60.0:
        state, event = step(one, state, 60.0 - state.time, tap)
        assert one.moment(state, tap).water == pytest.approx(0.0, abs=1e-15)
        if event and event.kind is Happening.CLOSED:
            starts.append(event.time)
    assert len(starts) > 60  # the switch chatters: the pipes alone give a spoonful
    between = GIVE * 20 * PSI
    cycle = between / tap + 0.1 + (between + 0.1 * tap) / (9 * GPM)
    assert np.diff(starts) == pytest.approx(cycle, rel=1e-9)


def test_a_membrane_at_its_limit_lets_the_pressure_jump() -> None:
    full = sample(acceptance=13 * GAL, precharge=30 * PSI)
    assert 40 * PSI < full.full_at < 60 * PSI
    state, events = advance(full, full.at_rest(40 * PSI), 3600.0, 0.0)
    assert kinds(events) == ["OPENED"]
    room = 13 * GAL - full.water(40 * PSI) + GIVE * 20 * PSI
    assert events[0].time == pytest.approx(room / (10 * GPM), rel=1e-12)
    assert full.moment(state, 0.0).water == 13 * GAL
    assert full.moment(state, 0.0).is_full


# --- another system under the same gauge ---


def moved(before: System, after: System, pressure: float, *, closed: bool = False) -> State:
    state = replace(before.at_rest(pressure), closed=closed)
    return after.moved_here(state, before)


def test_cut_out_moved_below_the_gauge_stops_the_pump_at_once() -> None:
    before, after = sample(), sample(cut_out=50 * PSI)
    state, events = advance(after, moved(before, after, 55 * PSI, closed=True), 1.0, 0.0)
    assert events == (Event(0.0, Happening.OPENED),)
    assert after.pressure(state.stored) == pytest.approx(55 * PSI, rel=1e-12)


def test_cut_in_moved_above_the_gauge_starts_the_pump_at_once() -> None:
    before, after = sample(), sample(cut_in=50 * PSI)
    _, events = advance(after, moved(before, after, 45 * PSI), 0.5, 0.0)
    assert events == (Event(0.0, Happening.CLOSED),)


def test_a_gauge_above_cut_out_falls_to_cut_in_as_ever() -> None:
    before, after = sample(), sample(cut_out=50 * PSI)
    state = moved(before, after, 58 * PSI)
    held = state.stored - after.starts_at
    _, events = advance(after, state, 3600.0, 2 * GPM)
    assert events[0].kind is Happening.CLOSED
    assert events[0].time == pytest.approx(held / (2 * GPM), rel=1e-12)


@pytest.mark.parametrize("lag", [0.0, 5.0])
def test_a_relief_valve_set_below_the_gauge_opens_at_once(lag: float) -> None:
    before = sample(sensing_lag=lag)
    after = sample(cut_in=20 * PSI, cut_out=30 * PSI, relief=45 * PSI, sensing_lag=lag)
    state, events = advance(after, moved(before, after, 58 * PSI), 1.0, 0.0)
    assert events == (Event(0.0, Happening.RELIEVED),)
    assert after.pressure(state.stored) == pytest.approx(45 * PSI, rel=1e-12)


# --- a switch that feels the pressure late ---


def test_a_plugged_nipple_lets_the_relief_valve_open() -> None:
    one = sample(sensing_lag=120.0)
    state, events = advance(one, one.at_rest(40 * PSI), 3600.0, 0.0)
    assert kinds(events) == ["RELIEVED", "OPENED"]
    held = one.relieved_at - one.starts_at
    assert events[0].time == pytest.approx(held / (10 * GPM), rel=1e-9)
    # From then on the pressure stands still, and what is sensed comes near it by its lag alone.
    at, _ = advance(one, one.at_rest(40 * PSI), events[0].time, 0.0)
    wait = 120.0 * math.log((85 * PSI - at.sensed) / (25 * PSI))
    assert events[1].time - events[0].time == pytest.approx(wait, rel=1e-9)
    assert one.pressure(state.stored) == pytest.approx(85 * PSI, rel=1e-12)


def test_an_open_relief_valve_passes_what_the_tap_leaves() -> None:
    one = sample(sensing_lag=6000.0)
    state, events = advance(one, one.at_rest(40 * PSI), 500.0, 2 * GPM)
    assert kinds(events) == ["RELIEVED"]
    at = one.moment(state, 2 * GPM)
    assert at.relief_flow == pytest.approx(8 * GPM, rel=1e-12)
    assert one.moment(replace(state, closed=False), 2 * GPM).relief_flow == 0.0


def test_a_lag_that_vanishes_is_no_lag() -> None:
    prompt, late = sample(), sample(sensing_lag=1e-6)
    for tap in (0.0, 3 * GPM, 12 * GPM):
        _, expected = advance(prompt, prompt.at_rest(45 * PSI), 300.0, tap)
        _, events = advance(late, late.at_rest(45 * PSI), 300.0, tap)
        assert kinds(events) == kinds(expected)
        for event, other in zip(events, expected, strict=True):
            assert event.time == pytest.approx(other.time, abs=1e-3)


def test_what_a_switch_feels_may_turn_back_on_a_straight_way() -> None:
    """The pressure falls all the time; what is felt rises to it, past cut-out, and falls again."""
    one = sample(acceptance=1 * GAL, line_give=1e-7, sensing_lag=20.0)
    assert one.full_at < 40 * PSI
    high, felt, slope = 84 * PSI, 59 * PSI, -0.5 * GPM / 1e-7
    state = replace(one.at_rest(high), closed=True, sensed=felt)
    _, event = step(one, state, 600.0, 10.5 * GPM)
    assert event is not None
    assert event.kind is Happening.OPENED
    behind = felt - high + slope * 20.0
    sensed = high + slope * (event.time - 20.0) + behind * math.exp(-event.time / 20.0)
    assert sensed == pytest.approx(60 * PSI, rel=1e-12)
    assert event.time < 2.0


def test_what_happens_at_the_very_end_of_a_step_is_told() -> None:
    one = sample()
    for begin, tap in ((30 * PSI, 12 * GPM), (60 * PSI, 3 * GPM)):
        _, first = step(one, one.at_rest(begin), 1e6, tap)
        assert first is not None
        _, again = step(one, one.at_rest(begin), first.time, tap)
        assert again == first


def test_a_switch_that_turns_back_within_a_long_way_is_not_missed() -> None:
    """The pressure rises and falls again, but what the switch feels peaks above cut-out between."""
    one = sample(sensing_lag=20.0)
    state = replace(one.at_rest(62 * PSI), closed=True, sensed=59.9 * PSI)
    _, events = advance(one, state, 600.0, 10.5 * GPM)
    assert events[0].kind is Happening.OPENED
    assert events[0].time < 5.0


@pytest.mark.parametrize("tap", [0.0, 3 * GPM])
def test_an_open_relief_valve_leaves_nothing_to_be_stored(tap: float) -> None:
    one = sample(sensing_lag=6000.0)
    state, events = advance(one, one.at_rest(39 * PSI), 3600.0, tap)
    assert Happening.RELIEVED in [event.kind for event in events]
    moment = one.moment(state, tap)
    assert moment.relief_flow > 0.0
    assert moment.stored_flow == 0.0
