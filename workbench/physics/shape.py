"""The shape of a standing tank, for drawing it to scale: a cylinder with two domed heads.

All lengths are shares of the tank's whole height, all volumes shares of its whole volume: height 0
is the lowest point, 1 the highest. Each head is half of an ellipsoid, a quarter of the diameter
deep (the "2:1" head). With the radius r, the head's depth h = r / 2 and the height z above the
bottom, up to the top of the lower head,

    half width² = r² (2 z / h − (z / h)²),   volume below = π r² (z² / h − z³ / (3 h²))

What is physics here: the volumes below a level and below the membrane are exact. What is a drawing:
the proportions of the tank, the height at which the membrane is held and the way in which it bends.
A real one folds as its maker made it; ours is the wall below (or above) its rim, flattened towards
the rim's plane, so that it lies on the wall when the tank is empty (or full of water).

Source: the volume of an ellipsoid's cap, elementary geometry; the 2:1 semi-elliptical head is named
in the ASME Boiler and Pressure Vessel Code, Section VIII, Division 1 (from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray
from workbench.words import tr

_TURNS = 60  # of a bisection: more than a float's digits
_ROUNDING = 1e-9  # by which shares may pass their ends: what a sum of floats leaves


@dataclass(frozen=True)
class Shape:
    """A standing tank of a height ``slenderness`` times its diameter, at least 0.5 (heads alone).

    ``rim``: share of the height at which the membrane is held, on the straight part of the wall.

    Raises:
        ValueError: a slenderness below 0.5 or not a number; a rim that is not on the straight wall.

    >>> tank = Shape(slenderness=2.0)
    >>> round(tank.radius, 6), round(tank.head, 6)
    (0.25, 0.125)
    >>> float(tank.level(0.5)), round(float(tank.share_below(0.125)), 6)  # a head is 1/11 of it
    (0.5, 0.090909)
    """

    slenderness: float = 1.8
    rim: float = 0.5

    def __post_init__(self) -> None:
        if not 0.5 <= self.slenderness < math.inf:
            raise ValueError(tr("the tank's height must be at least half of its diameter"))
        if not self.head <= self.rim <= 1.0 - self.head:
            raise ValueError(tr("the membrane's rim must be on the straight part of the wall"))

    @property
    def radius(self) -> float:
        """Half of the diameter, as a share of the height."""
        return 0.5 / self.slenderness

    @property
    def head(self) -> float:
        """Depth of a head, as a share of the height."""
        return 0.5 * self.radius

    @cached_property
    def _whole(self) -> float:
        """The volume by the area of the cylinder: the height of a cylinder that holds as much."""
        return 1.0 - 2.0 * self.head / 3.0

    @cached_property
    def share_below_rim(self) -> float:
        """Share of the volume below the membrane's rim."""
        return float(self.share_below(self.rim))

    def share_below(self, height: npt.ArrayLike) -> FloatArray:
        """Share of the volume below a height; any shape, the same comes back.

        Raises:
            ValueError: a height that is not from 0 to 1.
        """
        z = _shares(height, tr("the height in the tank"))
        from_end = np.minimum(z, 1.0 - z)  # the tank is the same from both ends
        u = np.minimum(from_end / self.head, 1.0)
        cap = self.head * u**2 * (1.0 - u / 3.0)
        share = (cap + np.maximum(from_end - self.head, 0.0)) / self._whole
        return np.asarray(np.where(z <= 0.5, share, 1.0 - share))

    def level(self, share: npt.ArrayLike) -> FloatArray:
        """Height below which a share of the volume lies, the inverse of :meth:`share_below`.

        In a head it is a cubic, u² − u³ / 3 = v, solved by the cosine of a third of an angle.

        Raises:
            ValueError: a share that is not from 0 to 1.
        """
        wanted = _shares(share, tr("the share of the tank's volume"))
        volume = np.minimum(wanted, 1.0 - wanted) * self._whole
        third = 2.0 / 3.0 * np.arcsin(np.sqrt(np.minimum(0.75 * volume / self.head, 0.5)))
        u = 2.0 * np.sin(0.5 * third) ** 2 + math.sqrt(3.0) * np.sin(third)
        straight = np.maximum(volume - 2.0 / 3.0 * self.head, 0.0)
        from_end = self.head * u + straight
        return np.asarray(np.where(wanted <= 0.5, from_end, 1.0 - from_end))

    def half_width(self, height: npt.ArrayLike) -> FloatArray:
        """From the axis to the wall, as a share of the tank's height.

        Raises:
            ValueError: a height that is not from 0 to 1.
        """
        z = _shares(height, tr("the height in the tank"))
        u = np.minimum(np.minimum(z, 1.0 - z) / self.head, 1.0)
        return np.asarray(self.radius * np.sqrt(u * (2.0 - u)))

    def outline(self, points: int = 48) -> tuple[FloatArray, FloatArray]:
        """Half widths and heights of the right-hand wall from the lowest point to the highest.

        ``points`` of each head, close together where it bends most; 2 · points in all.
        """
        turn = np.linspace(0.0, 0.5 * math.pi, points)
        wide, high = self.radius * np.sin(turn), self.head * (1.0 - np.cos(turn))
        return np.concatenate((wide, wide[::-1])), np.concatenate((high, 1.0 - high[::-1]))

    def membrane(self, share: float, points: int = 48) -> tuple[FloatArray, FloatArray]:
        """Half widths and heights of the membrane from its rim to the axis, with ``share`` below.

        The volume of revolution below it is exactly that share of the tank. It hangs along the wall
        from the rim and never passes it; level with the rim at ``share_below_rim``.

        Raises:
            ValueError: a share that is not from 0 to 1.

        >>> wide, high = Shape(slenderness=2.0).membrane(0.5)
        >>> bool((abs(high - 0.5) < 1e-15).all()), float(wide[0]), float(wide[-1])
        (True, 0.25, 0.0)
        """
        bend = self._bend(share)
        wide, wall = self.outline(points)
        half = slice(None, points) if bend < 0.0 else slice(None, points - 1, -1)
        high = self.rim + abs(bend) * (wall[half] - self.rim)
        return np.append(wide[half], self.radius)[::-1], np.append(high, self.rim)[::-1]

    def pool(self, below: float, above: float) -> float:
        """Level of water that lies on the membrane, where it has a hole.

        Args:
            below, above: shares of the tank's volume below the membrane and of the water on it.

        Returns:
            The height of its surface; of the membrane's lowest point if there is none.

        Raises:
            ValueError: shares below 0, or above 1 together.
        """
        bend = self._bend(below)
        room = float(_shares(below + above, tr("the share of the tank's volume")))
        _shares(above, tr("the share of the tank's volume"))
        depth = -bend * self.share_below_rim  # what fits into the hollow of the membrane
        if bend >= 0.0:
            return self._pool_beside(bend, above, room)
        if above >= depth:
            return float(self.level(room))
        return self.rim + bend * (self.rim - float(self.level(above / -bend)))

    def _pool_beside(self, bend: float, above: float, room: float) -> float:
        """Level of water around a membrane that is pushed up."""
        wall_ends = self.rim + bend * (1.0 - self.head - self.rim)  # from here there is room
        low, high = min(wall_ends, float(self.level(room))), float(self.level(room))
        if above <= 0.0:
            return wall_ends
        for _ in range(_TURNS):
            middle = 0.5 * (low + high)
            inside = 1.0
            if bend > 0.0 and middle < self.rim + bend * (1.0 - self.rim):
                inside = float(self.share_below(self.rim + (middle - self.rim) / bend))
            taken = bend * (inside - self.share_below_rim)
            held = float(self.share_below(middle)) - self.share_below_rim - taken
            low, high = (middle, high) if held < above else (low, middle)
        return high

    def _bend(self, share: float) -> float:
        """−1 where the membrane lies on the bottom, 0 flat, 1 where it lies under the top."""
        wanted = float(_shares(share, tr("the share of the tank's volume")))
        level = self.share_below_rim
        room = level if wanted < level else 1.0 - level
        return (wanted - level) / room


def _shares(values: npt.ArrayLike, name: str) -> FloatArray:
    """Values from 0 to 1; what a float's rounding leaves beyond is no error."""
    given = np.asarray(values, dtype=np.float64)
    if not np.all((given >= -_ROUNDING) & (given <= 1.0 + _ROUNDING)):
        raise ValueError(tr("{name} must be from 0 to 1", name=name))
    return np.clip(given, 0.0, 1.0)
