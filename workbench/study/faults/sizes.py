"""How far a fault has gone, in words."""

from __future__ import annotations

from workbench.job.teach_choices import Degree, Fault
from workbench.study.faults import made
from workbench.study.live.rig import Rig
from workbench.units import FLOW, PERCENT, PRESSURE, SHORT_TIME, VOLUME, Display
from workbench.words import tr


def size_in_words(rig: Rig, fault: Fault, degree: Degree, display: Display) -> str:
    """The size of a fault in this degree in a sound rig, as a sentence.

    Raises:
        ValueError: as :func:`made.with_fault`.
    """
    if fault is Fault.NONE:
        return tr("Nothing is wrong.")
    faulty = made.with_fault(rig, fault, degree)
    if fault in _OF_SWITCH:
        return _OF_SWITCH[fault](degree, display)
    return _OF_RIG[fault](rig, faulty, degree, display)


def _lost(rig: Rig, faulty: Rig, _degree: Degree, display: Display) -> str:
    right, left = rig.system.precharge, faulty.system.precharge
    return tr(
        "{lost} of the {right} precharge are gone; {left} are left, and stay.",
        lost=display.text(right - left, PRESSURE),
        right=display.text(right, PRESSURE),
        left=display.text(left, PRESSURE),
    )


def _leaking(rig: Rig, faulty: Rig, degree: Degree, display: Display) -> str:
    right, left = rig.system.precharge, faulty.system.precharge
    return tr(
        "The air valve loses {a_day} a day. In {days} days {lost} of the {right} precharge have"
        " gone; {left} are left.",
        a_day=display.text(faulty.charge_loss, PRESSURE),
        days=made.LEAKS[degree].days,
        lost=display.text(right - left, PRESSURE),
        right=display.text(right, PRESSURE),
        left=display.text(left, PRESSURE),
    )


def _holed(rig: Rig, faulty: Rig, _degree: Degree, display: Display) -> str:
    return tr(
        "{water}, {share} of the tank, lie above the membrane, and {air} of the air has dissolved"
        " in it: {left} of precharge are left.",
        water=display.text(faulty.water_above, VOLUME),
        share=display.text(faulty.water_above / rig.system.volume, PERCENT),
        air=display.text(1.0 - made.air_left(rig, faulty), PERCENT),
        left=display.text(faulty.system.precharge, PRESSURE),
    )


def _running_back(_rig: Rig, faulty: Rig, _degree: Degree, display: Display) -> str:
    return tr(
        "{flow} runs back into the well while the pump rests.",
        flow=display.text(faulty.system.back_flow, FLOW),
    )


def _worn(rig: Rig, faulty: Rig, degree: Degree, display: Display) -> str:
    if rig.system.delivery.is_constant:
        return tr(
            "It gives {flow}, {share} less than when it was sound.",
            flow=display.text(faulty.system.delivery.highest_flow, FLOW),
            share=display.text(1.0 - made.FLOWS[degree], PERCENT),
        )
    speed = made.SPEEDS[degree]
    sentence = tr(
        "It gives {flow} less flow, and {head} less pressure, as if it turned at {speed} of its"
        " speed (affinity laws).",
        flow=display.text(1.0 - speed, PERCENT),
        head=display.text(1.0 - speed**2, PERCENT),
        speed=display.text(speed, PERCENT),
    )
    most = faulty.system.delivery.shut_off
    if most is None or most > faulty.system.cut_out:
        return sentence
    stalls = tr(
        "It reaches {most} and no more: cut-out, {cut_out}, never comes.",
        most=display.text(most, PRESSURE),
        cut_out=display.text(faulty.system.cut_out, PRESSURE),
    )
    return f"{sentence} {stalls}"


def _of_old_band(rig: Rig, faulty: Rig, _degree: Degree, display: Display) -> str:
    system, away = rig.system, faulty.system.precharge - rig.system.precharge
    band = tr(
        "{low}/{high}",
        low=display.number(system.cut_in + away, PRESSURE, 0),
        high=display.number(system.cut_out + away, PRESSURE, 0),
    )
    return tr(
        "The air is still set for {band} {unit}: {charge} in place of {right}.",
        band=band,
        unit=display.symbol(PRESSURE),
        charge=display.text(faulty.system.precharge, PRESSURE),
        right=display.text(system.precharge, PRESSURE),
    )


def _drifted(degree: Degree, display: Display) -> str:
    low, high = made.DRIFTS[degree]
    if low and high:
        return tr(
            "Both contacts now act {shift} lower than they were set.",
            shift=display.text(-low, PRESSURE),
        )
    if low:
        return tr(
            "The pump now starts {shift} lower than was set; cut-out has stayed.",
            shift=display.text(-low, PRESSURE),
        )
    return tr(
        "The pump now stops {shift} higher than was set; cut-in has stayed.",
        shift=display.text(high, PRESSURE),
    )


def _plugged(degree: Degree, display: Display) -> str:
    return tr(
        "The switch feels a change late: {lag} after it, it has felt about two thirds of it.",
        lag=display.text(made.LAGS[degree], SHORT_TIME),
    )


_OF_SWITCH = {Fault.SWITCH_DRIFT: _drifted, Fault.PLUGGED_NIPPLE: _plugged}
_OF_RIG = {
    Fault.LOST_CHARGE: _lost,
    Fault.AIR_LEAK: _leaking,
    Fault.PINHOLE: _holed,
    Fault.CHECK_VALVE: _running_back,
    Fault.WORN_PUMP: _worn,
    Fault.OLD_PRECHARGE: _of_old_band,
}
