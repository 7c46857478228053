"""The parts of a screen: texts that wrap, what is to be tried, and the question."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QMouseEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.pages.fitted import Fitted
from workbench.gui.pages.lessons.fields import TankFields
from workbench.gui.store import Store
from workbench.words import tr

LETTERS = "ABCDE"
"""By which answers are called."""


class Words(QLabel):
    """A text of a lesson's file; it wraps. Hidden while it is empty."""

    def __init__(self, role: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.setWordWrap(True)  # after the policy, to which it adds
        self.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        theme.set_role(self, role)

    def show_text(self, text: str, role: str | None = None) -> None:
        """Show a text, or nothing."""
        if role is not None:
            theme.set_role(self, role)
        self.setText(text)
        self.setVisible(bool(text))


class Paragraphs(Fitted):
    """Several texts beneath each other, a little apart."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._labels: list[Words] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.CLOSE)

    def show_texts(self, texts: Sequence[str]) -> None:
        """Show these texts in place of those before."""
        while len(self._labels) < len(texts):
            label = Words(parent=self)
            self._column.addWidget(label)
            self._labels.append(label)
        for place, label in enumerate(self._labels):
            label.show_text(texts[place] if place < len(texts) else "")

    def text(self) -> str:
        """All that is shown."""
        return "\n".join(label.text() for label in self._labels if not label.isHidden())


class Told(Words):
    """A text that comes while a person works: it is announced to a screen reader."""

    def tell(self, text: str, role: str) -> None:
        """Show it, and say it aloud if it is new."""
        is_new = text != self.text()
        self.show_text(text, role)
        if text and is_new and QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, text))


class TryBox(Fitted):
    """One thing to try, and whether it was done."""

    def __init__(self, tank: Store, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        heading = QLabel(tr("Try it"), self)
        theme.set_role(heading, "heading")
        self.task = Words(parent=self)
        self.fields = TankFields(tank, self)
        self.state = Told("muted", self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        for part in (heading, self.task, self.fields, self.state):
            column.addWidget(part)

    def show_task(self, task: str, offered: Collection[str]) -> None:
        """Show what is to be done, and the entries that can be typed for it."""
        self.task.show_text(task)
        self.fields.show_tank(offered)

    def show_state(self, done: str) -> None:
        """Show that it was done, with what there is to be said, or that it was not yet."""
        if done:
            self.state.tell(tr("Done. {words}", words=done), "good")
        else:
            self.state.show_text(tr("Not done yet."), "muted")


class _AnswerWords(Words):
    """The words of an answer; a click on them is a click on its letter."""

    def __init__(self, button: QToolButton, parent: QWidget) -> None:
        super().__init__(parent=parent)
        self._button = button

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Choose the answer."""
        is_inside = self.rect().contains(event.position().toPoint())
        if event.button() == Qt.MouseButton.LeftButton and is_inside:
            self._button.click()
        super().mouseReleaseEvent(event)


class QuestionBox(Fitted):
    """A question with its answers, each chosen by its letter; ``chosen(number)`` from 0."""

    chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        heading = QLabel(tr("Question"), self)
        theme.set_role(heading, "heading")
        self.ask = Words(parent=self)
        self.verdict = Told("good", self)
        self.buttons: list[QToolButton] = []
        self.answers: list[Words] = []
        grid = QGridLayout()
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(theme.CLOSE)
        grid.setVerticalSpacing(theme.TIGHT)
        grid.setColumnStretch(1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        column.addWidget(heading)
        column.addWidget(self.ask)
        column.addLayout(grid)
        column.addWidget(self.verdict)
        for row, letter in enumerate(LETTERS):
            button = QToolButton(self)
            button.setText(letter)
            button.setCheckable(True)
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            button.setMinimumWidth(theme.TARGET + theme.CLOSE)
            button.clicked.connect(self._on_clicked)
            words = _AnswerWords(button, self)
            grid.addWidget(button, row, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(words, row, 1, Qt.AlignmentFlag.AlignVCenter)
            self.buttons.append(button)
            self.answers.append(words)

    def show_question(self, ask: str, answers: list[str]) -> None:
        """Show a question in place of the one before."""
        self.ask.show_text(ask)
        for number, (button, words) in enumerate(zip(self.buttons, self.answers, strict=True)):
            text = answers[number] if number < len(answers) else ""
            words.show_text(text)
            button.setVisible(bool(text))
            button.setAccessibleName(f"{button.text()}: {text}")

    def show_verdict(self, chosen: int | None, is_right: bool, why: str) -> None:
        """Mark the answer that was chosen, and say whether it is right and why."""
        for number, button in enumerate(self.buttons):
            button.setChecked(number == chosen)
        if chosen is None:
            self.verdict.show_text("")
        elif is_right:
            letter = LETTERS[chosen]
            self.verdict.tell(tr("{letter} is right. {why}", letter=letter, why=why), "good")
        else:
            letter = LETTERS[chosen]
            told = tr("Not {letter}. {why} Try again.", letter=letter, why=why)
            self.verdict.tell(told, "caution")

    def _on_clicked(self) -> None:
        button = self.sender()
        if isinstance(button, QToolButton):
            self.chosen.emit(self.buttons.index(button))
