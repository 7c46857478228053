"""What was sent is kept line by line, and what has changed since is told line by line."""

from __future__ import annotations

import datetime
import io
from collections import Counter
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from workbench import paths
from workbench.catalog.table import read_catalog
from workbench.job import document
from workbench.job.job import Job
from workbench.job.paper_choices import Copy, MoneyForm
from workbench.report.estimate import estimate_content
from workbench.report.fingerprint import fingerprint
from workbench.report.plain_text import content_lines
from workbench.report.revisions import (
    Change,
    Issue,
    Line,
    against,
    differences,
    issue,
    line_differences,
    next_number,
    revision_of,
    since_last,
    totals,
)
from workbench.report.typeset import pdf
from workbench.study.candidates import Candidates
from workbench.study.desk import candidates_of
from workbench.study.estimate.proposal import propose
from workbench.study.evaluate import Results, evaluate
from workbench.study.pricing.money import money
from workbench.units import MONEY, PRESSURE, Display, System, parse

TODAY = datetime.date(2026, 12, 1)
US, METRIC = Display(), Display(System.METRIC, ",")


@cache
def tanks() -> Candidates:
    found = candidates_of(read_catalog(paths.default_catalog()), 1, mixed=False)
    assert found is not None
    return found


@cache
def demo() -> Job:
    """The demo with the options that the program proposes for it."""
    job = document.read(paths.demo_job()).changed(header_tanks=1, mixed_sets=False)
    return job.changed(**propose(evaluate(job, tanks())))


def results(job: Job | None = None, **entries: Any) -> Results:
    return evaluate((job or demo()).changed(**entries), tanks())


def sent(found: Results, display: Display = US) -> tuple[Issue, Results]:
    """What is sent of these results, and the results of the job that keeps it."""
    made = issue(found, display, TODAY)
    return made, results(found.job, **made.changes)


def changes(before: dict[str, str], after: dict[str, str]) -> list[tuple[str, ...]]:
    found = line_differences(before.items(), after.items())
    return [(one.change.value, one.label, one.before, one.after) for one in found]


def test_a_revision_keeps_every_line_of_the_paper_that_is_sent() -> None:
    made, _ = sent(results())
    assert made.revision.lines == content_lines(made.content)
    assert made.revision.number == 1
    assert made.revision.date == "2026-11-25"
    assert dict(made.revision.lines)["Revision"] == "Revision 1"
    assert made.revision.fingerprint == fingerprint(results())
    assert made.revision.fingerprint in made.content.foot


@pytest.mark.parametrize("display", [US, METRIC])
def test_every_value_that_a_revision_keeps_is_read_in_its_pdf(display: Display) -> None:
    made, _ = sent(results(), display)
    pages = PdfReader(io.BytesIO(pdf(made.content))).pages
    read = "".join("".join(page.extract_text() for page in pages).split())
    for label, value in made.revision.lines:
        assert "".join(value.split()) in read, label


def test_totals_are_those_of_the_options() -> None:
    made, after = sent(results())
    offers = after.estimate.offers
    priced = [offer.priced.totals for offer in offers if offer.priced and offer.priced.totals]
    assert len(priced) == len(offers) >= 2
    assert [value for _, value in totals(made.revision)] == [
        money(one.total, after.job) for one in priced
    ]


def test_an_estimate_without_a_date_gets_the_day_on_which_it_is_sent() -> None:
    made, after = sent(results(estimate_date=" "))
    assert made.changes["estimate_date"] == after.job.estimate_date == "2026-12-01"
    assert made.revision.date == "2026-12-01"
    assert dict(made.revision.lines)["Date"] == "December 1, 2026"
    since = since_last(after, US)
    assert since is not None
    assert since.same_inputs


def test_a_date_that_was_typed_stays() -> None:
    made, _ = sent(results())
    assert made.changes["estimate_date"] == "2026-11-25"


def test_what_is_sent_is_the_customers_copy_without_cost() -> None:
    made, after = sent(results(copy_for=Copy.OFFICE))
    assert made.revision.lines == sent(results())[0].revision.lines
    assert after.job.copy_for is Copy.OFFICE
    assert estimate_content(after, US).title != made.content.title
    since = since_last(after, US)
    assert since is not None
    assert since.same_inputs


def test_the_same_job_makes_the_same_revision_and_the_same_bytes() -> None:
    first, second = issue(results(), US, TODAY), issue(results(), US, TODAY)
    assert first.revision == second.revision
    assert pdf(first.content) == pdf(second.content)


def test_nothing_has_changed_right_after_sending_in_whatever_units() -> None:
    assert since_last(results(), US) is None
    made, after = sent(results())
    for display in (US, METRIC):
        since = since_last(after, display)
        assert since is not None
        assert (since.last, since.same_inputs, since.differences) == (made.revision, True, ())
        assert against(made.revision, after, display) == ()


def test_a_changed_price_is_told_with_its_value_before_and_after() -> None:
    made, after = sent(results())
    dearer = results(after.job, labour_rate=parse("100", MONEY))
    since = since_last(dearer, US)
    assert since is not None
    assert not since.same_inputs
    told = {(one.label, one.before, one.after) for one in since.differences}
    options = totals(made.revision), totals(revision_of(dearer, US, 1))
    for (label, before), (_, now) in zip(*options, strict=True):
        assert before != now
        assert (f"Options side by side / Price, with tax / {label}", before, now) in told
    assert all(one.change is Change.CHANGED for one in since.differences)


def test_the_present_is_compared_in_the_units_that_were_sent() -> None:
    made, after = sent(results(), METRIC)
    later = results(after.job, permit_note="Number 7.")
    shown_in_us = against(made.revision, later, US)
    assert [(one.label, one.after) for one in shown_in_us] == [("Permit and licence", "Number 7.")]
    assert shown_in_us == against(made.revision, later, METRIC)


def test_a_changed_input_that_no_line_tells_is_no_line() -> None:
    _, after = sent(results())
    since = since_last(results(after.job, card_note="For the card only."), US)
    assert since is not None
    assert not since.same_inputs
    assert since.differences == ()


def test_an_option_that_is_called_otherwise_is_told_once() -> None:
    _, after = sent(results(with_acceptance=False))
    for name, seen in (("Cheap", "Cheap"), ("", "Option B")):
        since = since_last(results(after.job, offer_b_label=name), US)
        assert since is not None
        before = after.job.offer_b_label
        assert [(one.label, one.before, one.after) for one in since.differences] == [
            ("Name of option B", before, seen)
        ]


def test_two_revisions_are_compared_by_what_was_sent_not_by_what_is_now() -> None:
    first, after = sent(results())
    second, _ = sent(results(after.job, problem="It hums."))
    assert second.revision.number == 2
    found = differences(first.revision, second.revision)
    assert [(one.label, one.before, one.after) for one in found] == [
        ("Problem", demo().problem, "It hums.")
    ]
    back = differences(second.revision, first.revision)
    assert [(one.before, one.after) for one in back] == [("It hums.", demo().problem)]


def test_an_option_that_was_taken_away_is_told_line_by_line() -> None:
    both = results(with_lines=False)
    third = {"offer_c_tank": both.job.offer_a_tank, "offer_c_label": "Third"}
    first, after = sent(results(both.job, **third))
    found = against(first.revision, results(after.job, **dict.fromkeys(third, "")), US)
    assert {one.change for one in found} == {Change.REMOVED}
    removed = [one for one in found if one.change is Change.REMOVED]
    price = dict(totals(first.revision))["C: Third"]
    assert ("Options side by side / Price, with tax / C: Third", price) in {
        (one.label, one.before) for one in removed
    }


def test_numbers_go_on_from_the_highest() -> None:
    made, after = sent(results())
    assert next_number(()) == 1
    assert next_number((replace(made.revision, number=7), made.revision)) == 8
    assert sent(after)[0].revision.number == 2


def test_a_job_with_revisions_is_saved_and_read_with_all_their_lines() -> None:
    _, after = sent(results(money_form=MoneyForm.DE_DE))
    _, twice = sent(results(after.job, cut_out=parse("52 psi", PRESSURE)), METRIC)
    again = document.from_bytes(document.to_bytes(twice.job), "again")
    assert again.revisions == twice.job.revisions
    assert [one.number for one in again.revisions] == [1, 2]


# --- lines ---


def test_lines_are_added_removed_and_changed_in_the_order_of_the_paper() -> None:
    before = {"Number": "7", "Problem": "hums", "Total": "$1", "Permit": "ours"}
    after = {"Number": "7", "Site": "cabin", "Total": "$2", "Warranty": "none"}
    assert changes(before, after) == [
        ("removed", "Problem", "hums", ""),
        ("added", "Site", "", "cabin"),
        ("changed", "Total", "$1", "$2"),
        ("removed", "Permit", "ours", ""),
        ("added", "Warranty", "", "none"),
    ]


def test_what_is_gone_from_the_top_stands_first() -> None:
    assert changes({"Number": "7", "Total": "$1"}, {"Total": "$1"}) == [
        ("removed", "Number", "7", "")
    ]


def test_a_line_put_before_others_of_its_label_is_the_only_one_told() -> None:
    before = {"Cautions": "one", "Cautions (2)": "two"}
    after = {"Cautions": "new", "Cautions (2)": "one", "Cautions (3)": "two"}
    assert changes(before, after) == [("added", "Cautions", "", "new")]


LINES = st.lists(
    st.tuples(st.sampled_from(["a", "b", "b (2)", "T / A: x", "T / A: y", "T / B: x"]),
              st.sampled_from(["", "1", "2", "3"])),
    max_size=8,
)  # fmt: skip


@given(LINES)
def test_equal_lines_have_no_difference(lines: list[Line]) -> None:
    renamed = {"T / A: x", "T / A: y"}
    if not renamed <= {label for label, _ in lines}:
        assert line_differences(lines, lines) == ()


@given(LINES, LINES)
def test_the_differences_account_for_every_value(before: list[Line], after: list[Line]) -> None:
    """What was, without what is told as gone, and with what is told as new, is what is."""
    found = [
        one for one in line_differences(before, after) if not one.label.startswith("Name of option")
    ]
    was = Counter(value for _, value in before)
    was.subtract(one.before for one in found if one.change is not Change.ADDED)
    was.update(one.after for one in found if one.change is not Change.REMOVED)
    assert +was == Counter(value for _, value in after)
