"""The answer to "is this catalogue all right?", as lines of text for the command line."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from workbench.catalog.table import read_catalog
from workbench.words import tr


class Checked(NamedTuple):
    """What there is to say about a file, line by line; ``ok`` if nothing in it is wrong."""

    lines: list[str]
    ok: bool


def check_file(path: Path) -> Checked:
    """Read a catalogue and tell all its problems, then its notes, then how much can be used.

    Raises:
        CatalogError: there is no file that can be read.
    """
    catalog = read_catalog(path)
    problems = catalog.all_problems
    lines = [*map(str, problems), *catalog.notes]
    usable, bad = len(catalog.tanks), len(catalog.rows) - len(catalog.tanks)
    tanks = tr("1 tank can be used") if usable == 1 else tr("{n} tanks can be used", n=usable)
    rows = tr("1 row cannot") if bad == 1 else tr("{n} rows cannot", n=bad)
    lines.append(tr("{tanks}, {rows}.", tanks=tanks, rows=rows))
    return Checked(lines, ok=not problems)
