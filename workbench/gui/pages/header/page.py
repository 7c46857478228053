"""Several tanks: what they give together as charged, and what replaces an old plain one."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QWidget

from workbench.gui import theme
from workbench.gui.pages.abreast import Abreast
from workbench.gui.pages.answer import Answer
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.grid_table import GridTable
from workbench.gui.pages.header import plain_words, words
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.page import Page
from workbench.gui.pages.picture import Picture
from workbench.gui.pages.steps import step_rows
from workbench.gui.pages.stops import untold
from workbench.gui.plots.header_plot import HeaderPlot
from workbench.gui.store import Store
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.study.header.plain import plain_steps
from workbench.study.header.record import header_steps
from workbench.study.header.view import HeaderView
from workbench.units import Display
from workbench.words import tr


def _groups() -> Groups:
    return (
        (tr("Tanks on one header"), ("header_set",)),
        (tr("Switch and site"), ("cut_in", "cut_out", "altitude")),
        (tr("Old plain tank"), ("plain_volume", "plain_residual")),
    )


class HeaderPage(Page):
    """Shows ``Results.header``."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.drawdown = Answer(tr("Drawdown of the set"), self.results, key="header.drawdown")
        self.run = Answer(tr("Run with no tap open"), self.results, key="header.run")
        self.messages = Messages(self.results)
        plot = HeaderPlot(tr("Water in the tanks over pressure"), self.results)
        self.plot = plot
        self.picture = Picture(plot, words.legend(), self.results)
        self.tanks = GridTable(tr("Each tank"), self.results)
        self.facts = Facts(tr("About the set"), self.results)
        self.working = Facts(tr("How the set's figures come about"), self.results)
        self.column.addWidget(Abreast(self.drawdown, self.run, parent=self.results))
        self._of_set = (self.picture, self.tanks, self.facts, self.working)
        for widget in (self.messages, *self._of_set):
            self.column.addWidget(widget)
        self.column.addSpacing(theme.NEAR)
        self._add_plain()
        self.column.addStretch(1)

    def _add_plain(self) -> None:
        self.gives = Answer(tr("The old plain tank gives"), self.results, key="header.gives")
        self.equal = Answer(tr("Equal pre-charged volume"), self.results, key="header.equal")
        self.replacement = Facts(tr("What replaces it"), self.results)
        self.remove = Facts(tr("Parts to remove"), self.results)
        self.steps = Facts(tr("Steps of the change"), self.results)
        self.plain_working = Facts(tr("How the old tank's figures come about"), self.results)
        self.column.addWidget(Abreast(self.gives, self.equal, parent=self.results))
        for widget in (self.replacement, self.remove, self.steps, self.plain_working):
            self.column.addWidget(widget)

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job and of this page."""
        return (*results.findings, *results.header.findings)

    def present(self, results: Results, display: Display) -> None:
        """Show the set and the old tank, each or what is missing for it."""
        view = results.header
        told = untold(view.findings, self.findings(results), self.inputs)
        self.messages.show_findings(told, display)
        self._show_set(results, view, display)
        self._show_plain(results, view, display)

    def _show_set(self, results: Results, view: HeaderView, display: Display) -> None:
        tanks = view.tanks
        for widget in self._of_set:
            widget.setVisible(tanks is not None)
        self.run.setVisible(tanks is not None)
        if tanks is None:
            self.drawdown.show_answer(*words.why_no_set(results, view))
            return
        self.drawdown.show_answer(*words.drawdown_answer(results, tanks, display))
        self.run.show_answer(*words.run_answer(results, tanks, display))
        shown = words.lines(tanks, display)
        self.plot.show_water(tanks.picture.pressure, shown, words.places(tanks), display)
        self.picture.show_plot()
        self.tanks.show_table(*words.table(tanks, display))
        self.tanks.remark.setText(words.table_remark(tanks, display))
        self.facts.set_rows(words.facts(tanks, display))
        self.working.set_rows(step_rows(header_steps(tanks, display)))

    def _show_plain(self, results: Results, view: HeaderView, display: Display) -> None:
        plain = view.plain
        for widget in (self.replacement, self.remove, self.steps, self.plain_working):
            widget.setVisible(plain is not None)
        self.equal.setVisible(plain is not None)
        if plain is None:
            self.gives.show_answer(*plain_words.why_no_plain(results, view))
            return
        self.gives.show_answer(*plain_words.gives_answer(plain, display))
        self.equal.show_answer(*plain_words.equal_answer(plain, display))
        self.replacement.set_rows(plain_words.plain_facts(plain, display))
        self.remove.set_rows(plain_words.remove_rows())
        self.steps.set_rows(plain_words.step_list(results, display))
        self.plain_working.set_rows(step_rows(plain_steps(plain, display)))
