"""How far the work beside the window is, with a way to stop it."""

from __future__ import annotations

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QPushButton, QWidget

from workbench.gui import theme
from workbench.gui.worker import Background
from workbench.words import tr

_PATIENCE = 250  # ms; what is done sooner needs no bar, and a bar that flashes by disturbs
_STEPS = 100


class ProgressRow(QWidget):
    """A bar with a text, and a button to cancel; empty, but in its place, while nothing runs."""

    def __init__(self, background: Background, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._background = background
        policy = self.sizePolicy()
        policy.setRetainSizeWhenHidden(True)  # so that nothing moves
        self.setSizePolicy(policy)
        self.bar = QProgressBar(self)
        self.bar.setRange(0, _STEPS)
        self.bar.setFormat(f"{text} %p %")
        self.bar.setAccessibleName(text)
        self.bar.setMinimumWidth(self.bar.sizeHint().width())
        self.cancel = QPushButton(tr("Cancel"), self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.CLOSE)
        row.addWidget(self.bar, 1)
        row.addWidget(self.cancel)
        self._delay = QTimer(self)
        self._delay.setSingleShot(True)
        self._delay.setInterval(_PATIENCE)
        self._delay.timeout.connect(self.show)
        self.cancel.clicked.connect(background.cancel)
        background.started.connect(self._on_started)
        background.progressed.connect(self._on_progressed)
        background.finished.connect(self._on_finished)
        self.hide()

    def _on_started(self) -> None:
        self.bar.setValue(0)
        self._delay.start()

    def _on_progressed(self, share: float) -> None:
        self.bar.setValue(round(share * _STEPS))

    def _on_finished(self) -> None:
        self._delay.stop()
        self.hide()
