"""A quiet window beside the page: its figures at the left, the working of one at the right."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.explain.figures_list import FiguresList
from workbench.gui.explain.listing import figures_on, own_of
from workbench.gui.explain.picture import PictureView
from workbench.gui.explain.working_view import WorkingView
from workbench.gui.pages.fitted import Fitted
from workbench.gui.store import Store
from workbench.study.explain.book import explain
from workbench.study.explain.explanation import Explanation
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.gui.explain.figure import Figure
    from workbench.gui.page_stack import PageStack
    from workbench.gui.pages.page import LazyPage

_SHORT = 32  # characters of a value that is written large
_WIDE, _HIGH = 104, 30  # digits and lines of the window at first


class ExplainWindow(QDialog):
    """Follows the page and the job while it is open; Esc closes it and gives the focus back."""

    def __init__(self, store: Store, parent: QWidget) -> None:
        super().__init__(parent)
        self._store = store
        self._page: LazyPage | None = None
        self._stack: PageStack | None = None
        self._before: QWidget | None = None
        self._last: dict[LazyPage, str] = {}
        self.shown: Explanation | None = None
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(0)
        self._later.timeout.connect(self.refresh)
        self.setWindowTitle(tr("Explain a figure"))
        self._build()
        store.changed.connect(self.refresh_soon)
        store.selected.connect(self.refresh_soon)

    def _build(self) -> None:
        self.figures = FiguresList(self)
        self.title = QLabel(self)
        self.value = QLabel(self)
        for label, role in ((self.title, "heading"), (self.value, "title")):
            theme.set_role(label, role)
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.picture = PictureView(self)
        self.working = WorkingView(self)
        self.copy_button = QPushButton(tr("&Copy"), self)
        self.copy_button.setAutoDefault(False)
        self.close_button = QPushButton(tr("C&lose"), self)
        self.close_button.setAutoDefault(False)
        self.figures.chosen.connect(self._on_chosen)
        self.copy_button.clicked.connect(self.copy)
        self.close_button.clicked.connect(self.close)
        self._lay_out()

    def _lay_out(self) -> None:
        right = Fitted(self)
        column = QVBoxLayout(right)
        column.setContentsMargins(theme.CLOSE, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        for widget in (self.title, self.value, self.picture):
            column.addWidget(widget)
        column.addWidget(self.working, 1)
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(self.copy_button)
        buttons.addWidget(self.close_button)
        column.addLayout(buttons)
        sides = QSplitter(Qt.Orientation.Horizontal, self)
        sides.setChildrenCollapsible(False)
        sides.addWidget(self.figures)
        sides.addWidget(right)
        sides.setStretchFactor(1, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(theme.CLOSE, theme.CLOSE, theme.CLOSE, theme.CLOSE)
        whole.addWidget(sides)
        wide, high = theme.width_of(self, _WIDE), self.fontMetrics().lineSpacing() * _HIGH
        self.resize(QSize(wide, high).boundedTo(self.screen().availableSize()))
        sides.setSizes([self.figures.sizeHint().width(), wide])

    # --- what it follows ---

    def set_page(self, page: LazyPage) -> None:
        """Explain the figures of this page from now on."""
        before, self._page = self._page, page
        if page is before:
            return
        left, found = own_of(before), own_of(page)
        if left is not None:
            left.own_changed.disconnect(self.refresh_soon)
        if found is not None:
            found.own_changed.connect(self.refresh_soon)

    def follow_pages(self, stack: PageStack) -> None:
        """Take the page that is shown, whenever another one is."""
        self._stack = stack
        stack.gone.connect(self._on_gone)

    def _on_gone(self, key: str) -> None:
        if self._stack is not None and self.isVisible():
            self.set_page(self._stack.page_of(key))
            self.refresh_soon()

    def refresh_soon(self) -> None:
        """Follow a change once the page has."""
        if self.isVisible():
            self._later.start()

    # --- showing ---

    def show_figure(self, key: str) -> None:
        """Come to the front with the working of a figure ("": that which was seen last)."""
        focus = QApplication.focusWidget()
        if focus is not None and focus.window() is not self:
            self._before = focus
        if key and self._page is not None:
            self._last[self._page] = key
        self.show()
        self.activateWindow()
        self.refresh()
        self.figures.setFocus(Qt.FocusReason.OtherFocusReason)

    def refresh(self) -> None:
        """Show the page's figures as they are now, and the working of the chosen one."""
        if self._page is None:
            return
        figures = figures_on(self._page)
        wanted = self._last.get(self._page, "")
        self.figures.show_figures(figures, _nearest(wanted, figures))
        self._show_working(self.figures.current())

    def _on_chosen(self, figure: Figure) -> None:
        if self._page is not None:
            self._last[self._page] = figure.key
        self._show_working(figure)

    def _show_working(self, figure: Figure | None) -> None:
        self.shown = None if figure is None else self._explained(figure)
        self.copy_button.setEnabled(self.shown is not None)
        if self.shown is None:
            self.title.setText("" if figure is None else figure.name)
            self.value.setText("" if figure is None else figure.value)
            self.picture.show_picture(None)
            self.working.show_words(_nothing(figure))
            return
        self.title.setText(self.shown.title)
        self.value.setText(self.shown.value)
        theme.set_role(self.value, "title" if len(self.shown.value) <= _SHORT else "")
        self.picture.show_picture(self.shown.picture)
        self.working.show_working(self.shown)

    def _explained(self, figure: Figure) -> Explanation | None:
        results = self._store.results
        if results is None:
            return None
        found = own_of(self._page)
        own = None if found is None else found.own()
        return explain(figure.key, figure.name, figure.value, results, self._store.display, own)

    # --- what a person does ---

    def copy(self) -> None:
        """Put title, formula, numbers and sources on the clipboard."""
        if self.shown is not None:
            QApplication.clipboard().setText(self.shown.as_text())

    def hideEvent(self, event: QHideEvent) -> None:
        """Give the focus back."""
        super().hideEvent(event)
        before, self._before = self._before, None
        if event.spontaneous() or before is None:
            return
        try:
            before.window().activateWindow()
            before.setFocus(Qt.FocusReason.OtherFocusReason)
        except RuntimeError:  # what had the focus is gone, and its place with it
            return


def _nearest(key: str, figures: list[Figure]) -> str:
    """The key, or one of the same word where the table has other rows now; else the first."""
    keys = [figure.key for figure in figures]
    if key in keys:
        return key
    word = key.partition(":")[0]
    alike = (one for one in keys if key and one.partition(":")[0] == word)
    return next(alike, keys[0] if keys else "")


def _nothing(figure: Figure | None) -> str:
    if figure is None:
        return tr("There is no figure on this page now. What is missing stands beside its field.")
    return tr("This figure is being worked out.")
