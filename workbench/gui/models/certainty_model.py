"""The tanks that the tolerance study judges, as a table in the order of the ranking."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
)
from PySide6.QtGui import QColor, QIcon

from workbench.gui import marks, theme
from workbench.study.certainty.tolerance import Verdict
from workbench.study.certainty.view import Certainty, ToleranceView
from workbench.study.certainty.words import share_text, verdict_word
from workbench.study.ranking import Ranking
from workbench.units import TIME, Display
from workbench.words import tr

Index = QModelIndex | QPersistentModelIndex
_ROOT = QModelIndex()
_DISPLAY, _ALIGNMENT, _DECORATION, _FOREGROUND, _BACKGROUND = (
    Qt.ItemDataRole.DisplayRole,
    Qt.ItemDataRole.TextAlignmentRole,
    Qt.ItemDataRole.DecorationRole,
    Qt.ItemDataRole.ForegroundRole,
    Qt.ItemDataRole.BackgroundRole,
)
_ANSWERED = frozenset((_DISPLAY, _ALIGNMENT, _DECORATION, _FOREGROUND, _BACKGROUND))
NAME = 1
"""The column of the tanks' names."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its heading, and the text of a row with the tank's name and the units."""

    heading: str
    text: Callable[[Certainty, str, Display], str]
    is_number: bool = True


def columns(display: Display) -> tuple[Column, ...]:
    """The columns, with the shown units in their headings."""
    unit = display.symbol(TIME)
    return (
        Column(tr("Verdict"), _verdict, is_number=False),
        Column(tr("Tank"), _name, is_number=False),
        Column(tr("Cases met"), _share),
        Column(tr("Run, nothing off, {unit}", unit=unit), _nominal),
        Column(tr("Worst run, {unit}", unit=unit), _worst),
    )


def _verdict(one: Certainty, _name: str, _display: Display) -> str:
    return verdict_word(one.verdict)


def _name(_one: Certainty, name: str, _display: Display) -> str:
    return name


def _share(one: Certainty, _name: str, display: Display) -> str:
    return share_text(one.share, display)


def _nominal(one: Certainty, _name: str, display: Display) -> str:
    return display.number(one.nominal_run, TIME)


def _worst(one: Certainty, _name: str, display: Display) -> str:
    return display.number(one.worst_run, TIME)


class CertaintyModel(QAbstractTableModel):
    """Rows are a view's; the chosen tank's has the colour of what is the user's own."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._display = Display()
        self._columns = columns(self._display)
        self._view: ToleranceView | None = None
        self._ranking: Ranking | None = None
        self._is_old = False
        self._theme = theme.LIGHT
        self._icons = _icons(self._theme)

    def show_view(
        self, view: ToleranceView | None, ranking: Ranking | None, display: Display
    ) -> None:
        """Show a view; ``ranking`` names its tanks."""
        self.beginResetModel()
        if display != self._display:
            self._display, self._columns = display, columns(display)
        self._view, self._ranking, self._is_old = view, ranking, False
        self.endResetModel()

    @property
    def is_old(self) -> bool:
        """Whether what is shown belongs to earlier entries."""
        return self._is_old

    def show_as_old(self) -> None:
        """Grey what is shown: it belongs to earlier entries."""
        if not self._is_old and self.rowCount():
            self._is_old = True
            last = self.index(self.rowCount() - 1, self.columnCount() - 1)
            self.dataChanged.emit(self.index(0, 0), last)

    def set_theme(self, shown: theme.Theme) -> None:
        """Draw the marks in another theme."""
        self._theme, self._icons = shown, _icons(shown)

    def key(self, row: int) -> str:
        """What names the tank of a row in a job."""
        assert self._view is not None  # noqa: S101 - it has the row
        return self._view.plan.candidates.key(self._view.plan.rows[row])

    def is_chosen(self, row: int) -> bool:
        """Whether a row is the chosen tank's."""
        return self._view is not None and self._view.plan.rows[row] == self._view.plan.tank

    def rowCount(self, parent: Index = _ROOT) -> int:
        """How many tanks are judged."""
        return 0 if parent.isValid() or self._view is None else len(self._view.plan.rows)

    def columnCount(self, parent: Index = _ROOT) -> int:
        """How many columns there are."""
        return 0 if parent.isValid() else len(self._columns)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """A column's heading."""
        if orientation is Qt.Orientation.Horizontal and role == _DISPLAY:
            return self._columns[section].heading
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """What a cell says, and how it is drawn."""
        if role not in _ANSWERED or not index.isValid() or self._view is None:
            return None
        row, column = index.row(), index.column()
        if role == _DISPLAY:
            return self.text(row, column)
        if role == _ALIGNMENT and self._columns[column].is_number:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        if role == _DECORATION and column == 0:
            return self._icons[self._view.row(row).verdict]
        if role == _FOREGROUND and self._is_old:
            return QColor(self._theme.muted)
        if role == _BACKGROUND and self.is_chosen(row):
            return QColor(self._theme.selection)
        return None

    def longest_names(self, length: Callable[[str], int]) -> list[str]:
        """Names that no row's exceeds in length."""
        if self._view is None:
            return []
        candidates = self._view.plan.candidates
        longest = max((tank.name for tank in candidates.tanks.values()), key=length, default="")
        several = [_chosen(longest), _chosen(f"3 × {longest}")]
        has_pairs = bool((candidates.other >= 0).any())
        return [*several, _chosen(f"{longest} + {longest}")] if has_pairs else several

    def text(self, row: int, column: int) -> str:
        """What a cell says."""
        if self._view is None or self._ranking is None:
            return ""
        one = self._view.row(row)
        name = self._ranking.judged(one.candidate).name if column == NAME else ""
        if column == NAME and self.is_chosen(row):
            name = _chosen(name)
        return self._columns[column].text(one, name, self._display)


def _chosen(name: str) -> str:
    return tr("{name} (chosen)", name=name)


def _icons(shown: theme.Theme) -> dict[Verdict, QIcon]:
    return {
        Verdict.PASS: marks.mark("pass", shown),
        Verdict.BORDERLINE: marks.mark("borderline", shown),
        Verdict.FAIL: marks.mark("fail", shown),
    }
