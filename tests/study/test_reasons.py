"""The sentences that tell why a tank passes or not: complete, with their numbers, never equal."""

from __future__ import annotations

import re
from typing import Any

import pytest

from tests.study.build import COMMA, INCH, METRIC, US, ranking, tank
from workbench.catalog.tank import TankKind
from workbench.study.reasons import headline, reasons
from workbench.units import Display

FALLING = {"pump_entry": "two_flows", "flow_at_cut_in": "12 gpm", "flow_at_cut_out": "4 gpm"}


def told(made: dict[str, Any], asked: dict[str, Any], display: Display = US) -> list[str]:
    ranked = ranking(tank(**made), **asked)
    return reasons(ranked.row(0), ranked, display)


@pytest.mark.parametrize(
    ("made", "asked", "sentence"),
    [
        ({"total_volume": 30}, {}, "Gives 8.9 gal, less than the 10.0 gal required."),
        (
            {"max_working_pressure": 60, "factory_precharge": 28, "highest_precharge": None},
            {},
            "Marked for 60.0 psi; cut-out and margin need 65.0 psi.",
        ),
        (
            {"highest_precharge": 38},
            {"cut_in": "60 psi", "cut_out": "80 psi", "run_time": "1 min"},
            "May be charged to 38.0 psi at most; 58.0 psi is needed.",
        ),
        ({}, {"door_width": "26 in"}, "26.0 in across; the door leaves 24.0 in."),
        ({}, {"headroom": "40 in"}, "47.0 in high; the headroom is 40.0 in."),
        (
            {"kind": TankKind.BLADDER_HORIZONTAL},
            {"headroom": "20 in"},
            "26.0 in high; the headroom is 20.0 in.",
        ),
        ({"potable_listed": False}, {}, "Not listed for potable water."),
        ({"potable_listed": None}, {}, "A potable-water listing is not stated."),
        (
            {"acceptance": 14},
            FALLING,
            (
                "Runs 0.92 min, less than the 1.00 min required: its membrane ends the fill while"
                " the pump still gives most."
            ),
        ),
        (
            {"acceptance": 14},
            {**FALLING, "run_time_rule": "starts", "starts_limit": "15 /h"},
            "Starts 16.3 /h at worst; 15.0 /h are allowed.",
        ),
    ],
)
def test_a_failure_is_told_first_with_both_numbers(
    made: dict[str, Any], asked: dict[str, Any], sentence: str
) -> None:
    assert told(made, asked)[0] == sentence


def test_a_tank_that_passes_is_told_by_what_it_gives() -> None:
    first = told({}, {})[0]
    assert first == (
        "Gives 25.1 gal of 10.0 gal required; runs 2.51 min at no demand, 6.0 starts an hour at"
        " worst."
    )


def test_the_same_in_metric_and_with_a_comma() -> None:
    assert told({}, {}, METRIC)[0].startswith("Gives 95.0 L of 37.9 L required; runs 2.51 min")
    assert told({}, {}, COMMA)[0].startswith("Gives 95,0 L of 37,9 L required; runs 2,51 min")


@pytest.mark.parametrize(
    ("factory", "sentence"),
    [
        (38, "Comes charged to 38.0 psi: let out 10.0 psi."),
        (20, "Comes charged to 20.0 psi: add 8.0 psi."),
        (28, "The factory precharge is the one to set; check it."),
        (28.4, "The factory precharge is the one to set; check it."),
    ],
)
def test_the_way_from_the_factory_precharge_is_told(factory: float, sentence: str) -> None:
    assert sentence in told({"factory_precharge": factory}, {})


@pytest.mark.parametrize(
    ("made", "asked", "part"),
    [
        ({"acceptance": 20}, {}, "acceptance limits"),
        ({"acceptance": None}, {}, "acceptance is not stated"),
        ({"highest_precharge": None}, {}, "highest precharge is not stated"),
        ({"in_stock": False}, {}, "Not in stock."),
        ({"price": None}, {}, "No price"),
        ({"total_volume": 130, "diameter": 30, "height": 60}, {}, "Over 120 gal"),
        ({}, {"precharge": "33 psi", "precharge_rule": "typed"}, "empties before the pump starts"),
    ],
)
def test_a_note_is_told(made: dict[str, Any], asked: dict[str, Any], part: str) -> None:
    assert any(part in sentence for sentence in told(made, asked))


def test_tanks_on_one_header_are_told_to_be_charged_alike() -> None:
    ranked = ranking(tank(), header_tanks=2)
    by_count = {ranked.row(k).count: reasons(ranked.row(k), ranked, US) for k in range(2)}
    assert not any("one header" in sentence for sentence in by_count[1])
    assert any("same precharge" in sentence for sentence in by_count[2])


def test_a_tank_that_no_water_enters_starts_without_end() -> None:
    dead = told({"acceptance": 0.1}, {})
    assert dead[0] == "Gives 0.0 gal, less than the 10.0 gal required."
    assert dead[1] == "Runs 0.00 min at no demand, starts without end in the worst case."


EVERYTHING = [
    ({"total_volume": 30, "potable_listed": False}, {"headroom": "40 in", "door_width": "20 in"}),
    ({"acceptance": 20, "price": None, "in_stock": False, "highest_precharge": None}, {}),
    ({"acceptance": 0.1}, {"precharge": "33 psi", "precharge_rule": "typed"}),
]


@pytest.mark.parametrize(("made", "asked"), EVERYTHING)
@pytest.mark.parametrize("display", [US, METRIC, COMMA], ids=["us", "metric", "comma"])
def test_every_reason_is_a_complete_sentence(
    made: dict[str, Any], asked: dict[str, Any], display: Display
) -> None:
    for sentence in told(made, asked, display):
        assert re.fullmatch(r"[0-9A-Z].*\.", sentence)
        assert not re.search(r"[{}]|\bnan\b|\binf\b|  ", sentence)


def test_a_headline_names_every_failure() -> None:
    ranked = ranking(tank(total_volume=30, potable_listed=False))
    line = headline(ranked.row(0), ranked, US)
    assert line == ("Gives 8.9 gal, less than the 10.0 gal required. Not listed for potable water.")


def test_a_headline_of_one_that_passes_is_what_is_left_to_know() -> None:
    ranked = ranking(tank(in_stock=False))
    line = headline(ranked.row(0), ranked, US)
    assert line.startswith("Comes charged to 38.0 psi: let out 10.0 psi.")
    assert line.endswith("Not in stock.")


NUMBERS = re.compile(r"[0-9]+(?:[.,][0-9]+)?(?= (?:gal|L|psi|kPa|in|mm)\b)")


@pytest.mark.parametrize("display", [US, METRIC, COMMA], ids=["us", "metric", "comma"])
@pytest.mark.parametrize("share", [1e-2, 1e-4, 1e-6, 1e-8])
def test_a_failure_by_a_hair_never_reads_as_equal_numbers(share: float, display: Display) -> None:
    cases: list[tuple[dict[str, Any], dict[str, Any]]] = [
        ({"max_working_pressure": 65 * (1 - share), "factory_precharge": 28}, {}),
        ({"highest_precharge": 28 * (1 - share), "factory_precharge": 20}, {}),
        ({"height": 47 * (1 + share)}, {"headroom": "47 in"}),
        ({"diameter": 26 * (1 + share)}, {"door_width": "28 in"}),
        ({"acceptance": 10 * (1 - share)}, {"precharge_rule": "cut_in"}),
    ]
    for made, asked in cases:
        ranked = ranking(tank(**{"highest_precharge": None} | made), **asked)
        one = ranked.row(0)
        assert one.fails
        first, second = NUMBERS.findall(reasons(one, ranked, display)[0])[:2]
        assert first != second


def test_a_margin_told_is_the_margin_judged() -> None:
    """A passing tank is never told to give less than what is required."""
    for volume in (33.87, 33.88, 33.9, 34.0, 40.0):
        ranked = ranking(tank(total_volume=volume))
        one = ranked.row(0)
        gives, required = NUMBERS.findall(reasons(one, ranked, US)[0])[:2]
        assert (float(gives) >= float(required)) is one.passes


def test_the_door_leaves_two_inches() -> None:
    ranked = ranking(tank(diameter=26.02), door_width="28 in")
    assert ranked.row(0).tank.diameter / INCH == pytest.approx(26.02)
    first = reasons(ranked.row(0), ranked, US)[0]
    assert first == "26.02 in across; the door leaves 26.00 in."
