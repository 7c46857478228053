"""Looks for the middle, the width or the precharge of a band at which a tank runs as long as asked.

The run turns in its range: with a precharge that follows cut-in a band's factor rises from the
lowest middle up to where d / (Pin − d) = w / (Pout ((Pout / Pin)^(1/n) − 1)), which lies below all
usual bands, and falls from there; a precharge passes its best value; a pump near its shut-off runs
long again. So all of the range is looked at, and every value told.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np

from workbench.job.paper_choices import SolveFor
from workbench.physics.air import FloatArray
from workbench.physics.forgiving import SAME
from workbench.physics.solve import look
from workbench.physics.tank import precharge_for_drawdown
from workbench.study.pump.reading import SMALL_MARGIN
from workbench.study.setting import pressures
from workbench.study.solve.answers import Cause, Solution, Why, solution
from workbench.study.solve.known import Known
from workbench.study.solve.relation import (
    Limit,
    Range,
    Relation,
    unit_drawdown,
)

_PLACES = 257  # at which a range is looked at; between two of them the run turns once at most
_CORRECTIONS = 3  # of what the one fill for all bands gives; two are enough, see the tests
_SURE = 1e-5  # share of the run; an answer that misses it lies where floats no longer tell
_STEP = 1e-6  # share of the value, for the slope


class Held(NamedTuple):
    """The volume [m³] and the run [s] of a search."""

    volume: float
    run: float


def search(known: Known, span: Range) -> tuple[tuple[Solution, ...], Why | None]:
    """Every value within a range that is not empty, the usual one first; or why there is none."""
    assert known.volume is not None  # noqa: S101 - a band or a precharge is looked for
    assert known.run is not None  # noqa: S101 - as above
    held = Held(known.volume, known.run)
    try:
        relation = Relation(known)
    except ValueError:
        return (), Why(Cause.FILL_UNKNOWN)
    places = places_of(known, held, span)
    if not np.all(np.isfinite(places)) or not np.all(np.isfinite(relation.seconds(places))):
        return (), Why(Cause.FILL_UNKNOWN)
    found = look(lambda values: relation.seconds(values) / held.run - 1.0, places)
    if not found.zeros:
        return (), _why_none(known, held, span, relation, (found.greatest, found.least))
    if known.looked_for is SolveFor.PRECHARGE and known.is_constant:
        values = _precharges(known, held)
    else:
        values = [_corrected(relation, held.run, zero) for zero in found.zeros]
    answers = tuple(solution(known, one, held.volume, relation.exact(one)) for one in values)
    if not all(abs(one.run - held.run) <= _SURE * held.run for one in answers):
        return (), Why(Cause.FILL_UNKNOWN)
    return _usual_first(known, answers), None


def places_of(known: Known, held: Held, span: Range) -> FloatArray:
    """Places to look at, rising, with every kink among them."""
    half = 0.5 * known.width
    if known.looked_for is SolveFor.CENTRE:
        kink = None if known.precharge is None else known.precharge + half
        high = span.high if np.isfinite(span.high) else _no_centre_above(known, held, span)
        # Even steps in the ratio: what happens at low bands is not passed over for a high one.
        low = span.low + known.ambient
        places = np.geomspace(low, high + known.ambient, _PLACES) - known.ambient
        places[0], places[-1] = span.low, high
    else:
        kink = known.cut_in
        if known.looked_for is SolveFor.WIDTH:
            kink = None if known.precharge is None else 2.0 * (known.centre - known.precharge)
        places = np.linspace(span.low, span.high, _PLACES)
    if kink is None or not places[0] < kink < places[-1]:
        return np.asarray(places)
    return np.unique(np.append(places, kink))


def _no_centre_above(known: Known, held: Held, span: Range) -> float:
    """A middle of the band [gauge Pa] above which no constant flow runs as long as asked.

    The factor is at most w / Pin, and what is asked is a share of the volume.
    """
    assert known.delivery is not None  # noqa: S101 - the flow is held
    share = held.run * known.delivery.highest_flow / held.volume
    cut_in = known.width / share - known.ambient
    lowest = max(span.low, known.precharge or 0.0)
    return max(cut_in + 0.5 * known.width, lowest) + known.width


def _precharges(known: Known, held: Held) -> list[float]:
    """Both precharges [gauge Pa] at a constant flow, in closed form; none below zero."""
    assert known.delivery is not None  # noqa: S101 - the flow is held
    at_best = known.setting_at(known.cut_in)
    _, cut_in, cut_out = pressures(at_best)
    share = held.run * known.delivery.highest_flow / held.volume
    share = min(share, unit_drawdown(at_best))  # which it may pass by rounding
    pair = precharge_for_drawdown(share, cut_in, cut_out, 1.0, known.exponent)
    under, over = (float(one) - known.ambient for one in pair)
    if over - under <= SAME * over:
        return [known.cut_in]
    return [max(one, 0.0) for one in (under, over) if one >= -SAME * known.ambient]


def _corrected(relation: Relation, run: float, value: float) -> float:
    """The value at which the fill of that very band gives the run, near the one that was found."""
    miss = relation.exact(value) - run
    for _ in range(_CORRECTIONS):
        near = value * np.array([1.0 - _STEP, 1.0 + _STEP])
        low, high = relation.seconds(near)
        better = float(value - miss * (near[1] - near[0]) / (high - low))
        left = relation.exact(better) - run
        if not abs(left) < abs(miss):
            break
        value, miss = better, left
    return value


def _why_none(
    known: Known, held: Held, span: Range, relation: Relation, ends: tuple[float, float]
) -> Why:
    greatest, least = ends
    short = relation.exact(greatest) < held.run
    at = greatest if short else least
    limit = {span.low: span.low_limit, span.high: span.high_limit}.get(at, Limit.NONE)
    needed = None
    if known.is_constant and known.delivery is not None:
        needed = held.run * known.delivery.highest_flow
    water = held.volume * unit_drawdown(known.setting_at(at))
    cause = Cause.TOO_LITTLE if short else Cause.TOO_MUCH
    return Why(cause, at, relation.exact(at), water, needed, limit)


def _usual_first(known: Known, answers: tuple[Solution, ...]) -> tuple[Solution, ...]:
    """The answer that one would set, then the others, rising; with a gap none is usual.

    A precharge at or below cut-in; the highest middle and the narrowest band whose cut-out the
    pump reaches with some pressure to spare.
    """
    closed = [one for one in answers if not one.gap]
    spare = SMALL_MARGIN * (1.0 - SAME)
    sound = [one for one in closed if one.margin is None or one.margin >= spare] or closed
    if not sound:
        return answers
    usual = sound[0] if known.looked_for is SolveFor.WIDTH else sound[-1]
    others = tuple(one for one in answers if one is not usual)
    return (replace(usual, is_usual=True), *others)
