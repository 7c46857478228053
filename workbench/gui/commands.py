"""Undo: every edit of an input is one of these, on one stack per job."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import Any

from PySide6.QtGui import QUndoCommand


class ChangeInputs(QUndoCommand):
    """Some inputs get new values.

    Keystrokes within one visit to one field share an ``episode`` and become one step; -1 never
    merges. A visit that ends where it began leaves no step. ``tell`` gets the inputs' names when
    the step is undone or done again, so that the window can show where.
    """

    def __init__(
        self,
        apply: Callable[[Mapping[str, Any]], None],
        tell: Callable[[Collection[str]], None],
        before: Mapping[str, Any],
        after: Mapping[str, Any],
        text: str,
        episode: int = -1,
    ) -> None:
        super().__init__(text)
        self._apply = apply
        self._tell = tell
        self._done = False
        self._before = dict(before)
        self._after = dict(after)
        self._episode = episode

    def id(self) -> int:
        """Qt merges neighbours with the same id."""
        return self._episode

    def mergeWith(self, other: QUndoCommand) -> bool:
        """Take a later keystroke of the same visit into this step."""
        if not isinstance(other, ChangeInputs) or not other.after.keys() <= self._after.keys():
            return False
        self._after |= other.after  # its first keystroke may have settled more than the later ones
        other.__dict__.clear()  # Qt deletes it now, but PySide keeps its Python half for good
        if self._before == self._after:
            self.setObsolete(True)
        return True

    @property
    def after(self) -> dict[str, Any]:
        """The values after this step."""
        return self._after

    def redo(self) -> None:
        """Put the new values in place."""
        self._apply(self._after)
        if self._done:
            self._tell(self._after.keys())
        self._done = True

    def undo(self) -> None:
        """Put the old values back."""
        self._apply(self._before)
        self._tell(self._before.keys())
