"""The top of the bench: required drawdown, precharge to set, and what each rule asks for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.store import Store
from workbench.job.choices import RunTimeRule, precharge_rules, run_time_rules
from workbench.units import FLOW, NUMBER, PRESSURE, STARTS_PER_HOUR, TIME, VOLUME, Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results
    from workbench.study.sizing import RuleResult, Sizing

_NONE = "—"
_COLUMN = 24  # digits that a figure with its reason needs at least


class Answer(QWidget):
    """A large figure with what it is above it and why it is so below it."""

    def __init__(self, caption: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._caption = QLabel(caption)
        theme.set_role(self._caption, "heading")
        self.figure = QLabel(_NONE)
        self.figure.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.figure.setAccessibleName(caption)
        theme.set_role(self.figure, "answer")
        self.reason = QLabel()
        self.reason.setWordWrap(True)
        self.reason.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        theme.set_role(self.reason, "muted")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for label in (self._caption, self.figure, self.reason):
            column.addWidget(label)
        column.addStretch(1)

    def show_answer(self, figure: str, reason: str, role: str = "muted") -> None:
        """Show a figure, or a dash with the reason why there is none."""
        self.figure.setText(figure or _NONE)
        self.figure.setAccessibleName(f"{self._caption.text()}: {figure or tr('none')}")
        theme.set_role(self.reason, role)
        self.reason.setText(reason)


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
            labels = (QLabel(choice.label), QLabel(), QLabel())
            for column, label in enumerate(labels):
                label.setToolTip(choice.source)
                side = Qt.AlignmentFlag.AlignRight if column else Qt.AlignmentFlag.AlignLeft
                self._grid.addWidget(label, row, column, side)
            self._cells[rule] = labels
        self._grid.setColumnStretch(3, 1)
        self.spread = QLabel()
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

    @staticmethod
    def _show_row(labels: Sequence[QLabel], result: RuleResult | None, display: Display) -> None:
        labels[1].setText(display.text(result.drawdown, VOLUME) if result else _NONE)
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
        self.drawdown = Answer(tr("Required drawdown"))
        self.precharge = Answer(tr("Precharge to set"))
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
        sizing = results.sizing
        flow = results.job.pump_flow
        if sizing is None:
            self.drawdown.show_answer("", _what_stops(results), "problem")
            return
        rule = run_time_rules()[sizing.chosen.rule].label
        self.drawdown.show_answer(
            display.text(sizing.required, VOLUME),
            tr(
                "{flow} × {run}, {rule}. About {volume} of total volume at this band.",
                flow=display.typed(flow, FLOW),  # type: ignore[arg-type]  # read, since it sized
                run=display.text(sizing.chosen.run_time, TIME),
                rule=rule,
                volume=display.text(sizing.total_volume, VOLUME, 0),
            ),
        )

    def _show_precharge(self, results: Results, display: Display) -> None:
        charge = results.precharge
        if charge is None:
            self.precharge.show_answer("", _what_stops(results), "problem")
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


def _what_stops(results: Results) -> str:
    from workbench.job.fields import label_of
    from workbench.study.findings import Level

    stops = results.of_level(Level.STOP)
    names = dict.fromkeys(label_of(stop.field) for stop in stops)
    return tr("Mend first: {names}.", names=", ".join(names))
