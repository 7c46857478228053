"""How a length of time of a day or a year is told."""

from __future__ import annotations

from workbench.units import SHORT_TIME, TIME, Display

_MINUTES, _HOURS, _HOUR = 120.0, 7200.0, 3600.0  # s from which a time is told in these


def lasting(seconds: float, display: Display) -> str:
    """A length of time in seconds, minutes or hours, whichever reads best.

    >>> lasting(80, Display()), lasting(1431, Display()), lasting(29_000, Display())
    ('80 s', '23.9 min', '8.1 h')
    """
    if seconds < _MINUTES:
        return display.text(seconds, SHORT_TIME)
    if seconds < _HOURS:
        return display.text(seconds, TIME, 1)
    hours = f"{seconds / _HOUR:.1f}".replace(".", display.mark)
    return f"{hours} h"
