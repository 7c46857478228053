"""A word with its shape before it: whether two readings differ."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import FigureLabel
from workbench.gui.marks import mark, painting


class Sign(FigureLabel):
    """A label with a shape of :func:`marks.mark` at its left."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("", parent)
        self._kind = ""
        self.setTextFormat(Qt.TextFormat.PlainText)

    def show_sign(self, kind: str, text: str) -> None:
        """Show a text behind the shape of this kind."""
        self._kind = kind
        self.setText(text)
        self.setContentsMargins(self._side() + theme.TIGHT, 0, 0, 0)
        self.update()

    def minimumSizeHint(self) -> QSize:
        """Room for shape and word."""
        hint = super().minimumSizeHint()
        return hint.expandedTo(QSize(hint.width(), self._side()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The shape grows with the text."""
        super().resizeEvent(event)
        if self._kind:
            self.setContentsMargins(self._side() + theme.TIGHT, 0, 0, 0)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The text, then the shape."""
        super().paintEvent(event)
        if self._kind:
            with painting(self) as painter:
                place = QRect(0, 0, self._side(), self._side())
                mark(self._kind, theme.current()).paint(painter, place)

    def _side(self) -> int:
        return self.fontMetrics().height()
