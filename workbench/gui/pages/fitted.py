"""A widget that is never lower than its texts need at the width that it has."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget


class Fitted(QWidget):
    """Qt's own least height is that at the least width, where wrapped texts are higher."""

    def minimumSizeHint(self) -> QSize:
        """Room for the texts at this width."""
        hint, layout = super().minimumSizeHint(), self.layout()
        if layout is not None and layout.hasHeightForWidth():
            hint.setHeight(layout.totalMinimumHeightForWidth(self.width()))
        return hint

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The texts' height follows the width."""
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self.updateGeometry()
