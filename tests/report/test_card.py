"""The setting card on paper: one page, every figure, the binding order; nothing at a stop."""

from __future__ import annotations

import random
import re
from itertools import pairwise
from typing import Any

import pytest

from tests.cli.any_job import any_job
from tests.report.reading import fonts, packed, reader, tags
from tests.study.build import METRIC, US, arranged, results, tank
from workbench import paths
from workbench.job import document
from workbench.job.job import Job
from workbench.report.blocks import Large, PaperContent, Ticks
from workbench.report.card import card_content
from workbench.report.fingerprint import fingerprint
from workbench.report.plain_text import plain_text
from workbench.report.typeset import pdf
from workbench.study.card import LONGEST, card_view
from workbench.study.evaluate import Results, evaluate
from workbench.study.findings import Level
from workbench.units import MASS, PRESSURE, SHORT_TIME, VOLUME, Display, Unread

SYSTEMS = pytest.mark.parametrize("display", [US, METRIC], ids=["us", "metric"])
SHEETS = pytest.mark.parametrize("sheet", ["us_letter", "a4"])
SHELF = (
    tank("Usual 85", acceptance=60),
    tank("small", total_volume=30, diameter=18, height=35, price="300"),
    tank("large", total_volume=119, diameter=26, height=66),
)


def of(**entries: Any) -> Results:
    return results(*SHELF, **{"first_tank": "usual-85", "relief_setting": "100 psi"} | entries)


def card(found: Results, display: Display = US) -> PaperContent:
    made = card_content(found, display)
    assert isinstance(made, PaperContent), made
    return made


def printed(paper: PaperContent) -> tuple[str, int]:
    """The text of the PDF without its blanks, and its pages."""
    read = reader(pdf(paper))
    return packed("".join(page.extract_text() for page in read.pages)), len(read.pages)


def steps(paper: PaperContent) -> tuple[str, ...]:
    (ticks,) = (b for part in paper.sections for b in part.blocks if isinstance(b, Ticks))
    return ticks.steps


@SYSTEMS
@SHEETS
def test_every_figure_of_the_view_stands_in_the_pdf(display: Display, sheet: str) -> None:
    found = of(paper=sheet, reading_temperature="90 °F", set_date="2026-03-31", set_by="R. Sample",
               card_note="Valve behind the beam.")  # fmt: skip
    view = card_view(found)
    text, pages = printed(card(found, display))
    assert pages == 1
    setting, one, spread = view.setting, view.tank, view.spread
    assert setting is not None
    assert one is not None
    assert spread is not None
    for value in (
        *(setting.precharge + way * spread.precharge for way in (-1, 0, 1)),
        *(setting.cut_in + way * spread.cut_in for way in (-1, 1)),
        *(setting.cut_out + way * spread.cut_out for way in (-1, 1)),
        *(view.where_set, view.marked, view.highest, view.relief, view.alarm_low, view.alarm_high),
    ):
        assert value is not None
        assert packed(display.number(value, PRESSURE)) in text
    assert view.full_water is not None
    for told in (
        display.text(one.drawdown, VOLUME),
        display.text(one.total_volume, VOLUME),
        display.text(one.run_time, SHORT_TIME),
        display.text(view.full_water, MASS, 0),
        one.name,
        "R. Sample",
        "March 31, 2026",
        "Valve behind the beam.",
        fingerprint(found),
    ):
        assert packed(told) in text


def test_band_and_precharge_are_the_large_figures() -> None:
    def large(display: Display, **entries: Any) -> list[str]:
        (part, *_) = card(of(**entries), display).sections
        return [block.value for block in part.blocks if isinstance(block, Large)]

    assert large(US) == ["30/50 psi", "28.0 psi"]
    assert large(METRIC) == ["207/345 kPa", "193 kPa"]
    assert large(US, cut_in="2 bar", cut_out="3.5 bar") == ["29.0/50.8 psi", "27.0 psi"]
    assert large(METRIC, money_form="de_DE")[0] == "207/345 kPa"
    assert large(US, cut_in="30.5 psi", money_form="de_DE")[0] == "30,5/50 psi"


def test_the_other_units_of_a_gauge_stand_small_beside_them() -> None:
    assert "193 kPa" in plain_text(card(of()))
    metric = plain_text(card(of(), METRIC))
    assert "1.93 bar" in metric
    assert "28.0 psi" in metric


def test_the_steps_keep_the_binding_order() -> None:
    told = steps(card(of()))
    order = ("Tell the customer", "lock and tag", "gauge is at zero", "Only now", "Set the pre",
             "relief valve", "Restore power", "one whole cycle", "Soap", "Record")  # fmt: skip
    assert len(told) == len(order)
    for step, word in zip(told, order, strict=True):
        assert word in step


def test_cautions_of_the_trade_stand_on_it() -> None:
    text = plain_text(card(of()))
    for words in ("lock and tag it", "proven before and after", "nothing comes",
                  "stand clear of the dome", "Never above 125.0 psi",
                  "nothing to close between it and", "Local codes", "heavier"):  # fmt: skip
        assert words in re.sub(r"\s+(! )?", " ", text), words


def test_an_unknown_relief_valve_is_looked_for_against_the_marking() -> None:
    (step,) = (one for one in steps(card(of(relief_setting=None))) if "relief valve" in one)
    assert "set no higher than 125.0 psi" in step.replace("\u00a0", " ")


@SYSTEMS
def test_no_line_ends_inside_a_pressure(display: Display) -> None:
    for cut_in in range(30, 45):
        found = of(cut_in=f"{cut_in}.5 psi", cut_out="77.7 psi")
        (page,) = reader(pdf(card(found, display))).pages
        lines = [line.strip() for line in page.extract_text().splitlines() if line.strip()]
        for line, below in pairwise(lines):
            assert not re.search(r"\d[.,]$", line), (line, below)
            assert not re.match(r"\d+ ?(psi|kPa)\b", below) or not line[-1].isdigit()


def test_what_is_left_empty_is_left_for_the_pen() -> None:
    blank = plain_text(card(of()))
    assert "Set on ___" in blank
    assert "Set by ___" in blank
    filled = plain_text(card(of(set_by="R. Sample", set_date="2026-03-31")))
    assert "Set on ___" not in filled
    assert "Next check on ___" in filled


@pytest.mark.parametrize(
    ("entries", "word"),
    [
        ({"cut_out": "20 psi"}, "Cut-out: "),
        ({"first_tank": "gone"}, "Tank: "),
        ({"relief_setting": "126 psi"}, "Relief valve: "),
        ({"precharge_rule": "typed", "precharge": "50 psi"}, "Precharge: "),
        ({"tol_precharge": Unread("x", "Not a number.", "Type one.")}, "Precharge ±: "),
        ({"door_width": Unread("x", "Not a number.", "Type one.")}, "Door width: "),
        ({"pump_entry": "two_flows", "flow_at_cut_in": "9 gpm", "flow_at_cut_out": "0.1 gpm",
          "flow_out_at": "40 psi"}, ""),
    ],
)  # fmt: skip
def test_while_a_stop_is_open_no_setting_is_printed(entries: dict[str, Any], word: str) -> None:
    found = of(**entries)
    stops = (*found.of_level(Level.STOP), *card_view(found).stops)
    assert stops
    made = card_content(found, US)
    assert isinstance(made, str)
    assert made.startswith("No setting is printed. Mend first: ")
    assert word in made
    assert stops[0].remedy in made


@SYSTEMS
@SHEETS
@pytest.mark.parametrize("letters", ["W" * 200, "Weighty words wrapped widely, " * 7])
def test_the_longest_texts_and_all_cautions_still_take_one_page(
    letters: str, sheet: str, display: Display
) -> None:
    name = letters[:120].strip(" ,")
    pair = [
        tank(str(number), total_volume=85 + number).model_copy(
            update={"id": str(number), "name": f"{name[:-1]}{number}"}
        )
        for number in (1, 2)
    ]
    note = letters[: LONGEST["card_note"]].strip()
    job = document.read(paths.demo_job()).changed(
        paper=sheet,
        mixed_sets=True,
        first_tank="1 + 2",
        door_width=None,
        headroom=None,
        firm_name=letters[: LONGEST["firm_name"]],
        firm_contact=f"{letters[:60].strip()}\n{letters[:39].strip()}",
        set_by=letters[: LONGEST["set_by"]],
        card_note=f"{note[:99].strip()}\n{note[100:].strip()}",
        set_date="",
        reading_temperature="70 °F",
        reading_altitude="10000 ft",
        cut_in="65 psi",
        cut_out="85 psi",
        precharge_rule="typed",
        precharge="66 psi",
        relief_setting="100 psi",
        pump_entry="curve",
        curve="0 gpm 500 ft; 5 gpm 472 ft; 11 gpm 416 ft; 14 gpm 200 ft",
    )
    found = evaluate(job, arranged(pair, 1, mixed=True))
    assert len(card_view(found).cautions) == 3
    text, pages = printed(card(found, display))
    assert pages == 1
    for one in pair:
        assert packed(one.name) in text
    assert packed(note[-60:]) in text


def test_a_longer_remark_is_refused_and_never_cut() -> None:
    made = card_content(of(card_note="x" * 4000), US)
    assert isinstance(made, str)
    assert "Remark" in made
    assert "4000 characters" in made


@pytest.mark.parametrize("chance", range(24))
def test_any_job_has_a_card_of_one_page_or_the_reason(chance: int) -> None:
    job = any_job(random.Random(chance))
    found = evaluate(job, arranged(SHELF, job.header_tanks, mixed=job.mixed_sets))
    display = METRIC if chance % 2 else US
    made = card_content(found, display)
    view = card_view(found)
    if isinstance(made, str):
        assert found.of_level(Level.STOP) or view.stops
        return
    assert not found.of_level(Level.STOP)
    text, pages = printed(made)
    assert pages == 1
    assert found.precharge is not None
    assert packed(display.text(found.precharge.in_service, PRESSURE)) in text


def test_what_a_person_types_is_never_markup() -> None:
    evil = '#panic() *x* $y$ \\ "z" <a> @b'
    text, _ = printed(card(of(card_note=evil, set_by=evil)))
    assert text.count(packed(evil)) == 2


def test_it_is_tagged_in_bundled_fonts_and_the_same_every_time() -> None:
    data = pdf(card(of()))
    assert data == pdf(card(of()))
    assert tags(data)["LI"] == len(steps(card(of())))
    assert fonts(data) == {"NotoSans-Regular": True, "NotoSans-Bold": True}


def test_the_fingerprint_follows_the_inputs() -> None:
    assert card(of()).foot == card(of()).foot
    assert card(of()).foot != card(of(cut_in="31 psi")).foot


def test_a_job_keeps_what_was_typed() -> None:
    before = Job().changed(card_note="x" * 4000)
    assert before.card_note == "x" * 4000  # refused on paper, kept in the job
