"""How the figures of the page "Estimate" come about; the place is that of the option."""

from __future__ import annotations

from workbench.study.estimate.offers import LETTERS, Offer
from workbench.study.explain import pictures
from workbench.study.explain.amounts import line_step, total_steps
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.on_paper import on_paper
from workbench.study.explain.steps import ending
from workbench.study.job_working import run_steps, tank_steps
from workbench.study.working import Step
from workbench.units import TIME, VOLUME, Display


def _offer(asked: Asked) -> Offer | None:
    """The option of a place, which is that of its letter."""
    if asked.first >= len(LETTERS):
        return None
    letter = LETTERS[asked.first]
    return next((one for one in asked.results.estimate.offers if one.letter == letter), None)


def _option(asked: Asked) -> Working | None:
    """The price of an option; beside it what its tanks do."""
    offer, job = _offer(asked), asked.results.job
    if offer is None or offer.priced is None or offer.priced.totals is None:
        return None
    priced, totals = offer.priced, offer.priced.totals
    display = on_paper(job, asked.display)
    does, setting = does_steps(offer, display), offer.results.setting
    lines = tuple(line_step(line, job) for line in priced.lines)
    picture = None if setting is None else pictures.air(setting, display)
    return Working((*lines, *total_steps(priced, totals, job)), does, picture)


def does_steps(offer: Offer, display: Display) -> tuple[Step, ...]:
    """Drawdown and run of an option's tanks at its band."""
    one, setting, duty = offer.one, offer.results.setting, offer.results.inputs.duty
    if one is None or setting is None:
        return ()
    *first, water = tank_steps(setting, one, display)
    steps = [*first, ending(water, one.drawdown, VOLUME, display)]
    runs = [] if duty is None else list(run_steps(duty, one, display))
    return (*steps, *(ending(run, one.run_time, TIME, display) for run in runs[:1]))


FIGURES: dict[str, Explain] = {"option": _option}
"""The explaining function of each figure of the page."""
