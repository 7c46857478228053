"""Starts the window: ``run(["job.tankjob.json"])``."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtWidgets import QApplication

from workbench import paths
from workbench.gui import errors, theme
from workbench.gui.settings import Settings
from workbench.gui.window import MainWindow
from workbench.job import document
from workbench.job.document import JobError
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
    app = QApplication([sys.argv[0]])
    app.setApplicationName("tank-workbench")
    app.setDesktopFileName("tank-workbench")
    theme.apply(app, settings.chosen_theme)
    errors.install()
    window = MainWindow(settings)
    try:
        _open_first(window, Path(arguments[0]) if arguments else None)
    except JobError as error:
        return _refuse(str(error))
    window.show()
    return app.exec()


def _open_first(window: MainWindow, path: Path | None) -> None:
    """Open the named job; the demo job on the very first start; else an empty one."""
    settings = window.settings
    if path is not None:
        path = path.absolute()  # the next start may be in another folder
        window.store.open_job(document.read(path), path)
        settings.add_recent(path)
    elif not settings.started_before:
        window.store.open_job(document.read(paths.demo_job()), None)
    settings.mark_started()


def _refuse(reason: str) -> int:
    sys.stderr.write(f"tank-workbench: {' '.join(reason.split())}\n")
    return 2
