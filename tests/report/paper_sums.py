"""The sums of an estimate added again from the text of its PDF alone.

Nothing of the program reads the money here: marks and groups of each form of writing stand in this
file as they are taught in its country, and all amounts are decimals.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from tests.report.tagged import Node, Table, tables

COMMA = ("de_DE", "fr_FR", "fr_CA")  # decimal comma; the other forms have a point
GROUPED_BY = {"de_DE": r"\.", "fr_FR": r"\s", "fr_CA": r"\s"}  # thousands; the others by commas
CENT = Decimal("0.01")
STEPS = {"smallest_coin": CENT, "to_1": Decimal(1), "to_5": Decimal(5), "to_10": Decimal(10)}
AROUND = ("Item", "Together", "Total", "Rounding", "What every option has")


def amount_in(text: str, form: str) -> Decimal:
    """The one amount that a text holds, written as in ``form``, whatever the currency's sign."""
    group = GROUPED_BY.get(form, ",")
    mark = "," if form in COMMA else r"\."
    found = re.findall(rf"\d{{1,3}}(?:{group}\d{{3}})+(?:{mark}\d+)?|\d+(?:{mark}\d+)?", text)
    assert len(found) == 1, text
    digits = re.sub(group, "", found[0]).replace(",", ".")
    return -Decimal(digits) if re.search("[-\u2212\u2013]", text) else Decimal(digits)


@dataclass
class Sheet:
    """The items of one table of lines and what stands beneath them; each row by its first cell."""

    name: str
    items: list[list[str]]
    beneath: dict[str, list[str]]


def sheets(top: Node) -> list[Sheet]:
    """The tables of lines: what every option has, if there is such, then each option."""
    return [_sheet(one) for one in tables(top) if one.rows[0][:1] == ["Item"]]


def _sheet(table: Table) -> Sheet:
    first = next(
        (n for n, row in enumerate(table.rows[1:], 1) if row[0].startswith("Together")),
        len(table.rows),
    )
    return Sheet(
        table.name,
        table.rows[1:first],
        {row[0].split(",")[0]: row for row in table.rows[first:]},
    )


def check_sums(top: Node, form: str, tax: Decimal, rounding: str) -> dict[str, Decimal]:
    """Add everything again; the totals by the options' names.

    Args:
        tax: the rate in per cent.
        rounding: the job's rule for the total.
    """
    common, *options = _common_first(sheets(top))
    if common.items:
        _check_items(common.items, form)
        _check_columns(common.items, common.beneath["Together"], form)
    totals = {}
    for one in options:
        own = one.items
        if common.items:
            assert own[0][0] == "What every option has"
            assert own[0][3:] == common.beneath["Together"][3:]
            own = own[1:]
        _check_items(own, form)
        _check_columns(one.items, one.beneath["Together"], form, only_amounts=True)
        totals[one.name] = _check_total(one, [*common.items, *own], form, tax, rounding)
    return totals


def _common_first(every: list[Sheet]) -> list[Sheet]:
    if every[0].name == "In every option":
        return every
    return [Sheet("", [], {}), *every]


def _check_items(items: Iterable[Sequence[str]], form: str) -> None:
    for name, quantity, each, amount, *_secret in items:
        count = amount_in(quantity.split(" ")[0], form)
        exact = count * amount_in(each, form)
        assert exact.quantize(CENT, ROUND_HALF_UP) == amount_in(amount, form), name


def _check_columns(
    items: Sequence[Sequence[str]],
    together: Sequence[str],
    form: str,
    *,
    only_amounts: bool = False,
) -> None:
    """Each column adds up, as far as it is known."""
    for place in (3,) if only_amounts else range(3, len(together)):
        cells = [row[place] for row in items]
        if "not known" in cells:
            assert together[place] == "not known"
        else:
            assert sum(amount_in(cell, form) for cell in cells) == amount_in(together[place], form)


def _check_total(
    one: Sheet, items: Sequence[Sequence[str]], form: str, tax: Decimal, rounding: str
) -> Decimal:
    beneath = {name: amount_in(row[3], form) for name, row in one.beneath.items()}
    taxed = sum((amount_in(row[3], form) for row in items if row[0].endswith(" *")), Decimal(0))
    owed = (taxed * tax / 100).quantize(CENT, ROUND_HALF_UP)
    assert beneath.get("Sales tax", Decimal(0)) == owed
    if tax:
        (told,) = [row[0] for row in one.beneath.values() if row[0].startswith("Sales tax")]
        _, _, marked = told.partition(" of ")
        assert amount_in(marked, form) == taxed
    exact = beneath["Together"] + owed
    step = STEPS[rounding]
    total = (exact / step).quantize(Decimal(1), ROUND_HALF_UP) * step
    assert beneath["Total"] == total
    assert beneath.get("Rounding", Decimal(0)) == total - exact
    _check_secret(one.beneath["Total"], items, form, total - owed)
    return total


def _check_secret(
    row: Sequence[str], items: Sequence[Sequence[str]], form: str, paid: Decimal
) -> None:
    """Cost and margin of the office copy: the margin is what is paid without tax, less the cost."""
    if len(row) == 4:
        return
    costs = [item[4] for item in items]
    if "not known" in costs:
        assert list(row[4:]) == ["not known", "not known"]
        return
    cost = sum(amount_in(one, form) for one in costs)
    assert (amount_in(row[4], form), amount_in(row[5], form)) == (cost, paid - cost)
    for name, _, _, amount, cost_of, margin in items:
        left = amount_in(amount, form) - amount_in(cost_of, form)
        assert amount_in(margin, form) == left, name
