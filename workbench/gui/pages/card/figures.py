"""The figures that stand on the setting card, by their names."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.gui.explain.figure import Figure
from workbench.report.paper_display import paper_display
from workbench.study.card import card_view
from workbench.study.evaluate import Results
from workbench.units import MASS, PRESSURE, SHORT_TIME, VOLUME, Display
from workbench.words import tr


def figures_of(results: Results, display: Display) -> Iterator[Figure]:
    """In the order of the card."""
    display = paper_display(results.job, display)
    view = card_view(results)
    setting, spread, tank = view.setting, view.spread, view.tank
    if setting is None or spread is None or tank is None:
        return

    def pressure(si: float) -> str:
        return display.text(si, PRESSURE)

    def between(si: float, off: float) -> str:
        low = display.number(si - off, PRESSURE)
        return tr("{low} to {high}", low=low, high=pressure(si + off))

    weight = display.text(view.full_water or 0.0, MASS, 0)
    yield Figure("card.weight", tr("Water that fills the tank"), weight)
    yield Figure("card.start", tr("Pump starts"), between(setting.cut_in, spread.cut_in))
    yield Figure("card.stop", tr("Pump stops"), between(setting.cut_out, spread.cut_out))
    yield Figure("card.charge", tr("Precharge, tank drained"), pressure(setting.precharge))
    charge = between(setting.precharge, spread.precharge)
    yield Figure("card.charge_range", tr("Precharge may lie"), charge)
    if view.where_set is not None:
        yield Figure("card.where_set", tr("Precharge, set elsewhere"), pressure(view.where_set))
    water = display.text(tank.drawdown, VOLUME)
    yield Figure("card.drawdown", tr("Water between stop and start"), water)
    run = display.text(tank.run_time, SHORT_TIME)
    yield Figure("card.run", tr("From start to stop, taps closed"), run)
    if view.alarm_low is not None:
        yield Figure("card.alarm_low", tr("Add air below"), pressure(view.alarm_low))
    if view.alarm_high is not None:
        yield Figure("card.alarm_high", tr("Let air out above"), pressure(view.alarm_high))
