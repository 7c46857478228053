"""Peak demand by every method as bars, with what pump and well give as lines across them.

The picture is a function of the view; it reads no widget. Hover and the arrow keys both move the
frame around one method, whose figure stands in words above the plot and in the accessible
description.
"""

from __future__ import annotations

import math
from typing import Any

import pyqtgraph as pg
from PySide6.QtCore import QSize
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QWidget

from workbench.gui import theme
from workbench.gui.plots.reading_plot import pen_of
from workbench.gui.plots.rows_plot import RowsPlot
from workbench.gui.theme import Theme
from workbench.job.house_choices import demand_methods
from workbench.study.house.methods import Estimate
from workbench.study.house.view import HouseView
from workbench.study.house.words import against_words
from workbench.units import FLOW, Display
from workbench.words import tr

_ROW_LINES = 1.9  # height of a method's row, in lines of text: its name, and its bar
_NAME_SHARE = 0.6  # of the row, for the name
_MARGIN = 1.0  # pixels around a name; the usual four would cover its bar
_BAR, _OWN_BAR = 0.16, 0.3  # thickness of a bar in its row
_HEAD = 1.3  # rows above the bars, for the names of the two lines
_AXIS_LINES = 3.2  # height of the axis with its title
_BEYOND = 1.05  # the picture goes a little beyond the largest flow


class MethodsPlot(RowsPlot):
    """Shows the methods of a ``HouseView``, the chosen one heavier."""

    def __init__(self, parent: QWidget | None = None) -> None:
        self._view: HouseView | None = None
        super().__init__(tr("Peak demand by each method"), parent)
        self._names: list[Any] = []
        self._line_names: dict[str, Any] = {}
        self._bars = pg.BarGraphItem(x0=[0.0], y=[0.0], width=[0.0], height=[_BAR])
        self._bars.setZValue(-2)
        self._lines = {key: pg.InfiniteLine(angle=90) for key in ("pump", "well")}
        for line in self._lines.values():
            line.setZValue(-1)  # over the bars, under every name
        for item in (self._bars, *self._lines.values()):
            self.box.addItem(item)

    def minimumSizeHint(self) -> QSize:
        """Room for each method's name and bar, however large the type."""
        line = QFontMetrics(theme.font(bold=True)).height()
        height = ((self.count() + _HEAD) * _ROW_LINES + _AXIS_LINES) * line
        return QSize(self._widest_name(brief=True) + theme.CLOSE, round(height))

    # --- showing ---

    def show_view(self, view: HouseView, display: Display) -> None:
        """Draw the methods of a view, in these units."""
        self._view, self.display = view, display
        self.redraw()

    def flows(self) -> dict[str, float]:
        """What is drawn, in the shown unit: each method's bar by its name."""
        if self._view is None or not self._bars.isVisible():
            return {}
        usable = [
            name.toPlainText()
            for name, one in zip(self._names, self._view.estimates, strict=True)
            if one.flow is not None
        ]
        return dict(zip(usable, map(float, self._bars.opts["width"]), strict=True))

    def lines(self) -> dict[str, float]:
        """The lines that are drawn by their names, in the shown unit."""
        return {
            name.toPlainText(): float(self._lines[key].value())
            for key, name in self._line_names.items()
        }

    def draw(self, shown: Theme) -> None:
        """A bar for each method with its name above, and the two lines with theirs at the top."""
        view = self._view
        if view is None:
            return
        self.axes["bottom"].show_title(tr("Flow, {unit}", unit=self.display.symbol(FLOW)))
        rows = len(view.estimates)
        self.extent = (self._reach(view), float(rows))
        self.box.setRange(xRange=(0.0, self.extent[0]), yRange=(-_HEAD, float(rows)), padding=0)
        self._line_names.clear()
        pump = view.flows.at_cut_in if view.flows is not None else None
        self._draw_line("pump", pump, tr("pump"), shown)
        self._draw_line("well", view.well_yield, tr("well"), shown)
        self._draw_bars(view, shown)
        self._draw_names(view, shown)

    def _reach(self, view: HouseView) -> float:
        flows = [one.flow for one in view.estimates if one.flow is not None]
        flows += [view.flows.at_cut_in] if view.flows is not None else []
        flows += [view.well_yield] if view.well_yield is not None else []
        most = float(self.display.value(max(flows, default=1e-3), FLOW)) * _BEYOND
        place = 10.0 ** math.floor(math.log10(most)) / 2.0
        return math.ceil(most / place) * place  # so that the axis stands still while one types

    def _draw_bars(self, view: HouseView, shown: Theme) -> None:
        usable = [(row, one) for row, one in enumerate(view.estimates) if one.flow is not None]
        self._bars.setVisible(bool(usable))
        if not usable:
            return
        own = [one is view.chosen for _row, one in usable]
        colours = [shown.accent if chosen else shown.frame for chosen in own]
        self._bars.setOpts(
            x0=[0.0] * len(usable),
            y=[row + _NAME_SHARE + _OWN_BAR / 2 for row, _one in usable],
            width=[float(self.display.value(one.flow, FLOW)) for _row, one in usable],
            height=[_OWN_BAR if chosen else _BAR for chosen in own],
            pens=[pg.mkPen(colour) for colour in colours],
            brushes=[pg.mkBrush(colour) for colour in colours],
        )

    def _draw_names(self, view: HouseView, shown: Theme) -> None:
        """Each name above its bar, over the lines."""
        brief = self._widest_name(brief=False) + 2 * _MARGIN > self.box.width()
        self._names = [
            self.write(
                self._name_of(one, brief=brief),
                (0.0, float(row)),
                shown.muted if one.flow is None else shown.text,
                (0.0, 0.0),
                bold=one is view.chosen,
                margin=_MARGIN,
                fill=shown.base,
            )
            for row, one in enumerate(view.estimates)
        ]

    def _draw_line(self, key: str, flow: float | None, label: str, shown: Theme) -> None:
        line = self._lines[key]
        line.setVisible(flow is not None)
        if flow is None:
            return
        curve = shown.curves[1 if key == "pump" else 2]
        line.setPen(pen_of(curve, theme.CURVE_WIDTH * 1.5))
        x = float(self.display.value(flow, FLOW))
        line.setValue(x)
        text = tr("{name} {flow}", name=label, flow=self.display.text(flow, FLOW))
        anchor = (0.0 if x < self.extent[0] * 0.6 else 1.0, 0.0)
        place = (x, -_HEAD if key == "pump" else -_HEAD / 2.0)
        self._line_names[key] = self.add_label(
            text, place, curve.colour, anchor, bold=True, fill=shown.base
        )  # the other line may pass behind it

    def _widest_name(self, *, brief: bool) -> int:
        """The width of the longest name in pixels, without a margin."""
        if self._view is None:
            return 0
        usual, bold = (QFontMetrics(theme.font(bold=heavy)) for heavy in (False, True))
        return max(
            (bold if one is self._view.chosen else usual).horizontalAdvance(
                self._name_of(one, brief=brief)
            )
            for one in self._view.estimates
        )

    def _name_of(self, one: Estimate, *, brief: bool) -> str:
        """A method with its flow; in brief without the unit, which the axis names too."""
        label = demand_methods()[one.method].label
        if one.flow is not None:
            write = self.display.number if brief else self.display.text
            return tr("{method}: {flow}", method=label, flow=write(one.flow, FLOW))
        if brief:
            return tr("{method}: —", method=label)
        return tr("{method}: cannot be used", method=label)

    # --- reading ---

    def count(self) -> int:
        """A row for each method."""
        return len(self._view.estimates) if self._view is not None else 0

    def told_of(self, row: int) -> str:
        """A method against what pump and well give."""
        assert self._view is not None  # noqa: S101 - it has the row
        return against_words(self._view.estimates[row], self._view, self.display)
