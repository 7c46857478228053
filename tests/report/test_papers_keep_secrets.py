"""What an estimate costs the firm stands on the office copy alone, wherever a copy is read."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from decimal import Decimal
from functools import cache
from typing import Any

import pytest

from tests.report.estimate_build import US, demo, of
from tests.report.reading import alternatives, reader
from workbench.job.job import Job
from workbench.job.prices import PriceItem
from workbench.report.blocks import PaperContent
from workbench.report.estimate import estimate_content
from workbench.report.paper_data import files_of
from workbench.report.plain_text import content_lines, plain_text
from workbench.report.revisions import revision_of
from workbench.report.typeset import pdf
from workbench.study.evaluate import Results
from workbench.units import MONEY, parse

NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")


@cache
def job() -> Job:
    """The demo with costs of which no digit follows from a price, nor any price from a cost."""
    chance = random.Random(77)
    prices = [
        PriceItem(
            code=item.code,
            name=item.name,
            unit=item.unit,
            kind=item.kind,
            cost=_odd(chance, 7, 900),
            price=_odd(chance, 1000, 1900),
        )
        for item in demo().prices
    ]
    return demo().changed(prices=tuple(prices), labour_cost="37.91", markup="43.7 %")


def _odd(chance: random.Random, least: int, most: int) -> Any:
    return parse(f"{chance.randint(least, most)}.{chance.randint(11, 99)}", MONEY)


@cache
def results(copy: str, tank_price: str) -> Results:
    entries = {name: getattr(job(), name) for name in ("prices", "labour_cost", "markup")}
    return of(**entries, copy_for=copy, tank_price=tank_price, with_working=True)


def secrets(found: Results) -> set[Decimal]:
    """Every cost of an item, of a line, of an option; every margin; the markup."""
    every = {Decimal("37.91"), Decimal("43.7")}
    every |= {Decimal(str(item.cost)) for item in found.job.prices if item.cost}
    for offer in found.estimate.offers:
        assert offer.priced is not None
        assert offer.priced.totals is not None
        totals = offer.priced.totals
        for line in offer.priced.lines:
            if line.cost is not None:
                every |= {line.cost, line.amount - line.cost}
        every |= {one for one in (totals.cost, totals.margin, totals.margin_percent) if one}
    return every


def numbers_in(text: str) -> set[Decimal]:
    return {Decimal(one.replace(",", "")) for one in NUMBER.findall(text)}


def readings(found: Results, paper: PaperContent) -> Iterator[str]:
    """Every way in which a copy is read: pages, what pictures tell, mail, the data of templates,
    what a revision keeps, what the file says of itself."""
    made = pdf(paper)
    yield " ".join(page.extract_text() for page in reader(made).pages)
    yield " ".join(alternatives(made))
    yield str(reader(made).metadata)
    yield plain_text(paper)
    yield " ".join(value for line in content_lines(paper) for value in line)
    yield from (data.decode() for data in files_of(paper).values())
    yield str(revision_of(found, US, 1).lines)


@pytest.mark.parametrize("tank_price", ["cost", "selling_price"])
def test_no_cost_nor_margin_is_on_a_customers_copy(tank_price: str) -> None:
    found = results("customer", tank_price)
    hidden = secrets(found)
    assert len(hidden) > 40
    for text in readings(found, estimate_content(found, US)):
        assert numbers_in(text) & hidden == set()
        for word in ("Cost", "Margin", "Markup", "office copy"):
            assert word not in text


def test_the_same_reading_finds_them_on_the_office_copy() -> None:
    """Else the test above would find nothing because it reads nothing."""
    found = results("office", "cost")
    pages, _, _, mail, lines, *_ = readings(found, estimate_content(found, US))
    of_lines = {
        amount
        for offer in found.estimate.offers
        if offer.priced
        for line in offer.priced.lines
        if line.cost is not None
        for amount in (line.cost, line.amount - line.cost)
    }
    for text in (pages, mail, lines):
        assert of_lines <= numbers_in(text)


def test_what_is_recorded_as_sent_hides_it_from_whatever_copy_it_was_made() -> None:
    found = results("office", "cost")
    kept = " ".join(value for line in revision_of(found, US, 1).lines for value in line)
    assert numbers_in(kept) & secrets(found) == set()
