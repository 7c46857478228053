"""The columns of a catalogue: their names, what they mean, and their units, which the header gives.

A header is the field's name and the unit, "total_volume_gal" or "Total volume (L)"; case, blanks
and brackets do not matter. A price carries its currency, "price_usd". Columns that are not ours are
kept in the file and not used.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from workbench.catalog.problems import CellProblem, shown
from workbench.catalog.rules import MEASURES
from workbench.catalog.tank import Tank
from workbench.units import Unit, UnitError, unit_of
from workbench.words import tr

OUR_HEADER = {
    "id": "id",
    "name": "name",
    "kind": "kind",
    "total_volume": "total_volume_gal",
    "acceptance": "acceptance_gal",
    "diameter": "diameter_in",
    "height": "height_in",
    "connection": "connection",
    "max_working_pressure": "max_working_pressure_psi",
    "factory_precharge": "factory_precharge_psi",
    "highest_precharge": "highest_precharge_psi",
    "empty_weight": "empty_weight_lb",
    "potable_listed": "potable_listed",
    "price": "price_usd",
    "in_stock": "in_stock",
    "notes": "notes",
    "source": "source",
    "date": "date",
}
"""The header of a file of our own: each field's column, in the order of the columns."""

TEXTS = frozenset({"id", "name", "connection", "notes", "source"})
FLAGS = frozenset({"potable_listed", "in_stock"})
NUMBERS = frozenset({*MEASURES, "price"})

_OTHER_SPELLINGS = {"bar g": "bar", "psi g": "psi", "kpa g": "kPa", "us gal": "gal"}
_MOST_COLUMNS = 500


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a file: its header as written, and the field that it fills, or ""."""

    header: str
    field: str = ""
    unit: Unit | None = None
    currency: str = ""


@lru_cache(maxsize=1)
def required() -> frozenset[str]:
    """The fields that no tank can be without."""
    return frozenset(name for name, info in Tank.model_fields.items() if info.is_required())


def titles() -> dict[str, str]:
    """What a person reads above each column; the unit is told apart from it."""
    return {
        "id": tr("Id"),
        "name": tr("Name"),
        "kind": tr("Kind"),
        "total_volume": tr("Total volume"),
        "acceptance": tr("Acceptance"),
        "diameter": tr("Diameter"),
        "height": tr("Height, or length if horizontal"),
        "connection": tr("Connection"),
        "max_working_pressure": tr("Maximum working pressure"),
        "factory_precharge": tr("Factory precharge"),
        "highest_precharge": tr("Highest precharge setting"),
        "empty_weight": tr("Empty weight"),
        "potable_listed": tr("Listed for drinking water"),
        "price": tr("Price"),
        "in_stock": tr("In stock"),
        "notes": tr("Notes"),
        "source": tr("Source"),
        "date": tr("Date"),
    }


def descriptions() -> dict[str, str]:
    """What each column means and where its value is found, in a sentence or two."""
    gauge = tr("A gauge reading.")
    return {
        "id": tr("Names the tank for good: never reused, and no two rows have the same."),
        "name": tr("What customers and staff call the tank."),
        "kind": tr("How the membrane is made and how the tank is set up."),
        "total_volume": tr("Air and water together, as on the data sheet."),
        "acceptance": tr("The most water that the membrane lets in; empty if not stated."),
        "diameter": tr("Outer diameter of the shell."),
        "height": tr(
            "Overall height; for a horizontal tank the length of the shell along its axis."
        ),
        "connection": tr("Nominal pipe size in inches, as text: 3/4, 1, 1-1/4."),
        "max_working_pressure": f"{tr('The pressure marked on the vessel.')} {gauge}",
        "factory_precharge": f"{tr('The air charge as delivered, without water.')} {gauge}",
        "highest_precharge": (
            f"{tr('The highest air charge that may be set; empty if not stated.')} {gauge}"
        ),
        "empty_weight": tr("Without water; empty if not stated."),
        "potable_listed": tr("Yes, no, or empty if not stated."),
        "price": tr("What the customer pays for the tank alone; empty if not known."),
        "in_stock": tr("Yes, no, or empty if not known."),
        "notes": tr("Anything else that a colleague should know."),
        "source": tr("Where the row's values come from: document and page."),
        "date": tr("When the row was last checked, as year-month-day."),
    }


def read_header(
    cells: Sequence[str], row: int, line: int
) -> tuple[tuple[Column, ...], tuple[CellProblem, ...]]:
    """Find out what each column is. With any problem, no tank can be read from the file."""
    if len(cells) > _MOST_COLUMNS:
        rule = tr("the first row has {count} cells.", count=len(cells))
        return (), (CellProblem(row, line, "", "", rule, _first_row()),)
    columns, unclear = [], {}
    for index, cell in enumerate(cells):
        try:
            columns.append(_column(cell.strip()))
        except UnitError as error:
            columns.append(Column(cell.strip()))
            unclear[index] = error
    known = {column.field for column in columns} - {""}
    if not known and not unclear:
        rule = tr("the first row names no column of a tank catalogue.")
        return tuple(columns), (CellProblem(row, line, "", shown(cells[0]), rule, _first_row()),)
    problems = []
    for index, why in unclear.items():
        field = field_of(columns[index].header)
        if field not in known:  # or else it is another column that only begins like ours
            known.add(field)
            problems.append(CellProblem(row, line, columns[index].header, "", str(why), why.remedy))
    problems += _doubles(columns, row, line)
    problems += _missing(columns, known, row, line)
    return tuple(columns), tuple(problems)


def _first_row() -> str:
    names = ", ".join(OUR_HEADER[field] for field in OUR_HEADER if field in required())
    return tr("It must name the columns: {names}.", names=names)


def _key(header: str) -> str:
    return re.sub(r"[\W_]+", "_", header).strip("_")


def field_of(header: str) -> str:
    """The field whose name the header is or begins with, or ""."""
    key = _key(header).lower()
    if key in OUR_HEADER:
        return key
    return next((field for field in NUMBERS if key.startswith(field + "_")), "")


def _column(header: str) -> Column:
    """What a header means. Raises UnitError if its unit or currency is missing or unknown."""
    field = field_of(header)
    suffix = _key(header)[len(field) :].strip("_").replace("_", " ")
    if field == "price":
        if not re.fullmatch("[A-Za-z]{3}", suffix):
            raise UnitError(
                tr("does not name its currency."),
                tr("Write its code of three letters, for example {example}.", example="price_usd"),
            )
        return Column(header, field, None, suffix.upper())
    if field not in MEASURES:
        return Column(header, field)
    kind = MEASURES[field]
    if not suffix:
        examples = tr("{a} or {b}", a=f"{field}_{kind.us}", b=f"{field}_{kind.metric.lower()}")
        raise UnitError(tr("does not name its unit."), tr("Write {examples}.", examples=examples))
    return Column(header, field, unit_of(_OTHER_SPELLINGS.get(suffix.lower(), suffix), kind))


def _doubles(columns: Sequence[Column], row: int, line: int) -> list[CellProblem]:
    seen: dict[str, str] = {}
    problems = []
    for column in columns:
        key = column.field or _key(column.header).lower()
        if key in seen:
            rule = tr("says the same as the column “{other}”.", other=shown(seen[key]))
            remedy = tr("Keep one of the two, or give one of them another name.")
            problems.append(CellProblem(row, line, column.header, "", rule, remedy))
        elif key:
            seen[key] = column.header
    return problems


def _missing(columns: Sequence[Column], known: set[str], row: int, line: int) -> list[CellProblem]:
    spare = [column.header for column in columns if not column.field]
    problems = []
    for field, name in OUR_HEADER.items():
        if field not in required() or field in known:
            continue
        near = difflib.get_close_matches(name, [_key(header).lower() for header in spare], 1)
        meant = next((h for h in spare if near and _key(h).lower() == near[0]), "")
        remedy = (
            tr("Is “{header}” meant? Then name it {name}.", header=shown(meant), name=name)
            if meant
            else tr("Add this column.")
        )
        rule = tr("the column is missing.")
        problems.append(CellProblem(row, line, name, "", rule, remedy))
    return problems
