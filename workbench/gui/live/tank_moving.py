"""What moves in the picture of the live tank: water, membrane, air, needle, contacts, flows."""

from __future__ import annotations

import math
from functools import lru_cache

from PySide6.QtCore import QLineF, QPointF, QRectF, QSizeF
from PySide6.QtGui import QPainter, QPolygonF

from workbench.gui import theme
from workbench.gui.live.places import SHAPE, Places
from workbench.gui.live.scene import Scene
from workbench.gui.live.sketch import (
    HEAVY,
    LEFT,
    LINE,
    MIDDLE,
    RIGHT,
    THIN,
    blend,
    pen,
    polygon,
    use,
    water_fill,
    write,
)
from workbench.gui.live.tank_air import draw_air
from workbench.gui.theme import Theme
from workbench.units import FLOW, PRESSURE, VOLUME
from workbench.words import tr

_POINTS = 24  # of a quarter of the membrane
_STRIPE = 0.9  # of a line's height, between two marks in the water
_MARKS = 1.3  # of a line's height, between two marks of a flow
_SEEN_FLOW = 40.0  # line heights by which a mark moves for each share of the tap's full flow


def draw_moving(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """Everything that the moment decides, over what stands still."""
    painter.setFont(theme.font())
    skin = membrane(places, scene)
    _inside(painter, places, scene, look, skin)
    _labels(painter, places, scene, look, skin)
    _needle(painter, places, scene, look)
    _contacts(painter, places, scene, look)
    _pump(painter, places, scene, look)
    _flows(painter, places, scene, look)
    _tap(painter, places, scene, look)
    if scene.grips:
        _grips(painter, places, scene, look)


# --- in the tank ---


Line = list[tuple[float, float]]


def membrane(places: Places, scene: Scene) -> Line:
    """The membrane from its rim at the left to that at the right, in pixels."""
    high = places.tank_height(scene.volume)
    wide, heights = SHAPE.membrane(scene.below, _POINTS)
    half = list(zip((wide * high).tolist(), (places.bottom - heights * high).tolist(), strict=True))
    left = [(places.axis - x, y) for x, y in half]
    return [*left, *((places.axis + x, y) for x, y in reversed(half))]


def water_area(places: Places, scene: Scene) -> QPolygonF:
    """The water below the membrane, in pixels."""
    return _water(places, scene, membrane(places, scene))


def _water(places: Places, scene: Scene, skin: Line) -> QPolygonF:
    return polygon([*skin, *_lower_wall(places, scene.volume)])


@lru_cache(maxsize=8)
def _lower_wall(places: Places, volume: float) -> Line:
    """The shell below the membrane's rim, from the right over the lowest point to the left."""
    high = places.tank_height(volume)
    wide, heights = SHAPE.outline(_POINTS)
    wall = [
        (places.axis + w * high, places.bottom - z * high)
        for w, z in zip(wide[:_POINTS].tolist(), heights[:_POINTS].tolist(), strict=True)
    ]
    return [*reversed(wall), *((2.0 * places.axis - x, y) for x, y in wall)]


def _inside(painter: QPainter, places: Places, scene: Scene, look: Theme, skin: Line) -> None:
    high = places.tank_height(scene.volume)
    draw_air(painter, places, scene, look)
    if scene.above > 0.0:
        _pool(painter, places, scene, look)
    use(painter, None, water_fill(look))
    if scene.below > 0.0:
        painter.drawPolygon(_water(places, scene, skin))
        use(painter, pen(blend(look.base, look.curves[0].colour, 0.75), THIN))
        painter.drawLines(_stripes(places, high, skin))
    use(painter, pen(look.curves[1].colour, HEAVY + THIN))
    painter.drawPolyline(polygon(skin))


def _stripes(places: Places, high: float, skin: Line) -> list[QLineF]:
    """Level dashes in the water, which tell it from air without its colour too."""
    middle = skin[len(skin) // 2][1]
    rim = places.bottom - SHAPE.rim * high
    lines = []
    gap = _STRIPE * places.line
    for row in range(1, int(high / gap) + 1):
        y = places.bottom - row * gap
        z = (places.bottom - y) / high
        if z >= 1.0 or y <= middle + 3.0:
            break
        wide = float(SHAPE.half_width(z)) * high
        if y < rim:  # inside of the membrane, which is narrower than the wall
            share = (rim - y) / (rim - middle)
            wide *= math.sqrt(max(1.0 - share * share, 0.0))
        lines += _dashes(places, y, wide - 4.0, row)
    return lines


def _dashes(places: Places, y: float, wide: float, row: int) -> list[QLineF]:
    dash, gap = 0.7 * places.line, 1.1 * places.line
    start = places.axis - 20.0 * (dash + gap) + (0.5 * (dash + gap) if row % 2 else 0.0)
    left, right = places.axis - wide, places.axis + wide
    found = []
    for number in range(40):
        x = start + number * (dash + gap)
        if x >= left and x + dash <= right:
            found.append(QLineF(x, y, x + dash, y))
    return found


def _pool(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """Water that lies on the membrane."""
    high = places.tank_height(scene.volume)
    level = float(SHAPE.pool(scene.below, scene.above))
    wide, heights = SHAPE.outline(_POINTS)
    keep = heights < level
    edge = float(SHAPE.half_width(level))
    right = [*zip(wide[keep].tolist(), heights[keep].tolist(), strict=True), (edge, level)]
    corners = [(places.axis + w * high, places.bottom - z * high) for w, z in right]
    corners += [(places.axis - w * high, places.bottom - z * high) for w, z in reversed(right)]
    use(painter, None, water_fill(look))
    painter.drawPolygon(polygon(corners))
    use(painter, pen(look.curves[0].colour, LINE))
    y = places.bottom - level * high
    painter.drawLine(QPointF(places.axis - edge * high, y), QPointF(places.axis + edge * high, y))


def _labels(painter: QPainter, places: Places, scene: Scene, look: Theme, curve: Line) -> None:
    """Air, membrane and water, each named beside the tank with a line to it."""
    high, display = places.tank_height(scene.volume), scene.display
    middle, surface = len(curve) // 2, curve[len(curve) // 2][1]
    top = places.bottom - high
    near = places.axis + 0.6 * SHAPE.radius * high
    skin_at = next(point for point in curve[middle:] if point[0] >= near)
    air, name, water = places.names
    use(painter, pen(look.muted, THIN))
    if scene.above > 0.0:
        surface = places.bottom - float(SHAPE.pool(scene.below, scene.above)) * high
    _leader(painter, places, air, QPointF(near, top + 0.4 * (surface - top)))
    _leader(painter, places, name, QPointF(*skin_at))
    _leader(painter, places, water, QPointF(near, places.bottom - 0.45 * SHAPE.head * high))
    _two(painter, places, air, tr("Air"), display.text(scene.moment.air, VOLUME), look)
    write(painter, name, tr("Membrane"), look.text)
    if scene.above > 0.0:
        told = tr("{water} on it", water=display.text(scene.rig.water_above, VOLUME))
        write(painter, name.translated(0.0, 1.1 * places.line), told, look.text)
    _two(painter, places, water, tr("Water"), display.text(scene.moment.water, VOLUME), look)


def _leader(painter: QPainter, places: Places, label: QRectF, to: QPointF) -> None:
    start = QPointF(label.left() - 0.25 * places.line, label.top() + 0.55 * places.line)
    painter.drawLine(start, to)
    painter.drawEllipse(to, 2.0, 2.0)


def _two(
    painter: QPainter, places: Places, area: QRectF, name: str, value: str, look: Theme
) -> None:
    """A name, and its figure beneath in heavier type."""
    write(painter, area, name, look.text)
    painter.setFont(theme.font(bold=True))
    write(painter, area.translated(0.0, 1.1 * places.line), value, look.text)
    painter.setFont(theme.font())


# --- gauge, switch, pump ---


def _needle(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    pressure, line = scene.moment.pressure, places.line
    tip = places.on_dial(pressure, places.radius - 0.25 * line)
    tail = places.on_dial(pressure, -0.28 * places.radius)
    use(painter, pen(look.text, HEAVY + LINE))
    painter.drawLine(tail, places.on_dial(pressure, 0.62 * places.radius))
    use(painter, pen(look.text, HEAVY))
    painter.drawLine(places.gauge, tip)
    use(painter, None, look.text)
    painter.drawEllipse(places.gauge, 0.3 * line, 0.3 * line)
    painter.setFont(theme.font(theme.HEADING, bold=True))
    area = QRectF(places.legend)
    area.setHeight(1.5 * line)
    write(painter, area, scene.display.text(pressure, PRESSURE), look.text, MIDDLE)
    painter.setFont(theme.font())


def _contacts(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """Two posts and a blade that touches both or does not, with the wire to the pump."""
    line, closed = places.line, scene.moment.closed
    left, right = places.contacts
    ink = look.accent if closed else look.muted
    use(painter, pen(ink, HEAVY if closed else LINE, () if closed else (3.0, 3.0)))
    painter.drawPolyline(QPolygonF(places.wire))
    use(painter, pen(look.text, HEAVY))
    painter.drawLine(left, right if closed else right - QPointF(0.25 * line, 1.1 * line))
    use(painter, pen(look.text, LINE), look.base)
    for post in (left, right):
        painter.drawEllipse(post, 0.22 * line, 0.22 * line)
    corner = places.switch_words + QPointF(0.0, 1.1 * line)
    area = QRectF(corner, QSizeF(places.switch.width(), 1.15 * line))
    write(painter, area, tr("closed") if closed else tr("open"), look.text)


def _pump(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """A wheel with three vanes, filled while it gives."""
    centre, radius = places.pump
    one, line = scene.moment, places.line
    inner = radius - 4.0
    use(painter, None, look.accent if one.gives else look.grid)
    painter.drawEllipse(centre, inner, inner)
    use(painter, pen(look.on_accent if one.gives else look.frame, HEAVY + LINE))
    for vane in range(3):
        turn = 2.0 * math.pi * (scene.turn + vane / 3.0)
        tip = centre + QPointF(math.cos(turn), math.sin(turn)) * (0.78 * inner)
        painter.drawLine(centre, tip)
    if one.gives:
        told = scene.display.text(one.pump_flow, FLOW)
    else:
        told = tr("starting") if one.closed else tr("rests")
    area = QRectF(centre.x() - radius, centre.y() + radius + 1.3 * line, places.left, 1.1 * line)
    write(painter, area, told, look.text)


# --- flows ---


def _flows(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """Marks that wander with the water through pipe and nipple."""
    one, y, line = scene.moment, places.pipe, places.line
    start = places.pump[0].x() + places.pump[1]
    use(painter, pen(look.curves[0].colour, HEAVY))
    pump = one.pump_flow - one.back_flow
    marks = _marks(places, scene.flowed["pump"], start, places.axis - line, pump)
    painter.drawLines(_chevrons([(x, y) for x in marks], places, pump, level=True))
    marks = _marks(places, scene.flowed["tap"], places.axis + line, places.riser, one.tap_flow)
    painter.drawLines(_chevrons([(x, y) for x in marks], places, one.tap_flow, level=True))
    into = scene.into_tank
    bottom, top = y - places.bore, places.bottom
    rows = _marks(places, scene.flowed["tank"], -bottom, -top, into)
    painter.drawLines(_chevrons([(places.axis, -x) for x in rows], places, into, level=False))
    if abs(into) > 0.0:
        told = scene.display.text(abs(into), FLOW)
        text = tr("{flow} in", flow=told) if into > 0.0 else tr("{flow} out", flow=told)
        write(painter, places.inflow_words, text, look.text, LEFT)


def _marks(places: Places, flowed: float, first: float, last: float, flow: float) -> list[float]:
    """Where marks stand between two places, moved on by what has flowed; none without flow."""
    if flow == 0.0:
        return []
    gap = _MARKS * places.line
    moved = flowed / places.flow * _SEEN_FLOW * places.line / 10.0
    start = first + 0.5 * gap + moved % gap - gap
    count = int((last - first) / gap) + 2
    every = (start + n * gap for n in range(count))
    return [x for x in every if first + 0.2 * gap <= x <= last - 0.2 * gap]


def _chevrons(
    places_of: list[tuple[float, float]], places: Places, flow: float, *, level: bool
) -> list[QLineF]:
    """Marks that point to where the water goes: right, or up in the nipple; back if below zero."""
    size = 0.62 * places.bore * (1.0 if flow > 0.0 else -1.0)
    lines = []
    for x, y in places_of:
        for side in (-1.0, 1.0):
            if level:
                lines.append(QLineF(x - size, y + side * abs(size), x + 0.4 * size, y))
            else:
                lines.append(QLineF(x + side * abs(size), y + size, x, y - 0.4 * size))
    return lines


def _tap(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """What runs into the basin, as broad as it is much; and what the relief valve lets out."""
    one, spout, line = scene.moment, places.spout, places.line
    use(painter, pen(look.curves[0].colour, LINE), water_fill(look))
    foot = places.pipe + 1.2 * line
    if one.tap_flow > 0.0:
        share = min(one.tap_flow / places.flow, 1.0)
        half = places.bore * (0.18 + 0.8 * math.sqrt(share))
        top = spout.y() + 1.7 * places.bore
        painter.drawPolygon(
            polygon(((spout.x() - half, top), (spout.x() + half, top),
                     (spout.x() + 0.85 * half, foot - 2.0), (spout.x() - 0.85 * half, foot - 2.0)))
        )  # fmt: skip
        gap = 0.9 * line
        moved = scene.flowed["tap"] / places.flow * _SEEN_FLOW * line / 10.0 % gap
        rows = int((foot - top) / gap) + 1
        drops = [top + moved + n * gap for n in range(rows)]
        painter.drawLines(
            [
                QLineF(spout.x(), y, spout.x(), y + 0.35 * line)
                for y in drops
                if y < foot - 0.6 * line
            ]
        )
    told = scene.display.text(one.tap_flow, FLOW)
    if one.is_dry and one.tap_flow == 0.0:
        told = tr("runs dry")
    elif one.tap_flow == 0.0:
        told = tr("shut")
    area = QRectF(0.0, foot + 1.4 * line, places.width - 0.5 * line, 1.1 * line)
    write(painter, area, told, look.text, RIGHT)
    if scene.relieves:
        x, y = places.relief, places.pipe - places.bore - 2.0 * line
        for side in (-1.0, 0.0, 1.0):
            painter.drawLine(QPointF(x, y), QPointF(x + side * 0.6 * line, y - 0.9 * line))


# --- handles ---


def grip_size(places: Places) -> float:
    """Radius of what is taken hold of."""
    return 0.56 * places.line


def _grips(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    radius = grip_size(places)
    for handle in scene.handles:
        at = places.place_of(handle.entry, handle.value, handle.low, handle.high)
        chosen = handle.entry == scene.chosen
        use(
            painter,
            pen(look.accent, HEAVY if chosen else LINE),
            look.accent if chosen else look.base,
        )
        if handle.entry == "precharge":
            painter.drawLine(at, places.on_dial(handle.value, places.radius - 0.2 * places.line))
        painter.drawEllipse(at, radius, radius)
        area = QRectF(at.x() - radius, at.y() - radius, 2.0 * radius, 2.0 * radius)
        write(painter, area, f"{handle.number}", look.on_accent if chosen else look.accent, MIDDLE)
