"""The firm's own lessons: copied once, then changed with any text editor."""

from __future__ import annotations

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QMessageBox, QWidget

from workbench.gui.boxes import question_box, tell
from workbench.safe_file import SaveError
from workbench.words import tr

_Role = QMessageBox.ButtonRole


def copy_lessons(window: QWidget) -> None:
    """Ask, copy what is not there yet, and show the folder in the system's file manager."""
    from workbench.study.lessons import shelf  # not needed before the first lesson

    folder = shelf.own_lessons()
    title = tr("Lessons")
    box = question_box(window, title, tr("Copy the lessons to {folder}?", folder=folder))
    box.setInformativeText(
        tr("From then on these files are shown, which any text editor changes; the first one says"
           " how. What is there already stays as it is; a file that is removed again is replaced"
           " by the program's.")
    )  # fmt: skip
    copy = box.addButton(tr("Copy and open the folder"), _Role.AcceptRole)
    leave = box.addButton(tr("Leave it"), _Role.RejectRole)
    box.setDefaultButton(copy)
    box.setEscapeButton(leave)
    box.exec()
    if box.clickedButton() is not copy:
        return
    try:
        shelf.copy_lessons()
    except SaveError as error:
        tell(window, title, error.message, error.remedy)
        return
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(folder)))
