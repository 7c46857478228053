"""What a technician can read at a well system, what it takes, and when two readings differ.

The rule by which two readings count as different is that of the GUM (JCGM 100:2008): a stated
tolerance ± a says no more than that every value within it is as likely as any other, so its
standard uncertainty is a / √3 (4.3.7); those of two readings add up as squares (5.1.2); and the
difference must be more than twice the root of that sum (6.2 and 6.3.3, coverage factor 2, about 95
in 100):

    |x₁ − x₂| > 2 · √((a₁² + a₂²) / 3)

Minutes are our own round figures, for the exercises; they include draining and refilling where a
reading needs it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from workbench.study.faults.made import DAY
from workbench.study.faults.watched import HOUR, Drained, Watched, watched
from workbench.study.live.rig import Rig
from workbench.study.reader import Reader
from workbench.units import (
    FLOW,
    PERCENT,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_HOUR,
    VOLUME,
    Kind,
)
from workbench.words import tr

_PSI = PRESSURE.units["psi"].factor
READABLE = 5.0 * _PSI
"""A needle that falls faster than this in a second [Pa/s] cannot be read (our own figure)."""
NOTICED = 0.3
"""A stream that stops for so long [s] is noticed (our own figure)."""
SOAP = 1e-4
"""The smallest leak that soapy water shows [Pa m³/s] (bubble test, EN 1593; from memory)."""
_KNOCKING, _ROCKING = 0.1, 0.05  # shares of the tank by which either may miss (our own figures)
_STEADY = 0.05  # share by which a draw set by hand may differ from what is meant (our own figure)
_CLICKS = 0.5 / HOUR  # half a start in an hour [1/s]: a click is heard or not


class Tool(Enum):
    """With what a reading is taken."""

    GAUGE = "gauge"
    BUCKET = "bucket"
    WATCH = "watch"
    TYRE_GAUGE = "tyre_gauge"
    EAR = "ear"
    HAND = "hand"


def tools() -> dict[Tool, str]:
    """What each tool is called."""
    return {
        Tool.GAUGE: tr("gauge"),
        Tool.BUCKET: tr("bucket"),
        Tool.WATCH: tr("watch"),
        Tool.TYRE_GAUGE: tr("tyre gauge"),
        Tool.EAR: tr("ear"),
        Tool.HAND: tr("hand"),
    }


class Taking(Enum):
    """What must be done to the system before a reading."""

    RUNNING = "running"
    POWER_OFF = "power_off"
    DRAINED = "drained"


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading that can be taken.

    ``kind`` is the kind of its value, None for yes or no. ``how`` says in a sentence how it is
    taken, ``needs`` what must be done before.
    """

    key: str
    name: str
    tools: tuple[Tool, ...]
    minutes: float
    kind: Kind | None
    needs: Taking
    how: str


@dataclass(frozen=True, slots=True)
class ToolTolerances:
    """Half-widths ±: gauge and tyre gauge [Pa], bucket [m³], watch [s]; zero or above."""

    gauge: float
    tyre_gauge: float
    bucket: float
    watch: float


@dataclass(frozen=True, slots=True)
class Taken:
    """What a reading came to (SI), with its ±; ``value`` None: it cannot be taken, and ``why``."""

    value: float | bool | None
    tolerance: float = 0.0
    why: str = ""


def read_tolerances(reader: Reader) -> ToolTolerances | None:
    """The tolerances of a job; None, with findings, where one cannot be read."""
    names = ("tol_gauge", "tol_precharge", "tol_bucket", "tol_watch")
    gauge, tyre, bucket, watch = (reader.not_below_zero(name) for name in names)
    if gauge is None or tyre is None or bucket is None or watch is None:
        return None
    return ToolTolerances(gauge, tyre, bucket, watch)


def readings() -> tuple[Reading, ...]:
    """Every reading that can be taken, the quickest kinds of work first."""
    return (*_running(), *_power_off(), *_drained())


def _running() -> tuple[Reading, ...]:
    gauge, bucket, watch, ear, hand = Tool.GAUGE, Tool.BUCKET, Tool.WATCH, Tool.EAR, Tool.HAND
    on = Taking.RUNNING
    return (
        Reading("cut_out", tr("Cut-out, on the gauge"), (gauge,), 4, PRESSURE, on, tr(
            "Taps shut; read the gauge when the pump stops.")),
        Reading("cut_in", tr("Cut-in, on the gauge"), (gauge,), 6, PRESSURE, on, tr(
            "Open the drain; read the gauge when the switch clicks.")),
        Reading("stall", tr("Where the needle stands still"), (gauge,), 15, PRESSURE, on, tr(
            "Only where the pump does not stop: taps shut, read the gauge when it moves no"
            " more.")),
        Reading("drained", tr("Drained from stop to start"), (bucket,), 12, VOLUME, on, tr(
            "Drain into buckets from the stop until the switch clicks.")),
        Reading("refill", tr("Time to refill"), (watch,), 10, SHORT_TIME, on, tr(
            "Shut the drain at the click; seconds until the pump stops.")),
        Reading("flow", tr("Pump's flow"), (bucket, watch), 15, FLOW, on, tr(
            "What was drained, divided by the time to refill.")),
        Reading("starts", tr("Starts while the house draws"), (ear, watch), 10,
                STARTS_PER_HOUR, on, tr(
            "With the steady draw open, time from click to click.")),
        Reading("spits", tr("Stream stops before a start"), (hand,), 6, None, on, tr(
            "Watch the steady draw through one start.")),
        Reading("gap", tr("Seconds without water"), (watch,), 8, SHORT_TIME, on, tr(
            "At the steady draw, from the end of the stream until it comes again.")),
        Reading("idle_starts", tr("Starts in an hour, nothing open"), (ear,), 60,
                STARTS_PER_HOUR, on, tr(
            "Every tap shut after a stop; count the clicks of an hour.")),
        Reading("dull", tr("Height that sounds dull"), (hand,), 2, PERCENT, on, tr(
            "After a stop, knock up the tank's side: dull is water; a line of dew shows it"
            " too. Told as a share of the tank.")),
        Reading("soap", tr("Bubbles at the air valve"), (hand,), 5, None, on, tr(
            "Soapy water on the air valve under pressure.")),
    )  # fmt: skip


def _power_off() -> tuple[Reading, ...]:
    return (
        Reading("fall", tr("Fall of the gauge in ten minutes"), (Tool.GAUGE, Tool.WATCH), 12,
                PRESSURE, Taking.POWER_OFF, tr(
            "After a stop, power off, house valve and taps shut.")),
        Reading("cliff", tr("Where the needle drops at once"), (Tool.GAUGE,), 15, PRESSURE,
                Taking.POWER_OFF, tr(
            "Power off, a thin draw: where the needle suddenly falls, the tank is empty. That is"
            " its precharge.")),
    )  # fmt: skip


def _drained() -> tuple[Reading, ...]:
    hand = (Tool.HAND,)
    return (
        Reading("left", tr("Water left in the drained tank"), hand, 18, PERCENT,
                Taking.DRAINED, tr(
            "Rock it and knock at it. Told as a share of the tank.")),
        Reading("valve_water", tr("Water at the air valve"), hand, 20, None, Taking.DRAINED, tr(
            "Press the valve's core for a moment: wet air counts as water.")),
        Reading("precharge", tr("Precharge, tank drained"), (Tool.TYRE_GAUGE,), 25, PRESSURE,
                Taking.DRAINED, tr(
            "Drained and the gauge at zero, so that it is the air alone that is read.")),
        Reading("next_day", tr("Precharge a day after setting"), (Tool.TYRE_GAUGE,), 60,
                PRESSURE, Taking.DRAINED, tr(
            "Set it right, and read it drained again a day later: two visits.")),
    )  # fmt: skip


def reading_of(key: str) -> Reading:
    """The reading of this key. Raises KeyError: there is none."""
    return {one.key: one for one in readings()}[key]


def take(rig: Rig, reading: Reading, tap: float, tolerances: ToolTolerances) -> Taken:
    """Take a reading at a rig.

    Args:
        rig: sound or not.
        tap: the steady draw of the house [m³/s]. Where a test drains, it drains through an open
            drain valve, whatever the house draws.
        tolerances: of the tools.

    Returns:
        The value, all of it found by following the rig; or why it cannot be taken here.

    Raises:
        KeyError: a reading that is none of :func:`readings`.
    """
    return _TAKERS[reading.key](watched(rig, tap), tolerances)


def tells_apart(a: Taken, b: Taken) -> bool:
    """Whether two readings differ by more than their tolerances can explain.

    Where one can be taken and the other cannot, that is seen, and tells them apart.
    """
    if a.value is None or b.value is None:
        return (a.value is None) != (b.value is None)
    return abs(float(a.value) - float(b.value)) > least_difference(a.tolerance, b.tolerance)


def least_difference(a: float, b: float) -> float:
    """What the difference of two readings with these ± must exceed to mean something.

    >>> round(least_difference(2.0, 2.0), 2)  # two readings of a gauge of ± 2 psi
    3.27
    """
    return 2.0 * math.sqrt((a**2 + b**2) / 3.0)


# --- taking ---


def _cut_out(seen: Watched, tolerances: ToolTolerances) -> Taken:
    if seen.refill is not None:
        return Taken(seen.refill.pressure, tolerances.gauge)
    if seen.stop is not None:
        return Taken(seen.standing.pressure, tolerances.gauge)
    return Taken(None, why=_never_stops())


def _cut_in(seen: Watched, tolerances: ToolTolerances) -> Taken:
    if seen.drained is None:
        return Taken(None, why=_never_stops())
    if seen.drained.needle > READABLE:
        return Taken(None, why=_too_fast(seen.drained))
    return Taken(seen.drained.moment.pressure, tolerances.gauge)


def _too_fast(drained: Drained) -> str:
    if drained.moment.is_full:
        return tr("The membrane is at its limit: the needle falls too fast to read.")
    return tr("The tank is empty by then: the needle falls too fast to read.")


def _stall(seen: Watched, tolerances: ToolTolerances) -> Taken:
    if seen.stop is not None:
        return Taken(None, why=tr("The pump reaches cut-out and stops."))
    return Taken(seen.standing.pressure, tolerances.gauge)


def _drained_water(seen: Watched, tolerances: ToolTolerances) -> Taken:
    if seen.drained is None:
        return Taken(None, why=_never_stops())
    return Taken(seen.drained.water, tolerances.bucket)


def _refill(seen: Watched, tolerances: ToolTolerances) -> Taken:
    if seen.refill is None:
        return Taken(None, why=_never_stops())
    return Taken(seen.refill.seconds, tolerances.watch)


def _flow(seen: Watched, tolerances: ToolTolerances) -> Taken:
    """Its ± by the shares of both, as squares (GUM, 5.1.6)."""
    if seen.drained is None or seen.refill is None:
        return Taken(None, why=_never_stops())
    water, seconds = seen.drained.water, seen.refill.seconds
    if water <= 0.0 or seconds <= 0.0:
        return Taken(None, why=tr("Too little is drained to be measured."))
    share = math.hypot(tolerances.bucket / water, tolerances.watch / seconds)
    return Taken(water / seconds, water / seconds * share)


def _starts(seen: Watched, tolerances: ToolTolerances) -> Taken:
    """One over the time from click to click; its ± has the shares of watch and draw, as squares."""
    if seen.tap <= 0.0:
        return Taken(None, why=tr("Nothing is drawn: there is no steady draw."))
    turned = seen.turned
    if turned is None or math.isinf(turned.run + turned.rest):
        return Taken(0.0, _CLICKS)
    turn = turned.run + turned.rest
    return Taken(1.0 / turn, math.hypot(tolerances.watch / turn, _STEADY) / turn)


def _gap(seen: Watched, tolerances: ToolTolerances) -> Taken:
    if seen.tap <= 0.0:
        return Taken(None, why=tr("Nothing is drawn: there is no steady draw."))
    return Taken(seen.gap, tolerances.watch)


def _spits(seen: Watched, _tolerances: ToolTolerances) -> Taken:
    if seen.tap <= 0.0:
        return Taken(None, why=tr("Nothing is drawn: there is no steady draw."))
    return Taken(seen.gap > NOTICED)


def _idle_starts(seen: Watched, _tolerances: ToolTolerances) -> Taken:
    if seen.stop is None:
        return Taken(None, why=_never_stops())
    return Taken(seen.idle_starts / HOUR, _CLICKS)


def _whole(seen: Watched) -> float:
    """Total volume of the tank [m³], with what lies above the membrane."""
    return seen.rig.system.volume + seen.rig.water_above


def _dull(seen: Watched, _tolerances: ToolTolerances) -> Taken:
    water = seen.standing.water + seen.rig.water_above
    return Taken(water / _whole(seen), _KNOCKING)


def _left(seen: Watched, _tolerances: ToolTolerances) -> Taken:
    return Taken(seen.rig.water_above / _whole(seen), _ROCKING)


def _soap(seen: Watched, _tolerances: ToolTolerances) -> Taken:
    """The leak of air [Pa m³/s]: what the precharge loses in a day, times the tank."""
    return Taken(seen.rig.charge_loss * seen.rig.system.volume / DAY >= SOAP)


def _valve_water(seen: Watched, _tolerances: ToolTolerances) -> Taken:
    return Taken(seen.rig.water_above > 0.0)


def _fall(seen: Watched, tolerances: ToolTolerances) -> Taken:
    """A difference on one gauge, whose zero error drops out: half its ± is left (our own)."""
    return Taken(seen.fall, tolerances.gauge / 2.0)


def _cliff(seen: Watched, tolerances: ToolTolerances) -> Taken:
    if seen.cliff is None:
        return Taken(None, why=tr("There is no water in the tank that could be drawn."))
    return Taken(seen.cliff, tolerances.gauge)


def _precharge(seen: Watched, tolerances: ToolTolerances) -> Taken:
    return Taken(seen.drained_charge, tolerances.tyre_gauge)


def _next_day(seen: Watched, tolerances: ToolTolerances) -> Taken:
    right = seen.rig.setting.precharge
    return Taken(max(right - seen.rig.charge_loss, 0.0), tolerances.tyre_gauge)


def _never_stops() -> str:
    return tr("The pump never stops.")


_TAKERS: dict[str, Callable[[Watched, ToolTolerances], Taken]] = {
    "cut_out": _cut_out,
    "cut_in": _cut_in,
    "stall": _stall,
    "drained": _drained_water,
    "refill": _refill,
    "flow": _flow,
    "starts": _starts,
    "spits": _spits,
    "gap": _gap,
    "idle_starts": _idle_starts,
    "dull": _dull,
    "left": _left,
    "soap": _soap,
    "valve_water": _valve_water,
    "fall": _fall,
    "cliff": _cliff,
    "precharge": _precharge,
    "next_day": _next_day,
}
