"""What is wrong in a catalogue, as data; and the one error, for a file that cannot be used."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.safe_file import FileError
from workbench.words import tr

_LONGEST_SHOWN = 40


class CatalogError(FileError):
    """A catalogue cannot be read at all, or a change cannot be written into it."""


class CatalogChangedError(CatalogError):
    """The file on the disk is no longer the one that was read: read it again first."""


@dataclass(frozen=True, slots=True)
class CellProblem:
    """One thing that is wrong, and how to mend it.

    ``row`` counts as a spreadsheet does (the first row is 1) and is 0 for the file as a whole;
    ``line`` counts the lines of the text file. ``column`` is the header as written there, or empty.
    ``rule`` goes on from the value, "is not a number."; ``suggestion`` is a sentence of its own.
    """

    row: int
    line: int
    column: str
    value: str
    rule: str
    suggestion: str

    def __str__(self) -> str:
        place = [tr("row {row}", row=self.row) if self.row else tr("the file")]
        if self.column:
            place.append(shown(self.column))
        if self.value:
            place.append(f"“{shown(self.value)}”")
        return f"{', '.join(place)}: {self.rule} {self.suggestion}".strip()


def shown(text: str) -> str:
    """``text`` on one line, short, and without characters that a terminal would obey."""
    short = text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 1] + "…"
    return "".join(c if c.isprintable() else "·" for c in " ".join(short.split()))
