"""Each reading against arithmetic of its own, and the rule by which two of them differ.

T1 to T6 are the field tests of the trade: drain-down, refill, air charge from the drain-down,
cliff, leak-down with the house shut off, and the test without a bucket. T1 is suggested to owners
by the American Ground Water Trust ("Pressure tanks"); T2 with 15 gal in 75 s, 12.0 gpm, is a public
how-to on well output; T3, T4 and T6 are Boyle's law and a mass balance.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import GAL, GPM, PSI
from tests.study.rigs import AIR, EXACT, TAP, TOOLS, pumps, read, rig, value
from workbench.job.job import Job
from workbench.job.teach_choices import Degree, Fault
from workbench.physics.pump import ConstantFlow, TwoFlows
from workbench.study.faults.made import with_fault
from workbench.study.faults.readings import (
    Taken,
    ToolTolerances,
    least_difference,
    read_tolerances,
    reading_of,
    readings,
    take,
    tells_apart,
)
from workbench.study.faults.watched import DRAIN, Watched
from workbench.study.live.rig import Rig
from workbench.study.reader import Reader

HARDLY = 1e-9 * GAL / PSI  # of give: pipes that give next to nothing, as in the trade's formulas


def stiff(volume: float, low: float, high: float, charge: float, flow: float = 10.0) -> Rig:
    """A rig as the trade's arithmetic has it: no give, no time to start [gal, psi, gpm]."""
    made = rig(volume, low, high, ConstantFlow(flow * GPM), line_give=HARDLY, start_delay=0.0)
    return replace(made, system=replace(made.system, precharge=charge * PSI))


# --- bucket and watch ---


@pytest.mark.parametrize(
    ("low", "high", "charge", "gallons"),
    [(40, 60, 38, 11.35), (40, 60, 28, 9.2), (30, 50, 28, 13.0), (30, 50, 38, 8.2)],
)
def test_t1_drains_what_boyle_says(low: float, high: float, charge: float, gallons: float) -> None:
    # 44 gal: 28 psi left on 40/60, and 38 psi left on 30/50, are the two usual slips.
    found = value(stiff(44, low, high, charge), "drained") / GAL
    assert found == pytest.approx(gallons, abs=0.05)
    start, stop = max(low, charge) + 14.7, high + 14.7
    assert found == pytest.approx(44 * (charge + 14.7) * (1 / start - 1 / stop), rel=1e-5)


def test_t2_gives_the_flow_of_the_pump() -> None:
    made = stiff(50.8, 30, 50, 28, flow=12.0)  # about 15 gal
    gallons, seconds = value(made, "drained") / GAL, value(made, "refill")
    assert gallons == pytest.approx(15.0, abs=0.01)
    assert seconds == pytest.approx(75.0, abs=0.05)
    assert value(made, "flow") / GPM == pytest.approx(60 * gallons / seconds)
    assert value(made, "flow") / GPM == pytest.approx(12.0, abs=1e-3)


def test_a_pump_that_takes_a_second_to_start_reads_a_little_less_flow() -> None:
    slow = rig(start_delay=1.0)
    water = value(slow, "drained")
    assert value(slow, "refill") == pytest.approx(1.0 + water / (10 * GPM), rel=1e-6)


def test_t3_has_two_roots_and_t4_tells_them_apart() -> None:
    # 44 gal, 40/60, 6.0 gal: 13.2 psi if too little, 49.8 psi if too much.
    under, over = stiff(44, 40, 60, 13.16), stiff(44, 40, 60, 49.81)
    for one in (under, over):
        assert value(one, "drained") / GAL == pytest.approx(6.0, abs=0.01)
    assert not tells_apart(read(under, "drained"), read(over, "drained"))
    water = value(under, "drained") / GAL
    assert water / (44 * (1 / 54.7 - 1 / 74.7)) - 14.7 == pytest.approx(13.16, abs=1e-3)
    assert 74.7 * (1 - water / 44) - 14.7 == pytest.approx(49.81, abs=0.05)
    assert value(under, "cliff") / PSI == pytest.approx(13.16, abs=1e-3)
    assert value(over, "cliff") / PSI == pytest.approx(49.81, abs=1e-3)
    assert tells_apart(read(under, "cliff"), read(over, "cliff"))


def test_t5_is_what_ran_out_in_ten_minutes() -> None:
    leaking = with_fault(stiff(85, 30, 50, 28), Fault.CHECK_VALVE, Degree.CLEAR)
    air = 85 * (28 + 14.7) / (50 + 14.7)  # gal, after a stop
    after = 85 * (28 + 14.7) / (air + 0.5 * 10) - 14.7
    assert value(leaking, "fall") / PSI == pytest.approx(50 - after, rel=1e-5)
    assert value(stiff(85, 30, 50, 28), "fall") == pytest.approx(0.0, abs=1e-6)


def test_t6_finds_drawdown_and_flow_without_a_bucket() -> None:
    # q 2.5 gpm, off 4:00, on 1:20: 10.0 gal and 10.0 gpm.
    volume = 10.0 / (42.7 * (1 / 44.7 - 1 / 64.7))
    made = stiff(volume, 30, 50, 28)
    turned = Watched(made, 2.5 * GPM).turned
    assert turned is not None
    assert turned.rest == pytest.approx(240.0, rel=1e-5)
    assert turned.run == pytest.approx(80.0, rel=1e-5)
    assert 2.5 * turned.rest / 60 == pytest.approx(10.0, rel=1e-5)
    assert 2.5 * (turned.run + turned.rest) / turned.run == pytest.approx(10.0, rel=1e-5)
    assert value(made, "starts", 2.5 * GPM) * 3600 == pytest.approx(3600 / 320, rel=1e-5)


def test_what_runs_back_is_missing_in_the_bucket() -> None:
    sound = stiff(85, 30, 50, 28)
    leaking = with_fault(sound, Fault.CHECK_VALVE, Degree.SEVERE)
    share = DRAIN / (DRAIN + 2 * GPM)
    assert value(leaking, "drained") == pytest.approx(value(sound, "drained") * share, rel=1e-5)


# --- the gauge ---


@pytest.mark.parametrize("kind", ["constant", "two flows", "curve"])
def test_the_gauge_shows_the_band_of_a_sound_system(kind: str) -> None:
    for low, high in ((20, 40), (30, 50), (40, 60)):
        made = rig(85, low, high, pumps(low, high)[kind])
        assert value(made, "cut_in") / PSI == pytest.approx(low, rel=1e-9)
        assert value(made, "cut_out") / PSI == pytest.approx(high, rel=1e-9)
        assert read(made, "stall").value is None


def test_a_lagging_switch_overshoots_as_an_integration_of_our_own_has_it() -> None:
    # Tap shut at the click: dS/dt = Q, ds/dt = (p - s) / L, in steps of a hundredth of a second.
    lagging = with_fault(rig(85), Fault.PLUGGED_NIPPLE, Degree.SLIGHT)
    system, lag, step = lagging.system, 20.0, 0.01
    seen = Watched(lagging, TAP)
    assert seen.drained is not None
    sensed, stored, time = system.cut_in, seen.drained.state.stored, 0.0
    while sensed < system.cut_out:
        here = system.pressure(stored)
        flow = 10 * GPM if time >= system.start_delay else 0.0
        there = system.pressure(stored + flow * step)
        sensed += step / lag * (0.5 * (here + there) - sensed)
        stored, time = stored + flow * step, time + step
    assert value(lagging, "refill") == pytest.approx(time, abs=0.1)
    assert value(lagging, "cut_out") == pytest.approx(system.pressure(stored), rel=1e-4)
    assert value(lagging, "cut_out") > 53.5 * PSI


def test_a_needle_that_falls_too_fast_gives_no_cut_in() -> None:
    over = with_fault(rig(85), Fault.OLD_PRECHARGE, Degree.CLEAR)
    found = read(over, "cut_in")
    assert found.value is None
    assert "empty" in found.why
    full = rig(60, acceptance=20.0 * GAL)
    under = with_fault(full, Fault.LOST_CHARGE, Degree.CLEAR)  # its membrane ends before cut-in
    assert "limit" in read(under, "cut_in").why
    assert tells_apart(read(full, "cut_in"), found)


def test_a_worn_pump_stands_where_its_curve_ends() -> None:
    # p = 66 - k Q² psi; at 80 % of its speed 0.64 of that.
    sound = rig(85, 30, 50, TwoFlows.of(30 * PSI, 12 * GPM, 50 * PSI, 8 * GPM))
    worn = with_fault(sound, Fault.WORN_PUMP, Degree.SEVERE)
    assert value(worn, "stall") / PSI == pytest.approx(66 * 0.64, abs=0.05)
    for key in ("cut_in", "cut_out", "drained", "refill", "flow", "idle_starts"):
        assert read(worn, key).why == "The pump never stops."
    assert value(worn, "starts") == 0.0
    assert value(worn, "cliff") / PSI == pytest.approx(28.0)
    assert value(worn, "fall") == pytest.approx(0.0, abs=1e-6)


def test_without_charge_there_is_no_cliff_above_zero() -> None:
    flat = rig()
    flat = replace(flat, system=replace(flat.system, precharge=0.0))
    assert value(flat, "cliff") == 0.0
    above = rig()
    above = replace(above, system=replace(above.system, precharge=55 * PSI))
    assert read(above, "cliff").value is None
    assert read(above, "cliff").why


# --- air and water ---


def test_the_tyre_gauge_reads_the_air_that_is_there() -> None:
    for fault, left in ((Fault.LOST_CHARGE, 14.0), (Fault.OLD_PRECHARGE, 38.0)):
        assert value(with_fault(rig(), fault, Degree.CLEAR), "precharge") / PSI == pytest.approx(
            left
        )
    assert value(rig(), "next_day") / PSI == pytest.approx(28.0)
    leaking = with_fault(rig(), Fault.AIR_LEAK, Degree.SEVERE)
    assert value(leaking, "next_day") / PSI == pytest.approx(28.0 * (1 - 0.09))


def test_knocking_finds_the_water_on_both_sides_of_the_membrane() -> None:
    sound = stiff(85, 30, 50, 28)
    assert value(sound, "dull") == pytest.approx(1 - 42.7 / 64.7, rel=1e-5)
    assert value(sound, "left") == 0.0
    holed = with_fault(sound, Fault.PINHOLE, Degree.CLEAR)
    charge = 28 * (1 - 0.45) + 14.7
    below = (1 - 0.3) * (1 - charge / 64.7)
    assert value(holed, "left") == pytest.approx(0.3)
    assert value(holed, "dull") == pytest.approx(0.3 + below, rel=1e-5)


@pytest.mark.parametrize("fault", Fault)
def test_water_at_the_valve_is_a_hole_and_bubbles_are_a_leak(fault: Fault) -> None:
    for degree in Degree:
        one = with_fault(rig(), fault, degree)
        assert read(one, "valve_water").value is (fault is Fault.PINHOLE)
        assert read(one, "soap").value is (fault is Fault.AIR_LEAK)


# --- the tap, and nothing open ---


def test_the_gap_is_the_pump_s_start_less_what_the_pipes_still_give() -> None:
    over = with_fault(rig(85), Fault.OLD_PRECHARGE, Degree.CLEAR)
    still = 0.0005 * 30 / 5 * 60  # gal between cut-in and nothing, at 5 gpm
    assert value(over, "gap") == pytest.approx(1.0 - still, rel=1e-6)
    assert read(over, "spits").value is True
    assert read(rig(85), "spits").value is False
    assert value(rig(85), "gap") == 0.0


def test_starts_with_nothing_open_are_those_of_the_leak() -> None:
    leaking = with_fault(stiff(85, 30, 50, 28), Fault.CHECK_VALVE, Degree.SEVERE)
    water = 85 * 42.7 * (1 / 44.7 - 1 / 64.7)
    turn = water / 2 + water / 10  # min: back at 2 gpm, then pumped at 10
    starts = math.floor((60 - water / 2) / turn) + 1
    assert value(leaking, "idle_starts") * 3600 == pytest.approx(starts)
    assert value(rig(), "idle_starts") == 0.0


def test_without_a_draw_the_readings_that_need_one_say_so() -> None:
    for key in ("starts", "gap", "spits"):
        assert "steady draw" in read(rig(), key, 0.0).why
    assert value(rig(), "drained", 0.0) == value(rig(), "drained")  # an open drain is enough


# --- what a reading depends on ---


def _values(one: Rig, tools: ToolTolerances = TOOLS) -> dict[str, float | bool | None]:
    return {reading.key: take(one, reading, TAP, tools).value for reading in readings()}


@pytest.mark.parametrize("fault", Fault)
def test_a_value_depends_on_the_rig_alone(fault: Fault) -> None:
    one = with_fault(rig(85), fault, Degree.CLEAR)
    again = Rig(replace(one.system), one.setting, "Another name", one.water_above, one.charge_loss)
    backwards = {r.key: take(again, r, TAP, EXACT).value for r in reversed(readings())}
    assert _values(one) == backwards
    assert Watched(again, TAP).cliff == backwards["cliff"]  # nor on what was read before


def test_tolerances_are_those_of_the_tools() -> None:
    made = rig(85)
    for key, expected in (
        ("cut_in", 2 * PSI),
        ("cut_out", 2 * PSI),
        ("cliff", 2 * PSI),
        ("fall", 1 * PSI),
        ("drained", 0.25 * GAL),
        ("refill", 1.0),
        ("gap", 1.0),
        ("precharge", 1 * PSI),
        ("next_day", 1 * PSI),
    ):
        assert read(made, key).tolerance == pytest.approx(expected), key
    flow, water, seconds = (value(made, key) for key in ("flow", "drained", "refill"))
    share = math.hypot(0.25 * GAL / water, 1.0 / seconds)
    assert read(made, "flow").tolerance == pytest.approx(flow * share)
    turn = 1 / value(made, "starts")
    assert read(made, "starts").tolerance == pytest.approx(math.hypot(1 / turn, 0.05) / turn)


def test_tolerances_are_read_from_the_job() -> None:
    job = Job().changed(tol_gauge="3 psi", tol_precharge="2 psi", tol_bucket="1 L", tol_watch="2 s")
    found = read_tolerances(Reader(job))
    assert found == ToolTolerances(
        pytest.approx(3 * PSI), pytest.approx(2 * PSI), pytest.approx(1e-3), 2.0
    )
    reader = Reader(job.changed(tol_watch="-1 s"))
    assert read_tolerances(reader) is None
    assert [one.code for one in reader.findings] == ["below_zero"]


# --- the rule ---


def test_two_readings_differ_beyond_twice_the_root_of_both_variances() -> None:
    # GUM 4.3.7: a rectangle of half-width a has the standard uncertainty a / √3.
    either = 2.0 / math.sqrt(3)
    assert least_difference(2.0, 2.0) == pytest.approx(2.0 * math.hypot(either, either))
    assert not tells_apart(Taken(30.0, 2.0), Taken(33.26, 2.0))
    assert tells_apart(Taken(30.0, 2.0), Taken(33.27, 2.0))
    assert tells_apart(Taken(33.27, 2.0), Taken(30.0, 2.0))
    assert tells_apart(Taken(True), Taken(False))
    assert not tells_apart(Taken(True), Taken(True))
    assert tells_apart(Taken(None, why="x"), Taken(1.0))
    assert not tells_apart(Taken(None, why="x"), Taken(None, why="y"))
    assert not tells_apart(Taken(1.0), Taken(1.0))


def test_equal_readings_are_told_apart_by_luck_in_few_cases() -> None:
    # Two gauges within ± a: the difference is a triangle of ± 2 a, of which 3.4 % lie outside.
    chance = np.random.default_rng(7)
    a, b = chance.uniform(-1.0, 1.0, (2, 200_000))
    share = float(np.mean(np.abs(a - b) > least_difference(1.0, 1.0)))
    assert share == pytest.approx((1 - math.sqrt(2 / 3)) ** 2, abs=2e-3)
    assert share < 0.05


@settings(max_examples=40, deadline=None, derandomize=True, database=None)
@given(st.floats(10.0, 150.0), st.floats(15.0, 60.0), st.floats(10.0, 30.0), st.floats(3.0, 25.0))
def test_a_sound_system_reads_as_boyle_and_its_setting_say(
    volume: float, low: float, width: float, flow: float
) -> None:
    made = stiff(volume, low, low + width, low - 2.0, flow)
    charge, start, stop = (low + 12.7) * PSI, low * PSI + AIR, (low + width) * PSI + AIR
    water = volume * GAL * charge * (1 / start - 1 / stop)
    assert value(made, "drained") == pytest.approx(water, rel=1e-4)
    assert value(made, "refill") == pytest.approx(water / (flow * GPM), rel=1e-4)
    assert value(made, "flow") == pytest.approx(flow * GPM, rel=1e-4)
    assert value(made, "cliff") + AIR == pytest.approx(charge, rel=1e-9)
    assert value(made, "precharge") + AIR == pytest.approx(charge, rel=1e-9)
    assert value(made, "cut_in") == pytest.approx(low * PSI, rel=1e-9)


def test_every_reading_says_how_it_is_taken_and_costs_minutes() -> None:
    every = readings()
    assert len({one.key for one in every}) == len({one.name for one in every}) == len(every)
    for one in every:
        assert one.how
        assert one.tools
        assert one.minutes > 0
        assert reading_of(one.key) == one
    with pytest.raises(KeyError):
        reading_of("elsewhere")
