"""The text side of a screen: which lesson it is, what it says, what to try, what is asked."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.fields.choice_field import ListField
from workbench.gui.pages.lessons.course import Course
from workbench.gui.pages.lessons.parts import Paragraphs, QuestionBox, TryBox, Words
from workbench.gui.pages.lessons.strip import Strip
from workbench.gui.store import Store
from workbench.study.lessons.model import Screen
from workbench.study.lessons.shelf import Shelved
from workbench.units import Display
from workbench.words import tr

_NARROWEST = 30  # digits
_MOST_TOLD = 3  # files that cannot be used


class LessonList(ListField):
    """The lessons; ``chosen(number)`` from 0."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(_NARROWEST, parent)
        self.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature

    def value_at(self, row: int) -> object:
        """The lesson's number."""
        return row


class TextArea(QScrollArea):
    """Scrolls the texts up and down; it is never narrower than what stands in its ``body``."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(tr("Text of the lesson"))
        self.body = QWidget(self.viewport())
        self.setWidget(self.body)
        self.body.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the width of what stands in it."""
        if watched is self.body and event.type() == QEvent.Type.LayoutRequest:
            bar = self.verticalScrollBar().sizeHint().width()
            self.setMinimumWidth(self.body.minimumSizeHint().width() + bar)
        return super().eventFilter(watched, event)


class LessonColumn(QWidget):
    """Shows what it is told. ``lesson_chosen(number)`` from 0; ``stepped(by)``; ``restarted``."""

    lesson_chosen = Signal(object)
    stepped = Signal(int)
    restarted = Signal()

    def __init__(self, tank: Store, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.chooser = LessonList(self)
        self.strip = Strip(self)
        self.place = QLabel(self)
        self.place.setWordWrap(True)
        theme.set_role(self.place, "muted")
        self.area = TextArea(self)
        body = self.area.body
        self.problems = Words("caution", body)
        self.heading = Words("title", body)
        self.text = Paragraphs(body)
        self.caution = Words("caution", body)
        self.attempt = TryBox(tank, body)
        self.question = QuestionBox(body)
        self.source = Words("muted", body)
        texts = QVBoxLayout(body)
        texts.setContentsMargins(0, 0, theme.CLOSE, 0)
        texts.setSpacing(theme.NEAR)
        for widget in (self.problems, self.heading, self.text, self.caution, self.attempt,
                       self.question, self.source):  # fmt: skip
            texts.addWidget(widget)
        texts.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(theme.NEAR, 0, 0, 0)
        column.setSpacing(theme.CLOSE)
        column.addLayout(self._choosing())
        column.addWidget(self.strip)
        column.addWidget(self.place)
        column.addWidget(self.area, 1)
        column.addLayout(self._stepping())

    def _choosing(self) -> QHBoxLayout:
        label = QLabel(tr("&Lesson"), self)
        label.setBuddy(self.chooser)
        self.chooser.chosen.connect(self.lesson_chosen)
        row = QHBoxLayout()
        row.setSpacing(theme.CLOSE)
        row.addWidget(label)
        row.addWidget(self.chooser, 1)
        return row

    def _stepping(self) -> QHBoxLayout:
        self.back = QPushButton(tr("&Back"), self)
        self.again = QPushButton(tr("This screen &again"), self)
        self.again.setToolTip(tr("Put this screen's tank back as it was, and try once more."))
        self.onward = QPushButton(tr("&Next"), self)
        theme.set_role(self.onward, "primary")
        self.back.clicked.connect(self._on_back)
        self.again.clicked.connect(self.restarted)
        self.onward.clicked.connect(self._on_onward)
        row = QHBoxLayout()
        row.setSpacing(theme.CLOSE)
        row.addWidget(self.back)
        row.addWidget(self.again)
        row.addStretch(1)
        row.addWidget(self.onward)
        return row

    def show_course(self, course: Course, display: Display) -> None:
        """Show where a course stands, in these units."""
        self._show_problems(course)
        self._show_list(course)
        self.back.setEnabled(course.beside(-1) is not None)
        self.onward.setEnabled(course.beside(1) is not None)
        screen = course.screen
        self.again.setEnabled(screen is not None)
        if screen is None:
            self.heading.show_text(tr("There are no lessons"))
            return
        self.heading.show_text(screen.told(screen.heading, display))
        self.text.show_texts([screen.told(text, display) for text in screen.paragraphs])
        caution = screen.told(screen.caution, display)
        self.caution.show_text(tr("Caution: {words}", words=caution) if caution else "")
        self.source.show_text(tr("Source: {words}", words=screen.source) if screen.source else "")
        self._show_attempt(screen, course, display)
        self._show_question(screen, course, display)

    def _show_problems(self, course: Course) -> None:
        told = [_problem(one) for one in course.every if one.problems]
        if len(told) > _MOST_TOLD:
            more = tr("And {count} more.", count=len(told) - _MOST_TOLD)
            told = [*told[:_MOST_TOLD], more]
        self.problems.show_text("\n\n".join(told))

    def _show_list(self, course: Course) -> None:
        titles = [
            f"{number} {lesson.title}" + (tr(" (done)") if course.is_done(lesson) else "")
            for number, lesson in enumerate(course.lessons, start=1)
        ]
        if [self.chooser.itemText(row) for row in range(self.chooser.count())] != titles:
            self.chooser.clear()
            self.chooser.addItems(titles)
        self.chooser.setCurrentIndex(course.number)
        self.strip.show_course([course.is_done(one) for one in course.lessons], course.number)
        lesson = course.lesson
        self.place.setText(
            "" if lesson is None else tr(
                "Lesson {number} of {count}, screen {screen} of {screens}; {done} lessons done",
                number=course.number + 1, count=len(course.lessons),
                done=sum(course.is_done(one) for one in course.lessons),
                screen=course.place[1] + 1, screens=len(lesson.screens),
            )
        )  # fmt: skip

    def _show_attempt(self, screen: Screen, course: Course, display: Display) -> None:
        attempt = screen.attempt
        self.attempt.setVisible(attempt is not None)
        if attempt is None:
            return
        self.attempt.show_task(screen.told(attempt.do, display), attempt.fields)
        then = course.tried.get(course.place)
        self.attempt.show_state("" if then is None else screen.told_when_done(then, display))

    def _show_question(self, screen: Screen, course: Course, display: Display) -> None:
        question, chosen = screen.question, course.chosen
        self.question.setVisible(question is not None)
        if question is None:
            return
        answers = [screen.told(one.text, display) for one in question.answers]
        self.question.show_question(screen.told(question.ask, display), answers)
        if chosen is None:
            self.question.show_verdict(None, is_right=False, why="")
        else:
            why = screen.told(chosen.why, display)
            number = question.answers.index(chosen)
            self.question.show_verdict(number, is_right=chosen.is_right, why=why)

    def _on_back(self) -> None:
        self.stepped.emit(-1)

    def _on_onward(self) -> None:
        self.stepped.emit(1)


def _problem(one: Shelved) -> str:
    """What is wrong with the file of a lesson, and what is shown in its place."""
    told = " ".join(str(problem) for problem in one.problems)
    if one.lesson is None:
        return tr("Stop: {problem} No lesson is shown for it.", problem=told)
    if one.is_own:
        return tr("Caution: {problem} Another file of your own is shown.", problem=told)
    return tr("Caution: {problem} Until then the program's own lesson is shown.", problem=told)
