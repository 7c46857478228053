"""The air in the live tank's picture: dots that crowd as it is pressed together."""

from __future__ import annotations

from functools import cache

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from workbench.gui.live.places import SHAPE, Places
from workbench.gui.live.scene import Scene
from workbench.gui.live.sketch import use
from workbench.gui.theme import Theme
from workbench.physics.air import FloatArray

_FULL_AIR = 220  # dots of a tank full of air at one bar absolute
_BAR = 1e5
_MOST_DOTS = 2400
_DOT = 2.0  # px
_PLASTIC = 1.0 / 1.32471795724474602596  # its powers spread points evenly over a square
_UNEVEN = 1.0  # of the distance between two of them, by which each is moved at most


@cache
def _spread() -> FloatArray:
    """Places of the dots, each within a square of side 1: even, but in no pattern."""
    n = np.arange(1, _MOST_DOTS + 1)
    chance = np.random.PCG64(1).random_raw(2 * _MOST_DOTS).reshape(2, -1) * 2.0**-64
    even = np.stack((n * _PLASTIC, n * _PLASTIC**2))
    return np.asarray((even + chance * _UNEVEN / np.sqrt(n)) % 1.0)


def draw_air(painter: QPainter, places: Places, scene: Scene, look: Theme) -> None:
    """As many dots as there is air, however small its room: the smaller, the denser."""
    high = places.tank_height(scene.volume)
    taken = scene.below + scene.above
    system = scene.rig.system
    charge = (system.precharge + system.ambient) / _BAR
    count = min(int(_FULL_AIR * charge * system.volume / places.scale), _MOST_DOTS)
    if count == 0 or taken >= 1.0 - 1e-6:
        return
    along, across = _spread()[:, :count]
    # Each keeps its place in the air's own volume, so they move up as the air is pressed together.
    heights = SHAPE.level(taken + along * (1.0 - taken))
    wide = SHAPE.half_width(heights) * (2.0 * across - 1.0) * 0.97
    x = (places.axis + wide * high).tolist()
    y = (places.bottom - heights * high).tolist()
    dots = QPen(QColor(look.muted), _DOT)
    dots.setCapStyle(Qt.PenCapStyle.SquareCap)  # round ones take thirty times as long
    use(painter, dots)
    painter.drawPoints(QPolygonF([QPointF(a, b) for a, b in zip(x, y, strict=True)]))
