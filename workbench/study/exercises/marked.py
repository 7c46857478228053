"""What marking says."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.study.exercises.slip import Slip


@dataclass(frozen=True, slots=True)
class Marked:
    """Whether an answer is right, the error that it is (None: right, or no error is known).

    A lucky guess is right and has a slip all the same. ``words`` say what is to be said of the
    answer, ``remedy`` what to do instead ("" where it is right). ``minutes`` is what the readings
    of a hunt took, else None.
    """

    right: bool
    slip: Slip | None
    words: str
    remedy: str
    minutes: float | None = None
