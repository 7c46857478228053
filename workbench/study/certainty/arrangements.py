"""The tolerance study of whole arrangements: one tank, equal tanks, or two different ones.

Equal tanks are one tank of their summed volume and acceptance. So are two different ones, as long
as no membrane is at its limit in any case, or both come to it at the same share of their volumes.
Else each tank stops taking water at a pressure of its own. On one header pressure and flow are
common, so waters and with them runs add up case by case; this is done here without simplification.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray
from workbench.physics.forgiving import SAME
from workbench.physics.sampling import points
from workbench.study.certainty.deviations import AnyTank, Basis, Cases, Tolerances
from workbench.study.certainty.tolerance import FAIL_SHARE, NAMES, PASS_SHARE, Swing, study, swings

Progress = Callable[[float], bool]

_BLOCK = 10_000  # cases that are followed at once; the runs of all tanks in them are kept
_TOLD = 200  # pairs between two reports of progress

_CORNERS = np.array(list(product((-1.0, 1.0), repeat=len(NAMES))))
_NOTHING = np.zeros((1, len(NAMES)))


@dataclass(frozen=True, eq=False)
class Outcome:
    """What came out of the cases. Arrays (n,) are over the arrangements; runs [s] at no demand.

    The fields are those of :class:`workbench.study.certainty.tolerance.Study`.
    """

    share: FloatArray
    worst_run: FloatArray
    best_run: FloatArray
    nominal_run: FloatArray
    verdict: npt.NDArray[np.int64]
    never_stops: float
    off_curve: float


def study_arrangements(
    basis: Basis,
    tolerances: Tolerances,
    volume: FloatArray,
    acceptance: FloatArray,
    *,
    cases: int,
    seed: int,
    progress: Progress,
) -> Outcome | None:
    """Judge arrangements of up to two different tanks against the same cases.

    Args:
        volume: (n, 2) [m³] of the equal tanks together, and of the other one (0: there is none).
        acceptance: (n, 2) [m³] likewise; inf where it is not known.
        progress: called with the share done; where it answers False the study ends.

    Returns:
        None if ``progress`` ended it.

    Raises:
        ValueError: as :func:`workbench.study.certainty.tolerance.study`.
    """
    pairs = _unlike(basis, tolerances, volume, acceptance)
    part = 0.5 if np.any(pairs) else 1.0

    def first(share: float) -> bool:
        return progress(share * part)

    def then(share: float) -> bool:
        return progress(part + share * (1.0 - part))

    found = study(
        basis,
        tolerances,
        volume[~pairs].sum(axis=1),
        acceptance[~pairs].sum(axis=1),
        cases=cases,
        seed=seed,
        progress=first,
    )
    if found is None:
        return None
    figures = np.empty((4, len(volume)))
    figures[:, ~pairs] = found.share, found.worst_run, found.best_run, found.nominal_run
    if np.any(pairs):
        several = _Pairs.of(basis, tolerances, volume[pairs], acceptance[pairs])
        of_pairs = several.study(2.0 * points(cases, len(NAMES), seed) - 1.0, then)
        if of_pairs is None:
            return None
        figures[:, pairs] = of_pairs
    share, worst, best, nominal = figures
    return Outcome(
        share=share,
        worst_run=worst,
        best_run=best,
        nominal_run=nominal,
        verdict=np.digitize(share, (FAIL_SHARE, PASS_SHARE)),  # the values of Verdict
        never_stops=found.never_stops,
        off_curve=found.off_curve,
    )


def arrangement_swings(
    basis: Basis, tolerances: Tolerances, volume: FloatArray, acceptance: FloatArray
) -> tuple[Swing, ...]:
    """What each tolerance above zero does alone to one arrangement (2,) [m³], greatest first.

    Raises:
        ValueError: as :func:`workbench.study.certainty.tolerance.swings`.
    """
    if not _unlike(basis, tolerances, volume[np.newaxis], acceptance[np.newaxis])[0]:
        return swings(basis, tolerances, float(volume.sum()), float(acceptance.sum()))
    used = {swing.name for swing in swings(basis, tolerances, float(volume.sum()))}
    pair = _Pairs.of(basis, tolerances, volume[np.newaxis], acceptance[np.newaxis])
    nominal, ways = pair.runs_of(_NOTHING)[0, 0], np.eye(len(NAMES))
    if not (0.0 < nominal < np.inf):
        nominal = np.nan  # no change can be told
    low, high = (pair.runs_of(way)[0] / nominal - 1.0 for way in (-ways, ways))
    found = [
        Swing(name, float(low[place]), float(high[place]))
        for place, name in enumerate(NAMES)
        if name in used
    ]
    return tuple(sorted(found, key=lambda swing: -swing.size))


def _unlike(
    basis: Basis, tolerances: Tolerances, volume: FloatArray, acceptance: FloatArray
) -> npt.NDArray[np.bool_]:
    """Which arrangements (n,) are two tanks whose membranes come to their limits apart."""
    two = volume[:, 1] > 0.0
    if not np.any(two):
        return two
    # No case holds more water than the corner with the highest cut-out and the lowest charge.
    free = float(AnyTank.of(basis, tolerances).cases(_CORNERS).full.max())
    shares = acceptance / np.where(volume > 0.0, volume, np.inf)
    first, second = np.minimum(shares, free).T
    return np.asarray(two & (np.abs(first - second) > SAME * free))


@dataclass(frozen=True, eq=False)
class _Pairs:
    """Pairs of different tanks; ``kind`` (n, 2) is the place of each tank's limit in ``limits``."""

    tank: AnyTank
    volume: FloatArray  # (n, 2)
    limits: FloatArray  # shares of water at which membranes are at their limits, each once
    kind: npt.NDArray[np.intp]

    @classmethod
    def of(
        cls, basis: Basis, tolerances: Tolerances, volume: FloatArray, acceptance: FloatArray
    ) -> _Pairs:
        limits, kind = np.unique(acceptance / volume, return_inverse=True)
        return cls(AnyTank.of(basis, tolerances), volume, limits, kind.reshape(volume.shape))

    def runs_of(self, deviations: FloatArray) -> FloatArray:
        """Runs [s] (n, m) of each pair in each case."""
        return np.array(list(self._runs(self.tank.cases(deviations))))

    def _runs(self, cases: Cases) -> Iterator[FloatArray]:
        """Runs [s] (m,) of one pair after the other."""
        each = [self.tank.runs(cases, float(limit)) for limit in self.limits]
        for (one, other), (first, second) in zip(self.volume, self.kind, strict=True):
            yield one * each[first] + other * each[second]

    def study(self, deviations: FloatArray, progress: Progress) -> FloatArray | None:
        """Share, worst, best and nominal run (4, n); None if ``progress`` ended it."""
        wanted = self.tank.basis.required_run * (1.0 - SAME)
        nominal = self.runs_of(_NOTHING)[:, 0]
        corners = self.runs_of(_CORNERS)
        worst = np.minimum(nominal, corners.min(axis=1))
        best = np.maximum(nominal, corners.max(axis=1))
        met = np.zeros(len(nominal))
        starts = range(0, len(deviations), _BLOCK)
        for turn, start in enumerate(starts):
            block = self.tank.cases(deviations[start : start + _BLOCK])
            counts = block.counts
            for place, runs in enumerate(self._runs(block)):
                if place % _TOLD == 0:
                    done = (turn + place / len(nominal)) / len(starts)
                    if not progress(done):
                        return None
                met[place] += np.count_nonzero((runs >= wanted) & counts)
                worst[place] = min(worst[place], runs.min())
                best[place] = max(best[place], runs.max())
        return np.array([met / len(deviations), worst, best, nominal]) if progress(1.0) else None
