"""What the page "Precharge" says: regions, seconds, costs, the table, the working."""

from __future__ import annotations

import math

import pytest

from tests.study.build import COMMA, METRIC, PSI, US, results
from tests.study.shift_build import shift, typed
from workbench.study.shift.record import shift_record
from workbench.study.shift.view import Region
from workbench.study.shift.words import (
    cost_sentence,
    falters,
    gap_basis,
    reading,
    region_name,
    region_sentence,
    rows,
    seconds_text,
)
from workbench.study.shift.working import shift_steps


def test_each_region_has_a_name_and_a_sentence_of_its_own() -> None:
    assert len({region_name(region) for region in Region}) == 4
    under, right, over = typed("18 psi"), typed("28 psi"), typed("38 psi")
    assert region_sentence(under.today, under, US) == (
        "Undercharged: 11.8 gal stay in the tank when the pump starts, and at cut-out water fills"
        " 49 % of it, so the membrane works harder."
    )
    assert region_sentence(right.today, right, US) == (
        "Right: 2.0 gal stay in the tank when the pump starts."
    )
    told = region_sentence(over.today, over, US)
    assert told.startswith(
        "Overcharged: the tank is empty at 38.0 psi, and the pump starts only at 30.0 psi. At 5.0"
        " gpm the taps falter 1.3 s in each cycle, 0.8 s of them without any pressure."
    )
    bare = shift(precharge_rule="cut_in")
    assert falters(bare.today)  # by the time that the pump's start takes
    assert region_sentence(bare.today, bare, US).startswith("No margin: 0.0 gal stay in the tank")


def test_seconds_say_what_they_rest_on() -> None:
    assert gap_basis(shift(), US).startswith(
        "The seconds rest on what the pipes give (0.0050 gal for 10.0 psi) and on the pump's start"
        " (1.0 s), as entered"
    )
    assert gap_basis(shift(pump_flow="some"), US) == ""
    assert seconds_text(math.inf, US) == "without end"
    assert seconds_text(3.44, COMMA) == "3,4 s"


def test_costs_are_told_for_a_round_step_of_the_shown_unit() -> None:
    found = shift(daily_use="260 gal/d")
    assert found.below is not None
    assert cost_sentence(found.below, US) == ("−0.30 gal and +0.5 starts a day for each psi")
    metric = cost_sentence(found.below, METRIC)
    assert metric.endswith("starts a day for each 10 kPa")
    litres = found.below.water * 1e3 * 10e3 / PSI
    assert metric.startswith(f"−{litres:.2f} L")
    unknown = shift(people="many").below
    assert unknown is not None
    assert cost_sentence(unknown, US) == "−0.30 gal for each psi"


def test_the_table_is_round_in_the_shown_unit_and_holds_ones_own() -> None:
    names = [(name, round(one.precharge / PSI, 1), own) for name, one, own in rows(shift(), US)]
    assert names == [
        ("10 psi below", 18.0, False), ("5 psi below", 23.0, False), ("2 psi below", 26.0, False),
        ("1 psi below", 27.0, False), ("recommended", 28.0, True), ("1 psi above", 29.0, False),
        ("2 psi above", 30.0, False), ("5 psi above", 33.0, False),
    ]  # fmt: skip
    ((name, own),) = [(name, one) for name, one, mine in rows(typed("38 psi"), US) if mine]
    assert name == "yours"
    assert own.precharge == pytest.approx(38 * PSI)
    same = [name for name, _, mine in rows(typed("23 psi"), US) if mine]
    assert same == ["yours, 5 psi below"]
    near = [name for name, _, _ in rows(typed("23.2 psi"), US)]
    assert "yours" in near
    assert "5 psi below" not in near
    assert any(name == "35 kPa below" for name, _, _ in rows(shift(), METRIC))
    low = rows(shift(cut_in="8 psi", cut_out="28 psi"), US)
    assert all(one.precharge >= 0.0 for _, one, _ in low)
    assert not any(name == "10 psi below" for name, _, _ in low)


def test_a_reading_tells_all_that_stands_there() -> None:
    found = typed("38 psi", daily_use="260 gal/d")
    assert reading(found.today, US) == (
        "At 38.0 psi, overcharged — drawdown 8.2 gal (−37 %), left at cut-in 0.0 gal, starts a day"
        " 32, taps falter: 1.3 s, 0.8 s dry"
    )
    assert "262 kPa" in reading(found.today, COMMA)


def test_the_working_carries_the_figures_that_are_shown() -> None:
    lines = [str(step) for step in shift_steps(typed("38 psi", daily_use="260 gal/d"), US)]
    assert any("0.1855 × 44.0 gal → 8.16 gal" in line for line in lines)
    assert any("12.99 gal" in line for line in lines)
    assert any("260 gal/d / 8.16 gal = 32" in line for line in lines)
    assert any("1.3 s, 0.8 s dry" in line for line in lines)
    few = shift_steps(shift(people="many", steady_draw="0 gpm"), US)
    assert len(few) == 3  # air, factor, drawdown: the rest is not known


def test_the_record_refuses_where_there_is_no_tank() -> None:
    with pytest.raises(ValueError, match="no tank"):
        shift_record(results())
