"""What is asked and told in boxes that are gone once they were answered."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QMessageBox, QWidget

from workbench.words import tr

_Role = QMessageBox.ButtonRole


def question_box(parent: QWidget, title: str, question: str) -> QMessageBox:
    """A question, to which buttons are to be added."""
    return _box(parent, QMessageBox.Icon.Question, title, question)


def tell(parent: QWidget, title: str, message: str, remedy: str) -> None:
    """Tell what was not done, why, and what to do."""
    box = _box(parent, QMessageBox.Icon.Warning, title, message)
    box.setInformativeText(remedy)
    box.exec()


def may_replace(parent: QWidget, title: str, path: Path) -> bool:
    """Ask whether a file may be replaced."""
    box = question_box(parent, title, tr("{name} exists already. Replace it?", name=path.name))
    replace = box.addButton(tr("Replace"), _Role.DestructiveRole)
    keep = box.addButton(tr("Keep it"), _Role.RejectRole)
    box.setDefaultButton(keep)
    box.setEscapeButton(keep)
    box.exec()
    return box.clickedButton() is replace


def _box(parent: QWidget, icon: QMessageBox.Icon, title: str, text: str) -> QMessageBox:
    box = QMessageBox(parent)
    box.setIcon(icon)
    box.setWindowTitle(title)
    box.setText(text)
    box.finished.connect(box.deleteLater)
    return box
