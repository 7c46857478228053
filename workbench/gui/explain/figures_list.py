"""The list of a page's figures: what each is, and its value beneath."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QAbstractItemView, QListView, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import Figure
from workbench.words import tr

_LEAST, _USUAL = 20, 30  # digits of its width
_ROWS = 4  # that are seen at least


class FiguresList(QListView):
    """Shows ``figures``; emits ``chosen(figure)`` when a person comes to another one."""

    chosen = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(tr("Figures of this page"))
        self.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWordWrap(True)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setSpacing(theme.TIGHT // 2)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.figures: Sequence[Figure] = ()
        self._items = QStandardItemModel(self)
        self.setModel(self._items)
        self._is_quiet = False
        self.selectionModel().currentChanged.connect(self._on_current_changed)

    def show_figures(self, figures: Sequence[Figure], key: str) -> None:
        """Show these figures, the one of that key chosen."""
        self._is_quiet = True
        self.figures = figures
        items = self._items
        items.removeRows(len(figures), max(items.rowCount() - len(figures), 0))
        for row, figure in enumerate(figures):  # in their places, so that nothing scrolls
            text = f"{figure.name}\n{figure.value}"
            if row == items.rowCount():
                items.appendRow(QStandardItem(text))
            elif items.item(row).text() != text:
                items.item(row).setText(text)
        row = next((row for row, one in enumerate(figures) if one.key == key), -1)
        if row != self.currentIndex().row():
            self.setCurrentIndex(self._items.index(row, 0))
        self._is_quiet = False

    def current(self) -> Figure | None:
        """The chosen figure."""
        row = self.currentIndex().row()
        return self.figures[row] if 0 <= row < len(self.figures) else None

    def _on_current_changed(self, _current: QModelIndex) -> None:
        figure = self.current()
        if figure is not None and not self._is_quiet:
            self.chosen.emit(figure)

    def sizeHint(self) -> QSize:
        """Wide enough for most names."""
        return QSize(theme.width_of(self, _USUAL), super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """A few rows."""
        rows = self.fontMetrics().lineSpacing() * 2 * _ROWS
        return QSize(theme.width_of(self, _LEAST), rows)
