"""What is said of faults: their sizes, what gauge, ear and tap tell, remedies and cautions."""

from __future__ import annotations

import pytest

from tests.study.build import COMMA, GAL, US
from tests.study.rigs import TAP, pumps, rig
from workbench.job.teach_choices import Degree, Fault
from workbench.study.faults.made import with_fault
from workbench.study.faults.remedies import cautions, remedy
from workbench.study.faults.sizes import size_in_words
from workbench.study.faults.symptoms import symptoms


@pytest.mark.parametrize("fault", Fault)
@pytest.mark.parametrize("degree", Degree)
def test_the_size_is_told_in_the_shown_units(fault: Fault, degree: Degree) -> None:
    told = {display: size_in_words(rig(), fault, degree, display) for display in (US, COMMA)}
    for text in told.values():
        assert text.endswith(".")
        assert "{" not in text
    assert "kPa" not in told[US]
    assert "psi" not in told[COMMA]
    assert "gpm" not in told[COMMA]


def test_sizes_have_the_figures_of_the_rig() -> None:
    sound = rig(85)
    for fault, parts in (
        (Fault.LOST_CHARGE, ("14.0 psi of the 28.0 psi", "14.0 psi are left")),
        (Fault.AIR_LEAK, ("1.1 psi a day", "In 12 days 13.4 psi", "14.6 psi are left")),
        (Fault.PINHOLE, ("25.5 gal", "30 %", "51 %", "15.4 psi")),
        (Fault.SWITCH_DRIFT, ("stops 8.0 psi higher",)),
        (Fault.PLUGGED_NIPPLE, ("45 s",)),
        (Fault.CHECK_VALVE, ("0.5 gpm",)),
        (Fault.WORN_PUMP, ("6.5 gpm", "35 %")),
        (Fault.OLD_PRECHARGE, ("40/60 psi", "38.0 psi in place of 28.0 psi")),
    ):
        told = size_in_words(sound, fault, Degree.CLEAR, US)
        for part in parts:
            assert part in told, (part, told)
    falling = rig(85, 30, 50, pumps(30, 50)["two flows"])
    assert "42.2 psi and no more" in size_in_words(falling, Fault.WORN_PUMP, Degree.SEVERE, US)
    assert "no more" not in size_in_words(falling, Fault.WORN_PUMP, Degree.SLIGHT, US)


def test_gauge_ear_and_tap_tell_the_run() -> None:
    sound = rig(85, 30, 50, pumps(30, 50)["two flows"])

    def told(fault: Fault, degree: Degree, tap: float = TAP) -> tuple[str, str, str]:
        found = symptoms(sound, with_fault(sound, fault, degree), tap, US)
        return found.gauge, found.ear, found.tap

    gauge, ear, tap = told(Fault.NONE, Degree.CLEAR)
    assert "starts at 30.0 psi and stops at 50.0 psi" in gauge
    assert "stands still" in gauge
    assert "sound" not in gauge + ear + tap
    assert "without a break" in tap
    assert "25.1 gal" in tap
    gauge, ear, _ = told(Fault.WORN_PUMP, Degree.SEVERE)
    assert "climbs to 42.2 psi and stands there" in gauge
    assert "does not stop" in ear
    assert "still runs" in ear
    gauge, ear, tap = told(Fault.OLD_PRECHARGE, Degree.CLEAR)
    assert "to 38.0 psi and then drops at once" in gauge
    assert "stops for 0.8 s" in tap
    gauge, ear, _ = told(Fault.CHECK_VALVE, Degree.SEVERE)
    assert "falls by 17.0 psi in ten minutes" in gauge
    assert "starts 4 times in an hour" in ear
    assert "once in an hour" in told(Fault.CHECK_VALVE, Degree.CLEAR)[1]
    assert "dull up to" in told(Fault.PINHOLE, Degree.CLEAR)[1]
    _, ear, tap = told(Fault.NONE, Degree.CLEAR, 0.0)
    assert tap.startswith("Nothing is drawn")
    assert "gpm" not in ear
    small = rig(20)
    late = symptoms(small, with_fault(small, Fault.PLUGGED_NIPPLE, Degree.SEVERE), TAP, US)
    assert "At 75.0 psi the relief valve opens" in late.gauge
    full = rig(60, acceptance=20 * GAL)
    under = symptoms(full, with_fault(full, Fault.LOST_CHARGE, Degree.CLEAR), TAP, US)
    assert "membrane is at its limit" in under.gauge
    assert "starts every" in under.ear
    assert " s " in under.ear


@pytest.mark.parametrize("fault", Fault)
def test_each_fault_has_a_remedy_that_names_the_right_setting(fault: Fault) -> None:
    found = remedy(fault, rig(), US)
    assert found.text
    assert bool(found.source) == (fault is not Fault.NONE)
    if fault in (Fault.LOST_CHARGE, Fault.AIR_LEAK, Fault.OLD_PRECHARGE):
        assert "28.0 psi" in found.text
    if fault is Fault.SWITCH_DRIFT:
        assert "30.0 psi and 50.0 psi" in found.text


def test_the_cautions_come_in_the_order_of_the_work() -> None:
    texts = [one.text for one in cautions()]
    for text, part in zip(texts, ("Power off", "zero", "marked", "8.34", "Local codes"),
                          strict=True):  # fmt: skip
        assert part in text
