"""A list to choose from and a box to tick, both deaf to the wheel until they have the focus."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QCheckBox, QComboBox, QWidget


class ListField(QComboBox):
    """A list to choose from that scrolls the page, not itself, until a person works in it.

    It may be cut by a narrow column; its popup always shows whole texts. ``chosen(value)`` is
    emitted when a person chooses, never when a value is shown.
    """

    chosen = Signal(object)

    def __init__(self, shown: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(shown)
        self.activated.connect(self._on_activated)

    def value_at(self, row: int) -> object:
        """To override: what choosing a row means."""
        raise NotImplementedError

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Scroll the page, not the value, unless this is where the person works."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def _on_activated(self, row: int) -> None:
        self.chosen.emit(self.value_at(row))


class ChoiceField(ListField):
    """A choice among a few values, each with its label."""

    def __init__(self, labels: Mapping[Any, str], parent: QWidget | None = None) -> None:
        super().__init__(max(len(label) for label in labels.values()) * 3 // 4, parent)
        self._values = list(labels)
        for label in labels.values():
            self.addItem(label)

    def show_value(self, value: Enum | int) -> None:
        """Show one of the values."""
        self.setCurrentIndex(self._values.index(value))

    def value_at(self, row: int) -> object:
        """The value of a row."""
        return self._values[row]


class TickField(QCheckBox):
    """Emits ``chosen(bool)`` when a person ticks, never when a value is shown."""

    chosen = Signal(object)

    def __init__(self, label: str, parent: QWidget | None = None) -> None:
        super().__init__(label, parent)
        self.clicked.connect(self._on_clicked)

    def show_value(self, value: bool) -> None:
        """Show ticked or not."""
        self.setChecked(value)

    def _on_clicked(self, checked: bool) -> None:
        self.chosen.emit(checked)
