"""A hidden fault: readings are taken one by one, each costs minutes, then it is named."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QKeyEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.pages.exercises.ask import ENTER, Ask, Choices
from workbench.gui.pages.exercises.session import Attempt
from workbench.gui.pages.fitted import Fitted
from workbench.job.teach_choices import faults
from workbench.study.exercises.exercise import Answer, Exercise, Hunt, HuntAnswer, Offered
from workbench.words import tr


class TakeButton(QPushButton):
    """Takes one reading; Enter presses it as Space does."""

    taken = Signal(str)

    def __init__(self, reading: Offered, parent: QWidget) -> None:
        super().__init__(tr("Take"), parent)
        self._key = reading.key
        self.setAccessibleName(tr("Take: {reading}", reading=reading.name))
        self.setToolTip(reading.how)
        self.setWhatsThis(reading.how)
        self.clicked.connect(self._on_clicked)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button."""
        if event.key() in ENTER:
            self.click()
        else:
            super().keyPressEvent(event)

    def _on_clicked(self) -> None:
        self.taken.emit(self._key)


class HuntAsk(Ask):
    """Asks which fault there is; what a reading shows is told only once it is taken."""

    def __init__(self, exercise: Exercise, attempt: Attempt, parent: QWidget | None = None) -> None:
        super().__init__(attempt, parent)
        assert isinstance(exercise.ask, Hunt)  # noqa: S101 - who makes it looks
        self._hunt = exercise.ask
        self._mark = exercise.display.mark
        self.buttons: dict[str, TakeButton] = {}
        self.shown: dict[str, QLabel] = {}
        readings = self._readings()
        self.spent = QLabel(self)
        theme.set_role(self.spent, "heading")
        labels = faults()
        self._suspects = [labels[one].label for one in self._hunt.suspects]
        self.choices = Choices(tr("Faults"), self._suspects, self)
        self.choices.choose(attempt.picked)
        self.choices.chosen.connect(self._on_chosen)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.CLOSE)
        column.addWidget(readings)
        column.addWidget(self.spent)
        column.addWidget(self.choices)
        for key in attempt.taken:
            self._show(key)
        self._count()
        self.first = next(iter(self.buttons.values()))

    def _readings(self) -> QWidget:
        """A button for each reading, beside it what it is, how long it takes, and what it showed.

        What it shows takes the place of the tool, so that nothing moves.
        """
        body = Fitted(self)
        grid = QGridLayout(body)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(theme.NEAR)
        grid.setVerticalSpacing(0)
        grid.setColumnStretch(1, 1)
        top = Qt.AlignmentFlag.AlignTop
        for row, reading in enumerate(self._hunt.offered):
            button = TakeButton(reading, body)
            button.taken.connect(self._on_taken)
            name, shown = QLabel(reading.name, body), QLabel(body)
            for label in (name, shown):
                label.setTextFormat(Qt.TextFormat.PlainText)
                label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
                label.setWordWrap(True)  # after the policy, to which it adds
            theme.set_role(shown, "muted")
            minutes = self._minutes(reading.minutes)
            shown.setText(tr("{minutes} min, {tool}", minutes=minutes, tool=reading.tool))
            grid.addWidget(button, 3 * row, 0, 2, 1, Qt.AlignmentFlag.AlignVCenter)
            grid.addWidget(name, 3 * row, 1)
            grid.addWidget(shown, 3 * row + 1, 1, top)
            grid.setRowMinimumHeight(3 * row + 2, theme.CLOSE)
            self.buttons[reading.key], self.shown[reading.key] = button, shown
        return body

    def _minutes(self, minutes: float) -> str:
        return f"{minutes:g}".replace(".", self._mark)

    def answer(self) -> Answer | str:
        """The fault that is named, and what was read before."""
        picked = self.attempt.picked
        if picked is None:
            return tr("Choose a fault first.")
        return HuntAnswer(self._hunt.suspects[picked], self.attempt.taken)

    def typed(self) -> str:
        """The name of the fault."""
        picked = self.attempt.picked
        return "" if picked is None else self._suspects[picked]

    # --- what a person does ---

    def _on_taken(self, key: str) -> None:
        if key in self.attempt.taken:
            return
        self.attempt.taken = (*self.attempt.taken, key)
        self._show(key)
        self._count()
        if QAccessible.isActive():
            told = f"{self.shown[key].text()}. {self.spent.text()}"
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, told))
        self.changed.emit()

    def _on_chosen(self, place: int) -> None:
        if place != self.attempt.picked:
            self.attempt.picked = place
            self.changed.emit()

    def _show(self, key: str) -> None:
        reading, label, button = self._hunt.reading(key), self.shown[key], self.buttons[key]
        minutes = self._minutes(reading.minutes)
        theme.set_role(label, "heading")
        label.setText(tr("{shown}, {minutes} min", shown=reading.shown, minutes=minutes))
        label.setAccessibleName(f"{reading.name}: {reading.shown}")
        button.setAccessibleDescription(tr("Taken: {shown}", shown=reading.shown))
        button.setText(tr("Taken"))
        had_focus = button.hasFocus()
        button.setEnabled(False)
        if had_focus:
            self._next(key).setFocus(Qt.FocusReason.OtherFocusReason)

    def _next(self, key: str) -> QWidget:
        """Where the keyboard goes from a reading that is taken: to the next, then to the faults."""
        keys = list(self.buttons)
        for later in keys[keys.index(key) + 1 :]:
            if self.buttons[later].isEnabled():
                return self.buttons[later]
        return self.choices.focus_place()

    def _count(self) -> None:
        taken = self.attempt.taken
        self.spent.setText(
            tr(
                "Readings taken: {count}. Minutes: {minutes}",
                count=len(taken),
                minutes=self._minutes(self._hunt.minutes(taken)),
            )
        )
