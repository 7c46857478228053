"""Rigs and tools for the tests of faults: invented tanks, the three kinds of pump, usual bands."""

from __future__ import annotations

from typing import Any

from tests.study.build import GAL, GPM, PSI
from workbench.physics.pump import (
    ConstantFlow,
    CurveThroughPipe,
    Delivery,
    PumpCurve,
    Riser,
    TwoFlows,
)
from workbench.physics.system import System
from workbench.study.faults.readings import Taken, ToolTolerances, reading_of, take
from workbench.study.live.rig import Rig
from workbench.study.setting import Setting

AIR = 14.7 * PSI
FOOT, INCH = 0.3048, 0.0254
TAP = 5 * GPM
TOOLS = ToolTolerances(2 * PSI, 1 * PSI, 0.25 * GAL, 1.0)
EXACT = ToolTolerances(0.0, 0.0, 0.0, 0.0)
BANDS = ((20, 40), (30, 50), (40, 60))


def curve() -> Delivery:
    flows, heads = (0, 5, 10, 15, 20), (280, 262, 225, 160, 60)
    points = PumpCurve.of([q * GPM for q in flows], [h * FOOT for h in heads])
    return CurveThroughPipe(points, 80 * FOOT, Riser(100 * FOOT, 1.049 * INCH, 140.0))


def pumps(low: float, high: float) -> dict[str, Delivery]:
    """A pump of each kind for a band [psi]."""
    return {
        "constant": ConstantFlow(10 * GPM),
        "two flows": TwoFlows.of(low * PSI, 12 * GPM, high * PSI, 8 * GPM),
        "curve": curve(),
    }


def rig(
    volume: float = 44.0,
    low: float = 30.0,
    high: float = 50.0,
    pump: Delivery | None = None,
    **changes: Any,
) -> Rig:
    """A sound rig by the usual rule, 2 psi below cut-in [gal, psi]; ``changes`` of the system."""
    charge = (low - 2.0) * PSI
    setting = Setting(low * PSI, high * PSI, charge, AIR, 1.0)
    values: dict[str, Any] = {
        "volume": volume * GAL,
        "precharge": charge,
        "ambient": AIR,
        "delivery": ConstantFlow(10 * GPM) if pump is None else pump,
        "cut_in": low * PSI,
        "cut_out": high * PSI,
        "relief": (high + 25.0) * PSI,
        "line_give": 0.0005 * GAL / PSI,
        "start_delay": 1.0,
    } | changes
    return Rig(System(**values), setting, "Invented")


def read(one: Rig, key: str, tap: float = TAP, tools: ToolTolerances = TOOLS) -> Taken:
    return take(one, reading_of(key), tap, tools)


def value(one: Rig, key: str, tap: float = TAP) -> float:
    found = read(one, key, tap).value
    assert found is not None, read(one, key, tap).why
    return float(found)
