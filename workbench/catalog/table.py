"""A catalogue file becomes a :class:`Catalog`: its tanks, and all that is wrong in it, at once.

Rows that are wrong stay in the file and in ``rows`` with their reasons; only sound tanks are ever
offered. Nothing is guessed: see :mod:`workbench.catalog.numbers` for the decimal mark and
:mod:`workbench.catalog.headers` for the units. Blanks at the ends of a cell do not count.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbench import safe_file
from workbench.catalog.cells import read_cell
from workbench.catalog.dates import order_in
from workbench.catalog.dialect import Record, Text, decode, find_separator, records
from workbench.catalog.headers import NUMBERS, Column, field_of, read_header
from workbench.catalog.numbers import Marks, marks_in
from workbench.catalog.problems import CatalogError, CellProblem, shown
from workbench.catalog.rules import MEASURES
from workbench.catalog.tank import Tank, check_tank
from workbench.units import UnitError
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.catalog.columns import TankColumns

LARGEST = 50_000_000
"""The most bytes of a file that is read."""

# A file with so many bad rows is bad in one way, which the first of them show.
_MOST_BAD_ROWS = 1000


@dataclass(frozen=True, slots=True)
class CatalogRow:
    """One row: a sound tank, or what is wrong with it. With a wrong header there may be neither.

    ``row`` counts as a spreadsheet does, the header being 1; the row's own text is
    ``catalog.text.lines[start:end]``; ``cells`` are as in the file, and none if the row cannot be
    split into cells.
    """

    row: int
    start: int
    end: int
    cells: tuple[str, ...]
    tank: Tank | None = None
    problems: tuple[CellProblem, ...] = ()

    @property
    def line(self) -> int:
        """The number of its first line in the file, counted from 1."""
        return self.start + 1


@dataclass(frozen=True, eq=False)
class Catalog:
    """A catalogue as read from a file. Two with the same ``digest`` hold the same.

    ``problems`` are those of the file as a whole, ``notes`` what may be meant so. ``digest`` is
    the SHA-256 of the file. The rows begin at ``text.lines[header_end]``.
    """

    path: Path
    digest: str
    rows: tuple[CatalogRow, ...] = ()
    problems: tuple[CellProblem, ...] = ()
    notes: tuple[str, ...] = ()
    header: tuple[Column, ...] = ()
    header_end: int = 0
    marks: Marks = field(default_factory=Marks)
    text: Text = field(default_factory=Text, repr=False)

    @cached_property
    def tanks(self) -> tuple[Tank, ...]:
        """The sound tanks, in the order of the file."""
        return tuple(row.tank for row in self.rows if row.tank is not None)

    @cached_property
    def by_id(self) -> Mapping[str, Tank]:
        """The sound tanks by their ids."""
        return {tank.id: tank for tank in self.tanks}

    @cached_property
    def bad_rows(self) -> tuple[CatalogRow, ...]:
        """The rows that are no sound tank."""
        return tuple(row for row in self.rows if row.problems)

    @cached_property
    def all_problems(self) -> tuple[CellProblem, ...]:
        """Everything that is wrong, the file's own problems first, then row by row."""
        return (*self.problems, *(problem for row in self.rows for problem in row.problems))

    @cached_property
    def columns(self) -> TankColumns:
        """The sound tanks as arrays, in the order of their names."""
        from workbench.catalog.columns import TankColumns  # numpy, only where it is needed

        return TankColumns.from_tanks(self.tanks)

    def id_of(self, row: CatalogRow) -> str:
        """The id of one of its rows, sound or not; "" if it has none."""
        if row.tank is not None:
            return row.tank.id
        at = next((i for i, column in enumerate(self.header) if column.field == "id"), None)
        return row.cells[at].strip() if at is not None and at < len(row.cells) else ""

    @property
    def currency(self) -> str:
        """The ISO 4217 code of the price column; that of a tank if there is no such column."""
        codes = (column.currency for column in self.header if column.field == "price")
        return next(codes, str(Tank.model_fields["currency"].default))


def read_catalog(path: Path) -> Catalog:
    """Read the file at ``path``.

    Raises:
        CatalogError: there is no file that can be read (missing, a folder, no permission, larger
            than 50 MB). Whatever is wrong in the file is in the result.
    """
    try:
        data = safe_file.read_bytes(path, LARGEST)
    except safe_file.ReadError as error:
        raise CatalogError(error.message, error.remedy) from error
    return catalog_of(data, path)


def catalog_of(data: bytes, path: Path) -> Catalog:
    """Read the bytes ``data`` of the file ``path``; the disk is not touched, nothing is raised."""
    digest = safe_file.digest(data)
    text, problems = decode(data)
    if problems:
        return Catalog(path, digest, problems=problems)
    separator, first = find_separator(text.lines, _known_columns)
    if first is None:
        rule, remedy = tr("it is empty."), tr("Its first row must name the columns.")
        return Catalog(path, digest, problems=(CellProblem(0, 0, "", "", rule, remedy),), text=text)
    if first.cells is None:
        return Catalog(path, digest, problems=(_broken(first),), text=text)
    header, found = read_header(first.cells, first.row, first.line)
    if not header:
        return Catalog(path, digest, problems=found, text=text)
    reader = _RowReader(text, separator, first, header, header_is_sound=not found)
    rows = reader.rows()
    return Catalog(
        path,
        digest,
        rows,
        (*found, *reader.file_problems),
        tuple(_notes(header, {problem.column for problem in found}, reader.marks)),
        header,
        first.end,
        reader.marks,
        text,
    )


def _known_columns(cells: Iterable[str]) -> int:
    return sum(bool(field_of(cell)) for cell in cells)


def _broken(record: Record) -> CellProblem:
    remedy = tr("Mend it in a text editor; within quotes a quotation mark is written twice.")
    return CellProblem(record.row, record.line, "", "", record.why, remedy)


def _notes(header: Iterable[Column], told: Container[str], marks: Marks) -> Iterable[str]:
    for column in header:
        if column.header and not column.field and column.header not in told:
            yield tr("The column “{header}” is kept, but not used.", header=shown(column.header))
    if marks.mixed:
        yield tr(
            "Some numbers have a decimal point and others a decimal comma, so numbers that could "
            "have either are not read."
        )


class _RowReader:
    """Reads the rows below the header of one file."""

    def __init__(
        self,
        text: Text,
        separator: str,
        first: Record,
        header: tuple[Column, ...],
        *,
        header_is_sound: bool,
    ) -> None:
        self.file_problems: tuple[CellProblem, ...] = ()
        self._header = header
        self._sound = header_is_sound
        self._whole = self._split(text, separator, first)
        self.marks = marks_in(self._texts(NUMBERS), separator)
        self._date_order = order_in(self._texts({"date"}))
        self._read: list[dict[str, Any]] = [{} for _column in header]
        self._currency = {c.field: c.currency for c in header if c.currency}.get("price")

    def _split(self, text: Text, separator: str, first: Record) -> list[Record]:
        """The records below the header, up to a number of them that cannot be used."""
        whole, bad = [], 0
        for record in records(text.lines, separator):
            if record.start <= first.start:
                continue
            whole.append(record)
            if not self._sound or record.cells is None or not self._fits(record.cells):
                bad += 1
                if bad >= _MOST_BAD_ROWS:
                    self._stop_at(record)
                    break
        return whole

    def _texts(self, fields: Container[str]) -> set[str]:
        """The texts in the columns of these fields."""
        return {
            record.cells[index].strip()
            for index, column in enumerate(self._header)
            if column.field in fields
            for record in self._whole
            if record.cells and index < len(record.cells)
        }

    def _stop_at(self, record: Record) -> None:
        rule = tr("this many rows cannot be used, and the rest was not read.")
        remedy = tr("Mend what is wrong in all of them, and read the file again.")
        self.file_problems = (CellProblem(record.row, record.line, "", "", rule, remedy),)

    def _fits(self, cells: Sequence[str]) -> bool:
        extra = cells[len(self._header) :]
        return len(cells) >= len(self._header) and not any(map(str.strip, extra))

    def rows(self) -> tuple[CatalogRow, ...]:
        """All rows, those with the same id marked."""
        rows, bad = [], 0
        for record in self._whole:
            rows.append(self._row(record))
            bad += bool(rows[-1].problems)
            if bad >= _MOST_BAD_ROWS:
                self._stop_at(record)
                break
        return tuple(self._with_doubles(rows))

    def _row(self, record: Record) -> CatalogRow:
        row, line, cells = record.row, record.line, record.cells
        place = (row, record.start, record.end, tuple(cells or ()))
        if cells is None:
            return CatalogRow(*place, problems=(_broken(record),))
        if not self._fits(cells):
            return CatalogRow(*place, problems=(self._misfit(record, cells),))
        values: dict[str, Any] = {"currency": self._currency} if self._currency else {}
        problems = []
        bad = set()
        for index, column in enumerate(self._header):
            text = cells[index].strip()
            if not column.field or not text:
                continue
            value = self._value(index, column, text)
            if isinstance(value, UnitError):
                problems.append(
                    CellProblem(row, line, column.header, text, str(value), value.remedy)
                )
                bad.add(column.field)
            else:
                values[column.field] = value
        if not self._sound:
            return CatalogRow(*place, problems=tuple(problems))
        tank, broken = check_tank(values, self._show, bad)
        by_field = {column.field: (column, cells[i]) for i, column in enumerate(self._header)}
        for field_name, rule, suggestion in broken:
            column, text = by_field[field_name]
            problems.append(CellProblem(row, line, column.header, text.strip(), rule, suggestion))
        return CatalogRow(*place, tank, tuple(problems))

    def _value(self, index: int, column: Column, text: str) -> Any:
        """A cell's value, or the UnitError that says what is wrong with it."""
        known = self._read[index]
        if text not in known:
            try:
                known[text] = read_cell(column, text, self.marks, self._date_order)
            except UnitError as error:
                known[text] = error
        return known[text]

    def _misfit(self, record: Record, cells: list[str]) -> CellProblem:
        rule = tr("has {count} cells, but the header has {columns}.",
                  count=len(cells), columns=len(self._header))  # fmt: skip
        remedy = (
            tr("A separator may be missing, or the end of the row.")
            if len(cells) < len(self._header)
            else tr("A text that holds the separator must stand in quotation marks.")
        )
        return CellProblem(record.row, record.line, "", cells[0].strip(), rule, remedy)

    def _show(self, field_name: str, si: float) -> str:
        """An SI value in the unit of its column."""
        unit = next((c.unit for c in self._header if c.field == field_name and c.unit), None)
        unit = unit or MEASURES[field_name].units[MEASURES[field_name].us]
        number = f"{si / unit.factor:.6g}".replace(".", self.marks.to_write)
        return f"{number} {unit.symbol}"

    def _with_doubles(self, rows: list[CatalogRow]) -> list[CatalogRow]:
        index = next((i for i, column in enumerate(self._header) if column.field == "id"), None)
        if index is None:
            return rows
        places: defaultdict[str, list[int]] = defaultdict(list)
        for at, row in enumerate(rows):
            if self._fits(row.cells) and row.cells[index].strip():
                text = row.cells[index].strip()
                places[self._value(index, self._header[index], text)].append(at)
        for double, ats in places.items():
            for at in ats if len(ats) > 1 else ():
                others = [rows[other].row for other in ats[:4] if other != at][:3]
                rule = tr("is also the id of row {rows}.", rows=", ".join(map(str, others)))
                problem = CellProblem(
                    rows[at].row,
                    rows[at].line,
                    self._header[index].header,
                    double,
                    rule,
                    tr("Give each tank an id of its own."),
                )
                rows[at] = replace(rows[at], tank=None, problems=(*rows[at].problems, problem))
        return rows
