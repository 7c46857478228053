"""What the pictures of the live tank are drawn with: pens, fills and texts in a theme's colours."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from workbench.gui import theme
from workbench.gui.theme import Theme

THIN, LINE, HEAVY = 1.0, 1.5, 2.5  # widths of lines, px
_LEFT, _RIGHT = Qt.AlignmentFlag.AlignLeft, Qt.AlignmentFlag.AlignRight
LEFT = _LEFT | Qt.AlignmentFlag.AlignVCenter
RIGHT = _RIGHT | Qt.AlignmentFlag.AlignVCenter
MIDDLE = Qt.AlignmentFlag.AlignCenter


@lru_cache(maxsize=64)
def blend(under: str, over: str, share: float) -> str:
    """A colour between two; opaque, so that every device draws the same."""
    a, b = QColor(under), QColor(over)

    def mixed(one: int, other: int) -> int:
        return round(one + share * (other - one))

    red, green = mixed(a.red(), b.red()), mixed(a.green(), b.green())
    return QColor(red, green, mixed(a.blue(), b.blue())).name()


def water_fill(look: Theme) -> str:
    """Behind texts too: it leaves them their contrast."""
    return blend(look.base, look.curves[0].colour, 0.22)


@lru_cache(maxsize=128)
def pen(colour: str, width: float = LINE, dash: tuple[float, ...] = ()) -> QPen:
    """A pen with round ends, never to be changed; ``dash`` in widths of it."""
    made = QPen(QColor(colour), width)
    made.setCapStyle(Qt.PenCapStyle.FlatCap if dash else Qt.PenCapStyle.RoundCap)
    made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    if dash:
        made.setDashPattern(list(dash))
    return made


def use(painter: QPainter, line: QPen | None, fill: str | None = None) -> None:
    """Take a pen and a fill; None is none."""
    painter.setPen(Qt.PenStyle.NoPen if line is None else line)
    painter.setBrush(Qt.BrushStyle.NoBrush if fill is None else QBrush(QColor(fill)))


def write(
    painter: QPainter,
    area: QRectF,
    text: str,
    colour: str,
    how: Qt.AlignmentFlag = LEFT,
) -> None:
    """One line of text in an area, in the painter's font."""
    painter.setPen(QColor(colour))
    painter.drawText(area, int(how) | int(Qt.TextFlag.TextDontClip), text)


def polygon(points: Iterable[tuple[float, float]]) -> QPolygonF:
    """Of some corners."""
    return QPolygonF([QPointF(x, y) for x, y in points])


def line_height() -> float:
    """Of the program's text, in pixels."""
    return QFontMetricsF(theme.font()).height()


def text_width(text: str, *, bold: bool = False) -> float:
    """In the program's text size, in pixels."""
    return QFontMetricsF(theme.font(bold=bold)).horizontalAdvance(text)


def round_step(span: float, most: int) -> float:
    """The least step of 1, 2 or 5 times a power of ten that cuts a span into ``most`` or fewer.

    >>> round_step(100.0, 6)
    20.0
    """
    power = 10.0 ** math.floor(math.log10(span / most))
    return next(f * power for f in (1.0, 2.0, 5.0, 10.0) if span / (f * power) <= most * (1 + 1e-9))
