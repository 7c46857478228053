"""Sets of tanks in the tolerance study: two different tanks are followed case by case."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from tests.study.build import GAL
from tests.study.tolerance_build import (
    BUCKET,
    FALLING,
    NONE,
    SETTING,
    TEN,
    USUAL,
    basis,
    fill_seconds,
    only,
    plain_run,
)
from workbench.physics.air import AbsolutePressure
from workbench.physics.header import Vessels
from workbench.physics.pump import Delivery
from workbench.study.certainty.arrangements import Outcome, arrangement_swings, study_arrangements
from workbench.study.certainty.tolerance import Basis, Tolerances, Verdict, study, swings

INF = np.inf


def outcome(
    of: Basis,
    tolerances: Tolerances,
    sets: Sequence[tuple[float, float, float, float]],
    cases: int = 4000,
) -> Outcome:
    """Of sets given as (volume, other volume, acceptance, other acceptance) in gallons."""
    figures = np.array(sets) * GAL
    found = study_arrangements(
        of, tolerances, figures[:, :2], figures[:, 2:], cases=cases, seed=1, progress=_go_on
    )
    assert found is not None
    return found


def _go_on(_share: float) -> bool:
    return True


@pytest.mark.parametrize("delivery", [TEN, FALLING])
def test_single_tanks_and_equal_ones_are_those_of_the_study(delivery: Delivery) -> None:
    volume, limit = np.array([30, 60, 90]) * GAL, np.array([INF, 17, 26]) * GAL
    plain = study(basis(delivery=delivery), USUAL, volume, limit, cases=2000)
    assert plain is not None
    sets = [(v, 0.0, a, 0.0) for v, a in ((30, INF), (60, 17), (90, 26))]
    found = outcome(basis(delivery=delivery), USUAL, sets, 2000)
    for name in ("share", "worst_run", "best_run", "nominal_run", "verdict"):
        assert np.array_equal(getattr(found, name), getattr(plain, name)), name


@pytest.mark.parametrize("limits", [(8.0, 9.5), (5.0, INF), (12.0, 7.0)])
def test_a_pair_runs_as_long_as_both_tanks_together_in_every_case(
    limits: tuple[float, float],
) -> None:
    """A plain loop of another generator: run of the pair = run of one + run of the other."""
    dice = np.random.default_rng(8)
    cases = dice.uniform(-1, 1, (20_000, 8))
    runs = [
        plain_run(case, 30 * GAL, limits[0] * GAL) + plain_run(case, 20 * GAL, limits[1] * GAL)
        for case in cases
    ]
    median = float(np.median(runs))
    found = outcome(basis(required=median, bucket=BUCKET), USUAL, [(30, 20, *limits)], cases=50_000)
    plain = np.mean(np.array(runs) >= median * (1 - 1e-9))
    assert found.share[0] == pytest.approx(plain, abs=4 * 0.5 / np.sqrt(20_000))
    assert found.worst_run[0] <= min(runs)
    assert found.best_run[0] >= max(runs) * (1 - 1e-9)


@pytest.mark.parametrize("delivery", [TEN, FALLING])
def test_a_pairs_nominal_run_is_that_of_its_vessels(delivery: Delivery) -> None:
    found = outcome(basis(delivery=delivery), USUAL, [(40, 26, 12.0, 9.5), (44, 20, 10.0, INF)])
    for place, (sizes, limits) in enumerate((((40, 26), (12.0, 9.5)), ((44, 20), (10.0, INF)))):
        charge = SETTING.precharge + SETTING.ambient
        vessels = Vessels(
            np.array(sizes) * GAL,
            AbsolutePressure(np.full(2, charge)),
            np.array(limits) * GAL,
            SETTING.exponent,
        )
        seconds = fill_seconds(SETTING, delivery, vessels)
        assert found.nominal_run[place] == pytest.approx(seconds, rel=2e-6)


def test_summing_the_acceptances_would_promise_too_much() -> None:
    """What makes the case-by-case sum needful: one membrane binds, the other has room."""
    apart = outcome(basis(), USUAL, [(40, 26, 9.0, INF)])
    summed = outcome(basis(), USUAL, [(66, 0.0, INF, 0.0)])
    assert apart.nominal_run[0] < 0.95 * summed.nominal_run[0]


def test_a_pair_whose_membranes_never_bind_is_one_tank_of_the_sum() -> None:
    pair = outcome(basis(), USUAL, [(40, 26, 30.0, 20.0)])
    single = outcome(basis(), USUAL, [(66, 0.0, INF, 0.0)])
    assert pair.share[0] == single.share[0]
    assert pair.worst_run[0] == pytest.approx(single.worst_run[0], rel=1e-12)


def test_a_pair_and_its_mirror_image_have_the_same_figures() -> None:
    found = outcome(basis(required=70.0), USUAL, [(40, 26, 9.0, 20.0), (26, 40, 20.0, 9.0)])
    assert found.share[0] == found.share[1]
    assert 0.0 < found.share[0] < 1.0
    assert found.worst_run[0] == pytest.approx(found.worst_run[1], rel=1e-12)


def test_pairs_among_others_keep_their_places() -> None:
    sets = [(40, 26, 9.0, 20.0), (60, 0.0, INF, 0.0), (30, 20, 5.0, INF), (90, 0.0, 20.0, 0.0)]
    together = outcome(basis(), USUAL, sets)
    for place, one in enumerate(sets):
        alone = outcome(basis(), USUAL, [one])
        assert together.share[place] == alone.share[0]
        assert together.nominal_run[place] == pytest.approx(alone.nominal_run[0], rel=1e-12)


def test_the_verdict_goes_by_the_share_for_pairs_too() -> None:
    run = float(outcome(basis(), NONE, [(40, 26, 9.0, INF)]).nominal_run[0])
    # with the flow alone ±10 %, a run of r times the required one has the share (r − 0.9)/0.2
    for ratio, verdict in ((0.905, Verdict.FAIL), (1.0, Verdict.BORDERLINE), (1.095, Verdict.PASS)):
        found = outcome(basis(required=run / ratio), only(flow=0.1), [(40, 26, 9.0, INF)], 50_000)
        assert found.share[0] == pytest.approx((ratio - 0.9) / 0.2, abs=1e-4)
        assert Verdict(int(found.verdict[0])) is verdict


@pytest.mark.parametrize("delivery", [TEN, FALLING])
def test_what_one_tolerance_does_to_a_pair(delivery: Delivery) -> None:
    of, sizes, limits = basis(delivery=delivery), np.array([40, 26]) * GAL, (9.5 * GAL, INF)
    pair = {s.name: s for s in arrangement_swings(of, USUAL, sizes, np.array(limits))}
    each = [
        {s.name: s for s in swings(of, USUAL, float(size), limit)}
        for size, limit in zip(sizes, limits, strict=True)
    ]
    runs = [
        outcome(of, NONE, [(size / GAL, 0.0, limit / GAL, 0.0)]).nominal_run[0]
        for size, limit in zip(sizes, limits, strict=True)
    ]
    assert set(pair) == set(each[0])
    for name, swing in pair.items():
        for side in ("low", "high"):
            mean = sum(r * getattr(e[name], side) for r, e in zip(runs, each, strict=True))
            assert getattr(swing, side) == pytest.approx(mean / sum(runs), abs=1e-7), name
    order = [s.size for s in arrangement_swings(of, USUAL, sizes, np.array(limits))]
    assert order == sorted(order, reverse=True)


@pytest.mark.parametrize("after", [1, 2, 5])
def test_it_ends_when_nobody_waits_any_more(after: int) -> None:
    told: list[float] = []

    def stop(share: float) -> bool:
        told.append(share)
        return len(told) < after

    figures = np.array([(40, 26, 9.0, INF), (60, 0.0, INF, 0.0)]) * GAL
    found = study_arrangements(
        basis(), USUAL, figures[:, :2], figures[:, 2:], cases=50_000, seed=1, progress=stop
    )
    assert found is None
    assert len(told) == after
    assert told == sorted(told)
