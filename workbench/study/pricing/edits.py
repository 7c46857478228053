"""What a person does to a price list, as the changed entries of the job: one step of undo each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import count as numbers
from typing import Any

from workbench.job.job import Job
from workbench.job.prices import Count, PriceItem
from workbench.job.typed import Entry
from workbench.study.pricing.findings import orphans
from workbench.study.pricing.parts import TANK, usual_items
from workbench.words import tr

Changes = dict[str, Any]


def with_item(job: Job, row: int, **values: Any) -> Changes:
    """Some values of the item in a row replaced."""
    items = list(job.prices)
    items[row] = replace(items[row], **values)
    return {"prices": tuple(items)}


def with_quantity(job: Job, code: str, quantity: Entry | None) -> Changes:
    """Another quantity by hand, in its old place; None goes back to what is counted."""
    counts, placed = [], False
    for one in job.counts:
        if one.code != code:
            counts.append(one)
        elif quantity is not None and not placed:
            counts.append(Count(code=code, quantity=quantity))
            placed = True
    if quantity is not None and not placed:
        counts.append(Count(code=code, quantity=quantity))
    return {"counts": tuple(counts)}


def with_new_item(job: Job, row: int) -> Changes:
    """An item of the firm's own before a row; its code is one that nothing has."""
    taken = {item.code for item in job.prices} | {one.code for one in job.counts}
    taken |= {TANK, *usual_items()}
    code = next(code for number in numbers(1) if (code := f"own_{number}") not in taken)
    item = PriceItem(code=code, name=tr("New item"), unit=tr("each"))
    return {"prices": (*job.prices[:row], item, *job.prices[row:])}


def without_item(job: Job, row: int) -> Changes:
    """The item of a row gone, with its quantity if no other has its code."""
    code = job.prices[row].code
    items = (*job.prices[:row], *job.prices[row + 1 :])
    changes: Changes = {"prices": items}
    if all(item.code != code for item in items):
        changes |= with_quantity(job, code, None)
    return changes


def moved(job: Job, row: int, step: int) -> Changes:
    """The item of a row moved by some rows."""
    items = list(job.prices)
    items.insert(row + step, items.pop(row))
    return {"prices": tuple(items)}


def with_usual(job: Job, codes: Iterable[str]) -> Changes:
    """Known items put at the end of the list, without a price."""
    usual = usual_items()
    return {"prices": (*job.prices, *(usual[code] for code in codes))}


def without_orphans(job: Job) -> Changes:
    """The quantities gone whose item the list does not have."""
    gone = set(orphans(job))
    return {"counts": tuple(one for one in job.counts if one.code not in gone)}
