"""What a person typed becomes a :class:`Quantity`, or a :class:`UnitError` with its remedy.

Both decimal marks are read everywhere. A text that two people would read differently ("1,500") is
refused with both readings; nothing is ever guessed, clamped or rounded.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from workbench.units.kinds import KINDS, PRESSURE, Kind, Unit
from workbench.words import tr

_LONGEST = 60
SPACES = re.compile(r"[\s\u00a0\u2007\u202f]+")
_SPLIT = re.compile(r"([+-]?[0-9.,]*[0-9][0-9.,]*)\s*(.*)", re.DOTALL)
_PLAIN = re.compile(r"[0-9]+|[0-9]*[.,][0-9]+|[0-9]+[.,]")
_GROUPED = re.compile(
    r"[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?|[0-9]{1,3}(?:\.[0-9]{3})+(?:,[0-9]+)?"
)
_SAFE_UNIT = re.compile(r"[A-Za-zµμ°²³/*^·()_ -]{1,30}(?:[23](?![0-9])[A-Za-z/*^·()_ -]*)?")
_ABSOLUTE = re.compile(r"psia|bara|bar\(a\)|kpaa?\(?a\)?|.*\babs(olute)?\b.*", re.IGNORECASE)


class UnitError(ValueError):
    """A text that is not the wanted quantity: ``str(error)`` is why, ``remedy`` how to mend it."""

    def __init__(self, why: str, remedy: str) -> None:
        super().__init__(why)
        self.remedy = remedy


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit, exactly as typed: ``digits`` with a decimal point, no grouping.

    ``str(quantity)`` is what files hold ("3.40 bar"); ``si`` is the value that is computed with.
    Switching the displayed units never touches it, so it cannot drift.
    """

    digits: str
    unit: str
    si: float

    def __str__(self) -> str:
        return f"{self.digits} {self.unit}".strip()


@dataclass(frozen=True, slots=True)
class Unread:
    """A typed text that could not be read. It is kept, so that nothing typed is ever lost."""

    text: str
    why: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Band:
    """A switch band: gauge pressures [Pa] where the pump starts and stops, and its name "30/50"."""

    cut_in: float
    cut_out: float
    name: str


@dataclass(frozen=True, slots=True)
class Bands:
    """A list of switch bands as typed, in one unit: ``str(bands)`` is "20/40, 30/50 psi"."""

    bands: tuple[Band, ...]
    unit: str

    def __str__(self) -> str:
        return f"{', '.join(band.name for band in self.bands)} {self.unit}".strip()


def parse_number(text: str, mark: str = ".") -> str:
    """Read a plain decimal number; return its digits with a decimal point and no grouping.

    Args:
        text: what was typed, without a unit; "40.5" and "40,5" are the same.
        mark: the decimal mark of the person's locale, "." or ",".

    Raises:
        UnitError: not a number, or one that could be read in two ways.

    >>> parse_number("40,5"), parse_number("1,234.5"), parse_number("−2")
    ('40.5', '1234.5', '-2')
    """
    clean = SPACES.sub(" ", text).strip().replace("\u2212", "-")
    sign, body = ("-", clean[1:]) if clean.startswith("-") else ("", clean.removeprefix("+"))
    if _PLAIN.fullmatch(body):
        other = "," if mark == "." else "."
        whole, _, fraction = body.replace(other, mark).partition(mark)
        if other in body and len(fraction) == 3 and whole.strip("0"):
            a, b = f"{sign}{whole}{fraction}", f"{sign}{whole}{mark}{fraction}"
            raise UnitError(
                tr("“{text}” could mean {a} or {b}.", text=clean, a=a, b=b),
                tr("Type {a}, or {b}.", a=a, b=f"{b}0"),
            )
        return sign + (whole or "0") + ("." + fraction if fraction else "")
    marks = [c for c in body if c in ",."]
    if _GROUPED.fullmatch(body) and len(marks) > 1:
        decimal = marks[-1] if marks[-1] != marks[0] else ""
        whole, _, fraction = body.rpartition(decimal) if decimal else (body, "", "")
        return sign + re.sub(r"[.,]", "", whole) + ("." + fraction if fraction else "")
    raise UnitError(
        tr("“{text}” is not a plain number.", text=clean[:_LONGEST]),
        tr("Type digits with one decimal mark, for example {example}.", example=f"12{mark}5"),
    )


def parse(text: str, kind: Kind, mark: str = ".", default: str | None = None) -> Quantity:
    """Read a number with a unit of ``kind``.

    Args:
        text: for example "50 psi", "3,4 bar" or "38 L/min".
        kind: the quantity that is wanted.
        mark: the decimal mark of the person's locale.
        default: the unit of a bare number; None asks for the unit to be typed.

    Raises:
        UnitError: unreadable, ambiguous, an unknown unit, or a unit of another quantity.

    >>> from workbench.units.kinds import PRESSURE
    >>> str(parse("3,4 bar", PRESSURE)), round(parse("50 psi", PRESSURE).si)
    ('3.4 bar', 344738)
    """
    clean = SPACES.sub(" ", text).strip().replace("\u2212", "-")
    example = tr("For example “{example}”.", example=example_of(kind, mark))
    if not clean:
        raise UnitError(tr("Nothing is entered here."), example)
    if len(clean) > _LONGEST:
        raise UnitError(tr("This is too long for one value."), example)
    match = _SPLIT.fullmatch(clean)
    if match is None:
        raise UnitError(tr("“{text}” has no number that can be read.", text=clean), example)
    digits = parse_number(match[1], mark)
    unit = _unit_for(match[2].strip(), kind, default, example)
    return Quantity(digits, unit.symbol, to_si(float(digits), unit))


def _unit_for(text: str, kind: Kind, default: str | None, example: str) -> Unit:
    if text:
        return unit_of(text, kind)
    if default is None and kind.us:
        raise UnitError(tr("The unit is missing."), example)
    return unit_of(default or kind.us, kind)


def example_of(kind: Kind, mark: str = ".") -> str:
    """A well-formed text of this kind, for error messages and hints."""
    number = {"psi": "50", "gal": "20", "gpm": "10", "min": "1.5", "in": "28", "ft": "1200"}
    digits = "250" if kind.name == "head or depth" else number.get(kind.us, "1.5")
    return f"{digits.replace('.', mark)} {kind.us}".strip()


def to_si(number: float, unit: Unit) -> float:
    """The SI value of ``number`` in ``unit``."""
    return (number + unit.zero) * unit.factor


def unit_of(text: str, kind: Kind) -> Unit:
    """The unit that ``text`` spells: a listed one, or any of pint's of the right dimension.

    Raises:
        UnitError: unknown, of another quantity, or an absolute pressure where a gauge one is meant.
    """
    unit = kind.find(text)
    if unit is not None:
        return unit
    remedy = tr("Use one of: {units}.", units=", ".join(filter(None, kind.units))) if kind.us else (
        tr("Type the number alone.")
    )  # fmt: skip
    if kind is PRESSURE and _ABSOLUTE.fullmatch(text):
        raise UnitError(
            tr("“{unit}” is absolute pressure; the gauge reading is wanted.", unit=text),
            tr("Subtract the air pressure at the site (about 14.7 psi at sea level)."),
        )
    known_elsewhere = any(other.pint != kind.pint and other.find(text) for other in KINDS)
    if not kind.is_open or known_elsewhere or not _SAFE_UNIT.fullmatch(text):
        raise UnitError(tr("“{unit}” is not a unit of {kind}.", unit=text, kind=kind.name), remedy)
    return _ask_pint(text, kind, remedy)


def _ask_pint(text: str, kind: Kind, remedy: str) -> Unit:
    import pint  # a third of a second, and only for units that are seldom typed

    try:
        one = _registry().Quantity(1.0, _registry().parse_units(text.replace("²", "2")))
    except Exception as error:  # pint raises whatever its tokenizer met
        raise UnitError(tr("“{unit}” is not a known unit.", unit=text), remedy) from error
    try:
        factor = one.to(kind.pint).magnitude
        twice = (2 * one).to(kind.pint).magnitude
    except (pint.DimensionalityError, pint.OffsetUnitCalculusError) as error:
        raise UnitError(
            tr("“{unit}” is not a unit of {kind}.", unit=text, kind=kind.name), remedy
        ) from error
    if not 0 < factor < float("inf") or abs(twice - 2 * factor) > 1e-9 * factor:
        raise UnitError(tr("“{unit}” cannot be used here.", unit=text), remedy)
    return Unit(text, float(factor), 2)


@lru_cache(maxsize=1)
def _registry() -> Any:
    import pint  # see _ask_pint

    return pint.UnitRegistry(cache_folder=":auto:")


def parse_bands(text: str, mark: str = ".", default: str | None = "psi") -> Bands:
    """Read a list of switch bands such as "20/40, 30/50, 40/60 psi" or "2/3,5; 3/4,5 bar".

    Raises:
        UnitError: names the band that cannot be read.

    >>> [band.name for band in parse_bands("20/40, 30/50 psi").bands]
    ['20/40', '30/50']
    """
    clean = re.sub(" ?/ ?", "/", SPACES.sub(" ", text).strip())
    remedy = tr(
        "Write cut-in/cut-out with a space after each comma, for example “{example}”.",
        example="30/50, 40/60 psi",
    )
    if len(clean) > 4 * _LONGEST:
        raise UnitError(tr("This is too long for a list of switch bands."), remedy)
    match = re.fullmatch(r"([0-9.,/; -]*?)\s*([A-Za-z()]*)", clean)
    if match is None:
        raise UnitError(tr("“{text}” is not a list of switch bands.", text=clean), remedy)
    unit = unit_of(match[2] or default or "psi", PRESSURE)
    pairs = re.findall(r"[^;/]*?/[^;/]*?(?=,\s|;|\s[0-9]|$)|[^;]+", match[1])
    bands = []
    for piece in filter(None, (pair.strip(" ,") for pair in pairs)):
        cut_in, _, cut_out = piece.partition("/")
        if piece.count("/") != 1 or not cut_in.strip() or not cut_out.strip():
            raise UnitError(tr("“{text}” is not a switch band.", text=piece), remedy)
        low, high = parse_number(cut_in, mark), parse_number(cut_out, mark)
        if not 0 <= float(low) < float(high):
            raise UnitError(
                tr("In “{text}” the pump would stop below where it starts.", text=piece), remedy
            )
        bands.append(Band(to_si(float(low), unit), to_si(float(high), unit), f"{low}/{high}"))
    return Bands(tuple(bands), unit.symbol)
