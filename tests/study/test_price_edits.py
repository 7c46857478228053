"""What a person does to a price list loses nothing else in it."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import job
from workbench.job.prices import Count
from workbench.study.pricing import edits
from workbench.study.pricing.parts import TANK, usual_items
from workbench.units import NUMBER, parse

LIST = job(prices=tuple(usual_items().values())[:4])
ONE, TWO = parse("1", NUMBER), parse("2", NUMBER)


def test_an_item_keeps_its_place_and_its_code_while_it_is_edited() -> None:
    changed = LIST.changed(**edits.with_item(LIST, 2, name="Other"))
    assert [item.code for item in changed.prices] == [item.code for item in LIST.prices]
    assert changed.prices[2].name == "Other"


def test_a_quantity_keeps_its_place_and_mends_one_that_stands_twice() -> None:
    twice = job(counts=tuple(Count(code=code, quantity=ONE) for code in ("a", "b", "a")))
    typed = edits.with_quantity(twice, "a", TWO)["counts"]
    assert [(one.code, one.quantity) for one in typed] == [("a", TWO), ("b", ONE)]
    assert [one.code for one in edits.with_quantity(twice, "a", None)["counts"]] == ["b"]


def test_a_new_items_code_is_one_that_nothing_has() -> None:
    counted = LIST.changed(counts=(Count(code="own_1", quantity=ONE),))
    added = counted.changed(**edits.with_new_item(counted, 1))
    assert added.prices[1].code == "own_2"
    again = added.changed(**edits.with_new_item(added, 1))
    assert again.prices[1].code == "own_3"
    assert {TANK, *usual_items()}.isdisjoint({"own_2", "own_3"})


def test_an_item_takes_its_quantity_with_it_unless_another_has_its_code() -> None:
    tee = LIST.prices[0]
    twice = LIST.changed(prices=(tee, tee), counts=(Count(code=tee.code, quantity=ONE),))
    once = twice.changed(**edits.without_item(twice, 0))
    assert (len(once.prices), len(once.counts)) == (1, 1)
    none = once.changed(**edits.without_item(once, 0))
    assert (none.prices, none.counts) == ((), ())


@settings(max_examples=30)
@given(st.integers(0, 3), st.integers(0, 3))
def test_moving_there_and_back_changes_nothing(row: int, to: int) -> None:
    there = LIST.changed(**edits.moved(LIST, row, to - row))
    assert there.prices[to] == LIST.prices[row]
    assert there.changed(**edits.moved(there, to, row - to)) == LIST


def test_quantities_without_an_item_go_and_zeros_stay() -> None:
    counts = (
        Count(code="gone", quantity=ONE),
        Count(code="tee", quantity=ONE),
        Count(code="travel", quantity=parse("0", NUMBER)),
    )
    wanted = LIST.changed(counts=counts)
    assert edits.without_orphans(wanted)["counts"] == counts[1:]
