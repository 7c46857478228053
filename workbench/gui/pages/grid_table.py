"""A small table of figures, read at a glance: no rows to choose, nothing to scroll."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import FigureLabel
from workbench.gui.pages.fitted import Fitted
from workbench.gui.pages.sideways import Sideways


class Cell(NamedTuple):
    """A text, its role in the theme ("" for plain text), and whether it is the user's own.

    ``key`` names its working in :mod:`workbench.study.explain`.
    """

    text: str
    role: str = ""
    own: bool = False
    key: str = ""


class GridTable(Fitted):
    """A heading, a row of column names, and rows of cells; a remark stands beneath.

    Where the cells are wider than the page, they alone scroll sideways.
    """

    def __init__(self, heading: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.heading = QLabel(heading, self)
        theme.set_role(self.heading, "heading")
        self.remark = QLabel(self)
        self.remark.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.remark.setWordWrap(True)  # after the policy, to which it adds
        theme.set_role(self.remark, "muted")
        cells = QWidget()
        self._grid = QGridLayout(cells)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(theme.APART)
        self._grid.setVerticalSpacing(theme.TIGHT)
        self._labels: list[list[FigureLabel]] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        column.addWidget(self.heading)
        column.addWidget(Sideways(cells, heading, self))
        column.addWidget(self.remark)

    def show_table(self, columns: Sequence[str], rows: Sequence[Sequence[Cell]]) -> None:
        """Show these rows; the first cell of each is its name."""
        table = [[Cell(text, "muted") for text in columns], *rows]
        self._provide(len(table), len(columns))
        for labels, cells in zip(self._labels, table, strict=False):
            shown = labels[: len(columns)]
            for place, (label, cell) in enumerate(zip(shown, cells, strict=True)):
                theme.set_role(label, cell.role)
                label.setText(cell.text)
                label.setFont(theme.font(bold=cell.own))
                if cells is not table[0]:
                    label.setAccessibleName(f"{cells[0].text}, {columns[place]}: {cell.text}")
                name = f"{cells[0].text}, {columns[place]}".replace("\n", " ").strip(", ")
                label.explain_as(cell.key, name)
        for labels in self._labels[len(table) :]:
            for label in labels:
                label.hide()

    def texts(self) -> list[list[str]]:
        """What stands in the rows that are shown, the names of the columns first."""
        rows = (row for row in self._labels if not row[0].isHidden())
        return [[label.text() for label in row if not label.isHidden()] for row in rows]

    def _provide(self, rows: int, columns: int) -> None:
        """Labels for so many rows and columns; those beyond are hidden."""
        while len(self._labels) < rows:
            self._labels.append([])
        for row, labels in enumerate(self._labels[:rows]):
            while len(labels) < columns:
                label = FigureLabel()
                label.setTextFormat(Qt.TextFormat.PlainText)
                side = Qt.AlignmentFlag.AlignRight if labels else Qt.AlignmentFlag.AlignLeft
                self._grid.addWidget(label, row, len(labels), side)
                labels.append(label)
            for column, label in enumerate(labels):
                label.setVisible(column < columns)
        for column in range(self._grid.columnCount()):
            self._grid.setColumnStretch(column, int(column == columns))
        self._grid.setColumnStretch(columns, 1)
