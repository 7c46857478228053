"""What is asked and told about papers, in boxes that are gone once they were answered."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QMessageBox, QWidget

from workbench.words import tr


def tell(parent: QWidget, title: str, message: str, remedy: str) -> None:
    """Tell what was not done, why, and what to do."""
    box = _box(parent, QMessageBox.Icon.Warning, title, message)
    box.setInformativeText(remedy)
    box.exec()


def may_replace(parent: QWidget, path: Path) -> bool:
    """Ask whether a file may be replaced."""
    question = tr("{name} exists already. Replace it?", name=path.name)
    box = _box(parent, QMessageBox.Icon.Question, tr("Save the paper"), question)
    replace = box.addButton(tr("Replace"), QMessageBox.ButtonRole.DestructiveRole)
    keep = box.addButton(tr("Keep it"), QMessageBox.ButtonRole.RejectRole)
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
