"""The tank's picture with trace and path beside it, or beneath where it is too narrow.

Where it is narrower still the picture is arranged tall.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.live.sketch import line_height
from workbench.gui.live.tank_view import TankView
from workbench.gui.pages.sideways import Sideways

_SHARES = (4, 3)
_PLOTS = 14.0  # width of trace and path beside the tank, in heights of a line


class TankArea(Sideways):
    """Holds the tank's picture and has the focus for it, as it may be smaller than the picture.

    Keys go to the picture first; those that it does not want scroll.
    """

    def __init__(self, tank: TankView, parent: QWidget | None = None) -> None:
        super().__init__(tank, tank.accessibleName(), parent)
        self._tank = tank
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Expanding)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setWhatsThis(tank.whatsThis())
        tank.setFocusProxy(self)

    def setFocusPolicy(self, _policy: Qt.FocusPolicy) -> None:
        """Tab always stops here, not only where there is something to scroll."""
        super().setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def event(self, event: QEvent) -> bool:
        """Follow the height that the picture needs."""
        done = super().event(event)
        if event.type() == QEvent.Type.LayoutRequest:
            self._follow()
        return done

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """What the picture wants, else scrolling."""
        self._tank.keyPressEvent(event)
        if not event.isAccepted():
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """A new visit."""
        self._tank.begin_visit()
        super().focusInEvent(event)


class Beside(QWidget):
    """The tank, which scrolls sideways where even it alone is too wide, and what belongs to it."""

    def __init__(self, first: TankView, second: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._first, self._second = first, second
        self._area = TankArea(first, self)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(theme.NEAR)
        self._row.addWidget(self._area, _SHARES[0])
        self._row.addWidget(second, _SHARES[1])

    def minimumSizeHint(self) -> QSize:
        """As narrow as one of them alone."""
        widest = max(one.minimumSizeHint().width() for one in (self._area, self._second))
        return QSize(widest, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Choose between beside and beneath."""
        super().resizeEvent(event)
        self._choose()

    def event(self, event: QEvent) -> bool:
        """Choose anew when the picture needs another width."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._choose()
        return super().event(event)

    def _choose(self) -> None:
        wide, plots = self._first.wide_width, round(_PLOTS * line_height())
        beside = self.width() >= wide + plots + theme.NEAR
        way = QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom
        self._area.setMinimumWidth(wide if beside else 0)
        if way != self._row.direction():
            self._row.setDirection(way)
