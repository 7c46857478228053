"""How the benchmark measures: the compared things take turns, and a ratio is taken in each round.

Other work on the machine slows a whole round, so the ratio of two neighbours in time is steadier
than either of them. The median over the rounds is told, with the least and the greatest.
"""

from __future__ import annotations

import gc
import statistics
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

Rounds = dict[str, list[float]]


@dataclass(frozen=True)
class Spread:
    """Median, least and greatest of some rounds."""

    median: float
    least: float
    greatest: float

    @classmethod
    def of(cls, values: Sequence[float]) -> Spread:
        return cls(statistics.median(values), min(values), max(values))

    def __str__(self) -> str:
        digits = 0 if self.median >= 100 else 1 if self.median >= 10 else 2
        if self.median < 0.1:
            digits = 4
        return f"{self.median:.{digits}f} ({self.least:.{digits}f}–{self.greatest:.{digits}f})"


@dataclass(frozen=True)
class Row:
    """One line of the result: ``ours`` and ``bare`` in ``unit``, their ratio, and what is wanted.

    ``target`` is the most that is wanted of the ratio, or of ``ours`` if ``of_ours``. It is shown
    and never enforced: a benchmark on a busy machine is read by a person.
    """

    part: str
    what: str
    unit: str
    ours: Spread
    bare: Spread
    ratio: Spread
    target: float | None = None
    of_ours: bool = False

    @property
    def verdict(self) -> str:
        """The target and whether the median keeps it."""
        if self.target is None:
            return ""
        value = self.ours.median if self.of_ours else self.ratio.median
        unit = f" {self.unit}" if self.of_ours else ""
        return f"≤ {self.target:g}{unit} {'met' if value <= self.target else 'MISSED'}"

    def as_json(self) -> dict[str, Any]:
        return asdict(self) | {"verdict": self.verdict}

    @classmethod
    def from_json(cls, record: Mapping[str, Any]) -> Row:
        spreads = {name: Spread(**record[name]) for name in ("ours", "bare", "ratio")}
        rest = {name: record[name] for name in ("part", "what", "unit", "target", "of_ours")}
        return cls(**rest, **spreads)


def compare(
    part: str, what: str, unit: str, ours: Sequence[float], bare: Sequence[float], **target: Any
) -> Row:
    """A row of two series whose values stand beside each other round by round."""
    ratios = [a / b for a, b in zip(ours, bare, strict=True)]
    return Row(part, what, unit, Spread.of(ours), Spread.of(bare), Spread.of(ratios), **target)


def take_turns(things: Mapping[str, Callable[[], float]], rounds: int) -> Rounds:
    """Measure A B A B …; each call returns its own measure. The first round is thrown away."""
    measured: Rounds = {name: [] for name in things}
    for number in range(rounds + 1):
        for name, measure in things.items():
            value = measure()
            if number:
                measured[name].append(value)
    return measured


def timed(call: Callable[[], object], at_least: float = 0.002) -> Callable[[], float]:
    """A measure of ``call`` [ms], called as often as lasts ``at_least`` [s]."""
    start = time.perf_counter()
    call()
    once = max(time.perf_counter() - start, 1e-7)
    repeats = max(1, round(at_least / once))

    def measure() -> float:
        gc.collect()  # what others left behind is not ours to clear away
        start = time.perf_counter()
        for _ in range(repeats):
            call()
        return (time.perf_counter() - start) / repeats * 1e3

    return measure


def timed_once(call: Callable[[Any], object], prepare: Callable[[], Any]) -> Callable[[], float]:
    """A measure of one ``call`` [ms] on something new, whose making does not count."""

    def measure() -> float:
        new = prepare()
        gc.collect()
        start = time.perf_counter()
        call(new)
        return (time.perf_counter() - start) * 1e3

    return measure


def table(rows: Sequence[Row]) -> str:
    """The rows as plain text, part by part."""
    lines = []
    heads = ("", "ours", "compared", "ratio (min–max)", "target")
    cells = [
        (f"{r.what}, {r.unit}", str(r.ours), str(r.bare), str(r.ratio), r.verdict) for r in rows
    ]
    widths = [max(map(len, column)) for column in zip(heads, *cells, strict=True)]
    part = ""
    for row, line in zip(rows, cells, strict=True):
        if row.part != part:
            part = row.part
            lines += ["", part, _line(heads, widths)]
        lines.append(_line(line, widths))
    return "\n".join(lines[1:])


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    first, *rest = (cell.ljust(width) for cell, width in zip(cells, widths, strict=True))
    return "  ".join((first, *rest)).rstrip()
