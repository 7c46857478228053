"""The appendix of an estimate: the working of every option."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.report.blocks import Block, Section, Words
from workbench.report.estimate_words import offer_name
from workbench.report.working import working_section
from workbench.study.estimate.offers import Offer
from workbench.study.evaluate import Results
from workbench.study.working import Step
from workbench.units import DAILY, STARTS_PER_DAY, VOLUME, Display
from workbench.words import tr

_DAY = 86_400.0


def estimate_working(results: Results, display: Display) -> Iterator[Section]:
    """A section for each option that has a tank; what was worked out before is not told again."""
    told: list[Block] = []
    for offer in results.estimate.offers:
        if offer.one is None:
            continue
        heading = tr("Working of option {name}", name=offer_name(offer))
        steps = tuple(_day_step(offer, display))
        section = working_section(offer.results, offer.one, display, heading, steps)
        blocks = [block for block in section.blocks if block not in told]
        if told and len(blocks) < len(section.blocks):
            before = tr("What is worked out as above is left out.")
            blocks.insert(0, Words(text=before, tone="muted"))
        told += section.blocks
        yield Section(key=section.key, heading=heading, blocks=tuple(blocks))


def _day_step(offer: Offer, display: Display) -> Iterator[Step]:
    if offer.starts_per_day is None or offer.daily_volume is None or offer.one is None:
        return
    daily = display.text(offer.daily_volume / _DAY, DAILY)
    water = display.text(offer.one.drawdown, VOLUME, 2)
    starts = display.number(offer.starts_per_day, STARTS_PER_DAY, 0)
    yield Step(
        tr("Starts a day, at most"),
        tr("water of a mean day / Vd"),
        tr("{daily} / {water} = {starts}", daily=daily, water=water, starts=starts),
        tr("between two starts at least one drawdown is drawn"),
    )
