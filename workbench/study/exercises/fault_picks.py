"""Exercises on hidden faults in which one answer is picked."""

from __future__ import annotations

from itertools import combinations

from workbench.job.teach_choices import Fault
from workbench.study.exercises import hunt_rigs, sums
from workbench.study.exercises.cases import Span
from workbench.study.exercises.draft import Draft, no, pick, yes
from workbench.study.exercises.draws import Draws
from workbench.study.exercises.hunt_making import hunt_of, sound_rows
from workbench.study.exercises.hunting import (
    against,
    contradiction,
    name_of,
    show_read,
    show_span,
    span_of,
    working,
)
from workbench.study.exercises.neat import Neat
from workbench.study.exercises.slip import Slip
from workbench.study.faults.readings import Reading, least_difference, readings, take, tools
from workbench.study.live.rig import Rig
from workbench.study.working import Step
from workbench.words import tr


def which_next(draws: Draws, neat: Neat) -> Draft | None:
    """Two suspects are left: which reading tells them apart whatever their size?"""
    units, index = neat.display.system, draws.below(hunt_rigs.COUNT)
    cases = hunt_rigs.cases(units, index)
    sound, tap = hunt_rigs.sound_rig(units, index)
    suspects = tuple(dict.fromkeys(case.fault for case in cases))
    one, other = draws.one_of(tuple(combinations(suspects, 2)))
    tell, blind = [], []
    for reading in readings():
        a, b = (span_of(fault, reading.key, cases) for fault in (one, other))
        if _apart(a, b, _tolerance(reading, sound, tap)):
            tell.append(reading)
        elif _alike(a, b):
            blind.append(reading)
    if not tell or len(blind) < 3:
        return None
    right = draws.one_of(tell)
    wrong = draws.some(blind, 3)

    def why(reading: Reading) -> str:
        parts = [
            tr("With “{fault}”: {span}.", fault=name_of(fault),
               span=show_span(reading.key, span_of(fault, reading.key, cases), neat.display))
            for fault in (one, other)
        ]  # fmt: skip
        return " ".join(parts)

    return Draft(
        tr("Which reading next?"),
        tr(
            "At {place} you have read enough to leave two suspects: “{one}” and “{other}”.",
            place=neat.place,
            one=name_of(one),
            other=name_of(other),
        ),
        sound_rows(sound, tap, neat),
        tr("Which reading tells the two apart, however far either has gone?"),
        pick(draws, yes(_named(right), why(right)),
             [no(_named(reading), Slip.NOT_READ, why(reading)) for reading in wrong]),
        (_step(right.name, why(right)),),
        sums.cautions_at_tank(),
    )  # fmt: skip


def _named(reading: Reading) -> str:
    with_tools = ", ".join(tools()[tool] for tool in reading.tools)
    return tr("{reading} ({tools})", reading=reading.name, tools=with_tools)


def _tolerance(reading: Reading, sound: Rig, tap: float) -> float:
    return take(sound, reading, tap, hunt_rigs.tolerances()).tolerance


def _apart(a: Span, b: Span, tolerance: float) -> bool:
    """Whether any value of one is told from any of the other."""
    if a.low is None or b.low is None or a.high is None or b.high is None or a.lacks or b.lacks:
        return False
    far = least_difference(tolerance, tolerance)
    return a.low - b.high > far or b.low - a.high > far


def _alike(a: Span, b: Span) -> bool:
    """Whether some sizes of both show the same."""
    if a.low is None or b.low is None or a.high is None or b.high is None:
        return a.lacks and b.lacks
    return a.low <= b.high and b.low <= a.high


def _step(title: str, numbers: str) -> Step:
    return Step(
        title,
        tr("what one shows is further from what the other shows than the tolerances allow"),
        numbers,
        tr("GUM (JCGM 100:2008), 4.3.7 and 6.3.3"),
    )


def what_fits(draws: Draws, neat: Neat) -> Draft | None:
    """Readings are given; which fault fits them all?"""
    found = hunt_of(draws, neat)
    if found is None:
        return None
    hunt, sound = found
    spare = [one.key for one in hunt.offered if one.key not in hunt.cheapest]
    kept = {*hunt.cheapest, *draws.some(spare, 3)}
    given = [one for one in hunt.offered if one.key in kept]
    keys = [one.key for one in given]

    def why(fault: Fault) -> str:
        return contradiction(hunt, fault, against(hunt, fault, keys), neat.display)

    others = draws.some([fault for fault in hunt.suspects if fault is not hunt.fault], 3)
    right = yes(_said(hunt.fault), tr("It alone fits every reading within its tolerance."))
    return Draft(
        tr("Which fault fits?"),
        tr(
            "At {place} these readings were taken, one after the other. One thing is wrong, or"
            " nothing.",
            place=neat.place,
        ),
        (
            *sound_rows(sound, hunt.tap, neat),
            *((one.name, show_read(one, neat.display)) for one in given),
        ),
        tr("What explains all of them?"),
        pick(draws, right, [no(_said(one), Slip.CONTRADICTED, why(one)) for one in others]),
        working(hunt, neat.display),
    )


def _said(fault: Fault) -> str:
    if fault is Fault.NONE:
        return tr("Nothing is wrong")
    name = name_of(fault)
    return name[:1].upper() + name[1:]
