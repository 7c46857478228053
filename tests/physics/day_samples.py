"""Pumps, tanks and invented days for the tests of the day; no household is meant."""

from __future__ import annotations

import numpy as np

from workbench.physics.air import (
    AbsolutePressure,
    GaugePressure,
    absolute,
    ambient_pressure,
    gauge_pressure,
)
from workbench.physics.curve import PumpCurve
from workbench.physics.day import Draws
from workbench.physics.fill import FillCurve
from workbench.physics.header import Vessels
from workbench.physics.pump import ConstantFlow, CurveThroughPipe, Delivery, TwoFlows

PSI = 6894.757293168361
GAL = 3.785411784e-3
GPM = GAL / 60
DAY = 86_400.0
AMBIENT = ambient_pressure(0.0)
CONSTANT = ConstantFlow(10 * GPM)
FALLING = TwoFlows.of(40 * PSI, 12 * GPM, 60 * PSI, 7 * GPM)
CURVE = CurveThroughPipe(
    PumpCurve.of(np.array([0.0, 4, 8, 12, 16]) * GPM, np.array([95.0, 90, 80, 63, 38])), 27.0, None
)
PUMPS: dict[str, Delivery] = {"constant": CONSTANT, "falling": FALLING, "curve": CURVE}


def psi(value: float) -> GaugePressure:
    return gauge_pressure(value * PSI)


def vessel(volume: float = 44, precharge: float = 38) -> Vessels:
    """One tank of so many gallons and psi."""
    return Vessels.one(volume * GAL, absolute(psi(precharge), AMBIENT))


def filled(delivery: Delivery, volume: float = 44, precharge: float = 38) -> FillCurve:
    """At 40/60 psi, at sea level."""
    return FillCurve.of(delivery, vessel(volume, precharge), psi(40), psi(60), AMBIENT)


def ten_gallons(pump: float = 10.0) -> FillCurve:
    """A drawdown of 10 gallons and a pump of so many gpm, with nothing left at cut-in."""
    water = np.array([0.0, 10.0]) * GAL
    return FillCurve(water, np.full(2, pump * GPM), np.array([40.0, 60.0]) * PSI, 0.0)


def steady(flow: float, seconds: float) -> Draws:
    """One demand [m³/s] all the time."""
    return Draws(np.array([0.0, seconds]), np.array([flow]))


def invented_draws(days: float, seed: int, a_day: int = 55, most: float = 8.0) -> Draws:
    """Random draws of random length, some on top of others, some of flows that come often [gpm]."""
    dice = np.random.default_rng(seed)
    count = max(1, round(days * a_day))
    begin = np.sort(dice.uniform(0.0, days * DAY, count))
    length = dice.choice([8.0, 30.0, 70.0, 150.0, 480.0], count) * dice.uniform(0.7, 1.3, count)
    flow = np.where(dice.random(count) < 0.5, 2.2, dice.uniform(0.2, most, count)) * GPM
    end = np.minimum(begin + length, days * DAY)
    edges = np.unique(np.concatenate(([0.0, days * DAY], begin, end)))
    middle = (edges[:-1] + edges[1:]) / 2
    total = np.zeros(len(middle))
    for first, last, draw in zip(begin, end, flow, strict=True):
        total[np.searchsorted(middle, first) : np.searchsorted(middle, last)] += draw
    return Draws(edges, total)


def boyle(water: float, volume: float = 44, precharge: float = 38) -> float:
    """Gauge pressure of one tank with so much water, by Boyle's law alone."""
    charge = precharge * PSI + float(AMBIENT)
    return charge * volume * GAL / (volume * GAL - water) - float(AMBIENT)


def air_work(before: float, after: float, volume: float = 44, precharge: float = 38) -> float:
    """∫ p dw [J], p gauge, of one tank whose air follows Boyle's law, in closed form."""
    room = volume * GAL
    charge = AbsolutePressure(absolute(psi(precharge), AMBIENT))
    at_room = float(charge) * room
    return at_room * float(np.log((room - before) / (room - after))) - float(AMBIENT) * (
        after - before
    )
