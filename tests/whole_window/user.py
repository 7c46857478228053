"""A person in front of the bench window, who goes about by Tab, types, and reads what is shown.

``at_window`` opens the window; the :class:`User` it gives touches nothing but keys and menus, and
reads what the window shows. :class:`Answers` answers the boxes and file dialogs that would wait.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QAction, QKeyEvent, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QComboBox,
    QFileDialog,
    QLabel,
    QMenu,
    QMessageBox,
    QWidget,
)
from pytestqt.qtbot import QtBot

from workbench import paths
from workbench.gui.settings import Settings
from workbench.gui.window import MainWindow
from workbench.job import document
from workbench.job.job import Job

CTRL = Qt.KeyboardModifier.ControlModifier
NO_KEY = Qt.KeyboardModifier.NoModifier
MOST_TABS = 60  # presses of Tab within which every control must come

Point = tuple[float, float]


class Mark(NamedTuple):
    """A tank in the plot: its place in the shown units, and whether it is drawn as passing."""

    volume: float
    drawdown: float
    passes: bool


def own_catalog() -> Path:
    """A copy of the demo catalogue in the test's own home, in a folder where nothing else lies."""
    path = Path(os.environ["HOME"]) / "catalogue" / "demo-tanks.csv"
    if not path.exists():
        path.parent.mkdir(parents=True)
        shutil.copy(paths.default_catalog(), path)
    return path


def few_tanks(count: int = 6) -> Path:
    """A catalogue of some of the demo's rows, from all over it; it is worked faster."""
    path = own_catalog()
    header, *rows = paths.default_catalog().read_text(encoding="utf-8").splitlines(keepends=True)
    some = [rows[len(rows) * number // count] for number in range(count)]
    path.write_text(header + "".join(some), encoding="utf-8")
    return path


def demo_job() -> Job:
    """The job of the first start."""
    return document.read(paths.demo_job())


def at_window(qtbot: QtBot, job: Job | None = None, catalog: Path | None = None) -> User:
    """Open the window with ``job`` (the empty one) and ``catalog`` (a copy of the demo)."""
    settings = Settings()
    settings.catalog = catalog or own_catalog()
    window = MainWindow(settings)
    if job is not None:
        window.store.open_job(job, None)
    return show(qtbot, window)


def show(qtbot: QtBot, window: MainWindow) -> User:
    """Show a window, wait until all of it is there, and sit down in front of it."""
    users: list[User] = []

    def leave(_window: MainWindow) -> None:
        while users:
            users.pop().leave()

    qtbot.addWidget(window, before_close_func=leave)
    with qtbot.waitSignal(window.page.completed):
        window.show()
    window.activateWindow()
    qtbot.waitUntil(lambda: QApplication.activeWindow() is window)
    QTest.keyRelease(window, Qt.Key.Key_Shift)  # an earlier test may have left it held down
    users.append(User(window))
    return users[0]


class User:
    """Works one window."""

    def __init__(self, window: MainWindow) -> None:
        self.window = window
        self.store = window.store
        self.page = window.page
        self.plot: Any = window.page.plot
        self.table = window.page.tanks.table
        self.model: Any = window.page.tanks.table.model()

    def leave(self) -> None:
        """Let the window close unasked, and let go of it: pytest keeps its fixtures for longer."""
        self.store.undo_stack.setClean()
        self.__dict__.clear()

    # --- going about and typing ---

    def field(self, name: str) -> Any:
        """The control of an input."""
        return self.page.inputs.rows[name].field

    def go_to(self, target: str | QWidget) -> Any:
        """Press Tab until the focus is on an input, the table or the plot."""
        widget = self.field(target) if isinstance(target, str) else target
        if QApplication.focusWidget() is None:
            self.page.inputs.rows["pump_flow"].field.setFocus(Qt.FocusReason.TabFocusReason)
        for _ in range(MOST_TABS):
            if QApplication.focusWidget() is widget:
                return widget
            self.press(Qt.Key.Key_Tab)
        pytest.fail(f"Tab never comes to {widget.objectName() or widget.accessibleName()}")

    def press(self, key: Qt.Key, modifiers: Qt.KeyboardModifier = NO_KEY) -> None:
        """Strike a key where the focus is."""
        QTest.keyClick(QApplication.focusWidget() or self.window, key, modifiers)

    def type(self, text: str) -> None:
        """Strike the keys of ``text`` where the focus is."""
        strike(QApplication.focusWidget(), text)

    def enter(self, name: str, text: str) -> None:
        """Go to a field by Tab, which selects what it holds, and type over it."""
        field = self.go_to(name)
        field.selectAll()  # Tab has done so, unless the focus was here already
        self.type(text) if text else self.press(Qt.Key.Key_Delete)

    def undo(self) -> None:
        """Strike the keys for undo where the focus is."""
        strike_standard(QApplication.focusWidget() or self.window, QKeySequence.StandardKey.Undo)

    def redo(self) -> None:
        """Strike the keys for redo where the focus is."""
        strike_standard(QApplication.focusWidget() or self.window, QKeySequence.StandardKey.Redo)

    def choose(self, target: str | QComboBox, label: str) -> None:
        """Go to a list and walk to an entry with the arrow keys."""
        box = self.go_to(target)
        place = box.findText(label)
        assert place >= 0, f"no choice {label!r}"
        while box.currentIndex() != place:
            self.press(Qt.Key.Key_Down if box.currentIndex() < place else Qt.Key.Key_Up)

    def tick(self, name: str) -> None:
        """Go to a tick box and turn it over."""
        self.go_to(name)
        self.press(Qt.Key.Key_Space)

    def menu(self, menu: str, entry: str) -> None:
        """Choose an entry of a menu by its words."""
        self.entry(menu, entry).trigger()

    def entry(self, menu: str, entry: str) -> QAction:
        """An entry of a menu, looked up by its words as a person reads them."""
        bar = {plain(action.text()): action.menu() for action in self.window.menuBar().actions()}
        inner = bar[menu]
        assert isinstance(inner, QMenu)
        found = {plain(action.text()): action for action in inner.actions()}
        assert entry in found, f"{menu} has {list(found)}"
        return found[entry]

    # --- reading ---

    def texts(self) -> dict[str, str]:
        """What stands in every input."""
        return {name: _shown_in(row.field) for name, row in self.page.inputs.rows.items()}

    def messages(self) -> dict[str, str]:
        """What stands beneath inputs, by input."""
        rows = self.page.inputs.rows.items()
        return {name: row.message.text() for name, row in rows if not row.message.isHidden()}

    def figures(self) -> tuple[str, str]:
        """Required drawdown and precharge to set."""
        answers = self.page.answers
        return answers.drawdown.figure.text(), answers.precharge.figure.text()

    def reasons(self) -> tuple[str, str]:
        """What stands under the two figures."""
        answers = self.page.answers
        return answers.drawdown.reason.text(), answers.precharge.reason.text()

    def rules(self) -> list[str]:
        """The texts of the rules' table, row by row, and the line under it."""
        labels = self.page.answers.rules.findChildren(QLabel)
        return [label.text() for label in labels]

    def headings(self) -> list[str]:
        """The headings of the table."""
        across = Qt.Orientation.Horizontal
        columns = range(self.model.columnCount())
        return [str(self.model.headerData(c, across)).replace("\n", ", ") for c in columns]

    def rows(self) -> list[list[str]]:
        """The texts of the table."""
        columns = range(self.model.columnCount())
        return [
            [str(self.model.index(row, column).data()) for column in columns]
            for row in range(self.model.rowCount())
        ]

    def column(self, heading: str) -> list[str]:
        """One column of the table, by the beginning of its heading."""
        place = next(n for n, text in enumerate(self.headings()) if text.startswith(heading))
        return [row[place] for row in self.rows()]

    def chosen_row(self) -> int | None:
        """The row on which the table's mark stands."""
        current = self.table.currentIndex()
        return current.row() if current.isValid() else None

    def summary(self) -> str:
        """How many pass."""
        return self.page.tanks.summary.text()

    def detail(self) -> str:
        """Why the chosen tank stands where it does."""
        return self.page.tanks.detail.text()

    def reading(self) -> str:
        """The line above the plot."""
        return self.page.reading.text()

    def status(self) -> str:
        """What is said of the catalogue."""
        return self.window._catalog_label.text()

    def marking(self) -> str:
        """What is said of the job as a whole."""
        return self.window._job_label.text()

    # --- reading the plot ---

    def lines(self) -> dict[str, list[Point]]:
        """The points of each band's line, by the label behind its end."""
        drawn = zip(self.plot._lines[0::2], self.plot._lines[1::2], strict=True)
        return {
            label.toPlainText(): [
                (float(x), float(y)) for x, y in zip(*line.getData(), strict=True)
            ]
            for line, label in drawn
        }

    def pens(self) -> dict[str, tuple[float, list[float], str]]:
        """How each band's line is drawn: how heavy, with which dashes, in which colour."""
        drawn = zip(self.plot._lines[0::2], self.plot._lines[1::2], strict=True)
        pens = {label.toPlainText(): line.opts["pen"] for line, label in drawn}
        return {
            name: (pen.widthF(), pen.dashPattern(), pen.color().name())
            for name, pen in pens.items()
        }

    def marks(self) -> list[Mark]:
        """Every tank drawn."""
        return sorted(
            Mark(float(point.pos().x()), float(point.pos().y()), point.symbol() == "o")
            for point in self.plot._tanks.points()
        )

    def ring(self) -> Point | None:
        """Where the chosen tank is ringed."""
        points = self.plot._chosen.points()
        assert len(points) <= 1
        return (points[0].pos().x(), points[0].pos().y()) if len(points) else None

    def required(self) -> tuple[float, str] | None:
        """Height and label of the required line."""
        if not self.plot._required.isVisible():
            return None
        return float(self.plot._required.value()), self.plot._required_label.toPlainText()

    def axes(self) -> tuple[str, str]:
        """The titles of the axes."""
        axis = self.plot.getPlotItem().getAxis
        return axis("bottom").labelText, axis("left").labelText

    def everything(self) -> dict[str, object]:
        """All that follows from the job, as shown."""
        return {
            "figures": self.figures(),
            "reasons": self.reasons(),
            "rules": self.rules(),
            "messages": self.messages(),
            "lines": self.lines(),
            "required": self.required(),
            "marks": self.marks(),
            "table": self.rows(),
            "headings": self.headings(),
            "summary": self.summary(),
            "axes": self.axes(),
        }


def strike(widget: QWidget | None, text: str) -> None:
    """Strike the keys of ``text`` on ``widget``, also those that no plain keyboard has."""
    assert widget is not None, "nothing has the focus"
    for char in text:
        if char.isascii():
            QTest.keyClicks(widget, char)
            continue
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            event = QKeyEvent(kind, int(Qt.Key.Key_unknown), NO_KEY, char)
            QApplication.sendEvent(widget, event)


def strike_standard(widget: QWidget | None, standard: QKeySequence.StandardKey) -> None:
    """Strike the keys that the platform has for undo, redo, … on ``widget``."""
    assert widget is not None, "nothing has the focus"
    keys = QKeySequence(standard)[0]  # type: ignore[index]
    QTest.keyClick(widget, keys.key(), keys.keyboardModifiers())


def plain(text: str) -> str:
    """A menu's text without its mnemonic."""
    return text.replace("&&", "\0").replace("&", "").replace("\0", "&")


def _shown_in(field: Any) -> str:
    if isinstance(field, QComboBox):
        return field.currentText()
    if isinstance(field, QCheckBox):
        return "ticked" if field.isChecked() else ""
    return str(field.text())


class Answers:
    """Answers boxes by the words on a button, and file dialogs with a path; keeps what was asked.

    A box or dialog that no answer was prepared for fails the test.
    """

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.asked: list[str] = []
        self._buttons: list[str] = []
        self._files: list[Path | None] = []

        def answer(box: QMessageBox) -> int:
            return self._answer(box)

        monkeypatch.setattr(QMessageBox, "exec", answer)
        for name in ("getOpenFileName", "getSaveFileName"):
            monkeypatch.setattr(QFileDialog, name, self._name)

    def prepare(self, *buttons: str, files: Iterable[Path | None] = ()) -> None:
        """The buttons to press, one for each box to come; the files to name (None: cancel)."""
        self._buttons += buttons
        self._files += files

    def told(self) -> list[str]:
        """What was asked or told since the last time; every prepared answer must have been used."""
        assert not self._buttons, f"nobody asked for {self._buttons}"
        assert not self._files, f"nobody asked for {self._files}"
        asked, self.asked = self.asked, []
        return asked

    def _answer(self, box: QMessageBox) -> int:
        text = " ".join(filter(None, (box.windowTitle(), box.text(), box.informativeText())))
        self.asked.append(text)
        assert self._buttons, f"unexpected box: {text}"
        wanted = self._buttons.pop(0)
        if wanted != "OK":  # a box without buttons of its own is given one only when it opens
            buttons = {plain(button.text()): button for button in box.buttons()}
            buttons[wanted].click()
        return 0

    def _name(self, *_arguments: object, **_more: object) -> tuple[str, str]:
        assert self._files, "unexpected file dialog"
        path = self._files.pop(0)
        return (str(path) if path else "", "")
