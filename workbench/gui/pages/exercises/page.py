"""Exercises: one after the other is answered, and a wrong answer is told which error it is."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (
    QApplication,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.pages.exercises.ask import Ask, FigureAsk, PickAsk
from workbench.gui.pages.exercises.for_class import ForClass
from workbench.gui.pages.exercises.hunt import HuntAsk
from workbench.gui.pages.exercises.made import TOPICS, MadeSets, SetId, set_id
from workbench.gui.pages.exercises.question import Question, Walk
from workbench.gui.pages.exercises.session import (
    Attempt,
    ClassRecord,
    Learner,
    check,
    count_words,
)
from workbench.gui.pages.exercises.summary import ErrorTable
from workbench.gui.pages.exercises.verdict import Verdict
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.page import Page
from workbench.gui.pages.stops import mend_first
from workbench.gui.store import Store
from workbench.job.labels import label_of
from workbench.study.evaluate import Results
from workbench.study.exercises.exercise import Exercise, Figure, Pick
from workbench.study.exercises.making import ExerciseSet
from workbench.study.findings import Finding
from workbench.study.reader import LARGEST_SEED
from workbench.units import NUMBER, Display, Quantity, parse
from workbench.words import tr


def _groups() -> Groups:
    return (
        (tr("Topics"), TOPICS),
        (tr("The set"), ("exercise_seed", "exercise_count")),
    )


class ExercisesPage(Page):
    """The set that the job asks for; what is answered is no part of the job.

    ``learner`` keeps the answers to every set that was met, ``record`` the first answers of all.
    """

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.learner = Learner()
        self.record = ClassRecord()
        self.exercises: tuple[Exercise, ...] = ()
        self.place = 0
        self.ask: Ask | None = None
        self._made = MadeSets()
        self._set = ExerciseSet((), ())
        self._shown: Exercise | None = None
        self._id: SetId | None = None
        self._places: dict[SetId, int] = {}  # where one was in each set
        body = self.inputs.widget()
        self.seed_button = QPushButton(tr("&Another seed"), body)
        self.for_class = ForClass(self.record, body)
        self.why = self._label("problem")
        self.walk = Walk(self.results)
        self.progress = self._label("muted")
        self.notice = self._label("note")
        self.question = Question(self.results)
        self._room = QWidget(self.results)
        self.verdict = Verdict(self.results)
        self.errors = ErrorTable(self.results)
        self._to_see: QWidget | None = None
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)
        self._lay_out()
        self._connect()

    def _label(self, role: str) -> QLabel:
        label = QLabel(self.results)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        label.setWordWrap(True)  # after the policy, to which it adds
        theme.set_role(label, role)
        label.hide()
        return label

    def _lay_out(self) -> None:
        body = self.inputs.widget()
        below = body.layout() if body is not None else None
        assert isinstance(below, QVBoxLayout)  # noqa: S101 - as the panel makes it
        for part in (self.seed_button, self.for_class):
            below.insertWidget(below.count() - 1, part)  # before the stretch at the end
            below.insertSpacing(below.count() - 1, theme.NEAR)
        room = QVBoxLayout(self._room)
        room.setContentsMargins(0, 0, 0, 0)
        for widget in (
            self.why, self.walk, self.progress, self.notice, self.question, self._room,
            self.verdict, self.errors,
        ):  # fmt: skip
            self.column.addWidget(widget)
        self.column.addStretch(1)

    def _connect(self) -> None:
        self._soon.timeout.connect(self._see)
        self.seed_button.clicked.connect(self._on_another_seed)
        self.walk.moved.connect(self.go_to)
        self.verdict.check.connect(self.check)
        self.verdict.again.connect(self._on_again)
        self.verdict.working_wanted.connect(self._on_working)
        self.for_class.renamed.connect(self._on_renamed)
        self.for_class.another.connect(self._on_another_learner)
        self.for_class.written.connect(self._show_errors)

    # --- showing ---

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job and of the set, which is made here."""
        self._set = self._made.of(results.job, self.store.display)
        return (*results.findings, *self._set.findings)

    def present(self, results: Results, _display: Display) -> None:
        """Show the exercise at which one is, of the set that the job asks for."""
        before, self.exercises = self.exercises, self._set.exercises
        for widget in (self.walk, self.progress, self.question, self._room, self.verdict):
            widget.setVisible(bool(self.exercises))
        why = "" if self.exercises else mend_first(self._set.findings)
        self.why.setText(why)
        self.why.setVisible(bool(why))
        if not self.exercises:
            self.notice.hide()
            return
        now = set_id(results.job, self.exercises)
        if now != self._id:
            self._begin(now, before)
        self.place = min(self.place, len(self.exercises) - 1)
        self._show_exercise()

    def _begin(self, now: SetId, before: tuple[Exercise, ...]) -> None:
        """Come to another set than the one before: say so, and go where one was in it."""
        if self._id is not None:
            self._places[self._id] = self.place
            self._say_new_set(before, was_here=now in self._places)
        self._id = now
        self.place = self._places.get(now, 0)

    def _say_new_set(self, before: tuple[Exercise, ...], *, was_here: bool) -> None:
        """What becomes of the answers: each stays with its exercise, whatever set that is in."""
        seed = self.exercises[0].seed
        if was_here:
            told = tr("The set of seed {seed} again, with its answers.", seed=seed)
        else:
            told = tr("A new set of exercises begins: seed {seed}.", seed=seed)
            if self.learner.progress(before).answered:
                told += " " + tr("The answers to the one before are kept and come back with it.")
        self.notice.setText(told)
        self.notice.show()

    def _show_exercise(self) -> None:
        exercise = self.exercises[self.place]
        if exercise is not self._shown:
            self._shown = exercise
            self.question.show_exercise(exercise)
            self._put_ask(exercise)
        self._show_state()

    def _put_ask(self, exercise: Exercise) -> None:
        """Put the control that fits the exercise in the place of the one before."""
        room = self._room.layout()
        assert room is not None  # noqa: S101 - it was laid out
        before, attempt = self.ask, self.learner.at(exercise)
        if isinstance(exercise.ask, Figure):
            self.ask = FigureAsk(exercise, attempt, self._room)
        elif isinstance(exercise.ask, Pick):
            self.ask = PickAsk(exercise, attempt, self._room)
        else:
            self.ask = HuntAsk(exercise, attempt, self._room)
        self.ask.changed.connect(self._on_changed)
        self.ask.entered.connect(self._on_entered)
        room.addWidget(self.ask)
        self.ask.show()
        self.ask.stand_between(self.walk.next, self.verdict.check_button)
        self.first_field = self.ask.first
        if before is not None:
            focus = QApplication.focusWidget()
            if focus is not None and before.isAncestorOf(focus):
                self.ask.first.setFocus(Qt.FocusReason.OtherFocusReason)
            room.removeWidget(before)
            before.hide()
            before.deleteLater()

    def _show_state(self) -> None:
        """Show how the exercise and the set stand."""
        self.walk.show_set(self.exercises, self.learner, self.place)
        self.progress.setText(count_words(self.learner.progress(self.exercises)))
        exercise = self.exercises[self.place]
        is_last = self.place == len(self.exercises) - 1
        self.verdict.show_attempt(exercise, self.learner.at(exercise), is_last=is_last)

    def _show_errors(self) -> None:
        self.errors.show_results(self.record.kept(), self.record.path)

    # --- what a person does ---

    def go_to(self, place: int) -> None:
        """Show the exercise at this place; the answer gets the focus unless one walks on."""
        if not 0 <= place < len(self.exercises):
            return
        self.place = place
        self.notice.hide()
        focus = QApplication.focusWidget()
        walks_on = focus is not None and self.walk.isAncestorOf(focus)
        self._show_exercise()
        self.areas[-1].verticalScrollBar().setValue(0)
        if self.ask is not None and not walks_on:
            self.ask.first.setFocus(Qt.FocusReason.OtherFocusReason)

    def check(self) -> None:
        """Mark the answer as it stands, or say what it lacks."""
        if self.ask is None or not self.exercises:
            return
        answer = self.ask.answer()
        if isinstance(answer, str):
            self.verdict.say_missing(answer)
            self._scroll_to(self.verdict.head)
            self.ask.first.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        exercise = self.exercises[self.place]
        check(self.learner, self.record, exercise, answer, self.ask.typed())
        self.notice.hide()
        self._show_state()
        self.ask.first.setAccessibleDescription(self.verdict.spoken())
        self.verdict.announce()
        self.for_class.show_record()
        self._show_errors()
        self._scroll_to(self.verdict.head)

    def _scroll_to(self, widget: QWidget) -> None:
        """Bring into sight what has just been said, once it is laid out."""
        self._to_see = widget
        self._soon.start()

    def _see(self) -> None:
        if self._to_see is not None and self._to_see.isVisible():
            self.areas[-1].ensureWidgetVisible(self._to_see, 0, theme.WIDE * 3)

    def _attempt(self) -> Attempt:
        return self.learner.at(self.exercises[self.place])

    def _on_entered(self) -> None:
        """Enter checks; once the answer is right it leads on."""
        marked = self._attempt().marked
        if marked is not None and marked.right and self.place < len(self.exercises) - 1:
            self.go_to(self.place + 1)
        else:
            self.check()

    def _on_changed(self) -> None:
        """The verdict was on another answer."""
        self._attempt().marked = None
        self._show_state()

    def _on_again(self) -> None:
        self._on_changed()
        if self.ask is not None:
            self.ask.begin_again()

    def _on_working(self) -> None:
        self._attempt().shows_working = True
        self._show_state()
        self.verdict.check_button.setFocus(Qt.FocusReason.OtherFocusReason)  # the other is gone
        self._scroll_to(self.verdict.working)

    def _on_another_seed(self) -> None:
        seed = self.store.job.exercise_seed
        number = int(seed.si) + 1 if isinstance(seed, Quantity) else 1
        text = str(number if 0 <= number <= LARGEST_SEED else 1)
        label = label_of("exercise_seed")
        self.store.edit({"exercise_seed": parse(text, NUMBER)}, tr("change {label}", label=label))

    def _on_renamed(self, name: str) -> None:
        self.learner.name = name

    def _on_another_learner(self) -> None:
        self.learner = Learner()
        self._shown, self.place = None, 0
        self._places.clear()
        if self.exercises:
            self._show_exercise()
