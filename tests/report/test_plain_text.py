"""A paper as text: its figures whole, its lines short; and as lines that can be compared."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.report import samples
from tests.report.reading import packed
from workbench.job.prices import Revision
from workbench.job.texts import LONGEST_TEXT
from workbench.report.blocks import Facts, PaperContent, Section, Table, Warn, Words
from workbench.report.paper_data import texts_of
from workbench.report.plain_text import WIDTH, content_lines, plain_text

PAPERS = {"estimate": samples.estimate, "card": samples.card, "chart": samples.chart}


def with_blocks(*blocks: object) -> PaperContent:
    section = Section(key="one", heading="One", blocks=blocks)  # type: ignore[arg-type]
    return replace(samples.estimate(), facts=(), sections=(section,))


@pytest.mark.parametrize("kind", PAPERS)
def test_every_text_stands_in_it_and_no_line_is_too_long(kind: str) -> None:
    content = PAPERS[kind]()
    text = plain_text(content)
    assert max(map(len, text.splitlines())) <= WIDTH
    whole = packed(text).lower()
    drawn = samples.plot()
    missing = [
        one
        for _, told in texts_of(content)
        for one in told.split()
        if packed(one).lower() not in whole and one not in drawn
    ]
    assert missing == []
    assert not any(line != line.rstrip() for line in text.splitlines())


def test_figures_of_a_table_stand_below_each_other() -> None:
    lines = plain_text(samples.estimate(items=12)).splitlines()
    ends = {len(line) for line in lines if line.startswith(("Part ", "Total"))}
    assert len(ends) == 1
    (header,) = [line for line in lines if line.startswith("Item")]
    assert header.endswith("Amount")
    assert {len(header)} == ends


def test_wide_cells_are_wrapped_within_their_column() -> None:
    table = Table(name="T", columns=("Item", "Told", "Amount"), rows=(
        ("one " * 20, "two " * 20, "$1.00"), ("short", "", "$22.00"),
    ))  # fmt: skip
    lines = plain_text(with_blocks(table)).splitlines()
    assert max(map(len, lines)) <= WIDTH
    (first,) = [line for line in lines if line.endswith("$1.00")]
    assert first.startswith("one one")


def test_a_table_without_room_is_told_row_by_row() -> None:
    columns = ("Tank", *(f"a-column-name-{n}" for n in range(6)))
    table = Table(name="T", columns=columns, rows=(("First", *"123456"), ("Other", *"abcdef")))
    text = plain_text(with_blocks(table))
    assert "First\n  a-column-name-0: 1\n  a-column-name-1: 2" in text


def test_a_warning_is_seen_in_text_too() -> None:
    text = plain_text(with_blocks(Warn(word="Danger", text="Mains voltage. " * 8)))
    marked = [line for line in text.splitlines() if line.startswith("! ")]
    assert marked[0].startswith("! DANGER: Mains voltage.")
    assert len(marked) == 2


def test_steps_and_lines_to_sign_can_be_filled_in() -> None:
    text = plain_text(samples.estimate())
    assert "[ ] 1. The water is off." in text
    assert "Customer, date ____" in text


def test_what_a_person_typed_keeps_its_lines() -> None:
    assert "alpha\nbeta\n" in plain_text(with_blocks(Words(text="alpha\r\nbeta")))


def test_each_statement_has_a_label_of_its_own() -> None:
    lines = content_lines(samples.estimate())
    found = dict(lines)
    assert len(found) == len(lines)
    assert found["Customer"].startswith("Sam Example (invented)")
    assert found["What was found / Drawdown, measured"] == "3.1 gal"
    assert found["What the options give / Price / B: longer run"] == "$1,322.00"
    assert found["Option A, line by line / Total / Amount"] == "$1,184.00"
    assert found["Schedule"].startswith("Work begins")
    assert found["Payment (2)"] == "No work without a written change order."
    assert found["How the figures come about / Precharge"] == "28 psi"
    assert not any(samples.FIRM in value for value in found.values())


def test_labels_stay_apart_even_when_texts_look_like_numbered_ones() -> None:
    facts = Facts(rows=(("A", "1"), ("A (2)", "2"), ("A", "3"), ("A", "4")))
    lines = content_lines(with_blocks(facts))
    assert [value for _, value in lines] == ["1", "2", "3", "4"]
    assert len({label for label, _ in lines}) == 4


def test_long_texts_are_kept_whole_in_pieces_that_a_job_may_hold() -> None:
    text = "".join(chr(97 + n % 26) for n in range(2 * LONGEST_TEXT + 5))
    lines = content_lines(with_blocks(Words(text=text), Facts(rows=(("x" * 4000, "y"),))))
    assert "".join(value for label, value in lines if label.startswith("One")
                   and "/" not in label) == text  # fmt: skip
    assert all(len(label) < 250 and len(value) <= LONGEST_TEXT for label, value in lines)


def test_lines_can_be_kept_in_a_job() -> None:
    from workbench.job.job import Job

    revision = Revision(
        number=1, date="2026-03-31", version="1", fingerprint="0",
        lines=content_lines(samples.estimate()),
    )  # fmt: skip
    assert Job().changed(revisions=(revision,)).revisions[0].lines == revision.lines


def test_empty_cells_and_texts_make_no_lines() -> None:
    table = Table(name="T", columns=("a", "b"), rows=(("r", ""),))
    assert content_lines(with_blocks(table, Words(text=""))) == ()


def test_a_table_that_is_called_as_its_section_is_named_once() -> None:
    table = Table(name="Readings", columns=("What", "Value"), rows=(("Cut-in", "30.0 psi"),))
    part = Section(key="one", heading="Readings", blocks=(table, replace(table, name="Others")))
    lines = plain_text(replace(samples.estimate(), sections=(part,))).splitlines()
    assert lines.count("Readings") == 1
    assert lines.count("Others") == 1
