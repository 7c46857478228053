"""How the pump's flow at a pressure comes from what was entered of it."""

from __future__ import annotations

from workbench.job.pump_choices import PumpEntry, pump_entries
from workbench.physics.pump import WATER_WEIGHT, CurveThroughPipe, Delivery, TwoFlows
from workbench.study.evaluate import Results
from workbench.study.explain.steps import ending, entered
from workbench.study.pump.reading import entered_bucket, measured_at
from workbench.study.reader import Reader
from workbench.study.setting import Setting
from workbench.study.supply import Supply
from workbench.study.working import Step
from workbench.units import FLOW, HEAD, PRESSURE, SHORT_TIME, VOLUME, Display, Quantity
from workbench.words import tr


def flow_steps(
    results: Results, delivery: Delivery, pressure: float, flow: float, display: Display, title: str
) -> tuple[Step, ...]:
    """How a flow [m³/s] at a gauge pressure [Pa] at the tank comes about; the last step ends so."""
    if isinstance(delivery, TwoFlows) and results.setting is not None:
        return _between(results, results.setting, delivery, pressure, flow, display, title)
    if isinstance(delivery, CurveThroughPipe):
        return (_on_curve(delivery, pressure, flow, display, title),)
    bucket = entered_bucket(results.job)
    if bucket is not None:
        return (_refill(bucket, flow, display, title),)
    told, typed = display.text(flow, FLOW), results.job.pump_flow
    by_flow = results.job.pump_entry is PumpEntry.CONSTANT
    if by_flow and isinstance(typed, Quantity) and display.typed(typed, FLOW) != told:
        told = f"{display.typed(typed, FLOW)} → {told}"
    return (entered(title, told, tr("Q as entered, the same at every pressure")),)


def mean_flow_steps(results: Results, supply: Supply, display: Display) -> tuple[Step, ...]:
    """How the flow that sizing goes by comes about: the mean over the band, no tap open."""
    setting, title = supply.setting, tr("Flow of the pump")
    if supply.unit is None:
        flow = supply.delivery.highest_flow
        return flow_steps(results, supply.delivery, setting.cut_out, flow, display, title)
    steps: dict[str, Step] = {}
    ends = (
        (setting.cut_in, tr("Flow at cut-in"), supply.unit.cut_in_node),
        (setting.cut_out, tr("Flow at cut-out"), -1),
    )
    for at, name, node in ends:
        flow = float(supply.unit.flow[node])
        for step in flow_steps(results, supply.delivery, at, flow, display, name):
            steps.setdefault(step.title, step)
    first, last = (display.text(float(supply.unit.flow[node]), FLOW) for _, _, node in ends)
    mean = Step(
        tr("Mean flow over the band, no tap open"),
        tr("Qm = Vd / ∫ dw / Q(w) from cut-in to cut-out"),
        f"{first} … {last} → {display.text(supply.mean_flow, FLOW, 2)}",
        tr("mass balance of the tank"),
    )
    return (*steps.values(), ending(mean, supply.mean_flow, FLOW, display))


def _refill(bucket: tuple[float, float], flow: float, display: Display, title: str) -> Step:
    volume, seconds = bucket
    drained, time = display.text(volume, VOLUME, 2), display.text(seconds, SHORT_TIME, 1)
    numbers = f"{drained} / {time} = {display.text(flow, FLOW)}"
    return Step(
        title, tr("Q = drained / time to refill"), numbers, pump_entries()[PumpEntry.BUCKET].source
    )


def significant(value: float, display: Display) -> str:
    """A number with five digits that count, for constants of no usual size."""
    return f"{value:.5g}".replace(".", display.mark)


def _between(
    results: Results,
    setting: Setting,
    delivery: TwoFlows,
    pressure: float,
    flow: float,
    display: Display,
    title: str,
) -> tuple[Step, ...]:
    """By the parabola through two measured flows."""
    source = pump_entries()[PumpEntry.TWO_FLOWS].source
    units = tr(
        "pressures in {pressure}, flows in {flow}",
        pressure=display.symbol(PRESSURE),
        flow=display.symbol(FLOW),
    )
    k = delivery.k * display.unit(FLOW).factor ** 2 / display.unit(PRESSURE).factor
    measured = measured_at(results.job, Reader(results.job), setting)
    steep, most = significant(k, display), display.number(delivery.shut_off, PRESSURE, 2)
    steps = []
    if measured is not None:
        flows = [float(delivery.flow(at)) for at in measured]  # type: ignore[arg-type]
        low, high = (display.number(at, PRESSURE, 2) for at in measured)
        larger, smaller = (display.number(one, FLOW, 3) for one in flows)
        steps = [
            Step(
                tr("Steepness of the pump's curve, {units}", units=units),
                tr("k = (p2 − p1) / (Q1² − Q2²)"),
                f"({high} − {low}) / ({larger}^2 − {smaller}^2) = {steep}",
                source,
            ),
            Step(
                tr("Shut-off at the tank"),
                tr("p0 = p1 + k Q1²"),
                f"{low} + {steep} × {larger}^2 = {most}",
                source,
            ),
        ]
    at = display.number(pressure, PRESSURE, 2)
    steps.append(
        Step(
            title,
            tr("Q = √((p0 − p) / k)"),
            f"(({most} − {at}) / {steep})^(1/2) = {display.text(flow, FLOW)}",
            source,
        )
    )
    return tuple(steps)


def _on_curve(
    delivery: CurveThroughPipe, pressure: float, flow: float, display: Display, title: str
) -> Step:
    """Where the pump's curve meets what well, pipe and tank ask for."""
    lost = 0.0 if delivery.pipe is None else float(delivery.pipe.head_lost(flow))
    parts = [delivery.lift, pressure / WATER_WEIGHT, lost]
    asked = " + ".join(display.text(part, HEAD) for part in parts)
    whole = display.text(sum(parts), HEAD)
    return Step(
        title,
        tr("Q where the curve's head H(Q) is lift + pressure / (ρ g) + friction"),
        tr(
            "{asked} = {whole}; on the curve that head belongs to {flow}",
            asked=asked,
            whole=whole,
            flow=display.text(flow, FLOW),
        ),
        tr(
            "the curve as entered, between its points a cubic that never turns (Fritsch and"
            " Carlson, SIAM Journal on Numerical Analysis 17, 1980); total dynamic head: training"
            " sheet “Determining total dynamic head” for well contractors"
        ),
    )
