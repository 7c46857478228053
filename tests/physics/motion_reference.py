"""A well system in motion by scipy's solver of differential equations, sharing no formula with us.

The state is the gauge pressure p and, where the switch is late, what it senses:

    dp/dt = (flow in − flow out) / (dw/dp + C),   ds/dt = (p − s) / lag

with Boyle's law differentiated by hand. Wherever the right side has a corner (precharge, the
membrane's limit, no pressure, the relief valve) or something switches, the solver is stopped by an
event and started anew, so all is smooth while it runs. The pumps are those of ``run_reference``.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np
from scipy.integrate import solve_ivp  # type: ignore[import-untyped]

from tests.physics.run_reference import AIR, GAL, GPM, PSI, Parabola, Points
from workbench.physics.curve import PumpCurve
from workbench.physics.motion import Event
from workbench.physics.pipe import Riser
from workbench.physics.pump import ConstantFlow, CurveThroughPipe, Delivery, TwoFlows
from workbench.physics.system import System

Flow = Callable[[float], float]
_FOOT, _INCH = 0.3048, 0.0254
GIVE = 0.005 * GAL / (10 * PSI)  # of the pipes; what a job begins with


def pump(kind: str) -> tuple[Delivery, Flow]:
    """An invented pump for 40/60 psi, ours and the reference's, by its kind."""
    if kind == "constant":
        return ConstantFlow(10 * GPM), lambda _pressure: 10 * GPM
    if kind == "falling":
        parabola = Parabola(40 * PSI, 12 * GPM, 60 * PSI, 7 * GPM)
        return TwoFlows.of(40 * PSI, 12 * GPM, 60 * PSI, 7 * GPM), lambda p: parabola.flow(
            min(p, parabola.top)
        )
    flow = np.array([0.0, 4.0, 8.0, 12.0, 16.0]) * GPM
    head = np.array([95.0, 90.0, 80.0, 63.0, 38.0])
    lift, length, bore = 24.0, 60 * _FOOT, 1.049 * _INCH
    ours = CurveThroughPipe(PumpCurve.of(flow, head), lift, Riser(length, bore, 140.0, 0.0))
    points = Points(flow, head, lift, length, bore)
    end = points.pressure(float(flow[-1]))

    def held(pressure: float) -> float:
        return float(flow[-1]) if pressure <= end else points.flow(pressure)

    return ours, held


def sample(**changed: object) -> System:
    """44 gallons at 38 psi, 40/60 psi and ten gallons a minute."""
    usual = System(
        volume=44 * GAL,
        precharge=38 * PSI,
        ambient=AIR,
        delivery=ConstantFlow(10 * GPM),
        cut_in=40 * PSI,
        cut_out=60 * PSI,
        relief=85 * PSI,
        line_give=GIVE,
        start_delay=1.0,
    )
    return replace(usual, **changed)  # type: ignore[arg-type]


def kinds(events: tuple[Event, ...]) -> list[str]:
    return [event.kind.name for event in events]


@dataclass
class Reference:
    """A system being followed: the time, gauge pressure, sensed pressure and the switch."""

    system: System
    flow: Flow
    tap: float
    pressure: float
    closed: bool = False
    delay: float = 0.0
    time: float = 0.0
    sensed: float = field(init=False)
    begun: float = field(init=False)
    events: list[tuple[str, float]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.sensed = self.begun = self.pressure
        one = self.system
        air_left = 1.0 - one.acceptance / one.volume
        charge = one.precharge + one.ambient
        self.full = charge / air_left**one.exponent - one.ambient if air_left > 0.0 else math.inf

    def run(self, until: float) -> None:
        """Follow it to a time [s]."""
        while self.time < until:
            self._switch()
            end = until
            if self.closed and self.delay > 0.0:
                end = min(until, self.time + self.delay)
            self._piece(end)

    def _switch(self) -> None:
        if self.closed and self.sensed >= self.system.cut_out:
            self.closed, self.delay = False, 0.0
            self.events.append(("OPENED", self.time))
        elif not self.closed and self.sensed <= self.system.cut_in:
            self.closed, self.delay = True, self.system.start_delay
            self.events.append(("CLOSED", self.time))

    def _net(self, pressure: float) -> float:
        if self.closed and self.delay <= 0.0:
            return self.flow(pressure) - self.tap
        return -self.tap - self.system.back_flow

    def _piece(self, end: float) -> None:
        one, rises = self.system, self._net(self.pressure) > 0.0
        late = one.sensing_lag > 0.0
        stays = (self.pressure <= 0.0 and not rises) or (
            late and self.pressure >= one.relief and rises
        )
        beside = self.pressure + (1.0 if rises else -1.0)  # tells between which corners
        holds = one.precharge < beside < self.full

        def rate(_time: float, y: np.ndarray) -> list[float]:
            slope, power = one.line_give, 1.0 / one.exponent
            if holds:
                charge, absolute = one.precharge + one.ambient, y[0] + one.ambient
                slope += one.volume * power * charge**power * absolute ** (-power - 1.0)
            change = 0.0 if stays else self._net(float(y[0])) / slope
            return [change, (y[0] - y[1]) / one.sensing_lag if late else 0.0]

        levels = [p for p in self._levels(late) if abs(p - self.pressure) > 1e-9 * (p + 1.0)]
        stops = [_stop(0, level) for level in levels]
        if late:
            stops.append(_stop(1, one.cut_out if self.closed else one.cut_in))
        solved = solve_ivp(
            rate,
            (self.time, end),
            [self.pressure, self.sensed],
            method="DOP853",
            events=stops,
            rtol=1e-10,
            atol=1e-5,
            max_step=0.25 * one.sensing_lag if late else np.inf,
        )
        self._take(solved, levels, late=late)

    def _levels(self, late: bool) -> list[float]:
        one = self.system
        last = one.relief if late else one.cut_out if self.closed else one.cut_in
        return [p for p in (0.0, one.precharge, self.full, last) if math.isfinite(p)]

    def _take(self, solved: object, levels: list[float], *, late: bool) -> None:
        times, states, hits = solved.t, solved.y, solved.t_events  # type: ignore[attr-defined]
        before, spent = self.pressure, float(times[-1]) - self.time
        was_waiting = self.closed and self.delay > 0.0
        self.time = float(times[-1])
        self.pressure, self.sensed = float(states[0, -1]), float(states[1, -1])
        if self.closed:
            self.delay = self.delay - spent if self.delay - spent > 1e-12 else 0.0
        for level, hit in zip(levels, hits, strict=False):
            if hit.size:
                self.pressure = level
                self._tell(level, before)
        if not late:
            self.sensed = self.pressure
        elif hits[-1].size:
            self.sensed = self.system.cut_out if self.closed else self.system.cut_in
        if was_waiting and self.delay == 0.0:
            self.events.append(("GIVES", self.time))

    def _tell(self, level: float, before: float) -> None:
        names = {0.0: "DRY", self.system.precharge: "EMPTIED"}
        if level in names and before > level:
            self.events.append(("DRY" if level == 0.0 else "EMPTIED", self.time))
        if level == self.system.relief and before < level:
            self.events.append(("RELIEVED", self.time))


def invented(seed: int) -> tuple[System, Reference]:
    """A random system with its reference, both at rest between cut-in and cut-out."""
    dice = np.random.default_rng(seed)
    delivery, flow = pump(("constant", "falling", "curve")[seed % 3])
    volume = float(dice.uniform(5.0, 60.0)) * GAL
    one = sample(
        volume=volume,
        precharge=float(dice.choice([0.0, 25.0, 38.0, 39.9, 45.0, 56.0])) * PSI,
        delivery=delivery,
        line_give=GIVE * float(dice.uniform(0.5, 40.0)),
        start_delay=float(dice.choice([0.0, 0.7, 3.0])),
        acceptance=volume * float(dice.choice([math.inf, 0.3, 0.15])),
        exponent=float(dice.choice([1.0, 1.2])),
        back_flow=float(dice.choice([0.0, 0.4])) * GPM,
        sensing_lag=float(dice.choice([0.0, 0.0, 0.6, 6.0])),
    )
    tap = float(dice.choice([0.0, dice.uniform(0.2, 9.5), dice.uniform(0.2, 18.0)])) * GPM
    begin = float(dice.uniform(41.0, 59.0)) * PSI
    return one, Reference(one, flow, tap, begin)


def _stop(which: int, level: float) -> Callable[[float, np.ndarray], float]:
    def there(_time: float, y: np.ndarray) -> float:
        return float(y[which] - level)

    there.terminal = True  # type: ignore[attr-defined]
    return there
