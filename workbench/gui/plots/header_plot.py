"""Water over pressure: in all tanks, in each, and in the same tanks charged otherwise."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QWidget

from workbench.gui import theme
from workbench.gui.plots.reading_plot import MARK_SIZE, ReadingPlot, pen_of
from workbench.gui.theme import Curve, Theme
from workbench.physics.air import FloatArray
from workbench.units import PRESSURE, VOLUME, Display, to_si
from workbench.words import tr

_ROWS = 3  # in which the names of the pressures stand, above the highest line
_LABEL_GAP = 1.01
_MOST_FOR_LABELS, _MOST_FOR_NAMES = 0.4, 0.6  # of width and height
_MARKS = 6  # on each tank's line


@dataclass(frozen=True, eq=False)
class WaterLine:
    """Water (m,) [m³] at the picture's pressures; ``own`` is the one that the page is about."""

    name: str
    water: FloatArray
    own: bool = False


@dataclass(frozen=True, slots=True)
class Place:
    """A gauge pressure [Pa] worth marking, with its name."""

    name: str
    pressure: float


class HeaderPlot(ReadingPlot):
    """Shows lines over gauge pressure from zero, and upright lines at named pressures."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, parent)
        self._pressure: FloatArray = np.empty(0)
        self._shown: tuple[WaterLine, ...] = ()
        self._places: tuple[Place, ...] = ()
        self._drawn: list[Any] = []

    def show_water(
        self,
        pressure: FloatArray,
        lines: tuple[WaterLine, ...],
        places: tuple[Place, ...],
        display: Display,
    ) -> None:
        """Draw these lines over gauge pressures (m,) [Pa], rising from 0, in these units."""
        self._pressure, self._shown, self._places = pressure, lines, places
        self.display = display
        self.redraw()

    def draw(self, shown: Theme) -> None:
        """Draw lines and named pressures."""
        for item in self._drawn:
            self.box.removeItem(item)
        self._drawn.clear()
        if not self._shown:
            return
        self._set_extent()
        for number, line in enumerate(self._shown):
            self._draw_line(line, _look(shown, number))
        self._draw_places(shown)
        self._name_lines(shown)

    def _set_extent(self) -> None:
        metrics = QFontMetrics(theme.font(bold=True))
        words = max(metrics.horizontalAdvance(line.name) for line in self._shown)
        room = min((words + theme.WIDE) / max(float(self.box.width()), 1.0), _MOST_FOR_LABELS)
        highest = max(float(np.max(line.water)) for line in self._shown)
        x = float(self.display.value(self._pressure[-1], PRESSURE))
        y = float(self.display.value(highest, VOLUME)) or 1.0
        rows = (min(len(self._places), _ROWS) + 0.5) * self.fontMetrics().height() * 1.1
        names = min(rows / max(float(self.box.height()), 1.0), _MOST_FOR_NAMES)
        self.set_extent(x / (1.0 - room), y / (1.0 - names))
        pressure, volume = self.display.symbol(PRESSURE), self.display.symbol(VOLUME)
        self.axes["bottom"].show_title(tr("Gauge pressure, {unit}", unit=pressure))
        self.axes["left"].show_title(tr("Water in the tanks, {unit}", unit=volume))

    def _draw_line(self, line: WaterLine, look: Curve) -> None:
        x = self.display.value(self._pressure, PRESSURE)
        y = self.display.value(line.water, VOLUME)
        width = theme.OWN_CURVE_WIDTH if line.own else theme.CURVE_WIDTH
        stroke = pg.PlotCurveItem(x, y, pen=pen_of(look, width), name=line.name, antialias=True)
        self._add(stroke)
        if not line.own:
            wet = np.flatnonzero(line.water > 0.0)  # where it is dry, lines lie on each other
            some = (
                wet[np.linspace(0, len(wet) - 1, _MARKS).round().astype(int)] if len(wet) else wet
            )
            marks = pg.ScatterPlotItem(
                x[some],
                y[some],
                symbol=look.marker,
                size=MARK_SIZE * 2 // 3,
                pen=pg.mkPen(look.colour),
                brush=pg.mkBrush(theme.current().base),
            )
            self._add(marks)

    def _draw_places(self, shown: Theme) -> None:
        top, line = self.extent[1], self.height_of_line()
        pen = pg.mkPen(shown.axis, width=theme.CURVE_WIDTH)
        pen.setStyle(Qt.PenStyle.DashLine)
        ordered = sorted(self._places, key=_pressure_of)
        for number, place in enumerate(ordered):
            x = float(self.display.value(place.pressure, PRESSURE))
            self._add(pg.InfiniteLine(x, angle=90, pen=pen))
            text = self._name_of(place)
            # Each a line lower than the one before it, so that near ones keep apart.
            at = top - number % _ROWS * line
            width = QFontMetrics(theme.font()).horizontalAdvance(text) + theme.CLOSE
            fits = x / self.extent[0] * max(float(self.box.width()), 1.0) > width
            label = self.add_label(text, (x, at), shown.text, (1.0 if fits else 0.0, 0.0))
            label.fill = pg.mkBrush(shown.base)  # it may lie across the upright line before it

    def _name_of(self, place: Place) -> str:
        pressure = self.display.text(place.pressure, PRESSURE)
        return tr("{name} {pressure}", name=place.name, pressure=pressure)

    def _name_lines(self, shown: Theme) -> None:
        """Each name behind the end of its line, moved where it would lie on the one below."""
        gap = self.height_of_line()
        x = float(self.display.value(self._pressure[-1], PRESSURE)) * _LABEL_GAP
        ends = [(float(self.display.value(line.water[-1], VOLUME)), number, line)
                for number, line in enumerate(self._shown)]  # fmt: skip
        lowest = gap / 2.0
        for height, number, line in sorted(ends, key=_end_of):
            lowest = max(height, lowest)
            colour = _look(shown, number).colour
            self.add_label(line.name, (x, lowest), colour, (0.0, 0.5), bold=line.own)
            lowest += gap

    def _add(self, item: Any) -> None:
        self.box.addItem(item)
        self._drawn.append(item)

    # --- reading ---

    def lines(self) -> dict[str, tuple[FloatArray, FloatArray]]:
        """What is drawn, in the shown units, by the lines' names."""
        curves = [item for item in self._drawn if isinstance(item, pg.PlotCurveItem)]
        return {curve.name(): curve.getData() for curve in curves}

    def places(self) -> list[float]:
        """Where upright lines stand, in the shown unit."""
        upright = [item for item in self._drawn if isinstance(item, pg.InfiniteLine)]
        return [float(line.value()) for line in upright]

    def told_at(self, x: float) -> str:
        """The water of each line at the picture's nearest pressure, so that none is guessed."""
        if not self._shown:
            return ""
        at = int(np.argmin(np.abs(self._pressure - to_si(x, self.display.unit(PRESSURE)))))
        values = "   ".join(
            tr("{name}: {water}", name=line.name,
               water=self.display.text(float(line.water[at]), VOLUME))
            for line in self._shown
        )  # fmt: skip
        pressure = self.display.text(float(self._pressure[at]), PRESSURE)
        return tr("At {pressure} — {values}", pressure=pressure, values=values)


def _look(shown: Theme, number: int) -> Curve:
    """A colour, dash and marker for a line; a fifth has the first colour with another dash."""
    many = len(shown.curves)
    curve, other = shown.curves[number % many], shown.curves[(number + number // many) % many]
    return Curve(curve.colour, other.dash, curve.marker)


def _pressure_of(place: Place) -> float:
    return place.pressure


def _end_of(end: tuple[float, int, WaterLine]) -> tuple[float, int]:
    return end[:2]
