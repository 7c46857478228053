"""The firm's clauses, each beside what some places publish about it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.fields.field_row import FieldRow
from workbench.gui.fields.lines_field import WordsField
from workbench.gui.pages.abreast import Abreast
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.input_rows import Doors, make_row
from workbench.gui.store import Store
from workbench.job.firm import FIRM_ENTRIES
from workbench.job.job import Job
from workbench.job.labels import label_of
from workbench.study.firm.prompts import Prompt, caution, prompts
from workbench.words import tr

_READABLE = 28  # digits

CLAUSES = tuple(name for name in FIRM_ENTRIES if name.startswith("clause_"))


class Clauses(QWidget):
    """Edits the clauses through the store. The texts are the firm's; the prompts are context."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._store = store
        self.rows: dict[str, FieldRow] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.NEAR)
        heading = QLabel(tr("Clauses of the estimate, in your own words"), self)
        heading.setWordWrap(True)
        theme.set_role(heading, "heading")
        context = _wrapped(caution(), self)
        for label in (heading, context):
            column.addWidget(label)
        known = prompts()
        doors = Doors(self._on_entered, self._on_chosen)
        for name in CLAUSES:
            column.addWidget(self._clause(name, known.get(name, ()), doors))
        others = Facts(tr("Elsewhere on the estimate"), self)
        others.set_rows([
            (label_of(name), "\n".join(prompt.text for prompt in found), "muted")
            for name, found in known.items() if name not in CLAUSES
        ])  # fmt: skip
        column.addWidget(others)
        column.addStretch(1)

    def _clause(self, name: str, found: tuple[Prompt, ...], doors: Doors) -> Abreast:
        """A field with its label, and the prompts at its side or, in a narrow page, beneath."""
        left, right = QWidget(self), _Prompts(found, self)
        grid = QGridLayout(left)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(theme.TIGHT)
        self.rows[name] = make_row(grid, name, self._store.display, doors)
        grid.setRowStretch(grid.rowCount(), 1)
        return Abreast(left, right, parent=self)

    def show_job(self, job: Job) -> None:
        """Show what the job holds."""
        for name, row in self.rows.items():
            if isinstance(row.field, WordsField):
                row.field.show_value(getattr(job, name))

    def _on_entered(self, text: Any, episode: int) -> None:
        self._edit({self.sender().objectName(): text}, episode)

    def _on_chosen(self, value: Any) -> None:
        self._edit({self.sender().objectName(): value}, -1)

    def _edit(self, values: Mapping[str, Any], episode: int) -> None:
        label = label_of(next(iter(values)))
        self._store.edit(values, tr("change {label}", label=label), episode)


class _Prompts(QWidget):
    """What is published, a paragraph for each place."""

    def __init__(self, found: tuple[Prompt, ...], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(theme.TIGHT)
        self._labels = [_wrapped(prompt.text, self) for prompt in found]
        for label in self._labels:
            lines.addWidget(label)
        lines.addStretch(1)

    def minimumSizeHint(self) -> QSize:
        """So wide that the lines can be read; narrower, they stand beneath the field."""
        words = (label.minimumSizeHint().width() for label in self._labels)
        width = max((theme.width_of(self, _READABLE), *words))
        return QSize(width, super().minimumSizeHint().height())


def _wrapped(text: str, parent: QWidget) -> QLabel:
    label = QLabel(text, parent)
    label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
    label.setWordWrap(True)  # after the policy, which would forget that its height follows
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    theme.set_role(label, "muted")
    return label
