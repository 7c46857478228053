"""New, open, save, save as, recent: what the File menu does with jobs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from workbench import paths, safe_file
from workbench.gui.boxes import may_replace, question_box, tell
from workbench.gui.settings import Settings
from workbench.gui.store import Store
from workbench.job import document, firm
from workbench.job.document import JobError
from workbench.job.firm import FirmError
from workbench.job.job import Job
from workbench.words import tr

_FIRST_LOOK = 50  # ms, for the first painting


class JobFiles:
    """Every method returns whether it was done; a refusal has been told to the user."""

    def __init__(self, store: Store, settings: Settings, window: QWidget) -> None:
        self._store = store
        self._settings = settings
        self._window = window

    def new(self) -> bool:
        """Start a new job of this firm."""
        if not self.may_leave():
            return False
        self._store.open_job(Job().changed(**self._firm_entries()), None)
        return True

    def begin_soon(self) -> None:
        """As :meth:`begin`, once the window has been painted."""
        later = QTimer(self._window)  # which takes it along when it goes
        later.setSingleShot(True)
        later.timeout.connect(self.begin)
        later.timeout.connect(later.deleteLater)
        later.start(_FIRST_LOOK)

    def begin(self) -> None:
        """Give the job of the start what is the firm's; what was typed meanwhile stays as it is."""
        if self._is_of_the_start():
            entries = self._firm_entries()
            if self._is_of_the_start():  # a box may have stood open meanwhile
                self._store.begin_with(entries)

    def _is_of_the_start(self) -> bool:
        """Whether the job was not opened, and holds nothing of a firm yet."""
        store = self._store
        is_new = store.path is None and not store.job.demo
        return is_new and firm.entries_of(store.job) == firm.entries_of(Job())

    def _firm_entries(self) -> dict[str, Any]:
        try:
            return firm.firm_entries()
        except FirmError as error:
            tell(
                self._window,
                tr("The firm's file was not read"),
                error.message,
                tr("{remedy} The new job begins with what comes with the program; its prices are"
                   " invented.", remedy=error.remedy),
            )  # fmt: skip
            return firm.shipped_entries()

    def open_demo(self) -> bool:
        """Open the demo job, which is marked as such."""
        return self.may_leave() and self._read(paths.demo_job(), remember=False)

    def choose_and_open(self) -> bool:
        """Ask for a file and open it."""
        if not self.may_leave():
            return False
        name, _ = QFileDialog.getOpenFileName(
            self._window, tr("Open a job"), str(self._folder()), self._filter()
        )
        return bool(name) and self._read(Path(name))

    def open(self, path: Path) -> bool:
        """Open a named file."""
        return self.may_leave() and self._read(path)

    def _read(self, path: Path, *, remember: bool = True) -> bool:
        try:
            job = document.read(path)
        except JobError as error:
            self._settings.remove_recent(path)
            tell(self._window, tr("The job was not opened"), error.message, error.remedy)
            return False
        safe_file.remove_leftovers(path.parent)
        self._store.open_job(job, path if remember else None)
        if remember:
            self._settings.add_recent(path)
        return True

    def save(self) -> bool:
        """Save under the present name, or ask for one."""
        return self._write(self._store.path) if self._store.path else self.save_as()

    def save_as(self) -> bool:
        """Ask for a name and save."""
        suggested = self._store.path or self._folder() / (tr("job") + document.SUFFIX)
        name, _ = QFileDialog.getSaveFileName(
            self._window, tr("Save the job"), str(suggested), self._filter()
        )
        if not name:
            return False
        path = Path(name)
        if not path.name.endswith(".json"):
            path = path.with_name(path.name + document.SUFFIX)
            # The dialog has asked about the name as typed, not about this one.
            if (
                path != self._store.path
                and path.exists()
                and not may_replace(self._window, tr("Save the job"), path)
            ):
                return False
        return self._write(path)

    def _write(self, path: Path) -> bool:
        try:
            self._store.save_job(path)
        except safe_file.SaveError as error:
            tell(self._window, tr("The job was not saved"), error.message, error.remedy)
            return False
        self._settings.add_recent(path)
        return True

    def may_leave(self) -> bool:
        """Ask what becomes of unsaved changes; False when the user stays."""
        if self._store.is_saved:
            return True
        question = tr("Save the changes to {name}?", name=name_of(self._store))
        box = question_box(self._window, tr("Unsaved changes"), question)
        save = box.addButton(tr("Save"), QMessageBox.ButtonRole.AcceptRole)
        leave = box.addButton(tr("Do not save"), QMessageBox.ButtonRole.DestructiveRole)
        stay = box.addButton(tr("Keep working"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(save)
        box.setEscapeButton(stay)
        box.exec()
        if box.clickedButton() is save:
            return self.save()
        return box.clickedButton() is leave

    def _folder(self) -> Path:
        if self._store.path:
            return self._store.path.parent
        recent = self._settings.recent
        return recent[0].parent if recent else Path.home()

    @staticmethod
    def _filter() -> str:
        return tr("Jobs") + f" (*{document.SUFFIX});;" + tr("All files") + " (*)"


def name_of(store: Store) -> str:
    """What the job is called in titles and questions."""
    if store.path:
        return store.path.name.removesuffix(document.SUFFIX)
    if store.job.demo:
        return tr("Demo job (invented)")
    return tr("Untitled job")
