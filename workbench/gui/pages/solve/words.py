"""What the page "Solve for one" says beside the answer."""

from __future__ import annotations

from workbench.gui.pages.facts import Row
from workbench.gui.pages.stops import mend_first
from workbench.job.job import Job
from workbench.job.paper_choices import SolveFor
from workbench.job.pump_choices import PumpEntry, pump_entries
from workbench.study.evaluate import Results
from workbench.study.solve.answers import Solution
from workbench.study.solve.known import MOVES_BAND, looked_for_entries
from workbench.study.solve.view import SolveView
from workbench.study.solve.words import (
    band_text,
    other_text,
    reason_text,
    value_text,
    why_text,
)
from workbench.units import FLOW, PERCENT, PRESSURE, TIME, VOLUME, Display, Quantity
from workbench.words import tr

Shown = tuple[str, str, str]
"""A figure, its reason, and the role of the reason."""


def legend() -> str:
    """What stands above the plot."""
    return tr(
        "How long the pump runs with every tap closed. No value may lie where the ground is grey;"
        " where it is hatched the tank is empty before the pump starts. Point at the plot or use"
        " the arrow keys to read it."
    )


def answer(view: SolveView, display: Display) -> Shown:
    """The answer with its reason, or why there is none."""
    if view.known is None:
        return "", mend_first(view.blocked), "problem"
    why = why_text(view, display)
    if not view.solutions:
        return "", why, "caution"
    one = view.solutions[0]
    figure = value_text(view.answered, one.value, display)
    reason = f"{why} {reason_text(view, one, display)}".strip()
    return figure, reason, "caution" if one.gap else "muted"


def locks(job: Job) -> dict[str, str]:
    """Which fields are barred, and why."""
    barred = dict.fromkeys(looked_for_entries(job), tr("Looked for here."))
    if job.pump_entry is not PumpEntry.CONSTANT and "pump_flow" not in barred:
        way = pump_entries()[job.pump_entry].label
        barred["pump_flow"] = tr("Not used: the pump is entered by {way} on “Pump and well”.",
                                 way=way)  # fmt: skip
    return barred


def facts(results: Results, view: SolveView, display: Display) -> list[Row]:
    """What the job holds now, and what belongs to the answer; none where there is none."""
    if not view.solutions:
        return []
    rows: list[Row] = []
    if now := _now(results, view, display):
        rows.append((tr("Job now"), now, "", "solve.now"))
    one, *others = view.solutions
    for place, other in enumerate(others, start=1):
        text = other_text(view, other, display)
        rows.append((tr("Also"), text, "caution" if other.gap else "", f"solve.also:{place}"))
    if view.answered not in MOVES_BAND:
        rows.append((tr("Setting"), band_text(one, display), "", "solve.setting"))
    rows += _of_tank(one, display)
    if one.margin is not None:
        margin = display.text(one.margin, PRESSURE)
        rows.append((tr("Pump"), tr("Its shut-off lies {margin} above cut-out.", margin=margin),
                     "", "solve.margin"))  # fmt: skip
    return rows


def _of_tank(one: Solution, display: Display) -> list[Row]:
    """Drawdown, run and what the membrane must let in."""
    drawdown = tr(
        "{water}, {share} of {volume}",
        water=display.text(one.drawdown, VOLUME),
        share=display.text(one.drawdown / one.volume, PERCENT, 1),
        volume=display.text(one.volume, VOLUME),
    )
    run, flow = display.text(one.run, TIME), display.text(one.flow, FLOW)
    held = tr(
        "The tank holds {held} at cut-out, as much as its membrane must let in; a smaller"
        " acceptance is not part of this.",
        held=display.text(one.held, VOLUME),
    )
    return [
        (tr("Drawdown"), drawdown, "", "solve.drawdown"),
        (tr("Run"), tr("{run} at {flow}", run=run, flow=flow), "", "solve.run"),
        (tr("Membrane"), held, "", "solve.held"),
    ]


def _now(results: Results, view: SolveView, display: Display) -> str:
    """What is looked for, as the job has it; "" where that cannot be read."""
    job, setting = results.job, results.setting
    if view.looked_for in MOVES_BAND:
        if setting is None:
            return ""
        low, high = setting.cut_in, setting.cut_out
        value = 0.5 * (low + high) if view.looked_for is SolveFor.CENTRE else high - low
        return tr("{value}, of a band from {low} to {high}", value=display.text(value, PRESSURE),
                  low=display.text(low, PRESSURE), high=display.text(high, PRESSURE))  # fmt: skip
    if view.looked_for is SolveFor.PRECHARGE:
        return "" if setting is None else display.text(setting.precharge, PRESSURE)
    if view.looked_for is SolveFor.PUMP_FLOW:
        supply = results.inputs.supply
        return "" if supply is None else display.text(supply.mean_flow, FLOW)
    entry = job.run_time if view.looked_for is SolveFor.RUN_TIME else job.solve_volume
    kind = TIME if view.looked_for is SolveFor.RUN_TIME else VOLUME
    return display.text(entry.si, kind) if isinstance(entry, Quantity) else ""
