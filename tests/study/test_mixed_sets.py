"""Pairs of different tanks on one header: what they add up to, and whose figure is told."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import pytest

from tests.study.build import GAL, GPM, INCH, PSI, SEA, US, arranged, job, results, tank
from workbench import paths
from workbench.catalog.tank import Tank, TankKind
from workbench.job.choices import Order
from workbench.job.job import CatalogSnapshot, Job
from workbench.physics.cycle import fill_time, worst_starts
from workbench.study.candidates import MOST_PAIRED, Candidates
from workbench.study.chosen import chosen, vessels_of
from workbench.study.desk import candidates_of, load_candidates, offered_tanks
from workbench.study.evaluate import Results, evaluate
from workbench.study.findings import Level
from workbench.study.ranking import Fails, Judged, Notes, Ranking
from workbench.study.reasons import headline, reasons
from workbench.study.record import ranking_record
from workbench.study.supply import fill_of

LYING, BURIED = TankKind.BLADDER_HORIZONTAL, TankKind.BLADDER_IN_GROUND
TWO: dict[str, Any] = {
    "pump_entry": "two_flows",
    "flow_at_cut_in": "12 gpm",
    "flow_at_cut_out": "5 gpm",
}


def small(name: str = "Small", **changes: Any) -> Tank:
    values = {"total_volume": 20, "diameter": 16, "height": 33, "price": "250", "acceptance": 12}
    return tank(name, **values | changes)


def big(name: str = "Big", **changes: Any) -> Tank:
    return tank(name, **{"acceptance": 60, "price": "800"} | changes)


def ranked(*tanks: Tank, **entries: Any) -> Ranking:
    found = results(*tanks, mixed_sets=True, **entries)
    assert found.ranking is not None, found.findings
    return found.ranking


def by_parts(ranking: Ranking) -> dict[tuple[str, ...], Judged]:
    rows = (ranking.row(k) for k in range(len(ranking)))
    return {tuple(part.name for part in row.parts): row for row in rows}


def pair(*tanks: Tank, **entries: Any) -> Judged:
    """The one pair that two tanks make."""
    rows = by_parts(ranked(*tanks, **entries))
    (only,) = [row for row in rows.values() if len(row.kinds) == 2]
    return only


def test_each_two_tanks_make_one_pair_and_none_with_itself() -> None:
    tanks = [
        small(letter, price=str(price)) for letter, price in zip("ABCD", (4, 3, 2, 1), strict=True)
    ]
    rows = by_parts(ranked(*tanks))
    assert set(rows) == {(x,) for x in "ABCD"} | set(combinations("ABCD", 2))
    rows = by_parts(ranked(*tanks, header_tanks=3))
    equal = {(x,) * n for x in "ABCD" for n in (1, 2, 3)}
    assert set(rows) == equal | set(combinations("ABCD", 2))


def test_without_leave_there_are_no_pairs() -> None:
    assert len(results(small(), big()).candidates or ()) == 2
    assert len(ranked(small(), big())) == 3
    assert len(ranked(small())) == 1
    assert len(arranged((), 2, mixed=True)) == 0


def test_volumes_prices_and_floors_add_up() -> None:
    one = pair(small(kind=LYING, diameter=15, height=37), big())
    assert one.count == 2
    assert one.total_volume / GAL == pytest.approx(105)
    assert one.price == pytest.approx(1050)
    assert one.floor / INCH**2 == pytest.approx(15 * 37 + 26 * 26)
    buried = pair(small(), big(kind=BURIED))
    assert buried.floor / INCH**2 == pytest.approx(16 * 16)


@pytest.mark.parametrize("unpriced", [(None, "800"), ("250", None), (None, None)])
def test_a_pair_without_one_of_its_prices_has_none(unpriced: tuple[str | None, str | None]) -> None:
    one = pair(small(price=unpriced[0]), big(price=unpriced[1]))
    assert one.price is None
    assert Notes.NO_PRICE in one.notes


@pytest.mark.parametrize(
    "acceptance", [(12, 60), (4, 60), (12, 20), (4, 20), (None, None), (4, None)]
)
def test_each_membrane_limits_its_own_tank(acceptance: tuple[float | None, float | None]) -> None:
    """Each gives what it holds at cut-out less what is left at cut-in: never a shared limit."""
    one = pair(small(acceptance=acceptance[0]), big(acceptance=acceptance[1]))
    pp, pin, pout = (p * PSI + SEA for p in (28, 30, 50))
    water = 0.0
    for volume, limit in zip((20, 85), acceptance, strict=True):
        held = min(volume * (1 - pp / pout), limit or 1e9)
        water += held - min(volume * (1 - pp / pin), limit or 1e9)
    assert one.drawdown / GAL == pytest.approx(water, rel=1e-9)
    assert one.run_time == pytest.approx(water * GAL / (10 * GPM), rel=1e-9)
    assert one.starts == pytest.approx(10 * GPM / 4 / (water * GAL), rel=1e-9)
    assert one.margin == pytest.approx((water - 10) * GAL, rel=1e-6)
    limited = any(
        a is not None and a < v * (1 - pp / pout) for v, a in zip((20, 85), acceptance, strict=True)
    )
    assert (Notes.ACCEPTANCE_LIMITS in one.notes) is limited


@pytest.mark.parametrize("acceptance", [(12, 60), (4, 60), (12, 20), (4, 20), (3, 14)])
def test_in_a_falling_flow_a_pair_runs_as_the_fill_of_both_and_starts_are_never_told_too_low(
    acceptance: tuple[float, float],
) -> None:
    found = results(
        small(acceptance=acceptance[0]), big(acceptance=acceptance[1]), mixed_sets=True, **TWO
    )
    assert found.ranking is not None
    assert found.inputs.supply is not None
    assert found.setting is not None
    for position in range(len(found.ranking)):
        one = found.ranking.row(position)
        fill = fill_of(found.inputs.supply, vessels_of(one, found.setting))
        assert one.drawdown == pytest.approx(fill.drawdown, rel=1e-9)
        assert one.run_time == pytest.approx(float(fill_time(fill)), rel=1e-4)
        _, often = worst_starts(fill)
        assert one.starts >= often * (1 - 7e-4)  # what reading along straight lines may miss
        assert one.starts == pytest.approx(often, rel=0.03)


WRONG: list[tuple[Fails, dict[str, Any], dict[str, Any], str]] = [
    (
        Fails.WORKING_PRESSURE,
        {"max_working_pressure": 60, "factory_precharge": 28, "highest_precharge": None},
        {},
        "Marked for 60.0 psi; cut-out and margin need 65.0 psi.",
    ),
    (
        Fails.PRECHARGE_TOO_HIGH,
        {"highest_precharge": 38},
        {"cut_in": "60 psi", "cut_out": "80 psi"},
        "May be charged to 38.0 psi at most; 58.0 psi is needed.",
    ),
    (
        Fails.DOOR,
        {"diameter": 27},
        {"door_width": "28 in"},
        "27.0 in across; the door leaves 26.0 in.",
    ),
    (
        Fails.HEADROOM,
        {"height": 50},
        {"headroom": "48 in"},
        "50.0 in high; the headroom is 48.0 in.",
    ),
    (Fails.POTABLE, {"potable_listed": False}, {}, "Not listed for potable water."),
    (Fails.POTABLE, {"potable_listed": None}, {}, "A potable-water listing is not stated."),
]


@pytest.mark.parametrize(("flag", "made", "asked", "sentence"), WRONG)
@pytest.mark.parametrize("first", [True, False], ids=["the first", "the second"])
def test_what_is_wrong_with_either_tank_is_wrong_with_the_pair_and_told_by_its_figure(
    flag: Fails, made: dict[str, Any], asked: dict[str, Any], sentence: str, first: bool
) -> None:
    good, bad = big("B good"), big("A bad" if first else "C bad", **made)
    found = ranked(good, bad, **asked)
    rows = by_parts(found)
    names = ("A bad", "B good") if first else ("B good", "C bad")
    assert rows[names].fails == rows[(bad.name,)].fails == flag
    assert rows[("B good",)].passes
    assert reasons(rows[names], found, US)[0] == sentence
    assert headline(rows[names], found, US) == sentence


def test_too_little_water_of_both_together_is_too_little() -> None:
    low, less = small("A", acceptance=5), small("B", acceptance=4, total_volume=17)
    one = pair(low, less)
    assert one.fails == Fails.DRAWDOWN
    enough = pair(small("A"), small("B", total_volume=17))
    assert enough.passes
    assert not any(row.passes for row in by_parts(ranked(low, less)).values())


def test_notes_are_those_of_either_tank_and_the_charge_is_told_for_each() -> None:
    found = ranked(
        big("A", acceptance=None, in_stock=False, factory_precharge=38),
        big("B", highest_precharge=None, factory_precharge=20),
    )
    one = by_parts(found)[("A", "B")]
    assert one.notes == (
        Notes.ACCEPTANCE_NOT_STATED | Notes.NOT_IN_STOCK | Notes.HIGHEST_NOT_STATED
    )
    told = reasons(one, found, US)
    assert "A: Comes charged to 38.0 psi: let out 10.0 psi." in told
    assert "B: Comes charged to 20.0 psi: add 8.0 psi." in told
    assert told[-1] == "All tanks on one header must have the same precharge."


def test_names_and_keys_name_both() -> None:
    found = ranked(small(), big(), header_tanks=2)
    names = {one.name: one for one in by_parts(found).values()}
    assert set(names) == {"Small", "Big", "2 × Small", "2 × Big", "Big + Small"}
    candidates = found.candidates
    keys = [candidates.key(index) for index in range(len(candidates))]
    assert sorted(keys) == ["big", "big + big", "big + small", "small", "small + small"]
    for key, index in candidates.by_key.items():
        one = found.judged(index)
        assert key == " + ".join(part.id for part in one.parts)
        assert one.parts == candidates.parts(index)
    assert len(candidates.by_key) == len(candidates)
    assert [part.name for part in names["Big + Small"].kinds] == ["Big", "Small"]
    assert names["Big + Small"].tank.name == "Big"


def test_a_job_names_a_pair_by_its_key() -> None:
    found = results(small(), big(), mixed_sets=True, first_tank="big + small", second_tank="small")
    one, findings = chosen(found, "first_tank")
    assert one is not None
    assert one.name == "Big + Small"
    assert findings == ()
    gone = results(small(), big(), first_tank="big + small")
    one, (finding,) = chosen(gone, "first_tank")
    assert one is None
    assert (finding.level, finding.code, finding.field) == (Level.STOP, "tank_gone", "first_tank")
    assert "big + small" in finding.text
    first, _ = chosen(results(small(), big(), mixed_sets=True), "first_tank")
    assert first is not None
    assert first.name == "Big"  # the cheapest that passes


def listed(*tanks: Tank, **entries: Any) -> list[str]:
    found = ranked(*tanks, **entries)
    return [found.row(k).name for k in range(found.passing)]


SHELF = (
    big("A", price="700", diameter=24, in_stock=True),
    big("B", price="100", diameter=30, in_stock=False, total_volume=90),
    big("C", price=None, diameter=20, in_stock=None, total_volume=100, height=76),
)


@pytest.mark.parametrize(
    ("order", "expected"),
    [
        (Order.PRICE, ["B", "A", "A + B", "C", "A + C", "B + C"]),
        (Order.FLOOR, ["C", "A", "B", "A + C", "B + C", "A + B"]),
        (Order.RUN_TIME, ["B + C", "A + C", "A + B", "C", "B", "A"]),
        # in stock, not stated, not in stock: a pair waits for the later of its tanks
        (Order.STOCK, ["A", "C", "A + C", "B", "A + B", "B + C"]),
    ],
)
def test_pairs_stand_in_the_chosen_order_among_the_others(
    order: Order, expected: list[str]
) -> None:
    assert listed(*SHELF, order=order) == expected
    assert listed(*reversed(SHELF), order=order) == expected


def test_equals_stand_in_the_order_of_their_names() -> None:
    twins = [big(name) for name in "CAB"]
    assert listed(*twins) == ["A", "B", "C", "A + B", "A + C", "B + C"]


def test_offered_tanks_and_saved_rows_hold_both_tanks_of_a_pair() -> None:
    one, other = small("A"), small("B", total_volume=18)
    found = results(one, other, mixed_sets=True)
    assert found.ranking is not None
    assert found.ranking.passing == 1  # the pair alone
    offered = offered_tanks(found.ranking)
    assert [row.name for row in offered] == ["A", "B"]

    saved = CatalogSnapshot(file="invented.csv", tanks=offered)
    again = evaluate(job(mixed_sets=True), candidates_of(saved, 1, mixed=True)).ranking
    assert again is not None
    assert again.row(0) == found.ranking.row(0)
    (record, *_) = ranking_record(found.ranking)
    assert (record["id"], record["beside"], record["tanks"]) == ("a", ["b"], 2)
    assert (record["name"], record["set"], record["passes"]) == ("A", "A + B", True)


def test_the_shipped_catalogue_makes_all_its_pairs() -> None:
    catalog, candidates = load_candidates(paths.default_catalog(), Job(mixed_sets=True))
    n = len(catalog.tanks)
    assert len(candidates) == n + n * (n - 1) // 2
    assert len(candidates.by_key) == len(candidates)
    assert candidates_of(catalog, 1, mixed=True) is not candidates_of(catalog, 1)
    found = evaluate(Job(mixed_sets=True), candidates)
    assert found.findings == ()


def many(count: int) -> Candidates:
    """Tanks of which those at the end of the alphabet are the cheapest, and the last unpriced."""
    return arranged(
        [
            small(f"T{number:03}", price=None if number == count - 1 else str(1000 - number))
            for number in range(count)
        ],
        2,
        mixed=True,
    )


def evaluated(candidates: Candidates) -> Results:
    return evaluate(job(mixed_sets=True, header_tanks=2), candidates)


def test_of_more_than_150_tanks_the_cheapest_are_paired_and_that_is_said() -> None:
    found = evaluated(many(MOST_PAIRED + 3))
    (finding,) = found.findings
    assert (finding.level, finding.code, finding.field) == (
        Level.NOTE,
        "not_all_paired",
        "mixed_sets",
    )
    assert "150" in finding.text
    assert "3 others" in finding.text
    assert found.candidates is not None
    pairs = [
        found.candidates.parts(index)
        for index in range(len(found.candidates))
        if found.candidates.other[index] >= 0
    ]
    assert len(pairs) == MOST_PAIRED * (MOST_PAIRED - 1) // 2
    paired = {part.name for parts in pairs for part in parts}
    # The dearest two and the one without a price stand alone.
    assert paired == {f"T{n:03}" for n in range(2, MOST_PAIRED + 2)}
    assert len(found.candidates) == 2 * (MOST_PAIRED + 3) + len(pairs)


def test_of_150_tanks_all_are_paired_and_nothing_is_said() -> None:
    found = evaluated(many(MOST_PAIRED))
    assert found.findings == ()
    assert (
        evaluate(job(header_tanks=2), arranged([small(f"T{n}") for n in range(160)], 2)).findings
        == ()
    )
