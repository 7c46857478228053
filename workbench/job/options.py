"""The inputs that are chosen from a list or ticked: their labels, what they mean, the choices.

Quantities stand in :mod:`workbench.job.fields`; forms read both tables.
"""

from __future__ import annotations

from collections.abc import Mapping
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
    return _options()[name]


def _options() -> dict[str, Option]:
    every = (
        _chosen("run_time_rule", tr("Run-time rule"), run_time_rules()),
        _chosen("precharge_rule", tr("Rule"), precharge_rules()),
        _chosen("order", tr("Order"), orders()),
        _chosen("pump_entry", tr("Known by"), pump_entries()),
        _chosen("pipe_material", tr("Pipe"), pipe_materials()),
        _chosen("pipe_size", tr("Nominal size"), pipe_sizes()),
        _chosen("motor_limit", tr("Limit"), motor_limits()),
        _chosen("demand_method", tr("Method"), demand_methods()),
        _chosen("solve_for", tr("Look for"), solve_fors()),
        _chosen("currency", tr("Currency"), currencies()),
        _chosen("money_form", tr("Written as in"), money_forms()),
        _chosen("paper", tr("Sheet"), papers()),
        _chosen("tank_price", tr("Price of tanks"), tank_prices()),
        _chosen("rounding", tr("Total"), roundings()),
        _chosen("work_kind", tr("Work"), work_kinds()),
        _chosen("permit", tr("Permit"), answers()),
        _chosen("licence", tr("Licence"), answers()),
        _chosen("copy_for", tr("Copy"), copies()),
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
        *_prices(),
        *_sections(),
    )  # fmt: skip
    return {one.name: one for one in every}


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
    return tuple(
        Option(name, "", tr("Whether the paper has this part."), {}, tick=tick)
        for name, tick in ticks.items()
    )


def _chosen(name: str, label: str, choices: Mapping[Any, Choice]) -> Option:
    # Several choices often share one source: it is told once.
    told = dict.fromkeys(f"{choice.label}: {choice.source}" for choice in choices.values()
                         if choice.source)  # fmt: skip
    return Option(
        name, label, "\n\n".join(told), {value: choice.label for value, choice in choices.items()}
    )
