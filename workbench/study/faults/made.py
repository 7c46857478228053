"""A fault put into a sound rig: what changes, and by how much.

Every size is our own choice for teaching, in three degrees, and is always told beside the fault.
A share of nil gives back the sound rig.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from workbench.job.teach_choices import Degree, Fault
from workbench.study.faults.scaled import Scaled
from workbench.study.live.rig import Rig
from workbench.units import FLOW, PRESSURE
from workbench.words import tr

_PSI = PRESSURE.units["psi"].factor
_GPM = FLOW.units["gpm"].factor
DAY = 86_400.0
"""Seconds of a day."""


@dataclass(frozen=True, slots=True)
class Leak:
    """A slow leak of air: the share of the precharge lost in a day [-], and for how many days."""

    a_day: float
    days: int


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole in the membrane: share of the tank that is water above it, of the gauge precharge
    that is gone [-].
    """

    water: float
    charge: float


LOST = {Degree.SLIGHT: 0.2, Degree.CLEAR: 0.5, Degree.SEVERE: 0.9}
"""Share of the precharge (gauge) that is gone [-]."""
LEAKS = {
    Degree.SLIGHT: Leak(0.02, 10),
    Degree.CLEAR: Leak(0.04, 12),
    Degree.SEVERE: Leak(0.09, 9),
}
HOLES = {
    Degree.SLIGHT: Hole(0.12, 0.15),
    Degree.CLEAR: Hole(0.3, 0.45),
    Degree.SEVERE: Hole(0.6, 0.85),
}
DRIFTS = {
    Degree.SLIGHT: (-4.0 * _PSI, 0.0),
    Degree.CLEAR: (0.0, 8.0 * _PSI),
    Degree.SEVERE: (-10.0 * _PSI, -10.0 * _PSI),
}
"""By how much cut-in and cut-out have moved [Pa]: one of them, the other, both."""
LAGS = {Degree.SLIGHT: 20.0, Degree.CLEAR: 45.0, Degree.SEVERE: 120.0}
"""Time constant [s] with which the switch feels the pressure through its nipple."""
BACK_FLOWS = {Degree.SLIGHT: 0.2 * _GPM, Degree.CLEAR: 0.5 * _GPM, Degree.SEVERE: 2.0 * _GPM}
"""What runs back into the well while the pump rests [m³/s]."""
SPEEDS = {Degree.SLIGHT: 0.96, Degree.CLEAR: 0.9, Degree.SEVERE: 0.8}
"""A worn pump with a falling flow gives what it gave at this share of its speed [-]."""
FLOWS = {Degree.SLIGHT: 0.85, Degree.CLEAR: 0.65, Degree.SEVERE: 0.4}
"""A worn pump of which one flow alone is known gives this share of it [-]."""
OLD_BANDS = {Degree.SLIGHT: -10.0 * _PSI, Degree.CLEAR: 10.0 * _PSI, Degree.SEVERE: 20.0 * _PSI}
"""How far the band that the precharge was set for lies above the present one [Pa]."""


def with_fault(rig: Rig, fault: Fault, degree: Degree, share: float = 1.0) -> Rig:
    """The rig with a fault in it.

    Args:
        rig: a sound one.
        share: of the fault's full size in this degree [-]; 0 gives a sound rig.

    Raises:
        ValueError: a share below zero; or a fault that this rig cannot have, with the reason.
    """
    if not 0.0 <= share < math.inf:
        raise ValueError("the share of a fault must be zero or above")
    if fault is Fault.NONE:
        return rig
    return _MAKERS[fault](rig, degree, share)


def _lost(rig: Rig, degree: Degree, share: float) -> Rig:
    return _charged(rig, _charge(rig) * (1.0 - LOST[degree] * share))


def _leaking(rig: Rig, degree: Degree, share: float) -> Rig:
    leak, charge = LEAKS[degree], _charge(rig)
    left = _charged(rig, charge * (1.0 - leak.a_day * leak.days * share))
    return replace(left, charge_loss=charge * leak.a_day * share)


def _holed(rig: Rig, degree: Degree, share: float) -> Rig:
    hole, charge, volume = HOLES[degree], _charge(rig), rig.system.volume
    above = volume * hole.water * share
    left = charge * (1.0 - hole.charge * share)
    return replace(
        rig,
        system=replace(rig.system, volume=volume - above, precharge=left),
        water_above=above,
    )


def _drifted(rig: Rig, degree: Degree, share: float) -> Rig:
    low, high = DRIFTS[degree]
    cut_in, cut_out = rig.system.cut_in + low * share, rig.system.cut_out + high * share
    if not 0.0 < cut_in < cut_out:
        raise ValueError(tr("at so low a band the switch cannot drift so far"))
    if cut_out >= rig.system.relief:
        raise ValueError(tr("the relief valve would open before so high a cut-out"))
    return replace(rig, system=replace(rig.system, cut_in=cut_in, cut_out=cut_out))


def _plugged(rig: Rig, degree: Degree, share: float) -> Rig:
    return replace(rig, system=replace(rig.system, sensing_lag=LAGS[degree] * share))


def _running_back(rig: Rig, degree: Degree, share: float) -> Rig:
    return replace(rig, system=replace(rig.system, back_flow=BACK_FLOWS[degree] * share))


def _worn(rig: Rig, degree: Degree, share: float) -> Rig:
    delivery = rig.system.delivery
    if share == 0.0:
        return rig
    if delivery.is_constant:
        worn = Scaled(delivery, 1.0 - (1.0 - FLOWS[degree]) * share, 1.0)
    else:
        speed = 1.0 - (1.0 - SPEEDS[degree]) * share
        worn = Scaled(delivery, speed, speed**2)
    return replace(rig, system=replace(rig.system, delivery=worn))


def _of_old_band(rig: Rig, degree: Degree, share: float) -> Rig:
    charge = rig.system.precharge + OLD_BANDS[degree] * share
    if charge < 0.0:
        raise ValueError(tr("no usual band lies so far below this one"))
    return _charged(rig, charge)


def _charge(rig: Rig) -> float:
    if rig.system.precharge <= 0.0:
        raise ValueError(tr("there is no precharge that could be lost"))
    return rig.system.precharge


def _charged(rig: Rig, precharge: float) -> Rig:
    return replace(rig, system=replace(rig.system, precharge=precharge))


_MAKERS: dict[Fault, Callable[[Rig, Degree, float], Rig]] = {
    Fault.LOST_CHARGE: _lost,
    Fault.AIR_LEAK: _leaking,
    Fault.PINHOLE: _holed,
    Fault.SWITCH_DRIFT: _drifted,
    Fault.PLUGGED_NIPPLE: _plugged,
    Fault.CHECK_VALVE: _running_back,
    Fault.WORN_PUMP: _worn,
    Fault.OLD_PRECHARGE: _of_old_band,
}


def air_left(rig: Rig, faulty: Rig) -> float:
    """The share of a sound rig's air, by its amount, that a faulty one still has [-].

    Both drained: P · V at one temperature (Boyle's law).
    """
    before = (rig.system.precharge + rig.system.ambient) * rig.system.volume
    after = (faulty.system.precharge + faulty.system.ambient) * faulty.system.volume
    return after / before


_OF_SYSTEM = ("volume", "precharge", "cut_in", "cut_out", "back_flow", "sensing_lag")
_OF_RIG = ("water_above", "charge_loss")


def touched(rig: Rig, faulty: Rig) -> frozenset[tuple[str, bool]]:
    """The quantities that a fault has changed, by their names, each with whether it has risen.

    Two faults that touch the same differ in size alone: of one size nothing at the system tells
    them apart.
    """
    pairs = [
        *((name, getattr(rig.system, name), getattr(faulty.system, name)) for name in _OF_SYSTEM),
        *((name, getattr(rig, name), getattr(faulty, name)) for name in _OF_RIG),
    ]
    changed = {(name, after > before) for name, before, after in pairs if after != before}
    if faulty.system.delivery is not rig.system.delivery:
        changed.add(("delivery", False))
    return frozenset(changed)
