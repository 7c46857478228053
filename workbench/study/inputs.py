"""A job's entries become SI values. Whatever stands in the way becomes a finding, all at once."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.job.choices import PrechargeRule, RunTimeRule
from workbench.job.job import Job
from workbench.study.findings import Finding, Level
from workbench.study.pump.reading import read_supply
from workbench.study.reader import Reader
from workbench.study.setting import Setting
from workbench.study.supply import Supply
from workbench.units.kinds import PRESSURE
from workbench.words import tr

_PSI = PRESSURE.units["psi"].factor
BELOW_CUT_IN = {
    PrechargeRule.BELOW_2: 2 * _PSI,
    PrechargeRule.AT_CUT_IN: 0.0,
    PrechargeRule.BELOW_5: 5 * _PSI,
}
"""How far each rule sets the precharge below cut-in [Pa]."""
_LOWEST_EXPONENT, _HIGHEST_EXPONENT = 1.0, 1.4  # isothermal and adiabatic air


@dataclass(frozen=True, slots=True)
class Duty:
    """What the pump does and needs: its supply, minimum run [s], most starts [1/s].

    ``run_time`` and ``starts_limit`` are None when unreadable and not used by the chosen rule.
    """

    supply: Supply
    run_time: float | None
    starts_limit: float | None

    @property
    def pump_flow(self) -> float:
        """The flow [m³/s], or its mean over the band at no demand where it falls."""
        return self.supply.mean_flow


@dataclass(frozen=True, slots=True)
class Limits:
    """What a tank must respect: lengths [m] or None for no limit, pressure margin [Pa]."""

    door_width: float | None
    headroom: float | None
    pressure_margin: float
    potable_required: bool


@dataclass(frozen=True, slots=True)
class Reading:
    """Where the precharge is set, if not at the tank: ambient [Pa abs], temperatures [K]."""

    ambient: float
    temperature: float
    service_temperature: float


@dataclass(frozen=True, slots=True)
class Inputs:
    """Everything that could be read. A part is None when one of its entries stands in the way."""

    setting: Setting | None
    supply: Supply | None
    duty: Duty | None
    limits: Limits | None
    reading: Reading | None
    findings: tuple[Finding, ...]


def read_inputs(job: Job) -> Inputs:
    """Read every entry of a job and check it; nothing is clamped or guessed."""
    reader = Reader(job)
    setting = _setting(job, reader)
    supply = read_supply(job, reader, setting)
    return Inputs(
        setting=setting,
        supply=supply,
        duty=_duty(job, reader, supply),
        limits=_limits(job, reader),
        reading=_reading(job, reader, setting),
        findings=tuple(reader.findings),
    )


def _setting(job: Job, reader: Reader) -> Setting | None:
    cut_in, cut_out = reader.not_below_zero("cut_in"), reader.above_zero("cut_out")
    ambient, exponent = reader.altitude("altitude"), _exponent(reader)
    typed = job.precharge_rule is PrechargeRule.TYPED
    typed_precharge = reader.not_below_zero("precharge") if typed else None
    if cut_in is not None and cut_out is not None and cut_out <= cut_in:
        reader.report(
            Level.STOP,
            "band_upside_down",
            "cut_out",
            tr("Cut-out must lie above cut-in; the pump would never start or never stop."),
            tr("Usual: 20 psi above cut-in."),
        )
        return None
    if cut_in is None or cut_out is None or ambient is None or exponent is None:
        return None
    if not typed:
        precharge = cut_in - BELOW_CUT_IN[job.precharge_rule]
    elif typed_precharge is None:
        return None
    else:
        precharge = typed_precharge
    if precharge < 0.0:
        reader.report(
            Level.STOP,
            "precharge_below_zero",
            "cut_in",
            tr("By the chosen rule the precharge would be below zero."),
            tr("Raise cut-in, or choose another precharge rule."),
        )
        return None
    return Setting(cut_in, cut_out, precharge, ambient, exponent)


def _exponent(reader: Reader) -> float | None:
    exponent = reader.value("exponent")
    if exponent is not None and not _LOWEST_EXPONENT <= exponent <= _HIGHEST_EXPONENT:
        reader.report(
            Level.STOP,
            "exponent_range",
            "exponent",
            tr("Air lies between 1.0 (slow, no warming) and 1.4 (no heat leaves)."),
            tr("Use 1.0 for sizing."),
        )
        return None
    return exponent


def _duty(job: Job, reader: Reader, supply: Supply | None) -> Duty | None:
    by_time = job.run_time_rule is RunTimeRule.TYPED
    by_starts = job.run_time_rule is RunTimeRule.STARTS
    run_time = reader.above_zero("run_time", needed=by_time)
    starts = reader.above_zero("starts_limit", needed=by_starts)
    if supply is None or (by_time and run_time is None) or (by_starts and starts is None):
        return None
    return Duty(supply, run_time, starts)


def _limits(job: Job, reader: Reader) -> Limits | None:
    margin = reader.not_below_zero("pressure_margin")
    door, headroom = reader.above_zero("door_width"), reader.above_zero("headroom")
    unread = (job.door_width is not None and door is None) or (
        job.headroom is not None and headroom is None
    )
    if margin is None or unread:
        return None
    return Limits(door, headroom, margin, job.potable_required)


def _reading(job: Job, reader: Reader, setting: Setting | None) -> Reading | None:
    """Where the precharge is set; None when that is the tank in service or cannot be read."""
    if job.reading_temperature is None and job.reading_altitude is None:
        reader.value("tank_temperature", needed=False)
        return None
    service = reader.above_zero("tank_temperature")
    warm: float | None = service
    if job.reading_temperature is not None:
        warm = reader.above_zero("reading_temperature")
    ambient = setting.ambient if setting else None
    if job.reading_altitude is not None:
        ambient = reader.altitude("reading_altitude")
    if service is None or warm is None or ambient is None:
        return None
    return Reading(ambient, warm, service)
