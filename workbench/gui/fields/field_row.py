"""One input of a form: its label, its field, and beneath them what is wrong with it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QWidget

from workbench.gui import theme
from workbench.units import Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.findings import Finding

ROLES = ("note", "caution", "problem")  # by level


class FieldRow:
    """Puts a label, a field and a message into grid rows; not a widget of its own.

    The label stands beside the field, or above it with ``wide``, for fields that need the room;
    with an empty one the field stands alone.
    """

    def __init__(
        self,
        grid: QGridLayout,
        label: str,
        field: QWidget,
        help_text: str,
        *,
        wide: bool = False,
    ) -> None:
        self.field = field
        self.name = label
        self._spoken = ""
        self._locked = ""
        self.label = QLabel(tr("{label}:", label=label) if label else "")
        self.label.setBuddy(field)
        self.message = QLabel()
        self.message.setTextFormat(Qt.TextFormat.PlainText)  # it repeats what was typed
        self.message.setWordWrap(True)
        self.message.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.message.hide()
        if label:
            field.setAccessibleName(label)
        field.setWhatsThis(help_text)
        field.setToolTip(help_text)
        self._place(grid, wide)

    def _place(self, grid: QGridLayout, wide: bool) -> None:
        row = grid.rowCount()
        if not self.name:  # a box that says itself what it is
            grid.addWidget(self.field, row, 0, 1, 2)
        elif wide:
            grid.addWidget(self.label, row, 0, 1, 2)
            grid.addWidget(self.field, row + 1, 0, 1, 2)
        else:
            grid.addWidget(self.label, row, 0)
            grid.addWidget(self.field, row, 1)
        grid.addWidget(self.message, row + 1 + wide, 0, 1, 2)

    def show_unit(self, unit: str) -> None:
        """Tell the unit in which a bare number is meant, to the eye and to a screen reader."""
        if unit == self.field.property("unitText"):
            return
        self.field.setProperty("unitText", unit)
        seen = tr("{label}, {unit}:", label=self.name, unit=unit)
        self.label.setText(seen if unit else tr("{label}:", label=self.name))
        self.field.setAccessibleName(f"{self.name} ({unit})" if unit else self.name)

    def set_visible(self, visible: bool) -> None:
        """Show or hide the whole row."""
        self.label.setVisible(visible and bool(self.name))
        self.field.setVisible(visible)
        if not visible:
            self.message.hide()

    def lock(self, why: str) -> None:
        """Bar the field and say why with the next findings; an empty text opens it again."""
        self._locked = why
        self.field.setEnabled(not why)

    def show_findings(self, findings: Sequence[Finding], display: Display, echo: str = "") -> None:
        """Say what is wrong and how to mend it, in words that a screen reader also gets."""
        worst = max(findings, key=_level, default=None)
        if worst is None:
            self.show_message(self._locked or echo, "muted")
            return
        self.show_message(told(worst, display), ROLES[worst.level])

    def show_message(self, text: str, role: str) -> None:
        """Show a text beneath the field, or nothing when it is empty."""
        theme.set_role(self.message, role)
        self.message.setText(text)
        self.message.setVisible(bool(text) and not self.field.isHidden())
        self._tell(text)

    def _tell(self, text: str) -> None:
        if text == self._spoken:
            return
        self._spoken = text
        self.field.setAccessibleDescription(text)
        if text and self.field.hasFocus() and QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self.field, text))


def told(finding: Finding, display: Display) -> str:
    """A finding with the word for its level before it, since colour alone says nothing."""
    words = (tr("Note"), tr("Caution"), tr("Stop"))
    return f"{words[finding.level]}: {finding.sentence(display)}"


def _level(finding: Finding) -> int:
    return int(finding.level)
