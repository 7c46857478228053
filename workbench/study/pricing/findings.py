"""What is wrong with a price list as a whole, and with the tanks' prices."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from workbench.catalog.tank import Tank
from workbench.job.job import Job
from workbench.job.paper_choices import WorkKind
from workbench.job.prices import Count
from workbench.study.findings import Finding, Level
from workbench.study.pricing.money import amount
from workbench.study.pricing.parts import TANK, Counted, usual_items
from workbench.study.pricing.rows import Rates, Row
from workbench.units import Quantity
from workbench.words import tr


def list_findings(job: Job) -> tuple[Finding, ...]:
    """Codes that are not unique, quantities that belong to nothing, a list that is not there."""
    if not job.prices:
        text = tr("There is no price list in this job.")
        remedy = tr("Take the firm's on the page “Our firm”, or add items on “Price list”.")
        return (Finding(Level.STOP, "no_prices", "prices", text, remedy),)
    return (*_twice(job), *orphan_findings(job), *_invented(job))


def orphans(job: Job) -> tuple[str, ...]:
    """The codes of quantities whose item the price list does not have."""
    known = {item.code for item in job.prices}
    # A zero says that a part is not taken, listed or not.
    return tuple(
        count.code for count in job.counts if count.code not in known and not _is_zero(count)
    )


def orphan_findings(job: Job) -> tuple[Finding, ...]:
    """A quantity without an item would be left out in silence."""
    return tuple(
        Finding(
            Level.STOP,
            "quantity_of_nothing",
            "counts",
            tr("A quantity is entered for “{code}”, which the price list does not have.",
               code=code),
            tr("Add the item again, or take the quantity away."),
        )
        for code in orphans(job)
    )  # fmt: skip


def _is_zero(count: Count) -> bool:
    return isinstance(count.quantity, Quantity) and amount(count.quantity) == 0


def _twice(job: Job) -> Iterable[Finding]:
    codes = Counter(item.code for item in job.prices)
    for code in (code for code, times in codes.items() if times > 1):
        names = ", ".join(item.name for item in job.prices if item.code == code)
        text = tr("The price list has “{code}” more than once: {names}.", code=code, names=names)
        remedy = tr("Remove all but one of them.")
        yield Finding(Level.STOP, "item_twice", "prices", text, remedy)
    if TANK in codes:
        text = tr("An item of the price list has the code “{code}”, which is the tank's own.",
                  code=TANK)  # fmt: skip
        remedy = tr("Remove it, and add it as an item of your own.")
        yield Finding(Level.STOP, "item_twice", "prices", text, remedy)
    counts = Counter(count.code for count in job.counts)
    for code in (code for code, times in counts.items() if times > 1):
        text = tr("Two quantities are entered for “{code}”.", code=code)
        remedy = tr("Type the right one.")
        yield Finding(Level.STOP, "quantity_twice", "counts", text, remedy)


def _invented(job: Job) -> Iterable[Finding]:
    if job.prices_invented:
        text = tr("The prices are invented: they came with the program.")
        remedy = tr("Type your own on the page “Price list”, then take its tick away.")
        yield Finding(Level.CAUTION, "prices_invented", "prices_invented", text, remedy)


def rate_findings(rows: Iterable[Row], rates: Rates) -> Iterable[Finding]:
    """An hour that is charged needs a price."""
    if rates.labour_rate is None and not any(f.field == "labour_rate" for f in rates.findings):
        charged = [row for row in rows if row.quantity and row.item.hours is not None]
        if charged:
            text = tr("Labour is charged by the hour, and an hour has no price.")
            remedy = tr("Type what a customer pays for an hour.")
            yield Finding(Level.STOP, "labour_rate_missing", "labour_rate", text, remedy)


def unlisted(job: Job, counts: Mapping[str, Counted]) -> tuple[str, ...]:
    """The codes that the arrangement takes, and the price list does not have."""
    known = {item.code for item in job.prices}
    dropped = {count.code for count in job.counts if _is_zero(count)}
    return tuple(
        code for code, one in counts.items() if one.quantity and code not in known | dropped
    )


def unlisted_findings(job: Job, counts: Mapping[str, Counted]) -> Iterable[Finding]:
    """Parts without a place in the price list would be left out in silence."""
    usual = usual_items()
    missing = unlisted(job, counts)
    if missing and job.prices:
        names = ", ".join(usual[code].name for code in missing)
        text = tr("The price list has no: {names}. It is not in the total.", names=names)
        remedy = tr("Add it to the list, or make sure that it is not needed.")
        yield Finding(Level.CAUTION, "part_not_listed", "prices", text, remedy)


def work_findings(job: Job) -> Iterable[Finding]:
    """What only the person on site can count."""
    typed = {count.code for count in job.counts}
    if job.work_kind is WorkKind.PLAIN_SWAP and "check_valve" not in typed:
        text = tr("Was the old check valve drilled to let air in?")
        remedy = tr("Then it needs a new one: type the quantity of the check valve, or 0.")
        yield Finding(Level.NOTE, "check_valve_open", "counts", text, remedy)


def tank_findings(job: Job, tanks: Sequence[Tank]) -> Iterable[Finding]:
    """A tank without a price, or with one in another currency, cannot be offered."""
    for tank in tanks:
        if tank.price is None:
            text = tr("{tank} has no price in the catalogue.", tank=tank.name)
            remedy = tr("Enter its price in the catalogue, or choose another tank.")
            yield Finding(Level.STOP, "tank_without_price", "tank_price", text, remedy)
        elif tank.currency != job.currency.value:
            text = tr(
                "The price of {tank} is in {theirs}, the estimate in {ours}.",
                tank=tank.name,
                theirs=tank.currency,
                ours=job.currency.value,
            )
            remedy = tr("Enter its price in {ours}, or choose the other currency.",
                        ours=job.currency.value)  # fmt: skip
            yield Finding(Level.STOP, "tank_currency", "currency", text, remedy)
