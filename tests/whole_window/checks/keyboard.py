"""Page checks: the keyboard gets everywhere, in reading order, and one sees where it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPoint, QPointF, QRect, QSize, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractItemView,
    QAbstractScrollArea,
    QAbstractSlider,
    QAbstractSpinBox,
    QApplication,
    QBoxLayout,
    QComboBox,
    QFormLayout,
    QGridLayout,
    QLayout,
    QScrollArea,
    QStackedLayout,
    QTabBar,
    QWidget,
)

from tests.whole_window.checks.parts import (
    Problems,
    contrast,
    controls,
    described,
    pixels,
    place_in,
    settle,
    visible_widgets,
)

MOST_LINKS = 12  # presses of Tab that may stay in one widget, which may hold links
SMALL = QSize(800, 552)  # the smallest window in which one must be able to work
RING_BAND = 6  # px inside the edge within which a focus mark counts; selected text does not
RING_CONTRAST = 3.0


# -- the order in which one reads --------------------------------------------------------------


@dataclass
class _Block:
    """A part of the page and the controls in it, in reading order."""

    place: QRect
    controls: list[QWidget]


def reading_order(page: QWidget) -> list[QWidget]:
    """The controls as one reads them: containers and layouts as wholes, rows before columns."""
    return _within(page, set(controls(page)))


def _within(widget: QWidget, stops: set[QWidget]) -> list[QWidget]:
    itself = [widget] if widget in stops else []
    blocks = []
    layout = widget.layout()
    if isinstance(layout, QBoxLayout | QGridLayout | QFormLayout | QStackedLayout):
        blocks = _blocks_of(layout, stops)
    laid_out = {inner for block in blocks for inner in block.controls}
    for child in widget.findChildren(QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly):
        if child.isVisible() and not child.isWindow():
            rest = [inner for inner in _within(child, stops) if inner not in laid_out]
            blocks.append(_Block(child.geometry(), rest))
    return itself + _read(blocks)


def _blocks_of(layout: QLayout, stops: set[QWidget]) -> list[_Block]:
    # Not by itemAt(): Qt deletes layout items unseen, and PySide then finds the Python half of one
    # when something else comes to lie at its address.
    around, direct = layout.parentWidget(), Qt.FindChildOption.FindDirectChildrenOnly
    widgets = around.findChildren(QWidget, options=direct) if around is not None else []
    blocks = [
        _Block(widget.geometry(), _within(widget, stops))
        for widget in widgets
        if widget.isVisible() and layout.indexOf(widget) >= 0
    ]
    blocks += [
        _Block(inner.geometry(), _read(_blocks_of(inner, stops)))
        for inner in layout.findChildren(QLayout, options=direct)
    ]
    return blocks


def _read(blocks: list[_Block]) -> list[QWidget]:
    """Cut into rows where no block lies across the cut, else into columns, and so on inside."""
    blocks = [block for block in blocks if block.controls]
    if len(blocks) <= 1:
        return [control for block in blocks for control in block.controls]
    for vertical in (True, False):
        groups = _cut(blocks, vertical)
        if len(groups) > 1:
            return [control for group in groups for control in _read(group)]
    blocks.sort(key=lambda block: (block.place.top(), block.place.left()))
    return [control for block in blocks for control in block.controls]


def _cut(blocks: list[_Block], vertical: bool) -> list[list[_Block]]:
    def ends(block: _Block) -> tuple[int, int]:
        place = block.place
        return (place.top(), place.bottom()) if vertical else (place.left(), place.right())

    groups: list[list[_Block]] = []
    reach = 0
    for block in sorted(blocks, key=ends):
        start, end = ends(block)
        if groups and start <= reach:
            groups[-1].append(block)
            reach = max(reach, end)
        else:
            groups.append([block])
            reach = end
    return groups


# -- walking with Tab ---------------------------------------------------------------------------


def walk(page: QWidget, *, back: bool = False) -> Iterator[QWidget]:
    """Press Tab all the way round; yields each stop as it gets the focus. Steps over traps."""
    stops = controls(page)
    if not stops:
        return
    start = reading_order(page)[0]
    start.setFocus(Qt.FocusReason.TabFocusReason)
    _scroll_to(start)  # the key would have
    for _ in range(2 * len(stops)):
        here = QApplication.focusWidget()
        if here is None:
            return
        yield here
        here.setFocus(Qt.FocusReason.TabFocusReason)
        following = None if _leave(here, back) else _next_stop(here, stops, back)
        if following is not None:
            following.setFocus(Qt.FocusReason.TabFocusReason)
        if QApplication.focusWidget() in (here, start):
            return


def _leave(here: QWidget, back: bool) -> bool:
    modifier = Qt.KeyboardModifier.ShiftModifier if back else Qt.KeyboardModifier.NoModifier
    key = Qt.Key.Key_Backtab if back else Qt.Key.Key_Tab
    for _ in range(MOST_LINKS):
        QTest.keyClick(here, key, modifier)
        if QApplication.focusWidget() is not here:
            return True
    return False


def _next_stop(here: QWidget, stops: list[QWidget], back: bool) -> QWidget | None:
    current = here
    while True:
        current = current.previousInFocusChain() if back else current.nextInFocusChain()
        if current is here:
            return None
        if current in stops:
            return current


def wrong_order(page: QWidget) -> Problems:
    """A4: Tab goes as one reads."""
    expected = reading_order(page)
    walked = list(walk(page))
    for stop in expected:
        if stop not in walked:
            yield f"Tab never comes to {described(stop)}"
    expected = [stop for stop in expected if stop in walked]
    for number, (should, does) in enumerate(zip(expected, walked, strict=False)):
        if should is not does:
            before = described(expected[number - 1]) if number else "the start"
            yield f"after {before} Tab goes to {described(does)}, not to {described(should)}"
            return


def traps(page: QWidget) -> Problems:
    """A5: Tab leaves every widget, and Shift+Tab is the exact way back."""
    stops = controls(page)
    for stop in stops:
        stop.setFocus(Qt.FocusReason.TabFocusReason)
        if len(stops) > 1 and not _leave(stop, back=False):
            yield f"Tab does not leave {described(stop)}"
    for view in visible_widgets(page):
        if isinstance(view, QAbstractItemView) and view.tabKeyNavigation():
            yield f"{described(view)} keeps Tab as soon as it has rows: setTabKeyNavigation(False)"
    forward, way_back = list(walk(page)), list(walk(page, back=True))
    expected = [*forward[:1], *reversed(forward[1:])]
    for should, does in zip(expected, way_back, strict=False):
        if should is not does:
            yield f"Shift+Tab goes to {described(does)}, the way back to {described(should)}"
            return
    for stop in expected[len(way_back) :]:
        yield f"Shift+Tab never comes back to {described(stop)}"


# -- seeing where one is ------------------------------------------------------------------------


def unseen_focus(page: QWidget) -> Problems:
    """A7: the focus changes as many pixels by 3:1 as the control has around it."""
    for stop in controls(page):
        stop.setFocus(Qt.FocusReason.TabFocusReason)
        _scroll_to(stop)
        area = _seen_area(stop, page)
        if area.isEmpty() or QApplication.focusWidget() is not stop:
            continue  # told by the checks of order and scrolling
        with_focus = pixels(page, area)
        stop.clearFocus()
        changed = contrast(with_focus, pixels(page, area)) >= RING_CONTRAST
        scale = page.devicePixelRatio()
        band = round(RING_BAND * scale)
        changed[band:-band, band:-band] = False
        around = round(2 * (area.width() + area.height()) * scale**2)
        if np.count_nonzero(changed) < around:
            yield (
                f"{described(stop)} hardly shows that it has the focus: {changed.sum()} pixels "
                f"change by {RING_CONTRAST:.0f}:1, {around} lie around it"
            )


def _scroll_to(widget: QWidget) -> None:
    current = widget.parentWidget()
    while current is not None:
        if isinstance(current, QScrollArea):
            current.ensureWidgetVisible(widget)
        current = current.parentWidget()


def _seen_area(widget: QWidget, page: QWidget) -> QRect:
    """The part of ``widget`` that nothing around it cuts off, in the coordinates of ``page``.

    Not its visibleRegion(), from which Qt takes what opaque parts of the widget itself cover.
    """
    seen, current = place_in(widget, page), widget.parentWidget()
    while current is not None and current is not page:
        seen = seen.intersected(place_in(current, page))
        current = current.parentWidget()
    return seen.intersected(page.rect())


def focus_out_of_sight(page: QWidget) -> Problems:
    """A18: in a window too small for the page, what has the focus is scrolled into sight."""
    before = page.size()
    small = QSize(min(before.width(), SMALL.width()), min(before.height() * 3 // 5, SMALL.height()))
    page.resize(small.expandedTo(page.minimumSizeHint()).expandedTo(page.minimumSize()))
    settle()
    for stop in walk(page):
        seen = _seen_area(stop, page)
        if isinstance(stop, QAbstractScrollArea):
            hidden = seen.isEmpty()  # it may be larger than the window
        else:
            hidden = seen.height() < stop.height()
        if hidden:
            yield f"{described(stop)} has the focus out of sight: no scroll area follows it"
    page.resize(before)


# -- the wheel ----------------------------------------------------------------------------------


def turned_by_wheel(page: QWidget) -> Problems:
    """A23: the wheel over a field that has not the focus changes nothing."""
    for field in visible_widgets(page):
        if not isinstance(field, QComboBox | QAbstractSpinBox | QAbstractSlider | QTabBar):
            continue
        focused = QApplication.focusWidget()
        if focused is not None:
            focused.clearFocus()
        before = _value(field)
        for turn in (120, -120, -120, 120):
            _turn_wheel(field, turn)
            if _value(field) != before:
                yield f"{described(field)} is changed by the wheel without having the focus"
                break


def _value(field: QWidget) -> object:
    if isinstance(field, QComboBox | QTabBar):
        return field.currentIndex()
    return field.text() if isinstance(field, QAbstractSpinBox) else field.value()  # type: ignore[attr-defined]


def _turn_wheel(field: QWidget, turn: int) -> None:
    centre = QPointF(field.rect().center())
    event = QWheelEvent(
        centre,
        QPointF(field.mapToGlobal(centre)),
        QPoint(),
        QPoint(0, turn),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(field, event)
