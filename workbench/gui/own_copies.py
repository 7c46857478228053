"""What a firm may change for itself: copied once, then changed with any text editor."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QMessageBox, QWidget

from workbench.gui.boxes import question_box, tell
from workbench.safe_file import SaveError
from workbench.words import tr

_Role = QMessageBox.ButtonRole


def copy_templates(window: QWidget) -> None:
    """Offer to copy the templates of the papers, and show their folder."""
    from workbench.report import typeset  # not needed before the first paper

    folder = typeset.own_templates()
    question = tr("Copy the templates of the papers to {folder}?", folder=folder)
    details = tr(
        "From then on every paper is set by these files, which any text editor changes. What is"
        " there already stays as it is; a file that is removed again is replaced by the"
        " program's."
    )
    _offer(window, tr("Paper templates"), (question, details), typeset.copy_templates)


def copy_lessons(window: QWidget) -> None:
    """Offer to copy the lessons, and show their folder."""
    from workbench.study.lessons import shelf  # not needed before the first lesson

    folder = shelf.own_lessons()
    question = tr("Copy the lessons to {folder}?", folder=folder)
    details = tr(
        "From then on these files are shown, which any text editor changes; the first one says"
        " how. What is there already stays as it is; a file that is removed again is replaced"
        " by the program's."
    )
    _offer(window, tr("Lessons"), (question, details), shelf.copy_lessons)


def _offer(window: QWidget, title: str, asked: tuple[str, str], copy: Callable[[], Path]) -> None:
    """Ask, copy what is not there yet, and show the folder in the system's file manager."""
    question, details = asked
    box = question_box(window, title, question)
    box.setInformativeText(details)
    yes = box.addButton(tr("Copy and open the folder"), _Role.AcceptRole)
    leave = box.addButton(tr("Leave it"), _Role.RejectRole)
    box.setDefaultButton(yes)
    box.setEscapeButton(leave)
    box.exec()
    if box.clickedButton() is not yes:
        return
    try:
        folder = copy()
    except SaveError as error:
        tell(window, title, error.message, error.remedy)
        return
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(folder)))
