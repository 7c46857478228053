"""Widgets side by side, or one under the other where the width does not allow it."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QWidget

from workbench.gui import theme


class Abreast(QWidget):
    """Shares its width equally among its widgets."""

    def __init__(self, *widgets: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._widgets = widgets
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(theme.WIDE)
        for widget in widgets:
            self._row.addWidget(widget, 1)

    def minimumSizeHint(self) -> QSize:
        """As narrow as the widest of them alone."""
        widest = max((widget.minimumSizeHint().width() for widget in self._widgets), default=0)
        return QSize(widest, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Choose between beside and beneath."""
        super().resizeEvent(event)
        least = sum(widget.minimumSizeHint().width() + theme.WIDE for widget in self._widgets)
        beside = self.width() >= least - theme.WIDE
        way = QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom
        if way != self._row.direction():
            self._row.setDirection(way)
            self._row.setSpacing(theme.WIDE if beside else theme.NEAR)
