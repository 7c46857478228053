"""The left side of the bench: every input, in the order in which people learn them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.fields.choice_field import ChoiceField, TickField
from workbench.gui.fields.entry_field import TextField
from workbench.gui.fields.field_row import FieldRow
from workbench.gui.fields.quantity_field import QuantityField
from workbench.gui.store import Store
from workbench.job.choices import PrechargeRule, precharge_rules, run_time_rules
from workbench.job.fields import fields
from workbench.job.job import LONGEST_TEXT
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.findings import Finding


def _groups() -> tuple[tuple[str, tuple[str, ...]], ...]:
    return (
        (tr("Pump"), ("pump_flow", "run_time_rule", "run_time", "starts_limit")),
        (tr("Switch"), ("cut_in", "cut_out", "bands")),
        (
            tr("Precharge"),
            ("precharge_rule", "precharge", "reading_temperature", "reading_altitude"),
        ),
        (tr("Site"), ("altitude", "tank_temperature", "exponent")),
        (
            tr("Limits"),
            ("door_width", "headroom", "pressure_margin", "header_tanks", "potable_required"),
        ),
    )


class InputsPanel(QScrollArea):
    """Edits the job through the store and shows what the job holds, with findings in place."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._store = store
        self.rows: dict[str, FieldRow] = {}
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # its fields take the focus, not their frame
        self.setAccessibleName(tr("Inputs"))
        self._body = QWidget(self.viewport())
        column = QVBoxLayout(self._body)
        column.setContentsMargins(theme.NEAR, theme.CLOSE, theme.NEAR, theme.CLOSE)
        column.setSpacing(theme.TIGHT)
        # One grid for all groups, so that every field starts at the same place.
        grid = QGridLayout()
        grid.setHorizontalSpacing(theme.CLOSE)
        grid.setVerticalSpacing(theme.TIGHT // 2)
        grid.setColumnStretch(1, 1)
        column.addLayout(grid)  # so that each field is made where it stays
        self.rows["title"] = self._title_row(grid)
        for title, names in _groups():
            self._add_group(grid, title, names)
        column.addStretch(1)
        self.setWidget(self._body)
        self._body.installEventFilter(self)

    def _add_group(self, grid: QGridLayout, title: str, names: tuple[str, ...]) -> None:
        heading = QLabel(title)
        theme.set_role(heading, "heading")
        grid.addWidget(heading, grid.rowCount(), 0, 1, 2)
        for name in names:
            self.rows[name] = self._row(grid, name)

    def _title_row(self, grid: QGridLayout) -> FieldRow:
        field = TextField(LONGEST_TEXT, tr("customer, place"))
        field.setObjectName("title")
        field.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        field.entered.connect(self._on_entered)
        return FieldRow(grid, tr("Job"), field, tr("What this job is about, in your own words."))

    def _row(self, grid: QGridLayout, name: str) -> FieldRow:
        field = fields().get(name)
        if field is not None:
            entry = QuantityField(field.kind, field.empty)
            entry.setObjectName(name)
            entry.entered.connect(self._on_entered)
            row = FieldRow(grid, field.label, entry, field.help)
            row.show_unit(self._store.display.symbol(field.kind))
            return row
        label, help_text = _labels()[name]
        control: QuantityField | ChoiceField | TickField
        if name == "bands":
            control = QuantityField(None)
            control.entered.connect(self._on_entered)
        elif name == "potable_required":
            control = TickField(tr("potable-water listing"))
            control.chosen.connect(self._on_chosen)
        else:
            control = ChoiceField(_choices(name))
            control.chosen.connect(self._on_chosen)
        control.setObjectName(name)
        return FieldRow(grid, label, control, help_text)

    def minimum_width(self) -> int:
        """Wide enough that no label or field is cut."""
        bar = self.verticalScrollBar().sizeHint().width()
        return self._body.minimumSizeHint().width() + bar

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the body's width when the font grows."""
        if watched is self._body and event.type() == QEvent.Type.LayoutRequest:
            self.setMinimumWidth(self.minimum_width())
        return super().eventFilter(watched, event)

    def show_job(self) -> None:
        """Show what the job holds, in the chosen units, and each finding beside its field."""
        job, display = self._store.job, self._store.display
        by_field: Mapping[str, list[Finding]] = defaultdict(list)
        for finding in self._store.results.findings if self._store.results else ():
            by_field[finding.field].append(finding)
        typed = job.precharge_rule is PrechargeRule.TYPED
        self.rows["precharge"].set_visible(typed)
        if not typed and by_field["precharge"]:
            by_field["precharge_rule"].extend(by_field["precharge"])
        for name, row in self.rows.items():
            control, value = row.field, getattr(job, name)
            echo = ""
            if isinstance(control, QuantityField):
                control.show_entry(value, display)
                echo = control.echo()
                if control.kind is not None:
                    row.show_unit(display.symbol(control.kind))
            elif isinstance(control, ChoiceField | TickField | TextField):
                control.show_value(value)
            row.show_findings(by_field[name], display, echo)

    def _on_entered(self, entry: Any, episode: int) -> None:
        self._edit(self.sender(), entry, episode)

    def _on_chosen(self, value: Any) -> None:
        self._edit(self.sender(), value, -1)

    def _edit(self, control: QObject, value: Any, episode: int) -> None:
        name = control.objectName()
        text = tr("change {label}", label=self.rows[name].name)
        self._store.edit({name: value}, text, episode)


def _choices(name: str) -> Mapping[Any, str]:
    if name == "run_time_rule":
        return {rule: choice.label for rule, choice in run_time_rules().items()}
    if name == "precharge_rule":
        return {rule: choice.label for rule, choice in precharge_rules().items()}
    return {1: tr("one"), 2: tr("up to two equal"), 3: tr("up to three equal")}


def _labels() -> dict[str, tuple[str, str]]:
    return {
        "run_time_rule": (tr("Run-time rule"), "\n\n".join(
            f"{choice.label}: {choice.source}" for choice in run_time_rules().values())),
        "bands": (tr("Bands drawn"), tr(
            "The switch bands drawn beside your own, for example “20/40, 30/50, 40/60 psi”.")),
        "precharge_rule": (tr("Rule"), "\n\n".join(
            f"{choice.label}: {choice.source}" for choice in precharge_rules().values())),
        "header_tanks": (tr("Tanks"), tr(
            "How many equal tanks may stand on one header. Their drawdowns add up if all have the"
            " same precharge.")),
        "potable_required": (tr("Require"), tr(
            "Offer only tanks that are listed for drinking water (NSF/ANSI/CAN 61).")),
    }  # fmt: skip
