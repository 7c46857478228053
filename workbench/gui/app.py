"""Starts the window: ``run(["job.tankjob.json"])``."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from pathlib import Path

# What needs no Qt comes first: PySide reads the source text of each module imported after it.
from workbench.job import document
from workbench.job.document import JobError

# isort: split
from PySide6.QtWidgets import QApplication

from workbench import paths
from workbench.gui import errors, theme
from workbench.gui.settings import Settings
from workbench.gui.window import MainWindow
from workbench.words import tr


def run(argv: Sequence[str] = ()) -> int:
    """Open the window with a job file, or the demo on the very first start. Returns exit status."""
    arguments = list(argv)
    settings = Settings()
    if "--reset-settings" in arguments:
        arguments.remove("--reset-settings")
        settings.reset()
    if len(arguments) > 1 or (arguments and arguments[0].startswith("-")):
        return _refuse(tr("expected one job file, not {given}", given=" ".join(arguments)))
    # Read by NumPy, which starts a thread for each core; no matrix is multiplied here.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    try:
        return _open_window(settings, Path(arguments[0]) if arguments else None)
    except JobError as error:
        return _refuse(str(error))
    finally:
        gc.enable()


def _open_window(settings: Settings, path: Path | None) -> int:
    app = QApplication([sys.argv[0]])
    app.setApplicationName("tank-workbench")
    app.setDesktopFileName("tank-workbench")
    theme.apply(app, settings.chosen_theme)
    errors.install()
    window = MainWindow(settings)
    _open_first(window, path)
    window.painted.connect(_collect_from_now)  # after the window's own slot, which completes it
    window.show()
    return app.exec()


def _collect_from_now() -> None:
    """Let Python collect garbage again, but never look through what the start has made."""
    gc.freeze()
    gc.enable()


def _open_first(window: MainWindow, path: Path | None) -> None:
    """Open the named job; the demo job on the very first start; else a new one of the firm."""
    settings = window.settings
    if path is not None:
        path = path.absolute()  # the next start may be in another folder
        window.store.open_job(document.read(path), path)
        settings.add_recent(path)
    elif not settings.started_before:
        window.store.open_job(document.read(paths.demo_job()), None)
    else:
        window.page.completed.connect(window.jobs.begin_soon)  # what is seen first needs none of it
    settings.mark_started()


def _refuse(reason: str) -> int:
    sys.stderr.write(f"tank-workbench: {' '.join(reason.split())}\n")
    return 2
