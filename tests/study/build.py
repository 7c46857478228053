"""Tanks, candidates and results for the tests of the study, in the units of the trade."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from workbench.catalog.columns import TankColumns
from workbench.catalog.tank import Tank, TankKind
from workbench.job.job import Job
from workbench.study.candidates import Candidates
from workbench.study.evaluate import Results, evaluate
from workbench.study.ranking import Judged, Ranking
from workbench.units import Display, System

PSI = 6894.757293168361
GAL = 3.785411784e-3
GPM = GAL / 60
INCH = 0.0254
SEA = 101_325.0
TWO_FLOWS: dict[str, Any] = {
    "pump_entry": "two_flows",
    "flow_at_cut_in": "12 gpm",
    "flow_at_cut_out": "8 gpm",
}
"""A pump known by its flows at the usual 30 and 50 psi; its shut-off is at 66 psi."""
US, METRIC, COMMA = Display(), Display(System.METRIC), Display(System.METRIC, ",")
"""How the window shows values: in units of the trade, in SI, and in SI with a decimal comma."""


def tank(name: str = "Invented 85", **changes: Any) -> Tank:
    """An invented tank that passes the usual job; lengths in inches, volumes in gallons, psi."""
    values: dict[str, Any] = {
        "id": name.lower().replace(" ", "-"),
        "name": name,
        "kind": TankKind.BLADDER_VERTICAL,
        "total_volume": 85.0,
        "diameter": 26.0,
        "height": 47.0,
        "max_working_pressure": 125.0,
        "factory_precharge": 38.0,
        "highest_precharge": 70.0,
        "potable_listed": True,
        "price": "800",
        "in_stock": True,
    } | changes
    for field, unit in (
        ("total_volume", GAL),
        ("acceptance", GAL),
        ("diameter", INCH),
        ("height", INCH),
        ("max_working_pressure", PSI),
        ("factory_precharge", PSI),
        ("highest_precharge", PSI),
    ):
        if values.get(field) is not None:
            values[field] *= unit
    return Tank(**values)


def arranged(tanks: Iterable[Tank], most: int = 1, *, mixed: bool = False) -> Candidates:
    tanks = tuple(tanks)
    by_id = {one.id: one for one in tanks}
    return Candidates.of(TankColumns.from_tanks(tanks), by_id, most, mixed=mixed)


def job(**entries: Any) -> Job:
    """The usual job (10 gpm, 1 min, 30/50, 2 psi below cut-in) with some entries replaced."""
    return Job().changed(**entries)


def results(*tanks: Tank, **entries: Any) -> Results:
    wanted = job(**entries)
    if not tanks:
        return evaluate(wanted, None)
    return evaluate(wanted, arranged(tanks, wanted.header_tanks, mixed=wanted.mixed_sets))


def ranking(*tanks: Tank, **entries: Any) -> Ranking:
    found = results(*tanks, **entries).ranking
    assert found is not None, results(*tanks, **entries).findings
    return found


def only(*tanks: Tank, **entries: Any) -> Judged:
    """The one candidate of a job and a tank."""
    ranked = ranking(*tanks, **entries)
    assert len(ranked) == 1
    return ranked.row(0)
