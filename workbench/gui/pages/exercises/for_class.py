"""Who answers, and the class's file in which first answers are kept."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import (
    QFileDialog,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.pages.exercises.session import ClassRecord
from workbench.gui.pages.fitted import Fitted
from workbench.words import tr

SUFFIX = ".csv"
LONGEST_NAME = 80
_PAUSE = 10_000  # ms after which what could not be written is tried again


class ForClass(Fitted):
    """``renamed(text)``: who answers; ``another`` learner begins; ``written``: a file was tried."""

    renamed = Signal(str)
    another = Signal()
    written = Signal()

    def __init__(self, record: ClassRecord, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._record = record
        self._folder = Path.home()
        heading = QLabel(tr("For a class"), self)
        theme.set_role(heading, "heading")
        self.name = QLineEdit(self)
        self.name.setMaxLength(LONGEST_NAME)
        self.name.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        self.name.setPlaceholderText(tr("who answers"))
        self.name.setAccessibleName(tr("Name"))
        self.name.setToolTip(tr("Stands with each answer in the class's file, and nowhere else."))
        label = QLabel(tr("Name:"), self)
        label.setBuddy(self.name)
        self.nameless = self._label("caution")
        self.file_button = QPushButton(tr("Keep &results in …"), self)
        self.file_button.setToolTip(
            tr("A table (CSV) for the whole class. The first answer to each exercise is added at"
               " once; those already given go there too.")
        )  # fmt: skip
        self.file = self._label("muted")
        self.file.setProperty("userText", True)  # noqa: FBT003
        self.problem = self._label("problem")
        self.problem.setProperty("userText", True)  # noqa: FBT003
        self.retry_button = QPushButton(tr("&Write them now"), self)
        self.another_button = QPushButton(tr("Next &learner"), self)
        self.another_button.setToolTip(
            tr("Begin with an empty name and no answers. What is in the file stays there.")
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        for widget in (
            heading, label, self.name, self.nameless, self.file_button, self.file, self.problem,
            self.retry_button, self.another_button,
        ):  # fmt: skip
            column.addWidget(widget)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_PAUSE)
        self._connect()
        self.show_record()

    def _connect(self) -> None:
        self._timer.timeout.connect(self.write)
        self.name.textEdited.connect(self._on_renamed)
        self.file_button.clicked.connect(self._on_file)
        self.retry_button.clicked.connect(self.write)
        self.another_button.clicked.connect(self._on_another)

    def _label(self, role: str) -> QLabel:
        label = QLabel(self)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        label.setWordWrap(True)  # after the policy, to which it adds
        theme.set_role(label, role)
        return label

    def show_record(self) -> None:
        """Show where results go, and what is wrong with that."""
        record = self._record
        self._say(self.file, self._where())
        told = ""
        if record.problem:
            told = tr("Not written: {why}", why=record.problem)
            if record.waiting:
                told += " " + tr(
                    "{count} wait here and are tried again.", count=len(record.waiting)
                )
        self._say(self.problem, told)
        self.retry_button.setVisible(bool(record.problem and record.waiting))
        self.file_button.setAccessibleDescription(f"{self.file.text()} {told}".strip())
        needs_name = record.path is not None and not self.name.text().strip()
        words = tr("Caution: without a name nobody can tell whose answers these are.")
        self._say(self.nameless, words if needs_name else "")
        self.name.setAccessibleDescription(self.nameless.text())
        if record.problem and record.waiting and self.window().isVisible():
            self._timer.start()
        else:
            self._timer.stop()

    def _where(self) -> str:
        record = self._record
        if record.path is None:
            return tr("No file: results are not kept.")
        kept = len(record.rows) - len(record.waiting)
        return tr("{file}: {count} of this session kept.", file=record.path.name, count=kept)

    @staticmethod
    def _say(label: QLabel, text: str) -> None:
        label.setText(text)
        label.setVisible(bool(text))

    def hideEvent(self, event: QHideEvent) -> None:
        """Tries go on while another page is seen, and end with the window."""
        super().hideEvent(event)
        if not self.window().isVisible():
            self._timer.stop()

    def showEvent(self, event: QShowEvent) -> None:
        """Go on with what waits."""
        super().showEvent(event)
        self.show_record()

    # --- what a person does ---

    def write(self) -> None:
        """Try again to write what waits."""
        self._record.write()
        self.show_record()
        self.written.emit()

    def take_file(self, path: Path) -> None:
        """Keep results in this file from now on."""
        self._folder = path.parent
        self._record.keep_in(path)
        self.show_record()
        self.written.emit()

    def _on_file(self) -> None:
        start = self._record.path or self._folder / (tr("exercise results") + SUFFIX)
        name, _ = QFileDialog.getSaveFileName(
            self,
            tr("Keep results in"),
            str(start),
            tr("Tables") + f" (*{SUFFIX})",
            options=QFileDialog.Option.DontConfirmOverwrite,  # rows are added, nothing is replaced
        )
        if name:
            path = Path(name)
            self.take_file(path if path.suffix else path.with_name(path.name + SUFFIX))

    def _on_renamed(self, text: str) -> None:
        self.show_record()
        self.renamed.emit(text)

    def _on_another(self) -> None:
        self.name.clear()
        self.show_record()
        self.another.emit()
        self.name.setFocus(Qt.FocusReason.OtherFocusReason)
