"""What trace and path have in common as widgets: a ground kept as a picture, size, colours."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.live.ground import Ground
from workbench.gui.live.sketch import HEAVY, line_height, pen, use
from workbench.gui.marks import painting
from workbench.gui.theme import Theme
from workbench.physics.system import Moment
from workbench.study.live.rig import Rig
from workbench.units import Display

_LEAST = (11.3, 12.0)  # width and height in heights of a line
_POINT = 6.0  # px, radius of the present point


class PlotView(QWidget):
    """Paints a kept picture and over it what moves.

    A subclass gives :meth:`make_ground`, :meth:`draw_kept` and :meth:`draw_over`.
    """

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rig: Rig | None = None
        self.display = Display()
        self.moment: Moment | None = None
        self.kept: QPixmap | None = None
        self._ground: Ground | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setAccessibleName(name)

    # --- to override ---

    def make_ground(self, width: float, height: float) -> Ground:
        """Axes for what is shown now."""
        raise NotImplementedError

    def draw_kept(self, painter: QPainter, ground: Ground, look: Theme) -> None:
        """What changes seldom."""
        raise NotImplementedError

    def draw_over(self, painter: QPainter, ground: Ground, look: Theme) -> None:
        """What moves."""
        raise NotImplementedError

    # --- shared ---

    @property
    def ground(self) -> Ground:
        """The ground as it lies now."""
        if self._ground is None:
            self._ground = self.make_ground(float(self.width()), float(self.height()))
        return self._ground

    def forget(self) -> None:
        """Draw all anew."""
        self.kept = self._ground = None
        self.update()

    def draw_all(self, painter: QPainter, width: float, height: float, look: Theme) -> None:
        """The whole picture on another device, in a size and colours."""
        ground = self.make_ground(width, height)
        self.draw_kept(painter, ground, look)
        self.draw_over(painter, ground, look)
        self.forget()

    def draw_point(self, painter: QPainter, at: QPointF, look: Theme) -> None:
        """Where the tank is now."""
        use(painter, pen(look.base, HEAVY), look.text)
        painter.drawEllipse(at, _POINT, _POINT)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The kept picture, and what moves over it."""
        look = theme.current()
        with painting(self) as painter:
            if self.rig is None or self.moment is None:
                painter.fillRect(self.rect(), QColor(look.window))
                return
            ground = self.ground
            if self.kept is None:
                self.kept = self._keep(ground, look)
            painter.drawPixmap(0, 0, self.kept)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self.draw_over(painter, ground, look)

    def _keep(self, ground: Ground, look: Theme) -> QPixmap:
        scale = self.devicePixelRatioF()
        kept = QPixmap(self.size() * scale)
        kept.setDevicePixelRatio(scale)
        kept.fill(QColor(look.base))
        with painting(kept) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self.draw_kept(painter, ground, look)
        return kept

    def minimumSizeHint(self) -> QSize:
        """Room for the axes and a picture worth looking at, however large the type."""
        line = line_height()
        return QSize(round(_LEAST[0] * line), round(_LEAST[1] * line))

    def sizeHint(self) -> QSize:
        """No larger: what room there is, it takes."""
        return self.minimumSizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw anew."""
        super().resizeEvent(event)
        self.kept = self._ground = None

    def changeEvent(self, event: QEvent) -> None:
        """Take the colours and the font that are shown now."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self.kept = self._ground = None
            self.updateGeometry()
            self.update()
