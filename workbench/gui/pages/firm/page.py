"""Our firm: what stands on every paper, and what a new job begins with."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Set
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.pages.firm.clauses import Clauses
from workbench.gui.pages.firm.keeping import Keeping
from workbench.gui.pages.firm.logo_row import LogoRow
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.page import Page
from workbench.gui.store import Store
from workbench.job.labels import label_of
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.study.firm.view import validity_findings
from workbench.words import tr


def _groups() -> Groups:
    return (
        (tr("Head of every paper"), ("firm_name", "firm_address", "firm_contact", "firm_licence",
                                     "firm_insurance")),
        (tr("Paper"), ("paper", "valid_days")),
    )  # fmt: skip


class FirmPage(Page):
    """Letterhead and logo at the left; at the right what is kept, and the clauses."""

    own_changed = Signal()

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.logo = self._add_logo()
        self.keeping = Keeping(self.results)
        self.clauses = Clauses(store, self.results)
        self.column.addWidget(self.keeping)
        self.column.addSpacing(theme.CLOSE)
        self.column.addWidget(self.clauses)
        self.column.addStretch(1)
        self.logo.chosen.connect(self._on_logo)
        self.keeping.taken.connect(self._on_taken)

    def _add_logo(self) -> LogoRow:
        """Below the inputs, which have rows for all that is typed or chosen."""
        body = self.inputs.widget()
        row = LogoRow(body)
        below = body.layout() if body is not None else None
        assert isinstance(below, QVBoxLayout)  # noqa: S101 - as the panel makes it
        below.insertSpacing(below.count() - 1, theme.NEAR)  # before the stretch at the end
        below.insertWidget(below.count() - 1, row)
        return row

    @property
    def input_names(self) -> Set[str]:
        """Those that have a row, the logo, and the clauses."""
        return self.inputs.rows.keys() | self.clauses.rows.keys() | {"firm_logo"}

    def showEvent(self, event: QShowEvent) -> None:
        """Look at the firm's file, which another window may have written."""
        self.keeping.look()
        self.is_stale = True
        super().showEvent(event)
        self.own_changed.emit()

    def own(self) -> object:
        """What the firm's file holds."""
        return self.keeping.entries()

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job, and of the validity; the logo's row tells its own."""
        return (*results.findings, *validity_findings(self.store.job))

    def refresh(self) -> None:
        """Show the job's entries; none of them waits for results."""
        super().refresh()
        job = self.store.job
        self.logo.show_job(job, self.store.display)
        self.keeping.show_job(job)
        self.clauses.show_job(job)

    def _on_logo(self, text: str) -> None:
        label = label_of("firm_logo")
        self.store.edit({"firm_logo": text}, tr("change {label}", label=label))

    def _on_taken(self, entries: Mapping[str, Any]) -> None:
        self.store.edit(entries, tr("take our firm's"))
