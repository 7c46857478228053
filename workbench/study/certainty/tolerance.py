"""How sure a run is: every deviation of gauge, switch, charge, air and flow at once.

All candidates are judged against the same cases, drawn quasi-randomly. What a case is, and how its
run follows, stands in :mod:`workbench.study.certainty.deviations`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import astuple, dataclass
from enum import IntEnum
from itertools import product

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray
from workbench.physics.forgiving import SAME
from workbench.physics.sampling import points
from workbench.study.certainty.deviations import NAMES, AnyTank, Basis, Tolerances
from workbench.words import tr

__all__ = [
    "FAIL_SHARE",
    "NAMES",
    "PASS_SHARE",
    "Basis",
    "Study",
    "Swing",
    "Tolerances",
    "Verdict",
    "study",
    "swings",
]

PASS_SHARE = 0.95
"""Share of cases from which a candidate passes: our own choice, no source."""
FAIL_SHARE = 0.05
"""Share of cases below which it fails: our own choice, no source."""

_CHUNK = 8  # shares of acceptance that are worked out between two reports of progress
_FEW = 100  # below this it is quicker to count the runs than to sort them


class Verdict(IntEnum):
    """What the share of cases says of a candidate."""

    FAIL = 0
    BORDERLINE = 1
    PASS = 2


@dataclass(frozen=True, slots=True)
class Swing:
    """One tolerance alone: relative change [-] of the run with it at − and at + its half-width.

    ``name`` is the field's in :class:`Tolerances`. −1: no run at all; inf: the pump never stops.
    """

    name: str
    low: float
    high: float

    @property
    def size(self) -> float:
        """The greater of the two changes, without its sign."""
        return max(abs(self.low), abs(self.high))


@dataclass(frozen=True, eq=False)
class Study:
    """What came out. Arrays (n,) are over the candidates; runs [s] are at no demand.

    Args:
        share: share of cases whose run is at least the required one.
        worst_run, best_run: least and greatest over all corners of the tolerances and all cases;
            inf where the pump never stops. Corners alone bound the least run at constant flow; the
            greatest can lie between them (a precharge just at cut-in gives most), and with a
            falling flow the least too.
        nominal_run: with nothing deviating.
        verdict: values of :class:`Verdict`.
        swings: which tolerance matters most, for a tank that its membrane does not limit.
        never_stops: share of cases whose cut-out is at or above shut-off, the same for all.
        off_curve: share of cases that reach pressures for which the pump's data give no flow, the
            same for all. Below the data the greatest known flow is held; a cut-out above them
            counts as never reached.
    """

    share: FloatArray
    worst_run: FloatArray
    best_run: FloatArray
    nominal_run: FloatArray
    verdict: npt.NDArray[np.int64]
    swings: tuple[Swing, ...]
    never_stops: float
    off_curve: float


def study(
    basis: Basis,
    tolerances: Tolerances,
    volume: npt.ArrayLike,
    acceptance: npt.ArrayLike,
    *,
    cases: int = 100_000,
    seed: int = 1,
    progress: Callable[[float], bool] | None = None,
) -> Study | None:
    """Judge candidates against cases; equal seeds give equal figures.

    Args:
        volume, acceptance: (n,) [m³], above zero; acceptance inf where it is not known. Several
            equal tanks on a header are given as the sum of their volumes and acceptances.
        cases: number of cases.
        progress: called with the share done; where it answers False the study ends.

    Returns:
        None if ``progress`` ended it.

    Raises:
        ValueError: a volume or acceptance not above zero, tolerances that reach 0 K, an empty
            bucket or a watch that has not moved, a setting outside the pump's data, or no cases.
    """
    size, limit = _limits(volume, acceptance)
    tank = AnyTank.of(basis, tolerances)
    sample = tank.cases(2.0 * points(cases, len(NAMES), seed) - 1.0)
    if not basis.delivery.is_constant:
        sample = sample.by_charge()
    all_count = bool(sample.counts.all())
    corners, nominal = tank.cases(_corners(basis, tolerances)), tank.cases(_NOTHING)
    free = max(float(np.max(group.full)) for group in (sample, corners, nominal))
    kinds, kind = np.unique(np.where(limit >= free, np.inf, limit), return_inverse=True)
    share, worst, best, middle = np.empty((4, len(size)))
    for done, ratio in enumerate(kinds):
        if progress is not None and done and done % _CHUNK == 0 and not progress(done / len(kinds)):
            return None
        runs = tank.runs(sample, ratio)
        usual = tank.runs(nominal, ratio)
        ends = [e for r in (usual, tank.runs(corners, ratio), runs) for e in (r.min(), r.max())]
        met = runs if all_count else np.where(sample.counts, runs, -1.0)
        alike = kind == done
        wanted = basis.required_run * (1.0 - SAME) / size[alike]
        share[alike] = _at_least(met, wanted) / cases
        worst[alike], best[alike] = min(ends) * size[alike], max(ends) * size[alike]
        middle[alike] = usual * size[alike]
    if progress is not None and not progress(1.0):
        return None
    return Study(
        share=share,
        worst_run=worst,
        best_run=best,
        nominal_run=middle,
        verdict=_verdicts(share),
        swings=_swings(tank, tolerances, basis, np.inf),
        never_stops=float(np.mean(sample.endless)),
        off_curve=float(np.mean(sample.beyond | sample.held)),
    )


def swings(
    basis: Basis, tolerances: Tolerances, volume: float, acceptance: float = np.inf
) -> tuple[Swing, ...]:
    """Work out what each tolerance above zero does alone to one candidate, greatest first.

    The changes are nan where the run is 0 or inf with nothing deviating. As long as the membrane
    does not limit the tank they do not depend on its volume.

    Raises:
        ValueError: as :func:`study`.
    """
    _, limit = _limits([volume], [acceptance])
    return _swings(AnyTank.of(basis, tolerances), tolerances, basis, float(limit[0]))


def _swings(tank: AnyTank, tolerances: Tolerances, basis: Basis, limit: float) -> tuple[Swing, ...]:
    ways = np.eye(len(NAMES))[_used(basis, tolerances)]
    nominal, low, high = (tank.runs(tank.cases(way), limit) for way in (_NOTHING, -ways, ways))
    usable = np.isfinite(nominal) & (nominal > 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        change = np.where(usable, np.stack((low, high)) / nominal - 1.0, np.nan)
    names = [name for name, used in zip(NAMES, _used(basis, tolerances), strict=True) if used]
    found = [Swing(name, *map(float, pair)) for name, pair in zip(names, change.T, strict=True)]
    return tuple(sorted(found, key=lambda swing: -swing.size))


def _limits(volume: npt.ArrayLike, acceptance: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Volumes (n,), and the share of water at which each membrane is at its limit."""
    size, most = np.asarray(volume, dtype=np.float64), np.asarray(acceptance, dtype=np.float64)
    if size.ndim != 1 or size.shape != most.shape:
        raise ValueError(tr("Give as many acceptances as volumes, in one row."))
    if not (np.all((size > 0.0) & np.isfinite(size)) and np.all(most > 0.0)):
        raise ValueError(tr("Volumes and acceptances must be above zero."))
    return size, most / size


def _at_least(runs: FloatArray, wanted: FloatArray) -> npt.NDArray[np.int64]:
    """How many runs are at least as long as each of the wanted (n,)."""
    if len(wanted) < _FEW:
        return np.array([np.count_nonzero(runs >= least) for least in wanted], dtype=np.int64)
    return np.asarray(len(runs) - np.searchsorted(np.sort(runs), wanted), dtype=np.int64)


def _verdicts(share: FloatArray) -> npt.NDArray[np.int64]:
    verdict = np.full(share.shape, Verdict.BORDERLINE, dtype=np.int64)
    verdict[share >= PASS_SHARE] = Verdict.PASS
    verdict[share < FAIL_SHARE] = Verdict.FAIL
    return verdict


def _used(basis: Basis, tolerances: Tolerances) -> npt.NDArray[np.bool_]:
    """Which tolerances (8,) can change a run."""
    measured = np.array([basis.bucket is not None or n not in ("bucket", "watch") for n in NAMES])
    return np.asarray((np.array(astuple(tolerances)) > 0.0) & measured)


_NOTHING = np.zeros((1, len(NAMES)))  # the one case in which nothing deviates


def _corners(basis: Basis, tolerances: Tolerances) -> FloatArray:
    """All combinations (2^k, 8) of ±1 for the k tolerances that matter."""
    levels = [(-1.0, 1.0) if used else (0.0,) for used in _used(basis, tolerances)]
    return np.array(list(product(*levels)))
