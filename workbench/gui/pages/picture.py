"""A plot with what is read in it above, or words in its place where there is nothing to draw."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.pages.fitted import Fitted
from workbench.gui.plots.reading_plot import ReadingPlot


class Picture(Fitted):
    """Holds a plot; ``legend`` stands above it while nothing is read."""

    def __init__(self, plot: ReadingPlot, legend: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.plot = plot
        self._legend = legend
        self.reading = QLabel(legend, self)
        self.reading.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.reading.setWordWrap(True)  # after the policy, to which it adds
        theme.set_role(self.reading, "muted")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        column.addWidget(self.reading)
        column.addWidget(plot, 1)
        plot.read.connect(self._on_read)

    def show_plot(self) -> None:
        """Show the plot, which has been drawn."""
        self.plot.show()
        self._on_read("")

    def show_words(self, words: str) -> None:
        """Say why there is no picture."""
        self.plot.hide()
        self.reading.setText(words)

    def _on_read(self, text: str) -> None:
        self.reading.setText(text or self._legend)
