"""Drawdown over the precharge: three regions, the recommended precharge, and one's own."""

from __future__ import annotations

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QBrush, QColor
from PySide6.QtWidgets import QGraphicsRectItem, QWidget

from workbench.gui import theme
from workbench.gui.plots.reading_plot import MARK_SIZE, ReadingPlot, pen_of
from workbench.gui.theme import Theme
from workbench.study.bands.words import water
from workbench.study.shift.view import AtCharge, Region, Shift
from workbench.study.shift.words import reading, region_name
from workbench.units import PRESSURE, VOLUME, Display, to_si
from workbench.words import tr

_ROWS = 4.2  # lines of text above the highest point: names of regions, labels of marks
_MOST_FOR_ROWS = 0.5  # of the height
_LEFT_AT = (0.62, 0.74, 0.5, 0.4, 0.3, 0.2)  # of the height: where the second curve may be named
_WIDEST = 0.5  # of the width: a longer label is shortened
_TRIES = 6  # half lines by which a mark's label moves up to find room
_PATTERNS = {
    Region.UNDER: Qt.BrushStyle.BDiagPattern,
    Region.RIGHT: Qt.BrushStyle.NoBrush,
    Region.OVER: Qt.BrushStyle.DiagCrossPattern,
}


class ShiftPlot(ReadingPlot):
    """Shows a :class:`Shift`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(tr("Drawdown over the precharge"), parent)
        self._shift: Shift | None = None
        self._shades = {region: self._new_shade() for region in _PATTERNS}
        self._switch = [pg.InfiniteLine(angle=90) for _ in range(2)]
        self._own_line = pg.InfiniteLine(angle=90)
        for line in (*self._switch, self._own_line):
            self.box.addItem(line)
        self._left = self.add_curve("left at cut-in")
        self._curve = self.add_curve("drawdown")
        self._right = self.add_marks("recommended", "o")
        self._own = self.add_marks("own", "s")

    def _new_shade(self) -> QGraphicsRectItem:
        item = QGraphicsRectItem()
        item.setZValue(-1)
        self.box.addItem(item)
        return item

    def show_shift(self, shift: Shift, display: Display) -> None:
        """Draw a tank in these units."""
        self._shift, self.display = shift, display
        self.redraw()

    def shaded(self) -> dict[Region, tuple[float, float]]:
        """From where to where each region is shaded now, in the shown unit."""
        rects = {region: item.rect() for region, item in self._shades.items() if item.isVisible()}
        return {region: (rect.left(), rect.right()) for region, rect in rects.items()}

    def draw(self, shown: Theme) -> None:
        """Draw regions, curves, the switch's pressures and the marks."""
        shift = self._shift
        if shift is None:
            return
        self._set_extent(shift)
        self._draw_regions(shift, shown)
        x = self.display.value(shift.over, PRESSURE)
        drawdown = self.display.value(shift.curve, VOLUME)
        self._curve.setData(x, drawdown, pen=pen_of(shown.curves[0], theme.OWN_CURVE_WIDTH))
        left = self.display.value(shift.left, VOLUME)
        self._left.setData(x, left, pen=pen_of(shown.curves[1], theme.CURVE_WIDTH))
        self._draw_switch(shift, shown)
        self._draw_marks(shift, shown)
        self._name_left(shift, shown)

    def _set_extent(self, shift: Shift) -> None:
        lines = _ROWS * self.fontMetrics().height() * 1.1
        above = min(lines / max(float(self.box.height()), 1.0), _MOST_FOR_ROWS)
        highest = max(float(shift.curve.max()), 1e-9)
        y = float(self.display.value(highest, VOLUME)) / (1.0 - above)
        self.set_extent(float(self.display.value(shift.over[-1], PRESSURE)), y)
        unit = self.display.symbol(PRESSURE)
        self.axes["bottom"].show_title(tr("Precharge with the tank drained, {unit}", unit=unit))
        self.axes["left"].show_title(tr("Water, {unit}", unit=self.display.symbol(VOLUME)))

    # --- regions and switch ---

    def _draw_regions(self, shift: Shift, shown: Theme) -> None:
        bounds = (0.0, shift.lowest_right, shift.setting.cut_in, float(shift.over[-1]))
        x = [float(self.display.value(bound, PRESSURE)) for bound in bounds]
        for place, region in enumerate(_PATTERNS):
            low, high = x[place], x[place + 1]
            item = self._shades[region]
            item.setVisible(high > low)
            item.setRect(QRectF(low, 0.0, high - low, self.extent[1]))
            item.setPen(pg.mkPen(None))
            item.setBrush(self._brush(region, shown))
            if high > low:
                self._name_region(region, 0.5 * (low + high), shown)

    def _name_region(self, region: Region, middle: float, shown: Theme) -> None:
        """Over its part, a line lower where a neighbour's name reaches so far."""
        text, anchor = region_name(region), (0.5, 0.0)
        colour = shown.good if region is Region.RIGHT else shown.caution
        width, top = self.width_of_text(text, bold=True), self.extent[1]
        if not self._is_clear(middle, top, anchor, width):
            top -= self.height_of_line()
        self.add_label(text, (middle, top), colour, anchor, bold=True, fill=shown.base)

    def _brush(self, region: Region, shown: Theme) -> QBrush:
        """Hatched one way below, crossed above, plain where a precharge is right."""
        brush = QBrush(QColor(shown.grid), _PATTERNS[region])
        scale = self.box.viewPixelSize()
        brush.setTransform(brush.transform().scale(*map(float, scale)))
        return brush

    def _draw_switch(self, shift: Shift, shown: Theme) -> None:
        pen = pg.mkPen(shown.axis, width=1)
        pen.setStyle(Qt.PenStyle.DashLine)
        names = (tr("cut-in"), tr("cut-out"))
        for line, name, pressure in zip(
            self._switch, names, (shift.setting.cut_in, shift.setting.cut_out), strict=True
        ):
            place = float(self.display.value(pressure, PRESSURE))
            line.setPen(pen)
            line.setValue(place)
            foot = 0.3 * self.height_of_line()
            for text in (f"{name} {self.display.number(pressure, PRESSURE)}", name):
                width = self.width_of_text(text)
                if width <= 0.85 * self._room_right_of(pressure, shift):
                    self.add_label(text, (place, foot), shown.muted, fill=shown.base)
                    break

    def _room_right_of(self, pressure: float, shift: Shift) -> float:
        """Until the switch's next pressure, or the end of the picture."""
        cut_in, cut_out = (
            float(self.display.value(one, PRESSURE))
            for one in (shift.setting.cut_in, shift.setting.cut_out)
        )
        if pressure == shift.setting.cut_in:
            return cut_out - cut_in
        return self.extent[0] - cut_out

    # --- marks ---

    def _draw_marks(self, shift: Shift, shown: Theme) -> None:
        right, own = shift.recommended, shift.today
        ink = {"pen": pg.mkPen(shown.text, width=1.5), "size": 1.3 * MARK_SIZE}
        x, y = self._place(right)
        self._right.setData([x], [y], brush=pg.mkBrush(shown.text), **ink)
        x, y = self._place(own)
        inside = x <= self.extent[0]
        apart = not shift.is_recommended
        self._own.setVisible(inside and apart)
        self._own_line.setVisible(inside)
        self._own_line.setPen(pg.mkPen(shown.text, width=theme.OWN_CURVE_WIDTH))
        self._own_line.setValue(x)
        self._own.setData([x], [y], brush=pg.mkBrush(shown.base), **ink)
        told = tr("recommended") if apart else tr("yours, as recommended")
        self._tell_mark(told, right, shown)
        if apart and inside:
            self._tell_mark(tr("yours"), own, shown)
        elif apart:
            text = tr("yours, {charge}: beyond this picture",
                      charge=self.display.text(own.precharge, PRESSURE))  # fmt: skip
            at = (self.extent[0], self.extent[1] - 1.5 * self.height_of_line())
            self.add_label(text, at, shown.text, (1.0, 0.0), bold=True, fill=shown.base)

    def _tell_mark(self, name: str, at: AtCharge, shown: Theme) -> None:
        """A mark's name and figures above the curve, on its outer side, clear of other labels."""
        charge = self.display.text(at.precharge, PRESSURE)
        gives = water(at.drawdown, self.display)
        text = tr("{name} {charge}: {water}", name=name, charge=charge, water=gives)
        if self.width_of_text(text, bold=True) > _WIDEST * self.extent[0]:
            text = tr("{name}: {water}", name=name, water=gives)
        assert self._shift is not None  # noqa: S101 - told while it is drawn
        rises = at.region is Region.UNDER  # the curve does, to the right of the mark
        x, y = self._place(at)
        side = -1.0 if rises else 1.0
        x += side * self.extent[0] * 0.008
        if at.region is Region.RIGHT:  # above the curve's peak
            y = max(y, self._place(self._shift.greatest)[1])
        line, anchor = self.height_of_line(), (1.0 if rises else 0.0, 1.0)
        width = self.width_of_text(text, bold=True)
        heights = [y + (0.4 + 0.5 * step) * line for step in range(_TRIES)]
        clear = (height for height in heights if self._is_clear(x, height, anchor, width))
        place = (x, next(clear, heights[0]))
        self.add_label(text, place, shown.text, anchor, bold=True, fill=shown.base)

    def _name_left(self, shift: Shift, shown: Theme) -> None:
        """The second curve's name, left of it where it falls; none where no water stays."""
        left = self.display.value(shift.left, VOLUME)
        if not left.max() > 0.0:
            return
        text, anchor = tr("left in the tank at cut-in"), (1.0, 0.5)
        width = self.width_of_text(text)
        if width > _WIDEST * self.extent[0]:  # what stands above the picture names it too
            return
        spots = []
        for share in _LEFT_AT:
            falls = np.flatnonzero(left >= min(share * self.extent[1], 0.9 * float(left.max())))
            x = float(self.display.value(float(shift.over[falls[-1]]), PRESSURE))
            spots.append((x - 0.01 * self.extent[0], float(left[falls[-1]])))
        clear = (spot for spot in spots if self._is_clear(*spot, anchor, width))
        place = next(clear, spots[0])
        self.add_label(text, place, shown.curves[1].colour, anchor, fill=shown.base)

    def _place(self, at: AtCharge) -> tuple[float, float]:
        return (
            float(self.display.value(at.precharge, PRESSURE)),
            float(self.display.value(at.drawdown, VOLUME)),
        )

    def told_at(self, x: float) -> str:
        """Drawdown, water left, starts and gap at a precharge."""
        if self._shift is None:
            return ""
        precharge = to_si(x, self.display.unit(PRESSURE))
        return reading(self._shift.at(precharge), self.display)
