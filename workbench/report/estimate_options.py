"""The options side by side, and what the extra money buys, told in what the options do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from workbench.physics.pump import WATER_WEIGHT
from workbench.report.blocks import Block, Section, Table, Words
from workbench.report.estimate_plot import options_picture
from workbench.report.estimate_words import (
    band_words,
    difference,
    offer_name,
    precharge_words,
    printable,
    starts_a_day,
    with_unit,
)
from workbench.study.estimate.offer_findings import DOES_NOT_PASS
from workbench.study.estimate.offers import Offer
from workbench.study.evaluate import Results
from workbench.study.pricing.money import money
from workbench.study.reasons import headline
from workbench.units import (
    DAILY,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
)
from workbench.words import tr

_DAY = 86_400.0


def options_section(results: Results, display: Display) -> Section:
    """One column for each option, a picture of them, and how B and C differ from A."""
    offers = [offer for offer in results.estimate.offers if offer.one is not None]
    heading = tr("Options side by side") if len(offers) > 1 else tr("What is offered")
    if not offers:
        none = Words(text=tr("No option can be offered from what was entered."), tone="strong")
        return Section(key="options", heading=heading, blocks=(none,))
    blocks: list[Block] = [_table(results, offers, heading, display)]
    blocks += [Words(text=text) for text in _not_passing(offers, display)]
    blocks += [Words(text=text) for text in bought(results, offers, display)]
    blocks.append(Words(text=_explained(offers, display), tone="muted"))
    if results.job.with_plot and (picture := options_picture(offers, display)):
        blocks.append(picture)
    return Section(key="options", heading=heading, blocks=tuple(blocks))


# --- the table ---


def _table(results: Results, offers: Sequence[Offer], name: str, display: Display) -> Table:
    rows = [*_tank_rows(offers, display), *_duty_rows(results, offers, display)]
    price = [_price(offer) for offer in offers]
    rows.append((tr("Price, with tax"), *price))
    return Table(
        name=name,
        columns=(tr("What it gives"), *(offer_name(offer) for offer in offers)),
        rows=tuple(rows),
        strong=(len(rows) - 1,),
    )


def _tank_rows(offers: Sequence[Offer], display: Display) -> Iterator[tuple[str, ...]]:
    ones = [offer.one for offer in offers if offer.one is not None]
    yield (tr("Tank"), *(one.name for one in ones))
    yield (tr("Total volume"), *(display.text(one.total_volume, VOLUME) for one in ones))
    bands = [band_words(offer.results.job, display) for offer in offers]
    yield (tr("Switch band, cut-in/cut-out"), *bands)
    charge = tuple(precharge_words(offer, display) for offer in offers)
    yield (tr("Precharge to set, tank drained"), *charge)


def _duty_rows(
    results: Results, offers: Sequence[Offer], display: Display
) -> Iterator[tuple[str, ...]]:
    ones = [offer.one for offer in offers if offer.one is not None]
    yield (tr("Drawdown, water at each start"), *(display.text(o.drawdown, VOLUME) for o in ones))
    yield (tr("Run of the pump at no demand"), *(display.text(o.run_time, TIME) for o in ones))
    worst = [_worst(one.starts, display) for one in ones]
    yield (tr("Starts an hour, worst case"), *worst)
    yield (tr("Starts a day, at most"), *(starts_a_day(offer, display) for offer in offers))
    yield (
        tr("Pressure at the tank, lowest to highest"),
        *(_held(offer, display) for offer in offers),
    )
    lift = results.estimate.highest_fixture
    if lift:
        lowest = [_at_fixture(offer, lift, display) for offer in offers]
        yield (tr("Lowest at the highest fixture"), *lowest)


def _worst(starts: float, display: Display) -> str:
    if starts == float("inf"):
        return tr("without end")
    return display.number(starts, STARTS_PER_HOUR)


def _held(offer: Offer, display: Display) -> str:
    setting = offer.results.setting
    if setting is None:
        return tr("not known")
    low, high = display.number(setting.cut_in, PRESSURE), display.text(setting.cut_out, PRESSURE)
    return tr("{low} to {high}", low=low, high=high)


def _at_fixture(offer: Offer, lift: float, display: Display) -> str:
    """Cut-in less the column of water up to the fixture, at rest."""
    setting = offer.results.setting
    if setting is None:
        return tr("not known")
    return printable(display.text(setting.cut_in - WATER_WEIGHT * lift, PRESSURE))


def _price(offer: Offer) -> str:
    if offer.priced is None or offer.priced.totals is None:
        return tr("not known")
    return money(offer.priced.totals.total, offer.results.job)


# --- in words ---


def _not_passing(offers: Sequence[Offer], display: Display) -> Iterator[str]:
    for offer in offers:
        fails = any(finding.code == DOES_NOT_PASS for finding in offer.findings)
        ranking = offer.results.ranking
        if fails and offer.one is not None and ranking is not None:
            why = printable(headline(offer.one, ranking, display))
            yield tr("Option {letter} does not meet what this job asks. {why}",
                     letter=offer.letter, why=why)  # fmt: skip


def bought(results: Results, offers: Sequence[Offer], display: Display) -> Iterator[str]:
    """For each further option what it costs more than the first, and what it does otherwise."""
    first = offers[0]
    for offer in offers[1:]:
        told = ", ".join(_differences(first, offer, display))
        told = told or tr("nothing that these figures show")
        extra = _extra(first, offer)
        if extra is None:
            yield tr("Option {letter} against {first}: {told}.",
                     letter=offer.letter, first=first.letter, told=told)  # fmt: skip
            continue
        amount = money(abs(extra), results.job)
        if extra > 0:
            yield tr("What the extra money buys: option {letter} costs {amount} more than {first}"
                     " and gives {told}.",
                     letter=offer.letter, amount=amount, first=first.letter, told=told)  # fmt: skip
        elif extra < 0:
            yield tr("Option {letter} costs {amount} less than {first} and gives {told}.",
                     letter=offer.letter, amount=amount, first=first.letter, told=told)  # fmt: skip
        else:
            yield tr("Option {letter} costs as much as {first} and gives {told}.",
                     letter=offer.letter, first=first.letter, told=told)  # fmt: skip


def _extra(first: Offer, offer: Offer) -> Decimal | None:
    one, other = first.priced, offer.priced
    if one is None or other is None or one.totals is None or other.totals is None:
        return None
    return other.totals.total - one.totals.total


def _differences(first: Offer, offer: Offer, display: Display) -> Iterator[str]:
    a, b = first.one, offer.one
    if a is None or b is None:
        return
    places = display.unit(VOLUME).decimals
    water = difference(a.drawdown, b.drawdown, VOLUME, display, places)
    if water:
        amount = with_unit(water, VOLUME, display)
        yield (tr("{amount} more water at each start", amount=amount) if water > 0
               else tr("{amount} less water at each start", amount=amount))  # fmt: skip
    run = difference(a.run_time, b.run_time, SHORT_TIME, display, 0)
    if run:
        amount = with_unit(run, SHORT_TIME, display)
        yield (tr("a run {amount} longer", amount=amount) if run > 0
               else tr("a run {amount} shorter", amount=amount))  # fmt: skip
    yield from _fewer_starts(first, offer, display)
    yield from _pressure(first, offer, display)


def _fewer_starts(first: Offer, offer: Offer, display: Display) -> Iterator[str]:
    if first.starts_per_day is None or offer.starts_per_day is None:
        return
    starts = difference(first.starts_per_day, offer.starts_per_day, STARTS_PER_DAY, display, 0)
    count = f"{abs(starts)}"
    if starts < 0:
        yield tr("{count} fewer starts a day", count=count)
    elif starts > 0:
        yield tr("{count} more starts a day", count=count)


def _pressure(first: Offer, offer: Offer, display: Display) -> Iterator[str]:
    a, b = first.results.setting, offer.results.setting
    if a is None or b is None:
        return
    places = display.unit(PRESSURE).decimals
    low = difference(a.cut_in, b.cut_in, PRESSURE, display, places)
    high = difference(a.cut_out, b.cut_out, PRESSURE, display, places)
    if low == high:
        yield from _changed_pressure(low, tr("at every tap"), display)
        return
    yield from _changed_pressure(low, tr("at cut-in"), display)
    yield from _changed_pressure(high, tr("at cut-out"), display)


def _changed_pressure(change: Decimal, where: str, display: Display) -> Iterator[str]:
    amount = with_unit(change, PRESSURE, display)
    if change > 0:
        yield tr("{amount} more pressure {where}", amount=amount, where=where)
    elif change < 0:
        yield tr("{amount} less pressure {where}", amount=amount, where=where)


def _explained(offers: Sequence[Offer], display: Display) -> str:
    """What the rows mean, for who does not sell tanks."""
    text = tr(
        "Drawdown is the water that the tank gives between the pump's stop and its next start. A"
        " longer run and fewer starts spare the motor. The worst case is a tap that draws so much"
        " that the pump starts most often."
    )
    volume = next((offer.daily_volume for offer in offers if offer.daily_volume is not None), None)
    if volume is None:
        return text
    daily = display.text(volume / _DAY, DAILY)
    return text + " " + tr(
        "Starts a day are an upper bound: the {daily} of a mean day over the drawdown; water drawn"
        " while the pump runs needs no start of its own.",
        daily=daily,
    )  # fmt: skip
