"""The page "Pump and well": whether the pump reaches cut-out, and what it delivers there."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import GAL, GPM, INCH, PSI, results, tank
from workbench.job.pump_choices import MotorLimit, PipeMaterial, PipeSize, PumpEntry
from workbench.study.cycle.working import cycle_steps
from workbench.study.pump.view import PumpView
from workbench.study.pump.working import energy_text, power_text, pump_steps
from workbench.units import Display, System

FOOT = 0.3048
KWH = 3.6e6
CURVE = "0 gpm 262 ft\n5 gpm 250 ft\n10 gpm 210 ft\n15 gpm 140 ft"
WELL = {
    "pump_entry": PumpEntry.CURVE,
    "curve": CURVE,
    "water_level": "80 ft",
    "pipe_length": "120 ft",
}


def view(*tanks: object, **entries: object) -> PumpView:
    found = results(*tanks, **entries).pump  # type: ignore[arg-type]
    assert found is not None
    return found


def codes(found: PumpView) -> list[str]:
    return [finding.code for finding in found.findings]


def test_a_constant_flow_says_nothing_of_reach() -> None:
    found = view(pump_flow="10 gpm")
    assert (found.reaches, found.shut_off, found.margin, found.picture) == (None,) * 4
    assert found.at_cut_in is not None
    assert found.at_cut_out is not None
    assert found.at_cut_in.flow == found.at_cut_out.flow == pytest.approx(10 * GPM)
    assert found.mean_flow == pytest.approx(10 * GPM)
    assert found.at_cut_out.head is None


def test_a_timed_refill_is_a_constant_flow_too() -> None:
    found = view(pump_entry=PumpEntry.BUCKET, bucket_volume="12 gal", bucket_time="90 s")
    assert found.mean_flow == pytest.approx(8 * GPM)
    assert found.reaches is None


def test_two_flows_give_their_own_shut_off() -> None:
    # p0 = 30 + 20 × 144 / (144 − 64) = 66 psi, by hand.
    found = view(pump_entry=PumpEntry.TWO_FLOWS, flow_at_cut_in="12 gpm", flow_at_cut_out="8 gpm")
    assert found.shut_off == pytest.approx(66 * PSI)
    assert found.margin == pytest.approx(16 * PSI)
    assert found.reaches is True
    assert not found.small_margin
    assert found.at_cut_in is not None
    assert found.at_cut_in.flow == pytest.approx(12 * GPM)
    assert found.mean_flow is not None
    assert 8 * GPM < found.mean_flow < 12 * GPM
    assert found.picture is not None
    assert found.picture.in_pressure
    assert found.picture.points == pytest.approx(
        np.array([[12 * GPM, 30 * PSI], [8 * GPM, 50 * PSI]])
    )


def test_the_head_at_a_pressure_is_lift_and_pressure_and_friction() -> None:
    found = view(**WELL)
    for point in (found.at_cut_in, found.at_cut_out):
        assert point is not None
        assert point.head is not None
        assert point.head.friction is not None
        assert point.head.lift == pytest.approx(80 * FOOT)
        assert point.head.pressure / FOOT == pytest.approx(2.31 * point.pressure / PSI, rel=2e-3)
        parts = point.head.lift + point.head.pressure + point.head.friction
        assert point.head.total == pytest.approx(parts)
        assert found.curve is not None
        # where the pump works, its own head is what well, pipe and tank ask for
        assert float(found.curve.head(point.flow)) == pytest.approx(point.head.total)


def test_friction_and_velocity_at_ten_gpm_agree_with_the_published_ones() -> None:
    # Illinois Administrative Code, title 77, part 906, appendix A, exhibit I: schedule 40 plastic,
    # 1 in, 10 gpm, 5.50 ft in 100 ft at C 150; velocity 0.4085 × 10 / 1.049² = 3.71 ft/s.
    found = view(
        pump_flow="10 gpm",
        water_level="60 ft",
        pipe_length="100 ft",
        fittings="0 %",
        pipe_material=PipeMaterial.PLASTIC_40,
        pipe_roughness="150",
    )
    point = found.at_cut_out
    assert point is not None
    assert point.head is not None
    assert point.head.friction is not None
    assert point.head.friction / FOOT == pytest.approx(5.50, rel=0.01)
    assert point.velocity is not None
    assert point.velocity / FOOT == pytest.approx(3.71, abs=0.005)


def test_energy_is_that_of_the_textbooks_formula() -> None:
    # 0.003141 × 250 ft / 0.45 = 1.745 kWh for 1,000 gal (constants of the trade, by hand).
    bare = view(water_level="1 ft").at_cut_out
    assert bare is not None
    assert bare.head is not None
    lift = 250 * FOOT - bare.head.pressure
    found = view(water_level=f"{lift / FOOT} ft", pump_efficiency="45 %").at_cut_out
    assert found is not None
    assert found.energy is not None
    assert found.power is not None
    assert found.energy * 1000 * GAL / KWH == pytest.approx(1.745, rel=2e-3)
    assert found.power == pytest.approx(found.energy * found.flow)
    assert energy_text(found.energy, Display()) == "1.75 kWh per 1,000 gal"
    assert energy_text(found.energy, Display(System.METRIC, ",")) == "0,46 kWh per m³"
    assert power_text(found.power, Display()) == "1.05 kW"


def test_without_efficiency_or_pumping_level_no_energy_is_told() -> None:
    for entries in ({"water_level": "80 ft"}, {"pump_efficiency": "45 %"}):
        point = view(**entries).at_cut_out
        assert point is not None
        assert (point.power, point.energy) == (None, None)


def test_a_pump_that_does_not_reach_is_shown_with_its_shortfall() -> None:
    whole = results(cut_in="60 psi", cut_out="80 psi", **WELL)
    found = whole.pump
    assert found is not None
    assert found.reaches is False
    assert found.at_cut_out is None  # it never gets there
    assert found.margin is not None
    assert found.margin / PSI == pytest.approx((262 - 80) / 2.307 - 80, abs=0.02)
    assert found.mean_flow is None
    assert found.picture is not None
    assert found.picture.system_out is not None
    pump, asked = found.picture.height, found.picture.system_out
    assert np.all(asked > pump)  # the two curves do not meet
    assert [f.code for f in whole.findings].count("cannot_reach") == 1
    assert "cannot_reach" not in codes(found)


def test_a_small_margin_is_said_once() -> None:
    whole = results(cut_in="50 psi", cut_out="72 psi", **WELL)
    assert whole.pump is not None
    assert whole.pump.small_margin
    assert [f.code for f in whole.findings].count("reach_small") == 1
    assert codes(whole.pump) == []


def test_a_curve_that_begins_at_some_flow_tells_no_shut_off() -> None:
    whole = results(**(WELL | {"curve": CURVE.partition("\n")[2]}))
    assert whole.pump is not None
    assert whole.pump.shut_off is None
    assert whole.pump.margin is None
    assert whole.pump.reaches is True
    beyond = results(**(WELL | {"curve": CURVE.partition("\n")[2], "cut_out": "76 psi"}))
    assert beyond.pump is not None
    assert beyond.pump.reaches is None
    assert beyond.pump.at_cut_out is None


def test_the_picture_crosses_where_the_page_says() -> None:
    found = view(**WELL)
    picture = found.picture
    assert picture is not None
    for system, point in (
        (picture.system_in, found.at_cut_in),
        (picture.system_out, found.at_cut_out),
    ):
        assert system is not None
        assert point is not None
        assert point.head is not None
        gap = np.interp(point.flow, picture.flow, picture.height - system)
        assert gap == pytest.approx(0.0, abs=2e-3 * point.head.total)
    for flow, head in picture.points:
        assert picture.height[np.argmin(abs(picture.flow - flow))] == pytest.approx(head)


@pytest.mark.parametrize(("marked", "warns"), [(75.0, True), (78.0, True), (80.0, False)])
def test_a_pump_that_could_pass_the_tanks_marking_is_a_caution(marked: float, warns: bool) -> None:
    found = view(tank(max_working_pressure=marked), **WELL)  # shut-off 78.9 psi
    assert found.marked == pytest.approx(marked * PSI)
    assert codes(found) == (["over_pressure"] if warns else [])
    if warns:
        told = found.findings[0].sentence(Display())
        assert "78.9 psi" in told
        assert "606.5.10" in told


def test_of_two_tanks_the_lower_marking_counts_and_the_named_one_is_meant() -> None:
    strong, weak = tank("Strong"), tank("Weak", max_working_pressure=75.0)
    found = view(strong, weak, first_tank="weak", **WELL)
    assert found.tank is not None
    assert found.tank.tank.id == "weak"
    assert codes(found) == ["over_pressure"]
    assert codes(view(strong, weak, first_tank="strong", **WELL)) == []


@pytest.mark.parametrize(("given_yield", "warns"), [("13 gpm", True), ("14 gpm", False)])
def test_a_pump_that_takes_more_than_the_well_gives_is_a_caution(
    given_yield: str, warns: bool
) -> None:
    found = view(well_yield=given_yield, **WELL)  # 13.4 gpm at cut-in
    assert codes(found) == (["pump_above_yield"] if warns else [])


def test_equal_yield_and_flow_are_no_caution() -> None:
    assert codes(view(pump_flow="10 gpm", well_yield="600 gph")) == []


def test_entries_that_stand_in_the_way_leave_no_view() -> None:
    for entries in (
        {"cut_in": "50 psi", "cut_out": "30 psi"},
        {"pump_flow": "x"},
        {"pump_entry": PumpEntry.TWO_FLOWS},
        {"pump_entry": PumpEntry.CURVE, "curve": CURVE},
    ):
        whole = results(**entries)
        assert whole.pump is None
        assert any(finding.level == 2 for finding in whole.findings)


def test_the_friction_table_has_published_losses_and_flags_fast_water() -> None:
    # Illinois, exhibit I, at C 150: 5 gpm in 1 in 1.52; 20 gpm in 1-1/4 in 5.23, in 2 in 0.74.
    found = view(pipe_material=PipeMaterial.PLASTIC_40, pipe_roughness="150")
    table = found.tables[System.US]
    for size, gpm, printed in (("1", 5, 1.52), ("1-1/4", 20, 5.23), ("2", 20, 0.74)):
        cell = table.sizes.index(size), int(np.argmin(abs(table.flows - gpm * GPM)))
        assert 100 * table.loss[cell] == pytest.approx(printed, rel=0.015)
        assert bool(table.fast[cell]) == (table.speed[cell] > 5 * FOOT)
    assert table.fast.any()
    assert not table.fast.all()
    assert table.sizes[table.chosen] == "1"
    assert found.tables[System.METRIC].flows[0] == pytest.approx(20e-3 / 60)


def test_a_bore_of_ones_own_is_a_row_of_its_own() -> None:
    found = view(pipe_bore="1.2 in", pipe_size=PipeSize.TWO, pipe_length="100 ft")
    table = found.tables[System.US]
    assert table.sizes[table.chosen] == ""
    assert table.bores[table.chosen] == pytest.approx(1.2 * INCH)


def test_the_working_tells_the_pages_own_figures() -> None:
    found = view(pump_efficiency="45 %", **WELL)
    told = "\n".join(map(str, pump_steps(found, Display())))
    point = found.at_cut_out
    assert point is not None
    assert point.head is not None
    for figure in (
        f"{point.head.total / FOOT:.1f} ft",
        f"{point.velocity / FOOT:.2f} ft/s",  # type: ignore[operator]
        "78.9 psi − 50.0 psi = 28.9 psi",
        "kWh per 1,000 gal",
    ):
        assert figure in told
    assert pump_steps(view(pump_flow="10 gpm"), Display()) == ()
    metric = "\n".join(map(str, pump_steps(found, Display(System.METRIC, ","))))
    assert "psi −" not in metric
    assert "kPa" in metric


curves = st.lists(st.floats(0.5, 6.0), min_size=3, max_size=8)


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(curves, st.floats(10.0, 150.0), st.floats(0.0, 400.0), st.floats(50.0, 400.0))
def test_whatever_the_curve_the_flow_falls_from_cut_in_to_cut_out(
    steps: list[float], lift: float, length: float, spare: float
) -> None:
    flows = np.cumsum([0.0, *steps])
    heads = lift + spare * (1.0 - (flows / flows[-1]) ** 2)  # no pressure is left at the last point
    whole = results(
        pump_entry=PumpEntry.CURVE,
        curve="\n".join(f"{q:.4f} gpm {h:.4f} ft" for q, h in zip(flows, heads, strict=True)),
        water_level=f"{lift:.4f} ft",
        pipe_length=f"{length:.3f} ft",
    )
    found = whole.pump
    assert found is not None
    assert found.margin is not None
    assert found.margin / PSI == pytest.approx(spare / 2.307 - 50, abs=0.1)
    assert found.reaches == (found.at_cut_out is not None) == (whole.inputs.supply is not None)
    if found.at_cut_out is not None:
        assert found.at_cut_in is not None
        assert found.mean_flow is not None
        assert found.at_cut_out.flow < found.mean_flow < found.at_cut_in.flow


TINY, HUGE = "0." + "0" * 30 + "1", "9" * 40
typed = st.sampled_from(["0", "-1", "x", TINY, HUGE, "2", "5", "8", "10", "12", "45"])
odd_pumps = st.fixed_dictionaries(
    {
        "pump_entry": st.sampled_from(list(PumpEntry)),
        "motor_limit": st.sampled_from(list(MotorLimit)),
    },
    optional={
        "curve": st.sampled_from(
            [CURVE, "1 gpm 90 ft", f"0 gpm {HUGE} ft\n1 gpm 9 ft\n{HUGE} gpm 1 ft"]
        ),
    }
    | {
        name: st.builds("{} {}".format, typed, st.just(unit))
        for name, unit in {
            "pump_flow": "gpm", "flow_at_cut_in": "gpm", "flow_at_cut_out": "gpm",
            "bucket_volume": "gal", "bucket_time": "s", "water_level": "ft", "pipe_length": "ft",
            "pipe_bore": "in", "pump_efficiency": "%", "well_yield": "gpm", "fittings": "%",
            "steady_draw": "gpm", "motor_power": "hp", "own_rest": "s",
        }.items()
    },
)  # fmt: skip


@settings(max_examples=150, deadline=None, derandomize=True, database=None)
@given(odd_pumps)
def test_whatever_is_typed_both_pages_have_figures_or_a_stop(entries: dict[str, object]) -> None:
    whole = results(tank(), **entries)
    stops = [finding for finding in whole.findings if finding.level == 2]
    assert whole.pump is not None or stops
    assert whole.cycle is not None
    assert whole.cycle.cycle is not None or stops or whole.cycle.findings
    for display in (Display(), Display(System.METRIC, ",")):
        told = [] if whole.pump is None else [*map(str, pump_steps(whole.pump, display))]
        if whole.cycle.cycle is not None:
            told += map(str, cycle_steps(whole.cycle.cycle, display))
        told += [finding.sentence(display) for finding in whole.cycle.findings]
        assert not [text for text in told if "nan" in text]
