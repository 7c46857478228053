"""A system as it is, beside the setting that it should have."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.physics.system import System
from workbench.study.setting import Setting


@dataclass(frozen=True, eq=False)
class Rig:
    """What is set in motion.

    ``setting`` is what should be: the band as it was set, the right precharge. ``system`` is what
    is. ``water_above`` [m³] lies above the membrane, where it has a hole; the system's volume is
    already less by it. ``charge_loss`` [Pa] of precharge is lost at each start of the pump, where
    the air leaks (each start then stands for a day).
    """

    system: System
    setting: Setting
    tank_name: str
    water_above: float = 0.0
    charge_loss: float = 0.0
