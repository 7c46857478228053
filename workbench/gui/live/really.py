"""What is not as it was set: contacts that have drifted, a charge that is lost or moved."""

from __future__ import annotations

from PySide6.QtGui import QPen

from workbench.gui.live.sketch import LINE, pen
from workbench.gui.theme import Theme
from workbench.study.live.rig import Rig
from workbench.units import PRESSURE, Display

PRESSURES = ("precharge", "cut_in", "cut_out")
"""The entries that are marked on dial, trace and path."""
_DASH = (3.0, 1.5, 1.0, 1.5)


def really(rig: Rig, display: Display) -> dict[str, float]:
    """The gauge pressures [Pa] that differ from their setting in the figures that are shown."""
    return {
        entry: getattr(rig.system, entry)
        for entry in PRESSURES
        if display.text(getattr(rig.system, entry), PRESSURE)
        != display.text(getattr(rig.setting, entry), PRESSURE)
    }


def real_pen(look: Theme, width: float = LINE) -> QPen:
    """The pen of what really is, which no other line has."""
    return pen(look.stop, width, _DASH)
