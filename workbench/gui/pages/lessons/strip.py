"""A strip with a part for each lesson: what is done is filled, the present one is higher."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.gui import theme

_GAP = theme.TIGHT


class Strip(QWidget):
    """Shows the whole course at a glance; the line above it tells the same in words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.done: list[bool] = []
        self.present = 0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_course(self, done: list[bool], present: int) -> None:
        """Which lessons are done, and which one is shown."""
        if (done, present) != (self.done, self.present):
            self.done, self.present = done, present
            self.update()

    def sizeHint(self) -> QSize:
        """As high as the part of the present lesson."""
        return QSize(8 * theme.WIDE, theme.NEAR)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the parts from left to right."""
        if not self.done:
            return
        look = theme.current()
        width = (self.width() - _GAP * (len(self.done) - 1)) / len(self.done)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for number, is_done in enumerate(self.done):
            is_present = number == self.present
            height = self.height() - 2.0 if is_present else self.height() / 2.0
            place = QRectF(
                number * (width + _GAP) + 1.0, (self.height() - height) / 2.0, width - 2.0, height
            )
            edge = look.accent if is_present else look.frame
            painter.setPen(QPen(QColor(edge), 2.0 if is_present else 1.0))
            if is_done:
                painter.setBrush(QColor(look.good))
            else:
                painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(place, 2.0, 2.0)
        painter.end()
