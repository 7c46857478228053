"""A well system in motion: from one state to the next, with all that happens between.

Between two events the water is followed exactly (:mod:`workbench.physics.way`). Only a switch that
feels the pressure late is followed in steps of 20 ms, in each of which the pressure is taken as
straight and the lag solved exactly.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum, auto

from workbench.physics.system import State, System
from workbench.words import tr

_STEP = 0.02  # s, while the switch feels the pressure late
_TURNS = 60  # of a bisection: more than a float's digits
_SAME = 1e-12  # share by which a level may be missed


class Happening(Enum):
    """What can happen between two moments."""

    CLOSED = auto()  # the contacts close: the pump is switched on
    GIVES = auto()  # the pump is up to speed, a moment after; not told if it takes no time
    OPENED = auto()  # the contacts open: the pump is switched off
    EMPTIED = auto()  # the last water left the tank
    DRY = auto()  # no pressure is left, the tap gives nothing
    RELIEVED = auto()  # the relief valve opens


@dataclass(frozen=True, slots=True)
class Event:
    """What happened, and when [s]."""

    time: float
    kind: Happening


def step(system: System, state: State, seconds: float, tap: float) -> tuple[State, Event | None]:
    """The state after ``seconds``, or at the first thing that happens within them, and that.

    Args:
        seconds: zero or above. tap: the draw [m³/s], zero or above.

    Raises:
        ValueError: seconds or a draw below zero.
    """
    if not (seconds >= 0.0 and tap >= 0.0):
        raise ValueError(tr("seconds and draw must not be below zero"))
    at_once = _contacts(system, state)
    if at_once is not None:
        return at_once
    if system.sensing_lag > 0.0:
        return _late_step(system, state, seconds, tap)
    return _plain_step(system, state, seconds, tap)


def advance(
    system: System, state: State, seconds: float, tap: float
) -> tuple[State, tuple[Event, ...]]:
    """The state after ``seconds`` and all that happened within them; arguments as of :func:`step`.

    >>> from workbench.physics.pump import ConstantFlow
    >>> one = System(0.1, 1e5, 1e5, ConstantFlow(6e-4), 2e5, 3e5, 6e5, 1e-12, 0.0)
    >>> state, events = advance(one, one.at_rest(3e5), 60.0, 3e-4)
    >>> [event.kind.name for event in events], round(events[0].time, 3)
    (['CLOSED'], 55.556)
    """
    events: list[Event] = []
    end = state.time + seconds
    while True:
        state, event = step(system, state, max(end - state.time, 0.0), tap)
        if event is None:
            return state, tuple(events)
        events.append(event)


def _contacts(system: System, state: State) -> tuple[State, Event] | None:
    """What the switch does at this very moment."""
    if state.closed and state.sensed >= system.cut_out * (1.0 - _SAME):
        opened = replace(state, closed=False, delay=0.0)
        return opened, Event(state.time, Happening.OPENED)
    if not state.closed and state.sensed <= system.cut_in * (1.0 + _SAME):
        closed = replace(state, closed=True, delay=system.start_delay, starts=state.starts + 1)
        return closed, Event(state.time, Happening.CLOSED)
    return None


def _plain_step(
    system: System, state: State, seconds: float, tap: float
) -> tuple[State, Event | None]:
    """A switch that feels the pressure at once: each stretch is solved exactly."""
    if state.closed and state.delay <= 0.0:
        stored, used = system.ways.after(min(state.stored, system.top), seconds, tap)
        if state.stored > system.emptied_at >= stored:
            used = _crossing(system, state.stored, used, tap)
            return _moved(system, state, system.emptied_at, used, Happening.EMPTIED)
        if stored >= system.top:
            return _switched(system, _at(system, state, stored, used, system.cut_out))
        if stored <= 0.0 < state.stored and used < seconds:
            return _moved(system, state, 0.0, used, Happening.DRY)
        return _moved(system, state, stored, seconds, None)
    draw = tap + system.back_flow
    used = min(seconds, state.delay) if state.closed else seconds
    kind = Happening.GIVES if state.closed and state.delay <= seconds else None
    levels = [(system.emptied_at, Happening.EMPTIED), (0.0, Happening.DRY)]
    if not state.closed:
        levels.append((system.starts_at, Happening.CLOSED))
    level, reached = max(
        ((one, what) for one, what in levels if one < state.stored),
        key=lambda pair: pair[0],
        default=(-math.inf, None),
    )
    if draw > 0.0 and reached is not None and (state.stored - level) / draw <= used:
        used = (state.stored - level) / draw
        if reached is Happening.CLOSED:
            return _switched(system, _at(system, state, level, used, system.cut_in))
        return _moved(system, state, level, used, reached)
    return _moved(system, state, max(state.stored - draw * used, 0.0), used, kind)


def _switched(system: System, state: State) -> tuple[State, Event | None]:
    """A state at which the contacts move."""
    return _contacts(system, state) or (state, None)


def _moved(
    system: System, state: State, stored: float, used: float, kind: Happening | None
) -> tuple[State, Event | None]:
    after = _at(system, state, stored, used, system.pressure(stored))
    return after, None if kind is None else Event(after.time, kind)


def _at(system: System, state: State, stored: float, used: float, sensed: float) -> State:
    delay = max(state.delay - used, 0.0) if state.closed else 0.0
    if delay <= _SAME * system.start_delay:
        delay = 0.0
    return replace(state, time=state.time + used, stored=stored, delay=delay, sensed=sensed)


def _crossing(system: System, stored: float, seconds: float, tap: float) -> float:
    """Seconds until the water falls to what empties the tank, while the pump gives."""
    low, high = 0.0, seconds
    for _ in range(_TURNS):
        middle = 0.5 * (low + high)
        place, used = system.ways.after(stored, middle, tap)
        if place > system.emptied_at and used >= middle:
            low = middle
        else:
            high = middle
    return high


def _late_step(
    system: System, state: State, seconds: float, tap: float
) -> tuple[State, Event | None]:
    """A switch that lags: small steps, in each of which the pressure is taken as straight."""
    end = state.time + seconds
    while True:
        used = min(_STEP, end - state.time)
        if used <= 0.0:
            return state, None
        gives = state.closed and state.delay <= 0.0
        if state.closed and not gives:
            used = min(used, state.delay)
        stored = _stored_after(system, state, used, tap, gives=gives)
        before, after = system.pressure(state.stored), system.pressure(stored)
        share = _switches_at(system, state, before, after, used)
        if share < 1.0:
            used *= share
            stored = _stored_after(system, state, used, tap, gives=gives)
            after = before + share * (after - before)
        sensed = _lagged(state.sensed, before, after, used, system.sensing_lag)
        kind = _late_kind(system, state, stored, used)
        state = _at(system, state, stored, used, sensed)
        if kind is not None:
            return state, Event(state.time, kind)
        switched = _contacts(system, state)
        if switched is not None:
            return switched


def _stored_after(system: System, state: State, used: float, tap: float, *, gives: bool) -> float:
    if not gives:
        return max(state.stored - (tap + system.back_flow) * used, 0.0)
    stored, spent = system.ways.after(state.stored, used, tap)
    if stored <= 0.0 or spent >= used:
        return stored
    return system.top  # the relief valve lets out what is too much


def _late_kind(system: System, state: State, stored: float, used: float) -> Happening | None:
    if state.stored > system.emptied_at >= stored > 0.0:
        return Happening.EMPTIED
    if state.stored > 0.0 >= stored:
        return Happening.DRY
    if state.stored < system.top <= stored:
        return Happening.RELIEVED
    if state.closed and 0.0 < state.delay <= used * (1.0 + _SAME):
        return Happening.GIVES
    return None


def _lagged(sensed: float, before: float, after: float, seconds: float, lag: float) -> float:
    """The sensed pressure after some seconds of a pressure that goes straight, exactly."""
    if seconds <= 0.0:
        return sensed
    slope = (after - before) / seconds
    behind = sensed - before + slope * lag
    return after - slope * lag + behind * math.exp(-seconds / lag)


def _switches_at(
    system: System, state: State, before: float, after: float, seconds: float
) -> float:
    """Share of a step at which the contacts move; 1 if they do not within it."""

    def beyond(share: float) -> bool:
        at = before + share * (after - before)
        sensed = _lagged(state.sensed, before, at, share * seconds, system.sensing_lag)
        return sensed >= system.cut_out if state.closed else sensed <= system.cut_in

    if not beyond(1.0):
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(_TURNS):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if beyond(middle) else (middle, high)
    return high
