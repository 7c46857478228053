"""The menu bar, built from data: every action with its text, its keys and what it calls."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu


@dataclass(frozen=True, slots=True)
class Item:
    """One action. ``key`` is a standard key or a text such as "F5"; ``tick`` makes it checkable."""

    text: str
    call: Callable[..., object]
    key: QKeySequence.StandardKey | str | None = None
    tick: bool = False


def add_items(
    window: QMainWindow, menu: QMenu, items: tuple[Item | None, ...], *, exclusive: bool = False
) -> list[QAction]:
    """Add actions to a menu, None being a line between them; return the actions."""
    group = QActionGroup(window) if exclusive else None
    actions = []
    for item in items:
        if item is None:
            menu.addSeparator()
            continue
        action = QAction(item.text, window)
        if item.key is not None:
            action.setShortcut(QKeySequence(item.key))
        action.setCheckable(item.tick)
        if item.tick:
            action.toggled.connect(item.call)
        else:
            action.triggered.connect(item.call)
        if group is not None:
            group.addAction(action)
        menu.addAction(action)
        actions.append(action)
    return actions
