"""What is done at a rig and watched there: it fills, is drained, refills, stands, is drawn from.

All that is found comes from following the rig's own physics (:mod:`workbench.physics.motion`).
"""

from __future__ import annotations

import math
from collections import OrderedDict
from collections.abc import Hashable
from dataclasses import dataclass, fields, replace
from functools import cached_property
from threading import Lock
from typing import Any

from workbench.physics.motion import Happening, advance, step
from workbench.physics.pump import CurveThroughPipe, Delivery
from workbench.physics.system import Moment, State, System
from workbench.study.faults.scaled import Scaled
from workbench.study.live.rig import Rig
from workbench.units import FLOW

DRAIN = 5.0 * FLOW.units["gpm"].factor
"""What an open drain valve draws [m³/s]: our own round figure for the tests that need one."""
HOUR = 3600.0
_LONGEST_RUN = HOUR  # s until a pump counts as one that never stops
_LONGEST_DRAW = 24 * HOUR  # s
_TEN_MINUTES, _BLINK = 600.0, 1e-3  # s
_MOST_EVENTS = 20_000  # in one search: a tank without water clicks many times a second
_KEPT = 96  # rigs, so that an edit of tolerances runs none of them anew


@dataclass(frozen=True, slots=True)
class Drained:
    """A bucket test from stop to start: seconds, water in the bucket [m³], and what there was to
    see when the switch clicked; ``needle``: how fast it fell then [Pa/s].
    """

    state: State
    moment: Moment
    seconds: float
    water: float
    needle: float


@dataclass(frozen=True, slots=True)
class Refill:
    """From start to stop with every tap shut: seconds, and gauge pressure [Pa] at the stop."""

    seconds: float
    pressure: float


@dataclass(frozen=True, slots=True)
class Turned:
    """From one start to the next at a steady draw: run and rest [s]; inf: it runs on."""

    run: float
    rest: float


class Watched:
    """A rig at which things are done, with ``tap`` [m³/s] the steady draw of the house."""

    def __init__(self, rig: Rig, tap: float) -> None:
        self.rig, self.tap, self.system = rig, tap, rig.system
        # Without power the contacts may close, but no pump starts; then the lag is of no matter.
        self._cold = replace(rig.system, start_delay=1e9, sensing_lag=0.0)
        self._clicks: dict[float, _Found | None] = {}

    # --- the pump runs with every tap shut ---

    @cached_property
    def stop(self) -> State | None:
        """The state at which the pump stops, taps shut; None: it runs for an hour and more."""
        found = self._until(Happening.OPENED, self._start, 0.0, _LONGEST_RUN)
        return found.state if found.reached else None

    @cached_property
    def _start(self) -> State:
        return self.system.at_rest(self.system.cut_in)

    @cached_property
    def standing(self) -> Moment:
        """What is to be seen after the stop, or after an hour's run that does not end."""
        state = self.stop
        if state is None:
            state, _ = advance(self.system, self._start, _LONGEST_RUN, 0.0)
        return self.system.moment(state, 0.0)

    # --- bucket and watch ---

    @cached_property
    def drained(self) -> Drained | None:
        """Drained into buckets from stop to start; None where it never stops."""
        found = self._click(DRAIN)
        if self.stop is None or found is None:
            return None
        seconds = found.state.time - self.stop.time
        moment = self.system.moment(found.state, 0.0)
        before = found.state.stored + (DRAIN + self.system.back_flow) * _BLINK
        needle = (self.system.pressure(before) - moment.pressure) / _BLINK
        return Drained(found.state, moment, seconds, DRAIN * (seconds - found.dry), needle)

    @cached_property
    def refill(self) -> Refill | None:
        """From the click of the start, tap shut at once, to the stop."""
        if self.drained is None:
            return None
        start = self.drained.state
        found = self._until(Happening.OPENED, start, 0.0, _LONGEST_RUN)
        if not found.reached:
            return None
        pressure = self.system.moment(found.state, 0.0).pressure
        return Refill(found.state.time - start.time, pressure)

    # --- nothing is drawn ---

    @cached_property
    def fall(self) -> float:
        """By how much the gauge falls [Pa] in ten minutes: power off, house valve and taps shut."""
        start = replace(self._cold.at_rest(self.standing.pressure), closed=False)
        after, _ = advance(self._cold, start, _TEN_MINUTES, 0.0)
        return self.standing.pressure - self._cold.pressure(after.stored)

    @cached_property
    def idle_starts(self) -> int:
        """Starts in the hour after a stop, with nothing open."""
        if self.stop is None or self.system.back_flow == 0.0:
            return 0
        after, _ = advance(self.system, self.stop, HOUR, 0.0)
        return after.starts - self.stop.starts

    # --- power off, drained ---

    @cached_property
    def cliff(self) -> float | None:
        """Gauge pressure [Pa] at which the needle drops at once; None: no water to begin with."""
        start = replace(self._cold.at_rest(self.standing.pressure), closed=False)
        if start.stored <= self._cold.emptied_at:
            return None
        if self._cold.precharge == 0.0:
            return 0.0  # it falls as slowly as before, down to nothing
        found = _until(self._cold, Happening.EMPTIED, start, DRAIN, _LONGEST_DRAW)
        return self._cold.pressure(found.state.stored) if found.reached else None

    @cached_property
    def drained_charge(self) -> float:
        """Gauge pressure [Pa] of the air when all water that can leave has left the tank."""
        one = self._cold
        empty = one.moment(replace(one.at_rest(0.0), closed=False), 0.0)
        share = float((one.volume / empty.air) ** one.exponent)
        return (one.precharge + one.ambient) * share - one.ambient

    # --- the house draws ---

    @cached_property
    def gap(self) -> float:
        """Seconds for which nothing leaves the tap until the pump gives."""
        if self.stop is None or self.tap <= 0.0:
            return 0.0
        gives = Happening.GIVES if self.system.start_delay > 0.0 else Happening.CLOSED
        return self._until(gives, self.stop, self.tap, _LONGEST_DRAW).dry

    @cached_property
    def turned(self) -> Turned | None:
        """Run and rest at the steady draw; None: nothing is drawn, or no start within a day."""
        if self.tap <= 0.0:
            return None
        if self.stop is None:
            return Turned(math.inf, 0.0)
        start = self._click(self.tap)
        if start is None:
            return None
        stop = self._until(Happening.OPENED, start.state, self.tap, _LONGEST_RUN)
        if not stop.reached:
            return Turned(math.inf, 0.0)
        again = self._until(Happening.CLOSED, stop.state, self.tap, _LONGEST_DRAW)
        rest = again.state.time - stop.state.time if again.reached else math.inf
        return Turned(stop.state.time - start.state.time, rest)

    def _click(self, draw: float) -> _Found | None:
        """Drawn from after the stop until the switch clicks; None: it stops or starts never."""
        if draw not in self._clicks:
            found = None
            if self.stop is not None:
                found = self._until(Happening.CLOSED, self.stop, draw, _LONGEST_DRAW)
            self._clicks[draw] = found if found is not None and found.reached else None
        return self._clicks[draw]

    def _until(self, kind: Happening, state: State, tap: float, limit: float) -> _Found:
        return _until(self.system, kind, state, tap, limit)


@dataclass(frozen=True, slots=True)
class _Found:
    """Where a search ended; whether with what was looked for, or with its time; seconds dry."""

    state: State
    reached: bool
    dry: float


def _until(system: System, kind: Happening, state: State, tap: float, limit: float) -> _Found:
    """Follow a system to the first such happening, for ``limit`` seconds at most.

    Seconds dry are those in which nothing came, each time until the pump gave or the search ended.
    """
    end, dry, since = state.time + limit, 0.0, None
    for _ in range(_MOST_EVENTS):
        state, event = step(system, state, max(end - state.time, 0.0), tap)
        if event is None:
            break
        if event.kind is Happening.DRY and since is None:
            since = event.time
        if since is not None and event.kind in (kind, Happening.GIVES):
            dry, since = dry + event.time - since, None
        if event.kind is kind:
            return _Found(state, reached=True, dry=dry)
    return _Found(state, reached=False, dry=dry)


# --- kept ---

_watched: OrderedDict[Hashable, Watched] = OrderedDict()
_lock = Lock()  # the page asks from two threads


def watched(rig: Rig, tap: float) -> Watched:
    """What is watched at a rig; the last few are kept, by all that makes a rig."""
    key = (_key(rig), tap)
    with _lock:
        found = _watched.get(key)
        if found is None:
            found = _watched[key] = Watched(rig, tap)
            if len(_watched) > _KEPT:
                _watched.popitem(last=False)
        _watched.move_to_end(key)
    return found


def _key(rig: Rig) -> Hashable:
    system = rig.system
    values = [getattr(system, one.name) for one in fields(system) if one.name != "delivery"]
    delivery = _key_of_pump(system.delivery)
    return (*values, delivery, rig.setting, rig.water_above, rig.charge_loss)


def _key_of_pump(delivery: Delivery) -> Any:
    """Equal for equal pumps; a pump of a kind that is not known is only equal to itself."""
    if isinstance(delivery, Scaled):
        return delivery.flow_share, delivery.head_share, _key_of_pump(delivery.inner)
    if isinstance(delivery, CurveThroughPipe):
        curve = delivery.curve
        return curve.flows.tobytes(), curve.heads.tobytes(), delivery.lift, delivery.pipe
    return delivery
