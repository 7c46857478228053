"""The figures of a simulated day and year: what each is counted by, its value, how it is told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from workbench.study.day.told import lasting
from workbench.units import ENERGY, NUMBER, VOLUME, Display
from workbench.words import tr

Told = Callable[[float, Display], str]


@dataclass(frozen=True, slots=True)
class Counted:
    """A figure of a day or a year: what it is counted by, its value, and how it is told."""

    formula: Callable[[], str]
    value: Callable[[Any], float | None]
    told: Told


def _whole(count: float, _display: Display) -> str:
    return f"{count:.0f}"


def _mean(count: float, display: Display) -> str:
    return display.number(count, NUMBER, 1)


def _water(volume: float, display: Display) -> str:
    return display.text(volume, VOLUME)


def _much_water(volume: float, display: Display) -> str:
    return display.text(volume, VOLUME, 0)


def _energy(joules: float, display: Display) -> str:
    return display.text(joules, ENERGY)


def day_source() -> str:
    """Where all figures of a day and a year come from."""
    return tr(
        "simulated from event to event by the mass balance of the tank; draws: Residential End Uses"
        " of Water, version 2, 2016, without its leaks; hours: National Renewable Energy Laboratory"
        " and ANSI/RESNET/ICC 301-2022"
    )


OF_A_DAY: dict[str, Counted] = {
    "busiest": Counted(
        lambda: tr("most starts within any 60 minutes"), lambda one: one.busiest, _whole
    ),
    "runs": Counted(
        lambda: tr("all runs of the pump added up"), lambda one: one.run_seconds, lasting
    ),
    "shortest_run": Counted(
        lambda: tr("the shortest of the runs"), lambda one: one.shortest_run, lasting
    ),
    "shortest_rest": Counted(
        lambda: tr("the shortest of the rests"), lambda one: one.shortest_rest, lasting
    ),
    "longest_rest": Counted(
        lambda: tr("the longest of the rests"), lambda one: one.longest_idle, lasting
    ),
    "drawn": Counted(lambda: tr("all draws added up"), lambda one: one.run.drawn, _water),
    "pumped": Counted(lambda: tr("Σ Q × time of the runs"), lambda one: one.run.pumped, _water),
    "missing": Counted(
        lambda: tr("what is wanted while the tank is empty and the pump gives less"),
        lambda one: one.run.unmet,
        _water,
    ),
    "empty": Counted(
        lambda: tr("time with an empty tank"), lambda one: one.run.empty_seconds, lasting
    ),
    "below": Counted(
        lambda: tr("time with the pressure below cut-in"), lambda one: one.below_cut_in, lasting
    ),
    "energy": Counted(
        lambda: tr("E = ∫ ρ g Q H / η dt over the runs"), lambda one: one.energy, _energy
    ),
}
"""The figures of a day by the word of each."""
OF_A_YEAR: dict[str, Counted] = {
    "mean_starts": Counted(
        lambda: tr("starts of the year / 365"), lambda one: one.mean_starts, _mean
    ),
    "most_starts": Counted(
        lambda: tr("starts of the worst day"), lambda one: one.most_starts, _whole
    ),
    "worst_hour": Counted(
        lambda: tr("most starts within any 60 minutes"), lambda one: one.worst_hour, _whole
    ),
    "year_shortest_run": Counted(
        lambda: tr("the shortest of the runs"), lambda one: one.shortest_run, lasting
    ),
    "year_shortest_rest": Counted(
        lambda: tr("the shortest of the rests"), lambda one: one.shortest_rest, lasting
    ),
    "year_runs": Counted(
        lambda: tr("all runs of the pump added up"), lambda one: one.run_seconds, lasting
    ),
    "year_pumped": Counted(
        lambda: tr("Σ Q × time of the runs"), lambda one: one.pumped, _much_water
    ),
    "year_missing": Counted(
        lambda: tr("what is wanted while the tank is empty and the pump gives less"),
        lambda one: one.unmet,
        _much_water,
    ),
    "year_energy": Counted(
        lambda: tr("E = ∫ ρ g Q H / η dt over the runs"), lambda one: one.energy, _energy
    ),
}
"""The figures of a year by the word of each."""


def _titles() -> dict[str, str]:
    return {
        "busiest": tr("Busiest hour, starts"),
        "runs": tr("Pump runs"),
        "shortest_run": tr("Shortest run"),
        "shortest_rest": tr("Shortest rest"),
        "longest_rest": tr("Longest rest"),
        "drawn": tr("Drawn"),
        "pumped": tr("Pumped"),
        "missing": tr("Water missing"),
        "empty": tr("Tank empty"),
        "below": tr("Below cut-in"),
        "energy": tr("Energy"),
        "mean_starts": tr("Starts a day, mean"),
        "most_starts": tr("Starts a day, most"),
        "worst_hour": tr("Worst hour, starts"),
    }


def title_of(word: str) -> str:
    """What a figure is called."""
    return _titles()[word.removeprefix("year_")]
