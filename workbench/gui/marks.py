"""Small drawn shapes that go with a word: a disc for passing, a crossed square for failing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPaintDevice, QPainter, QPen, QPixmap

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
    """The shape for "pass", "fail" or "unusable"."""
    pixmap = QPixmap(_SIDE, _SIDE)
    pixmap.fill(Qt.GlobalColor.transparent)
    with painting(pixmap) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(5, 5, _SIDE - 10, _SIDE - 10)
        if kind == "pass":
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(theme.good))
            painter.drawEllipse(box)
        else:
            painter.setPen(QPen(QColor(theme.stop if kind == "fail" else theme.muted), 4))
            painter.drawRect(box)
            if kind == "fail":
                painter.drawLine(box.topLeft(), box.bottomRight())
            else:
                middle = box.center().y()
                painter.drawLine(QPointF(box.left(), middle), QPointF(box.right(), middle))
    return QIcon(pixmap)
