"""The bench page: inputs at the left; figures, plot and ranked tanks at the right."""

from __future__ import annotations

from collections.abc import Set
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QSplitter, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.pages.bench.answers import AnswersPanel
from workbench.gui.pages.bench.inputs import BenchInputs
from workbench.gui.pages.bench.tanks import TanksPanel
from workbench.gui.pages.page import LazyPage, lay_out_sides, results_area
from workbench.gui.store import Store
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.gui.plots.drawdown_plot import DrawdownPlot


_SHARES = [5200, 4800]  # of plot and table in the height under the figures


class _Pane(QWidget):
    """Asks for the height that its texts need at its width; a splitter knows nothing of that."""

    def minimumSizeHint(self) -> QSize:
        hint, layout = super().minimumSizeHint(), self.layout()
        if layout is not None and layout.hasHeightForWidth():
            wrapped = layout.totalMinimumHeightForWidth(self.width())
            hint.setHeight(max(hint.height(), wrapped))
        return hint

    def sizeHint(self) -> QSize:
        """No less than it needs: the scroll area around gives no more than what is preferred."""
        return super().sizeHint().expandedTo(self.minimumSizeHint())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self.updateGeometry()


class BenchPage(LazyPage):
    """Wires the panels to the store. ``completed`` is emitted once everything is drawn."""

    completed = Signal()

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, parent)
        # Every part is made where it stays: at each move Qt tries the style sheet on all of it.
        self.inputs = BenchInputs(store, self)
        self._scroll, self._results = results_area(self)  # for large type on a small screen
        self.answers = AnswersPanel(store, self._results)
        self._lower = QSplitter(Qt.Orientation.Vertical, self._results)
        self._plot_box = _Pane(self._lower)
        self.reading = QLabel(self._plot_box)
        self.plot: DrawdownPlot | None = None
        self.tanks = TanksPanel(store, self._lower)
        self._lay_out()
        store.selected.connect(self.show_chosen)

    def _lay_out(self) -> None:
        theme.set_role(self.reading, "muted")
        self.reading.setWordWrap(True)
        self.reading.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.reading.setText(_legend())
        box = QVBoxLayout(self._plot_box)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.TIGHT)
        box.addWidget(self.reading)
        self._lower.setChildrenCollapsible(False)
        right = QVBoxLayout(self._results)
        right.setContentsMargins(0, 0, theme.CLOSE, 0)
        right.setSpacing(theme.NEAR)
        right.addWidget(self.answers)
        right.addWidget(self._lower, 1)
        self._scroll.setWidget(self._results)
        lay_out_sides(self, self.inputs, self._scroll)
        self.areas = (self.inputs, self._scroll)
        self.first_field = self.inputs.rows["pump_flow"].field
        self.first_field.setFocus()  # one can type the first figure at once

    @property
    def input_names(self) -> Set[str]:
        """Those of the panel, and the order of the tanks."""
        return self.inputs.rows.keys() | {"order"}

    def complete(self) -> None:
        """Add what needs NumPy and pyqtgraph: table model and plot. Called after first paint.

        They show results with the store's next change.
        """
        from workbench.gui.models.ranking_model import RankingModel
        from workbench.gui.plots.drawdown_plot import DrawdownPlot

        self.tanks.set_model(RankingModel())
        self.plot = DrawdownPlot()
        self.plot.picked.connect(self.store.select)
        self.plot.read.connect(self._show_reading)
        layout = self._plot_box.layout()
        assert layout is not None  # noqa: S101 - set in _lay_out
        layout.addWidget(self.plot)
        self._lower.setSizes(_SHARES)
        last_input = list(self.inputs.rows.values())[-1].field
        self.setTabOrder(last_input, self.plot)  # as one reads: it stands above the tanks
        self.setTabOrder(self.plot, self.tanks.order)
        QTimer.singleShot(0, self.completed.emit)

    def refresh(self) -> None:
        """Show what the store holds, everywhere at once."""
        self.inputs.show_job()
        self.answers.show_results()
        self.tanks.show_results()
        if self.plot is not None and self.store.results is not None:
            self.plot.show_results(self.store.results, self.store.display)
            self.plot.show_chosen(self.store.selection)

    def show_chosen(self, candidate: int | None) -> None:
        """Mark the chosen candidate in table and plot; while they are stale they hold others."""
        if self.is_stale:
            return
        self.tanks.show_chosen(candidate)
        if self.plot is not None:
            self.plot.show_chosen(candidate)

    def _show_reading(self, text: str) -> None:
        self.reading.setText(text or _legend())


def _legend() -> str:
    return tr(
        "Drawdown by switch band, each at its own precharge. Filled discs pass, open squares do"
        " not. Point at the plot or use the arrow keys to read it."
    )
