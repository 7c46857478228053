"""The pressure over a day, with the pump's runs beneath and what the house draws at the bottom.

One tank, or two one above the other with one time axis. The view is narrowed by wheel, drag and
keys; the reading line stands in all panels at the same moment, and is told in words.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPointF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QMouseEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.plots.axis import Axis
from workbench.gui.plots.day_panels import DrawsPanel, TankPanel
from workbench.gui.plots.time_axis import clock
from workbench.gui.theme import Theme
from workbench.study.day.simulated import DayView
from workbench.units import FLOW, PRESSURE, Display
from workbench.words import tr

HOURS = 24.0
NARROWEST = 1 / 30  # h
_ZOOM = 0.5  # of a key
_STEPS = 200  # of the reading line across the view
_FINE = 2.0  # h; a narrower view is read to the second
_TALL = 3  # how many times as tall as the draws a tank's panel is


class DayPlot(pg.GraphicsLayoutWidget):  # type: ignore[misc]  # pyqtgraph has no types
    """Shows a :class:`DayView`. ``read(text)``: what stands at the reading line, "" if nothing.

    ``ranged(whole)``: the view has changed, and whether it is the whole day now.
    """

    read = Signal(str)
    ranged = Signal(bool)

    _theme: Theme | None = None  # None also while Qt calls changeEvent during construction

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.display = Display()
        self.view: DayView | None = None
        self._cursor: float | None = None  # h
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(tr("Pressure over the day"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.tanks = [TankPanel(), TankPanel()]
        self.draws = DrawsPanel()
        self._panels = [*(item for tank in self.tanks for item in tank.items), self.draws.item]
        self.box = self.draws.item.getViewBox()
        for panel in self._panels[:-1]:
            panel.setXLink(self.draws.item)
        self.box.setLimits(xMin=0.0, xMax=HOURS, minXRange=NARROWEST, maxXRange=HOURS)
        self.box.setXRange(0.0, HOURS, padding=0)
        self.box.sigXRangeChanged.connect(self._on_ranged)
        self._lines = [self._reading_line(panel) for panel in self._panels]
        self._count = 0
        self._set_count(1)
        self.scene().sigMouseMoved.connect(self._on_mouse_moved)

    def _reading_line(self, panel: Any) -> Any:
        line = pg.InfiniteLine(angle=90)
        line.hide()
        panel.getViewBox().addItem(line)
        return line

    def _set_count(self, count: int) -> None:
        """Stand so many tanks one above the other, and the draws beneath."""
        if count == self._count:
            return
        self._count = count
        inner = self.ci
        inner.clear()
        inner.layout.setVerticalSpacing(0)
        inner.layout.setContentsMargins(theme.TIGHT, theme.TIGHT, theme.NEAR, theme.TIGHT)
        used = [item for tank in self.tanks[:count] for item in tank.items]
        used.append(self.draws.item)
        for row, item in enumerate(used):
            inner.addItem(item, row, 0)
            is_runs = item in [tank.runs for tank in self.tanks]
            stretch = 0 if is_runs else (1 if item is self.draws.item else _TALL)
            inner.layout.setRowStretchFactor(row, stretch)
        for row in range(len(used), len(self._panels)):
            inner.layout.setRowStretchFactor(row, 0)
        for item in self._panels:
            item.setVisible(item in used)
            if (
                item.scene() is None
            ):  # with no scene to own it, Python may delete it after its parts
                self.scene().addItem(item)
        self.updateGeometry()

    # --- showing ---

    def show_day(self, view: DayView, display: Display) -> None:
        """Draw a day in these units; another day is shown whole."""
        is_new = view is not self.view
        self.view, self.display = view, display
        self._set_count(len(view.tanks))
        if self._theme is not theme.current():
            self._dress()
        for tank, day in zip(self.tanks, view.tanks, strict=False):
            tank.draw(day, view.plan.setting, display, named=len(view.tanks) > 1)
        self.draws.draw(view, display)
        self._align()
        if is_new:
            self._forget_reading()
        elif self._cursor is not None:
            self.read_at(self._cursor)

    def _align(self) -> None:
        """Give all panels a left axis of one width, wide enough for their longest number."""
        metrics = QFontMetrics(theme.font())
        words = (tr("pump"), "100.0")
        width = max(metrics.horizontalAdvance(word) for word in words) + metrics.height() * 2
        for panel in self._panels:
            panel.getAxis("left").setWidth(width)
        for tank in self.tanks:
            tank.runs.setFixedHeight(metrics.height() * 1.25)

    # --- size and theme ---

    def minimumSizeHint(self) -> QSize:
        """Room for the axes and a picture worth looking at, however large the type."""
        line = self.fontMetrics().height()
        return QSize(line * 16, line * (8 + 9 * max(self._count, 1)))

    def sizeHint(self) -> QSize:
        """No more than that: a scroll area gives preferred heights, and would scroll for it."""
        return self.minimumSizeHint()

    def changeEvent(self, event: QEvent) -> None:
        """Take the colours of the theme that is shown now."""
        super().changeEvent(event)
        changes = (QEvent.Type.PaletteChange, QEvent.Type.FontChange)
        if self._theme is not None and event.type() in changes:
            self._dress()
            if self.view is not None:
                self.show_day(self.view, self.display)

    def _dress(self) -> None:
        shown = self._theme = theme.current()
        self.setBackground(shown.base)
        for panel in self._panels:
            for side in ("left", "bottom"):
                axis = panel.getAxis(side)
                assert isinstance(axis, Axis)  # noqa: S101 - so they are made
                axis.dress(shown, theme.font())
        for tank in self.tanks:
            tank.dress(shown)
        self.draws.dress(shown)
        for line in self._lines:
            line.setPen(pg.mkPen(shown.text, width=1))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the labels in place."""
        super().resizeEvent(event)
        if self._theme is not None:
            self._align()

    # --- the view ---

    @property
    def shown_hours(self) -> tuple[float, float]:
        """From when to when the view reaches [h]."""
        low, high = self.box.viewRange()[0]
        return float(low), float(high)

    @property
    def is_whole(self) -> bool:
        """Whether the whole day is in view."""
        low, high = self.shown_hours
        return high - low > HOURS * (1.0 - 1e-6)

    def show_whole(self) -> None:
        """Show the day from midnight to midnight."""
        self.box.setXRange(0.0, HOURS, padding=0)

    def zoom(self, factor: float) -> None:
        """Show so much of the time that is in view, about the reading line where it is in view."""
        low, high = self.shown_hours
        at = self._cursor
        centre = at if at is not None and low <= at <= high else (low + high) / 2
        width = float(np.clip((high - low) * factor, NARROWEST, HOURS))
        share = (centre - low) / (high - low)
        begin = float(np.clip(centre - share * width, 0.0, HOURS - width))
        self.box.setXRange(begin, begin + width, padding=0)

    def _on_ranged(self) -> None:
        self.ranged.emit(self.is_whole)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom; where nothing is left to zoom out of, the page scrolls."""
        if self.is_whole and event.angleDelta().y() <= 0:
            event.ignore()
            return
        super().wheelEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Show the whole day again."""
        super().mouseDoubleClickEvent(event)
        self.show_whole()

    # --- reading ---

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Plus and minus zoom, Home shows the whole day; the arrows read.

        Left and right go along the time, with Shift in larger steps; up and down go to the next
        and to the last start of the pump.
        """
        key = event.key()
        low, high = self.shown_hours
        step = (high - low) / _STEPS
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            step *= 10
        at = self._cursor if self._cursor is not None else low - step
        if key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom(_ZOOM)
        elif key in (Qt.Key.Key_Minus, Qt.Key.Key_Underscore):
            self.zoom(1 / _ZOOM)
        elif key == Qt.Key.Key_Home:
            self.show_whole()
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            self._go_to(at + (step if key == Qt.Key.Key_Right else -step))
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._go_to_start(1 if key == Qt.Key.Key_Up else -1)
        else:
            super().keyPressEvent(event)

    def _go_to(self, hour: float) -> None:
        """Read there, and move the view along where that lies beyond it."""
        hour = float(np.clip(hour, 0.0, HOURS))
        low, high = self.shown_hours
        if not low <= hour <= high:
            width = high - low
            begin = float(np.clip(hour - width / 2, 0.0, HOURS - width))
            self.box.setXRange(begin, begin + width, padding=0)
        self.read_at(hour)

    def _go_to_start(self, direction: int) -> None:
        if self.view is None:
            return
        starts = np.unique(np.concatenate([tank.run.starts for tank in self.view.tanks])) / 3600.0
        at = -1.0 if self._cursor is None else self._cursor
        if direction > 0:
            place = int(np.searchsorted(starts, at + 1e-9, "right"))
        else:
            place = int(np.searchsorted(starts, at - 1e-9, "left")) - 1
        if 0 <= place < len(starts):
            self._go_to(float(starts[place]))

    def _on_mouse_moved(self, position: QPointF) -> None:
        if self.view is None:
            return
        hour = self.box.mapSceneToView(position).x()
        low, high = self.shown_hours
        if low <= hour <= high:
            self.read_at(hour)

    def _forget_reading(self) -> None:
        self._cursor = None
        for line in self._lines:
            line.hide()
        self.setAccessibleDescription("")
        self.read.emit("")

    def read_at(self, hour: float) -> None:
        """Move the reading line and tell what stands there."""
        if self.view is None:
            return
        self._cursor = hour
        for line in self._lines:
            line.setValue(hour)
            line.show()
        text = self._told_at(self.view, hour * 3600.0)
        self.setAccessibleDescription(text)
        self.read.emit(text)

    def _told_at(self, view: DayView, second: float) -> str:
        low, high = self.shown_hours
        parts = []
        for tank in view.tanks:
            state = tr("pump runs") if tank.runs_at(second) else tr("pump rests")
            pressure = self.display.text(tank.pressure_at(second), PRESSURE)
            name = f"{tank.tank.name}: " if len(view.tanks) > 1 else ""
            parts.append(f"{name}{pressure}, {state}")
        return tr(
            "At {time} — {tanks}; drawn {flow}",
            time=clock(second, fine=high - low < _FINE),
            tanks="; ".join(parts),
            flow=self.display.text(view.drawn_at(second), FLOW),
        )
