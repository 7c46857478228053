"""What gauge, ear and tap tell of a rig, in plain words with the figures of its run."""

from __future__ import annotations

import math
from dataclasses import dataclass

from workbench.study.faults.readings import NOTICED, READABLE
from workbench.study.faults.watched import Watched, watched
from workbench.study.live.rig import Rig
from workbench.units import FLOW, PERCENT, PRESSURE, SHORT_TIME, TIME, VOLUME, Display
from workbench.words import tr

_STANDS = 0.05 * PRESSURE.units["psi"].factor  # a fall in ten minutes that no gauge shows
_MINUTE = 60.0  # s
_SEEN = 0.02  # a change by less than this share is not told beside the sound figure
_LEAST_DULL = 0.1  # a difference in height that a hand knows


@dataclass(frozen=True, slots=True)
class Symptoms:
    """What each of the three tells: one sentence or a few."""

    gauge: str
    ear: str
    tap: str


def symptoms(healthy: Rig, faulty: Rig, tap: float, display: Display) -> Symptoms:
    """What is seen, heard and felt at ``faulty`` while the house draws ``tap`` [m³/s].

    Beside each figure that has changed stands that of the sound rig.
    """
    sound, seen = watched(healthy, tap), watched(faulty, tap)
    return Symptoms(
        gauge=_joined(_band(sound, seen, display), _relieved(seen, display), _fall(seen, display)),
        ear=_joined(_clicks(sound, seen, display), _idle(seen), _knocked(sound, seen, display)),
        tap=_joined(_stream(seen, display), _given(sound, seen, display)),
    )


def _joined(*sentences: str) -> str:
    return " ".join(filter(None, sentences))


def _beside(told: str, sound: str) -> str:
    """A figure, with the sound one where it reads differently."""
    return told if told == sound else tr("{told} (sound: {sound})", told=told, sound=sound)


# --- the gauge ---


def _band(sound: Watched, seen: Watched, display: Display) -> str:
    setting = seen.rig.setting
    if seen.stop is None:
        return tr(
            "The needle climbs to {most} and stands there; cut-out, {cut_out}, never comes.",
            most=display.text(seen.standing.pressure, PRESSURE),
            cut_out=display.text(setting.cut_out, PRESSURE),
        )
    refill, drained = seen.refill, seen.drained
    high = refill.pressure if refill is not None else seen.standing.pressure
    stops = _beside(
        display.text(high, PRESSURE), display.text(_stop_of(sound, setting.cut_out), PRESSURE)
    )
    if drained is None:
        return tr("The pump stops at {stops}.", stops=stops)
    if drained.needle > READABLE and drained.moment.is_full:
        return tr(
            "Drawn from, the needle drops at once from {stops} past cut-in: the membrane is at its"
            " limit, and the tank gives next to nothing.",
            stops=stops,
        )
    if drained.needle > READABLE:
        return tr(
            "Drawn from, the needle sinks from {stops} to {cliff} and then drops at once: the tank"
            " is empty before the switch clicks.",
            stops=stops,
            cliff=display.text(seen.rig.system.precharge, PRESSURE),
        )
    low = display.text(drained.moment.pressure, PRESSURE)
    return tr(
        "The pump starts at {low} and stops at {stops}.",
        low=_beside(low, display.text(setting.cut_in, PRESSURE)),
        stops=stops,
    )


def _relieved(seen: Watched, display: Display) -> str:
    relief = seen.rig.system.relief
    if seen.refill is None or seen.refill.pressure < relief * (1.0 - 1e-9):
        return ""
    return tr("At {relief} the relief valve opens.", relief=display.text(relief, PRESSURE))


def _stop_of(sound: Watched, nominal: float) -> float:
    return sound.refill.pressure if sound.refill is not None else nominal


def _fall(seen: Watched, display: Display) -> str:
    if seen.fall < _STANDS:
        return tr("With everything shut it stands still.")
    return tr(
        "With everything shut it falls by {fall} in ten minutes.",
        fall=display.text(seen.fall, PRESSURE),
    )


# --- the ear ---


def _clicks(sound: Watched, seen: Watched, display: Display) -> str:
    turned = seen.turned
    flow = display.text(seen.tap, FLOW)
    if seen.tap <= 0.0:
        return ""
    if turned is None:
        return tr("At {flow} no click is heard for a day.", flow=flow)
    if math.isinf(turned.run):
        return tr("At {flow} the pump runs and does not stop.", flow=flow)
    before = sound.turned
    every = _span(turned.run + turned.rest, display)
    usual = every if before is None or math.isinf(before.run) else _every(sound, display)
    return tr(
        "At {flow} the pump starts every {every}: it runs {run} and rests {rest}.",
        flow=flow,
        every=_beside(every, usual),
        run=_span(turned.run, display),
        rest=_span(turned.rest, display),
    )


def _every(sound: Watched, display: Display) -> str:
    assert sound.turned is not None  # noqa: S101 - asked only then
    return _span(sound.turned.run + sound.turned.rest, display)


def _idle(seen: Watched) -> str:
    if seen.stop is None:
        return tr("With nothing open it still runs.")
    if seen.idle_starts == 0:
        return tr("With nothing open no click is heard in an hour.")
    if seen.idle_starts == 1:
        return tr("With nothing open it starts once in an hour.")
    return tr(
        "With nothing open it starts {count} times in an hour.",
        count=seen.idle_starts,
    )


def _span(seconds: float, display: Display) -> str:
    """A time in minutes, or in seconds where it is less than one."""
    return display.text(seconds, SHORT_TIME if seconds < _MINUTE else TIME)


def _knocked(sound: Watched, seen: Watched, display: Display) -> str:
    full, usual = _water_share(seen), _water_share(sound)
    if abs(full - usual) < _LEAST_DULL:
        return ""
    return tr(
        "Knocked at after a stop, the tank sounds dull up to {share} of it (sound: {usual}).",
        share=display.text(full, PERCENT),
        usual=display.text(usual, PERCENT),
    )


def _water_share(seen: Watched) -> float:
    above = seen.rig.water_above
    return (seen.standing.water + above) / (seen.rig.system.volume + above)


# --- the tap ---


def _stream(seen: Watched, display: Display) -> str:
    if seen.tap <= 0.0:
        return tr("Nothing is drawn.")
    if seen.gap > NOTICED:
        return tr(
            "The stream stops for {gap} before the pump gives.",
            gap=display.text(seen.gap, SHORT_TIME, 1),
        )
    return tr("Water comes without a break.")


def _given(sound: Watched, seen: Watched, display: Display) -> str:
    if seen.drained is None:
        return ""
    water = display.text(seen.drained.water, VOLUME)
    usual = water
    if sound.drained is not None:
        miss = abs(seen.drained.water - sound.drained.water)
        if miss > _SEEN * sound.drained.water:
            usual = display.text(sound.drained.water, VOLUME)
    sentence = tr("From stop to start it gives {water}.", water=_beside(water, usual))
    if seen.refill is None:
        return sentence
    seconds = display.text(seen.refill.seconds, SHORT_TIME)
    before = seconds
    if sound.refill is not None:
        miss = abs(seen.refill.seconds - sound.refill.seconds)
        if miss > _SEEN * sound.refill.seconds:
            before = display.text(sound.refill.seconds, SHORT_TIME)
    back = tr("It is back after {seconds}.", seconds=_beside(seconds, before))
    return f"{sentence} {back}"
