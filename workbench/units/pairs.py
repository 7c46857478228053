"""A list of pairs, one to a line: a pump curve's "5 gpm 262 ft", or a tank's "44 gal 38 psi"."""

from __future__ import annotations

import re
from dataclasses import dataclass

from workbench.units.kinds import Kind
from workbench.units.reading import SPACES, Quantity, UnitError, example_of, parse
from workbench.words import tr

MOST_PAIRS = 40
_LINE_END = re.compile(r"\r\n|[\r\n;]")
# The second number begins where a gap is followed by a digit: the "3" of "m3/h" has no gap.
_GAP = re.compile(r"(?: ?@ ?|,? )(?=[+\-\u2212]?[.,]?[0-9])")


@dataclass(frozen=True, slots=True)
class Pairs:
    """Pairs of quantities as typed; ``str(pairs)`` is what files hold, one pair to a line."""

    pairs: tuple[tuple[Quantity, Quantity], ...]

    def __str__(self) -> str:
        return "\n".join(f"{first} {second}" for first, second in self.pairs)


def parse_pairs(
    text: str,
    kinds: tuple[Kind, Kind],
    mark: str = ".",
    defaults: tuple[str | None, str | None] = (None, None),
) -> Pairs:
    """Read pairs, one to a line (or separated by ";"), such as pasted from a spreadsheet.

    Args:
        text: each line a number and a number, each with its unit or in the default one.
        kinds: what the first and the second of each pair are.
        mark: the decimal mark of the person's locale.
        defaults: the units of bare numbers; None asks for the unit to be typed.

    Raises:
        UnitError: names the line that cannot be read.

    >>> from workbench.units.kinds import FLOW, HEAD
    >>> print(parse_pairs("0 gpm 280 ft; 5 gpm 262 ft", (FLOW, HEAD)))
    0 gpm 280 ft
    5 gpm 262 ft
    """
    lines = [SPACES.sub(" ", line).strip() for line in _LINE_END.split(text)]
    example = tr(
        "One pair to a line, for example “{first} {second}”.",
        first=example_of(kinds[0], mark),
        second=example_of(kinds[1], mark),
    )
    if sum(map(bool, lines)) > MOST_PAIRS:
        raise UnitError(tr("More than {count} lines.", count=MOST_PAIRS), example)
    pairs = []
    for number, line in enumerate(lines, start=1):
        if not line:
            continue
        try:
            pairs.append(_pair(line, kinds, mark, defaults, example))
        except UnitError as error:
            raise UnitError(tr("Line {n}: {why}", n=number, why=error), error.remedy) from error
    return Pairs(tuple(pairs))


def _pair(
    line: str,
    kinds: tuple[Kind, Kind],
    mark: str,
    defaults: tuple[str | None, str | None],
    example: str,
) -> tuple[Quantity, Quantity]:
    parts = _GAP.split(line)
    if len(parts) != 2:
        raise UnitError(tr("“{line}” is not a pair of numbers.", line=line[:60]), example)
    first, second = (
        parse(part.strip(), kind, mark, default)
        for part, kind, default in zip(parts, kinds, defaults, strict=True)
    )
    return first, second
