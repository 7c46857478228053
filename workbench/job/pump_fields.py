"""The inputs about pump, well, motor, several tanks and drives."""

from __future__ import annotations

from workbench.job.fields import Field
from workbench.units import (
    FLOW,
    HEAD,
    LENGTH,
    NUMBER,
    PERCENT,
    POWER,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    VOLUME,
)
from workbench.words import tr


def pump_fields() -> tuple[Field, ...]:
    """Pump, well, motor, several tanks, an old plain tank and a variable-speed drive."""
    return (*supply_fields(), *_motor(), *_tanks(), *_drive())


def supply_fields() -> tuple[Field, ...]:
    """What a pump is known by other than one flow, and its well and pipe: all that sizing reads."""
    return (*_pump(), *_well())


def _pump() -> tuple[Field, ...]:
    needed = tr("needed")
    return (
        Field("flow_at_cut_in", FLOW, tr("Flow at cut-in"), tr(
            "Flow measured at the tank when the gauge stands at cut-in."), empty=needed),
        Field("flow_at_cut_out", FLOW, tr("Flow at cut-out"), tr(
            "Flow measured at the tank when the gauge stands at cut-out. It cannot be more than"
            " that at cut-in."), empty=needed),
        Field("flow_in_at", PRESSURE, tr("Larger, at"), tr(
            "The gauge pressure at which the larger flow was measured, where that was not the"
            " present cut-in: a measurement stays what it was when the switch is moved."),
            empty=tr("at cut-in")),
        Field("flow_out_at", PRESSURE, tr("Smaller, at"), tr(
            "The gauge pressure at which the smaller flow was measured, where that was not the"
            " present cut-out."), empty=tr("at cut-out")),
        Field("curve", (FLOW, HEAD), tr("Curve, flow and head"), tr(
            "3 to 20 points of the pump's curve, one to a line: flow, then head, for example"
            " “5 gpm 262 ft”. Begin with the head at no flow (shut-off). Rows copied from a"
            " spreadsheet can be pasted. Between the points the curve is smooth and never turns"
            " up."), empty=needed),
        Field("bucket_volume", VOLUME, tr("Drained"), tr(
            "What was drained into a bucket between cut-out and cut-in, with the pump off."),
            empty=needed),
        Field("bucket_time", SHORT_TIME, tr("Time to refill"), tr(
            "Seconds from the pump's start to its stop, with every tap closed."), empty=needed),
        Field("pump_efficiency", PERCENT, tr("Efficiency"), tr(
            "Of pump and motor together, from the wire to the water. Small submersible pumps reach"
            " about 30 to 55 % (common practice, no source). Used for energy only."),
            empty=tr("no energy is told")),
    )  # fmt: skip


def _well() -> tuple[Field, ...]:
    return (
        Field("water_level", HEAD, tr("Pumping level"), tr(
            "Depth from the tank down to the water in the well while the pump runs: the pumping"
            " level, not the static one, which is higher and would flatter the pump."),
            empty=tr("not known")),
        Field("pipe_length", HEAD, tr("Pipe, pump to tank"), tr(
            "Length of the whole pipe from the pump to the tank."), empty=tr("friction left out")),
        Field("pipe_bore", LENGTH, tr("Bore"), tr(
            "The real inside diameter, if it is not that of the nominal size."),
            empty=tr("of the size")),
        Field("pipe_roughness", NUMBER, tr("Roughness C"), tr(
            "Coefficient C of Hazen and Williams, if it is not that of the material. Lower is"
            " rougher."), empty=tr("of the material")),
        Field("fittings", PERCENT, tr("Fittings"), tr(
            "Added to the pipe's length for its fittings; a quarter where they are not counted one"
            " by one (worksheet for pump sizing, State University extension).")),
        Field("well_yield", FLOW, tr("Well yield"), tr(
            "What the well gives for hours on end, from its log or a pumping test."),
            empty=tr("not known")),
    )  # fmt: skip


def _motor() -> tuple[Field, ...]:
    return (
        Field("motor_power", POWER, tr("Motor power"), tr(
            "Power on the motor's plate; it chooses the row of the NEMA table."),
            empty=tr("not known")),
        Field("own_starts_hour", STARTS_PER_HOUR, tr("Starts an hour"), tr(
            "The most starts an hour that the motor's plate or instructions allow."),
            empty=tr("no limit")),
        Field("own_starts_day", STARTS_PER_DAY, tr("Starts a day"), tr(
            "The most starts in 24 hours that the motor's plate or instructions allow."),
            empty=tr("no limit")),
        Field("own_rest", SHORT_TIME, tr("Shortest rest"), tr(
            "The least time between a stop and the next start."), empty=tr("no limit")),
        Field("steady_draw", FLOW, tr("Steady draw"), tr(
            "What the house draws all the while, for example a shower: 2 to 2.5 gpm, a hose: 5"
            " gpm.")),
    )  # fmt: skip


def _tanks() -> tuple[Field, ...]:
    return (
        Field("header_set", (VOLUME, PRESSURE), tr("Tanks on the header"), tr(
            "One tank to a line: total volume, then its own precharge, for example"
            " “44 gal 28 psi”."), empty=tr("one to a line")),
        Field("plain_volume", VOLUME, tr("Old plain tank"), tr(
            "Total volume of an old tank without a membrane, as on its label."),
            empty=tr("none")),
        Field("plain_residual", PERCENT, tr("Water left at cut-in"), tr(
            "For a tank that is kept charged by a compressor or an air control: the share of its"
            " volume that is still water at cut-in, often 10 %. Empty: it fills itself with air"
            " of the room whenever it is drained."), empty=tr("air of the room")),
    )  # fmt: skip


def _drive() -> tuple[Field, ...]:
    needed = tr("as its maker states")
    return (
        Field("drive_set", PRESSURE, tr("Set pressure"), tr(
            "The pressure that the drive holds, as entered in it."), empty=needed),
        Field("drive_wake", PRESSURE, tr("Wake pressure"), tr(
            "The pressure at which the drive starts the pump again."), empty=needed),
        Field("drive_tank", VOLUME, tr("Smallest tank"), tr(
            "The smallest total volume that the drive's maker asks for."), empty=needed),
        Field("drive_share", PERCENT, tr("Precharge"), tr(
            "Precharge as a share of the set pressure, as the drive's maker states it."),
            empty=needed),
        Field("drive_ramp", SHORT_TIME, tr("Time to speed"), tr(
            "Seconds from waking until the pump delivers what is drawn."), empty=needed),
        Field("drive_step", FLOW, tr("Sudden draw"), tr(
            "The largest draw that begins at once, for example a hose: 5 gpm."),
            empty=tr("largest fixture")),
    )  # fmt: skip
