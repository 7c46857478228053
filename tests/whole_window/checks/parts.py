"""What the page checks share: which widgets count, what they are called, what their pixels are."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QAccessible, QColor, QImage, QTextDocumentFragment
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QFocusFrame,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QRubberBand,
    QScrollBar,
    QSizeGrip,
    QSlider,
    QSplitterHandle,
    QTabBar,
    QTextEdit,
    QWidget,
)

Problems = Iterator[str]
_SETTLING = 8  # rounds of events in which a layout in a layout comes to rest
MARKUP = re.compile(r"</?[a-zA-Z]")

_SHARE = np.arange(256) / 255
_LINEAR = np.where(_SHARE <= 0.04045, _SHARE / 12.92, ((_SHARE + 0.055) / 1.055) ** 2.4)


_COMPOSED = (QAbstractSpinBox, QComboBox, QScrollBar, QAbstractItemView, QTabBar, QLineEdit)
_FITTINGS = (QFocusFrame, QHeaderView, QRubberBand, QScrollBar, QSizeGrip, QSplitterHandle)
_INPUTS = (QLineEdit, QComboBox, QAbstractSpinBox, QPlainTextEdit, QTextEdit, QSlider)


def settle() -> None:
    """Let layouts come to rest, as they do for a person within a blink."""
    for _ in range(_SETTLING):
        QApplication.processEvents()


def is_fitting(widget: QWidget) -> bool:
    """Whether Qt made it as a part of another widget, which answers for it."""
    named_by_qt = widget.objectName().startswith("qt_")
    return named_by_qt or isinstance(widget, _FITTINGS) or isinstance(widget.parent(), _COMPOSED)


def visible_widgets(page: QWidget) -> list[QWidget]:
    """The page and all in it that a person can come to see without opening anything."""
    inside = [w for w in page.findChildren(QWidget) if w.isVisible() and not is_fitting(w)]
    return [page, *(w for w in inside if w.window() is page.window())]


def controls(page: QWidget) -> list[QWidget]:
    """Every widget at which Tab stops; a widget that hands its focus on is not one."""
    return [
        w
        for w in visible_widgets(page)
        if w.isEnabled() and w.focusPolicy() & Qt.FocusPolicy.TabFocus and not w.focusProxy()
    ]


def inputs(page: QWidget) -> list[QWidget]:
    """The controls that take a value and cannot carry their own label."""
    return [w for w in controls(page) if isinstance(w, _INPUTS) and not is_read_only(w)]


def is_read_only(widget: QWidget) -> bool:
    read_only = getattr(widget, "isReadOnly", None)
    return bool(read_only and read_only())


def plain(text: str) -> str:
    """``text`` as read: without markup, mnemonic mark and closing colon."""
    if MARKUP.search(text):
        text = QTextDocumentFragment.fromHtml(text).toPlainText()
    return re.sub(r"&(.)", r"\1", text).strip().rstrip(":")


def labels_of(widget: QWidget) -> list[QLabel]:
    """The labels that name ``widget`` as their buddy."""
    return [label for label in widget.window().findChildren(QLabel) if label.buddy() is widget]


def spoken_name(widget: QWidget) -> str:
    """What a screen reader calls ``widget``; the title of a group around it is no name."""
    if widget.accessibleName():
        return widget.accessibleName()
    for label in labels_of(widget):
        return plain(label.text())
    if isinstance(widget, QTabBar):
        return ", ".join(plain(widget.tabText(i)) for i in range(widget.count()))
    if isinstance(widget, QAbstractButton | QLabel):
        return QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)
    return str(getattr(widget, "title", str)())  # a group box that can be ticked


def described(widget: QWidget) -> str:
    """The widget as a message names it, so that it can be found in the source and on screen."""
    names = (widget.objectName(), spoken_name(widget), shown_text(widget))
    name = next((name for name in names if name), "without a name")
    return f"{type(widget).__name__} '{plain(name)[:60]}'"


def shown_text(widget: QWidget) -> str:
    """The text that stands in the widget now, if it is of a kind that shows one."""
    if isinstance(widget, QComboBox):
        return widget.currentText()
    if isinstance(widget, QPlainTextEdit | QTextEdit):
        return widget.toPlainText()
    text = getattr(widget, "text", None)
    return str(text()) if callable(text) else ""


def scrolled_content(widget: QWidget, page: QWidget) -> QWidget:
    """What scrolls as a whole around ``widget``: the content of a scroll area, or the page."""
    current = widget
    while current is not page:
        viewport = current.parentWidget()
        area = viewport.parentWidget() if viewport else None
        if isinstance(area, QAbstractScrollArea) and viewport is area.viewport():
            return current
        current = viewport
    return page


def place_in(widget: QWidget, ancestor: QWidget) -> QRect:
    """The rectangle of ``widget`` in the coordinates of ``ancestor``."""
    return QRect(widget.mapTo(ancestor, widget.rect().topLeft()), widget.size())


def luminance(rgb: NDArray[np.uint8]) -> NDArray[np.float64]:
    """Relative luminance of colours, shape (..., 3) in 0..255 -> (...).

    Source: WCAG 2.2 (W3C Recommendation, 2024), definition "relative luminance".
    """
    return np.asarray(_LINEAR[rgb] @ np.array([0.2126, 0.7152, 0.0722]))


def contrast(first: NDArray[np.uint8], second: NDArray[np.uint8]) -> NDArray[np.float64]:
    """Contrast ratio of colours, shapes (..., 3) that broadcast (same source)."""
    one, other = luminance(first), luminance(second)
    return np.asarray((np.maximum(one, other) + 0.05) / (np.minimum(one, other) + 0.05))


def contrast_of(first: QColor, second: QColor) -> float:
    """Contrast ratio of ``first``, laid over ``second`` with its own opacity, to ``second``."""
    below = np.array(second.getRgb()[:3], dtype=float)
    above = np.array(first.getRgb()[:3], dtype=float)
    seen = np.round(below + (above - below) * first.alphaF()).astype(np.uint8)
    return float(contrast(seen, below.astype(np.uint8)))


def pixels(widget: QWidget, area: QRect | None = None) -> NDArray[np.uint8]:
    """What ``widget`` looks like now within ``area`` (all of it by default): (height, width, 3).

    In pixels of the display, of which there are ``devicePixelRatio()`` to each of the widget's.
    """
    image = widget.grab(area or widget.rect()).toImage()
    image = image.convertToFormat(QImage.Format.Format_RGB32)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), -1, 4)
    return rows[:, : image.width(), 2::-1].copy()


def first_of_each(problems: Iterable[str]) -> list[str]:
    """The problems in order, each once."""
    return list(dict.fromkeys(problems))
