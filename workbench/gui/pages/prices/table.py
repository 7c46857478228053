"""The editable price list: its table, what is said of the current cell, and what adds and moves."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QLabel,
    QPushButton,
    QSizePolicy,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.explain.tables import TableFigures
from workbench.gui.fields.field_row import ROLES
from workbench.gui.models.prices_model import Column, PricesModel
from workbench.gui.pages.abreast import Abreast
from workbench.gui.pages.fitted import Fitted
from workbench.gui.pages.prices.cells import Cells
from workbench.job.job import Job
from workbench.study.pricing import edits
from workbench.study.pricing.sheet import PriceSheet
from workbench.units import Display
from workbench.words import tr

_ROWS = 9  # that the table has room for
_LONGEST_NAME = 34  # digits up to which the names widen their column by themselves
_LEAST = 4  # digits of a column before its texts are known
_Action = QAbstractItemView.CursorAction


class _Table(QTableView):
    """Edits cell after cell by Tab; Delete empties a cell; ``asked(step)``: to move its row."""

    asked = Signal(int)

    def sizeHint(self) -> QSize:
        """Some rows: a scroll area gives preferred heights."""
        rows = self.verticalHeader().defaultSectionSize() * _ROWS
        height = self.horizontalHeader().sizeHint().height() + rows + 2 * self.frameWidth()
        bar = self.horizontalScrollBar().sizeHint().height()
        return QSize(super().sizeHint().width(), height + bar)

    def minimumSizeHint(self) -> QSize:
        return QSize(super().minimumSizeHint().width(), self.sizeHint().height())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        model, index = self.model(), self.currentIndex()
        keys = (Qt.Key.Key_Delete, Qt.Key.Key_Backspace)
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        if event.modifiers() & Qt.KeyboardModifier.AltModifier and event.key() in steps:
            self.asked.emit(steps[Qt.Key(event.key())])
            return
        if event.key() in keys and isinstance(model, PricesModel) and model.clear(index):
            return
        super().keyPressEvent(event)

    def moveCursor(
        self, action: QAbstractItemView.CursorAction, modifiers: Qt.KeyboardModifier
    ) -> QModelIndex:
        """Tab while editing goes to the next cell into which something is typed."""
        index = super().moveCursor(action, modifiers)
        if action not in (_Action.MoveNext, _Action.MovePrevious):
            return index
        step = 1 if action is _Action.MoveNext else -1
        model = self.model()
        for _ in range(len(Column)):
            if not index.isValid() or model.flags(index) & Qt.ItemFlag.ItemIsEditable:
                break
            place = index.row() * len(Column) + index.column() + step
            place %= max(model.rowCount() * len(Column), 1)
            index = model.index(*divmod(place, len(Column)))
        return index


class PricesTable(Fitted):
    """Shows a sheet. ``edited(changes, text)``: what a person did, as entries of the job."""

    edited = Signal(dict, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._job = Job()
        self._sheet: PriceSheet | None = None
        self._wanted = 0  # the row that is to be current once the list has changed
        self.heading = QLabel(tr("Price list, with the quantities of this job"), self)
        self.heading.setWordWrap(True)
        theme.set_role(self.heading, "heading")
        self.model = PricesModel(self)
        self.model.set_theme(theme.current())
        self.table = self._table()
        TableFigures(self.table, self.model.key_of, Column.NAME)
        self.remark = self._label()
        self.remark.setAccessibleName(tr("About the current cell"))
        self.hint = self._label()
        theme.set_role(self.hint, "muted")
        self.hint.setText(
            tr(
                "F2 or typing edits a cell, Tab goes to the next. A quantity that is typed goes"
                " before the one that is counted. Alt with an arrow moves a row."
            )
        )
        self._make_buttons()
        self._lay_out()
        self.model.edited.connect(self.edited)
        self.model.modelReset.connect(self._on_reset)
        self.table.selectionModel().currentChanged.connect(self._on_current)

    # --- making ---

    def _table(self) -> QTableView:
        table = _Table(self)
        table.setAccessibleName(tr("Price list"))
        table.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        table.setTabKeyNavigation(False)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectItems)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        trigger = QAbstractItemView.EditTrigger
        table.setEditTriggers(
            trigger.AnyKeyPressed | trigger.EditKeyPressed | trigger.DoubleClicked
        )
        table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        table.setWordWrap(False)
        table.setShowGrid(False)
        table.setAlternatingRowColors(True)
        table.verticalHeader().hide()
        table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        table.horizontalHeader().setHighlightSections(False)
        table.horizontalHeader().setDefaultSectionSize(theme.width_of(table, _LEAST))
        table.horizontalHeader().setDefaultAlignment(
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        )
        table.setModel(self.model)
        table.asked.connect(self._move)
        table.setItemDelegate(Cells(self.model, table))
        return table

    def _label(self) -> QLabel:
        label = QLabel(self)
        label.setTextFormat(Qt.TextFormat.PlainText)  # it repeats what was typed
        label.setWordWrap(True)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        return label

    def _make_buttons(self) -> None:
        self.add = QPushButton(tr("Add an item"), self)
        self.remove = QPushButton(tr("Remove the item"), self)
        self.up = QPushButton(tr("Move it up"), self)
        self.down = QPushButton(tr("Move it down"), self)
        self.add_usual = QPushButton(tr("Add what is missing"), self)
        self.drop_orphans = QPushButton(tr("Take away quantities without an item"), self)
        for button, slot in (
            (self.add, self._on_add),
            (self.remove, self._on_remove),
            (self.up, self._on_up),
            (self.down, self._on_down),
            (self.add_usual, self._on_add_usual),
            (self.drop_orphans, self._on_drop_orphans),
        ):
            button.setAutoDefault(False)
            button.clicked.connect(slot)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        column.addWidget(self.heading)
        column.addWidget(self.table, 1)
        column.addWidget(self.remark)
        column.addWidget(Abreast(self.add, self.remove, self.up, self.down, parent=self))
        column.addWidget(self.add_usual)
        column.addWidget(self.drop_orphans)
        column.addWidget(self.hint)

    # --- showing ---

    def show_sheet(self, sheet: PriceSheet, job: Job, display: Display) -> None:
        """Show a sheet of a job; the current cell stays."""
        self._sheet, self._job = sheet, job
        self.model.show_sheet(sheet, job, display)
        self.add_usual.setVisible(bool(sheet.missing))
        self.drop_orphans.setVisible(bool(sheet.orphans))
        self._widen_columns()
        self._show_current()

    def changeEvent(self, event: QEvent) -> None:
        """Follow theme and font."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.model.set_theme(theme.current())
        if event.type() == QEvent.Type.FontChange:
            self._fit_rows()
            self._widen_columns()

    def _fit_rows(self) -> None:
        height = self.table.fontMetrics().height() + theme.CLOSE
        height = max(height, theme.TARGET)
        if height != self.table.verticalHeader().defaultSectionSize():
            self.table.verticalHeader().setDefaultSectionSize(height)
            self.table.updateGeometry()

    def _widen_columns(self) -> None:
        """Columns grow with their texts and never shrink under a person's eyes."""
        self._fit_rows()
        header = self.table.horizontalHeader()
        for column in Column:
            needed = max(self.table.sizeHintForColumn(column), header.sectionSizeHint(column))
            if column is Column.NAME:
                needed = min(needed, theme.width_of(self.table, _LONGEST_NAME))
            needed += theme.CLOSE
            if needed > self.table.columnWidth(column):
                self.table.setColumnWidth(column, needed)

    def _show_current(self) -> None:
        index = self.table.currentIndex()
        row, has_row = index.row(), index.isValid()
        last = self.model.rowCount() - 1
        self.remove.setEnabled(has_row)
        self.up.setEnabled(has_row and row > 0)
        self.down.setEnabled(has_row and row < last)
        problem, text = None, ""
        if has_row:
            column = Column(index.column())
            problem, text = self.model.problem(row, column), self.model.remark(row, column)
            if text and problem is None:
                text = tr("{item}: {remark}", item=self.model.name(row), remark=text)
        theme.set_role(self.remark, "" if problem is None else ROLES[problem.level])
        self.remark.setText(text)

    # --- what a person does ---

    def _on_current(self, _now: QModelIndex, _before: QModelIndex) -> None:
        self._show_current()

    def _on_reset(self) -> None:
        """Items came, went or moved: the row that was worked on, or one near it, is current."""
        row = min(self._wanted, self.model.rowCount() - 1)
        if row >= 0:
            self.table.setCurrentIndex(self.model.index(row, Column.NAME))

    def _change(self, changes: edits.Changes, text: str, row: int) -> None:
        self._wanted = row
        self.edited.emit(changes, text)

    def _row(self) -> int:
        return self.table.currentIndex().row()  # -1 where there is none

    def _on_add(self) -> None:
        row = self._row() + 1 if self._row() >= 0 else self.model.rowCount()
        self._change(edits.with_new_item(self._job, row), tr("add an item"), row)
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)
        self.table.edit(self.table.currentIndex())

    def _on_remove(self) -> None:
        row = self._row()
        text = tr("remove {item}", item=self.model.name(row))
        self._change(edits.without_item(self._job, row), text, row)

    def _on_up(self) -> None:
        self._move(-1)

    def _on_down(self) -> None:
        self._move(1)

    def _move(self, step: int) -> None:
        row = self._row()
        if row >= 0 and 0 <= row + step < self.model.rowCount():
            text = tr("move {item}", item=self.model.name(row))
            self._change(edits.moved(self._job, row, step), text, row + step)

    def _on_add_usual(self) -> None:
        missing = () if self._sheet is None else self._sheet.missing
        row = self.model.rowCount()
        text = tr("add what is missing")
        self._change(edits.with_usual(self._job, missing), text, row)

    def _on_drop_orphans(self) -> None:
        text = tr("take quantities away")
        self._change(edits.without_orphans(self._job), text, max(self._row(), 0))
