"""An answer is right, or it is told which error it is; or, honestly, that no error is known."""

from __future__ import annotations

import math

from workbench.physics.forgiving import SAME
from workbench.study.exercises.exercise import (
    Answer,
    Exercise,
    Figure,
    Hunt,
    HuntAnswer,
    Pick,
)
from workbench.study.exercises.hunt_marking import mark_hunt, right_of_hunt
from workbench.study.exercises.marked import Marked
from workbench.study.exercises.remedy import remedies
from workbench.study.exercises.slip import Slip, slips
from workbench.study.exercises.suspicion import suspicion
from workbench.words import tr

__all__ = ["Marked", "mark", "right_answer", "slip_of"]


def mark(exercise: Exercise, answer: Answer) -> Marked:
    """Mark an answer.

    Args:
        answer: an SI value for a figure, the place of an option for a pick (from zero), a
            :class:`HuntAnswer` for a hunt.

    Raises:
        TypeError: an answer of another sort than the question's.
        ValueError: a number that is none, an option or a reading that is not there.
    """
    ask = exercise.ask
    if isinstance(ask, Hunt):
        if not isinstance(answer, HuntAnswer):
            raise TypeError("a hunt is answered by a fault and the readings taken")
        return mark_hunt(ask, answer, exercise.display)
    if isinstance(answer, HuntAnswer | bool):
        raise TypeError("this question is answered by a number")
    if isinstance(ask, Pick):
        return _mark_pick(ask, answer)
    return _mark_figure(ask, float(answer), exercise)


def right_answer(exercise: Exercise) -> str:
    """The right answer in words, for the key."""
    ask = exercise.ask
    if isinstance(ask, Pick):
        return ask.options[ask.right].text
    if isinstance(ask, Hunt):
        return right_of_hunt(ask)
    return _said(ask, ask.right, exercise)


def slip_of(figure: Figure, value: float) -> Slip | None:
    """The error that leads to a value, within the tolerance of the question; None: none known."""
    far = figure.tolerance * (1.0 + SAME)
    return next((slip for slip, wrong in figure.slips if abs(value - wrong) <= far), None)


def is_right(figure: Figure, value: float) -> bool:
    """Whether a value lies within the tolerance."""
    rounding = SAME * max(abs(figure.right), figure.tolerance)
    return abs(value - figure.right) <= figure.tolerance + rounding


def _said(figure: Figure, value: float, exercise: Exercise) -> str:
    """With as many digits as tell it from the edge of its tolerance."""
    display = exercise.display
    unit = display.unit(figure.kind)
    step = figure.tolerance / unit.factor
    needed = -math.floor(math.log10(step)) if step > 0.0 else 0
    return display.text(value, figure.kind, max(needed, unit.decimals))


def _mark_figure(figure: Figure, value: float, exercise: Exercise) -> Marked:
    if not math.isfinite(value):
        raise ValueError("an answer must be a finite number")
    if is_right(figure, value):
        return Marked(right=True, slip=None, words=_how_near(figure, value, exercise), remedy="")
    slip = slip_of(figure, value)
    if slip is None:
        return _of_suspicion(figure, value, exercise)
    named = slips()[slip]
    words = tr(
        "{answer} comes of this error: {label}. {what}",
        answer=_said(figure, value, exercise),
        label=named.label,
        what=named.source,
    )
    return Marked(right=False, slip=slip, words=words, remedy=remedies()[slip])


def _of_suspicion(figure: Figure, value: float, exercise: Exercise) -> Marked:
    words, remedy = suspicion(figure, value, exercise.display)
    return Marked(right=False, slip=None, words=words, remedy=remedy)


def _how_near(figure: Figure, value: float, exercise: Exercise) -> str:
    return tr(
        "Right: {right}, and your {answer} lies {within} of it.",
        right=_said(figure, figure.right, exercise),
        answer=_said(figure, value, exercise),
        within=figure.within,
    )


def _mark_pick(pick: Pick, place: float) -> Marked:
    if place % 1.0 or not 0 <= place < len(pick.options):
        raise ValueError(tr("there is no such answer to pick"))
    option = pick.options[int(place)]
    if option.right:
        return Marked(right=True, slip=None, words=tr("Right. {why}", why=option.why), remedy="")
    assert option.slip is not None  # noqa: S101 - every wrong option names its error
    named = slips()[option.slip]
    words = tr(
        "Not right: {label}. {why} {what}", label=named.label, why=option.why, what=named.source
    )
    return Marked(right=False, slip=option.slip, words=words, remedy=remedies()[option.slip])
