"""Quasi-random points: reproducible, even, and better than chance; beside SciPy's measures."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import qmc

from workbench.physics.sampling import points

DIMENSIONS = 8  # as many as the tolerance study takes


def random(count: int, seed: int, dimensions: int = DIMENSIONS) -> np.ndarray:
    return np.random.default_rng(seed).random((count, dimensions))


def product_mean(sample: np.ndarray) -> float:
    """The mean of a smooth product whose integral over the cube is 1."""
    return float(np.mean(np.prod(1.0 + (sample - 0.5) / 2.0, axis=1)))


def test_the_same_seed_gives_the_same_points() -> None:
    assert np.array_equal(points(500, 8, seed=3), points(500, 8, seed=3))


def test_points_are_kept_from_one_release_to_the_next() -> None:
    # worked in plain Python from the raw numbers of PCG64
    raw = [int(value) for value in np.random.PCG64(1).random_raw(2)]
    for i, row in enumerate(points(4, 2, seed=1), start=1):
        for value, prime, bits in zip(row, (2, 3), raw, strict=True):
            exact = (i * prime**0.5 + (bits >> 11) / 2**53) % 1.0
            assert value == pytest.approx(exact, abs=1e-15)
    assert points(1, 2, seed=1)[0] == pytest.approx([0.9260351870733519, 0.6825145038948124])


def test_seeds_differ() -> None:
    first, second = points(1000, 8, seed=1), points(1000, 8, seed=2)
    assert not np.any(np.isclose(first, second, atol=1e-9).all(axis=1))
    # the whole sequence is shifted, round the corner of the cube
    shift = (first - second) % 1.0
    assert shift == pytest.approx(np.broadcast_to(shift[0], shift.shape), abs=1e-9)


def test_a_longer_sequence_begins_with_the_shorter() -> None:
    assert np.array_equal(points(1000, 5, seed=9)[:100], points(100, 5, seed=9))


def test_all_points_lie_in_the_cube() -> None:
    for seed in range(20):
        sample = points(5000, 8, seed=seed)
        assert sample.min() >= 0.0
        assert sample.max() < 1.0


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_every_coordinate_is_uniform(seed: int) -> None:
    """Each of 100 equal slices holds its share within a few points (chance: ±100 of 10,000)."""
    sample = points(100_000, 8, seed=seed)
    for column in sample.T:
        held = np.histogram(column, bins=100, range=(0.0, 1.0))[0]
        assert np.abs(held - 1000).max() <= 10
        assert column.mean() == pytest.approx(0.5, abs=1e-4)


def test_no_two_coordinates_go_together() -> None:
    together = np.corrcoef(points(100_000, 8, seed=1).T) - np.eye(8)
    assert np.abs(together).max() < 2e-3


@pytest.mark.parametrize("dimensions", [2, 4, 8])
def test_the_discrepancy_is_well_below_that_of_chance(dimensions: int) -> None:
    ours = [qmc.discrepancy(points(2000, dimensions, seed=seed)) for seed in range(5)]
    chance = [qmc.discrepancy(random(2000, seed, dimensions)) for seed in range(5)]
    assert max(ours) < 0.5 * min(chance)


def test_the_error_of_an_integral_is_well_below_that_of_chance() -> None:
    def error(sample: np.ndarray) -> float:
        return (product_mean(sample) - 1.0) ** 2

    ours = np.mean([error(points(20_000, 8, seed=seed)) for seed in range(30)]) ** 0.5
    chance = np.mean([error(random(20_000, seed)) for seed in range(30)]) ** 0.5
    assert ours < 0.1 * chance


def test_the_error_of_an_integral_falls_nearly_as_one_over_the_count() -> None:
    def error(count: int) -> float:
        found = [(product_mean(points(count, 8, seed=seed)) - 1.0) ** 2 for seed in range(30)]
        return float(np.mean(found)) ** 0.5

    assert error(64_000) < error(1000) / 64**0.75  # chance: 64**0.5


@pytest.mark.parametrize(("count", "dimensions", "seed"), [(0, 1, 1), (1, 0, 1), (1, 1, -1)])
def test_what_cannot_be_is_refused(count: int, dimensions: int, seed: int) -> None:
    with pytest.raises(ValueError, match="must be"):
        points(count, dimensions, seed)
