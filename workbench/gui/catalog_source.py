"""Which catalogue file is ranked: choosing it, and reading it again when it changes on the disk."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import QFileSystemWatcher, QObject, QTimer, QUrl
from PySide6.QtGui import QDesktopServices

from workbench import paths, safe_file
from workbench.gui.settings import Settings
from workbench.gui.store import Store

_SETTLE = 200  # ms: a spreadsheet saves in several steps


class CatalogSource(QObject):
    """Feeds the store with the chosen catalogue, now and whenever the file changes."""

    def __init__(self, store: Store, settings: Settings, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._store = store
        self._settings = settings
        self._watcher = QFileSystemWatcher(self)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SETTLE)
        self._timer.timeout.connect(self.reload)
        self._watcher.fileChanged.connect(self._on_touched)
        self._watcher.directoryChanged.connect(self._on_touched)

    @property
    def path(self) -> Path:
        """The chosen file; the demo until one was chosen."""
        return self._settings.catalog or paths.default_catalog()

    def start(self) -> None:
        """Read the catalogue for the first time; clear away what a killed save left beside it."""
        if self._settings.catalog is None:
            with suppress(OSError):  # then the shipped one is ranked, as the tank's form will say
                paths.own_catalog()
        safe_file.remove_leftovers(self.path.parent)
        self.reload()

    def choose(self, path: Path) -> None:
        """Rank another file from now on."""
        self._settings.catalog = path
        self.reload()

    def reload(self) -> None:
        """Read the file again. Unchanged content changes nothing."""
        from workbench.catalog.problems import CatalogError
        from workbench.catalog.table import read_catalog

        self._watch()
        try:
            catalog = read_catalog(self.path)
        except CatalogError as error:
            self._store.set_catalog(None, str(error))
            return
        present = self._store.catalog
        same = present and (present.path, present.digest) == (catalog.path, catalog.digest)
        if not same or self._store.catalog_error:
            self._store.set_catalog(catalog)

    def open_folder(self) -> None:
        """Show the folder of the catalogue in the system's file manager."""
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(self.path.parent)))

    def _watch(self) -> None:
        """Watch the file and its folder; a replaced file is a new one to the system."""
        watched = self._watcher.files() + self._watcher.directories()
        if watched:
            self._watcher.removePaths(watched)
        self._watcher.addPaths([str(p) for p in (self.path, self.path.parent) if p.exists()])

    def _on_touched(self, _path: str) -> None:
        self._timer.start()
