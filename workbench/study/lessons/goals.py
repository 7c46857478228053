"""What is to be reached on a screen: comparisons of figures, and what has happened in the tank.

``precharge <= 28 psi``, ``run_time >= 1 min``, ``pump starts``, ``altitude is 5000 ft``; several
are joined by "and". A comparison is forgiven one part in a hundred, so that a person who works in
other units, or drags, is not held to a digit.
"""

from __future__ import annotations

import re
from collections.abc import Set
from dataclasses import dataclass, field

from workbench.file_reasons import shown
from workbench.physics.motion import Happening
from workbench.physics.system import Moment
from workbench.study.lessons.figures import Ground, entry_text, figures, like
from workbench.units import (
    PRESSURE,
    VOLUME,
    Display,
    Kind,
    Quantity,
    UnitError,
    parse,
)
from workbench.words import tr

FORGIVEN = 0.01
"""Share of the compared value."""
HAPPENINGS = {
    "pump starts": Happening.CLOSED,
    "pump stops": Happening.OPENED,
    "tank empties": Happening.EMPTIED,
    "tap runs dry": Happening.DRY,
    "relief valve opens": Happening.RELIEVED,
}
"""What can happen, as a goal calls it."""
SEEN = {"gauge": PRESSURE, "water": VOLUME}
"""What is read on the moving tank itself: the gauge, and the water in it."""
_COMPARED = re.compile(r"(\w+)\s*(<=|>=|\bis\b)\s*(.+)", re.DOTALL)
_AND = re.compile(r"\s+and\s+")
_LONGEST_SHOWN = 60


class GoalProblem(Exception):  # noqa: N818 - it becomes a LessonError, with its place
    """What is wrong with a goal, and what to do."""

    def __init__(self, why: str, remedy: str) -> None:
        super().__init__(why)
        self.remedy = remedy


@dataclass(frozen=True)
class Seen:
    """What was seen since the screen began: all that happened, and the tank at this moment."""

    happened: Set[Happening] = field(default_factory=frozenset)
    moment: Moment | None = None


@dataclass(frozen=True, slots=True)
class Compared:
    """One comparison: a figure's ``name``, "<=", ">=" or "is", and the value as typed."""

    name: str
    sign: str
    value: Quantity
    kind: Kind

    def is_met(self, ground: Ground, seen: Seen) -> bool:
        """Whether it holds now."""
        found = _seen(self.name, seen) if self.name in SEEN else ground.value(self.name)
        if found is None:
            return False
        room = FORGIVEN * abs(self.value.si)
        over = found >= self.value.si - room
        under = found <= self.value.si + room
        return {"<=": under, ">=": over, "is": over and under}[self.sign]


def _seen(name: str, seen: Seen) -> float | None:
    if seen.moment is None:
        return None
    return seen.moment.pressure if name == "gauge" else seen.moment.water


@dataclass(frozen=True, slots=True)
class Goal:
    """All of its parts must hold: comparisons now, happenings at any time since the beginning."""

    compared: tuple[Compared, ...]
    happenings: tuple[Happening, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """The figures that are compared."""
        return tuple(one.name for one in self.compared)

    def is_met(self, ground: Ground, seen: Seen) -> bool:
        """Whether it is reached."""
        return set(self.happenings) <= seen.happened and all(
            one.is_met(ground, seen) for one in self.compared
        )

    def text(self, name: str, display: Display) -> str:
        """What ``name`` is compared with, or "": what the first is. Raises StopIteration."""
        one = next(one for one in self.compared if name in ("", one.name))
        return entry_text(one.value, one.kind, display)


def parse_goal(text: str) -> Goal:
    """Read a goal.

    Raises:
        GoalProblem: a part that is neither a comparison nor something that happens.

    >>> goal = parse_goal("precharge is 38 psi and pump starts")
    >>> goal.names, goal.happenings
    (('precharge',), (<Happening.CLOSED: 1>,))
    """
    compared, happenings = [], []
    for part in _AND.split(" ".join(text.split())):
        if part in HAPPENINGS:
            happenings.append(HAPPENINGS[part])
            continue
        match = _COMPARED.fullmatch(part)
        if match is None:
            raise GoalProblem(
                tr("“{part}” is no goal.", part=_short(part)),
                tr("Write a comparison such as “{example}”, or one of: {names}; join several by"
                   " “and”.", example="precharge <= 28 psi", names=", ".join(HAPPENINGS)),
            )  # fmt: skip
        compared.append(_compared(*match.groups()))
    return Goal(tuple(compared), tuple(happenings))


def _compared(name: str, sign: str, value: str) -> Compared:
    known = SEEN | {one: figure.kind for one, figure in figures().items()}
    if name not in known:
        raise GoalProblem(
            tr("There is no figure “{name}”.", name=_short(name)),
            like(name, known),
        )
    try:
        return Compared(name, sign, parse(value, known[name]), known[name])
    except UnitError as error:
        raise GoalProblem(shown(error), shown(error.remedy)) from error


def _short(text: str) -> str:
    return shown(text[:_LONGEST_SHOWN])
