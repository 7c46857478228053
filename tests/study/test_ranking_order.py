"""The order of the tanks that pass, several tanks on a header, and ties that never change."""

from __future__ import annotations

import random

import pytest

from tests.study.build import GAL, INCH, PSI, SEA, ranking, tank
from workbench.catalog.tank import Tank, TankKind
from workbench.job.choices import Order
from workbench.study.ranking import Ranking

LYING, BURIED = TankKind.BLADDER_HORIZONTAL, TankKind.BLADDER_IN_GROUND


def names(ranked: Ranking, passing: bool = True) -> list[str]:
    rows = (ranked.row(k) for k in range(len(ranked)))
    return [f"{one.count}x{one.tank.name}" for one in rows if one.passes is passing]


@pytest.fixture
def shelf() -> list[Tank]:
    return [
        tank("Cheap", price="500", diameter=28, height=40, in_stock=False),
        tank("Dear", price="900", total_volume=110, diameter=24, height=72, in_stock=None),
        tank("Middle", price="700", total_volume=60, diameter=22, height=47),
        tank("Unpriced", price=None, total_volume=62, diameter=23, height=47),
        tank("Lying", price="750", kind=LYING, diameter=20, height=66),
        tank("Buried", price="1200", kind=BURIED, diameter=26, height=47),
    ]


def test_the_cheapest_comes_first_and_the_unpriced_last(shelf: list[Tank]) -> None:
    ranked = ranking(*shelf, order=Order.PRICE)
    assert names(ranked) == ["1xCheap", "1xMiddle", "1xLying", "1xDear", "1xBuried", "1xUnpriced"]


def test_the_smallest_footprint_comes_first_and_the_ground_is_free(shelf: list[Tank]) -> None:
    """Floor: buried 0, middle 22², unpriced 23², dear 24², cheap 28², lying 20 × 66."""
    ranked = ranking(*shelf, order=Order.FLOOR)
    assert names(ranked) == ["1xBuried", "1xMiddle", "1xUnpriced", "1xDear", "1xCheap", "1xLying"]
    floors = [ranked.row(k).floor / INCH**2 for k in range(6)]
    assert floors == pytest.approx([0, 484, 529, 576, 784, 1320])


def test_the_longest_run_comes_first(shelf: list[Tank]) -> None:
    ranked = ranking(*shelf, order=Order.RUN_TIME)
    # three of 85 gal are equal, so the price decides
    assert names(ranked) == ["1xDear", "1xCheap", "1xLying", "1xBuried", "1xUnpriced", "1xMiddle"]
    runs = [ranked.row(k).run_time for k in range(6)]
    assert runs == sorted(runs, reverse=True)


def test_what_is_in_stock_comes_first_then_not_stated_then_not(shelf: list[Tank]) -> None:
    ranked = ranking(*shelf, order=Order.STOCK)
    assert names(ranked) == ["1xMiddle", "1xLying", "1xBuried", "1xUnpriced", "1xDear", "1xCheap"]


@pytest.mark.parametrize("order", list(Order))
def test_those_that_pass_stand_before_all_that_do_not(shelf: list[Tank], order: Order) -> None:
    ranked = ranking(*shelf, tank("Small", total_volume=20, height=20, price="1"), order=order)
    passes = [ranked.row(k).passes for k in range(len(ranked))]
    assert passes == [True] * 6 + [False]
    assert ranked.passing == 6
    assert names(ranked, passing=False) == ["1xSmall"]


@pytest.mark.parametrize("order", list(Order))
def test_the_order_does_not_depend_on_the_order_of_the_catalogue(
    shelf: list[Tank], order: Order
) -> None:
    doubles = [tank(f"twin {letter}", id=f"id-{number}") for letter in "Bab" for number in "21"]
    rows = [*shelf, *doubles, tank("Small", total_volume=20, height=20)]
    rng = random.Random(3)
    seen = set()
    for _ in range(20):
        rng.shuffle(rows)
        ranked = ranking(*rows, header_tanks=3, order=order)
        listed = (ranked.row(k) for k in range(len(ranked)))
        seen.add(tuple((one.tank.id, one.count) for one in listed))
    assert len(seen) == 1


@pytest.mark.parametrize("order", list(Order))
def test_equals_are_sorted_by_name_then_id(order: Order) -> None:
    twins = [
        tank("beech", id="c"),
        tank("Alder", id="b"),
        tank("alder", id="a"),
        tank("Beech", id="d"),
    ]
    ranked = ranking(*twins, order=order)
    assert [ranked.row(k).tank.id for k in range(4)] == ["a", "b", "c", "d"]


@pytest.mark.parametrize("order", list(Order))
def test_many_equals_stay_in_the_order_of_their_names(order: Order) -> None:
    """Short lists hide a sort that is not stable."""
    sizes = (60.0, 70.0, 85.0)
    twins = [
        tank(f"Twin {n:03}", total_volume=sizes[n % 3], diameter=20 + n % 3, price=str(700 + n % 3))
        for n in range(300)
    ]
    ranked = ranking(*twins, order=order)
    rows = [ranked.row(k).tank for k in range(300)]
    assert [row.diameter for row in rows].count(rows[0].diameter) == 100
    for size in sizes:
        listed = [row.name for row in rows if row.total_volume == size * GAL]
        assert len(listed) == 100
        assert listed == sorted(listed)


def test_two_and_three_tanks_on_a_header_are_offered_when_asked_for() -> None:
    small = tank("Small", total_volume=20, height=20, diameter=18, price="200", acceptance=15)
    assert names(ranking(small)) == []
    assert names(ranking(small, header_tanks=2)) == ["2xSmall"]
    ranked = ranking(small, header_tanks=3)
    assert names(ranked) == ["2xSmall", "3xSmall"]
    assert names(ranked, passing=False) == ["1xSmall"]

    pp, pin, pout = (p * PSI + SEA for p in (28, 30, 50))
    water = 20 * (pp / pin - pp / pout)
    for k, count in enumerate((2, 3, 1)):
        one = ranked.row(k)
        assert one.count == count
        assert one.total_volume / GAL == pytest.approx(20 * count)
        assert one.drawdown / GAL == pytest.approx(water * count, rel=1e-12)
        assert one.price == pytest.approx(200.0 * count)
        assert one.floor / INCH**2 == pytest.approx(18**2 * count)
        assert one.margin / GAL == pytest.approx(water * count - 10, rel=1e-9)


def test_acceptance_counts_for_each_tank_of_a_header() -> None:
    limited = tank("Limited", acceptance=9)
    pp, pin = (p * PSI + SEA for p in (28, 30))
    left = 85 * (1 - pp / pin)
    ranked = ranking(limited, header_tanks=3)
    by_count = {ranked.row(k).count: ranked.row(k).drawdown / GAL for k in range(3)}
    assert by_count == pytest.approx({n: n * (9 - left) for n in (1, 2, 3)}, rel=1e-9)


def test_door_and_pressure_are_judged_for_one_tank_whatever_the_count() -> None:
    wide = tank("Wide", diameter=30, height=40)
    ranked = ranking(wide, header_tanks=3, door_width="31 in")
    assert len({ranked.row(k).fails for k in range(3)}) == 1
    assert ranked.passing == 0


@pytest.mark.parametrize("order", list(Order))
def test_a_row_is_a_candidate_and_every_candidate_is_a_row(shelf: list[Tank], order: Order) -> None:
    ranked = ranking(*shelf, header_tanks=2, order=order)
    assert sorted(ranked.order.tolist()) == list(range(12))
    assert len(ranked.candidates) == len(ranked) == 12
    for position, index in enumerate(ranked.order):
        assert ranked.row(position) == ranked.judged(int(index))
