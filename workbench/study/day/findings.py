"""What is wrong with a simulated day: limits that it passes, water that it lacks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from workbench.physics.day_figures import DAY, HOUR, IntArray
from workbench.physics.forgiving import SAME
from workbench.study.day.plan import DayPlan
from workbench.study.findings import Finding, Level
from workbench.study.motor import MotorStands
from workbench.units.kinds import SHORT_TIME, TIME, VOLUME
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.day.simulated import TankDay

MOST_DAYS = 14
"""Equal days after which a tank that never comes to the same midnight is shown as it is."""
_LITTLE = 1e-6  # m³: less unmet water than a thimble is rounding


def over_day(starts: IntArray | int, motor: MotorStands) -> np.ndarray:
    """Whether so many starts are more than the motor stands in a day."""
    limit = np.inf if motor.starts_day is None else motor.starts_day * DAY
    return np.asarray(np.asarray(starts) > limit * (1.0 + SAME))


def over_hour(starts: IntArray | int, motor: MotorStands) -> np.ndarray:
    """Whether so many starts are more than the motor stands in an hour."""
    limit = np.inf if motor.starts_hour is None else motor.starts_hour * HOUR
    return np.asarray(np.asarray(starts) > limit * (1.0 + SAME))


def short_rest(rest: float | None, motor: MotorStands) -> bool:
    """Whether a rest [s] is shorter than the motor needs."""
    if rest is None or motor.rest is None:
        return False
    return rest < motor.rest * (1.0 - SAME)


def day_findings(plan: DayPlan, tanks: tuple[TankDay, ...]) -> Iterator[Finding]:
    """What a person should know of the day of these tanks."""
    for one in tanks:
        name = one.tank.name if len(tanks) > 1 else ""
        found = (*_about_motor(one, plan.motor), *_about_water(one), *_about_midnight(one))
        yield from (_named(finding, name) for finding in found)


def _named(finding: Finding, name: str) -> Finding:
    """The finding, said of one tank among several; of a lone one ("") as it is."""
    if not name:
        return finding
    if finding.values:  # then the text has {named} places, and a name may have braces
        name = name.replace("{", "{{").replace("}", "}}")
    return replace(finding, text=f"{name}: {finding.text}")


def _about_motor(one: TankDay, motor: MotorStands | None) -> Iterator[Finding]:
    if motor is None:
        return
    remedy = tr("A larger tank or a wider band gives fewer starts and longer rests.")
    if over_day(one.starts, motor):
        yield Finding(
            Level.CAUTION, "day_starts_over", "motor_limit",
            tr("{count} starts this day are more than the limit allows.", count=one.starts),
            remedy,
        )  # fmt: skip
    if over_hour(one.busiest, motor):
        yield Finding(
            Level.CAUTION, "hour_starts_over", "motor_limit",
            tr("{count} starts in the busiest hour are more than the limit allows.",
               count=one.busiest),
            remedy,
        )  # fmt: skip
    if one.shortest_rest is not None and short_rest(one.shortest_rest, motor):
        yield Finding(
            Level.CAUTION, "rest_short", "motor_limit",
            tr("The shortest rest, {rest}, is shorter than the limit asks for."), remedy,
            (("rest", one.shortest_rest, SHORT_TIME),),
        )  # fmt: skip


def _about_water(one: TankDay) -> Iterator[Finding]:
    run = one.run
    if run.unmet > _LITTLE:
        yield Finding(
            Level.CAUTION, "unmet", "",
            tr("More is drawn than the pump gives: {water} is missing, in {time} with an empty"
               " tank."),
            tr("Draw less at once, or more slowly; a larger tank helps for short draws only."),
            (("water", run.unmet, VOLUME), ("time", run.empty_seconds, TIME)),
        )  # fmt: skip
    elif one.below_cut_in > 1.0:
        yield Finding(
            Level.NOTE, "below_cut_in", "",
            tr("The pressure lies below cut-in for {time}: so long the draw is more than the pump"
               " gives."),
            values=(("time", one.below_cut_in, TIME),),
        )  # fmt: skip


def _about_midnight(one: TankDay) -> Iterator[Finding]:
    if one.is_steady:
        return
    if one.again is None:
        text = tr("Even after {count} such days the tank does not stand at midnight as it did at"
                  " one before. Day {count} is shown.", count=MOST_DAYS)  # fmt: skip
    else:
        text = tr("With such days only the tank stands alike at every {count}th midnight. One of"
                  " these {count} days is shown.", count=one.again)  # fmt: skip
    yield Finding(Level.NOTE, "not_steady", "seed", text)
