"""Page checks: everything has a name that can be heard, and words where colour speaks."""

from __future__ import annotations

import re
from collections import Counter, defaultdict

from PySide6.QtCore import QModelIndex, QRect, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QGroupBox,
    QLabel,
    QMenu,
    QMenuBar,
    QTabBar,
    QWidget,
)

from tests.whole_window.checks.parts import (
    MARKUP,
    Problems,
    controls,
    described,
    inputs,
    labels_of,
    plain,
    shown_text,
    spoken_name,
    visible_widgets,
)

SPEAKING_ROLES = ("good", "caution", "problem")
MOST_ROWS = 200  # of a table's model that are looked at


def nameless(page: QWidget) -> Problems:
    """A1: each control has a name, by accessible name, buddy label or its own text."""
    for widget in controls(page):
        if not spoken_name(widget).strip():
            yield f"{described(widget)} has no name: give it a buddy label or an accessible name"


def unclear_names(page: QWidget) -> Problems:
    """A2: names are plain text, each control's its own."""
    heard = {widget: spoken_name(widget).strip() for widget in controls(page)}
    for widget, name in heard.items():
        for text in (name, widget.accessibleDescription()):
            if MARKUP.search(text):
                yield f"{described(widget)} would have its markup read aloud: {text!r}"
    for name, count in Counter(filter(None, heard.values())).items():
        if count > 1:
            yield f"{count} controls have the same name '{name}'"


def unlabelled(page: QWidget) -> Problems:
    """A3: each field has a label one can see and hear, and so has its unit."""
    labels = [w for w in visible_widgets(page) if isinstance(w, QLabel) and w.text().strip()]
    fields = inputs(page)
    for field in fields:
        if any(label.isVisible() for label in labels_of(field)):
            continue
        if not (field.accessibleName() and _stands_before(field, labels, fields)):
            yield (
                f"{described(field)} has no label: one needs setBuddy, or stands before the field "
                "and the field has an accessible name"
            )
    for widget in visible_widgets(page):
        unit = widget.property("unitText")
        if unit:
            yield from _lacks_unit(widget, str(unit), labels)


def _stands_before(field: QWidget, labels: list[QLabel], fields: list[QWidget]) -> bool:
    """Whether what comes before the field on its line, or close above it, is a label."""
    place = _on_window(field)
    before = [
        w
        for w in (*labels, *fields)
        if w is not field and _on_line(w, place) and _on_window(w).right() <= place.left()
    ]
    if before and max(before, key=lambda w: _on_window(w).right()) in labels:
        return True
    line = field.fontMetrics().height()
    return any(
        0 <= place.top() - _on_window(label).bottom() <= line
        and abs(place.left() - _on_window(label).left()) <= line
        for label in labels
    )


def _on_line(widget: QWidget, place: QRect) -> bool:
    return place.top() <= _on_window(widget).center().y() <= place.bottom()


def _beside(field: QWidget, labels: list[QLabel]) -> list[QLabel]:
    """The labels close to the field on its line."""
    place = _on_window(field)
    near = 2 * field.fontMetrics().height()
    return [
        label
        for label in labels
        if _on_line(label, place)
        and _on_window(label).left() - place.right() <= near
        and place.left() - _on_window(label).right() <= near
    ]


def _on_window(widget: QWidget) -> QRect:
    return QRect(widget.mapTo(widget.window(), widget.rect().topLeft()), widget.size())


def _lacks_unit(widget: QWidget, unit: str, labels: list[QLabel]) -> Problems:
    inside = [w for w in widget.findChildren(QWidget) if w.isVisible()]
    targets = [widget, widget.focusProxy() or widget, *inside]
    around = [*_beside(widget, labels), *(label for w in targets for label in labels_of(w))]
    seen = " ".join(plain(shown_text(w)) for w in [*targets, *around])
    heard = " ".join(
        f"{spoken_name(w)} {w.accessibleDescription()} {shown_text(w)}" for w in targets
    )
    word = rf"(?<!\w){re.escape(unit)}(?!\w)"
    if not re.search(word, seen):
        yield f"{described(widget)} shows its unit '{unit}' neither in it nor beside it"
    if not re.search(word, heard):
        yield f"{described(widget)} has its unit '{unit}' in no name, description or text to hear"


def wordless_colours(page: QWidget) -> Problems:
    """A11: a colour or picture that tells a state stands with a word, so that grey tells it too."""
    for widget in visible_widgets(page):
        if widget.property("role") in SPEAKING_ROLES and not _has_word(shown_text(widget)):
            yield f"{described(widget)} is marked by colour only: it needs a word"
        if isinstance(widget, QAbstractItemView) and widget.model():
            yield from _wordless_cells(widget)


def _has_word(text: str) -> bool:
    return bool(re.search(r"[^\W\d_]", plain(text)))


def _wordless_cells(view: QAbstractItemView) -> Problems:
    model, top = view.model(), QModelIndex()
    shows = (
        Qt.ItemDataRole.ForegroundRole,
        Qt.ItemDataRole.BackgroundRole,
        Qt.ItemDataRole.DecorationRole,
    )
    for row in range(min(model.rowCount(top), MOST_ROWS)):
        for column in range(model.columnCount(top)):
            cell = model.index(row, column, top)
            marked = any(cell.data(role) is not None for role in shows)
            text = str(cell.data(Qt.ItemDataRole.DisplayRole) or "")
            if marked and not text.strip():
                yield f"{described(view)} row {row}, column {column} has a colour and no word"


def mnemonic_clashes(page: QWidget) -> Problems:
    """A15: no two things on the page, or in one menu, answer to the same Alt key."""
    users: dict[str, list[str]] = defaultdict(list)
    menus: list[QMenu] = []
    for widget in visible_widgets(page):
        for text in _mnemonic_texts(widget):
            users[QKeySequence.mnemonic(text).toString()].append(plain(text))
        if isinstance(widget, QMenuBar):
            yield from _without_mnemonic(widget.actions())
            menus += [menu for menu in map(_menu_of, widget.actions()) if menu]
    yield from _clashes(users, "the page")
    while menus:
        menu = menus.pop()
        entries: dict[str, list[str]] = defaultdict(list)
        shown = [a for a in menu.actions() if a.isVisible() and not a.isSeparator()]
        yield from _without_mnemonic(shown)
        for action in shown:
            entries[QKeySequence.mnemonic(action.text()).toString()].append(plain(action.text()))
        yield from _clashes(entries, f"the menu '{plain(menu.title())}'")
        menus += [inner for inner in map(_menu_of, shown) if inner]


def _menu_of(action: QAction) -> QMenu | None:
    menu = action.menu()
    return menu if isinstance(menu, QMenu) else None


def _mnemonic_texts(widget: QWidget) -> list[str]:
    if isinstance(widget, QLabel):
        return [widget.text()] if widget.buddy() else []
    if isinstance(widget, QAbstractButton):
        return [widget.text()]
    if isinstance(widget, QGroupBox):
        return [widget.title()]
    if isinstance(widget, QTabBar):
        return [widget.tabText(i) for i in range(widget.count())]
    if isinstance(widget, QMenuBar):
        return [action.text() for action in widget.actions() if action.isVisible()]
    return []


def _without_mnemonic(actions: list[QAction]) -> Problems:
    for action in actions:
        if QKeySequence.mnemonic(action.text()).isEmpty():
            yield f"menu entry '{action.text()}' has no mnemonic: put & before one letter"


def _clashes(users: dict[str, list[str]], where: str) -> Problems:
    for key, texts in users.items():
        if key and len(texts) > 1:
            yield f"on {where} {key} belongs to {' and '.join(repr(text) for text in texts)}"
