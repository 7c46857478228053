"""The axes of a plot: numbers as the reader writes them, drawn no oftener than they change."""

from __future__ import annotations

from typing import Any

import pyqtgraph as pg
from PySide6.QtGui import QFont, QPainter
from PySide6.QtWidgets import QGraphicsItem

from workbench.gui.theme import Theme


class Axis(pg.AxisItem):  # type: ignore[misc]  # pyqtgraph has no types
    """An axis whose numbers have the locale's decimal mark, and always the unit it names.

    Most edits leave it as it is, so Qt keeps it as a pixmap until it changes.
    """

    mark = "."
    picture: Any  # what is drawn; pyqtgraph sets it to None when something has changed

    def __init__(self, side: str) -> None:
        super().__init__(side)
        self.enableAutoSIPrefix(enable=False)
        # A third level of grid lines is too faint to be read, and takes longest to draw.
        self.setStyle(maxTickLevel=1)
        self.setCacheMode(QGraphicsItem.CacheMode.DeviceCoordinateCache)

    def dress(self, shown: Theme, font: QFont) -> None:
        """Take the colours of a theme, and a font for numbers and title."""
        self.setPen(pg.mkPen(shown.axis))
        self.setTextPen(pg.mkPen(shown.text))
        self.setTickFont(font)
        self.label.setFont(font)

    def show_title(self, text: str) -> None:
        """Take a title; the one that it has leaves the axis as it is drawn."""
        if text != self.labelText:
            self.setLabel(text)

    def tickStrings(self, values: Any, scale: float, spacing: float) -> list[str]:
        """The numbers at the ticks."""
        return [
            text.replace(".", self.mark) for text in super().tickStrings(values, scale, spacing)
        ]

    def paint(self, painter: QPainter, _option: Any, _widget: Any) -> None:
        """Draw at once: pyqtgraph plays a QPicture, which looks up its fonts at every play."""
        if self.picture is None:
            self.picture = self.generateDrawSpecs(painter)
        if self.picture is not None:
            self.drawPicture(painter, *self.picture)
