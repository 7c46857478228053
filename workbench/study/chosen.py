"""Which tank a page is about: the one that the job names, else the first of the ranking."""

from __future__ import annotations

import numpy as np

from workbench.physics.air import AbsolutePressure, absolute, gauge_pressure
from workbench.physics.header import Vessels
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.ranking import Judged
from workbench.study.setting import Setting
from workbench.words import tr


def chosen(results: Results, field: str) -> tuple[Judged | None, tuple[Finding, ...]]:
    """The arrangement that ``field`` of the job names by its key.

    Returns:
        With no name, the first of the ranking; None where nothing is ranked, or no such tank is.
    """
    ranking, key = results.ranking, getattr(results.job, field)
    if ranking is None or not len(ranking):
        return None, ()
    if not key:
        return ranking.row(0), ()
    index = ranking.candidates.by_key.get(key)
    if index is not None:
        return ranking.judged(index), ()
    text = tr("No tank of the catalogue is called {key} now, or so many are not allowed.", key=key)
    return None, (Finding(Level.STOP, "tank_gone", field, text, tr("Choose another tank.")),)


def vessels_of(one: Judged, setting: Setting) -> Vessels:
    """The tanks of an arrangement, all charged as the setting has it."""
    ambient = AbsolutePressure(np.asarray(setting.ambient))
    charge = absolute(gauge_pressure(setting.precharge), ambient)
    return Vessels(
        np.array([part.total_volume for part in one.parts]),
        AbsolutePressure(np.full(one.count, float(charge))),
        np.array([np.inf if p.acceptance is None else p.acceptance for p in one.parts]),
        setting.exponent,
    )
