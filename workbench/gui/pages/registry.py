"""The pages of the window, in their order: where each stands in the list, and where its class is.

A class is imported when its page is first visited. It is made as ``Class(store, parent)`` and is a
:class:`workbench.gui.pages.page.LazyPage`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import Any

from workbench.words import tr

FIRST = "tank"
"""The key of the page with which the program starts."""


@dataclass(frozen=True, slots=True)
class PageEntry:
    """One page: its key, its group and its title in the list, and its class as "module:Class"."""

    key: str
    group: str
    title: str
    place: str

    def load(self) -> Callable[..., Any]:
        """The page's class; imports its module."""
        module, _, name = self.place.partition(":")
        loaded: Callable[..., Any] = getattr(import_module(module), name)
        return loaded


def pages() -> tuple[PageEntry, ...]:
    """Every page in the order of the list; those of one group stand together."""
    size = tr("Size")
    band = tr("Switch band")
    day = tr("Pump and day")
    papers = tr("Papers")
    teach = tr("Teach")
    return (
        PageEntry(FIRST, size, tr("Tank"), "workbench.gui.pages.bench.page:BenchPage"),
        PageEntry(
            "header", size, tr("Several tanks"), "workbench.gui.pages.header.page:HeaderPage"
        ),
        PageEntry("drive", size, tr("Variable speed"), "workbench.gui.pages.drive.page:DrivePage"),
        PageEntry(
            "tolerance", size, tr("Tolerances"), "workbench.gui.pages.tolerance.page:TolerancePage"
        ),
        PageEntry("bands", band, tr("Compare bands"), "workbench.gui.pages.bands.page:BandsPage"),
        PageEntry("solve", band, tr("Solve for one"), "workbench.gui.pages.solve.page:SolvePage"),
        PageEntry("pump", day, tr("Pump and well"), "workbench.gui.pages.pump.page:PumpPage"),
        PageEntry("cycle", day, tr("Cycle"), "workbench.gui.pages.cycle.page:CyclePage"),
        PageEntry("day", day, tr("Day"), "workbench.gui.pages.day.page:DayPage"),
        PageEntry("demand", day, tr("Peak demand"), "workbench.gui.pages.demand.page:DemandPage"),
        PageEntry("firm", papers, tr("Our firm"), "workbench.gui.pages.firm.page:FirmPage"),
        PageEntry("prices", papers, tr("Price list"), "workbench.gui.pages.prices.page:PricesPage"),
        PageEntry(
            "estimate", papers, tr("Estimate"), "workbench.gui.pages.estimate.page:EstimatePage"
        ),
        PageEntry("card", papers, tr("Setting card"), "workbench.gui.pages.card.page:CardPage"),
        PageEntry("chart", papers, tr("Counter chart"), "workbench.gui.pages.chart.page:ChartPage"),
        PageEntry("live", teach, tr("Live tank"), "workbench.gui.pages.live.page:LivePage"),
        PageEntry("shift", teach, tr("Precharge"), "workbench.gui.pages.shift.page:ShiftPage"),
        PageEntry("faults", teach, tr("Faults"), "workbench.gui.pages.faults.page:FaultsPage"),
        PageEntry("lessons", teach, tr("Lessons"), "workbench.gui.pages.lessons.page:LessonsPage"),
        PageEntry(
            "exercises", teach, tr("Exercises"), "workbench.gui.pages.exercises.page:ExercisesPage"
        ),
        PageEntry(
            "sheet", teach, tr("Exercise sheet"), "workbench.gui.pages.class_sheet.page:SheetPage"
        ),
    )
