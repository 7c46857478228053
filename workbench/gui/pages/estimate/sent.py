"""The window of what was sent: every revision, and what lies between two, or one and now."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.fields.choice_field import ChoiceField
from workbench.gui.pages.abreast import Abreast
from workbench.gui.pages.estimate import words
from workbench.gui.pages.estimate.flow import FlowRow
from workbench.gui.pages.estimate.text_table import TextTable
from workbench.job.prices import Revision
from workbench.report.revisions import Difference, against, differences
from workbench.study.evaluate import Results
from workbench.units import Display
from workbench.words import tr

NOW = 0
"""Stands for the present inputs among the numbers of the revisions, which begin with 1."""
_WIDE, _HIGH = 110, 32  # digits and lines that it asks for, if the screen has them


class SentDialog(QDialog):
    """Lists the revisions that the job keeps and compares the one that is marked; ``open()`` it.

    It begins with the last revision against the present inputs.
    """

    def __init__(self, results: Results, display: Display, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._results, self._display = results, display
        self._revisions = results.job.revisions
        self._found: tuple[Difference, ...] = ()
        self.setWindowTitle(tr("What was sent"))
        self._lay_out()
        self.list.show_rows([words.revision_row(one) for one in self._revisions])
        self.list.selectRow(len(self._revisions) - 1)
        self.list.selectionModel().currentRowChanged.connect(self.compare)
        self.other.chosen.connect(self.compare)
        self.compare()
        self.resize(self.sizeHint())

    # --- making ---

    def _lay_out(self) -> None:
        headings = (tr("Sent as"), tr("Date"), tr("Totals"), tr("Fingerprint"), tr("Program"))
        self.list = TextTable(tr("Revisions sent"), headings, self)
        self.list.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        now = {NOW: tr("the estimate as it is now")}
        numbers = {one.number: words.revision_name(one.number) for one in self._revisions}
        self.other = ChoiceField(now | numbers, self)
        self.other.setMinimumContentsLength(max(map(len, (now | numbers).values())))
        other_label = QLabel(tr("Compare the marked one with:"), self)
        other_label.setBuddy(self.other)
        self.summary = QLabel(self)
        self.summary.setWordWrap(True)
        self.summary.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        lines = (tr("Line"), tr("Change"), tr("Before"), tr("After"))
        self.table = TextTable(tr("Lines that differ"), lines, self)
        column = QVBoxLayout(self)
        column.setContentsMargins(theme.APART, theme.NEAR, theme.APART, theme.NEAR)
        column.setSpacing(theme.CLOSE)
        column.addWidget(self._heading(tr("Revisions")))
        column.addWidget(self.list, 1)
        column.addWidget(self._heading(tr("Differences")))
        column.addWidget(FlowRow(other_label, self.other, parent=self))
        column.addWidget(self.summary)
        column.addWidget(self.table, 3)
        column.addWidget(self._buttons())

    def _heading(self, text: str) -> QLabel:
        label = QLabel(text, self)
        theme.set_role(label, "heading")
        return label

    def _buttons(self) -> QWidget:
        self.copy_differences = QPushButton(tr("&Copy the differences"), self)
        self.copy_differences.clicked.connect(self._on_copy_differences)
        self.copy_sent = QPushButton(tr("Copy what was &sent"), self)
        self.copy_sent.clicked.connect(self._on_copy_sent)
        self.close_button = QPushButton(tr("C&lose"), self)
        self.close_button.clicked.connect(self.accept)
        self.close_button.setDefault(True)
        return Abreast(self.copy_differences, self.copy_sent, self.close_button, parent=self)

    def sizeHint(self) -> QSize:
        """Large enough for whole sentences, as far as the screen has room."""
        wish = QSize(theme.width_of(self, _WIDE), self.fontMetrics().height() * _HIGH)
        room = self.screen().availableSize() - QSize(theme.WIDE, 2 * theme.WIDE)  # its frame
        return wish.expandedTo(self.minimumSizeHint()).boundedTo(room)

    # --- showing ---

    @property
    def marked(self) -> Revision:
        """The revision that is compared."""
        return self._revisions[max(0, self.list.currentIndex().row())]

    def compare(self) -> None:
        """Show what differs between the marked revision and the other one that is chosen."""
        other = self.other.value_at(self.other.currentIndex())
        assert isinstance(other, int)  # noqa: S101 - it was given no others
        if other == NOW:
            self._found = against(self.marked, self._results, self._display)
        else:
            after = next(one for one in self._revisions if one.number == other)
            self._found = differences(self.marked, after)
        self.summary.setText(words.comparison(self.marked.number, other, len(self._found)))
        self.table.show_rows([words.difference_row(one) for one in self._found])
        self.copy_differences.setEnabled(bool(self._found))

    def found(self) -> Sequence[Difference]:
        """What is shown."""
        return self._found

    # --- what a person does ---

    def _on_copy_differences(self) -> None:
        text = f"{self.summary.text()}\n{self.table.texts.as_tsv()}"
        QGuiApplication.clipboard().setText(text)

    def _on_copy_sent(self) -> None:
        QGuiApplication.clipboard().setText(_kept(self.marked))


def _kept(revision: Revision) -> str:
    """All that the job keeps of a revision, one line to a line."""
    head = "\t".join(words.revision_row(revision))
    return "\n".join((head, *("\t".join(line) for line in revision.lines)))
