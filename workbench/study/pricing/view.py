"""What an arrangement costs: its lines, its total, and what the firm pays for it.

    amount   = quantity × price of one, rounded to the coin
    subtotal = sum of the amounts
    tax      = rate × sum of the amounts that are taxed, rounded to the coin
    total    = subtotal + tax, rounded by the firm's rule
    rounding = total − (subtotal + tax), an amount of its own
    margin   = subtotal + rounding − cost

All of it in decimals (:mod:`workbench.study.pricing.money`); the rounding of each line is common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from workbench.catalog.tank import Tank
from workbench.job.job import Job
from workbench.job.paper_choices import ItemKind, TankPrice
from workbench.study.findings import Finding, Level
from workbench.study.pricing.findings import (
    list_findings,
    rate_findings,
    tank_findings,
    unlisted_findings,
    work_findings,
)
from workbench.study.pricing.money import exactly, rounded_total, to_coin, to_step
from workbench.study.pricing.parts import TANK, arrangement, counted
from workbench.study.pricing.rows import Rates, Row, name_of, read_rates, read_row
from workbench.study.ranking import Judged
from workbench.words import tr

_NOTHING = Decimal(0)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of an estimate. ``each`` is the price of one, ``amount`` that of all, rounded.

    ``cost``: what all of it costs the firm, None where that is not known. ``by_hand``: the quantity
    was typed, in the place of what follows from the arrangement.
    """

    code: str
    name: str
    unit: str
    kind: ItemKind
    quantity: Decimal
    each: Decimal
    amount: Decimal
    cost: Decimal | None
    taxed: bool
    by_hand: bool


@dataclass(frozen=True, slots=True)
class Totals:
    """What all lines come to. Tanks are parts; ``cost`` None: that of some line is not known."""

    parts: Decimal
    labour: Decimal
    fees: Decimal
    subtotal: Decimal
    taxable: Decimal
    tax: Decimal
    rounding: Decimal
    total: Decimal
    cost: Decimal | None
    margin: Decimal | None

    @property
    def margin_percent(self) -> Decimal | None:
        """The margin as a percentage of what is paid without tax, to a tenth; None if unknown."""
        paid = self.subtotal + self.rounding
        if self.margin is None or not paid:
            return None
        with exactly():
            return to_step(100 * self.margin / paid, Decimal("0.1"))


@dataclass(frozen=True, slots=True)
class Priced:
    """An arrangement with its prices. ``totals`` is None while a stop stands among the findings:
    a total that leaves something out must not be read as one.
    """

    lines: tuple[Line, ...]
    totals: Totals | None
    findings: tuple[Finding, ...]


def price(job: Job, one: Judged, *, band_moves: bool) -> Priced:
    """Price the job's work with the tanks of one arrangement.

    Args:
        job: its price list, quantities by hand, kind of work, rates and rounding.
        one: the tanks that were chosen.
        band_moves: whether the switch that is there is one for another band.
    """
    rates = read_rates(job)
    rows = price_rows(job, one, band_moves=band_moves)
    counts = counted(arrangement(job, one, band_moves=band_moves))
    findings = (
        *rates.findings,
        *tank_findings(job, one.kinds),
        *list_findings(job),
        *rate_findings(rows, rates),
        *(problem.finding for row in rows for problem in row.problems),
        *unlisted_findings(job, counts),
        *work_findings(job),
    )
    with exactly():
        lines = (*_tank_lines(job, one, rates), *_item_lines(job, rows))
        is_stopped = any(finding.level is Level.STOP for finding in findings)
        totals = None if is_stopped or rates.tax is None else _totals(job, lines, rates.tax)
    return Priced(lines, totals, findings)


def price_rows(job: Job, one: Judged | None, *, band_moves: bool) -> tuple[Row, ...]:
    """Every item of the price list with its quantity in this job, in the order of the list.

    Without an arrangement nothing is counted but by hand.
    """
    rates = read_rates(job)
    counts = {} if one is None else counted(arrangement(job, one, band_moves=band_moves))
    typed = {count.code: count.quantity for count in job.counts}
    return tuple(read_row(job, item, counts, typed.get(item.code), rates) for item in job.prices)


def _tank_lines(job: Job, one: Judged, rates: Rates) -> Iterable[Line]:
    for tank in one.kinds:
        known = _tank_price(job, tank, rates)
        if known is None:
            continue
        each, cost = known
        quantity = Decimal(sum(part.id == tank.id for part in one.parts))
        yield Line(
            code=TANK,
            name=tank.name,
            unit=tr("each"),
            kind=ItemKind.PART,
            quantity=quantity,
            each=each,
            amount=to_coin(quantity * each, job),
            cost=None if cost is None else to_coin(quantity * cost, job),
            taxed=job.tank_taxed,
            by_hand=False,
        )


def _tank_price(job: Job, tank: Tank, rates: Rates) -> tuple[Decimal, Decimal | None] | None:
    """The price and the cost of one tank."""
    if tank.price is None or tank.currency != job.currency.value:
        return None
    if job.tank_price is TankPrice.SELLING:
        return tank.price, None
    if rates.markup is None:
        return None
    return to_coin(tank.price * (1 + rates.markup), job), tank.price


def _item_lines(job: Job, rows: Iterable[Row]) -> Iterable[Line]:
    for row in rows:
        if not row.quantity or row.each is None or row.amount is None:
            continue
        item = row.item
        yield Line(
            code=item.code,
            name=name_of(item),
            unit=item.unit,
            kind=item.kind,
            quantity=row.quantity,
            each=row.each,
            amount=row.amount,
            cost=None if row.cost is None else to_coin(row.quantity * row.cost, job),
            taxed=item.taxed,
            by_hand=row.typed is not None,
        )


def _totals(job: Job, lines: Sequence[Line], rate: Decimal) -> Totals:
    by_kind = {
        kind: sum((line.amount for line in lines if line.kind is kind), to_coin(_NOTHING, job))
        for kind in ItemKind
    }
    subtotal = sum(by_kind.values(), _NOTHING)
    taxable = sum((line.amount for line in lines if line.taxed), to_coin(_NOTHING, job))
    tax = to_coin(taxable * rate, job)
    total = rounded_total(subtotal + tax, job)
    rounding = total - (subtotal + tax)
    costs = [line.cost for line in lines if line.cost is not None]
    cost = sum(costs, _NOTHING) if len(costs) == len(lines) else None
    return Totals(
        parts=by_kind[ItemKind.PART],
        labour=by_kind[ItemKind.LABOUR],
        fees=by_kind[ItemKind.FEE],
        subtotal=subtotal,
        taxable=taxable,
        tax=tax,
        rounding=rounding,
        total=total,
        cost=cost,
        margin=None if cost is None else subtotal + rounding - cost,
    )
