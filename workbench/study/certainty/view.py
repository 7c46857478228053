"""How certain the runs of tanks are when gauges, switch and bucket are off: following the cases.

It takes longer than a frame where the catalogue is large, so it belongs beside the window.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from workbench.physics.air import FloatArray
from workbench.study.certainty.arrangements import (
    Outcome,
    Progress,
    arrangement_swings,
    study_arrangements,
)
from workbench.study.certainty.plan import TolerancePlan
from workbench.study.certainty.tolerance import Swing, Verdict
from workbench.study.findings import Finding, Level
from workbench.words import tr


@dataclass(frozen=True, slots=True)
class Certainty:
    """What the cases say of one arrangement: share that is met [-], runs [s] at no demand.

    ``worst_run`` is the least over all corners and cases, ``best_run`` the greatest (inf: the pump
    never stops), ``nominal_run`` that with nothing deviating.
    """

    candidate: int
    verdict: Verdict
    share: float
    nominal_run: float
    worst_run: float
    best_run: float


@dataclass(frozen=True, eq=False)
class ToleranceView:
    """All that the page shows of one plan.

    ``outcome`` is over the plan's ``studied``; ``tank`` is what it says of the chosen tank, None
    where there is none. ``swings``: what each tolerance does alone to that tank, greatest first;
    empty where it has no run that could become longer or shorter.
    """

    plan: TolerancePlan
    outcome: Outcome
    tank: Certainty | None
    swings: tuple[Swing, ...]
    findings: tuple[Finding, ...]

    def row(self, place: int) -> Certainty:
        """What the cases say of one of the plan's ``rows``."""
        return _certainty(self.plan, self.outcome, place)


def run_plan(plan: TolerancePlan, progress: Progress) -> ToleranceView | None:
    """Follow all cases; the same plan always gives the same figures.

    Args:
        progress: called with the share done; where it answers False nothing is followed further.

    Returns:
        None if ``progress`` ended it.
    """
    volume, acceptance = _parts(plan)
    outcome = study_arrangements(
        plan.basis,
        plan.tolerances,
        volume,
        acceptance,
        cases=plan.cases,
        seed=plan.seed,
        progress=progress,
    )
    if outcome is None:
        return None
    tank: Certainty | None = None
    swings: tuple[Swing, ...] = ()
    if plan.tank is not None:
        place = plan.studied.index(plan.tank)
        tank = _certainty(plan, outcome, place)
        if 0.0 < tank.nominal_run < np.inf:
            swings = arrangement_swings(
                plan.basis, plan.tolerances, volume[place], acceptance[place]
            )
    return ToleranceView(plan, outcome, tank, swings, tuple(_about(outcome, plan.cases)))


def _certainty(plan: TolerancePlan, outcome: Outcome, place: int) -> Certainty:
    return Certainty(
        plan.studied[place],
        Verdict(int(outcome.verdict[place])),
        float(outcome.share[place]),
        float(outcome.nominal_run[place]),
        float(outcome.worst_run[place]),
        float(outcome.best_run[place]),
    )


def _parts(plan: TolerancePlan) -> tuple[FloatArray, FloatArray]:
    """Volume and acceptance (n, 2) [m³] of the equal tanks together, and of the other one."""
    candidates, index = plan.candidates, np.array(plan.studied, dtype=np.intp)
    tank, other = candidates.tank[index], candidates.other[index]

    def of_both(one: FloatArray) -> FloatArray:
        beside = np.where(other < 0, 0.0, one[other])
        return np.stack((one[tank] * candidates.count[index], beside), axis=1)

    return of_both(candidates.columns.volume), of_both(candidates.columns.acceptance)


def _about(outcome: Outcome, cases: int) -> Iterator[Finding]:
    if outcome.never_stops > 0.0:
        yield Finding(
            Level.CAUTION,
            "never_stops",
            "cut_out",
            tr("In {count} of {cases} cases cut-out lies above what the pump reaches, so that it"
               " never stops. They count as not met.", **_counted(outcome.never_stops, cases)),
            tr("Lower the band, or choose a pump with more head."),
        )  # fmt: skip
    if outcome.off_curve > 0.0:
        yield Finding(
            Level.CAUTION,
            "off_curve",
            "curve",
            tr("{count} of {cases} cases go beyond the curve's points. Below them the last point's"
               " flow is held; a cut-out above them counts as never reached.",
               **_counted(outcome.off_curve, cases)),
            tr("Add points to the curve."),
        )  # fmt: skip


def _counted(share: float, cases: int) -> dict[str, str]:
    return {"count": f"{round(share * cases):,}", "cases": f"{cases:,}"}
