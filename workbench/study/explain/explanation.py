"""What is told of a figure: the steps that lead to it, their sources, and a small picture."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from workbench.study.working import Step
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results
    from workbench.units import Display


@dataclass(frozen=True, slots=True)
class Picture:
    """A small drawing by its name; see :mod:`workbench.study.explain.pictures`.

    ``sizes`` are what is drawn to scale, ``labels`` the texts beside it, ``told`` says the same in
    words.
    """

    name: str
    sizes: tuple[float, ...]
    labels: tuple[str, ...]
    told: str


@dataclass(frozen=True, eq=False)
class Asked:
    """What a figure is explained from.

    ``own`` is what the page shows beside the results (a simulated day, the chosen tank);
    ``place`` tells one cell of a table from the next, counted from 0.
    """

    results: Results
    display: Display
    own: Any = None
    place: tuple[int, ...] = ()

    @property
    def first(self) -> int:
        """The first number of the place."""
        return self.place[0]


@dataclass(frozen=True, slots=True)
class Working:
    """What the explaining function of a figure answers.

    The last of ``steps`` ends with the figure as it is shown; ``beside`` leads to other figures of
    the same sentence.
    """

    steps: tuple[Step, ...]
    beside: tuple[Step, ...] = ()
    picture: Picture | None = None


Explain = Callable[[Asked], Working | None]
"""Answers None where the figure is not there now."""


@dataclass(frozen=True, slots=True)
class Explanation:
    """A figure as a page names and shows it, with its working."""

    key: str
    title: str
    value: str
    steps: tuple[Step, ...]
    beside: tuple[Step, ...]
    picture: Picture | None

    def as_text(self) -> str:
        """All of it as plain text, to be pasted into a letter."""
        parts = [f"{self.title}: {self.value}", *map(step_text, self.steps)]
        if self.beside:
            parts += [tr("Beside it"), *map(step_text, self.beside)]
        if self.picture is not None:
            parts.append(self.picture.told)
        return "\n\n".join(parts) + "\n"


def step_text(step: Step) -> str:
    """A step on lines of its own."""
    source = tr("Source: {source}", source=step.source)
    return "\n".join((step.title, step.formula, step.numbers, source))
