"""The marks of all tanks in a plot: a filled disc for each that passes, else an open square.

Two items with one style each: pyqtgraph takes several times as long for a style of every point.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QObject, Signal

from workbench.gui.theme import Theme
from workbench.physics.air import FloatArray

_SIZE = 8


class TankMarks(QObject):
    """Shows marks in a pyqtgraph view box; emits ``picked(candidate)`` on a click."""

    picked = Signal(object)  # as that of the plot, to which it is passed on

    def __init__(self, box: Any, parent: QObject) -> None:
        super().__init__(parent)
        self._failing = pg.ScatterPlotItem(pxMode=True, symbol="s", size=_SIZE)
        self._passing = pg.ScatterPlotItem(pxMode=True, symbol="o", size=_SIZE)
        for item in (self._failing, self._passing):  # passing ones on top
            box.addItem(item)
            item.sigClicked.connect(self._on_clicked)

    def dress(self, shown: Theme) -> None:
        """Take the colours of a theme."""
        self._failing.setPen(pg.mkPen(shown.muted, width=1.5))
        self._failing.setBrush(pg.mkBrush(shown.base))
        self._passing.setPen(pg.mkPen(shown.good, width=1))
        self._passing.setBrush(pg.mkBrush(shown.good))

    def show_tanks(
        self, candidates: np.ndarray, x: FloatArray, y: FloatArray, passes: np.ndarray
    ) -> None:
        """Mark each candidate at its place, in the plot's units; the arrays are of one length."""
        for item, mask in ((self._failing, ~passes), (self._passing, passes)):
            item.setData(x[mask], y[mask], data=candidates[mask])

    def clear(self) -> None:
        """Mark nothing."""
        self._failing.clear()
        self._passing.clear()

    def points(self) -> np.ndarray:
        """What is drawn, as pyqtgraph's ``SpotItem``s; their ``data()`` are candidates."""
        return np.concatenate((self._failing.points(), self._passing.points()))

    def _on_clicked(self, _item: Any, points: Any) -> None:
        if len(points):
            self.picked.emit(int(points[0].data()))
