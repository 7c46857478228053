"""How sure a run is: closed forms, plain loops, what cannot be met, and the figures as a whole."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from scipy.integrate import quad

from tests.study.build import GAL, GPM, PSI, SEA, ranking
from tests.study.tolerance_build import (
    BUCKET,
    FALLING,
    KELVIN,
    NONE,
    SETTING,
    TEN,
    USUAL,
    basis,
    found,
    only,
    plain_run,
    sized,
)
from workbench.physics.pump import Delivery
from workbench.study.certainty.tolerance import NAMES, Basis, Tolerances, Verdict, study, swings


@pytest.mark.parametrize(
    "entries",
    [
        {},
        {"cut_in": "20 psi", "cut_out": "40 psi"},
        {"precharge_rule": "cut_in", "altitude": "5000 ft"},
        {"exponent": "1.2"},
        {"precharge_rule": "typed", "precharge": "35 psi"},
    ],
)
def test_without_tolerances_runs_are_the_rankings_and_shares_are_its_verdicts(
    entries: dict[str, str],
) -> None:
    tanks = [sized(gallons) for gallons in range(20, 119, 7)]
    ranked = ranking(*tanks, **entries)
    rows = [ranked.row(k) for k in range(len(ranked))]
    required = ranked.required / (10 * GPM)
    result = study(
        basis(ranked.setting, required=required),
        NONE,
        [row.total_volume for row in rows],
        [row.tank.acceptance or np.inf for row in rows],
        cases=50,
    )
    assert result is not None
    for runs in (result.nominal_run, result.worst_run, result.best_run):
        assert runs == pytest.approx([row.run_time for row in rows], rel=1e-12)
    assert result.share.tolist() == [float(row.passes) for row in rows]
    assert {0.0, 1.0} == set(result.share.tolist())
    assert result.swings == ()


def test_a_run_just_as_long_as_required_is_met() -> None:
    run = float(found(basis(), NONE, 40).nominal_run[0])
    assert found(basis(required=run), NONE, 40, cases=10).share[0] == 1.0
    assert found(basis(required=run * 1.000001), NONE, 40, cases=10).share[0] == 0.0


@pytest.mark.parametrize("ratio", [0.85, 0.92, 0.97, 1.0, 1.05, 1.15])
def test_the_flow_alone(ratio: float) -> None:
    """run = r0 / (1 + 0.1 u) meets the required one where 1 + 0.1 u <= r0 / required."""
    run = float(found(basis(), NONE, 40).nominal_run[0])
    exact = min(max((ratio - 0.9) / 0.2, 0.0), 1.0)
    share = found(basis(required=run / ratio), only(flow=0.1), 40).share[0]
    assert share == pytest.approx(exact, abs=5e-5)


@pytest.mark.parametrize("ratio", [0.97, 0.99, 1.0, 1.01, 1.03])
def test_the_temperature_alone(ratio: float) -> None:
    """Below cut-in the run goes with the charge, Pp (1/Pin − 1/Pout), and that with the kelvins."""
    run = float(found(basis(), NONE, 40).nominal_run[0])
    needed = KELVIN * (1 / ratio - 1)  # kelvins from which the run is long enough
    exact = min(max((10.0 - needed) / 20.0, 0.0), 1.0)
    share = found(basis(required=run / ratio), only(temperature=10.0), 40).share[0]
    assert share == pytest.approx(exact, abs=5e-5)


@pytest.mark.parametrize("name", ["switch_in", "switch_out", "gauge"])
@pytest.mark.parametrize("at", [-0.6, 0.0, 0.7])
def test_a_pressure_alone(name: str, at: float) -> None:
    """The required run is that of a known deviation; half the way up it, half the cases meet it."""
    half = 1.5 * PSI
    charge = SETTING.precharge + SEA
    low, high = SETTING.cut_in + SEA, SETTING.cut_out + SEA
    low += at * half * (name != "switch_out")
    high += at * half * (name != "switch_in")
    required = 40 * GAL * (charge / low - charge / high) / (10 * GPM)
    exact = (1 - at) / 2 if name == "switch_out" else (1 + at) / 2
    share = found(basis(required=required), only(**{name: half}), 40).share[0]
    assert share == pytest.approx(exact, abs=5e-5)


@pytest.mark.parametrize("ratio", [0.995, 1.0, 1.004])
def test_bucket_and_watch_without_a_corner_cut_off(ratio: float) -> None:
    """(V + b u)/V · t/(t + w v) <= c: for each v a share of u that is straight in v, so the mean
    over v is that at v = 0.
    """
    of = basis(bucket=BUCKET)
    run = float(found(of, NONE, 40).nominal_run[0])
    share = found(
        replace(of, required_run=run / ratio), only(bucket=0.2 * GAL, watch=0.5), 40
    ).share[0]
    assert share == pytest.approx(0.5 + (ratio - 1) * 5 / 0.2 / 2, abs=2e-4)


@pytest.mark.parametrize("ratio", [0.95, 0.97, 1.02, 1.05])
def test_bucket_and_watch_with_corners_cut_off(ratio: float) -> None:
    def of_bucket(late: float) -> float:
        return min(max(0.5 + (ratio * (30 + late) / 30 - 1) * 5 / 0.1 / 2, 0.0), 1.0)

    exact = quad(of_bucket, -1.0, 1.0, limit=200)[0] / 2
    of = basis(bucket=BUCKET)
    run = float(found(of, NONE, 40).nominal_run[0])
    tolerances = only(bucket=0.1 * GAL, watch=1.0)
    share = found(replace(of, required_run=run / ratio), tolerances, 40).share[0]
    assert share == pytest.approx(exact, abs=2e-4)


def test_bucket_and_watch_do_not_matter_where_none_was_used() -> None:
    result = found(basis(), only(bucket=1 * GAL, watch=5.0), 40, cases=100)
    assert result.worst_run == result.best_run == result.nominal_run
    assert result.swings == ()


def test_the_share_rises_with_the_volume() -> None:
    volume = np.linspace(20, 90, 300) * GAL
    for delivery in (TEN, FALLING):
        result = study(basis(delivery=delivery), USUAL, volume, volume * 0.3, cases=5000)
        assert result is not None
        assert np.all(np.diff(result.share) >= 0.0)
        assert result.share[0] == 0.0
        assert result.share[-1] > 0.99


@pytest.mark.parametrize("acceptance", [np.inf, 16.0, 10.5])
def test_a_pseudo_random_plain_loop_agrees_within_its_standard_error(acceptance: float) -> None:
    dice = np.random.default_rng(5)
    runs = [
        plain_run(case, 40 * GAL, acceptance * GAL) for case in dice.uniform(-1, 1, (40_000, 8))
    ]
    median = float(np.median(runs))
    result = found(basis(required=median, bucket=BUCKET), USUAL, 40, acceptance)
    plain = np.mean(np.array(runs) >= median * (1 - 1e-9))
    assert result.share[0] == pytest.approx(plain, abs=4 * 0.5 / math.sqrt(40_000))
    assert 0.4 < result.share[0] < 0.6
    assert result.worst_run[0] <= min(runs) < result.nominal_run[0] < result.best_run[0]


def test_the_worst_run_is_that_of_a_corner() -> None:
    """At constant flow no case is shorter than the shortest corner; 200,000 others are tried."""
    corners = [plain_run(np.array(case), 40 * GAL) for case in product((-1.0, 1.0), repeat=8)]
    result = found(basis(bucket=BUCKET), USUAL, 40, cases=200_000)
    assert result.worst_run[0] == pytest.approx(min(corners), rel=1e-12)
    assert result.worst_run[0] < result.nominal_run[0] < result.best_run[0]


def test_with_the_precharge_at_cut_in_nothing_gives_more_than_it() -> None:
    """Either way the precharge gives less, so the greatest run lies between the corners."""
    at_cut_in = replace(SETTING, precharge=SETTING.cut_in)
    result = found(basis(at_cut_in), only(precharge=2 * PSI), 40)
    assert result.best_run[0] == pytest.approx(result.nominal_run[0], rel=1e-12)
    assert result.worst_run[0] < result.nominal_run[0] * 0.97


def test_a_cut_out_not_above_cut_in_is_not_met() -> None:
    """Cut-in 30 ± 4, cut-out 32: above it in a quarter of the cases."""
    narrow = replace(SETTING, cut_out=32 * PSI)
    result = found(basis(narrow, required=0.0), only(switch_in=4 * PSI), 40)
    assert result.share[0] == pytest.approx(0.75, abs=5e-5)
    assert result.worst_run[0] == 0.0


def test_a_precharge_below_nil_is_not_met() -> None:
    low = replace(SETTING, precharge=1 * PSI)
    result = found(basis(low, required=0.0), only(precharge=4 * PSI), 40)
    assert result.share[0] == pytest.approx(5 / 8, abs=5e-5)
    assert found(basis(replace(low, precharge=0.0), required=0.0), NONE, 40).share[0] == 1.0


@pytest.mark.parametrize("delivery", [TEN, FALLING])
def test_a_precharge_above_cut_out_gives_no_run(delivery: Delivery) -> None:
    over = replace(SETTING, precharge=55 * PSI)
    result = found(basis(over, delivery), only(flow=0.1), 40, cases=100)
    assert result.share[0] == result.best_run[0] == 0.0
    assert math.isnan(result.swings[0].size)


def test_two_equal_tanks_are_one_of_their_sum() -> None:
    volume, most = np.array([30, 60, 55, 110]) * GAL, np.array([8, 16, np.inf, np.inf]) * GAL
    result = study(basis(required=40.0), USUAL, volume, most, cases=2000)
    assert result is not None
    for runs in (result.worst_run, result.nominal_run, result.best_run):
        assert runs[1] == pytest.approx(2 * runs[0])
        assert runs[3] == pytest.approx(2 * runs[2])


def test_a_tank_has_the_same_share_alone_and_among_hundreds() -> None:
    volume = np.linspace(25, 60, 400) * GAL
    many = study(basis(), USUAL, volume, np.full(400, np.inf), cases=3000)
    few = study(basis(), USUAL, volume[::50], np.full(8, np.inf), cases=3000)
    assert many is not None
    assert few is not None
    assert np.array_equal(many.share[::50], few.share)
    assert len(set(few.share.tolist())) > 4


def test_the_verdict_goes_by_the_share() -> None:
    run = float(found(basis(), NONE, 40).nominal_run[0])
    # with the flow alone ±10 %, volume 40·c has the share (c − 0.9)/0.2
    volume = np.array([0.9, 0.905, 0.915, 1.0, 1.085, 1.095, 1.1]) * 40 * GAL
    result = study(basis(required=run), only(flow=0.1), volume, np.full(7, np.inf))
    assert result is not None
    assert [Verdict(v).name for v in result.verdict] == (
        ["FAIL"] * 2 + ["BORDERLINE"] * 3 + ["PASS"] * 2
    )


def test_which_tolerance_matters_most() -> None:
    sorted_by_size = swings(basis(bucket=BUCKET), USUAL, 40 * GAL)
    sizes = [swing.size for swing in sorted_by_size]
    assert sizes == sorted(sizes, reverse=True)
    assert {swing.name for swing in sorted_by_size} == set(NAMES)
    by_name = {swing.name: swing for swing in sorted_by_size}
    flow, warmth, watch = by_name["flow"], by_name["temperature"], by_name["watch"]
    assert (flow.low, flow.high) == pytest.approx((1 / 0.9 - 1, 1 / 1.1 - 1))
    assert warmth.low == pytest.approx(-10 / KELVIN)
    assert (watch.low, watch.high) == pytest.approx((-0.5 / 30, 0.5 / 30))
    for index, name in enumerate(NAMES):
        way = np.eye(8)[index]
        nominal = plain_run(np.zeros(8), 40 * GAL)
        assert by_name[name].low == pytest.approx(plain_run(-way, 40 * GAL) / nominal - 1)
        assert by_name[name].high == pytest.approx(plain_run(way, 40 * GAL) / nominal - 1)


def test_swings_depend_on_the_tank_only_where_its_membrane_limits() -> None:
    small, large = (swings(basis(), USUAL, v * GAL) for v in (20, 119))
    assert small == large == found(basis(), USUAL, 33, cases=10).swings
    limited = {s.name: s for s in swings(basis(), USUAL, 40 * GAL, 9.5 * GAL)}
    free = {s.name: s for s in small}
    assert limited["switch_out"].size == 0.0 < free["switch_out"].size
    assert limited["switch_in"].size > free["switch_in"].size


def test_equal_seeds_give_equal_figures_and_others_nearly_the_same() -> None:
    volume, most = np.linspace(30, 60, 9) * GAL, np.linspace(8, 30, 9) * GAL
    first, again, other = (
        study(basis(), USUAL, volume, most, cases=20_000, seed=seed) for seed in (1, 1, 2)
    )
    assert first is not None
    assert again is not None
    assert other is not None
    assert np.array_equal(first.share, again.share)
    assert np.array_equal(first.best_run, again.best_run)
    assert not np.array_equal(first.share, other.share)
    assert first.share == pytest.approx(other.share, abs=3e-3)
    assert np.array_equal(first.nominal_run, other.nominal_run)


def test_a_share_kept_from_one_release_to_the_next() -> None:
    """Constant flow and Boyle need only correctly rounded operations: the same on any machine."""
    result = found(basis(), USUAL, 36.5)
    assert result.share[0] == 0.76105


def test_progress_is_told_and_can_end_the_study() -> None:
    told: list[float] = []

    def go_on(done: float) -> bool:
        told.append(done)
        return True

    volume = np.linspace(30, 60, 50) * GAL
    most = volume * np.linspace(0.2, 0.4, 50)
    assert study(basis(), USUAL, volume, most, cases=200, progress=go_on) is not None
    assert len(told) > 3
    assert told == sorted(set(told))
    assert told[-1] == 1.0
    calls: list[float] = []

    def stop(done: float) -> bool:
        calls.append(done)
        return len(calls) < 2

    assert study(basis(), USUAL, volume, most, cases=200, progress=stop) is None
    assert calls == told[:2]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("value", [-1e-9, math.nan, math.inf])
def test_a_tolerance_below_zero_or_not_a_number_is_refused(name: str, value: float) -> None:
    with pytest.raises(ValueError, match="zero or above"):
        only(**{name: value})


@pytest.mark.parametrize(
    ("of", "tolerances", "volume", "acceptance", "message"),
    [
        (basis(), only(temperature=285.0), [0.1], [0.05], "absolute zero"),
        (basis(bucket=BUCKET), only(bucket=5 * GAL), [0.1], [0.05], "bucket"),
        (basis(bucket=BUCKET), only(watch=30.0), [0.1], [0.05], "bucket"),
        (basis(), NONE, [0.0], [0.05], "above zero"),
        (basis(), NONE, [0.1], [math.nan], "above zero"),
        (basis(), NONE, [0.1, 0.2], [0.05], "as many"),
        (basis(required=math.nan), NONE, [0.1], [0.05], "required run"),
    ],
)
def test_what_cannot_be_studied_is_refused(
    of: Basis, tolerances: Tolerances, volume: list[float], acceptance: list[float], message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        study(of, tolerances, volume, acceptance)


def test_a_flow_that_may_be_nil_is_refused() -> None:
    with pytest.raises(ValueError, match="below 100 %"):
        only(flow=1.0)
