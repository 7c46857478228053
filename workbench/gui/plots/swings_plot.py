"""Which tolerance matters most: how far each alone, at its − and at its +, changes the run.

The picture is a function of the view; it reads no widget. Pointing and the arrow keys both move the
frame around one tolerance, whose figures stand in words above the plot and in the accessible
description. While the plot is disabled it is grey: what it shows belongs to earlier entries.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetrics
from PySide6.QtWidgets import QWidget

from workbench.gui import theme
from workbench.gui.plots.axis import Axis
from workbench.gui.plots.rows_plot import RowsPlot
from workbench.gui.theme import Theme
from workbench.physics.air import FloatArray
from workbench.study.certainty.view import ToleranceView
from workbench.study.certainty.words import (
    change_text,
    half_text,
    percent_text,
    swing_sentence,
    tolerance_name,
)
from workbench.units import PERCENT, SHORT_TIME, Display
from workbench.words import tr

_ROW = 3.0  # lines of text that a tolerance takes: its name, the bar at −, the bar at +
_LINE = 1.15  # height of such a line, in heights of the font
_BARS = (1.45, 2.3)  # where the middles of the two bars lie
_BAR = 0.6  # their thickness
_AXES_LINES = 6.5  # height of both axes with their titles, in heights of the font
_MARGIN = 2.0  # pixels around a label; the usual four would cover a bar
_LEAST_SHARE = 0.35  # of the width that is left to the bars; else their labels are shortened
_WIDEST = 22  # heights of the font: no name makes the plot wider than this


class SwingsPlot(RowsPlot):
    """Shows the swings of a ``ToleranceView``, the greatest on top."""

    row_height = _ROW

    def __init__(self, parent: QWidget | None = None) -> None:
        self._view: ToleranceView | None = None
        super().__init__(tr("Change of the run by each tolerance alone"), parent)
        self.axes["top"] = Axis("top")
        self.plot_item.setAxisItems({"top": self.axes["top"]})
        self.plot_item.updateGrid()  # of this axis too
        self._bars = tuple(
            pg.BarGraphItem(x0=[0.0], y=[0.0], width=[0.0], height=_BAR) for _side in _BARS
        )
        self._zero = pg.InfiniteLine(angle=90)
        for item in (*self._bars, self._zero):
            self.box.addItem(item)

    def minimumSizeHint(self) -> QSize:
        """Room for each tolerance's name and its two bars, however large the type."""
        metrics = QFontMetrics(theme.font(bold=True))
        line = metrics.height()
        names = [self._name_of(row) for row in range(self.count())]
        widest = max(map(metrics.horizontalAdvance, names), default=0) + theme.WIDE
        lines = self.count() * _ROW * _LINE + _AXES_LINES
        return QSize(min(max(widest, line * 12), line * _WIDEST), round(lines * line))

    # --- showing ---

    def show_view(self, view: ToleranceView, display: Display) -> None:
        """Draw the swings of a view, in these units."""
        self._view, self.display = view, display
        self.redraw()

    def bars(self) -> dict[str, tuple[float, float]]:
        """The lengths that are drawn by the tolerances' names, at − and at + [%]."""
        names = [self._name_of(row) for row in range(self.count())]
        low, high = (bars.opts["width"] for bars in self._bars)
        return {name: (float(low[row]), float(high[row])) for row, name in enumerate(names)}

    def draw(self, shown: Theme) -> None:
        """Two bars for each tolerance, with names above and changes beside them."""
        view = self._view
        if view is None or view.tank is None or not view.swings:
            return
        nominal = view.tank.nominal_run
        change = np.array([(swing.low, swing.high) for swing in view.swings])
        length = self.display.value(_drawn(change), PERCENT)
        texts = self._fit(length, change, nominal)
        rows = np.arange(len(change)) * _ROW
        looks = (
            (shown.curves[1].colour, Qt.BrushStyle.BDiagPattern),
            (shown.curves[0].colour, Qt.BrushStyle.SolidPattern),
        )
        for side, (bars, at, (colour, pattern)) in enumerate(
            zip(self._bars, _BARS, looks, strict=True)
        ):
            told = QColor(colour if self.isEnabled() else shown.muted)
            bars.setOpts(
                x0=np.zeros(len(rows)),
                y=rows + at,
                width=length[:, side],
                height=_BAR,
                pen=pg.mkPen(told),
                brush=QBrush(told, pattern),
            )
            for row, y in enumerate(rows + at):
                self._draw_change(texts[row][side], float(length[row, side]), float(y), shown)
        left = self.box.viewRange()[0][0]
        text = shown.text if self.isEnabled() else shown.muted
        for row, y in enumerate(rows):
            place = (left, float(y))
            self.write(self._name_of(row), place, text, (0.0, 0.0), bold=True, margin=_MARGIN)
        self._zero.setPen(pg.mkPen(shown.axis, width=1))
        self._show_axes(nominal)

    def _draw_change(self, text: str, length: float, y: float, shown: Theme) -> None:
        anchor = (1.0, 0.5) if length < 0.0 else (0.0, 0.5)
        colour = shown.text if self.isEnabled() else shown.muted
        self.write(text, (length, y), colour, anchor, margin=_MARGIN)

    def _show_axes(self, nominal: float) -> None:
        """The same change below in per cent, above in seconds."""
        self.axes["top"].setScale(nominal / 100.0)
        for side, kind in (("bottom", PERCENT), ("top", SHORT_TIME)):
            unit = self.display.symbol(kind)
            self.axes[side].show_title(tr("Change of the run, {unit}", unit=unit))

    def _fit(
        self, length: FloatArray, change: FloatArray, nominal: float
    ) -> Sequence[Sequence[str]]:
        """Set the range so that bars and their labels have room; the labels, as long as fit."""
        metrics = QFontMetrics(theme.font())
        across = max(float(self.box.width()), 1.0)
        least, most = min(float(length.min()), 0.0), max(float(length.max()), 0.0)
        span = (most - least) or 1.0
        labels = [
            [[write(one, nominal, self.display) for one in row] for row in change]
            for write in (change_text, _short_text)
        ]
        for texts in labels:
            left = right = float(theme.TIGHT)
            for row, words in zip(length, texts, strict=True):
                for one, text in zip(row, words, strict=True):
                    width = metrics.horizontalAdvance(text) + theme.CLOSE
                    if one < 0.0:
                        left = max(left, width)
                    else:
                        right = max(right, width)
            if across - left - right >= _LEAST_SHARE * across:
                break
        scale = max(across - left - right, 0.1 * across) / span  # pixels for a per cent
        self.extent = (most, len(change) * _ROW)
        self.box.setRange(
            xRange=(least - left / scale, most + right / scale),
            yRange=(0.0, len(change) * _ROW),
            padding=0,
        )
        return texts

    def count(self) -> int:
        """A row for each tolerance."""
        return len(self._view.swings) if self._view is not None else 0

    def told_of(self, row: int) -> str:
        """What a tolerance does alone."""
        assert self._view is not None  # noqa: S101 - it has the row
        return swing_sentence(self._view.swings[row], self._view, self.display)

    def _name_of(self, row: int) -> str:
        assert self._view is not None  # noqa: S101 - it has the row
        name = self._view.swings[row].name
        half = half_text(self._view.plan, name, self.display)
        return tr("{name} {half}", name=tolerance_name(name), half=half)

    def changeEvent(self, event: QEvent) -> None:
        """Turn grey while disabled."""
        super().changeEvent(event)
        if self._theme is not None and event.type() == QEvent.Type.EnabledChange:
            self.redraw()


def _short_text(change: float, _nominal: float, display: Display) -> str:
    return percent_text(change, display)


def _drawn(change: FloatArray) -> FloatArray:
    """Changes as long as they are drawn: one without end as long as the longest of the others."""
    finite = change[np.isfinite(change)]
    longest = max(float(finite.max(initial=0.0)), 0.1)
    return np.where(np.isinf(change), longest, change)
