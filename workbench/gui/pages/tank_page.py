"""What the pages share on which one tank is watched while its setting is turned."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from workbench.gui.pages.page import Page
from workbench.job.choices import PrechargeRule
from workbench.study.live.view import kept_tank


class TankPage(Page):
    """The tank stays the one that is shown; the precharge's row stands only where it is typed."""

    def along(self, name: str) -> Mapping[str, Any]:
        """The tank stays the one that is shown, whatever is turned."""
        results = self.store.results
        return {} if results is None else kept_tank(results, name)

    def arrange_inputs(self) -> None:
        """The precharge stands there only where it is typed."""
        is_typed = self.store.job.precharge_rule is PrechargeRule.TYPED
        self.inputs.set_row_visible("precharge", is_typed, instead="precharge_rule")
