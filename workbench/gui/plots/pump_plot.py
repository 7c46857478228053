"""Pump and well over the flow: the pump's curve, what the system asks for, and where they meet."""

from __future__ import annotations

from typing import Any

import numpy as np
import pyqtgraph as pg
from PySide6.QtWidgets import QWidget

from workbench.gui import theme
from workbench.gui.plots.reading_plot import ReadingPlot, pen_of
from workbench.gui.theme import Theme
from workbench.study.pump.view import PumpPicture, PumpView, WorkingPoint
from workbench.units import FLOW, HEAD, PRESSURE, Display, Kind, to_si
from workbench.words import tr

_ROOM = 1.05  # beyond the last flow and the highest head


class PumpPlot(ReadingPlot):
    """Shows a :class:`PumpView` that has a picture."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(tr("Pump and system over the flow"), parent)
        self._view: PumpView | None = None
        self._pump = self.add_curve("pump")
        self._beyond = self.add_curve("pump, assumed")
        self._at_cut_in = self.add_curve("system at cut-in")
        self._at_cut_out = self.add_curve("system at cut-out")
        self._entered = self.add_marks("entered", "s")
        self._working = self.add_marks("working points", "o")

    def show_view(self, view: PumpView, display: Display) -> None:
        """Draw the view's picture in these units."""
        self._view, self.display = view, display
        self.redraw()

    def draw(self, shown: Theme) -> None:
        """Draw curves, points and labels."""
        view = self._view
        picture = view.picture if view else None
        if view is None or picture is None:
            return
        kind = _kind(picture)
        flow = self.display.value(picture.flow, FLOW)
        self._set_extent(picture, kind)
        self._draw_pump(picture, flow, kind, shown)
        stack = [(self._start_of(picture.height, kind), tr("pump"), shown.curves[0].colour, True)]
        systems = (
            (self._at_cut_in, picture.system_in, 1, tr("system at cut-in")),
            (self._at_cut_out, picture.system_out, 2, tr("system at cut-out")),
        )
        for item, asked, place, name in systems:
            curve = shown.curves[place]
            pen = pen_of(curve, theme.CURVE_WIDTH)
            item.setVisible(asked is not None)
            if asked is None:
                item.setData([], [], pen=pen)
                continue
            item.setData(flow, self.display.value(asked, kind), pen=pen)
            stack.append((self._start_of(asked, kind), name, curve.colour, False))
        self.add_stack(stack)
        self._draw_points(view, picture, kind, shown)

    def _set_extent(self, picture: PumpPicture, kind: Kind) -> None:
        heights = [picture.height, picture.system_in, picture.system_out]
        most = max(float(np.nanmax(some)) for some in heights if some is not None)
        x = float(self.display.value(picture.flow[-1], FLOW)) * _ROOM
        self.set_extent(x, float(self.display.value(most, kind)) * _ROOM * 1.05)
        self.axes["bottom"].show_title(tr("Flow, {unit}", unit=self.display.symbol(FLOW)))
        unit = self.display.symbol(kind)
        pressure, head = (
            tr("Pressure at the tank, {unit}", unit=unit),
            tr("Head, {unit}", unit=unit),
        )
        self.axes["left"].show_title(pressure if kind is PRESSURE else head)

    def _draw_pump(self, picture: PumpPicture, flow: Any, kind: Kind, shown: Theme) -> None:
        """Heavy where it is known; thin and dotted where it goes on by assumption."""
        low, high = picture.known
        known = (picture.flow >= low) & (picture.flow <= high)
        height = self.display.value(picture.height, kind)
        own = shown.curves[0]
        self._pump.setData(
            flow[known], height[known], pen=pen_of(own, theme.OWN_CURVE_WIDTH)
        )  # fmt: skip
        assumed = pg.mkPen(own.colour, width=theme.CURVE_WIDTH)
        assumed.setDashPattern([1, 3])
        self._beyond.setData(flow, height, pen=assumed, connect="finite")

    def _start_of(self, heights: Any, kind: Kind) -> float:
        known = heights[np.isfinite(heights)]
        return float(self.display.value(known[0], kind))

    def _draw_points(self, view: PumpView, picture: PumpPicture, kind: Kind, shown: Theme) -> None:
        points = picture.points
        self._entered.setData(
            self.display.value(points[:, 0], FLOW),
            self.display.value(points[:, 1], kind),
            pen=pg.mkPen(shown.curves[0].colour, width=1.5),
            brush=pg.mkBrush(shown.base),
        )
        spots = []
        for name, point in ((tr("cut-in"), view.at_cut_in), (tr("cut-out"), view.at_cut_out)):
            if point is None:
                continue
            place = (self.display.value(point.flow, FLOW), self._height_of(point, kind))
            spots.append(place)
            flow = self.display.text(point.flow, FLOW)
            text = tr("{name}: {flow}", name=name, flow=flow)
            self.point_label(text, place, shown.text)
        self._working.setData(
            pos=np.array(spots).reshape(-1, 2),
            pen=pg.mkPen(shown.text, width=1.5),
            brush=pg.mkBrush(shown.text),
        )

    def _height_of(self, point: WorkingPoint, kind: Kind) -> float:
        if kind is PRESSURE or point.head is None:
            return float(self.display.value(point.pressure, PRESSURE))
        return float(self.display.value(point.head.total, HEAD))

    def told_at(self, x: float) -> str:
        """Flow, what the pump gives there, and what the system asks for."""
        picture = self._view.picture if self._view else None
        if picture is None:
            return ""
        kind = _kind(picture)
        flow = to_si(x, self.display.unit(FLOW))
        known = np.isfinite(picture.height)
        given = np.interp(
            flow, picture.flow[known], picture.height[known], left=np.nan, right=np.nan
        )  # fmt: skip
        if np.isnan(given):
            parts = [tr("pump: beyond its points")]
        else:
            parts = [tr("pump: {height}", height=self.display.text(float(given), kind))]
        for name, asked in (
            (tr("system at cut-in"), picture.system_in),
            (tr("system at cut-out"), picture.system_out),
        ):
            if asked is not None:
                height = self.display.text(float(np.interp(flow, picture.flow, asked)), kind)
                parts.append(tr("{name}: {height}", name=name, height=height))
        return tr(
            "At {flow} — {values}", flow=self.display.text(flow, FLOW), values="   ".join(parts)
        )


def _kind(picture: PumpPicture) -> Kind:
    return PRESSURE if picture.in_pressure else HEAD
