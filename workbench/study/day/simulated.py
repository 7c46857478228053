"""What a day, and a year of days, does to the pump: simulated for one tank or two.

The day follows itself: it begins as it ends. It is simulated from a full tank again and again until
the tank stands at midnight as it did the midnight before (most houses: on the second day). Some
tanks come back to the same midnight only after several days; then one of these days is shown, and a
finding says so. Figures that reach
across midnight (runs, rests, the busiest hour) are taken from two such days in a row. The year is
365 days with the numbers that follow the day's, from a full tank on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from workbench.physics import day_figures
from workbench.physics.air import FloatArray, GaugePressure
from workbench.physics.day import Draws, Run, simulate
from workbench.physics.day_figures import IntArray
from workbench.physics.fill import FillCurve
from workbench.study.day.energy import energy_of
from workbench.study.day.findings import MOST_DAYS, day_findings, over_day, over_hour
from workbench.study.day.plan import DayPlan, PlannedTank
from workbench.study.day.plan import day_plan as day_plan  # the first step, told here too
from workbench.study.findings import Finding
from workbench.study.motor import MotorStands
from workbench.study.supply import fill_of

DAYS = 365
DAY, HOUR = day_figures.DAY, day_figures.HOUR
_SAME = 1e-9  # share of the drawdown by which two midnights may differ
_POINTS = 1500  # of the pressure's trace, beside its corners
_CHUNK = 7  # days that are simulated between two reports of progress

Progress = Callable[[float], bool]
"""Is called with the share done; where it answers False the work ends."""


@dataclass(frozen=True, eq=False)
class TankDay:
    """One tank's day, SI. ``shortest_run`` and ``shortest_rest`` are None where none is whole.

    ``busiest_at`` [s after midnight] is when the ``busiest`` 60 minutes begin. ``time`` and
    ``pressure`` (gauge) are the trace for drawing. ``energy`` is None where it is not known.
    ``again``: after how many equal days the tank stands at midnight as it
    did at the day's beginning; 1 in a steady day, None if not within some days.
    """

    tank: PlannedTank
    run: Run
    time: FloatArray
    pressure: GaugePressure
    busiest: int
    busiest_at: float
    run_seconds: float
    shortest_run: float | None
    shortest_rest: float | None
    longest_idle: float
    below_cut_in: float
    energy: float | None
    again: int | None

    @property
    def is_steady(self) -> bool:
        """Whether the day begins as it ends."""
        return self.again == 1

    @property
    def starts(self) -> int:
        """How often the pump starts."""
        return len(self.run.starts)

    @cached_property
    def spans(self) -> tuple[FloatArray, FloatArray]:
        """When the pump begins to run and when it rests again [s], the day's ends included."""
        turns = np.flatnonzero(np.diff(np.pad(self.run.pump_on, 1).astype(np.int8)))
        return self.run.time[turns[::2]], self.run.time[turns[1::2]]

    def pressure_at(self, second: float) -> float:
        """Gauge pressure [Pa] at a moment of the day, as it is drawn."""
        return float(np.interp(second, self.time, self.pressure))

    def runs_at(self, second: float) -> bool:
        """Whether the pump runs at a moment of the day."""
        begun, ended = self.spans
        last = int(np.searchsorted(begun, second, "right")) - 1
        return last >= 0 and second < float(ended[last])


@dataclass(frozen=True, eq=False)
class DayView:
    """The day of one tank, or of two side by side. ``draws`` is what the house wants."""

    plan: DayPlan
    draws: Draws
    tanks: tuple[TankDay, ...]
    findings: tuple[Finding, ...]

    def drawn_at(self, second: float) -> float:
        """What the house draws [m³/s] at a moment of the day."""
        piece = int(np.searchsorted(self.draws.edges, second, "right")) - 1
        return float(self.draws.flow[min(max(piece, 0), len(self.draws.flow) - 1)])


@dataclass(frozen=True, eq=False)
class TankYear:
    """One tank's year, SI. ``starts`` and ``busiest`` (365,): of each day.

    ``busiest_at`` [s from the first midnight] is when the worst hour begins.
    """

    tank: PlannedTank
    starts: IntArray
    busiest: IntArray
    busiest_at: float
    run_seconds: float
    shortest_run: float | None
    shortest_rest: float | None
    drawn: float
    pumped: float
    unmet: float
    empty_seconds: float
    below_cut_in: float
    energy: float | None

    @property
    def mean_starts(self) -> float:
        """Starts in a mean day."""
        return float(np.mean(self.starts))

    @property
    def most_starts(self) -> int:
        """Starts in the worst day."""
        return int(np.max(self.starts))

    @property
    def worst_hour(self) -> int:
        """Most starts within any 60 minutes."""
        return int(np.max(self.busiest))

    def days_over(self, motor: MotorStands) -> float:
        """Share of the days that pass a limit of starts, a day or an hour."""
        over = over_day(self.starts, motor) | over_hour(self.busiest, motor)
        return float(np.mean(over))


@dataclass(frozen=True, eq=False)
class YearView:
    """The year of one tank or two, and the plan that it was simulated for."""

    plan: DayPlan
    tanks: tuple[TankYear, ...]


# --- the day ---


def simulate_day(plan: DayPlan) -> DayView:
    """The day of every planned tank; some milliseconds."""
    draws, open_flow = plan.house.day(), day_figures.open_flow(plan.supply.delivery)
    tanks = tuple(_tank_day(plan, tank, draws, open_flow) for tank in plan.tanks)
    return DayView(plan, draws, tanks, tuple(day_findings(plan, tanks)))


def _tank_day(plan: DayPlan, tank: PlannedTank, draws: Draws, open_flow: float) -> TankDay:
    delivery = plan.supply.delivery
    fill = fill_of(plan.supply, tank.vessels)
    settled = _settle(fill, draws, open_flow)
    run = settled.run
    twice = simulate(
        fill,
        in_a_row((draws, draws)),
        start_water=float(run.water[0]),
        pump_on=settled.pump_on,
        open_flow=open_flow,
    )
    line = None if delivery.is_constant else delivery.pressure
    time, pressure = day_figures.trace(run, fill, _POINTS, line)
    busiest, busiest_at = day_figures.busiest_hour(twice)
    return TankDay(
        tank=tank,
        run=run,
        time=time,
        pressure=pressure,
        busiest=busiest,
        busiest_at=busiest_at % DAY,
        run_seconds=day_figures.run_seconds(run),
        shortest_run=_least(day_figures.run_lengths(twice)),
        shortest_rest=_least(day_figures.rest_lengths(twice)),
        longest_idle=min(day_figures.longest_idle(twice), DAY),
        below_cut_in=day_figures.seconds_below_cut_in(run, fill),
        energy=energy_of(run, fill, plan.supply),
        again=settled.again,
    )


class _Settled(NamedTuple):
    """A day, whether the pump runs as it begins, and after how many days it comes again."""

    run: Run
    pump_on: bool
    again: int | None


def _settle(fill: FillCurve, draws: Draws, open_flow: float) -> _Settled:
    """Follow equal days from a full tank until a midnight comes again."""
    days: list[tuple[Run, bool]] = []
    water, pump_on = fill.cut_out_water, False
    while len(days) < MOST_DAYS:
        run = simulate(fill, draws, start_water=water, pump_on=pump_on, open_flow=open_flow)
        days.append((run, pump_on))
        water, pump_on = run.final_water, run.pump_on_at_end
        for ago, (day, ran) in enumerate(reversed(days), start=1):
            if ran == pump_on and abs(float(day.water[0]) - water) <= _SAME * fill.drawdown:
                return _Settled(day, ran, ago)
    return _Settled(*days[-1], None)


def _least(lengths: FloatArray) -> float | None:
    return float(np.min(lengths)) if len(lengths) else None


def in_a_row(days: Sequence[Draws]) -> Draws:
    """Days of draws one after the other, from the first one's midnight on."""
    edges = [day.edges[:-1] + number * DAY for number, day in enumerate(days)]
    last = np.array([len(days) * DAY])
    return Draws(np.concatenate((*edges, last)), np.concatenate([day.flow for day in days]))


# --- the year ---


def simulate_year(plan: DayPlan, progress: Progress | None = None) -> YearView | None:
    """365 days of every planned tank, with the numbers that follow the day's.

    Args:
        plan: what to simulate.
        progress: called with the share done; where it answers False the work ends.

    Returns:
        None if ``progress`` ended it.
    """
    weeks = -(-DAYS // _CHUNK)
    steps, done = weeks * len(plan.tanks), 0
    years = []
    for tank in plan.tanks:
        fill = fill_of(plan.supply, tank.vessels)
        runs: list[Run] = []
        for run in _weeks(plan, fill):
            runs.append(run)
            done += 1
            if progress is not None and not progress(done / (steps + 1)):
                return None
        years.append(_tank_year(plan, tank, fill, joined(runs)))
    if progress is not None and not progress(1.0):
        return None
    return YearView(plan, tuple(years))


def _weeks(plan: DayPlan, fill: FillCurve) -> Iterator[Run]:
    """The year in pieces, each from where the one before ended."""
    water, pump_on = fill.cut_out_water, False
    most = day_figures.open_flow(plan.supply.delivery)
    for first in range(0, DAYS, _CHUNK):
        days = range(first, min(first + _CHUNK, DAYS))
        draws = in_a_row([plan.house.day(later) for later in days])
        moved = Draws(draws.edges + first * DAY, draws.flow)
        run = simulate(fill, moved, start_water=water, pump_on=pump_on, open_flow=most)
        water, pump_on = run.final_water, run.pump_on_at_end
        yield run


def joined(runs: Sequence[Run]) -> Run:
    """Runs of which each begins where the one before ends, as one."""

    def every(name: str) -> np.ndarray:
        return np.concatenate([getattr(run, name) for run in runs])

    time, water = (
        np.concatenate([*(getattr(run, name)[:-1] for run in runs), getattr(runs[-1], name)[-1:]])
        for name in ("time", "water")
    )
    parts = ("demand", "supply", "pump_on", "tank_empty", "starts", "stops")
    return Run(time, water, *(every(name) for name in parts))


def _tank_year(plan: DayPlan, tank: PlannedTank, fill: FillCurve, run: Run) -> TankYear:
    return TankYear(
        tank=tank,
        starts=day_figures.starts_in_each(run, DAY),
        busiest=_busiest_by_day(run),
        busiest_at=day_figures.busiest_hour(run)[1],
        run_seconds=day_figures.run_seconds(run),
        shortest_run=_least(day_figures.run_lengths(run)),
        shortest_rest=_least(day_figures.rest_lengths(run)),
        drawn=run.drawn,
        pumped=run.pumped,
        unmet=run.unmet,
        empty_seconds=run.empty_seconds,
        below_cut_in=day_figures.seconds_below_cut_in(run, fill),
        energy=energy_of(run, fill, plan.supply),
    )


def _busiest_by_day(run: Run) -> IntArray:
    """Most starts within any 60 minutes that begin on each day (365,)."""
    within = np.searchsorted(run.starts, run.starts + HOUR, "left") - np.arange(len(run.starts))
    most = np.zeros(DAYS, dtype=np.int64)
    np.maximum.at(most, np.minimum(run.starts // DAY, DAYS - 1).astype(np.int64), within)
    return most
