"""The rows of a price list read as decimals; whatever stands in the way becomes a finding.

The price of one is, in this order: the hours at the firm's rate; the selling price as typed; the
cost with the markup. The first and the last are rounded to the coin, since a price that is worked
out is a price that can be paid; the one that was typed stands as typed ("0.125" for a foot).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from workbench.job.job import Job
from workbench.job.paper_choices import ItemKind
from workbench.job.prices import PriceItem
from workbench.job.typed import Entry
from workbench.study.findings import Finding, Level
from workbench.study.pricing.money import amount, exactly, share, to_coin
from workbench.study.pricing.parts import Counted
from workbench.study.reader import Reader
from workbench.units import Quantity, Unread
from workbench.words import tr

FIELDS = {"quantity": "counts"}
"""The entry of the job that a column edits, where it is not the price list."""


@dataclass(frozen=True, slots=True)
class Problem:
    """A finding with the column of the row that it is about."""

    column: str
    finding: Finding


@dataclass(frozen=True, slots=True)
class Rates:
    """The figures that all rows share, ``markup`` and ``tax`` as parts of one.

    None: it cannot be read, or (of labour) it is not entered.
    """

    markup: Decimal | None
    labour_rate: Decimal | None
    labour_cost: Decimal | None
    tax: Decimal | None
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """One item of the price list in this job.

    ``counted`` is None for an item that is counted by hand alone, and where no tank is chosen.
    ``typed`` is the quantity as it was typed, None where it is counted. ``quantity``, ``each`` (the
    price of one), ``cost`` (of one) and ``amount`` (the price of all, rounded) are None where they
    cannot be told.
    """

    item: PriceItem
    counted: Counted | None
    typed: Entry | None
    quantity: Decimal | None
    each: Decimal | None
    cost: Decimal | None
    amount: Decimal | None
    problems: tuple[Problem, ...]


def name_of(item: PriceItem) -> str:
    """What findings call an item: its name, else its code."""
    return item.name.strip() or item.code


def read_rates(job: Job) -> Rates:
    """Markup, labour and tax as decimals."""
    reader = Reader(job)

    def read(name: str) -> Quantity | None:
        known = reader.not_below_zero(name) is not None
        return getattr(job, name) if known else None

    markup, rate, cost, tax = map(read, ("markup", "labour_rate", "labour_cost", "tax"))
    return Rates(
        markup=None if markup is None else share(markup),
        labour_rate=None if rate is None else amount(rate),
        labour_cost=None if cost is None else amount(cost),
        tax=None if tax is None else share(tax),
        findings=tuple(reader.findings),
    )


def read_row(
    job: Job,
    item: PriceItem,
    counts: Mapping[str, Counted],
    typed: Entry | None,
    rates: Rates,
) -> Row:
    """Read one item; ``typed`` is the quantity by hand, which goes before the counted one."""
    reader = _RowReader(item)
    count = counts.get(item.code)
    quantity = reader.value("quantity", typed) if typed is not None else (
        Decimal(0 if count is None else count.quantity)
    )  # fmt: skip
    is_used = bool(quantity)  # neither zero nor unreadable
    each, cost = reader.price_and_cost(job, rates, is_used=is_used)
    if is_used and not item.name.strip():
        reader.report(
            "name",
            Level.STOP,
            "item_without_name",
            tr("“{code}” of the price list has no name.", code=item.code),
            tr("Type what a customer is to read."),
        )
    total = None
    if quantity is not None and each is not None:
        with exactly():
            total = to_coin(quantity * each, job)
    return Row(item, count, typed, quantity, each, cost, total, tuple(reader.problems))


class _RowReader:
    """Collects the problems of one item."""

    def __init__(self, item: PriceItem) -> None:
        self._item = item
        self.problems: list[Problem] = []

    def report(self, column: str, level: Level, code: str, text: str, remedy: str) -> None:
        """Keep one problem."""
        finding = Finding(level, code, FIELDS.get(column, "prices"), text, remedy)
        self.problems.append(Problem(column, finding))

    def value(self, column: str, entry: Entry | None) -> Decimal | None:
        """The number of an entry; None where it is empty, or (with a problem) no amount."""
        if entry is None:
            return None
        name, label = name_of(self._item), _columns()[column]
        if isinstance(entry, Unread):
            text = tr("{item}, {column}: {why}", item=name, column=label, why=entry.why)
            self.report(column, Level.STOP, "unread", text, entry.remedy)
            return None
        number = amount(entry)
        if number < 0:
            text = tr("{item}, {column}: it cannot be below zero.", item=name, column=label)
            remedy = tr("Type zero or a value above it.")
            self.report(column, Level.STOP, "item_below_zero", text, remedy)
            return None
        return number

    def price_and_cost(
        self, job: Job, rates: Rates, *, is_used: bool
    ) -> tuple[Decimal | None, Decimal | None]:
        """The price and the cost of one."""
        item = self._item
        cost, price = self.value("cost", item.cost), self.value("price", item.price)
        hours = self.value("hours", item.hours)
        if item.hours is not None:
            if item.price is not None or item.cost is not None:
                self._warn_of_both()
            return self._by_the_hour(job, rates, hours)
        if item.price is not None:
            return price, cost
        if item.cost is not None:
            return self._with_markup(job, rates, cost), cost
        if is_used:
            self._miss_price()
        return None, None

    @staticmethod
    def _by_the_hour(
        job: Job, rates: Rates, hours: Decimal | None
    ) -> tuple[Decimal | None, Decimal | None]:
        if hours is None:
            return None, None
        rate, own = rates.labour_rate, rates.labour_cost
        with exactly():
            price = None if rate is None else to_coin(hours * rate, job)
            return price, None if own is None else hours * own

    def _with_markup(self, job: Job, rates: Rates, cost: Decimal | None) -> Decimal | None:
        if cost is None or rates.markup is None:
            return None
        with exactly():
            price = to_coin(cost * (1 + rates.markup), job)
        if cost and not price:
            self.report(
                "cost",
                Level.STOP,
                "price_below_coin",
                tr("{item}: its cost with the markup is less than a coin.",
                   item=name_of(self._item)),
                tr("Type a price, or sell it by a larger unit."),
            )  # fmt: skip
            return None
        return price

    def _warn_of_both(self) -> None:
        self.report(
            "hours",
            Level.CAUTION,
            "hours_and_price",
            tr("{item}: its hours are charged, its price and cost are left aside.",
               item=name_of(self._item)),
            tr("Clear the hours, or the price and cost."),
        )  # fmt: skip

    def _miss_price(self) -> None:
        item = self._item
        if item.kind is ItemKind.LABOUR:
            text = tr("{item} has neither hours nor a price.", item=name_of(item))
            column = "hours"
        else:
            text = tr("{item} has neither a price nor a cost.", item=name_of(item))
            column = "price"
        remedy = tr("Type one of them, or the quantity 0 if it is not taken.")
        self.report(column, Level.STOP, "price_missing", text, remedy)


def _columns() -> dict[str, str]:
    """What findings call the columns."""
    return {
        "cost": tr("cost"),
        "price": tr("price"),
        "hours": tr("hours"),
        "quantity": tr("quantity"),
    }
