"""Every reading at the sound system and at the faulty one, with a sign where they differ.

A reading takes one row; where that is too wide, three: name, tools and verdict, figures.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import FigureLabel
from workbench.gui.pages.faults.sign import Sign
from workbench.gui.pages.fitted import Fitted
from workbench.gui.pages.sideways import Sideways
from workbench.study.faults.view import FaultsView, ReadingRow
from workbench.study.faults.words import (
    can_be_taken,
    reason_text,
    tolerance_text,
    tools_text,
    value_text,
    verdict_text,
)
from workbench.units import Display
from workbench.words import tr

_DIFFERS, _SAME = "fail", "pass"
Places = tuple[tuple[int, int, int], ...]
"""Line, column, and how many columns it spans, of each part of a row."""
_IN_ONE_ROW: Places = ((0, 0, 1), (0, 1, 1), (0, 2, 1), (0, 3, 1), (0, 4, 1), (0, 5, 1))
_IN_THREE: Places = ((0, 0, 3), (1, 0, 2), (2, 0, 1), (2, 1, 1), (2, 2, 1), (1, 2, 1))


class _Row(NamedTuple):
    """The widgets of one row: name, tools, sound, faulty, ±, verdict."""

    name: QLabel
    tools: QLabel
    sound: FigureLabel
    faulty: FigureLabel
    tolerance: FigureLabel
    verdict: Sign

    def texts(self) -> list[str]:
        return [label.text() for label in self]


class ReadingsTable(Fitted):
    """A heading, the names of the columns, and a row for each reading that can be taken."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.heading = QLabel(tr("What can be read"), self)
        self.heading.setWordWrap(True)
        theme.set_role(self.heading, "heading")
        self.reasons, self.remark = _wrapped(self), _wrapped(self)
        theme.set_role(self.remark, "muted")
        self.remark.setText(_remark())
        self._cells = QWidget()
        self._grid = QGridLayout(self._cells)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(theme.NEAR)
        self._grid.setVerticalSpacing(theme.TIGHT)
        self._rows: list[_Row] = []
        self._columns = [QLabel(text, self._cells) for text in _columns()]
        for label in self._columns:
            theme.set_role(label, "muted")
        self._places = _IN_ONE_ROW
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        column.addWidget(self.heading)
        column.addWidget(Sideways(self._cells, self.heading.text(), self))
        column.addWidget(self.reasons)
        column.addWidget(self.remark)

    def show_view(self, view: FaultsView, display: Display) -> None:
        """Show the readings of a view; those that neither system allows are left out."""
        places = [place for place, row in enumerate(view.rows) if can_be_taken(row)]
        rows = [view.rows[place] for place in places]
        while len(self._rows) < len(rows):
            self._rows.append(_new_row(self._cells))
        for shown, row, place in zip(self._rows, rows, places, strict=False):
            _show_row(shown, row, self._columns, display)
            _explain_row(shown, row.reading.name, place, self._columns)
        reasons = [reason_text(row) for row in rows]
        self.reasons.setText(" ".join(filter(None, reasons)))
        self.reasons.setVisible(any(reasons))
        for place, shown in enumerate(self._rows):
            for label in shown:
                label.setVisible(place < len(rows))
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """One row for a reading, or three."""
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self._arrange()

    def changeEvent(self, event: QEvent) -> None:
        """The same for another size of the text."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._arrange()

    def texts(self) -> list[list[str]]:
        """What stands in the rows that are shown."""
        return [row.texts() for row in self._rows if not row.name.isHidden()]

    def _arrange(self) -> None:
        """Put the labels into the grid for the width that there is."""
        lines = [self._columns, *self._rows]
        columns = [
            max(label.sizeHint().width() for label in column) for column in zip(*lines, strict=True)
        ]
        wide = sum(columns) + self._grid.horizontalSpacing() * (len(columns) - 1)
        before, self._places = self._places, _IN_ONE_ROW if wide <= self.width() else _IN_THREE
        if before is self._places and self._grid.count() == len(lines) * len(columns):
            return
        deep = 1 + max(line for line, _, _ in self._places)
        for number, labels in enumerate(lines):
            for place, (label, at) in enumerate(zip(labels, self._places, strict=True)):
                line, column, span = at
                self._grid.addWidget(label, number * deep + line, column, 1, span, _side(place))
            gap = theme.CLOSE if number and deep > 1 else 0
            labels[0].setContentsMargins(0, gap, 0, 0)
        for column in range(len(columns) + 1):
            self._grid.setColumnStretch(column, int(column == _end(self._places)))


def _end(places: Places) -> int:
    """The column after the last one, which takes what width is left."""
    return max(column + span for _, column, span in places)


def _new_row(parent: QWidget) -> _Row:
    figures = FigureLabel("", parent), FigureLabel("", parent), FigureLabel("", parent)
    row = _Row(QLabel(parent), QLabel(parent), *figures, Sign(parent))
    for label in row:
        label.setTextFormat(Qt.TextFormat.PlainText)
    theme.set_role(row.tools, "muted")
    theme.set_role(row.tolerance, "muted")
    return row


def _wrapped(parent: QWidget) -> QLabel:
    label = QLabel(parent)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    label.setWordWrap(True)  # after the policy, to which it adds
    return label


def _remark() -> str:
    return tr(
        "Two readings differ where they are further apart than both tolerances explain, about 95 in"
        " 100: more than twice the root of the sum of a²/3 (GUM, JCGM 100:2008, 4.3.7 and 6.3.3)."
        " Point at a name to read how it is taken. Minutes are our own round figures."
    )


def _columns() -> tuple[str, ...]:
    return (
        tr("Reading"),
        tr("With, minutes"),
        tr("Sound"),
        tr("Faulty"),
        tr("Tolerance"),
        tr("Verdict"),
    )


def _side(place: int) -> Qt.AlignmentFlag:
    """Figures at the right, words at the left."""
    return Qt.AlignmentFlag.AlignRight if place in (2, 3, 4) else Qt.AlignmentFlag.AlignLeft


def _explain_row(shown: _Row, name: str, place: int, columns: Sequence[QLabel]) -> None:
    """Which figures of the row can be explained; ``place`` among all readings of the view."""
    words = ("sound", "faulty", "tolerance", "differs")
    for word, label, column in zip(words, shown[2:], columns[2:], strict=True):
        label.explain_as(f"faults.{word}:{place}", f"{name}, {column.text()}")


def _show_row(shown: _Row, row: ReadingRow, columns: Sequence[QLabel], display: Display) -> None:
    reading = row.reading
    taken = row.faulty if row.faulty.value is not None else row.healthy
    texts = (
        reading.name,
        tools_text(reading),
        value_text(row.healthy, reading, display),
        value_text(row.faulty, reading, display),
        tolerance_text(taken, reading, display),
    )
    for label, text in zip(shown, texts, strict=False):
        label.setText(text)
    shown.name.setToolTip(reading.how)
    shown.name.setAccessibleDescription(reading.how)
    for label, column in zip(shown[1:], columns[1:], strict=True):
        label.setAccessibleName(f"{reading.name}, {column.text()}: {label.text()}")
    shown.faulty.setFont(theme.font(bold=row.differs))
    theme.set_role(shown.verdict, "problem" if row.differs else "")
    shown.verdict.show_sign(_DIFFERS if row.differs else _SAME, verdict_text(row))
    shown.verdict.setAccessibleName(f"{reading.name}: {shown.verdict.text()}")
