"""What is wider than the page in large type scrolls by itself, so that the texts around it wrap."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QWidget

_LEAST = 20  # digits that are to be seen at once


class Sideways(QScrollArea):
    """Holds a widget of fixed height and scrolls it sideways where it must.

    Only then Tab stops here, and the arrow keys scroll.
    """

    def __init__(self, inside: QWidget, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(name)
        self._inside = inside
        self.setWidget(inside)
        inside.installEventFilter(self)

    def sizeHint(self) -> QSize:
        """As high as what it holds, and the bar where there is one."""
        return self.minimumSizeHint()

    def minimumSizeHint(self) -> QSize:
        """As the size hint; the width may be less than that of what it holds."""
        inside = self._inside.minimumSizeHint()
        least = self.fontMetrics().horizontalAdvance("0") * _LEAST
        bar = self.horizontalScrollBar().sizeHint().height() if self._is_narrow() else 0
        return QSize(min(inside.width(), least), inside.height() + bar)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the height of what it holds."""
        if watched is self._inside and event.type() == QEvent.Type.LayoutRequest:
            self._follow()
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask for room for the bar, or give it back."""
        super().resizeEvent(event)
        self._follow()

    def _is_narrow(self) -> bool:
        return self.width() < self._inside.minimumSizeHint().width()

    def _follow(self) -> None:
        policy = Qt.FocusPolicy
        self.setFocusPolicy(policy.StrongFocus if self._is_narrow() else policy.NoFocus)
        self.updateGeometry()
