"""The working behind the page "Pump and well": total dynamic head, reach, velocity and energy."""

from __future__ import annotations

from workbench.study.pump.view import PumpView, WorkingPoint
from workbench.study.working import Step, head_step
from workbench.units import (
    ENERGY,
    FLOW,
    HEAD,
    LENGTH,
    PERCENT,
    POWER,
    PRESSURE,
    VELOCITY,
    VOLUME,
    Display,
    System,
)
from workbench.words import tr

_KILO_GALLON = 1000 * VOLUME.units["gal"].factor


def pump_steps(view: PumpView, display: Display) -> tuple[Step, ...]:
    """How reach, head, velocity and energy at cut-out come about."""
    steps: list[Step] = []
    point = view.at_cut_out
    if point is not None:
        steps += head_steps(view, point, display)
    steps += reach_steps(view, display)
    if point is not None:
        steps += velocity_steps(view, point, display)
        steps += energy_steps(view, point, display)
    return tuple(steps)


def place_of(view: PumpView, point: WorkingPoint) -> str:
    """At which end of the band a point lies, in words."""
    return tr("cut-in") if point is view.at_cut_in else tr("cut-out")


def velocity_steps(view: PumpView, point: WorkingPoint, display: Display) -> tuple[Step, ...]:
    """The velocity in the pipe; none where its bore is not known."""
    if point.velocity is None or view.well.bore is None:
        return ()
    return (
        Step(
            tr("Velocity at {place}", place=place_of(view, point)),
            tr("v = 4 Q / (π d²)"),
            tr(
                "{flow} through {bore} → {speed}",
                flow=display.text(point.flow, FLOW),
                bore=display.text(view.well.bore, LENGTH, 3),
                speed=display.text(point.velocity, VELOCITY, 2),
            ),
            tr("continuity; limit of 5 ft/s: {sheet}", sheet=_sheet()),
        ),
    )


def energy_text(energy: float, display: Display) -> str:
    """Energy for each volume [J/m³] as kWh for 1,000 gal, or for a cubic metre."""
    if display.system is System.US:
        return tr("{kwh} per 1,000 gal", kwh=display.text(energy * _KILO_GALLON, ENERGY))
    return tr("{kwh} per m³", kwh=display.text(energy, ENERGY))


def power_text(power: float, display: Display) -> str:
    """Electric power [W] in kW, as it is metered, in both systems of units."""
    return Display(System.METRIC, display.mark).text(power, POWER)


def head_steps(view: PumpView, point: WorkingPoint, display: Display) -> tuple[Step, ...]:
    """Total dynamic head and its parts; none where the pumping level is not known."""
    head, place = point.head, place_of(view, point)
    if head is None:
        return ()
    lift, asked = (display.text(part, HEAD) for part in (head.lift, head.pressure))
    total = display.text(head.total, HEAD)
    if head.friction is None:
        formula, numbers = tr("H = lift + pressure / (ρ g)"), f"{lift} + {asked} = {total}"
    else:
        formula = tr("H = lift + pressure / (ρ g) + friction")
        numbers = f"{lift} + {asked} + {display.text(head.friction, HEAD)} = {total}"
    steps = [
        head_step(
            tr("Pressure at {place} as head", place=place), point.pressure, head.pressure, display
        ),
        Step(tr("Total dynamic head at {place}", place=place), formula, numbers, _sheet()),
    ]
    riser = view.well.riser
    if riser is not None and head.friction is not None:
        friction = Step(
            tr("Friction at {place}", place=place),
            tr("h = 0.2083 (100/C)^1.852 Q^1.852 / d^4.8655, gpm, in, ft/100 ft"),
            tr(
                "{flow}, {length} and {more} for fittings, bore {bore}, C {c} → {lost}",
                flow=display.text(point.flow, FLOW),
                length=display.text(riser.length, HEAD),
                more=display.text(riser.fittings, PERCENT),
                bore=display.text(riser.bore, LENGTH, 3),
                c=f"{riser.roughness_c:g}",
                lost=display.text(head.friction, HEAD),
            ),
            tr("Hazen and Williams; EPANET 2 Users Manual, US EPA, 2000, table 3.1"),
        )
        steps.insert(1, friction)
    return tuple(steps)


def reach_steps(view: PumpView, display: Display) -> tuple[Step, ...]:
    """How far the pump passes cut-out; none where its shut-off is not known."""
    shut_off, margin = view.shut_off, view.margin
    if shut_off is None or margin is None:
        return ()
    if view.curve is not None and view.well.lift is not None:
        head = float(view.curve.heads[0])
        formula = tr("margin = (shut-off head − lift) ρ g − cut-out")
        begun = f"{display.text(head, HEAD)} − {display.text(view.well.lift, HEAD)} → "
    else:
        formula = tr("p = p0 − k Q² through both flows; margin = p0 − cut-out")
        begun = ""
    step = Step(
        tr("Reach over cut-out"),
        formula,
        f"{begun}{display.text(shut_off, PRESSURE)}"
        f" − {display.text(view.setting.cut_out, PRESSURE)} = {display.text(margin, PRESSURE)}",
        tr("at least 10 psi: trade judgement; form of two flows: EPANET 2 Users Manual, US EPA,"
           " 2000, section 3.1"),
    )  # fmt: skip
    return (step,)


def energy_steps(view: PumpView, point: WorkingPoint, display: Display) -> tuple[Step, ...]:
    """Power and energy; none where level or efficiency are not known."""
    head, share = point.head, view.well.efficiency
    if head is None or share is None or point.power is None or point.energy is None:
        return ()
    step = Step(
        tr("Electric power and energy at {place}", place=place_of(view, point)),
        tr("P = ρ g Q H / η;  E = ρ g H / η for each volume"),
        tr(
            "{flow}, {head}, {share} → {power}, {energy}",
            flow=display.text(point.flow, FLOW),
            head=display.text(head.total, HEAD),
            share=display.text(share, PERCENT),
            power=power_text(point.power, display),
            energy=energy_text(point.energy, display),
        ),
        tr("DOE-HDBK-1012/3-92, US Department of Energy, 1992, module 3 (from memory)"),
    )
    return (step,)


def _sheet() -> str:
    return tr("training sheet “Determining total dynamic head” for well contractors")
