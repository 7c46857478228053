"""What happens, in words that change while the tank plays."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from workbench.gui import theme

_LINES = 2


class Said(QLabel):
    """Always has room for two lines, so that the picture beneath does not jump."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setWordWrap(True)
        theme.set_role(self, "heading")

    def heightForWidth(self, width: int) -> int:
        """At least two lines."""
        return max(super().heightForWidth(width), _LINES * self.fontMetrics().lineSpacing())

    def minimumSizeHint(self) -> QSize:
        """As narrow as the longest word."""
        least = super().minimumSizeHint()
        return QSize(least.width(), max(least.height(), _LINES * self.fontMetrics().lineSpacing()))
