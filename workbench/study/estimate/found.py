"""What was found on site, and what it says of pump and tank."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.study.evaluate import Results
from workbench.study.findings import Level
from workbench.study.reader import Reader
from workbench.words import tr


@dataclass(frozen=True, slots=True)
class Found:
    """The five readings of a visit, each None where it was not taken: gauge pressures [Pa], the
    water ``drained`` between stop and start [m³], the seconds to ``refill`` with every tap closed.

    For comparison: ``below_cut_in`` [Pa] is how far the job's rule puts the precharge below
    cut-in, ``entered_flow`` [m³/s] the pump's as entered, ``flow_tolerance`` its half width as a
    share, ``gauge_tolerance`` that of a gauge [Pa], ``required_run`` [s] the job's.
    """

    cut_in: float | None
    cut_out: float | None
    precharge: float | None
    drained: float | None
    refill: float | None
    below_cut_in: float | None
    entered_flow: float | None
    required_run: float | None
    flow_tolerance: float
    gauge_tolerance: float

    @property
    def is_empty(self) -> bool:
        """Whether no reading was taken."""
        return {self.cut_in, self.cut_out, self.precharge, self.drained, self.refill} == {None}

    @property
    def band(self) -> tuple[float, float] | None:
        """Cut-in and cut-out, where both were read and make sense."""
        if self.cut_in is None or self.cut_out is None or self.cut_out <= self.cut_in:
            return None
        return self.cut_in, self.cut_out

    @property
    def flow(self) -> float | None:
        """The pump's mean flow over the band [m³/s]: drained over the time to refill."""
        if self.drained is None or self.refill is None:
            return None
        return self.drained / self.refill

    @property
    def charge_missing(self) -> float | None:
        """How far the precharge found lies below the one of the job's rule at the cut-in found."""
        if self.precharge is None or self.cut_in is None or self.below_cut_in is None:
            return None
        return self.cut_in - self.below_cut_in - self.precharge


def read_found(results: Results, reader: Reader) -> Found:
    """Read the readings; whatever cannot be read is a caution, as no figure rests on it."""
    sizing, duty, setting = results.sizing, results.duty, results.setting
    found = Found(
        cut_in=reader.not_below_zero("found_cut_in", needed=False),
        cut_out=reader.above_zero("found_cut_out", needed=False),
        precharge=reader.not_below_zero("found_precharge", needed=False),
        drained=reader.above_zero("found_drawdown", needed=False),
        refill=reader.above_zero("found_refill", needed=False),
        below_cut_in=setting.below_cut_in if setting else None,
        entered_flow=duty.pump_flow if duty else None,
        required_run=sizing.chosen.run_time if sizing else None,
        flow_tolerance=reader.not_below_zero("tol_flow", needed=False) or 0.0,
        gauge_tolerance=reader.not_below_zero("tol_gauge", needed=False) or 0.0,
    )
    if found.cut_in is not None and found.cut_out is not None and found.band is None:
        reader.report(
            Level.CAUTION,
            "found_upside_down",
            "found_cut_out",
            tr("The cut-out found does not lie above the cut-in found."),
            tr("Read both again on the gauge."),
        )
    return found
