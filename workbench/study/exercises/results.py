"""The class's answers in a file that any spreadsheet opens: a row for each answer.

The file is CSV by RFC 4180: commas, quotes doubled, CR LF after every row, one header. It is UTF-8
and begins with a byte order mark (U+FEFF), because a spreadsheet that is started by a double click
takes a file without it for one in the machine's old code page and spoils every "é"; those that do
not need the mark pass over it. A file that a spreadsheet has saved again with semicolons or tabs is
read and continued in that way.

A cell that begins with ``= + - @``, a tab or a line break would be taken for a formula, which can
do harm on the trainer's machine. It is written with an apostrophe before it, as spreadsheets do
themselves to mean text; reading takes just that one apostrophe off again, so that what was typed
comes back exactly (OWASP, "CSV Injection").

Rows are only ever added, whole or not at all (:mod:`workbench.safe_file`). What another program put
into the file meanwhile stays.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields
from pathlib import Path

from workbench import safe_file
from workbench.file_reasons import shown
from workbench.study.exercises.exercise import Exercise, Topic
from workbench.study.exercises.marked import Marked
from workbench.study.exercises.slip import Slip
from workbench.words import tr

LARGEST = 20_000_000
"""Most bytes of a file that are read."""
_MARK = "\ufeff"
_SEPARATORS = ",;\t"
# What a spreadsheet takes for a formula, with the full-width signs of East Asia.
_DANGEROUS = re.compile(r"'*[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]")
_ESCAPED = re.compile(r"'+[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]")
_TRIES = 20  # of adding to a file that changes all the time
_LONGEST_SHOWN, _LONGEST_HEADER = 40, 1000
_YES, _NO = "yes", "no"


@dataclass(frozen=True, slots=True)
class Row:
    """One answer. ``minutes`` is what the readings of a hunt took, None elsewhere.

    ``date`` and ``time`` are texts as the caller gives them; ``answer`` is what was typed.
    """

    date: str
    time: str
    name: str
    seed: int
    number: int
    topic: Topic
    question: str
    answer: str
    right: bool
    slip: Slip | None
    minutes: float | None
    program: str


HEADER = tuple(field.name for field in fields(Row))
"""The names of the columns, in their order; the same in every language, so that files agree."""


@dataclass(frozen=True, slots=True)
class Problem:
    """What cannot be read: the line of the file, from 1, and the column's name ("": the row)."""

    line: int
    column: str
    text: str

    def __str__(self) -> str:
        if not self.column:
            return tr("Line {line}: {text}", line=self.line, text=self.text)
        return tr(
            "Line {line}, column “{column}”: {text}",
            line=self.line,
            column=self.column,
            text=self.text,
        )


@dataclass(frozen=True, eq=False)
class ResultsFile:
    """What a file holds: the rows that can be read, and what cannot."""

    rows: tuple[Row, ...]
    problems: tuple[Problem, ...]


class ResultsError(safe_file.FileError):
    """The file is none of ours, or could not be added to."""


def row_of(
    exercise: Exercise,
    marked: Marked,
    *,
    name: str,
    answer: str,
    date: str,
    time: str,
    program: str,
) -> Row:
    """The row of an answer. ``program`` is the version that marked it."""
    return Row(
        date,
        time,
        name,
        exercise.seed,
        exercise.number,
        exercise.topic,
        exercise.title,
        answer,
        marked.right,
        marked.slip,
        marked.minutes,
        program,
    )


# --- reading ---


def read(path: Path) -> ResultsFile:
    """Read a file of answers; what cannot be read is told with its place.

    Raises:
        safe_file.ReadError: it cannot be opened.
        ResultsError: it is not a file of answers, or not in UTF-8.
    """
    return _read_text(_text_of(safe_file.read_bytes(path, LARGEST), path), path)


def _text_of(data: bytes, path: Path) -> str:
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise ResultsError(
            tr("“{name}” is not in UTF-8 (line {line}).", name=shown(path.name), line=line),
            tr("In the spreadsheet, save it as “CSV UTF-8”."),
        ) from error


def _separator(text: str, path: Path) -> str:
    """The separator that the header shows."""
    first = (text[:_LONGEST_HEADER].splitlines() or [""])[0]
    for separator in _SEPARATORS:
        if [cell.strip(' "') for cell in first.split(separator)] == list(HEADER):
            return separator
    raise ResultsError(
        tr("“{name}” is not a file of answers: its first line is another.", name=shown(path.name)),
        tr("Choose another file, or type a new name. The first line must read: {header}",
           header=",".join(HEADER)),
    )  # fmt: skip


def _read_text(text: str, path: Path) -> ResultsFile:
    reader = csv.reader(
        io.StringIO(text, newline=""), delimiter=_separator(text, path), strict=True
    )
    rows: list[Row] = []
    problems: list[Problem] = []
    line = 1
    try:
        for cells in reader:
            if line > 1 and cells:
                row, found = _row(cells, line)
                problems += found
                rows += [row] if row is not None else []
            line = reader.line_num + 1
    except csv.Error as error:
        why = tr("from here on it cannot be read: {error}", error=error)
        problems.append(Problem(line, "", why))
    return ResultsFile(tuple(rows), tuple(problems))


def _row(cells: Sequence[str], line: int) -> tuple[Row | None, list[Problem]]:
    if len(cells) != len(HEADER):
        text = tr("{found} cells in place of {wanted}.", found=len(cells), wanted=len(HEADER))
        return None, [Problem(line, "", text)]
    texts = dict(zip(HEADER, map(_without_apostrophe, cells), strict=True))
    problems: list[Problem] = []

    def wrong(column: str, wanted: str) -> None:
        text = tr("“{text}” is not {wanted}.", text=_short(texts[column]), wanted=wanted)
        problems.append(Problem(line, column, text))

    def whole(column: str) -> int:
        if not re.fullmatch("[0-9]{1,9}", texts[column]):
            wrong(column, tr("a whole number"))
            return 0
        return int(texts[column])

    seed, number = whole("seed"), whole("number")
    topic = next((one for one in Topic if one.value == texts["topic"]), None)
    slip = next((one for one in Slip if one.value == texts["slip"]), None)
    minutes = _minutes(texts["minutes"])
    if topic is None:
        wrong("topic", tr("a topic"))
    if slip is None and texts["slip"]:
        wrong("slip", tr("an error that this program knows"))
    if minutes is None and texts["minutes"]:
        wrong("minutes", tr("a number"))
    if texts["right"] not in {_YES, _NO}:
        wrong("right", tr("yes or no"))
    if problems or topic is None:
        return None, problems
    return Row(
        texts["date"],
        texts["time"],
        texts["name"],
        seed,
        number,
        topic,
        texts["question"],
        texts["answer"],
        texts["right"] == _YES,
        slip,
        minutes,
        texts["program"],
    ), []


def _short(text: str) -> str:
    """A cell as it may be shown in a sentence."""
    plain = shown(text)
    return plain if len(plain) <= _LONGEST_SHOWN else f"{plain[:_LONGEST_SHOWN]}…"


def _minutes(text: str) -> float | None:
    """Minutes, with either decimal mark, as a spreadsheet may have changed it."""
    plain = text.replace(",", ".")
    return float(plain) if re.fullmatch(r"[0-9]{1,9}(\.[0-9]{1,9})?", plain) else None


# --- adding ---


def append(path: Path, rows: Iterable[Row]) -> None:
    """Add rows at the end of a file, all of them or none; a file that is not there is begun.

    Raises:
        ResultsError: it is no file of answers, its end cannot be read (what is added would be lost
            in an open quote), or others change it without end.
        safe_file.FileError: it cannot be read or saved; then it is as it was.
    """
    new = tuple(rows)
    for _ in range(_TRIES):
        before = _present(path)
        data = _added(before, new, path)
        if _present(path) == before:  # nobody wrote meanwhile; between here and there is no work
            safe_file.write_atomic(path, data)
            return
    raise ResultsError(
        tr("“{name}” changes all the time.", name=shown(path.name)),
        tr("Close the other program that writes to it, then try again."),
    )


def _present(path: Path) -> bytes:
    """The bytes of the file; none where there is no file yet."""
    try:
        return safe_file.read_bytes(path, LARGEST)
    except safe_file.ReadError as error:
        if isinstance(error.__cause__, FileNotFoundError):
            return b""
        raise


def _added(before: bytes, rows: Sequence[Row], path: Path) -> bytes:
    if not before:
        return (_MARK + _line(HEADER, ",") + _lines(rows, ",", path)).encode()
    text = _text_of(before, path)
    separator = _separator(text, path)
    _must_be_closed(text, separator, path)
    joint = b"" if before.endswith((b"\n", b"\r")) else b"\r\n"
    return before + joint + _lines(rows, separator, path).encode()


def _must_be_closed(text: str, separator: str, path: Path) -> None:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    try:
        for _ in reader:
            pass
    except csv.Error as error:
        raise ResultsError(
            tr("“{name}” cannot be added to: line {line} cannot be read ({error}).",
               name=shown(path.name), line=reader.line_num, error=error),
            tr("Mend that line in a text editor, or choose another file."),
        ) from error  # fmt: skip


def _lines(rows: Sequence[Row], separator: str, path: Path) -> str:
    text = "".join(_line(_cells(row), separator) for row in rows)
    try:
        text.encode()
    except UnicodeEncodeError as error:
        raise ResultsError(
            tr("An answer for “{name}” holds a character that is none.", name=shown(path.name)),
            tr("Type it again."),
        ) from error
    return text


def _cells(row: Row) -> list[str]:
    minutes = "" if row.minutes is None else f"{row.minutes:.9g}"
    values = {
        "seed": str(row.seed),
        "number": str(row.number),
        "topic": row.topic.value,
        "right": _YES if row.right else _NO,
        "slip": "" if row.slip is None else row.slip.value,
        "minutes": minutes,
    }
    return [values.get(name, str(getattr(row, name))) for name in HEADER]


def _line(cells: Iterable[str], separator: str) -> str:
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=separator, lineterminator="\r\n").writerow(
        [_with_apostrophe(cell) for cell in cells]
    )
    return text.getvalue()


def _with_apostrophe(cell: str) -> str:
    return f"'{cell}" if _DANGEROUS.match(cell) else cell


def _without_apostrophe(cell: str) -> str:
    return cell[1:] if _ESCAPED.match(cell) else cell
