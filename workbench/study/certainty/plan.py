"""What the tolerance study of a job rests on, all read and checked.

Two plans are equal when they would give the same figures, so whoever shows a view can tell whether
it still belongs to the job. What a case is stands in :mod:`workbench.study.certainty.deviations`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

from workbench.job.job import Job
from workbench.physics.pump import Delivery
from workbench.study.candidates import Candidates
from workbench.study.certainty.deviations import AnyTank
from workbench.study.certainty.tolerance import NAMES, Basis, Tolerances
from workbench.study.chosen import chosen
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.pump.reading import entered_bucket, pump_entries_of
from workbench.study.ranking import Fails, Ranking
from workbench.study.reader import Reader
from workbench.study.setting import Setting
from workbench.units import PRESSURE, SHORT_TIME, VOLUME
from workbench.words import tr

CASES = 100_000
MEASURED = ("bucket", "watch")
"""The tolerances that matter only where the flow comes from a timed refill."""

_TOO_SHORT = int(Fails.DRAWDOWN | Fails.RUN)


@dataclass(frozen=True)
class TolerancePlan:
    """All that the study needs (SI).

    ``rows`` are the candidates that fail by nothing but too little water or run, as ranked;
    ``tank`` is the chosen one, None where there is no such tank. ``pump`` is what was entered of
    pump and well; it stands for ``delivery``, of which not every kind has an equality. ``cases``:
    how many are followed.
    """

    candidates: Candidates
    tank: int | None
    rows: tuple[int, ...]
    setting: Setting
    pump: tuple[object, ...]
    required_run: float
    service_temperature: float
    tolerances: Tolerances
    bucket: tuple[float, float] | None
    seed: int
    delivery: Delivery = field(compare=False, repr=False)
    cases: int = CASES

    @property
    def basis(self) -> Basis:
        """What is assumed when nothing deviates."""
        return Basis(
            self.setting,
            self.delivery,
            self.service_temperature,
            self.required_run,
            self.bucket,
        )

    @cached_property
    def studied(self) -> tuple[int, ...]:
        """The candidates of the study: the rows, and the chosen tank if it is none of them."""
        if self.tank is None or self.tank in self.rows:
            return self.rows
        return (*self.rows, self.tank)

    def half_width(self, name: str) -> float:
        """The half-width of one of the tolerances."""
        return float(getattr(self.tolerances, name))


def tolerance_plan(results: Results) -> tuple[TolerancePlan | None, tuple[Finding, ...]]:
    """What the job asks to be studied, and what stands in its entries' way.

    Returns:
        No plan where an entry that the study rests on is missing or wrong; the findings are those
        that ``results.findings`` has not.
    """
    job, ranking, reader = results.job, results.ranking, Reader(results.job)
    bucket = entered_bucket(job)
    tolerances, seed = _tolerances(reader, bucket), reader.seed()
    warmth = reader.above_zero("tank_temperature")
    tank, gone = chosen(results, "first_tank")
    reader.findings += gone
    plan = None
    if tolerances and ranking and warmth and _is_sound(tolerances, bucket, reader):
        reader.findings += _large(tolerances, ranking.setting)
        if tank is not None and int(tank.fails) & ~_TOO_SHORT:
            reader.findings.append(_fails_otherwise())
        if seed is not None and _is_warm(tolerances, warmth, reader):
            plan = _plan(job, ranking, tolerances, warmth, seed, bucket, reader)
    return plan, tuple(finding for finding in reader.findings if finding not in results.findings)


def _plan(
    job: Job,
    ranking: Ranking,
    tolerances: Tolerances,
    warmth: float,
    seed: int,
    bucket: tuple[float, float] | None,
    reader: Reader,
) -> TolerancePlan | None:
    named = ranking.candidates.by_key.get(job.first_tank) if job.first_tank else None
    first = int(ranking.order[0]) if len(ranking) and not job.first_tank else None
    rows = ranking.order[(ranking.fails[ranking.order] & ~_TOO_SHORT) == 0]
    plan = TolerancePlan(
        candidates=ranking.candidates,
        tank=first if named is None else named,
        rows=tuple(map(int, rows)),
        setting=ranking.setting,
        pump=pump_entries_of(job),
        required_run=ranking.least_run,
        service_temperature=warmth,
        tolerances=tolerances,
        bucket=bucket,
        seed=seed,
        delivery=ranking.duty.supply.delivery,
    )
    try:
        AnyTank.of(plan.basis, tolerances)
    except ValueError as error:  # the entries have been checked, so it is about the pump's data
        reader.report(Level.STOP, "outside_data", "curve", str(error))
        return None
    return plan


# --- reading ---


def _tolerances(reader: Reader, bucket: tuple[float, float] | None) -> Tolerances | None:
    """The half-widths; those of bucket and watch are read only where they matter."""
    read = {
        name: reader.not_below_zero(f"tol_{name}") if bucket or name not in MEASURED else 0.0
        for name in NAMES
    }
    flow = read["flow"]
    if flow is not None and flow >= 1.0:
        reader.report(
            Level.STOP,
            "share_range",
            "tol_flow",
            tr("The flow's tolerance must be below 100 %; at 100 % there might be no flow at all."),
            tr("Usual: 5 to 15 % (common practice, no source)."),
        )
        return None
    half = {name: value for name, value in read.items() if value is not None}
    return Tolerances(**half) if len(half) == len(NAMES) else None


# --- checking ---


def _is_sound(tolerances: Tolerances, bucket: tuple[float, float] | None, reader: Reader) -> bool:
    """Whether bucket and watch could have measured anything at all."""
    if bucket is None:
        return True
    sound = True
    for name, whole, kind in (("bucket", bucket[0], VOLUME), ("watch", bucket[1], SHORT_TIME)):
        if getattr(tolerances, name) >= whole:
            sound = False
            reader.findings.append(
                Finding(
                    Level.STOP,
                    "not_below_whole",
                    f"tol_{name}",
                    tr("It must be less than what was measured, {whole}."),
                    tr("Check the unit."),
                    (("whole", whole, kind),),
                )
            )
    return sound


def _is_warm(tolerances: Tolerances, warmth: float, reader: Reader) -> bool:
    if tolerances.temperature < warmth:
        return True
    reader.report(
        Level.STOP,
        "reaches_absolute_zero",
        "tol_temperature",
        tr("With this the air would come down to absolute zero."),
        tr("Check the unit."),
    )
    return False


def _large(tolerances: Tolerances, setting: Setting) -> Iterator[Finding]:
    """What can be meant so, but hardly is."""
    for name, whole in (
        ("gauge", setting.cut_in),
        ("switch_in", setting.cut_in),
        ("switch_out", setting.cut_out),
    ):
        if getattr(tolerances, name) > whole:
            yield Finding(
                Level.CAUTION,
                "more_than_whole",
                f"tol_{name}",
                tr("More than the pressure itself, {whole}."),
                tr("Check the unit."),
                (("whole", whole, PRESSURE),),
            )
    if tolerances.precharge > setting.precharge:
        yield Finding(
            Level.CAUTION,
            "more_than_whole",
            "tol_precharge",
            tr("More than the precharge itself, {whole}; a case in which none is left counts as not"
               " met."),
            tr("Check the unit."),
            (("whole", setting.precharge, PRESSURE),),
        )  # fmt: skip
    band = setting.cut_out - setting.cut_in
    if tolerances.switch_in + tolerances.switch_out > band:
        yield Finding(
            Level.CAUTION,
            "band_may_vanish",
            "tol_switch_out",
            tr("Together the two drifts are more than the band, {band}: cut-in and cut-out could"
               " meet. Such a case counts as not met."),
            tr("Check the unit, or choose a wider band."),
            (("band", band, PRESSURE),),
        )  # fmt: skip


def _fails_otherwise() -> Finding:
    return Finding(
        Level.CAUTION,
        "fails_otherwise",
        "first_tank",
        tr("Whatever its run, this tank does not pass."),
        tr("The page “Tank” says why."),
    )
