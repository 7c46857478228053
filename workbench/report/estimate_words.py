"""How an estimate words an option: its name, its band, and each figure with its unit."""

from __future__ import annotations

from decimal import Decimal

from workbench.job.job import Job
from workbench.study.estimate.offers import Offer
from workbench.study.findings import Level
from workbench.units import (
    PRESSURE,
    STARTS_PER_DAY,
    Display,
    Kind,
    Quantity,
)
from workbench.words import tr

_NOT_IN_FONT = {"−": "–", "→": "–", "≈": "~"}


def printable(text: str) -> str:
    """A text of the program with what the papers' font has: it lacks the minus sign, for one."""
    for sign, put in _NOT_IN_FONT.items():
        text = text.replace(sign, put)
    return text.replace("≤", tr("at most")).replace("≥", tr("at least"))


def level_word(level: Level) -> str:
    """The word before a finding."""
    return {Level.NOTE: tr("Note"), Level.CAUTION: tr("Caution"), Level.STOP: tr("Stop")}[level]


def offer_name(offer: Offer) -> str:
    """Its letter and name: "A: The required run"; the name alone where it is none of its own."""
    plain = tr("Option {letter}", letter=offer.letter)
    if offer.label == plain:
        return plain
    return tr("{letter}: {name}", letter=offer.letter, name=offer.label)


def band_words(job: Job, display: Display) -> str:
    """The job's switch band: "30/50 psi", as typed where its unit is one of those shown."""
    low, high = job.cut_in, job.cut_out
    if not isinstance(low, Quantity) or not isinstance(high, Quantity):
        return f"{low} / {high}"
    first, second = _as_typed(low, display), _as_typed(high, display)
    unit = f" {second.rpartition(' ')[2]}"
    if first.endswith(unit):
        return f"{first.removesuffix(unit)}/{second}"
    return f"{first} / {second}"


def _as_typed(pressure: Quantity, display: Display) -> str:
    """As typed where its unit is one of those shown; else with that unit's usual decimals."""
    typed = display.typed(pressure, PRESSURE)
    if typed == str(pressure).replace(".", display.mark):
        return typed
    return display.text(pressure.si, PRESSURE)


def precharge_words(offer: Offer, display: Display) -> str:
    """What to set, tank drained; with a stop against it no figure that could be set."""
    if offer.precharge is None:
        why = offer.stops[0].told(display) if offer.stops else tr("no tank")
        return printable(tr("withheld: {why}", why=why))
    service = display.text(offer.precharge.in_service, PRESSURE)
    if offer.precharge.where_set is None:
        return service
    where_set = display.text(offer.precharge.where_set, PRESSURE)
    return tr("{pressure} where it is set, {service} in service", pressure=where_set,
              service=service)  # fmt: skip


def starts_a_day(offer: Offer, display: Display) -> str:
    """At most so many; a word where it is not known."""
    if offer.starts_per_day is None:
        return tr("not known")
    return display.number(offer.starts_per_day, STARTS_PER_DAY, 0)


def difference(first: float, second: float, kind: Kind, display: Display, places: int) -> Decimal:
    """``second`` less ``first`` as a reader finds it: of the figures as they are written."""
    return _written(second, kind, display, places) - _written(first, kind, display, places)


def _written(si: float, kind: Kind, display: Display, places: int) -> Decimal:
    return Decimal(display.number(si, kind, places).replace(display.mark, "."))


def with_unit(amount: Decimal, kind: Kind, display: Display) -> str:
    """The size of a difference with its unit; which way it goes is for the sentence to say."""
    number = f"{abs(amount)}".replace(".", display.mark)
    return f"{number} {display.symbol(kind)}".strip()
