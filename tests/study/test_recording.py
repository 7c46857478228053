"""A system in motion that remembers: the present, the past, and all that happened."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from tests.study.build import GAL, GPM, PSI, SEA
from workbench.physics import cycle
from workbench.physics.air import AbsolutePressure, gauge_pressure
from workbench.physics.fill import FillCurve
from workbench.physics.header import Vessels
from workbench.physics.motion import Event, Happening, advance
from workbench.physics.pump import ConstantFlow, Delivery, TwoFlows
from workbench.physics.system import Moment, System
from workbench.study.live import recording, trace
from workbench.study.live.recording import Recording
from workbench.study.live.rig import Rig
from workbench.study.live.trace import SAMPLE
from workbench.study.setting import Setting

FALLING = TwoFlows.of(30 * PSI, 12 * GPM, 50 * PSI, 8 * GPM)
FRAME = 1 / 60


def rig(charge_loss: float = 0.0, **changes: object) -> Rig:
    """44 gal at 30/50, charged to 28 psi, with a pump of 10 gpm."""
    values: dict[str, object] = {
        "volume": 44 * GAL,
        "precharge": 28 * PSI,
        "ambient": SEA,
        "delivery": ConstantFlow(10 * GPM),
        "cut_in": 30 * PSI,
        "cut_out": 50 * PSI,
        "relief": 75 * PSI,
        "line_give": 0.005 * GAL / (10 * PSI),
        "start_delay": 1.0,
    } | changes
    system = System(**values)  # type: ignore[arg-type]
    setting = Setting(30 * PSI, 50 * PSI, 28 * PSI, SEA, 1.0)
    return Rig(system, setting, "Invented 44", charge_loss=charge_loss)


KINDS: dict[str, Callable[[], Rig]] = {
    "usual": rig,
    "falling flow": lambda: rig(delivery=FALLING),
    "precharge above cut-in": lambda: rig(precharge=38 * PSI),
    "leaking check valve": lambda: rig(back_flow=0.5 * GPM),
    "plugged nipple": lambda: rig(sensing_lag=3.0),
    "membrane at its limit": lambda: rig(acceptance=14 * GAL),
    "pinhole, leak of air": lambda: rig(charge_loss=1 * PSI, volume=20 * GAL),
}


def same(one: Moment, other: Moment, exactly: float = 1e-9) -> None:
    for name in ("pressure", "water", "air", "sensed", "pump_flow", "tap_flow"):
        expected = getattr(other, name)
        assert getattr(one, name) == pytest.approx(expected, rel=exactly, abs=1e-12), name
    assert (one.closed, one.gives, one.starts) == (other.closed, other.gives, other.starts)


def play(tape: Recording, seconds: float, chance: random.Random) -> list[Event]:
    """Frames of a clock that is not quite even."""
    events: list[Event] = []
    end = tape.time + seconds
    while tape.time < end:
        events += tape.advance(min(chance.uniform(0.0, 3 * FRAME), end - tape.time))
        if end - tape.time < 1e-9:
            break
    return events


@pytest.mark.parametrize("kind", KINDS)
def test_any_past_moment_is_what_was_seen_then(kind: str) -> None:
    chance = random.Random(kind)
    tape = Recording(KINDS[kind](), 6 * GPM)
    seen: list[Moment] = []
    for _ in range(900):
        tape.advance(chance.uniform(0.0, 0.6))
        seen.append(tape.moment)
    for moment in chance.sample(seen, 150):
        same(tape.at(moment.time), moment)


@pytest.mark.parametrize("kind", KINDS)
def test_the_past_is_the_same_however_often_somebody_looked(kind: str) -> None:
    # A switch that lags is followed in steps of 20 ms; when an event falls into a step that a
    # frame cut short, its time may differ by what the pressure bends within one step.
    often, seldom = Recording(KINDS[kind](), 6 * GPM), Recording(KINDS[kind](), 6 * GPM)
    many = play(often, 200.0, random.Random(kind))
    few = seldom.advance(200.0)
    lags = often.rig.system.sensing_lag > 0.0
    assert [event.kind for event in many] == [event.kind for event in few]
    assert [event.time for event in many] == pytest.approx(
        [event.time for event in few], abs=1e-4 if lags else 1e-7
    )
    chance = random.Random(1)
    for _ in range(50):
        time = chance.uniform(0.0, min(often.time, seldom.time))
        same(often.at(time), seldom.at(time), 1e-5 if lags else 1e-9)


@pytest.mark.parametrize("kind", ["usual", "falling flow", "precharge above cut-in"])
def test_a_moment_equals_an_advance_from_the_beginning(kind: str) -> None:
    one = KINDS[kind]()
    tape = Recording(one, 6 * GPM)
    events = play(tape, 400.0, random.Random(2))
    start = one.system.at_rest(one.system.cut_out)
    expected = advance(one.system, start, tape.time, 6 * GPM)[1]
    assert [event.kind for event in events] == [event.kind for event in expected]
    assert [e.time for e in events] == pytest.approx([e.time for e in expected], abs=1e-7)
    chance = random.Random(3)
    for _ in range(100):
        time = chance.uniform(0.0, tape.time)
        state, _ = advance(one.system, start, time, 6 * GPM)
        same(tape.at(time), one.system.moment(state, 6 * GPM))


@pytest.mark.parametrize("kind", KINDS)
def test_the_trace_holds_every_event_exactly_and_samples_a_tenth_apart(kind: str) -> None:
    tape = Recording(KINDS[kind](), 6 * GPM)
    events = play(tape, 200.0, random.Random(4))
    seen = tape.trace
    rows = np.flatnonzero(seen.kind)
    assert [Event(float(seen.time[n]), Happening(int(seen.kind[n]))) for n in rows] == events
    assert np.all(np.diff(seen.time) >= 0.0)
    assert seen.time[-1] == tape.time
    past = seen.time[:-1]
    plain = past[~np.isin(past, seen.time[rows])]  # at an event a rig may change besides
    apart = np.diff(plain)
    assert apart.max() <= SAMPLE * 1.001
    assert apart.min() >= SAMPLE * 0.999
    for n in random.Random(5).sample(range(len(seen.time)), 60):
        moment = tape.at(float(seen.time[n]))
        assert moment.pressure == pytest.approx(float(seen.pressure[n]), rel=1e-9)
        if n + 1 < len(seen.time) and seen.time[n + 1] > seen.time[n]:  # the later of two
            assert moment.water == pytest.approx(float(seen.water[n]), rel=1e-9, abs=1e-12)
            assert moment.closed == bool(seen.pump_on[n])


@pytest.mark.parametrize("kind", ["usual", "falling flow", "leaking check valve"])
def test_no_water_is_lost_and_none_is_made(kind: str) -> None:
    """What was pumped, less what was drawn and what ran back, is what the storage gained."""
    tape = Recording(KINDS[kind](), 6 * GPM)
    play(tape, 300.0, random.Random(6))
    system = tape.rig.system
    step = 0.01
    middles = np.arange(0.5 * step, tape.time, step)
    moments = [tape.at(float(time)) for time in middles]
    net = sum(m.pump_flow - m.tap_flow - m.back_flow for m in moments) * step
    gained = tape.state.stored - system.stored(system.cut_out)
    pumped = sum(m.pump_flow for m in moments) * step
    # Each of the few switchings falls somewhere within one step.
    assert net == pytest.approx(gained, abs=3e-4 * pumped + 4 * step * 12 * GPM)
    assert pumped > 10 * GAL


@pytest.mark.parametrize("delivery", [ConstantFlow(10 * GPM), FALLING])
@pytest.mark.parametrize("draw", [0.5 * GPM, 4 * GPM, 7 * GPM])
def test_without_delay_and_give_runs_and_rests_are_those_of_the_fill_curve(
    delivery: Delivery, draw: float
) -> None:
    one = rig(delivery=delivery, start_delay=0.0, line_give=1e-9 * GAL / PSI)
    charge = AbsolutePressure(np.asarray(28 * PSI + SEA))
    fill = FillCurve.of(
        delivery,
        Vessels.one(44 * GAL, charge),
        gauge_pressure(30 * PSI),
        gauge_pressure(50 * PSI),
        AbsolutePressure(np.asarray(SEA)),
    )
    tape = Recording(one, draw)
    times: list[Event] = []
    while len(times) < 4:
        event = tape.step_to_next(1e5)
        assert event is not None
        times.append(event)
    assert [one.kind for one in times] == [Happening.CLOSED, Happening.OPENED] * 2
    run = times[1].time - times[0].time
    rest = times[2].time - times[1].time
    assert run == pytest.approx(float(cycle.fill_time(fill, draw)), rel=2e-6)
    assert run == pytest.approx(
        float(fill.time(fill.cut_in_water, fill.cut_out_water, draw)), rel=2e-6
    )
    assert rest == pytest.approx(float(cycle.rest_time(fill, draw)), rel=2e-6)


def test_another_rig_carries_on_from_the_gauge_and_the_trace_shows_both() -> None:
    tape = Recording(rig(), 5 * GPM)
    tape.advance(40.0)
    before = tape.moment
    tape.set_rig(rig(precharge=18 * PSI, volume=85 * GAL))
    after = tape.moment
    assert after.pressure == pytest.approx(before.pressure, rel=1e-12)
    assert after.water > 1.5 * before.water
    seen = tape.trace
    jump = np.flatnonzero(seen.time == before.time)
    assert seen.water[jump[0]] == pytest.approx(before.water)
    assert seen.water[jump[-1]] == pytest.approx(after.water)
    tape.advance(10.0)
    same(tape.at(before.time - 1e-6), replace(before), 1e-5)
    same(tape.at(before.time), after)


def test_a_band_below_the_present_pressure_stops_the_pump_at_the_next_step() -> None:
    tape = Recording(rig(), 0.0, 35 * PSI)
    tape.set_rig(rig(cut_in=20 * PSI, cut_out=34 * PSI, precharge=18 * PSI))
    assert not tape.moment.closed  # it rested
    low = Recording(rig(), 5 * GPM, 25 * PSI)
    assert low.moment.closed
    low.advance(2.0)
    low.set_rig(rig(cut_in=12 * PSI, cut_out=24 * PSI, precharge=10 * PSI))
    assert [event.kind for event in low.advance(0.1)] == [Happening.OPENED]


def test_the_tap_is_remembered_with_its_time() -> None:
    tape = Recording(rig(), 0.0)
    tape.advance(10.0)
    tape.set_tap(8 * GPM)
    tape.advance(5.0)
    assert tape.at(9.0).tap_flow == 0.0
    assert tape.at(12.0).tap_flow == 8 * GPM
    fallen = tape.at(10.0).water - tape.at(15.0).water
    assert fallen == pytest.approx(8 * GPM * 5.0, rel=2e-3)  # the pipes give the rest


def test_going_back_forgets_what_came_later() -> None:
    tape = Recording(rig(charge_loss=1 * PSI), 6 * GPM)
    tape.advance(300.0)
    tape.set_tap(2 * GPM)
    tape.set_rig(rig(volume=20 * GAL))
    tape.advance(50.0)
    wanted = tape.at(200.0)
    tape.go_back_to(200.0)
    assert tape.time == 200.0
    assert tape.tap == 6 * GPM
    assert tape.rig.system.volume == 44 * GAL
    same(tape.moment, wanted)
    assert tape.trace.time[-1] == 200.0
    with pytest.raises(ValueError, match="remembered"):
        tape.at(201.0)
    again = Recording(rig(charge_loss=1 * PSI), 6 * GPM)
    again.advance(300.0)
    tape.advance(100.0)
    same(tape.moment, again.moment)
    assert tape.rig.system.precharge == pytest.approx(again.rig.system.precharge)


def test_each_start_takes_its_share_of_a_leaking_charge_until_none_is_left() -> None:
    tape = Recording(rig(charge_loss=10 * PSI), 6 * GPM)
    charges = [tape.rig.system.precharge / PSI]
    for _ in range(40):
        event = tape.step_to_next()
        assert event is not None
        if event.kind is Happening.CLOSED:
            charges.append(tape.rig.system.precharge / PSI)
    assert charges[:5] == pytest.approx([28.0, 18.0, 8.0, 0.0, 0.0])


def test_a_leak_ends_where_the_membrane_leaves_nothing_to_be_followed() -> None:
    # 5 gal of acceptance: below about 25 psi the membrane is at its limit before cut-in.
    leaking = rig(charge_loss=3 * PSI, acceptance=5 * GAL, line_give=1e-9 * GAL / PSI)
    tape = Recording(leaking, 5 * GPM)
    for _ in range(60):
        assert tape.step_to_next() is not None
    ended = tape.rig.system.precharge
    assert 3 * PSI < ended < 28 * PSI
    assert tape.moment.starts > (28 * PSI - ended) / (3 * PSI) + 3  # and it goes on
    # With less acceptance still the lost charge cannot stay lost: it is as it was set.
    tape.set_rig(replace(leaking, system=replace(leaking.system, acceptance=3 * GAL)))
    assert tape.rig.system.precharge == pytest.approx(28 * PSI)


def test_lost_charge_stays_lost_until_the_precharge_is_set_anew() -> None:
    leaking = rig(charge_loss=2 * PSI)
    tape = Recording(leaking, 6 * GPM)
    tape.advance(600.0)
    lost = 28 * PSI - tape.rig.system.precharge
    assert lost >= 4 * PSI
    tape.set_rig(replace(leaking, system=replace(leaking.system, cut_out=45 * PSI)))
    assert tape.rig.system.precharge == pytest.approx(28 * PSI - lost)
    tape.set_rig(replace(leaking, system=replace(leaking.system, precharge=27 * PSI)))
    assert tape.rig.system.precharge == pytest.approx(27 * PSI)
    tape.set_rig(rig())
    assert tape.rig.system.precharge == pytest.approx(28 * PSI)


def test_stepping_to_what_comes_next_stands_just_there() -> None:
    tape = Recording(rig(precharge=38 * PSI), 6 * GPM)
    kinds = []
    for _ in range(5):
        event = tape.step_to_next()
        assert event is not None
        assert tape.time == event.time
        kinds.append(event.kind)
    assert kinds[:3] == [Happening.EMPTIED, Happening.CLOSED, Happening.DRY]


def test_where_nothing_will_happen_a_step_ends_at_its_limit() -> None:
    tape = Recording(rig(), 0.0)
    assert tape.step_to_next(limit=50.0) is None
    assert tape.time == pytest.approx(50.0)
    lagging = Recording(rig(sensing_lag=2.0), 0.0)
    assert lagging.step_to_next(limit=5.0) is None


def test_hours_stay_within_bounds_and_every_kept_moment_exact(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(recording, "_MOST_KEYS", 60)
    one = rig(charge_loss=0.01 * PSI, delivery=FALLING)
    tape = Recording(one, 6 * GPM)
    tape._tape = trace.Tape(1 << 10)
    tape._tape.add(tape.moment)
    seen: list[Moment] = []
    chance = random.Random(7)
    for _ in range(1500):
        tape.advance(chance.uniform(0.0, 8.0))
        seen.append(tape.moment)
    assert len(tape._keys) <= 61
    assert len(tape.trace.time) <= 1 << 10
    kept = [moment for moment in seen if moment.time >= tape.beginning]
    assert len(kept) > 100
    for moment in chance.sample(kept, 60):
        same(tape.at(moment.time), moment, 1e-8)
    with pytest.raises(ValueError, match="remembered"):
        tape.at(tape.beginning - 1.0)


def test_dragging_while_it_stands_still_fills_no_memory() -> None:
    tape = Recording(rig(), 5 * GPM)
    tape.advance(10.0)
    rows, keys = len(tape.trace.time), len(tape._keys)
    for n in range(200):
        tape.set_rig(rig(volume=(44 + n / 10) * GAL))
        tape.set_tap((5 + n / 100) * GPM)
    assert len(tape.trace.time) <= rows + 2
    assert len(tape._keys) <= keys + 1
    assert all("fill" not in key.rig.system.__dict__ for key in tape._keys[:-1])


@pytest.mark.parametrize("wrong", [-1.0, float("nan"), float("inf")])
def test_times_and_draws_below_zero_or_without_end_are_refused(wrong: float) -> None:
    tape = Recording(rig(), 5 * GPM)
    with pytest.raises(ValueError, match="seconds"):
        tape.advance(wrong)
    with pytest.raises(ValueError, match="draw"):
        tape.set_tap(wrong)
    with pytest.raises(ValueError, match="draw"):
        Recording(rig(), wrong)
