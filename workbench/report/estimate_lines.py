"""What the options are made of, with prices. Cost and margin stand on the office copy alone.

Lines that every option has stand once; each option then begins with their sum.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from workbench.job.job import Job
from workbench.job.paper_choices import Copy
from workbench.report.blocks import Block, Section, Table, Words
from workbench.report.estimate_words import offer_name
from workbench.study.estimate.offers import Offer
from workbench.study.evaluate import Results
from workbench.study.pricing.money import exactly, money, number_text
from workbench.study.pricing.view import Line, Priced, Totals
from workbench.units import PERCENT, Display, Quantity
from workbench.words import tr

Row = tuple[str, ...]


def lines_section(results: Results, display: Display) -> Section | None:
    """What all options have in common, then each option; None where nothing is priced."""
    priced = [
        (offer, offer.priced) for offer in results.estimate.offers if offer.priced is not None
    ]
    if not priced:
        return None
    sheet = _Sheet(results.job, display)
    common = common_lines([one for _, one in priced])
    blocks: list[Block] = []
    if common:
        blocks.append(sheet.common(common))
    for offer, one in priced:
        blocks += sheet.option(offer, one, common)
    return Section(key="lines", heading=tr("What it is made of"), blocks=tuple(blocks))


def common_lines(priced: Sequence[Priced]) -> tuple[Line, ...]:
    """The lines that are the same in each of several options; none where there is one alone."""
    if len(priced) < 2:
        return ()
    first, *others = priced
    return tuple(line for line in first.lines if all(line in other.lines for other in others))


class _Sheet:
    """Writes lines and totals for the copy of a job."""

    def __init__(self, job: Job, display: Display) -> None:
        self._job = job
        self._display = display
        self._office = job.copy_for is Copy.OFFICE
        self._has_tax = isinstance(job.tax, Quantity) and Decimal(job.tax.digits) != 0

    def common(self, lines: Sequence[Line]) -> Table:
        """What every option has, added up."""
        rows = [*map(self._line, lines), self._sum(tr("Together, in every option"), lines)]
        return self._table(tr("In every option"), rows)

    def option(self, offer: Offer, priced: Priced, common: Sequence[Line]) -> Iterator[Block]:
        """What an option has besides, and its totals."""
        rows = [self._sum(tr("What every option has"), common)] if common else []
        rows += [self._line(line) for line in priced.lines if line not in common]
        if priced.totals is not None:
            rows += self._totals(priced.totals)
        yield self._table(offer_name(offer), rows, has_total=priced.totals is not None)
        if priced.totals is None:
            yield Words(text=tr("A price is missing, so there is no total."), tone="strong")

    def _table(self, name: str, rows: Sequence[Row], *, has_total: bool = True) -> Table:
        columns = [tr("Item"), tr("Quantity"), tr("Each"), tr("Amount")]
        if self._office:
            columns += [tr("Cost"), tr("Margin")]
        return Table(
            name=name,
            columns=tuple(columns),
            rows=tuple(rows),
            strong=(len(rows) - 1,) if has_total else (),
        )

    def _line(self, line: Line) -> Row:
        return self._row(
            f"{line.name} *" if line.taxed and self._has_tax else line.name,
            f"{number_text(line.quantity, self._job)} {line.unit}".strip(),
            money(line.each, self._job),
            line.amount,
            line.cost,
            None if line.cost is None else line.amount - line.cost,
        )

    def _sum(self, name: str, lines: Iterable[Line]) -> Row:
        with exactly():
            amount = sum((line.amount for line in lines), Decimal(0))
            costs = [line.cost for line in lines]
            known = [cost for cost in costs if cost is not None]
            cost = sum(known, Decimal(0)) if len(known) == len(costs) else None
            margin = None if cost is None else amount - cost
        return self._row(name, "", "", amount, cost, margin)

    def _row(
        self,
        name: str,
        quantity: str,
        each: str,
        amount: Decimal,
        cost: Decimal | None,
        margin: Decimal | None,
    ) -> Row:
        cells = (name, quantity, each, money(amount, self._job))
        return (*cells, self._secret(cost), self._secret(margin)) if self._office else cells

    def _secret(self, amount: Decimal | None) -> str:
        return tr("not known") if amount is None else money(amount, self._job)

    def _totals(self, totals: Totals) -> Iterator[Row]:
        yield self._plain(tr("Together"), totals.subtotal)
        if self._has_tax and isinstance(self._job.tax, Quantity):
            rate = self._display.typed(self._job.tax, PERCENT)
            taxable = money(totals.taxable, self._job)
            yield self._plain(
                tr("Sales tax, {rate} of {taxable} marked *", rate=rate, taxable=taxable),
                totals.tax,
            )
        if totals.rounding:
            yield self._plain(tr("Rounding"), totals.rounding)
        yield self._row(tr("Total"), "", "", totals.total, totals.cost, totals.margin)

    def _plain(self, name: str, amount: Decimal) -> Row:
        cells = (name, "", "", money(amount, self._job))
        return (*cells, "", "") if self._office else cells
