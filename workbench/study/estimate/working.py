"""How the figures of an option come about, where no tank and no price tells it."""

from __future__ import annotations

from workbench.study.estimate.offers import Offer
from workbench.study.working import Step
from workbench.units import STARTS_PER_DAY, VOLUME, Display
from workbench.words import tr


def day_steps(offer: Offer, display: Display) -> tuple[Step, ...]:
    """The most starts in a day; none where the day's use or the tank is not known."""
    if offer.starts_per_day is None or offer.daily_volume is None or offer.one is None:
        return ()
    daily = display.text(offer.daily_volume, VOLUME)
    water = display.text(offer.one.drawdown, VOLUME, 2)
    starts = display.number(offer.starts_per_day, STARTS_PER_DAY, 1)
    return (
        Step(
            tr("Starts a day, at most"),
            tr("water of a mean day / Vd"),
            tr("{daily} / {water} = {starts}", daily=daily, water=water, starts=starts),
            tr("between two starts at least one drawdown is drawn"),
        ),
    )
