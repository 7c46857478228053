"""The top of the bench: required drawdown, precharge to set, and what each rule asks for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import FigureLabel
from workbench.gui.pages.answer import NONE, Answer
from workbench.gui.pages.stops import mend_first
from workbench.gui.store import Store
from workbench.job.choices import RunTimeRule, precharge_rules, run_time_rules
from workbench.job.pump_choices import PumpEntry
from workbench.units import (
    FLOW,
    NUMBER,
    PRESSURE,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
    Quantity,
)
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.job.job import Job
    from workbench.study.evaluate import Results
    from workbench.study.inputs import Duty
    from workbench.study.sizing import RuleResult, Sizing

_COLUMN = 24  # digits that a figure with its reason needs at least


class RulesTable(QWidget):
    """What every run-time rule asks for, one under the other, the chosen one in bold."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        heading = QLabel(tr("By each run-time rule"))
        theme.set_role(heading, "heading")
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(theme.NEAR)
        self._grid.setVerticalSpacing(0)
        self._cells: dict[RunTimeRule, tuple[QLabel, ...]] = {}
        for row, (rule, choice) in enumerate(run_time_rules().items()):
            labels = (QLabel(choice.label), FigureLabel(), FigureLabel())
            water = tr("{rule}: drawdown", rule=choice.label)
            labels[1].explain_as(f"bench.rule_water:{row}", water)
            starts = tr("{rule}: most starts", rule=choice.label)
            labels[2].explain_as(f"bench.rule_starts:{row}", starts)
            for column, label in enumerate(labels):
                label.setToolTip(choice.source)
                side = Qt.AlignmentFlag.AlignRight if column else Qt.AlignmentFlag.AlignLeft
                self._grid.addWidget(label, row, column, side)
            self._cells[rule] = labels
        self._grid.setColumnStretch(3, 1)
        self.spread = FigureLabel()
        theme.set_role(self.spread, "muted")
        column_box = QVBoxLayout(self)
        column_box.setContentsMargins(0, 0, 0, 0)
        column_box.setSpacing(0)
        column_box.addWidget(heading)
        column_box.addLayout(self._grid)
        column_box.addWidget(self.spread)
        column_box.addStretch(1)

    def show_rules(self, sizing: Sizing | None, display: Display) -> None:
        """Show drawdown and worst starts by each rule."""
        found = {result.rule: result for result in sizing.rules} if sizing else {}
        for rule, labels in self._cells.items():
            self._show_row(labels, found.get(rule), display)
            bold = theme.font(bold=sizing is not None and rule is sizing.chosen.rule)
            for label in labels:
                if label.font() != bold:  # with a style sheet, setting one costs much
                    label.setFont(bold)
        self.spread.setText("" if sizing is None else _spread_text(sizing, display))
        self.spread.explain_as("bench.spread", tr("Rules against each other"))

    @staticmethod
    def _show_row(labels: Sequence[QLabel], result: RuleResult | None, display: Display) -> None:
        labels[1].setText(display.text(result.drawdown, VOLUME) if result else NONE)
        labels[2].setText(
            tr("{count} starts/h at worst", count=display.number(result.starts, STARTS_PER_HOUR))
            if result
            else ""
        )


def _spread_text(sizing: Sizing, display: Display) -> str:
    if sizing.spread < 1.005:
        return tr("All rules agree.")
    return tr(
        "They differ by a factor of {factor}.", factor=display.number(sizing.spread, NUMBER, 1)
    )


class AnswersPanel(QWidget):
    """Shows the figures that the page is about."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._store = store
        self.drawdown = Answer(tr("Required drawdown"), key="bench.required")
        self.precharge = Answer(tr("Precharge to set"), key="bench.precharge")
        self.rules = RulesTable()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(theme.WIDE)
        self._grid.setVerticalSpacing(theme.CLOSE)
        self._grid.setColumnStretch(0, 3)
        self._grid.setColumnStretch(1, 4)
        self._place(abreast=False)

    def _place(self, *, abreast: bool) -> None:
        """The rules stand beside the figures where there is room, else beneath them."""
        self._abreast = abreast
        for panel in (self.drawdown, self.precharge, self.rules):
            self._grid.removeWidget(panel)
        self._grid.addWidget(self.drawdown, 0, 0)
        self._grid.addWidget(self.precharge, 0, 1)
        if abreast:
            self._grid.addWidget(self.rules, 0, 2)
        else:
            self._grid.addWidget(self.rules, 1, 0, 1, 2)

    def minimumSizeHint(self) -> QSize:
        """The figures side by side; the rules find room beneath them."""
        hint = super().minimumSizeHint()
        figures = self.drawdown.minimumSizeHint() + self.precharge.minimumSizeHint()
        wide = max(figures.width() + theme.WIDE, self.rules.minimumSizeHint().width())
        return QSize(wide, hint.height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Choose between beside and beneath."""
        super().resizeEvent(event)
        em = theme.width_of(self, 1)
        room = self.width() - self.rules.minimumSizeHint().width() - 2 * theme.WIDE
        abreast = room > 2 * _COLUMN * em
        if abreast != self._abreast:
            self._place(abreast=abreast)

    def show_results(self) -> None:
        """Show what the store holds; dashes while a stop stands in the way."""
        results, display = self._store.results, self._store.display
        if results is None:
            return
        self._show_drawdown(results, display)
        self._show_precharge(results, display)
        self.rules.show_rules(results.sizing, display)

    def _show_drawdown(self, results: Results, display: Display) -> None:
        sizing, duty = results.sizing, results.duty
        if sizing is None or duty is None:
            self.drawdown.show_answer("", mend_first(results.findings), "problem")
            return
        rule = run_time_rules()[sizing.chosen.rule].label
        self.drawdown.show_answer(
            display.text(sizing.required, VOLUME),
            tr(
                "{flow} × {run}, {rule}. About {volume} of total volume at this band.",
                flow=_flow(results.job, duty, display),
                run=display.text(sizing.chosen.run_time, TIME),
                rule=rule,
                volume=display.text(sizing.total_volume, VOLUME, 0),
            ),
        )

    def _show_precharge(self, results: Results, display: Display) -> None:
        charge = results.precharge
        if charge is None:
            self.precharge.show_answer("", mend_first(results.findings), "problem")
            return
        rule = precharge_rules()[results.job.precharge_rule].label
        shown = charge.in_service if charge.where_set is None else charge.where_set
        reason = tr(
            "{rule}. Power off and locked out, tank drained, gauge at zero: only then read or set"
            " the air.",
            rule=rule[:1].upper() + rule[1:],
        )
        if charge.where_set is not None:
            service = display.text(charge.in_service, PRESSURE)
            reason = tr("Where it is set, to be {service} in service. ", service=service) + reason
        role = "muted"
        if results.setting is not None and results.setting.below_cut_in < 0:
            role = "caution"
            reason = tr("Above cut-in: the tank empties before the pump starts.") + " " + reason
        self.precharge.show_answer(display.text(shown, PRESSURE), reason, role)


def _flow(job: Job, duty: Duty, display: Display) -> str:
    """The flow as typed, or its mean where it falls from cut-in to cut-out."""
    if job.pump_entry is PumpEntry.CONSTANT and isinstance(job.pump_flow, Quantity):
        return display.typed(job.pump_flow, FLOW)
    return tr("{flow} on average", flow=display.text(duty.pump_flow, FLOW))
