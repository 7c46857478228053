"""Compare bands: what does another switch band cost, with today's tank and pump?"""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from workbench.gui.pages.answer import Answer
from workbench.gui.pages.bands import words
from workbench.gui.pages.bands.choice import BandChoice
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.grid_table import GridTable
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.page import Page
from workbench.gui.pages.picture import Picture
from workbench.gui.pages.steps import step_rows
from workbench.gui.pages.stops import untold
from workbench.gui.plots.bands_plot import BandsPlot
from workbench.gui.store import Store
from workbench.job.choices import PrechargeRule
from workbench.study.bands.tank import LABEL
from workbench.study.bands.view import BandColumn, BandsView, adopting
from workbench.study.bands.words import band_name
from workbench.study.bands.working import band_steps
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.units import Display
from workbench.words import tr


def _groups() -> Groups:
    return (
        (tr("Switch today"), ("cut_in", "cut_out")),
        (tr("Precharge"), ("precharge_rule", "precharge")),
        (tr("Compare with"), ("bands",)),
        (tr("Tank that is there now"), ("first_tank", "today_volume", *LABEL, "relief_setting")),
        (tr("House and site"), ("lowest_fixture", "highest_fixture", "steady_draw", "altitude")),
    )


class BandsPage(Page):
    """Shows ``Results.bands``; which band is compared is no input and not undone."""

    own_changed = Signal()

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self._wanted = ""  # name of the band that a person chose
        self.cost = Answer(tr("What the other band costs"), self.results, key="bands.cost")
        self.cost.figure.setWordWrap(True)  # it names the band too, so it is long in large type
        self.charge = Answer(tr("Precharge to set there"), self.results, key="bands.charge_answer")
        self.choice = BandChoice(self.results)
        self.messages = Messages(self.results)
        self.plot = BandsPlot(self.results)
        self.picture = Picture(self.plot, words.legend(), self.results)
        self.table = GridTable(tr("Each band"), self.results)
        self.working = Facts(tr("How these figures come about"), self.results)
        self.add_abreast(self.cost, self.charge)
        below = (self.choice, self.messages, self.picture, self.table, self.working)
        for widget in below:
            self.column.addWidget(widget)
        self.column.addStretch(1)
        self.choice.chosen.connect(self._on_chosen)
        self.choice.wanted.connect(self._on_wanted)

    def arrange_inputs(self) -> None:
        """The precharge only where it is typed, the rest of the label only with a volume."""
        job = self.store.job
        typed = job.precharge_rule is PrechargeRule.TYPED
        self.inputs.set_row_visible("precharge", typed, instead="precharge_rule")
        for name in LABEL:
            used = job.today_volume is not None or getattr(job, name) is not None
            self.inputs.set_row_visible(name, used, instead="today_volume")
        barred = "" if job.today_volume is None else tr("Not used: the tank below is typed.")
        self.inputs.lock_row("first_tank", barred)

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job, of this page, and of today's band."""
        view = results.bands
        today = view.today.findings if view.today else ()
        return (*results.findings, *view.findings, *today)

    def present(self, results: Results, display: Display) -> None:
        """Show each band beside today's, and what the chosen one costs."""
        view = results.bands
        column = self._chosen(view)
        self._show_messages(results, view, column, display)
        self._show_choice(view, column, display)
        parts = (self.picture, self.table, self.working)
        for widget in parts:
            widget.setVisible(bool(view.columns))
        self.charge.setVisible(column is not None)
        if not view.columns:
            self.cost.show_answer(*words.why_none(results, view))
            return
        self.cost.show_answer(*words.cost_answer(view, column, display))
        self.charge.show_answer(*words.charge_answer(results, view, column, display))
        self.plot.show_view(view, display)
        self.picture.show_plot()
        self.table.show_table(*words.table(view, display))
        self.table.remark.setText(words.table_remark(view, display))
        self.working.set_rows(step_rows(band_steps(view, column or view.columns[0], display)))

    def own(self) -> BandColumn | None:
        """The band that is compared with today's."""
        results = self.store.results
        return None if results is None else self._chosen(results.bands)

    def _show_messages(
        self, results: Results, view: BandsView, column: BandColumn | None, display: Display
    ) -> None:
        today = view.today.findings if view.today else ()
        told = untold((*view.findings, *today), self.findings(results), self.inputs)
        if column is not None:
            told += words.told_of_bands([column], display)
        self.messages.show_findings(told, display)

    def _show_choice(self, view: BandsView, column: BandColumn | None, display: Display) -> None:
        self.choice.setVisible(bool(view.columns))
        names = [band_name(one, display) for one in view.others]
        self.choice.show_names(names, -1 if column is None else view.others.index(column))

    def _chosen(self, view: BandsView) -> BandColumn | None:
        """The band that was chosen; else the next above today's, which is asked for most."""
        today = view.today
        for one in view.others:
            if _plain_name(one) == self._wanted:
                return one
        above = [one for one in view.others if today and one.band.cut_out > today.band.cut_out]
        return min(above, key=_cut_out, default=next(iter(view.others), None))

    # --- what a person does ---

    def _on_chosen(self, place: int) -> None:
        results = self.store.results
        if results is not None:
            self._wanted = _plain_name(results.bands.others[place])
            self.present(results, self.store.display)
            self.own_changed.emit()

    def _on_wanted(self) -> None:
        results = self.store.results
        if results is None or results.bands.today is None:
            return
        column = self._chosen(results.bands)
        if column is not None:
            self._wanted = _plain_name(results.bands.today)  # to be seen beside it from now on
            text = tr("make {band} the job's band", band=band_name(column, self.store.display))
            self.store.edit(adopting(results, column), text)


def _plain_name(column: BandColumn) -> str:
    return f"{column.name} {column.unit}"


def _cut_out(column: BandColumn) -> float:
    return column.band.cut_out
