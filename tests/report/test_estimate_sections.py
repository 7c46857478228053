"""The estimate on paper: its sections, what is open on it, and whose words they are."""

from __future__ import annotations

import io
import random
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from decimal import Decimal

import pytest
from pypdf import PdfReader

from tests.cli.any_job import any_job
from tests.report.estimate_build import SI, US, content, demo, headings, of, printed
from tests.study.build import arranged
from workbench import __version__, paths
from workbench.catalog.table import read_catalog
from workbench.job.prices import Revision
from workbench.report.blocks import Formula, PaperContent, Picture, Table, Warn
from workbench.report.estimate import TO_FILL_IN, estimate_content
from workbench.report.fingerprint import fingerprint
from workbench.report.plain_text import plain_text
from workbench.report.typeset import PaperError, pdf
from workbench.study.desk import load_candidates
from workbench.study.evaluate import evaluate
from workbench.units import (
    TIME,
    VOLUME,
)

# --- sections ---

SWITCHED = {
    "with_readings": "readings",
    "with_lines": "lines",
    "with_allowances": "allowances",
    "with_assumptions": "assumptions",
    "with_exclusions": "exclusions",
    "with_schedule": "schedule",
    "with_payment": "payment",
    "with_warranty": "warranty",
    "with_permit": "permit",
    "with_acceptance": "acceptance",
}


@pytest.mark.parametrize(("tick", "key"), SWITCHED.items())
def test_a_section_that_is_switched_off_vanishes(tick: str, key: str) -> None:
    assert key in headings(content())
    without = content(**{tick: False})
    assert key not in headings(without)
    assert set(headings(without)) == set(headings(content())) - {key}


def test_plot_and_working_are_switched_too() -> None:
    def pictures(paper: PaperContent) -> int:
        return sum(isinstance(b, Picture) for s in paper.sections for b in s.blocks)

    assert (pictures(content()), pictures(content(with_plot=False))) == (1, 0)
    assert "working" not in headings(content())
    worked = content(with_working=True)
    assert headings(worked).count("working") == 3
    steps = [b for s in worked.sections if s.key == "working" for b in s.blocks]
    formulas = [block for block in steps if isinstance(block, Formula)]
    assert all(formulas.count(one) == 1 for one in formulas)  # told once, not for every option
    assert "US Standard Atmosphere 1976" in printed(worked)


def test_cautions_cannot_be_switched_off() -> None:
    off = dict.fromkeys([*SWITCHED, "with_plot"], False)
    text = printed(content(**off))
    assert "power off, locked out and proven dead" in text
    assert "do not replace local codes" in text


@pytest.mark.parametrize(
    ("clause", "key"),
    [
        ("clause_allowances", "allowances"),
        ("clause_exclusions", "exclusions"),
        ("clause_schedule", "schedule"),
        ("clause_payment", "payment"),
        ("clause_warranty", "warranty"),
        ("problem", "problem"),
    ],
)
def test_an_empty_clause_leaves_its_section_out(clause: str, key: str) -> None:
    assert key in headings(content())
    assert key not in headings(content(**{clause: " \n"}))


# --- what is open ---


def test_questions_that_are_not_answered_are_said_openly() -> None:
    text = printed(content(permit="not_answered", licence="not_answered"))
    assert "Permit NOT ANSWERED" in text
    assert "Licence NOT ANSWERED" in text
    assert "Whether a permit is needed here is not answered." in text


def test_an_estimate_without_a_date_has_a_line_to_fill_in() -> None:
    facts = dict(content(estimate_date="").facts)
    assert facts["Date"] == facts["Valid until"] == TO_FILL_IN
    assert "nobody knows until when it binds" in printed(content(estimate_date=""))


def test_invented_prices_are_told_until_the_tick_is_taken_away() -> None:
    assert "The prices are invented" in printed(content())
    assert "The prices are invented" not in printed(content(prices_invented=False))


def test_remedies_are_for_who_writes_the_estimate() -> None:
    remedy = "then take its tick away"
    assert remedy not in printed(content())
    assert remedy in printed(content(copy_for="office"))


def test_a_setting_is_withheld_while_a_stop_stands_against_it() -> None:
    entries = {"precharge_rule": "typed", "precharge": "52 psi", "offer_a_tank": "birch-60-v",
               "offer_b_tank": "", "offer_c_tank": ""}  # fmt: skip
    paper = content(**entries)
    text = printed(paper)
    assert "withheld: The precharge is at or above cut-out" in text
    (section,) = [s for s in paper.sections if s.key == "options"]
    table = next(block for block in section.blocks if isinstance(block, Table))
    (charge,) = [row for row in table.rows if row[0].startswith("Precharge")]
    assert "52" not in charge[1]


def test_an_option_whose_band_cannot_be_reached_has_no_figures() -> None:
    text = printed(
        content(pump_entry="curve", water_level="120 ft", run_time="0.5 min",
                offer_b_tank="alder-80-v", offer_b_band="70/90 psi", offer_c_tank="")
    )  # fmt: skip
    assert "Precharge to set, tank drained 28.0 psi Drawdown" in text
    assert "Alder 80 V" not in text
    assert "Stop Option B:" in text


def test_what_does_not_pass_is_offered_with_the_reason() -> None:
    text = printed(content(offer_b_tank="birch-16-v", offer_c_tank=""))
    assert "Option B does not meet what this job asks. Gives" in text
    assert "less than the 16.5 gal required" in text


def test_a_tank_that_is_gone_leaves_the_others() -> None:
    text = printed(content(offer_b_tank="sold-out", offer_c_tank=""))
    assert "No tank of the catalogue is called sold-out now" in text
    assert "Birch 60 V" in text


def test_a_caution_of_a_band_that_no_option_has_is_left_out() -> None:
    high = {"cut_in": "70 psi", "cut_out": "90 psi", "offer_b_tank": "", "offer_c_tank": ""}
    assert "Above the 80 psi" in printed(content(**high, offer_a_tank="alder-80-v"))
    low = content(**high, offer_a_tank="alder-80-v", offer_a_band="30/50 psi")
    assert "Above the 80 psi" not in printed(low)


def test_without_any_tank_the_paper_says_so() -> None:
    paper = estimate_content(evaluate(demo(), None), US)
    assert "No option can be offered" in printed(paper)
    assert not any(isinstance(b, Picture) for s in paper.sections for b in s.blocks)


# --- texts and forms ---

HOSTILE = '#set page(fill: red) $x^2$ *bold* _it_ `raw` \\ <b>&amp;</b> = Head @ref "q" // c {no}'


def test_what_a_person_types_is_never_markup() -> None:
    entries = dict.fromkeys(
        ("firm_name", "customer_name", "problem", "scope", "found_note", "clause_payment",
         "clause_acceptance", "permit_note", "offer_a_label", "prepared_by", "estimate_number"),
        HOSTILE,
    )  # fmt: skip
    paper = content(**entries)
    text = printed(paper).replace(" ", "")
    assert text.count(HOSTILE.replace(" ", "")) >= len(entries)
    assert HOSTILE.replace(" ", "") in plain_text(paper).replace(" ", "").replace("\n", "")


def test_a_character_that_the_font_lacks_is_refused_with_its_place() -> None:
    with pytest.raises(PaperError, match="Payment"):
        pdf(content(clause_payment="By card \U0001f4b3 or cash."))


@pytest.mark.parametrize("chance", range(24))
def test_any_job_makes_a_paper_that_can_be_set(chance: int) -> None:
    """Whatever stops and findings there are: none of our own words lacks a character."""
    job = any_job(random.Random(chance))
    job = replace(
        job, prices=demo().prices, offer_b_tank="alder-80-v", with_working=True, paper=demo().paper
    )
    there = evaluate(job, load_candidates(paths.default_catalog(), job)[1])
    data = pdf(estimate_content(there, (US, SI)[chance % 2]))
    assert data.startswith(b"%PDF-")


def test_numbers_follow_the_form_of_the_money() -> None:
    text = printed(content(money_form="de_DE", currency="USD"))
    assert "17,8 gal" in text
    assert "17.8 gal" not in text
    assert "1.247,16" in text
    assert "0,5" in text  # on the axis of the run
    assert "0.5" not in text
    assert "25. November 2026" in text


@pytest.mark.parametrize(("paper", "width"), [("us_letter", 612), ("a4", 595)])
def test_both_sheets_hold_it(paper: str, width: int) -> None:
    pages = PdfReader(io.BytesIO(pdf(content(paper=paper)))).pages
    assert {round(float(page.mediabox.width)) for page in pages} == {width}
    for page in pages:
        assert len(page.extract_text().splitlines()) >= 5  # three lines besides head and foot


def test_the_same_inputs_give_the_same_bytes() -> None:
    assert pdf(content()) == pdf(content())


# --- the picture ---


def test_the_picture_carries_its_figures_and_says_them() -> None:
    there = of()
    (section,) = [s for s in estimate_content(there, US).sections if s.key == "options"]
    (picture,) = [block for block in section.blocks if isinstance(block, Picture)]
    texts = [node.text for node in ET.fromstring(picture.svg).iter() if node.text]  # noqa: S314
    for offer in there.estimate.offers:
        assert offer.one is not None
        for figure in (US.number(offer.one.drawdown, VOLUME), US.number(offer.one.run_time, TIME)):
            assert figure in texts
            assert f"{offer.letter} {figure}" in picture.told
    assert {"30 to 50", "40 to 60"} <= set(texts)


# --- revision and fingerprint ---


def sent(number: int, mark: str, version: str = __version__) -> Revision:
    return Revision(number=number, date="2026-11-26", version=version, fingerprint=mark, lines=())


def test_a_paper_knows_what_was_sent() -> None:
    mark = fingerprint(of())

    def revision(*revisions: Revision, number: int | None = None) -> str:
        paper = estimate_content(of(revisions=revisions), US, number)
        return dict(paper.facts)["Revision"]

    assert revision() == "Draft"
    assert revision(sent(1, mark)) == "Revision 1, sent 2026-11-26"
    assert revision(sent(1, mark), sent(2, "other")) == "Draft, changed since revision 2"
    assert revision(sent(1, mark, "0.0")) == "Draft, changed since revision 1"
    assert revision(sent(1, mark), number=2) == "Revision 2"


def test_the_fingerprint_is_of_the_inputs() -> None:
    mark = fingerprint(of())
    assert re.fullmatch("[0-9a-f]{12}", mark)
    assert fingerprint(of(copy_for="office")) == mark
    assert fingerprint(of(revisions=(sent(1, "x"),))) == mark
    for change in ({"pump_flow": "11.5 gpm"}, {"scope": "Other"}, {"tax": "7 %"},
                   {"offer_b_tank": ""}, {"with_plot": False}):  # fmt: skip
        assert fingerprint(of(**change)) != mark, change


def test_the_fingerprint_is_of_the_tanks_that_are_used() -> None:
    rows = read_catalog(paths.default_catalog()).tanks

    def mark(name: str) -> str:
        changed = [
            one.model_copy(update={"price": Decimal(1)}) if one.name == name else one
            for one in rows
        ]
        # the order of price alone moves no option: A is named
        job = demo().changed(offer_a_tank="birch-60-v", first_tank="birch-60-v")
        return fingerprint(evaluate(job, arranged(changed)))

    assert mark("Alder 80 V") != mark("")
    assert mark("Willow 20 G") == mark("")


def test_a_stop_and_a_caution_carry_their_word() -> None:
    paper = content(offer_b_tank="sold-out")
    (section,) = [s for s in paper.sections if s.key == "cautions"]
    words = [block.word for block in section.blocks if isinstance(block, Warn)]
    assert words[0] == "Stop"
    assert "Caution" in words
