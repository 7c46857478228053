"""What every field that is typed into has in common, and the plainest of them."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit, QWidget

Key = QKeySequence.StandardKey
_episodes = iter(range(1, 2**31 - 1))


def new_episode() -> int:
    """The number of a new visit to a field: its keystrokes become one step of undo."""
    return next(_episodes)


def is_for_history(event: QEvent) -> bool:
    """Whether these are the keys of undo or redo, which a field leaves to the window."""
    return isinstance(event, QKeyEvent) and any(map(event.matches, (Key.Undo, Key.Redo)))


class EntryField(QLineEdit):
    """Emits ``entered(value, episode)`` at every keystroke; those of one visit are one episode."""

    entered = Signal(object, int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._episode = new_episode()
        self.textEdited.connect(self._on_edited)

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window: one history for all inputs, a step for each visit."""
        if is_for_history(event):
            event.ignore()
            return False
        return super().event(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """A new visit: its keystrokes become one step of undo."""
        self._episode = new_episode()
        super().focusInEvent(event)

    def _on_edited(self, text: str) -> None:
        self.entered.emit(text, self._episode)


class TextField(EntryField):
    """A short text in the user's own words."""

    def __init__(self, longest: int, hint: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setMaxLength(longest)
        self.setPlaceholderText(hint)

    def show_value(self, text: str) -> None:
        """Show what the job holds."""
        if text != self.text():
            self.setText(text)
            self.setCursorPosition(0)
