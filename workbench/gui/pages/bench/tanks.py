"""The lower right of the bench: the ranked tanks, their order, and why one stands where it does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QItemSelectionModel, QSize, Qt
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QSizePolicy,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.explain.figure import FigureLabel
from workbench.gui.fields.choice_field import ChoiceField
from workbench.gui.store import Store
from workbench.job.choices import Order, orders
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.gui.models.ranking_model import RankingModel
    from workbench.study.ranking import Ranking


_WORDS = ("", "", "volume", "drawdown", "margin", "run", "starts", "price", "size", "why")
"""How the figure of each column is called where it is explained."""
_NAME = 1  # the column of the tanks' names
_ROWS = 4  # that the table asks room for; it takes what is left
_MEASURED = 20  # rows whose texts make the columns' widths; a thousand take half a second


class _Table(QTableView):
    def sizeHint(self) -> QSize:
        """No more than a few rows: a scroll area gives preferred heights, and would scroll."""
        rows = self.verticalHeader().defaultSectionSize() * _ROWS
        height = self.horizontalHeader().sizeHint().height() + rows + 2 * self.frameWidth()
        return QSize(super().sizeHint().width(), height)


class TanksPanel(QWidget):
    """Shows the ranking as a table; its model arrives with :meth:`set_model` after first paint."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._store = store
        self._model: RankingModel | None = None
        self._fitted: object = None  # the units and tanks that the columns' widths were made for
        self.summary = QLabel()
        self.summary.setWordWrap(True)
        theme.set_role(self.summary, "heading")
        self.order = ChoiceField({order: choice.label for order, choice in orders().items()})
        self.order.setAccessibleName(tr("Order of the tanks that pass"))
        self.order.chosen.connect(self._on_order_chosen)
        self.order_label = QLabel(tr("Order:"))
        self.order_label.setBuddy(self.order)
        self.table = self._table()
        self.detail = FigureLabel()
        self.detail.setWordWrap(True)
        self.detail.setTextFormat(Qt.TextFormat.PlainText)  # it repeats a tank's name
        self.detail.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.detail.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.detail.setAccessibleName(tr("Why the chosen tank stands where it does"))
        self.copy_action = QAction(tr("&Copy the table"), self)
        self.copy_action.setShortcut(QKeySequence(QKeySequence.StandardKey.Copy))
        self.copy_action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        self.copy_action.triggered.connect(self.copy)
        self.table.addAction(self.copy_action)
        self._lay_out()

    def _table(self) -> QTableView:
        table = _Table()
        table.setAccessibleName(tr("Ranked tanks"))
        table.setTabKeyNavigation(False)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        table.setWordWrap(False)
        table.setShowGrid(False)
        table.setAlternatingRowColors(True)
        table.verticalHeader().hide()
        table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        table.horizontalHeader().setHighlightSections(False)
        table.horizontalHeader().setStretchLastSection(True)
        table.horizontalHeader().setSortIndicatorClearable(True)
        table.horizontalHeader().setResizeContentsPrecision(_MEASURED)
        return table

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.setSpacing(theme.CLOSE)
        top.addWidget(self.summary, 1)
        top.addWidget(self.order_label)
        top.addWidget(self.order)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        column.addLayout(top)
        column.addWidget(self.table, 1)
        column.addWidget(self.detail)

    def set_model(self, model: RankingModel) -> None:
        """Take the model, once NumPy is there."""
        from workbench.gui.explain.tables import TableFigures  # after the first frame

        TableFigures(self.table, self._key_of, _NAME)
        self._model = model
        model.setParent(self)
        model.set_theme(theme.current())
        self.table.setModel(model)
        self.table.horizontalHeader().setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        self.table.setSortingEnabled(True)
        # Ctrl with the arrows moves the current row and leaves the choice alone.
        self.table.selectionModel().currentRowChanged.connect(self._on_row_chosen)
        self.table.selectionModel().selectionChanged.connect(self._on_row_chosen)
        self._fit_rows()

    # --- showing ---

    def show_results(self) -> None:
        """Show the store's ranking, the catalogue's unusable rows, and how many tanks pass."""
        store = self._store
        self.order.show_value(store.job.order)
        if self._model is None or store.results is None:
            return
        catalog = None if store.use_saved_rows else store.catalog
        ranking = store.results.ranking
        self._model.show_ranking(ranking, catalog, store.display)
        shown = ranking and (store.display, ranking.candidates)
        if shown is not None and self._fitted != shown:
            self._fitted = shown
            self._fit_columns()
        self.summary.setText(_summary(ranking, store))
        self.show_chosen(store.selection)

    def show_chosen(self, candidate: int | None) -> None:
        """Mark the chosen candidate's row and tell its reasons."""
        row = None if candidate is None or self._model is None else self._model.row_of(candidate)
        selection = self.table.selectionModel()
        if row is not None and self._model is not None and not self._is_chosen(row):
            flags = (
                QItemSelectionModel.SelectionFlag.ClearAndSelect
                | QItemSelectionModel.SelectionFlag.Rows
            )
            selection.setCurrentIndex(self._model.index(row, 0), flags)
            self.table.scrollTo(self._model.index(row, 0))
        self._show_detail(candidate)

    def _show_detail(self, candidate: int | None) -> None:
        results = self._store.results
        ranking = results.ranking if results else None
        if candidate is None or ranking is None:
            ask = tr("Choose a tank to read why it stands where it does.")
            self.detail.setText(ask if ranking is not None and len(ranking) else "")
            self.detail.explain_as("")
            return
        from workbench.study.reasons import reasons

        one = ranking.judged(candidate)
        why = " ".join(reasons(one, ranking, self._store.display))
        self.detail.setText(f"{one.name}: {why}")
        self.detail.explain_as(f"bench.detail:{candidate}", listed=False)

    def _fit_rows(self) -> None:
        height = self.table.fontMetrics().height() + theme.CLOSE
        self.table.verticalHeader().setDefaultSectionSize(max(height, theme.TARGET))

    def _fit_columns(self) -> None:
        """Wide enough for headings and for what most rows hold; the last takes the rest."""
        header = self.table.horizontalHeader()
        last = header.count() - 1
        for column in range(last):
            end = self.table.model().index(self.table.model().rowCount() - 1, column)
            unusable = self.table.sizeHintForIndex(end).width()  # such rows stand at the end
            cells = max(self.table.sizeHintForColumn(column), unusable) + theme.TIGHT
            self.table.setColumnWidth(column, max(header.sectionSizeHint(column), cells))
        self.table.setColumnWidth(last, header.sectionSizeHint(last))

    def changeEvent(self, event: QEvent) -> None:
        """Follow theme and font."""
        super().changeEvent(event)
        if self._model is not None and event.type() == QEvent.Type.PaletteChange:
            self._model.set_theme(theme.current())
        if self._model is not None and event.type() == QEvent.Type.FontChange:
            self._fit_rows()
            self._fit_columns()

    # --- what a person does ---

    def _key_of(self, row: int, column: int) -> str:
        """Names the working of a cell."""
        candidate = None if self._model is None else self._model.candidate(row)
        word = _WORDS[column]
        return "" if candidate is None or not word else f"bench.{word}:{candidate}"

    def copy(self) -> None:
        """Put the selected rows, or all, on the clipboard with their headings."""
        if self._model is None:
            return
        rows = sorted({index.row() for index in self.table.selectionModel().selectedRows()})
        QGuiApplication.clipboard().setText(self._model.as_tsv(rows if len(rows) > 1 else None))

    def _on_order_chosen(self, order: Order) -> None:
        self.table.horizontalHeader().setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        self._store.edit({"order": order}, tr("change order"))

    def _on_row_chosen(self) -> None:
        current = self.table.currentIndex()
        if self._model is not None and self._is_chosen(current.row()):
            self._store.select(self._model.candidate(current.row()))

    def _is_chosen(self, row: int) -> bool:
        """Whether the row is the current one and marked."""
        selection, current = self.table.selectionModel(), self.table.currentIndex()
        return current.isValid() and current.row() == row and selection.isSelected(current)


def _summary(ranking: Ranking | None, store: Store) -> str:
    if ranking is None:
        return tr("No ranking until the inputs are mended") if store.catalog else tr("No catalogue")
    if ranking.passing == 0:
        if store.job.header_tanks < 3:
            return tr("None of {count} passes; try more tanks on a header", count=len(ranking))
        return tr("None of {count} passes", count=len(ranking))
    return tr("{passing} of {count} pass", passing=ranking.passing, count=len(ranking))
