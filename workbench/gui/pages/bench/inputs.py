"""The left side of the bench: every input, in the order in which people learn them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from workbench.gui.pages.inputs import Groups, InputsPanel
from workbench.gui.store import Store
from workbench.job.choices import PrechargeRule
from workbench.job.pump_choices import PumpEntry, pump_entries
from workbench.units import FLOW
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.findings import Finding


def _groups() -> Groups:
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
            (
                *("door_width", "headroom", "pressure_margin"),
                *("header_tanks", "mixed_sets", "potable_required"),
            ),
        ),
    )


class BenchInputs(InputsPanel):
    """The job's name and what sizing needs; the precharge only where it is typed."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent, title_row=True)

    def show_job(self, findings: Iterable[Finding] | None = None) -> None:
        """Show what the job holds."""
        typed = self._store.job.precharge_rule is PrechargeRule.TYPED
        self.set_row_visible("precharge", typed, instead="precharge_rule")
        self.lock_row("pump_flow", self._pump_elsewhere())
        super().show_job(findings)

    def _pump_elsewhere(self) -> str:
        """Why the flow cannot be typed here: the pump is known in another way."""
        entry, results = self._store.job.pump_entry, self._store.results
        if entry is PumpEntry.CONSTANT:
            return ""
        way = pump_entries()[entry].label
        supply = results.inputs.supply if results else None
        if supply is None:
            return tr("Not used: the pump is entered by {way} on “Pump and well”.", way=way)
        return tr(
            "Not used: {flow} on average by {way}, entered on “Pump and well”.",
            flow=self._store.display.text(supply.mean_flow, FLOW),
            way=way,
        )
