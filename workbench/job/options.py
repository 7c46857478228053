"""The inputs that are chosen from a list or ticked: their labels, what they mean, the choices.

Quantities stand in :mod:`workbench.job.fields`; forms read both tables.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from workbench.job.choices import Choice, orders, precharge_rules, run_time_rules
from workbench.job.house_choices import demand_methods
from workbench.job.pump_choices import motor_limits, pipe_materials, pipe_sizes, pump_entries
from workbench.words import tr


@dataclass(frozen=True, slots=True)
class Option:
    """An input with a list of values; ``labels`` is empty for one that is ticked.

    ``tick`` is the text beside the box.
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
    return {one.name: one for one in every}


def _chosen(name: str, label: str, choices: Mapping[Any, Choice]) -> Option:
    # Several choices often share one source: it is told once.
    told = dict.fromkeys(f"{choice.label}: {choice.source}" for choice in choices.values()
                         if choice.source)  # fmt: skip
    return Option(
        name, label, "\n\n".join(told), {value: choice.label for value, choice in choices.items()}
    )
