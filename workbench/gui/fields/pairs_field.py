"""A field for pairs of quantities, one pair to a line: typed, or pasted from a spreadsheet."""

from __future__ import annotations

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QWidget

from workbench.gui import theme
from workbench.gui.fields.lines_field import LinesField
from workbench.units import Display, Kind, Pairs, UnitError, Unread, parse_pairs

Entry = Pairs | Unread | None
_LINES = 6
_TAB = 8  # digits; pasted rows have tabs


class PairsField(LinesField):
    """Emits ``entered(entry, episode)`` at every change that a person makes.

    As in a :class:`QuantityField` a text that cannot be read is an entry too. ``empty`` says what
    an empty field means, if it may be empty.
    """

    def __init__(
        self, kinds: tuple[Kind, Kind], empty: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(_LINES, parent)
        self.kinds = kinds
        self._empty_means = empty
        self.setPlaceholderText(empty)
        self.setTabStopDistance(theme.width_of(self, _TAB))
        self._display = Display()
        self._entry: Entry = None
        self._typed: dict[tuple[Entry, Display], str] = {}  # so that undo gives back the very text

    def show_entry(self, entry: Entry, display: Display) -> None:
        """Show what the job holds. A text that already says it, in these units, is left alone."""
        if entry == self._entry and display == self._display:
            return
        self._entry, self._display = entry, display
        self.put_text(self._text_of(entry))

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

    def read_text(self, text: str) -> Entry:
        """What was typed, as an entry."""
        self._entry = self._read(text)
        self._typed[self._entry, self._display] = text
        return self._entry

    def _read(self, text: str) -> Entry:
        if self._empty_means and not text.strip():
            return None
        first, second = map(self._display.symbol, self.kinds)
        try:
            return parse_pairs(text, self.kinds, self._display.mark, (first, second))
        except UnitError as error:
            return Unread(text, str(error), error.remedy)

    def changeEvent(self, event: QEvent) -> None:
        """Follow the font."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.setTabStopDistance(theme.width_of(self, _TAB))
