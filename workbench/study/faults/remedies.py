"""What mends a fault, where that is written, and the usual cautions at a tank."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from workbench.job.teach_choices import Fault
from workbench.study.live.rig import Rig
from workbench.units import PRESSURE, Display
from workbench.words import tr


@dataclass(frozen=True, slots=True)
class Remedy:
    """What to do, and the source of it."""

    text: str
    source: str


def remedy(fault: Fault, rig: Rig, display: Display) -> Remedy:
    """What mends a fault at a rig whose setting says how it should be."""
    if fault is Fault.NONE:
        return Remedy(tr("Nothing needs mending."), "")
    return _REMEDIES[fault](rig, display)


def cautions() -> tuple[Remedy, ...]:
    """What goes before all work at tank, switch or pump, in this order."""
    return (
        Remedy(
            tr("Power off at the breaker, locked and tagged; prove the switch dead with a meter"
               " that was proven before and after."),
            tr("29 CFR 1910.147(d), United States"),
        ),
        Remedy(
            tr("Drain; gauge at zero, and an open tap that gives nothing. Only then read, set or"
               " let out air, or open anything."),
            tr("29 CFR 1910.147(d)(5), United States: stored energy is relieved first"),
        ),
        Remedy(
            tr("Never above the working pressure marked on the tank; a relief valve present, and"
               " nothing that can be shut between it and the tank."),
            tr("International Plumbing Code, section 606.5.10 (from memory)"),
        ),
        Remedy(
            full_weight(),
            tr("common practice"),
        ),
        Remedy(
            tr("Local codes, the equipment's own instructions and licensed practice go first. Work"
               " on the pump or in the well needs a licence in many places."),
            "",
        ),
    )  # fmt: skip


def full_weight() -> str:
    """What a tank full of water weighs."""
    return tr("A waterlogged tank weighs 8.34 lb a gallon (1 kg a litre) and its own shell.")


def _doh() -> str:
    return tr(
        "Washington State Department of Health 331-342, “Troubleshooting Bladder Pressure Tanks”,"
        " November 2010"
    )


def _set_air(rig: Rig, display: Display) -> str:
    return tr(
        "With the tank drained set the air to {charge}, then watch one whole cycle.",
        charge=display.text(rig.setting.precharge, PRESSURE),
    )


def _lost(rig: Rig, display: Display) -> Remedy:
    again = tr("Read it again, drained, a day later: if it has not held, look for the leak.")
    return Remedy(f"{_set_air(rig, display)} {again}", _doh())


def _leaking(rig: Rig, display: Display) -> Remedy:
    valve = tr(
        "Renew the core of the air valve and its cap, and soap it again. A leak in the shell or at"
        " a seam means another tank."
    )
    return Remedy(f"{valve} {_set_air(rig, display)}", _doh())


def _holed(_rig: Rig, _display: Display) -> Remedy:
    return Remedy(
        tr(
            "Replace the tank, or the membrane where the vessel is made for it. More air does not"
            " mend it: it dissolves again."
        ),
        _doh(),
    )


def _drifted(rig: Rig, display: Display) -> Remedy:
    return Remedy(
        tr(
            "Hold a second gauge against the first, for a gauge may err too. Then set the switch"
            " back to {low} and {high}, power off while the cover is open; renew a switch whose"
            " springs do not hold.",
            low=display.text(rig.setting.cut_in, PRESSURE),
            high=display.text(rig.setting.cut_out, PRESSURE),
        ),
        tr("common practice, no source"),
    )


def _plugged(_rig: Rig, _display: Display) -> Remedy:
    return Remedy(
        tr(
            "Where the gauge stands above cut-out and the pump still runs: power off at once."
            " Drained and at zero, take the nipple off and clean or renew it; keep it short, at"
            " the tank's tee."
        ),
        tr("common practice, no source"),
    )


def _running_back(_rig: Rig, _display: Display) -> Remedy:
    return Remedy(
        tr(
            "Shut the house valve: if the gauge still falls the leak is on the well's side, at"
            " check valve or drop pipe. Renewing that is the pump contractor's work. A second"
            " check valve above ground hides it and mends nothing."
        ),
        tr("The Private Well Class, help note on a system that loses pressure"),
    )


def _worn(_rig: Rig, _display: Display) -> Remedy:
    return Remedy(
        tr(
            "First the voltage, the water level and a leak below ground, which look the same. Then"
            " a lower band, or another pump. A pump that never reaches cut-out is switched off"
            " until then."
        ),
        tr("common practice, no source"),
    )


def _of_old_band(rig: Rig, display: Display) -> Remedy:
    return Remedy(
        tr(
            "{set} Mark the band and the precharge on the tank, with the date.",
            set=_set_air(rig, display),
        ),
        _doh(),
    )


_REMEDIES: dict[Fault, Callable[[Rig, Display], Remedy]] = {
    Fault.LOST_CHARGE: _lost,
    Fault.AIR_LEAK: _leaking,
    Fault.PINHOLE: _holed,
    Fault.SWITCH_DRIFT: _drifted,
    Fault.PLUGGED_NIPPLE: _plugged,
    Fault.CHECK_VALVE: _running_back,
    Fault.WORN_PUMP: _worn,
    Fault.OLD_PRECHARGE: _of_old_band,
}
