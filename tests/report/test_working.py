"""The working on paper: what is written comes to what is written behind it, and can be printed."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from tests.study.build import COMMA, GAL, METRIC, PSI, US, results, tank
from tests.study.test_working import computed
from workbench.report.blocks import Formula, Letterhead, PaperContent, Section, Words
from workbench.report.typeset import pdf
from workbench.report.working import working_section
from workbench.study.evaluate import Results
from workbench.study.ranking import Judged
from workbench.study.working import Step
from workbench.units import PRESSURE, VOLUME, Display

CURVE = {
    "pump_entry": "curve",
    "curve": "0 gpm 290 ft; 5 gpm 272 ft; 8 gpm 250 ft; 11 gpm 216 ft; 14 gpm 165 ft",
    "water_level": "110 ft",
    "pipe_length": "150 ft",
    "pump_efficiency": "42 %",
}
FLOWS = {"pump_entry": "two_flows", "flow_at_cut_in": "12 gpm", "flow_at_cut_out": "9 gpm"}
DISPLAYS = pytest.mark.parametrize("display", [US, METRIC, COMMA], ids=["us", "metric", "comma"])
SHELF = (tank("Usual 85"), tank("Capped 60", total_volume=60, acceptance=15))


def section(found: Results, display: Display = US, key: str = "") -> Section:
    assert found.ranking is not None
    index = found.ranking.candidates.by_key.get(key)
    one = found.ranking.row(0) if index is None else found.ranking.judged(index)
    return working_section(found, one, display, "Working")


def formulas(part: Section) -> dict[str, Formula]:
    found = {one.title: one for one in part.blocks if isinstance(one, Formula)}
    assert len(found) == len([one for one in part.blocks if isinstance(one, Formula)])
    return found


def starting(part: Section, title: str) -> list[Formula]:
    return [one for name, one in formulas(part).items() if name.startswith(title)]


@DISPLAYS
@pytest.mark.parametrize("entries", [{}, {"altitude": "5000 ft"}, {"exponent": "1.2"}, FLOWS])
def test_what_is_written_comes_to_its_result(entries: dict[str, Any], display: Display) -> None:
    part = section(results(*SHELF, **entries), display)
    exact = ("Precharge", "Required drawdown", "Total volume that gives")
    seen = 0
    for one in formulas(part).values():
        if one.title.startswith(exact):
            written, _, result = one.numbers.rpartition(" = ")
            value = computed(written, display.mark)
            assert value == pytest.approx(computed(result, display.mark), rel=0.011)
            seen += 1
    assert seen == len(exact)


@DISPLAYS
def test_each_figure_of_the_tank_is_worked_out(display: Display) -> None:
    found = results(*SHELF)
    assert found.ranking is not None
    one = found.ranking.row(0)
    part = section(found, display)
    (water,) = starting(part, "Drawdown, ")
    assert water.numbers.endswith(f" → {display.text(one.drawdown, VOLUME, 2)}")
    assert one.tank.name in water.title
    (run,) = starting(part, "Run at no demand")
    assert run.numbers.endswith(f"= {computed_run(one, display)}")
    assert starting(part, "Most starts")


def computed_run(one: Judged, display: Display) -> str:
    return f"{one.run_time / 60:.2f}".replace(".", display.mark) + " min"


def test_waters_of_unequal_tanks_add_up_and_the_air_is_told_once() -> None:
    found = results(*SHELF, mixed_sets=True)
    part = section(found, US, "capped-60 + usual-85")
    assert len(starting(part, "Drawdown, ")) == 2
    assert len(starting(part, "Air pressure")) == 1
    (total,) = starting(part, "Drawdown of all tanks")
    written, _, result = total.numbers.rpartition(" = ")
    assert computed(written) == pytest.approx(computed(result), abs=0.011)
    assert found.ranking is not None
    one = found.ranking.judged(found.ranking.candidates.by_key["capped-60 + usual-85"])
    assert computed(result) == pytest.approx(one.drawdown / GAL, abs=0.005)


def test_equal_tanks_count_each() -> None:
    found = results(SHELF[0], header_tanks=3)
    part = section(found, US, "usual-85 + usual-85 + usual-85")
    (total,) = starting(part, "Drawdown of all tanks")
    assert total.numbers.count("+") == 2
    assert len(starting(part, "Drawdown, ")) == 1


@DISPLAYS
def test_a_reading_elsewhere_is_worked_out(display: Display) -> None:
    found = results(*SHELF, reading_temperature="90 °F", reading_altitude="3000 ft")
    (step,) = starting(section(found, display), "Reading where it is set")
    written, _, result = step.numbers.rpartition(" = ")
    assert computed(written, display.mark) == pytest.approx(
        computed(result, display.mark), rel=1e-4
    )
    assert found.precharge is not None
    assert found.precharge.where_set is not None
    assert result == display.number(found.precharge.where_set, PRESSURE, 3)


def test_a_typed_precharge_says_so() -> None:
    found = results(*SHELF, precharge_rule="typed", precharge="25 psi")
    (step,) = starting(section(found), "Precharge")
    assert (step.formula, step.numbers) == ("Pp as entered", "25.0 psi")


def test_the_head_of_a_pump_that_is_known_by_its_curve_is_worked_out() -> None:
    part = section(results(*SHELF, **CURVE))
    (head,) = starting(part, "Total dynamic head")
    written, _, result = head.numbers.rpartition(" = ")
    assert computed(written) == pytest.approx(computed(result), abs=0.2)
    assert starting(part, "Reach over cut-out")


def test_every_formula_has_numbers_and_a_source() -> None:
    for entries in ({}, CURVE, FLOWS):
        for one in formulas(section(results(*SHELF, **entries))).values():
            assert one.formula, one.title
            assert one.numbers, one.title
            assert one.source, one.title


def test_without_a_tank_there_is_what_needs_none() -> None:
    found = results()
    part = working_section(found, None, US, "Working")
    titles = list(formulas(part))
    assert titles[:2] == ["Precharge, tank drained", "Required drawdown"]
    assert not starting(part, "Drawdown")


def test_without_anything_that_can_be_read_it_says_so() -> None:
    part = working_section(results(cut_out="20 psi"), None, US, "Working")
    (said,) = part.blocks
    assert isinstance(said, Words)
    assert said.text.startswith("Nothing could be worked out")


def test_steps_of_the_caller_come_last() -> None:
    more = Step("Starts a day", "a / b", "6 / 2 = 3", "a source")
    part = working_section(results(*SHELF), None, US, "Working", [more])
    assert part.blocks[-1] == Formula(
        title="Starts a day", formula="a / b", numbers="6 / 2 = 3", source="a source"
    )


@pytest.mark.parametrize(
    "entries",
    [{}, CURVE, FLOWS, {"exponent": "1.2"}, {"reading_temperature": "90 °F"},
     {"run_time_rule": "steps"}, {"run_time_rule": "starts"}, {"precharge_rule": "cut_in"},
     {"precharge_rule": "cut_in_less_5_psi", "header_tanks": 2},
     {"precharge_rule": "typed", "precharge": "33 psi"}],
)  # fmt: skip
def test_the_papers_font_has_all_that_is_written(entries: dict[str, Any]) -> None:
    part = section(results(*SHELF, **entries))
    paper = PaperContent(
        kind="estimate",
        title="Working",
        language="en",
        sheet="a4",
        date="",
        head=Letterhead(),
        facts=(),
        sections=(part,),
        foot="",
    )
    assert pdf(paper).startswith(b"%PDF")


def test_precharge_follows_the_rule_in_the_numbers() -> None:
    found = results(*SHELF, cut_in="40 psi", cut_out="60 psi", precharge_rule="cut_in_less_5_psi")
    (step,) = starting(section(found), "Precharge")
    assert step.numbers == "40.0 psi − 5.0 psi = 35.0 psi"
    assert found.setting is not None
    assert found.setting.precharge == pytest.approx(35 * PSI)


def test_the_order_is_from_what_is_asked_to_what_the_tank_gives() -> None:
    titles = list(formulas(section(results(*SHELF))))
    starts = ("Precharge", "Required", "Air pressure", "Drawdown, ", "Run", "Most")
    order = [next(n for n, title in enumerate(titles) if title.startswith(s)) for s in starts]
    assert all(a < b for a, b in pairwise(order))
