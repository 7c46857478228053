"""Small drawn shapes that go with a word: a disc passes, a crossed square fails."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPaintDevice, QPainter, QPen, QPixmap, QPolygonF

from workbench.gui.theme import Theme

_SIDE = 32  # drawn large, scaled down by the view


@contextmanager
def painting(device: QPaintDevice) -> Iterator[QPainter]:
    """A painter that is ended even when drawing raises; an open one would end the process."""
    painter = QPainter(device)
    try:
        yield painter
    finally:
        painter.end()


def mark(kind: str, theme: Theme) -> QIcon:
    """The shape for "pass", "fail", "borderline" (an open triangle) or "unusable"."""
    pixmap = QPixmap(_SIDE, _SIDE)
    pixmap.fill(Qt.GlobalColor.transparent)
    with painting(pixmap) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(5, 5, _SIDE - 10, _SIDE - 10)
        if kind == "pass":
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(theme.good))
            painter.drawEllipse(box)
        elif kind == "borderline":
            painter.setPen(QPen(QColor(theme.caution), 4))
            top = QPointF(box.center().x(), box.top())
            painter.drawPolygon(QPolygonF([top, box.bottomRight(), box.bottomLeft()]))
        else:
            painter.setPen(QPen(QColor(theme.stop if kind == "fail" else theme.muted), 4))
            painter.drawRect(box)
            if kind == "fail":
                painter.drawLine(box.topLeft(), box.bottomRight())
            else:
                middle = box.center().y()
                painter.drawLine(QPointF(box.left(), middle), QPointF(box.right(), middle))
    return QIcon(pixmap)
