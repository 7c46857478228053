"""One tank: what it may hold, and what is said of what it may not."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from pydantic import ValidationError

from tests.catalog.samples import BAR, GAL, INCH, LB, PSI, make, tanks, values
from workbench.catalog.headers import OUR_HEADER, descriptions, titles
from workbench.catalog.tank import Tank, TankKind, check_tank, kind_titles

NAN, INF = float("nan"), float("inf")


def broken(**changes: Any) -> list[str]:
    tank, rules = check_tank(values(**changes))
    assert (tank is None) == bool(rules)
    return [f"{rule.field} {rule.rule}" for rule in rules]


def test_a_sound_tank_breaks_no_rule() -> None:
    tank, rules = check_tank(values(price=Decimal("549.50"), acceptance=18 * GAL))
    assert tank == make(price=Decimal("549.50"), acceptance=18 * GAL)
    assert rules == ()


def test_what_is_not_stated_is_none_and_not_a_default() -> None:
    tank = make()
    unstated = ("acceptance", "highest_precharge", "empty_weight", "potable_listed", "price")
    assert all(getattr(tank, name) is None for name in (*unstated, "in_stock", "date"))


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"total_volume": 0.0}, "total_volume must be above zero."),
        ({"total_volume": 5001 * GAL}, "total_volume is more than any tank's, 5000 gal."),
        ({"diameter": -0.1}, "diameter must be above zero."),
        ({"diameter": 401 * INCH}, "diameter is more than any tank's, 400 in."),
        ({"height": INF}, "height is not a finite number."),
        ({"height": NAN}, "height is not a finite number."),
        ({"max_working_pressure": 601 * PSI}, "max_working_pressure is more than any tank's, 600"),
        ({"factory_precharge": -1.0}, "factory_precharge must not be below zero."),
        ({"highest_precharge": -1.0}, "highest_precharge must not be below zero."),
        ({"acceptance": 0.0}, "acceptance must be above zero."),
        ({"empty_weight": 20_001 * LB}, "empty_weight is more than any tank's, 20000 lb."),
        ({"price": Decimal(0)}, "price must be above zero."),
        ({"price": Decimal(1_000_001)}, "price is more than any tank's, 1,000,000."),
        ({"price": Decimal("1.00005")}, "price has too many decimals."),
        ({"id": ""}, "id is empty, but needed."),
        ({"id": "x" * 61}, "id is too long."),
        ({"id": " a"}, "id begins or ends with a blank."),
        ({"id": "a\u00a0"}, "id begins or ends with a blank."),
        ({"name": "a\nb"}, "name holds a character that cannot be printed."),
        ({"name": "a\ud800b"}, "name holds a character that cannot be printed."),
        ({"notes": "a\x1bb"}, "notes holds a character that cannot be printed."),
        ({"notes": "a\n" * 41 + "a"}, "notes has too many lines."),
        ({"source": "x" * 401}, "source is too long."),
        ({"connection": "4-Mar"}, "connection is a date that a spreadsheet made"),
        ({"connection": "Mar-04"}, "connection is a date that a spreadsheet made"),
        ({"connection": "2026-03-04 00:00:00"}, "connection is a date that a spreadsheet made"),
        ({"currency": "usd"}, "currency is not allowed here"),
        ({"colour": "blue"}, "colour is not allowed here"),
        ({"kind": "barrel"}, "kind is not allowed here"),
    ],
)
def test_a_value_out_of_bounds_is_told_by_field(changes: dict[str, Any], expected: str) -> None:
    (told,) = broken(**changes)
    assert told.startswith(expected)


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"acceptance": 21 * GAL}, "acceptance is more than the total volume, 20 gal."),
        (
            {"factory_precharge": 101 * PSI},
            "factory_precharge is above the maximum working pressure, 100 psi.",
        ),
        (
            {"highest_precharge": 101 * PSI},
            "highest_precharge is above the maximum working pressure, 100 psi.",
        ),
        (
            {"highest_precharge": 29 * PSI},
            "highest_precharge is below the factory precharge, 30 psi.",
        ),
        # Litres for gallons, and inches, centimetres and millimetres mixed up:
        ({"total_volume": 75.7 * GAL}, "total_volume is more than a shell of this size can hold"),
        ({"total_volume": 5.28 * GAL}, "total_volume is far less than a shell of this size holds"),
        ({"diameter": 16 * 0.01}, "total_volume is more than a shell of this size can hold"),
        ({"diameter": 40 * INCH}, "total_volume is far less than a shell of this size holds"),
        ({"height": 28e-3}, "total_volume is more than a shell of this size can hold"),
    ],
)
def test_values_that_contradict_each_other_are_told(changes: dict[str, Any], expected: str) -> None:
    told = broken(**changes)
    assert len(told) == 1
    assert told[0].startswith(expected)


@pytest.mark.parametrize(
    "changes",
    [
        {"acceptance": 20 * GAL},
        {"factory_precharge": 100 * PSI},
        {"factory_precharge": 100 * PSI, "highest_precharge": 100 * PSI},
        {"max_working_pressure": 5.0 * BAR, "highest_precharge": 72.51886886 * PSI},
        {"factory_precharge": 0.0},
        {"total_volume": 5000 * GAL, "diameter": 2.5, "height": 4.0},
        {"max_working_pressure": 600 * PSI},
        {"notes": "two\nlines,\ttabs"},
    ],
)
def test_values_at_their_limits_are_sound(changes: dict[str, Any]) -> None:
    assert broken(**changes) == []


def test_everything_wrong_is_told_at_once() -> None:
    told = broken(
        total_volume=-1.0, price=Decimal(-5), highest_precharge=20 * PSI, factory_precharge=30 * PSI
    )
    assert [text.split()[0] for text in told] == ["total_volume", "price", "highest_precharge"]


def test_a_missing_value_is_told_unless_it_is_known_to_be_bad() -> None:
    without = values()
    del without["height"], without["name"]
    tank, rules = check_tank(without, known_bad={"height"})
    assert tank is None
    assert [(rule.field, rule.rule) for rule in rules] == [("name", "is empty, but needed.")]


def test_a_bad_optional_value_makes_no_tank_even_if_the_rest_is_sound() -> None:
    assert check_tank(values(), known_bad={"acceptance"}) == (None, ())


def test_limits_are_told_in_the_reader_s_unit() -> None:
    _tank, rules = check_tank(
        values(acceptance=80 * GAL), lambda field, si: f"<{field} {si / 1e-3:.1f} L>"
    )
    assert rules[0].rule == "is more than the total volume, <total_volume 75.7 L>."


def test_a_tank_with_contradictions_cannot_be_made_at_all() -> None:
    with pytest.raises(ValidationError, match="acceptance is more than the total volume"):
        make(acceptance=21 * GAL)


def test_a_tank_cannot_be_changed() -> None:
    with pytest.raises(ValidationError, match="frozen"):
        make().total_volume = 1.0


@settings(max_examples=50)
@given(tanks())
def test_a_tank_in_json_reads_back_the_same(tank: Tank) -> None:
    assert Tank.model_validate_json(tank.model_dump_json()) == tank
    assert Tank.model_validate(tank.model_dump(mode="json")) == tank


def test_kinds_know_how_a_tank_is_set_up() -> None:
    assert {kind for kind in TankKind if kind.horizontal} == {
        TankKind.BLADDER_HORIZONTAL,
        TankKind.DIAPHRAGM_HORIZONTAL,
    }
    assert {kind for kind in TankKind if kind.in_ground} == {
        TankKind.BLADDER_IN_GROUND,
        TankKind.DIAPHRAGM_IN_GROUND,
    }


def test_every_kind_and_every_column_has_words_for_people() -> None:
    assert set(kind_titles()) == set(TankKind)
    assert set(OUR_HEADER) == set(Tank.model_fields) - {"currency"}
    for words in (titles(), descriptions()):
        assert list(words) == list(OUR_HEADER)
        assert all(words.values())
    assert "length of the shell" in descriptions()["height"]


def test_a_date_is_a_day() -> None:
    assert make(date=datetime.date(2026, 3, 14)).date == datetime.date(2026, 3, 14)
