"""Widgets in a row as wide as each wants to be, or one under the other where there is no room."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QWidget

from workbench.gui import theme


class InARow(QWidget):
    """Give it the whole width: what the widgets leave stays free. Hidden ones take no room."""

    def __init__(self, *widgets: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._widgets = widgets
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(theme.CLOSE)
        for widget in widgets:
            self._row.addWidget(widget)
        self._row.addStretch(1)

    def minimumSizeHint(self) -> QSize:
        """As narrow as the widest of them alone."""
        widest = max(widget.minimumSizeHint().width() for widget in self._widgets)
        return QSize(widest, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Choose between beside and beneath, as if none were hidden, so that none jumps."""
        super().resizeEvent(event)
        asked = sum(widget.sizeHint().width() + theme.CLOSE for widget in self._widgets)
        way = QBoxLayout.Direction
        direction = way.LeftToRight if self.width() >= asked else way.TopToBottom
        if direction != self._row.direction():
            self._row.setDirection(direction)
            self.updateGeometry()
