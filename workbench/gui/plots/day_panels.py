"""The parts of the day's picture: a tank's pressure with its pump's runs, and the house's draws."""

from __future__ import annotations

from html import escape
from typing import Any

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor

from workbench.gui import theme
from workbench.gui.plots.axis import Axis
from workbench.gui.plots.time_axis import TimeAxis
from workbench.gui.theme import Theme
from workbench.study.day.simulated import DayView, TankDay
from workbench.study.setting import Setting
from workbench.units import FLOW, PRESSURE, Display
from workbench.words import tr

_HOUR = 3600.0
_ROOM = 0.32  # of the band, above cut-out and below the lowest pressure, for their labels
_FAINT = 70  # of 255: the filling under the draws
_MARK = 9


def _panel() -> Any:
    """A plot whose time is moved by the mouse; its left axis stands still."""
    axes = {"left": Axis("left"), "bottom": TimeAxis("bottom")}
    item = pg.PlotItem(axisItems=axes, enableMenu=False)
    item.hideButtons()
    item.setMouseEnabled(x=True, y=False)
    item.getViewBox().setDefaultPadding(0.0)
    item.showGrid(x=True, y=True, alpha=0.1)
    return item


class TankPanel:
    """A tank's pressure between the switch's two, its starts, and beneath it the pump's runs."""

    def __init__(self) -> None:
        self.pressure, self.runs = _panel(), _panel()
        for item in self.items:  # the time stands beneath the draws; here only its grid
            axis = item.getAxis("bottom")
            axis.setStyle(showValues=False, tickLength=0)
            axis.setHeight(0)
        self.curve = pg.PlotCurveItem(antialias=True)
        self.starts = pg.ScatterPlotItem(pxMode=True, size=_MARK, symbol="t1")
        self.starts.setZValue(1)
        self.cut_in, self.cut_out = (
            pg.InfiniteLine(angle=0, label=" ", labelOpts={"position": 0.0, "anchors": anchors})
            for anchors in (((0, 0), (0, 0)), ((0, 1), (0, 1)))
        )
        for part in (self.cut_in, self.cut_out, self.curve, self.starts):
            self.pressure.addItem(part)
        self.bars = pg.BarGraphItem(x0=[], x1=[], y0=0.0, y1=1.0)
        self.runs.addItem(self.bars)
        self.runs.setYRange(0.0, 1.0, padding=0)
        self.runs.showGrid(x=True, y=False, alpha=0.1)
        self._shown = theme.LIGHT

    @property
    def items(self) -> tuple[Any, Any]:
        """Both plots, from top to bottom."""
        return self.pressure, self.runs

    def dress(self, shown: Theme) -> None:
        """Take the colours of a theme."""
        self._shown = shown
        curve = shown.curves[0]
        self.curve.setPen(pg.mkPen(curve.colour, width=2))
        self.starts.setPen(pg.mkPen(shown.text))
        self.starts.setBrush(pg.mkBrush(shown.text))
        for line in (self.cut_in, self.cut_out):
            pen = pg.mkPen(shown.axis, width=theme.CURVE_WIDTH)
            pen.setStyle(Qt.PenStyle.DashLine)
            line.setPen(pen)
            line.label.setColor(shown.text)
            line.label.setFont(theme.font())
        self.bars.setOpts(pen=pg.mkPen(shown.accent), brush=pg.mkBrush(shown.accent))

    def draw(self, day: TankDay, setting: Setting, display: Display, *, named: bool) -> None:
        """Draw a tank's day in these units, under its name where there are two."""
        pressure = display.value(day.pressure, PRESSURE)
        cut_in, cut_out = (
            float(display.value(one, PRESSURE)) for one in (setting.cut_in, setting.cut_out)
        )
        self.curve.setData(day.time / _HOUR, pressure)
        starts = day.run.starts / _HOUR
        self.starts.setData(starts, np.full(len(starts), cut_in))
        self.cut_in.setValue(cut_in)
        self.cut_out.setValue(cut_out)
        self.cut_in.label.setFormat(
            tr("cut-in {value}", value=display.text(setting.cut_in, PRESSURE))
        )
        self.cut_out.label.setFormat(
            tr("cut-out {value}", value=display.text(setting.cut_out, PRESSURE))
        )
        lowest = min(cut_in, float(np.min(pressure)))
        room = _ROOM * (cut_out - lowest)
        self.pressure.setYRange(lowest - room, cut_out + room, padding=0)
        axis = self.pressure.getAxis("left")
        axis.mark = display.mark
        axis.show_title(tr("Pressure, {unit}", unit=display.symbol(PRESSURE)))
        begun, ended = day.spans
        self.bars.setOpts(x0=begun / _HOUR, x1=ended / _HOUR)
        self.runs.getAxis("left").setTicks([[(0.5, tr("pump"))]])
        self._show_name(day.tank.name if named else "")

    def _show_name(self, name: str) -> None:
        if not name:
            self.pressure.setTitle(None)
            return
        size = f"{theme.font().pointSizeF():.1f}pt"
        self.pressure.setTitle(escape(name), color=self._shown.text, size=size, bold=True)


class DrawsPanel:
    """What is drawn from the house, as a faint strip, with the time beneath it."""

    def __init__(self) -> None:
        self.item = _panel()
        self.curve = pg.PlotCurveItem([0.0, 24.0], [0.0], stepMode="center", fillLevel=0.0)
        self.item.addItem(self.curve)

    def dress(self, shown: Theme) -> None:
        """Take the colours of a theme."""
        faint = QColor(shown.muted)
        faint.setAlpha(_FAINT)
        self.curve.setPen(pg.mkPen(shown.muted, width=1))
        self.curve.setBrush(pg.mkBrush(faint))

    def draw(self, view: DayView, display: Display) -> None:
        """Draw the demand in these units."""
        flow = display.value(view.draws.flow, FLOW)
        self.curve.setData(view.draws.edges / _HOUR, flow)
        highest = float(np.max(flow))
        self.item.setYRange(0.0, highest * 1.15 if highest > 0.0 else 1.0, padding=0)
        left, bottom = (self.item.getAxis(side) for side in ("left", "bottom"))
        left.mark = display.mark
        left.show_title(tr("Drawn, {unit}", unit=display.symbol(FLOW)))
        bottom.show_title(tr("Time of day"))
