"""What each published limit allows a motor, between the rows of its table and beyond them."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.study.build import job, results, tank
from workbench.job.pump_choices import MotorLimit
from workbench.study.motor import (
    NEMA_FOUR_POLE,
    NEMA_TWO_POLE,
    PUBLISHED,
    MotorStands,
    published,
    read_motor,
    remark,
    suits,
)
from workbench.study.reader import Reader
from workbench.units import Display

HP = 745.6998715822702
HOUR, DAY = 3600.0, 86_400.0


def read(**entries: object) -> tuple[MotorStands | None, list[str]]:
    wanted = job(**entries)
    reader = Reader(wanted)
    stands, _ = read_motor(wanted, reader)
    return stands, [finding.code for finding in reader.findings]


@pytest.mark.parametrize(
    ("limit", "an_hour", "a_day"),
    [
        # Water Systems Council, PST performance standard, 2000, introduction.
        (MotorLimit.WELL_TANK_SMALL, 15.0, 300.0),
        (MotorLimit.WELL_TANK_LARGE, 7.5, 300.0),
        # National Ground Water Association journal, "Tank selection by the numbers".
        (MotorLimit.JOURNAL_SMALL, None, 300.0),
        (MotorLimit.JOURNAL_LARGE, None, 50.0),
        # Idaho Administrative Code 58.01.08.547; MIL-HDBK-1005/9A, paragraph 2.5.3.6 (6 min).
        (MotorLimit.PUBLIC_SYSTEM, 6.0, None),
        (MotorLimit.HANDBOOK_CYCLE, 10.0, None),
    ],
)
def test_the_published_limits_are_as_printed(
    limit: MotorLimit, an_hour: float | None, a_day: float | None
) -> None:
    stands, codes = read(motor_limit=limit)
    assert codes == []
    assert stands is not None
    assert stands.rest is None
    for value, seconds, printed in ((stands.starts_hour, HOUR, an_hour), (stands.starts_day, DAY, a_day)):  # fmt: skip # noqa: E501
        assert (value is None) == (printed is None)
        if value is not None:
            assert value * seconds == pytest.approx(printed)


@pytest.mark.parametrize(
    ("limit", "typed", "an_hour", "rest"),
    [
        # NEMA MG 10-2001, table 2-3.
        (MotorLimit.NEMA_TWO_POLE, "1 hp", 15.0, 75.0),
        (MotorLimit.NEMA_TWO_POLE, "5 hp", 8.1, 83.0),
        (MotorLimit.NEMA_TWO_POLE, "30 hp", 4.1, 120.0),
        (MotorLimit.NEMA_FOUR_POLE, "1.5 hp", 25.7, 38.0),
        (MotorLimit.NEMA_FOUR_POLE, "20 hp", 9.6, 55.0),  # a copy that prints 10 has a slip
        (MotorLimit.NEMA_FOUR_POLE, "25 hp", 8.8, 58.0),
        # plates in kW are those rows: 0.75 kW is 1.006 hp, 1.1 kW 1.475 hp, 15 kW 20.1 hp
        (MotorLimit.NEMA_TWO_POLE, "1.1 kW", 12.9, 76.0),
        (MotorLimit.NEMA_TWO_POLE, "0.75 kW", 15.0, 75.0),
        (MotorLimit.NEMA_TWO_POLE, "15 kW", 4.8, 110.0),
    ],
)
def test_a_row_of_the_table_is_found_in_either_unit(
    limit: MotorLimit, typed: str, an_hour: float, rest: float
) -> None:
    stands, codes = read(motor_limit=limit, motor_power=typed)
    assert codes == []
    assert stands is not None
    assert stands.starts_hour is not None
    assert stands.starts_hour * HOUR == pytest.approx(an_hour)
    assert stands.rest == rest


@pytest.mark.parametrize(
    ("typed", "an_hour"), [("0.5 hp", 15.0), ("1.25 hp", 12.9), ("4 hp", 8.1), ("1.7 kW", 9.9)]
)
def test_a_power_between_rows_takes_the_next_larger_and_says_so(typed: str, an_hour: float) -> None:
    stands, codes = read(motor_limit=MotorLimit.NEMA_TWO_POLE, motor_power=typed)
    assert codes == ["motor_next_row"]
    assert stands is not None
    assert stands.starts_hour is not None
    assert stands.starts_hour * HOUR == pytest.approx(an_hour)


@pytest.mark.parametrize(
    ("entries", "code"),
    [
        ({"motor_limit": MotorLimit.NEMA_TWO_POLE}, "needed"),
        ({"motor_limit": MotorLimit.NEMA_TWO_POLE, "motor_power": "31 hp"}, "motor_above_table"),
        ({"motor_limit": MotorLimit.NEMA_FOUR_POLE, "motor_power": "30 hp"}, "motor_above_table"),
        ({"motor_limit": MotorLimit.NEMA_FOUR_POLE, "motor_power": "0 hp"}, "not_above_zero"),
        ({"motor_limit": MotorLimit.NEMA_FOUR_POLE, "motor_power": "strong"}, "unread"),
        ({"motor_limit": MotorLimit.OWN}, "no_own_limit"),
        ({"motor_limit": MotorLimit.OWN, "own_rest": "x"}, "unread"),
    ],
)
def test_a_limit_that_cannot_be_told_says_why_once(entries: dict[str, object], code: str) -> None:
    stands, codes = read(**entries)
    assert stands is None
    assert codes == [code]


def test_ones_own_limits_stand_as_they_are_typed() -> None:
    stands, codes = read(motor_limit=MotorLimit.OWN, own_starts_day="100 /d", own_rest="1 min")
    assert codes == []
    assert stands is not None
    assert stands.starts_hour is None
    assert stands.starts_day is not None
    assert stands.starts_day * DAY == pytest.approx(100.0)
    assert stands.rest == pytest.approx(60.0)


def test_what_is_not_chosen_is_not_complained_of() -> None:
    assert read(own_rest="x", own_starts_day="0 /d") == (
        published(MotorLimit.WELL_TANK_SMALL, None),
        [],
    )


@pytest.mark.parametrize(
    ("limit", "typed", "fits"),
    [
        (MotorLimit.WELL_TANK_SMALL, "0.75 hp", True),
        (MotorLimit.WELL_TANK_SMALL, "1 hp", False),
        (MotorLimit.WELL_TANK_LARGE, "0.75 hp", False),
        (MotorLimit.WELL_TANK_LARGE, "1 hp", True),
        (MotorLimit.JOURNAL_SMALL, "1 hp", False),
        (MotorLimit.JOURNAL_LARGE, "5 hp", False),
        (MotorLimit.JOURNAL_LARGE, "7.5 hp", True),
        (MotorLimit.HANDBOOK_CYCLE, "60 hp", False),
    ],
)
def test_a_limit_for_motors_of_another_power_is_a_caution(
    limit: MotorLimit, typed: str, fits: bool
) -> None:
    assert read(motor_limit=limit, motor_power=typed)[1] == ([] if fits else ["limit_other_power"])


def test_every_power_has_its_well_tank_limit() -> None:
    for tenths in range(1, 300):
        power = tenths * HP / 20
        assert suits(MotorLimit.WELL_TANK_SMALL, power) != suits(MotorLimit.WELL_TANK_LARGE, power)


def test_larger_motors_start_less_often_and_rest_longer() -> None:
    for table in (NEMA_TWO_POLE, NEMA_FOUR_POLE):
        for (hp, starts, rest), (more_hp, fewer, longer) in pairwise(table):
            assert more_hp > hp
            assert fewer < starts
            assert longer >= rest


def test_the_table_for_two_poles_gives_the_trades_minutes_of_run() -> None:
    # 15 / starts, in minutes, by MIL-HDBK-1005/9A; "one minute to 1 hp, up to two minutes above".
    minutes = [round(15.0 / starts, 2) for _, starts, _ in NEMA_TWO_POLE[:5]]
    assert minutes == [1.0, 1.16, 1.3, 1.52, 1.85]


def test_every_published_limit_says_for_what_it_was_written() -> None:
    assert MotorLimit.OWN not in PUBLISHED
    assert remark(MotorLimit.NEMA_TWO_POLE) == "three-phase surface motors"
    assert remark(MotorLimit.PUBLIC_SYSTEM) == "public systems"
    assert remark(MotorLimit.WELL_TANK_SMALL) == ""


def test_findings_of_the_motor_stand_in_the_page_once() -> None:
    found = results(tank(), motor_limit=MotorLimit.NEMA_TWO_POLE, motor_power="40 hp")
    assert found.cycle is not None
    codes = [finding.code for finding in (*found.findings, *found.cycle.findings)]
    assert codes.count("motor_above_table") == 1
    last = next(f for f in found.cycle.findings if f.code == "motor_above_table")
    assert "30.00 hp" in last.sentence(Display())
