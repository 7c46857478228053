"""Page check: every word goes through ``tr`` and has room in another language."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QDialogButtonBox,
    QGroupBox,
    QLabel,
    QLineEdit,
    QMenu,
    QTabBar,
    QTableView,
    QWidget,
)

from tests.whole_window.checks.parts import Problems, described, plain, visible_widgets
from workbench import units, words

PADDING = "~"
MOST_ROWS = 50  # of a table that are looked at
MOST_TOLD = 3  # of one kind in one widget
SHORT = 12  # characters up to which a translation may be twice as long; else 1.3 times

_UNIT_WORDS = {
    word
    for kind in vars(units).values()
    if isinstance(kind, units.Kind)
    for unit in kind.units.values()
    for word in re.findall(r"[^\W\d_]+", unit.symbol)
}


def pseudo(message: str) -> str:
    """``message`` in a language of brackets, as long as a real one may be."""
    extra = len(message) if len(message) <= SHORT else round(0.3 * len(message))
    return f"[{message}{PADDING * extra}]"


@contextmanager
def pseudo_translation() -> Iterator[None]:
    """Let ``tr`` answer in brackets."""
    before = words._lookup
    words.use_translation(pseudo)
    try:
        yield
    finally:
        words.use_translation(before)


def untranslated(page: QWidget, accepted: Callable[[str], bool]) -> Problems:
    """A22: a page built in the language of brackets shows no word outside them.

    Units, single letters and what ``accepted`` knows need none, nor do widgets with the property
    ``userText``, which show what a person or a file has said; of a table that means its cells.
    """
    for widget in visible_widgets(page):
        told: Counter[str] = Counter()
        for what, text in _texts(widget):
            rest = _outside_brackets(plain(text))
            bare = [w for w in re.findall(r"[^\W\d_]{2,}", rest) if w not in _UNIT_WORDS]
            if bare and not accepted(text):
                told[what] += 1
                if told[what] <= MOST_TOLD:
                    yield f"{described(widget)}: its {what} '{text}' did not go through tr"
        for what, count in told.items():
            if count > MOST_TOLD:
                yield f"{described(widget)}: {count - MOST_TOLD} more of its kind '{what}' likewise"


def _outside_brackets(text: str) -> str:
    while True:
        shorter = re.sub(r"\[[^\[\]]*\]", "", text)
        if shorter == text:
            return text
        text = shorter


def _texts(widget: QWidget) -> Iterator[tuple[str, str]]:
    yield "tool tip", widget.toolTip()
    yield "status tip", widget.statusTip()
    yield "help", widget.whatsThis()
    yield "accessible name", widget.accessibleName()
    yield "accessible description", widget.accessibleDescription()
    if widget.isWindow():
        yield "window title", widget.windowTitle()
    if isinstance(widget, QLineEdit):
        yield "placeholder", widget.placeholderText()
    for action in widget.actions():
        yield from _action_texts(action)
    if isinstance(widget, QAbstractItemView) and widget.model():
        yield from _view_texts(widget)
    elif not widget.property("userText"):
        yield from _own_texts(widget)


def _own_texts(widget: QWidget) -> Iterator[tuple[str, str]]:
    if isinstance(widget, QLabel):
        yield "text", widget.text()
    elif isinstance(widget, QAbstractButton):
        if not _is_qts_own(widget):
            yield "text", widget.text()
    elif isinstance(widget, QGroupBox):
        yield "title", widget.title()
    elif isinstance(widget, QTabBar):
        for number in range(widget.count()):
            yield "tab", widget.tabText(number)
    elif isinstance(widget, QComboBox):
        for number in range(widget.count()):
            yield "choice", widget.itemText(number)


def _is_qts_own(button: QAbstractButton) -> bool:
    """Whether Qt wrote it on the button and translates it itself."""
    box = button.parent()
    none = QDialogButtonBox.StandardButton.NoButton
    return isinstance(box, QDialogButtonBox) and box.standardButton(button) != none


def _view_texts(view: QAbstractItemView) -> Iterator[tuple[str, str]]:
    model, top = view.model(), QModelIndex()
    for column in range(model.columnCount(top)):
        if isinstance(view, QTableView) and not view.isColumnHidden(column):
            heading = model.headerData(column, Qt.Orientation.Horizontal)
            yield "heading", str(heading or "")
        for row in range(0 if view.property("userText") else min(model.rowCount(top), MOST_ROWS)):
            cell = model.index(row, column, top)
            yield "cell", str(cell.data(Qt.ItemDataRole.DisplayRole) or "")


def _action_texts(action: QAction) -> Iterator[tuple[str, str]]:
    yield "menu entry", action.text()
    menu = action.menu()
    if isinstance(menu, QMenu):
        for inner in menu.actions():
            yield from _action_texts(inner)
