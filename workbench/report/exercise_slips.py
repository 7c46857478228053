"""A hunt on paper: what each reading shows stands on slips, of which one looks up what one pays
for.

The slips of all hunts are numbered through in an order that follows from the exercises and tells
nothing, so that a neighbour that is seen by chance belongs to something else.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping

from workbench.report.blocks import Section, Table, Words
from workbench.report.estimate_words import printable
from workbench.study.exercises.exercise import Exercise, Hunt
from workbench.words import tr

SlipNumbers = Mapping[tuple[int, str], int]
"""The number of the slip for each reading, by the exercise's number and the reading's key."""
_ABREAST = 3


def numbered_slips(exercises: Iterable[Exercise]) -> SlipNumbers:
    """The slips of all hunts, numbered from 1, the same for the same exercises."""
    keys = [
        (hashlib.sha256(f"{one.seed}/{one.number}/{reading.key}".encode()).digest(),
         (one.number, reading.key))
        for one in exercises
        if isinstance(one.ask, Hunt)
        for reading in one.ask.offered
    ]  # fmt: skip
    return {place: number for number, (_, place) in enumerate(sorted(keys), start=1)}


def slips_section(exercises: Iterable[Exercise], numbers: SlipNumbers) -> Section:
    """All slips by their numbers, on a page of their own."""
    shown: dict[int, str] = {}
    for exercise in exercises:
        if isinstance(exercise.ask, Hunt):
            for reading in exercise.ask.offered:
                shown[numbers[exercise.number, reading.key]] = printable(reading.shown)
    cells = [(str(number), shown[number]) for number in sorted(shown)]
    per_column = -(-len(cells) // _ABREAST)
    cells += [("", "")] * (per_column * _ABREAST - len(cells))
    columns = [cells[place * per_column :][:per_column] for place in range(_ABREAST)]
    rows = tuple(tuple(text for cell in row for text in cell) for row in zip(*columns, strict=True))
    heading = tr("Reading slips")
    told = tr(
        "Look up only the number of a reading that you take, and add its minutes to yours. The"
        " slips of all exercises are mixed. Fold this page away, or let the trainer keep it."
    )
    table = Table(
        name=tr("What each slip reads"), columns=(tr("Slip"), tr("Reads")) * _ABREAST, rows=rows
    )
    return Section(key="slips", heading=heading, blocks=(Words(text=told), table))
