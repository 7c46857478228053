"""How each reading at a well system comes about at a rig, and how far it may be off.

The tests are those of :mod:`workbench.study.faults.readings`; what each of them measures is told
here as the formula behind it.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from workbench.job.pump_choices import PumpEntry, pump_entries
from workbench.study.cycle.working import handbook
from workbench.study.explain.reading_times import followed, turn_steps
from workbench.study.explain.steps import ending_as
from workbench.study.explain.system_steps import balance, held_at, span_text, stored_step
from workbench.study.faults.made import DAY
from workbench.study.faults.readings import NOTICED, Reading, Taken
from workbench.study.faults.watched import DRAIN, Watched
from workbench.study.faults.words import value_text
from workbench.study.working import Step
from workbench.units import (
    FLOW,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_HOUR,
    VOLUME,
    Display,
)
from workbench.words import tr

_FINE = 4
_SAME = 1e-3  # s, or a share: what was followed and what a formula gives count as one


def reading_steps(
    seen: Watched, reading: Reading, taken: Taken, display: Display
) -> tuple[Step, ...]:
    """How a reading's value comes about; the last step ends as it is shown."""
    if taken.value is None:
        return (Step(reading.name, reading.how, taken.why, followed()),)
    *first, last = _RULES[reading.key](seen, reading, display)
    return (*first, ending_as(last, value_text(taken, reading, display)))


def _pressure(value: float, display: Display) -> str:
    return display.text(value, PRESSURE)


# --- on the gauge ---


def _cut_out(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    high = seen.standing.pressure if seen.refill is None else seen.refill.pressure
    opens = _pressure(seen.system.cut_out, display)
    return (_on_switch(seen, reading, opens, high, display),)


def _cut_in(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    assert seen.drained is not None  # noqa: S101 - else nothing could be read
    closes = _pressure(seen.system.cut_in, display)
    return (_on_switch(seen, reading, closes, seen.drained.moment.pressure, display),)


def _on_switch(seen: Watched, reading: Reading, acts: str, gauge: float, display: Display) -> Step:
    """Where the gauge stands when the contacts move; a plugged nipple lets them move late."""
    lag, shown = seen.system.sensing_lag, _pressure(gauge, display)
    if lag == 0.0:
        formula = tr("the gauge when the contacts move")
        return Step(reading.name, formula, tr("contacts at {acts}", acts=acts), followed())
    late = display.text(lag, SHORT_TIME)
    return Step(
        reading.name,
        tr("what the switch feels follows the gauge: dp felt / dt = (p − p felt) / lag"),
        tr("contacts at {acts} felt, lag {late} → {shown}", acts=acts, late=late, shown=shown),
        followed(),
    )


def _stall(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    shown = _pressure(seen.standing.pressure, display)
    opens = _pressure(seen.system.cut_out, display)
    return (
        Step(
            reading.name,
            tr("taps shut, the pump runs until it gives nothing: Q(p) = 0"),
            tr("below cut-out, {opens} → {shown}", opens=opens, shown=shown),
            tr("the pump's data as entered, with the fault in them"),
        ),
    )


def _fall(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    start = seen.standing.pressure
    high, low = (display.text(p, PRESSURE, 2) for p in (start, start - seen.fall))
    back = display.text(seen.system.back_flow, FLOW, 2)
    left = Step(
        tr("Gauge after ten minutes"),
        tr("S falls by b × 10 min; b: what runs back into the well"),
        tr("{high}, {back} → {low}", high=high, back=back, low=low),
        followed(),
    )
    last = Step(
        reading.name,
        tr("gauge before − gauge after"),
        f"{high} − {low} = {_pressure(seen.fall, display)}",
        tr("definition"),
    )
    return (left, last)


def _cliff(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    assert seen.cliff is not None  # noqa: S101 - else nothing could be read
    return (
        Step(
            reading.name,
            tr("with its last water the tank's air is back at its precharge: p = Pp"),
            _pressure(seen.cliff, display),
            tr("Boyle's law; the test is our own derivation"),
        ),
    )


# --- bucket and watch ---


def _drained(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    assert seen.drained is not None  # noqa: S101 - else nothing could be read
    system, done = seen.system, seen.drained
    ends = (seen.standing.pressure, done.moment.pressure)
    titles = (tr("Tank and pipes at the stop"), tr("Tank and pipes at the click"))
    held = (tr("Water in the tank at the stop"), tr("Water in the tank at the click"))
    steps = [held_at(system, title, p, display) for title, p in zip(held, ends, strict=True)]
    steps += [stored_step(system, title, p, display) for title, p in zip(titles, ends, strict=True)]
    stored = [system.stored(p) for p in ends]
    high, low = (display.text(one, VOLUME, _FINE) for one in stored)
    back, lost = system.back_flow * done.seconds, ""
    if back > 0.0:
        lost = f" − {display.text(back, VOLUME, _FINE)}"
        steps.append(
            Step(tr("Run back into the well meanwhile"), tr("b × seconds"),
                 f"{display.text(system.back_flow, FLOW, 3)} ×"
                 f" {display.text(done.seconds, SHORT_TIME, 2)} = "
                 f"{display.text(back, VOLUME, _FINE)}", balance())
        )  # fmt: skip
    numbers = f"{high} − {low}{lost} = {display.text(done.water, VOLUME, 2)}"
    if not math.isclose(stored[0] - stored[1] - back, done.water, rel_tol=_SAME, abs_tol=1e-6):
        seconds = display.text(done.seconds, SHORT_TIME)
        drain = display.text(DRAIN, FLOW)
        numbers = f"{drain}, {seconds} → {display.text(done.water, VOLUME, 2)}"
    source = tr("drain-down test: American Ground Water Trust, notes on pressure tanks")
    last = Step(reading.name, tr("water at the stop − water at the click"), numbers, source)
    return (*steps, last)


def _refill(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    assert seen.refill is not None  # noqa: S101 - else nothing could be read
    assert seen.drained is not None  # noqa: S101 - it comes before
    system, took = seen.system, seen.refill.seconds
    shown, late = display.text(took, SHORT_TIME, 1), system.start_delay
    start = system.stored(seen.drained.moment.pressure)
    water = system.stored(seen.refill.pressure) - start + system.back_flow * late
    filled, begins = display.text(water, VOLUME, 3), display.text(late, SHORT_TIME, 1)
    first = system.pump_flow(start)
    last = system.pump_flow(start + water)
    plain = late + water / first if first > 0.0 else math.inf
    if math.isclose(plain, took, rel_tol=_SAME):
        numbers = f"{begins} + {filled} / {display.text(first, FLOW, 2)} = {shown}"
        formula = tr("t = start + filled / Q")
    else:
        flows = f"{display.text(first, FLOW)} … {display.text(last, FLOW)}"
        numbers = f"{begins}, {filled}, {flows} → {shown}"
        formula = tr("t = start + ∫ dS / Q(S) from the click to the stop")
    return (Step(reading.name, formula, numbers, _bucket()),)


def _bucket() -> str:
    return pump_entries()[PumpEntry.BUCKET].source


def _flow(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    assert seen.refill is not None  # noqa: S101 - else nothing could be read
    assert seen.drained is not None  # noqa: S101 - it comes before
    water = display.text(seen.drained.water, VOLUME, 3)
    took = display.text(seen.refill.seconds, SHORT_TIME, 2)
    flow = display.text(seen.drained.water / seen.refill.seconds, FLOW)
    numbers = f"{water} / {took} = {flow}"
    last = Step(reading.name, tr("Q = drained / time to refill"), numbers, _bucket())
    return (*_drained(seen, reading, display), last)


# --- starts and the stream ---


def _starts(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    steps, turned = turn_steps(seen, display), seen.turned
    if not steps or turned is None:
        told = tr("at {draw} there is no start, or no stop → {none}",
                  draw=display.text(seen.tap, FLOW),
                  none=display.text(0.0, STARTS_PER_HOUR))  # fmt: skip
        return (Step(reading.name, tr("time from click to click"), told, followed()),)
    run, rest = span_text(turned.run, display), span_text(turned.rest, display)
    often = display.text(1.0 / (turned.run + turned.rest), STARTS_PER_HOUR)
    last = Step(
        reading.name, tr("N = 1 / (run + rest)"), f"1 / ({run} + {rest}) = {often}", handbook()
    )
    return (*steps, last)


def _gap(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    system, gap = seen.system, display.text(seen.gap, SHORT_TIME, 1)
    draw, late = seen.tap + system.back_flow, system.start_delay
    lasts = system.starts_at / draw
    start, after = (display.text(one, SHORT_TIME, 2) for one in (late, lasts))
    stored = Step(
        tr("After the click the water under pressure lasts"),
        tr("S at cut-in / draw"),
        f"{display.text(system.starts_at, VOLUME, _FINE)} / {display.text(draw, FLOW, 2)}"
        f" = {after}",
        balance(),
    )
    if system.sensing_lag > 0.0 or abs(max(late - lasts, 0.0) - seen.gap) > _SAME:
        lag = display.text(system.sensing_lag, SHORT_TIME)
        told = tr("start {start}, lag of the switch {lag} → {gap}", start=start, lag=lag, gap=gap)
        formula = tr("from the end of the stream until the pump gives")
        return (Step(reading.name, formula, told, followed()),)
    if seen.gap == 0.0:
        told = tr("{lasts}, at least the start's {start} → {gap}", lasts=after, start=start,
                  gap=gap)  # fmt: skip
    else:
        told = f"{start} − {after} = {gap}"
    formula = tr("the pump's start − what the water lasts, not below zero")
    return (stored, Step(reading.name, formula, told, balance()))


def _spits(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    gap, noticed = (display.text(one, SHORT_TIME, 1) for one in (seen.gap, NOTICED))
    told = tr("{gap}, noticed above {noticed}", gap=gap, noticed=noticed)
    last = Step(
        reading.name, tr("yes, if the stream stops for longer than is noticed"), told,
        tr("what is noticed is our own figure"),
    )  # fmt: skip
    return (*_gap(seen, reading, display), last)


def _idle_starts(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    back = display.text(seen.system.back_flow, FLOW, 2)
    shown = display.text(seen.idle_starts / 3600.0, STARTS_PER_HOUR)
    return (
        Step(
            reading.name,
            tr("taps shut: what runs back into the well empties the tank from stop to start"),
            tr("{back} back into the well → {shown}", back=back, shown=shown),
            followed(),
        ),
    )


# --- by hand, and drained ---


def _dull(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    pressure = seen.standing.pressure
    held = held_at(seen.system, tr("Water in the tank after a stop"), pressure, display)
    return (held, _share(seen, reading, seen.standing.water, display))


def _share(seen: Watched, reading: Reading, water: float, display: Display) -> Step:
    above, volume = seen.rig.water_above, seen.system.volume
    under, on, whole = (display.text(one, VOLUME, 2) for one in (water, above, volume + above))
    share = display.text((water + above) / (volume + above), reading.kind or VOLUME)
    return Step(
        reading.name,
        tr("(water below the membrane + water above it) / total volume"),
        f"({under} + {on}) / {whole} = {share}",
        tr("definition; dew and sound show where the water ends: common practice, no source"),
    )


def _left(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    return (_share(seen, reading, 0.0, display),)


def _soap(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    loss, volume = seen.rig.charge_loss, seen.system.volume
    lost = tr("{loss} a day from {volume}", loss=display.text(loss, PRESSURE, 2),
              volume=display.text(volume, VOLUME))  # fmt: skip
    leak = f"{loss * volume / DAY:.1e}".replace(".", display.mark)
    return (
        Step(
            reading.name,
            tr("leak = loss of a day × V / day; bubbles show from 1e-4 Pa m³/s on"),
            tr("{lost}: {leak} Pa m³/s", lost=lost, leak=leak),
            tr("bubble test, EN 1593 (from memory)"),
        ),
    )


def _valve_water(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    above = display.text(seen.rig.water_above, VOLUME)
    return (
        Step(
            reading.name,
            tr("yes, if water lies above the membrane"),
            tr("{water} above the membrane", water=above),
            tr("Washington State Department of Health 331-342, “Troubleshooting Bladder Pressure"
               " Tanks”, November 2010"),
        ),
    )  # fmt: skip


def _precharge(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    return (
        Step(
            reading.name,
            tr("no water in the tank, gauge at zero: the air alone is read"),
            _pressure(seen.drained_charge, display),
            tr("Washington State Department of Health 331-342, “Troubleshooting Bladder Pressure"
               " Tanks”, November 2010"),
        ),
    )  # fmt: skip


def _next_day(seen: Watched, reading: Reading, display: Display) -> tuple[Step, ...]:
    right, loss = seen.rig.setting.precharge, seen.rig.charge_loss
    shown = [display.text(one, PRESSURE, 2) for one in (right, loss, max(right - loss, 0.0))]
    return (
        Step(
            reading.name,
            tr("right precharge − what leaks in a day"),
            f"{shown[0]} − {shown[1]} = {shown[2]}",
            tr("the fault's size is our own choice"),
        ),
    )


_RULES: dict[str, Callable[[Watched, Reading, Display], tuple[Step, ...]]] = {
    "cut_out": _cut_out,
    "cut_in": _cut_in,
    "stall": _stall,
    "drained": _drained,
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
