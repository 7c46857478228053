"""New, open, save, save as, recent: what the File menu does with jobs."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from workbench import paths, safe_file
from workbench.gui.settings import Settings
from workbench.gui.store import Store
from workbench.job import document
from workbench.job.document import JobError
from workbench.job.job import Job
from workbench.words import tr


class JobFiles:
    """Every method returns whether it was done; a refusal has been told to the user."""

    def __init__(self, store: Store, settings: Settings, window: QWidget) -> None:
        self._store = store
        self._settings = settings
        self._window = window

    def new(self) -> bool:
        """Start an empty job."""
        if not self.may_leave():
            return False
        self._store.open_job(Job(), None)
        return True

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
            self._tell(tr("The job was not opened"), error.message, error.remedy)
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
        return self._write(path if path.suffix else path.with_name(path.name + document.SUFFIX))

    def _write(self, path: Path) -> bool:
        try:
            self._store.save_job(path)
        except safe_file.SaveError as error:
            self._tell(tr("The job was not saved"), error.message, error.remedy)
            return False
        self._settings.add_recent(path)
        return True

    def may_leave(self) -> bool:
        """Ask what becomes of unsaved changes; False when the user stays."""
        if self._store.is_saved:
            return True
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Question)
        box.setWindowTitle(tr("Unsaved changes"))
        box.setText(tr("Save the changes to {name}?", name=name_of(self._store)))
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

    def _tell(self, title: str, message: str, remedy: str) -> None:
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle(title)
        box.setText(message)
        box.setInformativeText(remedy)
        box.exec()


def name_of(store: Store) -> str:
    """What the job is called in titles and questions."""
    if store.path:
        return store.path.name.removesuffix(document.SUFFIX)
    if store.job.demo:
        return tr("Demo job (invented)")
    return tr("Untitled job")
