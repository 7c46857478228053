"""The sheet of exercises: the class's page never holds an answer, the key holds all of them."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import Any

import pytest

from tests.report import tagged
from tests.report.reading import POINTS_PER_MM, lines_per_page, packed, reader, text_of
from tests.report.test_every_paper import (
    Made,
    check_claims,
    check_fonts,
    check_headings,
    check_pictures,
    check_texts,
)
from tests.study.build import COMMA, METRIC, US
from workbench import __version__
from workbench.job.job import Job
from workbench.job.options import option
from workbench.job.teach_choices import Degree, Fault, faults
from workbench.report.blocks import Facts, PaperContent, Section, Table
from workbench.report.estimate_words import printable
from workbench.report.exercise_key import figure_text, key_section
from workbench.report.exercise_questions import question_section
from workbench.report.exercise_slips import numbered_slips
from workbench.report.exercises import date_findings, sheet_content
from workbench.report.plain_text import plain_text
from workbench.report.typeset import FEWEST_LINES, PaperError, pdf
from workbench.study.evaluate import evaluate
from workbench.study.exercises.exercise import Exercise, Figure, Hunt, Pick, Topic
from workbench.study.exercises.making import exercise_set, make
from workbench.study.exercises.marking import right_answer
from workbench.study.exercises.slip import slips
from workbench.units import Display, Unread

SYSTEMS = pytest.mark.parametrize("display", [US, METRIC], ids=["us", "metric"])
WHO = pytest.mark.parametrize("who", ["class", "trainer"])
SEEDS = (1, 2, 77)
_COLOUR = r"([\d.]+) ([\d.]+) ([\d.]+) (?:rg|RG|sc|SC|scn|SCN)\b"


def job_of(**entries: Any) -> Job:
    return Job().changed(**{"class_name": "Apprentices", "class_date": "2026-03-31"} | entries)


def sheet(display: Display = US, **entries: Any) -> PaperContent:
    made = sheet_content(evaluate(job_of(**entries), None), display)
    assert isinstance(made, PaperContent), made
    return made


def refused(**entries: Any) -> str:
    made = sheet_content(evaluate(job_of(**entries), None), US)
    assert isinstance(made, str)
    return made


@cache
def exercises(seed: int = 1, count: int = 15, display: Display = US) -> tuple[Exercise, ...]:
    job = job_of(exercise_seed=str(seed), exercise_count=str(count))
    return exercise_set(job, display).exercises


def hunts() -> list[Exercise]:
    return [one for one in exercises() if isinstance(one.ask, Hunt)]


def cells(section: Section) -> list[tuple[str, ...]]:
    """The rows of the section's table."""
    (table,) = (block for block in section.blocks if isinstance(block, Table))
    return list(table.rows)


# --- what stands on it ---


@SYSTEMS
@pytest.mark.parametrize("seed", SEEDS)
def test_the_class_gets_every_question_and_the_key_every_answer(
    display: Display, seed: int
) -> None:
    entries = {"exercise_seed": str(seed), "exercise_count": "15"}
    asked = text_of(pdf(sheet(display, **entries)))
    key = text_of(pdf(sheet(display, **entries, sheet_for="trainer")))
    for one in exercises(seed, 15, display):
        for told in (one.title, one.story, one.question, *(t for row in one.given for t in row)):
            assert packed(printable(told)) in asked, told
        assert packed(printable(one.question)) in key
        for secret in answers(one):
            assert packed(printable(secret)) in key, secret
        for step in one.working:
            assert packed(step.numbers) in key
            assert not step.numbers or packed(step.numbers) not in asked, step


def answers(one: Exercise) -> list[str]:
    """All that only the trainer may see, as the key says it."""
    ask, labels = one.ask, slips()
    if isinstance(ask, Figure):
        wrong = [(figure_text(ask, value, one.display), labels[slip].label)
                 for slip, value in ask.slips]  # fmt: skip
        return [right_answer(one), *(text for row in wrong for text in row)]
    if isinstance(ask, Pick):
        named = [labels[option.slip].label for option in ask.options if option.slip]
        return [*(option.why for option in ask.options), *named]
    return [faults()[ask.fault].label, *(reading.shown for reading in ask.offered)]


@pytest.mark.parametrize("one", exercises(), ids=lambda one: f"{one.number} {one.sort}")
def test_the_class_gets_the_same_page_whatever_the_answer_is(one: Exercise) -> None:
    """So that nothing on it can tell the answer."""
    numbers = numbered_slips(exercises())
    other = replace(one, ask=another_answer(one), working=())
    assert question_section(other, numbers) == question_section(one, numbers)
    assert key_section(other, numbers) != key_section(one, numbers)


def another_answer(one: Exercise) -> Figure | Pick | Hunt:
    ask = one.ask
    if isinstance(ask, Figure):
        return replace(ask, right=ask.right * 1.5, slips=())
    if isinstance(ask, Pick):
        turned = [replace(o, right=not o.right, slip=None, why="") for o in ask.options]
        return replace(ask, options=tuple(turned))
    other = next(fault for fault in Fault if fault is not ask.fault)
    mute = tuple(replace(reading, shown="?", value=None) for reading in ask.offered)
    return replace(ask, fault=other, degree=Degree.SEVERE, offered=mute, cheapest=())


def test_a_wrong_number_stands_in_the_key_beside_its_error() -> None:
    found = 0
    for one in exercises(1, 40):
        if isinstance(one.ask, Figure):
            section = key_section(one, {})
            (facts,) = (block for block in section.blocks if isinstance(block, Facts))
            told = dict(facts.rows)
            for slip, value in one.ask.slips:
                wrong = printable(figure_text(one.ask, value, one.display))
                assert told[f"{wrong} instead"] == printable(slips()[slip].label)
                found += 1
            assert len(told) == 1 + len(one.ask.slips), "two errors read alike"
    assert found >= 20


# --- hunts on paper ---


def test_each_reading_has_a_slip_of_its_own_and_is_found_by_its_number() -> None:
    numbers = numbered_slips(exercises())
    assert sorted(numbers.values()) == list(range(1, len(numbers) + 1))
    last = sheet(exercise_count="15").sections[-1]
    assert last.key == "slips"
    table = {row[place]: row[place + 1] for row in cells(last) for place in (0, 2, 4) if row[place]}
    for one in hunts():
        assert isinstance(one.ask, Hunt)
        rows = cells(question_section(one, numbers))
        for reading, (name, _minutes, slip, blank) in zip(one.ask.offered, rows, strict=True):
            assert printable(reading.name) in name
            assert table[slip] == printable(reading.shown)
            assert set(blank) == {"_"}
    assert len(table) == sum(len(one.ask.offered) for one in hunts())  # type: ignore[union-attr]


def test_slips_that_follow_each_other_are_of_no_one_hunt_in_its_order() -> None:
    numbers = numbered_slips(exercises(3, 40))
    order = [place for place, _ in sorted(numbers.items(), key=lambda item: item[1])]
    given = [
        (one.number, reading.key)
        for one in exercises(3, 40)
        if isinstance(one.ask, Hunt)
        for reading in one.ask.offered
    ]
    follows = dict(pairwise(given))
    kept = sum(follows.get(a) == b for a, b in pairwise(order))
    assert kept <= len(order) // 10


def test_the_slips_stand_on_pages_of_their_own_at_the_end() -> None:
    pages = [packed(page.extract_text()) for page in reader(pdf(sheet())).pages]
    first = next(n for n, text in enumerate(pages) if "Readingslips" in text)
    assert first > 0
    questions = [packed(one.title) for one in exercises(1, 10)]
    assert not any(title in text for text in pages[first:] for title in questions)
    assert "Slip" not in packed(plain_text(sheet(topic_fault=False)))


# --- made again ---


@SYSTEMS
@WHO
def test_the_same_entries_make_the_same_bytes(display: Display, who: str) -> None:
    first = pdf(sheet(display, sheet_for=who))
    assert pdf(sheet(display, sheet_for=who)) == first
    assert pdf(sheet(display, sheet_for=who, exercise_seed="2")) != first


@SYSTEMS
def test_the_foot_names_all_that_the_exercises_follow_from(display: Display) -> None:
    entries = {"exercise_seed": "77", "exercise_count": "6", "topic_tank": False}
    foot = sheet(display, **entries).foot
    units = "US units" if display is US else "metric units"
    for told in (__version__, "seed 77", "6 of them", units):
        assert told in foot
    for topic in Topic:
        assert (option(f"topic_{topic.value}").tick in foot) is (topic is not Topic.TANK)


def test_the_numbers_are_written_as_the_firm_writes_them_not_the_machine() -> None:
    assert sheet(COMMA) == sheet(METRIC)
    german = plain_text(sheet(METRIC, money_form="de_DE", sheet_for="trainer"))
    assert re.search(r"\d,\d", german)
    assert german != plain_text(sheet(METRIC, sheet_for="trainer"))


# --- every page of it ---


@SYSTEMS
@WHO
@pytest.mark.parametrize("paper", ["us_letter", "a4"])
def test_it_is_tagged_embedded_whole_and_ends_well(display: Display, who: str, paper: str) -> None:
    content = sheet(display, sheet_for=who, paper=paper, exercise_count="15")
    data = pdf(content)
    read = reader(data)
    one = Made(content, data, read, tagged.read(read))
    check_claims(one)
    check_fonts(read)
    check_pictures(one)
    check_texts(one)
    check_headings(one.top)
    assert min(lines_per_page(data)) >= FEWEST_LINES


@WHO
@SYSTEMS
@pytest.mark.parametrize("seed", [5])
def test_nothing_runs_over_the_foot_of_a_page(display: Display, who: str, seed: int) -> None:
    content = sheet(display, sheet_for=who, exercise_seed=str(seed), exercise_count="40")
    for page in reader(pdf(content)).pages:
        low: list[str] = []

        def see(text: str, cm: Any, tm: Any, _f: Any, _s: Any, low: list[str] = low) -> None:
            height = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            if text.strip() and height < 22 * POINTS_PER_MM:
                low.append(text)

        page.extract_text(visitor_text=see)
        for text in low:
            assert packed(text) in packed(content.foot) or text.strip().startswith("page ")


def test_it_is_black_and_white() -> None:
    """Every colour that is set in it is grey, or so near that no printer makes it one."""
    colours = set()
    for who in ("class", "trainer"):
        for page in reader(pdf(sheet(sheet_for=who))).pages:
            drawn = page.get_contents()
            assert drawn is not None
            told = re.findall(_COLOUR, drawn.get_data().decode("latin-1"))
            colours |= {tuple(map(float, one)) for one in told}
    assert colours
    assert all(max(one) - min(one) < 0.08 for one in colours), colours


# --- what is entered ---


def test_name_and_day_of_the_class_stand_at_its_head() -> None:
    content = sheet(class_name="Apprentices, spring")
    assert content.facts == (("Class", "Apprentices, spring"), ("Date", "March 31, 2026"))
    assert content.date == "2026-03-31"
    assert sheet(class_name=" ", class_date="").facts == ()
    assert sheet(money_form="de_DE").facts[1] == ("Date", "31. März 2026")


EVIL = '#panic("x") *b* $x^2$ <a> @b = c // d \\u{41}\n- one\n= five'


@WHO
def test_what_a_person_types_is_printed_as_it_stands(who: str) -> None:
    data = pdf(sheet(class_name=EVIL, sheet_for=who))
    assert packed(EVIL) in text_of(data)


@pytest.mark.parametrize("name", ["W" * 4000, "Weighty words " * 280, "one\n" * 200])
def test_a_very_long_name_is_printed_whole(name: str) -> None:
    data = pdf(sheet(class_name=name, exercise_count="2"))
    assert packed(name) in packed(tagged.read(reader(data)).words())
    assert min(lines_per_page(data)) >= FEWEST_LINES


def test_a_character_that_the_font_lacks_is_refused_by_name() -> None:
    with pytest.raises(PaperError, match=r"U\+1F4A7"):
        pdf(sheet(class_name="Drops \U0001f4a7"))


@pytest.mark.parametrize(
    ("entries", "label", "word"),
    [
        ({"exercise_seed": "1.5"}, "Seed", "whole number"),
        ({"exercise_count": "41"}, "Exercises", "from 1 to 40"),
        ({"exercise_count": Unread("x", "Not a number.", "Type one.")}, "Exercises", "Type one."),
        ({f"topic_{topic.value}": False for topic in Topic}, "set a precharge", "Tick at least"),
        ({"class_date": "soon"}, "Date", "is no date"),
    ],
)
def test_a_stop_withholds_the_sheet_and_says_what_to_mend(
    entries: dict[str, Any], label: str, word: str
) -> None:
    told = refused(**entries)
    assert told.startswith("No sheet is made. Mend first: ")
    assert label in told
    assert word in told


def test_a_day_that_is_none_is_told_beside_its_entry() -> None:
    (finding,) = date_findings(job_of(class_date="31.3."))
    assert (finding.code, finding.field) == ("date_unread", "class_date")
    assert date_findings(job_of()) == ()


def test_a_stop_elsewhere_in_the_job_does_not_withhold_it() -> None:
    assert sheet(cut_out=Unread("x", "Not a number.", "Type one.")) == sheet()


def test_a_figure_is_fine_enough_to_be_told_from_its_neighbours() -> None:
    for display in (US, METRIC):
        for topic in Topic:
            for number in range(1, 8):
                ask = make(topic, 9, number, display).ask
                if isinstance(ask, Figure):
                    texts = [figure_text(ask, value, display) for _, value in ask.slips]
                    texts.append(figure_text(ask, ask.right, display))
                    assert len(set(texts)) == len(texts), texts
