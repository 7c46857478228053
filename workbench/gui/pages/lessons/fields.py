"""The entries of the lesson's tank that a screen offers to be typed, beside what can be dragged."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QGridLayout, QWidget

from workbench.gui import theme
from workbench.gui.fields.quantity_field import QuantityField
from workbench.gui.live.handles import changes
from workbench.gui.pages.fitted import Fitted
from workbench.gui.pages.input_rows import Doors, make_row
from workbench.gui.store import Store
from workbench.job.labels import label_of
from workbench.study.lessons.reading import TYPED
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.findings import Finding


class TankFields(Fitted):
    """A row for each entry; those that are not offered are hidden. Edits the lesson's store."""

    def __init__(self, tank: Store, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._tank = tank
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(theme.CLOSE)
        grid.setVerticalSpacing(theme.TIGHT // 2)
        grid.setColumnStretch(1, 1)
        doors = Doors(self._on_entered, self._on_chosen)
        self.rows = {name: make_row(grid, name, tank.display, doors) for name in TYPED}

    def show_tank(self, offered: Collection[str]) -> None:
        """Show what the store holds, and what was found beside each field."""
        results, display = self._tank.results, self._tank.display
        findings: tuple[Finding, ...] = ()
        if results is not None:
            findings = (*results.findings, *results.live.findings)
        for name, row in self.rows.items():
            row.set_visible(name in offered)
            field = row.field
            if isinstance(field, QuantityField):
                field.show_entry(getattr(self._tank.job, name), display)
                row.show_unit(field.unit_text(display))
                own = [one for one in findings if one.field == name]
                row.show_findings(own, display, field.echo())
        self.setVisible(bool(offered))

    def _on_entered(self, entry: Any, episode: int) -> None:
        name = self.sender().objectName()
        text = tr("change {label}", label=label_of(name))
        self._tank.edit(changes(name, entry), text, episode)

    def _on_chosen(self, _value: Any) -> None:
        """Nothing here is chosen from a list."""
