"""The bench page: inputs at the left; figures, plot and ranked tanks at the right."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QSizePolicy,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.pages.bench.answers import AnswersPanel
from workbench.gui.pages.bench.inputs import InputsPanel
from workbench.gui.pages.bench.tanks import TanksPanel
from workbench.gui.store import Store
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.gui.plots.drawdown_plot import DrawdownPlot


_SHARES = [5200, 4800]  # of plot and table in the height under the figures


class BenchPage(QWidget):
    """Wires the panels to the store. ``completed`` is emitted once everything is drawn."""

    completed = Signal()

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._store = store
        self.inputs = InputsPanel(store)
        self.answers = AnswersPanel(store)
        self.tanks = TanksPanel(store)
        self.plot: DrawdownPlot | None = None
        self.reading = QLabel()
        self._plot_box = QWidget()
        self._lay_out()
        store.changed.connect(self.show_results)
        store.selected.connect(self.show_chosen)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._follow_focus)

    def _lay_out(self) -> None:
        theme.set_role(self.reading, "muted")
        self.reading.setWordWrap(True)
        self.reading.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.reading.setText(_legend())
        box = QVBoxLayout(self._plot_box)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.TIGHT)
        box.addWidget(self.reading)
        lower = self._lower = QSplitter(Qt.Orientation.Vertical)
        lower.setChildrenCollapsible(False)
        lower.addWidget(self._plot_box)
        lower.addWidget(self.tanks)
        right = QVBoxLayout()
        right.setContentsMargins(0, 0, theme.CLOSE, 0)
        right.setSpacing(theme.NEAR)
        right.addWidget(self.answers)
        right.addWidget(lower, 1)
        results = QWidget()
        results.setLayout(right)
        scroll = QScrollArea()  # for large type on a small screen
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setWidgetResizable(True)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setAccessibleName(tr("Results"))
        scroll.setWidget(results)
        self._areas = (self.inputs, scroll)
        row = QHBoxLayout(self)
        row.setContentsMargins(theme.CLOSE, theme.CLOSE, theme.CLOSE, theme.CLOSE)
        row.setSpacing(theme.NEAR)
        row.addWidget(self.inputs)
        row.addWidget(scroll, 1)

    def complete(self) -> None:
        """Add what needs NumPy and pyqtgraph: table model and plot. Called after first paint."""
        from workbench.gui.models.ranking_model import RankingModel
        from workbench.gui.plots.drawdown_plot import DrawdownPlot

        self.tanks.set_model(RankingModel())
        self.plot = DrawdownPlot()
        self.plot.picked.connect(self._store.select)
        self.plot.read.connect(self._show_reading)
        layout = self._plot_box.layout()
        assert layout is not None  # noqa: S101 - set in _lay_out
        layout.addWidget(self.plot)
        self._lower.setSizes(_SHARES)
        last_input = list(self.inputs.rows.values())[-1].field
        self.setTabOrder(last_input, self.plot)  # as one reads: it stands above the tanks
        self.setTabOrder(self.plot, self.tanks.order)
        self.show_results()
        QTimer.singleShot(0, self.completed.emit)

    def show_results(self) -> None:
        """Show what the store holds, everywhere at once."""
        self.inputs.show_job()
        self.answers.show_results()
        self.tanks.show_results()
        if self.plot is not None and self._store.results is not None:
            self.plot.show_results(self._store.results, self._store.display)
            self.plot.show_chosen(self._store.selection)

    def show_chosen(self, candidate: int | None) -> None:
        """Mark the chosen candidate in table and plot."""
        self.tanks.show_chosen(candidate)
        if self.plot is not None:
            self.plot.show_chosen(candidate)

    def _follow_focus(self, _old: QWidget | None, now: QWidget | None) -> None:
        """Scroll what gets the focus into sight with its message, but not from under the mouse."""
        if now is None or QApplication.mouseButtons() != Qt.MouseButton.NoButton:
            return
        for area in self._areas:
            if area.widget().isAncestorOf(now):
                area.ensureWidgetVisible(now, 0, theme.WIDE * 2)

    def _show_reading(self, text: str) -> None:
        self.reading.setText(text or _legend())


def _legend() -> str:
    return tr(
        "Drawdown by switch band, each at its own precharge. Filled discs pass, open squares do"
        " not. Point at the plot or use the arrow keys to read it."
    )
