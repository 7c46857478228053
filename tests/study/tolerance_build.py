"""What the tests of the tolerance study share: a setting, pumps, tolerances, and a plain run."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from tests.study.build import GAL, GPM, PSI, SEA, tank
from workbench.catalog.tank import Tank
from workbench.physics.air import AbsolutePressure, gauge_pressure
from workbench.physics.fill import FillCurve
from workbench.physics.header import Vessels
from workbench.physics.pump import ConstantFlow, CurveThroughPipe, Delivery, PumpCurve, TwoFlows
from workbench.study.certainty.tolerance import NAMES, Basis, Study, Tolerances, study
from workbench.study.setting import Setting

SETTING = Setting(30 * PSI, 50 * PSI, 28 * PSI, SEA, 1.0)
TEN = ConstantFlow(10 * GPM)
FALLING = TwoFlows.of(30 * PSI, 12 * GPM, 50 * PSI, 8 * GPM)  # shut-off at 66 psi
NONE = Tolerances(0, 0, 0, 0, 0, 0, 0, 0)
USUAL = Tolerances(1 * PSI, 1.5 * PSI, 2 * PSI, 1 * PSI, 10.0, 0.1, 0.1 * GAL, 0.5)
KELVIN = 285.0
BUCKET = (5 * GAL, 30.0)
CURVE = CurveThroughPipe(
    PumpCurve.of(np.array([0, 3, 6, 9, 12, 15]) * GPM, np.array([95, 92, 86, 75, 60, 40.0])),
    40.0,
    None,
)


def basis(
    setting: Setting = SETTING, delivery: Delivery = TEN, required: float = 60.0, **rest: object
) -> Basis:
    return Basis(setting, delivery, KELVIN, required, **rest)


def only(**half: float) -> Tolerances:
    return replace(NONE, **half)


def found(
    of: Basis, tolerances: Tolerances, volume: float, acceptance: float = np.inf, **rest: int
) -> Study:
    """The study of one tank, volumes in gallons."""
    result = study(of, tolerances, [volume * GAL], [acceptance * GAL], **rest)
    assert result is not None
    return result


def fill_seconds(setting: Setting, delivery: Delivery, vessels: Vessels) -> float:
    """The run [s] of tanks on one header by the fill curve, from cut-in to cut-out."""
    fill = FillCurve.of(
        delivery,
        vessels,
        gauge_pressure(setting.cut_in),
        gauge_pressure(setting.cut_out),
        AbsolutePressure(np.asarray(setting.ambient)),
    )
    return float(fill.time(fill.cut_in_water, fill.cut_out_water))


def plain_run(deviations: np.ndarray, volume: float, acceptance: float = np.inf) -> float:
    """The run [s] of one case as one would write it: constant flow, Boyle, a tank in m³."""
    g, i, o, c, w, f, b, t = (x * half for x, half in zip(deviations, halves(), strict=True))
    low, high = 30 * PSI + g + i + SEA, 50 * PSI + g + o + SEA
    charge = (28 * PSI + c + SEA) * (KELVIN + w) / KELVIN
    flow = 10 * GPM * (1 + f) * (BUCKET[0] + b) / BUCKET[0] * BUCKET[1] / (BUCKET[1] + t)
    waters = [min(max(volume * (1 - charge / p), 0.0), acceptance) for p in (low, high)]
    return (waters[1] - waters[0]) / flow


def sized(gallons: float) -> Tank:
    """A tank of the shape of the invented one; the membrane of every other takes 30 %."""
    scale = (gallons / 85) ** (1 / 3)
    return tank(
        f"T{gallons}",
        total_volume=gallons,
        acceptance=gallons * 0.3 if gallons % 2 else None,
        diameter=26 * scale,
        height=47 * scale,
    )


def halves() -> list[float]:
    return [getattr(USUAL, name) for name in NAMES]
