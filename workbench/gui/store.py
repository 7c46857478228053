"""The one place that holds the job, its catalogue and its results; every change enters here.

An edit becomes a command, the command changes the job, the job is evaluated, and ``changed`` tells
the views to show. Undo, opening a job and a reloaded catalogue take the same way.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack

from workbench.gui.commands import ChangeInputs
from workbench.job import document
from workbench.job.job import CatalogSnapshot, Job
from workbench.units import Display

if TYPE_CHECKING:
    from workbench.catalog.table import Catalog
    from workbench.study.candidates import Candidates
    from workbench.study.evaluate import Results


class Store(QObject):
    """Holds one job. Views read ``job``, ``results`` and ``display`` when ``changed`` calls."""

    changed = Signal()
    document_changed = Signal()  # the file's name or whether it is saved
    selected = Signal(object)  # index of a candidate, or None
    stepped = Signal(object)  # names of the inputs that undo or redo has changed

    def __init__(self, display: Display, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.display = display
        self.undo_stack = QUndoStack(self)
        self.job = Job()
        self.path: Path | None = None
        self.catalog: Catalog | None = None
        self.catalog_error = ""
        self.results: Results | None = None
        self.selection: int | None = None
        self.use_saved_rows = False
        self._awake = False
        self._candidates: Candidates | None = None
        self._compared: tuple[CatalogSnapshot | None, Catalog | None, list[str]] = (None, None, [])
        self.undo_stack.cleanChanged.connect(self._on_clean_changed)

    # --- the job ---

    def edit(self, values: Mapping[str, Any], text: str, episode: int = -1) -> None:
        """Change inputs by name, as one step of undo; values equal to the present do nothing."""
        before = {name: getattr(self.job, name) for name in values}
        if before != dict(values):
            self.undo_stack.push(
                ChangeInputs(self._apply, self.stepped.emit, before, values, text, episode)
            )

    def _apply(self, values: Mapping[str, Any]) -> None:
        self.job = self.job.changed(**values)
        self._evaluate()

    def begin_with(self, values: Mapping[str, Any]) -> None:
        """Put in what a new job begins with: no step of undo, and nothing to save."""
        self._apply(values)

    def open_job(self, job: Job, path: Path | None) -> None:
        """Put another job in place of the present one; its history starts anew."""
        self.job, self.path = job, path
        self.use_saved_rows = False
        self.selection = None
        self.undo_stack.clear()
        self._evaluate()
        self.document_changed.emit()

    def save_job(self, path: Path) -> None:
        """Write the job with the catalogue rows that it uses. Raises safe_file.SaveError."""
        job = self.job.changed(catalog=self._used_rows(), demo=self._is_untouched_demo())
        document.write(job, path)
        self.job, self.path = job, path
        self.undo_stack.setClean()
        self._evaluate()
        self.document_changed.emit()

    def _is_untouched_demo(self) -> bool:
        """A demo saved as it is stays one; with a single real figure in it, it is no more."""
        return self.job.demo and self.undo_stack.index() == 0

    @property
    def is_saved(self) -> bool:
        """Whether nothing was changed since the job was opened or saved."""
        return self.undo_stack.isClean()

    def _used_rows(self) -> CatalogSnapshot | None:
        """The tanks that the job uses now; those saved before while nothing can be ranked."""
        results = self.results
        if results is None or results.ranking is None:
            return self.job.catalog
        if self.use_saved_rows or self.catalog is None:
            return self.job.catalog
        from workbench.study.desk import used_tanks

        return CatalogSnapshot(file=self.catalog.path.name, tanks=used_tanks(results))

    # --- the catalogue ---

    def set_catalog(self, catalog: Catalog | None, error: str = "") -> None:
        """Rank another catalogue, or say why it cannot be read; rows read before then stay."""
        if catalog is not None:
            self.catalog = catalog
        self.catalog_error = error
        self._evaluate()

    def changed_rows(self) -> list[str]:
        """What the catalogue no longer holds as the job saved it; compared once for the two."""
        saved, catalog = self.job.catalog, self.catalog
        before, then, changed = self._compared
        if saved is not before or catalog is not then:
            from workbench.study.desk import changed_since

            changed = changed_since(saved, catalog)
            self._compared = (saved, catalog, changed)
        return changed

    def rank_saved_rows(self, on: bool) -> None:
        """Rank the rows saved in the job instead of the catalogue's present ones."""
        self.use_saved_rows = on and self.job.catalog is not None
        self._evaluate()

    # --- how it is shown ---

    def set_display(self, display: Display) -> None:
        """Show everything in other units. No input changes."""
        self.display = display
        self.changed.emit()

    def select(self, candidate: int | None) -> None:
        """Mark one candidate in every view."""
        if candidate != self.selection:
            self.selection = candidate
            self.selected.emit(candidate)

    # --- evaluation ---

    def wake(self) -> None:
        """Start evaluating. Until then only the inputs are shown, so that the window appears at
        once: NumPy and the catalogue are read after its first frame."""
        self._awake = True
        self._evaluate()

    def _evaluate(self) -> None:
        if self._awake:
            from workbench.study.desk import candidates_of
            from workbench.study.evaluate import evaluate

            rows = self.job.catalog if self.use_saved_rows else self.catalog
            candidates = candidates_of(rows, self.job.header_tanks, mixed=self.job.mixed_sets)
            if candidates is not self._candidates:
                self._candidates, self.selection = candidates, None
            self.results = evaluate(self.job, candidates)
        self.changed.emit()

    def _on_clean_changed(self, _clean: bool) -> None:
        self.document_changed.emit()
