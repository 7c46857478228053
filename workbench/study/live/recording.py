"""A system in motion that remembers: what is, what was at any time, and all that happened.

The present is worked out from the last *kept* state, never from the frame before, so that what
happened does not depend on how often somebody looked. Kept are the state at each event, at each
change of tap or rig, and samples between them.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass, replace

from workbench.physics.motion import Event, Happening, advance, step
from workbench.physics.system import Moment, State, System
from workbench.study.live.rig import Rig
from workbench.study.live.trace import SAMPLE, Tape, Trace
from workbench.words import tr

_KEY_EVERY = 5.0  # s between key frames where nothing happens
_MOST_KEYS = 20_000
_SAMPLES = 20  # at most in one advance, where the system can be followed in steps of any length
_FOUND = 200  # the same on the way to the next event
_SAME = 1e-9  # of a sample, by which the grid of samples may be missed


@dataclass(frozen=True, slots=True)
class _Key:
    """A state from which any later one can be found, up to the next key frame.

    ``lost``: charge [Pa] lost until then. ``is_change``: tap or rig changed here.
    """

    state: State
    rig: Rig
    tap: float
    lost: float
    is_change: bool


class Recording:
    """One rig with its tap, from its beginning to the present.

    Args:
        rig: what is set in motion.
        tap: the draw [m³/s], zero or above.
        pressure: gauge [Pa] at the beginning; None: cut-out, the pump at rest.

    Raises:
        ValueError: a tap below zero or without bound.
    """

    def __init__(self, rig: Rig, tap: float, pressure: float | None = None) -> None:
        self._rig = rig
        self._tap = _draw(tap)
        self._lost = 0.0  # of the precharge [Pa], where the air leaks
        start = rig.system.cut_out if pressure is None else pressure
        self._now = self._kept = rig.system.at_rest(start)
        self._tape = Tape()
        self._tape.add(self.moment)
        self._keys = [self._key(is_change=True)]
        self._prepared: tuple[Rig, System] | None = None

    # --- the present ---

    @property
    def rig(self) -> Rig:
        """The rig as it is now, less the charge that it has lost."""
        return self._rig

    @property
    def tap(self) -> float:
        """The draw [m³/s]."""
        return self._tap

    @property
    def time(self) -> float:
        """Seconds since the beginning."""
        return self._now.time

    @property
    def moment(self) -> Moment:
        """All that there is to be seen now."""
        return self._rig.system.moment(self._now, self._tap)

    @property
    def state(self) -> State:
        """The state now."""
        return self._now

    # --- forward ---

    def advance(self, seconds: float) -> tuple[Event, ...]:
        """Go on for so long [s]; what happened, in order.

        Raises:
            ValueError: seconds below zero or without end.
        """
        if not 0.0 <= seconds < math.inf:
            raise ValueError(tr("seconds must not be below zero"))
        return self._go(self.time + seconds, self._spacing(seconds, _SAMPLES))

    def step_to_next(self, limit: float = 3600.0) -> Event | None:
        """Go on to the next thing that happens; None, after ``limit`` [s], if nothing does."""
        goal, system = self.time + limit, self._rig.system
        if system.sensing_lag == 0.0:
            after, event = step(system, self._kept, goal - self._kept.time, self._tap)
            if event is not None:
                goal = after.time + SAMPLE  # never reached: the event ends the way
        happened = self._go(goal, self._spacing(goal - self.time, _FOUND), first_only=True)
        return happened[0] if happened else None

    def _spacing(self, seconds: float, samples: int) -> float:
        """Between samples [s]. A switch that lags is followed in short steps, always the same."""
        if self._rig.system.sensing_lag > 0.0:
            return SAMPLE
        return SAMPLE * max(1, math.ceil(seconds / (samples * SAMPLE)))

    def _go(self, goal: float, spacing: float, *, first_only: bool = False) -> tuple[Event, ...]:
        events: list[Event] = []
        while True:
            sample = _next_sample(self._kept.time, spacing)
            until = min(sample, goal)
            ahead = max(until - self._kept.time, 0.0)
            state, event = step(self._rig.system, self._kept, ahead, self._tap)
            if event is not None:
                self._keep(state, event)
                events.append(event)
                if first_only:
                    return tuple(events)
            elif sample <= goal:
                self._keep(state)
            else:
                self._now = state
                return tuple(events)

    def _keep(self, state: State, event: Event | None = None) -> None:
        self._now = self._kept = state
        self._tape.add(self.moment, None if event is None else event.kind)
        if event is not None and event.kind is Happening.CLOSED and self._loses():
            return
        if event is not None or state.time >= self._keys[-1].state.time + _KEY_EVERY:
            self._add_key(is_change=False)

    def _loses(self) -> bool:
        """Take the loss of one start from the precharge, if there is any to lose.

        It ends where so little water were left between cut-in and cut-out that no system of
        :mod:`workbench.physics.system` can have it, as a membrane at its limit brings about.
        """
        loss = min(self._rig.charge_loss, self._rig.system.precharge)
        less = _less(self._rig, loss)
        if loss <= 0.0 or less is None:
            return False
        self._lost += loss
        self._put_in(less)
        return True

    # --- what a person changes ---

    def set_tap(self, tap: float) -> None:
        """Open or close the tap to a draw [m³/s]. Raises ValueError: below zero, without bound."""
        if _draw(tap) == self._tap:
            return
        self._tap = tap
        self._change()

    def set_rig(self, rig: Rig) -> None:
        """Put another rig in the place of this one, at the gauge pressure that there is.

        Charge that leaked away stays lost while precharge and leak stay as they were set.
        """
        before = self._rig
        was_set = before.system.precharge + self._lost
        same_charge = math.isclose(rig.system.precharge, was_set, rel_tol=1e-9, abs_tol=1e-3)
        if not (same_charge and rig.charge_loss == before.charge_loss > 0.0):
            self._lost = 0.0
        less = _less(rig, min(self._lost, rig.system.precharge))
        if less is None:
            self._lost = 0.0
        self._put_in(less or rig)

    def _put_in(self, rig: Rig) -> None:
        self._tape.add(self.moment)  # the water that there was, before it jumps
        self._now = rig.system.moved_here(self._now, self._rig.system)
        self._lighten_keys()
        self._rig = rig
        self._change()

    def _change(self) -> None:
        """From here on things are different."""
        self._kept = self._now
        self._tape.add(self.moment)
        self._add_key(is_change=True)

    # --- what was ---

    @property
    def beginning(self) -> float:
        """The earliest time [s] that is remembered."""
        return self._keys[0].state.time

    @property
    def trace(self) -> Trace:
        """Time, pressure, water and pump until now, with every event."""
        return self._tape.trace(self.moment)

    def at(self, time: float) -> Moment:
        """What was to be seen at a time [s]; of two at one time, the later.

        Raises:
            ValueError: a time that is not remembered, or has not come yet.
        """
        state, key = self._was(time)
        return self._system_of(key).moment(state, key.tap)

    def rig_at(self, time: float) -> Rig:
        """The rig of a past time [s], with the charge that it had. Raises as :meth:`at`."""
        return self._key_before(time).rig

    def tap_at(self, time: float) -> float:
        """The draw [m³/s] of a past time [s]. Raises as :meth:`at`."""
        return self._key_before(time).tap

    def go_back_to(self, time: float) -> None:
        """Make a past moment the present one, with its rig and tap; what came later is forgotten.

        Raises:
            ValueError: as :meth:`at`.
        """
        state, key = self._was(time)
        keep = bisect_right(self._keys, time, key=_time_of)
        del self._keys[keep:]
        self._rig, self._tap = key.rig, key.tap
        self._lost = key.lost
        self._now = self._kept = state
        self._tape.forget_after(time)
        self._add_key(is_change=False)

    def _key_before(self, time: float) -> _Key:
        """The key frame from which a time that is remembered is found."""
        if not self.beginning <= time <= self.time:
            raise ValueError(
                tr(
                    "only what was between {first} s and {last} s is remembered",
                    first=f"{self.beginning:g}",
                    last=f"{self.time:g}",
                )
            )
        return self._keys[bisect_right(self._keys, time, key=_time_of) - 1]

    def _was(self, time: float) -> tuple[State, _Key]:
        key = self._key_before(time)
        system = self._system_of(key)
        if time == self._now.time:
            return self._now, key
        if system.sensing_lag == 0.0:
            return advance(system, key.state, time - key.state.time, key.tap)[0], key
        state = key.state
        while state.time < time:  # by the same steps as then
            until = min(_next_sample(state.time, SAMPLE), time)
            state, _ = step(system, state, max(until - state.time, 0.0), key.tap)
        return state, key

    def _system_of(self, key: _Key) -> System:
        """A key's system, with what it has worked out: only the last one asked for is kept."""
        if key.rig is self._rig:
            return self._rig.system
        if self._prepared is None or self._prepared[0] is not key.rig:
            self._prepared = key.rig, replace(key.rig.system)
        return self._prepared[1]

    # --- key frames ---

    def _key(self, *, is_change: bool) -> _Key:
        return _Key(self._now, self._rig, self._tap, self._lost, is_change)

    def _add_key(self, *, is_change: bool) -> None:
        if self._keys and self._keys[-1].state.time == self._now.time:  # nothing lies between
            is_change |= self._keys.pop().is_change
        self._keys.append(self._key(is_change=is_change))
        if len(self._keys) > _MOST_KEYS:
            self._thin()

    def _lighten_keys(self) -> None:
        """Let the keys of the rig that goes hold a copy of it, without all that it worked out."""
        light = replace(self._rig, system=replace(self._rig.system))
        for place in range(len(self._keys) - 1, -1, -1):
            if self._keys[place].rig is not self._rig:
                break
            self._keys[place] = replace(self._keys[place], rig=light)

    def _thin(self) -> None:
        """Every second key of the older half goes; if changes alone are too many, the oldest."""
        half = len(self._keys) // 2
        older = [one for n, one in enumerate(self._keys[:half]) if one.is_change or n % 2 == 0]
        if len(older) > 0.8 * half:
            older = older[half // 2 :]
        self._keys[:half] = older
        self._tape.forget_before(self.beginning)


def _time_of(key: _Key) -> float:
    return key.state.time


def _next_sample(time: float, spacing: float) -> float:
    return (math.floor(time / spacing + _SAME) + 1) * spacing


def _draw(tap: float) -> float:
    if not 0.0 <= tap < math.inf:
        raise ValueError(tr("the draw must be zero or above"))
    return tap


def _less(rig: Rig, loss: float) -> Rig | None:
    """The rig with so much less precharge [Pa]; None if such a system cannot be followed."""
    if loss <= 0.0:
        return rig
    try:
        system = replace(rig.system, precharge=rig.system.precharge - loss)
    except ValueError:
        return None
    return replace(rig, system=system)
