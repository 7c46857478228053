"""The rows of the form: a label, a control, and beneath them what is wrong."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, QSize, Qt
from PySide6.QtWidgets import QGridLayout, QPlainTextEdit, QWidget

from workbench.gui import theme
from workbench.gui.fields.field_row import FieldRow

_LINES = 2
_LEAST_WIDTH = 25  # digits, as a field for a quantity


class LinesField(QPlainTextEdit):
    """A text that may have several lines. Tab goes on to the next field."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setTabChangesFocus(True)

    def text(self) -> str:
        """The text, its lines divided by "\\n"; toPlainText would change hard blanks, too."""
        return self.document().toRawText().replace("\u2029", "\n")

    def show_text(self, text: str) -> None:
        """Show a text; this is no edit, so nothing is emitted."""
        with QSignalBlocker(self):
            self.setPlainText(text)

    def sizeHint(self) -> QSize:
        """Some lines of text."""
        margins = 2 * (self.frameWidth() + round(self.document().documentMargin()))
        height = self.fontMetrics().lineSpacing() * _LINES + margins
        return QSize(theme.width_of(self, _LEAST_WIDTH), height)

    def minimumSizeHint(self) -> QSize:
        """As the size hint."""
        return self.sizeHint()


class TankRow(FieldRow):
    """A row that says in sentences what is wrong, as there is nothing here but right and wrong."""

    def __init__(self, grid: QGridLayout, label: str, field: QWidget, help_text: str) -> None:
        super().__init__(grid, label, field, help_text)
        if isinstance(field, LinesField):
            grid.setAlignment(self.label, Qt.AlignmentFlag.AlignTop)

    def rename(self, label: str) -> None:
        """Call the field something else."""
        self.label.setText(f"{label}:")
        self.field.setAccessibleName(label)

    def show_problem(self, problem: str, echo: str = "") -> None:
        """Say what is wrong; if nothing is, how the entry was understood."""
        self.show_message(problem or echo, "problem" if problem else "muted")
