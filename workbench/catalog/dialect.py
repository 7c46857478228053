"""How a catalogue file is split into rows and cells; every row's own text is kept.

Any text is split in time that grows with its length, and without a setting that all of Python's
``csv`` shares: a line that is too long, or a quote that is not closed within some lines, makes one
broken row, and the next line begins a new one.
"""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from workbench.catalog.problems import CellProblem
from workbench.words import tr

SEPARATORS = (",", ";", "\t")
_LONGEST_LINE = 100_000  # characters, below what csv takes for one cell
_MOST_LINES_OF_ALL = 500_000  # every line is kept on its own, and that takes memory
_MOST_LINES = 100  # of one row, whose quoted cells may hold line breaks


class Record(NamedTuple):
    """One row of a file: lines[start:end]. ``cells`` is None if it cannot be split: ``why``."""

    row: int
    start: int
    end: int
    cells: list[str] | None
    why: str = ""

    @property
    def line(self) -> int:
        """The number of its first line, counted from 1."""
        return self.start + 1


@dataclass(frozen=True, slots=True)
class Text:
    """A file as lines with their own endings; joined again they are the file, but for the mark."""

    lines: tuple[str, ...] = ()
    bom: bool = False

    def ending(self) -> str:
        """The line ending of the file, by its first line."""
        first = self.lines[0] if self.lines else ""
        return first[len(first.rstrip("\r\n")) :] or "\n"


def decode(data: bytes) -> tuple[Text, tuple[CellProblem, ...]]:
    """Turn the bytes of a file into lines, or tell why it is no text file of ours."""
    bom = data.startswith(codecs.BOM_UTF8)
    remedy = tr("In the spreadsheet, save it as “CSV UTF-8”.")
    rule, at = "", 0
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        rule = tr("it is written in UTF-16, not in UTF-8.")
    elif b"\0" in data:
        rule, at = tr("it holds a zero byte: it is damaged, or no text file."), data.index(b"\0")
        remedy = tr("Take it from a backup, or save it anew as “CSV UTF-8”.")
    else:
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            at = error.start
            byte = f"{data[at]:02X}"
            rule = tr("it is not written in UTF-8 (byte {byte} in line {line}).", byte=byte,
                      line=_line_of(data, at))  # fmt: skip
        else:
            if text.count("\n") + text.count("\r") <= _MOST_LINES_OF_ALL:
                return Text(tuple(io.StringIO(text, newline="").readlines()), bom), ()
            rule = tr("it has more than {most} lines.", most=f"{_MOST_LINES_OF_ALL:,}")
            remedy = tr("Is it the right file? Take out what is not needed.")
    return Text((), bom), (CellProblem(0, _line_of(data, at), "", "", rule, remedy),)


def _line_of(data: bytes, at: int) -> int:
    return data.count(b"\n", 0, at) + 1


def records(lines: Sequence[str], separator: str) -> Iterator[Record]:
    """Split lines into rows, blank ones left out; rows are counted with them, from 1."""
    at = row = 0
    while at < len(lines):
        line = lines[at]
        row += 1
        if line.isspace():
            at += 1
            continue
        if '"' not in line and len(line) <= _LONGEST_LINE:
            cells, end, why = line.rstrip("\r\n").split(separator), at + 1, ""
        else:
            cells, end, why = _quoted(lines, at, separator)
        if why:
            yield Record(row, at, end, None, why)
        elif any(map(str.strip, cells)):
            yield Record(row, at, end, cells)
        at = end


def _quoted(lines: Sequence[str], at: int, separator: str) -> tuple[list[str], int, str]:
    """The cells of a row with quotes, the line after it, and why it cannot be split or ""."""
    if len(lines[at]) > _LONGEST_LINE:
        most = f"{_LONGEST_LINE:,}"
        return [], at + 1, tr("the line is longer than {most} characters.", most=most)
    reader = csv.reader(lines[at : at + _MOST_LINES], delimiter=separator, strict=True)
    try:
        cells = next(reader)
    except csv.Error:
        return [], at + 1, tr("a quotation mark is not closed, or stands within a cell.")
    return cells, at + reader.line_num, ""


def find_separator(
    lines: Sequence[str], known: Callable[[Sequence[str]], int]
) -> tuple[str, Record | None]:
    """The separator of a file's cells and its first row, judged by that row; None if all is blank.

    ``known`` counts how many cells of a header name one of our columns.
    """
    best: tuple[tuple[int, int], str, Record | None] = ((-1, -1), SEPARATORS[0], None)
    for separator in SEPARATORS:
        first = next(records(lines, separator), None)
        if first is None:
            continue
        cells = first.cells or []
        score = (known(cells), len(cells))
        if score > best[0]:
            best = (score, separator, first)
    return best[1], best[2]


def join(cells: Sequence[str], separator: str) -> str:
    """One line of a file, without its ending; cells are quoted where they must be."""
    special = {separator, '"', "\r", "\n"}
    return separator.join(
        '"' + cell.replace('"', '""') + '"' if special.intersection(cell) else cell
        for cell in cells
    )
