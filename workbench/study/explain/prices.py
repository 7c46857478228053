"""How the figures of the page "Price list" come about; the place of a cell is its row."""

from __future__ import annotations

from workbench.job.job import Job
from workbench.job.paper_choices import ItemKind
from workbench.study.explain.amounts import (
    cost_step,
    line_step,
    margin_steps,
    of_kind,
    practice,
    rounding_step,
    sum_step,
    tax_step,
    taxed_step,
    total_steps,
)
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.pricing import words
from workbench.study.pricing.money import amount, money, number_text
from workbench.study.pricing.rows import Row
from workbench.study.pricing.sheet import PriceSheet, price_sheet
from workbench.study.pricing.view import Priced, Totals
from workbench.study.working import Step
from workbench.units import Quantity
from workbench.words import tr


def _priced(asked: Asked) -> tuple[Priced, Totals, Job] | None:
    """Option A with its total; None while there is none."""
    offer = asked.results.estimate.offers[0]
    priced = offer.priced
    if priced is None or priced.totals is None:
        return None
    return priced, priced.totals, asked.results.job


def _total(asked: Asked) -> Working | None:
    found = _priced(asked)
    if found is None:
        return None
    priced, totals, job = found
    lines = tuple(line_step(line, job) for line in priced.lines)
    return Working(total_steps(priced, totals, job), lines)


def _parts(asked: Asked) -> Working | None:
    return _kind(asked, tr("Tanks and parts"), ItemKind.PART)


def _labour(asked: Asked) -> Working | None:
    return _kind(asked, tr("Labour"), ItemKind.LABOUR)


def _fees(asked: Asked) -> Working | None:
    return _kind(asked, tr("Fees"), ItemKind.FEE)


def _kind(asked: Asked, title: str, kind: ItemKind) -> Working | None:
    found = _priced(asked)
    if found is None:
        return None
    priced, totals, job = found
    whole = {
        ItemKind.PART: totals.parts,
        ItemKind.LABOUR: totals.labour,
        ItemKind.FEE: totals.fees,
    }[kind]
    lines = of_kind(priced.lines, kind)
    each = tuple(line_step(line, job) for line in lines)
    return Working((*each, sum_step(title, lines, money(whole, job), job)))


def _tax(asked: Asked) -> Working | None:
    found = _priced(asked)
    if found is None:
        return None
    priced, totals, job = found
    return Working((taxed_step(priced.lines, totals, job), tax_step(totals, job)))


def _rounding(asked: Asked) -> Working | None:
    found = _priced(asked)
    if found is None:
        return None
    priced, totals, job = found
    return Working((*total_steps(priced, totals, job), rounding_step(totals, job)))


def _cost(asked: Asked) -> Working | None:
    found = _priced(asked)
    if found is None:
        return None
    priced, totals, job = found
    known = cost_step(priced.lines, totals, job)
    if known is None:
        told = words.for_us(priced, job)[0][1]
        source = tr("the price list and the catalogue as entered")
        return Working((Step(tr("Cost"), tr("sum of the costs of all lines"), told, source),))
    return Working((known,))


def _margin(asked: Asked) -> Working | None:
    found = _priced(asked)
    if found is None:
        return None
    priced, totals, job = found
    known = cost_step(priced.lines, totals, job)
    steps = margin_steps(totals, job)
    if known is None or not steps:
        return None
    return Working((known, *steps))


# --- the list ---


def _row(asked: Asked) -> tuple[PriceSheet, Row] | None:
    sheet = price_sheet(asked.results)
    return (sheet, sheet.rows[asked.first]) if asked.first < len(sheet.rows) else None


def _price_step(row: Row, job: Job) -> Step | None:
    """How the price of one comes about: hours, the price as typed, or cost with markup."""
    if row.each is None:
        return None
    item, each, title = row.item, money(row.each, job), tr("Price of one")
    if isinstance(item.hours, Quantity) and isinstance(job.labour_rate, Quantity):
        hours = number_text(amount(item.hours), job)
        rate = money(amount(job.labour_rate), job)
        return Step(title, tr("hours × rate of labour"), f"{hours} × {rate} = {each}", practice())
    if item.price is not None:
        return Step(title, tr("as typed"), each, tr("the firm's price list"))
    if isinstance(item.cost, Quantity) and isinstance(job.markup, Quantity):
        cost = money(amount(item.cost), job)
        markup = number_text(amount(job.markup), job)
        numbers = f"{cost} × (1 + {markup} %) = {each}"
        return Step(title, tr("cost × (1 + markup)"), numbers, practice())
    return None


def _quantity(asked: Asked) -> Working | None:
    found = _row(asked)
    if found is None:
        return None
    sheet, row = found
    shown = "0" if row.counted is None else str(row.counted.quantity)
    if row.typed is not None and row.quantity is not None:
        shown = number_text(row.quantity, asked.results.job)
    why = words.of_quantity(row, has_tank=sheet.offer.one is not None)
    source = tr("as typed") if row.typed is not None else tr("common practice, no source")
    return Working((Step(tr("This job"), why, shown, source),))


def _amount(asked: Asked) -> Working | None:
    found = _row(asked)
    if found is None:
        return None
    row, job = found[1], asked.results.job
    each = _price_step(row, job)
    if each is None or row.each is None or row.amount is None or row.quantity is None:
        return None
    count = number_text(row.quantity, job)
    last = Step(
        tr("Amount"),
        tr("quantity × price of one, rounded to the coin"),
        f"{count} × {money(row.each, job)} = {money(row.amount, job)}",
        practice(),
    )
    why = _quantity(asked)
    return Working((each, last), () if why is None else why.steps)


FIGURES: dict[str, Explain] = {
    "total": _total,
    "parts": _parts,
    "labour": _labour,
    "fees": _fees,
    "tax": _tax,
    "rounding": _rounding,
    "cost": _cost,
    "margin": _margin,
    "quantity": _quantity,
    "amount": _amount,
}
"""The explaining function of each figure of the page."""
