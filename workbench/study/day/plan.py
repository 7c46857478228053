"""What is to be simulated: the house's draws, the pump, and one or two tanks, all read and checked.

Two plans are equal when they would give the same day, so whoever shows a day can tell whether it
still belongs to the job.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from workbench.job.job import Job
from workbench.physics.day import Draws
from workbench.physics.header import Vessels
from workbench.physics.household import (
    DAY,
    Irrigation,
    Use,
    draws,
    household_uses,
    mean_daily_volume,
)
from workbench.study.chosen import chosen, vessels_of
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.motor import MotorStands, read_motor
from workbench.study.pump.reading import pump_entries_of
from workbench.study.ranking import Judged
from workbench.study.reader import Reader
from workbench.study.setting import Setting
from workbench.study.supply import Supply
from workbench.words import tr

MOST_DRAWS = 4_000
"""Draws a day that are still simulated; a house of four has about eighty."""
MOST_STARTS = 2_000
"""Drawdowns a day that are still simulated, one start each at most."""
QUICK = 900
"""Draws and drawdowns a day, of all tanks, up to which a day takes less than a frame (16 ms)."""
_FALLING = 3  # times as long as with a constant flow
_HOUR = 3600.0


@dataclass(frozen=True)
class Household:
    """What the house draws in a day, SI. ``daily_volume`` [m³] None: as the people do."""

    people: float
    washer: bool
    dishwasher: bool
    daily_volume: float | None
    leak: float
    irrigation: Irrigation | None
    seed: int

    @property
    def uses(self) -> tuple[Use, ...]:
        """The kinds of draw."""
        return household_uses(self.people, self.washer, self.dishwasher)

    @property
    def mean_indoor(self) -> float:
        """What its people draw in a mean day [m³], without leak and irrigation."""
        return mean_daily_volume(self.uses) if self.daily_volume is None else self.daily_volume

    @property
    def mean_draws(self) -> float:
        """How often its taps are opened in a mean day."""
        mean = mean_daily_volume(self.uses)
        scale = self.mean_indoor / mean if mean else 0.0
        return sum(use.per_day for use in self.uses) * scale

    @property
    def mean_volume(self) -> float:
        """All that it draws in a mean day [m³]."""
        garden = self.irrigation
        watered = garden.flow * garden.duration if garden else 0.0
        return self.mean_indoor + self.leak * DAY + watered

    def day(self, later: int = 0) -> Draws:
        """The draws of the day with its seed, or of a ``later`` one."""
        return draws(
            self.uses,
            days=1,
            seed=self.seed + later,
            leak=self.leak,
            irrigation=self.irrigation,
            daily_volume=self.daily_volume,
        )


@dataclass(frozen=True)
class PlannedTank:
    """One arrangement of tanks: volume and acceptance of each [m³], and all of them as vessels."""

    key: str
    name: str
    parts: tuple[tuple[float, float | None], ...]
    drawdown: float
    vessels: Vessels = field(compare=False, repr=False)


@dataclass(frozen=True)
class DayPlan:
    """All that a simulation needs. ``motor`` None: its limits could not be read.

    ``pump`` is what was entered of pump and well; it stands for ``supply``, which has no equality.
    """

    tanks: tuple[PlannedTank, ...]
    house: Household
    setting: Setting
    motor: MotorStands | None
    pump: tuple[object, ...]
    supply: Supply = field(compare=False, repr=False)

    @property
    def is_quick(self) -> bool:
        """Whether a day of it takes less than a frame of the screen; measured, and rough."""
        cycles = sum(self.house.mean_volume / tank.drawdown for tank in self.tanks)
        pieces = self.house.mean_draws * len(self.tanks) + cycles
        return pieces * (1 if self.supply.delivery.is_constant else _FALLING) <= QUICK


def day_plan(results: Results) -> tuple[DayPlan | None, tuple[Finding, ...]]:
    """What the job asks to be simulated, and what stands in its entries' way.

    Returns:
        No plan where an entry that the day rests on is missing or wrong; the findings are those
        that ``results.findings`` has not.
    """
    reader = Reader(results.job)
    house = read_day_household(results.job, reader)
    motor, _power = read_motor(results.job, reader)
    tanks = _tanks(results, reader)
    supply, setting = results.inputs.supply, results.setting
    if house is None or tanks is None or supply is None or setting is None:
        return None, tuple(reader.findings)
    if not _can_be_followed(house, tanks, reader):
        return None, tuple(reader.findings)
    plan = DayPlan(tanks, house, setting, motor, pump_entries_of(results.job), supply)
    return plan, tuple(reader.findings)


# --- the house ---


def read_day_household(job: Job, reader: Reader) -> Household | None:
    """What the house draws in a day; None, with findings, where an entry cannot be used."""
    people = reader.not_below_zero("people")
    washers, dishwashers = reader.not_below_zero("washers"), reader.not_below_zero("dishwashers")
    use = reader.not_below_zero("daily_use")
    leak, seed = reader.not_below_zero("leak"), reader.seed()
    garden, garden_is_read = _irrigation(job, reader)
    use_is_read = job.daily_use is None or use is not None
    if people is None or washers is None or dishwashers is None or leak is None or seed is None:
        return None
    if not (use_is_read and garden_is_read):
        return None
    if people == 0.0 and use:
        reader.report(
            Level.STOP,
            "nobody_draws",
            "people",
            tr("A daily use is entered, but nobody lives here to draw it."),
            tr("Type how many people live in the house, or no daily use."),
        )
        return None
    volume = None if use is None else use * DAY
    return Household(people, washers > 0.0, dishwashers > 0.0, volume, leak, garden, seed)


def _irrigation(job: Job, reader: Reader) -> tuple[Irrigation | None, bool]:
    """The watering, if any; and whether all that was entered of it could be read."""
    wanted = job.irrigation_flow is not None or job.irrigation_time is not None
    start = reader.value("irrigation_start", needed=wanted)
    if not wanted:
        return None, True
    flow, lasts = reader.above_zero("irrigation_flow"), reader.above_zero("irrigation_time")
    for name, other in (("irrigation_flow", tr("flow")), ("irrigation_time", tr("time"))):
        if getattr(job, name) is None:
            reader.report(
                Level.STOP,
                "irrigation_half",
                name,
                tr("Irrigation needs both a flow and a time."),
                tr("Type its {missing} too, or empty the other field.", missing=other),
            )
    if start is not None and not 0.0 <= start <= 24.0:
        reader.report(
            Level.STOP,
            "hour_range",
            "irrigation_start",
            tr("The day's hours go from 0 to 24."),
            tr("Type 5 for five in the morning, 20.5 for half past eight in the evening."),
        )
        return None, False
    if lasts is not None and lasts > DAY:
        reader.report(
            Level.STOP,
            "irrigation_long",
            "irrigation_time",
            tr("It cannot last longer than the day."),
            tr("Type at most 24 h. For water that always runs use the leak."),
        )
        return None, False
    if flow is None or lasts is None or start is None:
        return None, False
    return Irrigation(flow, start * _HOUR % DAY, lasts), True  # hour 24 is midnight, as 0 is


# --- the tanks ---


def _tanks(results: Results, reader: Reader) -> tuple[PlannedTank, ...] | None:
    """One tank or two; None, with findings, where one that was chosen cannot be used."""
    first = _tank(results, "first_tank", reader)
    if not results.job.second_tank:
        return None if first is None else (first,)
    second = _tank(results, "second_tank", reader)
    if first is None or second is None:
        return None
    if second.key == first.key:
        reader.report(
            Level.NOTE,
            "same_tank",
            "second_tank",
            tr("It is the first tank too, so there is nothing to compare."),
            tr("Choose another tank, or none."),
        )
        return (first,)
    return (first, second)


def _tank(results: Results, name: str, reader: Reader) -> PlannedTank | None:
    one, found = chosen(results, name)
    reader.findings += found
    if one is None:
        if results.candidates is None or len(results.candidates) == 0:
            reader.report(
                Level.STOP,
                "no_tank",
                name,
                tr("There is no tank to choose."),
                tr("Open a catalogue that has tanks."),
            )
        return None
    if not one.drawdown > 0.0:
        reader.report(
            Level.STOP,
            "no_drawdown",
            name,
            tr("This tank gives no water between cut-out and cut-in."),
            tr("Choose another tank, or mend band and precharge."),
        )
        return None
    assert results.setting is not None  # noqa: S101 - tanks are ranked only at a setting
    return _planned(one, results.setting)


def _planned(one: Judged, setting: Setting) -> PlannedTank:
    return PlannedTank(
        key=" + ".join(part.id for part in one.parts),
        name=one.name,
        parts=tuple((part.total_volume, part.acceptance) for part in one.parts),
        drawdown=one.drawdown,
        vessels=vessels_of(one, setting),
    )


def _can_be_followed(house: Household, tanks: Iterable[PlannedTank], reader: Reader) -> bool:
    """Whether a day has so few draws and starts that following it makes sense."""
    if house.mean_draws > MOST_DRAWS:
        typed = "people" if house.daily_volume is None else "daily_use"
        reader.report(
            Level.STOP,
            "too_many_draws",
            typed,
            tr("That is over {most} draws a day, which is no house.", most=MOST_DRAWS),
            tr("Check the number and its unit."),
        )
        return False
    follows = True
    for name, tank in zip(("first_tank", "second_tank"), tanks, strict=False):
        if house.mean_volume > MOST_STARTS * tank.drawdown:
            reader.report(
                Level.STOP,
                "too_many_starts",
                name,
                tr("So much water is over {most} times this tank's drawdown.", most=MOST_STARTS),
                tr("Check what is drawn, or choose a larger tank."),
            )
            follows = False
    return follows
