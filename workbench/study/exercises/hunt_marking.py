"""A fault that was named is judged by the readings that were taken."""

from __future__ import annotations

from collections.abc import Sequence

from workbench.study.exercises.exercise import Hunt, HuntAnswer
from workbench.study.exercises.hunting import (
    against,
    contradiction,
    name_of,
    possible,
    would_tell,
)
from workbench.study.exercises.marked import Marked
from workbench.study.exercises.remedy import remedies
from workbench.study.exercises.slip import Slip, slips
from workbench.units import Display
from workbench.words import tr


def mark_hunt(hunt: Hunt, answer: HuntAnswer, display: Display) -> Marked:
    """Mark the fault named and the readings taken.

    Raises:
        ValueError: a fault that was not to choose, a reading that was not offered.
    """
    offered = {one.key for one in hunt.offered}
    if answer.fault not in hunt.suspects or not offered.issuperset(answer.taken):
        raise ValueError(tr("there is no such fault or reading in this exercise"))
    taken = tuple(dict.fromkeys(answer.taken))
    minutes = hunt.minutes(taken)
    if answer.fault is hunt.fault:
        return _right(hunt, taken, minutes)
    return _wrong(hunt, answer, taken, minutes, display)


def right_of_hunt(hunt: Hunt) -> str:
    """Fault, and the cheapest readings that tell it."""
    return tr(
        "{fault}; told by {readings} in {minutes} min",
        fault=name_of(hunt.fault),
        readings=_names(hunt, hunt.cheapest),
        minutes=f"{hunt.minutes(hunt.cheapest):g}",
    )


def _right(hunt: Hunt, taken: Sequence[str], minutes: float) -> Marked:
    others = [fault for fault in possible(hunt, taken) if fault is not hunt.fault]
    if others:
        words = tr(
            "Right, but a guess: what you read fits these too: {faults}.",
            faults=", ".join(f"“{name_of(fault)}”" for fault in others),
        )
        remedy = tr("Also take: {readings}.", readings=_names(hunt, would_tell(hunt, taken)))
        return Marked(right=True, slip=Slip.GUESSED, words=words, remedy=remedy, minutes=minutes)
    least = hunt.minutes(hunt.cheapest)
    if minutes <= least:
        words = tr("Right, and told by your readings in {minutes} min; none could be quicker.",
                   minutes=f"{minutes:g}")  # fmt: skip
    else:
        words = tr(
            "Right, and told by your readings in {minutes} min. {least} min are enough:"
            " {readings}.",
            minutes=f"{minutes:g}",
            least=f"{least:g}",
            readings=_names(hunt, hunt.cheapest),
        )
    return Marked(right=True, slip=None, words=words, remedy="", minutes=minutes)


def _wrong(
    hunt: Hunt, answer: HuntAnswer, taken: Sequence[str], minutes: float, display: Display
) -> Marked:
    speaks = against(hunt, answer.fault, taken)
    if speaks:
        words = tr(
            "Not right: what you read yourself speaks against it. {numbers}",
            numbers=contradiction(hunt, answer.fault, speaks, display),
        )
        return _marked_wrong(Slip.CONTRADICTED, words, minutes)
    left = [one.key for one in hunt.offered]
    would = _quickest_against(hunt, answer, taken, left)
    words = tr(
        "Not right. {what} One that you did not take would have spoken against it. {numbers}",
        what=slips()[Slip.NOT_READ].source,
        numbers=contradiction(hunt, answer.fault, would, display),
    )
    return _marked_wrong(Slip.NOT_READ, words, minutes)


def _marked_wrong(slip: Slip, words: str, minutes: float) -> Marked:
    return Marked(right=False, slip=slip, words=words, remedy=remedies()[slip], minutes=minutes)


def _quickest_against(
    hunt: Hunt, answer: HuntAnswer, taken: Sequence[str], keys: Sequence[str]
) -> tuple[str, ...]:
    """The readings that speak against a fault: one alone if one does, the quickest of those."""
    alone = [key for key in keys if key not in taken and against(hunt, answer.fault, [key])]
    if alone:
        return (min(alone, key=lambda key: hunt.reading(key).minutes),)
    return against(hunt, answer.fault, keys)


def _names(hunt: Hunt, keys: Sequence[str]) -> str:
    return ", ".join(hunt.reading(key).name for key in keys)
