"""Reading a catalogue file, against splitting the same text and making floats of its numbers."""

from __future__ import annotations

import csv
from pathlib import Path

from tanks import NUMBERS, catalog_text
from timing import Row, compare, take_turns, timed

SIZES = (40, 1_000, 10_000)


def measure(rounds: int) -> list[Row]:
    return [_measure(size, rounds) for size in SIZES]


def _measure(size: int, rounds: int) -> Row:
    from workbench.catalog.table import catalog_of

    text = catalog_text(size)
    data = text.encode()
    catalog = catalog_of(data, Path("tanks.csv"))
    if len(catalog.tanks) != size:
        raise SystemExit(f"not all tanks were read: {catalog.all_problems[:3]}")
    found = take_turns(
        {
            "ours": timed(lambda: catalog_of(data, Path("tanks.csv"))),
            "bare": timed(lambda: split_and_float(text)),
        },
        rounds if size < 10_000 else min(rounds, 5),
    )
    what = f"reading {size:,} rows / csv.reader and float()"
    return compare("Reading a catalogue", what, "ms", found["ours"], found["bare"])


def split_and_float(text: str) -> list[list[float]]:
    """What a loop of a few lines does: no check, no unit, no reason."""
    rows = csv.reader(text.splitlines())
    next(rows)
    return [[float(row[at]) if row[at] else 0.0 for at in NUMBERS] for row in rows]
