"""The gauge's pressure over the water in the tank: the air's law, and the point on it."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from workbench.gui.live.ground import Ground, draw_levels, highest, levels
from workbench.gui.live.plot_view import PlotView
from workbench.gui.live.sketch import (
    HEAVY,
    LINE,
    MIDDLE,
    THIN,
    line_height,
    pen,
    text_width,
    use,
    write,
)
from workbench.gui.theme import Theme
from workbench.physics.system import Moment
from workbench.study.live.rig import Rig
from workbench.units import PRESSURE, VOLUME, Display
from workbench.words import tr

_POINTS = 80  # of the air's law
_ROOM = 1.3  # of the water at cut-out
_DRAWDOWN = 2.0  # heights of a line that it takes at the foot
_LEAST = 0.1  # of the tank's volume


class PathView(PlotView):
    """Shows a rig's law, and where on it the tank is."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(tr("Pressure over water in the tank"), parent)
        self._law: list[tuple[float, float]] = []  # gauge [Pa], water [m³]
        self._seen = (0.0, 0.0)

    def show_rig(self, rig: Rig, display: Display) -> None:
        """Show another rig, or other units."""
        if rig is not self.rig:
            system, top = rig.system, 1.2 * rig.system.relief
            low = system.precharge
            steps = [low + (top - low) * n / _POINTS for n in range(_POINTS + 1)]
            known = sorted({*steps, rig.setting.cut_in, rig.setting.cut_out})
            self._law = [(0.0, 0.0), *((p, system.water(p)) for p in known if p >= low)]
            if self.moment is not None:
                self._seen = (self.moment.pressure, self.moment.pressure)
        self.rig, self.display = rig, display
        self.forget()

    def show_moment(self, moment: Moment) -> None:
        """Move the point."""
        if self.moment is None:
            self._seen = (moment.pressure, moment.pressure)
        self.moment = moment
        low, high = self._seen
        self._seen = (min(low, moment.pressure), max(high, moment.pressure))
        self.update()

    def make_ground(self, width: float, height: float) -> Ground:
        """Water across, gauge pressure up."""
        rig = self.rig
        assert rig is not None  # noqa: S101 - nothing is drawn without one
        most = max(_ROOM * rig.system.water(rig.setting.cut_out), _LEAST * rig.system.volume)
        return Ground(
            width=width,
            height=height,
            line=line_height(),
            x=(0.0, float(self.display.value(most, VOLUME))),
            y=(0.0, highest(rig, self.display)),
            x_title=tr("Water in the tank, {unit}", unit=self.display.symbol(VOLUME)),
            y_title=tr("Gauge, {unit}", unit=self.display.symbol(PRESSURE)),
            mark=self.display.mark,
        )

    def draw_kept(self, painter: QPainter, ground: Ground, look: Theme) -> None:
        """Axes, lines, the law and the drawdown."""
        assert self.rig is not None  # noqa: S101 - nothing is drawn without one
        ground.draw(painter, look)
        shown = levels(self.rig, self.display, look, figures=False)
        draw_levels(painter, ground, shown, self.display, look, _DRAWDOWN)
        use(painter, pen(look.curves[3].colour, LINE))
        painter.drawPolyline(ground.curve(self._shown(ground, 0.0, float("inf"))))
        self._draw_drawdown(painter, ground, look)

    def draw_over(self, painter: QPainter, ground: Ground, look: Theme) -> None:
        """The part of the law that the tank has gone along, heavier, and the point."""
        one = self.moment
        assert one is not None  # noqa: S101 - nothing is drawn without one
        use(painter, pen(look.curves[3].colour, 2.0 * HEAVY))
        gone = self._shown(ground, *self._seen)
        if len(gone) > 1:
            painter.drawPolyline(ground.curve(gone))
        x, y = self._point(one.pressure, one.water)
        area, at = ground.area, ground.at(x, y)
        use(painter, pen(look.axis, THIN, (3.0, 3.0)))
        painter.drawLine(QPointF(at.x(), area.bottom()), at)
        painter.drawLine(QPointF(area.left(), at.y()), at)
        self.draw_point(painter, at, look)

    def _point(self, pressure: float, water: float) -> tuple[float, float]:
        return float(self.display.value(water, VOLUME)), float(
            self.display.value(pressure, PRESSURE)
        )

    def _shown(self, ground: Ground, low: float, high: float) -> list[tuple[float, float]]:
        """The law between two pressures, as far as it is in the picture."""
        rig, unit = self.rig, self.display.unit(PRESSURE).factor
        assert rig is not None  # noqa: S101 - nothing is drawn without one
        high = min(high, ground.y[1] * unit, self._at_edge(ground))
        between = [(p, w) for p, w in self._law if low < p < high]
        ends = [(p, rig.system.water(p)) for p in (low, high) if p >= 0.0]
        if low > high or not ends:
            return []
        return [self._point(p, w) for p, w in (ends[0], *between, ends[-1])]

    def _at_edge(self, ground: Ground) -> float:
        """The pressure at which the law leaves the picture at the right."""
        most = ground.x[1] * self.display.unit(VOLUME).factor
        last = 0.0
        for pressure, water in self._law:
            if water > most:
                return last
            last = pressure
        return last

    def _draw_drawdown(self, painter: QPainter, ground: Ground, look: Theme) -> None:
        """The water between cut-out and cut-in, as the distance that it is."""
        rig = self.rig
        assert rig is not None  # noqa: S101 - nothing is drawn without one
        setting, line = rig.setting, ground.line
        low, high = rig.system.water(setting.cut_in), rig.system.water(setting.cut_out)
        start = ground.at(*self._point(setting.cut_in, low))
        end = ground.at(*self._point(setting.cut_out, high))
        y = ground.area.bottom() - 0.6 * line
        use(painter, pen(look.axis, THIN, (2.0, 2.0)))
        for point in (start, end):
            painter.drawLine(QPointF(point.x(), y + 0.3 * line), point)
        use(painter, pen(look.text, LINE))
        a, b, tip = start.x(), end.x(), 0.3 * line
        painter.drawLine(QPointF(a, y), QPointF(b, y))
        if b - a > 2.0 * tip:
            painter.drawLines(
                [QLineF(x, y, x + d * tip, y + s * 0.6 * tip)
                 for x, d in ((a, 1.0), (b, -1.0)) for s in (-1.0, 1.0)]
            )  # fmt: skip
        text = tr("drawdown {water}", water=self.display.text(high - low, VOLUME))
        wide = text_width(text) + 6.0
        left = min(max(0.5 * (a + b - wide), ground.area.left() + 2.0), ground.area.right() - wide)
        plate = QRectF(left, y - 1.35 * line, wide, 1.1 * line)
        use(painter, None, look.base)
        painter.drawRect(plate)
        write(painter, plate, text, look.text, MIDDLE)
