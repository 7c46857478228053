"""How the page shares its room: buttons in as few lines as there can be, the rest to the paper."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QEvent, QRect, QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme


class FlowRow(QWidget):
    """Holds widgets in reading order, in as many lines as its width asks for."""

    def __init__(self, *widgets: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._widgets = widgets
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        for widget in widgets:
            widget.setParent(self)

    def heightForWidth(self, width: int) -> int:
        """The height of all lines."""
        return max((place.bottom() + 1 for _, place in self._places(width)), default=0)

    def sizeHint(self) -> QSize:
        """All in one line."""
        places = [place for _, place in self._places(None)]
        return places[-1].united(places[0]).size() if places else QSize()

    def minimumSizeHint(self) -> QSize:
        """As narrow as the widest of them; as high as the lines at this width."""
        widest = max((widget.sizeHint().width() for widget in self._widgets), default=0)
        return QSize(widest, self.heightForWidth(max(self.width(), widest)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put each into its place."""
        super().resizeEvent(event)
        self._arrange()
        if event.oldSize().width() != event.size().width():
            self.updateGeometry()

    def event(self, event: QEvent) -> bool:
        """Follow what its widgets ask for, as in a larger font."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._arrange()
            self.updateGeometry()
        return super().event(event)

    def _arrange(self) -> None:
        for widget, place in self._places(self.width()):
            widget.setGeometry(place)

    def _places(self, width: int | None) -> Iterator[tuple[QWidget, QRect]]:
        """Each widget with its place in lines of that width [px]; None: in one line."""
        hints = [widget.sizeHint() for widget in self._widgets]
        height = max((hint.height() for hint in hints), default=0)
        left, top = 0, 0
        for widget, hint in zip(self._widgets, hints, strict=True):
            if width is not None and left and left + hint.width() > width:
                left, top = 0, top + height + theme.CLOSE
            yield widget, QRect(left, top, hint.width(), height)
            left += hint.width() + theme.CLOSE


class Remaining(QWidget):
    """Takes what height is left, and asks for no more than what it holds must have.

    Beside texts that wrap, a scroll area gives preferred heights, and would scroll.
    """

    def __init__(self, inside: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(inside)

    def hasHeightForWidth(self) -> bool:
        """What it holds scrolls by itself."""
        return False

    def sizeHint(self) -> QSize:
        """As wide as is liked, as low as can be."""
        return QSize(super().sizeHint().width(), self.minimumSizeHint().height())
