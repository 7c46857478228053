"""The one way from a job to its results: ``evaluate(job, candidates) -> Results``."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from workbench.job.job import Job
from workbench.study.candidates import MOST_PAIRED, Candidates
from workbench.study.cautions import cautions
from workbench.study.findings import Finding, Level
from workbench.study.inputs import Duty, Inputs, read_inputs
from workbench.study.lines import BandLine, band_lines, bands_finding
from workbench.study.ranking import Ranking, rank
from workbench.study.setting import Setting
from workbench.study.sizing import PrechargeToSet, Sizing, precharge_to_set, size
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.bands.view import BandsView
    from workbench.study.chart.view import ChartView
    from workbench.study.cycle.view import CycleView
    from workbench.study.drive.view import DriveView
    from workbench.study.estimate.view import EstimateView
    from workbench.study.faults.view import FaultsView
    from workbench.study.header.view import HeaderView
    from workbench.study.house.view import HouseView
    from workbench.study.live.view import LiveView
    from workbench.study.pump.view import PumpView
    from workbench.study.shift.view import ShiftView
    from workbench.study.solve.view import SolveView


@dataclass(frozen=True, eq=False)
class Results:
    """All that follows from a job. A part is None when an entry stands in its way.

    What only one page shows is worked out when it is first asked for, and kept.
    """

    job: Job
    inputs: Inputs
    candidates: Candidates | None
    findings: tuple[Finding, ...]
    setting: Setting | None
    duty: Duty | None
    precharge: PrechargeToSet | None
    sizing: Sizing | None
    ranking: Ranking | None
    lines: tuple[BandLine, ...]

    @cached_property
    def pump(self) -> PumpView | None:
        """Operating points, reach and velocity of the pump."""
        from workbench.study.pump.view import pump_view

        return pump_view(self)

    @cached_property
    def cycle(self) -> CycleView | None:
        """Runs, rests and starts of the chosen tank over the demand, and the motor's limits."""
        from workbench.study.cycle.view import cycle_view

        return cycle_view(self)

    @cached_property
    def house(self) -> HouseView:
        """Peak demand by every method, and what covers a pump or well that gives less."""
        from workbench.study.house.view import house_view

        return house_view(self)

    @cached_property
    def header(self) -> HeaderView:
        """Several unequal tanks on one header, and what replaces an old plain tank."""
        from workbench.study.header.view import header_view

        return header_view(self)

    @cached_property
    def drive(self) -> DriveView:
        """The tank of a variable-speed pump, checked against what its maker states."""
        from workbench.study.drive.view import drive_view

        return drive_view(self)

    @cached_property
    def bands(self) -> BandsView:
        """Today's tank and pump at other switch bands, beside today's."""
        from workbench.study.bands.view import bands_view

        return bands_view(self)

    @cached_property
    def solved(self) -> SolveView:
        """The one quantity that is looked for, with all others held."""
        from workbench.study.solve.view import solve_view

        return solve_view(self)

    @cached_property
    def estimate(self) -> EstimateView:
        """The options of an estimate, each at its band and priced."""
        from workbench.study.estimate.view import estimate_view

        return estimate_view(self)

    @cached_property
    def chart(self) -> ChartView:
        """The firm's stock at the usual bands: drawdown of each tank, and the tank for each run."""
        from workbench.study.chart.view import chart_view

        return chart_view(self)

    @cached_property
    def live(self) -> LiveView:
        """The tank, pump and switch of the job as a system that can be set in motion."""
        from workbench.study.live.view import live_view

        return live_view(self)

    @cached_property
    def shift(self) -> ShiftView:
        """Drawdown over precharge, and what each psi beside the right one costs."""
        from workbench.study.shift.view import shift_view

        return shift_view(self)

    @cached_property
    def faults(self) -> FaultsView:
        """The same system with the chosen fault, and what could be read on either."""
        from workbench.study.faults.view import faults_view

        return faults_view(self)

    def of_level(self, level: Level) -> tuple[Finding, ...]:
        """The findings of one level."""
        return tuple(finding for finding in self.findings if finding.level is level)


def evaluate(job: Job, candidates: Candidates | None) -> Results:
    """Evaluate a job against a catalogue's candidates (None: there is no catalogue)."""
    inputs = read_inputs(job)
    setting, duty, limits = inputs.setting, inputs.duty, inputs.limits
    sizing = size(job.run_time_rule, duty, setting) if setting and duty else None
    ranking = None
    if candidates is not None and setting and duty and limits and sizing:
        ranking = rank(
            candidates, setting, duty, limits, sizing.required, job.order, sizing.chosen.rule
        )
    findings = (
        *inputs.findings,
        *bands_finding(job, setting),
        *_unpaired(candidates),
        *cautions(inputs, sizing),
    )
    charge = _precharge(inputs, findings)
    if charge is not None and (charge.where_set or 0.0) < 0.0:
        findings = (*findings, _below_zero_where_set())
        charge = None
    return Results(
        job=job,
        inputs=inputs,
        candidates=candidates,
        findings=findings,
        setting=setting,
        duty=duty,
        precharge=charge,
        sizing=sizing,
        ranking=ranking,
        lines=band_lines(job, setting) if setting else (),
    )


def _unpaired(candidates: Candidates | None) -> tuple[Finding, ...]:
    if candidates is None or not candidates.unpaired:
        return ()
    text = tr(
        "Pairs are formed among the {most} cheapest tanks; {count} others stand alone.",
        most=MOST_PAIRED,
        count=candidates.unpaired,
    )
    return (Finding(Level.NOTE, "not_all_paired", "mixed_sets", text),)


def _below_zero_where_set() -> Finding:
    return Finding(
        Level.STOP,
        "where_set_below_zero",
        "reading_altitude",
        tr("There the gauge would have to read below zero."),
        tr("Set the precharge at the site instead."),
    )


_CHARGE_FIELDS = {"precharge", "reading_temperature", "reading_altitude", "tank_temperature"}
_CHARGE_CODES = {"cannot_reach", "curve_too_short"}  # the pump would never stop at this band


def _precharge(inputs: Inputs, findings: tuple[Finding, ...]) -> PrechargeToSet | None:
    """Withheld while a stop stands against it: a wrong setting must not read as an instruction."""
    stopped = any(
        finding.level is Level.STOP
        and (finding.field in _CHARGE_FIELDS or finding.code in _CHARGE_CODES)
        for finding in findings
    )
    if inputs.setting is None or stopped:
        return None
    return precharge_to_set(inputs.setting, inputs.reading)
