"""One tank while it is typed: what the file states, what was typed over it, what is wrong.

A value that nobody touched stays the very value of the file, however it is rounded on the screen.
"""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping
from decimal import Decimal
from typing import Any

from workbench.catalog.dates import read_date
from workbench.catalog.headers import OUR_HEADER, required, titles
from workbench.catalog.numbers import digits_of
from workbench.catalog.rules import MEASURES, Broken
from workbench.catalog.table import Catalog, CatalogRow
from workbench.catalog.tank import Tank, TankKind, check_tank
from workbench.catalog.writing import put_tank
from workbench.units import NUMBER, Display, Kind, Quantity, UnitError, Unread
from workbench.words import tr

FIELDS = tuple(OUR_HEADER)
"""What a tank states, in the order of the columns."""

QUANTITIES: Mapping[str, Kind] = {**MEASURES, "price": NUMBER}
"""The fields that hold a number, and what it measures."""

OPTIONAL = frozenset(FIELDS) - required()
"""The fields that may be left empty."""

Entry = Quantity | Unread | TankKind | str | bool | None
"""What a control gives: a number with its unit, a choice, a text, or what could not be read."""

_LONGEST_ID = 60
_LINE_END = re.compile(r"\r\n|\r|\n")


class Draft:
    """The tank with the id ``tank_id``, or a new one if that is None.

    ``stated`` are the file's values by field (SI floats, as in :class:`Tank`), ``typed`` those that
    stand in their place, an :class:`Unread` where the text cannot be used. ``row`` is the row that
    will be replaced; None adds a row.
    """

    def __init__(self, catalog: Catalog, tank_id: str | None, display: Display) -> None:
        self.tank_id = tank_id
        self.display = display
        self.typed: dict[str, Any] = {}
        self.stated: dict[str, Any] = {"id": tank_id or "", "name": ""}
        self.take(catalog)

    def take(self, catalog: Catalog) -> list[str]:
        """Build on the file as it is now. Return the fields whose stated values are other ones.

        If the tank's row is gone or cannot be used, its last known values stay.
        """
        before = self.stated
        self.catalog = catalog
        self._columns = {column.field for column in catalog.header}
        self._rows_of: defaultdict[str, list[CatalogRow]] = defaultdict(list)
        for row in catalog.rows:
            self._rows_of[catalog.id_of(row)].append(row)
        rows = self._rows_of.get(self.tank_id or "")
        self.row = rows[0] if self.tank_id is not None and rows else None
        if self.row is not None and self.row.tank is not None:
            self.stated = {name: getattr(self.row.tank, name) for name in FIELDS}
        self._suggest_id()
        return [name for name in FIELDS if before.get(name) != self.stated.get(name)]

    def enter(self, name: str, entry: Entry) -> None:
        """Put what was typed or chosen in the place of what the file states."""
        self.typed[name] = _value_of(name, entry)
        self._after_edit(name)

    def forget(self, name: str) -> None:
        """Go back to what the file states."""
        self.typed.pop(name, None)
        self._after_edit(name)

    def _after_edit(self, name: str) -> None:
        if name == "name":
            self._suggest_id()

    def _suggest_id(self) -> None:
        """Make a new tank's id of its name, unless one was typed."""
        if self.tank_id is None and not self.typed.get("id"):
            self.typed.pop("id", None)
            self.stated["id"] = suggested_id(self.value("name"), self._rows_of)

    def value(self, name: str) -> Any:
        """The value that counts now; None if it is not stated."""
        return self.typed[name] if name in self.typed else self.stated.get(name)

    def is_untouched_blank(self, name: str) -> bool:
        """Nothing is stated, and nobody has typed there."""
        return name not in self.typed and self.stated.get(name) in (None, "")

    @property
    def title_of_height(self) -> str:
        """What the height is called for this kind of tank."""
        kind = self.value("kind")
        lies = isinstance(kind, TankKind) and kind.horizontal
        return tr("Length of shell") if lies else tr("Height")

    # --- how stated values are shown ---

    def quantity(self, name: str) -> Quantity | None:
        """A stated number with the digits and the unit that the file has for it."""
        value = self.stated.get(name)
        if value is None:
            return None
        if name == "price":
            return Quantity(f"{value:f}", "", float(value))
        kind = MEASURES[name]
        of_column = (c.unit for c in self.catalog.header if c.field == name and c.unit)
        unit = next(of_column, kind.units[kind.us])
        return Quantity(digits_of(value, unit), unit.symbol, value)

    def text(self, name: str) -> str:
        """What the field shows of a stated value that is typed, not chosen; "" if there is none."""
        quantity = self.quantity(name) if name in QUANTITIES else None
        if quantity is not None:
            return self.display.typed(quantity, QUANTITIES[name])
        value = self.stated.get(name)
        if value is None:
            return ""
        return value.isoformat() if name == "date" else _LINE_END.sub("\n", str(value))

    # --- what is wrong, and what is saved ---

    def check(self) -> tuple[Tank | None, dict[str, str]]:
        """The tank, or by field in sentences all that keeps it from being saved."""
        told: defaultdict[str, list[str]] = defaultdict(list)
        sound: dict[str, Any] = {"currency": self.catalog.currency}
        for name in FIELDS:
            value = self.value(name)
            if isinstance(value, Unread):
                told[name].append(f"{value.why} {value.remedy}")
            elif value is not None:
                sound[name] = value
        tank, broken = check_tank(sound, self.show, frozenset(told))
        names = titles() | {"height": self.title_of_height}
        for name, rule, remedy in (*broken, *self._broken_in_file(sound)):
            sentence = tr("{field} {rule} {remedy}", field=names[name], rule=rule, remedy=remedy)
            told[name].append(sentence.strip())
        return (None if told else tank), {name: " ".join(told[name]) for name in told}

    def show(self, name: str, si: float) -> str:
        """An SI value as the person reads it in messages: six digits and the shown unit."""
        unit = self.display.unit(MEASURES[name])
        return f"{si / unit.factor:.6g} {unit.symbol}".replace(".", self.display.mark)

    def _broken_in_file(self, values: Mapping[str, Any]) -> Iterator[Broken]:
        """What the file cannot take."""
        others = [r.row for r in self._rows_of.get(values.get("id", ""), ()) if r is not self.row]
        if others and values.get("id"):
            rule = tr("is already the one of row {row}.", row=others[0])
            yield Broken("id", rule, tr("Give each tank an id of its own."))
        for name, value in values.items():
            missing = name in OUR_HEADER and name not in self._columns
            if missing and value != "" and not self.catalog.problems:
                remedy = tr("Add the column {name} to the file, or leave this empty.",
                            name=OUR_HEADER[name])  # fmt: skip
                yield Broken(name, tr("has no column in this catalogue."), remedy)

    def is_as_in_file(self, tank: Tank) -> bool:
        """Whether the row says all this already."""
        return self.row is not None and self.row.tank == tank

    def put(self, tank: Tank) -> bytes:
        """The file's bytes with the tank in it. Raises CatalogError."""
        return put_tank(self.catalog, tank, self.row.row if self.row is not None else None)


def suggested_id(name: object, taken: Collection[str]) -> str:
    """An id made of a name: small letters and figures with hyphens between, and not taken.

    >>> suggested_id("Alder 12 V", {"alder-12-v"})
    'alder-12-v-2'
    """
    plain = unicodedata.normalize("NFKD", name if isinstance(name, str) else "")
    letters = "".join(c for c in plain.casefold() if not unicodedata.combining(c))
    stem = re.sub(r"[\W_]+", "-", letters)[:_LONGEST_ID].strip("-")
    found, number = stem, 1
    while stem and found in taken:
        number += 1
        found = f"{stem[: _LONGEST_ID - len(str(number)) - 1]}-{number}"
    return found


def _value_of(name: str, entry: Entry) -> Any:
    """The value that an entry means; blanks at the ends of a text do not count, as in the file."""
    if isinstance(entry, Quantity):
        return Decimal(entry.digits) if name == "price" else entry.si
    if isinstance(entry, str) and not isinstance(entry, TankKind):  # a TankKind is a str, too
        text = entry.strip()
        return _day(text) if name == "date" else text
    return entry


def _day(text: str) -> Any:
    if not text:
        return None
    try:
        return read_date(text)
    except UnitError as error:
        why = tr("“{text}” {rule}", text=text, rule=error)
        return Unread(text, why, error.remedy)
