"""Peak demand of a house by every published method, each with what stands in its way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from workbench.job.fields import fields
from workbench.job.house_choices import DemandMethod
from workbench.job.job import Job
from workbench.physics.demand import (
    FIXTURE_UNIT_CURVES,
    FIXTURE_UNITS,
    FROM_MEMORY,
    OUTLET_FLOW,
    OUTLETS,
    PEAK_ALLOWANCE,
    Fixtures,
    daily_use_by_bedrooms,
    fixture_unit_peak,
    fixture_units,
    one_per_outlet,
    peak_allowances,
    seven_minute_peak,
    two_fixtures,
    two_hour_peak,
)
from workbench.physics.household import DAY, INDOOR_USE
from workbench.study.findings import Finding, Level
from workbench.study.reader import Reader
from workbench.words import tr

_COUNTS = ("people", "bedrooms", *OUTLETS)
_HOSES_AT_ONCE = 1
"""Garden hoses that run while the fixtures are in use, where there is a tap for one. The code adds
continuous demands as flow but does not say how many; one is our judgement."""


@dataclass(frozen=True, slots=True)
class Household:
    """What was read. An entry that could not be is in ``unread`` and counts as zero.

    ``daily_use`` [m³ in a day] is as typed or by people; None where neither could be read.
    """

    fixtures: Fixtures
    daily_use: float | None
    daily_is_typed: bool
    typed_peak: float | None
    unread: frozenset[str]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Estimate:
    """Peak demand [m³/s] by one method.

    ``remark`` says why there is none when ``flow`` is None, else what to know about it ("": nothing
    more). ``units`` are the fixture units that it goes by, if it does.
    """

    method: DemandMethod
    flow: float | None
    remark: str = ""
    units: float | None = None


# --- reading ---


def needs(job: Job, method: DemandMethod) -> tuple[str, ...]:
    """The entries that a method goes by."""
    by_units = (*FIXTURE_UNITS, "hose_bibs")
    return {
        DemandMethod.OUTLETS: OUTLETS,
        DemandMethod.ALLOWANCES: tuple(PEAK_ALLOWANCE),
        DemandMethod.FIXTURE_UNITS_HIGH: by_units,
        DemandMethod.FIXTURE_UNITS_LOW: by_units,
        DemandMethod.SEVEN_MINUTES: ("bathrooms",),
        DemandMethod.TWO_HOURS: _of_a_day(job),
        DemandMethod.TWO_FIXTURES: (),
        DemandMethod.BEDROOMS: ("bedrooms",),
        DemandMethod.TYPED: ("peak_demand",),
    }[method]


def _of_a_day(job: Job) -> tuple[str, ...]:
    return ("people",) if job.daily_use is None else ("daily_use",)


def read_household(job: Job) -> Household:
    """Read what the methods go by.

    A finding is a stop where the chosen method needs the entry, or the well's balance does.
    """
    reader = Reader(job)
    counts = {name: _count(reader, name) for name in _COUNTS}
    counts["bathrooms"] = _bathrooms(reader)
    daily = reader.above_zero("daily_use")
    unread = {name for name, count in counts.items() if count is None}
    if job.daily_use is not None and daily is None:
        unread.add("daily_use")
    typed = _typed_peak(job, reader) if job.demand_method is DemandMethod.TYPED else None
    if typed is None:
        unread.add("peak_demand")
    needed = {*needs(job, job.demand_method)}
    if job.well_yield is not None:
        needed |= {*_of_a_day(job)}
    fixtures = Fixtures(**{name: count or 0.0 for name, count in counts.items()})
    used = daily * DAY if daily is not None else fixtures.people * INDOOR_USE
    return Household(
        fixtures,
        None if unread & {*_of_a_day(job)} else used,
        job.daily_use is not None,
        typed,
        frozenset(unread),
        tuple(
            finding if finding.field in needed else replace(finding, level=Level.CAUTION)
            for finding in reader.findings
        ),
    )


def _count(reader: Reader, name: str) -> float | None:
    count = reader.not_below_zero(name)
    if count is not None and count % 1.0:
        reader.report(
            Level.STOP,
            "not_whole",
            name,
            tr("{label} must be a whole number.", label=fields()[name].label),
            tr("Type 0, 1, 2 and so on."),
        )
        return None
    return count


def _bathrooms(reader: Reader) -> float | None:
    count = reader.not_below_zero("bathrooms")
    if count is not None and count * 2.0 % 1.0:
        reader.report(
            Level.STOP,
            "not_halves",
            "bathrooms",
            tr("Bathrooms go by halves: a toilet with a basin is half of one."),
            tr("Type a whole number, or one and a half, two and a half."),
        )
        return None
    return count


def _typed_peak(job: Job, reader: Reader) -> float | None:
    if job.peak_demand is None:
        reader.report(
            Level.STOP,
            "needed",
            "peak_demand",
            tr("Your own peak demand is needed for this method."),
            tr("Type it, or choose a published method."),
        )
    return reader.above_zero("peak_demand")


# --- estimating ---


def estimates(job: Job, household: Household) -> tuple[Estimate, ...]:
    """Every published method in its order; one's own figure comes first while it is chosen."""
    published = tuple(
        _missing(job, household, method) or estimate(method, household)
        for method, estimate in _METHODS.items()
    )
    if job.demand_method is not DemandMethod.TYPED:
        return published
    typed = household.typed_peak
    remark = tr("No figure of your own can be read.") if typed is None else ""
    return (Estimate(DemandMethod.TYPED, typed, remark), *published)


def _missing(job: Job, household: Household, method: DemandMethod) -> Estimate | None:
    """No estimate, because of entries that cannot be read; None where all could be."""
    missing = [name for name in needs(job, method) if name in household.unread]
    if not missing:
        return None
    labels = ", ".join(fields()[name].label for name in missing)
    return Estimate(method, None, tr("To be put right first: {labels}.", labels=labels))


def _outlets(method: DemandMethod, household: Household) -> Estimate:
    fixtures = household.fixtures
    flow = one_per_outlet(fixtures)
    if not flow:
        return Estimate(method, None, tr("No outlet is entered."))
    by_largest = flow == fixtures.largest(OUTLET_FLOW)
    return Estimate(method, flow, tr("The largest outlet alone sets it.") if by_largest else "")


def _allowances(method: DemandMethod, household: Household) -> Estimate:
    flow = peak_allowances(household.fixtures).total
    if not flow:
        return Estimate(method, None, tr("No fixture of this method is entered."))
    with_hose = household.fixtures.hose_bibs > 0.0
    return Estimate(method, flow, tr("Hose taps are not in this method.") if with_hose else "")


def _by_fixture_units(curve: str) -> Callable[[DemandMethod, Household], Estimate]:
    def estimate(method: DemandMethod, household: Household) -> Estimate:
        units = fixture_units(household.fixtures)
        hoses = min(household.fixtures.hose_bibs, _HOSES_AT_ONCE)
        try:
            flow = fixture_unit_peak(units, curve, hoses * OUTLET_FLOW["hose_bibs"])
        except ValueError:
            low, high = (FIXTURE_UNIT_CURVES[curve][0][end] for end in (0, -1))
            text = tr("The table goes from {low} to {high} fixture units.", low=low, high=high)
            return Estimate(method, None, text, units)
        remarks = [tr("One garden hose is added as a continuous flow.")] if hoses else []
        doubtful = FROM_MEMORY[curve]
        if doubtful is not None and doubtful[0] < units < doubtful[1]:
            remarks.append(tr("This part of the table is from memory."))
        return Estimate(method, flow, " ".join(remarks), units)

    return estimate


def _seven_minutes(method: DemandMethod, household: Household) -> Estimate:
    try:
        return Estimate(method, seven_minute_peak(household.fixtures.bathrooms).flow)
    except ValueError:
        return Estimate(method, None, tr("The table goes from 1 to 4 bathrooms."))


def _two_hours(method: DemandMethod, household: Household) -> Estimate:
    if not household.daily_use:
        return Estimate(method, None, tr("No use a day is entered, and no people."))
    remark = "" if household.daily_is_typed else tr("The day's use is taken by people.")
    return Estimate(method, two_hour_peak(household.daily_use), remark)


def _two_fixtures(method: DemandMethod, _household: Household) -> Estimate:
    return Estimate(method, two_fixtures(), tr("The same for every house."))


def _bedrooms(method: DemandMethod, household: Household) -> Estimate:
    daily = daily_use_by_bedrooms(household.fixtures.bedrooms, "new_york")
    if not daily:
        return Estimate(method, None, tr("No bedroom is entered."))
    return Estimate(method, two_hour_peak(daily))


_METHODS: dict[DemandMethod, Callable[[DemandMethod, Household], Estimate]] = {
    DemandMethod.OUTLETS: _outlets,
    DemandMethod.ALLOWANCES: _allowances,
    DemandMethod.FIXTURE_UNITS_HIGH: _by_fixture_units("ipc"),
    DemandMethod.FIXTURE_UNITS_LOW: _by_fixture_units("nspc"),
    DemandMethod.SEVEN_MINUTES: _seven_minutes,
    DemandMethod.TWO_HOURS: _two_hours,
    DemandMethod.TWO_FIXTURES: _two_fixtures,
    DemandMethod.BEDROOMS: _bedrooms,
}
