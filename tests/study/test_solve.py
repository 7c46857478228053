"""The one quantity that is not known: every answer, put back, gives the run that was asked."""

from __future__ import annotations

import itertools
import math
import random
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from tests.study.build import GAL, GPM, PSI, SEA, job, results
from workbench.job.choices import PrechargeRule
from workbench.job.job import Job
from workbench.job.paper_choices import SolveFor
from workbench.physics.air import gauge_pressure
from workbench.physics.tank import highest_cut_out
from workbench.study.evaluate import evaluate
from workbench.study.solve.answers import Cause, Solution
from workbench.study.solve.put import changes_for
from workbench.study.solve.view import SolveView
from workbench.study.solve.words import why_text
from workbench.units import Display, Quantity, System

METRIC = Display(System.METRIC, ",")
CURVE = "0 gpm 280 ft; 5 gpm 262 ft; 10 gpm 225 ft; 15 gpm 150 ft"
WEAK = {
    "pump_entry": "curve", "water_level": "40 ft", "pipe_length": "0 ft",
    "curve": "0 gpm 250 ft; 4 gpm 210 ft; 8 gpm 170 ft; 12 gpm 130 ft; 24 gpm 10 ft",
}  # fmt: skip
FALLING: tuple[dict[str, Any], ...] = (
    {"pump_entry": "two_flows", "flow_at_cut_in": "12 gpm", "flow_at_cut_out": "7 gpm"},
    {"pump_entry": "curve", "curve": CURVE, "water_level": "90 ft", "pipe_length": "120 ft"},
)


def view(looked_for: SolveFor, **entries: Any) -> SolveView:
    return results(solve_for=looked_for.value, **entries).solved


def only(looked_for: SolveFor, **entries: Any) -> Solution:
    found = view(looked_for, **entries)
    assert found.why is None
    (one,) = found.solutions
    return one


def run_of(changed: Job) -> float:
    """The run of the job's own tank, by the evaluation and not by the solver [s]."""
    found = evaluate(changed, None)
    setting, supply = found.setting, found.inputs.supply
    assert setting is not None, found.findings
    assert supply is not None, found.findings
    assert isinstance(changed.solve_volume, Quantity)
    power = 1.0 / setting.exponent
    low, high, charge = (
        one + setting.ambient for one in (setting.cut_in, setting.cut_out, setting.precharge)
    )
    share = min((charge / low) ** power, 1.0) - (charge / high) ** power
    return changed.solve_volume.si * share / supply.mean_flow


def put(answered: SolveFor, one: Solution, into: Job, display: Display) -> Job:
    changes = changes_for(into, answered, one, display)
    assert changes
    return into.changed(**changes)


# --- put back ---


def any_entries(chance: random.Random) -> dict[str, Any]:
    """A sound job in either system of units."""
    low, width = chance.uniform(15, 55), chance.uniform(6, 35)
    us = chance.random() < 0.5

    def pressure(psi: float) -> str:
        return f"{psi:.2f} psi" if us else f"{psi * PSI / 1000:.1f} kPa"

    return {
        "cut_in": pressure(low),
        "cut_out": pressure(low + width),
        "precharge_rule": chance.choice(list(PrechargeRule)),
        "precharge": pressure(low + chance.uniform(-12, 6)),
        "altitude": chance.choice(["0 ft", "5280 ft", "1200 m"]),
        "exponent": chance.choice(["1.0", "1.1", "1.2", "1.4"]),
        "run_time": chance.choice(["30 s", "1 min", "1.7 min", "150 s"]),
        "solve_volume": chance.choice(["20 gal", "44 gal", "200 L", "86 gal", "119 gal"]),
        "pump_flow": f"{chance.uniform(4, 20):.2f} gpm",
        "bucket_volume": "5 gal",
        "bucket_time": "32 s",
    } | ({} if us else {"pump_flow": f"{chance.uniform(15, 75):.1f} L/min"})


@pytest.mark.parametrize("looked_for", SolveFor)
def test_every_answer_put_back_gives_the_run_at_a_constant_flow(looked_for: SolveFor) -> None:
    chance, answered, several = random.Random(20260501), 0, 0
    for _ in range(150):
        entries = any_entries(chance) | {"pump_entry": chance.choice(["constant", "bucket"])}
        found = view(looked_for, **entries)
        several += len(found.solutions) > 1
        for one in found.solutions:
            changed = put(looked_for, one, job(**entries), chance.choice([Display(), METRIC]))
            assert isinstance(changed.run_time, Quantity)
            assert run_of(changed) == pytest.approx(changed.run_time.si, rel=1e-9)
            assert one.run == pytest.approx(changed.run_time.si, rel=1e-9)
            answered += 1
    assert answered >= 80
    assert several or looked_for not in (SolveFor.PRECHARGE, SolveFor.CENTRE)


@pytest.mark.parametrize("looked_for", [one for one in SolveFor if one is not SolveFor.PUMP_FLOW])
def test_every_answer_put_back_gives_the_run_at_a_falling_flow(looked_for: SolveFor) -> None:
    chance, answered = random.Random(20260502), 0
    for _ in range(60):
        entries = any_entries(chance) | chance.choice(FALLING)
        for one in view(looked_for, **entries).solutions:
            changed = put(looked_for, one, job(**entries), chance.choice([Display(), METRIC]))
            assert isinstance(changed.run_time, Quantity)
            assert run_of(changed) == pytest.approx(changed.run_time.si, rel=1e-6)
            answered += 1
    assert answered >= 15


@settings(max_examples=150, deadline=None, derandomize=True, database=None)
@given(
    looked_for=st.sampled_from([SolveFor.CENTRE, SolveFor.WIDTH, SolveFor.PRECHARGE]),
    low=st.floats(5, 60), width=st.floats(2, 60), minutes=st.floats(0.1, 4),
    rule=st.sampled_from(list(PrechargeRule)), exponent=st.sampled_from(["1.0", "1.2", "1.4"]),
    altitude=st.sampled_from(["0 ft", "9000 ft"]), below=st.floats(-5, 20),
)  # fmt: skip
def test_no_answer_is_missed_and_none_is_made_up(
    looked_for: SolveFor, low: float, width: float, minutes: float, rule: PrechargeRule,
    exponent: str, altitude: str, below: float,
) -> None:  # fmt: skip
    """A plain walk over the range, which knows nothing of the solver, sees the same crossings."""
    entries: dict[str, Any] = {
        "cut_in": f"{low:.3f} psi", "cut_out": f"{low + width:.3f} psi",
        "run_time": f"{minutes:.4f} min", "precharge_rule": rule, "altitude": altitude,
        "precharge": f"{max(low - below, 0.0):.3f} psi", "exponent": exponent,
    }  # fmt: skip
    found = view(looked_for, **entries)
    known, span = found.known, found.range
    if known is None or span is None or span.is_empty:
        return
    assert known.run is not None
    assert known.volume is not None
    power, volume, wanted = 1 / known.exponent, known.volume, known.run * 10 * GPM
    top = min(span.high, max((one.value for one in found.solutions), default=0.0) * 1.5 + 5e5)

    def over(value: float) -> float:
        setting = known.setting_at(value)
        pin, pout, charge = (
            one + known.ambient for one in (setting.cut_in, setting.cut_out, setting.precharge)
        )
        held = max(1 - (charge / pout) ** power, 0.0) - max(1 - (charge / pin) ** power, 0.0)
        return float(volume * held - wanted)

    places = np.linspace(span.low, top, 1500)
    values = np.array([over(float(place)) for place in places])
    at = np.flatnonzero(values[:-1] * values[1:] < 0.0)
    seen = [brentq(over, places[one], places[one + 1], xtol=1e-9) for one in at]
    told = sorted(one.value for one in found.solutions)
    near = wanted * 1e-6
    if np.max(values) < -near:
        assert not told
        assert found.why is not None
        assert found.why.cause is Cause.TOO_LITTLE
    elif np.max(values) > near and abs(values[0]) > near and abs(values[-1]) > near:
        assert told[: len(seen)] == pytest.approx(seen, rel=1e-7)
        assert all(abs(over(one)) < near for one in told)


# --- published cases, and closed forms that are worked out elsewhere ---


def test_the_usual_factor_gives_the_volume() -> None:
    # Minimum run 1 min at 10 gpm is 10 gal of drawdown (trade magazine, "When the well runs dry");
    # acceptance factor 0.309 with the precharge at 30/50's cut-in (technical column of a trade
    # magazine for water-well drillers, 2008: 119 gal gives 36.8 gal), 0.295 at 28 psi (2006).
    at_cut_in = only(SolveFor.VOLUME, precharge_rule="cut_in")
    assert at_cut_in.volume / GAL == pytest.approx(10 / 0.3091, rel=2e-4)
    below = only(SolveFor.VOLUME)
    assert below.volume / GAL == pytest.approx(10 / 0.2953, rel=2e-4)


def test_the_published_column_comes_out_backwards() -> None:
    # Technical column, February 2006, example 1: 85 gal, precharge 28, 30/50 give 25.1 gal.
    one = only(SolveFor.PUMP_FLOW, solve_volume="85 gal")
    assert one.flow / GPM == pytest.approx(25.1, abs=0.05)
    assert only(SolveFor.RUN_TIME, solve_volume="85 gal").run / 60 == pytest.approx(2.51, abs=5e-3)
    found = view(SolveFor.PRECHARGE, solve_volume="85 gal", pump_flow="25.10096 gpm")
    assert found.solutions[0].value / PSI == pytest.approx(28.0, abs=1e-3)


def test_a_field_test_has_two_precharges() -> None:
    # Derived: 44 gal at 40/60 that give 6.0 gal are at 13.2 psi or at 49.8 psi of precharge.
    found = view(SolveFor.PRECHARGE, cut_in="40 psi", cut_out="60 psi", pump_flow="6 gpm")
    low, high = found.solutions
    assert (low.value / PSI, high.value / PSI) == pytest.approx((13.2, 49.8), abs=0.05)
    assert (low.is_usual, high.is_usual) == (True, False)
    assert low.gap == 0.0
    assert high.gap / PSI == pytest.approx(9.8, abs=0.05)


def test_the_middle_is_that_of_the_closed_form() -> None:
    # Boyle: f x² + (f − 1) w x + w d = 0, the larger root.
    for volume, rule, below in itertools.product(
        (30, 44, 86), ("cut_in_less_2_psi", "cut_in"), (0,)
    ):
        distance = (2 if rule == "cut_in_less_2_psi" else 0) + below
        found = view(SolveFor.CENTRE, solve_volume=f"{volume} gal", precharge_rule=rule)
        top = float(highest_cut_out(10 * GAL, 20 * PSI, distance * PSI, volume * GAL)) - SEA
        one = found.solutions[0]
        assert one.setting.cut_out == pytest.approx(top, rel=1e-12)
        assert one.setting.cut_in == pytest.approx(top - 20 * PSI)
        assert one.is_usual


def test_the_width_is_that_of_the_closed_form() -> None:
    # Precharge at cut-in, Boyle: 1 − Pin/Pout = f gives w = 2 C f / (2 − f), C absolute.
    one = only(SolveFor.WIDTH, precharge_rule="cut_in", solve_volume="50 gal")
    assert one.value == pytest.approx(2 * (40 * PSI + SEA) * 0.2 / 1.8, rel=1e-12)


def test_a_falling_flow_is_integrated_as_an_integrator_does() -> None:
    found = view(SolveFor.RUN_TIME, **FALLING[0])
    (one,) = found.solutions
    assert found.known is not None
    delivery, charge = found.known.delivery, 28 * PSI + SEA
    assert delivery is not None

    def seconds(pressure: float) -> float:
        flow = float(delivery.flow(gauge_pressure(pressure - SEA)))
        return 44 * GAL * charge / pressure**2 / flow

    expected, _ = quad(seconds, 30 * PSI + SEA, 50 * PSI + SEA, epsrel=1e-11)
    assert one.run == pytest.approx(expected, rel=1e-6)


# --- monotony ---


@pytest.mark.parametrize("altitude", ["0 ft", "5280 ft"])
@pytest.mark.parametrize("exponent", ["1.0", "1.2", "1.4"])
def test_a_usual_band_runs_the_shorter_the_higher_it_lies(altitude: str, exponent: str) -> None:
    entries = {"altitude": altitude, "exponent": exponent, "run_time": "0.8 min"}
    found = view(SolveFor.CENTRE, **entries)
    assert found.picture is not None
    usual = found.picture.over > 15 * PSI
    assert np.all(np.diff(found.picture.run[usual]) < 0.0)
    longer = view(SolveFor.CENTRE, **entries | {"run_time": "0.9 min"})
    assert longer.solutions[0].value < found.solutions[0].value


def test_far_below_cut_in_on_a_mountain_a_band_can_be_too_low_as_well() -> None:
    # d = 5 psi, w = 60 psi at 3,000 m: f turns at x = d + √(d² + d w), above the lowest band.
    found = view(
        SolveFor.CENTRE, altitude="3000 m", precharge_rule="cut_in_less_5_psi", cut_in="30 psi",
        cut_out="90 psi", solve_volume="44 gal", run_time="2.4 min",
    )  # fmt: skip
    high, low = found.solutions
    assert high.value > low.value
    assert (high.is_usual, low.is_usual) == (True, False)
    best = (5 + math.sqrt(5**2 + 5 * 60)) * PSI
    assert low.setting.cut_in + low.setting.ambient < best
    assert best < high.setting.cut_in + high.setting.ambient


def test_a_typed_precharge_is_held_and_a_band_below_it_leaves_a_gap() -> None:
    found = view(SolveFor.CENTRE, precharge_rule="typed", precharge="28 psi")
    high, low = found.solutions
    assert all(one.setting.precharge == 28 * PSI for one in found.solutions)
    assert high.gap == 0.0
    assert low.gap > 0.0
    assert high.is_usual
    wide = view(SolveFor.WIDTH, precharge_rule="typed", precharge="38 psi")
    assert not wide.solutions[0].is_usual, "it is the only one, but no one wants the gap"
    assert wide.solutions[0].gap > 0.0


def test_a_wide_band_near_the_shut_off_runs_longest_with_the_precharge_above_cut_in() -> None:
    """Drawdown is greatest at cut-in, but what enters late enters slowly."""
    band = {"cut_in": "10 psi", "cut_out": "90.5 psi"}
    none = view(SolveFor.PRECHARGE, **WEAK, **band, run_time="10 min")
    assert none.why is not None
    assert none.why.cause is Cause.TOO_LITTLE
    assert none.why.at is not None
    assert none.why.run is not None
    assert none.why.at > 50 * PSI
    assert "the best there is" in why_text(none, Display())
    found = view(SolveFor.PRECHARGE, **WEAK, **band, run_time=f"{none.why.run * 0.98:.6f} s")
    assert len(found.solutions) == 2
    assert not any(one.is_usual for one in found.solutions)
    assert found.solutions[0].value < none.why.at < found.solutions[1].value


def test_near_its_shut_off_a_pump_runs_long_again() -> None:
    found = view(SolveFor.CENTRE, **FALLING[0], run_time="1.36 min")
    assert len(found.solutions) == 2
    usual, other = found.solutions
    assert usual.margin is not None
    assert other.margin is not None
    assert usual.margin > 10 * PSI > other.margin
    assert usual.value < other.value
