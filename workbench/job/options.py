"""The inputs that are chosen from a list or ticked: their labels, what they mean, the choices.

Quantities stand in :mod:`workbench.job.fields`; forms read both tables.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from workbench.job.choices import Choice, orders, precharge_rules, run_time_rules
from workbench.job.house_choices import demand_methods
from workbench.job.paper_choices import (
    answers,
    copies,
    currencies,
    money_forms,
    papers,
    roundings,
    solve_fors,
    tank_prices,
    work_kinds,
)
from workbench.job.pump_choices import motor_limits, pipe_materials, pipe_sizes, pump_entries
from workbench.job.teach_choices import degrees, faults, sheets_for
from workbench.words import tr


@dataclass(frozen=True, slots=True)
class Option:
    """An input with a list of values; ``labels`` is empty for one that is ticked.

    ``tick`` is the text beside the box, which needs no ``label`` where it says all.
    """

    name: str
    label: str
    help: str
    labels: Mapping[Any, str]
    tick: str = ""


def option(name: str) -> Option:
    """The option of that name. Raises KeyError."""
    if name in _CHOSEN:
        label, choices = _CHOSEN[name]
        return _chosen(name, label(), choices())
    return {one.name: one for one in (*_ticked(), *_prices(), *_sections(), *_topics())}[name]


_CHOSEN: dict[str, tuple[Callable[[], str], Callable[[], Mapping[Any, Choice]]]] = {
    "run_time_rule": (lambda: tr("Run-time rule"), run_time_rules),
    "precharge_rule": (lambda: tr("Rule"), precharge_rules),
    "order": (lambda: tr("Order"), orders),
    "pump_entry": (lambda: tr("Known by"), pump_entries),
    "pipe_material": (lambda: tr("Pipe"), pipe_materials),
    "pipe_size": (lambda: tr("Nominal size"), pipe_sizes),
    "motor_limit": (lambda: tr("Limit"), motor_limits),
    "demand_method": (lambda: tr("Method"), demand_methods),
    "solve_for": (lambda: tr("Look for"), solve_fors),
    "currency": (lambda: tr("Currency"), currencies),
    "money_form": (lambda: tr("Written as in"), money_forms),
    "paper": (lambda: tr("Sheet"), papers),
    "tank_price": (lambda: tr("Price of tanks"), tank_prices),
    "rounding": (lambda: tr("Total"), roundings),
    "work_kind": (lambda: tr("Work"), work_kinds),
    "permit": (lambda: tr("Permit"), answers),
    "licence": (lambda: tr("Licence"), answers),
    "copy_for": (lambda: tr("Copy"), copies),
    "fault": (lambda: tr("Fault"), faults),
    "degree": (lambda: tr("How far"), degrees),
    "sheet_for": (lambda: tr("Sheet for"), sheets_for),
}
"""Those with a list of choices: label and choices, in the language of whoever asks."""


def _ticked() -> tuple[Option, ...]:
    return (
        Option("header_tanks", tr("Tanks"), tr(
            "How many equal tanks may stand on one header. Their drawdowns add up if all have the"
            " same precharge."),
            {1: tr("one"), 2: tr("up to two equal"), 3: tr("up to three equal")}),
        Option("mixed_sets", tr("Mixed"), tr(
            "Also offer pairs of different tanks on one header, both at the same precharge."), {},
            tick=tr("also pairs of different tanks")),
        Option("potable_required", tr("Require"), tr(
            "Offer only tanks that are listed for drinking water (NSF/ANSI/CAN 61)."), {},
            tick=tr("potable-water listing")),
    )  # fmt: skip


def _prices() -> tuple[Option, ...]:
    return (
        Option("prices_invented", "", tr(
            "The prices that come with the program are invented. While this is ticked every"
            " estimate says so; take it away once they are your own."), {},
            tick=tr("these prices are invented")),
        Option("tank_taxed", tr("Tanks"), tr(
            "Whether sales tax is charged on tanks."), {}, tick=tr("tanks are taxed")),
    )  # fmt: skip


def _sections() -> tuple[Option, ...]:
    """The parts of an estimate that can be left out; cautions cannot."""
    ticks = {
        "with_readings": tr("readings found"),
        "with_plot": tr("plot of the options"),
        "with_lines": tr("line items"),
        "with_allowances": tr("allowances"),
        "with_assumptions": tr("assumptions"),
        "with_exclusions": tr("exclusions"),
        "with_schedule": tr("schedule"),
        "with_payment": tr("payment"),
        "with_warranty": tr("warranty"),
        "with_permit": tr("permit and licence"),
        "with_acceptance": tr("acceptance"),
        "with_working": tr("the working, as an appendix"),
    }
    return _each_ticked(ticks, tr("Whether the paper has this part."))


def _topics() -> tuple[Option, ...]:
    """What exercises are about."""
    ticks = {
        "topic_precharge": tr("set a precharge"),
        "topic_tank": tr("choose a tank"),
        "topic_fault": tr("find the hidden fault"),
        "topic_readings": tr("judge readings"),
        "topic_complaint": tr("explain a complaint"),
    }
    return _each_ticked(ticks, tr("Whether exercises on this topic are given."))


def _each_ticked(ticks: Mapping[str, str], help_text: str) -> tuple[Option, ...]:
    return tuple(Option(name, "", help_text, {}, tick=tick) for name, tick in ticks.items())


def _chosen(name: str, label: str, choices: Mapping[Any, Choice]) -> Option:
    # Several choices often share one source: it is told once.
    told = dict.fromkeys(f"{choice.label}: {choice.source}" for choice in choices.values()
                         if choice.source)  # fmt: skip
    return Option(
        name, label, "\n\n".join(told), {value: choice.label for value, choice in choices.items()}
    )
