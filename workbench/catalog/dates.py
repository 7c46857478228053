"""Days of the calendar in a file: year-month-day, or what a spreadsheet makes of that.

A spreadsheet rewrites 2026-03-14 in its own country's way when it saves a file. With dots the day
comes first. With slashes it is first in some countries and the month in others: the file's other
dates tell ("3/14/2026" can only have the month first), and if none does, the date is not read.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable

from workbench.units import UnitError
from workbench.words import tr

_ISO = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_OTHER = re.compile(r"([0-9]{1,2})([/.-])([0-9]{1,2})\2([0-9]{4})")


def order_in(texts: Iterable[str]) -> str:
    """What a file's dates show of their order: "day" or "month" first, "" if none or both."""
    shown = {next(iter(found)) for text in texts if len(found := _readings(text)) == 1} - {"year"}
    return shown.pop() if len(shown) == 1 else ""


def read_date(text: str, order: str = "") -> datetime.date:
    """The day that ``text`` names; ``order`` is what :func:`order_in` found in the file.

    Raises:
        UnitError: no day, or one that can be read in two ways.

    >>> read_date("3/4/2026", "month").isoformat()
    '2026-03-04'
    """
    found = _readings(text)
    if len(set(found.values())) == 1:
        return next(iter(found.values()))
    if order in found:
        return found[order]
    if found:
        a, b = (day.isoformat() for day in found.values())
        raise UnitError(tr("could mean {a} or {b}.", a=a, b=b), tr("Write {a}, or {b}.", a=a, b=b))
    raise UnitError(
        tr("is no day of the calendar."), tr("Write year-month-day, such as 2026-03-31.")
    )


def _readings(text: str) -> dict[str, datetime.date]:
    """The days that a text can name, by what comes first in it."""
    if match := _ISO.fullmatch(text):
        year, month, day = map(int, match.groups())
        orders = [("year", month, day)]
    elif match := _OTHER.fullmatch(text):
        first, second, year = int(match[1]), int(match[3]), int(match[4])
        orders = [("day", second, first)]
        if match[2] != ".":
            orders.append(("month", first, second))
    else:
        return {}
    days = {}
    for name, month, day in orders:
        try:
            days[name] = datetime.date(year, month, day)
        except ValueError:
            continue
    return days
