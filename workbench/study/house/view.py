"""How much the house draws at once, and whether pump and well can give it.

The pump is judged by its flow at cut-in: while more is drawn the pressure falls until the pump's
flow meets the draw, and below cut-in the house would notice.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from workbench.job.house_choices import DemandMethod
from workbench.physics.cycle import equilibrium
from workbench.physics.demand import (
    PEAK_ALLOWANCE,
    HouseholdSupply,
    household_supply,
    peak_allowances,
)
from workbench.physics.forgiving import SAME
from workbench.physics.household import DAY, FIXTURE_HOURS, hourly_use
from workbench.physics.well import (
    SMALL_DEFICIT,
    LowYield,
    deficit_drawdown,
    low_yield,
    mass_balance_storage,
)
from workbench.physics.well import Supply as WellVerdict
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.study.house.methods import Estimate, Household, estimates, read_household
from workbench.study.sizing import Sizing
from workbench.study.supply import Supply

PEAK_MINUTES = 7.0
"""How long the peak lasts that a pressure tank shall bridge: see ``well.deficit_drawdown``."""


class Outcome(Enum):
    """Whether pump and well give the peak, and what helps where they do not."""

    COVERED = "covered"
    TANK_FOR_PUMP = "tank_bridges_pump"
    LARGER_PUMP = "larger_pump"
    TANK_FOR_WELL = "tank_bridges_well"
    STORAGE = "storage"
    NOT_SOLVABLE = "not_solvable"


TANK_IS_NO_CURE = frozenset({Outcome.LARGER_PUMP, Outcome.STORAGE, Outcome.NOT_SOLVABLE})
"""Where a larger pressure tank is the wrong answer."""


@dataclass(frozen=True, slots=True)
class Spread:
    """Least and most [m³/s] of the published methods that can be used here."""

    least: Estimate
    most: Estimate
    factor: float


@dataclass(frozen=True, slots=True)
class PumpFlows:
    """What the pump gives [m³/s] at the two ends of the band, and its mean over it."""

    at_cut_in: float
    at_cut_out: float
    mean: float

    @property
    def is_constant(self) -> bool:
        """Whether it gives the same everywhere."""
        return self.at_cut_in - self.at_cut_out <= SAME * self.at_cut_in


@dataclass(frozen=True, slots=True)
class Largest:
    """The largest flow [m³/s] of a single fixture, and which fixtures have it."""

    flow: float
    fixtures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PeakTank:
    """What a pressure tank would need to bridge what is missing at the peak.

    Flows [m³/s], volumes [m³]: ``required`` is the job's required drawdown, ``together`` that with
    the ``extra``; ``total_volume`` gives it at this band (None: the tank takes no water).
    ``lasts`` [s]: how long the job's own required drawdown would bridge it.
    """

    deficit: float
    extra: float
    required: float
    together: float
    total_volume: float | None
    lasts: float


@dataclass(frozen=True, slots=True)
class WellCheck:
    """The well against the day and the peak.

    ``balance`` [m³] is the storage that evens out the day by the hours, inf where the day cannot be
    met; ``cover`` [s] how long the two-hour storage lasts at the day's mean use with nothing coming
    in (None: no storage, or no use).
    """

    low: LowYield
    balance: float
    cover: float | None
    household: HouseholdSupply


@dataclass(frozen=True, eq=False)
class HouseView:
    """All that the page about peak demand shows. A part is None where an entry stands in its way,
    and ``tank`` also where nothing is missing at the peak."""

    household: Household
    estimates: tuple[Estimate, ...]
    chosen: Estimate
    spread: Spread | None
    flows: PumpFlows | None
    settles_at: float | None  # gauge Pa at which the pump just gives the peak, within the band
    well_yield: float | None
    largest: Largest | None
    outcome: Outcome | None
    supply: float | None  # m³/s: the lesser of pump and well
    tank: PeakTank | None
    well: WellCheck | None
    findings: tuple[Finding, ...]

    @property
    def peak(self) -> float | None:
        """Peak demand [m³/s] by the chosen method."""
        return self.chosen.flow

    @property
    def deficit(self) -> float:
        """What pump and well lack at the peak [m³/s]; zero where nothing, or nothing is known."""
        return _less(self.peak or 0.0, self.supply) if self.supply is not None else 0.0

    @property
    def well_is_less(self) -> bool:
        """Whether the well gives less than the pump would take."""
        return (
            self.flows is not None
            and self.well_yield is not None
            and _less(self.flows.at_cut_in, self.well_yield) > 0.0
        )

    @property
    def tank_is_no_cure(self) -> bool:
        """Whether a larger pressure tank would be the wrong answer."""
        return self.outcome in TANK_IS_NO_CURE


def house_view(results: Results) -> HouseView:
    """Peak demand by every method, and what it means for pump, tank and well."""
    job, supply = results.job, results.inputs.supply
    household = read_household(job)
    every = estimates(job, household)
    chosen = next(one for one in every if one.method is job.demand_method)
    flows = _flows(supply) if supply is not None else None
    well_yield = supply.well.yield_flow if supply is not None else None
    # a yield that was typed but cannot be used is not the same as none
    is_known = job.well_yield is None or well_yield is not None
    peak = chosen.flow
    given, outcome, tank, well = None, None, None, None
    if peak is not None and flows is not None and is_known:
        given = flows.at_cut_in if well_yield is None else min(flows.at_cut_in, well_yield)
        if well_yield is not None and household.daily_use is not None:
            well = _well(household.daily_use, peak, flows, well_yield)
        if well_yield is None or well is not None:
            outcome = _outcome(peak, given, well)
        tank = _tank(peak, given, results.sizing)
    return HouseView(
        household=household,
        estimates=every,
        chosen=chosen,
        spread=_spread(every),
        flows=flows,
        settles_at=_settles_at(supply, peak),
        well_yield=well_yield,
        largest=_largest(household),
        outcome=outcome,
        supply=given,
        tank=tank,
        well=well,
        findings=household.findings,
    )


def _less(asked: float, given: float) -> float:
    """How much less is given than asked for; zero within the noise of floats."""
    short = asked - given
    return short if short > SAME * asked else 0.0


def _spread(every: tuple[Estimate, ...]) -> Spread | None:
    usable = [
        (one.flow, one)
        for one in every
        if one.flow is not None and one.method is not DemandMethod.TYPED
    ]
    if not usable:
        return None
    least, most = min(usable, key=_flow_of), max(usable, key=_flow_of)
    return Spread(least[1], most[1], most[0] / least[0])


def _flow_of(pair: tuple[float, Estimate]) -> float:
    return pair[0]


def _largest(household: Household) -> Largest | None:
    """By the flow rates of the allowances, as their source wants it; hose taps are not in it."""
    if household.unread & PEAK_ALLOWANCE.keys():
        return None
    flow = peak_allowances(household.fixtures).largest
    if not flow:
        return None
    there = {n: a for n, a in PEAK_ALLOWANCE.items() if getattr(household.fixtures, n)}
    return Largest(flow, tuple(n for n, a in there.items() if a == max(there.values())))


def _flows(supply: Supply) -> PumpFlows:
    if supply.unit is None:
        return PumpFlows(supply.mean_flow, supply.mean_flow, supply.mean_flow)
    flow = supply.unit.flow
    return PumpFlows(float(flow[supply.unit.cut_in_node]), float(flow[-1]), supply.mean_flow)


def _settles_at(supply: Supply | None, peak: float | None) -> float | None:
    if supply is None or supply.unit is None or peak is None:
        return None
    pressure = equilibrium(supply.unit, peak)
    return pressure if pressure is not None and pressure >= supply.setting.cut_in else None


def _well(daily_use: float, peak: float, flows: PumpFlows, well_yield: float) -> WellCheck:
    low = low_yield(daily_use, peak, flows.at_cut_in, well_yield)
    has_cover = low.storage > 0.0 and daily_use > 0.0
    return WellCheck(
        low,
        mass_balance_storage(hourly_use(daily_use, FIXTURE_HOURS), well_yield),
        low.storage / daily_use * DAY if has_cover else None,
        household_supply(well_yield),
    )


def _outcome(peak: float, given: float, well: WellCheck | None) -> Outcome:
    verdict = WellVerdict.PLAIN if well is None else well.low.verdict
    if verdict is WellVerdict.NOT_SOLVABLE:
        return Outcome.NOT_SOLVABLE
    deficit = _less(peak, given)
    if not deficit:
        return Outcome.COVERED
    if verdict is WellVerdict.SMALL_DEFICIT:
        return Outcome.TANK_FOR_WELL
    if verdict is WellVerdict.STORAGE:
        return Outcome.STORAGE
    is_small = deficit <= SMALL_DEFICIT * (1.0 + SAME)
    return Outcome.TANK_FOR_PUMP if is_small else Outcome.LARGER_PUMP


def _tank(peak: float, given: float, sizing: Sizing | None) -> PeakTank | None:
    deficit = _less(peak, given)
    if sizing is None or not deficit:
        return None
    extra = deficit_drawdown(peak, given, PEAK_MINUTES)
    together = sizing.required + extra
    return PeakTank(
        deficit,
        extra,
        sizing.required,
        together,
        together / sizing.factor if sizing.factor > 0.0 else None,
        sizing.required / deficit,
    )
