"""Which band is compared with today's, and the button that makes it the job's."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QStringListModel, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.fields.choice_field import ListField
from workbench.gui.pages.abreast import Abreast
from workbench.words import tr

_SHOWN = 14  # characters of a band's name


class BandList(ListField):
    """The names of the other bands."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(_SHOWN, parent)
        self._names = QStringListModel(self)
        self.setModel(self._names)
        self.setAccessibleName(tr("Band compared with today's"))

    def show_names(self, names: Sequence[str], chosen: int) -> None:
        """Take other names; those that it has are left alone."""
        if self._names.stringList() != list(names):
            self._names.setStringList(list(names))
        self.setCurrentIndex(chosen)
        self.setEnabled(bool(names))

    def value_at(self, row: int) -> object:
        """The place among the other bands."""
        return row


class BandChoice(QWidget):
    """Emits ``chosen(place)`` for another band of the list, ``wanted()`` at the button."""

    chosen = Signal(int)
    wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.list = BandList(self)
        self.button = QPushButton(tr("&Make it the job's band"), self)
        self.button.setToolTip(
            tr("Moves the job's cut-in and cut-out there, with a precharge that was typed. Undo"
               " takes it back.")
        )  # fmt: skip
        label = QLabel(tr("Compare today with:"), self)
        label.setBuddy(self.list)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        column.addWidget(label)
        column.addWidget(Abreast(_no_wider(self.list), _no_wider(self.button), parent=self))
        self.list.chosen.connect(self._on_chosen)
        self.button.clicked.connect(self._on_clicked)

    def show_names(self, names: Sequence[str], chosen: int) -> None:
        """The other bands; ``chosen`` is −1 where there is none."""
        self.list.show_names(names, chosen)
        self.button.setEnabled(bool(names))

    def _on_chosen(self, place: object) -> None:
        if isinstance(place, int):
            self.chosen.emit(place)

    def _on_clicked(self) -> None:
        self.wanted.emit()


def _no_wider(widget: QWidget) -> QWidget:
    """The widget at the left of a place that may be wider than it wants to be."""
    holder = QWidget()
    row = QHBoxLayout(holder)
    row.setContentsMargins(0, 0, 0, 0)
    row.addWidget(widget)
    row.addStretch(1)
    return holder
