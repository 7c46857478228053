"""A plot of horizontal bars that is read row by row, by the pointer or by the arrow keys.

A subclass draws in :meth:`RowsPlot.draw` and tells in :meth:`RowsPlot.told_of` what a row says; the
frame stands around the row that is read, until something else is drawn.
"""

from __future__ import annotations

import math
from typing import ClassVar

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGraphicsRectItem, QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.plots.reading_plot import ReadingPlot


class RowsPlot(ReadingPlot):
    """Rows from the top, each ``row_height`` high in the unit of the left axis, which is hidden."""

    row_height: ClassVar[float] = 1.0

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        self._row = -1  # the row that is read
        self._least = QSize()  # as it was last asked for
        super().__init__(name, parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.plot_item.hideAxis("left")
        self.plot_item.showGrid(x=True, y=False, alpha=0.1)
        self.box.invertY(b=True)
        self._frame = QGraphicsRectItem()
        self._frame.setZValue(3)  # over the labels, which have a ground of their own
        self._frame.hide()
        self.box.addItem(self._frame)

    # --- to override ---

    def count(self) -> int:
        """How many rows there are; none before something is shown."""
        raise NotImplementedError

    def told_of(self, row: int) -> str:
        """What a row says, in words."""
        raise NotImplementedError

    # --- for drawing ---

    def redraw(self) -> None:
        """Draw anew; ask for another size where rows or names need one."""
        super().redraw()
        if self._least != self.minimumSizeHint():
            self._least = self.minimumSizeHint()
            self.updateGeometry()

    def sizeHint(self) -> QSize:
        """No more than the rows need: a scroll area gives preferred heights."""
        return self.minimumSizeHint()

    def _dress(self) -> None:
        super()._dress()
        pen = pg.mkPen(theme.current().axis, width=1)
        pen.setCosmetic(True)
        self._frame.setPen(pen)

    def _on_resized(self) -> None:
        """Draw for the new size; what is read stays."""
        row = self._row
        super()._on_resized()
        self.read_row(row)

    # --- reading ---

    def _on_mouse_moved(self, position: QPointF) -> None:
        if self.plot_item.sceneBoundingRect().contains(position):
            self.read_row(math.floor(self.box.mapSceneToView(position).y() / self.row_height))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and Down read one row after the other; Home and End the first and the last."""
        last = self.count() - 1
        moves: dict[int, int] = {
            Qt.Key.Key_Up: max(self._row - 1, 0),
            Qt.Key.Key_Down: min(self._row + 1, last),
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }
        if event.key() in moves:
            self.read_row(moves[event.key()])
        else:
            pg.PlotWidget.keyPressEvent(self, event)  # no reading line goes left and right here

    def _forget_reading(self) -> None:
        super()._forget_reading()
        self._row = -1
        self._frame.hide()

    def read_row(self, row: int) -> None:
        """Frame a row and tell what it says; beside the rows, or while disabled, do nothing."""
        if not 0 <= row < self.count() or not self.isEnabled():
            return
        self._row = row
        (left, right), _up = self.box.viewRange()
        self._frame.setRect(QRectF(left, row * self.row_height, right - left, self.row_height))
        self._frame.show()
        self.tell(self.told_of(row))
