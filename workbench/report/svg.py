"""Drawings for paper as SVG text: strokes, hatches, markers and words, the same bytes everywhere.

Lengths are in points (1/72 inch), y grows downwards. Lines differ in dash and marker and areas in
hatch, so that a copy in grey says as much as the print; every colour has 3:1 or more on white
(WCAG 2.2, W3C Recommendation, 2024, success criterion 1.4.11), texts 4.5:1 (1.4.3).

>>> canvas = Canvas(100, 50)
>>> canvas.line((0, 0), (100, 50))
>>> canvas.text((50, 20), "40 < 60 psi", anchor="middle")
>>> print(canvas.svg().splitlines()[2])
<text x="50.00" y="20.00" font-size="8.00" text-anchor="middle" fill="#1C2126">40 &lt; 60 psi</text>
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

Point = tuple[float, float]

FONT = "Noto Sans, DejaVu Sans"
INK, QUIET, GRID = "#1C2126", "#4A535B", "#C9C6BD"
"""Text and axes; what is beside the point; lines that only guide the eye."""

_WIDEST = 0.62  # of the text size: what a character takes at most on the average of a label


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a line is drawn: colour, width, and the lengths of dash and gap (none: solid)."""

    colour: str = INK
    width: float = 1.0
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Series:
    """What tells one line of a plot from the next, without its colour too."""

    colour: str
    dash: tuple[float, ...]
    marker: str  # "disc", "square", "triangle", "diamond", "ring", "cross"
    hatch: str  # "", "rising", "falling", "crossed", "level", "upright"

    def stroke(self, width: float = 1.2) -> Stroke:
        """The stroke of its line."""
        return Stroke(self.colour, width, self.dash)


SERIES = (
    Series("#0B5A8C", (), "disc", "rising"),
    Series("#B04A00", (6, 3), "square", "falling"),
    Series("#00714F", (2, 2), "triangle", "level"),
    Series("#8A3F6E", (8, 3, 2, 3), "diamond", "crossed"),
    Series("#3B4248", (3, 1.5), "ring", "upright"),
    Series("#7A5A00", (10, 3), "cross", ""),
)
"""In their order; the firm's own or present line is drawn with a width of 2 or more."""


def _n(value: float) -> str:
    text = f"{value:.2f}"
    return "0.00" if text == "-0.00" else text


def _points(points: Iterable[Point]) -> str:
    return " ".join(f"{_n(x)},{_n(y)}" for x, y in points)


def text_width(text: str, size: float) -> float:
    """About how long a text is at most, to leave room for it; nothing is measured."""
    return _WIDEST * size * len(text)


class Canvas:
    """A drawing of a width and a height in points; what comes later lies above.

    Raises:
        ValueError: from every call, for a number that is not finite, or a side that is not
            positive.
    """

    def __init__(self, width: float, height: float) -> None:
        if not (width > 0.0 and height > 0.0):
            raise ValueError(f"a drawing of {width} by {height}")
        self.width, self.height = width, height
        self._parts: list[str] = []

    def line(self, start: Point, end: Point, stroke: Stroke | None = None) -> None:
        """A straight line."""
        self.polyline((start, end), stroke)

    def polyline(self, points: Iterable[Point], stroke: Stroke | None = None) -> None:
        """A line through some points."""
        self._add("polyline", points=_points(self._finite(points)), **_line(stroke or Stroke()))

    def polygon(
        self, points: Iterable[Point], fill: str = "none", stroke: Stroke | None = None
    ) -> None:
        """An area with corners."""
        around = _line(stroke) if stroke is not None else {}
        self._add("polygon", points=_points(self._finite(points)), **(around | {"fill": fill}))

    def rect(
        self,
        corner: Point,
        width: float,
        height: float,
        fill: str = "none",
        hatch: Series | None = None,
        stroke: Stroke | None = None,
    ) -> None:
        """An upright area from its corner at the left above; ``hatch`` draws a series' hatch."""
        (x, y), (width, height) = self._finite((corner, (width, height)))
        corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        if fill != "none":
            self.polygon(corners, fill)
        if hatch is not None:
            for start, end in _hatch_lines(hatch.hatch, x, y, width, height):
                self.line(start, end, Stroke(hatch.colour, 0.7))
        if stroke is not None:
            self.polygon(corners, "none", stroke)

    def circle(
        self, centre: Point, radius: float, fill: str = "none", stroke: Stroke | None = None
    ) -> None:
        """A disc or a ring."""
        ((x, y), (radius, _)) = self._finite((centre, (radius, 0.0)))
        around = _line(stroke) if stroke is not None else {}
        self._add("circle", cx=_n(x), cy=_n(y), r=_n(radius), **(around | {"fill": fill}))

    def marker(self, series: Series, at: Point, size: float = 5.0) -> None:
        """The mark of a series at one of its points."""
        x, y = at
        half = size / 2
        if series.marker == "disc":
            self.circle(at, half, series.colour)
        elif series.marker == "ring":
            self.circle(at, half, "#FFFFFF", Stroke(series.colour, 1.2))
        elif series.marker == "cross":
            stroke = Stroke(series.colour, 1.4)
            self.line((x - half, y - half), (x + half, y + half), stroke)
            self.line((x - half, y + half), (x + half, y - half), stroke)
        else:
            shape = _SHAPES[series.marker]
            self.polygon([(x + half * a, y + half * b) for a, b in shape], series.colour)

    def text(
        self,
        at: Point,
        text: str,
        *,
        size: float = 8.0,
        anchor: str = "start",
        bold: bool = False,
        colour: str = INK,
        turned: bool = False,
    ) -> None:
        """Words whose base line is at ``at``; ``anchor`` is "start", "middle" or "end".

        ``turned`` writes them upwards, for the name of an upright axis.
        """
        ((x, y), _) = self._finite((at, (size, 0.0)))
        more = {"font-weight": "bold"} if bold else {}
        if turned:
            more["transform"] = f"rotate(-90 {_n(x)} {_n(y)})"
        self._add(
            "text",
            inside=text,
            x=_n(x),
            y=_n(y),
            **{"font-size": _n(size), "text-anchor": anchor, "fill": colour},
            **more,
        )

    def svg(self) -> str:
        """The drawing so far."""
        width, height = _n(self.width), _n(self.height)
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}pt" height="{height}pt"'
            f' viewBox="0 0 {width} {height}" font-family="{FONT}">'
        )
        return "\n".join((head, *self._parts, "</svg>", ""))

    def _add(self, tag: str, /, inside: str | None = None, **attributes: str) -> None:
        told = "".join(f' {name}="{escape(v)}"' for name, v in attributes.items())
        end = "/>" if inside is None else f">{escape(inside)}</{tag}>"
        self._parts.append(f"<{tag}{told}{end}")

    def _finite(self, points: Iterable[Point]) -> list[Point]:
        listed = list(points)
        if not all(math.isfinite(x) and math.isfinite(y) for x, y in listed):
            raise ValueError("a drawing takes finite numbers only")
        return listed


_SHAPES: dict[str, Sequence[Point]] = {
    "square": ((-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9)),
    "triangle": ((0.0, -1.1), (1.1, 0.9), (-1.1, 0.9)),
    "diamond": ((0.0, -1.25), (1.25, 0.0), (0.0, 1.25), (-1.25, 0.0)),
}


def _line(stroke: Stroke) -> dict[str, str]:
    drawn = {"fill": "none", "stroke": stroke.colour, "stroke-width": _n(stroke.width)}
    if stroke.dash:
        drawn["stroke-dasharray"] = " ".join(_n(length) for length in stroke.dash)
    return drawn


def _hatch_lines(
    hatch: str, x: float, y: float, width: float, height: float, gap: float = 4.0
) -> Iterator[tuple[Point, Point]]:
    """The lines of a hatch, each cut at the edges of the area."""
    if hatch == "level":
        for number in range(1, math.ceil(height / gap)):
            level = y + height - number * gap
            yield (x, level), (x + width, level)
    elif hatch == "upright":
        for number in range(1, math.ceil(width / gap)):
            yield (x + number * gap, y), (x + number * gap, y + height)
    elif hatch in ("rising", "falling", "crossed"):
        step = gap * math.sqrt(2.0)
        for number in range(1, math.ceil((width + height) / step)):
            along = number * step  # where the line at 45 degrees leaves the lower edge
            left, right = max(0.0, along - height), min(along, width)
            low, high = along - left, along - right
            if hatch != "rising":
                yield (x + left, y + height - low), (x + right, y + height - high)
            if hatch != "falling":
                yield (x + left, y + low), (x + right, y + high)


@dataclass(frozen=True, slots=True)
class Scale:
    """Puts values between ``low`` and ``high`` on a straight axis from ``start`` to ``end``.

    >>> Scale(0.0, 10.0, 100.0, 0.0)(2.5)
    75.0
    """

    low: float
    high: float
    start: float
    end: float

    def __call__(self, value: float) -> float:
        """The place of a value, in points."""
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)


def round_steps(low: float, high: float, most: int = 6) -> list[float]:
    """Round values from at or below ``low`` to at or above ``high``, steps of 1, 2 or 5 times 10ⁿ.

    There are at most ``most`` steps between them, so that their labels have room.

    >>> round_steps(0.0, 47.0)
    [0.0, 10.0, 20.0, 30.0, 40.0, 50.0]

    Raises:
        ValueError: ``low`` is not below ``high``, or one of them is not finite.
    """
    if not (math.isfinite(low) and math.isfinite(high) and low < high):
        raise ValueError(f"no axis from {low} to {high}")
    power = 10.0 ** math.floor(math.log10((high - low) / most))
    for factor in (1.0, 2.0, 5.0, 10.0, 20.0):
        step = factor * power
        first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
        if last - first <= most:
            break
    # Whole numbers times the step, never a sum that grows crooked.
    return [round(number * step, 12) for number in range(first, last + 1)]
