"""The day's plot with what is read in it, and the way back to the whole day."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.plots.day_plot import DayPlot
from workbench.study.day.simulated import DayView
from workbench.units import Display
from workbench.words import tr


def legend() -> str:
    """What stands above the plot while nothing is read."""
    parts = (
        tr("Pressure over the day; a triangle marks each start."),
        tr("Point at it or use the arrow keys to read it, up and down for the starts."),
        tr("Wheel, drag, + and − show less or more of the day; Home or a double click all of it."),
    )
    return " ".join(parts)


class DayPicture(QWidget):
    """Holds a :class:`DayPlot`, or says why there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.reading = QLabel(self)
        self.reading.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.reading.setWordWrap(True)  # after the policy, which it amends
        self.reading.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.reading.setText(legend())
        theme.set_role(self.reading, "muted")
        self.whole = QPushButton(tr("Whole day"), self)
        self.whole.setEnabled(False)
        self.plot = DayPlot(self)
        top = QHBoxLayout()
        top.setSpacing(theme.NEAR)
        top.addWidget(self.reading, 1)
        top.addWidget(self.whole, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        column.addLayout(top)
        column.addWidget(self.plot, 1)
        self.whole.clicked.connect(self.plot.show_whole)
        self.plot.read.connect(self._on_read)
        self.plot.ranged.connect(self._on_ranged)

    def show_day(self, view: DayView, display: Display) -> None:
        """Draw a day."""
        self.plot.show()
        self.whole.show()
        self.plot.show_day(view, display)

    def show_words(self, words: str) -> None:
        """Say why there is no picture."""
        self.plot.hide()
        self.whole.hide()
        self.reading.setText(words)

    def _on_read(self, text: str) -> None:
        self.reading.setText(text or legend())

    def _on_ranged(self, is_whole: bool) -> None:
        if is_whole and self.whole.hasFocus():
            self.plot.setFocus()  # a disabled button would drop it
        self.whole.setEnabled(not is_whole)
