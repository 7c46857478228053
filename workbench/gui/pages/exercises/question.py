"""One exercise as it is told: its place in the set, its story, what is given, what is asked."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.fields.choice_field import ListField
from workbench.gui.fields.field_row import ROLES
from workbench.gui.pages.exercises.in_a_row import InARow
from workbench.gui.pages.exercises.session import Learner
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.fitted import Fitted
from workbench.study.exercises.exercise import Exercise, Figure, topics
from workbench.study.findings import Level
from workbench.words import tr

_PLACE_WIDTH = 18  # characters of an exercise's place and how it stands


class PlaceField(ListField):
    """All exercises of the set by number, each with how it stands."""

    def value_at(self, row: int) -> object:
        """The place of the exercise, from zero."""
        return row

    def show_set(self, exercises: Sequence[Exercise], learner: Learner, place: int) -> None:
        """Show the set, and which one is shown."""
        texts = [_standing(one, len(exercises), learner) for one in exercises]
        if texts != [self.itemText(row) for row in range(self.count())]:
            self.clear()
            for text in texts:
                self.addItem(text)
        self.setCurrentIndex(place)


def _standing(exercise: Exercise, count: int, learner: Learner) -> str:
    attempt = learner.at(exercise)
    place = {"number": exercise.number, "count": count}
    if attempt.first is None:
        return tr("{number} of {count}: not answered", **place)
    if attempt.first.right:
        return tr("{number} of {count}: right", **place)
    if attempt.marked is not None and attempt.marked.right:
        return tr("{number} of {count}: right at last", **place)
    return tr("{number} of {count}: not right", **place)


class Walk(InARow):
    """Leads from exercise to exercise: the one before, one by its number, the next."""

    moved = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        label = QLabel(tr("Exercise:"))
        self.places = PlaceField(_PLACE_WIDTH)
        self.places.setAccessibleName(tr("Exercise"))
        label.setBuddy(self.places)
        self.previous = QPushButton(tr("&Previous"))
        self.next = QPushButton(tr("&Next"))
        super().__init__(label, self.places, self.previous, self.next, parent=parent)
        self._place, self._count = 0, 0
        self.previous.clicked.connect(self._on_previous)
        self.next.clicked.connect(self._on_next)
        self.places.chosen.connect(self._on_chosen)

    def show_set(self, exercises: Sequence[Exercise], learner: Learner, place: int) -> None:
        """Show where one is."""
        self._place, self._count = place, len(exercises)
        self.places.show_set(exercises, learner, place)
        self.previous.setEnabled(place > 0)
        self.next.setEnabled(place < self._count - 1)

    def _on_previous(self) -> None:
        self.moved.emit(self._place - 1)

    def _on_next(self) -> None:
        self.moved.emit(self._place + 1)

    def _on_chosen(self, place: object) -> None:
        self.moved.emit(place)


class Question(Fitted):
    """What an exercise tells and asks."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.topic = self._label("muted")
        self.title = self._label("title")
        self.story = self._label("")
        self.given = Facts(parent=self)
        self.caution = self._label(ROLES[Level.CAUTION])
        self.question = self._label("heading")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.CLOSE)
        for widget in (
            self.topic, self.title, self.story, self.given, self.caution, self.question,
        ):  # fmt: skip
            column.addWidget(widget)

    def _label(self, role: str) -> QLabel:
        label = QLabel(self)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        label.setWordWrap(True)  # after the policy, to which it adds
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        theme.set_role(label, role)
        return label

    def show_exercise(self, exercise: Exercise) -> None:
        """Show what it tells and asks."""
        self.topic.setText(topics()[exercise.topic].label)
        self.title.setText(exercise.title)
        self.story.setText(exercise.story)
        self.given.set_rows([(name, text, "") for name, text in exercise.given])
        self.given.setVisible(bool(exercise.given))
        caution = tr("Caution: {text}", text=exercise.caution) if exercise.caution else ""
        self.caution.setText(caution)
        self.caution.setVisible(bool(caution))
        self.question.setText(asked(exercise))


def asked(exercise: Exercise) -> str:
    """The question, and for a figure how close the answer must come."""
    ask = exercise.ask
    if isinstance(ask, Figure) and ask.within:
        return tr("{question} ({within})", question=exercise.question, within=ask.within)
    return exercise.question
