"""A plot that can be read at any place: by the pointer, or by the arrow keys as by an ear.

A subclass draws in :meth:`ReadingPlot.draw` and tells in :meth:`ReadingPlot.told_at` what stands at
a place. All else that such plots share is here: axes with the reader's decimal mark, the theme's
colours, the reading line, labels that stand beside what they name.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.plots.axis import Axis
from workbench.gui.theme import Curve, Theme
from workbench.units import Display

_STEPS = 200  # of the reading line across the plot
_USUAL_HEIGHT = 290
_HALF_LINES = 8  # by which a mark's label moves down, half a line each, to find room
_MARGIN = theme.CLOSE / 2  # around a label
MARK_SIZE = 11


class ReadingPlot(pg.PlotWidget):  # type: ignore[misc]  # pyqtgraph has no types
    """Emits ``read(text)`` on reading; the text is empty when nothing is read any more."""

    read = Signal(str)

    _theme: Theme | None = None  # None also while Qt calls changeEvent during construction

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        self.axes = {side: Axis(side) for side in ("left", "bottom")}
        super().__init__(parent, axisItems=self.axes, enableMenu=False)
        self.display = Display()
        self.extent = (1.0, 1.0)  # of the picture, in shown units; it begins at zero
        self._cursor = 0.0
        self._labels: list[Any] = []  # that stand in the picture
        self._every_label: list[Any] = []  # with those that are hidden until they are needed
        self._taken: list[QRectF] = []  # by labels, in shown units
        self._has_drawn = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(name)
        self.setMouseEnabled(x=False, y=False)
        # pyqtgraph asks for its size hint at least, more than a small screen has
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.hideButtons()
        self.plot_item = self.getPlotItem()
        self.box = self.plot_item.getViewBox()
        self.plot_item.showGrid(x=True, y=True, alpha=0.1)
        self._reading = pg.InfiniteLine(angle=90)
        self._reading.hide()
        self.box.addItem(self._reading)
        self.box.sigResized.connect(self._on_resized)
        self.scene().sigMouseMoved.connect(self._on_mouse_moved)

    # --- to override ---

    def draw(self, shown: Theme) -> None:
        """Draw what there is, in ``self.display``'s units and the theme's colours."""
        raise NotImplementedError

    def told_at(self, x: float) -> str:
        """What stands at ``x``, in the shown unit of the axis, in words."""
        raise NotImplementedError

    # --- for drawing ---

    def redraw(self) -> None:
        """Draw anew, and forget what was read: it belongs to what is no longer shown."""
        self._has_drawn = True
        for axis in self.axes.values():
            axis.mark = self.display.mark
        if self._theme is not theme.current():
            self._dress()
        self._labels.clear()
        self._taken.clear()
        self.draw(theme.current())
        for label in self._every_label[len(self._labels) :]:
            label.hide()
        self._forget_reading()

    def set_extent(self, x: float, y: float) -> None:
        """Show from zero to these."""
        if (x, y) != self.extent:
            self.extent = (x, y)
            self.box.setRange(xRange=(0, x), yRange=(0, y), padding=0)

    def add_curve(self, name: str) -> Any:
        """A curve, drawn with :func:`pen_of`."""
        curve = pg.PlotCurveItem(name=name, antialias=True)
        self.plot_item.addItem(curve)
        return curve

    def add_marks(self, name: str, symbol: str) -> Any:
        """Marks of one kind, above the curves."""
        marks = pg.ScatterPlotItem(name=name, pxMode=True, size=MARK_SIZE, symbol=symbol)
        marks.setZValue(1)
        self.plot_item.addItem(marks)
        return marks

    def add_label(
        self,
        text: str,
        place: tuple[float, float],
        colour: str,
        anchor: tuple[float, float] = (0.0, 1.0),
        *,
        bold: bool = False,
        fill: str | None = None,
    ) -> Any:
        """A text beside what it names; ``anchor`` is its corner (0, 0 top left) at the place."""
        width = self.width_of_text(text, bold=bold)
        x = self._inside(place[0], anchor[0], width)
        self._taken.append(self._rect(x, place[1], anchor, width))
        return self.write(text, (x, place[1]), colour, anchor, bold=bold, fill=fill)

    def write(
        self,
        text: str,
        place: tuple[float, float],
        colour: str,
        anchor: tuple[float, float],
        *,
        bold: bool = False,
        margin: float = _MARGIN,
        fill: str | None = None,
    ) -> Any:
        """A text at just this place, with so many pixels around it, on a ground of its own."""
        if len(self._labels) == len(self._every_label):
            self._every_label.append(self._new_label())
        label = self._every_label[len(self._labels)]
        label.textItem.document().setDocumentMargin(margin)
        label.setFont(theme.font(bold=bold))
        label.setText(text, colour)
        label.setAnchor(anchor)
        label.fill = pg.mkBrush(fill)
        label.setPos(*place)
        label.show()
        self._labels.append(label)
        return label

    def _new_label(self) -> Any:
        """A label to be used again and again: Qt may be at work on it whenever one draws anew."""
        label = pg.TextItem()
        label.setZValue(2)
        self.box.addItem(label)
        return label

    def add_stack(self, labels: Iterable[tuple[float, str, str, bool]]) -> None:
        """Labels (height, text, colour, bold) at the left, each above its line and the one below.

        Where the topmost would leave the picture, all move down as far as they must.
        """
        gap = self.height_of_line()
        placed: list[tuple[float, str, str, bool]] = []
        lowest = 0.0
        for height, text, colour, bold in sorted(labels):
            lowest = max(height, lowest)
            placed.append((lowest, text, colour, bold))
            lowest += gap
        highest = self.extent[1] - gap
        for height, text, colour, bold in reversed(placed):
            at = min(height, highest)
            self.add_label(text, (self.extent[0] * 0.005, at), colour, bold=bold)
            highest = at - gap

    def point_label(self, text: str, place: tuple[float, float], colour: str) -> None:
        """A label left of a mark and below it, or above it at the foot; clear of other labels."""
        x, y = place[0] - self.extent[0] * 0.008, place[1]
        line = self.height_of_line()
        below = y > 1.6 * line
        anchor = (1.0, 0.0 if below else 1.0)
        width = self.width_of_text(text, bold=True)
        tries = [y - (0.2 + 0.5 * step) * line for step in range(_HALF_LINES)] if below else []
        clear = (at for at in tries if at > line and self._is_clear(x, at, anchor, width))
        at = next(clear, y - 0.2 * line if below else y + 0.2 * line)
        self.add_label(text, (x, at), colour, anchor, bold=True)

    def _is_clear(self, x: float, y: float, anchor: tuple[float, float], width: float) -> bool:
        rect = self._rect(self._inside(x, anchor[0], width), y, anchor, width)
        return not any(rect.intersects(taken) for taken in self._taken)

    def _rect(self, x: float, y: float, anchor: tuple[float, float], width: float) -> QRectF:
        """Where a label lies; its anchor counts from the top, the left axis from the foot."""
        line = self.height_of_line()
        return QRectF(x - anchor[0] * width, y - (1.0 - anchor[1]) * line, width, line)

    def _inside(self, x: float, anchor: float, width: float) -> float:
        """The place nearest to ``x`` at which a text of this width is not cut off."""
        low, high = anchor * width, self.extent[0] - (1.0 - anchor) * width
        return max(low, min(x, high))

    def width_of_text(self, text: str, *, bold: bool = False) -> float:
        """The width of a label in the unit of the bottom axis."""
        pixels = QFontMetrics(theme.font(bold=bold)).horizontalAdvance(text) + theme.CLOSE
        return self.extent[0] * pixels / max(float(self.box.width()), 1.0)

    def height_of_line(self) -> float:
        """The height of a line of text, in the unit of the left axis."""
        pixels = QFontMetrics(theme.font()).height() * 1.1
        return self.extent[1] * pixels / max(float(self.box.height()), 1.0)

    def texts(self) -> list[str]:
        """The labels that stand in the picture."""
        return [label.toPlainText() for label in self._labels]

    # --- size and theme ---

    def minimumSizeHint(self) -> QSize:
        """Room for the axes and a picture worth looking at, however large the type."""
        line = self.fontMetrics().height()
        return QSize(line * 12, line * 12)

    def sizeHint(self) -> QSize:
        """Little more than that: a scroll area gives preferred heights, and would scroll for it."""
        least = self.minimumSizeHint()
        return least.expandedTo(QSize(least.width(), _USUAL_HEIGHT))

    def changeEvent(self, event: QEvent) -> None:
        """Take the colours of the theme that is shown now."""
        super().changeEvent(event)
        changes = (QEvent.Type.PaletteChange, QEvent.Type.FontChange)
        if self._theme is not None and event.type() in changes:
            self._dress()
            if self._has_drawn:
                self.redraw()

    def _dress(self) -> None:
        shown = self._theme = theme.current()
        self.setBackground(shown.base)
        for axis in self.axes.values():
            axis.dress(shown, theme.font())
        self._reading.setPen(pg.mkPen(shown.axis, width=1))

    def _on_resized(self) -> None:
        if self._has_drawn:
            self.redraw()  # labels keep their distance in lines of text

    # --- reading ---

    def _on_mouse_moved(self, position: QPointF) -> None:
        if not self._has_drawn or not self.plot_item.sceneBoundingRect().contains(position):
            return
        x = self.box.mapSceneToView(position).x()
        if 0.0 <= x <= self.extent[0]:
            self.read_at(x)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right read, with Shift in larger steps; Home and End go to the ends."""
        step = self.extent[0] / _STEPS
        big = step * 10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else step
        moves: dict[int, float] = {
            Qt.Key.Key_Left: self._cursor - big,
            Qt.Key.Key_Right: self._cursor + big,
            Qt.Key.Key_Home: 0.0,
            Qt.Key.Key_End: self.extent[0],
        }
        if event.key() in moves:
            self.read_at(float(np.clip(moves[event.key()], 0.0, self.extent[0])))
        else:
            super().keyPressEvent(event)

    def _forget_reading(self) -> None:
        self._cursor = min(self._cursor, self.extent[0])
        self._reading.hide()
        self.tell("")

    def read_at(self, x: float) -> None:
        """Move the reading line to ``x`` and tell what stands there."""
        self._cursor = x
        self._reading.setValue(x)
        self._reading.show()
        self.tell(self.told_at(x))

    def tell(self, text: str) -> None:
        """Say what is read, to the eye and to the ear."""
        self.setAccessibleDescription(text)
        self.read.emit(text)


def pen_of(curve: Curve, width: float) -> Any:
    """The pen of one of the theme's curves."""
    pen = pg.mkPen(curve.colour, width=width)
    if curve.dash:
        pen.setDashPattern(list(curve.dash))
    return pen
