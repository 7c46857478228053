"""What every field that is typed into has in common, and the plainest of them."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit, QWidget

Key = QKeySequence.StandardKey
_episodes = iter(range(1, 2**31 - 1))


class EntryField(QLineEdit):
    """Emits ``entered(value, episode)`` at every keystroke; those of one visit are one episode."""

    entered = Signal(object, int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._episode = next(_episodes)
        self.textEdited.connect(self._on_edited)

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window: one history for all inputs, a step for each visit."""
        if isinstance(event, QKeyEvent) and any(map(event.matches, (Key.Undo, Key.Redo))):
            event.ignore()
            return False
        return super().event(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """A new visit: its keystrokes become one step of undo."""
        self._episode = next(_episodes)
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
