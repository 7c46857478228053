"""The one quantity that is not known: what it must be so that the pump runs as long as asked.

Pump flow, run time, total volume, middle and width of the band, and precharge hang together by

    run = drawdown / flow,   drawdown = total volume × factor(precharge, cut-in, cut-out)

with the mean flow over the band where it falls. Five are held and the sixth follows; where it has
several values all are given, where it has none, why. The membrane's limit is not part of it: what a
tank must let in stands beside each answer.

Source: drawdown as in :mod:`workbench.physics.tank`; run = drawdown / flow, MIL-HDBK-1005/9A, US
Department of Defense, paragraph 2.5.3.6, at no demand.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from workbench.job.paper_choices import SolveFor
from workbench.job.pump_choices import PumpEntry
from workbench.physics.forgiving import SAME
from workbench.study.findings import Finding, Level
from workbench.study.pump.reading import measured_at
from workbench.study.reader import Reader
from workbench.study.setting import Setting
from workbench.study.solve.answers import Cause, Solution, Why, solution
from workbench.study.solve.known import Known, read_known
from workbench.study.solve.picture import SolvePicture, picture_of
from workbench.study.solve.put import changes_for
from workbench.study.solve.relation import Range, range_of, unit_drawdown, unit_run
from workbench.study.solve.search import search
from workbench.units.kinds import PRESSURE
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results


@dataclass(frozen=True, eq=False)
class SolveView:
    """All that the page shows.

    ``answered`` is what ``solutions`` give: what was looked for, or the run where the flow was and
    is known. The usual one comes first; the others rise. ``known`` is None while an entry stands in
    the way (``blocked``). ``beyond`` is what the job would be told with the first answer in it.
    """

    looked_for: SolveFor
    answered: SolveFor
    known: Known | None
    solutions: tuple[Solution, ...]
    why: Why | None
    range: Range | None
    picture: SolvePicture | None
    blocked: tuple[Finding, ...]
    beyond: tuple[Finding, ...]
    findings: tuple[Finding, ...]

    @property
    def can_be_put(self) -> bool:
        """Whether there is an answer to what was looked for."""
        return bool(self.solutions) and self.answered is self.looked_for


def solve_view(results: Results) -> SolveView:
    """The page's figures; what stands in the way is among its findings or those of ``results``."""
    known, found = read_known(results)
    looked_for = results.job.solve_for
    view = SolveView(
        looked_for=looked_for,
        answered=looked_for,
        known=known,
        solutions=(),
        why=None,
        range=None,
        picture=None,
        blocked=tuple(one for one in found if one.level is Level.STOP),
        beyond=(),
        findings=tuple(one for one in found if one not in results.findings),
    )
    if known is None:
        return view
    with np.errstate(all="ignore"):  # numbers beyond all tanks end in a reason
        view = _solved(view, known)
        picture = picture_of(known, view.answered, view.solutions, view.range)
    findings = (*view.findings, *_assumed(view, known, results))
    return replace(view, picture=picture, findings=findings, beyond=_beyond(view, results))


def _solved(view: SolveView, known: Known) -> SolveView:
    if view.looked_for is SolveFor.PUMP_FLOW:
        if known.delivery is None:
            return _direct(view, _pump_flow(known))
        told = replace(view, answered=SolveFor.RUN_TIME, solutions=_run_time(known))
        return replace(told, why=Why(Cause.FLOW_IS_KNOWN if told.solutions else Cause.FILL_UNKNOWN))
    if view.looked_for is SolveFor.RUN_TIME:
        return _direct(view, _run_time(known))
    if view.looked_for is SolveFor.VOLUME:
        return _direct(view, _volume(known))
    span = range_of(known)
    if span.is_empty:
        return replace(view, range=span, why=Why(Cause.NO_RANGE))
    answers, why = search(known, span)
    return replace(view, range=span, solutions=answers, why=why)


# --- one multiplication or division ---


def _direct(view: SolveView, answers: tuple[Solution, ...]) -> SolveView:
    return replace(view, solutions=answers, why=None if answers else Why(Cause.FILL_UNKNOWN))


def _one(known: Known, value: float, volume: float, run: float) -> tuple[Solution, ...]:
    """The one answer; none where the numbers leave what floats can hold."""
    if not all(0.0 < one < np.inf for one in (value, volume, run)):
        return ()
    found = solution(known, value, volume, run)
    return (replace(found, is_usual=True),) if 0.0 < found.drawdown < np.inf else ()


def _pump_flow(known: Known) -> tuple[Solution, ...]:
    assert known.volume is not None  # noqa: S101 - held
    assert known.run is not None  # noqa: S101 - held
    water = known.volume * unit_drawdown(known.setting_at(0.0))
    return _one(known, water / known.run, known.volume, known.run)


def _run_time(known: Known) -> tuple[Solution, ...]:
    assert known.volume is not None  # noqa: S101 - held
    run = known.volume * unit_run(known.delivery, known.setting_at(0.0))
    return _one(known, run, known.volume, run)


def _volume(known: Known) -> tuple[Solution, ...]:
    assert known.run is not None  # noqa: S101 - held
    each = unit_run(known.delivery, known.setting_at(0.0))
    volume = known.run / each if each > 0.0 else np.inf
    return _one(known, volume, volume, known.run)


def _assumed(view: SolveView, known: Known, results: Results) -> tuple[Finding, ...]:
    """Two measured flows say nothing sure of a band that reaches beyond them."""
    if results.job.pump_entry is not PumpEntry.TWO_FLOWS or known.is_constant:
        return ()
    band = Setting(known.cut_in, known.cut_out, known.cut_in, known.ambient, known.exponent)
    measured = measured_at(results.job, Reader(results.job), band)
    if not view.can_be_put or measured is None:
        return ()
    setting = view.solutions[0].setting
    low, high = measured
    if low * (1.0 - SAME) <= setting.cut_in and setting.cut_out <= high * (1.0 + SAME):
        return ()
    return (Finding(
        Level.NOTE, "solve_flow_assumed", "solve_for",
        tr("The flow was measured from {low} to {high}; beyond them its curve is an assumption."),
        tr("Measure it at the new band too."),
        (("low", low, PRESSURE), ("high", high, PRESSURE)),
    ),)  # fmt: skip


def _beyond(view: SolveView, results: Results) -> tuple[Finding, ...]:
    """What the job would be told with the first answer in it, and is not told now."""
    from workbench.study.evaluate import evaluate

    if not view.can_be_put:
        return ()
    changes = changes_for(results.job, view.answered, view.solutions[0])
    if not changes:
        return ()
    then = evaluate(replace(results.job, **changes), None).findings
    now = {(one.code, one.field) for one in results.findings}
    return tuple(one for one in then if (one.code, one.field) not in now)
