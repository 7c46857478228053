"""What stands still in the picture of the live tank: shell, pipes, dial, names."""

from __future__ import annotations

import math
from functools import lru_cache

from PySide6.QtCore import QLineF, QPointF, QRectF, QSizeF
from PySide6.QtGui import QPainter, QPolygonF

from workbench.gui import theme
from workbench.gui.live.places import ROW, SHAPE, Places
from workbench.gui.live.really import PRESSURES, real_pen
from workbench.gui.live.scene import Scene
from workbench.gui.live.sketch import (
    HEAVY,
    LINE,
    MIDDLE,
    RIGHT,
    THIN,
    blend,
    pen,
    polygon,
    round_step,
    text_width,
    use,
    water_fill,
    write,
)
from workbench.gui.theme import Theme
from workbench.units import PRESSURE
from workbench.words import tr

WALL = 4.0  # px


def draw_still(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """Everything that only changes with an entry, the size or the colours."""
    painter.setFont(theme.font())
    _pipes(painter, places, look)
    _stand(painter, places, scene, look)
    _shell(painter, places, scene, look)
    _pump_and_tap(painter, places, look)
    _relief(painter, places, scene, look)
    _dial(painter, places, scene, look)
    _legend(painter, places, scene, look)
    _two_lines(painter, places, scene, look, "live_volume")
    _switch(painter, places, look)
    _altitude(painter, places, scene, look)
    _thermometer(painter, places, scene, look)
    _tap_track(painter, places, scene, look)


@lru_cache(maxsize=8)
def outline(places: Places, volume: float, wall: float = 0.0) -> QPolygonF:
    """The inside of the shell, or ``wall`` pixels outside of it, from its lowest point around."""
    high = places.tank_height(volume)
    wide, heights = SHAPE.outline(24)
    right = []
    for w, z in zip((wide / SHAPE.radius).tolist(), heights.tolist(), strict=True):
        out = w * (SHAPE.radius * high + wall)
        up = z * high + (wall if z > 0.5 else -wall) * (1.0 - w * w) ** 0.5
        right.append((places.axis + out, places.bottom - up))
    return polygon([*right, *((2.0 * places.axis - x, y) for x, y in reversed(right))])


def _shell(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """Around the inside, which is air until water is drawn; and what holds the membrane."""
    high, line = places.tank_height(scene.volume), places.line
    use(painter, pen(look.text, WALL), look.base)
    painter.drawPolygon(outline(places, scene.volume, 0.5 * WALL))
    rim = places.bottom - SHAPE.rim * high
    use(painter, None, look.text)
    for side in (-1.0, 1.0):
        x = places.axis + side * (SHAPE.radius * high + 0.5 * WALL)
        painter.drawRect(QRectF(x - 0.26 * line, rim - 0.15 * line, 0.52 * line, 0.3 * line))


def _pipes(painter: QPainter, places: Places, look: Theme) -> None:
    """Main pipe, nipple, riser and spout as one outline filled with water, and the small pipe."""
    y, half, axis = places.pipe, places.bore, places.axis
    start, riser, spout = places.pump[0].x(), places.riser, places.spout
    corners = (
        (start, y - half),
        (axis - half, y - half),
        (axis - half, places.bottom - 2.0),
        (axis + half, places.bottom - 2.0),
        (axis + half, y - half),
        (riser - half, y - half),
        (riser - half, spout.y() - half),
        (spout.x() + half, spout.y() - half),
        (spout.x() + half, spout.y() + 1.6 * half),
        (spout.x() - half, spout.y() + 1.6 * half),
        (spout.x() - half, spout.y() + half),
        (riser + half, spout.y() + half),
        (riser + half, y + half),
        (start, y + half),
    )
    use(painter, pen(look.frame), water_fill(look))
    painter.drawPolygon(polygon(corners))
    use(painter, pen(look.frame, HEAVY))
    for points in places.small_pipe:
        painter.drawPolyline(QPolygonF(points))


def _stand(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """The tank's feet."""
    high = places.tank_height(scene.volume)
    use(painter, pen(look.frame, HEAVY))
    top = places.bottom - SHAPE.head * high * 0.45
    for side in (-1.0, 1.0):
        x = places.axis + side * SHAPE.radius * high * 0.72
        foot = places.bottom + 0.45 * places.line
        painter.drawLine(QPointF(x, top), QPointF(x, foot))
        painter.drawLine(QPointF(x - 0.4 * places.line, foot), QPointF(x + 0.4 * places.line, foot))


def _pump_and_tap(painter: QPainter, places: Places, look: Theme) -> None:
    line, (centre, radius) = places.line, places.pump
    use(painter, pen(look.frame), water_fill(look))
    down = centre.y() + radius
    painter.drawRect(QRectF(centre.x() - radius, centre.y(), 0.68 * line, radius + 0.3 * line))
    use(painter, pen(look.text, HEAVY), look.base)
    painter.drawEllipse(centre, radius, radius)
    painter.setFont(theme.font(bold=True))
    area = QRectF(centre.x() - radius, down + 0.2 * line, places.left, 1.1 * line)
    write(painter, area, tr("Pump"), look.text)
    painter.setFont(theme.font())
    spout = places.spout  # the valve's stem and the basin beneath
    use(painter, pen(look.text, HEAVY))
    middle = QPointF(0.5 * (places.riser + spout.x()), spout.y() - places.bore)
    painter.drawLine(middle, middle - QPointF(0.0, 0.55 * line))
    painter.drawLine(
        middle + QPointF(-0.5 * line, -0.55 * line), middle + QPointF(0.5 * line, -0.55 * line)
    )
    foot = places.pipe + 1.3 * line
    wide = 1.15 * line
    basin = (
        (spout.x() - wide, foot - 1.0 * line),
        (spout.x() - 0.8 * wide, foot),
        (spout.x() + 0.8 * wide, foot),
        (spout.x() + wide, foot - 1.0 * line),
    )
    use(painter, pen(look.frame, HEAVY))
    painter.drawPolyline(polygon(basin))
    painter.setFont(theme.font(bold=True))
    area = QRectF(0.0, foot + 0.25 * line, places.width - 0.5 * line, 1.1 * line)
    write(painter, area, tr("Tap"), look.text, RIGHT)
    painter.setFont(theme.font())


def _relief(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """A spring-loaded valve on the pipe, with where it opens beneath."""
    x, y, line = places.relief, places.pipe - places.bore, places.line
    use(painter, pen(look.text, LINE), look.base)
    painter.drawRect(QRectF(x - 0.4 * line, y - 1.9 * line, 0.8 * line, 1.9 * line))
    spring = [(x + (-0.3, 0.3)[n % 2] * line, y - (0.4 + 0.2 * n) * line) for n in range(7)]
    use(painter, pen(look.text, LINE))
    painter.drawPolyline(polygon(spring))
    opens = scene.display.text(scene.rig.system.relief, PRESSURE)
    left = places.relief_words - 5.0 * line
    area = QRectF(left, places.pipe + 0.5 * line, 10.0 * line, 1.1 * line)
    write(painter, area, tr("Relief valve"), look.text, MIDDLE)
    write(painter, area.translated(0.0, 1.1 * line), opens, look.muted, MIDDLE)


def _dial(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    display, centre, radius = scene.display, places.gauge, places.radius
    use(painter, pen(look.text, HEAVY), look.base)
    painter.drawEllipse(centre, radius, radius)
    setting = scene.rig.setting
    ring = radius - 3.5
    box = QRectF(centre.x() - ring, centre.y() - ring, 2.0 * ring, 2.0 * ring)
    first, last = places.angle(setting.cut_out), places.angle(setting.cut_in)
    use(painter, pen(look.curves[2].colour, 2.0 * HEAVY))
    painter.drawArc(box, round(16 * first), round(16 * (last - first)))
    use(painter, real_pen(look, HEAVY))
    for value in scene.really.values():
        out = places.on_dial(value, radius + 0.8 * places.line)
        painter.drawLine(out, places.on_dial(value, 0.62 * radius))
    end = float(display.value(places.dial, PRESSURE))
    factor = places.dial / end
    arc = math.radians(270.0) * 0.5 * radius
    step = round_step(end, max(int(arc / (1.2 * text_width(f"{end:.0f}"))), 2))
    count = int(end / step + 1e-6)
    use(painter, pen(look.text, LINE))
    painter.drawLines(_ticks(places, [n * step * factor for n in range(count + 1)], 0.42))
    use(painter, pen(look.text, THIN))
    minor = range(5 * count + 1)
    painter.drawLines(_ticks(places, [n * step * factor / 5.0 for n in minor], 0.2))
    for number in range(count + 1):
        at = places.on_dial(number * step * factor, 0.48 * radius)
        area = QRectF(at.x() - places.line * 2, at.y() - 0.55 * places.line, 4 * places.line,
                      1.1 * places.line)  # fmt: skip
        write(painter, area, f"{number * step:.0f}", look.muted, MIDDLE)
    at = centre + QPointF(0.0, 0.62 * radius)
    area = QRectF(at.x() - 3.0 * places.line, at.y() - 0.55 * places.line, 6.0 * places.line,
                  1.1 * places.line)  # fmt: skip
    write(painter, area, display.symbol(PRESSURE), look.muted, MIDDLE)


def _ticks(places: Places, pressures: list[float], lines: float) -> list[QLineF]:
    radius = places.radius
    inner = radius - lines * places.line
    return [QLineF(places.on_dial(p, radius), places.on_dial(p, inner)) for p in pressures]


def _legend(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """What the switch and the air are set to, each with the number of its handle."""
    area, really = places.legend, scene.really
    corner = area.topLeft() + QPointF(0.0, 1.75 * places.line)
    for entry in PRESSURES:
        _numbered(painter, places, scene, look, entry, corner)
        corner += QPointF(0.0, ROW * places.line)
        if entry in really:
            _real(painter, places, scene, look, really[entry], corner)
            corner += QPointF(0.0, ROW * places.line)


def _numbered(
    painter: QPainter, places: Places, scene: Scene, look: Theme, entry: str, corner: QPointF
) -> None:
    """A handle's name and value on one line, after its number."""
    line, handle = places.line, scene.handle(entry)
    area = QRectF(corner.x(), corner.y(), 40.0 * line, 1.15 * line)
    if scene.grips:
        write(painter, area, f"{handle.number}", look.accent)
        area.translate(0.8 * line, 0.0)
    write(painter, area, handle.told(scene.display), look.text)


def _real(
    painter: QPainter, places: Places, scene: Scene, look: Theme, value: float, corner: QPointF
) -> None:
    """What really is, after the dashes with which the dial marks it."""
    line = places.line
    y, x = corner.y() + 0.575 * line, corner.x() + (0.8 * line if scene.grips else 0.0)
    use(painter, real_pen(look, HEAVY))
    painter.drawLine(QPointF(x, y), QPointF(x + 1.1 * line, y))
    area = QRectF(x + 1.4 * line, corner.y(), 40.0 * line, 1.15 * line)
    told = tr("really {value}", value=scene.display.text(value, PRESSURE))
    write(painter, area, told, look.stop)


def _switch(painter: QPainter, places: Places, look: Theme) -> None:
    box = places.switch
    use(painter, pen(look.text, LINE), look.base)
    painter.drawRoundedRect(box, 4.0, 4.0)
    painter.setFont(theme.font(bold=True))
    area = QRectF(places.switch_words, QSizeF(box.width(), 1.15 * places.line))
    write(painter, area, tr("Switch"), look.text)
    painter.setFont(theme.font())


def _altitude(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """A mountain with its slope."""
    slope, line = places.mountain, places.line
    _two_lines(painter, places, scene, look, "altitude")
    end = slope.right() + 1.4 * line
    body = ((slope.left(), slope.bottom()), (slope.right(), slope.top()), (end, slope.bottom()))
    use(painter, pen(look.frame), blend(look.base, look.muted, 0.18))
    painter.drawPolygon(polygon(body))


def _thermometer(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    tube, handle = places.thermometer, scene.handle("live_air")
    _two_lines(painter, places, scene, look, "live_air")
    half = 0.5 * tube.height()
    use(painter, pen(look.frame), look.base)
    painter.drawRoundedRect(tube.adjusted(-half, 0.0, half, 0.0), half, half)
    at = places.place_of("live_air", handle.value, handle.low, handle.high)
    use(painter, None, look.curves[1].colour)
    painter.drawRect(QRectF(tube.left(), tube.top() + 2.0, at.x() - tube.left(), 2 * half - 4.0))
    painter.drawEllipse(QPointF(tube.left(), tube.center().y()), 1.6 * half, 1.6 * half)


def _tap_track(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    track, line = places.tap_track, places.line
    _two_lines(painter, places, scene, look, "steady_draw")
    use(painter, pen(look.frame, HEAVY))
    painter.drawLine(track.topLeft(), track.topRight())
    use(painter, pen(look.frame, LINE), look.grid)
    wedge = (
        (track.left(), track.top() - 1.0),
        (track.right(), track.top() - 0.35 * line),
        (track.right(), track.top() + 0.35 * line),
        (track.left(), track.top() + 1.0),
    )
    painter.drawPolygon(polygon(wedge))


def _two_lines(painter: QPainter, places: Places, scene: Scene, look: Theme, entry: str) -> None:
    """A handle's name after its number, and its value beneath."""
    line, handle = places.line, scene.handle(entry)
    indent = 0.8 * line if scene.grips else 0.0
    area = QRectF(places.words_of(entry), QSizeF(40.0 * line, 1.1 * line))
    if scene.grips:
        write(painter, area, f"{handle.number}", look.accent)
    area.translate(indent, 0.0)
    write(painter, area, handle.name, look.text)
    value = scene.display.text(handle.value, handle.kind)
    write(painter, area.translated(0.0, 1.1 * line), value, look.text)
