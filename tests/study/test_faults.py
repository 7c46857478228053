"""Faults set loose: what they change, what can be read of them, and which of them look the same."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from tests.study.build import GAL, GPM, PSI, results, tank
from tests.study.rigs import BANDS, TAP, TOOLS, curve, pumps, read, rig, value
from workbench.job.teach_choices import Degree, Fault
from workbench.physics.air import gauge_pressure
from workbench.physics.pump import ConstantFlow, TwoFlows
from workbench.study.faults.apart import other
from workbench.study.faults.made import (
    HOLES,
    LEAKS,
    air_left,
    touched,
    with_fault,
)
from workbench.study.faults.readings import readings, take, tells_apart
from workbench.study.faults.scaled import Scaled
from workbench.study.faults.view import FaultsView
from workbench.study.live.rig import Rig

FAULTS = tuple(one for one in Fault if one is not Fault.NONE)


def view(*, tanks: bool = True, **entries: Any) -> FaultsView:
    return results(*((tank(),) if tanks else ()), **entries).faults


def differing(sound: Rig, faulty: Rig) -> Iterator[str]:
    for reading in readings():
        if tells_apart(take(sound, reading, TAP, TOOLS), take(faulty, reading, TAP, TOOLS)):
            yield reading.key


# --- what a fault changes ---


@pytest.mark.parametrize("fault", FAULTS)
@pytest.mark.parametrize("degree", Degree)
def test_a_fault_of_no_size_is_a_sound_system(fault: Fault, degree: Degree) -> None:
    for pump in pumps(30, 50).values():
        sound = rig(44, 30, 50, pump)
        none = with_fault(sound, fault, degree, 0.0)
        assert not touched(sound, none)
        for reading in readings():
            assert take(none, reading, TAP, TOOLS) == take(sound, reading, TAP, TOOLS)


@pytest.mark.parametrize("fault", FAULTS)
def test_hardly_any_of_a_fault_reads_hardly_differently(fault: Fault) -> None:
    sound = rig(44, 30, 50, pumps(30, 50)["two flows"])
    least = with_fault(sound, fault, Degree.SLIGHT, 2e-4)
    assert touched(sound, least)
    for key in ("cut_in", "cut_out", "drained", "refill", "flow", "cliff", "precharge", "dull"):
        assert value(least, key) == pytest.approx(value(sound, key), rel=5e-3), key


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_grows_with_its_share(fault: Fault) -> None:
    sound = rig()
    with pytest.raises(ValueError, match="share"):
        with_fault(sound, fault, Degree.SLIGHT, -0.1)
    half = with_fault(sound, fault, Degree.CLEAR, 0.5)
    assert touched(sound, half) == touched(sound, with_fault(sound, fault, Degree.CLEAR))


def test_each_fault_changes_what_it_is_called_after() -> None:
    sound = rig()
    expected = {
        Fault.LOST_CHARGE: {("precharge", False)},
        Fault.AIR_LEAK: {("precharge", False), ("charge_loss", True)},
        Fault.PINHOLE: {("precharge", False), ("volume", False), ("water_above", True)},
        Fault.SWITCH_DRIFT: {("cut_out", True)},
        Fault.PLUGGED_NIPPLE: {("sensing_lag", True)},
        Fault.CHECK_VALVE: {("back_flow", True)},
        Fault.WORN_PUMP: {("delivery", False)},
        Fault.OLD_PRECHARGE: {("precharge", True)},
    }
    assert set(expected) == set(FAULTS)
    for fault, changes in expected.items():
        assert touched(sound, with_fault(sound, fault, Degree.CLEAR)) == changes
    assert with_fault(sound, Fault.NONE, Degree.SEVERE) is sound
    both = touched(sound, with_fault(sound, Fault.SWITCH_DRIFT, Degree.SEVERE))
    assert both == {("cut_in", False), ("cut_out", False)}
    assert touched(sound, with_fault(sound, Fault.SWITCH_DRIFT, Degree.SLIGHT)) == {
        ("cut_in", False)
    }


def test_a_leak_has_lost_as_much_as_its_days_say() -> None:
    for degree, leak in LEAKS.items():
        leaking = with_fault(rig(), Fault.AIR_LEAK, degree)
        assert leaking.charge_loss / PSI == pytest.approx(28 * leak.a_day)
        gone = 28 * PSI - leaking.system.precharge
        assert gone == pytest.approx(leak.days * leaking.charge_loss)
        assert leaking.system.precharge > 0


def test_a_hole_lets_water_in_and_air_dissolve() -> None:
    # What is left of the air, P · V by amount: Boyle's law with the tank drained.
    for degree, hole in HOLES.items():
        sound = rig(85)
        holed = with_fault(sound, Fault.PINHOLE, degree)
        assert holed.water_above + holed.system.volume == pytest.approx(85 * GAL)
        left = (28 * (1 - hole.charge) + 14.7) * (1 - hole.water) / (28 + 14.7)
        assert air_left(sound, holed) == pytest.approx(left)
        assert 0.0 < left < 1.0


def test_a_worn_pump_keeps_the_affinity_laws() -> None:
    # Q ~ n, H ~ n²: worked, 1750 to 3500 rpm: 100 gpm at 100 ft become 200 gpm at 400 ft.
    inner = TwoFlows.of(30 * PSI, 12 * GPM, 50 * PSI, 8 * GPM)
    twice = Scaled(inner, 2.0, 4.0)
    assert float(twice.flow(gauge_pressure(200 * PSI))) == pytest.approx(16 * GPM)
    assert float(twice.pressure(24 * GPM)) == pytest.approx(120 * PSI)
    worn = with_fault(rig(44, 30, 50, curve()), Fault.WORN_PUMP, Degree.CLEAR).system.delivery
    flows = np.linspace(1.0, 17.0, 9) * GPM
    assert np.asarray(worn.pressure(flows * 0.9)) == pytest.approx(
        np.asarray(curve().pressure(flows)) * 0.81
    )
    assert np.asarray(worn.flow(worn.pressure(flows))) == pytest.approx(flows)
    assert worn.knots == pytest.approx(curve().knots * 0.9)
    assert worn.shut_off == pytest.approx((curve().shut_off or 0.0) * 0.81)
    assert worn.lowest_flow == 0.0
    assert worn.highest_flow == pytest.approx(18 * GPM)
    assert not worn.is_constant
    one = Scaled(ConstantFlow(10 * GPM), 0.4, 1.0)
    assert one.is_constant
    assert one.shut_off is None
    assert float(one.flow(gauge_pressure(1e5))) == pytest.approx(4 * GPM)
    with pytest.raises(ValueError, match="above zero"):
        Scaled(inner, 0.0, 1.0)


def test_a_fault_that_a_system_cannot_have_is_refused_with_a_reason() -> None:
    flat = with_fault(rig(44, 2.0, 22.0), Fault.NONE, Degree.CLEAR)  # no precharge at all
    for fault in (Fault.LOST_CHARGE, Fault.AIR_LEAK, Fault.PINHOLE):
        with pytest.raises(ValueError, match="no precharge"):
            with_fault(flat, fault, Degree.SLIGHT)
    with pytest.raises(ValueError, match="so far below"):
        with_fault(flat, Fault.OLD_PRECHARGE, Degree.SLIGHT)
    with pytest.raises(ValueError, match="so low a band"):
        with_fault(flat, Fault.SWITCH_DRIFT, Degree.SEVERE)
    tight = rig(44, 30, 50, relief=55 * PSI)
    with pytest.raises(ValueError, match="relief valve"):
        with_fault(tight, Fault.SWITCH_DRIFT, Degree.CLEAR)


# --- what can be read of a fault ---


@pytest.mark.parametrize("kind", ["constant", "two flows", "curve"])
@pytest.mark.parametrize("volume", [20, 85])
@pytest.mark.parametrize("band", BANDS)
def test_every_fault_is_seen_by_a_reading(kind: str, volume: float, band: tuple[int, int]) -> None:
    sound = rig(volume, *band, pumps(*band)[kind])
    unseen = [
        (fault.value, degree.value)
        for fault in FAULTS
        for degree in Degree
        if not any(differing(sound, with_fault(sound, fault, degree)))
    ]
    assert unseen == []


BY_ITS_OWN = {
    Fault.LOST_CHARGE: "precharge",
    Fault.AIR_LEAK: "soap",
    Fault.PINHOLE: "valve_water",
    Fault.CHECK_VALVE: "fall",
    Fault.WORN_PUMP: "refill",
    Fault.OLD_PRECHARGE: "precharge",
}


@pytest.mark.parametrize("fault", BY_ITS_OWN)
@pytest.mark.parametrize("degree", Degree)
def test_each_fault_is_seen_by_the_test_that_is_made_for_it(fault: Fault, degree: Degree) -> None:
    for band in BANDS:
        sound = rig(85, *band)
        assert BY_ITS_OWN[fault] in differing(sound, with_fault(sound, fault, degree))


def test_a_switch_is_seen_where_it_clicks() -> None:
    sound = rig(85)
    for fault, degree, expected in (
        (Fault.SWITCH_DRIFT, Degree.SLIGHT, {"cut_in"}),
        (Fault.SWITCH_DRIFT, Degree.CLEAR, {"cut_out"}),
        (Fault.SWITCH_DRIFT, Degree.SEVERE, {"cut_in", "cut_out"}),
        (Fault.PLUGGED_NIPPLE, Degree.SLIGHT, {"cut_out"}),
        (Fault.PLUGGED_NIPPLE, Degree.SEVERE, {"cut_in", "cut_out", "gap"}),
    ):
        found = set(differing(sound, with_fault(sound, fault, degree)))
        assert expected <= found, (fault, degree)
        assert not found & {"precharge", "soap", "valve_water", "fall", "left"}


ALIKE = {
    # Both lower the precharge and nothing else: only what was done to the switch tells.
    (Fault.LOST_CHARGE, Degree.SLIGHT, Fault.OLD_PRECHARGE),
    (Fault.LOST_CHARGE, Degree.CLEAR, Fault.OLD_PRECHARGE),
    (Fault.LOST_CHARGE, Degree.SEVERE, Fault.OLD_PRECHARGE),
    (Fault.OLD_PRECHARGE, Degree.SLIGHT, Fault.LOST_CHARGE),
    # The pump stops higher than was set, because of its spring or because it feels it late. A
    # somewhat plugged nipple at this tank hardly lowers the start.
    (Fault.SWITCH_DRIFT, Degree.CLEAR, Fault.PLUGGED_NIPPLE),
    # It refills slower: a pump that gives a little less, or a band that has moved up a little, by
    # less than the gauge tells.
    (Fault.WORN_PUMP, Degree.SLIGHT, Fault.SWITCH_DRIFT),
}
"""With a 44-gal tank at 30/50 and a falling pump or a constant one, and the usual tools."""
OF_FALLING = {(Fault.WORN_PUMP, Degree.SLIGHT, Fault.SWITCH_DRIFT)}
OF_CONSTANT = {(Fault.SWITCH_DRIFT, Degree.CLEAR, Fault.PLUGGED_NIPPLE)}


@pytest.mark.parametrize("kind", ["constant", "two flows"])
def test_which_faults_look_the_same(kind: str) -> None:
    sound = rig(44, 30, 50, pumps(30, 50)[kind])
    found = set()
    for fault in FAULTS:
        for degree in Degree:
            faulty = with_fault(sound, fault, degree)
            for another in Fault:
                one = other(sound, faulty, another, (TAP, TOOLS)) if another is not fault else None
                if one is not None and one.is_alike:
                    found.add((fault, degree, another))
    assert found == ALIKE - (OF_FALLING if kind == "constant" else OF_CONSTANT)


def test_what_tells_two_faults_apart_is_the_textbook_s_reading() -> None:
    sound = rig(85)
    for fault, another, key in (
        (Fault.LOST_CHARGE, Fault.AIR_LEAK, "soap"),
        (Fault.LOST_CHARGE, Fault.PINHOLE, "valve_water"),
        (Fault.SWITCH_DRIFT, Fault.WORN_PUMP, "cut_out"),
        (Fault.CHECK_VALVE, Fault.OLD_PRECHARGE, "fall"),
    ):
        one = other(sound, with_fault(sound, fault, Degree.CLEAR), another, (TAP, TOOLS))
        assert one is not None
        assert [reading.key for reading in one.by] == [key]
        assert one.minutes == one.by[0].minutes
        assert not one.is_alike


def test_a_reading_that_tells_apart_does_so_at_every_size_between() -> None:
    sound = rig(85)
    for fault, another in (
        (Fault.PINHOLE, Fault.LOST_CHARGE),
        (Fault.CHECK_VALVE, Fault.WORN_PUMP),
        (Fault.LOST_CHARGE, Fault.PINHOLE),
        (Fault.PLUGGED_NIPPLE, Fault.LOST_CHARGE),
    ):
        faulty = with_fault(sound, fault, Degree.CLEAR)
        one = other(sound, faulty, another, (TAP, TOOLS))
        assert one is not None
        for degree in Degree:
            for share in (0.3, 0.55, 0.8, 1.0):
                same = with_fault(sound, another, degree, share)
                assert any(tells_apart(read(faulty, r.key), read(same, r.key)) for r in one.by), (
                    fault,
                    another,
                    degree,
                    share,
                )


def test_two_readings_are_needed_where_one_is_not_enough() -> None:
    # The pump starts too late: by its spring, or because it feels the pressure late. In the one
    # case it stops where it should.
    sound = rig(85)
    drifted = with_fault(sound, Fault.SWITCH_DRIFT, Degree.SLIGHT)
    one = other(sound, drifted, Fault.PLUGGED_NIPPLE, (TAP, TOOLS))
    assert one is not None
    assert sorted(reading.key for reading in one.by) == ["cut_in", "cut_out"]


def test_a_sound_system_is_told_from_each_degree() -> None:
    sound = rig(85)
    for fault in FAULTS:
        one = other(sound, sound, fault, (TAP, TOOLS))
        assert one is not None
        assert one.by
        for degree in Degree:
            faulty = with_fault(sound, fault, degree)
            assert any(tells_apart(read(sound, r.key), read(faulty, r.key)) for r in one.by)


# --- the view ---


def test_the_view_holds_every_reading_at_both_systems() -> None:
    found = view(fault=Fault.PINHOLE, degree=Degree.CLEAR)
    assert [row.reading for row in found.rows] == list(readings())
    assert found.healthy is not None
    assert found.faulty is not None
    for row in found.rows:
        assert row.differs == tells_apart(row.healthy, row.faulty)
    keys = [row.reading.key for row in found.telling]
    assert {"precharge", "valve_water", "left", "drained"} <= set(keys)
    assert {one.fault for one in found.others} == set(Fault) - {Fault.PINHOLE}
    assert found.others is found.others
    assert found.alike == ()
    assert found.work_out(lambda share: share < 0.4) is None
    assert results(tank(), fault=Fault.PINHOLE).faults.faulty is not None


def test_without_a_fault_nothing_differs() -> None:
    found = view()
    assert found.fault is Fault.NONE
    assert found.faulty is found.healthy
    assert found.telling == ()
    assert not found.findings


def test_what_cannot_be_shown_is_found() -> None:
    wanting = view(fault=Fault.SWITCH_DRIFT, degree=Degree.CLEAR, relief_setting="55 psi")
    assert [one.code for one in wanting.findings] == ["fault_impossible"]
    assert wanting.faulty is None
    assert wanting.rows == ()
    assert wanting.others == ()
    blunt = view(fault=Fault.WORN_PUMP, degree=Degree.SLIGHT, tol_watch="40 s",
                 tol_bucket="8 gal", steady_draw="0 gpm")  # fmt: skip
    assert [one.code for one in blunt.findings] == ["fault_unseen"]
    assert blunt.rows
    unread = view(fault=Fault.WORN_PUMP, tol_watch="soon")
    assert [one.code for one in unread.findings] == ["unread"]
    assert unread.rows == ()
    assert unread.faulty is not None
    missing = view(tanks=False)
    assert missing.healthy is None
    assert missing.why


def test_a_degree_that_this_system_cannot_have_is_left_out_of_the_others() -> None:
    found = view(cut_in="12 psi", cut_out="32 psi", fault=Fault.WORN_PUMP)
    assert found.healthy is not None
    with pytest.raises(ValueError, match="no usual band"):
        with_fault(found.healthy, Fault.OLD_PRECHARGE, Degree.SLIGHT, 1.1)
    flat = view(cut_in="2 psi", cut_out="22 psi", fault=Fault.WORN_PUMP)
    assert Fault.LOST_CHARGE not in {one.fault for one in flat.others}
    assert Fault.CHECK_VALVE in {one.fault for one in flat.others}
