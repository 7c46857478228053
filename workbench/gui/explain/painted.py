"""Figures that a widget paints by itself, as figures that can be explained."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import QObject, QPoint, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from workbench.gui.explain.figure import Figure
from workbench.words import tr

Figures = Callable[[], Iterable[Figure]]
"""What is painted now, in the order in which one reads it."""


class PaintedFigures(QObject):
    """Lists what a widget paints, and gives the widget the menu line "Explain its figures"."""

    def __init__(self, widget: QWidget, figures: Figures) -> None:
        super().__init__(widget)
        self.widget = widget
        self._figures = figures
        widget.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        widget.customContextMenuRequested.connect(self._on_menu_wanted)

    def figures(self) -> list[Figure]:
        """Those that are painted now."""
        return list(self._figures())

    @property
    def key(self) -> str:
        """Of the first one; "" where there is none."""
        return next((one.key for one in self.figures()), "")

    def explain(self) -> None:
        """Open the working of the first one, with all others beside it."""
        from workbench.gui.explain.opening import explain

        if self.key:
            explain(self.widget, self.key)

    def menu(self) -> QMenu:
        """The context menu."""
        menu = QMenu(self.widget)
        asked = QAction(tr("&Explain its figures"), menu)
        asked.setEnabled(bool(self.key))
        asked.triggered.connect(self.explain)
        menu.addAction(asked)
        return menu

    def _on_menu_wanted(self, place: QPoint) -> None:
        if not self.key:
            return
        menu = self.menu()
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(self.widget.mapToGlobal(place))
