"""The date of an estimate and the last day on which it binds."""

from __future__ import annotations

import datetime

from workbench.job.job import Job
from workbench.study.findings import Level
from workbench.study.reader import Reader
from workbench.words import tr

MOST_DAYS = 3660
"""Ten years: a longer validity is a slip of the finger."""
_LONGEST_SHOWN = 40


def read_dates(job: Job, reader: Reader) -> tuple[datetime.date | None, datetime.date | None]:
    """The date, and the date until which the estimate is valid; None with a finding."""
    date = read_date(job, "estimate_date", reader)
    if date is None and not job.estimate_date.strip():
        reader.report(
            Level.CAUTION,
            "no_date",
            "estimate_date",
            tr("The estimate has no date, so nobody knows until when it binds."),
            tr("Type the date, as 2026-03-31."),
        )
    days = _days(reader)
    if date is None or days is None:
        return date, None
    if date.year > datetime.MAXYEAR - 1 - MOST_DAYS // 365:
        reader.report(
            Level.STOP,
            "date_far",
            "estimate_date",
            tr("No calendar here reaches so far."),
            tr("Check the year."),
        )
        return date, None
    return date, date + datetime.timedelta(days=days)


def read_date(job: Job, name: str, reader: Reader) -> datetime.date | None:
    """A date entered by ISO 8601; None where it is empty, and with a stop where it is none."""
    text = getattr(job, name).strip()
    if not text:
        return None
    try:
        date = datetime.date.fromisoformat(text)
    except ValueError:
        reader.report(
            Level.STOP,
            "date_unread",
            name,
            tr("“{text}” is no date.", text=text[:_LONGEST_SHOWN]),
            tr("Type year, month and day, as 2026-03-31."),
        )
        return None
    return date


def _days(reader: Reader) -> int | None:
    days = reader.above_zero("valid_days")
    if days is None:
        return None
    if days % 1.0 or days > MOST_DAYS:
        reader.report(
            Level.STOP,
            "days_range",
            "valid_days",
            tr("An estimate is valid for a whole number of days, {most} at most.", most=MOST_DAYS),
            tr("Type 30 for a month."),
        )
        return None
    return int(days)
