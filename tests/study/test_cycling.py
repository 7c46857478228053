"""The page "Cycle": runs, rests and starts of the chosen tank, and the motor's limits."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import GAL, GPM, PSI, TWO_FLOWS, results, tank
from workbench.job.pump_choices import MotorLimit, PumpEntry
from workbench.study.cycle.view import CycleView, State, TankCycle
from workbench.study.cycle.working import cycle_steps
from workbench.units import Display, System

TEN = tank("Ten", acceptance=10.0)  # its membrane ends at 10 gal
HOUR = 3600.0


def view(*tanks: object, **entries: object) -> CycleView:
    found = results(*tanks, **entries).cycle  # type: ignore[arg-type]
    assert found is not None
    return found


def cycle(*tanks: object, **entries: object) -> TankCycle:
    found = view(*tanks, **entries).cycle
    assert found is not None
    return found


def codes(found: CycleView) -> list[str]:
    return [finding.code for finding in found.findings]


def ten(**entries: object) -> TankCycle:
    """10 gal of drawdown and 10 gpm, as in the handbook's arithmetic: no water at cut-in."""
    return cycle(TEN, precharge_rule="cut_in", **entries)


def test_a_draw_of_three_and_five_gpm_turns_as_the_handbook_says() -> None:
    # MIL-HDBK-1005/9A, paragraph 2.5.3.6, equations 1 and 2: V = 10 gal, D = 10 gpm: 4.76 min at
    # 3 gpm, and 4 min, which is 15 starts an hour, at 5 gpm, the worst draw.
    three, five = ten(steady_draw="3 gpm"), ten(steady_draw="5 gpm")
    assert three.fill.drawdown == pytest.approx(10 * GAL)
    assert three.steady is not None
    assert (three.steady.run + three.steady.rest) / 60 == pytest.approx(4.7619, abs=1e-4)
    assert five.steady is not None
    assert five.steady.run == pytest.approx(120.0)
    assert five.steady.rest == pytest.approx(120.0)
    assert five.steady.starts * HOUR == pytest.approx(15.0)
    assert five.worst.draw == pytest.approx(5 * GPM)
    assert five.worst.starts * HOUR == pytest.approx(15.0)
    assert five.shortest_run == pytest.approx(60.0)
    assert five.shortest_rest == pytest.approx(60.0)
    assert five.difference == pytest.approx(0.0, abs=1e-9)


def test_a_falling_flow_is_told_beside_its_mean_taken_as_constant() -> None:
    found = cycle(tank(), steady_draw="7.9 gpm", **TWO_FLOWS)
    assert found.flow_at_cut_in == pytest.approx(12 * GPM)
    assert found.flow_at_cut_out == pytest.approx(8 * GPM)
    assert found.mean_flow == pytest.approx(found.fill.drawdown / found.shortest_run)
    assert found.steady is not None
    assert found.flow_steady is not None
    # near the flow at cut-out the pump has hardly anything left over: it runs far longer
    assert found.steady.run > 1.5 * found.flow_steady.run
    assert found.steady.rest == pytest.approx(found.flow_steady.rest)
    assert found.flow_worst.starts == pytest.approx(found.mean_flow / (4 * found.fill.drawdown))
    assert 0.0 < found.difference < 0.05  # the constant flow promises a little more starts


def test_the_worst_draw_is_the_worst_of_all_that_are_drawn() -> None:
    found = cycle(tank(), **TWO_FLOWS)
    picture = found.picture
    assert np.max(picture.starts) == pytest.approx(found.worst.starts, rel=1e-12)
    assert picture.draw[np.argmax(picture.starts)] == pytest.approx(found.worst.draw, rel=1e-9)
    assert np.max(picture.constant) <= found.flow_worst.starts * (1 + 1e-12)
    beyond = picture.draw >= found.flow_at_cut_out
    assert beyond.any()
    assert not picture.starts[beyond].any()  # there the pump never stops


@pytest.mark.parametrize(
    ("typed", "state", "code"),
    [
        ("0 gpm", State.RESTS, None),
        ("5 gpm", State.CYCLES, None),
        ("8 gpm", State.BALANCES, "draw_balances"),
        ("480 gph", State.BALANCES, "draw_balances"),
        ("10 gpm", State.SETTLES, "never_stops"),
        ("12 gpm", State.SETTLES, "never_stops"),
        ("30 gpm", State.FALLS_SHORT, "draw_above_pump"),
    ],
)
def test_each_draw_has_its_state_and_its_word(typed: str, state: State, code: str | None) -> None:
    found = view(tank(), steady_draw=typed, **TWO_FLOWS)
    assert found.cycle is not None
    assert found.cycle.state is state
    assert [c for c in codes(found) if c != "day_above_limit"] == ([code] if code else [])
    assert (found.steady_check is not None) == (state is State.CYCLES)
    assert (found.cycle.settles is not None) == (state is State.SETTLES)


def test_an_endless_run_settles_where_the_pump_gives_the_draw() -> None:
    # p = 66 − k Q² with k = 20 / 80 psi/gpm²: at 10 gpm 41 psi, at 12 gpm cut-in, 30 psi.
    for typed, psi in (("10 gpm", 41.0), ("12 gpm", 30.0)):
        found = cycle(tank(), steady_draw=typed, **TWO_FLOWS)
        assert found.settles is not None
        assert found.settles / PSI == pytest.approx(psi, abs=2e-3)
        assert found.steady is not None
        assert math.isinf(found.steady.run)
        assert found.steady.starts == 0.0


def test_at_no_draw_the_pump_rests() -> None:
    found = ten(steady_draw="0 gpm")
    assert found.steady is not None
    assert math.isinf(found.steady.rest)
    assert (found.steady.run, found.steady.starts) == (pytest.approx(60.0), 0.0)


def test_a_constant_flow_below_the_draw_settles_nowhere() -> None:
    found = ten(steady_draw="11 gpm")
    assert found.state is State.FALLS_SHORT
    assert found.settles is None
    assert ten(steady_draw="10 gpm").state is State.BALANCES


def test_just_the_limit_passes_and_a_little_less_water_does_not() -> None:
    # 15 starts an hour are 1 gal for 1 gpm (Water Systems Council, PST performance standard).
    entries: dict[str, object] = {"precharge_rule": "cut_in", "steady_draw": "2 gpm"}
    exact = view(TEN, **entries)
    assert exact.check is not None
    assert exact.check.starts_hour is True
    assert exact.check.starts_day is False  # 360 in a day of the worst draw
    assert exact.check.day_hours == pytest.approx(20.0)
    assert codes(exact) == ["day_above_limit"]
    short = view(tank("Short", acceptance=9.99), **entries)
    assert short.check is not None
    assert not short.check.passes
    assert codes(short) == ["starts_above_limit", "day_above_limit"]
    assert short.steady_check is not None
    assert short.steady_check.starts_hour is True  # at 2 gpm 9.6 an hour


def test_a_one_minute_tank_rests_too_short_for_the_table() -> None:
    # NEMA MG 10-2001, table 2-3: 75 s at 1 hp; Vd / Q = 1 min breaks it near the full flow.
    entries: dict[str, object] = {
        "precharge_rule": "cut_in",
        "motor_limit": MotorLimit.NEMA_TWO_POLE,
        "motor_power": "1 hp",
    }
    found = view(TEN, **entries)
    assert found.check is not None
    assert found.check.starts_hour is True
    assert found.check.rest is False
    assert codes(found) == ["rest_below_limit"]
    told = found.findings[0].sentence(Display())
    assert "60 s" in told
    assert "75 s" in told
    roomy = view(tank("Roomy", acceptance=12.5), **entries)
    assert roomy.check is not None
    assert roomy.check.passes


def test_every_published_limit_is_held_against_the_tank() -> None:
    found = view(TEN, precharge_rule="cut_in", motor_power="1 hp")
    by_limit = {line.limit: line for line in found.lines}
    assert len(by_limit) == len(MotorLimit) - 1
    verdicts = {limit: line.check.passes for limit, line in by_limit.items() if line.check}
    assert verdicts[MotorLimit.PUBLIC_SYSTEM] is False
    assert verdicts[MotorLimit.NEMA_FOUR_POLE] is True  # 30 an hour, 38 s
    assert not by_limit[MotorLimit.WELL_TANK_SMALL].suits
    assert by_limit[MotorLimit.WELL_TANK_LARGE].suits
    unknown = {line.limit: line for line in view(TEN).lines}[MotorLimit.NEMA_TWO_POLE]
    assert (unknown.stands, unknown.check) == (None, None)


def test_the_tank_is_the_first_of_the_ranking_until_another_is_named() -> None:
    cheap, dear = (
        tank("Cheap", price="300"),
        tank("Dear", price="900", total_volume=120.0, height=65.0),
    )
    first = view(dear, cheap)
    assert first.tank is not None
    assert first.tank.tank.id == "cheap"
    named = view(dear, cheap, first_tank="dear")
    assert named.tank is not None
    assert named.tank.tank.id == "dear"
    pair = view(dear, cheap, first_tank="dear + dear", header_tanks=2)
    assert pair.cycle is not None
    assert named.cycle is not None
    assert pair.cycle.fill.drawdown == pytest.approx(2 * named.cycle.fill.drawdown)
    assert pair.cycle.worst.starts == pytest.approx(named.cycle.worst.starts / 2)


def test_a_tank_that_is_gone_or_takes_no_water_is_said() -> None:
    gone = view(tank(), first_tank="elsewhere")
    assert (gone.tank, gone.cycle) == (None, None)
    assert codes(gone) == ["tank_gone"]
    full = view(tank("Full", acceptance=0.5), precharge_rule="typed", precharge="10 psi")
    assert full.cycle is None
    assert codes(full) == ["tank_takes_no_water"]


def test_an_unreadable_draw_leaves_the_other_answers() -> None:
    found = view(tank(), steady_draw="some")
    assert codes(found) == ["unread"]
    assert found.cycle is not None
    assert (found.cycle.state, found.cycle.steady, found.cycle.flow_steady) == (None, None, None)
    assert found.cycle.worst.starts > 0
    below = view(tank(), steady_draw="-1 gpm")
    assert codes(below) == ["below_zero"]


def test_without_catalogue_or_pump_there_is_no_cycle() -> None:
    assert view().cycle is None
    assert view(tank(), pump_flow="x").cycle is None
    unreached = view(tank(), cut_out="67 psi", flow_at_cut_in="12 gpm", flow_at_cut_out="0 gpm",
                     pump_entry=PumpEntry.TWO_FLOWS)  # fmt: skip
    assert unreached.cycle is None


def test_the_cycle_is_that_of_the_ranking() -> None:
    whole = results(tank(), **TWO_FLOWS)
    assert whole.ranking is not None
    assert whole.cycle is not None
    assert whole.cycle.cycle is not None
    one, found = whole.ranking.row(0), whole.cycle.cycle
    assert found.fill.drawdown == pytest.approx(one.drawdown)
    assert found.shortest_run == pytest.approx(one.run_time, rel=1e-6)
    assert found.worst.starts == pytest.approx(one.starts, rel=1e-6)


def test_the_working_tells_the_pages_own_figures() -> None:
    found = cycle(tank(), steady_draw="5 gpm", **TWO_FLOWS)
    told = "\n".join(map(str, cycle_steps(found, Display())))
    assert found.steady is not None
    for figure in (
        f"{found.mean_flow / GPM:.2f} gpm",
        f"= {found.steady.starts * HOUR:.1f} /h",
        f"→ {found.worst.starts * HOUR:.1f} /h",
        f"= {found.flow_worst.starts * HOUR:.1f} /h",
    ):
        assert figure in told
    assert len(cycle_steps(cycle(tank(), steady_draw="0 gpm"), Display())) == 4
    metric = "\n".join(map(str, cycle_steps(found, Display(System.METRIC, ","))))
    assert "L/min" in metric
    assert "gpm" not in metric


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(st.floats(2.0, 30.0), st.floats(0.05, 0.999), st.floats(20.0, 300.0), st.floats(0.01, 0.99))
def test_run_rest_and_starts_belong_together_at_any_draw(
    most: float, share: float, volume: float, drawn: float
) -> None:
    least = most * share
    found = cycle(
        tank("Any", total_volume=volume, height=47.0 * volume / 85.0),
        pump_entry=PumpEntry.TWO_FLOWS,
        flow_at_cut_in=f"{most:.6f} gpm",
        flow_at_cut_out=f"{least:.6f} gpm",
        steady_draw=f"{least * drawn:.6f} gpm",
    )
    assert found.state is State.CYCLES
    assert found.steady is not None
    assert found.steady.starts * (found.steady.run + found.steady.rest) == pytest.approx(1.0)
    assert found.steady.starts <= found.worst.starts * (1 + 1e-9)
    assert found.steady.run >= found.shortest_run * (1 - 1e-9)
    assert found.steady.rest >= found.shortest_rest * (1 - 1e-9)
    # what runs in is what runs out: pumped water = drawdown + what is drawn in the meantime
    assert found.flow_at_cut_out <= found.mean_flow <= found.flow_at_cut_in
