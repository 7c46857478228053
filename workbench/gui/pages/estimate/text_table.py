"""A table of texts that wrap in their cells and can be copied; nothing in it is worked out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSize,
    Qt,
)
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from workbench.gui import theme
from workbench.words import tr

Index = QModelIndex | QPersistentModelIndex
_ROOT = QModelIndex()
_SHORT = 24  # characters up to which a text is never wrapped
_ROWS = 3  # that a table asks room for at least


class TextModel(QAbstractTableModel):
    """Rows of texts under headings."""

    def __init__(self, headings: Sequence[str], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.headings = tuple(headings)
        self.rows: tuple[tuple[str, ...], ...] = ()

    def show_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Show these rows in place of those before; each has a text for every heading."""
        self.beginResetModel()
        self.rows = tuple(map(tuple, rows))
        self.endResetModel()

    def rowCount(self, parent: Index = _ROOT) -> int:
        """How many rows there are."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = _ROOT) -> int:
        """How many columns there are."""
        return 0 if parent.isValid() else len(self.headings)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """A column's heading."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return self.headings[section]
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The text of a cell."""
        if not index.isValid():
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.rows[index.row()][index.column()]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft
        return None

    def as_tsv(self, rows: Sequence[int] | None = None) -> str:
        """These rows (None: all) under their headings, tabs between; a line break becomes a bar."""
        chosen = self.rows if rows is None else tuple(self.rows[row] for row in rows)
        plain = ("\t".join(" | ".join(cell.splitlines()) for cell in row) for row in chosen)
        return "\n".join(("\t".join(self.headings), *plain))


class TextTable(QTableView):
    """Shows a :class:`TextModel`; the keys for copying take several chosen rows, or all."""

    def __init__(self, name: str, headings: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.texts = TextModel(headings, self)
        self.setModel(self.texts)
        self.setAccessibleName(name)
        self.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        self.setTabKeyNavigation(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setShowGrid(False)
        self.setAlternatingRowColors(True)
        self.setWordWrap(True)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
        copying = QAction(tr("&Copy the rows"), self)
        copying.setShortcut(QKeySequence(QKeySequence.StandardKey.Copy))
        copying.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        copying.triggered.connect(self.copy_rows)
        self.addAction(copying)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)

    def show_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Show these rows in place of those before."""
        self.texts.show_rows(rows)
        self.selectRow(0)  # where the arrow keys begin
        self._fit()

    def copy_rows(self) -> None:
        """Put the chosen rows, or all if but one is, on the clipboard with their headings."""
        rows = sorted({index.row() for index in self.selectionModel().selectedRows()})
        QGuiApplication.clipboard().setText(self.texts.as_tsv(rows if len(rows) > 1 else None))

    def sizeHint(self) -> QSize:
        """Room for a few rows."""
        return QSize(theme.width_of(self, 3 * _SHORT), self.minimumSizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """Room for a few rows and one short text."""
        height = self.horizontalHeader().sizeHint().height() + _ROWS * self._line()
        return QSize(theme.width_of(self, _SHORT), height + 2 * self.frameWidth())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The texts wrap at the new width."""
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Follow the font."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _line(self) -> int:
        return max(self.fontMetrics().height() + theme.CLOSE, theme.TARGET)

    def _fit(self) -> None:
        """Columns as wide as their texts where there is room; else long texts wrap."""
        columns = range(self.texts.columnCount())
        header = self.horizontalHeader()
        heads = [header.sectionSizeHint(column) + theme.CLOSE for column in columns]
        whole = [max(heads[c], self._widest(c, None)) for c in columns]
        room = self.viewport().width()
        widths = whole
        if sum(whole) > room:
            least = [max(heads[c], self._widest(c, _SHORT)) for c in columns]
            widths = _shared(room, least, whole)
        for column, width in enumerate(widths):
            self.setColumnWidth(column, width)
        self.verticalHeader().setMinimumSectionSize(self._line())
        self.resizeRowsToContents()

    def _widest(self, column: int, longest: int | None) -> int:
        """The width [px] of the widest cell whose text has no more characters than ``longest``."""
        return max(
            (
                self.sizeHintForIndex(self.texts.index(row, column)).width() + theme.TIGHT
                for row, texts in enumerate(self.texts.rows)
                if longest is None or len(texts[column]) <= longest
            ),
            default=0,
        )


def _shared(room: int, least: Sequence[int], whole: Sequence[int]) -> list[int]:
    """Widths between least and whole that fill the room, the narrow columns served first.

    >>> _shared(100, [10, 10, 10], [20, 90, 200])
    [20, 40, 40]
    >>> _shared(30, [20, 20], [50, 50])
    [20, 20]
    """
    widths = list(least)
    for place in sorted(range(len(widths)), key=lambda column: whole[column]):
        waiting = [c for c in range(len(widths)) if whole[c] >= whole[place] and c != place]
        taken = sum(w for c, w in enumerate(widths) if c not in waiting and c != place)
        share = (room - taken) // (len(waiting) + 1)
        widths[place] = max(least[place], min(whole[place], share))
    return widths
