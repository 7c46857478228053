"""A paper as it will be printed, as pictures of its pages, with zoom and keys."""

from __future__ import annotations

import math

from PySide6.QtCore import QEvent, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QAction, QHideEvent, QKeySequence, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QStackedLayout,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.paper.sheets import Sheet, Sheets
from workbench.report.blocks import PaperContent
from workbench.words import tr

DELAY = 150  # ms without another change after which the pages are made anew
ACTUAL = 96.0  # pixels per inch of a screen that shows paper in its own size
ZOOMS = (0.5, 0.67, 0.8, 1.0, 1.25, 1.5, 2.0, 2.5)
MOST_PPI = 300.0
_START_PPI = 70.0


class _Tool(QToolButton):
    """Large enough for its text, whatever the font, and to be hit."""

    def sizeHint(self) -> QSize:
        """As the style has it, and no side under the smallest target."""
        return super().sizeHint().expandedTo(QSize(theme.TARGET, theme.TARGET))

    def minimumSizeHint(self) -> QSize:
        """As the size hint."""
        return self.sizeHint()


class PaperPreview(QWidget):
    """Shows a paper's content as pages, or words in their place.

    ``settled`` is emitted when what was last asked for is shown: with "" for a paper, or with why
    there is none.
    """

    settled = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._content: PaperContent | None = None
        self._wanted_ppi = 0.0  # what the pages shown were made for; 0 if there are none
        self._zoom = 0.0  # 0: as wide as there is room
        self._pages: tuple[Sheet, ...] = ()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(DELAY)
        self._timer.timeout.connect(self._make)
        self._lay_out()
        self._on_zoomed()

    # --- what others ask of it ---

    def show_content(self, content: PaperContent) -> None:
        """Show this paper: at once if there is none yet, else after a moment without another."""
        if content == self._content and self._pages:  # else a template may have been mended
            return
        is_first = self._content is None
        self._content = content
        self._wanted_ppi = 0.0
        self._ask(at_once=is_first)

    def show_words(self, why: str, role: str = "muted") -> None:
        """Say why there is no paper."""
        self._timer.stop()
        self._content = None
        self._tell(why, role)

    @property
    def page_count(self) -> int:
        """How many pages are shown; 0 while words stand in their place."""
        return self.sheets.count if self._stack.currentWidget() is self.area else 0

    # --- making it ---

    def _lay_out(self) -> None:
        self.area = QScrollArea(self)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        self.area.setWidgetResizable(True)
        self.area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.area.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.area.setAccessibleName(tr("Paper"))
        self.area.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        self.sheets = Sheets(self.area.viewport())
        self.area.setWidget(self.sheets)
        self.area.verticalScrollBar().valueChanged.connect(self._on_scrolled)
        self.words = QLabel(self)
        self.words.setTextFormat(Qt.TextFormat.PlainText)  # it repeats what was typed
        self.words.setWordWrap(True)
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.words.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        self._stack = QStackedLayout()
        self._stack.addWidget(self.words)
        self._stack.addWidget(self.area)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        column.addLayout(self._tools())
        column.addLayout(self._stack, 1)

    def _tools(self) -> QHBoxLayout:
        """Page x of y at the left, zoom at the right."""
        row = QHBoxLayout()
        row.setSpacing(theme.TIGHT)
        self.place = QLabel(self)
        theme.set_role(self.place, "muted")
        row.addWidget(self.place, 1)
        self.zoom_label = QLabel(self)
        theme.set_role(self.zoom_label, "muted")
        row.addWidget(self.zoom_label)
        self.smaller = self._tool(
            row, "−", tr("Smaller"), QKeySequence.keyBindings(QKeySequence.StandardKey.ZoomOut)
        )
        self.smaller.triggered.connect(self.zoom_out)
        # Plus needs Shift on many keyboards; its key without Shift is the equals sign.
        keys = [
            *QKeySequence.keyBindings(QKeySequence.StandardKey.ZoomIn),
            QKeySequence("Ctrl+="),
        ]
        self.larger = self._tool(row, "+", tr("Larger"), keys)
        self.larger.triggered.connect(self.zoom_in)
        self.wide = self._tool(row, tr("Width"), tr("As wide as there is room"),
                               [QKeySequence("Ctrl+0")])  # fmt: skip
        self.wide.triggered.connect(self.fit_width)
        return row

    def _tool(self, row: QHBoxLayout, text: str, told: str, keys: list[QKeySequence]) -> QAction:
        action = QAction(text, self)
        action.setToolTip(told)
        action.setShortcuts(keys)
        self.addAction(action)
        button = _Tool(self)
        button.setDefaultAction(action)
        button.setAccessibleName(told)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        row.addWidget(button)
        return action

    # --- zoom ---

    def zoom_in(self) -> None:
        """The next larger size."""
        shown = self._ppi() / ACTUAL
        self._set_zoom(min((z for z in ZOOMS if z > shown * 1.01), default=ZOOMS[-1]))

    def zoom_out(self) -> None:
        """The next smaller size."""
        shown = self._ppi() / ACTUAL
        self._set_zoom(max((z for z in ZOOMS if z < shown * 0.99), default=ZOOMS[0]))

    def fit_width(self) -> None:
        """As wide as there is room."""
        self._set_zoom(0.0)

    def _set_zoom(self, zoom: float) -> None:
        self._zoom = zoom
        self._on_zoomed()
        self._stretch()
        self._ask()

    def _on_zoomed(self) -> None:
        ppi = self._ppi()
        percent = f"{ppi / ACTUAL * 100:.0f} %"
        self.zoom_label.setText(percent if self._pages or self._zoom else "")
        self.smaller.setEnabled(ppi > ZOOMS[0] * ACTUAL * 1.01)
        self.larger.setEnabled(ppi < ZOOMS[-1] * ACTUAL * 0.99)

    def _ppi(self) -> float:
        """Device-independent pixels per inch of paper."""
        if self._zoom:
            return self._zoom * ACTUAL
        if not self._pages:
            return _START_PPI
        # By its own width: the area's is not known while words stand in its place.
        bar = self.area.verticalScrollBar().sizeHint().width()
        room = self.width() - bar - 2 * theme.APART
        widest = max(page.inches.width() for page in self._pages)
        # Steps, so that a window being dragged does not ask for new pages at every pixel.
        return max(24.0, math.floor(room / widest))

    # --- pages ---

    def _ask(self, *, at_once: bool = False) -> None:
        if not self.isVisible():
            return  # what is seen next asks again
        if at_once:
            self._make()
        else:
            self._timer.start()

    def _make(self) -> None:
        """Make the pages, or say why that cannot be."""
        from workbench.report.typeset import PaperError  # its library after the first frame

        self._timer.stop()
        if self._content is None or self._wanted_ppi == self._device_ppi():
            return
        try:
            if not self._pages:
                self._set_pages(self._content)  # its size tells how large it is to be shown
            if self._wanted_ppi != self._device_ppi():
                self._set_pages(self._content)
        except PaperError as error:
            self._tell(f"{error.message}\n\n{error.remedy}", "problem")
            return
        self._stack.setCurrentWidget(self.area)
        self._on_scrolled()
        self.settled.emit("")

    def _device_ppi(self) -> float:
        return min(MOST_PPI, self._ppi() * self.devicePixelRatioF())

    def _set_pages(self, content: PaperContent) -> None:
        """Raises PaperError."""
        from workbench.report.plain_text import plain_text
        from workbench.report.typeset import images

        ppi = self._device_ppi()
        self._pages = tuple(Sheet(png, ppi) for png in images(content, ppi))
        self._wanted_ppi = ppi
        self._stretch()
        self._on_zoomed()
        self.area.setAccessibleDescription(plain_text(content))

    def _stretch(self) -> None:
        """Show the pages that there are in the size that is asked for."""
        if self._pages:
            self.sheets.show_pages(self._pages, self._ppi())
            self._on_scrolled()

    def _tell(self, words: str, role: str) -> None:
        self._pages, self._wanted_ppi = (), 0.0
        self.sheets.show_pages((), 0.0)
        theme.set_role(self.words, role)
        self.words.setText(words)
        self.area.setAccessibleDescription("")
        self._stack.setCurrentWidget(self.words)
        self.place.setText("")
        self._on_zoomed()
        self.settled.emit(words)

    def _on_scrolled(self) -> None:
        if not self._pages:
            return
        bar = self.area.verticalScrollBar()
        middle = bar.value() + self.area.viewport().height() / 2
        page = self.sheets.page_at(middle) + 1
        if bar.value() == bar.maximum():
            page = self.sheets.count
        self.place.setText(tr("Page {page} of {pages}", page=page, pages=self.sheets.count))

    # --- Qt ---

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Follow the width."""
        super().resizeEvent(event)
        if not self._zoom:
            self._stretch()
            self._on_zoomed()
            self._ask()

    def showEvent(self, event: QShowEvent) -> None:
        """Make what was asked for while it was not seen."""
        super().showEvent(event)
        self._ask(at_once=not self._pages)

    def hideEvent(self, event: QHideEvent) -> None:
        """Make nothing that is not seen."""
        self._timer.stop()
        super().hideEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """The desk has the colours of the theme."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.sheets.update()

    def sizeHint(self) -> QSize:
        """Room for most of a page."""
        line = self.fontMetrics().lineSpacing()
        return QSize(line * 36, line * 36)

    def minimumSizeHint(self) -> QSize:
        """Room to read in."""
        least = super().minimumSizeHint()
        return QSize(least.width(), max(least.height(), self.fontMetrics().lineSpacing() * 18))
