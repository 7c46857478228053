"""Live tank: tank, pump and switch in motion, to be watched and changed while they work."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from workbench.gui.live.panel import LivePanel
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.stops import untold
from workbench.gui.pages.tank_page import TankPage
from workbench.gui.store import Store
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.study.live.rig import Rig
from workbench.units import Display
from workbench.words import tr


def _groups() -> Groups:
    return (
        (tr("Tank"), ("first_tank", "live_volume")),
        (tr("Air and switch"), ("precharge_rule", "precharge", "cut_in", "cut_out")),
        (tr("Tap and place"), ("steady_draw", "altitude", "live_air")),
        (tr("Pump and pipes"), ("start_delay", "line_give", "relief_setting")),
    )


class LivePage(TankPage):
    """Shows ``Results.live``."""

    own_changed = Signal()

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        self.panel = LivePanel(store, _rig_of, self.results)
        self.messages = Messages(self.results)
        self.panel.settled.connect(self.own_changed)
        self.column.addWidget(self.panel, 1)
        self.column.addWidget(self.messages)

    def own(self) -> object:
        """The moment that is shown."""
        return self.panel.watching()

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job and of this page."""
        return (*results.findings, *results.live.findings)

    def present(self, results: Results, display: Display) -> None:
        """Show the rig, and what no row tells."""
        self.panel.refresh()
        own = untold(results.live.findings, self.findings(results), self.inputs)
        self.messages.show_findings(own, display)


def _rig_of(results: Results) -> tuple[Rig | None, float | None, str]:
    view = results.live
    return view.rig, view.tap, view.why
