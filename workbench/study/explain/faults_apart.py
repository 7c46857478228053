"""How far a reading may be off, and when two of them count as different."""

from __future__ import annotations

from collections.abc import Callable

from workbench.job.teach_choices import Degree, Fault
from workbench.study.explain.steps import ending_as
from workbench.study.faults.made import with_fault
from workbench.study.faults.readings import (
    Reading,
    Taken,
    ToolTolerances,
    least_difference,
    take,
)
from workbench.study.faults.view import ReadingRow
from workbench.study.faults.watched import Watched
from workbench.study.faults.words import fault_name, tolerance_text, value_text, verdict_text
from workbench.study.live.rig import Rig
from workbench.study.working import Step
from workbench.units import FLOW, PRESSURE, SHORT_TIME, STARTS_PER_HOUR, VOLUME, Display
from workbench.words import tr


def gum() -> str:
    """The source of how tolerances add up and when a difference means something."""
    return tr("GUM, JCGM 100:2008, 4.3.7, 5.1.2 and 6.3.3")


# --- tolerances ---


def tolerance_steps(
    seen: Watched, reading: Reading, taken: Taken, tolerances: ToolTolerances, display: Display
) -> tuple[Step, ...]:
    """How the ± of a reading comes about; the last step ends as it is shown."""
    made = _MADE.get(reading.key)
    if made is not None:
        step = made(seen, reading, taken, tolerances, display)
    else:
        step = _of_tool(reading, taken, tolerances, display)
    shown = tolerance_text(taken, reading, display)
    return (ending_as(step, shown.removeprefix("± ")),)


def _of_tool(reading: Reading, taken: Taken, tolerances: ToolTolerances, display: Display) -> Step:
    """The tool's own, as entered."""
    assert reading.kind is not None  # noqa: S101 - what has a tolerance has a kind
    entries = {
        tolerances.gauge: tr("tolerance of the gauge"),
        tolerances.tyre_gauge: tr("tolerance of the tyre gauge"),
        tolerances.bucket: tr("tolerance of the bucket"),
        tolerances.watch: tr("tolerance of the watch"),
    }
    formula = entries.get(taken.tolerance, tr("as entered"))
    places = 2 if reading.kind is VOLUME else 1 if reading.kind is SHORT_TIME else None
    return Step(
        tr("Tolerance of {reading}", reading=reading.name),
        tr("a: {entry}", entry=formula),
        display.text(taken.tolerance, reading.kind, places),
        tr("as entered at the left"),
    )


def _flow(
    seen: Watched, reading: Reading, taken: Taken, tolerances: ToolTolerances, display: Display
) -> Step:
    assert seen.drained is not None  # noqa: S101 - else there is no flow
    assert seen.refill is not None  # noqa: S101 - else there is no flow
    water, bucket = (
        display.text(one, VOLUME, 2) for one in (seen.drained.water, tolerances.bucket)
    )
    took, watch = (
        display.text(one, SHORT_TIME, 1) for one in (seen.refill.seconds, tolerances.watch)
    )
    flow = display.text(seen.drained.water / seen.refill.seconds, FLOW, 2)
    return Step(
        tr("Tolerance of {reading}", reading=reading.name),
        tr("a = Q × ((bucket / drained)² + (watch / time)²)^(1/2)"),
        f"{flow} × (({bucket} / {water})^2 + ({watch} / {took})^2)^(1/2) ="
        f" {display.text(taken.tolerance, FLOW)}",
        tr("GUM, JCGM 100:2008, 5.1.6"),
    )


def _starts(
    _seen: Watched, reading: Reading, taken: Taken, tolerances: ToolTolerances, display: Display
) -> Step:
    shown, title = display.text(taken.tolerance, STARTS_PER_HOUR), (
        tr("Tolerance of {reading}", reading=reading.name)
    )  # fmt: skip
    if not taken.value or reading.key == "idle_starts":
        return Step(title, tr("a click is heard or not: half of one"), shown, tr("our own figure"))
    often = display.text(float(taken.value), STARTS_PER_HOUR, 2)
    watch = display.text(tolerances.watch, SHORT_TIME, 1)
    turn = display.text(1.0 / float(taken.value), SHORT_TIME, 1)
    return Step(
        title,
        tr("a = N × ((watch / turn)² + 5 %²)^(1/2), 5 %: the draw, set by hand"),
        f"{often} × (({watch} / {turn})^2 + 5 %^2)^(1/2) = {shown}",
        tr("GUM, JCGM 100:2008, 5.1.6; the draw's 5 % is our own figure"),
    )


def _by_hand(
    _seen: Watched, reading: Reading, taken: Taken, _tolerances: ToolTolerances, display: Display
) -> Step:
    assert reading.kind is not None  # noqa: S101 - what has a tolerance has a kind
    return Step(
        tr("Tolerance of {reading}", reading=reading.name),
        tr("what a knock or a rocking hand may miss"),
        display.text(taken.tolerance, reading.kind),
        tr("our own figure"),
    )


def _fall(
    _seen: Watched, reading: Reading, taken: Taken, tolerances: ToolTolerances, display: Display
) -> Step:
    return Step(
        tr("Tolerance of {reading}", reading=reading.name),
        tr("a = gauge / 2: on one gauge its zero error drops out"),
        f"{display.text(tolerances.gauge, PRESSURE)} / 2 ="
        f" {display.text(taken.tolerance, PRESSURE)}",
        tr("our own figure"),
    )


_Made = Callable[[Watched, Reading, Taken, ToolTolerances, Display], Step]
_MADE: dict[str, _Made] = {
    "flow": _flow,
    "starts": _starts,
    "idle_starts": _starts,
    "dull": _by_hand,
    "left": _by_hand,
    "fall": _fall,
}


# --- whether two readings differ ---


def differs_steps(row: ReadingRow, display: Display) -> tuple[Step, ...]:
    """The rule by which a row's two readings are told apart, with its numbers."""
    verdict, reading, first, second = verdict_text(row), row.reading, row.healthy, row.faulty
    here, there = (value_text(one, reading, display) for one in (first, second))
    if first.value is None or second.value is None or reading.kind is None:
        formula = tr("yes against no, or a reading that only one of them allows, is seen at once")
        told = tr("sound: {here}; faulty: {there}: {verdict}", here=here, there=there,
                  verdict=verdict)  # fmt: skip
        return (Step(tr("Verdict"), formula, told, tr("definition")),)
    away = abs(float(first.value) - float(second.value))
    apart, least = (
        display.text(one, reading.kind, _places(display, reading))
        for one in (away, least_difference(first.tolerance, second.tolerance))
    )
    sign = ">" if row.differs else "≤"
    return (
        _difference(first, second, reading, display),
        _least(first, second, reading, display),
        Step(
            tr("Verdict"),
            tr("they differ, if they are further apart than both tolerances explain"),
            f"{apart} {sign} {least}: {verdict}",
            gum(),
        ),
    )


def _places(display: Display, reading: Reading) -> int:
    """One decimal more than is usual for the kind, two at least."""
    assert reading.kind is not None  # noqa: S101 - asked only then
    return max(2, display.unit(reading.kind).decimals + 1)


def _difference(first: Taken, second: Taken, reading: Reading, display: Display) -> Step:
    assert reading.kind is not None  # noqa: S101 - asked only then
    places = _places(display, reading)
    high, low = sorted((float(first.value or 0.0), float(second.value or 0.0)), reverse=True)
    more, less, apart = (display.text(one, reading.kind, places) for one in (high, low, high - low))
    return Step(tr("Difference"), tr("x1 − x2"), f"{more} − {less} = {apart}", tr("definition"))


def _least(first: Taken, second: Taken, reading: Reading, display: Display) -> Step:
    assert reading.kind is not None  # noqa: S101 - asked only then
    places = _places(display, reading)
    a, b, least = (
        display.text(one, reading.kind, places)
        for one in (
            first.tolerance,
            second.tolerance,
            least_difference(first.tolerance, second.tolerance),
        )
    )
    return Step(
        tr("What the tolerances can explain, about 95 in 100"),
        tr("2 × ((a1² + a2²) / 3)^(1/2)"),
        f"2 × (({a}^2 + {b}^2) / 3)^(1/2) = {least}",
        gum(),
    )


def other_steps(
    healthy: Rig,
    faulty: Rig,
    fault: Fault,
    reading: Reading,
    place: tuple[float, ToolTolerances],
    display: Display,
) -> Step:
    """A reading here beside the same at another fault, in each of its degrees."""
    tap, tolerances = place
    here = take(faulty, reading, tap, tolerances)
    there = [
        value_text(take(rig, reading, tap, tolerances), reading, display)
        for rig in _degrees(healthy, fault)
    ]
    told = tr("here {here}; there {there}", here=value_text(here, reading, display),
              there=", ".join(dict.fromkeys(there)))  # fmt: skip
    if reading.kind is not None and here.value is not None:
        least = least_difference(here.tolerance, here.tolerance)
        away = display.text(least, reading.kind, _places(display, reading))
        told = tr("{told}; more than {away} apart is seen", told=told, away=away)
    return Step(
        tr("{fault}: {reading}", fault=fault_name(fault), reading=reading.name),
        tr("outside of all that the other fault reads, from hardly any of it to severe"),
        told,
        gum(),
    )


def _degrees(healthy: Rig, fault: Fault) -> list[Rig]:
    """The other fault in each of its degrees, as far as the system can have it."""
    if fault is Fault.NONE:
        return [healthy]
    rigs = []
    for degree in Degree:
        try:
            rigs.append(with_fault(healthy, fault, degree))
        except ValueError:
            continue
    return rigs
