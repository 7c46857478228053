"""Reads the pump, the well and the pipe of a job, and checks that the pump can stop at cut-out."""

from __future__ import annotations

import numpy as np

from workbench.job.fields import fields
from workbench.job.job import Job
from workbench.job.pump_choices import PumpEntry
from workbench.job.pump_fields import supply_fields
from workbench.physics.forgiving import SAME
from workbench.physics.pipe import HIGHEST_VELOCITY, PIPES, velocity
from workbench.physics.pump import (
    ConstantFlow,
    CurveThroughPipe,
    Delivery,
    PumpCurve,
    Riser,
    TwoFlows,
)
from workbench.study.findings import Finding, Level
from workbench.study.reader import Reader
from workbench.study.setting import Setting
from workbench.study.supply import Supply, Well, unit_fill
from workbench.units import Quantity
from workbench.units.kinds import PRESSURE, VELOCITY
from workbench.words import tr

SMALL_MARGIN = 10 * PRESSURE.units["psi"].factor
"""A smaller margin of shut-off over cut-out [Pa] gives a caution: trade judgement, no source."""


def read_supply(job: Job, reader: Reader, setting: Setting | None) -> Supply | None:
    """The pump as it was entered; None, with findings, when something stands in the way."""
    with np.errstate(all="ignore"):  # numbers beyond all pumps end in a finding
        well = read_well(job, reader)
        delivery, curve = read_delivery(job, reader, setting, well)
        if delivery is None or well is None:
            return None
        if delivery.is_constant:
            band = setting or Setting(0.0, 0.0, 0.0, 0.0, 1.0)  # it does not depend on it
            _check_velocity(reader, well, delivery.highest_flow)
            return Supply(delivery, curve, well, band, None)
        if setting is None or not _covers(reader, delivery, setting):
            return None
        if setting.precharge >= setting.cut_out:
            return None  # no water enters; the precharge's own finding says so
        unit = unit_fill(delivery, setting)
        supply = None if unit is None else Supply(delivery, curve, well, setting, unit)
        if unit is None or supply is None or not supply.is_usable:
            _report_beyond(reader, job.pump_entry)
            return None
        _check_velocity(reader, well, float(unit.flow[unit.cut_in_node]))
        return supply


def read_well(job: Job, reader: Reader) -> Well | None:
    """What could be read of the well; None only where a curve needs what could not."""
    needed = job.pump_entry is PumpEntry.CURVE
    fittings = reader.share("fittings", 10.0, needed)
    read: dict[str, float | None] = {
        "water_level": reader.value("water_level", needed),
        "pipe_length": reader.not_below_zero("pipe_length", needed),
        "pipe_bore": reader.above_zero("pipe_bore", needed),
        "pipe_roughness": reader.above_zero("pipe_roughness", needed),
    }
    # No figure of the sizing rests on these two, whatever the pump is known by.
    well_yield = reader.above_zero("well_yield", needed=False)
    efficiency = reader.above_zero("pump_efficiency", needed=False)
    if efficiency is not None:
        efficiency = reader.share("pump_efficiency", needed=False)
    unread = [name for name, value in read.items() if getattr(job, name) and value is None]
    if needed and (unread or fittings is None):
        return None
    length, bore, rough = read["pipe_length"], read["pipe_bore"], read["pipe_roughness"]
    pipe = PIPES[job.pipe_material.value]
    real_bore = bore if bore is not None else pipe.bores[job.pipe_size.value]
    riser = None
    if length is not None and fittings is not None:
        coefficient = rough if rough is not None else pipe.roughness_c
        riser = Riser(length, real_bore, coefficient, fittings)
    known_bore = real_bore if riser is not None or bore is not None else None
    return Well(read["water_level"], riser, known_bore, well_yield, efficiency)


def read_delivery(
    job: Job, reader: Reader, setting: Setting | None, well: Well | None
) -> tuple[Delivery | None, PumpCurve | None]:
    """What the pump delivers as it was entered, whether it reaches cut-out or not; its curve."""
    if job.pump_entry is PumpEntry.CURVE:
        return _through_pipe(job, reader, well)
    if job.pump_entry is PumpEntry.TWO_FLOWS:
        return _two_flows(job, reader, setting), None
    if job.pump_entry is PumpEntry.BUCKET:
        volume, seconds = reader.needed("bucket_volume"), reader.needed("bucket_time")
        if volume is None or seconds is None:
            return None, None
        return ConstantFlow(volume / seconds), None
    flow = reader.above_zero("pump_flow")
    return (None if flow is None else ConstantFlow(flow)), None


def _two_flows(job: Job, reader: Reader, setting: Setting | None) -> Delivery | None:
    most, least = reader.needed("flow_at_cut_in"), reader.needed("flow_at_cut_out")
    measured = measured_at(job, reader, setting)
    if most is None or least is None or measured is None:
        return None
    low, high = measured
    if high <= low * (1.0 + SAME):
        reader.report(
            Level.STOP,
            "measured_upside_down",
            "flow_out_at",
            tr("The smaller flow must have been measured at the higher pressure."),
            tr("Check both pressures; an empty one is the present cut-in or cut-out."),
        )
        return None
    if abs(least - most) <= SAME * most:
        return ConstantFlow(most)
    try:
        return TwoFlows.of(low, most, high, least)
    except ValueError as error:
        reader.report(
            Level.STOP,
            "flows_rise",
            "flow_at_cut_out",
            _sentence(error),
            tr("Type the smaller flow at cut-out."),
        )
        return None


def measured_at(job: Job, reader: Reader, setting: Setting | None) -> tuple[float, float] | None:
    """Gauge pressures [Pa] at which the larger and the smaller flow were measured.

    They are cut-in and cut-out unless entered; None, with findings, where one cannot be read.
    """
    low = reader.not_below_zero("flow_in_at")
    high = reader.not_below_zero("flow_out_at")
    unread = (job.flow_in_at is not None and low is None) or (
        job.flow_out_at is not None and high is None
    )
    if setting is None or unread:
        return None
    return setting.cut_in if low is None else low, setting.cut_out if high is None else high


def _through_pipe(
    job: Job, reader: Reader, well: Well | None
) -> tuple[Delivery | None, PumpCurve | None]:
    points = reader.pairs("curve")
    if job.curve is None:
        label = fields()["curve"].label
        reader.report(
            Level.STOP, "needed", "curve", tr("{label} is needed here.", label=label),
            tr("Type at least three points of the pump's curve, one to a line."),
        )  # fmt: skip
    if job.water_level is None:
        reader.report(
            Level.STOP, "needed", "water_level", tr("The pumping level is needed with a curve."),
            tr("Type the depth of the water while the pump runs, from the tank down."),
        )  # fmt: skip
    if points is None or well is None or well.lift is None:
        return None, None
    try:
        curve = PumpCurve.of([flow for flow, _ in points], [head for _, head in points])
    except ValueError as error:
        reader.report(
            Level.STOP, "curve_unfit", "curve", _sentence(error),
            tr("Write flow, then head; flow rises and head falls from line to line."),
        )  # fmt: skip
        return None, None
    if well.riser is None:
        reader.report(
            Level.CAUTION, "no_friction", "pipe_length",
            tr("Without the pipe's length its friction is left out, which flatters the pump."),
            tr("Type the length from pump to tank."),
        )  # fmt: skip
    return CurveThroughPipe(curve, well.lift, well.riser), curve


def _sentence(error: ValueError) -> str:
    text = str(error)
    return text[:1].upper() + text[1:].rstrip(".") + "."


# --- checking ---


def _covers(reader: Reader, delivery: Delivery, setting: Setting) -> bool:
    """Whether the pump is known over the band, and can stop; says so where it cannot."""
    if not _reaches(reader, delivery, setting):
        return False
    last = float(delivery.pressure(delivery.highest_flow))
    if max(setting.cut_in, setting.precharge) >= last * (1.0 - SAME):
        return True
    # The last point's flow, held there, would be too small a flow and so too small a tank.
    reader.findings.append(Finding(
        Level.STOP, "curve_ends_early", "curve",
        tr("At the curve's last point the tank stands at {last}, above cut-in; what the pump gives"
           " below that is not known."),
        tr("Add the curve's points at larger flows, or raise the band."),
        (("last", last, PRESSURE),),
    ))  # fmt: skip
    return False


def _reaches(reader: Reader, delivery: Delivery, setting: Setting) -> bool:
    """Whether the pump can stop at cut-out; says so where it cannot, or only just."""
    shut_off = delivery.shut_off
    if shut_off is None:
        last = float(delivery.pressure(delivery.lowest_flow))
        if setting.cut_out <= last:
            return True
        reader.findings.append(Finding(
            Level.STOP, "curve_too_short", "curve",
            tr("The curve's first point reaches {last} at the tank; cut-out lies above it."),
            tr("Add the curve's points at smaller flows, down to no flow."),
            (("last", last, PRESSURE),),
        ))  # fmt: skip
        return False
    margin = shut_off - setting.cut_out
    if margin <= SAME * setting.cut_out:
        reader.findings.append(Finding(
            Level.STOP, "cannot_reach", "cut_out",
            tr("The pump reaches {most} at the tank with every tap closed, so it would never stop"
               " at this cut-out."),
            tr("Lower the band, or choose a pump with more head."),
            (("most", shut_off, PRESSURE),),
        ))  # fmt: skip
        return False
    if margin < SMALL_MARGIN * (1.0 - SAME):
        reader.findings.append(Finding(
            Level.CAUTION, "reach_small", "cut_out",
            tr("The pump reaches only {margin} above cut-out; wear, a falling water level or low"
               " voltage would keep it from stopping."),
            tr("Leave at least 10 psi (trade judgement), or lower the band."),
            (("margin", margin, PRESSURE),),
        ))  # fmt: skip
    return True


def _report_beyond(reader: Reader, entry: PumpEntry) -> None:
    reader.report(
        Level.STOP,
        "fill_unknown",
        "curve" if entry is PumpEntry.CURVE else "flow_at_cut_out",
        tr("With these numbers the fill of a tank cannot be worked out."),
        tr("Check the units, and that cut-out lies well above cut-in and precharge."),
    )


def _check_velocity(reader: Reader, well: Well, flow: float) -> None:
    if well.bore is None:
        return
    speed = float(velocity(flow, well.bore))
    if speed > HIGHEST_VELOCITY * (1.0 + SAME):
        reader.findings.append(Finding(
            Level.CAUTION, "velocity_high", "pipe_size",
            tr("The water runs at {speed} in this pipe; 5 ft/s is the usual limit."),
            tr("Choose a larger pipe."),
            (("speed", speed, VELOCITY),),
        ))  # fmt: skip


def pump_entries_of(job: Job) -> tuple[object, ...]:
    """Every entry that a supply is read from, to tell whether it is still the same."""
    names = ["pump_entry", "pump_flow", "pipe_material", "pipe_size"]
    names += [one.name for one in supply_fields()]
    return tuple(getattr(job, name) for name in names)


def entered_bucket(job: Job) -> tuple[float, float] | None:
    """Drained volume [m³] and seconds of a timed refill, where the pump is known by one."""
    volume, seconds = job.bucket_volume, job.bucket_time
    if job.pump_entry is not PumpEntry.BUCKET:
        return None
    if isinstance(volume, Quantity) and isinstance(seconds, Quantity):
        return volume.si, seconds.si
    return None
