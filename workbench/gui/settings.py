"""What the program remembers between runs; none of it is an input of a job."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray, QLocale, QSettings

from workbench.gui.theme import DARK, LIGHT, Theme
from workbench.units import Display, System

_MOST_RECENT = 8


class Settings:
    """Typed access to the stored settings. A value that cannot be used counts as not set."""

    def __init__(self) -> None:
        self._store = QSettings(
            QSettings.Format.IniFormat, QSettings.Scope.UserScope, "tank-workbench", "workbench"
        )

    def reset(self) -> None:
        """Forget everything; a way back when a setting made the window unusable."""
        self._store.clear()
        self._store.sync()

    @property
    def display(self) -> Display:
        """The chosen units, with the decimal mark of the computer's locale."""
        mark = QLocale().decimalPoint()
        name = self._text("units", System.US.value)
        known = {system.value: system for system in System}
        return Display(known.get(name, System.US), "," if mark == "," else ".")

    def set_system(self, system: System) -> None:
        """Remember the system of units."""
        self._store.setValue("units", system.value)

    @property
    def theme(self) -> str:
        """ "light", "dark" or "" for the system's choice."""
        return self._text("theme", "")

    @theme.setter
    def theme(self, name: str) -> None:
        self._store.setValue("theme", name)

    @property
    def chosen_theme(self) -> Theme | None:
        """The chosen theme, or None for the system's."""
        return {"light": LIGHT, "dark": DARK}.get(self.theme)

    @property
    def catalog(self) -> Path | None:
        """The catalogue that the user chose, or None for the demo."""
        text = self._text("catalog", "")
        return Path(text) if text else None

    @catalog.setter
    def catalog(self, path: Path | None) -> None:
        self._store.setValue("catalog", str(path) if path else "")

    @property
    def started_before(self) -> bool:
        """False on the very first start, when the demo job opens."""
        return self._text("started", "") == "yes"

    def mark_started(self) -> None:
        """Remember that the program has run once."""
        self._store.setValue("started", "yes")

    @property
    def recent(self) -> list[Path]:
        """Job files, the last used first."""
        # One text, since a list of one comes back from the file as a plain string.
        return [Path(line) for line in self._text("recent", "").split("\n") if line]

    def add_recent(self, path: Path) -> None:
        """Put a job file at the top of the recent ones."""
        others = [other for other in self.recent if other != path]
        self._set_recent([path, *others])

    def remove_recent(self, path: Path) -> None:
        """Take a job file off the recent ones."""
        self._set_recent([other for other in self.recent if other != path])

    def _set_recent(self, paths: list[Path]) -> None:
        self._store.setValue("recent", "\n".join(str(path) for path in paths[:_MOST_RECENT]))

    @property
    def shows_page_list(self) -> bool:
        """Whether the list of pages stands at the left edge."""
        return self._text("page_list", "yes") != "no"

    @shows_page_list.setter
    def shows_page_list(self, shown: bool) -> None:
        self._store.setValue("page_list", "yes" if shown else "no")

    @property
    def geometry(self) -> QByteArray:
        """The main window's place and size; empty if never stored."""
        value = self._store.value("geometry")
        return value if isinstance(value, QByteArray) else QByteArray()

    @geometry.setter
    def geometry(self, value: QByteArray) -> None:
        self._store.setValue("geometry", value)

    def _text(self, key: str, default: str) -> str:
        value = self._store.value(key, default)
        return value if isinstance(value, str) else default
