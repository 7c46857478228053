"""What every field of several lines has in common, and the plainest of them: free words."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QEvent, QMimeData, QSize, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QPlainTextEdit, QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.fields.entry_field import is_for_history, new_episode
from workbench.gui.fields.quantity_field import WIDTH


class LinesField(QPlainTextEdit):
    """Emits ``entered(value, episode)`` at every change that a person makes.

    ``read_text`` is to be overridden: it makes the value of the text.
    """

    entered = Signal(object, int)

    def __init__(self, lines: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lines = lines
        self.setTabChangesFocus(True)
        self.setUndoRedoEnabled(False)  # one history for all inputs, as in every other field
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._text = ""
        self._showing = False
        self._episode = new_episode()
        self.textChanged.connect(self._on_text_changed)

    def read_text(self, text: str) -> Any:
        """To override: the value that this text stands for."""
        raise NotImplementedError

    def put_text(self, text: str) -> None:
        """Show a text that the job holds."""
        self._showing = True
        try:
            self.setPlainText(text)
        finally:
            self._showing = False

    def _on_text_changed(self) -> None:
        text, before = self.toPlainText(), self._text
        self._text = text
        if not self._showing and text != before:
            self.entered.emit(self.read_text(text), self._episode)

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window."""
        if is_for_history(event):
            event.ignore()
            return False
        return super().event(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """A new visit: its keystrokes become one step of undo."""
        self._episode = new_episode()
        super().focusInEvent(event)

    def canInsertFromMimeData(self, source: QMimeData) -> bool:
        """Leave dropped files to the window."""
        return not source.hasUrls() and super().canInsertFromMimeData(source)

    def sizeHint(self) -> QSize:
        """As wide as other fields, and some lines high."""
        around = 2 * self.frameWidth() + round(2 * self.document().documentMargin())
        height = self.fontMetrics().lineSpacing() * self._lines + around + 1  # else it would scroll
        return QSize(theme.width_of(self, WIDTH), height)

    def minimumSizeHint(self) -> QSize:
        """As the size hint."""
        return self.sizeHint()


class WordsField(LinesField):
    """A text of several lines in the user's own words."""

    def __init__(
        self, lines: int, longest: int, hint: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(lines, parent)
        self._longest = longest
        self.setPlaceholderText(hint)

    def show_value(self, text: str) -> None:
        """Show what the job holds."""
        if text != self.toPlainText():
            self.put_text(text)

    def read_text(self, text: str) -> str:
        """The text as it is; what a job cannot hold is taken away again before one's eyes."""
        if len(text) <= self._longest:
            return text
        kept = text[: self._longest]
        self.put_text(kept)
        return kept
