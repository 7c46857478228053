"""A run of the pump by scipy's solver of differential equations, sharing no formula with us.

The state is the net flow n = Q − q and the time runs until an event, its value at the next corner:

    dn/dt = n / (dw/dp · dp/dQ)

dw/dp is Boyle's law differentiated by hand, tank by tank; dp/dQ the pump's parabola or scipy's own
monotone cubic less Hazen-Williams as its US form is printed. Between corners all is smooth.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from scipy.integrate import solve_ivp  # type: ignore[import-untyped]
from scipy.interpolate import PchipInterpolator  # type: ignore[import-untyped]
from scipy.optimize import brentq  # type: ignore[import-untyped]

PSI = 6894.757293168361
GAL = 3.785411784e-3
GPM = GAL / 60
FOOT, INCH = 0.3048, 0.0254
AIR = 14.7 * PSI
WEIGHT = 999.7 * 9.80665  # Pa per metre of water at 10 °C


class Parabola:
    """p = p₀ − k Q² through two flows, gauge Pa."""

    def __init__(self, low: float, flow_low: float, high: float, flow_high: float) -> None:
        self.k = (high - low) / (flow_low**2 - flow_high**2)
        self.top = low + self.k * flow_low**2
        self.corners: list[float] = []

    def flow(self, pressure: float) -> float:
        return float(np.sqrt((self.top - pressure) / self.k))

    def slope(self, flow: float) -> float:
        return -2.0 * self.k * flow


class Points:
    """A curve's points less lift and friction, gauge Pa."""

    def __init__(
        self, flow: np.ndarray, head: np.ndarray, lift: float, length: float, bore: float
    ) -> None:
        self.points, self.lift = flow, lift
        self._head = PchipInterpolator(flow, head)
        self._head_slope = self._head.derivative()
        self._friction = (
            length * 0.002083 * (100 / 140) ** 1.852 / GPM**1.852 / (bore / INCH) ** 4.8655
        )
        self.corners = [self.pressure(float(q)) for q in flow]

    def pressure(self, flow: float) -> float:
        return float(WEIGHT * (self._head(flow) - self.lift - self._friction * flow**1.852))

    def slope(self, flow: float) -> float:
        lost = 1.852 * self._friction * flow**0.852
        return float(WEIGHT * (self._head_slope(flow) - lost))

    def flow(self, pressure: float) -> float:
        return float(
            brentq(
                lambda q: self.pressure(q) - pressure,
                self.points[0],
                self.points[-1],
                xtol=1e-20,
                rtol=1e-15,
            )
        )


@dataclass
class Tanks:
    """Sealed tanks at one pressure: volumes [m³], absolute precharges [Pa], most water [m³]."""

    volume: list[float]
    precharge: list[float]
    most: list[float]
    exponent: float = 1.0
    full: list[float] = field(init=False)

    def __post_init__(self) -> None:
        self.full = [
            charge / (1 - most / volume) ** self.exponent if most < volume else np.inf
            for volume, charge, most in zip(self.volume, self.precharge, self.most, strict=True)
        ]

    @property
    def corners(self) -> list[float]:
        return [p - AIR for p in (*self.precharge, *self.full)]

    def slope(self, pressure: float, middle: float) -> float:
        """dw/dp at a gauge pressure; ``middle`` says between which corners."""
        p, m = pressure + AIR, middle + AIR
        n = self.exponent
        parts = (
            volume / n * charge ** (1 / n) * p ** (-1 / n - 1)
            for volume, charge, full in zip(self.volume, self.precharge, self.full, strict=True)
            if charge < m < full
        )
        return float(sum(parts))

    def water(self, pressure: float) -> float:
        """Water in all tanks at a gauge pressure, from the air's volumes."""
        parts = (
            min(volume - volume * (charge / (pressure + AIR)) ** (1 / self.exponent), most)
            for volume, charge, most in zip(self.volume, self.precharge, self.most, strict=True)
            if pressure + AIR > charge
        )
        return float(sum(parts))


def seconds(
    pump: Parabola | Points, tanks: Tanks, start: float, end: float, demand: float
) -> float:
    """Seconds from one gauge pressure to another (up or down) while the pump runs."""
    low, high = min(start, end), max(start, end)
    between = {p for p in (*pump.corners, *tanks.corners) if low < p < high}
    stops = sorted({low, high} | between, reverse=end < start)
    total = 0.0
    for before, after in pairwise(stops):
        middle = 0.5 * (before + after)
        if tanks.slope(middle, middle) > 0.0:  # else the pressure jumps, in no time
            total += _piece(pump, tanks, before, after, demand)
    return total


def _piece(
    pump: Parabola | Points, tanks: Tanks, before: float, after: float, demand: float
) -> float:
    first, last = pump.flow(before) - demand, pump.flow(after) - demand
    middle = 0.5 * (before + after)
    pressure = pump.pressure if isinstance(pump, Points) else lambda q: pump.top - pump.k * q**2

    def rate(_time: float, net: np.ndarray) -> list[float]:
        flow = float(net[0]) + demand
        return [float(net[0]) / (tanks.slope(pressure(flow), middle) * pump.slope(flow))]

    def there(_time: float, net: np.ndarray) -> float:
        return float(net[0]) / last - 1.0

    there.terminal = True  # type: ignore[attr-defined]
    solved = solve_ivp(
        rate, (0.0, 1e9), [first], method="DOP853", events=there, rtol=1e-11, atol=0.0
    )
    assert solved.status == 1, "the event must end the run"
    return float(solved.t_events[0][0])
