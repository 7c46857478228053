"""What the window shows of a job is what the command line tells and what its papers say."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.report import tagged
from tests.report.any_paper import write_catalog
from tests.report.paper_sums import COMMA, amount_in
from tests.report.reading import packed, reader, text_of
from tests.whole_window.same_jobs import (
    Asking,
    Record,
    Shown,
    Told,
    about,
    jobs,
    stops_of,
    system_of,
)
from tests.whole_window.user import User, at_window, few_tanks
from workbench.catalog.table import read_catalog
from workbench.job.labels import label_of
from workbench.report.typeset import pdf
from workbench.study.evaluate import Results
from workbench.units import Display

EVERY, LAST = 9, 182  # twenty jobs; an odd step, so that both systems of units come
NONE = "—"


@pytest.fixture
def asking(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Asking:
    return Asking(tmp_path, capsys, monkeypatch)


def test_the_window_shows_what_json_and_pdf_say(qtbot: QtBot, asking: Asking) -> None:
    user = at_window(qtbot, catalog=few_tanks())
    printed = stopped = 0
    for number in range(2, LAST, EVERY):
        with about(number):
            results = opened(user, number, asking.folder)
            told = asking.ask(number)
            check_bands_page(user, told, results, number)
            if told.estimate is None:
                stopped += 1
                check_why_not(user, results)
            else:
                printed += 1
                check_estimate_page(user, told, number)
                check_prices_page(user, told.estimate, number)
            check_card_page(user, asking, number)
    assert printed >= 12
    assert stopped >= 3
    assert printed + stopped == 20


def opened(user: User, number: int, folder: Path) -> Results:
    """Open a job with the tanks in its currency, in its units; what follows from it."""
    job = jobs()[number]
    user.window.go("tank")
    user.store.set_catalog(read_catalog(write_catalog(folder, job.currency)))
    user.store.open_job(job, None)
    user.store.set_display(Display(system_of(number)))
    assert user.store.results is not None
    return user.store.results


def page_of(user: User, key: str) -> Any:
    user.window.go(key)
    return user.window.page_of(key)


# --- estimate ---


def check_estimate_page(user: User, told: Told, number: int) -> None:
    """Every figure of the options is that of the JSON, and stands in the PDF as it is shown."""
    assert told.estimate is not None
    assert told.paper is not None
    page, form = page_of(user, "estimate"), jobs()[number].money_form.value
    shown, text = Shown(system_of(number), form), text_of(told.paper)
    answers = [one for one in page.answers if not one.isHidden()]
    for answer, one in zip(answers, told.estimate["options"], strict=True):
        price, does = answer.figure.text(), answer.reason.text()
        assert amount_in(price, form) == Decimal(one["totals"]["total"])
        assert packed(price) in text
        drawdown, _, rest = does.rpartition(": ")[2].partition(" drawdown, ")
        run, _, band = rest.partition(" run at ")
        shown.check(drawdown, one["drawdown_gal"], "volume")
        shown.check(run, one["run_time_min"], "run")
        assert packed(drawdown) in text
        assert packed(run) in text
        assert band == one["band"]
    assert page.record_button.isEnabled()


def check_why_not(user: User, results: Results) -> None:
    """No estimate can be sent; the page tells each stop, or where it is to be mended."""
    page = page_of(user, "estimate")
    assert not page.record_button.isEnabled()
    assert page.record_button.toolTip()
    told = " ".join(
        [
            page.record_button.toolTip(),
            *page.messages.texts(),
            *(row.message.text() for row in page.inputs.rows.values()),
            *(answer.reason.text() for answer in page.answers),
        ]
    )
    for stop in stops_of(results):
        assert stop.told(user.store.display) in told or label_of(stop.field) in told
    for answer, offer in zip(page.answers, results.estimate.offers, strict=False):
        if offer.one is None:
            assert answer.figure.text() == NONE


# --- bands ---

ROWS = {
    "Drawdown": ("drawdown_gal", "volume"),
    "Run, no tap open": ("run_time_min", "run"),
    "Starts an hour at worst": ("worst_starts_per_hour", "hour"),
    "Precharge moves": ("precharge_moves_psi", "pressure"),
    "Head at cut-out": ("head_at_cut_out_ft", "head"),
    "Lowest fixture, cut-out": ("lowest_fixture_psi", "pressure"),
    "Highest fixture, cut-in": ("highest_fixture_psi", "pressure"),
    "Relief valve above cut-out": ("relief_above_cut_out_psi", "pressure"),
}


def check_bands_page(user: User, told: Told, results: Results, number: int) -> None:
    page, shown = page_of(user, "bands"), Shown(system_of(number))
    if told.bands is None:
        check_no_charge(page, results)
        return
    headings, *rows = page.table.texts()
    assert len(headings) == len(told.bands["bands"]) + 1
    cells = {row[0]: row[1:] for row in rows}
    for place, one in enumerate(told.bands["bands"]):
        for name, (key, kind) in ROWS.items():
            if name in cells:
                check_cell(cells[name][place], one[key], kind, shown)
        charge = cells["Precharge to set"][place]
        if one["precharge_psi"] is None:
            assert charge == "withheld"
            continue
        where, _, service = charge.removesuffix(" in service").rpartition(", ")
        shown.check(service, one["precharge_psi"], "pressure")
        if where:
            shown.check(where, one["precharge_where_set_psi"], "pressure")


def check_no_charge(page: Any, results: Results) -> None:
    """No precharge is told for a band that a stop of its own stands against."""
    if page.table.isHidden():
        assert page.cost.figure.text() == NONE
        assert page.cost.reason.text()
        return
    (charges,) = [row[1:] for row in page.table.texts() if row[0] == "Precharge to set"]
    for charge, one in zip(charges, results.bands.columns, strict=True):
        assert (charge == "withheld") is (one.precharge is None)
        assert not (one.is_stopped and one.precharge)


def check_cell(text: str, value: float | None, kind: str, shown: Shown) -> None:
    """The figure at the beginning of a cell; a remark may follow it."""
    if value is None:
        assert text in (NONE, "never stops", "not known", "∞"), text
        return
    figure = text.partition(", ")[0].lstrip("+")
    if kind == "volume" and value < 1 and len(figure.partition(".")[2].split()[0]) == 2:
        return  # small waters have a decimal more
    shown.check(figure, value, kind)


# --- prices, card ---


def check_prices_page(user: User, record: Record, number: int) -> None:
    """The total of the first option."""
    page, form = page_of(user, "prices"), jobs()[number].money_form.value
    total = Decimal(record["options"][0]["totals"]["total"])
    assert amount_in(page.total.figure.text(), form) == total


def check_card_page(user: User, asking: Asking, number: int) -> None:
    """The precharge of the bench and the band stand on the card, or nobody prints one."""
    refusals: dict[str, str] = {}
    record, made = asking.paper(number, "card", refusals)
    user.window.go("tank")
    charge = user.figures()[1]
    page = page_of(user, "card")
    if record is None:
        assert "No setting is printed. Mend first: " in refusals["card"]
        assert page.preview.page_count == 0
        assert page.preview.words.text().startswith("No setting is printed. Mend first: ")
        assert not page.save_button.isEnabled()
        return
    assert made is not None
    text, form = text_of(made), jobs()[number].money_form.value
    assert packed(charge.replace(".", "," if form in COMMA else ".")) in text
    check_large_figures(made, record, Shown(system_of(number), form))
    shown = Shown(system_of(number))
    where = record["precharge_where_set_psi"]
    shown.check(charge, record["precharge_psi"] if where is None else where, "pressure")
    page.copy()
    assert_found(QApplication.clipboard().text(), text)


def check_large_figures(made: bytes, record: Record, shown: Shown) -> None:
    """What is to be read from afar: band and precharge."""
    words = tagged.read(reader(made)).words()
    charge = re.search(r"Precharge, tank drained ([\d.,]+ \w+)", words)
    band = re.search(r"pump starts / stops ([\d.,]+)/([\d.,]+) (\w+)", words)
    assert charge is not None
    assert band is not None
    shown.check(charge[1], record["precharge_psi"], "pressure")
    for text, value in zip(
        band.groups(), (record["cut_in_psi"], record["cut_out_psi"]), strict=False
    ):
        if band[3] == "psi":  # as it was typed
            assert float(text.replace(",", ".")) == pytest.approx(value, abs=0.0501)
        else:
            shown.check(text, value, "pressure", unit=False)


def assert_found(shown: str, text: str) -> None:
    """Every word with a digit stands in a packed text."""
    figures = {word for word in shown.split() if any(letter.isdigit() for letter in word)}
    assert [one for one in figures if packed(one) not in text] == []


# --- the chart ---


@pytest.mark.parametrize("number", [4, 7])
def test_the_chart_says_what_the_bench_shows(qtbot: QtBot, asking: Asking, number: int) -> None:
    """At the job's band each tank has the drawdown of the ranking; every cell is in the PDF."""
    user = at_window(qtbot, catalog=few_tanks())
    results = opened(user, number, asking.folder)
    ranked = dict(zip(user.column("Tank"), user.column("Drawdown"), strict=True))
    page = page_of(user, "chart")
    made = pdf(page.content(results, user.store.display))
    drawdowns = tagged.tables(tagged.read(reader(made)))[0]
    own = next(n for n, band in enumerate(results.chart.bands) if band.is_own)
    compared = 0
    for row in drawdowns.rows[2:]:
        cell = row[3 + own].replace(",", ".")
        name = row[0].removesuffix(" *")
        if name in ranked and not cell.startswith("–"):  # the table fetches its last rows later
            assert cell == ranked[name]
            compared += 1
    assert compared >= 3
    page.copy()
    assert_found(QApplication.clipboard().text(), text_of(made))
