"""The list of pages at the left edge of the window."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import (
    QEvent,
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QPainter,
    QPalette,
    QStandardItem,
    QStandardItemModel,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QListView,
    QSizePolicy,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.pages.registry import PageEntry
from workbench.words import tr

_KEY = Qt.ItemDataRole.UserRole
_Index = QModelIndex | QPersistentModelIndex
MOST_SHORTCUTS = 9


def shortcut_of(number: int) -> str:
    """The keys that go to the page of that number, counted from 0; "" beyond the ninth."""
    return f"Ctrl+{number + 1}" if number < MOST_SHORTCUTS else ""


class PageList(QListView):
    """Shows the pages under the headings of their groups.

    ``chosen(key)`` comes with the arrow keys and the mouse, ``entered`` with Enter: the person
    wants to work on the page.
    """

    chosen = Signal(str)
    entered = Signal()

    def __init__(self, entries: Sequence[PageEntry], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(tr("Pages"))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self.viewport().setBackgroundRole(QPalette.ColorRole.Window)
        self._rows: dict[str, int] = {}
        self.setModel(self._filled(entries))
        self.setItemDelegate(_Rows(self))  # it draws all of a row, the mark included
        self.verticalScrollBar().rangeChanged.connect(self._on_range_changed)
        self.selectionModel().currentChanged.connect(self._on_current_changed)

    def _filled(self, entries: Sequence[PageEntry]) -> QStandardItemModel:
        model = QStandardItemModel(self)
        group = ""
        for number, entry in enumerate(entries):
            if entry.group != group:
                group = entry.group
                heading = QStandardItem(group)
                heading.setFlags(Qt.ItemFlag.NoItemFlags)
                model.appendRow(heading)
            item = QStandardItem(entry.title)
            item.setData(entry.key, _KEY)
            keys = shortcut_of(number)
            if keys:
                item.setToolTip(tr("{title} ({keys})", title=entry.title, keys=keys))
            self._rows[entry.key] = model.rowCount()
            model.appendRow(item)
        return model

    def show_page(self, key: str) -> None:
        """Mark the page that is shown."""
        index = self.model().index(self._rows[key], 0)
        if index != self.currentIndex():
            self.setCurrentIndex(index)

    def _on_current_changed(self, current: QModelIndex) -> None:
        key = current.data(_KEY)
        if key:
            self.chosen.emit(key)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter leads into the page."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
            return
        super().keyPressEvent(event)

    # --- size ---

    def sizeHint(self) -> QSize:
        """As wide as the widest title, with a scroll bar where there is one."""
        bar = self.verticalScrollBar()
        needs_bar = bar.maximum() > bar.minimum()
        width = self.sizeHintForColumn(0) + (bar.sizeHint().width() if needs_bar else 0)
        return QSize(width, super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """A few rows: the rest is scrolled to."""
        return QSize(self.sizeHint().width(), 3 * self.sizeHintForRow(0))

    def _on_range_changed(self) -> None:
        self.updateGeometry()

    def changeEvent(self, event: QEvent) -> None:
        """Follow the font."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.scheduleDelayedItemsLayout()
            self.updateGeometry()


class _Rows(QStyledItemDelegate):
    """Draws headings quieter than titles, and a bar beside the page that is shown."""

    def __init__(self, view: QListView) -> None:
        super().__init__(view)
        self._view = view

    def initStyleOption(self, option: QStyleOptionViewItem, index: _Index) -> None:
        """Set a heading's font and colour."""
        super().initStyleOption(option, index)
        if _is_heading(index):
            option.font.setBold(True)
            option.palette.setColor(QPalette.ColorRole.Text, QColor(theme.current().muted))
            option.displayAlignment = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom

    def sizeHint(self, option: QStyleOptionViewItem, index: _Index) -> QSize:
        """High enough to be hit, and with room above each group."""
        hint = super().sizeHint(option, index)
        line = option.fontMetrics.height()
        above = theme.CLOSE if _is_heading(index) else theme.TIGHT
        return QSize(hint.width() + theme.APART, max(line + above, theme.TARGET))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        """Draw the row, moved in from the edge, and the bar."""
        chosen = index == self._view.currentIndex()
        whole = QRect(option.rect)
        if chosen:
            painter.fillRect(whole, QColor(theme.current().selection))
            painter.fillRect(
                QRect(whole.left(), whole.top(), theme.TIGHT, whole.height()),
                QColor(theme.current().accent),
            )
        option.rect = whole.adjusted(theme.CLOSE, 0, 0, 0)
        super().paint(painter, option, index)


def _is_heading(index: _Index) -> bool:
    return not index.data(_KEY)
