"""The figures that stand on the estimate, by their names."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.gui.explain.figure import Figure
from workbench.report.estimate_words import offer_name
from workbench.report.paper_display import paper_display
from workbench.study.estimate.offers import LETTERS, Offer
from workbench.study.evaluate import Results
from workbench.study.pricing.money import money
from workbench.units import STARTS_PER_DAY, TIME, VOLUME, Display
from workbench.words import tr


def figures_of(results: Results, display: Display) -> Iterator[Figure]:
    """Option by option: what its tanks do, then the amount of each line."""
    display = paper_display(results.job, display)
    for offer in results.estimate.offers:
        place = LETTERS.index(offer.letter)
        yield from _does(offer, place, display)
        for row, line in enumerate(offer.priced.lines if offer.priced else ()):
            name = tr("{option}: {line}", option=offer_name(offer), line=line.name)
            yield Figure(f"estimate.line:{place}:{row}", name, money(line.amount, results.job))


def _does(offer: Offer, place: int, display: Display) -> Iterator[Figure]:
    one, option = offer.one, offer_name(offer)
    if one is None or offer.results.setting is None or offer.results.inputs.duty is None:
        return
    water = display.text(one.drawdown, VOLUME)
    yield Figure(f"estimate.drawdown:{place}", tr("{option}: drawdown", option=option), water)
    if one.drawdown > 0.0 and one.run_time > 0.0:
        run = display.text(one.run_time, TIME)
        yield Figure(f"estimate.run:{place}", tr("{option}: run time", option=option), run)
    if offer.starts_per_day is not None and offer.daily_volume is not None:
        starts = display.number(offer.starts_per_day, STARTS_PER_DAY, 0)
        name = tr("{option}: starts a day, at most", option=option)
        yield Figure(f"estimate.starts:{place}", name, starts)
