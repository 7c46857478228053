"""The cells of a table view as figures that can be explained: those of its current row."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QObject, QPoint, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QTableView

from workbench.gui.explain.figure import NOTHING, Figure
from workbench.words import tr

KeyOf = Callable[[int, int], str]
"""The key of a cell by row and column; "" where there is nothing to explain."""


class TableFigures(QObject):
    """Gives a table the menu line "Explain this", beside the actions that the table has.

    Args:
        key_of: the key of each cell.
        name_column: the column that tells what a row is.
    """

    def __init__(self, table: QTableView, key_of: KeyOf, name_column: int) -> None:
        super().__init__(table)
        self.table = table
        self._key_of, self._name_column = key_of, name_column
        table.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        table.customContextMenuRequested.connect(self._on_menu_wanted)

    def figures(self) -> Iterable[Figure]:
        """Those of the current row, or else of the first, in the order of the columns."""
        row, model = max(self.table.currentIndex().row(), 0), self.table.model()
        if row >= self._count():
            return
        for column in range(model.columnCount()):
            key, value = self._key_of(row, column), self._text(row, column)
            if key and value not in NOTHING:
                heading = str(model.headerData(column, Qt.Orientation.Horizontal) or "").replace(
                    "\n", ", "
                )
                name = tr(
                    "{tank}: {figure}", tank=self._text(row, self._name_column), figure=heading
                )
                yield Figure(key, name, value)

    @property
    def key(self) -> str:
        """Of the current cell, else of its row's first figure; "" where there is none."""
        current = self.table.currentIndex()
        key = self._key_of(current.row(), current.column()) if current.isValid() else ""
        return key or next((one.key for one in self.figures()), "")

    def explain(self) -> None:
        """Open the working of the current cell."""
        from workbench.gui.explain.opening import explain

        if self.key:
            explain(self.table, self.key)

    def menu(self) -> QMenu:
        """The context menu of the current cell."""
        menu = QMenu(self.table)
        asked = QAction(tr("&Explain this"), menu)
        asked.setEnabled(bool(self.key))
        asked.triggered.connect(self.explain)
        menu.addAction(asked)
        menu.addActions(self.table.actions())
        return menu

    def _on_menu_wanted(self, place: QPoint) -> None:
        index: QModelIndex = self.table.indexAt(place)
        if index.isValid():
            self.table.setCurrentIndex(index)
        menu = self.menu()
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(self.table.viewport().mapToGlobal(place))

    def _count(self) -> int:
        """How many rows there are; a table has no model before the first frame."""
        model: QAbstractItemModel | None = self.table.model()
        return 0 if model is None else model.rowCount()

    def _text(self, row: int, column: int) -> str:
        model = self.table.model()
        return str(model.index(row, column).data() or "")
