"""Texts with named places for figures, such as "This tank gives {drawdown}."."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from workbench.file_reasons import shown
from workbench.study.lessons.figures import Ground, figures, like
from workbench.study.lessons.goals import Goal
from workbench.units import Display
from workbench.words import tr

GOAL = "goal"
"""The name under which a text finds what its goal compares with."""
_PLACE = re.compile(r"\{([^{}]*)\}")
_LONGEST_SHOWN = 40


class TextProblem(Exception):  # noqa: N818 - it becomes a LessonError, with its place
    """What is wrong with a text, and what to do."""

    def __init__(self, why: str, remedy: str) -> None:
        super().__init__(why)
        self.remedy = remedy


@dataclass(frozen=True, slots=True)
class Text:
    """A text as it stands in the file. Spaces and line ends in it are one space each."""

    raw: str

    @property
    def places(self) -> tuple[tuple[str, str], ...]:
        """Every setting and figure that is named in it; the setting is mostly ""."""
        found = []
        for name in _PLACE.findall(self.raw):
            setting, dot, figure = name.partition(".")
            found.append((setting, figure) if dot else ("", name))
        return tuple(found)

    def check(self, settings: Collection[str], goal: Goal | None = None) -> None:
        """Raise TextProblem: a brace without its other, or a place that nothing can fill."""
        if set("{}") & set(_PLACE.sub("", self.raw)):
            raise TextProblem(
                tr("A brace stands alone."),
                tr("Write each place as “{example}”.", example="{drawdown}"),
            )
        for setting, name in self.places:
            if (setting, name) == ("", GOAL) or setting == GOAL:
                _check_goal(name, setting, goal)
            elif setting and setting not in settings:
                raise TextProblem(
                    tr("There is no setting “{name}”.", name=_short(setting)),
                    like(setting, settings),
                )
            elif name not in figures():
                raise TextProblem(
                    tr("There is no figure “{name}”.", name=_short(name)),
                    like(name, figures()),
                )

    def filled(
        self,
        grounds: Mapping[str, Ground],
        display: Display,
        goal: Goal | None = None,
        missing: str = "",
    ) -> str:
        """The text with its figures, in these units; ``missing`` stands for those without value.

        Raises:
            TextProblem: a figure has no value with this setting, and nothing stands for it.
        """

        def put_in(match: re.Match[str]) -> str:
            name = match[1]
            setting, dot, figure = name.partition(".")
            if not dot:
                setting, figure = "", name
            if goal is not None and ((setting, figure) == ("", GOAL) or setting == GOAL):
                return goal.text(figure if setting else "", display)
            told = grounds[setting].text(figure, display)
            if told is None and missing:
                return missing
            if told is None:
                raise TextProblem(
                    tr("“{name}” has no value with this setting.", name=name),
                    tr("Change the setting of the tank, or leave that figure out."),
                )
            return told

        return _PLACE.sub(put_in, self.raw)


def _check_goal(name: str, setting: str, goal: Goal | None) -> None:
    known = () if goal is None else goal.names
    if (setting and name not in known) or not known:
        raise TextProblem(
            tr("The goal compares no “{name}”.", name=_short(name)),
            tr("Name one that it compares, or write “{example}” for the first.",
               example=f"{{{GOAL}}}"),
        )  # fmt: skip


def _short(name: str) -> str:
    return shown(name[:_LONGEST_SHOWN])
