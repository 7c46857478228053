"""Drawings: the same bytes everywhere, readable in grey, refused rather than wrong."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from itertools import combinations, pairwise

import pytest

from workbench.report.svg import (
    INK,
    QUIET,
    SERIES,
    Canvas,
    Scale,
    Stroke,
    round_steps,
    text_width,
)


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def on_white(colour: str) -> float:
    return 1.05 / (luminance(colour) + 0.05)


def drawn(canvas: Canvas) -> list[ET.Element]:
    return list(ET.fromstring(canvas.svg()))  # noqa: S314 - our own text


def test_colours_are_seen_on_paper() -> None:
    assert all(on_white(one.colour) >= 4.5 for one in SERIES)
    assert min(on_white(INK), on_white(QUIET)) >= 7.0


def test_series_differ_without_their_colour() -> None:
    for a, b in combinations(SERIES, 2):
        assert a.dash != b.dash
        assert a.marker != b.marker
        assert a.hatch != b.hatch


def test_numbers_have_two_decimals_and_no_sign_of_zero() -> None:
    canvas = Canvas(100, 50)
    canvas.line((1 / 3, -0.001), (2e5 / 3, 1e-9))
    (line,) = drawn(canvas)
    assert line.get("points") == "0.33,0.00 66666.67,0.00"


def test_texts_are_no_markup() -> None:
    canvas = Canvas(100, 50)
    canvas.text((1, 2), '<b>&"x"</b> 40 < 60', turned=True, bold=True)
    (text,) = drawn(canvas)
    assert text.text == '<b>&"x"</b> 40 < 60'
    assert text.get("transform") == "rotate(-90 1.00 2.00)"
    assert text.get("font-weight") == "bold"


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_refused(bad: float) -> None:
    canvas = Canvas(100, 50)
    for draw in (
        lambda: canvas.line((0, 0), (bad, 1)),
        lambda: canvas.rect((0, 0), bad, 1),
        lambda: canvas.circle((0, bad), 1),
        lambda: canvas.text((bad, 0), "x"),
        lambda: canvas.marker(SERIES[1], (bad, 0)),
    ):
        with pytest.raises(ValueError, match="finite"):
            draw()


@pytest.mark.parametrize("size", [(0, 1), (1, -1), (math.nan, 1)])
def test_a_drawing_has_a_size(size: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="a drawing of"):
        Canvas(*size)


@pytest.mark.parametrize("series", SERIES)
def test_a_hatch_stays_in_its_area(series: object) -> None:
    canvas = Canvas(100, 100)
    canvas.rect((10, 20), 33, 17, hatch=series, stroke=Stroke())  # type: ignore[arg-type]
    points = [
        tuple(map(float, point.split(",")))
        for part in drawn(canvas)
        for point in (part.get("points") or "").split()
    ]
    assert points
    assert all(9.99 <= x <= 43.01 and 19.99 <= y <= 37.01 for x, y in points)


def test_every_marker_is_drawn() -> None:
    for series in SERIES:
        canvas = Canvas(20, 20)
        canvas.marker(series, (10, 10))
        assert drawn(canvas)


def test_a_scale_puts_values_on_an_axis() -> None:
    up = Scale(20.0, 60.0, 100.0, 0.0)
    assert [up(value) for value in (20.0, 40.0, 60.0)] == [100.0, 50.0, 0.0]


@pytest.mark.parametrize(
    ("low", "high"), [(0, 1), (0, 47), (3, 1e6), (-5, 7), (0.001, 0.0013), (99.9, 100.1), (0, 1e-6)]
)
def test_round_steps_enclose_their_range(low: float, high: float) -> None:
    steps = round_steps(low, high)
    assert 2 <= len(steps) <= 7
    assert steps[0] <= low + 1e-12
    assert steps[-1] >= high - 1e-12
    gaps = {f"{b - a:.6g}" for a, b in pairwise(steps)}
    assert len(gaps) == 1
    assert gaps.pop().lstrip("0.").rstrip("0").split("e")[0].strip(".0") in {"1", "2", "5"}


@pytest.mark.parametrize(("low", "high"), [(1, 1), (2, 1), (math.nan, 1), (0, math.inf)])
def test_no_axis_has_no_steps(low: float, high: float) -> None:
    with pytest.raises(ValueError, match="no axis"):
        round_steps(low, high)


def test_text_width_leaves_room_for_digits_and_units() -> None:
    assert text_width("30/50 psi", 8.0) > 9 * 8.0 * 0.55


def test_two_drawings_of_the_same_are_the_same() -> None:
    def make() -> str:
        canvas = Canvas(100, 50)
        canvas.polyline(((n, math.sin(n) * 10) for n in range(20)), SERIES[2].stroke(2.0))
        return canvas.svg()

    assert make() == make()
    assert 'stroke-dasharray="2.00 2.00"' in make()
    assert drawn(Canvas(1, 1)) == []
