"""A household's draws: true to published volumes and hours, exact in volume, always the same."""

from __future__ import annotations

import hashlib
import math
from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from workbench.physics import household
from workbench.physics.household import (
    DAY,
    DISHWASHER_HOURS,
    FIXTURE_HOURS,
    WASHER_HOURS,
    WELL_PUMP_HOURS,
    Irrigation,
    Use,
    draws,
    event_starts,
    household_uses,
    mean_daily_volume,
    published_leak,
)

GAL = 3.785411784e-3
GPM = GAL / 60
HOUSE = household_uses(4, washer=True, dishwasher=True)
GOLDEN = (55717, "ef9eb4ddaf19c4f7758ce7dccb5663e2565721f81803efa270198b6e6de41a5d")
SHOWER = Use("shower", 2.0 * GPM, 16.0 * GAL, 3.0, FIXTURE_HOURS)


def events(uses: tuple[Use, ...], days: int, seed: int, scale: float = 1.0) -> list[int]:
    return [event_starts(use, days=days, seed=seed, scale=scale).size for use in uses]


def test_the_uses_add_up_to_the_published_indoor_use() -> None:
    # Residential End Uses of Water, version 2, Water Research Foundation, 2016: 58.6 gal per person
    # and day indoors, leaks included; 137.7 gal per household by its ends.
    assert sum(household.END_USES.values()) == pytest.approx(137.7)
    for people in (1, 2.5, 6):
        uses = household_uses(people, washer=True, dishwasher=True)
        total = mean_daily_volume(uses) + published_leak(people) * DAY
        assert total / GAL == pytest.approx(58.6 * people, rel=1e-12)


def test_the_rates_of_use_are_near_those_of_another_publication() -> None:
    # Sustainable Sources, indoor water worksheet: 0.30 loads of washing, 0.17 of dishes and 4.0
    # flushes a person and day. Residential End Uses, 2016: 5 flushes of 2.6 gal.
    per_person = {use.name: use.per_day / 4 for use in HOUSE}
    assert per_person["washer"] / 2 == pytest.approx(0.30, abs=0.02)
    assert per_person["dishwasher"] / 3 == pytest.approx(0.17, abs=0.06)
    assert 4.0 <= per_person["toilet"] <= 5.5


@pytest.mark.parametrize(("washer", "dishwasher"), [(False, True), (True, False), (False, False)])
def test_a_house_without_a_machine_goes_without_its_water(washer: bool, dishwasher: bool) -> None:
    uses = household_uses(4, washer=washer, dishwasher=dishwasher)
    names = {use.name for use in uses}
    assert ("washer" in names, "dishwasher" in names) == (washer, dishwasher)
    assert [use for use in HOUSE if use.name in names] == list(uses)


@pytest.mark.parametrize("seed", range(5))
def test_a_years_mean_day_is_the_published_one_within_its_own_variance(seed: int) -> None:
    # A compound Poisson sum: the variance of a day's volume is the sum of rate × volume².
    days = 365
    year = draws(HOUSE, days=days, seed=seed, leak=published_leak(4))
    spread = math.sqrt(sum(use.per_day * use.volume**2 for use in HOUSE) / days)
    assert abs(year.volume / days - 4 * 58.6 * GAL) < 4.0 * spread
    assert spread < 0.02 * 4 * 58.6 * GAL  # so the line above says something


def test_the_mean_over_many_seeds_is_closer_still() -> None:
    days, seeds = 365, 25
    mean = np.mean([draws(HOUSE, days=days, seed=seed).volume / days for seed in range(seeds)])
    spread = math.sqrt(sum(use.per_day * use.volume**2 for use in HOUSE) / days / seeds)
    assert abs(mean - mean_daily_volume(HOUSE)) < 4.0 * spread


def test_the_days_volume_that_is_asked_for_is_drawn_in_the_mean() -> None:
    asked, days = 300 * GAL, 3650
    got = draws(HOUSE, days=days, seed=3, daily_volume=asked).volume / days
    scale = asked / mean_daily_volume(HOUSE)
    spread = math.sqrt(scale * sum(use.per_day * use.volume**2 for use in HOUSE) / days)
    assert abs(got - asked) < 4.0 * spread
    assert draws(HOUSE, days=2, seed=3, daily_volume=0.0).flow.tolist() == [0.0]


@pytest.mark.parametrize("shape", [FIXTURE_HOURS, WELL_PUMP_HOURS, WASHER_HOURS, DISHWASHER_HOURS])
def test_draws_fall_on_the_hours_as_the_shape_says(shape: tuple[float, ...]) -> None:
    assert sum(shape) == pytest.approx(1.0, abs=0.006)  # as printed
    use = replace(SHOWER, per_day=30.0, shape=shape)
    starts = event_starts(use, days=2000, seed=11)
    counts = np.bincount((starts % DAY // 3600).astype(int), minlength=24)
    expected = np.array(shape) / sum(shape) * counts.sum()
    assert stats.chisquare(counts, expected).pvalue > 1e-3
    # and the test has the power to tell: a shape that is an hour late fails
    assert stats.chisquare(counts, np.roll(expected, 1)).pvalue < 1e-9


def test_draws_fall_evenly_within_the_hour_on_whole_seconds() -> None:
    starts = event_starts(replace(SHOWER, per_day=50.0), days=2000, seed=5)
    assert np.all(starts == np.floor(starts))
    minutes = np.bincount((starts % 3600 // 60).astype(int), minlength=60)
    assert stats.chisquare(minutes).pvalue > 1e-3


@pytest.mark.parametrize("mean", [0.01, 0.5, 3.0, 47.0, 900.0])
def test_counts_are_poisson(mean: float) -> None:
    even = (np.arange(20_000) + 0.5) / 20_000
    counts = household._poisson(mean, even)
    assert np.array_equal(counts, stats.poisson.ppf(even, mean).astype(int))
    extremes = household._poisson(mean, np.array([0.0, 1.0 - 2.0**-53]))
    assert extremes[0] <= mean <= extremes[1]


def test_days_are_independent_poisson_counts() -> None:
    starts = event_starts(replace(SHOWER, per_day=4.0), days=4000, seed=2)
    counts = np.bincount((starts // DAY).astype(int), minlength=4000)
    most = 12
    observed = np.bincount(np.minimum(counts, most), minlength=most + 1)
    chance = stats.poisson.pmf(np.arange(most + 1), 4.0)
    chance[-1] += stats.poisson.sf(most, 4.0)
    assert stats.chisquare(observed, chance * 4000).pvalue > 1e-3
    assert abs(np.corrcoef(counts[:-1], counts[1:])[0, 1]) < 4 / math.sqrt(4000)


def test_the_same_seed_gives_the_same_draws_and_another_seed_others() -> None:
    first, again = (draws(HOUSE, days=30, seed=1) for _ in range(2))
    other = draws(HOUSE, days=30, seed=2)
    assert np.array_equal(first.edges, again.edges)
    assert np.array_equal(first.flow, again.flow)
    assert not np.array_equal(first.edges, other.edges)


def test_the_draws_are_the_same_for_ever() -> None:
    # Whole seconds, so no last bit of a float is in this; it changes only if the method does.
    year = draws(HOUSE, days=365, seed=1)
    assert np.all(year.edges == np.floor(year.edges))
    digest = hashlib.sha256(year.edges.astype("<i8").tobytes()).hexdigest()
    assert (year.edges.size, digest) == GOLDEN


def test_a_uses_draws_do_not_depend_on_the_other_uses() -> None:
    for use in household_uses(4, washer=False, dishwasher=False):
        assert np.array_equal(
            event_starts(use, days=9, seed=4),
            event_starts(next(u for u in HOUSE if u.name == use.name), days=9, seed=4),
        )
    toilet, shower = HOUSE[:2]
    same_rate = replace(shower, per_day=toilet.per_day, shape=toilet.shape)
    a, b = (event_starts(use, days=99, seed=4) for use in (toilet, same_rate))
    assert a.size != b.size or not np.array_equal(a, b)


@pytest.mark.parametrize("days", [1, 2, 30, 365])
@pytest.mark.parametrize("seed", [0, 7])
def test_the_volume_is_events_times_volume_whatever_overlaps_or_passes_the_end(
    days: int, seed: int
) -> None:
    drawn = draws(HOUSE, days=days, seed=seed)
    counts = events(HOUSE, days, seed)
    expected = sum(count * use.volume for count, use in zip(counts, HOUSE, strict=True))
    assert drawn.volume == pytest.approx(expected, rel=1e-12)
    assert drawn.edges[0] == 0.0
    assert drawn.edges[-1] == days * DAY
    assert np.all(drawn.flow[1:] != drawn.flow[:-1])


def test_what_runs_past_the_end_goes_on_at_the_beginning() -> None:
    late = tuple([0.0] * 23 + [1.0])
    use = Use("late", 1e-4, 1e-4 * 7200, 1.0, late)  # two hours, begun in the last
    seed = next(s for s in range(99) if events((use,), 1, s) == [1])
    (start,) = event_starts(use, days=1, seed=seed)
    drawn = draws((use,), days=1, seed=seed)
    assert drawn.edges.tolist() == [0.0, start + 7200 - DAY, start, DAY]
    assert drawn.flow.tolist() == pytest.approx([1e-4, 0.0, 1e-4])


def test_a_draw_longer_than_the_period_goes_round_it_more_than_once() -> None:
    use = Use("filling", 1e-4, 1e-4 * 2.25 * DAY, 1.0, FIXTURE_HOURS)
    seed = next(s for s in range(99) if events((use,), 1, s) == [1])
    drawn = draws((use,), days=1, seed=seed)
    assert sorted(set(drawn.flow.tolist())) == pytest.approx([2e-4, 3e-4])
    assert drawn.volume == pytest.approx(use.volume, rel=1e-12)


def brute_force(uses: tuple[Use, ...], days: int, seed: int, leak: float) -> np.ndarray:
    """Flow in each second of the period, added up second by second."""
    period = round(days * DAY)
    flow = np.full(period, leak)
    for use in uses:
        for start in event_starts(use, days=days, seed=seed):
            span = (int(start) + np.arange(int(use.seconds))) % period
            flow[span] += use.drawn_flow  # no draw here is longer than the period
    return flow


def test_overlapping_draws_add_up_in_every_second() -> None:
    busy = tuple(replace(use, per_day=use.per_day * 8) for use in HOUSE)
    drawn = draws(busy, days=1, seed=6, leak=1e-6)
    seconds = np.repeat(drawn.flow, np.diff(drawn.edges).astype(int))
    assert seconds == pytest.approx(brute_force(busy, 1, 6, 1e-6), rel=1e-12, abs=1e-18)
    assert drawn.flow.max() > 2 * max(use.flow for use in busy)  # they do overlap


def test_a_leak_runs_always_and_is_exact() -> None:
    leak = household.LEAKING_TOILET
    dry, leaking = draws(HOUSE, days=30, seed=8), draws(HOUSE, days=30, seed=8, leak=leak)
    assert leaking.flow.min() == leak
    assert np.array_equal(dry.edges, leaking.edges)
    assert (leaking.volume - dry.volume) / GAL == pytest.approx(200 * 30, rel=1e-9)
    alone = draws((), days=3, seed=0, leak=leak)
    assert (alone.edges.tolist(), alone.flow.tolist()) == ([0.0, 3 * DAY], [leak])


def test_an_ended_draw_leaves_nothing_behind() -> None:
    # No remainder of adding and taking away flows: what is idle is nil, what is equal is equal.
    year = draws(HOUSE, days=365, seed=1)
    assert year.flow.min() == 0.0
    distinct = np.unique(year.flow)
    assert distinct.size < 150  # a table of fill times is kept for each
    assert np.diff(distinct).min() > 1e-9


def test_irrigation_runs_on_its_days_at_its_hour() -> None:
    water = Irrigation(5 * GPM, 4 * 3600.0, 5400.0, every_days=3)
    drawn = draws((), days=7, seed=0, irrigation=water)
    starts = drawn.edges[:-1][drawn.flow > 0]
    assert starts.tolist() == [day * DAY + 4 * 3600 for day in (0, 3, 6)]
    assert drawn.volume == pytest.approx(3 * 5400 * 5 * GPM, rel=1e-12)
    night = Irrigation(5 * GPM, 23.5 * 3600.0, 3600.5)
    both = draws(HOUSE, days=5, seed=1, irrigation=night)
    extra = both.volume - draws(HOUSE, days=5, seed=1).volume
    assert extra == pytest.approx(5 * 3600.5 * 5 * GPM, rel=1e-9)
    assert both.flow[0] >= 5 * GPM * (1 - 1e-12)  # from the last night of the period


@pytest.mark.parametrize("use", HOUSE, ids=lambda use: use.name)
def test_a_draw_flows_at_the_published_rate_to_half_a_second(use: Use) -> None:
    assert use.seconds == round(use.seconds)
    assert use.seconds * use.drawn_flow == pytest.approx(use.volume, rel=1e-15)
    assert use.drawn_flow == pytest.approx(use.flow, rel=0.5 / use.seconds + 1e-9)
    assert use.drawn_flow == pytest.approx(use.flow, rel=0.004)


def test_the_shortest_draw_takes_one_second() -> None:
    sip = replace(SHOWER, volume=0.3 * SHOWER.flow)
    assert (sip.seconds, sip.drawn_flow) == (1.0, pytest.approx(sip.volume))


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"flow": 0.0}, "flow and volume must be above zero"),
        ({"volume": math.nan}, "flow and volume must be above zero"),
        ({"per_day": -1.0}, "draws in a day must be zero or more"),
        ({"shape": (1.0,) * 23}, "24 shares"),
        ({"shape": (0.0,) * 24}, "24 shares"),
        ({"shape": (1.0,) * 23 + (-0.1,)}, "24 shares"),
    ],
)
def test_a_use_of_no_sense_is_refused(change: dict[str, object], reason: str) -> None:
    with pytest.raises(ValueError, match=reason):
        replace(SHOWER, **change)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"flow": -1.0}, "above zero"),
        ({"duration": 0.0}, "above zero"),
        ({"start": DAY}, "within the day"),
        ({"every_days": 0}, "every day"),
        ({"duration": DAY + 1}, "end before it starts again"),
    ],
)
def test_irrigation_of_no_sense_is_refused(change: dict[str, float], reason: str) -> None:
    with pytest.raises(ValueError, match=reason):
        replace(Irrigation(GPM, 0.0, 60.0), **change)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"days": 0}, "one day or more"),
        ({"seed": -1}, "seed of zero or more"),
        ({"leak": -1e-9}, "leak must be zero or more"),
        ({"leak": math.nan}, "leak must be zero or more"),
        ({"daily_volume": -1.0}, "volume must be zero or more"),
        ({"daily_volume": 1e6, "days": 365}, "more than 5000000 draws"),
        ({"uses": (SHOWER, SHOWER)}, "same name"),
        ({"uses": (), "daily_volume": 1.0}, "no use draws any water"),
    ],
)
def test_draws_of_no_sense_are_refused(change: dict[str, object], reason: str) -> None:
    given: dict[str, object] = {"uses": HOUSE, "days": 1, "seed": 0, **change}
    with pytest.raises(ValueError, match=reason):
        draws(given.pop("uses"), **given)  # type: ignore[arg-type]
