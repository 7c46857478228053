"""A simulated year of pump and tank, against the same thing followed second by second.

The stepped loop follows some of the year's days only; its time is scaled up to the year, which is
fair since it costs as many steps on every day. The household is invented: random draws, half of
them of one flow that comes often and half of a flow of their own.
"""

from __future__ import annotations

import time

import numpy as np
from stepped import stepped_starts
from timing import Row, compare, take_turns, timed

from workbench.physics.air import absolute, ambient_pressure, gauge_pressure
from workbench.physics.day import Draws, simulate
from workbench.physics.fill import FillCurve
from workbench.physics.header import Vessels
from workbench.physics.pump import ConstantFlow, Delivery, TwoFlows

YEAR, STEPPED_DAYS, DAY = 365, 4, 86_400.0
TARGET_MS, TARGET_RATIO = 500.0, 1 / 200
PSI, GAL = 6894.757293168361, 3.785411784e-3
GPM = GAL / 60
PUMPS: dict[str, Delivery] = {
    "constant flow": ConstantFlow(10 * GPM),
    "falling flow": TwoFlows.of(40 * PSI, 12 * GPM, 60 * PSI, 8 * GPM),
}


def draws(days: int) -> Draws:
    """About 110 changes of demand and 300 gallons a day."""
    dice = np.random.default_rng(20_260_314)
    count = 55 * days
    begin = (np.arange(count) + dice.uniform(0.0, 0.5, count)) * DAY / 55
    length = dice.choice([10.0, 30.0, 60.0, 120.0, 480.0], count) * dice.uniform(0.7, 1.3, count)
    flow = np.where(dice.random(count) < 0.5, 2.2, dice.uniform(0.3, 5.0, count)) * GPM
    edges = np.column_stack((begin, begin + length)).reshape(-1)
    demand = np.column_stack((flow, np.zeros(count))).reshape(-1)
    whole = np.concatenate(([0.0], edges, [days * DAY]))
    return Draws(whole, np.concatenate(([0.0], demand)))


def filled(pump: Delivery) -> FillCurve:
    """A tank of 44 gallons at 40/60 psi with a precharge of 38 psi, at sea level."""
    ambient = ambient_pressure(0.0)
    cut_in, cut_out = gauge_pressure(40 * PSI), gauge_pressure(60 * PSI)
    tank = Vessels.one(44 * GAL, absolute(gauge_pressure(38 * PSI), ambient))
    return FillCurve.of(pump, tank, cut_in, cut_out, ambient)


def measure(rounds: int) -> list[Row]:
    return [row for name, pump in PUMPS.items() for row in _measure(name, filled(pump), rounds)]


def _measure(name: str, fill: FillCurve, rounds: int) -> list[Row]:
    year, some_days = draws(YEAR), draws(STEPPED_DAYS)
    starts = len(simulate(fill, year).starts)

    def stepped() -> float:
        begin = time.perf_counter()
        stepped_starts(fill, some_days)
        return (time.perf_counter() - begin) * 1e3 * YEAR / STEPPED_DAYS

    found = take_turns({"ours": timed(lambda: simulate(fill, year)), "stepped": stepped}, rounds)
    part = (
        f"A simulated year ({len(year.flow):,} pieces of demand), compared with a step each second"
        f" (time of {STEPPED_DAYS} days, scaled to a year)"
    )
    ours, stepped_year = found["ours"], found["stepped"]
    return [
        compare(part, f"{name}, {starts:,} starts: {what}", "ms", ours, stepped_year, **target)
        for what, target in (
            ("time", {"target": TARGET_MS, "of_ours": True}),
            ("ratio", {"target": TARGET_RATIO}),
        )
    ]
