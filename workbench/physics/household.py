"""A household's draws of water, day after day: published use rates placed by published hours.

Each use (a flush, a shower) draws one volume at one flow. How often it happens in a day is Poisson
distributed; the hour follows a published shape, the second within the hour is even. The result is
the same for ever for the same seed: it rests on the raw stream of a bit generator, which NumPy
keeps stable across versions (its Generator methods it does not).

The draws are periodic: what runs past the last midnight runs on after the first, so the volume
drawn is exactly events × volume + leak + irrigation.
"""

from __future__ import annotations

import math
import zlib
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray
from workbench.physics.day import Draws
from workbench.words import tr

_GAL = 3.785411784e-3  # m³
_GPM = _GAL / 60.0  # m³/s
DAY = 86_400.0  # s
MOST_EVENTS = 5_000_000  # expected events that are still drawn; a large farm's decade

Shape = tuple[float, ...]

FIXTURE_HOURS: Shape = (
    0.012, 0.006, 0.004, 0.005, 0.010, 0.034, 0.078, 0.087, 0.080, 0.067, 0.056, 0.047,
    0.040, 0.035, 0.033, 0.031, 0.039, 0.051, 0.060, 0.060, 0.055, 0.048, 0.038, 0.026,
)  # fmt: skip
"""Share of each hour in the draws of showers, baths and taps, as printed (sum 1.002): Building
America shape for hot-water fixtures, in the schedules of the HPXML simulation project, National
Renewable Energy Laboratory. Toilets are given it too: our assumption."""
WELL_PUMP_HOURS: Shape = (
    0.044, 0.023, 0.019, 0.015, 0.016, 0.018, 0.026, 0.033, 0.033, 0.032, 0.033, 0.033,
    0.032, 0.032, 0.032, 0.033, 0.045, 0.057, 0.066, 0.076, 0.081, 0.086, 0.075, 0.065,
)  # fmt: skip
"""Share of each hour in a well pump's work, as printed (sum 1.005): Building America House
Simulation Protocols, National Renewable Energy Laboratory, 2010, figure 23."""
WASHER_HOURS: Shape = (
    0.009, 0.007, 0.004, 0.004, 0.007, 0.011, 0.022, 0.049, 0.073, 0.086, 0.084, 0.075,
    0.067, 0.060, 0.049, 0.051, 0.050, 0.049, 0.049, 0.049, 0.049, 0.047, 0.032, 0.017,
)  # fmt: skip
"""Share of each hour in a clothes washer's loads: ANSI/RESNET/ICC 301-2022, addendum C."""
DISHWASHER_HOURS: Shape = (
    0.015, 0.007, 0.005, 0.003, 0.003, 0.010, 0.020, 0.031, 0.058, 0.065, 0.056, 0.048,
    0.042, 0.046, 0.036, 0.038, 0.038, 0.049, 0.087, 0.111, 0.090, 0.067, 0.044, 0.031,
)  # fmt: skip
"""Share of each hour in a dishwasher's loads: ANSI/RESNET/ICC 301-2022, addendum C."""

INDOOR_USE = 58.6 * _GAL
"""Indoor use [m³] per person and day, leaks included: Residential End Uses of Water, version 2,
Water Research Foundation, 2016 (from memory)."""
END_USES = {
    "toilet": 33.1,
    "shower": 28.1,
    "faucet": 26.3,
    "washer": 22.7,
    "leak": 17.0,
    "bath": 3.6,
    "dishwasher": 1.6,
    "other": 5.3,
}
"""Indoor use [gal per household and day] by its end, whose shares are used: the same study. The
toilet's was seen in a summary of it, the others are from memory."""
LEAKING_TOILET = 200.0 * _GAL / DAY
"""Flow [m³/s] of a leaking toilet, about 200 gal/day: US EPA WaterSense, Indoor Water Use, 2017."""


@dataclass(frozen=True)
class Use:
    """One kind of draw.

    Args:
        name: a key, no text for the screen; it also picks the use's own random numbers.
        flow: published flow [m³/s]. volume: water of one draw [m³]. Both above zero.
        per_day: mean number of draws in a day, zero or more.
        shape: 24 shares of the hours, hour 0 first; they are scaled to add up to one.

    Raises:
        ValueError: what is wrong with which.
    """

    name: str
    flow: float
    volume: float
    per_day: float
    shape: Shape

    def __post_init__(self) -> None:
        if not (_above_zero(self.flow) and _above_zero(self.volume)):
            raise ValueError(tr("{name}: flow and volume must be above zero", name=self.name))
        if not (math.isfinite(self.per_day) and self.per_day >= 0.0):
            raise ValueError(tr("{name}: draws in a day must be zero or more", name=self.name))
        _hour_ends(self.shape)

    @property
    def seconds(self) -> float:
        """Time of one draw, in whole seconds (one at least), so that edges meet on seconds."""
        return max(1.0, float(round(self.volume / self.flow)))

    @property
    def drawn_flow(self) -> float:
        """Flow [m³/s] as drawn: the volume over whole seconds, so that the volume is exact.

        It differs from the published flow by half a second's share of the draw at most.
        """
        return self.volume / self.seconds


@dataclass(frozen=True)
class Irrigation:
    """A garden's watering: a flow [m³/s], from ``start`` [s after midnight] for ``duration`` [s].

    It runs on the first day and then every so many days; where these do not divide the period, the
    last interval is shorter.

    Raises:
        ValueError: what is wrong with which.
    """

    flow: float
    start: float
    duration: float
    every_days: int = 1

    def __post_init__(self) -> None:
        if not (_above_zero(self.flow) and _above_zero(self.duration)):
            raise ValueError(tr("irrigation: flow and duration must be above zero"))
        if not 0.0 <= self.start < DAY:
            raise ValueError(tr("irrigation must start within the day, 0 to 24 h"))
        if self.every_days < 1:
            raise ValueError(tr("irrigation must come every day or every so many days"))
        if self.duration > self.every_days * DAY:
            raise ValueError(tr("irrigation must end before it starts again"))


def _above_zero(value: float) -> bool:
    return math.isfinite(value) and value > 0.0


def _hour_ends(shape: Sequence[float]) -> FloatArray:
    """Share of the day that is over at the start of each hour and at the end, shape (25,)."""
    share = np.asarray(shape, dtype=np.float64)
    if share.shape != (24,) or not np.all(np.isfinite(share) & (share >= 0.0)) or not share.any():
        raise ValueError(tr("a day's shape must be 24 shares of zero or more, not all zero"))
    ends = np.concatenate(([0.0], np.cumsum(share)))
    return np.asarray(ends / ends[-1])


def hourly_use(daily_volume: float, shape: Shape) -> FloatArray:
    """Split a day's volume [m³] over the hours [m³], shape (24,), by a shape; it adds up.

    >>> float(hourly_use(10.0, FIXTURE_HOURS).sum().round(9))
    10.0
    """
    return np.asarray(np.diff(_hour_ends(shape)) * daily_volume)


def household_uses(people: float, washer: bool, dishwasher: bool) -> tuple[Use, ...]:
    """Draws of a household in a mean day, by the shares of :data:`END_USES` in :data:`INDOOR_USE`.

    Volume and flow of one draw, and where they come from:

    * toilet 2.6 gal (Residential End Uses of Water, 2016) at 3.0 gpm (US EPA, Seahome library,
      Household Uses); shower 7.8 min at 2.1 gpm (Residential End Uses, from memory);
    * tap 1 min at 1.14 gpm, bath 5.65 min at 4.4 gpm: means, and for the tap the commonest length,
      of the stochastic draws in the HPXML simulation project, National Renewable Energy Laboratory;
    * washer 31 gal a load (Residential End Uses, from memory) in two fills at 3.5 gpm (Peak Water
      Demand Study, University of Cincinnati, 2017, from memory); dishwasher 6.1 gal a load
      (Residential End Uses) in three fills at 1.39 gpm (as the tap). The number of fills is common
      practice, and each is placed by itself.

    "Other" uses are drawn at the taps. Leaks are no draws: see :func:`published_leak`. A house
    without washer or dishwasher goes without that water.

    Raises:
        ValueError: people below zero or not finite.

    >>> mean = mean_daily_volume(household_uses(1, washer=True, dishwasher=True))
    >>> round((mean + published_leak(1) * DAY) / 3.785411784e-3, 9)  # gal
    58.6
    """
    if not (math.isfinite(people) and people >= 0.0):
        raise ValueError(tr("people must be zero or more"))
    rows = (
        ("toilet", 3.0, 2.6, END_USES["toilet"], FIXTURE_HOURS),
        ("shower", 2.1, 2.1 * 7.8, END_USES["shower"], FIXTURE_HOURS),
        ("faucet", 1.14, 1.14, END_USES["faucet"] + END_USES["other"], FIXTURE_HOURS),
        ("bath", 4.4, 4.4 * 5.65, END_USES["bath"], FIXTURE_HOURS),
        ("washer", 3.5, 31.0 / 2, END_USES["washer"] * washer, WASHER_HOURS),
        ("dishwasher", 1.39, 6.1 / 3, END_USES["dishwasher"] * dishwasher, DISHWASHER_HOURS),
    )
    daily = people * INDOOR_USE / sum(END_USES.values()) / _GAL  # gal for each gal of END_USES
    return tuple(
        Use(name, flow * _GPM, gallons * _GAL, daily * part / gallons, shape)
        for name, flow, gallons, part, shape in rows
        if part > 0.0
    )


def published_leak(people: float) -> float:
    """Mean leak [m³/s] of the published indoor use, which includes it (:data:`END_USES`)."""
    return people * INDOOR_USE * END_USES["leak"] / sum(END_USES.values()) / DAY


def mean_daily_volume(uses: Sequence[Use]) -> float:
    """Water [m³] that the uses draw in a mean day."""
    return sum(use.per_day * use.volume for use in uses)


def event_starts(use: Use, *, days: int, seed: int, scale: float = 1.0) -> FloatArray:
    """Seconds, whole, at which a use's draws start, in the order of the days, shape (events,).

    Args:
        use: its name picks the random numbers, so other uses do not change its draws.
        days: length of the period, from 1. seed: whole number from 0.
        scale: factor on the mean number of draws.
    """
    stream = np.random.PCG64([seed, zlib.crc32(use.name.encode())])
    counts = _poisson(use.per_day * scale, _uniform(stream, days))
    place = _uniform(stream, int(counts.sum()))
    second = np.floor(np.interp(place, _hour_ends(use.shape), 3_600.0 * np.arange(25)))
    return np.asarray(np.repeat(np.arange(days) * DAY, counts) + second)


def _uniform(stream: np.random.PCG64, count: int) -> FloatArray:
    """Numbers in [0, 1): the upper 53 bits of each raw word."""
    raw = np.asarray(stream.random_raw(count), dtype=np.uint64)
    return np.asarray((raw >> np.uint64(11)).astype(np.float64) * 2.0**-53)


def _poisson(mean: float, uniform: FloatArray) -> npt.NDArray[np.int64]:
    """Poisson counts by the inverse of the distribution, so one number gives one count."""
    if mean == 0.0:
        return np.zeros(uniform.shape, dtype=np.int64)
    counts = np.arange(int(mean + 12.0 * math.sqrt(mean)) + 30)  # beyond: less than 2^-53
    logs = np.cumsum(np.log(np.maximum(counts, 1)))
    reached = np.cumsum(np.exp(counts * math.log(mean) - mean - logs))
    return np.asarray(np.searchsorted(reached[:-1], uniform, side="right"), dtype=np.int64)


def draws(
    uses: Sequence[Use],
    *,
    days: int,
    seed: int,
    leak: float = 0.0,
    irrigation: Irrigation | None = None,
    daily_volume: float | None = None,
) -> Draws:
    """Steady pieces of demand over a period of whole days; draws that overlap add up.

    Args:
        uses: kinds of draw, with names of their own.
        days: length of the period, from 1; it begins at midnight. seed: whole number from 0.
        leak: flow [m³/s] that never ends, on top of all else.
        irrigation: watering, on top of all else.
        daily_volume: water [m³] that the uses shall draw in a mean day; their draws then become
            more or fewer by one factor. None: as their ``per_day`` says.

    Returns:
        Pieces from 0 to ``days`` × 86,400 s; what runs past the end goes on at the beginning.

    Raises:
        ValueError: what cannot be drawn, and why.

    Source: the rates and shapes are those of the uses; Poisson draws are the usual model of
    household demand (Buchberger and others, Peak Water Demand Study, University of Cincinnati,
    2017).

    >>> house = household_uses(4, washer=True, dishwasher=True)
    >>> week = draws(house, days=7, seed=1)
    >>> float(week.edges[-1])
    604800.0
    """
    scale = _scale(uses, days, seed, daily_volume)
    if not (math.isfinite(leak) and leak >= 0.0):
        raise ValueError(tr("the leak must be zero or more"))
    runs = [
        (event_starts(use, days=days, seed=seed, scale=scale), use.seconds, use.drawn_flow)
        for use in uses
    ]
    if irrigation is not None:
        mornings = np.arange(0, days, irrigation.every_days, dtype=np.float64) * DAY
        starts = np.asarray(mornings + irrigation.start)
        runs.append((starts, irrigation.duration, irrigation.flow))
    return _pieces(runs, days * DAY, leak)


def _scale(uses: Sequence[Use], days: int, seed: int, daily_volume: float | None) -> float:
    """Factor on the number of draws; refuses what :func:`draws` cannot draw."""
    if days < 1 or seed < 0:
        raise ValueError(tr("draws need one day or more, and a seed of zero or more"))
    if len({use.name for use in uses}) < len(uses):
        raise ValueError(tr("two uses have the same name; give each its own"))
    scale = 1.0
    if daily_volume is not None:
        mean = mean_daily_volume(uses)
        if not (math.isfinite(daily_volume) and daily_volume >= 0.0):
            raise ValueError(tr("the day's volume must be zero or more"))
        if mean == 0.0 and daily_volume > 0.0:
            raise ValueError(tr("no use draws any water, so a day's volume cannot be drawn"))
        scale = daily_volume / mean if mean else 0.0
    if sum(use.per_day for use in uses) * scale * days > MOST_EVENTS:
        raise ValueError(
            tr("more than {count} draws; take fewer days or less water", count=MOST_EVENTS)
        )
    return scale


def _pieces(runs: list[tuple[FloatArray, float, float]], period: float, leak: float) -> Draws:
    """Add up runs (starts, seconds, flow) round a period; neighbours with one flow are joined.

    Runs are counted before they are multiplied by their flow, so equal demands are equal bit for
    bit, and no remainder of an ended run stays behind.
    """
    times = [np.array([0.0, period])]
    times += [np.mod(starts, period) for starts, _, _ in runs]
    times += [np.mod(starts + seconds, period) for starts, seconds, _ in runs]
    edges = np.unique(np.concatenate(times))
    flow = np.full(edges.size - 1, leak)
    for (starts, seconds, rate), begun, ended in zip(
        runs, times[1 : len(runs) + 1], times[len(runs) + 1 :], strict=True
    ):
        # Each crossing of the end is a run that goes on at the beginning.
        carried = np.floor_divide(starts + seconds, period) - np.floor_divide(starts, period)
        change = np.bincount(np.searchsorted(edges, begun), minlength=edges.size)
        change -= np.bincount(np.searchsorted(edges, ended), minlength=edges.size)
        change[0] += int(carried.sum())
        flow += np.cumsum(change)[:-1] * rate
    first = np.concatenate(([True], flow[1:] != flow[:-1]))
    return Draws(np.append(edges[:-1][first], period), flow[first])
