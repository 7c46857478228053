"""What a tank's values must respect, in the words and the unit of whoever typed them.

The bounds of single values stand in :class:`workbench.catalog.tank.Tank`; the rules between values
stand here. Both are meant to catch slips, above all values in a unit other than the column's.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from typing import Any, NamedTuple

from workbench.units import LENGTH, MASS, PRESSURE, VOLUME, Kind
from workbench.words import tr

MEASURES: dict[str, Kind] = {
    "total_volume": VOLUME,
    "acceptance": VOLUME,
    "diameter": LENGTH,
    "height": LENGTH,
    "max_working_pressure": PRESSURE,
    "factory_precharge": PRESSURE,
    "highest_precharge": PRESSURE,
    "empty_weight": MASS,
}
"""The fields of a tank that are measured, and the quantity of each."""

Show = Callable[[str, float], str]
"""Tells a field's SI value as a person reads it: ``show("diameter", 0.4)`` is "15.748 in"."""

# A catalogue's sizes are rounded, and one value may be a nominal one.
_ROUNDED = 1.1
# Domed ends, a stand and a nominal volume leave the cylinder around a tank 1.1 to 1.6 times its
# volume (common practice, no source); litres for gallons or centimetres for inches leave far more.
_ROOMY = 4.0
_EQUAL = 1 + 1e-9  # 75 psi and 5.171068 bar are the same pressure


class Broken(NamedTuple):
    """A rule that a value breaks: which field, what is wrong, and how to mend it."""

    field: str
    rule: str
    suggestion: str


def show_us(field: str, si: float) -> str:
    """An SI value in the unit that US customary shows for this field."""
    kind = MEASURES[field]
    return f"{si / kind.units[kind.us].factor:.6g} {kind.us}"


def contradictions(values: Mapping[str, Any], show: Show = show_us) -> Iterator[Broken]:
    """Yield each rule between two values that is broken; a value that is not there breaks none.

    Args:
        values: SI values by field, each within its own bounds; None or absent if not stated.
        show: how a value is told.
    """
    compare = tr("Compare both with the tank's data sheet: one may be in another unit.")

    def above(field: str, other: str) -> str:
        """The limit that ``field`` is above, as a person reads it; empty if it is not."""
        a, b = values.get(field), values.get(other)
        return show(other, b) if a is not None and b is not None and a > b * _EQUAL else ""

    if limit := above("acceptance", "total_volume"):
        rule = tr("is more than the total volume, {limit}.", limit=limit)
        yield Broken("acceptance", rule, compare)
    for field in ("factory_precharge", "highest_precharge"):
        if limit := above(field, "max_working_pressure"):
            rule = tr("is above the maximum working pressure, {limit}.", limit=limit)
            yield Broken(field, rule, compare)
    if above("factory_precharge", "highest_precharge"):
        limit = show("factory_precharge", values["factory_precharge"])
        rule = tr("is below the factory precharge, {limit}.", limit=limit)
        yield Broken("highest_precharge", rule, compare)
    yield from _room(values, show)


def _room(values: Mapping[str, Any], show: Show) -> Iterator[Broken]:
    """The volume against the cylinder around the shell."""
    volume, diameter, height = (values.get(f) for f in ("total_volume", "diameter", "height"))
    if volume is None or diameter is None or height is None:
        return
    around = math.pi / 4 * diameter**2 * height
    suggestion = tr(
        "Compare it with diameter ({diameter}) and height ({height}): one may be in another unit.",
        diameter=show("diameter", diameter),
        height=show("height", height),
    )
    limit = show("total_volume", around)
    if volume > around * _ROUNDED:
        rule = tr("is more than a shell of this size can hold, {limit}.", limit=limit)
        yield Broken("total_volume", rule, suggestion)
    elif volume * _ROOMY < around:
        rule = tr("is far less than a shell of this size holds, {limit}.", limit=limit)
        yield Broken("total_volume", rule, suggestion)


def in_words(field: str, kind: str, context: Mapping[str, Any], reason: str, show: Show) -> Broken:
    """Tell one of pydantic's findings: its type ``kind``, ``context`` and message ``reason``."""
    if kind in {"greater_than", "greater_than_equal", "less_than_equal"}:
        return _out_of_bounds(field, kind, context, show)
    match kind:
        case "missing":
            told = tr("is empty, but needed."), tr("Take it from the tank's data sheet.")
        case "finite_number":
            told = tr("is not a finite number."), tr("Write a number that was measured.")
        case "decimal_max_places":
            told = tr("has too many decimals."), tr("Write at most 4 decimals.")
        case _:
            told = _about_text(kind, context, reason)
    return Broken(field, *told)


def _about_text(kind: str, context: Mapping[str, Any], reason: str) -> tuple[str, str]:
    match kind:
        case "string_too_short":
            return tr("is empty, but needed."), tr("Write a text.")
        case "string_too_long":
            return tr("is too long."), tr("Write at most {n} characters.", n=context["max_length"])
        case "too_many_lines":
            return tr("has too many lines."), tr("Shorten it.")
        case "blank_ends":
            return tr("begins or ends with a blank."), tr("Take the blank away.")
        case "control" | "string_unicode":
            return tr("holds a character that cannot be printed."), tr("Type the text anew.")
        case "looks_like_date":
            return (
                tr("is a date that a spreadsheet made of a pipe size."),
                tr("Format the column as text, and write the size anew, such as 3/4 or 1-1/4."),
            )
    return tr("is not allowed here: {reason}.", reason=reason), ""


def _out_of_bounds(field: str, kind: str, context: Mapping[str, Any], show: Show) -> Broken:
    if kind == "greater_than":
        return Broken(field, tr("must be above zero."), tr("Write a positive number."))
    if kind == "greater_than_equal":
        return Broken(field, tr("must not be below zero."), tr("Write zero or more."))
    limit = show(field, context["le"]) if field in MEASURES else f"{context['le']:,}"
    return Broken(
        field,
        tr("is more than any tank's, {limit}.", limit=limit),
        tr("Was it meant in another unit than the column's?")
        if field in MEASURES
        else tr("Was a decimal mark forgotten?"),
    )
