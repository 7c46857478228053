"""Page checks: what is written or drawn stands out from what is behind it, in both themes."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QModelIndex, QRect, Qt
from PySide6.QtGui import QColor, QFont, QPalette
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QCheckBox,
    QComboBox,
    QGroupBox,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QRadioButton,
    QStyle,
    QStyleOptionButton,
    QStyleOptionComboBox,
    QStyleOptionGroupBox,
    QTabBar,
    QTableView,
    QTextEdit,
    QWidget,
)

from tests.whole_window.checks.parts import (
    Problems,
    contrast,
    contrast_of,
    described,
    pixels,
    place_in,
    plain,
    scrolled_content,
    shown_text,
    visible_widgets,
)

# WCAG 2.2 (W3C Recommendation, 2024), success criteria 1.4.3 and 1.4.11.
TEXT_CONTRAST = 4.5
LARGE_TEXT_CONTRAST = 3.0
LINE_CONTRAST = 3.0
LARGE_POINTS, LARGE_BOLD_POINTS = 18, 14

FEWEST_PIXELS = 3  # so many must stand out for a text to be seen; a dot has more
MOST_CELLS = 60  # of a table that are looked at

_ROLE = QPalette.ColorRole
Pairs = tuple[tuple[QPalette.ColorRole, QPalette.ColorRole], ...]
FIELD_PAIRS: Pairs = (
    (_ROLE.Text, _ROLE.Base),
    (_ROLE.Text, _ROLE.AlternateBase),
    (_ROLE.HighlightedText, _ROLE.Highlight),
    (_ROLE.PlaceholderText, _ROLE.Base),
)
PALETTE_PAIRS: Pairs = (
    *FIELD_PAIRS,
    (_ROLE.WindowText, _ROLE.Window),
    (_ROLE.ButtonText, _ROLE.Button),
    (_ROLE.ToolTipText, _ROLE.ToolTipBase),
    (_ROLE.Link, _ROLE.Base),
    (_ROLE.Link, _ROLE.Window),
    (_ROLE.LinkVisited, _ROLE.Base),
    (_ROLE.LinkVisited, _ROLE.Window),
)


def weak_palettes(page: QWidget) -> Problems:
    """A8: every pair of text and background in the palettes of the page and of its fields.

    Other widgets may have their colours from a style sheet, whose palette tells nothing; what they
    show is seen by A9. Disabled controls are exempt.
    """
    yield from weak_pairs(page)
    for widget in visible_widgets(page):
        if isinstance(widget, QAbstractItemView | QLineEdit | QPlainTextEdit | QTextEdit):
            yield from weak_pairs(widget, FIELD_PAIRS)


def weak_pairs(widget: QWidget, pairs: Pairs = PALETTE_PAIRS) -> Problems:
    """The ``pairs`` of text and background that are hard to read in the widget's palette."""
    palette = widget.palette()
    for group in (QPalette.ColorGroup.Active, QPalette.ColorGroup.Inactive):
        for fore, back in pairs:
            ratio = contrast_of(palette.color(group, fore), palette.color(group, back))
            if ratio < TEXT_CONTRAST:
                what = f"{fore.name} on {back.name} has {ratio:.2f}:1 ({group.name})"
                yield f"palette of {described(widget)}: {what}"


def weak_texts(page: QWidget) -> Problems:
    """A9: every text as painted, whatever palette or style sheet it comes from."""
    scale = page.devicePixelRatio()
    pictures: dict[QWidget, NDArray[np.uint8]] = {}
    for widget in visible_widgets(page):
        if not widget.isEnabled():
            continue
        content = scrolled_content(widget, page)
        if content not in pictures:
            pictures[content] = pixels(content)
        corner = place_in(widget, content).topLeft()
        for text, area in _text_areas(widget):
            if not re.search(r"[^\W_]", text):
                continue  # three dots are smaller than the smoothing of their edges
            ratio = _strongest_contrast(pictures[content], area.translated(corner), scale)
            needed = LARGE_TEXT_CONTRAST if _is_large(widget.font()) else TEXT_CONTRAST
            if ratio is not None and ratio < needed:
                yield f"{described(widget)}: '{text[:40]}' has {ratio:.2f}:1, needs {needed}:1"


def _is_large(font: QFont) -> bool:
    return font.pointSizeF() >= (LARGE_BOLD_POINTS if font.bold() else LARGE_POINTS)


def _strongest_contrast(picture: NDArray[np.uint8], area: QRect, scale: float) -> float | None:
    """Of the commonest colour in the area to those that stand out most; None if cut off."""
    left, top = max(area.left(), 0), max(area.top(), 0)
    right, bottom = max(area.right() + 1, 0), max(area.bottom() + 1, 0)
    rows, columns = (
        slice(round(start * scale), round(end * scale))
        for start, end in ((top, bottom), (left, right))
    )
    part = picture[rows, columns]
    if not part.size:
        return None
    codes, counts = np.unique(part @ np.array([1 << 16, 1 << 8, 1]), return_counts=True)
    colours = np.stack([codes >> 16, codes >> 8 & 255, codes & 255], axis=-1).astype(np.uint8)
    ratios = contrast(colours, colours[counts.argmax()])
    strongest_first = np.argsort(-ratios)
    enough = np.cumsum(counts[strongest_first]) >= FEWEST_PIXELS
    return float(ratios[strongest_first[enough.argmax()]])


def _text_areas(widget: QWidget) -> Iterator[tuple[str, QRect]]:
    """Each text that the widget paints and the rectangle, free of frames, in which it does."""
    if isinstance(widget, QTabBar):
        for number in range(widget.count()):
            yield widget.tabText(number), widget.tabRect(number).adjusted(6, 6, -6, -4)
    elif isinstance(widget, QTableView):
        yield from _cell_areas(widget)
    elif isinstance(widget, QGroupBox):
        yield from _of_group(widget)
    elif isinstance(widget, QLineEdit):
        text = widget.text() or widget.placeholderText()
        if text.strip():
            yield text, widget.rect().adjusted(4, 4, -4, -4)
    elif isinstance(widget, QLabel | QAbstractButton | QComboBox):
        text = plain(shown_text(widget))
        if text.strip():
            yield text, _area_of(widget)


def _area_of(widget: QLabel | QAbstractButton | QComboBox) -> QRect:
    style = widget.style()
    if isinstance(widget, QCheckBox | QRadioButton):
        button = QStyleOptionButton()
        widget.initStyleOption(button)
        element = QStyle.SubElement.SE_CheckBoxContents
        if isinstance(widget, QRadioButton):
            element = QStyle.SubElement.SE_RadioButtonContents
        return style.subElementRect(element, button, widget)
    if isinstance(widget, QComboBox):
        box = QStyleOptionComboBox()
        widget.initStyleOption(box)
        field = QStyle.SubControl.SC_ComboBoxEditField
        return style.subControlRect(QStyle.ComplexControl.CC_ComboBox, box, field, widget)
    if isinstance(widget, QLabel):
        return widget.contentsRect()
    inset = 6 if isinstance(widget, QPushButton) else 4
    return widget.rect().adjusted(inset, 4, -inset, -4)


def _of_group(group: QGroupBox) -> Iterator[tuple[str, QRect]]:
    option = QStyleOptionGroupBox()
    group.initStyleOption(option)
    label = QStyle.SubControl.SC_GroupBoxLabel
    control = QStyle.ComplexControl.CC_GroupBox
    if group.title():
        yield group.title(), group.style().subControlRect(control, option, label, group)


def _cell_areas(view: QTableView) -> Iterator[tuple[str, QRect]]:
    model, top, corner = view.model(), QModelIndex(), view.viewport().pos()
    if model is None:
        return
    columns = model.columnCount(top)
    for number in range(min(model.rowCount(top) * columns, MOST_CELLS)):
        cell = model.index(number // columns, number % columns, top)
        area = view.visualRect(cell).intersected(view.viewport().rect())
        text = str(cell.data(Qt.ItemDataRole.DisplayRole) or "")
        enabled = cell.flags() & Qt.ItemFlag.ItemIsEnabled
        if text.strip() and enabled and area == view.visualRect(cell):
            yield text, area.adjusted(2, 2, -2, -2).translated(corner)


# -- plots ---------------------------------------------------------------------------------------


def weak_plots(page: QWidget) -> Problems:
    """A10: lines stand out, curves differ in more than colour, axes keep the unit they name."""
    pyqtgraph: Any = sys.modules.get("pyqtgraph")
    if pyqtgraph is None:
        return
    for widget in visible_widgets(page):
        if isinstance(widget, pyqtgraph.PlotWidget):
            behind = QColor(widget.backgroundBrush().color())
            yield from _weak_curves(widget, behind, pyqtgraph)
            yield from _weak_axes(widget, behind)


def _weak_curves(plot: Any, behind: QColor, pyqtgraph: Any) -> Problems:
    looks: list[tuple[str, object]] = []
    for curve in plot.getPlotItem().listDataItems():
        pen = pyqtgraph.mkPen(curve.opts["pen"])
        name = f"{described(plot)}: curve '{curve.name()}'"
        ratio = contrast_of(pen.color(), behind)
        if ratio < LINE_CONTRAST:
            yield f"{name} has {ratio:.2f}:1, needs {LINE_CONTRAST}:1"
        looks.append((name, (pen.style(), tuple(pen.dashPattern()), curve.opts.get("symbol"))))
    for (one, look), (other, same) in combinations(looks, 2):
        if look == same:
            yield f"{one} and {other.split(': ')[1]} differ in colour only: vary dash or marker"


def _weak_axes(plot: Any, behind: QColor) -> Problems:
    for side, entry in plot.getPlotItem().axes.items():
        axis = entry["item"]
        if not axis.isVisible():
            continue
        if axis.autoSIPrefix:
            yield (
                f"{described(plot)}: the {side} axis may put a prefix before its unit: "
                "enableAutoSIPrefix(False)"
            )
        for what, pen, needed in (
            ("line", axis.pen(), LINE_CONTRAST),
            ("text", axis.textPen(), TEXT_CONTRAST),
        ):
            ratio = contrast_of(pen.color(), behind)
            if ratio < needed:
                yield f"{described(plot)}: the {side} axis's {what} has {ratio:.2f}:1"
