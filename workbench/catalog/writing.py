"""One tank goes into a catalogue file, and every other byte of the file stays as it is.

The new row has the file's own separator, decimal mark, line ending, units and order of columns, and
it reads back as exactly the same tank; both are checked before anything is written.
"""

from __future__ import annotations

import codecs
from collections.abc import Iterable, Sequence
from pathlib import Path

from workbench import safe_file
from workbench.catalog.cells import write_cell
from workbench.catalog.dialect import join
from workbench.catalog.headers import NUMBERS, OUR_HEADER, Column, read_header, titles
from workbench.catalog.numbers import Marks
from workbench.catalog.problems import CatalogChangedError, CatalogError
from workbench.catalog.table import LARGEST, Catalog, CatalogRow, catalog_of
from workbench.catalog.tank import Tank, check_tank
from workbench.words import tr


def new_catalog_bytes(tanks: Iterable[Tank] = ()) -> bytes:
    """A file with our own header and these tanks, priced in US dollars. Raises CatalogError."""
    header = join(tuple(OUR_HEADER.values()), ",") + "\n"
    columns, _problems = read_header(tuple(OUR_HEADER.values()), 1, 1)
    rows = []
    for tank in tanks:
        _must_be_sound(tank)
        _must_fit(tank, columns, Tank.model_fields["currency"].default)
        rows.append(_row_text(tank, columns, Marks(), decimals=False))
    return (header + "".join(row + "\n" for row in rows)).encode()


def put_tank(catalog: Catalog, tank: Tank, row: int | None = None) -> bytes:
    """The bytes of the catalogue's file with ``tank`` put in; nothing is saved.

    Args:
        catalog: as read; its cells may have problems, its header and quotes may not.
        tank: takes the place of the row with its id, or else becomes the last row.
        row: the row to take the place of, counted as in :class:`CatalogRow`; then the id may be a
            new one, or mend one that is wrong.

    Raises:
        CatalogError: the file must be mended first, another row has the same id, or the file has
            no column for a value that is stated.
    """
    broken = (*catalog.problems, *(p for r in catalog.rows if not r.cells for p in r.problems))
    if broken:
        raise CatalogError(
            tr("“{name}” must be mended before a tank can be put in: {problem}",
               name=catalog.path.name, problem=broken[0]),
            tr("Open the file in a spreadsheet or a text editor."),
        )  # fmt: skip
    _must_be_sound(tank)
    _must_fit(tank, catalog.header, catalog.currency)
    old = _row_to_replace(catalog, tank, row)
    # A new row may hold what shows the decimal mark, or the old one may have been what showed it.
    # Then the new one must show it too, so that no other row is read in another way than before.
    for decimals in (False, True):
        data = _with_row(
            catalog, _row_text(tank, catalog.header, catalog.marks, decimals, old), old
        )
        changed = _read_otherwise(catalog, catalog_of(data, catalog.path), tank, old)
        if not changed:
            return data
    raise CatalogError(
        tr("With this tank in it, row {row} of “{name}” would be read in another way.",
           row=changed, name=catalog.path.name),
        tr("Write the numbers and dates of that row so that they can be read in one way only."),
    )  # fmt: skip


def save(path: Path, data: bytes, expected_digest: str) -> None:
    """Write ``data`` to ``path`` and keep the version before it as ``<name>.bak``.

    Args:
        expected_digest: the digest of the catalogue as it was read, "" for a new file.

    Raises:
        CatalogChangedError: the file on the disk is not the one that was read. It is untouched.
        SaveError: it could not be written; the file that was there is untouched.
    """
    present = _digest_on_disk(path)
    if present != expected_digest:
        again = tr("Read it again, and then make your change anew.")
        if not expected_digest:
            message = tr("There is a file “{name}” already.", name=path.name)
            again = tr("Choose another name.")
        elif present:
            message = tr("“{name}” has been changed since it was read.", name=path.name)
        else:
            message = tr("“{name}” has been moved or deleted since it was read.", name=path.name)
            again = tr("Choose the catalogue's file again.")
        raise CatalogChangedError(message, again)
    # Who writes in between finds the own version in the backup, which is taken only now.
    safe_file.keep_backup(path)
    safe_file.write_atomic(path, data)


def _digest_on_disk(path: Path) -> str:
    """The digest of the file as it is now, "" if there is none."""
    try:
        return safe_file.digest(safe_file.read_bytes(path, LARGEST))
    except safe_file.ReadError as error:
        if isinstance(error.__cause__, FileNotFoundError):
            return ""
        raise CatalogError(error.message, error.remedy) from error


def _must_be_sound(tank: Tank) -> None:
    """Raise CatalogError if a tank breaks a rule: a copy with other values is not checked."""
    _tank, broken = check_tank(tank.model_dump())
    for field, rule, suggestion in broken:
        raise CatalogError(f"{titles()[field]}: {rule}", suggestion)


def _must_fit(tank: Tank, header: Sequence[Column], currency: str) -> None:
    """Raise CatalogError if the columns cannot hold all that the tank states."""
    if tank.currency != currency:
        raise CatalogError(
            tr("The catalogue's prices are in {theirs}, the tank's in {its}.",
               theirs=currency, its=tank.currency),
            tr("Give the price in {theirs}.", theirs=currency),
        )  # fmt: skip
    fields = {column.field for column in header}
    for field, name in OUR_HEADER.items():
        stated = getattr(tank, field)
        if field not in fields and stated is not None and stated != "":
            raise CatalogError(
                tr("The catalogue has no column for “{value}”.", value=stated),
                tr("Add the column {name} to the file, or leave the value out.", name=name),
            )


def _row_to_replace(catalog: Catalog, tank: Tank, row: int | None) -> CatalogRow | None:
    same = [r for r in catalog.rows if catalog.id_of(r) == tank.id]
    if row is None:
        if len(same) > 1:
            rows = ", ".join(str(r.row) for r in same[:4])
            raise CatalogError(
                tr("The id “{id}” stands in rows {rows}.", id=tank.id, rows=rows),
                tr("Give each tank an id of its own first."),
            )
        return same[0] if same else None
    old = next((r for r in catalog.rows if r.row == row), None)
    if old is None:
        raise CatalogError(tr("The catalogue has no row {row}.", row=row), tr("Read it again."))
    others = [r.row for r in same if r.row != row]
    if others:
        raise CatalogError(
            tr("The id “{id}” is already that of row {row}.", id=tank.id, row=others[0]),
            tr("Give each tank an id of its own."),
        )
    return old


def _row_text(
    tank: Tank,
    header: Sequence[Column],
    marks: Marks,
    decimals: bool,
    old: CatalogRow | None = None,
) -> str:
    """The tank as one row. Cells of the old row that say the same stay as they were typed."""
    cells = []
    shown = not decimals
    for index, column in enumerate(header):
        cell = old.cells[index] if old is not None and index < len(old.cells) else ""
        if column.field:
            value = getattr(tank, column.field)
            if old is None or old.tank is None or getattr(old.tank, column.field) != value:
                cell = write_cell(column, value, marks)
            if not shown and column.field in NUMBERS and value is not None:
                cell, shown = write_cell(column, value, marks, decimals=True), True
        cells.append(cell)
    return join(cells, marks.separator)


def _with_row(catalog: Catalog, text: str, old: CatalogRow | None) -> bytes:
    lines = catalog.text.lines
    if old is not None:
        start, end = old.start, old.end
        last = lines[end - 1]
        ending = last[len(last.rstrip("\r\n")) :]
        before = "".join(lines[:start])
    else:
        # After the last row, but before blank lines at the end.
        start = end = catalog.rows[-1].end if catalog.rows else catalog.header_end
        ending = catalog.text.ending()
        before = "".join(lines[:start])
        if not before.endswith(("\n", "\r")):
            before, ending = before + ending, ""
    whole = before + text + ending + "".join(lines[end:])
    return (codecs.BOM_UTF8 if catalog.text.bom else b"") + whole.encode()


def _read_otherwise(before: Catalog, after: Catalog, tank: Tank, old: CatalogRow | None) -> int:
    """The first row that is not read as it should be; 0 if all is well."""
    if after.problems or len(after.rows) != len(before.rows) + (old is None):
        return max([1, *(problem.row for problem in after.problems)])
    id_header = next(column.header for column in after.header if column.field == "id")
    for i, row in enumerate(after.rows):
        if i == len(before.rows) or before.rows[i] is old:
            if row.tank != tank:
                return row.row
        elif not _same(before.rows[i], row, id_header):
            return row.row
    return 0


def _same(before: CatalogRow, after: CatalogRow, id_header: str) -> bool:
    """A row is read as before. Ids apart: another row that had the same id may have changed it."""
    was, is_now = (
        [(problem.column, problem.value) for problem in row.problems if problem.column != id_header]
        for row in (before, after)
    )
    comparable = not before.problems and not after.problems
    return was == is_now and (not comparable or before.tank == after.tank)
