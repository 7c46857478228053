"""What a search comes to: the answers with all that belongs to them, or why there is none."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np

from workbench.physics.forgiving import SAME
from workbench.physics.tank import water_in_tank
from workbench.study.setting import Setting, pressures
from workbench.study.solve.known import Known
from workbench.study.solve.relation import Limit, unit_drawdown


class Cause(Enum):
    """Why there is no answer, or another one than was looked for."""

    TOO_LITTLE = "too_little"
    TOO_MUCH = "too_much"
    NO_RANGE = "no_range"
    FILL_UNKNOWN = "fill_unknown"
    FLOW_IS_KNOWN = "flow_is_known"


@dataclass(frozen=True, slots=True)
class Why:
    """Why there is none (SI): the best run, or the least one, where it is, and what ends there.

    ``water``: drawdown there; ``needed``: the one that the asked run needs, None where the flow
    falls with the pressure, so that it hangs on the band.
    """

    cause: Cause
    at: float | None = None
    run: float | None = None
    water: float | None = None
    needed: float | None = None
    limit: Limit = Limit.NONE


@dataclass(frozen=True, slots=True)
class Solution:
    """One value (SI) of what is looked for, and the tank with it.

    ``held`` is the water in the tank at cut-out [m³], as much as the membrane must let in;
    ``margin`` [Pa] of the pump's shut-off over cut-out is None where it is not known.
    ``is_usual``: the one that one would set.
    """

    value: float
    setting: Setting
    volume: float
    run: float
    drawdown: float
    held: float
    margin: float | None
    is_usual: bool = False

    @property
    def flow(self) -> float:
        """Drawdown over run [m³/s]."""
        return self.drawdown / self.run

    @property
    def gap(self) -> float:
        """Pressure [Pa] between the emptying of the tank and the start of the pump; 0 if none."""
        gap = self.setting.precharge - self.setting.cut_in
        return gap if gap > SAME * self.setting.precharge else 0.0


def solution(known: Known, value: float, volume: float, run: float) -> Solution:
    """A value of what is looked for, with the tank's volume [m³] and its run [s]."""
    setting = known.setting_at(value)
    precharge, _, cut_out = pressures(setting)
    shut_off = None if known.delivery is None else known.delivery.shut_off
    return Solution(
        value=value,
        setting=setting,
        volume=volume,
        run=run,
        drawdown=volume * unit_drawdown(setting),
        held=float(water_in_tank(cut_out, precharge, volume, np.inf, setting.exponent)),
        margin=None if shut_off is None else shut_off - setting.cut_out,
    )
