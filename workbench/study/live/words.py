"""What a system in motion does now, in plain sentences for the eye and for a screen reader."""

from __future__ import annotations

from workbench.physics.motion import Event, Happening
from workbench.physics.system import Moment
from workbench.study.live.rig import Rig
from workbench.units import FLOW, PRESSURE, VOLUME, Display
from workbench.words import tr

FRESH = 4.0
"""For so long [s] an event is told before the state that it led to."""
_STILL = 2e-3  # share of the draw by which inflow and draw may differ and count as equal
_SHARP = 1e-6  # share of a pressure that no gauge shows


def event_words(kind: Happening) -> str:
    """What happened, as a short label."""
    return {
        Happening.CLOSED: tr("contacts close"),
        Happening.GIVES: tr("pump is up to speed"),
        Happening.OPENED: tr("contacts open, pump stops"),
        Happening.EMPTIED: tr("tank is empty"),
        Happening.DRY: tr("no pressure left"),
        Happening.RELIEVED: tr("relief valve opens"),
    }[kind]


def what_happens(
    rig: Rig, moment: Moment, tap: float, last_event: Event | None, display: Display
) -> str:
    """One or two plain sentences; their figures do not run along with the pressure.

    Args:
        tap: the draw that is asked for [m³/s].
        last_event: the last one before the moment; told only while it is fresh.
    """
    fresh = None
    if last_event is not None and moment.time - last_event.time <= FRESH:
        fresh = last_event.kind
    if moment.pressure >= rig.system.relief * (1.0 - _SHARP):
        return _relieving(fresh)
    if moment.is_dry:
        return _dry(moment, fresh)
    if moment.gives:
        return _running(rig, moment, tap, fresh, display)
    if moment.closed:
        return _getting_up_to_speed(moment, tap)
    return _resting(rig, moment, tap, fresh, display)


def state_text(
    rig: Rig, moment: Moment, tap: float, last_event: Event | None, display: Display
) -> str:
    """Every figure of a moment, and what happens: for a screen reader, or beside a still."""
    contacts = tr("closed") if moment.closed else tr("open")
    figures = tr(
        "Gauge {pressure}. Water in the tank {water}, air {air}. Contacts {contacts}; the pump"
        " gives {flow}. Tap asks for {tap} and gets {got}.",
        pressure=display.text(moment.pressure, PRESSURE),
        water=display.text(moment.water, VOLUME),
        air=display.text(moment.air, VOLUME),
        contacts=contacts,
        flow=display.text(moment.pump_flow, FLOW),
        tap=display.text(tap, FLOW),
        got=display.text(moment.tap_flow, FLOW),
    )
    return f"{figures} {what_happens(rig, moment, tap, last_event, display)}"


def _relieving(fresh: Happening | None) -> str:
    first = tr("The relief valve stands open.")
    if fresh is Happening.RELIEVED:
        first = tr("The relief valve has opened.")
    return f"{first} {tr('It lets out what the tank cannot take; the switch should have opened.')}"


def _dry(moment: Moment, fresh: Happening | None) -> str:
    first = tr("There is no pressure; the tap gives nothing.")
    if moment.gives:
        return tr(
            "There is no pressure: the tap takes all that the pump gives, which is less than it is"
            " opened for."
        )
    if fresh is Happening.DRY:
        first = tr("The last pressure is gone; the tap has run dry.")
    if moment.closed:
        return f"{first} {tr('The pump is getting up to speed.')}"
    return f"{first} {tr('The pump rests.')}"


def _getting_up_to_speed(moment: Moment, tap: float) -> str:
    first = tr("The contacts have closed; the pump is getting up to speed.")
    if moment.is_empty and tap > 0.0:
        return f"{first} {tr('The tank is empty: the pressure drops.')}"
    if tap > 0.0:
        return f"{first} {tr('The house still draws on the air.')}"
    return first


def _running(
    rig: Rig, moment: Moment, tap: float, fresh: Happening | None, display: Display
) -> str:
    system = rig.system
    first = tr("The pump runs.")
    if fresh is Happening.GIVES:
        first = tr("The pump is up to speed.")
    if moment.pressure > system.cut_out * (1.0 + _SHARP):
        return f"{first} {tr('The gauge is past cut-out, but the switch does not feel it yet.')}"
    net = moment.pump_flow - tap
    if moment.pump_flow <= _STILL * system.delivery.highest_flow and tap == 0.0:
        return tr(
            "The pump runs but moves no more water: it cannot reach cut-out at {cut_out} and"
            " does not stop.",
            cut_out=display.text(system.cut_out, PRESSURE),
        )
    if tap > 0.0 and abs(net) <= _STILL * tap:
        return tr(
            "The pump just meets the draw: the pressure stands still, and the pump does not stop."
        )
    if net < 0.0:
        if fresh is Happening.EMPTIED:
            first = tr("The tank is empty.")
        return f"{first} {tr('The house draws more than it gives: the pressure falls.')}"
    if moment.is_empty:
        charge = display.text(system.precharge, PRESSURE)
        text = tr("The tank takes no water below its precharge of {charge}.", charge=charge)
        return f"{first} {text}"
    if moment.is_full:
        text = tr("The membrane is at its limit: the pressure leaps up, the tank takes no more.")
        return f"{first} {text}"
    if tap == 0.0:
        return f"{first} {tr('Nothing is drawn; all its water goes into the tank.')}"
    return f"{first} {tr('Part of its water goes to the tap, the rest fills the tank.')}"


def _resting(
    rig: Rig, moment: Moment, tap: float, fresh: Happening | None, display: Display
) -> str:
    system = rig.system
    start = display.text(system.cut_in, PRESSURE)
    first = tr("The pump rests.")
    if fresh is Happening.OPENED:
        first = tr("The pump has stopped.")
    if moment.pressure < system.cut_in * (1.0 - _SHARP):
        return f"{first} {tr('The gauge is below cut-in, but the switch does not feel it yet.')}"
    if tap == 0.0 and moment.back_flow > 0.0:
        text = tr("Nothing is drawn, yet the pressure falls: water runs back into the well.")
        return f"{first} {text}"
    if tap == 0.0:
        return f"{first} {tr('Nothing is drawn; the air holds the pressure.')}"
    if moment.is_empty:
        told = tr("The tank is empty.")
        if fresh is Happening.EMPTIED:
            told = tr("The last water has left the tank.")
        text = tr("The pressure drops at once, and the pump starts only at {start}.", start=start)
        return f"{told} {text}"
    if moment.is_full:
        text = tr("The membrane is at its limit: the pressure drops fast at first.")
        return f"{first} {text}"
    if fresh is Happening.OPENED:
        return tr("The pump stopped; the house now draws on the air.")
    text = tr("The house draws on the air; the pump starts at {start}.", start=start)
    return f"{first} {text}"
