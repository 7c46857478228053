"""An axis whose numbers are hours of a day, written as a clock does."""

from __future__ import annotations

from typing import Any

from PySide6.QtGui import QFontMetrics

from workbench.gui import theme
from workbench.gui.plots.axis import Axis

_SECOND = 1 / 3600
_STEPS = (6.0, 3.0, 2.0, 1.0, 1 / 2, 1 / 4, 1 / 6, 1 / 12, 1 / 30, 1 / 60,
          30 * _SECOND, 15 * _SECOND, 5 * _SECOND, _SECOND)  # fmt: skip
_ROOM = 1.8  # widths of a label from one to the next


def clock(seconds: float, *, fine: bool = False) -> str:
    """A moment of the day as "6:05", or with its seconds as "6:05:30".

    >>> clock(21_930), clock(21_930, fine=True)
    ('6:05', '6:05:30')
    """
    whole = int(seconds + 1e-6)
    text = f"{whole // 3600}:{whole // 60 % 60:02d}"
    return f"{text}:{whole % 60:02d}" if fine else text


class TimeAxis(Axis):
    """The hours of the day; finer as the view gets narrower."""

    def tickSpacing(self, low: float, high: float, size: float) -> list[tuple[float, float]]:
        """The finest step whose labels do not touch."""
        label = QFontMetrics(theme.font()).horizontalAdvance("00:00:00") * _ROOM
        least = (high - low) * label / max(size, 1.0)
        step = min((one for one in _STEPS if one >= least), default=_STEPS[0])
        return [(step, 0.0)]

    def tickStrings(self, values: Any, _scale: float, spacing: float) -> list[str]:
        """The times at the ticks."""
        fine = spacing < 1 / 60 - 1e-9
        return [clock(round(value * 3600), fine=fine) for value in values]
