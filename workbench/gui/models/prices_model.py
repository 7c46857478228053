"""The firm's price list as a table that is edited in place, with this job's quantities."""

from __future__ import annotations

from enum import IntEnum
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QIcon

from workbench.gui import marks, theme
from workbench.gui.fields.field_row import told
from workbench.job.job import Job
from workbench.job.paper_choices import ItemKind, item_kinds
from workbench.job.typed import Entry
from workbench.study.findings import Finding, Level
from workbench.study.pricing import edits, words
from workbench.study.pricing.money import money
from workbench.study.pricing.rows import Row, name_of
from workbench.study.pricing.sheet import PriceSheet
from workbench.units import MONEY, NUMBER, Display, Quantity, UnitError, Unread, parse
from workbench.words import tr

Index = QModelIndex | QPersistentModelIndex
_ROOT = QModelIndex()
_Role = Qt.ItemDataRole
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class Column(IntEnum):
    """The columns, in their order; all but the amount are edited."""

    NAME = 0
    UNIT = 1
    KIND = 2
    COST = 3
    PRICE = 4
    HOURS = 5
    TAXED = 6
    QUANTITY = 7
    AMOUNT = 8

    @property
    def entry(self) -> str:
        """What findings and items call it."""
        return self.name.casefold()


NUMBERS = {
    Column.COST: MONEY,
    Column.PRICE: MONEY,
    Column.HOURS: NUMBER,
    Column.QUANTITY: NUMBER,
}
"""The columns into which a number is typed."""


def headings() -> dict[Column, str]:
    """What the columns are called."""
    return {
        Column.NAME: tr("Item"),
        Column.UNIT: tr("Unit"),
        Column.KIND: tr("Kind"),
        Column.COST: tr("Cost"),
        Column.PRICE: tr("Price"),
        Column.HOURS: tr("Hours"),
        Column.TAXED: tr("Taxed"),
        Column.QUANTITY: tr("This job"),
        Column.AMOUNT: tr("Amount"),
    }


class PricesModel(QAbstractTableModel):
    """Rows are those of a :class:`PriceSheet`. ``edited(changes, text)``: a person changed a cell,
    as entries of the job; the model itself changes only when the job has changed.
    """

    edited = Signal(dict, str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._job = Job()
        self._rows: tuple[Row, ...] = ()
        self._has_tank = False
        self._display = Display()
        self._headings = headings()
        self._kinds = {kind: choice.label for kind, choice in item_kinds().items()}
        self._theme = theme.LIGHT
        self._icons: dict[Level, QIcon] = {}
        self.set_theme(theme.LIGHT)

    def show_sheet(self, sheet: PriceSheet, job: Job, display: Display) -> None:
        """Show a sheet of a job. Cells stay where they are while the items do."""
        same = [row.item.code for row in self._rows] == [row.item.code for row in sheet.rows]
        if not same:
            self.beginResetModel()
        self._job, self._rows, self._display = job, sheet.rows, display
        self._has_tank = sheet.offer.one is not None
        if not same:
            self.endResetModel()
        elif self._rows:
            last = self.index(len(self._rows) - 1, len(Column) - 1)
            self.dataChanged.emit(self.index(0, 0), last)

    def set_theme(self, shown: theme.Theme) -> None:
        """Draw the marks in another theme."""
        self._theme = shown
        self._icons = {
            Level.STOP: marks.mark("fail", shown),
            Level.CAUTION: marks.mark("borderline", shown),
        }

    # --- what Qt asks ---

    def rowCount(self, parent: Index = _ROOT) -> int:
        """How many items the list has."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = _ROOT) -> int:
        """How many columns there are."""
        return 0 if parent.isValid() else len(Column)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = _Role.DisplayRole
    ) -> Any:
        """A column's heading; numbers stand at the right."""
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == _Role.DisplayRole:
            return self._headings[Column(section)]
        if role == _Role.TextAlignmentRole and _is_right(Column(section)):
            return _RIGHT
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """All cells but amounts are edited; whether an item is taxed is ticked."""
        flags = super().flags(index)
        if not index.isValid() or index.column() == Column.AMOUNT:
            return flags
        if index.column() == Column.TAXED:
            return flags | Qt.ItemFlag.ItemIsUserCheckable
        return flags | Qt.ItemFlag.ItemIsEditable

    def data(self, index: Index, role: int = _Role.DisplayRole) -> Any:
        """What a cell says, and how it is drawn."""
        if not index.isValid():
            return None
        row, column = self._rows[index.row()], Column(index.column())
        if role == _Role.DisplayRole:
            return self.text(index.row(), column)
        if role == _Role.EditRole:
            is_kind = column is Column.KIND
            return row.item.kind if is_kind else self.typed(index.row(), column)
        if role == _Role.CheckStateRole and column is Column.TAXED:
            return Qt.CheckState.Checked if row.item.taxed else Qt.CheckState.Unchecked
        if role in (_Role.ToolTipRole, _Role.AccessibleDescriptionRole):
            return self.remark(index.row(), column)
        if role == _Role.AccessibleTextRole:
            heading = self._headings[column]
            return tr("{heading}: {text}", heading=heading, text=self.text(index.row(), column))
        return self._look(index.row(), column, role)

    def _look(self, place: int, column: Column, role: int) -> Any:
        row = self._rows[place]
        if role == _Role.TextAlignmentRole and _is_right(column):
            return _RIGHT
        problem = problem_of(row, column)
        if role == _Role.DecorationRole and problem is not None:
            return self._icons[problem.level]
        if role == _Role.ForegroundRole:
            if problem is not None:
                is_stop = problem.level is Level.STOP
                return QColor(self._theme.stop if is_stop else self._theme.caution)
            if not row.quantity and self.text(place, column):
                return QColor(self._theme.muted)  # not in this job
        if role == _Role.FontRole and column is Column.QUANTITY and row.typed is not None:
            return theme.font(bold=True)
        return None

    # --- texts ---

    def text(self, row: int, column: Column) -> str:
        """What a cell says."""
        shown = self._rows[row]
        if column is Column.KIND:
            return self._kinds[shown.item.kind]
        if column is Column.TAXED:
            return tr("yes") if shown.item.taxed else tr("no")
        if column is Column.AMOUNT:
            return "" if not shown.quantity or shown.amount is None else (
                money(shown.amount, self._job)
            )  # fmt: skip
        if column is Column.QUANTITY and shown.typed is None:
            return self.counted(row)
        return self.typed(row, column) or self._missing(shown, column)

    @staticmethod
    def _missing(row: Row, column: Column) -> str:
        """A word in an empty cell that must not be empty."""
        return tr("missing") if problem_of(row, column) is not None else ""

    def typed(self, row: int, column: Column) -> str:
        """What was typed into a cell; "" where nothing was."""
        shown = self._rows[row]
        if column in (Column.NAME, Column.UNIT):
            return str(getattr(shown.item, column.entry))
        if column not in NUMBERS:
            return ""
        entry: Entry | None = (
            shown.typed if column is Column.QUANTITY else getattr(shown.item, column.entry)
        )
        if isinstance(entry, Unread):
            return entry.text
        return "" if entry is None else self._display.typed(entry, NUMBERS[column])

    def counted(self, row: int) -> str:
        """The quantity that follows from the arrangement."""
        counted = self._rows[row].counted
        return "0" if counted is None else str(counted.quantity)

    def remark(self, row: int, column: Column) -> str:
        """What is wrong with a cell, or how its figure came about."""
        shown = self._rows[row]
        problem = problem_of(shown, column)
        if problem is not None:
            return told(problem, self._display)
        if column is Column.QUANTITY:
            return words.of_quantity(shown, has_tank=self._has_tank)
        if column in (Column.COST, Column.PRICE, Column.HOURS, Column.AMOUNT):
            return words.of_price(shown, self._job)
        return ""

    def problem(self, row: int, column: Column) -> Finding | None:
        """The gravest problem of a cell."""
        return problem_of(self._rows[row], column)

    def heading(self, column: Column) -> str:
        """What a column is called."""
        return self._headings[column]

    def kind(self, row: int) -> ItemKind:
        """What the item of a row is."""
        return self._rows[row].item.kind

    def name(self, row: int) -> str:
        """What the item of a row is called."""
        return name_of(self._rows[row].item)

    def key_of(self, row: int, column: int) -> str:
        """The key of a cell's working; "" where what is typed stands there, or a word."""
        if not 0 <= row < len(self._rows) or self.problem(row, Column(column)) is not None:
            return ""
        shown = self._rows[row]
        known = {
            Column.QUANTITY: shown.quantity is not None,
            Column.AMOUNT: shown.amount is not None,
        }
        if not known.get(Column(column), False) or not self.text(row, Column(column)):
            return ""
        return f"prices.{Column(column).entry}:{row}"

    # --- editing ---

    def setData(self, index: Index, value: Any, role: int = _Role.EditRole) -> bool:
        """Read what a person typed, chose or ticked, and tell it as a change of the job."""
        if not index.isValid():
            return False
        row, column = index.row(), Column(index.column())
        if role == _Role.CheckStateRole and column is Column.TAXED:
            taxed = Qt.CheckState(value) is Qt.CheckState.Checked
            return self._edit(row, column, edits.with_item(self._job, row, taxed=taxed))
        if role != _Role.EditRole or value == self.data(index, _Role.EditRole):
            return False
        if column in NUMBERS:
            entry = self._read(str(value), column)
            if column is Column.QUANTITY:
                code = self._rows[row].item.code
                return self._edit(row, column, edits.with_quantity(self._job, code, entry))
            return self._edit(row, column, edits.with_item(self._job, row, **{column.entry: entry}))
        if column in (Column.NAME, Column.UNIT, Column.KIND):
            return self._edit(row, column, edits.with_item(self._job, row, **{column.entry: value}))
        return False

    def clear(self, index: Index) -> bool:
        """Empty a cell into which a number is typed."""
        return index.column() in NUMBERS and self.setData(index, "")

    def _read(self, text: str, column: Column) -> Quantity | Unread | None:
        if not text.strip():
            return None
        try:
            return parse(text, NUMBERS[column], self._display.mark)
        except UnitError as error:
            return Unread(text, str(error), error.remedy)

    def _edit(self, row: int, column: Column, changes: edits.Changes) -> bool:
        text = tr("change {item}, {column}", item=self.name(row), column=self._headings[column])
        self.edited.emit(changes, text)
        return True


def _is_right(column: Column) -> bool:
    return column in NUMBERS or column is Column.AMOUNT


def problem_of(row: Row, column: Column) -> Finding | None:
    """The gravest problem of a cell."""
    found = [one.finding for one in row.problems if one.column == column.entry]
    return max(found, key=_level, default=None)


def _level(finding: Finding) -> int:
    return int(finding.level)
