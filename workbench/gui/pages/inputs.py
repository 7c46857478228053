"""The left side of a page: its inputs in groups, each with its findings beneath it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.fields.choice_field import ChoiceField, TickField
from workbench.gui.fields.entry_field import TextField
from workbench.gui.fields.field_row import FieldRow
from workbench.gui.fields.lines_field import WordsField
from workbench.gui.fields.pairs_field import PairsField
from workbench.gui.fields.quantity_field import QuantityField
from workbench.gui.fields.tank_field import TankField
from workbench.gui.pages.input_rows import Doors, make_row
from workbench.gui.store import Store
from workbench.job.labels import label_of
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.findings import Finding

Groups = tuple[tuple[str, tuple[str, ...]], ...]
"""Headings, each with the names of the job's entries that stand under it."""


class InputsPanel(QScrollArea):
    """Edits the job through the store and shows what the job holds, with findings in place.

    ``along(name)`` gives what changes together with an entry, in the same step of undo.
    """

    def __init__(
        self,
        store: Store,
        groups: Groups,
        parent: QWidget | None = None,
        *,
        title_row: bool = False,
        along: Callable[[str], Mapping[str, Any]] | None = None,
    ) -> None:
        super().__init__(parent)
        self._store = store
        self._along = along
        self.rows: dict[str, FieldRow] = {}
        self._headings: dict[QLabel, tuple[str, ...]] = {}
        self._hidden: dict[str, str] = {}  # name of a hidden row -> who tells its findings
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
        if title_row:
            self.rows["title"] = self._row(grid, "title")
        for title, names in groups:
            self._add_group(grid, title, names)
        column.addStretch(1)
        self.setWidget(self._body)
        self._body.installEventFilter(self)

    # --- making ---

    def _add_group(self, grid: QGridLayout, title: str, names: tuple[str, ...]) -> None:
        heading = QLabel(title)
        theme.set_role(heading, "heading")
        grid.addWidget(heading, grid.rowCount(), 0, 1, 2)
        self._headings[heading] = names
        for name in names:
            self.rows[name] = self._row(grid, name)

    def _row(self, grid: QGridLayout, name: str) -> FieldRow:
        doors = Doors(self._on_entered, self._on_chosen)
        return make_row(grid, name, self._store.display, doors)

    # --- showing ---

    def minimum_width(self) -> int:
        """Wide enough that no label or field is cut."""
        bar = self.verticalScrollBar().sizeHint().width()
        return self._body.minimumSizeHint().width() + bar

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave Page Up and Page Down to the page: the panel follows the focus anyway."""
        if event.key() in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            event.ignore()
        else:
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the body's width when the font grows."""
        if watched is self._body and event.type() == QEvent.Type.LayoutRequest:
            self.setMinimumWidth(self.minimum_width())
        return super().eventFilter(watched, event)

    def set_row_visible(self, name: str, visible: bool, instead: str = "") -> None:
        """Show or hide a row until told otherwise; ``instead`` tells a hidden row's findings."""
        if visible == (name not in self._hidden):
            return
        if visible:
            del self._hidden[name]
        else:
            self._hidden[name] = instead
        self.rows[name].set_visible(visible)
        for heading, names in self._headings.items():
            heading.setVisible(any(one not in self._hidden for one in names))

    def lock_row(self, name: str, why: str) -> None:
        """Bar a field and say beneath it where its value comes from; "" opens it again."""
        self.rows[name].lock(why)

    def show_job(self, findings: Iterable[Finding] | None = None) -> None:
        """Show what the job holds, in the chosen units, and each finding beside its field.

        Without ``findings`` those of the results are shown.
        """
        job, display = self._store.job, self._store.display
        if findings is None:
            findings = self._store.results.findings if self._store.results else ()
        by_row: Mapping[str, list[Finding]] = defaultdict(list)
        for finding in findings:
            by_row[self._row_of(finding)].append(finding)
        for name, row in self.rows.items():
            control, value = row.field, getattr(job, name)
            echo = ""
            if isinstance(control, QuantityField | PairsField):
                control.show_entry(value, display)
                echo = control.echo()
                row.show_unit(control.unit_text(display))
            elif isinstance(control, ChoiceField | TickField | TextField | WordsField):
                control.show_value(value)
            elif isinstance(control, TankField):
                results = self._store.results
                control.show_tank(value, results.ranking if results else None)
            row.show_findings(by_row[name], display, echo)

    def elsewhere(self, findings: Iterable[Finding]) -> list[Finding]:
        """The findings that no row of this panel tells."""
        return [finding for finding in findings if self._row_of(finding) not in self.rows]

    def _row_of(self, finding: Finding) -> str:
        """The row beside which a finding is shown; none of that name if it has none."""
        name = finding.field
        while name in self._hidden:
            name = self._hidden[name]
        return name

    # --- what a person does ---

    def _on_entered(self, entry: Any, episode: int) -> None:
        self._edit(self.sender(), entry, episode)

    def _on_chosen(self, value: Any) -> None:
        self._edit(self.sender(), value, -1)

    def _edit(self, control: QObject, value: Any, episode: int) -> None:
        name = control.objectName()
        text = tr("change {label}", label=label_of(name))
        along = {} if self._along is None else self._along(name)
        self._store.edit({**along, name: value}, text, episode)
