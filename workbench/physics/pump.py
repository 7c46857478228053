"""The pump: what it delivers at the tank, and the head, power and energy that this takes.

A :class:`Delivery` is what the tank sees: a flow that falls, or stays, as the pressure rises. Three
kinds of knowledge make one: one measured flow (:class:`ConstantFlow`), two measured flows
(:class:`TwoFlows`), or the points of a pump curve, less lift and friction
(:class:`CurveThroughPipe`). Beyond the entered data the answer is nan, never a guess.

Pressure and head of water: p = ρ g H with ρ = 999.7 kg/m³ (water at 10 °C and one atmosphere,
IAPWS-95: Wagner and Pruß, Journal of Physical and Chemical Reference Data, 2002) and standard
gravity. One psi is then 2.307 ft; the trade's round 2.31 ft is 0.1 % more.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray, GaugePressure
from workbench.physics.curve import PumpCurve as PumpCurve
from workbench.physics.pipe import Riser as Riser
from workbench.words import tr

WATER_DENSITY = 999.7  # kg/m³, at 10 °C
WATER_WEIGHT = WATER_DENSITY * 9.80665
"""Pressure of a metre of water [Pa/m], ρ g; also the weight of a cubic metre [N/m³]."""

_ROUNDING = 1e-12  # share of the range by which an end may be missed: rounding, not extrapolation
_QUICK_TURNS, _ALL_TURNS = 60, 120  # of the solver: Newton's where it helps, then bisections only


class Delivery(Protocol):
    """What arrives at the tank. Flow falls, or stays, as gauge pressure at the tank rises."""

    @property
    def shut_off(self) -> float | None:
        """Gauge pressure [Pa] from which no water comes; None where the data do not tell."""

    @property
    def highest_flow(self) -> float:
        """Largest flow [m³/s] that the data cover."""

    @property
    def lowest_flow(self) -> float:
        """Smallest flow [m³/s] that the data cover."""

    @property
    def is_constant(self) -> bool:
        """Whether the flow is the same at every pressure."""

    @property
    def knots(self) -> FloatArray:
        """Flows [m³/s], rising, at which the pieces of a curve meet; empty if it has one piece."""

    def flow(self, pressure: GaugePressure) -> FloatArray:
        """Flow [m³/s] at gauge pressure(s) [Pa], same shape.

        Zero at and above the shut-off, nan where the data do not reach.
        """

    def pressure(self, flow: npt.ArrayLike) -> GaugePressure:
        """Gauge pressure [Pa] at which a flow [m³/s] comes, the inverse of :meth:`flow`.

        nan where the data do not reach; ValueError if the flow is constant.
        """


@dataclass(frozen=True)
class ConstantFlow:
    """One flow [m³/s], above zero, taken to be the same at every pressure.

    >>> from workbench.physics.air import gauge_pressure
    >>> ConstantFlow(6e-4).flow(gauge_pressure([2e5, 4e5])).tolist()
    [0.0006, 0.0006]
    """

    value: float

    def __post_init__(self) -> None:
        if not (self.value > 0.0 and np.isfinite(self.value)):
            raise ValueError(tr("the pump's flow must be above zero"))

    @property
    def shut_off(self) -> None:
        """Not known: one flow says nothing about the pressure at which it ends."""
        return

    @property
    def highest_flow(self) -> float:
        """The flow [m³/s]."""
        return self.value

    @property
    def lowest_flow(self) -> float:
        """The flow [m³/s]."""
        return self.value

    @property
    def is_constant(self) -> bool:
        """Yes."""
        return True

    @property
    def knots(self) -> FloatArray:
        """None."""
        return np.empty(0)

    def flow(self, pressure: GaugePressure) -> FloatArray:
        """The flow [m³/s] for each gauge pressure [Pa], same shape."""
        return np.full(np.shape(pressure), self.value)

    def pressure(self, flow: npt.ArrayLike) -> GaugePressure:  # noqa: ARG002 - the protocol's form
        """Raise ValueError: any pressure belongs to a constant flow."""
        raise ValueError(tr("a constant flow has no pressure of its own; enter a second flow"))


@dataclass(frozen=True)
class TwoFlows:
    """A flow falling with pressure as a pump's does, through two measured points.

    p = p₀ − k Q², from no flow at the shut-off p₀ [Pa] to the open outlet at gauge zero; k in
    Pa/(m³/s)². Outside the measured points the shape is an assumption.

    Source: the one-point pump curve of the EPANET 2 Users Manual, US EPA, 2000, section 3.1, is
    this quadratic; here two points fix it.
    """

    shut_off: float
    k: float

    @classmethod
    def of(cls, cut_in: float, flow_in: float, cut_out: float, flow_out: float) -> TwoFlows:
        """The parabola through (cut-in, flow there) and (cut-out, flow there) [Pa, m³/s].

        Raises:
            ValueError: cut-out not above cut-in, a negative pressure or flow, or a flow at cut-out
                that is not less than that at cut-in (equal flows are a :class:`ConstantFlow`).

        >>> from workbench.physics.air import gauge_pressure
        >>> psi, gpm = 6894.757293168361, 3.785411784e-3 / 60
        >>> pump = TwoFlows.of(30 * psi, 12 * gpm, 50 * psi, 8 * gpm)
        >>> round(pump.shut_off / psi, 9)  # 30 + 20 × 144 / (144 − 64)
        66.0
        >>> round(float(pump.flow(gauge_pressure(66 * psi))), 9)
        0.0
        """
        low, high, most, least = (float(v) for v in (cut_in, cut_out, flow_in, flow_out))
        if not 0.0 <= low < high < np.inf:
            raise ValueError(tr("cut-out must be above cut-in, and neither below zero"))
        if not (0.0 <= least < np.inf and 0.0 < most < np.inf):
            raise ValueError(tr("the pump's flows at cut-in and cut-out must be above zero"))
        if least == most:
            raise ValueError(tr("the two flows are equal; enter one flow for both pressures"))
        if least > most:
            raise ValueError(
                tr(
                    "the flow at cut-out is larger than at cut-in, but a pump gives less against"
                    " more pressure; check whether the two flows are swapped"
                )
            )
        k = (high - low) / ((most - least) * (most + least))
        return cls(low + k * most**2, k)

    @property
    def highest_flow(self) -> float:
        """Flow [m³/s] out of the open pipe, at gauge zero."""
        return float(np.sqrt(self.shut_off / self.k))

    @property
    def lowest_flow(self) -> float:
        """Zero."""
        return 0.0

    @property
    def is_constant(self) -> bool:
        """No."""
        return False

    @property
    def knots(self) -> FloatArray:
        """None: the parabola is one piece."""
        return np.empty(0)

    def flow(self, pressure: GaugePressure) -> FloatArray:
        """Flow [m³/s] at gauge pressure(s) [Pa]: 0 from the shut-off on, nan below gauge zero."""
        p = np.asarray(pressure, dtype=np.float64)
        below = np.maximum(self.shut_off - p, 0.0)
        return np.where(p >= -_ROUNDING * self.shut_off, np.sqrt(below / self.k), np.nan)

    def pressure(self, flow: npt.ArrayLike) -> GaugePressure:
        """Gauge pressure [Pa] at flow(s) [m³/s]; nan for less than none or more than the most."""
        q = np.asarray(flow, dtype=np.float64)
        covered = (q >= 0.0) & (q <= self.highest_flow * (1.0 + _ROUNDING))
        return GaugePressure(np.where(covered, self.shut_off - self.k * q**2, np.nan))


@dataclass(frozen=True, eq=False)
class CurveThroughPipe:
    """A pump's curve as the tank feels it: p(Q) = ρ g (H(Q) − lift − friction(Q)).

    ``lift`` [m] goes from the pumping (not the static) water level up to the tank's gauge.

    Source: total dynamic head = elevation + friction + pressure head, training sheet "Determining
    total dynamic head" for well-water sanitarians, solved for the pressure.

    >>> from workbench.physics.air import gauge_pressure
    >>> curve = PumpCurve.of([0.0, 5e-4, 1e-3], [90.0, 80.0, 50.0])
    >>> at_tank = CurveThroughPipe(curve, 30.0, Riser(35.0, 0.0266, 140.0))
    >>> at_cut_out = float(at_tank.pressure(8e-4))
    >>> round(float(at_tank.flow(gauge_pressure(at_cut_out))), 12)
    0.0008
    """

    curve: PumpCurve
    lift: float
    pipe: Riser | None

    def __post_init__(self) -> None:
        if not np.isfinite(self.lift):
            raise ValueError(tr("the lift to the tank must be a number"))

    @property
    def shut_off(self) -> float | None:
        """Gauge pressure [Pa] at no flow; None if the first point is not at no flow.

        At or below zero the pump does not lift water to the tank at all.
        """
        return None if self.lowest_flow > 0.0 else float(self.pressure(0.0))

    @property
    def highest_flow(self) -> float:
        """Flow [m³/s] of the last point."""
        return float(self.curve.flows[-1])

    @property
    def lowest_flow(self) -> float:
        """Flow [m³/s] of the first point."""
        return float(self.curve.flows[0])

    @property
    def is_constant(self) -> bool:
        """No."""
        return False

    @property
    def knots(self) -> FloatArray:
        """Flows of the points [m³/s]."""
        return self.curve.flows

    def pressure(self, flow: npt.ArrayLike) -> GaugePressure:
        """Gauge pressure [Pa] at the tank at flow(s) [m³/s]; nan outside the points."""
        lost = 0.0 if self.pipe is None else self.pipe.head_lost(flow)
        return GaugePressure(WATER_WEIGHT * (self.curve.head(flow) - self.lift - lost))

    def _slope(self, flow: FloatArray) -> FloatArray:
        lost = 0.0 if self.pipe is None else self.pipe.slope(flow)
        return np.asarray(WATER_WEIGHT * (self.curve.slope(flow) - lost))

    def flow(self, pressure: GaugePressure) -> FloatArray:
        """Flow [m³/s] at gauge pressure(s) [Pa]: 0 from the shut-off on, nan outside the points.

        Solved to 1e-14 of the flow range, as far as the pressure's own rounding allows where the
        curve is flat.
        """
        wanted = np.asarray(pressure, dtype=np.float64)
        ends = self.pressure(self.curve.flows[[0, -1]])
        slack = _ROUNDING * (np.abs(ends).max() + WATER_WEIGHT * abs(self.lift))
        covered = wanted >= ends[1] - slack
        if self.lowest_flow > 0.0:  # else the highest pressure is the shut-off, and no flow above
            covered &= wanted <= ends[0] + slack
        found = self._solve(np.clip(wanted, ends[1], ends[0]))
        # The ends are known; the solver might stop short of one where the curve is flat.
        found = np.where(wanted >= ends[0], self.lowest_flow, found)
        found = np.where(wanted <= ends[1], self.highest_flow, found)
        return np.where(covered, found, np.nan)

    def _solve(self, wanted: FloatArray) -> FloatArray:
        """Newton's method, with a bisection whenever it would leave the bracket or crawl."""
        at_knots = self.pressure(self.knots)
        gap = np.clip(np.searchsorted(-at_knots, -wanted) - 1, 0, self.knots.size - 2)
        low, high = self.knots[gap], self.knots[gap + 1]
        share = (at_knots[gap] - wanted) / (at_knots[gap] - at_knots[gap + 1])
        flow = np.clip(low + share * (high - low), low, high)
        step, done = high - low, ~np.isfinite(wanted)
        for turn in range(_ALL_TURNS):
            miss = self.pressure(flow) - wanted
            low, high = np.where(miss > 0.0, flow, low), np.where(miss > 0.0, high, flow)
            with np.errstate(divide="ignore", invalid="ignore"):
                better = flow - miss / self._slope(flow)
                good = (better >= low) & (better <= high) & (abs(better - flow) <= 0.5 * step)
            better = np.where(good & (turn < 60), better, 0.5 * (low + high))
            step = np.where(done, step, np.abs(better - flow))
            flow = np.where(done, flow, better)
            done |= step <= 1e-15 * self.highest_flow
            if np.all(done):
                break
        return np.asarray(flow)


def total_dynamic_head(
    pressure: GaugePressure, lift: npt.ArrayLike, friction: npt.ArrayLike
) -> FloatArray:
    """Head [m] that the pump must give: pressure at the tank as head, and lift, and friction.

    Args:
        pressure: gauge [Pa] at the tank, cut-out for the check of a pump; all broadcast.
        lift: from the pumping water level up to the tank [m].
        friction: lost in the pipe [m].

    Source: training sheet "Determining total dynamic head" for well-water sanitarians; the numbers
    of the example are those of a trade magazine for water-well drillers (203.0 ft by 2.31 ft/psi).

    >>> from workbench.physics.air import gauge_pressure
    >>> psi, foot = 6894.757293168361, 0.3048
    >>> head = total_dynamic_head(gauge_pressure(50 * psi), 60 * foot, 27.5 * foot)
    >>> round(float(head) / foot, 1)
    202.9
    """
    return np.asarray(pressure / WATER_WEIGHT + np.asarray(lift) + np.asarray(friction))


def reach_margin(shut_off: npt.ArrayLike, cut_out: GaugePressure) -> GaugePressure:
    """Pressure [Pa] by which the shut-off passes cut-out; at or below zero the pump never stops.

    >>> from workbench.physics.air import gauge_pressure
    >>> float(reach_margin(4.5e5, gauge_pressure(4.0e5)))
    50000.0
    """
    return GaugePressure(np.asarray(np.asarray(shut_off, dtype=np.float64) - cut_out))


def hydraulic_power(flow: npt.ArrayLike, head: npt.ArrayLike) -> FloatArray:
    """Power [W] that the water receives, ρ g Q H, from flow [m³/s] and head [m], broadcast.

    Source: DOE Fundamentals Handbook, Thermodynamics, Heat Transfer, and Fluid Flow, US Department
    of Energy, DOE-HDBK-1012/3-92, 1992, module 3, "Centrifugal pumps" (pump power, from memory).

    >>> round(float(hydraulic_power(1e-3, 50.0)), 1)
    490.2
    """
    return np.asarray(WATER_WEIGHT * np.asarray(flow, dtype=np.float64) * np.asarray(head))


def energy_per_volume(head: npt.ArrayLike, efficiency: npt.ArrayLike) -> FloatArray:
    """Electric energy for each volume of water [J/m³], ρ g H / η.

    Args:
        head: total dynamic head [m].
        efficiency: of pump, motor and cable together [-], above 0 and at most 1.

    Raises:
        ValueError: an efficiency outside that.

    Source: arithmetic from :func:`hydraulic_power`.

    >>> foot, kilo_gallon, kwh = 0.3048, 3.785411784, 3.6e6
    >>> energy = energy_per_volume(250 * foot, 0.45) * kilo_gallon / kwh
    >>> round(float(energy), 2)  # kWh for 1,000 gal: 0.003141 × 250 / 0.45 = 1.745
    1.75
    """
    share = np.asarray(efficiency, dtype=np.float64)
    if not np.all((share > 0.0) & (share <= 1.0)):
        raise ValueError(tr("the efficiency must be above 0 and at most 100 %"))
    return np.asarray(WATER_WEIGHT * np.asarray(head, dtype=np.float64) / share)


def affinity(
    flow: npt.ArrayLike, head: npt.ArrayLike, speed_ratio: npt.ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """Flow and head of a curve's points at another speed: Q s and H s² (and power s³).

    It moves the pump's curve, not the point at which the pump works against a static head.

    Args:
        flow, head: of the points at the first speed, any unit.
        speed_ratio: s, second speed by first [-], above zero.

    Raises:
        ValueError: a ratio of zero or less.

    Source: DOE Fundamentals Handbook, Thermodynamics, Heat Transfer, and Fluid Flow, US Department
    of Energy, DOE-HDBK-1012/3-92, 1992, module HT-03, p. 50, equations 3-23 to 3-25.

    >>> [float(value) for value in affinity(100.0, 100.0, 3500 / 1750)]  # gpm, ft
    [200.0, 400.0]
    """
    s = np.asarray(speed_ratio, dtype=np.float64)
    if not np.all((s > 0.0) & np.isfinite(s)):
        raise ValueError(tr("the ratio of the speeds must be above zero"))
    return np.asarray(np.asarray(flow) * s), np.asarray(np.asarray(head) * s**2)
