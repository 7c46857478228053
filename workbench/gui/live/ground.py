"""The ground on which trace and path are painted: axes, grid, lines for what is set."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPolygonF

from workbench.gui import theme
from workbench.gui.live.sketch import (
    LEFT,
    LINE,
    MIDDLE,
    RIGHT,
    THIN,
    pen,
    round_step,
    text_width,
    use,
    write,
)
from workbench.gui.theme import Theme
from workbench.study.live.rig import Rig
from workbench.units import PRESSURE, Display
from workbench.words import tr

_TOP = 1.2  # of cut-out
_ROUND = {"psi": 10.0, "kPa": 100.0}


@dataclass(frozen=True)
class Ground:
    """A plot's ground in a size; ``x`` and ``y`` are its ranges in shown units."""

    width: float
    height: float
    line: float
    x: tuple[float, float]
    y: tuple[float, float]
    x_title: str
    y_title: str
    mark: str

    @cached_property
    def area(self) -> QRectF:
        """Inside the axes."""
        left = text_width(f"{self.y[1]:.0f}") + 0.6 * self.line
        top, bottom = 1.3 * self.line, 2.3 * self.line
        return QRectF(left, top, self.width - left - 0.7 * self.line, self.height - top - bottom)

    def px(self, x: float) -> float:
        """Pixels from the left."""
        area = self.area
        return area.left() + area.width() * (x - self.x[0]) / (self.x[1] - self.x[0])

    def py(self, y: float) -> float:
        """Pixels from the top."""
        area = self.area
        return area.bottom() - area.height() * (y - self.y[0]) / (self.y[1] - self.y[0])

    def at(self, x: float, y: float) -> QPointF:
        """The point in pixels."""
        return QPointF(self.px(x), self.py(y))

    def curve(self, points: Iterable[tuple[float, float]]) -> QPolygonF:
        """Points in shown units as a line in pixels."""
        area = self.area
        a, b = area.width() / (self.x[1] - self.x[0]), area.height() / (self.y[1] - self.y[0])
        c, d = area.left() - a * self.x[0], area.bottom() + b * self.y[0]
        return QPolygonF([QPointF(c + a * x, d - b * y) for x, y in points])

    def draw(self, painter: QPainter, look: Theme) -> None:
        """Grid, axes with their numbers, titles."""
        area, line = self.area, self.line
        painter.setFont(theme.font())
        across = max(int(area.width() / (3.4 * line)), 2)
        for value in _steps(self.x, across):
            x = self.px(value)
            use(painter, pen(look.grid, THIN))
            painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
            place = QRectF(x - 2.0 * line, area.bottom() + 0.1 * line, 4.0 * line, 1.1 * line)
            write(painter, place, self._number(value), look.muted, MIDDLE)
        for value in _steps(self.y, max(int(area.height() / (1.7 * line)), 2)):
            y = self.py(value)
            use(painter, pen(look.grid, THIN))
            painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
            place = QRectF(0.0, y - 0.55 * line, area.left() - 0.3 * line, 1.1 * line)
            write(painter, place, self._number(value), look.muted, RIGHT)
        use(painter, pen(look.axis, LINE))
        painter.drawLine(area.topLeft(), area.bottomLeft())
        painter.drawLine(area.bottomLeft(), area.bottomRight())
        top = QRectF(0.2 * line, 0.0, self.width, 1.15 * line)
        write(painter, top, self.y_title, look.text, LEFT)
        foot = QRectF(0.0, self.height - 1.2 * line, area.right(), 1.15 * line)
        write(painter, foot, self.x_title, look.text, RIGHT)

    def level(self, painter: QPainter, y: float, colour: str, dash: tuple[float, ...]) -> None:
        """A line across at a height, if that is in the picture."""
        area, height = self.area, self.py(y)
        if area.top() - 1.0 <= height <= area.bottom() + 1.0:
            use(painter, pen(colour, LINE, dash))
            painter.drawLine(QPointF(area.left(), height), QPointF(area.right(), height))

    def name(self, painter: QPainter, top: float, text: str, colour: str, look: Theme) -> None:
        """The name of a line at the right, ``top`` pixels from above, if there is room."""
        area, wide = self.area, text_width(text) + 6.0
        plate = QRectF(area.right() - wide, top, wide, 1.1 * self.line)
        if plate.top() >= area.top() - self.line and plate.bottom() <= area.bottom():
            use(painter, None, look.base)
            painter.drawRect(plate)
            write(painter, plate, text, colour, MIDDLE)

    def _number(self, value: float) -> str:
        return f"{value:g}".replace(".", self.mark)


def _steps(ends: tuple[float, float], most: int) -> list[float]:
    step = round_step(ends[1] - ends[0], most)
    first = -int(-ends[0] // step)
    count = int((ends[1] - first * step) / step + 1e-6)
    return [round((first + n) * step, 9) for n in range(count + 1)]


def highest(rig: Rig, display: Display) -> float:
    """The upper end of a pressure axis, in the shown unit: room above all that can happen."""
    system, setting = rig.system, rig.setting
    top = max(_TOP * setting.cut_out, 1.1 * setting.precharge, _TOP * system.cut_out)
    if system.sensing_lag > 0.0:
        top = max(top, 1.05 * system.relief)  # the pressure runs past cut-out
    step = _ROUND[display.symbol(PRESSURE)]
    return step * -(-float(display.value(top, PRESSURE)) // step)


def draw_levels(
    painter: QPainter, ground: Ground, rig: Rig, display: Display, look: Theme, *, figures: bool
) -> None:
    """Cut-out, cut-in and precharge, named with their figures or without."""
    setting, charge = rig.setting, rig.system.precharge
    line = ground.line
    found = {
        tr("cut-out"): (setting.cut_out, look.good, (6.0, 3.0)),
        tr("cut-in"): (setting.cut_in, look.good, (6.0, 3.0)),
        tr("precharge"): (charge, look.caution, (2.0, 2.0)),
    }
    heights = [ground.py(float(display.value(one[0], PRESSURE))) for one in found.values()]
    out, cut_in, air = heights
    # Beneath their lines the trace seldom goes, nor above cut-out.
    tops = [out - 1.15 * line, cut_in + 1.0, air + 1.0]
    if 0.0 <= air - cut_in < 1.2 * line:
        tops[1:] = [air + 1.0, air + 1.15 * line]
    elif 0.0 < cut_in - air < 1.2 * line:
        tops[2] = cut_in + 1.15 * line
    elif abs(air - out) < 1.2 * line:
        tops[2] = max(air, out) + 1.0
    foot = ground.area.bottom() - 2.4 * line  # below it are the bars, and the drawdown
    tops = [
        own - 1.15 * line if top > foot else top for top, own in zip(tops, heights, strict=True)
    ]
    for (text, (pressure, colour, dash)), top in zip(found.items(), tops, strict=True):
        ground.level(painter, float(display.value(pressure, PRESSURE)), colour, dash)
        told = f"{text} {display.text(pressure, PRESSURE)}" if figures else text
        ground.name(painter, top, told, colour, look)
