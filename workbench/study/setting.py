"""How switch and tank are set."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from workbench.physics.air import AbsolutePressure, absolute, gauge_pressure


@dataclass(frozen=True, slots=True)
class Setting:
    """How switch and tank are set: gauge pressures [Pa], ambient [Pa abs], exponent [-]."""

    cut_in: float
    cut_out: float
    precharge: float
    ambient: float
    exponent: float

    @property
    def below_cut_in(self) -> float:
        """Distance of the precharge under cut-in [Pa]; negative when it lies above."""
        return self.cut_in - self.precharge


def pressures(setting: Setting) -> tuple[AbsolutePressure, AbsolutePressure, AbsolutePressure]:
    """Precharge, cut-in and cut-out of a setting in absolute pressure [Pa]."""
    ambient = AbsolutePressure(np.asarray(setting.ambient))
    precharge, cut_in, cut_out = (
        absolute(gauge_pressure(value), ambient)
        for value in (setting.precharge, setting.cut_in, setting.cut_out)
    )
    return precharge, cut_in, cut_out
