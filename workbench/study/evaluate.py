"""The one way from a job to its results: ``evaluate(job, candidates) -> Results``."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.job.job import Job
from workbench.study.candidates import Candidates
from workbench.study.cautions import cautions
from workbench.study.findings import Finding, Level
from workbench.study.inputs import Duty, Inputs, Setting, read_inputs
from workbench.study.lines import BandLine, band_lines, bands_finding
from workbench.study.ranking import Ranking, rank
from workbench.study.sizing import PrechargeToSet, Sizing, precharge_to_set, size
from workbench.words import tr


@dataclass(frozen=True, eq=False)
class Results:
    """All that follows from a job. A part is None when an entry stands in its way."""

    job: Job
    findings: tuple[Finding, ...]
    setting: Setting | None
    duty: Duty | None
    precharge: PrechargeToSet | None
    sizing: Sizing | None
    ranking: Ranking | None
    lines: tuple[BandLine, ...]

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
        ranking = rank(candidates, setting, duty, limits, sizing.required, job.order)
    findings = (
        *inputs.findings,
        *bands_finding(job, setting),
        *cautions(inputs, sizing),
    )
    charge = _precharge(inputs, findings)
    if charge is not None and (charge.where_set or 0.0) < 0.0:
        findings = (*findings, _below_zero_where_set())
        charge = None
    return Results(
        job=job,
        findings=findings,
        setting=setting,
        duty=duty,
        precharge=charge,
        sizing=sizing,
        ranking=ranking,
        lines=band_lines(job, setting) if setting else (),
    )


def _below_zero_where_set() -> Finding:
    return Finding(
        Level.STOP,
        "where_set_below_zero",
        "reading_altitude",
        tr("There the gauge would have to read below zero."),
        tr("Set the precharge at the site instead."),
    )


_CHARGE_FIELDS = {"precharge", "reading_temperature", "reading_altitude", "tank_temperature"}


def _precharge(inputs: Inputs, findings: tuple[Finding, ...]) -> PrechargeToSet | None:
    """Withheld while a stop stands against it: a wrong setting must not read as an instruction."""
    stopped = any(
        finding.level is Level.STOP and finding.field in _CHARGE_FIELDS for finding in findings
    )
    if inputs.setting is None or stopped:
        return None
    return precharge_to_set(inputs.setting, inputs.reading)
