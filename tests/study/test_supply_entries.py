"""What is entered of a pump and its well: one flow is as it was before any other could be."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import GAL, GPM, INCH, arranged, job, only, results, tank
from tests.study.test_supply import CURVE, FOOT, TWO, supply_of
from workbench.study.evaluate import Results, evaluate
from workbench.study.pump.reading import entered_bucket
from workbench.study.working import required_steps
from workbench.units import Display

# --- a constant flow ---


def untouched(found: Results) -> tuple[float, ...]:
    assert found.sizing is not None
    chosen = found.sizing.chosen
    return chosen.drawdown, chosen.run_time, chosen.starts, found.sizing.total_volume


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(
    st.floats(0.5, 60), st.floats(0.3, 5), st.floats(3, 30), st.sampled_from(["typed", "starts"])
)
def test_a_constant_flow_is_sized_bit_for_bit_as_by_its_own_formulas(
    gpm: float, minutes: float, limit: float, rule: str
) -> None:
    found = results(
        pump_flow=f"{gpm:.4f} gpm",
        run_time=f"{minutes:.4f} min",
        starts_limit=f"{limit:.4f} /h",
        run_time_rule=rule,
    )
    assert found.duty is not None
    assert found.sizing is not None
    flow = float(f"{gpm:.4f}") * (231 * 0.0254**3 / 60)
    run = float(f"{minutes:.4f}") * 60.0
    often = float(f"{limit:.4f}") * (1 / 3600)
    water = flow * run if rule == "typed" else flow / 4.0 / often
    assert untouched(found)[:3] == (water, water / flow, flow / 4.0 / water)
    made = only(
        tank(),
        pump_flow=f"{gpm:.4f} gpm",
        run_time=f"{minutes:.4f} min",
        starts_limit=f"{limit:.4f} /h",
        run_time_rule=rule,
    )
    assert made.run_time == made.drawdown / flow
    assert made.starts == flow / 4.0 / made.drawdown
    assert made.passes == (made.drawdown >= water * (1 - 1e-9))


SHELF = arranged([tank(), tank("Small", total_volume=30, acceptance=9)], 3)


@pytest.mark.parametrize(
    "entries",
    [
        {"pump_entry": "bucket", "bucket_volume": "5 gal", "bucket_time": "30 s"},
        {"pump_entry": "two_flows", "flow_at_cut_in": "10 gpm", "flow_at_cut_out": "10.00 gpm"},
        {"pump_entry": "two_flows", "flow_at_cut_in": "10 gpm", "flow_at_cut_out": "600 gph"},
        {**CURVE, "pump_entry": "constant"},
    ],
)
def test_however_a_flow_of_10_gpm_is_known_it_comes_to_the_same(entries: dict[str, Any]) -> None:
    plain, other = evaluate(job(), SHELF), evaluate(job(**entries), SHELF)
    assert untouched(other) == pytest.approx(untouched(plain), rel=1e-12)
    assert plain.ranking is not None
    assert other.ranking is not None
    assert other.ranking.order.tolist() == plain.ranking.order.tolist()
    assert other.ranking.fails.tolist() == plain.ranking.fails.tolist()
    assert other.ranking.starts == pytest.approx(plain.ranking.starts, rel=1e-12)


def test_an_entry_that_the_pump_is_not_known_by_changes_no_bit() -> None:
    plain = evaluate(job(), SHELF)
    other = evaluate(job(**{**TWO, **CURVE, "pump_entry": "constant", "bucket_time": "9 s"}), SHELF)
    assert untouched(other) == untouched(plain)
    assert plain.ranking is not None
    assert other.ranking is not None
    assert other.ranking.starts.tobytes() == plain.ranking.starts.tobytes()
    assert other.ranking.run_time.tobytes() == plain.ranking.run_time.tobytes()


def test_nearly_equal_flows_come_to_nearly_the_constant_one() -> None:
    supply = supply_of(**TWO | {"flow_at_cut_in": "10 gpm", "flow_at_cut_out": "9.9999 gpm"})
    assert supply.unit is not None
    assert supply.mean_flow == pytest.approx(10 * GPM, rel=1e-5)
    assert supply.starts_factor == pytest.approx(2.5 * GPM, rel=1e-5)


# --- what is read ---


def test_a_timed_refill_is_the_volume_over_the_seconds() -> None:
    entries = {"pump_entry": "bucket", "bucket_volume": "4.5 gal", "bucket_time": "0.5 min"}
    assert supply_of(**entries).mean_flow == pytest.approx(9 * GPM, rel=1e-12)
    wanted = job(**entries)
    assert entered_bucket(wanted) == pytest.approx((4.5 * GAL, 30.0))
    assert entered_bucket(wanted.changed(pump_entry="constant")) is None
    assert entered_bucket(wanted.changed(bucket_time="soon")) is None


def test_the_well_holds_what_was_entered_and_what_stands_for_the_rest() -> None:
    well = supply_of(**CURVE, well_yield="4 gpm", pump_efficiency="40 %").well
    assert well.lift == pytest.approx(90 * FOOT)
    assert well.riser is not None
    assert well.riser.length == pytest.approx(150 * FOOT)
    assert (well.riser.roughness_c, well.riser.fittings) == (140.0, 0.25)
    assert well.bore == well.riser.bore == pytest.approx(1.380 * INCH)
    assert well.yield_flow == pytest.approx(4 * GPM)
    assert well.efficiency == pytest.approx(0.4)

    own = supply_of(**CURVE | {"pipe_bore": "1.25 in", "pipe_roughness": "95", "fittings": "0 %"})
    assert own.well.riser is not None
    assert own.well.riser.bore == pytest.approx(1.25 * INCH)
    assert (own.well.riser.roughness_c, own.well.riser.fittings) == (95.0, 0.0)

    empty = supply_of().well
    assert (empty.lift, empty.riser, empty.bore) == (None, None, None)
    assert (empty.yield_flow, empty.efficiency) == (None, None)


@pytest.mark.parametrize(
    "worse",
    [
        {"water_level": "95 ft"},
        {"pipe_length": "200 ft"},
        {"fittings": "60 %"},
        {"pipe_size": "1"},
        {"pipe_bore": "1.2 in"},
        {"pipe_material": "galvanized"},
        {"pipe_roughness": "110"},
    ],
)
def test_whatever_stands_in_the_waters_way_lessens_the_flow(worse: dict[str, Any]) -> None:
    assert supply_of(**CURVE | worse).mean_flow < supply_of(**CURVE).mean_flow * (1 - 1e-4)


def test_friction_left_out_flatters_the_pump() -> None:
    bare = supply_of(**CURVE | {"pipe_length": None})
    assert bare.mean_flow > supply_of(**CURVE).mean_flow


@pytest.mark.parametrize("entries", [TWO, CURVE], ids=["two flows", "curve"])
@pytest.mark.parametrize("rule", ["typed", "starts"])
def test_the_working_of_a_falling_flow_adds_up(entries: dict[str, Any], rule: str) -> None:
    found = results(**entries, run_time_rule=rule)
    assert found.duty is not None
    assert found.sizing is not None
    _, worst, _ = required_steps(found.duty, found.sizing, "a source", Display())
    written, _, result = worst.numbers.partition(" = ")
    rest, run = (float(part.split()[0]) for part in written.partition("(")[2].split(" + "))
    shown = float(result.split()[0])
    assert 60 / (rest + run) == pytest.approx(shown, abs=0.06)
    assert shown == pytest.approx(found.sizing.chosen.starts * 3600, abs=0.051)
    draw = float(worst.title.split()[2])
    assert draw == pytest.approx(found.duty.supply.worst_draw / GPM, abs=0.0051)
    assert found.sizing.required / GAL / draw == pytest.approx(rest, abs=0.01)


def test_a_supply_whose_figures_are_no_numbers_is_not_usable() -> None:
    good = supply_of(**TWO)
    assert good.is_usable
    assert good.unit is not None
    flat = replace(good, unit=replace(good.unit, flow=np.zeros_like(good.unit.flow)))
    assert not flat.is_usable
