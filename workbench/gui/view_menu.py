"""The View menu: units, colours, the list of pages. None of it is an input of a job."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

from PySide6.QtWidgets import QApplication, QMainWindow, QMenu

from workbench.gui import theme
from workbench.gui.menus import Item, add_items
from workbench.gui.settings import Settings
from workbench.gui.store import Store
from workbench.units import System
from workbench.words import tr


class ViewMenu(QMenu):
    """Shows what is set and remembers what is chosen; ``show_pages`` shows or hides the list."""

    def __init__(
        self,
        window: QMainWindow,
        store: Store,
        settings: Settings,
        show_pages: Callable[[bool], None],
    ) -> None:
        super().__init__(tr("&View"), window)
        self._store = store
        self._settings = settings
        us, metric = add_items(window, self, (
            Item(tr("&US customary units"), self._use_us, tick=True),
            Item(tr("&SI units"), self._use_metric, tick=True),
        ), exclusive=True)  # fmt: skip
        (us if store.display.system is System.US else metric).setChecked(True)
        self.addSeparator()
        actions = add_items(window, self, (
            Item(tr("&Light colours"), self._use_light, tick=True),
            Item(tr("&Dark colours"), self._use_dark, tick=True),
            Item(tr("As the s&ystem"), self._use_system_theme, tick=True),
        ), exclusive=True)  # fmt: skip
        place = {"light": 0, "dark": 1}.get(settings.theme, 2)
        actions[place].setChecked(True)
        self.addSeparator()
        listed = Item(tr("&Page list"), show_pages, "F9", tick=True)
        (action,) = add_items(window, self, (listed,))
        action.setChecked(settings.shows_page_list)

    def _use_us(self, on: bool) -> None:
        self._use_units(System.US, on)

    def _use_metric(self, on: bool) -> None:
        self._use_units(System.METRIC, on)

    def _use_units(self, system: System, on: bool) -> None:
        if on and system is not self._store.display.system:
            self._settings.set_system(system)
            self._store.set_display(dataclasses.replace(self._store.display, system=system))

    def _use_light(self, on: bool) -> None:
        self._use_theme("light", on)

    def _use_dark(self, on: bool) -> None:
        self._use_theme("dark", on)

    def _use_system_theme(self, on: bool) -> None:
        self._use_theme("", on)

    def _use_theme(self, name: str, on: bool) -> None:
        app = QApplication.instance()
        if on and name != self._settings.theme and isinstance(app, QApplication):
            self._settings.theme = name
            theme.apply(app, self._settings.chosen_theme)
