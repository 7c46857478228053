"""A label with a figure that opens its working: by a click, and by its context menu.

All that happens before somebody points at the figure is that it keeps its key.
"""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QEvent, QPoint, QRect, Qt, QTimer
from PySide6.QtGui import (
    QAction,
    QColor,
    QContextMenuEvent,
    QEnterEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QApplication, QLabel, QMenu, QWidget

from workbench.gui import theme
from workbench.words import tr

NOTHING = ("", "—")
"""Texts that stand where there is no figure."""
KEYS = "F1"
"""What opens the list of all figures of a page."""


class Figure(NamedTuple):
    """A figure that a page shows now: its key, what it is, and its value."""

    key: str
    name: str
    value: str


class FigureLabel(QLabel):
    """A label that may show a figure; ``explain_as`` says which.

    A click without a drag opens the working, after the time in which it could become a double
    click where that selects a word.
    """

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self._key = self._name = ""
        self._is_listed = True
        self._pressed: QPoint | None = None
        self._mark: _Underline | None = None
        self._wait: QTimer | None = None

    def explain_as(self, key: str, name: str = "", *, listed: bool = True) -> None:
        """Which figure it shows ("": none that could be explained), and what that is called.

        ``listed`` False: it belongs to a figure that another label shows.
        """
        self._key, self._name, self._is_listed = key, name, listed

    @property
    def key(self) -> str:
        """Of its figure; "" where there is none now."""
        return "" if self.text() in NOTHING else self._key

    def figure(self) -> Figure | None:
        """Its figure, if it is to stand in the list of the page's figures."""
        if not self.key or not self._is_listed:
            return None
        return Figure(self.key, self._name, self.text())

    def explain(self) -> None:
        """Open the working."""
        from workbench.gui.explain.opening import explain

        if self.key:
            explain(self, self.key)

    # --- mouse ---

    def enterEvent(self, event: QEnterEvent) -> None:
        """Show that it can be asked."""
        super().enterEvent(event)
        if not self.key:
            return
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        if not self.toolTip():
            self.setToolTip(tr("Click to see how it comes about ({keys}: all figures).", keys=KEYS))
        if self._mark is None:
            self._mark = _Underline(self)

    def leaveEvent(self, event: QEvent) -> None:
        """Be a plain label again."""
        super().leaveEvent(event)
        if self._mark is not None:
            self._mark.hide()
            self._mark.deleteLater()
            self._mark = None
            self.unsetCursor()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The mark keeps to the label."""
        super().resizeEvent(event)
        if self._mark is not None:
            self._mark.setGeometry(self.rect())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Remember where a click began."""
        super().mousePressEvent(event)
        if event.button() is Qt.MouseButton.LeftButton and self.key:
            self._pressed = event.position().toPoint()
            event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Open the working, unless the mouse was dragged to select text."""
        super().mouseReleaseEvent(event)
        begun, self._pressed = self._pressed, None
        if begun is None or self.hasSelectedText():
            return
        moved = (event.position().toPoint() - begun).manhattanLength()
        if moved < QApplication.startDragDistance():
            event.accept()
            self._open_soon()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """It selects a word, and opens nothing."""
        super().mouseDoubleClickEvent(event)
        if self._wait is not None:
            self._wait.stop()

    def _open_soon(self) -> None:
        if not self.textInteractionFlags() & Qt.TextInteractionFlag.TextSelectableByMouse:
            self.explain()
            return
        if self._wait is None:
            self._wait = QTimer(self)
            self._wait.setSingleShot(True)
            self._wait.timeout.connect(self.explain)
        self._wait.start(QApplication.doubleClickInterval())

    # --- menu ---

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Offer the working, and what Qt's own menu of a label offers."""
        if not self.key:
            super().contextMenuEvent(event)
            return
        menu = self.menu()
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(event.globalPos())

    def menu(self) -> QMenu:
        """The context menu."""
        menu = QMenu(self)
        _add(menu, tr("&Explain this")).triggered.connect(self.explain)
        if self.textInteractionFlags() & Qt.TextInteractionFlag.TextSelectableByMouse:
            menu.addSeparator()
            copy = _add(menu, tr("&Copy"))
            copy.setEnabled(self.hasSelectedText())
            copy.triggered.connect(self._copy)
            _add(menu, tr("Select &all")).triggered.connect(self._select_all)
        return menu

    def _copy(self) -> None:
        QApplication.clipboard().setText(self.selectedText())

    def _select_all(self) -> None:
        self.setSelection(0, len(self.text()))


def _add(menu: QMenu, text: str) -> QAction:
    action = QAction(text, menu)
    menu.addAction(action)
    return action


class _Underline(QWidget):
    """A dotted line beneath the text of a label; it takes no room and no mouse."""

    def __init__(self, label: FigureLabel) -> None:
        super().__init__(label)
        self._label = label
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setGeometry(label.rect())
        self.show()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the line where the text ends."""
        label = self._label
        flags = (
            int(label.alignment())
            if not label.wordWrap()
            else (int(label.alignment()) | int(Qt.TextFlag.TextWordWrap))
        )
        text = label.fontMetrics().boundingRect(label.contentsRect(), flags, label.text())
        text = text.intersected(QRect(label.rect()))
        painter = QPainter(self)
        painter.setPen(QPen(QColor(theme.current().accent), 1, Qt.PenStyle.DotLine))
        painter.drawLine(text.left(), text.bottom(), text.right(), text.bottom())
        painter.end()
