"""What the setting card says, and all that withholds it."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from tests.study.build import GAL, PSI, results, tank
from workbench.study.card import ALARM, LONGEST, CardView, card_record, card_view
from workbench.study.findings import Level
from workbench.units import Unread

SHELF = (
    tank("Small 30", total_volume=30, diameter=18, height=35, price="300"),
    tank("Usual 85", acceptance=60),
    tank("Shy 86", total_volume=86, height=48, highest_precharge=40, max_working_pressure=75),
)


def card(*tanks: Any, **entries: Any) -> CardView:
    return card_view(results(*(tanks or SHELF), **entries))


def codes(view: CardView) -> list[str]:
    return [one.code for one in view.findings if one.level is Level.STOP]


def test_the_card_takes_the_named_tank_else_the_first_that_passes() -> None:
    named = card(first_tank="shy-86")
    assert named.tank is not None
    assert (named.tank.name, named.is_named, named.findings) == ("Shy 86", True, ())
    first = card()
    assert first.tank is not None
    assert first.tank.passes
    assert [(one.level, one.code) for one in first.findings] == [
        (Level.NOTE, "card_tank_not_named")
    ]


def test_a_named_tank_that_only_gives_too_little_still_has_its_card() -> None:
    view = card(first_tank="small-30", pump_flow="20 gpm")
    assert view.tank is not None
    assert not view.tank.passes
    assert view.stops == ()


def test_its_figures_are_those_of_the_bench() -> None:
    found = results(*SHELF, first_tank="usual-85", relief_setting="100 psi")
    view = card_view(found)
    assert view.setting == found.setting
    assert found.ranking is not None
    assert view.tank == found.ranking.judged(found.ranking.candidates.by_key["usual-85"])
    assert view.marked == pytest.approx(125 * PSI)
    assert view.highest == pytest.approx(70 * PSI)
    assert view.relief == pytest.approx(100 * PSI)
    assert view.full_water == pytest.approx(85 * 8.34 * 0.45359237)  # 8.34 lb a gallon


def test_of_several_tanks_the_weakest_marking_counts() -> None:
    view = card(first_tank="shy-86 + usual-85", mixed_sets=True)
    assert view.marked == pytest.approx(75 * PSI)
    assert view.highest == pytest.approx(40 * PSI)


def test_alarm_limits_lie_two_psi_away_and_never_inside_the_tolerance() -> None:
    view = card()
    assert view.alarm_low == pytest.approx(26 * PSI)
    assert view.alarm_high == pytest.approx(28 * PSI + ALARM)
    wide = card(tol_precharge="3 psi")
    assert (wide.alarm_low, wide.alarm_high) == pytest.approx((25 * PSI, 31 * PSI))
    low = card(cut_in="3 psi", cut_out="30 psi")
    assert low.alarm_low is None


def test_a_reading_elsewhere_is_the_one_of_the_results() -> None:
    found = results(*SHELF, reading_temperature="90 °F")
    view = card_view(found)
    assert found.precharge is not None
    assert view.where_set == found.precharge.where_set
    assert card().where_set is None


@pytest.mark.parametrize(
    ("entries", "code"),
    [
        ({"first_tank": "gone"}, "tank_gone"),
        ({"pump_flow": "60 gpm"}, "card_no_tank"),
        ({"first_tank": "shy-86", "cut_in": "50 psi", "cut_out": "70 psi"}, "card_above_marked"),
        ({"first_tank": "shy-86", "cut_in": "50 psi", "cut_out": "60 psi"}, "card_charge_too_high"),
        ({"first_tank": "shy-86", "relief_setting": "80 psi"}, "card_relief_high"),
        ({"relief_setting": "50 psi"}, "card_relief_low"),
        ({"tol_switch_in": "10 psi", "tol_switch_out": "10 psi"}, "card_switch_spread"),
        ({"tol_precharge": "29 psi"}, "card_charge_spread"),
        ({"tol_precharge": Unread("x", "Not a number.", "Type one.")}, "unread"),
        ({"set_date": "31.3.2026"}, "card_date_unread"),
        ({"card_note": "x" * (LONGEST["card_note"] + 1)}, "card_text_long"),
        ({"card_note": "a\nb\nc"}, "card_text_long"),
    ],
)
def test_what_would_be_unsafe_or_untrue_withholds_it(entries: dict[str, Any], code: str) -> None:
    assert code in codes(card(**entries))
    assert codes(card()) == []


def test_an_empty_catalogue_leaves_no_tank_to_set() -> None:
    view = card_view(results())
    assert view.tank is None
    assert codes(view) == ["card_no_tank"]


def test_a_stop_of_the_job_is_not_told_twice() -> None:
    view = card(cut_out="20 psi")
    assert view.setting is None
    assert view.stops == ()


def test_cautions_of_the_setting_are_carried_over_and_no_others() -> None:
    found = card(precharge_rule="typed", precharge="31 psi", pump_flow="61 gpm",
                 first_tank="usual-85")  # fmt: skip
    assert [one.code for one in found.cautions] == ["precharge_above_cut_in"]
    strong = card(pump_entry="curve", water_level="40 ft", first_tank="usual-85",
                  curve="0 gpm 500 ft; 10 gpm 300 ft; 20 gpm 60 ft")  # fmt: skip
    assert [one.code for one in strong.cautions] == ["over_pressure"]


def test_the_date_is_read_or_left_for_the_pen() -> None:
    assert card(set_date="2026-03-31").date == datetime.date(2026, 3, 31)
    assert card().date is None


def test_the_record_holds_the_figures_of_the_view() -> None:
    found = results(*SHELF, first_tank="usual-85", reading_temperature="90 °F")
    view = card_view(found)
    record = card_record(found, view)
    assert view.setting is not None
    assert view.tank is not None
    assert view.spread is not None
    assert view.where_set is not None
    for name, value in (
        ("cut_in_psi", view.setting.cut_in),
        ("cut_out_psi", view.setting.cut_out),
        ("precharge_psi", view.setting.precharge),
        ("precharge_where_set_psi", view.where_set),
        ("tolerance_precharge_psi", view.spread.precharge),
        ("add_air_below_psi", view.alarm_low),
        ("let_air_out_above_psi", view.alarm_high),
        ("marked_working_pressure_psi", view.marked),
    ):
        assert value is not None
        assert record[name] == pytest.approx(value / PSI)
    assert record["drawdown_gal"] == pytest.approx(view.tank.drawdown / GAL)
    assert record["run_at_no_demand_s"] == pytest.approx(view.tank.run_time)


def test_a_withheld_card_has_no_record() -> None:
    found = results(*SHELF, cut_out="20 psi")
    with pytest.raises(ValueError, match="a stop stands"):
        card_record(found, card_view(found))
