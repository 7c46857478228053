"""A field for a number with its unit: free text, read strictly, never altered behind one's back."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QWidget

from workbench.gui import theme
from workbench.gui.fields.entry_field import EntryField
from workbench.units import (
    PRESSURE,
    Bands,
    Display,
    Kind,
    Quantity,
    UnitError,
    Unread,
    parse,
    parse_bands,
)

Entry = Quantity | Bands | Unread | None
WIDTH = 25  # digits


class QuantityField(EntryField):
    """Emits ``entered(entry, episode)`` at every keystroke.

    A text that cannot be read is an entry too (:class:`Unread`), so what is typed is always what is
    evaluated, and nothing on the page is older than the text in its fields. ``kind`` None means a
    list of switch bands; ``empty`` says what an empty field means, if it may be empty.
    """

    def __init__(self, kind: Kind | None, empty: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.kind = kind
        self._empty_means = empty
        self.setPlaceholderText(empty)
        self._display = Display()
        self._entry: Entry = None
        self._typed: dict[tuple[Entry, Display], str] = {}  # so that undo gives back the very text

    def show_entry(self, entry: Entry, display: Display) -> None:
        """Show what the job holds. A text that already says it, in these units, is left alone."""
        if entry == self._entry and display == self._display:
            return
        self._entry, self._display = entry, display
        self.setText(self._text_of(entry))

    def _text_of(self, entry: Entry) -> str:
        if entry is None:
            return ""
        typed = self._typed.get((entry, self._display))
        if typed is not None:
            return typed
        if isinstance(entry, Quantity):
            assert self.kind is not None  # noqa: S101 - only lists of bands have none
            return self._display.typed(entry, self.kind)
        if isinstance(entry, Bands):
            if self._display.mark == ",":
                return str(entry).replace(", ", "; ").replace(".", ",")
            return str(entry)
        return entry.text

    def unit_text(self, display: Display) -> str:
        """The unit in which a bare number is meant; bands carry theirs with them."""
        return "" if self.kind is None else display.symbol(self.kind)

    def echo(self) -> str:
        """The entry in the shown unit, when it was typed in another; else empty."""
        if not isinstance(self._entry, Quantity) or self.kind is None:
            return ""
        if self._entry.unit == self._display.symbol(self.kind):
            return ""
        shown = self._display.converted(self._entry, self.kind)
        return "" if self.text().strip() == shown else f"= {shown}"

    def sizeHint(self) -> QSize:
        """Wide enough for a list of four bands."""
        return QSize(theme.width_of(self, WIDTH), super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """As the size hint: no text that is usual here may be cut."""
        return self.sizeHint()

    def _on_edited(self, text: str) -> None:
        self._entry = self._read(text)
        self._typed[self._entry, self._display] = text
        self.entered.emit(self._entry, self._episode)

    def _read(self, text: str) -> Entry:
        mark = self._display.mark
        if self._empty_means and not text.strip():
            return None
        try:
            if self.kind is None:
                return parse_bands(text, mark, self._display.symbol(PRESSURE))
            return parse(text, self.kind, mark, self._display.symbol(self.kind))
        except UnitError as error:
            return Unread(text, str(error), error.remedy)
