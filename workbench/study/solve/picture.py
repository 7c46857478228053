"""The picture: the run over what is looked for, the run that is asked, and where no value may lie.

Where the run itself is what is told there is nothing to draw it over but the tank's volume.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from workbench.job.paper_choices import SolveFor
from workbench.physics.air import FloatArray
from workbench.study.solve.answers import Solution
from workbench.study.solve.known import Known
from workbench.study.solve.relation import (
    Limit,
    Range,
    Relation,
    gap_of,
)

_POINTS = 241
_BEYOND = 1.12  # an upper limit is shown with what lies above it
_ROOM = 1.25  # beyond the furthest value that matters
_OVER = 2.2  # a run so many times the asked one is as good as any longer one


@dataclass(frozen=True, slots=True)
class Mark:
    """An answer in the picture: its place, its run [s], and whether it is the usual one."""

    place: float
    run: float
    is_usual: bool


@dataclass(frozen=True, slots=True)
class Shade:
    """A part of the range (SI) where no value may lie, or where the tank runs dry (``limit``)."""

    low: float
    high: float
    limit: Limit


@dataclass(frozen=True, eq=False)
class SolvePicture:
    """Run (m,) [s] over ``over`` (m,) (SI), nan where it cannot be; the axis goes up to ``end``.

    ``over`` is what ``over_what`` names. ``asked``: the run that is asked, None where it is told.
    ``highest`` [s]: up to where the run is worth looking at.
    """

    over_what: SolveFor
    over: FloatArray
    run: FloatArray
    end: float
    highest: float
    asked: float | None
    marks: tuple[Mark, ...]
    shades: tuple[Shade, ...]


def picture_of(
    known: Known, answered: SolveFor, answers: tuple[Solution, ...], span: Range | None
) -> SolvePicture | None:
    """The picture of answers, or of why there is none; None where there is nothing to draw."""
    if span is None:
        return _of_one(known.run, answered, answers)
    return None if span.is_empty else _of_range(known, answers, span)


def _of_one(
    asked: float | None, answered: SolveFor, answers: tuple[Solution, ...]
) -> SolvePicture | None:
    """Run over flow, a hyperbola, or over volume, a straight line."""
    if not answers:
        return None
    (answer,) = answers
    if answered is SolveFor.PUMP_FLOW:
        over = np.linspace(0.0, answer.flow * 2.0, _POINTS)[1:]
        run, place = answer.drawdown / over, answer.flow
    else:
        over = np.linspace(0.0, answer.volume * 2.0, _POINTS)
        run, place = over * (answer.run / answer.volume), answer.volume
    return SolvePicture(
        over_what=SolveFor.PUMP_FLOW if answered is SolveFor.PUMP_FLOW else SolveFor.VOLUME,
        over=over,
        run=np.asarray(run),
        end=float(over[-1]),
        highest=max(answer.run, asked or 0.0) * _OVER,
        asked=asked,
        marks=(Mark(place, answer.run, is_usual=True),),
        shades=(),
    )


def _of_range(known: Known, answers: tuple[Solution, ...], span: Range) -> SolvePicture | None:
    assert known.run is not None  # noqa: S101 - held with a band or a precharge
    try:
        relation = Relation(known)
    except ValueError:
        return None
    end = _end(known, answers, span)
    gap = gap_of(known, span)
    over = np.linspace(span.low, min(span.high, end), _POINTS)
    if gap is not None:  # it begins or ends with a kink
        inside = [one for one in (gap.low, gap.high) if over[0] < one < over[-1]]
        over = np.unique(np.append(over, inside))
    run = relation.seconds(over)
    if not np.all(np.isfinite(run)):
        return None
    longest = float(np.max(run))
    return SolvePicture(
        over_what=known.looked_for,
        over=over,
        run=run,
        end=end,
        highest=max(min(known.run, longest * _OVER), min(longest, known.run * _OVER)),
        asked=known.run,
        marks=tuple(Mark(one.value, one.run, one.is_usual) for one in answers),
        shades=_shades(span, gap, end),
    )


def _end(known: Known, answers: tuple[Solution, ...], span: Range) -> float:
    if np.isfinite(span.high):
        return span.high * _BEYOND
    return max(known.centre, span.low, *(one.value for one in answers)) * _ROOM


def _shades(span: Range, gap: Range | None, end: float) -> tuple[Shade, ...]:
    shades = []
    if span.low > 0.0:
        shades.append(Shade(0.0, span.low, span.low_limit))
    if gap is not None and gap.low < end:
        shades.append(Shade(gap.low, min(gap.high, end), Limit.GAP))
    if span.high < end:
        shades.append(Shade(span.high, end, span.high_limit))
    return tuple(shades)
