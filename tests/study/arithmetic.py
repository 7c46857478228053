"""Recomputes the numbers of a step, such as "0.2973 × 60.0 gal = 17.8 gal", as a reader would.

Only plain arithmetic can be recomputed; an integral is written with an arrow. Every number stands
for all that it is the rounding of, so the result may miss by as much as that makes.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from workbench.units import Display
from workbench.units.kinds import KINDS

UNITS: dict[str, tuple[float, float]] = {
    symbol: (unit.factor, unit.zero)
    for kind in KINDS
    for symbol, unit in kind.units.items()
    if symbol
}
_SPELLED = "|".join(re.escape(symbol) for symbol in sorted(UNITS, key=len, reverse=True))
_NUMBER = re.compile(rf"(\d[\d.,]*\d|\d)(?:[ \u00a0]?({_SPELLED})(?![\w/²³]))?")
_SHOWN = ", shown as "


@dataclass(frozen=True)
class Number:
    """A number as it is written: its value, half of its last digit, and its unit's factor.

    ``half`` is by how much it may have been rounded: not at all if it is a count.
    """

    value: float
    half: float
    last: float
    factor: float = 1.0


def number_of(digits: str, unit: str, display: Display) -> Number:
    """What digits with a unit ("": none) stand for."""
    plain = digits.replace(",", "") if display.mark == "." else digits.replace(",", ".")
    places = len(plain.partition(".")[2])
    last = 0.5 * 10.0**-places
    half = last if places or unit else 0.0
    return Number(float(plain), half, last, UNITS[unit][0] if unit else 1.0)


def numbers_in(text: str) -> list[str]:
    """The numbers of a text that have a unit, as they are written: "17.8 gal"."""
    return [found[0] for found in _NUMBER.finditer(text) if found[2]]


def recomputes(numbers: str, display: Display) -> bool | None:
    """Whether what stands before the equals sign is what stands after it.

    None where the text is no plain arithmetic.
    """
    text, _, shown = numbers.partition(_SHOWN)
    if not _same(text, shown, display):
        return False
    left, equals, right = text.rpartition(" = ")
    result = _NUMBER.match(right.replace("−", "").replace("+", ""))
    if not equals or result is None or "→" in text:
        return None
    try:
        parts = list(_tokens(left, display))
        whole = _Reader(parts).value
    except ValueError:
        return None
    wanted = number_of(result[1], result[2] or "", display)
    sign = -1.0 if right.startswith("−") else 1.0
    found = [part for part in parts if isinstance(part, Number)]
    return any(
        _meets(whole, found, scales, sign * wanted.value * scale, wanted.half * scale)
        for scales, scale in (
            ([part.factor for part in found], wanted.factor),
            ([1.0] * len(found), 1.0),
        )
    )


def _meets(
    whole: Callable[[list[float]], float],
    found: list[Number],
    scales: list[float],
    wanted: float,
    half: float,
) -> bool:
    values = [part.value * scale for part, scale in zip(found, scales, strict=True)]
    result = whole(values)
    slack = half
    for place, (part, scale) in enumerate(zip(found, scales, strict=True)):
        moved = [
            abs(whole([*values[:place], values[place] + way, *values[place + 1 :]]) - result)
            for way in (part.half * scale, -part.half * scale)
        ]
        slack += max(moved)
    return abs(result - wanted) <= slack * 1.02 + 1e-9 * abs(wanted)


def _same(text: str, shown: str, display: Display) -> bool:
    """Whether a figure "shown as" is the rounding of the one that the text ends with."""
    one = _NUMBER.search(shown)
    every = list(_NUMBER.finditer(text))
    if one is None or not every:
        return True
    first = number_of(one[1], one[2] or "", display)
    last = number_of(every[-1][1], every[-1][2] or "", display)
    unit = last.factor if one[2] and every[-1][2] else 1.0
    other = first.factor if one[2] and every[-1][2] else 1.0
    miss = abs(first.value * other - last.value * unit)
    return miss <= (first.last * other + last.last * unit) * (1.0 + 1e-9)


def _tokens(text: str, display: Display) -> Iterator[Number | str]:
    place = 0
    while place < len(text):
        if text[place].isspace():
            place += 1
            continue
        found = _NUMBER.match(text, place)
        if found:
            yield number_of(found[1], found[2] or "", display)
            place = found.end()
        elif text[place] in "+−×/^()":
            yield text[place]
            place += 1
        else:
            raise ValueError(text[place:])


Make = Callable[[list[float]], float]


@dataclass
class _Reader:
    """Reads a formula; its ``value`` takes the numbers in their order."""

    parts: list[Number | str]
    place: int = 0
    count: int = 0
    value: Make = field(init=False)

    def __post_init__(self) -> None:
        self.value = self._sum()
        if self.place != len(self.parts):
            raise ValueError(self.parts[self.place])

    def _next(self, *signs: str) -> str:
        if self.place < len(self.parts) and self.parts[self.place] in signs:
            self.place += 1
            return str(self.parts[self.place - 1])
        return ""

    def _sum(self) -> Make:
        value = self._product()
        while sign := self._next("+", "−"):
            value = _joined(value, self._product(), sign)
        return value

    def _product(self) -> Make:
        value = self._power()
        while sign := self._next("×", "/"):
            value = _joined(value, self._power(), sign)
        return value

    def _power(self) -> Make:
        if self._next("−"):
            inner = self._power()
            return lambda numbers: -inner(numbers)
        base = self._one()
        return _joined(base, self._power(), "^") if self._next("^") else base

    def _one(self) -> Make:
        if self._next("("):
            value = self._sum()
            if not self._next(")"):
                raise ValueError("(")
            return value
        if self.place >= len(self.parts) or not isinstance(self.parts[self.place], Number):
            raise ValueError(self.parts[self.place :])
        self.place, self.count = self.place + 1, self.count + 1
        number = self.count - 1
        return lambda numbers: numbers[number]


def _joined(first: Make, second: Make, sign: str) -> Make:
    def value(numbers: list[float]) -> float:
        a, b = first(numbers), second(numbers)
        if sign == "/":
            return a / b if b else math.inf
        if sign == "^":
            return a**b if a >= 0.0 else math.nan
        return a + b if sign == "+" else a - b if sign == "−" else a * b

    return value
