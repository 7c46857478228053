"""A still of the live tank: its picture at one moment, with trace, path and every figure.

The drawings come from who paints them; here they are placed beside what is said of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from workbench.physics.motion import Event
from workbench.physics.system import Moment
from workbench.report.blocks import Block, Facts, PaperContent, Picture, Section, Words
from workbench.report.fingerprint import fingerprint
from workbench.report.letterhead import sheet_of
from workbench.report.sheet import LANGUAGE, foot_line, small_head
from workbench.study.evaluate import Results
from workbench.study.live.rig import Rig
from workbench.study.live.words import state_text, what_happens
from workbench.units import FLOW, PRESSURE, SHORT_TIME, VOLUME, Display, Quantity
from workbench.units.kinds import ALTITUDE
from workbench.words import tr


@dataclass(frozen=True, slots=True)
class Still:
    """What is to be kept: a rig at a moment, the draw that is asked for [m³/s], the last event.

    ``tank``, ``trace`` and ``path`` are the drawings as SVG, in the light theme.
    """

    rig: Rig
    moment: Moment
    tap: float
    last_event: Event | None
    tank: str
    trace: str
    path: str


def still_content(results: Results, still: Still, display: Display) -> PaperContent:
    """The paper of a still. ``display``: the units and the mark in which its drawings are made."""
    said = what_happens(still.rig, still.moment, still.tap, still.last_event, display)
    state = state_text(still.rig, still.moment, still.tap, still.last_event, display)
    return PaperContent(
        kind="still",
        title=tr("The tank at one moment"),
        language=LANGUAGE,
        sheet=sheet_of(results.job),
        date="",
        head=small_head(results.job),
        facts=tuple(_set(results, still, display)),
        sections=(
            Section(key="words", heading="", blocks=(Words(text=said, tone="strong"),)),
            Section(key="pictures", heading="", blocks=_pictures(still, state)),
            Section(
                key="figures",
                heading=tr("At this moment"),
                blocks=(Facts(rows=tuple(_figures(still, display))),),
            ),
            Section(key="model", heading="", blocks=(_model(),)),
        ),
        foot=foot_line(fingerprint(results)),
    )


def _set(results: Results, still: Still, display: Display) -> Iterator[tuple[str, str]]:
    """What is set, beside the title."""
    setting, altitude = still.rig.setting, results.job.altitude
    yield tr("Tank"), still.rig.tank_name
    yield tr("Cut-in"), display.text(setting.cut_in, PRESSURE)
    yield tr("Cut-out"), display.text(setting.cut_out, PRESSURE)
    yield tr("Precharge"), display.text(still.rig.system.precharge, PRESSURE)
    yield tr("Relief valve"), display.text(still.rig.system.relief, PRESSURE)
    if isinstance(altitude, Quantity):
        yield tr("Altitude"), display.typed(altitude, ALTITUDE)


def _pictures(still: Still, state: str) -> tuple[Block, ...]:
    path = tr(
        "Gauge pressure over the water in the tank: the law of the air, with the tank's present"
        " place on it."
    )
    trace = tr("Gauge pressure over time, with a bar along the foot while the pump is on.")
    return (
        Picture(svg=still.tank, told=state),
        Picture(svg=still.trace, told=trace),
        Picture(svg=still.path, told=path),
    )


def _figures(still: Still, display: Display) -> Iterator[tuple[str, str]]:
    one, rig = still.moment, still.rig
    yield tr("Since the beginning"), display.text(one.time, SHORT_TIME, 1)
    yield tr("Gauge"), display.text(one.pressure, PRESSURE)
    yield tr("Absolute pressure"), display.text(one.pressure + rig.system.ambient, PRESSURE)
    yield tr("Water in the tank"), display.text(one.water, VOLUME)
    yield tr("Air in the tank"), display.text(one.air, VOLUME)
    if rig.water_above > 0.0:
        yield tr("Water above the membrane"), display.text(rig.water_above, VOLUME)
    yield tr("Contacts"), tr("closed") if one.closed else tr("open")
    yield tr("Pump gives"), display.text(one.pump_flow, FLOW)
    yield tr("Tap is open for"), display.text(still.tap, FLOW)
    yield tr("Tap gives"), display.text(one.tap_flow, FLOW)
    yield tr("Starts so far"), f"{one.starts}"


def _model() -> Words:
    text = tr(
        "Worked out from the entries, not measured: one tank, the air's law, the pump's flow at"
        " each pressure, what the pipes give. The size of the drawn water and air is to scale."
    )
    return Words(text=text, tone="muted")
