"""A job's entries become SI values. Whatever stands in the way becomes a finding, all at once."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.job.choices import PrechargeRule, RunTimeRule
from workbench.job.fields import fields
from workbench.job.job import Job
from workbench.physics.air import HIGHEST_ALTITUDE, LOWEST_ALTITUDE, ambient_pressure
from workbench.study.findings import Finding, Level
from workbench.units import Quantity, Unread
from workbench.units.kinds import PRESSURE
from workbench.words import tr

_PSI = PRESSURE.units["psi"].factor
_BELOW_CUT_IN = {
    PrechargeRule.BELOW_2: 2 * _PSI,
    PrechargeRule.AT_CUT_IN: 0.0,
    PrechargeRule.BELOW_5: 5 * _PSI,
}
_LOWEST_EXPONENT, _HIGHEST_EXPONENT = 1.0, 1.4  # isothermal and adiabatic air


@dataclass(frozen=True, slots=True)
class Setting:
    """How switch and tank are set: gauge pressures [Pa], ambient [Pa abs], exponent [-]."""

    cut_in: float
    cut_out: float
    precharge: float
    ambient: float
    exponent: float

    @property
    def below_cut_in(self) -> float:
        """Distance of the precharge under cut-in [Pa]; negative when it lies above."""
        return self.cut_in - self.precharge


@dataclass(frozen=True, slots=True)
class Duty:
    """What the pump does and needs: flow [m³/s], minimum run [s], most starts [1/s].

    ``run_time`` and ``starts_limit`` are None when unreadable and not used by the chosen rule.
    """

    pump_flow: float
    run_time: float | None
    starts_limit: float | None


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
    duty: Duty | None
    limits: Limits | None
    reading: Reading | None
    findings: tuple[Finding, ...]


def read_inputs(job: Job) -> Inputs:
    """Read every entry of a job and check it; nothing is clamped or guessed."""
    reader = _Reader(job)
    setting = _setting(job, reader)
    return Inputs(
        setting=setting,
        duty=_duty(job, reader),
        limits=_limits(job, reader),
        reading=_reading(job, reader, setting),
        findings=tuple(reader.findings),
    )


class _Reader:
    """Collects findings while entries are read."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self.findings: list[Finding] = []

    def report(self, level: Level, code: str, field: str, text: str, remedy: str = "") -> None:
        self.findings.append(Finding(level, code, field, text, remedy))

    def value(self, name: str, needed: bool = True) -> float | None:
        """The SI value of an entry; None, with a finding, when it cannot be read."""
        entry: Quantity | Unread | None = getattr(self._job, name)
        if isinstance(entry, Quantity):
            return entry.si
        if isinstance(entry, Unread):
            level = Level.STOP if needed else Level.CAUTION
            self.report(level, "unread", name, entry.why, entry.remedy)
        return None

    def above_zero(self, name: str, needed: bool = True) -> float | None:
        """As :meth:`value`, and above zero."""
        value = self.value(name, needed)
        if value is not None and value <= 0.0:
            label = fields()[name].label
            self.report(
                Level.STOP if needed else Level.CAUTION,
                "not_above_zero",
                name,
                tr("{label} must be above zero.", label=label),
                tr("Type a value above zero."),
            )
            return None
        return value

    def not_below_zero(self, name: str) -> float | None:
        """As :meth:`value`, and zero or above."""
        value = self.value(name)
        if value is not None and value < 0.0:
            label = fields()[name].label
            self.report(
                Level.STOP,
                "below_zero",
                name,
                tr("{label} cannot be below zero.", label=label),
                tr("Type zero or a value above it."),
            )
            return None
        return value

    def altitude(self, name: str) -> float | None:
        """Ambient pressure [Pa] at the entered altitude."""
        height = self.value(name)
        if height is None:
            return None
        if not LOWEST_ALTITUDE <= height <= HIGHEST_ALTITUDE:
            self.report(
                Level.STOP,
                "altitude_range",
                name,
                tr("The standard atmosphere used here reaches from −5,000 m to 11,000 m."),
                tr("Check the unit: feet or metres?"),
            )
            return None
        return float(ambient_pressure(height))


def _setting(job: Job, reader: _Reader) -> Setting | None:
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
        precharge = cut_in - _BELOW_CUT_IN[job.precharge_rule]
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


def _exponent(reader: _Reader) -> float | None:
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


def _duty(job: Job, reader: _Reader) -> Duty | None:
    flow = reader.above_zero("pump_flow")
    by_time = job.run_time_rule is RunTimeRule.TYPED
    by_starts = job.run_time_rule is RunTimeRule.STARTS
    run_time = reader.above_zero("run_time", needed=by_time)
    starts = reader.above_zero("starts_limit", needed=by_starts)
    if flow is None or (by_time and run_time is None) or (by_starts and starts is None):
        return None
    return Duty(flow, run_time, starts)


def _limits(job: Job, reader: _Reader) -> Limits | None:
    margin = reader.not_below_zero("pressure_margin")
    door, headroom = reader.above_zero("door_width"), reader.above_zero("headroom")
    unread = (job.door_width is not None and door is None) or (
        job.headroom is not None and headroom is None
    )
    if margin is None or unread:
        return None
    return Limits(door, headroom, margin, job.potable_required)


def _reading(job: Job, reader: _Reader, setting: Setting | None) -> Reading | None:
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
