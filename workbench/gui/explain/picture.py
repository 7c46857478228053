"""Paints the small pictures of :mod:`workbench.study.explain.pictures`, each by its name."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.gui import theme
from workbench.study.explain.explanation import Picture

_LINES = {"air": 6, "head": 6, "turn": 5, "spread": 5, "gauge": 4}
"""Lines of text in the height of each picture."""
_TANK, _TRACE, _BAR = 5.0, 2.0, 3.0  # lines: width of a tank, height of a trace, width of a bar


class PictureView(QWidget):
    """Shows one picture, or takes no room."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._picture: Picture | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_picture(self, picture: Picture | None) -> None:
        """Show this picture; what it shows is told as its name too."""
        self._picture = picture
        self.setVisible(picture is not None)
        self.setAccessibleName("" if picture is None else picture.told)
        self.setToolTip("" if picture is None else picture.told)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Some lines of text high."""
        line = self.fontMetrics().lineSpacing()
        lines = 0 if self._picture is None else _LINES[self._picture.name]
        return QSize(line * 4 * lines, line * lines)

    def minimumSizeHint(self) -> QSize:
        """As high as it wants to be."""
        return QSize(theme.width_of(self, 1), self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the picture in the present theme."""
        if self._picture is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        _PAINTERS[self._picture.name](painter, QRectF(self.rect()), self._picture)
        painter.end()


Paint = Callable[[QPainter, QRectF, Picture], None]


def _line(painter: QPainter) -> float:
    return float(painter.fontMetrics().lineSpacing())


def _write(painter: QPainter, place: QRectF, text: str, side: Qt.AlignmentFlag) -> None:
    """A text in the theme's own colour, cut short with dots where there is no room."""
    painter.setPen(QColor(theme.current().text))
    shown = painter.fontMetrics().elidedText(
        text, Qt.TextElideMode.ElideRight, round(place.width())
    )
    painter.drawText(place, int(side | Qt.AlignmentFlag.AlignVCenter), shown)


def _outline(painter: QPainter) -> None:
    painter.setPen(QPen(QColor(theme.current().axis), theme.CURVE_WIDTH))
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _filled(painter: QPainter, place: QRectF, colour: str) -> None:
    painter.fillRect(place, QColor(colour))


def _air(painter: QPainter, room: QRectF, picture: Picture) -> None:
    """Two tanks, the air above the water; what has come in between is darker."""
    look, line = theme.current(), _line(painter)
    low, high, low_air, high_air, drawdown = picture.labels
    height = room.height() - line - theme.CLOSE
    width = min(line * _TANK, room.width() / 4.0)
    part = room.width() / 2.0
    for number, (share, label, air) in enumerate(
        zip(picture.sizes, (low, high), (low_air, high_air), strict=True)
    ):
        tank = QRectF(number * part + 1.0, line, width, height)
        level = tank.top() + share * height
        _filled(painter, QRectF(tank.left(), level, width, tank.bottom() - level), look.selection)
        beside = tank.right() + theme.CLOSE
        wide = part - width - theme.CLOSE
        if number:
            before = tank.top() + picture.sizes[0] * height
            _filled(painter, QRectF(tank.left(), level, width, before - level),
                    look.curves[0].colour)  # fmt: skip
            middle = (level + before) / 2.0 - line / 2.0
            _write(painter, QRectF(beside, middle, wide, line), drawdown, _LEFT)
        _outline(painter)
        painter.drawRect(tank)
        painter.drawLine(QPointF(tank.left(), level), QPointF(tank.right(), level))
        _write(painter, QRectF(tank.left(), 0.0, part, line), label, _LEFT)
        _write(painter, QRectF(beside, tank.top(), wide, line), air, _LEFT)


def _turn(painter: QPainter, room: QRectF, picture: Picture) -> None:
    """Two turns as a line that is high while the pump runs."""
    line = _line(painter)
    whole = sum(picture.sizes)
    high, low = room.top() + line * 1.5, room.top() + line * (1.5 + _TRACE)
    if whole <= 0.0:
        return
    painter.setPen(QPen(QColor(theme.current().curves[0].colour), theme.OWN_CURVE_WIDTH))
    x, each = room.left() + theme.TIGHT, (room.width() - theme.CLOSE) / 2.0
    points = [QPointF(x, low)]
    for number in range(2):
        start = x + number * each
        end = start + each * picture.sizes[0] / whole
        points += [QPointF(start, low), QPointF(start, high), QPointF(end, high)]
        points += [QPointF(end, low), QPointF(start + each, low)]
    painter.drawPolyline(points)
    runs, rests = picture.labels
    end = x + each * picture.sizes[0] / whole
    _write(painter, QRectF(x, high - line * 1.4, 2.0 * each, line), runs, _LEFT)
    left = min(end, x + 2.0 * each - line * 8)
    _write(painter, QRectF(left, low + theme.TIGHT, 2.0 * each, line), rests, _LEFT)


def _head(painter: QPainter, room: QRectF, picture: Picture) -> None:
    """Heads as one bar, from the well upwards, each with its name beside it."""
    look, line = theme.current(), _line(painter)
    whole = sum(picture.sizes)
    if whole <= 0.0:
        return
    width, height = line * _BAR, room.height() - theme.CLOSE
    bottom = room.top() + theme.TIGHT + height
    places: list[float] = []
    for number, size in enumerate(picture.sizes):
        part = height * size / whole
        place = QRectF(room.left() + 1.0, bottom - part, width, part)
        _filled(painter, place, look.selection if number % 2 else look.grid)
        _outline(painter)
        painter.drawRect(place)
        places.append(place.center().y())
        bottom -= part
    for middle, label in zip(_apart(places, line, room), picture.labels, strict=True):
        beside = QRectF(room.left() + width + theme.CLOSE, middle - line / 2.0, room.width(), line)
        _write(painter, beside, label, _LEFT)


def _apart(middles: list[float], line: float, room: QRectF) -> list[float]:
    """Places from below upwards, moved until no label lies on the one beneath."""
    placed: list[float] = []
    below = room.bottom() + line / 2.0
    for middle in middles:
        below = min(middle, below - line)
        placed.append(below)
    short = room.top() + line / 2.0 - min(placed, default=room.bottom())
    return [place + max(short, 0.0) for place in placed]


def _spread(painter: QPainter, room: QRectF, picture: Picture) -> None:
    """A rectangle: the same chance everywhere between its ends."""
    look, line = theme.current(), _line(painter)
    low, middle, high, name = picture.labels
    width = min(room.width() - line * 6, line * 20)
    place = QRectF(room.center().x() - width / 2.0, room.top() + line * 1.5, width, line * _TRACE)
    _filled(painter, place, look.selection)
    _outline(painter)
    painter.drawRect(place)
    base = QPointF(room.left(), place.bottom())
    painter.drawLine(base, QPointF(room.right(), place.bottom()))
    centre = Qt.AlignmentFlag.AlignHCenter
    _write(painter, QRectF(room.left(), room.top(), room.width(), line), name, centre)
    for at, text in ((place.left(), low), (place.center().x(), middle), (place.right(), high)):
        under = QRectF(at - line * 4, place.bottom() + theme.TIGHT, line * 8, line)
        _write(painter, under, text, centre)


def _gauge(painter: QPainter, room: QRectF, picture: Picture) -> None:
    """One scale from no pressure at all; the gauge begins where the air's own pressure ends."""
    look, line = theme.current(), _line(painter)
    air, reading = (max(size, 0.0) for size in picture.sizes)
    whole = air + reading
    if whole <= 0.0:
        return
    width = room.width() - theme.CLOSE
    top = room.top() + line * 1.5
    left = room.left() + theme.TIGHT
    first = QRectF(left, top, width * air / whole, line)
    second = QRectF(first.right(), top, width * reading / whole, line)
    _filled(painter, first, look.grid)
    _filled(painter, second, look.selection)
    _outline(painter)
    painter.drawRect(first)
    painter.drawRect(second)
    air_text, gauge_text, total = picture.labels
    _write(painter, QRectF(left, room.top(), width, line), air_text, _LEFT)
    right = Qt.AlignmentFlag.AlignRight
    _write(painter, QRectF(left, room.top(), width, line), gauge_text, right)
    under = second.bottom() + theme.CLOSE
    _outline(painter)
    painter.drawLine(QPointF(left, under), QPointF(second.right(), under))
    _write(painter, QRectF(left, under + theme.TIGHT, width, line), total,
           Qt.AlignmentFlag.AlignHCenter)  # fmt: skip


_LEFT = Qt.AlignmentFlag.AlignLeft
_PAINTERS: dict[str, Paint] = {
    "air": _air,
    "turn": _turn,
    "head": _head,
    "spread": _spread,
    "gauge": _gauge,
}
