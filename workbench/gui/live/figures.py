"""The figures of the live picture by their names, as they are painted at a moment."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.gui.explain.figure import Figure
from workbench.study.explain.system_steps import rest_seconds, run_seconds, span_text
from workbench.study.explain.watching import Watching
from workbench.units import FLOW, PRESSURE, STARTS_PER_HOUR, VOLUME, Display
from workbench.words import tr


def figures_of(own: Watching, display: Display) -> Iterator[Figure]:
    """Gauge, water and air, flows, then what the trace shows of run and rest, then what is set."""
    system, one = own.rig.system, own.moment

    def volume(si: float) -> str:
        return display.text(si, VOLUME)

    yield Figure("live.gauge", tr("Gauge"), display.text(one.pressure, PRESSURE))
    yield Figure("live.water", tr("Water in the tank"), volume(one.water))
    yield Figure("live.air", tr("Air in the tank"), volume(one.air))
    stored = system.stored(one.pressure)
    yield Figure("live.stored", tr("Water under pressure, tank and pipes"), volume(stored))
    setting = own.rig.setting
    drawdown = system.water(setting.cut_out) - system.water(setting.cut_in)
    yield Figure("live.drawdown", tr("Drawdown"), volume(drawdown))
    yield from _flows(own, display)
    yield from _times(own, display)
    charge = display.text(system.precharge, PRESSURE)
    yield Figure("live.charge", tr("Precharge as it is now"), charge)
    relief = display.text(system.relief, PRESSURE)
    yield Figure("live.relief", tr("The relief valve opens at"), relief)


def _flows(own: Watching, display: Display) -> Iterator[Figure]:
    one = own.moment
    if one.gives:
        yield Figure("live.pump", tr("The pump gives"), display.text(one.pump_flow, FLOW))
    yield Figure("live.tap", tr("Out of the tap"), display.text(one.tap_flow, FLOW))
    into = one.stored_flow
    if not one.is_empty and into != 0.0:
        name = tr("Into the tank") if into > 0.0 else tr("Out of the tank")
        yield Figure("live.tank", name, display.text(abs(into), FLOW))


def _times(own: Watching, display: Display) -> Iterator[Figure]:
    """At the draw of now."""
    run, rest = (f(own.rig.system, own.tap) for f in (run_seconds, rest_seconds))
    if run is not None:
        yield Figure("live.run", tr("Run at this draw"), span_text(run, display))
    if rest is not None:
        yield Figure("live.rest", tr("Rest at this draw"), span_text(rest, display))
    if run is not None and rest is not None:
        often = display.text(1.0 / (run + rest), STARTS_PER_HOUR)
        yield Figure("live.starts", tr("Starts at this draw"), often)
