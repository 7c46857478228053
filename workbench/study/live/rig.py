"""A system as it is, beside the setting that it should have."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

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

    def is_like(self, other: Rig) -> bool:
        """Whether nothing that happens or is said would be another one with the other rig.

        What a pump gives is compared as it acts, whatever it was made of.
        """
        if self is other:
            return True
        own, system, theirs = _told(self), self.system, other.system
        if own != _told(other) or not _has_same(system, theirs):
            return False
        if system.delivery == theirs.delivery:
            return True
        return np.array_equal(system.fill.water, theirs.fill.water) and np.array_equal(
            system.fill.flow, theirs.fill.flow
        )


def _told(rig: Rig) -> tuple[object, ...]:
    return rig.setting, rig.tank_name, rig.water_above, rig.charge_loss


def _has_same(system: System, other: System) -> bool:
    """Whether all but what the pump gives is the same."""
    return all(
        getattr(system, field.name) == getattr(other, field.name)
        for field in fields(System)
        if field.name != "delivery"
    )
