"""Which figures a page shows now, in the order in which one reads them."""

from __future__ import annotations

from typing import Protocol, runtime_checkable

from PySide6.QtCore import QPoint, SignalInstance
from PySide6.QtWidgets import QApplication, QWidget

from workbench.gui.explain.figure import Figure, FigureLabel
from workbench.gui.explain.painted import PaintedFigures
from workbench.gui.explain.tables import TableFigures


@runtime_checkable
class HasOwn(Protocol):
    """A page that shows something beside the results, such as a simulated day.

    ``own()`` gives it to the explaining functions; ``own_changed`` tells that it is another now.
    """

    own_changed: SignalInstance

    def own(self) -> object:
        """What the figures of the page rest on beside the results; None while there is nothing."""


def own_of(page: object) -> HasOwn | None:
    """The page as one that shows something beside the results; None where it does not."""
    return page if isinstance(page, HasOwn) else None


def figures_on(page: QWidget) -> list[Figure]:
    """All that are shown and can be explained; each key once."""
    found: list[tuple[tuple[int, ...], int, Figure]] = []
    for label in page.findChildren(FigureLabel):
        figure = label.figure()
        if figure is not None and label.isVisibleTo(page):
            found.append((_place(label, page), len(found), figure))
    for table in page.findChildren(TableFigures):
        if table.table.isVisibleTo(page):
            place = _place(table.table, page)
            found += [(place, len(found), one) for one in table.figures()]
    for painted in page.findChildren(PaintedFigures):
        if painted.widget.isVisibleTo(page):
            place = _place(painted.widget, page)
            found += [(place, len(found), one) for one in painted.figures()]
    in_order = [figure for _, _, figure in sorted(found, key=lambda one: one[:2])]
    return list({figure.key: figure for figure in in_order}.values())


def key_at_focus(page: QWidget) -> str:
    """Of the current cell of the table that has the focus, or of what is painted there; else ""."""
    focus = QApplication.focusWidget()
    for table in page.findChildren(TableFigures):
        if focus is table.table:
            return table.key
    for painted in page.findChildren(PaintedFigures):
        if focus is painted.widget:
            return painted.key
    return ""


def _place(widget: QWidget, page: QWidget) -> tuple[int, ...]:
    """Group by group from top to bottom, and so within each group."""
    group = widget.parentWidget() or widget
    ends = (group.mapTo(page, QPoint(0, 0)), widget.mapTo(page, QPoint(0, 0)))
    return tuple(one for end in ends for one in (end.y(), end.x()))
