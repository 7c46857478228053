"""What is said of a price list: the total and what it is made of, and how a figure came about."""

from __future__ import annotations

from workbench.job.job import Job
from workbench.job.options import option
from workbench.job.paper_choices import Rounding
from workbench.study.pricing.money import amount, money, number_text
from workbench.study.pricing.rows import Row
from workbench.study.pricing.sheet import PriceSheet
from workbench.study.pricing.view import Priced, Totals
from workbench.units import Quantity
from workbench.words import tr

Fact = tuple[str, str, str, str]
"""A name, its value, the value's role, and the key of its working ("": none)."""
_MOST_NAMED = 3


def made_of(sheet: PriceSheet, job: Job) -> list[Fact]:
    """What the total is made of, as the office sees it: name, value, role, key of its working."""
    offer, priced = sheet.offer, sheet.priced
    rows: list[Fact] = []
    if offer.one is not None:
        rows.append((tr("Tank"), f"{offer.one.name}, {offer.band_name}", "", ""))
    rows.append((tr("Work"), option("work_kind").labels[job.work_kind], "", ""))
    if priced is None or priced.totals is None:
        return rows
    totals = priced.totals
    rows += [
        (tr("Tanks and parts"), money(totals.parts, job), "", "prices.parts"),
        (tr("Labour"), money(totals.labour, job), "", "prices.labour"),
        (tr("Fees"), money(totals.fees, job), "", "prices.fees"),
        (_tax_name(totals, job), money(totals.tax, job), "", "prices.tax"),
    ]
    if job.rounding is not Rounding.COIN:
        rows.append((tr("Rounding"), money(totals.rounding, job), "", "prices.rounding"))
    return rows


def _tax_name(totals: Totals, job: Job) -> str:
    rate = number_text(amount(job.tax), job) if isinstance(job.tax, Quantity) else ""
    return tr("Tax, {rate} % of {taxable}", rate=rate, taxable=money(totals.taxable, job))


def for_us(priced: Priced, job: Job) -> list[Fact]:
    """Cost and margin, which stand on no customer's paper."""
    totals = priced.totals
    if totals is None:
        return []
    if totals.cost is None or totals.margin is None:
        names = list(dict.fromkeys(line.name for line in priced.lines if line.cost is None))
        told = ", ".join(names[:_MOST_NAMED])
        if len(names) > _MOST_NAMED:
            told = tr("{names} and {count} more", names=told, count=len(names) - _MOST_NAMED)
        why = tr("not known: no cost of {names}", names=told)
        return [(tr("Cost"), why, "muted", "prices.cost")]
    margin, share = money(totals.margin, job), totals.margin_percent
    if share is not None:
        percent = number_text(share, job)
        margin = tr("{margin}, {percent} % of the price", margin=margin, percent=percent)
    role = "problem" if totals.margin < 0 else ""
    margin = tr("{margin}: below cost", margin=margin) if role else margin
    return [
        (tr("Cost"), money(totals.cost, job), "", "prices.cost"),
        (tr("Margin"), margin, role, "prices.margin"),
    ]


def of_quantity(row: Row, *, has_tank: bool) -> str:
    """Why a row has its quantity."""
    counted = row.counted
    if row.typed is not None:
        if counted is None:
            return tr("By hand.")
        return tr(
            "By hand. Counted it would be {quantity}: {reason}. Clear the cell to go back.",
            quantity=counted.quantity,
            reason=counted.reason,
        )
    if counted is not None:
        return tr(
            "Counted: {quantity}, {reason}.", quantity=counted.quantity, reason=counted.reason
        )
    if has_tank:
        return tr("An item of your own: type how many this job takes.")
    return tr("Nothing is counted: option A has no tank yet.")


def of_price(row: Row, job: Job) -> str:
    """How the price of one came about."""
    item = row.item
    if row.each is None:
        return tr("It has no price yet.")
    each = money(row.each, job)
    if isinstance(item.hours, Quantity):
        hours = number_text(amount(item.hours), job)
        return tr("{hours} h at the rate of labour: {each} for one.", hours=hours, each=each)
    if item.price is not None:
        return tr("As typed: {each} for one.", each=each)
    return tr("Cost with the markup: {each} for one.", each=each)
