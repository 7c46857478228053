"""The gauge's pressure over time: drawn on as it happens, with the times at which the pump is on.

Only what is new is added to the kept picture, so that an hour costs a frame no more than a second.
Its lines for cut-in, cut-out and precharge can be taken hold of; elsewhere a pointer goes back in
time.
"""

from __future__ import annotations

import math

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter
from PySide6.QtWidgets import QWidget

from workbench.gui import theme
from workbench.gui.fields.entry_field import new_episode
from workbench.gui.live.ground import Ground, draw_levels, highest, levels
from workbench.gui.live.handles import Handle
from workbench.gui.live.plot_view import PlotView
from workbench.gui.live.sketch import HEAVY, LINE, THIN, line_height, pen, text_width, use, write
from workbench.gui.marks import painting
from workbench.gui.theme import Theme
from workbench.physics.system import Moment
from workbench.study.live.recording import Recording
from workbench.study.live.trace import Trace
from workbench.units import PRESSURE, TIME, Display
from workbench.words import tr

SPANS = (120.0, 300.0, 600.0, 1200.0, 1800.0)
"""How much time the picture spans [s]: the least that holds all, else the last."""
_PAGE = 450.0  # s by which it moves on when it is full
_MOST = 3000  # points at once
_STRIP = 0.55  # of a line's height: the bar that says that the pump is on
_LINES = ("cut_in", "cut_out", "precharge")


class TraceView(PlotView):
    """Emits ``moved(entry, quantity, episode)`` while a line is dragged, ``sought(time)`` on a
    pointer elsewhere."""

    moved = Signal(str, object, int)
    sought = Signal(float)
    released = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(tr("Pressure over time"), parent)
        self.recording: Recording | None = None
        self.handles: tuple[Handle, ...] = ()
        self.stretch = (0.0, SPANS[0])
        self.drawn = 0.0
        """Until when the kept picture shows the past [s]."""
        self._held: tuple[Handle, float] | None = None
        self._top = 0.0  # of the axis while a line is held; else as high as it must be
        self._seeks = False
        self._episode = -1
        self.setMouseTracking(True)

    def show_recording(
        self, recording: Recording, handles: tuple[Handle, ...], display: Display
    ) -> None:
        """Show another recording, another rig, or other units."""
        self.recording, self.rig, self.display = recording, recording.rig, display
        self.handles = handles
        self.show_moment(self.moment or recording.moment)
        self.forget()

    def show_moment(self, moment: Moment) -> None:
        """Move the point, and the picture if that lies outside of it."""
        self.moment = moment
        if self.recording is None:
            return
        stretch = stretch_of(self.recording.beginning, self.recording.time, moment.time)
        if stretch != self.stretch:
            self.stretch = stretch
            self.forget()
        self.update()

    @property
    def is_held(self) -> bool:
        """Whether the pointer holds a line."""
        return self._held is not None

    # --- drawing ---

    def make_ground(self, width: float, height: float) -> Ground:
        """Minutes across, gauge pressure up."""
        assert self.rig is not None  # noqa: S101 - nothing is drawn without one
        ends = [float(self.display.value(t, TIME)) for t in self.stretch]
        return Ground(
            width=width,
            height=height,
            line=line_height(),
            x=(ends[0], ends[1]),
            y=(0.0, self._top or highest(self.rig, self.display)),
            x_title=tr("Time, {unit}", unit=self.display.symbol(TIME)),
            y_title=tr("Gauge, {unit}", unit=self.display.symbol(PRESSURE)),
            mark=self.display.mark,
        )

    def draw_kept(self, painter: QPainter, ground: Ground, look: Theme) -> None:
        """Axes, lines, and all of the past that is in the stretch."""
        assert self.rig is not None  # noqa: S101 - nothing is drawn without one
        ground.draw(painter, look)
        shown, area = levels(self.rig, self.display, look, figures=True), ground.area
        widest = max(text_width(one.told) for one in shown) + text_width(tr("pump on"))
        beside = widest + ground.line < area.width()  # else the names end above these words
        free = _STRIP if beside else _STRIP + 1.25
        draw_levels(painter, ground, shown, self.display, look, free)
        strip = QRectF(area.left() + 3.0, area.bottom() - (_STRIP + 1.25) * ground.line,
                       area.width(), 1.1 * ground.line)  # fmt: skip
        write(painter, strip, tr("pump on"), look.muted)
        self._draw_past(painter, ground, look, -math.inf)

    def _draw_past(self, painter: QPainter, ground: Ground, look: Theme, since: float) -> None:
        """The trace from a time on, until now."""
        if self.recording is None:
            return
        trace = self.recording.trace
        rows = _rows(trace, max(since, self.stretch[0]), self.stretch[1])
        self.drawn = self.recording.time
        if rows.size < 2:
            return
        display = self.display
        minutes = np.asarray(display.value(trace.time[rows], TIME))
        shown = np.asarray(display.value(trace.pressure[rows], PRESSURE))
        _draw_runs(painter, ground, look, minutes, trace.pump_on[rows])
        use(painter, pen(look.curves[0].colour, HEAVY))
        painter.drawPolyline(ground.curve(zip(minutes.tolist(), shown.tolist(), strict=True)))

    def draw_over(self, painter: QPainter, ground: Ground, look: Theme) -> None:
        """What is new goes into the kept picture; the point lies over it."""
        assert self.moment is not None  # noqa: S101 - nothing is drawn without one
        x = float(self.display.value(self.moment.time, TIME))
        y = float(self.display.value(self.moment.pressure, PRESSURE))
        area, at = ground.area, ground.at(x, y)
        use(painter, pen(look.axis, THIN, (3.0, 3.0)))
        painter.drawLine(QPointF(at.x(), area.top()), QPointF(at.x(), area.bottom()))
        self.draw_point(painter, at, look)

    def add_new(self) -> None:
        """Draw what has happened since into the kept picture."""
        if self.kept is not None and self.recording is not None:
            with painting(self.kept) as painter:
                painter.setRenderHint(QPainter.RenderHint.Antialiasing)
                self._draw_past(painter, self.ground, theme.current(), self.drawn)
        self.update()

    # --- pointer ---

    def line_at(self, point: QPointF) -> Handle | None:
        """The line nearest to a point, if it can be hit from there."""
        if self.rig is None:
            return None
        found, reach = None, 0.5 * theme.TARGET
        for handle in self.handles:
            if handle.entry in _LINES:
                y = self.ground.py(float(self.display.value(handle.value, PRESSURE)))
                if abs(point.y() - y) <= reach:
                    found, reach = handle, abs(point.y() - y)
        return found

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of a line, or go back in time."""
        if event.button() != Qt.MouseButton.LeftButton or self.rig is None:
            super().mousePressEvent(event)
            return
        handle = self.line_at(event.position())
        if handle is None:
            self._seeks = True
            self._seek(event.position())
        else:
            self._held, self._episode = (handle, self._under(event.position())), new_episode()
            self._top = self.ground.y[1]

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the line by as much as the pointer has moved."""
        if self._held is not None:
            handle, start = self._held
            now = next(one for one in self.handles if one.entry == handle.entry)
            value = handle.value + self._under(event.position()) - start
            self.moved.emit(handle.entry, now.at(value, self.display), self._episode)
        elif self._seeks:
            self._seek(event.position())
        else:
            shape = Qt.CursorShape
            is_line = self.line_at(event.position()) is not None
            self.setCursor(shape.SizeVerCursor if is_line else shape.ArrowCursor)

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:
        """Let go."""
        if self._held is not None:
            self._held, self._top = None, 0.0
            self.forget()
            self.released.emit()
        self._seeks = False

    def _under(self, point: QPointF) -> float:
        ground, unit = self.ground, self.display.unit(PRESSURE)
        area = ground.area
        share = (area.bottom() - point.y()) / area.height()
        return share * (ground.y[1] - ground.y[0]) * unit.factor

    def _seek(self, point: QPointF) -> None:
        area = self.ground.area
        share = (point.x() - area.left()) / area.width()
        time = self.stretch[0] + share * (self.stretch[1] - self.stretch[0])
        self.sought.emit(time)


def stretch_of(beginning: float, now: float, shown: float) -> tuple[float, float]:
    """The stretch of time [s] that the picture spans."""
    for span in SPANS:
        if now - beginning <= span and beginning == 0.0:
            return 0.0, span
    span = SPANS[-1]
    start = _PAGE * max(math.ceil((now - span) / _PAGE), 0)
    if shown < start:
        start = _PAGE * math.floor(shown / _PAGE)
    return start, start + span


def _rows(trace: Trace, since: float, until: float) -> np.ndarray:
    """Rows of a stretch of time with one before it; of many only some, but each event."""
    first = max(int(np.searchsorted(trace.time, since, side="right")) - 1, 0)
    last = min(int(np.searchsorted(trace.time, until, side="right")) + 1, trace.time.size)
    rows = np.arange(first, last)
    if rows.size > _MOST:
        few = rows % (rows.size // _MOST + 1) == 0
        few |= trace.kind[rows] != 0
        few[[0, -1]] = True
        rows = rows[few]
    return rows


def _draw_runs(
    painter: QPainter, ground: Ground, look: Theme, minutes: np.ndarray, pump_on: np.ndarray
) -> None:
    """A bar along the foot for each time at which the pump was on."""
    area, high = ground.area, _STRIP * ground.line
    on = np.concatenate(([False], pump_on[:-1], [False]))
    edges = np.flatnonzero(on[1:] != on[:-1])
    use(painter, pen(look.accent, LINE), look.accent)
    for start, end in zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True):
        left = max(ground.px(float(minutes[start])), area.left())
        right = ground.px(float(minutes[min(end, minutes.size - 1)]))
        painter.drawRect(QRectF(left, area.bottom() - high, right - left, high))
