"""A field for pairs of quantities, one pair to a line: typed, or pasted from a spreadsheet."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QMimeData, QSize, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QPlainTextEdit, QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.fields.entry_field import is_for_history, new_episode
from workbench.gui.fields.quantity_field import WIDTH
from workbench.units import Display, Kind, Pairs, UnitError, Unread, parse_pairs

Entry = Pairs | Unread | None
_LINES = 6
_TAB = 8  # digits; pasted rows have tabs


class PairsField(QPlainTextEdit):
    """Emits ``entered(entry, episode)`` at every change that a person makes.

    As in a :class:`QuantityField` a text that cannot be read is an entry too. ``empty`` says what
    an empty field means, if it may be empty.
    """

    entered = Signal(object, int)

    def __init__(
        self, kinds: tuple[Kind, Kind], empty: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.kinds = kinds
        self._empty_means = empty
        self.setPlaceholderText(empty)
        self.setTabChangesFocus(True)
        self.setUndoRedoEnabled(False)  # one history for all inputs, as in every other field
        self.setTabStopDistance(theme.width_of(self, _TAB))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._display = Display()
        self._entry: Entry = None
        self._typed: dict[tuple[Entry, Display], str] = {}  # so that undo gives back the very text
        self._text = ""
        self._showing = False
        self._episode = new_episode()
        self.textChanged.connect(self._on_text_changed)

    def show_entry(self, entry: Entry, display: Display) -> None:
        """Show what the job holds. A text that already says it, in these units, is left alone."""
        if entry == self._entry and display == self._display:
            return
        self._entry, self._display = entry, display
        self._showing = True
        try:
            self.setPlainText(self._text_of(entry))
        finally:
            self._showing = False

    def unit_text(self, display: Display) -> str:
        """The units in which bare numbers are meant."""
        return ", ".join(filter(None, map(display.symbol, self.kinds)))

    def echo(self) -> str:
        """Nothing: a list of pairs said twice would hide what else is told."""
        return ""

    def _text_of(self, entry: Entry) -> str:
        if entry is None:
            return ""
        typed = self._typed.get((entry, self._display))
        if typed is not None:
            return typed
        if isinstance(entry, Pairs):
            return "\n".join(
                "  ".join(map(self._display.typed, pair, self.kinds)) for pair in entry.pairs
            )
        return entry.text

    def _on_text_changed(self) -> None:
        text, before = self.toPlainText(), self._text
        self._text = text
        if self._showing or text == before:
            return
        self._entry = self._read(text)
        self._typed[self._entry, self._display] = text
        self.entered.emit(self._entry, self._episode)

    def _read(self, text: str) -> Entry:
        if self._empty_means and not text.strip():
            return None
        first, second = map(self._display.symbol, self.kinds)
        try:
            return parse_pairs(text, self.kinds, self._display.mark, (first, second))
        except UnitError as error:
            return Unread(text, str(error), error.remedy)

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

    def changeEvent(self, event: QEvent) -> None:
        """Follow the font."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.setTabStopDistance(theme.width_of(self, _TAB))

    def canInsertFromMimeData(self, source: QMimeData) -> bool:
        """Leave dropped files to the window."""
        return not source.hasUrls() and super().canInsertFromMimeData(source)

    def sizeHint(self) -> QSize:
        """As wide as other fields, and some lines high."""
        around = 2 * self.frameWidth() + round(2 * self.document().documentMargin())
        height = self.fontMetrics().lineSpacing() * _LINES + around
        return QSize(theme.width_of(self, WIDTH), height)

    def minimumSizeHint(self) -> QSize:
        """As the size hint."""
        return self.sizeHint()
