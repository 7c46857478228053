"""Figures of one tank, or of two side by side with the difference."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import FigureLabel

_WIDEST = 24  # digits of a name; a longer one wraps


@dataclass(frozen=True, slots=True)
class Line:
    """What it is, its value for each tank, the difference of two ("" if none), and their roles.

    ``key`` names its working in :mod:`workbench.study.explain`.
    """

    name: str
    values: tuple[str, ...]
    difference: str = ""
    roles: tuple[str, ...] = ()
    key: str = ""


class Compared(QWidget):
    """Lines under a heading; above the values the tanks' names, where there are two."""

    def __init__(self, heading: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.heading = QLabel(heading, self)
        theme.set_role(self.heading, "heading")
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(theme.NEAR)
        self._grid.setVerticalSpacing(theme.TIGHT)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        column.addWidget(self.heading)
        column.addLayout(self._grid)
        column.addStretch(1)
        self._labels: list[list[FigureLabel]] = []

    def show_lines(self, columns: Sequence[str], lines: Sequence[Line]) -> None:
        """Show these lines; ``columns`` are the names over the values, empty for a lone tank."""
        head = [Line("", tuple(columns), roles=("muted",) * len(columns))] if columns else []
        table = [*head, *lines]
        while len(self._labels) < len(table):
            self._labels.append(self._new_line(len(self._labels)))
        for place, labels in enumerate(self._labels):
            line = table[place] if place < len(table) else Line("", ())
            cells = [line.name, *line.values]
            if columns and place >= len(head):
                cells.append(line.difference)
            self._show_line(labels, cells, line, columns)
        for column in (1, 2, 3):
            used = column <= max(len(columns), 1)
            self._grid.setColumnStretch(column, 1 if used else 0)

    def texts(self) -> list[list[str]]:
        """What stands in the lines that are shown."""
        shown = [[label.text() for label in row if not label.isHidden()] for row in self._labels]
        return [row for row in shown if row]

    def _new_line(self, row: int) -> list[FigureLabel]:
        labels = []
        for column in range(4):
            label = FigureLabel("", self)
            label.setTextFormat(Qt.TextFormat.PlainText)
            if not column:
                label.setWordWrap(True)
            else:
                label.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
                label.setWordWrap(True)  # after the policy, which it amends
                label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            label.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
            self._grid.addWidget(label, row, column)
            labels.append(label)
        return labels

    @staticmethod
    def _show_line(
        labels: Sequence[FigureLabel], cells: Sequence[str], line: Line, columns: Sequence[str]
    ) -> None:
        roles = line.roles
        for place, label in enumerate(labels):
            shown = place < len(cells) and any(cells)
            label.setVisible(shown)
            if not shown:
                continue
            text = cells[place]
            label.setText(text)
            if place == 0:
                metrics = QFontMetrics(theme.font())  # the label may not wear it yet
                widest = metrics.horizontalAdvance("0") * _WIDEST
                label.setMinimumWidth(min(metrics.horizontalAdvance(text) + 1, widest))
                continue
            theme.set_role(label, roles[place - 1] if place <= len(roles) else "")
            named = [cells[0], columns[place - 1] if columns else "", text]
            label.setAccessibleName(": ".join(part for part in named if part))
            key = f"{line.key}:{place - 1}" if line.key else ""
            label.explain_as(key, ", ".join(part for part in named[:2] if part))
