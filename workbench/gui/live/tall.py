"""The tall arrangement of the live tank's picture, for where the wide one has no room.

Gauge and switch stand above, the tank with the names of what is in it beneath them, then pump and
tap, and at the foot what is moved along a track. Only the places differ from the wide arrangement.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from PySide6.QtCore import QPointF, QRectF

from workbench.gui.live.places import ABOVE, SHAPE, Places

_EDGE = 0.2
_SWITCH = 3.7  # width of the switch's box
_COLUMN = _EDGE + _SWITCH + 0.2  # what it takes beside the gauge
_PIPES = 1.9  # what wire and small pipe take beside the tank
_UNDER = 4.6  # from the tank to the pipe: small pipe, relief valve
_FOOT = 4.3  # from the pipe to the tracks: names and figures of pump and tap
_TRACKS = 7.6
_LEAST = 11.4
_LEAST_TANK = 4.6


def least_tall(line: float, left: float, right: float) -> float:
    """The least width of the picture [px]: for the columns that its texts need, and the tank."""
    return max(
        _LEAST * line,
        _PIPES * line + left - 1.5 * line,
        (_PIPES + _LEAST_TANK) * line + right,
    )


@dataclass(frozen=True)
class TallPlaces(Places):
    """As :class:`Places`; ``right`` is the column of the names beside the tank."""

    @cached_property
    def needed(self) -> float:
        """The height at which all has its room at this width."""
        tank = self.widest / (2.0 * SHAPE.radius)
        return self.top + (ABOVE + _UNDER + _FOOT + _TRACKS) * self.line + tank

    # --- gauge and switch ---

    @cached_property
    def radius(self) -> float:
        """Of the dial."""
        return min(0.5 * self._beside.width() - 1.15 * self.line, 4.2 * self.line)

    @cached_property
    def _beside(self) -> QRectF:
        """The column of gauge and legend."""
        left = _COLUMN * self.line
        return QRectF(left, 0.0, self.width - left - _EDGE * self.line, self.height)

    @cached_property
    def gauge(self) -> QPointF:
        """The dial's centre."""
        return QPointF(self._beside.center().x(), self.radius + 1.3 * self.line)

    @cached_property
    def _under_gauge(self) -> float:
        """Height of the small pipe on its way to the gauge."""
        return self.gauge.y() + self.radius + 0.4 * self.line

    @cached_property
    def legend(self) -> QRectF:
        """Under the dial."""
        top = self._under_gauge + 0.2 * self.line
        wide = self.width - self._legend_left - _EDGE * self.line
        return QRectF(self._legend_left, top, wide, self.legend_height)

    @property
    def _legend_left(self) -> float:
        """Under the switch, so far that the figure stands under the dial."""
        centre = self._beside.center().x()
        return max(2.0 * centre - self.width + _EDGE * self.line, _PIPES * self.line)

    @cached_property
    def switch(self) -> QRectF:
        """The box of the pressure switch, beside the gauge."""
        high = 4.8 * self.line
        top = self.gauge.y() - 0.5 * high
        return QRectF(_EDGE * self.line, top, _SWITCH * self.line, high)

    @cached_property
    def switch_words(self) -> QPointF:
        """Above the contacts."""
        return self.switch.topLeft() + QPointF(0.6 * self.line, 0.2 * self.line)

    @cached_property
    def wire(self) -> tuple[QPointF, ...]:
        """Down along the edge."""
        (pump, radius), post, x = self.pump, self.contacts[0], 0.45 * self.line
        out = self.switch.bottom() + 0.45 * self.line
        turn = pump.y() - radius - 0.55 * self.line
        return (
            post,
            QPointF(post.x(), out),
            QPointF(x, out),
            QPointF(x, turn),
            QPointF(pump.x(), turn),
            QPointF(pump.x(), pump.y() - radius),
        )

    @cached_property
    def small_pipe(self) -> tuple[tuple[QPointF, ...], ...]:
        """From the nipple up into the switch, with a branch to the gauge."""
        x, gauge, across = 1.45 * self.line, self.gauge, self._under_gauge
        nipple = QPointF(self.axis - self.bore, self.bottom + 0.75 * self.line)
        return (
            (nipple, QPointF(x, nipple.y()), QPointF(x, self.switch.bottom())),
            (
                QPointF(x, across),
                QPointF(gauge.x(), across),
                QPointF(gauge.x(), gauge.y() + self.radius),
            ),
        )

    # --- tank ---

    @cached_property
    def pipe(self) -> float:
        """Height of the pipe's axis."""
        return self.height - (_FOOT + _TRACKS) * self.line

    @cached_property
    def bottom(self) -> float:
        """The tank's lowest point."""
        return self.pipe - _UNDER * self.line

    @cached_property
    def top(self) -> float:
        """Beneath the legend."""
        return self.legend.bottom() + 0.3 * self.line

    @cached_property
    def axis(self) -> float:
        """Of the tank, between the pipes and the names."""
        return 0.5 * (_PIPES * self.line + self.width - self.right)

    @cached_property
    def widest(self) -> float:
        """Diameter for which there is room."""
        return self.width - self.right - (_PIPES + 0.7) * self.line

    @cached_property
    def names(self) -> tuple[QRectF, QRectF, QRectF]:
        """Beside the tank, from its top to its bottom."""
        x, high = self.width - self.right + 0.5 * self.line, 1.1 * self.line
        first, last = self.top + (ABOVE + 0.3) * self.line, self.bottom - 2.4 * self.line
        tops = (first, 0.5 * (first + last), last)
        air, skin, water = (QRectF(x, top, self.right, high) for top in tops)
        return air, skin, water

    @cached_property
    def inflow_words(self) -> QRectF:
        """Beside the nipple, above what the relief valve lets out."""
        return super().inflow_words.translated(0.0, -0.4 * self.line)

    # --- beneath ---

    @cached_property
    def spout(self) -> QPointF:
        """Where water leaves the tap."""
        return QPointF(self.width - 1.8 * self.line, self.pipe - 1.5 * self.line)

    @cached_property
    def relief(self) -> float:
        """Behind the nipple."""
        return self.axis + self.bore + 1.3 * self.line

    @cached_property
    def relief_words(self) -> float:
        """To the right of what is said of the pump."""
        return max(self.relief, 6.1 * self.line)

    # --- at the foot ---

    @cached_property
    def _foot(self) -> float:
        return self.pipe + _FOOT * self.line

    def words_of(self, entry: str) -> QPointF:
        """As in the wide arrangement, but never on the small pipe."""
        place = super().words_of(entry)
        if entry == "live_volume":
            place.setX(max(place.x(), _PIPES * self.line))
        return place

    @cached_property
    def mountain(self) -> QRectF:
        """The slope of the altitude, at the left."""
        wide = 0.5 * self.width - 3.6 * self.line
        return QRectF(1.0 * self.line, self._foot + 2.6 * self.line, wide, 3.0 * self.line)

    @cached_property
    def tap_track(self) -> QRectF:
        """The line along which the tap is opened, at the right, under the tap."""
        left = 0.5 * self.width + 0.9 * self.line
        wide = self.width - left - 1.0 * self.line
        return QRectF(left, self._foot + 2.8 * self.line, wide, 0.0)

    @cached_property
    def thermometer(self) -> QRectF:
        """Its tube, beneath that."""
        track = self.tap_track
        return QRectF(track.left(), self._foot + 6.6 * self.line, track.width(), 0.5 * self.line)
