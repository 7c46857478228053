"""Whether an answer is right, in words, and what one may do next."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.pages.exercises.in_a_row import InARow
from workbench.gui.pages.exercises.session import Attempt
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.fitted import Fitted
from workbench.gui.pages.steps import step_rows
from workbench.study.exercises.exercise import Exercise, Figure
from workbench.study.exercises.marking import Marked
from workbench.words import tr


class Verdict(Fitted):
    """The button that checks, the verdict beneath it, and the working once it is wanted."""

    check = Signal()
    again = Signal()
    working_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.check_button = QPushButton(tr("Chec&k"), self)
        theme.set_role(self.check_button, "primary")
        self.check_button.setToolTip(tr("Or press Enter where you answer."))
        self.again_button = QPushButton(tr("&Try again"), self)
        self.working_button = QPushButton(tr("&Show the working"), self)
        self.head = self._label()
        self.told = self._label()
        self.counts = self._label()
        theme.set_role(self.counts, "muted")
        self.working = Facts(tr("The working"), self)
        buttons = InARow(self.check_button, self.again_button, self.working_button, parent=self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.CLOSE)
        for widget in (buttons, self.head, self.told, self.counts, self.working):
            column.addWidget(widget)
        self.check_button.clicked.connect(self.check)
        self.again_button.clicked.connect(self.again)
        self.working_button.clicked.connect(self.working_wanted)

    def _label(self) -> QLabel:
        label = QLabel(self)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        label.setWordWrap(True)  # after the policy, to which it adds
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        return label

    def show_attempt(self, exercise: Exercise, attempt: Attempt, *, is_last: bool) -> None:
        """Show what is known of the answer as it stands."""
        marked, is_answered = attempt.marked, attempt.first is not None
        self.again_button.setVisible(marked is not None and not marked.right)
        self.working_button.setVisible(is_answered and not attempt.shows_working)
        self.working.setVisible(is_answered and attempt.shows_working)
        if attempt.shows_working:
            self.working.set_rows(step_rows(exercise.working))
        if marked is None:
            self._say(tr("Not checked yet.") if is_answered else "", "muted", "")
        else:
            self._say(*verdict_of(exercise, marked), marked.remedy)
        on = marked is not None and marked.right and not is_last
        leads_on = tr("Enter leads on to the next.") if on else ""
        self.counts.setText(f"{_counting(attempt)} {leads_on}".strip())
        self.counts.setVisible(bool(self.counts.text()))

    def say_missing(self, why: str) -> None:
        """Say what an answer lacks that cannot be marked yet."""
        self._say(why, "caution", "")
        self.announce()

    def announce(self) -> None:
        """Tell the verdict to a screen reader, wherever the focus is."""
        if QAccessible.isActive():
            text = self.spoken()
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, text))

    def spoken(self) -> str:
        """All that is said now."""
        labels = (self.head, self.told, self.counts)
        return " ".join(label.text() for label in labels if label.text() and not label.isHidden())

    def _say(self, head: str, role: str, more: str) -> None:
        theme.set_role(self.head, role)
        self.head.setText(head)
        self.told.setText(more)
        self.head.setVisible(bool(head))
        self.told.setVisible(bool(more))
        self.check_button.setAccessibleDescription(f"{head} {more}".strip())


def verdict_of(exercise: Exercise, marked: Marked) -> tuple[str, str]:
    """The verdict, which names the error, and its role in the theme."""
    if marked.right:
        return marked.words, "good" if marked.slip is None else "caution"
    if isinstance(exercise.ask, Figure):  # of a figure the words tell only whence it comes
        return tr("Not right. {words}", words=marked.words), "problem"
    return marked.words, "problem"


def _counting(attempt: Attempt) -> str:
    """Which answer counts, once there is another than the first."""
    if attempt.first is None:
        return ""
    if attempt.first is attempt.marked:
        return tr("The first answer counts for the class record: this one.")
    if attempt.first.right:
        return tr("The first answer counts for the class record: it was right.")
    return tr("The first answer counts for the class record: it was not right.")
