"""Several tanks on one header: published values, what must hold for any tanks, other people's code.

Texts of the trade use 14.7 psi for the air, so these checks do too.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad  # type: ignore[import-untyped]
from scipy.optimize import brentq  # type: ignore[import-untyped]

from workbench.physics.air import AbsolutePressure, FloatArray
from workbench.physics.header import (
    Vessels,
    drawdown_each,
    emptying_pressure,
    first_to_empty,
    matched,
)

PSI = 6894.757293168361
GAL = 3.785411784e-3
any_case = settings(max_examples=150, deadline=None, derandomize=True, database=None)


def psia(gauge: float | list[float]) -> AbsolutePressure:
    return AbsolutePressure((np.asarray(gauge, dtype=np.float64) + 14.7) * PSI)


def header(
    gallons: list[float],
    precharges: list[float],
    acceptances: list[float] | None = None,
    exponent: float = 1.0,
) -> Vessels:
    """Tanks given in gallons and gauge psi."""
    limits = np.full(len(gallons), np.inf) if acceptances is None else np.array(acceptances) * GAL
    return Vessels(np.array(gallons) * GAL, psia(precharges), limits, exponent)


def given_gallons(vessels: Vessels, cut_in: float, cut_out: float) -> float:
    return float(np.sum(drawdown_each(vessels, psia(cut_in), psia(cut_out)))) / GAL


@st.composite
def headers(draw: st.DrawFn, *, limited: bool = True, exponents: bool = True) -> Vessels:
    count = draw(st.integers(1, 6))
    gallons = draw(st.lists(st.floats(2.0, 200.0), min_size=count, max_size=count))
    charges = draw(st.lists(st.floats(0.0, 80.0), min_size=count, max_size=count))
    share = st.one_of(st.just(np.inf), st.floats(0.02, 1.5)) if limited else st.just(np.inf)
    shares = draw(st.lists(share, min_size=count, max_size=count))
    limits = [s * g for s, g in zip(shares, gallons, strict=True)]
    return header(gallons, charges, limits, draw(st.floats(1.0, 1.4)) if exponents else 1.0)


bands = st.tuples(st.floats(5.0, 70.0), st.floats(5.0, 60.0)).map(lambda b: (b[0], b[0] + b[1]))


# Published values and the trade's usual slips


def test_a_119_gallon_tank_gives_36_8_gallons_only_with_its_precharge_at_cut_in() -> None:
    # Trade magazine for water-well drillers, technical column "Using multiple pressure tanks for
    # larger systems", 2008: 119 gal at 30/50 gives 36.8 gal; it does not name the precharge.
    assert given_gallons(header([119], [30]), 30, 50) == pytest.approx(36.8, abs=0.05)
    assert given_gallons(header([119], [28]), 30, 50) == pytest.approx(35.1, abs=0.05)


@pytest.mark.parametrize("count", [2, 3, 4])
def test_equal_tanks_on_a_header_give_each_what_one_alone_gives(count: int) -> None:
    # The same column: usable volumes of tanks on one header add.
    several = header([119.0] * count, [28.0] * count)
    assert given_gallons(several, 30, 50) == pytest.approx(count * 35.139, abs=0.001 * count)


@pytest.mark.parametrize(
    ("precharge", "band", "gallons"),
    [
        (28, (40, 60), 9.2),  # the new band with the old air
        (38, (40, 60), 11.3),
        (38, (30, 50), 8.2),  # the old band with a new tank's air: empty before cut-in
        (28, (30, 50), 13.0),
    ],
)
def test_the_wrong_air_costs_a_44_gallon_tank_what_arithmetic_says(
    precharge: float, band: tuple[int, int], gallons: float
) -> None:
    """Boyle's law with 14.7 psi, worked out by hand from absolute pressures."""
    assert given_gallons(header([44], [precharge]), *band) == pytest.approx(gallons, abs=0.05)


def test_one_wrong_charge_spoils_only_its_own_tanks_share() -> None:
    mixed = header([44, 44], [28, 38])
    each = drawdown_each(mixed, psia(30), psia(50)) / GAL
    assert each.round(1).tolist() == [13.0, 8.2]


# Other people's code


@any_case
@given(headers(), st.floats(0.001, 0.999))
def test_the_pressure_of_a_water_is_the_one_that_a_root_finder_finds(
    vessels: Vessels, share: float
) -> None:
    water = share * vessels.most_water
    low, high = float(np.min(vessels.precharge)), 1e5 * float(np.max(vessels.precharge))

    def miss(pressure: float) -> float:  # written out anew from Boyle's law
        air = (vessels.precharge / pressure) ** (1.0 / vessels.exponent)
        inside = vessels.volume * np.clip(1.0 - air, 0.0, None)
        return float(np.minimum(inside, vessels.acceptance).sum()) - water

    found = brentq(miss, low, high, xtol=1e-9, rtol=1e-14, maxiter=500)
    ours = float(vessels.pressure(water))
    at_ours = abs(miss(ours))
    assert at_ours <= 1e-12 * vessels.most_water
    # Where hardly any tank takes water the root is ill-conditioned; compare the well-conditioned.
    if abs(miss(found * (1 + 1e-6))) > 1e-9 * vessels.most_water:
        assert ours == pytest.approx(found, rel=1e-6)


@pytest.mark.parametrize("exponent", [1.0, 1.2, 1.4])
@pytest.mark.parametrize("acceptances", [None, [4.0, 30.0, 6.0]])
def test_the_work_on_the_air_is_the_same_over_water_as_over_pressure(
    exponent: float, acceptances: list[float] | None
) -> None:
    """∫ P dW by quadrature of our inverse; per tank by the textbook's work of compression."""
    tanks = header([20, 85, 44], [18, 28, 38], acceptances, exponent)
    end = psia(55)
    each = tanks.water_each(end)

    # Pressure jumps where all tanks that take water are full, and bends at each precharge.
    bends = np.sort(np.concatenate([tanks.water(tanks.precharge), tanks.water(full(tanks))]))
    total = float(tanks.water(end))
    edges = np.unique(np.concatenate([[0.0, total], bends[(bends > 0) & (bends < total)]]))
    pieces = pairwise(edges)
    ours = sum(quad(lambda w: float(tanks.pressure(w)), a, b, epsrel=1e-11)[0] for a, b in pieces)

    textbook = 0.0
    for volume, charge, water in zip(tanks.volume, tanks.precharge, each, strict=True):
        left = volume - water
        if exponent == 1.0:
            textbook += charge * volume * np.log(volume / left)
        else:
            last = charge * (volume / left) ** exponent
            textbook += (last * left - charge * volume) / (exponent - 1.0)
    assert ours == pytest.approx(textbook, rel=1e-8)


def full(vessels: Vessels) -> AbsolutePressure:
    """Pressure at which each tank reaches its acceptance, or its precharge where it never does."""
    room = 1.0 - np.minimum(vessels.acceptance / vessels.volume, 1.0)
    with np.errstate(divide="ignore"):
        at = vessels.precharge * room**-vessels.exponent
    return AbsolutePressure(np.where(np.isfinite(at), at, vessels.precharge))


# What must hold for any tanks


@any_case
@given(headers(), bands)
def test_a_header_gives_the_sum_of_its_tanks(vessels: Vessels, band: tuple[float, float]) -> None:
    alone = [
        Vessels.one(float(v), float(p), float(a), vessels.exponent)
        for v, p, a in zip(vessels.volume, vessels.precharge, vessels.acceptance, strict=True)
    ]
    pressures = psia([10.0, *band, 150.0])
    together = vessels.water(pressures)
    assert together == pytest.approx(sum(one.water(pressures) for one in alone), rel=1e-12)
    given_together = given_gallons(vessels, *band)
    assert given_together == pytest.approx(
        sum(given_gallons(one, *band) for one in alone), rel=1e-9, abs=1e-12
    )
    assert vessels.most_water == pytest.approx(sum(one.most_water for one in alone), rel=1e-12)


@any_case
@given(headers(limited=False), st.floats(0.0, 80.0), st.floats(0.0, 0.99))
def test_equal_precharges_are_one_tank_of_the_summed_volume(
    vessels: Vessels, charge: float, share: float
) -> None:
    alike = matched(vessels, psia(charge))
    one = Vessels.one(float(vessels.volume.sum()), psia(charge), np.inf, vessels.exponent)
    water = share * one.most_water
    assert float(alike.pressure(water)) == pytest.approx(float(one.pressure(water)), rel=1e-10)
    # and that is the closed form of one tank, P = Pp (1 − W/V)^−n
    closed = float(psia(charge)) * (1.0 - share) ** -vessels.exponent
    assert float(alike.pressure(water)) == pytest.approx(closed, rel=1e-10)


@any_case
@given(headers(), st.randoms(use_true_random=False))
def test_the_order_of_the_tanks_does_not_matter(vessels: Vessels, random: object) -> None:
    order = np.arange(vessels.volume.size)
    random.shuffle(order)  # type: ignore[attr-defined]
    other = Vessels(
        vessels.volume[order],
        AbsolutePressure(vessels.precharge[order]),
        vessels.acceptance[order],
        vessels.exponent,
    )
    pressures = psia([15.0, 35.0, 60.0, 100.0])
    assert other.water(pressures) == pytest.approx(vessels.water(pressures), rel=1e-12)
    assert other.water_each(pressures) == pytest.approx(vessels.water_each(pressures)[:, order])
    water = np.linspace(0.0, 0.99, 50) * vessels.most_water
    back = other.water(other.pressure(water)), vessels.water(vessels.pressure(water))
    assert back[0] == pytest.approx(back[1], rel=1e-10)
    empties = float(vessels.precharge[first_to_empty(vessels)])
    assert float(other.precharge[first_to_empty(other)]) == empties


@any_case
@given(headers())
def test_water_to_pressure_and_back_is_the_same_water(vessels: Vessels) -> None:
    water = np.linspace(0.0, 1.0, 200) * vessels.most_water
    pressure = vessels.pressure(water)
    assert vessels.water(pressure) == pytest.approx(water, rel=1e-10, abs=1e-13)
    assert np.all(np.diff(pressure) >= 0.0)
    assert pressure[0] == pytest.approx(float(np.min(vessels.precharge)), rel=1e-15)


@any_case
@given(headers(), st.lists(st.floats(1.0, 150.0), min_size=1, max_size=20))
def test_pressure_to_water_and_back_is_never_above_the_pressure_one_came_from(
    vessels: Vessels, gauges: list[float]
) -> None:
    """Equal to it wherever water still moves; the lowest with that water where it does not."""
    start = psia(gauges)
    water = vessels.water(start)
    back = vessels.pressure(water)
    near = AbsolutePressure(start * (1.0 - 1e-4)), AbsolutePressure(start * (1.0 + 1e-4))
    moving = (vessels.water(near[1]) > water) & (water > vessels.water(near[0]))
    moving &= vessels.water(near[1]) - vessels.water(near[0]) > 1e-7 * vessels.most_water
    assert back[moving] == pytest.approx(start[moving], rel=1e-7)
    waterless = water == 0.0
    assert np.all(back[waterless] >= start[waterless])  # the lowest precharge stands for all below
    assert np.all(back[~waterless] <= start[~waterless] * (1.0 + 1e-7))


@any_case
@given(headers(), bands)
def test_tanks_matched_at_cut_in_never_give_less_than_any_other_charges(
    vessels: Vessels, band: tuple[float, float]
) -> None:
    best = drawdown_each(matched(vessels, psia(band[0])), *map(psia, band))
    mixed = drawdown_each(vessels, *map(psia, band))
    assert np.all(best >= mixed - 1e-12 * vessels.volume)


@any_case
@given(headers(limited=False, exponents=False), bands)
def test_matched_at_their_mean_by_volume_tanks_never_give_less_while_all_charges_are_below_cut_out(
    vessels: Vessels, band: tuple[float, float]
) -> None:
    """By Boyle's law a drawdown rises straight with the precharge to cut-in, then falls straight.

    So it is concave, and Jensen's inequality holds. It does not hold with an exponent above 1,
    with an acceptance that limits, or with a charge above cut-out; see the next test.
    """
    assume(float(np.max(vessels.precharge)) <= float(psia(band[1])))
    mean = float(np.average(vessels.precharge, weights=vessels.volume))
    alike = matched(vessels, mean)
    assert given_gallons(alike, *band) >= given_gallons(vessels, *band) * (1.0 - 1e-12)


def test_tanks_matched_elsewhere_can_give_less_than_before() -> None:
    mixed = header([44, 44], [28, 38])
    assert given_gallons(matched(mixed, psia(38)), 30, 50) < given_gallons(mixed, 30, 50)
    assert given_gallons(matched(mixed, psia(15)), 30, 50) < given_gallons(mixed, 30, 50)
    dead = header([44, 44], [30, 80])  # one charged above cut-out takes no water at all
    assert given_gallons(matched(dead, psia(55)), 30, 50) < given_gallons(dead, 30, 50)


@any_case
@given(headers())
def test_the_first_tank_to_empty_is_the_first_without_water_as_the_pressure_falls(
    vessels: Vessels,
) -> None:
    falling = AbsolutePressure(np.sort(vessels.precharge)[::-1])
    first = first_to_empty(vessels)
    assert np.all(vessels.water_each(falling)[:, first] == 0.0)
    just_above = AbsolutePressure(emptying_pressure(vessels) * (1.0 + 1e-9))
    for i, pressure in enumerate(just_above):
        assert vessels.water_each(AbsolutePressure(pressure))[i] > 0.0


def test_a_small_tank_with_more_air_empties_before_a_large_one_with_less() -> None:
    tanks = header([20, 85, 44], [30, 28, 38], [8.0, 30.0, 17.0])
    assert first_to_empty(tanks) == 2
    assert emptying_pressure(tanks) == pytest.approx(psia([30, 28, 38]))
    water = tanks.water_each(psia([38, 29]))
    assert (water == 0.0).tolist() == [[False, False, True], [True, False, True]]


# Limits, shapes and refusals


def test_a_full_tank_lets_the_pressure_jump_to_the_next_ones_precharge() -> None:
    tanks = header([20, 20], [10, 60], [1.0, np.inf])
    full_at = (10 + 14.7) * PSI / (1 - 1 / 20)
    assert float(tanks.pressure(1.0 * GAL)) == pytest.approx(full_at)  # the lowest that has it
    assert float(tanks.pressure(1.0 * GAL * (1 + 1e-9))) == pytest.approx(float(psia(60)))
    assert tanks.water(psia([20, 40, 60])) == pytest.approx(1.0 * GAL, rel=1e-15)


def test_tanks_that_fill_at_the_same_pressure_as_others_start_have_no_gap() -> None:
    charges = AbsolutePressure(array(1e5, 2e5))
    tanks = Vessels(array(1.0, 1.0), charges, array(0.5, 1.0), 1.0)
    assert tanks.pressure([0.5, 0.75]) == pytest.approx([2e5, 2e5 / 0.75])


def test_the_most_water_is_at_the_lowest_pressure_that_fills_all_or_at_none() -> None:
    limited = header([44, 85], [28, 38], [13.0, 30.0])
    assert limited.most_water == pytest.approx(43 * GAL)
    top = max((28 + 14.7) / (1 - 13 / 44), (38 + 14.7) / (1 - 30 / 85)) * PSI
    assert float(limited.pressure(limited.most_water)) == pytest.approx(top, rel=1e-12)
    unknown = header([44, 85], [28, 38], [13.0, np.inf])
    assert unknown.most_water == pytest.approx(98 * GAL)
    assert np.isinf(unknown.pressure(unknown.most_water))


def test_an_acceptance_above_the_volume_limits_nothing() -> None:
    loose, unknown = header([44], [28], [60.0]), header([44], [28])
    assert loose.most_water == unknown.most_water
    assert loose.water(psia(500)) == unknown.water(psia(500))


def test_the_shape_of_pressures_and_waters_is_kept() -> None:
    tanks = header([44, 85, 20], [28, 38, 18])
    assert tanks.water(psia(40)).shape == ()
    assert tanks.water_each(psia(40)).shape == (3,)
    grid = AbsolutePressure(np.full((2, 5), float(psia(40))))
    assert tanks.water(grid).shape == tanks.pressure(tanks.water(grid)).shape == (2, 5)
    assert tanks.water_each(grid).shape == (2, 5, 3)
    assert drawdown_each(tanks, psia([30, 40]), psia([50, 60])).shape == (2, 3)
    assert tanks.pressure([]).shape == (0,)


@pytest.mark.parametrize("share", [-1e-6, 1.0 + 1e-6, np.nan])
def test_water_that_the_tanks_cannot_hold_is_refused(share: float) -> None:
    tanks = header([44, 85], [28, 38])
    with pytest.raises(ValueError, match="between 0 and"):
        tanks.pressure([0.0, share * tanks.most_water])


def test_a_sum_that_rounding_pushed_past_its_ends_is_taken_for_them() -> None:
    tanks = header([44, 85], [28, 38], [13.0, 30.0])
    most = tanks.most_water
    at_ends = tanks.pressure([0.0, most])
    assert np.array_equal(tanks.pressure([-1e-13 * most, most * (1 + 1e-13)]), at_ends)


def array(*values: float) -> FloatArray:
    return np.array(values, dtype=np.float64)


@pytest.mark.parametrize(
    ("volume", "precharge", "acceptance", "exponent", "message"),
    [
        (array(0.1, -0.1), array(2e5, 2e5), array(1, 1), 1.0, "tank 2: total volume"),
        (array(np.inf), array(2e5), array(1), 1.0, "tank 1: total volume"),
        (array(0.1, 0.1, 0.1), array(2e5, 2e5, 0.0), array(1, 1, 1), 1.0, "tank 3: absolute"),
        (array(0.1), array(np.nan), array(1), 1.0, "tank 1: absolute precharge"),
        (array(0.1, 0.1), array(2e5, 2e5), array(1, 0), 1.0, "tank 2: acceptance"),
        (array(0.1), array(2e5), array(np.nan), 1.0, "tank 1: acceptance"),
        (array(0.1), array(2e5), array(1e-11), 1.0, "tank 1: acceptance, at least a billionth"),
        (array(0.1), array(2e5), array(1), 0.0, "exponent"),
        (array(0.1), array(2e5), array(1), np.nan, "exponent"),
        (array(0.1, 0.1), array(2e5), array(1, 1), 1.0, "equal length"),
        (array(), array(), array(), 1.0, "equal length"),
        (np.array(0.1), np.array(2e5), np.array(1.0), 1.0, "equal length"),
    ],
)
def test_tanks_that_cannot_be_are_refused_by_number(
    volume: FloatArray, precharge: FloatArray, acceptance: FloatArray, exponent: float, message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        Vessels(volume, AbsolutePressure(precharge), acceptance, exponent)


def test_a_band_upside_down_is_refused() -> None:
    with pytest.raises(ValueError, match="cut-out must be at or above cut-in"):
        drawdown_each(header([44], [28]), psia(50), psia(30))


def test_tanks_keep_their_numbers_whatever_becomes_of_the_arrays_they_came_from() -> None:
    volume = array(0.1, 0.2)
    tanks = Vessels(volume, AbsolutePressure(array(2e5, 3e5)), array(np.inf, np.inf), 1.0)
    volume[0] = 9.0
    assert tanks.volume.tolist() == [0.1, 0.2]
    with pytest.raises(ValueError, match="read-only"):
        tanks.volume[0] = 9.0
