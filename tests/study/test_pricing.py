"""Prices in exact decimals, against invoices worked by hand; every finding of a price list."""

from __future__ import annotations

import dataclasses
import datetime
import locale
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal, localcontext
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import job, only, tank
from workbench.job.job import Job
from workbench.job.paper_choices import Currency, ItemKind, MoneyForm, Rounding
from workbench.study.findings import Finding, Level
from workbench.study.pricing.money import (
    coin,
    date_text,
    decimal_mark,
    money,
    number_text,
    rounded_total,
    to_coin,
)
from workbench.study.pricing.parts import usual_items
from workbench.study.pricing.view import Line, Priced, price, price_rows

NOTE, CAUTION, STOP = Level.NOTE, Level.CAUTION, Level.STOP
CENT = Decimal("0.01")
ONE = only(tank(price="800"))
NONE = {"code": "", "kind": "part", "unit": "each"}
NO_WORK = tuple({"code": code, "quantity": "0"} for code in usual_items())
"""Nothing is taken but what a test names."""


def item(code: str, price: str | None = None, **others: Any) -> dict[str, Any]:
    return NONE | {"code": code, "name": code.title(), "price": price} | others


def times(**quantities: str) -> tuple[dict[str, Any], ...]:
    typed = tuple({"code": code, "quantity": text} for code, text in quantities.items())
    return typed + tuple(one for one in NO_WORK if one["code"] not in quantities)


def priced(*items: dict[str, Any], one: Any = ONE, **entries: Any) -> Priced:
    usual = {"prices": items, "counts": times(), "tank_taxed": False}
    return price(job(**usual | entries), one, band_moves=False)


def amounts(found: Priced) -> list[str]:
    return [str(line.amount) for line in found.lines]


def codes(found: Priced, level: Level | None = None) -> list[str]:
    return [f.code for f in found.findings if level is None or f.level is level]


def finding(found: Priced, code: str) -> Finding:
    (one,) = [f for f in found.findings if f.code == code]
    return one


# --- invoices worked by hand ---


def test_an_invoice_with_half_cents() -> None:
    # 3 × 0.335 = 1.005 -> 1.01; 7 × 1.115 = 7.805 -> 7.81; tax on both: 8.82 × 6.25 % = 0.55125
    # -> 0.55; with the tank 800.00 + 8.82 + 0.55 = 809.37.
    found = priced(
        item("tee", "0.335"),
        item("own", "1.115"),
        counts=times(tee="3", own="7"),
        tax="6.25 %",
    )
    assert amounts(found) == ["800.00", "1.01", "7.81"]
    totals = found.totals
    assert totals is not None
    assert (totals.parts, totals.labour, totals.fees) == (
        Decimal("808.82"),
        Decimal(0),
        Decimal(0),
    )
    assert totals.taxable == Decimal("8.82")
    assert totals.tax == Decimal("0.55")
    assert totals.total == Decimal("809.37")
    assert totals.rounding == 0


def test_a_tax_of_exactly_half_a_cent_goes_up() -> None:
    found = priced(item("own", "0.10"), counts=times(own="1"), tax="5 %")
    assert found.totals is not None
    assert found.totals.tax == Decimal("0.01")  # 0.005; to even it would be 0.00


def test_markup_is_added_to_a_cost_and_rounded_to_the_coin() -> None:
    # 24.99 × 1.375 = 34.36125 -> 34.36; two of them 68.72.
    found = priced(item("own", cost="24.99"), counts=times(own="2"), markup="37.5 %")
    line = found.lines[1]
    assert (line.each, line.amount, line.cost) == (
        Decimal("34.36"),
        Decimal("68.72"),
        Decimal("49.98"),
    )


def test_a_selling_price_goes_before_cost_and_markup() -> None:
    found = priced(item("own", "30", cost="24.99"), counts=times(own="2"), markup="37.5 %")
    assert found.lines[1].amount == Decimal("60.00")
    assert found.lines[1].cost == Decimal("49.98")


def test_labour_is_hours_at_the_firms_rate() -> None:
    # 1.25 h × 97.50 = 121.875 -> 121.88; cost 1.25 × 41.30 = 51.625 -> 51.63.
    found = priced(
        item("labour_header", hours="1.25", kind="labour", taxed=False),
        counts=times(labour_header="1"),
        labour_rate="97.50",
        labour_cost="41.30",
        tax="10 %",
    )
    line = found.lines[1]
    assert (line.each, line.amount, line.cost) == (
        Decimal("121.88"),
        Decimal("121.88"),
        Decimal("51.63"),
    )
    assert found.totals is not None
    assert found.totals.labour == Decimal("121.88")
    assert found.totals.tax == 0


def test_margin_is_what_stays_of_the_price_without_tax() -> None:
    # tank 800 × 1.40 = 1120.00, cost 800; own 30.00, cost 20.00; before rounding 1150.00, tax 10 %
    # of 30 = 3.00; 1153.00 to a whole 5: 1155.00, so 2.00 more; margin 1150 + 2 - 820 = 332.
    found = priced(
        item("own", "30", cost="20"),
        counts=times(own="1"),
        tank_price="cost",
        markup="40 %",
        tax="10 %",
        rounding="to_5",
    )
    totals = found.totals
    assert totals is not None
    assert (totals.total, totals.rounding) == (Decimal("1155.00"), Decimal("2.00"))
    assert (totals.cost, totals.margin) == (Decimal("820.00"), Decimal("332.00"))


def test_an_unknown_cost_leaves_cost_and_margin_unknown() -> None:
    totals = priced(item("own", "30", cost="20"), counts=times(own="1")).totals
    assert totals is not None  # the catalogue's price is what a customer pays
    assert totals.cost is totals.margin is None


@pytest.mark.parametrize(
    ("rule", "total", "rounding"),
    [
        (Rounding.COIN, "802.50", "0.00"),
        (Rounding.ONE, "803.00", "0.50"),
        (Rounding.FIVE, "805.00", "2.50"),
        (Rounding.TEN, "800.00", "-2.50"),
    ],
)
def test_the_total_is_rounded_by_the_firms_rule_and_the_difference_is_an_amount(
    rule: Rounding, total: str, rounding: str
) -> None:
    totals = priced(item("own", "2.5"), counts=times(own="1"), rounding=rule).totals
    assert totals is not None
    assert (str(totals.total), str(totals.rounding)) == (total, rounding)
    assert totals.subtotal + totals.tax + totals.rounding == totals.total


def test_several_tanks_are_one_line_for_each_kind() -> None:
    one = only(tank("A 85", price="400.25"))
    pair = dataclasses.replace(one, parts=(*one.parts, *one.parts))
    found = priced(item("own", "1"), one=pair)
    (line,) = found.lines
    assert (line.code, line.quantity, line.amount) == (
        "tank",
        Decimal(2),
        Decimal("800.50"),
    )
    other = tank("B 84", total_volume=84, price="200")
    found = priced(item("own", "1"), one=dataclasses.replace(one, parts=(*one.parts, other)))
    assert [(line.name, line.amount) for line in found.lines] == [
        ("A 85", Decimal("400.25")),
        ("B 84", Decimal("200.00")),
    ]


def test_tanks_are_taxed_where_the_firm_says_so() -> None:
    for taxed, tax in ((True, "40.00"), (False, "0.00")):
        totals = priced(item("own", "1"), tank_taxed=taxed, tax="5 %").totals
        assert totals is not None
        assert str(totals.tax) == tax


# --- quantities ---


def test_quantities_follow_from_the_arrangement_unless_typed() -> None:
    items = tuple(item(code, "1") for code in ("tee", "pad", "sample", "own", "pipe"))
    counts = ({"code": "sample", "quantity": "0"}, {"code": "pipe", "quantity": "12.345"})
    found = price(job(prices=items, counts=counts), ONE, band_moves=False)
    assert [(line.code, line.quantity, line.by_hand) for line in found.lines[1:]] == [
        ("tee", 1, False),
        ("pad", 1, False),
        ("pipe", Decimal("12.345"), True),
    ]


def test_the_rows_of_the_list_have_their_reasons() -> None:
    wanted = job(prices=(item("tee", "1"), item("own", "1")))
    tee, own = price_rows(wanted, ONE, band_moves=False)
    assert tee.counted is not None
    assert tee.counted.quantity == 1
    assert own.counted is None
    assert own.quantity == 0
    tee, own = price_rows(wanted, None, band_moves=False)
    assert tee.counted is None
    assert tee.quantity == 0


def test_a_band_that_moves_puts_a_switch_into_a_swap() -> None:
    wanted = job(prices=(item("switch", "30"),), work_kind="tank_alone")
    assert [line.code for line in price(wanted, ONE, band_moves=True).lines] == ["tank", "switch"]
    assert [line.code for line in price(wanted, ONE, band_moves=False).lines] == ["tank"]


# --- what stands in the way ---


def test_without_a_price_list_there_is_no_total() -> None:
    found = priced()
    assert found.totals is None
    assert "Our firm" in finding(found, "no_prices").remedy


def test_a_missing_price_is_named_and_stops_the_total() -> None:
    found = priced(item("tee"), counts=times(tee="1"))
    assert found.totals is None
    missing = finding(found, "price_missing")
    assert missing.level is STOP
    assert missing.text == "Tee has neither a price nor a cost."
    found = priced(item("tee", kind="labour"), counts=times(tee="1"))
    assert finding(found, "price_missing").text == "Tee has neither hours nor a price."


def test_what_is_not_taken_needs_no_price_and_no_name() -> None:
    found = priced(item("tee", name=""), counts=times())
    assert found.totals is not None
    assert "item_without_name" in codes(priced(item("tee", "1", name=" "), counts=times(tee="1")))


@pytest.mark.parametrize("column", ["cost", "price", "hours"])
def test_a_figure_that_cannot_be_read_or_is_negative_names_its_row(column: str) -> None:
    found = priced(item("tee", "1") | {column: "twelve"})
    assert found.totals is None
    assert finding(found, "unread").text.startswith(f"Tee, {column}: “twelve”")
    found = priced(item("tee", "1") | {column: "-3"})
    assert found.totals is None
    assert finding(found, "item_below_zero").text == f"Tee, {column}: it cannot be below zero."
    (row,) = price_rows(job(prices=(item("tee", "1") | {column: "-3"},)), ONE, band_moves=False)
    assert column in [problem.column for problem in row.problems]


def test_a_quantity_that_cannot_be_read_or_is_negative_names_its_row() -> None:
    for text, code in (("some", "unread"), ("-1", "item_below_zero")):
        found = priced(item("tee", "1"), counts=times(tee=text))
        assert found.totals is None
        assert finding(found, code).field == "counts"
        assert finding(found, code).text.startswith("Tee, quantity: ")


def test_hours_need_a_rate_only_where_they_are_charged() -> None:
    labour = item("labour_header", hours="2", kind="labour")
    found = priced(labour, counts=times(labour_header="1"))
    assert found.totals is None
    assert finding(found, "labour_rate_missing").field == "labour_rate"
    assert priced(labour).totals is not None


def test_hours_beside_a_price_are_charged_and_said() -> None:
    found = priced(item("own", "5", hours="2"), counts=times(own="1"), labour_rate="10")
    assert found.lines[1].amount == Decimal("20.00")
    assert finding(found, "hours_and_price").level is CAUTION


@pytest.mark.parametrize("name", ["markup", "labour_rate", "labour_cost", "tax"])
def test_a_rate_that_cannot_be_used_stops_the_total(name: str) -> None:
    for text, code in (("much", "unread"), ("-1", "below_zero")):
        sign = "" if name.startswith("labour") else " %"
        found = priced(item("own", "1"), **{name: text + sign})
        assert found.totals is None
        assert (finding(found, code).field, finding(found, code).level) == (name, STOP)


def test_an_unread_rate_is_not_called_missing() -> None:
    labour = item("labour_header", hours="2", kind="labour")
    found = priced(labour, counts=times(labour_header="1"), labour_rate="much")
    assert "labour_rate_missing" not in codes(found)


def test_a_price_below_the_smallest_coin_is_refused_rather_than_lost() -> None:
    found = priced(item("own", cost="0.003"), counts=times(own="1000"))
    assert found.totals is None
    assert finding(found, "price_below_coin").level is STOP


def test_a_code_that_stands_twice_stops_the_total() -> None:
    found = priced(item("tee", "1"), item("tee", "2", name="Other"))
    assert found.totals is None
    assert finding(found, "item_twice").text.endswith("Tee, Other.")
    assert "item_twice" in codes(priced(item("tank", "1")), STOP)
    twice = (*times(tee="1"), {"code": "tee", "quantity": "2"})
    assert "quantity_twice" in codes(priced(item("tee", "1"), counts=twice), STOP)


def test_a_quantity_without_its_item_stops_the_total() -> None:
    found = priced(item("tee", "1"), counts=times(gone="2"))
    assert found.totals is None
    assert "“gone”" in finding(found, "quantity_of_nothing").text


def test_parts_that_the_list_does_not_have_are_named() -> None:
    found = price(job(prices=(item("tee", "1"),)), ONE, band_moves=False)
    missing = finding(found, "part_not_listed")
    assert missing.level is CAUTION
    assert "Relief valve" in missing.text
    assert "Tank tee" not in missing.text
    assert "part_not_listed" not in codes(priced(item("tee", "1")))  # zeros by hand


def test_a_tank_without_a_price_stops_its_option() -> None:
    found = priced(item("own", "1"), one=only(tank(price=None)))
    assert found.totals is None
    assert finding(found, "tank_without_price").text.startswith("Invented 85 has no price")


def test_a_tank_priced_in_another_currency_is_not_added_up() -> None:
    found = priced(item("own", "1"), currency="CAD")
    assert found.totals is None
    stop = finding(found, "tank_currency")
    assert (stop.level, stop.field) == (STOP, "currency")
    assert "USD" in stop.text
    assert "CAD" in stop.text


def test_invented_prices_say_so() -> None:
    found = priced(item("own", "1"), prices_invented=True)
    assert found.totals is not None
    assert finding(found, "prices_invented").level is CAUTION


def test_a_plain_tank_asks_for_the_check_valve() -> None:
    wanted = job(prices=(item("check_valve", "1"),), work_kind="plain_tank_replaced")
    found = price(wanted, ONE, band_moves=False)
    assert finding(found, "check_valve_open").level is NOTE
    typed = wanted.changed(counts=({"code": "check_valve", "quantity": "1"},))
    assert "check_valve_open" not in codes(price(typed, ONE, band_moves=False))


# --- properties ---

_DIGITS = st.decimals(0, 10**9, places=4, allow_nan=False).map(lambda d: f"{d:f}")
_ROW = st.tuples(_DIGITS, _DIGITS, st.booleans(), st.sampled_from(list(ItemKind)))


def invoice(rows: Sequence[tuple[str, str, bool, ItemKind]], **entries: Any) -> Priced:
    items = tuple(
        item(f"own{k}", text, taxed=taxed, kind=kind)
        for k, (text, _, taxed, kind) in enumerate(rows)
    )
    counts = times(**{f"own{k}": quantity for k, (_, quantity, *_) in enumerate(rows)})
    return priced(*items, counts=counts, **entries)


@settings(max_examples=60)
@given(
    st.lists(_ROW, min_size=1, max_size=8),
    st.decimals(0, 100, places=3).map(lambda d: f"{d:f} %"),
    st.sampled_from(list(Rounding)),
)
def test_the_total_is_the_sum_of_its_lines_tax_and_rounding(
    rows: list[tuple[str, str, bool, ItemKind]], tax: str, rounding: Rounding
) -> None:
    found = invoice(rows, tax=tax, rounding=rounding)
    totals = found.totals
    assert totals is not None
    with localcontext() as context:
        context.prec = 200
        lines = [line.amount for line in found.lines]
        assert totals.subtotal == sum(lines) == totals.parts + totals.labour + totals.fees
        assert totals.taxable == sum(line.amount for line in found.lines if line.taxed)
        exact_tax = totals.taxable * Decimal(tax.split()[0]) / 100
        assert abs(totals.tax - exact_tax) <= CENT / 2
        assert totals.total == totals.subtotal + totals.tax + totals.rounding
        steps = {Rounding.COIN: 0, Rounding.ONE: 1, Rounding.FIVE: 5, Rounding.TEN: 10}
        assert abs(totals.rounding) <= Decimal(steps[rounding]) / 2
        for line in found.lines:
            assert line.amount == (line.quantity * line.each).quantize(CENT, ROUND_HALF_UP)


@settings(max_examples=60)
@given(_DIGITS, _DIGITS, _DIGITS)
def test_splitting_a_line_moves_the_total_by_a_coin_at_most(
    text: str, first: str, second: str
) -> None:
    whole = f"{Decimal(first) + Decimal(second):f}"
    together = invoice([(text, whole, False, ItemKind.PART)]).totals
    apart = invoice(
        [(text, first, False, ItemKind.PART), (text, second, False, ItemKind.PART)]
    ).totals
    assert together is not None
    assert apart is not None
    assert abs(together.total - apart.total) <= CENT


@settings(max_examples=30)
@given(st.lists(_ROW, min_size=1, max_size=4))
def test_no_number_is_a_binary_fraction(rows: list[tuple[str, str, bool, ItemKind]]) -> None:
    found = invoice(rows, tank_price="cost")
    numbers = [getattr(line, f.name) for line in found.lines for f in dataclasses.fields(Line)]
    assert found.totals is not None
    numbers += dataclasses.astuple(found.totals)
    assert not any(isinstance(number, float) for number in numbers)


def test_amounts_beyond_what_a_binary_fraction_holds_keep_every_digit() -> None:
    text = "12345678901234567890123456789012345678.91"
    found = priced(item("own", text), counts=times(own="1000000000000000000001"))
    expected = int(text.replace(".", "")) * 1000000000000000000001
    assert str(found.lines[1].amount).replace(".", "") == str(expected)
    assert found.totals is not None
    assert str(found.totals.total).replace(".", "") == str(expected + 80000)
    assert money(found.totals.total, job()).replace(",", "").replace(".", "") == (
        f"${expected + 80000}"
    )


# --- as it is written ---


@pytest.mark.parametrize(
    ("form", "currency", "text"),
    [
        (MoneyForm.EN_US, Currency.USD, "$1,234.50"),
        (MoneyForm.EN_CA, Currency.CAD, "$1,234.50"),
        (MoneyForm.FR_CA, Currency.CAD, "1\u00a0234,50\u00a0$"),
        (MoneyForm.DE_DE, Currency.EUR, "1.234,50\u00a0€"),
        (MoneyForm.EN_GB, Currency.GBP, "£1,234.50"),
        (MoneyForm.ES_MX, Currency.MXN, "$1,234.50"),
    ],
)
def test_money_is_written_as_the_unicode_cldr_has_it(
    form: MoneyForm, currency: Currency, text: str
) -> None:
    assert money(Decimal("1234.5"), Job(money_form=form, currency=currency)) == text


@pytest.mark.parametrize("form", MoneyForm)
def test_what_is_written_is_the_whole_amount(form: MoneyForm) -> None:
    wanted = Job(money_form=form)
    mark = decimal_mark(wanted)
    for value in ("0", "-12.30", "1234567.89", "0.125"):
        text = money(Decimal(value), wanted)
        kept = "".join(c for c in text if c.isdigit() or c in (mark, "-"))
        assert Decimal(kept.strip(".").replace(mark, ".")) == Decimal(value)
        number = number_text(Decimal(value), wanted)
        kept = "".join(c for c in number if c.isdigit() or c in (mark, "-"))
        assert Decimal(kept.replace(mark, ".")) == Decimal(value)


def test_the_machines_locale_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    before = money(Decimal("1234.5"), Job()), date_text(datetime.date(2026, 3, 31), Job())
    for name in ("LC_ALL", "LANG", "LC_NUMERIC", "LC_MONETARY", "LC_TIME"):
        monkeypatch.setenv(name, "de_DE.UTF-8")
    assert locale.getlocale() is not None
    assert before == (
        money(Decimal("1234.5"), Job()),
        date_text(datetime.date(2026, 3, 31), Job()),
    )
    assert before == ("$1,234.50", "March 31, 2026")


def test_dates_are_written_in_the_jobs_form() -> None:
    day = datetime.date(2026, 3, 31)
    assert date_text(day, Job(money_form=MoneyForm.DE_DE)) == "31. März 2026"
    assert date_text(day, Job(money_form=MoneyForm.EN_GB)) == "31 March 2026"


@pytest.mark.parametrize("currency", Currency)
def test_every_currency_has_a_coin(currency: Currency) -> None:
    assert coin(Job(currency=currency)) == CENT


def test_halves_go_away_from_zero() -> None:
    assert [str(to_coin(Decimal(v), Job())) for v in ("0.005", "0.015", "-0.005", "0.0049")] == [
        "0.01",
        "0.02",
        "-0.01",
        "0.00",
    ]
    assert rounded_total(Decimal("2.5"), Job(rounding=Rounding.FIVE)) == 5
