"""A well system in motion: from one state to the next, with all that happens between.

Between two events the water is followed exactly (:mod:`workbench.physics.way`). Only a switch that
feels the pressure late needs stretches: each so short that the pressure on it, taken as straight,
is right to a tenth of a pascal; there the lag L of the sensed pressure s, ds/dt = (p − s) / L, is
solved exactly.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum, auto

from workbench.physics.system import State, System
from workbench.words import tr

_STRAIGHT = 0.1  # Pa by which a stretch may miss the pressure
_BRIEF = 1e-6  # s; a stretch is not made shorter
_TURNS = 60  # of a bisection: more than a float's digits
_SAME = 1e-12  # share by which a level may be missed
_ALMOST_NOW = 5e-324  # s; the least above zero, while a start that is due has not been told


class Happening(Enum):
    """What can happen between two moments."""

    CLOSED = auto()  # the contacts close: the pump is switched on
    GIVES = auto()  # the pump is up to speed, a moment after; not told if it takes no time
    OPENED = auto()  # the contacts open: the pump is switched off
    EMPTIED = auto()  # the last water left the tank; not told without precharge: that is DRY
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
        ValueError: seconds or a draw below zero, without bound, or not a number.
    """
    for name, value in ((tr("time to go on"), seconds), (tr("draw"), tap)):
        if not 0.0 <= value < math.inf:
            raise ValueError(tr("{name} must be zero or above", name=name))
    at_once = _at_once(system, state)
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
    end, left = state.time + seconds, seconds
    while True:
        state, event = step(system, state, left, tap)
        if event is None:
            return state, tuple(events)
        events.append(event)
        left = max(end - state.time, 0.0)


def _at_once(system: System, state: State) -> tuple[State, Event] | None:
    """What relief valve and switch do at this very moment."""
    if state.stored > system.relieved_at * (1.0 + _SAME):
        sensed = state.sensed if system.sensing_lag > 0.0 else system.relief
        relieved = replace(state, stored=system.relieved_at, sensed=sensed)
        return relieved, Event(state.time, Happening.RELIEVED)
    if system.sensing_lag > 0.0:
        high, low = state.sensed >= system.cut_out, state.sensed <= system.cut_in
    else:
        high, low = state.stored >= system.top, state.stored <= system.starts_at
    if state.closed and high:
        opened = replace(state, closed=False, delay=0.0)
        return opened, Event(state.time, Happening.OPENED)
    if low and not state.closed:
        closed = replace(state, closed=True, delay=system.start_delay, starts=state.starts + 1)
        return closed, Event(state.time, Happening.CLOSED)
    return None


def _gives(state: State) -> bool:
    return state.closed and state.delay <= 0.0


def _after(
    state: State, stored: float, used: float, sensed: float, kind: Happening | None
) -> tuple[State, Event | None]:
    """The state some seconds on, and what happens then."""
    delay = 0.0
    if state.closed and state.delay > 0.0 and kind is not Happening.GIVES:
        delay = max(state.delay - used, _ALMOST_NOW)
    after = replace(state, time=state.time + used, stored=stored, delay=delay, sensed=sensed)
    return after, None if kind is None else Event(after.time, kind)


# --- a switch that feels the pressure at once ---


def _plain_step(
    system: System, state: State, seconds: float, tap: float
) -> tuple[State, Event | None]:
    """One exact stretch, to its end or to the first event."""
    go = _filling if _gives(state) else _resting
    stored, used, kind = go(system, state, seconds, tap)
    moved, event = _after(state, stored, used, system.pressure(stored), kind)
    if kind in (Happening.OPENED, Happening.CLOSED):
        exact = system.cut_out if kind is Happening.OPENED else system.cut_in
        return _at_once(system, replace(moved, sensed=exact)) or (moved, event)
    return moved, event


def _filling(
    system: System, state: State, seconds: float, tap: float
) -> tuple[float, float, Happening | None]:
    """Water [m³], seconds used and what happens, while the pump gives."""
    stored, used = system.ways.after(state.stored, seconds, tap)
    if stored >= system.top:
        return stored, used, Happening.OPENED
    if state.stored > system.emptied_at >= stored and system.emptied_at > 0.0:
        used = _pumped(system, state.stored, system.emptied_at, tap)
        return system.emptied_at, min(used, seconds), Happening.EMPTIED
    if state.stored > 0.0 >= stored:
        return 0.0, used, Happening.DRY
    return stored, seconds, None


def _resting(
    system: System, state: State, seconds: float, tap: float
) -> tuple[float, float, Happening | None]:
    """The same while no pump gives: a straight fall to the first level at which something is."""
    draw = tap + system.back_flow
    starts = state.closed and state.delay <= seconds
    used = state.delay if starts else seconds
    levels = [(0.0, Happening.DRY), (system.emptied_at, Happening.EMPTIED)]
    if not state.closed:
        levels.append((system.starts_at, Happening.CLOSED))
    ahead = [(level, kind) for level, kind in levels if level < state.stored]
    if ahead and draw > 0.0:
        level, kind = max(ahead, key=lambda pair: pair[0])
        if (state.stored - level) / draw <= used:
            return level, (state.stored - level) / draw, kind
    return max(state.stored - draw * used, 0.0), used, Happening.GIVES if starts else None


# --- a switch that feels it late ---


def _late_step(
    system: System, state: State, seconds: float, tap: float
) -> tuple[State, Event | None]:
    """Stretch after stretch, to the end or to the first event."""
    left = longest = seconds
    while left > 0.0:
        stored, used, longest = _stretch(system, state, min(left, longest), tap)
        before, after = system.pressure(state.stored), system.pressure(stored)
        share = _switches_at(system, state, before, after, used)
        if share is not None:
            stored, used = _goes(system, state, share * used, tap)
            moved, _ = _after(state, stored, used, _threshold(system, state), None)
            return _at_once(system, moved) or (moved, None)
        sensed = _lagged(state.sensed, before, after, used, system.sensing_lag)
        state, event = _after(state, stored, used, sensed, _late_kind(system, state, stored, used))
        if event is not None:
            return state, event
        left -= used
    return state, None


def _stretch(system: System, state: State, most: float, tap: float) -> tuple[float, float, float]:
    """Water and seconds to the end of a stretch on which the pressure is as good as straight, and
    how long the next one may be.
    """
    begun = system.pressure(state.stored)
    while True:
        stored, used = _goes(system, state, most, tap)
        half, _ = _goes(system, state, 0.5 * used, tap)
        miss = abs(system.pressure(half) - 0.5 * (begun + system.pressure(stored)))
        # The miss grows as the square of the length.
        fits = 0.9 * used * math.sqrt(_STRAIGHT / max(miss, 0.05 * _STRAIGHT))
        if miss <= _STRAIGHT or used <= _BRIEF:
            return stored, used, max(fits, _BRIEF)
        most = max(fits, 0.5 * _BRIEF)


def _goes(system: System, state: State, seconds: float, tap: float) -> tuple[float, float]:
    """Water [m³] and seconds used, to the first corner of the pressure at most."""
    start, draw = state.stored, tap + system.back_flow
    if _gives(state):
        stored, used = system.ways.after(start, seconds, tap)
        if start in (0.0, system.top) and stored == start:
            used = seconds  # nothing is left to fall, or the relief valve lets out what is too much
    else:
        used = min(seconds, state.delay) if state.closed else seconds
        stored = start - draw * used
        if stored < 0.0:
            stored, used = 0.0, start / draw if start > 0.0 else used
    low, high = min(start, stored), max(start, stored)
    corners = [at for at in (system.emptied_at, system.filled_at) if low < at < high]
    if not corners:
        return stored, used
    corner = min(corners) if stored > start else max(corners)
    if _gives(state):
        return corner, _pumped(system, start, corner, tap)
    return corner, (start - corner) / draw


def _pumped(system: System, start: float, end: float, tap: float) -> float:
    """Seconds from one water [m³] to another while the pump gives; never below zero by rounding."""
    return max(float(system.fill.time(start, end, tap)), 0.0)


def _late_kind(system: System, state: State, stored: float, used: float) -> Happening | None:
    if state.stored > system.emptied_at >= stored > 0.0:
        return Happening.EMPTIED
    if state.stored > 0.0 >= stored:
        return Happening.DRY
    if state.stored < system.top <= stored:
        return Happening.RELIEVED
    if state.closed and 0.0 < state.delay <= used:
        return Happening.GIVES
    return None


def _threshold(system: System, state: State) -> float:
    return system.cut_out if state.closed else system.cut_in


def _lagged(sensed: float, before: float, after: float, seconds: float, lag: float) -> float:
    """The sensed pressure after some seconds of a pressure that goes straight, exactly."""
    if seconds <= 0.0:
        return sensed
    slope = (after - before) / seconds
    behind = sensed - before + slope * lag
    return after - slope * lag + behind * math.exp(-seconds / lag)


def _switches_at(
    system: System, state: State, before: float, after: float, seconds: float
) -> float | None:
    """Share of a stretch at which the contacts move; None if they do not on it."""
    lag = system.sensing_lag

    def beyond(share: float) -> bool:
        at = before + share * (after - before)
        sensed = _lagged(state.sensed, before, at, share * seconds, lag)
        return sensed >= system.cut_out if state.closed else sensed <= system.cut_in

    # What is sensed may turn on the way, where it meets the pressure.
    turn, climb = 1.0, (after - before) / seconds * lag if seconds > 0.0 else 0.0
    ratio = (state.sensed - before + climb) / climb if climb else 0.0
    if ratio > 1.0:
        turn = min(math.log(ratio) * lag / seconds, 1.0)
    high = next((share for share in (turn, 1.0) if beyond(share)), None)
    if high is None:
        return None
    low = 0.0
    for _ in range(_TURNS):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if beyond(middle) else (middle, high)
    return high
