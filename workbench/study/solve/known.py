"""Reads what is held while one quantity is looked for; what stands in the way becomes a finding."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from workbench.job.choices import PrechargeRule
from workbench.job.job import Job
from workbench.job.paper_choices import SolveFor
from workbench.job.pump_choices import PumpEntry
from workbench.job.pump_fields import supply_fields
from workbench.physics.pump import Delivery
from workbench.study.findings import Finding, Level
from workbench.study.inputs import BELOW_CUT_IN
from workbench.study.pump.reading import read_delivery, read_well
from workbench.study.reader import Reader
from workbench.study.setting import Setting

if TYPE_CHECKING:
    from workbench.study.evaluate import Results

MOVES_BAND = (SolveFor.CENTRE, SolveFor.WIDTH)
FALLING = (PumpEntry.CURVE, PumpEntry.TWO_FLOWS)
"""The ways of knowing a pump in which its flow is what it is, so that none can be looked for."""
_ALWAYS = {"band_upside_down", "exponent_range"}
_AT_THIS_BAND = {
    *("precharge_below_zero", "precharge_above_cut_out", "cannot_reach", "curve_too_short"),
    *("curve_ends_early", "fill_unknown"),
}
"""Codes of stops that another band or precharge may mend."""


@dataclass(frozen=True, eq=False)
class Known:
    """What is held (SI, gauge pressures [Pa]); None for what is looked for.

    ``below``: how far under cut-in the precharge follows by its rule; None where ``precharge`` is
    held as typed. ``delivery`` is None only where the flow is looked for. Of a band whose middle or
    width is looked for, ``cut_in`` and ``cut_out`` tell the other one of the two.
    """

    looked_for: SolveFor
    volume: float | None
    run: float | None
    cut_in: float
    cut_out: float
    below: float | None
    precharge: float | None
    ambient: float
    exponent: float
    delivery: Delivery | None

    @property
    def centre(self) -> float:
        """Middle of the job's band, gauge [Pa]."""
        return 0.5 * (self.cut_in + self.cut_out)

    @property
    def width(self) -> float:
        """Width of the job's band [Pa]."""
        return self.cut_out - self.cut_in

    @property
    def is_constant(self) -> bool:
        """Whether the flow is the same at every pressure, or is looked for as such a one."""
        return self.delivery is None or self.delivery.is_constant

    def setting_at(self, value: float) -> Setting:
        """Switch and precharge with this value of what is looked for."""
        cut_in, cut_out = self.cut_in, self.cut_out
        if self.looked_for is SolveFor.CENTRE:
            cut_in, cut_out = value - 0.5 * self.width, value + 0.5 * self.width
        elif self.looked_for is SolveFor.WIDTH:
            cut_in, cut_out = self.centre - 0.5 * value, self.centre + 0.5 * value
        if self.looked_for is SolveFor.PRECHARGE:
            precharge = value
        elif self.precharge is not None:
            precharge = self.precharge
        else:
            precharge = cut_in - (self.below or 0.0)
        return Setting(cut_in, cut_out, precharge, self.ambient, self.exponent)


_ASKED = (
    *("cut_in", "cut_out", "precharge_rule", "precharge", "altitude", "exponent"),
    *("run_time", "solve_volume", "pump_entry", "pump_flow"),
)


def looked_for_entries(job: Job) -> frozenset[str]:
    """The entries that are looked for, and so are not read."""
    return frozenset(
        {
            SolveFor.PUMP_FLOW: () if job.pump_entry in FALLING else ("pump_flow",),
            SolveFor.RUN_TIME: ("run_time",),
            SolveFor.VOLUME: ("solve_volume",),
            SolveFor.PRECHARGE: ("precharge_rule", "precharge"),
        }.get(job.solve_for, ())
    )


def of_this_question(results: Results) -> tuple[Finding, ...]:
    """The job's notes and cautions about what is held here."""
    names = {*_ASKED, *(one.name for one in supply_fields())} - looked_for_entries(results.job)
    return tuple(
        one for one in results.findings if one.level is not Level.STOP and one.field in names
    )


def read_known(results: Results) -> tuple[Known | None, tuple[Finding, ...]]:
    """What is held, and every finding about it; None with the stops that stand in the way."""
    job, reader = results.job, Reader(results.job)
    with np.errstate(all="ignore"):  # numbers beyond all pumps end in a finding
        known = _read(job, reader)
    codes = _ALWAYS if job.solve_for in (*MOVES_BAND, SolveFor.PRECHARGE) else (
        _ALWAYS | _AT_THIS_BAND
    )  # fmt: skip
    stops = [
        one
        for one in results.findings
        if one.level is Level.STOP and one.code in codes and _concerns(one, job)
    ]
    found = (*reader.findings, *(one for one in stops if one not in reader.findings))
    stopped = any(one.level is Level.STOP for one in found)
    return (None if stopped else known), found


def _concerns(stop: Finding, job: Job) -> bool:
    """Whether the pump's own stops matter: not where its flow is what is looked for."""
    by_pump = stop.code in {"cannot_reach", "curve_too_short", "curve_ends_early", "fill_unknown"}
    return not by_pump or job.solve_for is not SolveFor.PUMP_FLOW or job.pump_entry in FALLING


def _read(job: Job, reader: Reader) -> Known | None:
    wanted = job.solve_for
    cut_in, cut_out = reader.not_below_zero("cut_in"), reader.above_zero("cut_out")
    ambient, exponent = reader.altitude("altitude"), reader.value("exponent")
    by_rule = wanted is not SolveFor.PRECHARGE and job.precharge_rule is not PrechargeRule.TYPED
    typed = wanted is not SolveFor.PRECHARGE and job.precharge_rule is PrechargeRule.TYPED
    precharge = reader.not_below_zero("precharge") if typed else None
    volume = None if wanted is SolveFor.VOLUME else reader.above_zero("solve_volume")
    run = None if wanted is SolveFor.RUN_TIME else reader.above_zero("run_time")
    if cut_in is None or cut_out is None or ambient is None or exponent is None:
        return None
    if cut_out <= cut_in:
        return None  # told with the job's band
    delivery = None
    if wanted is not SolveFor.PUMP_FLOW or job.pump_entry in FALLING:
        # Two flows are read at the job's own band; precharge and air play no part in them.
        band = Setting(cut_in, cut_out, cut_in, ambient, exponent)
        delivery, _ = read_delivery(job, reader, band, read_well(job, reader))
        if delivery is None:
            return None
    below = BELOW_CUT_IN[job.precharge_rule] if by_rule else None
    return Known(
        wanted, volume, run, cut_in, cut_out, below, precharge, ambient, exponent, delivery
    )
