"""The pump at a band: mean flow, runs and starts against integrals that know nothing of ours."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq, minimize_scalar

from tests.study.build import GAL, GPM, PSI, SEA, only, ranking, results, tank
from workbench.physics.cycle import fill_time, starts, worst_starts
from workbench.study.ranking import Fails
from workbench.study.reasons import reasons
from workbench.study.supply import Supply, fill_of, vessel
from workbench.units import Display

FOOT = 0.3048
WEIGHT = 999.7 * 9.80665  # Pa for a metre of water at 10 °C

TWO: dict[str, Any] = {
    "pump_entry": "two_flows",
    "flow_at_cut_in": "12 gpm",
    "flow_at_cut_out": "6 gpm",
}
POINTS = ((0, 280), (4, 267), (8, 243), (12, 207), (16, 152))  # gpm, ft
CURVE: dict[str, Any] = {
    "pump_entry": "curve",
    "curve": "\n".join(f"{q} gpm {h} ft" for q, h in POINTS),
    "water_level": "90 ft",
    "pipe_length": "150 ft",
    "pipe_size": "1-1/4",
}

Flow = Callable[[float], float]  # of gauge pressure [Pa] in m³/s


def two_flows(gauge: float) -> float:
    """p = p₀ − k Q² through 12 gpm at 30 psi and 6 gpm at 50 psi."""
    k = 20 * PSI / ((144 - 36) * GPM**2)
    return math.sqrt((30 * PSI + k * (12 * GPM) ** 2 - gauge) / k)


_HEAD = PchipInterpolator([q * GPM for q, _ in POINTS], [h * FOOT for _, h in POINTS])


def through_pipe(gauge: float) -> float:
    """The curve less lift and Hazen-Williams friction in 150 ft and a quarter, 1.38 in, C 140."""

    def left(flow: float) -> float:
        hundreds = 1.5 * 1.25
        lost = 0.2083 * hundreds * (100 / 140) ** 1.852 * (flow / GPM) ** 1.852 / 1.380**4.8655
        return float(_HEAD(flow)) - (90 + lost) * FOOT - gauge / WEIGHT

    return float(brentq(left, 0.0, 16 * GPM, xtol=1e-18, rtol=1e-14))


PUMPS = pytest.mark.parametrize(
    ("entries", "flow"), [(TWO, two_flows), (CURVE, through_pipe)], ids=["two flows", "curve"]
)
BANDS: list[tuple[dict[str, Any], tuple[float, float, float, float, float]]] = [
    ({}, (28, 30, 50, SEA, 1.0)),
    ({"exponent": "1.3"}, (28, 30, 50, SEA, 1.3)),
    ({"precharge_rule": "typed", "precharge": "36 psi"}, (36, 30, 50, SEA, 1.0)),
    ({"precharge_rule": "typed", "precharge": "15 psi"}, (15, 30, 50, SEA, 1.0)),
]


def plain_run(
    flow: Flow,
    band: tuple[float, float, float, float, float],
    draw: float = 0.0,
    share: float = 1.0,
) -> float:
    """Seconds to fill one m³ of tank whose membrane takes ``share`` of it: ∫ dx / (Q − q)."""
    charge, low, high, air, n = (
        band[0] * PSI + band[3],
        band[1] * PSI + band[3],
        band[2] * PSI + band[3],
        band[3],
        band[4],
    )
    low = max(low, charge)
    if share < 1.0:
        high = min(high, charge * (1 - share) ** -n)

    def slowness(p: float) -> float:
        return charge ** (1 / n) / n * p ** (-1 / n - 1) / (flow(p - air) - draw)

    return float(quad(slowness, low, high, epsabs=0, epsrel=1e-9, limit=200)[0])


def plain_water(band: tuple[float, float, float, float, float], share: float = 1.0) -> float:
    charge, low, high = ((p * PSI + band[3]) for p in band[:3])
    held = [max(1 - (charge / p) ** (1 / band[4]), 0.0) for p in (low, high)]
    return min(held[1], share) - min(held[0], share)


def plain_factor(
    flow: Flow, band: tuple[float, float, float, float, float], share: float = 1.0
) -> float:
    """Most starts a second over all steady draws, times the drawdown, of one m³ of tank."""
    water = plain_water(band, share)
    top = flow(band[2] * PSI)

    def cycle(draw: float) -> float:
        return water / draw + plain_run(flow, band, draw, share)

    found = minimize_scalar(
        cycle, bounds=(0.05 * top, top * (1 - 1e-6)), method="bounded", options={"xatol": 1e-9}
    )
    return water / float(found.fun)


def supply_of(**entries: Any) -> Supply:
    supply = results(**entries).inputs.supply
    assert supply is not None
    return supply


@PUMPS
@pytest.mark.parametrize(("setting", "band"), BANDS, ids=range(len(BANDS)))
def test_mean_flow_and_starts_are_those_of_the_integrals(
    entries: dict[str, Any],
    flow: Flow,
    setting: dict[str, Any],
    band: tuple[float, float, float, float, float],
) -> None:
    supply = supply_of(**entries, **setting)
    mean = plain_water(band) / plain_run(flow, band)
    assert supply.mean_flow == pytest.approx(mean, rel=2e-6)
    assert supply.starts_factor == pytest.approx(plain_factor(flow, band), rel=2e-6)
    assert flow(50 * PSI) < supply.mean_flow < flow(30 * PSI)
    assert 0.25 * flow(50 * PSI) < supply.starts_factor < 0.25 * flow(30 * PSI)
    assert 0 < supply.worst_draw < flow(50 * PSI)


@PUMPS
@pytest.mark.parametrize("rule", ["typed", "steps", "starts"])
def test_the_required_drawdown_gives_the_run_or_the_starts_that_the_rule_asks_for(
    entries: dict[str, Any], flow: Flow, rule: str
) -> None:
    found = results(**entries, run_time_rule=rule, run_time="80 s", starts_limit="9 /h")
    assert found.sizing is not None
    band = BANDS[0][1]
    volume = found.sizing.total_volume
    assert found.sizing.required == pytest.approx(volume * plain_water(band), rel=1e-9)
    run = volume * plain_run(flow, band)
    often = plain_factor(flow, band) / (volume * plain_water(band)) * 3600
    assert found.sizing.chosen.run_time == pytest.approx(run, rel=2e-6)
    assert found.sizing.chosen.starts * 3600 == pytest.approx(often, rel=2e-6)
    if rule == "starts":
        assert often == pytest.approx(9, rel=2e-6)
    else:
        mean = plain_water(band) / plain_run(flow, band)
        step = 60.0 if mean <= 10 * GPM else 90.0
        assert run == pytest.approx(80 if rule == "typed" else step, rel=2e-6)


SHARES = [1.0, 0.34, 0.31, 0.25, 0.17, 0.06]


@PUMPS
@pytest.mark.parametrize("share", SHARES)
def test_a_tank_that_its_membrane_limits_fills_only_while_the_pump_gives_most(
    entries: dict[str, Any], flow: Flow, share: float
) -> None:
    band = BANDS[0][1]
    acceptance = None if share == 1.0 else 85 * share
    one = only(tank(acceptance=acceptance), **entries)
    water = 85 * GAL * plain_water(band, share)
    assert one.drawdown == pytest.approx(water, rel=1e-9)
    run = 85 * GAL * plain_run(flow, band, share=share)
    assert one.run_time == pytest.approx(run, rel=1e-4)
    often = plain_factor(flow, band, share) / water
    # Between 17 ends of a fill the starts are read along straight lines.
    assert one.starts == pytest.approx(often, rel=7e-4)


@PUMPS
@pytest.mark.parametrize("share", [1.0, 0.2])
@pytest.mark.parametrize("count", [1, 2, 3])
def test_several_equal_tanks_run_as_often_as_long(
    entries: dict[str, Any], flow: Flow, share: float, count: int
) -> None:
    ranked = ranking(tank(acceptance=85 * share), **entries, header_tanks=3)
    (one,) = [row for row in map(ranked.row, range(3)) if row.count == count]
    band = BANDS[0][1]
    assert one.run_time == pytest.approx(
        count * 85 * GAL * plain_run(flow, band, share=share), rel=1e-4
    )
    factor = plain_factor(flow, band, share)
    assert one.starts == pytest.approx(
        factor / (count * 85 * GAL * plain_water(band, share)), rel=2e-3
    )


@PUMPS
@pytest.mark.parametrize("rule", ["typed", "starts"])
def test_what_passes_runs_long_enough_and_starts_seldom_enough(
    entries: dict[str, Any], flow: Flow, rule: str
) -> None:
    """Even where a membrane ends the fill: enough water is not enough."""
    band = BANDS[0][1]
    asked = {"run_time_rule": rule, "run_time": "1 min", "starts_limit": "14 /h"}
    verdicts = []
    for share in np.linspace(0.05, 0.35, 25):
        one = only(tank(acceptance=85 * float(share)), **entries, **asked)
        run = 85 * GAL * plain_run(flow, band, share=float(share))
        if rule == "typed":
            enough = run >= 60.0
        else:
            water = 85 * GAL * plain_water(band, float(share))
            enough = plain_factor(flow, band, float(share)) / water <= 14 / 3600
        assert one.passes == enough
        verdicts.append(one.fails)
    assert {Fails(0), Fails.DRAWDOWN, Fails.RUN} == set(verdicts)


def test_what_fits_exactly_passes() -> None:
    """A tank of the very volume that the sizing tells, whatever the last bits of an integral."""
    for entries in (TWO, CURVE):
        for rule in ("typed", "steps", "starts"):
            for band in ({}, {"cut_in": "25 psi", "cut_out": "52 psi"}, {"exponent": "1.2"}):
                sized = results(**entries, run_time_rule=rule, **band).sizing
                assert sized is not None
                made = tank(
                    total_volume=sized.total_volume / GAL,
                    acceptance=None,
                    diameter=22 * (sized.total_volume / GAL / 40) ** (1 / 3),
                    height=34 * (sized.total_volume / GAL / 40) ** (1 / 3),
                )
                assert only(made, **entries, run_time_rule=rule, **band).fails == Fails(0)


def test_a_membrane_that_no_water_passes_is_no_error() -> None:
    one = only(tank(acceptance=0.1), **TWO)
    assert one.drawdown == one.run_time == 0.0
    assert one.starts == math.inf
    assert one.fails == Fails.DRAWDOWN


@PUMPS
def test_one_integral_serves_every_tank(entries: dict[str, Any], flow: Flow) -> None:
    supply = supply_of(**entries)
    for gallons in (20.0, 85.0, 119.0):
        fill = fill_of(supply, vessel(supply.setting, gallons * GAL))
        water = np.array([fill.drawdown])
        run, factor = supply.runs(water, np.array([gallons * GAL]), np.array([np.inf]))
        assert run[0] == pytest.approx(float(fill_time(fill)), rel=1e-6)
        draw, often = worst_starts(fill)
        assert factor[0] / water[0] == pytest.approx(often, rel=1e-6)
        assert supply.worst_draw == pytest.approx(draw, rel=1e-5)
        assert float(starts(fill, draw)) == pytest.approx(often, rel=1e-12)
    assert flow(40 * PSI) == pytest.approx(
        float(supply.delivery.flow(np.asarray(40 * PSI))), rel=1e-6
    )


def test_reasons_tell_the_run_of_the_falling_flow() -> None:
    ranked = ranking(tank(), **TWO)
    one = ranked.row(0)
    minutes = 85 * GAL * plain_run(two_flows, BANDS[0][1]) / 60
    assert f"runs {minutes:.2f} min at no demand" in reasons(one, ranked, Display())[0]
