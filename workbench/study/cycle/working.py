"""The working behind the page "Cycle": runs, rests and starts of a tank at a steady draw."""

from __future__ import annotations

from workbench.study.cycle.view import State, TankCycle
from workbench.study.working import Step
from workbench.units import FLOW, STARTS_PER_HOUR, TIME, VOLUME, Display
from workbench.words import tr


def cycle_steps(turning: TankCycle, display: Display) -> tuple[Step, ...]:
    """How run, rest and starts at the steady draw and at the worst one come about."""
    return (
        run_step(turning, display),
        mean_step(turning, display),
        *steady_steps(turning, display),
        worst_step(turning, display),
        constant_step(turning, display),
    )


def run_step(turning: TankCycle, display: Display) -> Step:
    """The shortest run."""
    return Step(
        tr("Shortest run, nothing drawn"),
        tr("t = ∫ dw / Q(w) from cut-in to cut-out"),
        f"{_water(turning, display)}, {display.text(turning.flow_at_cut_in, FLOW)} … "
        f"{display.text(turning.flow_at_cut_out, FLOW)} → "
        f"{display.text(turning.shortest_run, TIME)}",
        tr("mass balance of the tank"),
    )


def mean_step(turning: TankCycle, display: Display) -> Step:
    """The mean flow over the band."""
    return Step(
        tr("Mean flow over the band"),
        tr("Qm = Vd / t"),
        f"{_water(turning, display)} / {display.text(turning.shortest_run, TIME)} ="
        f" {_mean(turning, display)}",
        tr("definition"),
    )


def steady_steps(turning: TankCycle, display: Display) -> tuple[Step, ...]:
    """The starts at the steady draw, while the pump cycles at it."""
    steady = turning.steady
    if steady is None or turning.state is not State.CYCLES:
        return ()
    return (
        Step(
            tr("Starts at the steady draw"),
            tr("N = 1 / (run + rest), rest = Vd / q, run = ∫ dw / (Q(w) − q)"),
            f"1 / ({display.text(steady.run, TIME)} + {display.text(steady.rest, TIME)}) = "
            f"{display.text(steady.starts, STARTS_PER_HOUR)}",
            handbook(),
        ),
    )


def worst_step(turning: TankCycle, display: Display) -> Step:
    """The most starts over every draw."""
    worst = turning.worst
    return Step(
        tr("Most starts over every draw"),
        tr("where Vd / q² = ∫ dw / (Q(w) − q)²"),
        tr(
            "at {draw}: {run} + {rest} → {starts}",
            draw=display.text(worst.draw, FLOW, 2),
            run=display.text(worst.run, TIME),
            rest=display.text(worst.rest, TIME),
            starts=display.text(worst.starts, STARTS_PER_HOUR),
        ),
        handbook(),
    )


def constant_step(turning: TankCycle, display: Display) -> Step:
    """The most starts at the mean flow."""
    return Step(
        tr("The same at a constant flow"),
        tr("N = Qm / (4 Vd), at q = Qm / 2"),
        f"{_mean(turning, display)} / (4 × {_water(turning, display)}) ="
        f" {display.text(turning.flow_worst.starts, STARTS_PER_HOUR)}",
        handbook(),
    )


def _water(turning: TankCycle, display: Display) -> str:
    return display.text(turning.fill.drawdown, VOLUME)


def _mean(turning: TankCycle, display: Display) -> str:
    return display.text(turning.mean_flow, FLOW, 2)


def handbook() -> str:
    """The source of the formulas of starts."""
    return tr("MIL-HDBK-1005/9A, paragraph 2.5.3.6")
