"""What was read in a hunt, held against what each fault would show; and both in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from workbench.job.teach_choices import Fault, faults
from workbench.study.exercises.cases import (
    NEVER,
    Case,
    Excludes,
    Span,
    cheapest_set,
    still_possible,
)
from workbench.study.exercises.exercise import Hunt, Offered
from workbench.study.faults.readings import reading_of
from workbench.study.working import Step
from workbench.units import Display, Kind
from workbench.words import tr


def excluded_by(offered: Iterable[Offered]) -> Excludes:
    """Whether the reading of a key, as it was read, speaks against a case."""
    read = {one.key: one for one in offered}

    def excludes(key: str, case: Case) -> bool:
        return case.spans[key].excludes(read[key].value, read[key].tolerance)

    return excludes


def possible(hunt: Hunt, taken: Sequence[str]) -> tuple[Fault, ...]:
    """The faults that fit what was read."""
    return still_possible(hunt.cases, taken, excluded_by(hunt.offered))


def would_tell(hunt: Hunt, taken: Sequence[str]) -> tuple[str, ...]:
    """The readings that, with those taken, tell the fault in the fewest minutes more."""
    left = {one.key: one.minutes for one in hunt.offered if one.key not in taken}
    found = cheapest_set(hunt.cases, hunt.fault, left, excluded_by(hunt.offered), taken)
    return found or ()


def against(hunt: Hunt, fault: Fault, keys: Iterable[str]) -> tuple[str, ...]:
    """The fewest of these readings that speak against every case of a fault; () if they do not."""
    excludes = excluded_by(hunt.offered)
    cases = [case for case in hunt.cases if case.fault is fault]
    costs = dict.fromkeys(keys, 1.0)
    return cheapest_set(cases, hunt.fault, costs, excludes) or ()


# --- in words ---


@lru_cache(maxsize=64)
def kind_of(key: str) -> Kind | None:
    """The kind of a reading's value; None for yes or no."""
    return reading_of(key).kind


def name_of(fault: Fault) -> str:
    """A fault as the trade calls it."""
    return faults()[fault].label


def show_value(key: str, value: float | None, display: Display) -> str:
    """A reading in words."""
    kind = kind_of(key)
    if value is None:
        return tr("cannot be taken")
    if kind is None:
        return tr("yes") if value else tr("no")
    return display.text(value, kind)


def show_read(one: Offered, display: Display) -> str:
    """A reading with its tolerance."""
    kind = kind_of(one.key)
    if one.value is None or kind is None or not one.tolerance:
        return one.shown
    unit = display.unit(kind)
    tolerance = f"{round(one.tolerance / unit.factor, 2):.2g}".replace(".", display.mark)
    return tr("{value} ± {tolerance}", value=one.shown, tolerance=tolerance)


def span_of(fault: Fault, key: str, cases: Iterable[Case]) -> Span:
    """What a reading can show with a fault of any size."""
    spans = [case.spans[key] for case in cases if case.fault is fault]
    lows = [span.low for span in spans if span.low is not None]
    highs = [span.high for span in spans if span.high is not None]
    lacks = any(span.lacks for span in spans)
    return Span(min(lows), max(highs), lacks) if lows and highs else NEVER


def show_span(key: str, span: Span, display: Display) -> str:
    """The same in words."""
    low, high = show_value(key, span.low, display), show_value(key, span.high, display)
    if span.low is None:
        return low
    told = low if low == high else tr("{low} to {high}", low=low, high=high)
    return tr("{told}, or none that can be taken", told=told) if span.lacks else told


def contradiction(hunt: Hunt, fault: Fault, keys: Sequence[str], display: Display) -> str:
    """Why these readings speak against a fault, by numbers."""
    parts = [
        tr(
            "{reading}: {read}; with “{fault}” it would be {span}.",
            reading=hunt.reading(key).name,
            read=show_read(hunt.reading(key), display),
            fault=name_of(fault),
            span=show_span(key, span_of(fault, key, hunt.cases), display),
        )
        for key in keys
    ]
    if len(keys) > 1:
        parts.append(tr("No size of this fault fits all of them at once."))
    return " ".join(parts)


def working(hunt: Hunt, display: Display) -> tuple[Step, ...]:
    """How the cheapest readings tell the fault from every other."""
    steps = []
    for fault in hunt.suspects:
        keys = against(hunt, fault, hunt.cheapest) if fault is not hunt.fault else ()
        if not keys:
            continue
        names = [hunt.reading(key).name for key in keys]
        told = [
            tr(
                "{read} in place of {span}",
                read=show_read(hunt.reading(key), display),
                span=show_span(key, span_of(fault, key, hunt.cases), display),
            )
            for key in keys
        ]
        steps.append(
            Step(
                tr("Not “{fault}”", fault=name_of(fault)),
                "; ".join(names),
                "; ".join(told),
                tr("GUM (JCGM 100:2008), 4.3.7 and 6.3.3: further off than the tolerance allows"),
            )
        )
    return tuple(steps)
