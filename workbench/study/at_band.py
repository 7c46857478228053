"""The same job with its switch at another band: whatever a page says of a band comes from here."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

from workbench.job.choices import PrechargeRule
from workbench.job.job import Job
from workbench.physics.forgiving import SAME
from workbench.study.evaluate import Results, evaluate
from workbench.units import PRESSURE, Band, Bands, Quantity, Unread
from workbench.units.kinds import Unit

_FINE = 12  # significant digits; a figure that was worked out, not typed


def band_changes(job: Job, band: Band, unit: str) -> dict[str, Any]:
    """The entries that a switch moved to ``band`` changes, its pressures in ``unit``.

    A precharge by rule follows by itself; one that was typed stays as far below cut-in. Two
    measured flows stay what they were at the pressures where they were measured.
    """
    low, _, high = band.name.partition("/")
    changes: dict[str, Any] = {
        "cut_in": Quantity(low, unit, band.cut_in),
        "cut_out": Quantity(high, unit, band.cut_out),
    }
    if job.precharge_rule is PrechargeRule.TYPED:
        changes["precharge"] = _moved(job, band)
    # Also while the pump is known in another way: two flows may be chosen again later.
    if job.flow_at_cut_in is not None:
        changes["flow_in_at"] = job.flow_in_at or job.cut_in
    if job.flow_at_cut_out is not None:
        changes["flow_out_at"] = job.flow_out_at or job.cut_out
    return changes


def at_band(results: Results, band: Band, unit: str) -> Results:
    """What the job of these results comes to with its switch at another band."""
    job = results.job
    return evaluate(replace(job, **band_changes(job, band, unit)), results.candidates)


def one_band(entry: Bands | Unread | None) -> tuple[Band, str] | None:
    """The single band of an entry, with its unit; None where there is none or several."""
    if not isinstance(entry, Bands) or len(entry.bands) != 1:
        return None
    return entry.bands[0], entry.unit


def _moved(job: Job, band: Band) -> Quantity | Unread:
    """The typed precharge, as far below the new cut-in as it was below the old one."""
    precharge, cut_in = job.precharge, job.cut_in
    if not isinstance(precharge, Quantity) or not isinstance(cut_in, Quantity):
        return precharge
    unit = PRESSURE.find(precharge.unit) or Unit("Pa", 1.0)
    moved = precharge.si + band.cut_in - cut_in.si
    if abs(moved) <= SAME * max(precharge.si, cut_in.si):
        moved = 0.0  # else the rounding of 2 + 28 - 30 would read as a pressure
    # Through a decimal, for a number typed with an exponent cannot be read again.
    digits = f"{Decimal(f'{moved / unit.factor:.{_FINE}g}'):f}"
    return Quantity(digits, unit.symbol, float(digits) * unit.factor)
