"""The working behind the page "Pump and well": total dynamic head, reach, velocity and energy."""

from __future__ import annotations

from workbench.study.pump.view import Head, PumpView, WorkingPoint
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
    if point is not None and point.head is not None:
        steps += _head_steps(view, point, point.head, display)
    if view.shut_off is not None and view.margin is not None:
        steps.append(_reach_step(view, view.shut_off, view.margin, display))
    if point is not None and point.velocity is not None and view.well.bore is not None:
        steps.append(
            Step(
                tr("Velocity at cut-out"),
                tr("v = 4 Q / (π d²)"),
                tr(
                    "{flow} through {bore} → {speed}",
                    flow=display.text(point.flow, FLOW),
                    bore=display.text(view.well.bore, LENGTH, 3),
                    speed=display.text(point.velocity, VELOCITY, 2),
                ),
                tr("continuity; limit of 5 ft/s: {sheet}", sheet=_sheet()),
            )
        )
    if point is not None and point.energy is not None and point.head is not None:
        steps.append(_energy_step(view, point, point.head, display))
    return tuple(steps)


def energy_text(energy: float, display: Display) -> str:
    """Energy for each volume [J/m³] as kWh for 1,000 gal, or for a cubic metre."""
    if display.system is System.US:
        return tr("{kwh} per 1,000 gal", kwh=display.text(energy * _KILO_GALLON, ENERGY))
    return tr("{kwh} per m³", kwh=display.text(energy, ENERGY))


def power_text(power: float, display: Display) -> str:
    """Electric power [W] in kW, as it is metered, in both systems of units."""
    return Display(System.METRIC, display.mark).text(power, POWER)


def _head_steps(
    view: PumpView, point: WorkingPoint, head: Head, display: Display
) -> tuple[Step, ...]:
    lift, asked = (display.text(part, HEAD) for part in (head.lift, head.pressure))
    total = display.text(head.total, HEAD)
    if head.friction is None:
        formula, numbers = tr("H = lift + pressure / (ρ g)"), f"{lift} + {asked} = {total}"
    else:
        formula = tr("H = lift + pressure / (ρ g) + friction")
        numbers = f"{lift} + {asked} + {display.text(head.friction, HEAD)} = {total}"
    steps = [
        head_step(tr("Pressure at cut-out as head"), point.pressure, head.pressure, display),
        Step(tr("Total dynamic head at cut-out"), formula, numbers, _sheet()),
    ]
    riser = view.well.riser
    if riser is not None and head.friction is not None:
        friction = Step(
            tr("Friction at cut-out"),
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


def _reach_step(view: PumpView, shut_off: float, margin: float, display: Display) -> Step:
    if view.curve is not None and view.well.lift is not None:
        head = float(view.curve.heads[0])
        formula = tr("margin = (shut-off head − lift) ρ g − cut-out")
        begun = f"{display.text(head, HEAD)} − {display.text(view.well.lift, HEAD)} → "
    else:
        formula = tr("p = p0 − k Q² through both flows; margin = p0 − cut-out")
        begun = ""
    return Step(
        tr("Reach over cut-out"),
        formula,
        f"{begun}{display.text(shut_off, PRESSURE)}"
        f" − {display.text(view.setting.cut_out, PRESSURE)} = {display.text(margin, PRESSURE)}",
        tr("at least 10 psi: trade judgement; form of two flows: EPANET 2 Users Manual, US EPA,"
           " 2000, section 3.1"),
    )  # fmt: skip


def _energy_step(view: PumpView, point: WorkingPoint, head: Head, display: Display) -> Step:
    share = view.well.efficiency or 1.0
    assert point.power is not None and point.energy is not None  # noqa: S101, PT018 - together
    return Step(
        tr("Electric power and energy at cut-out"),
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


def _sheet() -> str:
    return tr("training sheet “Determining total dynamic head” for well contractors")
