"""The drawn tank holds what the physics says: its volumes against integrals over the solid."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad  # type: ignore[import-untyped]

from workbench.physics.air import FloatArray
from workbench.physics.shape import Shape

SLENDERNESS = st.floats(0.5, 12.0)
SHARE = st.floats(0.0, 1.0)


def wall(shape: Shape, height: float) -> float:
    """Half width from the equation of the ellipse and the cylinder, written out anew."""
    radius = 1.0 / shape.slenderness / 2.0
    depth = radius / 2.0
    off = max(depth - height, height - (1.0 - depth), 0.0)
    return radius * math.sqrt(max(1.0 - (off / depth) ** 2, 0.0))


def solid(shape: Shape, low: float, high: float) -> float:
    """Volume [height³] of the solid of revolution between two heights."""
    depth = 0.25 / shape.slenderness
    inner = sorted({low, high, *(z for z in (depth, 1.0 - depth) if low < z < high)})
    pieces = itertools.pairwise(inner)
    return float(sum(quad(lambda z: math.pi * wall(shape, z) ** 2, a, b)[0] for a, b in pieces))


def below_curve(wide: FloatArray, high: FloatArray) -> float:
    """Volume between a curve and height zero, π ∫ z d(ρ²), for a curve of many points."""
    return float(-np.trapezoid(high, math.pi * wide**2))


@settings(max_examples=40, deadline=None, derandomize=True, database=None)
@given(SLENDERNESS, SHARE)
def test_share_below_is_the_integral_over_the_solid(slenderness: float, height: float) -> None:
    shape = Shape(slenderness)
    expected = solid(shape, 0.0, height) / solid(shape, 0.0, 1.0)
    assert float(shape.share_below(height)) == pytest.approx(expected, abs=1e-12)


@settings(max_examples=100, deadline=None, derandomize=True, database=None)
@given(SLENDERNESS, SHARE)
def test_level_and_share_below_are_inverse(slenderness: float, share: float) -> None:
    shape = Shape(slenderness)
    level = float(shape.level(share))
    assert float(shape.share_below(level)) == pytest.approx(share, abs=2e-15)
    assert float(shape.level(shape.share_below(level))) == pytest.approx(level, abs=1e-8)


@pytest.mark.parametrize("share", [1e-16, 1e-12, 1e-8, 1e-4, 0.01])
def test_the_lowest_drops_stand_as_deep_as_in_a_cap(share: float) -> None:
    shape = Shape(1.5)
    assert float(shape.share_below(shape.level(share))) == pytest.approx(share, rel=1e-13)
    assert float(shape.level(share)) == pytest.approx(
        math.sqrt(share * (1.0 - 2 * shape.head / 3) * shape.head), rel=math.sqrt(share) * 2 + 1e-12
    )


def test_both_ends_and_the_middle() -> None:
    for slenderness in (0.5, 1.0, 1.8, 7.0):
        shape = Shape(slenderness)
        assert shape.level([0.0, 0.5, 1.0]).tolist() == pytest.approx([0.0, 0.5, 1.0], abs=1e-15)
        assert shape.half_width([0.0, 0.5, 1.0]).tolist() == pytest.approx([0, shape.radius, 0])


def test_arrays_keep_their_shape_and_rise() -> None:
    shape = Shape(2.2)
    share = np.linspace(0.0, 1.0, 600).reshape(20, 30)
    level = shape.level(share)
    assert level.shape == share.shape
    assert np.all(np.diff(level.ravel()) > 0.0)
    assert shape.half_width(level).shape == share.shape


@settings(max_examples=40, deadline=None, derandomize=True, database=None)
@given(SLENDERNESS, SHARE)
def test_half_width_is_the_ellipse_or_the_cylinder(slenderness: float, height: float) -> None:
    shape = Shape(slenderness)
    assert float(shape.half_width(height)) == pytest.approx(wall(shape, height), abs=1e-8)


@pytest.mark.parametrize("slenderness", [0.5, 1.3, 4.0])
def test_the_outline_lies_on_the_wall(slenderness: float) -> None:
    shape = Shape(slenderness)
    wide, high = shape.outline()
    assert np.all(np.diff(high) >= 0.0)
    assert wide == pytest.approx(shape.half_width(high), abs=1e-8)


@settings(max_examples=30, deadline=None, derandomize=True, database=None)
@given(SLENDERNESS, SHARE, SHARE)
def test_below_the_membrane_lies_exactly_the_share(
    slenderness: float, share: float, place: float
) -> None:
    head = 0.25 / slenderness
    shape = Shape(slenderness, rim=head + place * (1.0 - 2.0 * head))
    wide, bottom = (half[:20_000][::-1] for half in shape.outline(20_000))
    outside = below_curve(wide, bottom)  # under the head, not in the tank
    held = below_curve(*shape.membrane(share, points=20_000)) - outside
    # The curve's chords leave about 1 / points² of the whole.
    assert held / solid(shape, 0.0, 1.0) == pytest.approx(share, abs=2e-8)


@settings(max_examples=40, deadline=None, derandomize=True, database=None)
@given(SLENDERNESS, SHARE)
def test_the_membrane_is_held_at_its_rim_and_stays_in_the_tank(
    slenderness: float, share: float
) -> None:
    shape = Shape(slenderness)
    wide, high = shape.membrane(share)
    assert (wide[0], high[0]) == pytest.approx((shape.radius, shape.rim))
    assert wide[-1] == pytest.approx(0.0, abs=1e-12)
    assert np.all(np.diff(wide) <= 1e-15)
    assert np.all((high >= 0.0) & (high <= 1.0))
    assert np.all(wide <= shape.half_width(high) + 1e-7)


def test_an_empty_and_a_full_membrane_lie_on_the_wall() -> None:
    shape = Shape(1.6)
    wide, high = shape.membrane(0.0)
    assert wide[1:] == pytest.approx(shape.half_width(high[1:]), abs=1e-7)
    assert high[-1] == pytest.approx(0.0, abs=1e-15)
    wide, high = shape.membrane(1.0)
    assert wide[1:] == pytest.approx(shape.half_width(high[1:]), abs=1e-7)
    assert high[-1] == pytest.approx(1.0, abs=1e-15)


def on_membrane(shape: Shape, below: float, level: float) -> float:
    """Share of the volume between the membrane and a level, by slices of the drawn curves."""
    wide, high = shape.membrane(below, points=4000)
    heights = np.linspace(0.0, level, 40_001)
    low, full = heights[0], shape.half_width(heights)
    if below < shape.share_below_rim:  # a bowl: inside of it up to the rim
        inside = np.interp(heights, high[::-1], wide[::-1], left=0.0)
        areas = np.where(heights < shape.rim, inside, full) ** 2
    else:  # a dome: beside it, from the rim up
        dome = np.interp(heights, high, wide, right=0.0)
        areas = np.where(heights < shape.rim, 0.0, full**2 - dome**2)
    assert low == 0.0
    return float(np.trapezoid(areas, heights) * math.pi) / solid(shape, 0.0, 1.0)


@pytest.mark.parametrize("slenderness", [0.6, 1.8, 5.0])
@pytest.mark.parametrize("below", [0.02, 0.3, 0.48, 0.5, 0.55, 0.9])
@pytest.mark.parametrize("part", [0.05, 0.4, 0.6, 0.7, 0.95])
def test_water_on_the_membrane_stands_as_high_as_its_volume_needs(
    slenderness: float, below: float, part: float
) -> None:
    shape = Shape(slenderness)
    above = part * (1.0 - below)
    level = shape.pool(below, above)
    assert on_membrane(shape, below, level) == pytest.approx(above, abs=5e-5)


def test_a_pool_of_nothing_and_of_all() -> None:
    shape = Shape(1.8)
    for below in (0.0, 0.2, 0.5, 0.8):
        lowest = float(np.min(shape.membrane(below)[1][1:]))
        assert shape.pool(below, 0.0) == pytest.approx(lowest, abs=1e-9)
        assert shape.pool(below, 1.0 - below) == pytest.approx(1.0, abs=1e-7)


@pytest.mark.parametrize("slenderness", [0.49, 0.0, -1.0, math.nan, math.inf])
def test_a_tank_flatter_than_its_heads_is_refused(slenderness: float) -> None:
    with pytest.raises(ValueError, match="height must be at least half of its diameter"):
        Shape(slenderness)


@pytest.mark.parametrize("rim", [0.0, 1.0, math.nan])
def test_a_rim_in_a_head_is_refused(rim: float) -> None:
    with pytest.raises(ValueError, match="rim must be on the straight part"):
        Shape(1.8, rim)


@pytest.mark.parametrize("wrong", [-0.01, 1.01, math.nan, math.inf])
def test_shares_and_heights_out_of_the_tank_are_refused(wrong: float) -> None:
    shape = Shape(1.8)
    with pytest.raises(ValueError, match="share of the tank's volume must be from 0 to 1"):
        shape.level(wrong)
    with pytest.raises(ValueError, match="share of the tank's volume must be from 0 to 1"):
        shape.membrane(wrong)
    with pytest.raises(ValueError, match="height in the tank must be from 0 to 1"):
        shape.share_below(wrong)
    with pytest.raises(ValueError, match="height in the tank must be from 0 to 1"):
        shape.half_width(wrong)
    with pytest.raises(ValueError, match="share of the tank's volume must be from 0 to 1"):
        shape.pool(0.5, wrong)
