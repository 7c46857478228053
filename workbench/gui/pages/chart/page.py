"""Counter chart: the stock at the usual bands, to print and pin up."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from workbench.gui.explain.figure import Figure
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.paper_page import PaperPage
from workbench.gui.store import Store
from workbench.report.blocks import PaperContent
from workbench.units import Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results
    from workbench.study.findings import Finding


def _groups() -> Groups:
    return (
        (tr("Columns"), ("bands", "precharge_rule", "precharge")),
        (tr("Place and stock"), ("altitude", "pressure_margin", "potable_required")),
        (tr("Paper"), ("paper",)),
    )


class ChartPage(PaperPage):
    """Shows :func:`workbench.report.chart.chart_content`."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)

    def content(self, results: Results, display: Display) -> PaperContent | str:
        """The chart, or why there is none."""
        from workbench.report.chart import chart_content

        return chart_content(results, display, self._file())

    def figures(self, results: Results, display: Display) -> Iterable[Figure]:
        """Those of the paper."""
        from workbench.gui.pages.chart.figures import figures_of

        return figures_of(results, display)

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job and of the chart, which says by itself what becomes of a low band."""
        of_job = (one for one in results.findings if one.code != "band_low")
        return (*of_job, *results.chart.findings)

    def arrange_inputs(self) -> None:
        """The precharge stands there only where it is typed."""
        from workbench.job.choices import PrechargeRule

        is_typed = self.store.job.precharge_rule is PrechargeRule.TYPED
        self.inputs.set_row_visible("precharge", is_typed, instead="precharge_rule")

    def _file(self) -> str:
        """What the rows come from, without its folder."""
        store = self.store
        if store.use_saved_rows and store.job.catalog is not None:
            return store.job.catalog.file
        return store.catalog.path.name if store.catalog is not None else ""
