"""Cycle: how long the pump runs and rests with one tank, and how often it starts."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QWidget

from workbench.gui.pages.answer import Answer
from workbench.gui.pages.cycle import words
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.page import Page
from workbench.gui.pages.picture import Picture
from workbench.gui.pages.steps import step_rows
from workbench.gui.plots.starts_plot import StartsPlot
from workbench.gui.store import Store
from workbench.job.pump_choices import MotorLimit
from workbench.study.cycle.working import cycle_steps
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.units import Display
from workbench.words import tr

_OWN = ("own_starts_hour", "own_starts_day", "own_rest")


def _groups() -> Groups:
    return (
        (tr("Tank and draw"), ("first_tank", "steady_draw")),
        (tr("Motor"), ("motor_limit", "motor_power", *_OWN)),
    )


class CyclePage(Page):
    """Shows ``Results.cycle``."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.steady = Answer(tr("At the steady draw"), self.results, key="cycle.steady")
        self.worst = Answer(tr("At worst, whatever is drawn"), self.results, key="cycle.worst")
        self.messages = Messages(self.results)
        self.picture = Picture(StartsPlot(self.results), words.legend(), self.results)
        self.facts = Facts(tr("Runs and rests"), self.results)
        self.limits = Facts(tr("By each published limit"), self.results)
        self.working = Facts(tr("How these figures come about"), self.results)
        self.add_abreast(self.steady, self.worst)
        for widget in (self.messages, self.picture, self.facts, self.limits, self.working):
            self.column.addWidget(widget)
        self.column.addStretch(1)

    def arrange_inputs(self) -> None:
        """The motor's own limits only where they are chosen."""
        own = self.store.job.motor_limit is MotorLimit.OWN
        for name in _OWN:
            self.inputs.set_row_visible(name, own, instead="motor_limit")

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job and of this page."""
        return (*results.findings, *(results.cycle.findings if results.cycle else ()))

    def present(self, results: Results, display: Display) -> None:
        """Show the cycle, or what must be mended first."""
        view = results.cycle
        assert view is not None  # noqa: S101 - there is always one, if without a cycle
        turning = view.cycle
        self.messages.show_findings(self.inputs.elsewhere(words.told_here(results, view)), display)
        for widget in (self.facts, self.limits, self.working):
            widget.setVisible(turning is not None)
        if turning is None:
            first = words.what_stops(results, view)
            self.steady.show_answer("", first, "problem")
            self.worst.show_answer("", first, "problem")
            self.picture.show_words(tr("The picture needs a tank, and a pump that stops."))
            return
        self.steady.show_answer(*words.steady_answer(view, turning, display))
        self.worst.show_answer(*words.worst_answer(view, turning, display))
        plot = self.picture.plot
        assert isinstance(plot, StartsPlot)  # noqa: S101 - made above
        plot.show_view(view, display)
        self.picture.show_plot()
        self.facts.set_rows(words.facts(view, turning, display))
        self.limits.set_rows(words.limits(view, display))
        self.working.set_rows(step_rows(cycle_steps(turning, display)))
