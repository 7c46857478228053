"""What a motor stands: starts an hour, starts a day and the shortest rest, by each published limit.

The table for three-phase motors is NEMA MG 10-2001, National Electrical Manufacturers Association,
table 2-3, columns A and C, designs A and B. Its column B, starts times the inertia of the load, is
left out, as the inertia of a pump is seldom known; a heavy load may allow fewer starts.
"""

from __future__ import annotations

from dataclasses import dataclass

from workbench.job.job import Job
from workbench.job.pump_choices import MotorLimit
from workbench.study.findings import Finding, Level
from workbench.study.reader import Reader
from workbench.units.kinds import POWER
from workbench.words import tr

_HP = POWER.units["hp"].factor
_HOUR, _DAY = 3600.0, 86_400.0

NEMA_TWO_POLE: tuple[tuple[float, float, float], ...] = (
    (1.0, 15.0, 75.0),
    (1.5, 12.9, 76.0),
    (2.0, 11.5, 77.0),
    (3.0, 9.9, 80.0),
    (5.0, 8.1, 83.0),
    (7.5, 7.0, 88.0),
    (10.0, 6.2, 92.0),
    (15.0, 5.4, 100.0),
    (20.0, 4.8, 110.0),
    (25.0, 4.4, 115.0),
    (30.0, 4.1, 120.0),
)
"""Power [hp], most starts an hour, shortest rest [s]: NEMA MG 10-2001, table 2-3, two poles."""
NEMA_FOUR_POLE: tuple[tuple[float, float, float], ...] = (
    (1.0, 30.0, 38.0),
    (1.5, 25.7, 38.0),
    (2.0, 23.0, 39.0),
    (3.0, 19.8, 40.0),
    (5.0, 16.3, 42.0),
    (7.5, 13.9, 44.0),
    (10.0, 12.5, 46.0),
    (15.0, 10.7, 50.0),
    (20.0, 9.6, 55.0),
    (25.0, 8.8, 58.0),
)
"""As :data:`NEMA_TWO_POLE`, four poles."""
_TABLES = {MotorLimit.NEMA_TWO_POLE: NEMA_TWO_POLE, MotorLimit.NEMA_FOUR_POLE: NEMA_FOUR_POLE}

PLATE = 0.02
"""A plate in kW may miss a row in hp by this share and still be that row: 0.75 kW is sold as 1 hp,
1.1 kW as 1.5 hp, 15 kW as 20 hp (common practice)."""


@dataclass(frozen=True, slots=True)
class MotorStands:
    """What a limit allows: starts an hour and a day [1/s], shortest rest [s]; None: says nothing.

    ``row`` is the power [W] of the table's row that was taken; None where there is no table.
    """

    starts_hour: float | None = None
    starts_day: float | None = None
    rest: float | None = None
    row: float | None = None

    @property
    def is_empty(self) -> bool:
        """Whether nothing is limited."""
        return self.starts_hour is None and self.starts_day is None and self.rest is None


_FIXED = {
    MotorLimit.WELL_TANK_SMALL: MotorStands(15.0 / _HOUR, 300.0 / _DAY),
    MotorLimit.WELL_TANK_LARGE: MotorStands(7.5 / _HOUR, 300.0 / _DAY),
    MotorLimit.JOURNAL_SMALL: MotorStands(None, 300.0 / _DAY),
    MotorLimit.JOURNAL_LARGE: MotorStands(None, 50.0 / _DAY),
    MotorLimit.PUBLIC_SYSTEM: MotorStands(6.0 / _HOUR),
    MotorLimit.HANDBOOK_CYCLE: MotorStands(10.0 / _HOUR),
}
PUBLISHED = tuple(limit for limit in MotorLimit if limit is not MotorLimit.OWN)

# Powers [hp] that a limit was written for: above, up to; and whether the end itself belongs to it.
_FOR_POWERS = {
    MotorLimit.WELL_TANK_SMALL: (0.0, 0.75, True),
    MotorLimit.WELL_TANK_LARGE: (0.75, 1e9, True),
    MotorLimit.JOURNAL_SMALL: (0.0, 1.0, False),
    MotorLimit.JOURNAL_LARGE: (5.0, 1e9, True),
    MotorLimit.HANDBOOK_CYCLE: (0.0, 50.0, False),
}


def nema_row(limit: MotorLimit, power: float) -> MotorStands | None:
    """The table's row for a power [W], the next larger one between rows; None above the table.

    Raises:
        KeyError: ``limit`` is no limit by table.

    >>> row = nema_row(MotorLimit.NEMA_TWO_POLE, 1.5 * 745.699872)
    >>> round(row.starts_hour * 3600, 6), row.rest
    (12.9, 76.0)
    """
    for horses, starts, rest in _TABLES[limit]:
        if power <= horses * _HP * (1.0 + PLATE):
            return MotorStands(starts / _HOUR, None, rest, horses * _HP)
    return None


def published(limit: MotorLimit, power: float | None) -> MotorStands | None:
    """What a published limit allows a motor of this power [W].

    None where the table needs a power and has none, or does not reach so far.
    """
    if limit in _FIXED:
        return _FIXED[limit]
    return None if power is None else nema_row(limit, power)


def suits(limit: MotorLimit, power: float | None) -> bool:
    """Whether a limit was written for motors of this power [W]; true where it is not known."""
    if power is None or limit not in _FOR_POWERS:
        return True
    above, up_to, with_end = _FOR_POWERS[limit]
    horses = power / _HP
    # The plate's rounding is forgiven at both ends: 0.56 kW is sold as 3/4 hp.
    low = above * (1.0 + PLATE)
    return horses > low and (
        horses <= up_to * (1.0 + PLATE) if with_end else horses < up_to * (1.0 - PLATE)
    )


def remark(limit: MotorLimit) -> str:
    """For what a limit was written, where that is not a small well pump; else empty."""
    return {
        MotorLimit.PUBLIC_SYSTEM: tr("public systems"),
        MotorLimit.HANDBOOK_CYCLE: tr("wastewater pumps below 50 hp"),
        MotorLimit.NEMA_TWO_POLE: tr("three-phase surface motors"),
        MotorLimit.NEMA_FOUR_POLE: tr("three-phase surface motors"),
    }.get(limit, "")


def read_motor(job: Job, reader: Reader) -> tuple[MotorStands | None, float | None]:
    """What the chosen limit allows, and the motor's power [W] if it is known.

    None for the first, with a finding, where an entry that the limit needs is missing.
    """
    limit = job.motor_limit
    by_table, own = limit in _TABLES, limit is MotorLimit.OWN
    power = reader.above_zero("motor_power", needed=by_table)
    if own:
        return _own(job, reader), power
    if by_table:
        return _by_table(job, reader, power), power
    if not suits(limit, power):
        reader.report(
            Level.CAUTION,
            "limit_other_power",
            "motor_power",
            tr("The chosen limit was written for motors of another power."),
            tr("Choose the limit that belongs to this power."),
        )
    return published(limit, power), power


def _own(job: Job, reader: Reader) -> MotorStands | None:
    names = ("own_starts_hour", "own_starts_day", "own_rest")
    values = [reader.above_zero(name) for name in names]
    typed = [getattr(job, name) is not None for name in names]
    if not any(typed):
        reader.report(
            Level.STOP,
            "no_own_limit",
            "own_starts_hour",
            tr("No limit is entered."),
            tr("Type at least one from the motor's plate, or choose a published limit."),
        )
        return None
    if any(value is None and given for value, given in zip(values, typed, strict=True)):
        return None
    return MotorStands(*values)


def _by_table(job: Job, reader: Reader, power: float | None) -> MotorStands | None:
    if job.motor_power is None:
        reader.report(
            Level.STOP,
            "needed",
            "motor_power",
            tr("The table goes by the motor's power."),
            tr("Type the power on its plate, or choose another limit."),
        )
    if power is None:
        return None
    row = nema_row(job.motor_limit, power)
    if row is None:
        most = _TABLES[job.motor_limit][-1][0] * _HP
        reader.findings.append(Finding(
            Level.STOP, "motor_above_table", "motor_power",
            tr("The table as used here ends at {most}."),
            tr("Ask the motor's maker, and choose the limit as on its plate."),
            (("most", most, POWER),),
        ))  # fmt: skip
        return None
    assert row.row is not None  # noqa: S101 - it comes from the table
    if abs(power - row.row) > PLATE * row.row:
        reader.findings.append(Finding(
            Level.NOTE, "motor_next_row", "motor_power",
            tr("The table has no row for this power; that of {row}, the next larger, is used."),
            values=(("row", row.row, POWER),),
        ))  # fmt: skip
    return row
