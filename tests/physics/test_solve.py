"""Looking backwards: every zero is found, touching ones too, and the extremes with them."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from workbench.physics.solve import TOUCH, look


def test_a_line_is_crossed_to_the_last_digits() -> None:
    found = look(lambda x: x - np.pi, np.linspace(0.0, 10.0, 5))
    assert found.zeros == (pytest.approx(np.pi, rel=4e-16),)
    assert (found.greatest, found.least) == (10.0, 0.0)


def test_what_touches_zero_between_two_places_is_found() -> None:
    found = look(lambda x: -((x - 1.2345) ** 2), np.linspace(0.0, 4.0, 9))
    assert found.zeros == (pytest.approx(1.2345, abs=1e-5),)
    assert found.greatest == pytest.approx(1.2345, abs=1e-5)


def test_two_zeros_in_one_step_are_both_found() -> None:
    def close(x: np.ndarray) -> np.ndarray:
        return 1e-6 - (x - 1.3) ** 2

    places = np.linspace(0.0, 4.0, 5)
    assert np.all(close(places) < 0.0), "none of the places sees it"
    assert look(close, places).zeros == pytest.approx((1.299, 1.301))


def test_a_kink_at_a_place_is_no_hindrance() -> None:
    found = look(lambda x: 1.0 - np.abs(x - 2.0), np.array([0.0, 0.5, 2.0, 2.5, 4.0]))
    assert found.zeros == pytest.approx((1.0, 3.0))
    assert found.greatest == 2.0


def test_a_zero_at_either_end_counts_with_what_is_as_good_as_zero() -> None:
    places = np.linspace(1.0, 2.0, 4)
    assert look(lambda x: (x - 1.0) - 0.5 * TOUCH, places).zeros == (1.0,)
    assert look(lambda x: (2.0 - x) + 0.5 * TOUCH, places).zeros == (2.0,)
    assert look(lambda x: x, places).zeros == ()


def test_without_a_zero_the_extremes_tell_how_near_it_comes() -> None:
    found = look(lambda x: -1.0 - (x - 0.7) ** 2, np.linspace(0.0, 1.0, 4))
    assert found.zeros == ()
    assert found.greatest == pytest.approx(0.7, abs=1e-6)
    assert found.least == 0.0


@settings(max_examples=200, deadline=None, derandomize=True, database=None)
@given(
    st.lists(st.floats(0.02, 0.98), min_size=1, max_size=4, unique_by=lambda x: round(x, 2)),
    st.floats(0.1, 1e6),
)
def test_every_zero_of_a_polynomial_is_found_as_by_brentq(share: list[float], scale: float) -> None:
    wanted = sorted(scale * one for one in share)

    def polynomial(x: np.ndarray) -> np.ndarray:
        values: np.ndarray = np.prod([x / scale - one for one in share], axis=0)
        return values

    found = look(polynomial, np.linspace(0.0, scale, 65)).zeros
    assert found == pytest.approx(wanted, rel=1e-6)
    for one in found:
        low, high = one - 0.004 * scale, one + 0.004 * scale
        if polynomial(np.array(low)) * polynomial(np.array(high)) < 0.0:
            assert one == pytest.approx(brentq(polynomial, low, high, xtol=1e-14), rel=1e-6)
