"""One cell becomes one value, by its column; and a value becomes the text of a cell."""

from __future__ import annotations

import difflib
import re
from decimal import Decimal
from typing import Any

from workbench.catalog.dates import read_date
from workbench.catalog.headers import FLAGS, TEXTS, Column
from workbench.catalog.numbers import (
    Marks,
    advice,
    digits_of,
    read_number,
    si_of,
    unmistakable,
)
from workbench.catalog.rules import MEASURES
from workbench.catalog.tank import TankKind
from workbench.units import UnitError
from workbench.words import tr

_YES = frozenset({"yes", "y", "true", "t", "1", "x", "✓", "✔"})
_NO = frozenset({"no", "n", "false", "f", "0"})
# A spreadsheet takes a cell that begins so for a formula and would run it: such a text is written
# with an apostrophe in front, and a text that already looks like that gets one more.
_FORMULA = re.compile(r"'*(?:[=+@\t\r]|-(?![0-9]+(?:[.,][0-9]+)?\Z))")


def _words(text: str) -> frozenset[str]:
    return frozenset(re.findall(r"[^\W_]+", text.casefold().replace("inground", "in ground")))


_KINDS = {_words(kind.value): kind for kind in TankKind}


def read_cell(column: Column, text: str, marks: Marks, date_order: str = "") -> Any:
    """The value of a cell that is not blank, for a column that fills a field.

    Args:
        text: the cell without blanks at its ends.
        marks: what the file shows of its decimal mark.
        date_order: what it shows of its dates, "day" or "month" first, or "".

    Raises:
        UnitError: what is wrong with it, and the remedy.
    """
    field = column.field
    if field in TEXTS:
        return text[1:] if text.startswith("'") and _FORMULA.match(text, 1) else text
    if field in FLAGS:
        return _read_flag(text)
    if field == "kind":
        return _read_kind(text)
    if field == "date":
        return read_date(text, date_order)
    try:
        digits = read_number(text, marks)
    except UnitError as error:
        remedy = error.remedy or advice(text, marks, MEASURES.get(field), column.unit)
        raise UnitError(str(error), remedy) from None
    return Decimal(digits) if column.unit is None else si_of(digits, column.unit)


def write_cell(column: Column, value: Any, marks: Marks, decimals: bool = False) -> str:
    """The text of a cell that :func:`read_cell` reads as exactly ``value`` again.

    Args:
        value: the field's value; None is an empty cell.
        decimals: write a decimal mark even into a whole number, as a sign to readers which it is.
    """
    if value is None:
        return ""
    if column.field in TEXTS:
        return f"'{value}" if _FORMULA.match(value) else str(value)
    if column.field in FLAGS:
        return "yes" if value else "no"
    if column.field == "kind":
        return str(value.value)
    if column.field == "date":
        return str(value.isoformat())
    digits = f"{value:f}" if column.unit is None else digits_of(value, column.unit)
    if decimals and "." not in digits:
        digits += ".0"
    if (marks.separator, marks.to_write) != (",", "."):
        digits = unmistakable(digits)
    return digits.replace(".", marks.to_write)


def _read_flag(text: str) -> bool:
    word = text.casefold()
    if word in _YES or word in _NO:
        return word in _YES
    raise UnitError(
        tr("is neither yes nor no."), tr("Write yes or no; leave it empty if it is not stated.")
    )


def _read_kind(text: str) -> TankKind:
    words = _words(text) - {"tank"}
    if kind := _KINDS.get(words):
        return kind
    names = [kind.value for kind in TankKind]
    near = difflib.get_close_matches(" ".join(re.findall(r"\w+", text.casefold()))[:60], names, 1)
    remedy = tr("Use one of: {names}.", names=", ".join(names))
    if not near:  # the words may stand the other way round
        turned = " ".join(reversed(text.casefold()[:60].split()))
        near = difflib.get_close_matches(turned, names, 1)
    if near:
        remedy += " " + tr("Did you mean {kind}?", kind=near[0])
    raise UnitError(tr("is no kind of tank."), remedy)
