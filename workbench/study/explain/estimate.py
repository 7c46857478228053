"""How the figures of the page "Estimate" come about; the place is that of the option."""

from __future__ import annotations

from workbench.study.estimate.offers import LETTERS, Offer
from workbench.study.estimate.working import day_steps
from workbench.study.explain import pictures
from workbench.study.explain.amounts import line_step, total_steps
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.on_paper import on_paper
from workbench.study.explain.steps import ending, ending_as
from workbench.study.job_working import run_steps, tank_steps
from workbench.study.working import Step
from workbench.units import STARTS_PER_DAY, TIME, VOLUME, Display


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


def _drawdown(asked: Asked) -> Working | None:
    return _does(asked, 1)


def _run(asked: Asked) -> Working | None:
    return _does(asked, 2)


def _does(asked: Asked, figure: int) -> Working | None:
    """The steps up to the drawdown (1) or to the run (2) of an option."""
    offer = _offer(asked)
    if offer is None or offer.one is None or offer.results.setting is None:
        return None
    display = on_paper(asked.results.job, asked.display)
    steps = does_steps(offer, display)
    water = len(tuple(tank_steps(offer.results.setting, offer.one, display)))
    last = water + figure - 1
    return Working(steps[:last]) if 0 < last <= len(steps) else None


def _starts(asked: Asked) -> Working | None:
    offer = _offer(asked)
    if offer is None or offer.starts_per_day is None:
        return None
    display = on_paper(asked.results.job, asked.display)
    shown = display.number(offer.starts_per_day, STARTS_PER_DAY, 0)
    steps = tuple(ending_as(step, shown) for step in day_steps(offer, display))
    return Working(steps, does_steps(offer, display)) if steps else None


def _line(asked: Asked) -> Working | None:
    """One line of an option's prices; the second place is its row."""
    offer = _offer(asked)
    if offer is None or offer.priced is None or len(asked.place) < 2:
        return None
    lines = offer.priced.lines
    row = asked.place[1]
    return Working((line_step(lines[row], asked.results.job),)) if row < len(lines) else None


FIGURES: dict[str, Explain] = {
    "option": _option,
    "drawdown": _drawdown,
    "run": _run,
    "starts": _starts,
    "line": _line,
}
"""The explaining function of each figure of the page."""
