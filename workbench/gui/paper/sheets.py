"""Pages of a paper as pictures below each other on a desk."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from workbench.gui import theme

_PNG_SIZE = slice(16, 24)  # of width and height in its head (ISO/IEC 15948, 11.2.2)


class Sheet:
    """One page: a PNG of so many pixels per inch, which is read when it is first painted."""

    def __init__(self, png: bytes, ppi: float) -> None:
        self._png = png
        self._picture = QImage()
        width, height = (
            int.from_bytes(png[_PNG_SIZE][start : start + 4], "big") for start in (0, 4)
        )
        self.inches = QSizeF(width, height) / ppi

    def picture(self, pixels: QSize) -> QImage:
        """The page in so many pixels, made smooth from its own."""
        if self._picture.size() != pixels:
            self._picture = QImage.fromData(self._png).scaled(
                pixels,
                Qt.AspectRatioMode.IgnoreAspectRatio,
                Qt.TransformationMode.SmoothTransformation,
            )
        return self._picture


class Sheets(QWidget):
    """Paints the pages one below the other; before there are any it is all desk."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pages: tuple[Sheet, ...] = ()
        self._ppi = 0.0

    def show_pages(self, pages: Sequence[Sheet], ppi: float) -> None:
        """Show these pages at so many device-independent pixels per inch of paper."""
        self._pages, self._ppi = tuple(pages), ppi
        self.setMinimumSize(self.sizeHint())
        self.updateGeometry()
        self.update()

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self._pages)

    def sizeHint(self) -> QSize:
        """All pages with gaps between and around them."""
        places = self.places()
        width = max((place.width() for place in places), default=0)
        bottom = max((place.bottom() + 1 for place in places), default=0)
        return QSize(width + 2 * theme.APART, bottom + theme.APART)

    def places(self) -> list[QRect]:
        """Where each page lies, in the middle of the width."""
        found, y = [], float(theme.APART)
        for page in self._pages:
            size = page.inches * self._ppi
            left = max(float(theme.APART), (self.width() - size.width()) / 2)
            found.append(QRectF(QPointF(left, y), size).toRect())
            y = found[-1].bottom() + 1 + theme.APART
        return found

    def page_at(self, y: float) -> int:
        """The number, from 0, of the page at or above a height; 0 if there is none."""
        return max((n for n, place in enumerate(self.places()) if place.top() <= y), default=0)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint what is seen of them."""
        painter = QPainter(self)
        try:
            look = theme.current()
            painter.fillRect(event.rect(), QColor(look.grid))
            painter.setPen(QColor(look.frame))
            for page, place in zip(self._pages, self.places(), strict=True):
                if place.intersects(event.rect()):
                    painter.drawImage(place, page.picture(place.size() * self.devicePixelRatioF()))
                    painter.drawRect(place.adjusted(0, 0, -1, -1))
        finally:
            painter.end()
