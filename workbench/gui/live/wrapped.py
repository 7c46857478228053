"""Controls in a row that goes on in the next one where the width ends."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.gui import theme


class Wrapped(QWidget):
    """Places its widgets like words of a text; the last of a row takes what room is left if it
    stretches."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._widgets: list[QWidget] = []
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def add(self, widget: QWidget) -> None:
        """Put a widget at the end."""
        widget.setParent(self)
        self._widgets.append(widget)
        self.updateGeometry()

    def heightForWidth(self, width: int) -> int:
        """Of as many rows as it takes."""
        return self._rows(width)[1]

    def minimumSizeHint(self) -> QSize:
        """As narrow as the widest of them, as high as they are at this width."""
        widest = max((self._size(one).width() for one in self._widgets), default=0)
        return QSize(widest, self.heightForWidth(max(self.width(), widest)))

    def sizeHint(self) -> QSize:
        """All in one row."""
        wide = sum(self._size(one).width() + theme.CLOSE for one in self._widgets)
        return QSize(wide, self.heightForWidth(max(self.width(), 1)))

    def event(self, event: QEvent) -> bool:
        """Place all anew when one of them has another size."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._place()
            self.updateGeometry()
        return super().event(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Place all anew."""
        super().resizeEvent(event)
        self._place()
        if event.oldSize().width() != event.size().width():
            self.updateGeometry()

    def _place(self) -> None:
        for widget, place in zip(self._widgets, self._rows(self.width())[0], strict=True):
            widget.setGeometry(place)

    def _rows(self, width: int) -> tuple[list[QRect], int]:
        places: list[QRect] = []
        x = y = row = 0
        for widget in self._widgets:
            size = self._size(widget)
            if x and x + size.width() > width:
                x, y, row = 0, y + row + theme.TIGHT, 0
            places.append(QRect(x, y, size.width(), size.height()))
            x, row = x + size.width() + theme.CLOSE, max(row, size.height())
        return places, y + row

    @staticmethod
    def _size(widget: QWidget) -> QSize:
        return (
            widget.sizeHint().expandedTo(widget.minimumSizeHint()).expandedTo(widget.minimumSize())
        )
