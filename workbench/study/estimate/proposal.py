"""Three tanks that differ in what they do: the required run, a longer one, the longest sensible."""

from __future__ import annotations

from typing import Any

import numpy as np

from workbench.job.choices import Order
from workbench.study.estimate.offers import LETTERS, entry_of
from workbench.study.evaluate import Results
from workbench.study.ranking import Ranking
from workbench.words import tr

STEPS = (1.0, 1.4, 1.9)
"""How many times the required run each option takes at least: our own steps, about half and about
once as long again, as stock sizes seldom fall on the mark."""
APART = 1.1
"""An option runs at least so many times as long as the one before, or nobody would notice."""


def propose(results: Results) -> dict[str, Any]:
    """The entries of up to three options at the job's band, for one edit.

    Of the tanks that pass and have a price, each option is the cheapest that runs as long as its
    step asks; where none runs about twice as long, the last takes the longest. A step that no tank
    reaches is left out, and so are options that would hardly differ.
    """
    entries: dict[str, Any] = {}
    for letter in LETTERS:
        name = entry_of(letter)
        entries |= {f"{name}_tank": "", f"{name}_band": None, f"{name}_label": ""}
    if results.ranking is None:
        return entries
    for letter, index in zip(LETTERS, _picked(results.ranking), strict=False):
        name = entry_of(letter)
        entries[f"{name}_tank"] = results.ranking.candidates.key(index)
        entries[f"{name}_label"] = _label(letter, float(results.ranking.run_time[index]), results)
    return entries


def _label(letter: str, run: float, results: Results) -> str:
    """A name that says what the option does; figures of a job with a ranking have a sizing."""
    assert results.ranking is not None  # noqa: S101
    if letter == LETTERS[0]:
        return tr("The required run")
    return tr("{times} times the required run", times=f"{run / results.ranking.least_run:.1f}")


def _picked(ranking: Ranking) -> list[int]:
    """Indices of candidates, each running longer than the one before."""
    cheapest_first = ranking.candidates.sequence(Order.PRICE, ranking.drawdown)
    priced = np.isfinite(ranking.candidates.price)
    usable = cheapest_first[(ranking.fails[cheapest_first] == 0) & priced[cheapest_first]]
    runs = ranking.run_time[usable]
    picked: list[int] = []
    least = 0.0
    for step in STEPS:
        long_enough = np.flatnonzero(runs >= max(step * ranking.least_run, least) * (1.0 - 1e-9))
        if len(long_enough):
            first = int(long_enough[0])
            picked.append(int(usable[first]))
            least = float(runs[first]) * APART
    if len(picked) < len(STEPS) and len(runs) and float(np.max(runs)) >= least:
        picked.append(int(usable[int(np.argmax(runs))]))  # the cheapest of the longest
    return picked
