"""Evaluation, command line, window and paper say the same of the same 200 jobs.

The paper is what its PDF says: read back by its tags, its money by the hand-made reader of
``paper_sums``, and added up again.
"""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest

from tests.cli import band_figures, paper_figures
from tests.cli.figures import numbers
from tests.report import tagged
from tests.report.paper_sums import amount_in, check_sums
from tests.report.reading import reader
from tests.report.tagged import Node
from tests.whole_window.same_jobs import (
    JOBS,
    Asking,
    Record,
    Shown,
    Told,
    about,
    jobs,
    results_of,
    stops_of,
    system_of,
)
from workbench.job.job import Job
from workbench.job.paper_choices import Copy, Currency, MoneyForm, Paper, Rounding, WorkKind
from workbench.report.blocks import PaperContent, Table
from workbench.report.card import card_content
from workbench.report.estimate import estimate_content
from workbench.study.evaluate import Results
from workbench.study.findings import Level
from workbench.units import Display

BLOCKS = 8


@pytest.fixture
def asking(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Asking:
    return Asking(tmp_path, capsys, monkeypatch)


def test_the_jobs_are_of_every_kind() -> None:
    for name, every in (
        ("currency", Currency), ("money_form", MoneyForm), ("paper", Paper), ("copy_for", Copy),
        ("rounding", Rounding), ("work_kind", WorkKind),
    ):  # fmt: skip
        counted = Counter(getattr(job, name) for job in jobs())
        assert min(counted[one] for one in every) >= 5, name
    options = Counter(sum(bool(getattr(job, f"offer_{x}_tank")) for x in "bc") for job in jobs())
    assert min(options[count] for count in (0, 1, 2)) >= 5


# --- evaluation, command line, PDF ---


@pytest.mark.parametrize("block", range(BLOCKS))
def test_evaluation_json_and_pdf_have_the_same_numbers(asking: Asking, block: int) -> None:
    printed = refused = 0
    for number in range(block, JOBS, BLOCKS):
        with about(number):
            job = jobs()[number]
            told, results = asking.ask(number), results_of(job, asking.folder)
            check_bands(told, results)
            if stops_of(results):
                refused += 1
                check_refused(told.refusals["estimate"], results, Display(system_of(number)))
                assert told.estimate is None
                continue
            assert told.estimate is not None
            assert told.paper is not None
            printed += 1
            check_record(told.estimate, results)
            top = tagged.read(reader(told.paper))
            check_options(top, told.estimate, number)
            check_prices(top, told.estimate, job)
    assert printed >= 15
    assert refused >= 1


def check_bands(told: Told, results: Results) -> None:
    """The figures of ``bands --json`` are those of the evaluation."""
    view = results.bands
    stops = [one for one in (*results.findings, *view.findings) if one.level is Level.STOP]
    assert bool(stops) is (told.bands is None)
    if told.bands is not None:
        same_numbers(told.bands, band_figures.bands(view), ("catalog_rows_not_used",))


def check_record(record: Record, results: Results) -> None:
    """The figures of ``estimate --json`` are those of the evaluation, its amounts to the coin."""
    view = results.estimate
    same_numbers(record, paper_figures.estimate(view))
    assert len(record["options"]) == len(view.offers)
    for one, offer in zip(record["options"], view.offers, strict=True):
        assert offer.priced is not None
        assert offer.priced.totals is not None
        for told, line in zip(one["lines"], offer.priced.lines, strict=True):
            for name in ("quantity", "each", "amount"):
                assert Decimal(told[name]) == getattr(line, name)
        assert Decimal(one["totals"]["total"]) == offer.priced.totals.total
    told_codes = [one["code"] for one in record["findings"]]
    assert told_codes == [one.code for one in (*results.findings, *view.findings)]


def same_numbers(record: Record, wanted: Record, other: tuple[str, ...] = ()) -> None:
    """All numbers of a record but those named, and no others."""
    printed, expected = numbers(record), numbers(wanted)
    for name in other:
        del printed[(name,)]
    assert printed.keys() == expected.keys()
    for place, value in expected.items():
        assert printed[place] == pytest.approx(value, rel=1e-8, abs=1e-9), place


# --- the PDF against the JSON ---

GIVES = {
    "Total volume": ("total_volume_gal", "volume"),
    "Drawdown, water at each start": ("drawdown_gal", "volume"),
    "Run of the pump at no demand": ("run_time_min", "run"),
    "Starts an hour, worst case": ("worst_starts_per_hour", "hour"),
    "Starts a day, at most": ("starts_per_day_at_most", "day"),
}


def check_options(top: Node, record: Record, number: int) -> None:
    """The table of the options says what the JSON says."""
    job = jobs()[number]
    shown = Shown(system_of(number), job.money_form.value)
    table = options_table(top)
    assert len(table.rows[0]) == len(record["options"]) + 1
    rows = {row[0]: row[1:] for row in table.rows}
    for place, one in enumerate(record["options"]):
        assert rows["Tank"][place] == one["name"]
        for name, (key, kind) in GIVES.items():
            text, value = rows[name][place], one[key]
            if value is None:
                assert text in ("not known", "without end")
            else:
                shown.check(text, value, kind)
        low, high = rows["Pressure at the tank, lowest to highest"][place].split(" to ")
        shown.check(low, one["cut_in_psi"], "pressure", unit=False)
        shown.check(high, one["cut_out_psi"], "pressure")
        check_charge(rows["Precharge to set, tank drained"][place], one, shown)


def check_charge(text: str, one: Record, shown: Shown) -> None:
    if one["precharge_where_set_psi"] is None:
        shown.check(text, one["precharge_psi"], "pressure")
        return
    where_set, _, service = text.partition(" where it is set, ")
    shown.check(where_set, one["precharge_where_set_psi"], "pressure")
    shown.check(service.removesuffix(" in service"), one["precharge_psi"], "pressure")


def options_table(top: Node) -> tagged.Table:
    (table,) = [one for one in tagged.tables(top) if one.rows[0][0] == "What it gives"]
    return table


def check_prices(top: Node, record: Record, job: Job) -> None:
    """The totals, added again from the lines, are those of the table, the ticks and the JSON."""
    form = job.money_form.value
    totals = [Decimal(one["totals"]["total"]) for one in record["options"]]
    table = options_table(top)
    assert table.rows[-1][0] == "Price, with tax"
    assert [amount_in(cell, form) for cell in table.rows[-1][1:]] == totals
    if job.with_acceptance:
        told = [one.words() for one in top.every("LBody")]
        names = table.rows[0][1:]
        ends = [text[len(name) + 2 :] for text, name in zip(told, names, strict=True)]
        assert [amount_in(end, form) for end in ends] == totals
    if job.with_lines:
        tax = Decimal(str(job.tax).split(" ")[0])
        added = check_sums(top, form, tax, job.rounding.value)
        assert list(added) == table.rows[0][1:]
        assert list(added.values()) == totals


# --- the counter chart ---


@pytest.mark.parametrize("number", range(3, JOBS, 27))
def test_the_chart_has_the_same_numbers(asking: Asking, number: int) -> None:
    results, refusals = results_of(jobs()[number], asking.folder), dict[str, str]()
    record, paper = asking.paper(number, "chart", refusals)
    if results.chart.is_empty:
        assert "There is no chart. Mend first: " in refusals["chart"]
        return
    assert record is not None
    assert paper is not None
    same_numbers(record, paper_figures.chart(results.chart))
    shown = Shown(system_of(number), jobs()[number].money_form.value)
    _, charges, *rows = tagged.tables(tagged.read(reader(paper)))[0].rows
    for text, band in zip(charges[3:], record["bands"], strict=True):
        check_cell(text, band["precharge_psi"], "pressure", shown)
    for row, told in zip(rows, record["tanks"], strict=True):
        assert row[0].removesuffix(" *") == told["name"]
        for text, value in zip(row[3:], told["drawdown_gal"], strict=True):
            check_cell(text, value, "volume", shown)


def check_cell(text: str, value: float | None, kind: str, shown: Shown) -> None:
    if value is None:
        assert text in ("–", "– marking", "– charge")
    else:
        shown.check(text, value, kind, unit=False)


# --- stops ---


def check_refused(told: str, results: Results, display: Display) -> None:
    """Each stop is named."""
    assert "No estimate is written. Mend first: " in told
    for stop in stops_of(results):
        assert stop.told(display) in told


def test_a_stop_withholds_every_setting(asking: Asking) -> None:
    """On the paper that the window shows meanwhile, and on the card, which there is none of."""
    codes: set[str] = set()
    withheld = 0
    for number in range(JOBS):
        results = results_of(jobs()[number], asking.folder)
        every = stops_of(results)
        if not every:
            continue
        codes |= {one.code for one in every}
        with about(number):
            offers = [one for one in results.estimate.offers if one.one is not None]
            for text, one in zip(
                charges(estimate_content(results, Display())), offers, strict=True
            ):
                assert text.startswith("withheld: ") is bool(one.stops)
                withheld += bool(one.stops)
            if results.of_level(Level.STOP):
                assert isinstance(card_content(results, Display()), str)
    assert len(codes) >= 5, codes
    assert withheld >= 4


def charges(paper: PaperContent) -> tuple[str, ...]:
    """The precharge of each option that the paper shows."""
    (section,) = [one for one in paper.sections if one.key == "options"]
    tables = [block for block in section.blocks if isinstance(block, Table)]
    rows = [row for table in tables for row in table.rows]
    return next((row[1:] for row in rows if row[0].startswith("Precharge to set")), ())
