"""Drawdown against total volume: a line for each switch band, a mark for each tank.

The picture is a function of the results; it reads no widget. Hover and the arrow keys both move the
reading line, whose values stand in words above the plot and in the accessible description.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPointF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.plots.axis import Axis
from workbench.gui.plots.tank_marks import TankMarks
from workbench.gui.theme import Theme
from workbench.study.evaluate import Results
from workbench.study.lines import BandLine
from workbench.study.ranking import Ranking
from workbench.units import PRESSURE, VOLUME, Display, to_si
from workbench.words import tr

_MOST_MARKS = 4000  # more than this fall on the same pixels, and are thinned to one for each
_BEYOND = 1.03  # the lines go a little beyond the largest tank; their labels stand behind
_OVER = 1.4  # a required drawdown this far above all lines is shown; a higher one is told
_LABEL_GAP = 1.008  # of a label from the mark at the end of its line
_STEPS = 200  # of the reading line across the plot
_CHOSEN_SIZE, _LINE_MARK_SIZE = 16, 6


class DrawdownPlot(pg.PlotWidget):  # type: ignore[misc]  # pyqtgraph has no types
    """Shows ``Results``; emits ``picked(candidate)`` on a click, ``read(text)`` on reading.

    The text is empty when nothing is read any more.
    """

    picked = Signal(object)
    read = Signal(str)

    _theme: Theme | None = None  # None also while Qt calls changeEvent during construction

    def __init__(self, parent: QWidget | None = None) -> None:
        self._axes = {side: Axis(side) for side in ("left", "bottom")}
        super().__init__(parent, axisItems=self._axes, enableMenu=False)
        self._results: Results | None = None
        self._display = Display()
        self._extent = (1.0, 1.0)  # of the lines
        self._range = (1.0, 1.0)  # of the whole picture
        self._drawn: object = None  # what the lines were last drawn from
        self._cursor = 0.0
        self._ringed: int | None = None  # the chosen candidate
        self._lines: list[Any] = []
        self._labels: list[Any] = []
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(tr("Drawdown against total volume"))
        self.setMouseEnabled(x=False, y=False)
        # pyqtgraph asks for its size hint at least, more than a small screen has
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.hideButtons()
        self._plot = self.getPlotItem()
        self._box = self._plot.getViewBox()
        self._plot.showGrid(x=True, y=True, alpha=0.1)
        self._required = pg.InfiniteLine(angle=0)
        self._reading = pg.InfiniteLine(angle=90)
        self._line_marks = pg.ScatterPlotItem(pxMode=True, size=_LINE_MARK_SIZE)
        self._line_marks.setZValue(-0.5)  # between the lines and the tanks
        self._chosen = pg.ScatterPlotItem(pxMode=True)
        self._required_label = pg.TextItem(anchor=(0, 1))
        self._tanks = TankMarks(self._box, self)
        self._tanks.picked.connect(self.picked)
        # into the box: the plot keeps books on its curves, which ours need not
        for item in (
            self._line_marks, self._required, self._reading, self._chosen, self._required_label
        ):  # fmt: skip
            self._box.addItem(item)
        self._reading.hide()
        self._box.sigResized.connect(self._on_resized)
        self.scene().sigMouseMoved.connect(self._on_mouse_moved)

    def minimumSizeHint(self) -> QSize:
        """Room for the axes and a picture worth looking at, however large the type."""
        line = self.fontMetrics().height()
        return QSize(line * 16, line * 11)

    def sizeHint(self) -> QSize:
        """No more than that: a scroll area gives preferred heights, and would scroll for it."""
        return self.minimumSizeHint()

    # --- showing ---

    def show_results(self, results: Results, display: Display) -> None:
        """Draw what the results hold, in these units."""
        si = to_si(self._cursor, self._display.unit(VOLUME))
        self._results, self._display, self._cursor = results, display, display.value(si, VOLUME)
        for axis in self._axes.values():
            axis.mark = display.mark
        if self._theme is not theme.current():
            self._dress()
        self._set_extent(results)
        self._draw_lines(results)
        self._draw_tanks(results.ranking)
        self._draw_required(results)
        self._forget_reading()

    def show_chosen(self, candidate: int | None) -> None:
        """Ring the chosen candidate."""
        self._ringed = candidate
        ranking = self._results.ranking if self._results else None
        if candidate is None or ranking is None:
            self._chosen.setData([], [])
            return
        volume = self._display.value(float(ranking.candidates.volume[candidate]), VOLUME)
        water = self._display.value(float(ranking.drawdown[candidate]), VOLUME)
        self._chosen.setData([volume], [water])

    def _set_extent(self, results: Results) -> None:
        ranking = results.ranking
        volumes = ranking.candidates.volume if ranking else np.empty(0)
        widest = float(np.max(volumes)) if len(volumes) else 120 * VOLUME.units["gal"].factor
        steepest = max((line.factor for line in results.lines), default=0.4)
        required = results.sizing.required if results.sizing else 0.0
        reach = widest * _BEYOND * max(steepest, 0.05)
        tallest = max(reach, min(required, _OVER * reach)) * 1.05
        x, y = (self._display.value(v, VOLUME) for v in (widest * _BEYOND, tallest))
        y = _rounded_up(y)  # so that the axis stands still while a pressure is typed
        self._extent = (x, y)
        whole = (x * self._label_room(results.lines), y)
        if whole != self._range:
            self._range = whole
            self._box.setRange(xRange=(0, whole[0]), yRange=(0, y), padding=0)
        unit = self._display.symbol(VOLUME)
        self._axes["bottom"].show_title(tr("Total volume, {unit}", unit=unit))
        self._axes["left"].show_title(tr("Drawdown, {unit}", unit=unit))

    def _label_room(self, lines: tuple[BandLine, ...]) -> float:
        """How much wider than the lines the picture is, so that the longest label has room."""
        metrics = QFontMetrics(theme.font(bold=True))
        words = max((metrics.horizontalAdvance(self._label_of(line)) for line in lines), default=0)
        across = max(float(self.width()), 1.0)
        return 1.0 / (1.0 - min(float(words + theme.WIDE) / across, 0.4))

    def _draw_lines(self, results: Results) -> None:
        drawn = (results.lines, self._extent, self._display, self._theme, theme.font())
        if drawn == self._drawn:
            return
        self._drawn = drawn
        shown, x = theme.current(), self._extent[0]
        self._provide_lines(len(results.lines))
        self._labels = []
        spots: list[dict[str, Any]] = []
        inside = pg.mkBrush(shown.base)
        for place, line in enumerate(results.lines):
            curve = shown.curves[place % len(shown.curves)]
            # a fifth band has the first colour again, with another dash
            dash = shown.curves[(place + place // len(shown.curves)) % len(shown.curves)].dash
            width = theme.OWN_CURVE_WIDTH if line.is_users else theme.CURVE_WIDTH
            pen = pg.mkPen(curve.colour, width=width)
            if dash:
                pen.setDashPattern(list(dash))
            # the user's own line carries the tanks' marks, so its own stands at its end only
            at = np.array([0.0, x] if line.is_users else [0.0, x / 3, x * 2 / 3, x])
            look = {"symbol": curve.marker, "pen": pg.mkPen(curve.colour), "brush": inside}
            spots += [{"pos": (across, across * line.factor)} | look for across in at]
            stroke, label = self._lines[2 * place : 2 * place + 2]
            stroke.setData(at, at * line.factor, pen=pen)
            label.setText(self._label_of(line), curve.colour)
            label.setFont(theme.font(bold=line.is_users))
            self._labels.append((x * line.factor, label))
        self._line_marks.setData(spots)
        self._place_labels()

    def _provide_lines(self, count: int) -> None:
        """So many lines with their labels; those that are there are used again."""
        while len(self._lines) > 2 * count:
            self._box.removeItem(self._lines.pop())
        while len(self._lines) < 2 * count:
            stroke, label = pg.PlotCurveItem(antialias=True), pg.TextItem(anchor=(0, 0.5))
            stroke.setZValue(-1)
            for item in (stroke, label):
                self._box.addItem(item)
                self._lines.append(item)

    def _on_resized(self) -> None:
        if self._results is not None:
            self._set_extent(self._results)
        self._place_labels()

    def _place_labels(self) -> None:
        """Each label behind the end of its line, moved up where it would lie on the one below."""
        x, y = self._extent
        gap = y * self.fontMetrics().height() / max(self._box.height(), 1.0)
        lowest = 0.0
        for height, label in sorted(self._labels, key=_height):
            lowest = max(height, lowest)
            label.setPos(x * _LABEL_GAP, lowest)
            lowest += gap

    def _label_of(self, line: BandLine) -> str:
        name = self._name_of(line)
        return tr("{name} yours", name=name) if line.is_users else name

    def _name_of(self, line: BandLine) -> str:
        """The band as it was typed; with its unit where that is not the shown one."""
        same = line.unit == self._display.symbol(PRESSURE)
        return line.name if same else f"{line.name} {line.unit}".strip()

    def _draw_tanks(self, ranking: Ranking | None) -> None:
        if ranking is None:
            self._tanks.clear()
            self._chosen.clear()
            return
        volume = self._display.value(ranking.candidates.volume, VOLUME)
        water = self._display.value(ranking.drawdown, VOLUME)
        passes = ranking.fails == 0
        shown = np.arange(len(volume))
        if len(shown) > _MOST_MARKS:
            shown = self._one_per_pixel(volume, water, passes)
        self._tanks.show_tanks(shown, volume[shown], water[shown], passes[shown])

    def _one_per_pixel(
        self, volume: np.ndarray, water: np.ndarray, passes: np.ndarray
    ) -> np.ndarray:
        """Marks that would be drawn over each other in the same state, once each."""
        across, up = max(self._box.width(), 1.0), max(self._box.height(), 1.0)
        column = (volume / self._extent[0] * across).astype(np.int64)
        row = (water / self._extent[1] * up).astype(np.int64)
        key = (column * 20_000 + row) * 2 + passes
        return np.asarray(np.unique(key, return_index=True)[1])

    def _draw_required(self, results: Results) -> None:
        sizing = results.sizing
        for item in (self._required, self._required_label):
            item.setVisible(sizing is not None)
        if sizing is None:
            return
        height = self._display.value(sizing.required, VOLUME)
        self._required.setValue(height)
        top = self._extent[1]
        water = self._display.text(sizing.required, VOLUME)
        inside = tr("required {water}", water=water)
        beyond = tr("required {water}, above this picture", water=water)
        self._required_label.setText(inside if height <= top else beyond)
        self._required_label.setAnchor((0, 1) if height < top * 0.9 else (0, 0))
        self._required_label.setPos(self._extent[0] * 0.005, min(height, top))

    # --- theme ---

    def changeEvent(self, event: QEvent) -> None:
        """Take the colours of the theme that is shown now."""
        super().changeEvent(event)
        changes = (QEvent.Type.PaletteChange, QEvent.Type.FontChange)
        if self._theme is not None and event.type() in changes:
            self._dress()
            if self._results is not None:
                self.show_results(self._results, self._display)

    def _dress(self) -> None:
        shown = self._theme = theme.current()
        self.setBackground(shown.base)
        for axis in self._axes.values():
            axis.dress(shown, theme.font())
        self._tanks.dress(shown)
        self._required.setPen(pg.mkPen(shown.text, width=theme.CURVE_WIDTH))
        self._required_label.setColor(shown.text)
        self._required_label.setFont(theme.font(bold=True))
        self._reading.setPen(pg.mkPen(shown.axis, width=1))
        self._chosen.setPen(pg.mkPen(shown.accent, width=3))
        self._chosen.setBrush(pg.mkBrush(None))
        self._chosen.setSize(_CHOSEN_SIZE)

    # --- reading ---

    def _on_mouse_moved(self, position: QPointF) -> None:
        if self._results is None or not self._plot.sceneBoundingRect().contains(position):
            return
        x = self._box.mapSceneToView(position).x()
        if 0.0 <= x <= self._extent[0]:
            self._read_at(x)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right read the lines; Home and End go to the ends; Up and Down go by tanks."""
        step = self._extent[0] / _STEPS
        big = step * 10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else step
        moves: dict[int, float] = {
            Qt.Key.Key_Left: self._cursor - big,
            Qt.Key.Key_Right: self._cursor + big,
            Qt.Key.Key_Home: 0.0,
            Qt.Key.Key_End: self._extent[0],
        }
        if event.key() in moves:
            self._read_at(float(np.clip(moves[event.key()], 0.0, self._extent[0])))
        elif event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._step_tank(1 if event.key() == Qt.Key.Key_Up else -1)
        else:
            super().keyPressEvent(event)

    def _step_tank(self, direction: int) -> None:
        """Choose the next larger or smaller tank, equally large ones in turn."""
        ranking = self._results.ranking if self._results else None
        if ranking is None:
            return
        volumes = self._display.value(ranking.candidates.volume, VOLUME)
        by_size = np.argsort(volumes, kind="stable")
        if self._ringed is not None and volumes[self._ringed] == self._cursor:
            place = int(np.flatnonzero(by_size == self._ringed)[0]) + direction
        elif direction > 0:
            place = int(np.searchsorted(volumes[by_size], self._cursor, side="right"))
        else:
            place = int(np.searchsorted(volumes[by_size], self._cursor)) - 1
        if 0 <= place < len(by_size):
            candidate = int(by_size[place])
            self._read_at(float(volumes[candidate]))
            self.picked.emit(candidate)

    def _forget_reading(self) -> None:
        """What was read belongs to results that are no longer shown."""
        self._cursor = min(self._cursor, self._extent[0])
        self._reading.hide()
        self.setAccessibleDescription("")
        self.read.emit("")

    def _read_at(self, x: float) -> None:
        if self._results is None:
            return
        self._cursor = x
        self._reading.setValue(x)
        self._reading.show()
        volume = to_si(x, self._display.unit(VOLUME))
        values = "   ".join(
            tr("{name}: {water}", name=self._name_of(line),
               water=self._display.text(volume * line.factor, VOLUME))
            for line in self._results.lines
        )  # fmt: skip
        text = tr("At {volume} — {values}", volume=self._display.text(volume, VOLUME),
                  values=values)  # fmt: skip
        self.setAccessibleDescription(text)
        self.read.emit(text)


def _rounded_up(value: float) -> float:
    """The next multiple of a half, or beyond 5 of a whole, of the leading digit's place."""
    place = 10.0 ** math.floor(math.log10(value))
    step = place if value > 5.0 * place else place / 2.0
    return math.ceil(value / step) * step


def _height(label: tuple[float, Any]) -> float:
    return label[0]
