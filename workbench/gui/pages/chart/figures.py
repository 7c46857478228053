"""The figures that stand on the counter chart, by their names."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.gui.explain.figure import Figure
from workbench.report.paper_display import paper_display
from workbench.study.chart.view import ChartBand
from workbench.study.evaluate import Results
from workbench.study.explain.chart import pick_text
from workbench.units import FLOW, PRESSURE, TIME, VOLUME, Display
from workbench.words import tr


def figures_of(results: Results, display: Display) -> Iterator[Figure]:
    """Precharges, then the drawdowns tank by tank, then the tank for each flow and run."""
    view, display = results.chart, paper_display(results.job, display)
    for place, band in enumerate(view.bands):
        if band.setting is not None:
            name = tr("Precharge at {band}", band=_name(band))
            shown = display.text(band.setting.precharge, PRESSURE)
            yield Figure(f"chart.precharge:{place}", name, shown)
    for row, one in enumerate(view.rows):
        for place, (band, cell) in enumerate(zip(view.bands, one.cells, strict=True)):
            if cell is not None and cell.can_be_used:
                name = tr("{tank} at {band}", tank=one.tank.name, band=_name(band))
                shown = display.text(cell.drawdown, VOLUME)
                yield Figure(f"chart.drawdown:{row}:{place}", name, shown)
    yield from _picks(results, display)


def _picks(results: Results, display: Display) -> Iterator[Figure]:
    view = results.chart
    for number, table in enumerate(view.runs.get(display.system, ())):
        run = display.text(table.run, TIME)
        for line, (flow, picks) in enumerate(zip(table.flows, table.picks, strict=True)):
            for place, (band, pick) in enumerate(zip(view.bands, picks, strict=True)):
                if pick is not None:
                    name = tr("{flow} for {run} at {band}", flow=display.text(flow, FLOW),
                              run=run, band=_name(band))  # fmt: skip
                    key = f"chart.pick:{number}:{line}:{place}"
                    yield Figure(key, name, pick_text(pick, display))


def _name(band: ChartBand) -> str:
    return f"{band.name} {band.unit}".strip()
