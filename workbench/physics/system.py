"""A well system in motion: pump, switch, tank, pipes and a tap, followed from event to event.

The state is the water S [m³] that stands under pressure, in the tank and in the pipes, which give a
little of their own: with the gauge pressure p [Pa], the tank's water w as in
:mod:`workbench.physics.tank` and the pipes' give C [m³/Pa],

    S(p) = w(p + ambient) + C · p,    dS/dt = Q(p) − q while the pump gives, else −(q + b)

with the pump's flow Q, the tap's draw q and what flows back to the well b. Without C a tank that is
empty would let the pressure fall to nothing in no time at all; with it that fall, the pump's start
and the tap that runs dry take the seconds that they take. How one state comes from another is
:mod:`workbench.physics.motion`.

Source: a mass balance on tank and pipes; at C = 0 and without delays it is MIL-HDBK-1005/9A, US
Department of Defense, paragraph 2.5.3.6.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from workbench.physics import system_nodes
from workbench.physics.air import gauge_pressure
from workbench.physics.fill import FillCurve
from workbench.physics.pump import Delivery
from workbench.physics.way import Ways
from workbench.words import tr

_TURNS = 60  # of Newton's way, which needs a handful
_SAME = 1e-12  # share by which a level may be missed
_BRIEFEST = 1e-4  # s of the pump's flow that the switch's band must hold, to be followed at all


@dataclass(frozen=True, slots=True)
class State:
    """Where a system stands: ``time`` [s] since its beginning, ``stored`` water S [m³].

    ``closed``: the contacts are; ``delay``: seconds until the pump gives, once they are.
    ``sensed``: gauge pressure [Pa] in the switch. ``starts``: how often the contacts have closed.
    """

    time: float
    stored: float
    closed: bool
    delay: float
    sensed: float
    starts: int = 0


@dataclass(frozen=True, slots=True)
class Moment:
    """What there is to be seen of a state; gauge pressures [Pa], volumes [m³], flows [m³/s].

    ``pump_flow`` is what the pump gives, ``tap_flow`` what leaves the tap, ``back_flow`` what runs
    back into the well, ``relief_flow`` what leaves the relief valve. ``water`` is in the tank,
    ``air`` the room of its air. ``is_dry``: there is no pressure, and the tap gives less than it is
    opened to.
    """

    time: float
    pressure: float
    sensed: float
    water: float
    air: float
    pump_flow: float
    tap_flow: float
    back_flow: float
    closed: bool
    gives: bool
    is_empty: bool
    is_dry: bool
    is_full: bool
    starts: int
    relief_flow: float = 0.0

    @property
    def stored_flow(self) -> float:
        """What comes to the water under pressure [m³/s]; below zero what it loses."""
        return self.pump_flow - self.tap_flow - self.back_flow - self.relief_flow


@dataclass(frozen=True, eq=False)
class System:
    """One pre-charged tank with its pump, switch and pipes. Gauge pressures [Pa] unless said.

    Args:
        volume: total volume [m³]. acceptance: most water [m³], inf if it is not known.
        precharge: gauge [Pa], zero or above. exponent: compression exponent [-].
        ambient: absolute [Pa].
        delivery: what the pump gives at the tank.
        cut_in, cut_out: where the contacts really close and open.
        relief: where the relief valve opens, above cut-out.
        line_give: water that the pipes give for each pascal [m³/Pa], above zero.
        start_delay: from the closing of the contacts until the pump gives its flow [s].
        back_flow: what runs back into the well while the pump rests [m³/s].
        sensing_lag: time constant [s] with which the switch feels the pressure; 0 at once.

    Raises:
        ValueError: a value out of its range, named; a pump whose data do not reach over the band;
            a band that holds so little water that the pump would start thousands of times a second.
    """

    volume: float
    precharge: float
    ambient: float
    delivery: Delivery
    cut_in: float
    cut_out: float
    relief: float
    line_give: float
    start_delay: float
    acceptance: float = math.inf
    exponent: float = 1.0
    back_flow: float = 0.0
    sensing_lag: float = 0.0

    def __post_init__(self) -> None:
        above_zero = {
            tr("total volume"): self.volume,
            tr("compression exponent"): self.exponent,
            tr("air pressure"): self.ambient,
            tr("give of the pipes"): self.line_give,
        }
        for name, value in above_zero.items():
            if not 0.0 < value < math.inf:
                raise ValueError(tr("{name} must be above zero", name=name))
        if not self.acceptance > 0.0:
            raise ValueError(tr("{name} must be above zero", name=tr("acceptance")))
        not_below = {
            tr("precharge"): self.precharge,
            tr("start of the pump"): self.start_delay,
            tr("flow back to the well"): self.back_flow,
            tr("lag of the switch"): self.sensing_lag,
        }
        for name, value in not_below.items():
            if not 0.0 <= value < math.inf:
                raise ValueError(tr("{name} must be zero or above", name=name))
        if not 0.0 < self.cut_in < self.cut_out < self.relief < math.inf:
            raise ValueError(
                tr("cut-in must be above zero, cut-out above it, the relief valve above both")
            )
        if np.isnan(self.delivery.flow(gauge_pressure([self.cut_in, self.cut_out]))).any():
            raise ValueError(tr("the pump's data do not reach from cut-in to cut-out; add points"))
        if self.stored(self.cut_out) - self.starts_at < _BRIEFEST * self.delivery.highest_flow:
            raise ValueError(
                tr(
                    "tank and pipes give almost no water between cut-in and cut-out, so the pump"
                    " would start thousands of times a second; let the pipes give more"
                )
            )

    # --- water and pressure ---

    def water(self, pressure: float) -> float:
        """Water [m³] in the tank at a gauge pressure [Pa].

        >>> from workbench.physics.pump import ConstantFlow
        >>> one = System(0.1, 1e5, 1e5, ConstantFlow(6e-4), 2e5, 3e5, 6e5, 1e-12, 0.0)
        >>> one.water(3e5)  # half of it: 2 bar absolute has become 4
        0.05
        """
        if pressure <= self.precharge:
            return 0.0
        share = (self.precharge + self.ambient) / (pressure + self.ambient)
        air = float(share ** (1.0 / self.exponent))
        return min(self.volume * (1.0 - air), self.acceptance)

    def stored(self, pressure: float) -> float:
        """Water [m³] under pressure in tank and pipes at a gauge pressure [Pa], zero or above."""
        return self.water(pressure) + self.line_give * pressure

    def pressure(self, stored: float) -> float:
        """Gauge pressure [Pa] of this much water [m³], the inverse of :meth:`stored`."""
        if stored <= self.emptied_at:
            return stored / self.line_give
        if stored >= self.filled_at:
            return (stored - self.acceptance) / self.line_give
        # Concave in p, so Newton's way from below never steps over the answer.
        charge, power = self.precharge + self.ambient, 1.0 / self.exponent
        absolute = charge
        if self.exponent == 1.0:  # a quadratic, taken for the start: rounding is left to Newton
            b = self.volume - stored - self.line_give * self.ambient
            energy = self.volume * charge
            root = math.sqrt(b * b + 4.0 * self.line_give * energy)
            absolute = 2.0 * energy / (b + root) if b > 0.0 else 0.5 * (root - b) / self.line_give
        for _ in range(_TURNS):
            share = (charge / absolute) ** power
            miss = self.volume * (1.0 - share) + self.line_give * (absolute - self.ambient) - stored
            step = miss / (self.volume * power * share / absolute + self.line_give)
            absolute -= step
            if abs(step) <= 1e-14 * absolute:
                break
        return max(absolute - self.ambient, self.precharge)  # no less, by rounding

    @cached_property
    def full_at(self) -> float:
        """Gauge pressure [Pa] at which the membrane is at its limit; inf if it never is."""
        share = 1.0 - self.acceptance / self.volume
        if share <= 0.0:
            return math.inf
        return (self.precharge + self.ambient) / float(share**self.exponent) - self.ambient

    @cached_property
    def emptied_at(self) -> float:
        """Water under pressure [m³] with which the tank has none left: the pipes' alone."""
        return self.line_give * self.precharge

    @cached_property
    def filled_at(self) -> float:
        """Water under pressure [m³] with which the membrane reaches its limit; inf if never."""
        return math.inf if self.full_at == math.inf else self.stored(self.full_at)

    @cached_property
    def starts_at(self) -> float:
        """Water under pressure [m³] at cut-in."""
        return self.stored(self.cut_in)

    @cached_property
    def relieved_at(self) -> float:
        """Water under pressure [m³] at which the relief valve opens."""
        return self.stored(self.relief)

    @cached_property
    def top(self) -> float:
        """The most water [m³] that is followed while the pump gives: to cut-out, or to the relief
        valve where the switch feels the pressure late.
        """
        return float(self.fill.water[-1])

    def pump_flow(self, stored: float) -> float:
        """What the pump gives [m³/s] once up to speed, with this much water under pressure."""
        return float(np.interp(stored, self.fill.water, self.fill.flow))

    @cached_property
    def fill(self) -> FillCurve:
        """The pump's flow over S, straight between nodes."""
        highest = self.cut_out if self.sensing_lag == 0.0 else self.relief
        corners = (self.precharge, self.full_at)
        at = system_nodes.pressures(self.delivery, corners, self.cut_in, highest)
        water = np.array([self.stored(float(p)) for p in at])
        rises = np.concatenate(([True], np.diff(water) > 0.0))
        at, water = at[rises], water[rises]
        flow = system_nodes.flows(self.delivery, at, self.cut_in)
        return FillCurve(water, flow, gauge_pressure(at), self.starts_at)

    @cached_property
    def ways(self) -> Ways:
        """Where the water goes while the pump gives."""
        return Ways(self.fill)

    # --- states ---

    def at_rest(self, pressure: float, time: float = 0.0, starts: int = 0) -> State:
        """The state at a gauge pressure [Pa], with the pump running if that is at or below cut-in.

        Raises:
            ValueError: a pressure below zero or not a number.
        """
        if not 0.0 <= pressure < math.inf:
            raise ValueError(tr("{name} must be zero or above", name=tr("pressure")))
        closed = pressure <= self.cut_in
        return State(time, self.stored(pressure), closed, 0.0, pressure, starts)

    def moved_here(self, state: State, before: System) -> State:
        """The state of another system in this one, at the same gauge pressure.

        It carries on from what the gauge shows: what is changed in a tank, a switch or a pump
        changes the water that this pressure holds. A pressure at which the contacts or the relief
        valve would have moved meanwhile acts on the next step.
        """
        pressure = before.pressure(state.stored)
        sensed = state.sensed if self.sensing_lag > 0.0 else pressure
        return replace(state, stored=self.stored(pressure), sensed=sensed)

    def moment(self, state: State, tap: float) -> Moment:
        """What there is to be seen, with the tap drawing ``tap`` [m³/s]."""
        pressure = self.pressure(state.stored)
        gives = state.closed and state.delay <= 0.0
        pump = self.pump_flow(state.stored) if gives else 0.0
        back = 0.0 if gives else self.back_flow
        dry = state.stored <= 0.0
        water = self.water(pressure)
        relieved = gives and state.stored >= self.relieved_at * (1.0 - _SAME)
        return Moment(
            time=state.time,
            pressure=pressure,
            sensed=state.sensed,
            water=water,
            air=self.volume - water,
            pump_flow=pump,
            tap_flow=min(tap, pump) if dry else tap,
            back_flow=0.0 if dry else back,
            closed=state.closed,
            gives=gives,
            is_empty=state.stored <= self.emptied_at * (1.0 + _SAME),
            is_dry=dry and pump < tap,
            is_full=pressure >= self.full_at,
            starts=state.starts,
            relief_flow=max(pump - tap, 0.0) if relieved else 0.0,
        )
