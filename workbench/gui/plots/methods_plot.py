"""Peak demand by every method as bars, with what pump and well give as lines across them.

The picture is a function of the view; it reads no widget. Hover and the arrow keys both move the
frame around one method, whose figure stands in words above the plot and in the accessible
description.
"""

from __future__ import annotations

import math
from typing import Any

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent
from PySide6.QtWidgets import QGraphicsRectItem, QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.plots.axis import Axis
from workbench.gui.theme import Theme
from workbench.job.house_choices import demand_methods
from workbench.study.house.methods import Estimate
from workbench.study.house.view import HouseView
from workbench.study.house.words import against_words
from workbench.units import FLOW, Display
from workbench.words import tr

_ROW_LINES = 1.9  # height of a method's row, in lines of text: its name, and its bar
_NAME_SHARE = 0.6  # of the row, for the name
_NAME_MARGIN = 1.0  # pixels around a name; the usual four would cover its bar
_BAR, _OWN_BAR = 0.16, 0.3  # thickness of a bar in its row
_HEAD = 1.3  # rows above the bars, for the names of the two lines
_AXIS_LINES = 3.2  # height of the axis with its title
_WIDEST = 26  # lines of text: no name makes the plot wider than this
_BEYOND = 1.05  # the picture goes a little beyond the largest flow


class MethodsPlot(pg.PlotWidget):  # type: ignore[misc]  # pyqtgraph has no types
    """Shows a ``HouseView``; emits ``read(text)`` on reading, empty when nothing is read."""

    read = Signal(str)

    _theme: Theme | None = None  # None also while Qt calls changeEvent during construction

    def __init__(self, parent: QWidget | None = None) -> None:
        self._axis = Axis("bottom")
        self._view: HouseView | None = None
        self._display = Display()
        self._row = -1  # the method that is read
        self._bars: list[Any] = []
        self._names: list[Any] = []
        super().__init__(parent, axisItems={"bottom": self._axis}, enableMenu=False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(tr("Peak demand by each method"))
        self.setMouseEnabled(x=False, y=False)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.hideButtons()
        self._plot = self.getPlotItem()
        self._plot.hideAxis("left")
        self._box = self._plot.getViewBox()
        self._box.invertY(b=True)
        self._plot.showGrid(x=True, y=False, alpha=0.1)
        self._lines = {name: pg.InfiniteLine(angle=90) for name in ("pump", "well")}
        self._line_names = {name: pg.TextItem() for name in self._lines}
        self._frame = QGraphicsRectItem()
        for item in (*self._lines.values(), *self._line_names.values(), self._frame):
            self._box.addItem(item)
        for line in self._lines.values():
            line.setZValue(-1)  # over the bars, under every name
        self._frame.hide()
        self.scene().sigMouseMoved.connect(self._on_mouse_moved)

    def minimumSizeHint(self) -> QSize:
        """Room for each method's name and bar, however large the type."""
        usual, bold = (QFontMetrics(theme.font(bold=heavy)) for heavy in (False, True))
        every = self._view.estimates if self._view is not None else ()
        chosen = self._view.chosen if self._view is not None else None
        widest = max(
            ((bold if one is chosen else usual).horizontalAdvance(self._name_of(one))
             for one in every),
            default=0,
        )  # fmt: skip
        line = bold.height()
        height = ((len(every) + _HEAD) * _ROW_LINES + _AXIS_LINES) * line
        return QSize(min(widest + theme.CLOSE, line * _WIDEST), round(height))

    def sizeHint(self) -> QSize:
        """No more than that: a scroll area gives preferred heights, and would scroll for it."""
        return self.minimumSizeHint()

    # --- showing ---

    def show_view(self, view: HouseView, display: Display) -> None:
        """Draw the methods of a view, in these units."""
        rows = len(self._view.estimates) if self._view is not None else 0
        self._view, self._display = view, display
        self._axis.mark = display.mark
        if self._theme is not theme.current():
            self._dress()
        self._axis.show_title(tr("Flow, {unit}", unit=display.symbol(FLOW)))
        reach = self._reach()
        self._box.setRange(
            xRange=(0.0, reach), yRange=(-_HEAD, float(len(view.estimates))), padding=0
        )
        self._draw_methods(view)
        pump = view.flows.at_cut_in if view.flows is not None else None
        self._draw_line("pump", pump, tr("pump"), reach)
        self._draw_line("well", view.well_yield, tr("well"), reach)
        if rows != len(view.estimates):
            self.updateGeometry()
        self._forget_reading()

    def flows(self) -> dict[str, float]:
        """What is drawn, in the shown unit: each method's bar by its name."""
        return {
            name.toPlainText(): float(bar.opts["width"][0])
            for name, bar in zip(self._names, self._bars, strict=True)
            if bar.isVisible()
        }

    def lines(self) -> dict[str, float]:
        """The lines that are drawn by their names, in the shown unit."""
        return {
            self._line_names[key].toPlainText(): float(line.value())
            for key, line in self._lines.items()
            if line.isVisible()
        }

    def _reach(self) -> float:
        view = self._view
        assert view is not None  # noqa: S101 - asked while showing
        flows = [one.flow for one in view.estimates if one.flow is not None]
        flows += [view.flows.at_cut_in] if view.flows is not None else []
        flows += [view.well_yield] if view.well_yield is not None else []
        most = float(self._display.value(max(flows, default=1e-3), FLOW)) * _BEYOND
        place = 10.0 ** math.floor(math.log10(most)) / 2.0
        return math.ceil(most / place) * place  # so that the axis stands still while one types

    def _draw_methods(self, view: HouseView) -> None:
        self._provide(len(view.estimates))
        shown = theme.current()
        for row, one in enumerate(view.estimates):
            bar, name = self._bars[row], self._names[row]
            own = one is view.chosen
            name.setText(self._name_of(one), shown.muted if one.flow is None else shown.text)
            name.setFont(theme.font(bold=own))
            name.fill = pg.mkBrush(shown.base)
            name.setPos(0.0, float(row))
            bar.setVisible(one.flow is not None)
            flow = float(self._display.value(one.flow or 0.0, FLOW))
            colour = shown.accent if own else shown.frame
            bar.setOpts(
                x0=[0.0],
                y=[row + _NAME_SHARE + _OWN_BAR / 2],
                width=[flow],
                height=[_OWN_BAR if own else _BAR],
                pen=pg.mkPen(colour),
                brush=pg.mkBrush(colour),
            )

    def _provide(self, count: int) -> None:
        """So many bars with their names; those that are there are used again."""
        while len(self._bars) > count:
            self._box.removeItem(self._bars.pop())
            self._box.removeItem(self._names.pop())
        while len(self._bars) < count:
            bar = pg.BarGraphItem(x0=[0.0], y=[0.0], width=[0.0], height=[0.1])
            bar.setZValue(-2)
            name = pg.TextItem(anchor=(0, 0))
            name.textItem.document().setDocumentMargin(_NAME_MARGIN)
            self._bars.append(bar)
            self._names.append(name)
            self._box.addItem(bar)
            self._box.addItem(name)

    def _draw_line(self, key: str, flow: float | None, label: str, reach: float) -> None:
        line, name = self._lines[key], self._line_names[key]
        line.setVisible(flow is not None)
        name.setVisible(flow is not None)
        if flow is None:
            return
        shown = theme.current()
        curve = shown.curves[1 if key == "pump" else 2]
        pen = pg.mkPen(curve.colour, width=theme.CURVE_WIDTH * 1.5)
        pen.setDashPattern(list(curve.dash))
        x = float(self._display.value(flow, FLOW))
        line.setPen(pen)
        line.setValue(x)
        text = tr("{name} {flow}", name=label, flow=self._display.text(flow, FLOW))
        name.setText(text, curve.colour)
        name.fill = pg.mkBrush(shown.base)  # the other line may pass behind it
        name.setFont(theme.font(bold=True))
        name.setAnchor((0, 0) if x < reach * 0.6 else (1, 0))
        name.setPos(x, -_HEAD if key == "pump" else -_HEAD / 2.0)

    def _name_of(self, one: Estimate) -> str:
        label = demand_methods()[one.method].label
        if one.flow is None:
            return tr("{method}: cannot be used", method=label)
        return tr("{method}: {flow}", method=label, flow=self._display.text(one.flow, FLOW))

    # --- theme ---

    def changeEvent(self, event: QEvent) -> None:
        """Take the colours of the theme that is shown now."""
        super().changeEvent(event)
        changes = (QEvent.Type.PaletteChange, QEvent.Type.FontChange)
        if self._theme is not None and event.type() in changes:
            self._dress()
            self.updateGeometry()
            if self._view is not None:
                self.show_view(self._view, self._display)

    def _dress(self) -> None:
        shown = self._theme = theme.current()
        self.setBackground(shown.base)
        self._axis.dress(shown, theme.font())
        pen = pg.mkPen(shown.axis, width=1)
        pen.setCosmetic(True)
        self._frame.setPen(pen)

    # --- reading ---

    def _on_mouse_moved(self, position: QPointF) -> None:
        if self._view is None or not self._plot.sceneBoundingRect().contains(position):
            return
        row = math.floor(self._box.mapSceneToView(position).y())
        if 0 <= row < len(self._view.estimates):
            self._read_at(row)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and Down read the methods one by one; Home and End the first and the last."""
        last = len(self._view.estimates) - 1 if self._view is not None else -1
        moves: dict[int, int] = {
            Qt.Key.Key_Up: max(self._row - 1, 0),
            Qt.Key.Key_Down: min(self._row + 1, last),
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }
        if event.key() in moves:
            self._read_at(moves[event.key()])
        else:
            super().keyPressEvent(event)

    def _forget_reading(self) -> None:
        """What was read belongs to a view that is no longer shown."""
        self._row = -1
        self._frame.hide()
        self.setAccessibleDescription("")
        self.read.emit("")

    def _read_at(self, row: int) -> None:
        if self._view is None or row < 0:
            return
        self._row = row
        across = self._box.viewRange()[0]
        self._frame.setRect(QRectF(across[0], float(row), across[1] - across[0], 1.0))
        self._frame.show()
        text = against_words(self._view.estimates[row], self._view, self._display)
        self.setAccessibleDescription(text)
        self.read.emit(text)
