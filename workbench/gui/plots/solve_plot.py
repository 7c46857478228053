"""The pump's run over the one quantity that is looked for, with the answer and what bounds it."""

from __future__ import annotations

from typing import Any

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QBrush, QColor
from PySide6.QtWidgets import QGraphicsRectItem, QWidget

from workbench.gui import theme
from workbench.gui.plots.reading_plot import MARK_SIZE, ReadingPlot, pen_of
from workbench.gui.theme import Theme
from workbench.study.solve.picture import Mark, Shade, SolvePicture
from workbench.study.solve.relation import Limit
from workbench.study.solve.words import kind_of, limit_name, name_of, value_text
from workbench.units import TIME, Display, to_si
from workbench.words import tr

_ROOM = 1.08  # above the longest run that is shown
_ROWS = 2  # of text above the picture, for what the shaded parts are called
_MOST_FOR_NAMES = 0.4  # of the height


class SolvePlot(ReadingPlot):
    """Shows a :class:`SolvePicture`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(tr("Run time over what is looked for"), parent)
        self._picture: SolvePicture | None = None
        self._shades: list[QGraphicsRectItem] = []
        self._run = self.add_curve("run")
        self._usual = self.add_marks("usual answer", "o")
        self._others = self.add_marks("other answers", "s")
        self._asked = pg.InfiniteLine(angle=0)
        self.box.addItem(self._asked)

    def show_solved(self, picture: SolvePicture, display: Display) -> None:
        """Draw a picture in these units."""
        self._picture, self.display = picture, display
        self.redraw()

    def shaded(self) -> list[tuple[float, float]]:
        """From where to where parts are shaded now, in the shown unit."""
        rects = [one.rect() for one in self._shades if one.isVisible()]
        return [(rect.left(), rect.right()) for rect in rects]

    def draw(self, shown: Theme) -> None:
        """Draw the run, the asked one, the answers, and the shaded parts."""
        picture = self._picture
        if picture is None:
            return
        self._set_extent(picture)
        self._draw_shades(picture.shades, shown)
        x = self.display.value(picture.over, kind_of(picture.over_what))
        y = self.display.value(picture.run, TIME)
        self._run.setData(x, y, pen=pen_of(shown.curves[0], theme.OWN_CURVE_WIDTH))
        self._draw_asked(picture, shown)
        self._draw_marks(picture.marks, shown)

    def _set_extent(self, picture: SolvePicture) -> None:
        kind = kind_of(picture.over_what)
        rows = (_ROWS + 1.0) * self.fontMetrics().height() * 1.1
        names = min(rows / max(float(self.box.height()), 1.0), _MOST_FOR_NAMES)
        y = float(self.display.value(picture.highest, TIME)) * _ROOM / (1.0 - names)
        self.set_extent(float(self.display.value(picture.end, kind)), y)
        name, unit = name_of(picture.over_what), self.display.symbol(kind)
        self.axes["bottom"].show_title(tr("{name}, {unit}", name=name, unit=unit))
        unit = self.display.symbol(TIME)
        self.axes["left"].show_title(tr("Run time, {unit}", unit=unit))

    def _draw_shades(self, shades: tuple[Shade, ...], shown: Theme) -> None:
        while len(self._shades) < len(shades):
            item = QGraphicsRectItem()
            item.setZValue(-1)
            self.box.addItem(item)
            self._shades.append(item)
        for place, item in enumerate(self._shades):
            item.setVisible(place < len(shades))
        kind, line = kind_of(self._over()), self.height_of_line()
        for number, (item, shade) in enumerate(zip(self._shades, shades, strict=False)):
            low, high = (float(self.display.value(one, kind)) for one in (shade.low, shade.high))
            item.setRect(QRectF(low, 0.0, high - low, self.extent[1]))
            item.setPen(pg.mkPen(None))
            item.setBrush(self._brush(shade.limit, shown))
            text = limit_name(shade.limit)
            middle, at = 0.5 * (low + high), self.extent[1] - number % _ROWS * line
            self.add_label(text, (middle, at), shown.text, (0.5, 0.0), fill=shown.base)

    def _brush(self, limit: Limit, shown: Theme) -> QBrush:
        """A plain ground where no value may lie; hatched where one may but should not."""
        if limit is not Limit.GAP:
            return QBrush(QColor(shown.grid))
        brush = QBrush(QColor(shown.disabled), Qt.BrushStyle.BDiagPattern)
        scale = self.box.viewPixelSize()
        brush.setTransform(brush.transform().scale(*map(float, scale)))
        return brush

    def _over(self) -> Any:
        assert self._picture is not None  # noqa: S101 - asked while it is drawn
        return self._picture.over_what

    def _draw_asked(self, picture: SolvePicture, shown: Theme) -> None:
        self._asked.setVisible(picture.asked is not None)
        if picture.asked is None:
            return
        pen = pg.mkPen(shown.text, width=theme.CURVE_WIDTH)
        pen.setStyle(Qt.PenStyle.DashLine)
        y = float(self.display.value(picture.asked, TIME))
        self._asked.setPen(pen)
        self._asked.setValue(y)
        text = self.display.text(picture.asked, TIME)
        told, top = tr("asked: {run}", run=text), self.extent[1] - _ROWS * self.height_of_line()
        if y > top:
            told, y = tr("asked: {run}, far above", run=text), top
        place = (self.extent[0] * 0.99, y + 0.1 * self.height_of_line())
        self.add_label(told, place, shown.text, (1.0, 1.0), fill=shown.base)

    def _draw_marks(self, marks: tuple[Mark, ...], shown: Theme) -> None:
        over = self._over()
        kind = kind_of(over)
        for item, usual in ((self._usual, True), (self._others, False)):
            some = [one for one in marks if one.is_usual is usual]
            spots = [
                (self.display.value(one.place, kind), self.display.value(one.run, TIME))
                for one in some
            ]
            item.setData(
                pos=np.array(spots, dtype=float).reshape(-1, 2),
                size=MARK_SIZE * (1.3 if usual else 1.0),
                pen=pg.mkPen(shown.text, width=1.5),
                brush=pg.mkBrush(shown.text if usual else shown.base),
            )
            for one, spot in zip(some, spots, strict=True):
                self.point_label(value_text(over, one.place, self.display), spot, shown.text)
                self._labels[-1].fill = pg.mkBrush(shown.base)  # it may lie across line or hatch

    def told_at(self, x: float) -> str:
        """The run at a value, or why it cannot be."""
        picture = self._picture
        if picture is None:
            return ""
        value = to_si(x, self.display.unit(kind_of(picture.over_what)))
        told = [limit_name(one.limit) for one in picture.shades if one.low <= value <= one.high]
        run = float(np.interp(value, picture.over, picture.run, left=np.nan, right=np.nan))
        if np.isfinite(run):
            told.insert(0, tr("run {run}", run=self.display.text(run, TIME)))
        return tr(
            "At {place} — {values}",
            place=value_text(picture.over_what, value, self.display),
            values=", ".join(told) or tr("not drawn"),
        )
