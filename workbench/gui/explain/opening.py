"""Opens the window with the working of a figure; there is one for each window of the program."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from workbench.gui.explain.listing import key_at_focus
from workbench.gui.explain.window import ExplainWindow
from workbench.gui.page_stack import PageStack
from workbench.gui.pages.page import LazyPage


def explain(widget: QWidget, key: str) -> None:
    """Show the working of the figure of that key on the page on which ``widget`` stands."""
    page = widget
    while not isinstance(page, LazyPage):
        parent = page.parentWidget()
        if parent is None:
            return
        page = parent
    _window_for(page).show_figure(key)


def explain_page(page: LazyPage) -> None:
    """Show all figures of a page, the one with the focus chosen, or that seen last."""
    key = key_at_focus(page)
    _window_for(page).show_figure(key)


def _window_for(page: LazyPage) -> ExplainWindow:
    main = page.window()
    found = main.findChild(ExplainWindow)
    if found is None:
        found = ExplainWindow(page.store, main)
        stack = main.findChild(PageStack)
        if stack is not None:
            found.follow_pages(stack)
    found.set_page(page)
    return found
