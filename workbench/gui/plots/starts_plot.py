"""Starts an hour over the steady draw: as integrated, as at a constant flow, and the limit."""

from __future__ import annotations

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from workbench.gui import theme
from workbench.gui.plots.reading_plot import ReadingPlot, pen_of
from workbench.gui.theme import Theme
from workbench.job.pump_choices import motor_limits
from workbench.study.cycle.view import CycleView, State, TankCycle
from workbench.units import FLOW, STARTS_PER_HOUR, Display, to_si
from workbench.words import tr

_ROOM = 1.1
_OVER = 1.25  # of the picture over its highest point
_FAR = 3.0  # a limit further above the worst starts is told, not drawn


class StartsPlot(ReadingPlot):
    """Shows a :class:`CycleView` that has a cycle."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(tr("Starts an hour over the steady draw"), parent)
        self._view: CycleView | None = None
        self._constant = self.add_curve("constant flow")
        self._own = self.add_curve("integrated")
        self._worst = self.add_marks("worst", "o")
        self._steady = self.add_marks("steady draw", "s")
        self._limit = pg.InfiniteLine(angle=0)
        self.box.addItem(self._limit)

    def show_view(self, view: CycleView, display: Display) -> None:
        """Draw the view's cycle in these units."""
        self._view, self.display = view, display
        self.redraw()

    def draw(self, shown: Theme) -> None:
        """Draw curves, marks and the limit."""
        view = self._view
        turning = view.cycle if view else None
        if view is None or turning is None:
            return
        self._set_extent(view, turning)
        draw = self.display.value(turning.picture.draw, FLOW)
        cycling = turning.picture.draw <= turning.flow_at_cut_out  # beyond it there are no starts
        own, other = shown.curves[0], shown.curves[1]
        self._own.setData(
            draw[cycling],
            self.display.value(turning.picture.starts[cycling], STARTS_PER_HOUR),
            pen=pen_of(own, theme.OWN_CURVE_WIDTH),
        )
        self._constant.setVisible(not turning.fill.is_constant)
        self._constant.setData(
            draw,
            self.display.value(turning.picture.constant, STARTS_PER_HOUR),
            pen=pen_of(other, theme.CURVE_WIDTH),
        )
        self._draw_limit(view, shown)
        self._draw_marks(turning, shown)
        self._name_curves(turning, shown)

    def _limit_of(self, view: CycleView) -> float | None:
        """Starts [1/s] of the limit: those of an hour, or those of a day, evenly spread."""
        stands = view.stands
        if stands is None:
            return None
        return stands.starts_day if stands.starts_hour is None else stands.starts_hour

    def _set_extent(self, view: CycleView, turning: TankCycle) -> None:
        widest = max(turning.mean_flow, turning.flow_at_cut_out)
        if turning.steady is not None and turning.state is State.SETTLES:
            widest = max(widest, turning.steady.draw)
        limit = self._limit_of(view)
        highest = max(turning.worst.starts, turning.flow_worst.starts)
        if limit is not None and limit < _FAR * highest:
            highest = max(highest, limit)
        x = float(self.display.value(widest, FLOW)) * _ROOM
        self.set_extent(x, float(self.display.value(highest, STARTS_PER_HOUR)) * _OVER)
        self.axes["bottom"].show_title(tr("Steady draw, {unit}", unit=self.display.symbol(FLOW)))
        self.axes["left"].show_title(tr("Starts an hour"))

    def _draw_limit(self, view: CycleView, shown: Theme) -> None:
        limit = self._limit_of(view)
        self._limit.setVisible(limit is not None)
        if limit is None:
            return
        height = float(self.display.value(limit, STARTS_PER_HOUR))
        pen = pg.mkPen(shown.stop, width=theme.CURVE_WIDTH)
        pen.setStyle(Qt.PenStyle.DashDotLine)
        self._limit.setPen(pen)
        self._limit.setValue(height)
        inside = height <= self.extent[1]
        name = motor_limits()[view.limit].label
        if not inside:
            name = tr("{name}: above this picture", name=name)
        elif view.stands is not None and view.stands.starts_hour is None:
            name = tr("{name}, evenly spread", name=name)
        above = height + self.height_of_line() < self.extent[1]
        at = (self.extent[0] * 0.005, min(height, self.extent[1]))
        self.add_label(name, at, shown.stop, (0.0, 1.0 if inside and above else 0.0))

    def _draw_marks(self, turning: TankCycle, shown: Theme) -> None:
        ink = {"pen": pg.mkPen(shown.text, width=1.5), "brush": pg.mkBrush(shown.text)}
        worst = self._place(turning.worst.draw, turning.worst.starts)
        self._worst.setData([worst[0]], [worst[1]], **ink)
        starts = self.display.text(turning.worst.starts, STARTS_PER_HOUR)
        line = self.height_of_line()
        above = (worst[0], worst[1] + 0.4 * line)
        self.add_label(
            tr("worst {starts}", starts=starts), above, shown.text, (0.5, 1.0), bold=True
        )
        steady = turning.steady
        shown_here = steady is not None and turning.state is not State.FALLS_SHORT
        self._steady.setVisible(shown_here)
        if steady is None or not shown_here:
            return
        place = self._place(steady.draw, steady.starts)
        self._steady.setData([place[0]], [place[1]], **ink | {"brush": pg.mkBrush(shown.base)})
        text = tr("yours {starts}", starts=self.display.text(steady.starts, STARTS_PER_HOUR))
        low = place[1] < 1.6 * line
        at = (place[0], place[1] + 0.4 * line if low else place[1] - 0.4 * line)
        self.add_label(text, at, shown.text, (0.5, 1.0 if low else 0.0), bold=True)

    def _name_curves(self, turning: TankCycle, shown: Theme) -> None:
        """The own curve's name under its end, the other's over its fall."""
        if turning.fill.is_constant:
            return
        line = self.height_of_line()
        least = turning.flow_at_cut_out
        x = float(self.display.value(least, FLOW))
        own, other = shown.curves[0].colour, shown.curves[1].colour
        self.add_label(tr("falling flow"), (0.97 * x, 1.05 * line), own, (1.0, 1.0), bold=True)
        there = np.interp(least, turning.picture.draw, turning.picture.constant)
        height = float(self.display.value(float(there), STARTS_PER_HOUR))
        self.add_label(tr("constant flow"), (x, height + 0.1 * line), other, (0.0, 1.0))

    def _place(self, draw: float, starts: float) -> tuple[float, float]:
        return (
            float(self.display.value(draw, FLOW)),
            float(self.display.value(starts, STARTS_PER_HOUR)),
        )

    def told_at(self, x: float) -> str:
        """Draw, and the starts by both ways."""
        turning = self._view.cycle if self._view else None
        if turning is None:
            return ""
        picture, draw = turning.picture, to_si(x, self.display.unit(FLOW))
        own = float(np.interp(draw, picture.draw, picture.starts, right=0.0))
        constant = float(np.interp(draw, picture.draw, picture.constant, right=0.0))
        flow = self.display.text(draw, FLOW)
        starts = self.display.text(own, STARTS_PER_HOUR)
        if turning.fill.is_constant:
            return tr("At {flow} — {starts}", flow=flow, starts=starts)
        return tr(
            "At {flow} — {starts}   at a constant flow: {other}",
            flow=flow,
            starts=starts,
            other=self.display.text(constant, STARTS_PER_HOUR),
        )
