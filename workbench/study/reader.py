"""Reads a job's entries as SI values; whatever stands in the way becomes a finding."""

from __future__ import annotations

from workbench.job.fields import fields
from workbench.job.job import Job
from workbench.physics.air import HIGHEST_ALTITUDE, LOWEST_ALTITUDE, ambient_pressure
from workbench.study.findings import Finding, Level
from workbench.units import Pairs, Quantity, Unread
from workbench.words import tr

LARGEST_SEED = 999_999_999


class Reader:
    """Collects findings while entries are read."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self.findings: list[Finding] = []

    def report(self, level: Level, code: str, field: str, text: str, remedy: str = "") -> None:
        """Keep one finding about an entry."""
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

    def not_below_zero(self, name: str, needed: bool = True) -> float | None:
        """As :meth:`value`, and zero or above."""
        value = self.value(name, needed)
        if value is not None and value < 0.0:
            label = fields()[name].label
            self.report(
                Level.STOP if needed else Level.CAUTION,
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

    def pairs(self, name: str) -> list[tuple[float, float]] | None:
        """The SI values of a list of pairs; None, with a finding, when it cannot be read."""
        entry: Pairs | Unread | None = getattr(self._job, name)
        if isinstance(entry, Pairs):
            return [(first.si, second.si) for first, second in entry.pairs]
        if isinstance(entry, Unread):
            self.report(Level.STOP, "unread", name, entry.why, entry.remedy)
        return None

    def needed(self, name: str) -> float | None:
        """As :meth:`above_zero`, and it may not be empty."""
        if getattr(self._job, name) is None:
            label = fields()[name].label
            self.report(
                Level.STOP,
                "needed",
                name,
                tr("{label} is needed here.", label=label),
                tr("Type it, or choose another way to enter the pump."),
            )
            return None
        return self.above_zero(name)

    def seed(self) -> int | None:
        """The job's random seed, a whole number; None, with a finding, when it is none."""
        value = self.value("seed")
        if value is not None and (value % 1.0 or not 0.0 <= value <= LARGEST_SEED):
            self.report(
                Level.STOP,
                "seed_range",
                "seed",
                tr(
                    "{label} must be a whole number from 0 to {most}.",
                    label=fields()["seed"].label,
                    most=LARGEST_SEED,
                ),
                tr("Type 1, 2, 3 and so on."),
            )
            return None
        return None if value is None else int(value)

    def share(self, name: str, most: float = 1.0, needed: bool = True) -> float | None:
        """As :meth:`not_below_zero`, and at most ``most`` [-]."""
        value = self.not_below_zero(name, needed)
        if value is not None and value > most:
            label = fields()[name].label
            self.report(
                Level.STOP if needed else Level.CAUTION,
                "share_range",
                name,
                tr("{label} cannot be more than {most} %.", label=label, most=f"{most * 100:g}"),
                tr("Type a smaller share."),
            )
            return None
        return value
