"""The working behind the page "Cycle": runs, rests and starts of a tank at a steady draw."""

from __future__ import annotations

from workbench.study.cycle.view import State, TankCycle
from workbench.study.working import Step
from workbench.units import FLOW, STARTS_PER_HOUR, TIME, VOLUME, Display
from workbench.words import tr


def cycle_steps(turning: TankCycle, display: Display) -> tuple[Step, ...]:
    """How run, rest and starts at the steady draw and at the worst one come about."""
    water = display.text(turning.fill.drawdown, VOLUME)
    mean = display.text(turning.mean_flow, FLOW, 2)
    steps = [
        Step(
            tr("Shortest run, nothing drawn"),
            tr("t = ∫ dw / Q(w) from cut-in to cut-out"),
            f"{water}, {display.text(turning.flow_at_cut_in, FLOW)} … "
            f"{display.text(turning.flow_at_cut_out, FLOW)} → "
            f"{display.text(turning.shortest_run, TIME)}",
            tr("mass balance of the tank"),
        ),
        Step(
            tr("Mean flow over the band"),
            tr("Qm = Vd / t"),
            f"{water} / {display.text(turning.shortest_run, TIME)} = {mean}",
            tr("definition"),
        ),
    ]
    steady = turning.steady
    if steady is not None and turning.state is State.CYCLES:
        steps.append(
            Step(
                tr("Starts at the steady draw"),
                tr("N = 1 / (run + rest), rest = Vd / q, run = ∫ dw / (Q(w) − q)"),
                f"1 / ({display.text(steady.run, TIME)} + {display.text(steady.rest, TIME)}) = "
                f"{display.text(steady.starts, STARTS_PER_HOUR)}",
                _handbook(),
            )
        )
    steps += _worst_steps(turning, mean, water, display)
    return tuple(steps)


def _worst_steps(turning: TankCycle, mean: str, water: str, display: Display) -> tuple[Step, ...]:
    worst = turning.worst
    return (
        Step(
            tr("Most starts over every draw"),
            tr("where Vd / q² = ∫ dw / (Q(w) − q)²"),
            tr(
                "at {draw}: {run} + {rest} → {starts}",
                draw=display.text(worst.draw, FLOW, 2),
                run=display.text(worst.run, TIME),
                rest=display.text(worst.rest, TIME),
                starts=display.text(worst.starts, STARTS_PER_HOUR),
            ),
            _handbook(),
        ),
        Step(
            tr("The same at a constant flow"),
            tr("N = Qm / (4 Vd), at q = Qm / 2"),
            f"{mean} / (4 × {water}) = {display.text(turning.flow_worst.starts, STARTS_PER_HOUR)}",
            _handbook(),
        ),
    )


def _handbook() -> str:
    return tr("MIL-HDBK-1005/9A, paragraph 2.5.3.6")
