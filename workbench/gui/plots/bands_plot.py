"""Water for each cycle at each switch band, as bars: with the right precharge, and left as it was.

The picture is a function of the view; it reads no widget. Pointing and the arrow keys both move the
frame around one band, which stands in words above the plot and in the accessible description. The
two bars differ in pattern, not in colour alone; today's band is heavier.
"""

from __future__ import annotations

import math

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetrics
from PySide6.QtWidgets import QWidget

from workbench.gui import theme
from workbench.gui.plots.rows_plot import RowsPlot
from workbench.gui.theme import Theme
from workbench.study.bands.view import BandColumn, BandsView
from workbench.study.bands.words import band_name, sentences, share_text, water, why_no_cycle
from workbench.units import PRESSURE, VOLUME, Display
from workbench.words import tr

_ROW = 3.0  # lines of text that a band takes: its name, its bar, the bar of the old precharge
_LINE = 1.2  # height of such a line, in heights of the font
_BARS = (1.45, 2.35)  # where the middles of the two bars lie
_BAR, _OWN_BAR = 0.6, 0.9  # their thickness; of today's
_AXIS_LINES = 3.2  # height of the axis with its title, in heights of the font
_MARGIN = 2.0  # pixels around a label; the usual four would cover a bar
_LEAST_SHARE = 0.3  # of the width that is left to the bars; else their labels are shortened
_WIDEST = 22  # heights of the font: no name makes the plot wider than this


class BandsPlot(RowsPlot):
    """Shows the columns of a ``BandsView``, today's first."""

    row_height = _ROW

    def __init__(self, parent: QWidget | None = None) -> None:
        self._view: BandsView | None = None
        super().__init__(tr("Water for each cycle at each band"), parent)
        self._bars = tuple(
            pg.BarGraphItem(x0=[0.0], y=[0.0], width=[0.0], height=[_BAR]) for _which in _BARS
        )
        for bars in self._bars:
            self.box.addItem(bars)

    def minimumSizeHint(self) -> QSize:
        """Room for each band's name and its two bars, however large the type."""
        metrics = QFontMetrics(theme.font(bold=True))
        line = metrics.height()
        names = [self._name_of(one) for one in self._columns()]
        widest = max(map(metrics.horizontalAdvance, names), default=0) + theme.WIDE
        lines = self.count() * _ROW * _LINE + _AXIS_LINES
        return QSize(min(max(widest, line * 12), line * _WIDEST), round(lines * line))

    # --- showing ---

    def show_view(self, view: BandsView, display: Display) -> None:
        """Draw the bands of a view, in these units."""
        self._view, self.display = view, display
        self.redraw()

    def bars(self) -> dict[str, tuple[float, float]]:
        """The lengths that are drawn by the bands' names, in the shown unit; nan where none is."""
        right, left = (bars.opts["width"] for bars in self._bars)
        return {
            self._name_of(one): (float(right[row]), float(left[row]))
            for row, one in enumerate(self._columns())
        }

    def draw(self, shown: Theme) -> None:
        """Two bars for each band, with its name above and its water beside them."""
        columns = self._columns()
        if not columns:
            return
        length = np.array([self._lengths(one) for one in columns])
        texts = self._fit(columns, np.nan_to_num(length))
        rows = np.arange(len(columns)) * _ROW
        own = [one.is_today for one in columns]
        looks = ((shown.accent, Qt.BrushStyle.SolidPattern),
                 (shown.curves[1].colour, Qt.BrushStyle.BDiagPattern))  # fmt: skip
        for which, (bars, at, (colour, pattern)) in enumerate(
            zip(self._bars, _BARS, looks, strict=True)
        ):
            bars.setOpts(
                x0=np.zeros(len(rows)),
                y=rows + at,
                width=length[:, which],
                height=[_OWN_BAR if today else _BAR for today in own],
                pen=pg.mkPen(QColor(colour)),
                brush=QBrush(QColor(colour), pattern),
            )
            for row, y in enumerate(rows + at):
                place = (float(np.nan_to_num(length[row, which])), float(y))
                anchor = (0.0, 0.5)
                self.write(texts[row][which], place, shown.text, anchor, bold=own[row],
                           margin=_MARGIN)  # fmt: skip
        for one, y in zip(columns, rows, strict=True):
            colour = shown.stop if one.gives is None else shown.text
            self.write(self._name_of(one), (0.0, float(y)), colour, (0.0, 0.0),
                       bold=one.is_today, margin=_MARGIN)  # fmt: skip
        unit = self.display.symbol(VOLUME)
        self.axes["bottom"].show_title(tr("Water for each cycle, {unit}", unit=unit))

    def _columns(self) -> tuple[BandColumn, ...]:
        return self._view.columns if self._view is not None else ()

    def _lengths(self, column: BandColumn) -> tuple[float, float]:
        """Of the two bars, in the shown unit; nan where there is none."""
        right = math.nan if column.gives is None else column.gives.drawdown
        left = math.nan if column.left is None else column.left.drawdown
        return float(self.display.value(right, VOLUME)), float(self.display.value(left, VOLUME))

    def _fit(self, columns: tuple[BandColumn, ...], length: np.ndarray) -> list[tuple[str, str]]:
        """Set the range so that bars and their labels have room; the labels, as long as fit."""
        metrics = QFontMetrics(theme.font(bold=True))
        across = max(float(self.box.width()), 1.0)
        most = max(float(length.max()), 1e-9)
        for brief in (False, True):
            texts = [self._texts(one, brief=brief) for one in columns]
            scale = math.inf  # pixels for a shown unit
            for row, words in zip(length, texts, strict=True):
                for one, text in zip(row, words, strict=True):
                    room = across - metrics.horizontalAdvance(text) - theme.CLOSE
                    if one > 0.0:
                        scale = min(scale, room / one)
            if scale >= _LEAST_SHARE * across / most:
                break
        scale = max(min(scale, across / most), 0.1 * across / most)
        self.extent = (across / scale, len(columns) * _ROW)
        self.box.setRange(xRange=(0.0, self.extent[0]), yRange=(0.0, self.extent[1]), padding=0)
        return texts

    def _texts(self, column: BandColumn, *, brief: bool) -> tuple[str, str]:
        gives, left = column.gives, column.left
        if gives is None:
            return why_no_cycle(column), ""
        right = water(gives.drawdown, self.display)
        if column.share is not None and not column.is_today:
            share = share_text(column.share, self.display)
            right = tr("{water}, {share}", water=right, share=share)
        if left is None:
            return right, ""
        amount = water(left.drawdown, self.display)
        if brief:
            return right, amount
        charge = self.display.text(left.precharge, PRESSURE)
        if left.gap > 0.0:
            return right, tr("{water} if left at {charge}, then none until the pump starts",
                             water=amount, charge=charge)  # fmt: skip
        return right, tr("{water} if left at {charge}", water=amount, charge=charge)

    def _name_of(self, column: BandColumn) -> str:
        name = band_name(column, self.display)
        return tr("{band}, today", band=name) if column.is_today else name

    # --- reading ---

    def count(self) -> int:
        """A row for each band."""
        return len(self._columns())

    def told_of(self, row: int) -> str:
        """All of a band."""
        assert self._view is not None  # noqa: S101 - it has the row
        return sentences(self._view.columns[row], self._view, self.display)
