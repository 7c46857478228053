"""Ranking 100,000 tanks, against the bare formula and one sort of the same columns."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np
from timing import Row, compare, take_turns, timed, timed_once

from workbench.catalog.columns import TankColumns
from workbench.job.choices import Order
from workbench.job.job import Job
from workbench.study.candidates import Candidates
from workbench.study.inputs import read_inputs
from workbench.study.ranking import Ranking, rank
from workbench.study.setting import Setting
from workbench.study.sizing import size

COUNT = 100_000
TARGET = 4.0
PART = f"Ranking {COUNT:,} tanks"
NO_LIMITS = {"potable_required": False, "pressure_margin": "0 psi"}
ALL_LIMITS = {"door_width": "30 in", "headroom": "60 in", "pressure_margin": "15 psi"}


def columns(count: int) -> TankColumns:
    """Invented tanks as arrays; some prices, acceptances and highest precharges are unknown."""
    dice = np.random.default_rng(20_260_314)
    volume = dice.uniform(0.01, 0.45, count)
    diameter = np.cbrt(volume) * dice.uniform(0.8, 1.1, count)
    return TankColumns.from_arrays(
        [f"tank-{number:06}" for number in range(count)],
        [f"Tank {number:06}" for number in range(count)],
        volume=volume,
        acceptance=np.where(dice.random(count) < 1 / 3, np.inf, volume * 0.5),
        diameter=diameter,
        height=volume / (np.pi / 4 * diameter**2) * 1.2,
        max_working=dice.choice((5e5, 7e5, 9e5, 1.1e6), count),
        factory_precharge=dice.choice((1.2e5, 2e5, 2.6e5), count),
        highest_precharge=dice.choice((3e5, 5e5, np.nan), count),
        weight=volume * 200,
        price=np.where(dice.random(count) < 0.1, np.nan, np.round(volume * 3000, 2)),
        potable=dice.choice((1, 1, 0, -1), count),
        in_stock=dice.choice((1, 0, -1), count),
        horizontal=dice.random(count) < 0.2,
        in_ground=dice.random(count) < 0.1,
    )


def drawdown_factor(setting: Setting) -> float:
    """Boyle's law for one setting, as anyone would write it; the exponent is 1 here."""
    precharge, cut_in, cut_out = (
        gauge + setting.ambient for gauge in (setting.precharge, setting.cut_in, setting.cut_out)
    )
    return precharge / cut_in - precharge / cut_out


def measure(rounds: int) -> list[Row]:
    tanks = columns(COUNT)
    rows = []
    for order in Order:
        rows += _measure(tanks, order, NO_LIMITS, order.value.replace("_", " "), rounds)
    return rows + _measure(tanks, Order.PRICE, ALL_LIMITS, "lowest price, all limits", rounds)


def _measure(
    tanks: TankColumns, order: Order, entries: Mapping[str, object], what: str, rounds: int
) -> list[Row]:
    job = Job().changed(**entries)
    inputs = read_inputs(job)
    setting, duty, limits = inputs.setting, inputs.duty, inputs.limits
    assert setting is not None
    assert duty is not None
    assert limits is not None
    required = size(job.run_time_rule, duty, setting).required
    key = _sort_key(tanks, order)

    def bare() -> np.ndarray:
        water = np.minimum(drawdown_factor(setting) * tanks.volume, tanks.acceptance)
        return np.argsort(key(water), kind="stable")

    def ours(candidates: Candidates) -> Ranking:
        return rank(candidates, setting, duty, limits, required, order)

    ranked_before = Candidates.of(tanks, {}, 1)
    found = take_turns(
        {
            "bare": timed(bare),
            "first": timed_once(ours, lambda: Candidates.of(tanks, {}, 1)),
            "again": timed(lambda: ours(ranked_before)),
        },
        rounds,
    )
    return [
        compare(PART, f"{what}, {when}", "ms", found[name], found["bare"], target=TARGET)
        for name, when in (("first", "a new catalogue"), ("again", "after an edit"))
    ]


def _sort_key(tanks: TankColumns, order: Order) -> Callable[[np.ndarray], np.ndarray]:
    """What the bare formula sorts by, given every tank's drawdown."""
    if order is Order.RUN_TIME:
        return lambda water: -water
    if order is Order.FLOOR:
        long_side = np.where(tanks.horizontal, tanks.height, tanks.diameter)
        floor = np.where(tanks.in_ground, 0.0, tanks.diameter * long_side)
        return lambda _water: floor
    if order is Order.STOCK:
        place = np.choose(tanks.in_stock + 1, (1, 2, 0))  # not stated stands in the middle
        by_stock = place * 1e9 + np.nan_to_num(tanks.price, nan=1e8)
        return lambda _water: by_stock
    return lambda _water: tanks.price
