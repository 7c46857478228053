"""What every way to answer has in common, and the two plain ones: a figure, and one of several."""

from __future__ import annotations

from collections.abc import Sequence
from string import ascii_uppercase
from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QGridLayout,
    QLabel,
    QLineEdit,
    QRadioButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.fields.field_row import ROLES, FieldRow
from workbench.gui.fields.quantity_field import QuantityField
from workbench.gui.pages.exercises.session import Attempt
from workbench.gui.pages.fitted import Fitted
from workbench.study.exercises.exercise import Answer, Exercise, Figure, Pick
from workbench.study.findings import Level
from workbench.units import Display, Kind, Quantity, UnitError, Unread, parse
from workbench.words import tr

ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class Ask(Fitted):
    """Where one exercise is answered. It writes into the attempt what a person does.

    ``changed`` comes when that is another answer than before, ``entered`` with Enter.
    """

    changed = Signal()
    entered = Signal()

    def __init__(self, attempt: Attempt, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.attempt = attempt
        self.first: QWidget = self
        """Where the focus belongs."""

    def answer(self) -> Answer | str:
        """The answer as it stands, or in words what it lacks."""
        raise NotImplementedError

    def typed(self) -> str:
        """The answer as the class's record tells it."""
        raise NotImplementedError

    def stand_between(self, before: QWidget, after: QWidget) -> None:
        """Let Tab come here from the one and go on to the other."""
        for one in self.findChildren(QWidget):
            if one.focusPolicy() & Qt.FocusPolicy.TabFocus:
                QWidget.setTabOrder(before, one)
                before = one
        QWidget.setTabOrder(before, after)

    def begin_again(self) -> None:
        """Put the focus where another answer is given."""
        self.first.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter asks for the verdict, whatever of the answer has the focus."""
        if event.key() in ENTER:
            self.entered.emit()
        else:
            super().keyPressEvent(event)


# --- a figure ---


class AnswerField(QuantityField):
    """A quantity in the unit that an exercise asks for; with a history of its own."""

    def __init__(self, kind: Kind, unit: str, parent: QWidget | None = None) -> None:
        super().__init__(kind, parent=parent)
        self._kind = kind
        self._unit = unit

    def event(self, event: QEvent) -> bool:
        """Undo takes back what was typed here: it is no entry of the job."""
        return QLineEdit.event(self, event)

    def unit_text(self, _display: Display) -> str:
        """The unit in which a bare number is meant."""
        return self._unit

    def _read(self, text: str) -> Any:
        if not text.strip():
            return None
        try:
            return parse(text, self._kind, self._display.mark, self._unit)
        except UnitError as error:
            return Unread(text, str(error), error.remedy)


class FigureAsk(Ask):
    """Asks for a number with its unit."""

    def __init__(self, exercise: Exercise, attempt: Attempt, parent: QWidget | None = None) -> None:
        super().__init__(attempt, parent)
        assert isinstance(exercise.ask, Figure)  # noqa: S101 - who makes it looks
        ask = exercise.ask
        self._display = exercise.display
        self.field = AnswerField(ask.kind, ask.unit, self)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(theme.CLOSE)
        grid.setColumnStretch(2, 1)
        help_text = tr("Other units are understood too. Enter checks the answer.")
        self.row = FieldRow(grid, tr("Answer"), self.field, help_text)
        self.row.show_unit(self.field.unit_text(self._display))
        self.field.show_entry(attempt.entry, self._display)
        self.field.entered.connect(self._on_entered)
        self.first = self.field
        self._tell()

    def answer(self) -> Answer | str:
        """The value [SI]."""
        entry = self.attempt.entry
        if isinstance(entry, Quantity):
            return float(entry.si)
        return tr("Type an answer first.") if entry is None else tr("It cannot be read yet.")

    def typed(self) -> str:
        """As it was typed, with its unit."""
        entry = self.attempt.entry
        if not isinstance(entry, Quantity) or self.field.kind is None:
            return self.field.text()
        return str(entry).replace(".", self._display.mark)

    def begin_again(self) -> None:
        """Have all that was typed selected, to be typed over."""
        super().begin_again()
        self.field.selectAll()

    def _on_entered(self, entry: Any, _episode: int) -> None:
        if entry != self.attempt.entry:
            self.attempt.entry = entry
            self._tell()
            self.changed.emit()

    def _tell(self) -> None:
        entry = self.attempt.entry
        if isinstance(entry, Unread):
            told = tr("Stop: {why} {remedy}", why=entry.why, remedy=entry.remedy).strip()
            self.row.show_message(told, ROLES[Level.STOP])
        else:
            self.row.show_message(self.field.echo(), "muted")


# --- one of several ---


class Choices(Fitted):
    """Texts of any length to choose one from, by mouse, arrow keys or the letter before each."""

    chosen = Signal(int)

    def __init__(self, name: str, texts: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.group = QButtonGroup(self)
        self._labels: dict[QObject, QRadioButton] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(theme.TIGHT)
        grid.setVerticalSpacing(theme.TIGHT)
        grid.setColumnStretch(1, 1)
        for place, text in enumerate(texts):
            self._add(grid, place, text)
        self.group.idClicked.connect(self.chosen)

    def _add(self, grid: QGridLayout, place: int, text: str) -> None:
        """A button whose text stands beside it, where it can wrap."""
        letter = ascii_uppercase[place]
        button = QRadioButton(self)
        button.setMinimumSize(theme.TARGET, theme.TARGET)
        button.setAccessibleName(tr("{letter}: {text}", letter=letter, text=text))
        label = QLabel(self)
        shown = tr("{letter}. {text}", letter=letter, text=text)
        label.setText(shown.replace("&", "&&"))  # beside its buddy a single one makes a key
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        label.setWordWrap(True)  # after the policy, to which it adds
        label.setBuddy(button)
        label.installEventFilter(self)
        self._labels[label] = button
        self.group.addButton(button, place)
        top = Qt.AlignmentFlag.AlignTop
        grid.addWidget(button, place, 0, top)
        grid.addWidget(label, place, 1)

    def choose(self, place: int | None) -> None:
        """Show what is chosen."""
        button = self.group.button(-1 if place is None else place)
        if button is not None:
            button.setChecked(True)

    def focus_place(self) -> QWidget:
        """The button at which the keyboard comes in."""
        return self.group.checkedButton() or self.group.button(0)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A text is as good to click as its button."""
        button = self._labels.get(watched)
        if button is not None and isinstance(event, QMouseEvent):
            if event.type() == QEvent.Type.MouseButtonRelease:
                button.setFocus(Qt.FocusReason.MouseFocusReason)
                button.click()
            return True
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """The letter before a text chooses it."""
        letter = event.text().upper()
        button = self.group.button(ascii_uppercase.find(letter)) if len(letter) == 1 else None
        if button is None:
            super().keyPressEvent(event)
            return
        button.setFocus(Qt.FocusReason.ShortcutFocusReason)
        button.click()


class PickAsk(Ask):
    """Asks for one of several answers."""

    def __init__(self, exercise: Exercise, attempt: Attempt, parent: QWidget | None = None) -> None:
        super().__init__(attempt, parent)
        assert isinstance(exercise.ask, Pick)  # noqa: S101 - who makes it looks
        self._options = exercise.ask.options
        self.choices = Choices(tr("Answers"), [one.text for one in self._options], self)
        self.choices.choose(attempt.picked)
        self.choices.chosen.connect(self._on_chosen)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.choices)
        self.first = self.choices.focus_place()

    def answer(self) -> Answer | str:
        """The place of the option that is chosen."""
        picked = self.attempt.picked
        return tr("Choose an answer first.") if picked is None else picked

    def typed(self) -> str:
        """The text of the option."""
        picked = self.attempt.picked
        return "" if picked is None else self._options[picked].text

    def _on_chosen(self, place: int) -> None:
        self.first = self.choices.focus_place()
        if place != self.attempt.picked:
            self.attempt.picked = place
            self.changed.emit()
