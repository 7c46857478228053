"""Runs, rests and starts against published formulas and limits; the source stands beside each."""

from __future__ import annotations

import numpy as np
import pytest

from workbench.physics.cycle import (
    drawdown_for_starts,
    run_time,
    starts_per_second,
    worst_starts_per_second,
)

GAL = 3.785411784e-3
GPM = GAL / 60
PER_HOUR = 1 / 3600


def cycle_minutes(drawdown: float, pump: float, demand: float) -> float:
    starts = float(starts_per_second(drawdown * GAL, pump * GPM, demand * GPM))
    return 1 / starts / 60


@pytest.mark.parametrize("demand", [0.5, 1, 3, 5, 7, 9.5])
def test_the_cycle_of_the_military_handbook(demand: float) -> None:
    # MIL-HDBK-1005/9A, US Department of Defense, paragraph 2.5.3.6, equation 1 (for a sump):
    # t = (V/D) [1/(1 − Q/D) + 1/(Q/D)].
    share = demand / 10
    printed = (10 / 10) * (1 / (1 - share) + 1 / share)
    assert cycle_minutes(10, 10, demand) == pytest.approx(printed, rel=1e-12)


def test_the_shortest_cycle_of_the_military_handbook() -> None:
    # MIL-HDBK-1005/9A, paragraph 2.5.3.6, equation 2: at Q = D/2, t = 4 V/D.
    assert cycle_minutes(10, 10, 3) == pytest.approx(4.76, abs=0.005)
    assert cycle_minutes(10, 10, 5) == pytest.approx(4.0, rel=1e-12)
    assert float(worst_starts_per_second(10 * GAL, 10 * GPM)) / PER_HOUR == pytest.approx(15.0)


def test_no_demand_gives_more_starts_than_half_the_pumps_flow() -> None:
    demands = np.linspace(0.0, 10 * GPM, 2001)
    starts = starts_per_second(7 * GAL, 10 * GPM, demands)
    assert demands[np.argmax(starts)] == pytest.approx(5 * GPM)
    assert starts.max() == pytest.approx(float(worst_starts_per_second(7 * GAL, 10 * GPM)))


@pytest.mark.parametrize(
    ("per_hour", "gallons_per_gpm", "source"),
    [
        (15, 1.0, "Water Systems Council, PST performance standard, 2000: up to 3/4 hp"),
        (7.5, 2.0, "Water Systems Council, PST performance standard, 2000: above 3/4 hp"),
        (6, 2.5, "Idaho Administrative Code 58.01.08.547; UFC 3-420-01: 2.5 x gpm"),
        (5, 3.0, "Indiana Administrative Code 327 IAC 8-3.4-14 (b): 3 x gpm usable"),
        (10, 1.5, "MIL-HDBK-1005/9A, paragraph 2.5.3.6: a cycle of 6 min below 50 hp"),
    ],
)
def test_published_limits_as_drawdown_for_each_gallon_per_minute(
    per_hour: float, gallons_per_gpm: float, source: str
) -> None:
    water = drawdown_for_starts(10 * GPM, per_hour * PER_HOUR)
    assert float(water) / GAL == pytest.approx(10 * gallons_per_gpm, rel=1e-12), source
    assert float(run_time(water, 10 * GPM)) / 60 == pytest.approx(gallons_per_gpm), source


def test_the_factor_15_of_washingtons_design_manual() -> None:
    # Washington State Department of Health 331-123, 2009, equation 11-1: storage 15 Q / Nc. With
    # the air filling the tank at cut-in, equation 11-1 is (P1+14.7)/(P1−P2) times it (MF = 1).
    for flow, starts in ((10, 6), (25, 6), (40, 4)):
        water = drawdown_for_starts(flow * GPM, starts * PER_HOUR)
        assert float(water) / GAL == pytest.approx(15 * flow / starts, rel=1e-12)


@pytest.mark.parametrize(
    ("starts", "minutes"), [(15.0, 1.00), (12.9, 1.16), (11.5, 1.30), (9.9, 1.52), (8.1, 1.85)]
)
def test_nemas_starts_as_the_run_that_they_imply(starts: float, minutes: float) -> None:
    # NEMA MG 10, table 2-3, two-pole motors of 1, 1.5, 2, 3 and 5 hp; minutes worked by hand.
    water = drawdown_for_starts(GPM, starts * PER_HOUR)
    assert float(run_time(water, GPM)) / 60 == pytest.approx(minutes, abs=0.005)


def test_one_minute_of_run_at_10_gpm_is_10_gallons() -> None:
    # Trade magazine for water-well drillers, "When the well runs dry": 1 min of run, 10 gal.
    assert float(run_time(10 * GAL, 10 * GPM)) == pytest.approx(60.0, rel=1e-12)


@pytest.mark.parametrize("demand", [10.0, 12.0])
def test_a_pump_that_is_not_outrun_never_stops_and_never_starts_again(demand: float) -> None:
    assert float(run_time(10 * GAL, 10 * GPM, demand * GPM)) == np.inf
    assert float(starts_per_second(10 * GAL, 10 * GPM, demand * GPM)) == 0.0


def test_no_drawdown_means_starts_without_end() -> None:
    assert float(worst_starts_per_second(0.0, 10 * GPM)) == np.inf
    assert float(starts_per_second(0.0, 10 * GPM, 5 * GPM)) == np.inf
    assert float(starts_per_second(0.0, 10 * GPM, 0.0)) == 0.0
    assert float(run_time(0.0, 10 * GPM)) == 0.0
    assert float(run_time(0.0, 10 * GPM, 10 * GPM)) == np.inf


@pytest.mark.parametrize("starts", [0.0, -1.0])
def test_a_limit_of_no_starts_is_refused(starts: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        drawdown_for_starts(10 * GPM, starts)


def test_runs_broadcast_over_tanks_and_demands() -> None:
    tanks = np.array([5.0, 10.0, 20.0])[:, None] * GAL
    demands = np.array([0.0, 3.0, 6.0, 10.0]) * GPM
    runs, starts = run_time(tanks, 10 * GPM, demands), starts_per_second(tanks, 10 * GPM, demands)
    assert runs.shape == starts.shape == (3, 4)
    for i in range(3):
        for j in range(4):
            assert runs[i, j] == run_time(tanks[i, 0], 10 * GPM, demands[j])
            assert starts[i, j] == starts_per_second(tanks[i, 0], 10 * GPM, demands[j])
