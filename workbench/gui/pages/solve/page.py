"""Solve for one: pump flow, run time, volume, band or precharge, from all the others."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from workbench.gui import theme
from workbench.gui.pages.answer import Answer
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.page import Page
from workbench.gui.pages.picture import Picture
from workbench.gui.pages.solve import words
from workbench.gui.pages.steps import step_rows
from workbench.gui.pages.stops import untold
from workbench.gui.plots.solve_plot import SolvePlot
from workbench.gui.store import Store
from workbench.job.choices import PrechargeRule
from workbench.job.labels import label_of
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.study.solve.known import looked_for_entries
from workbench.study.solve.put import changes_for
from workbench.study.solve.view import SolveView
from workbench.study.solve.words import name_of
from workbench.study.solve.working import solve_steps
from workbench.units import Display
from workbench.words import tr

_MAY_BE_BARRED = ("pump_flow", "run_time", "solve_volume", "precharge_rule", "precharge")


def _groups() -> Groups:
    return (
        (tr("Not known"), ("solve_for",)),
        (tr("Pump"), ("pump_flow", "run_time")),
        (tr("Tank"), ("solve_volume",)),
        (tr("Switch"), ("cut_in", "cut_out")),
        (tr("Precharge"), ("precharge_rule", "precharge")),
        (tr("Site"), ("altitude", "exponent")),
    )


class SolvePage(Page):
    """Shows ``Results.solved``."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.answer = _NamedAnswer("", self.results, key="solve.answer")
        self.put = QPushButton(tr("Put it into the job"), self.results)
        theme.set_role(self.put, "primary")
        self.put.clicked.connect(self._put_in)
        self.messages = Messages(self.results)
        self.plot = SolvePlot(self.results)
        self.picture = Picture(self.plot, words.legend(), self.results)
        self.facts = Facts(tr("With the answer"), self.results)
        self.working = Facts(tr("How it comes about"), self.results)
        row = QHBoxLayout()
        row.addWidget(self.put)
        row.addStretch(1)
        self.column.addWidget(self.answer)
        self.column.addLayout(row)
        for widget in (self.messages, self.picture, self.facts, self.working):
            self.column.addWidget(widget)
        self.column.addStretch(1)

    def arrange_inputs(self) -> None:
        """What is looked for is barred; a precharge stands only where it is typed."""
        job = self.store.job
        typed = job.precharge_rule is PrechargeRule.TYPED
        self.inputs.set_row_visible("precharge", typed, instead="precharge_rule")
        barred = words.locks(job)
        for name in _MAY_BE_BARRED:
            self.inputs.lock_row(name, barred.get(name, ""))

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job and of this page; none about what is looked for."""
        away = looked_for_entries(results.job)
        every = (*results.findings, *results.solved.findings)
        return [one for one in every if one.field not in away]

    def present(self, results: Results, display: Display) -> None:
        """Show the answer, or why there is none."""
        view = results.solved
        self.answer.show_named(name_of(view.answered), *words.answer(view, display))
        self.put.setVisible(view.can_be_put)
        own = (*view.blocked, *view.findings)
        told = untold(own, self.findings(results), self.inputs)
        self.messages.show_findings((*told, *_with_the_answer(view)), display)
        self.picture.setVisible(view.picture is not None)
        if view.picture is not None:
            self.plot.show_solved(view.picture, display)
            self.picture.show_plot()
        rows = words.facts(results, view, display)
        self.facts.setVisible(bool(rows))
        self.facts.set_rows(rows)
        steps = solve_steps(view, display)
        self.working.setVisible(bool(steps))
        self.working.set_rows(step_rows(steps))

    def _put_in(self) -> None:
        """The first answer becomes the job's entry, as one step of undo."""
        results = self.store.results
        if results is None or not results.solved.can_be_put:
            return
        view = results.solved
        changes = changes_for(results.job, view.answered, view.solutions[0], self.store.display)
        if changes:
            name = name_of(view.answered)
            self.store.edit(changes, tr("put in: {name}", name=name))


class _NamedAnswer(Answer):
    """An answer whose name changes with the question."""

    def show_named(self, name: str, figure: str, reason: str, role: str) -> None:
        """Show a figure under its name."""
        self._caption.setText(name)
        self.show_answer(figure, reason, role)


def _with_the_answer(view: SolveView) -> list[Finding]:
    """What the job would be told with the answer in it, each with the entry that it is about."""
    return [
        replace(one, text=tr("With the answer, {label}: ", label=label_of(one.field)) + one.text)
        for one in view.beyond
    ]
