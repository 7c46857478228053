"""Findings that belong to no field of the page: each as a word, a colour and a text."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.fields.field_row import ROLES, told
from workbench.units import Display

if TYPE_CHECKING:
    from workbench.study.findings import Finding


class Messages(QWidget):
    """Lists findings, the gravest first; hidden while there are none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.TIGHT)
        self._labels: list[QLabel] = []
        self.hide()

    def show_findings(self, findings: Iterable[Finding], display: Display) -> None:
        """Show these findings in place of those before."""
        graded = sorted(findings, key=lambda finding: -finding.level)  # stable: else as found
        texts = dict.fromkeys((told(finding, display), finding.level) for finding in graded)
        while len(self._labels) < len(texts):
            self._labels.append(self._new_label())
        shown = [*texts, *[None] * (len(self._labels) - len(texts))]
        for label, one in zip(self._labels, shown, strict=True):
            if one is not None:
                theme.set_role(label, ROLES[one[1]])
                label.setText(one[0])
            label.setVisible(one is not None)
        self.setVisible(bool(texts))

    def texts(self) -> list[str]:
        """What is told now."""
        return [label.text() for label in self._labels if not label.isHidden()]

    def _new_label(self) -> QLabel:
        label = QLabel(self)
        label.setTextFormat(Qt.TextFormat.PlainText)  # it repeats what was typed
        label.setWordWrap(True)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._column.addWidget(label)
        return label
