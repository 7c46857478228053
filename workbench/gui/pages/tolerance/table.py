"""The table of judged tanks, with how many pass above it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QModelIndex, QSize, Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QLabel,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.explain.tables import TableFigures
from workbench.gui.models.certainty_model import NAME, CertaintyModel
from workbench.study.certainty.view import ToleranceView
from workbench.study.ranking import Ranking
from workbench.units import Display
from workbench.words import tr

_WORDS = ("", "", "share", "nominal", "row_worst")
"""How the figure of each column is called where it is explained."""
_ROWS = 8  # that the table has room for
_MEASURED = 20  # rows whose texts make the columns' widths


class _Table(QTableView):
    def sizeHint(self) -> QSize:
        """Some rows: a scroll area gives preferred heights."""
        rows = self.verticalHeader().defaultSectionSize() * _ROWS
        height = self.horizontalHeader().sizeHint().height() + rows + 2 * self.frameWidth()
        return QSize(super().sizeHint().width(), height)

    def minimumSizeHint(self) -> QSize:
        return QSize(super().minimumSizeHint().width(), self.sizeHint().height())


class CertaintyTable(QWidget):
    """Shows a view's tanks; emits ``picked(key)`` on Enter or a double click."""

    picked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._fitted: object = None  # the units and tanks that the columns' widths were made for
        self.summary = QLabel(self)
        self.summary.setWordWrap(True)
        theme.set_role(self.summary, "heading")
        self.hint = QLabel(self)
        self.hint.setWordWrap(True)
        theme.set_role(self.hint, "muted")
        self.model = CertaintyModel(self)
        self.model.set_theme(theme.current())
        self.table = self._table()
        TableFigures(self.table, self._key_of, NAME)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        for widget in (self.summary, self.hint, self.table):
            column.addWidget(widget)

    def _table(self) -> QTableView:
        table = _Table(self)
        table.setAccessibleName(tr("Tanks with tolerances"))
        table.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        table.setTabKeyNavigation(False)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setWordWrap(False)
        table.setShowGrid(False)
        table.verticalHeader().hide()
        table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        table.horizontalHeader().setHighlightSections(False)
        table.horizontalHeader().setResizeContentsPrecision(_MEASURED)
        table.setModel(self.model)
        table.activated.connect(self._on_activated)
        height = table.fontMetrics().height() + theme.CLOSE
        table.verticalHeader().setDefaultSectionSize(max(height, theme.TARGET))
        return table

    def show_view(
        self, view: ToleranceView, ranking: Ranking, summary: str, display: Display
    ) -> None:
        """Show the tanks of a view under a heading."""
        self.model.show_view(view, ranking, display)
        self.summary.setText(summary)
        self.hint.setText(
            tr("In the order of the page “Tank”. Enter or a double click chooses a tank.")
        )
        fitted = (display, view.plan.candidates)
        if self._fitted != fitted:
            self._fitted = fitted
            self._fit_columns()

    def show_as_old(self) -> None:
        """Grey the table and say that it belongs to earlier entries."""
        self.model.show_as_old()
        self.hint.setText(tr("These belong to earlier entries."))

    def changeEvent(self, event: QEvent) -> None:
        """Follow theme and font."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.model.set_theme(theme.current())
        if event.type() == QEvent.Type.FontChange:
            height = self.table.fontMetrics().height() + theme.CLOSE
            self.table.verticalHeader().setDefaultSectionSize(max(height, theme.TARGET))
            self._fit_columns()

    def _fit_columns(self) -> None:
        """Wide enough for all texts, without measuring thousands of pairs one by one."""
        self.table.resizeColumnsToContents()
        metrics = self.table.fontMetrics()
        names = self.model.longest_names(metrics.horizontalAdvance)
        width = max(map(metrics.horizontalAdvance, names), default=0) + theme.APART
        self.table.setColumnWidth(NAME, max(width, self.table.columnWidth(NAME)))

    def _key_of(self, row: int, column: int) -> str:
        """Names the working of a cell; none while the figures belong to earlier entries."""
        word = _WORDS[column]
        return "" if not word or self.model.is_old else f"tolerance.{word}:{row}"

    def _on_activated(self, index: QModelIndex) -> None:
        if index.isValid() and index.flags() & Qt.ItemFlag.ItemIsEnabled:
            self.picked.emit(self.model.key(index.row()))
