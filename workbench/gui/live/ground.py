"""The ground on which trace and path are painted: axes, grid, lines for what is set."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPen, QPolygonF

from workbench.gui import theme
from workbench.gui.live.really import real_pen, really
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

    def level(self, painter: QPainter, height: float, line: QPen) -> None:
        """A line across at a height [px], if that is in the picture."""
        area = self.area
        if area.top() - 1.0 <= height <= area.bottom() + 1.0:
            use(painter, line)
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
    charge = max(setting.precharge, system.precharge)
    top = max(_TOP * setting.cut_out, 1.1 * charge, _TOP * system.cut_out)
    if system.sensing_lag > 0.0:
        top = max(top, 1.05 * system.relief)  # the pressure runs past cut-out
    step = _ROUND[display.symbol(PRESSURE)]
    return step * -(-float(display.value(top, PRESSURE)) // step)


@dataclass(frozen=True)
class Level:
    """A pressure that is marked across a plot: its name, and the pen of its line."""

    told: str
    pressure: float
    colour: str
    line: QPen
    is_above: bool = False

    def top(self, height: float, lowest: float, line: float) -> float:
        """Where its name is best put [px], the line itself at ``height``.

        Beneath their lines the trace seldom goes, nor above cut-out.
        """
        above = height - 1.15 * line
        return above if self.is_above or height + 1.0 > lowest else height + 1.0


def levels(rig: Rig, display: Display, look: Theme, *, figures: bool) -> list[Level]:
    """Cut-out, cut-in and precharge as they are set, and as they really are where that differs."""
    names = {"cut_out": tr("cut-out"), "cut_in": tr("cut-in"), "precharge": tr("precharge")}
    contact, air = pen(look.good, LINE, (6.0, 3.0)), pen(look.caution, LINE, (2.0, 2.0))
    found = []
    for entry, name in names.items():
        value = getattr(rig.setting, entry)
        told = f"{name} {display.text(value, PRESSURE)}" if figures else name
        is_air = entry == "precharge"
        colour, line = (look.caution, air) if is_air else (look.good, contact)
        found.append(Level(told, value, colour, line, is_above=entry == "cut_out"))
    for entry, value in really(rig, display).items():
        told = tr("{name} really", name=names[entry])
        if figures:
            told = tr("{name} really {value}", name=names[entry],
                      value=display.text(value, PRESSURE))  # fmt: skip
        found.append(Level(told, value, look.stop, real_pen(look)))
    return found


def draw_levels(
    painter: QPainter,
    ground: Ground,
    shown: list[Level],
    display: Display,
    look: Theme,
    free: float,
) -> None:
    """The levels with their names; those leave ``free`` heights of a line at the foot."""
    heights = [ground.py(float(display.value(one.pressure, PRESSURE))) for one in shown]
    for one, height in zip(shown, heights, strict=True):
        ground.level(painter, height, one.line)
    for one, top in zip(shown, tops_of(ground, shown, heights, free), strict=True):
        ground.name(painter, top, one.told, one.colour, look)


def tops_of(ground: Ground, shown: list[Level], heights: list[float], free: float) -> list[float]:
    """Where the names stand [px]: each near its line, none on another."""
    high = 1.12 * ground.line
    lowest = ground.area.bottom() - free * ground.line - high
    tops = [one.top(y, lowest, ground.line) for one, y in zip(shown, heights, strict=True)]
    for place, height in enumerate(heights):
        for other in sorted(heights):  # a line just beneath stays free too
            if height < tops[place] < other < tops[place] + high:
                tops[place] = other + 1.0
    order = sorted(range(len(tops)), key=tops.__getitem__)
    for before, after in pairwise(order):
        tops[after] = max(tops[after], tops[before] + high)
    for place in reversed(order):
        tops[place] = min(tops[place], lowest)
        lowest = tops[place] - high
    return tops
