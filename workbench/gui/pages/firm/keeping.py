"""Whether the job's entries are the firm's, and the two buttons that make them so."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.pages.answer import Answer
from workbench.gui.pages.firm.kept import Kept
from workbench.job import firm
from workbench.job.job import Job
from workbench.safe_file import SaveError
from workbench.words import tr


class Keeping(QWidget):
    """``taken(entries)`` is emitted when a person wants the firm's in the place of the job's."""

    taken = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kept = Kept()
        self._job = Job()
        self._told_of: Job | None = None  # the job that was kept when something was told
        self.answer = Answer(tr("The firm's entries in this job"), self, key="firm.entries")
        self.keep_button = QPushButton(tr("&Keep as our firm's"), self)
        self.keep_button.setToolTip(
            tr("Write letterhead, logo, prices, clauses and parts of this job into the firm's file,"
               " with which every new job begins.")
        )  # fmt: skip
        self.take_button = QPushButton(tr("&Take our firm's"), self)
        self.take_button.setToolTip(
            tr("Put what is kept in the place of this job's, in one step that can be undone.")
        )
        self.told = QLabel(self)
        self.told.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.told.setWordWrap(True)
        self.told.hide()
        self.keep_button.clicked.connect(self._on_keep)
        self.take_button.clicked.connect(self._on_take)
        buttons = QHBoxLayout()
        for button in (self.keep_button, self.take_button):
            buttons.addWidget(button)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.CLOSE)
        column.addWidget(self.answer)
        column.addLayout(buttons)
        column.addWidget(self.told)

    def look(self) -> None:
        """Read the firm's file again: another window may have written it."""
        self._kept.read()

    def entries(self) -> dict[str, Any] | None:
        """What the firm's file held when it was last read; None if it cannot be read."""
        return self._kept.entries

    def show_job(self, job: Job) -> None:
        """Hold this job's entries against the firm's."""
        self._job = job
        self.answer.show_answer(*self._kept.answer(job))
        entries = self._kept.entries
        differs = entries is not None and bool(firm.differing(job, entries))
        own = self._kept.own
        self.take_button.setText(tr("&Take our firm's") if own else tr("&Take the starting ones"))
        self.take_button.setEnabled(differs)
        self.keep_button.setEnabled(not self._kept.own or entries is None or differs)
        if job is not self._told_of:
            self._tell("", "muted")

    def _on_keep(self) -> None:
        try:
            done = self._kept.keep(self._job)
        except SaveError as error:
            self._tell(tr("Not kept: {why}", why=error), "problem")
            return
        self._tell(done, "good")
        self.show_job(self._job)

    def _on_take(self) -> None:
        if self._kept.entries is not None:
            self.taken.emit(self._kept.entries)

    def _tell(self, text: str, role: str) -> None:
        self._told_of = self._job if text else None
        theme.set_role(self.told, role)
        self.told.setText(text)
        self.told.setVisible(bool(text))
        self.keep_button.setAccessibleDescription(text)
