"""The estimate on paper: its figures are those of the view, its sums can be added again."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

import pytest

from tests.report.estimate_build import SI, US, content, demo, lines_of, of, printed
from workbench import __version__
from workbench.report.blocks import Table
from workbench.report.estimate import estimate_content
from workbench.report.estimate_lines import common_lines
from workbench.report.estimate_words import band_words
from workbench.report.fingerprint import fingerprint
from workbench.study.estimate.offers import Offer
from workbench.study.pricing.money import date_text, money
from workbench.units import (
    FLOW,
    PRESSURE,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
)

AMOUNT = re.compile(r"\$([\d,]+\.\d\d)$")


# --- the figures ---


def figures(offer: Offer, display: Display) -> Iterator[str]:
    one, charge = offer.one, offer.precharge
    assert one is not None
    assert charge is not None
    assert offer.starts_per_day is not None
    assert offer.priced is not None
    assert offer.priced.totals is not None
    yield one.name
    yield band_words(offer.results.job, display)
    yield display.text(charge.in_service, PRESSURE)
    yield display.text(one.total_volume, VOLUME)
    yield display.text(one.drawdown, VOLUME)
    yield display.text(one.run_time, TIME)
    yield display.number(one.starts, STARTS_PER_HOUR)
    yield display.number(offer.starts_per_day, STARTS_PER_DAY, 0)
    yield money(offer.priced.totals.total, offer.results.job)


@pytest.mark.parametrize("display", [US, SI])
def test_every_figure_of_the_view_stands_in_the_pdf(display: Display) -> None:
    there = of()
    text = printed(estimate_content(there, display))
    view = there.estimate
    assert len(view.offers) == 3
    for offer in view.offers:
        assert [figure for figure in figures(offer, display) if figure not in text] == []
        assert offer.priced is not None
        for line in offer.priced.lines:
            assert line.name in text
            assert money(line.amount, there.job) in text
    assert view.found.flow is not None
    assert display.text(view.found.flow, FLOW) in text
    assert view.valid_until is not None
    assert date_text(view.valid_until, there.job) in text
    assert fingerprint(there) in text
    assert __version__ in text


def test_the_options_stand_in_columns_in_their_order() -> None:
    (section,) = [s for s in content().sections if s.key == "options"]
    table = next(block for block in section.blocks if isinstance(block, Table))
    assert [name.partition(":")[0] for name in table.columns[1:]] == ["A", "B", "C"]
    rows = {cells[0]: cells[1:] for cells in table.rows}
    assert rows["Switch band, cut-in/cut-out"] == ("30/50 psi", "30/50 psi", "40/60 psi")
    assert rows["Precharge to set, tank drained"] == ("28.0 psi", "28.0 psi", "38.0 psi")


def test_the_extra_money_is_told_in_differences_of_the_written_figures() -> None:
    paper = content()
    (section,) = [s for s in paper.sections if s.key == "options"]
    table = next(block for block in section.blocks if isinstance(block, Table))
    rows = {cells[0]: cells[1:] for cells in table.rows}
    text = printed(paper)

    def number(row: str, column: int) -> Decimal:
        return Decimal(re.sub(r"[^\d.]", "", rows[row][column].split()[0]))

    for column in (1, 2):
        water = number("Drawdown, water at each start", column) - number(
            "Drawdown, water at each start", 0
        )
        starts = number("Starts a day, at most", 0) - number("Starts a day, at most", column)
        price = number("Price, with tax", column) - number("Price, with tax", 0)
        assert f"${price} more than A" in text
        assert f"{water} gal more water at each start" in text
        assert f"{starts} fewer starts a day" in text
    assert "10.0 psi more pressure at every tap" in text


def test_a_lower_option_is_told_as_such() -> None:
    text = printed(
        content(offer_a_tank="rowan-85-v", offer_b_tank="birch-60-v", offer_b_label="",
                offer_c_tank="birch-60-v", offer_c_band="30/50 psi")
    )  # fmt: skip
    assert "less than A and gives 7.5 gal less water at each start" in text
    assert "more starts a day" in text


def test_a_band_moved_at_one_end_is_told_by_its_ends() -> None:
    text = printed(content(offer_b_band="30/60 psi", offer_c_tank=""))
    assert "10.0 psi more pressure at cut-out" in text
    assert "at every tap" not in text


# --- the sums ---


def test_the_totals_can_be_added_again_from_the_pdf() -> None:
    lines = lines_of(content())
    start = lines.index("In every option")
    common, totals = added(lines[start:], "Together, in every option")
    assert sum(common) == totals
    job = demo()
    for offer in of().estimate.offers:
        begin = next(n for n in range(start, len(lines)) if lines[n] == f"{offer.letter}: "
                     f"{offer.label}")  # fmt: skip
        amounts = {
            text.rpartition(" ")[0]: Decimal(found[1].replace(",", ""))
            for text in lines[begin : begin + 8]
            if (found := AMOUNT.search(text))
        }
        together = next(v for k, v in amounts.items() if k == "Together")
        tax = next(v for k, v in amounts.items() if k.startswith("Sales tax, 6 %"))
        total = next(v for k, v in amounts.items() if k == "Total")
        items = [v for k, v in amounts.items()][: list(amounts).index("Together")]
        assert sum(items) == together
        assert together + tax == total
        assert offer.priced is not None
        assert offer.priced.totals is not None
        assert offer.priced.totals.total == total
        taxed = [line.amount for line in offer.priced.lines if line.taxed]
        assert tax == (sum(taxed) * Decimal("0.06")).quantize(Decimal("0.01"), "ROUND_HALF_UP")
        assert money(total, job) in lines[-1] or any(
            f"{offer.label}, {money(total, job)}" in line for line in lines
        )


def added(lines: list[str], end: str) -> tuple[list[Decimal], Decimal]:
    amounts = []
    for line in lines:
        found = AMOUNT.search(line)
        if found is None:
            continue
        amount = Decimal(found[1].replace(",", ""))
        if line.startswith(end):
            return amounts, amount
        amounts.append(amount)
    raise AssertionError(f"no line begins with {end}")


def test_a_rounded_total_shows_its_rounding() -> None:
    there = of(rounding="to_10", offer_b_tank="", offer_c_tank="")
    text = printed(estimate_content(there, US))
    totals = there.estimate.offers[0].priced
    assert totals is not None
    assert totals.totals is not None
    assert f"Rounding {money(totals.totals.rounding, there.job)}" in text
    assert totals.totals.total % 10 == 0


def test_lines_that_all_options_have_stand_once() -> None:
    there = of()
    priced = [offer.priced for offer in there.estimate.offers if offer.priced]
    shared = common_lines(priced)
    assert shared
    assert all(line in one.lines for one in priced for line in shared)
    assert common_lines(priced[:1]) == ()
    text = printed(estimate_content(there, US))
    assert text.count("Relief valve *") == 1


def test_one_option_alone_has_all_its_lines_in_one_table() -> None:
    text = printed(content(offer_b_tank="", offer_c_tank=""))
    assert "In every option" not in text
    assert "Birch 60 V * 1 each $445.00 $445.00" in text


# --- what is secret ---


def test_no_cost_stands_on_the_customers_copy() -> None:
    there = of(tank_price="cost")
    office = estimate_content(of(tank_price="cost", copy_for="office"), US)
    customer = printed(estimate_content(there, US))
    secret = printed(office)
    costs = {
        money(line.cost, there.job)
        for offer in there.estimate.offers
        if offer.priced
        for line in offer.priced.lines
        if line.cost
    }
    priced = {
        money(amount, there.job)
        for offer in there.estimate.offers
        if offer.priced
        for line in offer.priced.lines
        for amount in (line.each, line.amount)
    }
    assert len(costs) > 10
    assert [cost for cost in costs if cost not in secret] == []
    assert [cost for cost in costs - priced if re.search(re.escape(cost) + r"\b", customer)] == []
    for word in ("Cost", "Margin", "office copy"):
        assert word in secret
        assert word not in customer


def test_the_office_copy_adds_cost_and_margin() -> None:
    there = of(tank_price="cost", copy_for="office")
    text = printed(estimate_content(there, US))
    for offer in there.estimate.offers:
        assert offer.priced is not None
        totals = offer.priced.totals
        assert totals is not None
        assert totals.cost is not None
        assert totals.margin is not None
        ends = " ".join(money(x, there.job) for x in (totals.total, totals.cost, totals.margin))
        assert f"Total {ends}" in text


def test_an_unknown_cost_is_said_to_be_so() -> None:
    assert "not known not known" in printed(content(copy_for="office"))
