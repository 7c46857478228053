"""The list of a page's figures: what each is, and its value beneath."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QModelIndex, QSize, QStringListModel, Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QListView, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import Figure
from workbench.words import tr

_LEAST, _USUAL = 20, 30  # digits of its width
_ROWS = 4  # that are seen at least


class FiguresList(QListView):
    """Emits ``chosen(figure)`` when a person comes to another one."""

    chosen = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(tr("Figures of this page"))
        self.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWordWrap(True)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setSpacing(theme.TIGHT // 2)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self._figures: Sequence[Figure] = ()
        self._texts = QStringListModel(self)
        self.setModel(self._texts)
        self._is_quiet = False
        self.selectionModel().currentChanged.connect(self._on_current_changed)

    def show_figures(self, figures: Sequence[Figure], key: str) -> None:
        """Show these figures, the one of that key chosen."""
        self._is_quiet = True
        self._figures = figures
        texts = [f"{figure.name}\n{figure.value}" for figure in figures]
        if texts != self._texts.stringList():
            self._texts.setStringList(texts)
        row = next((row for row, one in enumerate(figures) if one.key == key), -1)
        if row != self.currentIndex().row():
            self.setCurrentIndex(self._texts.index(row, 0))
        self._is_quiet = False

    def current(self) -> Figure | None:
        """The chosen figure."""
        row = self.currentIndex().row()
        return self._figures[row] if 0 <= row < len(self._figures) else None

    def _on_current_changed(self, _current: QModelIndex) -> None:
        figure = self.current()
        if figure is not None and not self._is_quiet:
            self.chosen.emit(figure)

    def sizeHint(self) -> QSize:
        """Wide enough for most names."""
        return QSize(theme.width_of(self, _USUAL), super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """A few rows."""
        rows = self.fontMetrics().lineSpacing() * 2 * _ROWS
        return QSize(theme.width_of(self, _LEAST), rows)
