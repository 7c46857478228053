"""Where each part of the live tank's picture lies, for a size of the picture and of its text.

This is the wide arrangement, gauge and switch beside the tank; :mod:`tall` puts them above it.
:mod:`arranged` chooses. All lengths are in pixels; those that texts need are counted in
heights of a line, so that nothing overlaps however large the type.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from PySide6.QtCore import QPointF, QRectF

from workbench.physics.shape import Shape
from workbench.study.live.rig import Rig
from workbench.units import PRESSURE, VOLUME, Display

SHAPE = Shape()
"""Of every tank that is drawn."""
FIRST_ANGLE, WHOLE_TURN = 225.0, 270.0
"""Of a gauge's needle, in degrees: where it begins, anticlockwise from the right, and how far it
turns, clockwise."""
_DIALS = {"psi": (30, 60, 100, 160, 200, 300, 600), "kPa": (250, 400, 600, 1000, 1600, 2500, 4000)}
"""Ends of the dials of gauges. In kPa the scales of EN 837-1 (CEN, 1996), those in psi common
practice."""
_DIAL_ROOM = 1.25  # of cut-out, that a dial shows at least
_SIZES = 4.0  # one scale of the picture serves tanks of up to so many times the smallest on it
_ROOM = 1.25  # of a tank's volume, that its scale has at least
ROW = 1.2
"""From one line under the dial to the next, in heights of a line."""
ABOVE = 3.8
"""Over the tank, for what is said of its volume and for the grip, in heights of a line."""
_GALLON = VOLUME.units["gal"].factor


def dial_end(rig: Rig, display: Display) -> float:
    """The end [Pa] of the smallest usual dial with room above cut-out, and for the precharge."""
    factor = display.unit(PRESSURE).factor
    wanted = max(_DIAL_ROOM * rig.setting.cut_out, rig.setting.precharge)
    ends = [end * factor for end in _DIALS[display.symbol(PRESSURE)]]
    return next((end for end in ends if end >= wanted), wanted)


def scale_volume(volume: float) -> float:
    """The volume [m³] that a picture shows at full height: of steps of four, 5 gal, 20, 80, …

    It leaves room to draw the tank larger.
    """
    steps = math.ceil(math.log(_ROOM * volume / (5.0 * _GALLON), _SIZES) - 1e-9)
    return 5.0 * _GALLON * _SIZES**steps


@dataclass(frozen=True)
class Places:
    """The parts of the picture.

    Args:
        width, height: of the picture. line: height of a line of text.
        left, right: widths of the columns beside the tank, as wide as their texts need.
        dial: pressure at the end of the dial [Pa].
        scale: volume that is drawn at full height [m³].
        flow: at the end of the tap's track [m³/s].
        really: how many lines beneath the dial say what really is, where that is not as set.
    """

    width: float
    height: float
    line: float
    left: float
    right: float
    dial: float
    scale: float
    flow: float
    really: int = 0

    # --- pipe, pump, tap ---

    @cached_property
    def pipe(self) -> float:
        """Height of the pipe's axis."""
        return self.height - 4.1 * self.line

    @cached_property
    def bore(self) -> float:
        """Half of the pipe's width."""
        return 0.34 * self.line

    @cached_property
    def pump(self) -> tuple[QPointF, float]:
        """Centre and radius."""
        return QPointF(2.2 * self.line, self.pipe), 1.35 * self.line

    @cached_property
    def riser(self) -> float:
        """Where the pipe turns up to the tap."""
        return self.width - 3.6 * self.line

    @cached_property
    def spout(self) -> QPointF:
        """Where water leaves the tap."""
        return QPointF(self.width - 1.8 * self.line, self.pipe - 2.0 * self.line)

    @cached_property
    def relief(self) -> float:
        """Where the relief valve stands on the pipe."""
        return self.left + 0.9 * self.line

    @cached_property
    def relief_words(self) -> float:
        """The middle of what is said of it, under the pipe."""
        return self.relief

    # --- gauge and switch ---

    @cached_property
    def radius(self) -> float:
        """Of the dial."""
        below = (14.0 + ROW * self.really) * self.line
        return min(0.5 * self.left - 1.15 * self.line, 0.5 * (self.pipe - below))

    @cached_property
    def gauge(self) -> QPointF:
        """The dial's centre."""
        return QPointF(0.5 * self.left - 0.1 * self.line, self.radius + 1.3 * self.line)

    @cached_property
    def legend(self) -> QRectF:
        """Under the dial: the figure, then the lines for what is set, and for what really is."""
        top = self.gauge.y() + self.radius + 0.3 * self.line
        return QRectF(0.45 * self.line, top, self.left - 1.1 * self.line, self.legend_height)

    @cached_property
    def legend_height(self) -> float:
        """Of the figure and the lines beneath it."""
        return (1.8 + ROW * (3 + self.really)) * self.line

    @cached_property
    def switch(self) -> QRectF:
        """The box of the pressure switch."""
        top = self.legend.bottom() + 0.5 * self.line
        return QRectF(0.4 * self.line, top, self.left - 1.6 * self.line, 2.7 * self.line)

    @cached_property
    def switch_words(self) -> QPointF:
        """Where the switch's name begins; its state stands beneath."""
        return self.switch.topLeft() + QPointF(3.9 * self.line, 0.2 * self.line)

    @cached_property
    def contacts(self) -> tuple[QPointF, QPointF]:
        """The two posts."""
        box, y = self.switch, self.switch.bottom() - 0.95 * self.line
        return QPointF(box.left() + 0.7 * self.line, y), QPointF(box.left() + 3.0 * self.line, y)

    @cached_property
    def wire(self) -> tuple[QPointF, ...]:
        """From the switch to the pump."""
        (pump, radius), post = self.pump, self.contacts[0]
        turn = self.switch.bottom() + 0.6 * self.line
        return (
            post,
            QPointF(post.x(), turn),
            QPointF(pump.x(), turn),
            QPointF(pump.x(), pump.y() - radius),
        )

    @cached_property
    def small_pipe(self) -> tuple[tuple[QPointF, ...], ...]:
        """The lines of the small pipe to gauge and switch."""
        x, gauge, box = self.left - 0.45 * self.line, self.gauge, self.switch
        return (
            (
                QPointF(x, self.pipe - self.bore),
                QPointF(x, gauge.y()),
                QPointF(gauge.x() + self.radius, gauge.y()),
            ),
            (QPointF(x, box.center().y()), QPointF(box.right(), box.center().y())),
        )

    def angle(self, pressure: float) -> float:
        """Of the needle, in degrees anticlockwise from the right; it stops at the dial's ends."""
        share = min(max(pressure / self.dial, 0.0), 1.03)
        return FIRST_ANGLE - WHOLE_TURN * share

    def on_dial(self, pressure: float, reach: float) -> QPointF:
        """The point at a pressure, ``reach`` pixels from the dial's centre."""
        turn = math.radians(self.angle(pressure))
        return self.gauge + QPointF(reach * math.cos(turn), -reach * math.sin(turn))

    # --- tank ---

    @cached_property
    def axis(self) -> float:
        """The tank's axis."""
        return self.left + 0.5 * (self.width - self.left - self.right)

    @cached_property
    def bottom(self) -> float:
        """The tank's lowest point."""
        return self.pipe - 2.3 * self.line

    @cached_property
    def top(self) -> float:
        """Where the room for the tank and for what is said of its volume begins."""
        return 0.3 * self.line

    @cached_property
    def widest(self) -> float:
        """Diameter for which there is room."""
        return self.width - self.left - self.right - 1.4 * self.line

    @cached_property
    def tallest(self) -> float:
        """Height of the tank that is drawn at full height."""
        high = self.bottom - self.top - ABOVE * self.line
        return min(high, self.widest / (2.0 * SHAPE.radius))

    def tank_height(self, volume: float) -> float:
        """Height at which a tank is drawn: all that are on one scale keep their proportions."""
        return self.tallest * float((volume / self.scale) ** (1.0 / 3.0))

    @cached_property
    def inflow_words(self) -> QRectF:
        """Beside the nipple: what goes in or out."""
        x, y = self.axis + 0.8 * self.line, self.bottom + 0.75 * self.line
        return QRectF(x, y, 9.0 * self.line, 1.1 * self.line)

    # --- handles ---

    def words_of(self, entry: str) -> QPointF:
        """Where the name of a handle begins, whose value stands beneath."""
        if entry == "live_volume":
            return QPointF(self.axis - 3.0 * self.line, self.top)
        above = {
            "altitude": (self.mountain, 2.6),
            "live_air": (self.thermometer, 3.0),
            "steady_draw": (self.tap_track, 2.8),
        }
        place, lines = above[entry]
        return place.topLeft() - QPointF(0.6 * self.line, lines * self.line)

    @cached_property
    def mountain(self) -> QRectF:
        """The slope on which the altitude is shown."""
        x = self.width - self.right + 0.8 * self.line
        return QRectF(x, 2.9 * self.line, self.right - 3.0 * self.line, 2.0 * self.line)

    @cached_property
    def thermometer(self) -> QRectF:
        """Its tube."""
        x = self.mountain.left()
        return QRectF(x, 8.6 * self.line, self.right - 1.8 * self.line, 0.5 * self.line)

    @cached_property
    def tap_track(self) -> QRectF:
        """The line along which the tap is opened."""
        x = self.mountain.left()
        return QRectF(x, self.spout.y() - 1.7 * self.line, self.thermometer.width(), 0.0)

    @cached_property
    def names(self) -> tuple[QRectF, QRectF, QRectF]:
        """Where air, membrane and water are named, from the top: between thermometer and tap.

        Beneath each is room for a second line.
        """
        x, wide, high = self.mountain.left() - 0.4 * self.line, self.right, 1.1 * self.line
        top = self.thermometer.bottom() + 0.5 * self.line
        room = self.tap_track.top() - 2.9 * self.line - top - 6.6 * self.line
        gap = max(0.3 * room, 0.0)
        return (
            QRectF(x, top, wide, high),
            QRectF(x, top + 2.2 * self.line + gap, wide, high),
            QRectF(x, top + 4.4 * self.line + 2.0 * gap, wide, high),
        )

    def place_of(self, entry: str, value: float, low: float, high: float) -> QPointF:
        """Where the grip of a handle lies at a value."""
        share = min(max((value - low) / (high - low), 0.0), 1.0) if high > low else 0.0
        if entry == "precharge":
            return self.on_dial(value, self.radius + 0.55 * self.line)
        if entry in ("cut_in", "cut_out"):
            return self.on_dial(value, self.radius - 0.95 * self.line)
        if entry == "live_volume":
            return QPointF(self.axis, self.bottom - self.tank_height(value) - 0.8 * self.line)
        if entry == "altitude":
            slope = self.mountain
            return slope.bottomLeft() + QPointF(share * slope.width(), -share * slope.height())
        track = self.tap_track if entry == "steady_draw" else self.thermometer
        return QPointF(track.left() + share * track.width(), track.center().y())

    def value_at(self, entry: str, point: QPointF, low: float, high: float) -> float:
        """The value at which the grip of a handle would lie nearest to a point."""
        if entry in ("precharge", "cut_in", "cut_out"):
            return self._pressure_at(point)
        if entry == "live_volume":
            height = max(self.bottom - point.y() - 0.8 * self.line, 0.0)
            return self.scale * (min(height, self.tallest) / self.tallest) ** 3
        if entry == "altitude":
            slope = self.mountain
            along = point - slope.bottomLeft()
            length = slope.width() ** 2 + slope.height() ** 2
            share = (along.x() * slope.width() - along.y() * slope.height()) / length
        else:
            track = self.tap_track if entry == "steady_draw" else self.thermometer
            share = (point.x() - track.left()) / track.width()
        return low + min(max(share, 0.0), 1.0) * (high - low)

    def _pressure_at(self, point: QPointF) -> float:
        away = point - self.gauge
        turned = (FIRST_ANGLE - math.degrees(math.atan2(-away.y(), away.x()))) % 360.0
        if turned > WHOLE_TURN:  # in the gap below the dial: the nearer end
            turned = WHOLE_TURN if turned < 0.5 * (WHOLE_TURN + 360.0) else 0.0
        return self.dial * turned / WHOLE_TURN
