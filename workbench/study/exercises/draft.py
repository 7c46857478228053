"""What a topic draws: an exercise that does not yet know where it stands."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from workbench.study.exercises.draws import Draws
from workbench.study.exercises.exercise import (
    Exercise,
    Figure,
    Hunt,
    Option,
    Pick,
    Topic,
)
from workbench.study.exercises.neat import Neat
from workbench.study.exercises.slip import Slip
from workbench.study.working import Step
from workbench.units import PERCENT, Display, Kind
from workbench.words import tr


@dataclass(frozen=True, eq=False)
class Draft:
    """Title, story, given rows, question, what is asked, working and caution of an exercise."""

    title: str
    story: str
    given: tuple[tuple[str, str], ...]
    question: str
    ask: Figure | Pick | Hunt
    working: tuple[Step, ...]
    caution: str = ""

    def exercise(
        self, topic: Topic, sort: str, seed: int, number: int, display: Display
    ) -> Exercise:
        """The exercise in its place."""
        return Exercise(
            topic,
            sort,
            seed,
            number,
            display,
            self.title,
            self.story,
            self.given,
            self.question,
            self.ask,
            self.working,
            self.caution,
        )


Maker = Callable[[Draws, Neat], Draft | None]
"""Draws a draft; None where the numbers drawn make no sensible exercise."""

Slips = Iterable[tuple[Slip, float | None]]


def within(neat: Neat, kind: Kind, right: float, us: float, metric: float, slips: Slips) -> Figure:
    """A figure with a tolerance of so many of the shown unit; errors of None do not apply."""
    tolerance = neat.step(us, metric, kind)
    if kind is PERCENT:
        points = neat.digits(us if neat.is_us else metric)
        said = tr("within {points} percentage points", points=points)
    else:
        said = tr("within {tolerance}", tolerance=neat.say_step(tolerance, kind))
    return _figure(neat, kind, right, tolerance, slips, said)


def within_share(neat: Neat, kind: Kind, right: float, percent: float, slips: Slips) -> Figure:
    """A figure with a tolerance of some percent of the right answer."""
    said = tr("within {percent} %", percent=neat.digits(percent))
    return _figure(neat, kind, right, abs(right) * percent / 100.0, slips, said)


def _figure(
    neat: Neat, kind: Kind, right: float, tolerance: float, slips: Slips, said: str
) -> Figure:
    kept = tuple((slip, value) for slip, value in slips if value is not None)
    return Figure(kind, neat.display.symbol(kind), right, tolerance, kept, said)


def pick(draws: Draws, right: Option, wrong: Iterable[Option], most: int = 4) -> Pick:
    """The right option among some wrong ones, in an order that is drawn."""
    others = draws.shuffled(tuple(wrong))[: most - 1]
    return Pick(tuple(draws.shuffled((right, *others))))


def yes(text: str, why: str) -> Option:
    """The right option."""
    return Option(text, right=True, slip=None, why=why)


def no(text: str, slip: Slip, why: str) -> Option:
    """A wrong option, and the error that leads to it."""
    return Option(text, right=False, slip=slip, why=why)
