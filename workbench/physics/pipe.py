"""The pipe between pump and tank: friction and velocity of water in a full round pipe.

Hazen-Williams, as it is printed for American units, and turned into SI by exact factors only:

    feet lost in 100 feet = 0.2083 (100 / C)^1.852 Q^1.852 / d^4.8655   (Q in gpm, bore d in inches)

It is an empirical law for cool water in turbulent flow; C stands for the pipe's smoothness.

Source: the form is common practice; so printed, with 1.85 for 1.852, in the Handbook of PE Pipe,
Plastics Pipe Institute, 2nd edition, 2008, chapter 6 (from memory). It is checked against the
friction table for schedule 40 plastic pipe of the Illinois Administrative Code, title 77, part 906,
appendix A, exhibit I, and the formula of the EPANET 2 Users Manual, US EPA, 2000, table 3.1.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray
from workbench.words import tr

_GPM = 3.785411784e-3 / 60.0  # m³/s
_INCH = 0.0254  # m
_FLOW_EXPONENT = 1.852
_BORE_EXPONENT = 4.8655
_COEFFICIENT = 0.2083 / 100.0  # lost length per length of pipe, at C = 100, 1 gpm, 1 in

HIGHEST_VELOCITY = 5 * 0.3048
"""Velocity [m/s] that a design keeps below, 5 ft/s: training sheet "Determining total dynamic
head" for well-water sanitarians."""


@dataclass(frozen=True)
class Pipe:
    """A kind of pipe: its Hazen-Williams C [-] for design, and bore [m] by nominal size."""

    roughness_c: float
    bores: dict[str, float]


def _bores(*inches: float) -> dict[str, float]:
    sizes = ("3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3")
    return {size: bore * _INCH for size, bore in zip(sizes, inches, strict=True)}


_SCHEDULE_40 = _bores(0.824, 1.049, 1.380, 1.610, 2.067, 2.469, 3.068)

PIPES: dict[str, Pipe] = {
    "plastic_40": Pipe(140.0, _SCHEDULE_40),
    "polyethylene": Pipe(140.0, _SCHEDULE_40),
    "galvanized": Pipe(100.0, _SCHEDULE_40),
    "copper_l": Pipe(130.0, _bores(0.785, 1.025, 1.265, 1.505, 1.985, 2.465, 2.945)),
}
"""Pipes by kind. C as the training sheet "Determining total dynamic head" designs with: 140 for
plastic, 100 for steel, 130 for copper. Bores, outside diameter less two walls (from memory):
ASTM D1785 and ASME B36.10M, schedule 40; ASTM D2239, polyethylene with controlled inside diameter;
ASTM B88, copper type L."""


def _loss_factor(
    length: npt.ArrayLike, bore: npt.ArrayLike, roughness_c: npt.ArrayLike
) -> FloatArray:
    """Metres lost at 1 gpm."""
    run, d = np.asarray(length, dtype=np.float64), np.asarray(bore, dtype=np.float64)
    c = np.asarray(roughness_c, dtype=np.float64)
    if not np.all((run >= 0.0) & np.isfinite(run)):
        raise ValueError(tr("the pipe's length must be zero or more"))
    if not np.all((d > 0.0) & np.isfinite(d)):
        raise ValueError(tr("the pipe's bore must be above zero"))
    if not np.all((c > 0.0) & np.isfinite(c)):
        raise ValueError(tr("the pipe's Hazen-Williams C must be above zero"))
    smoothness = (100.0 / c) ** _FLOW_EXPONENT
    return np.asarray(_COEFFICIENT * run * smoothness / (d / _INCH) ** _BORE_EXPONENT)


def friction_head(
    flow: npt.ArrayLike, length: npt.ArrayLike, bore: npt.ArrayLike, roughness_c: npt.ArrayLike
) -> FloatArray:
    """Head [m] lost to friction; it has the sign of the flow and is zero without any.

    Args:
        flow: [m³/s], any shape; all arguments broadcast.
        length: of pipe, fittings included as length [m], zero or more.
        bore: inside diameter [m], above zero.
        roughness_c: Hazen-Williams C [-], above zero; about 100 (old steel) to 150 (new plastic).

    Raises:
        ValueError: a negative length, or a bore or C of zero or less.

    Source: this module's head.

    >>> gpm, foot, inch = 3.785411784e-3 / 60, 0.3048, 0.0254
    >>> lost = friction_head(10 * gpm, 100 * foot, 1.049 * inch, 150)
    >>> round(float(lost) / foot, 2)  # Illinois prints 5.50
    5.54
    """
    amount = np.asarray(flow, dtype=np.float64)
    power = np.abs(amount / _GPM) ** _FLOW_EXPONENT
    return np.asarray(np.sign(amount) * power * _loss_factor(length, bore, roughness_c))


def friction_slope(
    flow: npt.ArrayLike, length: npt.ArrayLike, bore: npt.ArrayLike, roughness_c: npt.ArrayLike
) -> FloatArray:
    """How fast the lost head grows with the flow, d head / d flow [m/(m³/s)], never negative.

    Arguments and errors as :func:`friction_head`, of which it is the derivative.

    >>> gpm, foot, inch = 3.785411784e-3 / 60, 0.3048, 0.0254
    >>> slope = friction_slope(10 * gpm, 100 * foot, 1.049 * inch, 150)
    >>> round(float(slope) * gpm / foot, 3)  # ft for one more gpm: 1.852 × 5.54 / 10
    1.026
    """
    amount = np.abs(np.asarray(flow, dtype=np.float64) / _GPM)
    power = _FLOW_EXPONENT * amount ** (_FLOW_EXPONENT - 1.0) / _GPM
    return np.asarray(power * _loss_factor(length, bore, roughness_c))


def velocity(flow: npt.ArrayLike, bore: npt.ArrayLike) -> FloatArray:
    """Mean velocity [m/s] of a flow [m³/s] in a bore [m]: flow over area, 4 Q / (π d²).

    Raises:
        ValueError: a bore of zero or less.

    Source: continuity, OpenStax College Physics, 2012, section 12.1.

    >>> gpm, foot, inch = 3.785411784e-3 / 60, 0.3048, 0.0254
    >>> round(float(velocity(10 * gpm, 1.049 * inch)) / foot, 2)  # 0.4085 Q / d²
    3.71
    """
    d = np.asarray(bore, dtype=np.float64)
    if not np.all((d > 0.0) & np.isfinite(d)):
        raise ValueError(tr("the pipe's bore must be above zero"))
    return np.asarray(4.0 * np.asarray(flow, dtype=np.float64) / (np.pi * d**2))


@dataclass(frozen=True)
class Riser:
    """The pipe from pump to tank: length and bore [m], Hazen-Williams C, and its fittings.

    ``fittings`` is an extra share of length that stands for elbows, tees and valves: 0.25 is
    common practice where they are not counted one by one.

    >>> foot, inch, gpm = 0.3048, 0.0254, 3.785411784e-3 / 60
    >>> riser = Riser(100 * foot, 1.049 * inch, 150)
    >>> round(float(riser.head_lost(10 * gpm)) / foot, 2)  # 5.54 ft and a quarter more
    6.92
    """

    length: float
    bore: float
    roughness_c: float
    fittings: float = 0.25

    def __post_init__(self) -> None:
        if not 0.0 <= self.fittings < np.inf:
            raise ValueError(tr("the share of length for fittings must be zero or more"))
        friction_head(0.0, self.length, self.bore, self.roughness_c)  # checks the other three

    def head_lost(self, flow: npt.ArrayLike) -> FloatArray:
        """Head [m] lost at flow(s) [m³/s], same shape."""
        return friction_head(flow, self._laid, self.bore, self.roughness_c)

    def slope(self, flow: npt.ArrayLike) -> FloatArray:
        """d head lost / d flow [m/(m³/s)] at flow(s) [m³/s], same shape."""
        return friction_slope(flow, self._laid, self.bore, self.roughness_c)

    @property
    def _laid(self) -> float:
        return self.length * (1.0 + self.fittings)
