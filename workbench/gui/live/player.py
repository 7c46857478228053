"""Plays a recording: forward at a speed, back to any moment of the past, and on from there."""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from workbench.physics.motion import Event
from workbench.physics.system import Moment
from workbench.study.live.recording import Recording
from workbench.study.live.rig import Rig

SPEEDS = (0.25, 1.0, 5.0, 20.0, 60.0)
"""How many seconds of the tank pass in one of ours."""
_FURTHEST = 600.0  # s that one step goes at most
_MOST_EVENTS = 5_000
_SAME = 1e-6  # s


class Player:
    """One rig that plays or stands still; time is the recording's own, never the clock's.

    ``time`` [s] is the moment that is shown, now or in the past. What a person changes while the
    past is shown makes that moment the present: what came later is forgotten.
    """

    def __init__(self) -> None:
        self.recording: Recording | None = None
        self.time = 0.0
        self.plays = False
        self.speed = 1.0
        self.draw = 0.0
        """What the tap draws when it is open [m³/s]."""
        self.tap_is_open = True
        self._events: list[Event] = []
        self._set: Rig | None = None  # as it was given, without what it has lost since

    # --- what is set ---

    def set_rig(self, rig: Rig, draw: float) -> None:
        """Go on with another rig from the gauge pressure that is shown; the first one begins.

        Where it is the rig that is set already, and the draw too, nothing changes.
        """
        before, self._set = self._set, rig
        if self.recording is None or before is None:
            self.draw = draw
            self.recording = Recording(rig, self.tap)
            self.time = self.recording.time
        elif not before.is_like(rig):
            self.draw = draw
            self._make_present()
            self.recording.set_rig(rig)
            self.recording.set_tap(self.tap)
        else:
            self.set_draw(draw)

    def set_draw(self, draw: float) -> None:
        """Another draw, at once if the tap is open."""
        if draw != self.draw:
            self.draw = draw
            if self.tap_is_open:
                self._change_tap()

    def open_tap(self, is_open: bool) -> None:
        """Open or shut the tap."""
        if is_open != self.tap_is_open:
            self.tap_is_open = is_open
            self._change_tap()

    @property
    def tap(self) -> float:
        """What the tap is open for [m³/s]."""
        return self.draw if self.tap_is_open else 0.0

    def start_again(self) -> None:
        """Forget all, and stand at cut-out."""
        if self.recording is not None:
            self.recording = Recording(self._set or self.recording.rig, self.tap)
            self.time = self.recording.time
            self._events.clear()
            self.plays = False

    # --- what is shown ---

    @property
    def moment(self) -> Moment:
        """What there is to be seen.

        Raises:
            ValueError: there is no rig yet.
        """
        recording = self._playing()
        if self.time >= recording.time:
            return recording.moment
        return recording.at(self.time)

    @property
    def rig(self) -> Rig:
        """The rig of what is shown, with the charge that it has then. Raises as :attr:`moment`."""
        recording = self._playing()
        return recording.rig_at(self.time) if self.is_past else recording.rig

    @property
    def drawn(self) -> float:
        """What the tap of what is shown is open for [m³/s]. Raises as :attr:`moment`."""
        return self._playing().tap_at(self.time) if self.is_past else self.tap

    @property
    def last_event(self) -> Event | None:
        """What happened last, up to the moment that is shown."""
        place = bisect_right(self._events, self.time + _SAME, key=_time_of)
        return self._events[place - 1] if place else None

    @property
    def is_past(self) -> bool:
        """Whether an earlier moment than the present is shown."""
        return self.recording is not None and self.time < self.recording.time

    @property
    def is_still(self) -> bool:
        """Whether nothing moves and nothing will until somebody does something."""
        if self.recording is None:
            return True
        one = self.recording.moment
        flows = one.pump_flow or one.tap_flow or one.back_flow
        same = abs(one.sensed - one.pressure) <= 1e-6 * max(one.pressure, 1.0)
        return not (self.is_past or flows or one.closed) and same

    # --- what moves it ---

    def go_on(self, seconds: float) -> tuple[Event, ...]:
        """Let so many seconds of ours pass, at the speed that is chosen; what happened."""
        recording, own = self._playing(), seconds * self.speed
        replayed = min(own, max(recording.time - self.time, 0.0))
        before, self.time = self.time, self.time + replayed
        seen = self._between(before, self.time)
        if own > replayed or self.time >= recording.time:
            happened = self._keep(recording.advance(own - replayed))
            self.time = recording.time
            return (*seen, *happened)
        return seen

    def step(self) -> Event | None:
        """Go to the next thing that happens; None if nothing does for ten minutes."""
        recording = self._playing()
        if self.is_past:
            place = bisect_right(self._events, self.time + _SAME, key=_time_of)
            if place < len(self._events):
                self.time = self._events[place].time
                return self._events[place]
            self.time = recording.time
            return None
        if self.is_still:
            return None
        event = recording.step_to_next(_FURTHEST)
        if event is not None:
            self._keep((event,))
        self.time = recording.time
        return event

    def step_back(self) -> None:
        """Go back to the last thing that happened before, or to the beginning."""
        recording = self._playing()
        place = bisect_left(self._events, self.time - _SAME, key=_time_of)
        earlier = self._events[place - 1].time if place else recording.beginning
        self.time = max(earlier, recording.beginning)

    def seek(self, time: float) -> None:
        """Show a moment of the past, or the present where a time lies beyond it."""
        recording = self._playing()
        self.time = min(max(time, recording.beginning), recording.time)

    # --- inside ---

    def _playing(self) -> Recording:
        if self.recording is None:
            raise ValueError("no rig")
        return self.recording

    def _change_tap(self) -> None:
        if self.recording is not None:
            self._make_present()
            self.recording.set_tap(self.tap)

    def _make_present(self) -> None:
        """The moment that is shown becomes the present."""
        recording = self._playing()
        if self.is_past:
            recording.go_back_to(self.time)
            del self._events[bisect_right(self._events, self.time, key=_time_of) :]
        self.time = recording.time

    def _keep(self, events: tuple[Event, ...]) -> tuple[Event, ...]:
        self._events += events
        if len(self._events) > _MOST_EVENTS:
            del self._events[: _MOST_EVENTS // 2]
        return events

    def _between(self, since: float, until: float) -> tuple[Event, ...]:
        first = bisect_right(self._events, since, key=_time_of)
        last = bisect_right(self._events, until, key=_time_of)
        return tuple(self._events[first:last])


def _time_of(event: Event) -> float:
    return event.time
