"""Numbers in a file: what one can mean, and how one is written so that it reads back the same.

A file has one decimal mark, and its cells show which: "12,5" can only be read with the comma,
"1,234.5" only with the point. A cell that can be read both ways ("1,500") is read by what the other
cells show. If they show nothing, or contradict each other, it is not read at all.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Context, Decimal
from fractions import Fraction
from math import inf, isfinite, nextafter

from workbench.units import Kind, Unit, UnitError, parse_number, to_si
from workbench.words import tr

LONGEST = 400
"""The most characters of a number; the smallest float has 350 in a column of large units."""

_FORMS = {
    mark: re.compile(
        rf"[+-]?(?:(?:[0-9]+|[1-9][0-9]{{0,2}}(?:[{group}][0-9]{{3}})+)(?:[{mark}][0-9]*)?"
        rf"|[{mark}][0-9]+)"
    )
    for mark, group in ((".", ","), (",", "."))
}
_LOOKS_LIKE = str.maketrans("OoIl|", "00111")
_FRACTION = re.compile(r"([0-9]{1,6})(?:[ -]| and )([0-9]{1,2})/([0-9]{1,2})")
_SCIENTIFIC = re.compile(r"[0-9]{1,9}(?:[.,][0-9]{1,17})?[eE][+-]?[0-9]{1,2}")
_WITH_UNIT = re.compile(r"[$€£]?\s*([0-9.,]*[0-9][0-9.,]*)\s*([^0-9]{0,20})")
_MOST_DIGITS = 17  # of a float, so that it reads back the same


@dataclass(frozen=True, slots=True)
class Marks:
    """What a file's cells show of its decimal mark: how many can be read in one way only."""

    point: int = 0
    comma: int = 0
    separator: str = ","

    @property
    def mixed(self) -> bool:
        """Some cells can only have the point, others only the comma."""
        return bool(self.point and self.comma)

    @property
    def shown(self) -> str:
        """The decimal mark, "." or ",", or "" if the cells show none or contradict each other."""
        if self.mixed:
            return ""
        return "." if self.point else "," if self.comma else ""

    def of(self, text: str) -> str:
        """The decimal mark of a cell that could have either, or "" if that cannot be told."""
        # A file separated by commas has the point, as the standards of CSV files have it: a comma
        # within a number must be put in quotes there, and nobody does that without need.
        by_standard = self.separator == "," and not self.comma and "," not in text
        return self.shown or ("." if by_standard else "")

    @property
    def to_write(self) -> str:
        """The decimal mark for new cells."""
        if self.point or self.comma:
            return "." if self.point >= self.comma else ","
        return "," if self.separator == ";" else "."


def marks_in(texts: Iterable[str], separator: str) -> Marks:
    """Gather what the number cells ``texts`` show, in a file whose cells ``separator`` divides."""
    counts = {".": 0, ",": 0}
    for text in texts:
        readable = [mark for mark, form in _FORMS.items() if form.fullmatch(_plain(text))]
        if len(readable) == 1:
            counts[readable[0]] += 1
    return Marks(counts["."], counts[","], separator)


def read_number(text: str, marks: Marks) -> str:
    """The digits of a cell, with a decimal point and no grouping.

    Raises:
        UnitError: not a number, or one that can be read in two ways.

    >>> read_number("1,500", Marks(point=3)), read_number("12,5", Marks(separator=";"))
    ('1500', '12.5')
    """
    clean = _plain(text) if len(text) <= LONGEST else ""
    readings = {}
    for mark, form in _FORMS.items():
        if form.fullmatch(clean):
            group = "," if mark == "." else "."
            readings[mark] = parse_number(clean.replace(group, "").replace(mark, "."))
    if not readings:
        raise UnitError(tr("is not a number."), "")
    if len(set(readings.values())) == 1:
        return next(iter(readings.values()))
    mark = marks.of(clean)
    if not mark:
        mark = next(c for c in clean if c in _FORMS)
        whole, fraction = (readings["." if mark == "," else ","], readings[mark])
        decimal = unmistakable(_short(fraction)).replace(".", mark)
        raise UnitError(
            tr("could mean {a} or {b}.", a=whole, b=_short(fraction).replace(".", mark)),
            tr("Write {a}, or {b}.", a=whole, b=decimal),
        )
    return readings[mark]


def advice(text: str, marks: Marks, kind: Kind | None = None, unit: Unit | None = None) -> str:
    """How a cell that is no number might be mended: a sentence with the likely number.

    ``kind`` and ``unit`` are the column's; None for a plain number.
    """
    plain = _plain(text[:LONGEST])
    match = _WITH_UNIT.fullmatch(plain)
    number = _likely(match[1]) if match else ""
    written = kind.find(match[2].strip(" .")) if match and kind else None
    if number and written and unit and written != unit:
        number = f"{float(number) * written.factor / unit.factor:.6g}"
        return tr("Write {number}: the column is in {unit}.",
                  number=number.replace(".", marks.to_write), unit=unit.symbol)  # fmt: skip
    likely = number if written else _likely(plain) or ("" if kind else number)
    if likely:
        return tr("Write {number}.", number=likely.replace(".", marks.to_write))
    if number and unit:
        return tr("Write the number alone, in {unit}.", unit=unit.symbol)
    example = f"12{marks.to_write}5"
    return tr("Write digits with at most one decimal mark, such as {example}.", example=example)


def _likely(text: str) -> str:
    """The number that ``text`` probably is, with a decimal point; "" if that is anyone's guess."""
    if len(text) > 40:
        return ""
    swapped = re.sub(r"[\s']", "", text.translate(_LOOKS_LIKE))
    readings = {
        swapped.replace("," if mark == "." else ".", "").replace(mark, ".").strip("+")
        for mark, form in _FORMS.items()
        if form.fullmatch(swapped)
    }
    if len(readings) == 1:
        return readings.pop()
    if fraction := _FRACTION.fullmatch(text):
        whole, above, below = (int(group) for group in fraction.groups())
        return _short(f"{whole + above / below:.6f}") if below else ""
    if _SCIENTIFIC.fullmatch(text):
        return _fixed(Decimal(text.replace(",", ".")))
    return ""


def si_of(digits: str, unit: Unit) -> float:
    """The SI value of ``digits`` in ``unit``, the same float as for a number typed in a field.

    Digits beyond a float's are multiplied exactly before they are rounded, so that every float can
    be written: :func:`digits_of` needs that for a value that came from another unit.
    """
    if len(digits) <= _MOST_DIGITS + 1:
        return to_si(float(digits), unit)
    try:
        return float(Fraction(digits) * Fraction(unit.factor))
    except OverflowError:
        return inf


def digits_of(si: float, unit: Unit) -> str:
    """The shortest digits that :func:`si_of` reads as exactly ``si`` again.

    Raises ValueError if ``si`` is not finite.

    >>> from workbench.units import PRESSURE
    >>> psi = PRESSURE.units["psi"]
    >>> digits_of(si_of("37.5", psi), psi)
    '37.5'
    """
    if not isfinite(si):
        raise ValueError(f"{si} cannot be written as digits")
    nearest = si / unit.factor
    for near in (nearest, nextafter(nearest, inf), nextafter(nearest, -inf)):
        for places in range(1, _MOST_DIGITS + 1):
            digits = _fixed(Decimal(f"{near:.{places}g}"))
            if si_of(digits, unit) == si:
                return digits
    # No float times the factor is rounded to this one, so it takes digits that are read exactly.
    exact = Fraction(si) / Fraction(unit.factor)
    places = _MOST_DIGITS
    while True:  # each place more comes nearer to the exact value
        places += 1
        number = Context(prec=places).divide(Decimal(exact.numerator), Decimal(exact.denominator))
        digits = _fixed(number)
        digits = (digits if "." in digits else digits + ".").ljust(_MOST_DIGITS + 2, "0")
        if si_of(digits, unit) == si:
            return digits


def unmistakable(digits: str) -> str:
    """``digits`` so that nobody takes the decimal mark for a grouping one: 8.125 becomes 8.1250."""
    whole, _, fraction = digits.lstrip("-").partition(".")
    grouped = len(fraction) == 3 and len(whole) <= 3 and whole.strip("0")
    return digits + "0" if grouped else digits


def _plain(text: str) -> str:
    return text.strip().replace("\u2212", "-")


def _fixed(number: Decimal) -> str:
    return _short(f"{number:f}")


def _short(digits: str) -> str:
    return digits.rstrip("0").rstrip(".") if "." in digits else digits
