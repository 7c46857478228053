"""Page checks: everything fits, at any text size, and can be hit."""

from __future__ import annotations

import re

from PySide6.QtCore import QModelIndex, QSize, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QAbstractSpinBox,
    QComboBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QSlider,
    QStyle,
    QStyleOptionComboBox,
    QTabBar,
    QTableView,
    QWidget,
)

from tests.whole_window.checks.parts import Problems, described, place_in, visible_widgets

SCREEN = QSize(1366, 720)  # a small office screen less the task bar
TARGET = 24  # px, WCAG 2.2 (W3C Recommendation, 2024), success criterion 2.5.8
MOST_ROWS = 50  # of a table that are looked at
LONGEST_NUMBER = 24  # characters up to which a cell with a digit must not be cut


def least_size(page: QWidget) -> QSize:
    """The smallest size to which the page can be brought without losing anything."""
    least = page.minimumSizeHint().expandedTo(page.minimumSize())
    layout = page.layout()
    if layout is not None and layout.hasHeightForWidth():
        needed = layout.totalMinimumHeightForWidth(max(least.width(), SCREEN.width()))
        least.setHeight(max(least.height(), needed))
    return least


def too_large(page: QWidget) -> Problems:
    """A14: the page can be made to fit a small office screen."""
    least = least_size(page)
    if least.width() > SCREEN.width() or least.height() > SCREEN.height():
        yield (
            f"{described(page)} needs {least.width()}x{least.height()}, "
            f"the screen has {SCREEN.width()}x{SCREEN.height()}"
        )


def small_targets(page: QWidget) -> Problems:
    """A17: whatever can be clicked is large enough to hit."""
    kinds = (QAbstractButton, QComboBox, QLineEdit, QAbstractSpinBox, QSlider)
    for widget in visible_widgets(page):
        places = []
        if isinstance(widget, QTabBar):
            places = [widget.tabRect(number) for number in range(widget.count())]
        elif isinstance(widget, kinds):
            places = [widget.rect()]
        for place in places:
            if place.width() < TARGET or place.height() < TARGET:
                yield (
                    f"{described(widget)} is {place.width()}x{place.height()}, "
                    f"to be hit it needs {TARGET}x{TARGET}"
                )


def clipped(page: QWidget) -> Problems:
    """A12: nothing is cut, neither by itself nor by what is around it."""
    for widget in visible_widgets(page):
        yield from _cut_by_itself(widget)
        if widget is not page:
            yield from _cut_by_parents(widget, page)
        if isinstance(widget, QTableView):
            yield from _cut_in_table(widget)
        elif isinstance(widget, QTabBar):
            yield from _cut_tabs(widget)
        elif isinstance(widget, QComboBox):
            yield from _cut_choices(widget)
        elif isinstance(widget, QLineEdit):
            yield from _cut_entry(widget)


def _cut_by_itself(widget: QWidget) -> Problems:
    least, size = widget.minimumSizeHint(), widget.size()
    if isinstance(widget, QLabel) and widget.wordWrap() and widget.hasHeightForWidth():
        least.setHeight(widget.heightForWidth(size.width()))
    if size.width() < least.width() or size.height() < least.height():
        yield (
            f"{described(widget)} has {size.width()}x{size.height()}, "
            f"needs {least.width()}x{least.height()}"
        )


def _cut_by_parents(widget: QWidget, page: QWidget) -> Problems:
    """It may reach out of what scrolls, in the directions in which that may scroll."""
    parent = widget.parentWidget()
    if not widget.size().isValid() or widget.size().isEmpty():
        return
    inside, place = parent.rect(), widget.geometry()
    area = parent.parentWidget()
    if isinstance(area, QAbstractScrollArea) and parent is area.viewport():
        never = Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        across = area.horizontalScrollBarPolicy() != never
        down = area.verticalScrollBarPolicy() != never
        if across:
            inside.setLeft(place.left())
            inside.setRight(place.right())
        if down:
            inside.setTop(place.top())
            inside.setBottom(place.bottom())
    if not inside.contains(place):
        told = place_in(widget, page)
        yield (
            f"{described(widget)} reaches out of {described(parent)}: it has "
            f"{told.width()}x{told.height()} at ({told.x()}, {told.y()})"
        )


def _cut_in_table(view: QTableView) -> Problems:
    for header in (view.horizontalHeader(), view.verticalHeader()):
        if header.isVisible():
            yield from _cut_headings(header, view)
    model, top = view.model(), QModelIndex()
    if model is None:
        return
    for row in range(min(model.rowCount(top), MOST_ROWS)):
        for column in range(model.columnCount(top)):
            cell = model.index(row, column, top)
            text = str(cell.data(Qt.ItemDataRole.DisplayRole) or "")
            is_number = bool(re.search(r"\d", text)) and len(text) <= LONGEST_NUMBER
            width = view.columnWidth(column) - int(view.showGrid())
            if is_number and width < view.sizeHintForIndex(cell).width():
                yield f"{described(view)} row {row}, column {column} cuts '{text}'"


def _cut_headings(header: QHeaderView, view: QTableView) -> Problems:
    for section in range(header.count()):
        if header.isSectionHidden(section):
            continue
        hint = header.sectionSizeFromContents(section)
        across = header.orientation() == Qt.Orientation.Horizontal
        needed = hint.width() if across else hint.height()
        text = view.model().headerData(section, header.orientation())
        if header.sectionSize(section) < needed:
            yield f"{described(view)} cuts its heading '{text}'"
        if across and header.height() < hint.height():
            yield f"{described(view)} cuts the height of its heading '{text}'"


def _cut_tabs(bar: QTabBar) -> Problems:
    for number in range(bar.count()):
        place, text = bar.tabRect(number), bar.tabText(number)
        width = bar.fontMetrics().size(Qt.TextFlag.TextShowMnemonic, text).width()
        if place.width() < width or not bar.rect().contains(place):
            yield f"{described(bar)} cuts its tab '{text}'"


def _cut_choices(box: QComboBox) -> Problems:
    option = QStyleOptionComboBox()
    box.initStyleOption(option)
    room = box.style().subControlRect(
        QStyle.ComplexControl.CC_ComboBox, option, QStyle.SubControl.SC_ComboBoxEditField, box
    )
    for number in range(box.count()):
        text = box.itemText(number)
        if box.fontMetrics().horizontalAdvance(text) > room.width():
            yield f"{described(box)} cuts its choice '{text}'"


def _cut_entry(entry: QLineEdit) -> Problems:
    margins = entry.textMargins()
    room = entry.contentsRect().width() - margins.left() - margins.right() - 4
    texts = [entry.placeholderText()]
    if entry.property("unitText"):  # a number must be seen whole; other text scrolls
        texts.append(entry.text())
    for text in texts:
        if entry.fontMetrics().horizontalAdvance(text) > room:
            yield f"{described(entry)} cuts '{text}'"
