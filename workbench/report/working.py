"""The working as a part of a paper: each figure with its formula, its numbers and its source."""

from __future__ import annotations

from collections.abc import Iterable

from workbench.job.choices import run_time_rules
from workbench.report.blocks import Block, Formula, Section, Words
from workbench.study.evaluate import Results
from workbench.study.job_working import precharge_steps, run_steps, tank_steps
from workbench.study.pump.working import pump_steps
from workbench.study.ranking import Judged
from workbench.study.working import Step, required_steps
from workbench.units import Display
from workbench.words import tr


def working_section(
    results: Results,
    one: Judged | None,
    display: Display,
    heading: str,
    more: Iterable[Step] = (),
) -> Section:
    """How the figures of one arrangement come about, at the band of these results.

    Args:
        one: the tank or tanks; None leaves out what only a tank has.
        more: steps of the caller's own, such as starts a day; they come last.
    """
    steps = (*working_steps(results, one, display), *more)
    blocks: tuple[Block, ...] = (_symbols(), *(_formula(step) for step in steps))
    if not steps:
        blocks = (Words(text=tr("Nothing could be worked out from what was entered.")),)
    return Section(key="working", heading=heading, blocks=blocks)


def working_steps(results: Results, one: Judged | None, display: Display) -> tuple[Step, ...]:
    """Precharge, required drawdown, the tank's drawdown, run and starts, and the pump's head."""
    steps: list[Step] = []
    setting, duty, sizing = results.setting, results.duty, results.sizing
    if setting is not None and results.precharge is not None:
        steps += precharge_steps(results, setting, display)
    if duty is not None and sizing is not None:
        source = run_time_rules()[sizing.chosen.rule].source
        steps += required_steps(duty, sizing, source, display)
    if setting is not None and one is not None:
        steps += tank_steps(setting, one, display)
        if duty is not None:
            steps += run_steps(duty, one, display)
    if results.pump is not None:
        steps += pump_steps(results.pump, display)
    return tuple(steps)


def _formula(step: Step) -> Formula:
    return Formula(title=step.title, formula=step.formula, numbers=step.numbers, source=step.source)


def _symbols() -> Words:
    return Words(
        text=tr(
            "Pp precharge, Pin cut-in, Pout cut-out; f drawdown factor, V total volume, Vd"
            " drawdown, w water in the tank; Q flow of the pump, q draw, t run, N starts; H, h"
            " heads. In formulas of the tank pressures are absolute. Each figure is worked out"
            " unrounded and written rounded."
        ),
        tone="muted",
    )
