"""Secondary figures of a page: what each is, beside its value."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import FigureLabel

Row = tuple[str, str, str] | tuple[str, str, str, str]
"""What it is, its value, and the value's role in the theme ("" for plain text).

A fourth part is the key of its working in :mod:`workbench.study.explain`.
"""

_WIDEST = 24  # digits of a name; a longer one wraps


class Facts(QWidget):
    """Names at the left, values that can be selected at the right; both wrap in large type.

    Where there is no room for that a value stands beneath its name.
    """

    def __init__(self, heading: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        self._heading = heading
        if heading:
            label = QLabel(heading, self)
            label.setWordWrap(True)
            theme.set_role(label, "heading")
            column.addWidget(label)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(theme.NEAR)
        self._grid.setVerticalSpacing(theme.TIGHT)
        self._grid.setColumnStretch(1, 1)
        column.addLayout(self._grid)
        self._labels: list[tuple[QLabel, FigureLabel]] = []
        self._beside = True

    def set_rows(self, rows: Sequence[Row]) -> None:
        """Show these rows in place of those before."""
        while len(self._labels) < len(rows):
            self._labels.append(self._new_row(len(self._labels)))
        for place, pair in enumerate(self._labels):
            shown = place < len(rows)
            if shown:
                self._show_row(pair, rows[place])
            for label in pair:
                label.setVisible(shown)
        self._arrange()

    def rows(self) -> list[tuple[str, str]]:
        """The names and values that are shown now."""
        return [(n.text(), v.text()) for n, v in self._labels if not n.isHidden()]

    def _new_row(self, row: int) -> tuple[QLabel, FigureLabel]:
        name, value = QLabel(self), FigureLabel("", self)
        for label in (name, value):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        value.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        for label in (name, value):
            label.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self._place(row, name, value)
        return name, value

    def _place(self, row: int, name: QLabel, value: QLabel) -> None:
        if self._beside:
            self._grid.addWidget(name, 2 * row, 0)
            self._grid.addWidget(value, 2 * row, 1)
        else:
            self._grid.addWidget(name, 2 * row, 0, 1, 2)
            self._grid.addWidget(value, 2 * row + 1, 0, 1, 2)

    def _least_widths(self) -> tuple[int, int]:
        """Of the names and of the values, [px]."""
        pairs = [(n, v) for n, v in self._labels if not n.isHidden()]
        names = (max(n.minimumSizeHint().width(), n.minimumWidth()) for n, _ in pairs)
        values = (v.minimumSizeHint().width() for _, v in pairs)
        return max(names, default=0), max(values, default=0)

    def minimumSizeHint(self) -> QSize:
        """As narrow as names and values are one under the other."""
        return QSize(max(self._least_widths()), super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Choose between beside and beneath."""
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        names, values = self._least_widths()
        beside = self.width() >= max(names + theme.NEAR + values, theme.width_of(self, 2 * _WIDEST))
        if beside == self._beside:
            return
        self._beside = beside
        for row, pair in enumerate(self._labels):
            for label in pair:
                self._grid.removeWidget(label)
            self._place(row, *pair)

    def _show_row(self, pair: tuple[QLabel, FigureLabel], row: Row) -> None:
        label, shown = pair
        name, value, role = row[:3]
        if label.text() != name:
            label.setText(name)
            widest = theme.width_of(label, _WIDEST)
            label.setMinimumWidth(min(label.fontMetrics().horizontalAdvance(name) + 1, widest))
        theme.set_role(shown, role)
        shown.setText(value)
        shown.setAccessibleName(f"{name}: {value}")
        has_words = any(map(str.isalpha, name))  # a mere number says nothing in a list of figures
        called = name if has_words else f"{self._heading} {name}".strip()
        shown.explain_as(row[3] if len(row) > 3 else "", called)
