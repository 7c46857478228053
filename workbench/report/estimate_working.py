"""The appendix of an estimate: the working of every option."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.report.blocks import Block, Section, Words
from workbench.report.estimate_words import offer_name
from workbench.report.working import working_section
from workbench.study.estimate.working import day_steps
from workbench.study.evaluate import Results
from workbench.units import Display
from workbench.words import tr


def estimate_working(results: Results, display: Display) -> Iterator[Section]:
    """A section for each option that has a tank; what was worked out before is not told again."""
    told: list[Block] = []
    for offer in results.estimate.offers:
        if offer.one is None:
            continue
        heading = tr("Working of option {name}", name=offer_name(offer))
        steps = day_steps(offer, display)
        section = working_section(offer.results, offer.one, display, heading, steps)
        blocks = [block for block in section.blocks if block not in told]
        if told and len(blocks) < len(section.blocks):
            before = tr("What is worked out as above is left out.")
            blocks.insert(0, Words(text=before, tone="muted"))
        told += section.blocks
        yield Section(key=section.key, heading=heading, blocks=tuple(blocks))
