"""A pump's curve: head over flow, from the points that its paper gives."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray
from workbench.words import tr

FEWEST_POINTS, MOST_POINTS = 3, 20
_ROUNDING = 1e-12  # share of the range by which an end may be missed: rounding, not extrapolation


@dataclass(frozen=True, eq=False)
class PumpCurve:
    """Head over flow between entered points: a cubic in each gap that never turns round.

    Where the points fall the curve falls, without the humps of an ordinary spline.

    Source: F. N. Fritsch and R. E. Carlson, "Monotone piecewise cubic interpolation", SIAM Journal
    on Numerical Analysis 17, 1980 (the method); F. N. Fritsch and J. Butland, "A method for
    constructing local monotone piecewise cubic interpolants", SIAM Journal on Scientific and
    Statistical Computing 5, 1984 (the slopes at the points).
    """

    flows: FloatArray
    """Flow [m³/s] of each point (k,), strictly rising."""
    heads: FloatArray
    """Head [m] of each point (k,), strictly falling."""
    _cubics: FloatArray
    """(4, k − 1): coefficients of the cube, square, first power and constant in each gap."""

    @classmethod
    def of(cls, flow: npt.ArrayLike, head: npt.ArrayLike) -> PumpCurve:
        """The curve through 3 to 20 points in order of flow.

        Args:
            flow: [m³/s] (k,), zero or more, strictly rising.
            head: [m] (k,), strictly falling.

        Raises:
            ValueError: too few or many points, or the number of the first point that is wrong.

        >>> curve = PumpCurve.of([0.0, 5e-4, 1e-3], [90.0, 80.0, 50.0])
        >>> curve.head([0.0, 2.5e-4, 1e-3, 2e-3]).tolist()
        [90.0, 86.875, 50.0, nan]
        """
        q = np.atleast_1d(np.asarray(flow, dtype=np.float64)).copy()
        h = np.atleast_1d(np.asarray(head, dtype=np.float64)).copy()
        _check_points(q, h)
        gaps, steps = np.diff(q), np.diff(h) / np.diff(q)
        slopes = _monotone_slopes(gaps, steps)
        bend = (slopes[:-1] + slopes[1:] - 2.0 * steps) / gaps
        cubics = np.stack([bend / gaps, (steps - slopes[:-1]) / gaps - bend, slopes[:-1], h[:-1]])
        for part in (q, h, cubics):
            part.flags.writeable = False
        return cls(q, h, cubics)

    def _gap(self, flow: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
        """Flow past the point before it (nan outside the points), and the cubic's coefficients."""
        q = np.asarray(flow, dtype=np.float64)
        gap = np.searchsorted(self.flows[1:-1], q, side="right")
        slack = _ROUNDING * self.flows[-1]
        covered = (q >= self.flows[0] - slack) & (q <= self.flows[-1] + slack)
        return np.where(covered, q - self.flows[gap], np.nan), self._cubics[:, gap]

    def head(self, flow: npt.ArrayLike) -> FloatArray:
        """Head [m] at flow(s) [m³/s], same shape; nan outside the points."""
        x, (cube, square, first, start) = self._gap(flow)
        return np.asarray(((cube * x + square) * x + first) * x + start)

    def slope(self, flow: npt.ArrayLike) -> FloatArray:
        """d head / d flow [m/(m³/s)] at flow(s) [m³/s], zero or less; nan outside the points."""
        x, (cube, square, first, _) = self._gap(flow)
        return np.asarray((3.0 * cube * x + 2.0 * square) * x + first)


def _check_points(flow: FloatArray, head: FloatArray) -> None:
    if flow.ndim != 1 or flow.shape != head.shape:
        raise ValueError(tr("every point of the pump curve needs a flow and a head"))
    if not FEWEST_POINTS <= flow.size <= MOST_POINTS:
        raise ValueError(
            tr(
                "a pump curve needs {fewest} to {most} points; there are {count}",
                fewest=FEWEST_POINTS,
                most=MOST_POINTS,
                count=flow.size,
            )
        )
    for place in range(flow.size):
        number = place + 1
        if not (np.isfinite(flow[place]) and flow[place] >= 0.0):
            raise ValueError(
                tr("point {number} of the pump curve: its flow must be 0 or more", number=number)
            )
        if not np.isfinite(head[place]):
            raise ValueError(
                tr("point {number} of the pump curve: its head must be a number", number=number)
            )
        if place and flow[place] <= flow[place - 1]:
            raise ValueError(
                tr(
                    "point {number} of the pump curve: its flow must be larger than that of the"
                    " point before; put the points in order of flow, each flow once",
                    number=number,
                )
            )
        if place and head[place] >= head[place - 1]:
            raise ValueError(
                tr(
                    "point {number} of the pump curve: its head must be less than that of the point"
                    " before; a pump's head falls as its flow grows",
                    number=number,
                )
            )


def _monotone_slopes(gaps: FloatArray, steps: FloatArray) -> FloatArray:
    """Slope at every point, from the widths and the mean slopes of the gaps (all falling)."""
    before, after = 2.0 * gaps[1:] + gaps[:-1], gaps[1:] + 2.0 * gaps[:-1]
    inner = (before + after) / (before / steps[:-1] + after / steps[1:])
    first = _end_slope(gaps[0], gaps[1], steps[0], steps[1])
    last = _end_slope(gaps[-1], gaps[-2], steps[-1], steps[-2])
    return np.concatenate(([first], inner, [last]))


def _end_slope(gap: float, next_gap: float, step: float, next_step: float) -> float:
    """Slope of the parabola through the three end points, but never one that rises.

    Fritsch and Butland also hold it to three times the end's mean slope where the curve turns
    round; falling points never turn.
    """
    slope = ((2.0 * gap + next_gap) * step - gap * next_step) / (gap + next_gap)
    return min(slope, 0.0)
