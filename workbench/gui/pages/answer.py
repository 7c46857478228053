"""The one figure that a page is about."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import FigureLabel
from workbench.words import tr

NONE = "—"
"""What stands in the place of a figure that there is not."""


class Answer(QWidget):
    """A large figure with what it is above it and why it is so below it.

    ``key`` names its working in :mod:`workbench.study.explain`.
    """

    def __init__(self, caption: str, parent: QWidget | None = None, *, key: str = "") -> None:
        super().__init__(parent)
        self._key = key
        self._caption = QLabel(caption)
        theme.set_role(self._caption, "heading")
        self.figure = FigureLabel(NONE)
        self.figure.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.figure.setAccessibleName(caption)
        theme.set_role(self.figure, "answer")
        self.reason = FigureLabel()
        self.reason.setWordWrap(True)
        self.reason.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        theme.set_role(self.reason, "muted")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for label in (self._caption, self.figure, self.reason):
            column.addWidget(label)
        column.addStretch(1)

    def show_answer(self, figure: str, reason: str, role: str = "muted") -> None:
        """Show a figure, or a dash with the reason why there is none."""
        self.figure.setText(figure or NONE)
        self.figure.setAccessibleName(f"{self._caption.text()}: {figure or tr('none')}")
        theme.set_role(self.reason, role)
        self.reason.setText(reason)
        key = self._key if figure else ""
        self.figure.explain_as(key, self._caption.text())
        self.reason.explain_as(key, listed=False)
