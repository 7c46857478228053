"""An error that nobody foresaw is shown with its details, and work goes on."""

from __future__ import annotations

import sys
import traceback
from types import TracebackType

from PySide6.QtWidgets import QApplication, QMessageBox

from workbench import __version__
from workbench.words import tr

_shown = False


def install() -> None:
    """Show errors that reach the event loop instead of losing them on a console."""
    sys.excepthook = _show


def _show(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
    global _shown  # noqa: PLW0603 - one box at a time, even when every repaint fails
    details = "".join(traceback.format_exception(kind, error, trace))
    sys.__stderr__ and sys.__stderr__.write(details)
    if _shown or QApplication.instance() is None:
        return
    _shown = True
    box = QMessageBox()
    box.setIcon(QMessageBox.Icon.Critical)
    box.setWindowTitle(tr("An error in the program"))
    box.setText(tr("Something went wrong that should not. Save your job under a new name."))
    box.setDetailedText(f"tank-workbench {__version__}\n{details}")
    box.exec()
    _shown = False
