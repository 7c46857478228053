"""The middle of the window: the list of pages, and the page that was chosen in it."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QUndoGroup
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QWidget

from workbench.gui.page_list import PageList
from workbench.gui.pages.page import LazyPage
from workbench.gui.pages.registry import PageEntry
from workbench.gui.plain_imports import plain_imports
from workbench.gui.store import Store


class PageStack(QWidget):
    """Makes each page at its first visit. ``gone(key)`` tells that another one is shown.

    ``history`` undoes and redoes on the stack of the page that is shown.
    """

    gone = Signal(str)

    def __init__(
        self, store: Store, entries: Sequence[PageEntry], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._store = store
        self._entries = {entry.key: entry for entry in entries}
        self._pages: dict[str, LazyPage] = {}
        self.key = ""
        self.history = QUndoGroup(self)
        self.history.addStack(store.undo_stack)
        self.list = PageList(entries, self)
        self._stack = QStackedWidget(self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.list)
        row.addWidget(self._stack, 1)
        self.list.chosen.connect(self.go)
        self.list.entered.connect(self.enter_page)
        store.stepped.connect(self.go_to_input)

    def page_of(self, key: str) -> LazyPage:
        """The page of that key, made now if it never was. Raises KeyError."""
        page = self._pages.get(key)
        if page is None:
            with plain_imports():
                page = self._entries[key].load()(self._store, self._stack)
            self._stack.addWidget(page)
            self._pages[key] = page
        return page

    def go(self, key: str) -> None:
        """Show a page. The focus stays in the list if it is there; else it goes to the page."""
        if key == self.key:
            return
        page = self.page_of(key)
        self.key = key
        self._stack.setCurrentWidget(page)
        if page.undo_stack not in self.history.stacks():
            self.history.addStack(page.undo_stack)
        self.history.setActiveStack(page.undo_stack)
        self.list.show_page(key)
        self.gone.emit(key)

    def go_to_input(self, names: Collection[str]) -> None:
        """Show a page on which one of these inputs stands, unless the present one is such."""
        made = [self.key, *self._pages]  # an input is edited on a page that was made
        for key in made:
            if not self._pages[key].input_names.isdisjoint(names):
                self.go(key)
                return

    def enter_page(self) -> None:
        """Put the focus on the page that is shown."""
        self._pages[self.key].enter()
