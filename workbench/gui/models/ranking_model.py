"""The ranked candidates as a table; the catalogue's unusable rows stand greyed at its end."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QColor

from workbench.catalog.table import Catalog
from workbench.gui import marks, theme
from workbench.study.ranking import Judged, Ranking
from workbench.study.reasons import headline, margin_text
from workbench.units import LENGTH, STARTS_PER_HOUR, TIME, VOLUME, Display
from workbench.words import tr

Index = QModelIndex | QPersistentModelIndex
_ROOT = QModelIndex()
_DISPLAY, _ALIGNMENT, _DECORATION, _FOREGROUND = (
    Qt.ItemDataRole.DisplayRole,
    Qt.ItemDataRole.TextAlignmentRole,
    Qt.ItemDataRole.DecorationRole,
    Qt.ItemDataRole.ForegroundRole,
)
_ANSWERED = frozenset((_DISPLAY, _ALIGNMENT, _DECORATION, _FOREGROUND))


@dataclass(frozen=True, slots=True)
class Column:
    """One column: name, text of a candidate, what to sort by (None: cannot be sorted), unit."""

    name: str
    text: Callable[[Judged, Ranking, Display], str]
    key: Callable[[Ranking], Any] | None
    unit: str = ""
    is_number: bool = True

    @property
    def heading(self) -> str:
        """Name and unit one above the other, so that a column is as narrow as its numbers."""
        return f"{self.name}\n{self.unit}" if self.unit else self.name

    @property
    def title(self) -> str:
        """Name and unit on one line."""
        return f"{self.name}, {self.unit}" if self.unit else self.name


def columns(display: Display) -> tuple[Column, ...]:
    """The columns, with the shown units in their headings."""
    volume, length, time = (display.symbol(kind) for kind in (VOLUME, LENGTH, TIME))
    return (
        Column(tr("Result"), _result, None, is_number=False),
        Column(tr("Tank"), _name, _names, is_number=False),
        Column(tr("Volume"), _volume, lambda r: r.candidates.volume, volume),
        Column(tr("Drawdown"), _drawdown, lambda r: r.drawdown, volume),
        Column(tr("Margin"), _margin, lambda r: r.drawdown, volume),
        Column(tr("Run"), _run, lambda r: r.run_time, time),
        Column(tr("Starts"), _starts, lambda r: r.starts, display.symbol(STARTS_PER_HOUR)),
        Column(tr("Price"), _price, lambda r: r.candidates.price),
        Column(tr("Size"), _size, lambda r: r.candidates.floor, length),
        Column(tr("Why"), headline, None, is_number=False),
    )


def _result(one: Judged, _ranking: Ranking, _display: Display) -> str:
    return tr("Passes") if one.passes else tr("Fails")


def _name(one: Judged, _ranking: Ranking, _display: Display) -> str:
    return one.name


def _names(ranking: Ranking) -> np.ndarray:
    c = ranking.candidates  # the catalogue's columns already lie in the order of names
    return np.asarray((c.tank * 4 + c.count) * (len(c.columns.ids) + 1) + c.other)


def _volume(one: Judged, _ranking: Ranking, display: Display) -> str:
    return display.number(one.total_volume, VOLUME)


def _drawdown(one: Judged, _ranking: Ranking, display: Display) -> str:
    return display.number(one.drawdown, VOLUME)


def _margin(one: Judged, _ranking: Ranking, display: Display) -> str:
    return margin_text(one, display)


def _run(one: Judged, _ranking: Ranking, display: Display) -> str:
    return display.number(one.run_time, TIME)


def _starts(one: Judged, _ranking: Ranking, display: Display) -> str:
    return "∞" if np.isinf(one.starts) else display.number(one.starts, STARTS_PER_HOUR)


def _price(one: Judged, _ranking: Ranking, display: Display) -> str:
    if one.price is None:
        return "—"
    return f"{one.price:.2f}".replace(".", display.mark) + f" {one.tank.currency}"


def _size(one: Judged, _ranking: Ranking, display: Display) -> str:
    return " + ".join(
        f"{display.number(tank.diameter, LENGTH)} × {display.number(tank.height, LENGTH)}"
        for tank in one.kinds
    )


class RankingModel(QAbstractTableModel):
    """Rows are the ranking's order, or one column's, always with those that pass first."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._display = Display()
        self._columns = columns(self._display)
        self._ranking: Ranking | None = None
        self._rows = np.empty(0, dtype=np.intp)
        self._unusable: Sequence[Any] = ()
        self._sorted_by = (-1, Qt.SortOrder.AscendingOrder)
        self._theme = theme.LIGHT
        self._icons = _icons(self._theme)
        self._told: tuple[int, Judged] | None = None  # the last candidate that a cell told of

    def show_ranking(
        self, ranking: Ranking | None, catalog: Catalog | None, display: Display
    ) -> None:
        """Show another ranking; a sort by a column stays."""
        self.beginResetModel()
        if display != self._display:
            self._display, self._columns = display, columns(display)
        self._ranking, self._told = ranking, None
        self._unusable = catalog.bad_rows if catalog else ()
        self._rows = self._sorted()
        self.endResetModel()

    def set_theme(self, shown: theme.Theme) -> None:
        """Draw the marks in another theme."""
        self._theme, self._icons = shown, _icons(shown)

    def candidate(self, row: int) -> int | None:
        """The index of the candidate in a row; None for an unusable row of the catalogue."""
        return int(self._rows[row]) if 0 <= row < len(self._rows) else None

    def row_of(self, candidate: int) -> int | None:
        """The row of a candidate."""
        found = np.flatnonzero(self._rows == candidate)
        return int(found[0]) if len(found) else None

    def rowCount(self, parent: Index = _ROOT) -> int:
        return 0 if parent.isValid() else len(self._rows) + len(self._unusable)

    def columnCount(self, parent: Index = _ROOT) -> int:
        return 0 if parent.isValid() else len(self._columns)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return self._columns[section].heading
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        # a view asks for ten roles of every cell at every paint
        if role not in _ANSWERED or not index.isValid():
            return None
        row, column = index.row(), index.column()
        if role == _DISPLAY:
            return self.text(row, column)
        if role == _ALIGNMENT and self._columns[column].is_number:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        if role == _DECORATION and column == 0:
            return self._icons[self._state(row)]
        if role == _FOREGROUND and self._state(row) != "pass":
            return QColor(self._theme.muted)
        return None

    def _state(self, row: int) -> str:
        candidate = self.candidate(row)
        if candidate is None or self._ranking is None:
            return "unusable"
        return "fail" if self._ranking.fails[candidate] else "pass"

    def text(self, row: int, column: int) -> str:
        """What a cell says."""
        candidate = self.candidate(row)
        if candidate is not None and self._ranking is not None:
            if self._told is None or self._told[0] != candidate:  # cells are asked row by row
                self._told = candidate, self._ranking.judged(candidate)
            return self._columns[column].text(self._told[1], self._ranking, self._display)
        return self._unusable_text(self._unusable[row - len(self._rows)], column)

    def _unusable_text(self, bad: Any, column: int) -> str:
        if column == 0:
            return tr("Unusable")
        if column == 1:
            return tr("Row {row}", row=bad.row)
        if column == len(self._columns) - 1:
            return " ".join(str(problem) for problem in bad.problems)
        return "—"

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Sort by a column, or by the job's chosen order with column -1."""
        self.layoutAboutToBeChanged.emit()
        held = self.persistentIndexList()
        candidates = [self.candidate(index.row()) for index in held]
        self._sorted_by = (column, order)
        self._rows = self._sorted()
        moved = []  # a chosen tank stays chosen, wherever it now stands
        for index, candidate in zip(held, candidates, strict=True):
            row = None if candidate is None else self.row_of(candidate)
            moved.append(index if row is None else self.index(row, index.column()))
        self.changePersistentIndexList(held, moved)
        self.layoutChanged.emit()

    def _sorted(self) -> np.ndarray:
        if self._ranking is None:
            return np.empty(0, dtype=np.intp)
        column, order = self._sorted_by
        key = self._columns[column].key if column >= 0 else None
        if key is None:
            return self._ranking.order
        values = np.asarray(key(self._ranking), dtype=np.float64)[self._ranking.order]
        if order is Qt.SortOrder.DescendingOrder:
            values = -values
        by_key = self._ranking.order[np.argsort(values, kind="stable")]
        passes = self._ranking.fails[by_key] == 0
        return np.concatenate((by_key[passes], by_key[~passes]))

    def as_tsv(self, rows: Sequence[int] | None = None) -> str:
        """The table, or some of its rows, as tab-separated text with headings."""
        chosen = range(self.rowCount()) if rows is None else rows
        lines = ["\t".join(column.title for column in self._columns)]
        lines += [
            "\t".join(self.text(row, column) for column in range(len(self._columns)))
            for row in chosen
        ]
        return "\n".join(lines) + "\n"


def _icons(shown: theme.Theme) -> dict[str, Any]:
    return {kind: marks.mark(kind, shown) for kind in ("pass", "fail", "unusable")}
