"""Variable speed: does the small tank carry the drive between wake and set?"""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QWidget

from workbench.gui.pages.abreast import Abreast
from workbench.gui.pages.answer import Answer
from workbench.gui.pages.drive import words
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.page import Page
from workbench.gui.pages.picture import Picture
from workbench.gui.pages.steps import step_rows
from workbench.gui.pages.stops import untold
from workbench.gui.plots.header_plot import HeaderPlot
from workbench.gui.store import Store
from workbench.study.drive.record import drive_steps
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.units import Display
from workbench.words import tr


def _groups() -> Groups:
    return (
        (tr("As the drive's maker states"), ("drive_set", "drive_wake", "drive_share",
                                             "drive_tank", "drive_ramp")),
        (tr("Draw and leak"), ("drive_step", "leak")),
        (tr("Tank and site"), ("first_tank", "altitude")),
    )  # fmt: skip


class DrivePage(Page):
    """Shows ``Results.drive``."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.reserve = Answer(tr("Reserve between wake and set"), self.results, key="drive.reserve")
        self.lowest = Answer(tr("Lowest pressure"), self.results, key="drive.lowest")
        self.messages = Messages(self.results)
        plot = HeaderPlot(tr("Water in the tank over pressure"), self.results)
        self.plot = plot
        self.picture = Picture(plot, words.legend(), self.results)
        self.facts = Facts(tr("What the tank must do"), self.results)
        self.working = Facts(tr("How these figures come about"), self.results)
        self.column.addWidget(Abreast(self.reserve, self.lowest, parent=self.results))
        for widget in (self.messages, self.picture, self.facts, self.working):
            self.column.addWidget(widget)
        self.column.addStretch(1)

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job and of this page."""
        return (*results.findings, *results.drive.findings)

    def present(self, results: Results, display: Display) -> None:
        """Show the reserve and what is asked of it, or what is missing."""
        view = results.drive
        told = untold(view.findings, self.findings(results), self.inputs)
        self.messages.show_findings(told, display)
        self.reserve.show_answer(*words.reserve_answer(results, view, display))
        self.lowest.setVisible(view.reserve is not None and view.needed is not None)
        self.lowest.show_answer(*words.lowest_answer(results, view, display))
        self.picture.setVisible(view.picture is not None)
        if view.picture is not None:
            shown = words.lines(view, display)
            self.plot.show_water(view.picture.pressure, shown, words.places(view), display)
            self.picture.show_plot()
        has_any = view.pressures is not None
        self.facts.setVisible(has_any)
        self.facts.set_rows(words.facts(view, display) if has_any else ())
        steps = drive_steps(results, display) if has_any else ()
        self.working.setVisible(bool(steps))
        self.working.set_rows(step_rows(steps))
