"""What keeps a tank off the list: each failure alone, at its limit, and what never decides."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.study.build import GAL, PSI, SEA, arranged, job, only, ranking, tank
from workbench.catalog.tank import TankKind
from workbench.study.evaluate import evaluate
from workbench.study.ranking import Fails, Notes

LYING, BURIED = TankKind.BLADDER_HORIZONTAL, TankKind.DIAPHRAGM_IN_GROUND

FALLING = {"pump_entry": "two_flows", "flow_at_cut_in": "12 gpm", "flow_at_cut_out": "4 gpm"}
FIFTEEN = {"run_time_rule": "starts", "starts_limit": "15 /h"}

# flag, what the tank is, what the job asks: the tank fails for this reason alone
ALONE: list[tuple[Fails, dict[str, Any], dict[str, Any]]] = [
    (Fails.DRAWDOWN, {"total_volume": 30}, {}),
    (Fails.DRAWDOWN, {"acceptance": 10}, {}),
    (Fails.WORKING_PRESSURE, {"max_working_pressure": 75}, {"pressure_margin": "26 psi"}),
    (
        Fails.PRECHARGE_TOO_HIGH,
        {"highest_precharge": 38},
        {"cut_in": "41 psi", "cut_out": "65 psi"},
    ),
    (Fails.DOOR, {"diameter": 26.1}, {"door_width": "28 in"}),
    (Fails.HEADROOM, {"height": 74.1}, {"headroom": "74 in"}),
    (Fails.HEADROOM, {"kind": LYING, "diameter": 27, "height": 46}, {"headroom": "26.9 in"}),
    (Fails.POTABLE, {"potable_listed": False}, {}),
    (Fails.POTABLE, {"potable_listed": None}, {}),
    (Fails.RUN, {"acceptance": 14}, FALLING),  # 10.2 of 8.5 gal, but 57 s of 60
    (Fails.RUN, {"acceptance": 14}, {**FALLING, **FIFTEEN}),
]

# just enough: none of these may fail
ENOUGH: list[tuple[dict[str, Any], dict[str, Any]]] = [
    ({}, {}),
    ({"max_working_pressure": 75}, {"cut_out": "60 psi", "pressure_margin": "15 psi"}),
    ({"highest_precharge": 38}, {"cut_in": "40 psi", "cut_out": "60 psi"}),
    ({"highest_precharge": None}, {"cut_in": "70 psi", "cut_out": "100 psi"}),
    ({"diameter": 26}, {"door_width": "28 in"}),
    ({"diameter": 26}, {"door_width": "711.2 mm"}),
    ({"height": 74}, {"headroom": "74 in"}),
    ({"height": 74}, {"headroom": "187.96 cm"}),
    ({"kind": LYING, "diameter": 27, "height": 46}, {"headroom": "27 in"}),
    ({"kind": BURIED, "diameter": 40, "height": 40}, {"door_width": "20 in", "headroom": "20 in"}),
    ({"potable_listed": None}, {"potable_required": False}),
    ({"potable_listed": False}, {"potable_required": False}),
    ({"price": None, "in_stock": None, "acceptance": None}, {}),
    ({"acceptance": 15}, FALLING),
    ({"acceptance": 15}, {**FALLING, **FIFTEEN}),
]


@pytest.mark.parametrize(("flag", "made", "asked"), ALONE)
def test_each_failure_alone_keeps_a_tank_off_the_list(
    flag: Fails, made: dict[str, Any], asked: dict[str, Any]
) -> None:
    ranked = ranking(tank(**made), **asked)
    one = ranked.row(0)
    assert one.fails == flag
    assert not one.passes
    assert ranked.passing == 0


@pytest.mark.parametrize(("made", "asked"), ENOUGH)
def test_just_enough_is_enough(made: dict[str, Any], asked: dict[str, Any]) -> None:
    assert only(tank(**made), **asked).fails == Fails(0)


def test_every_failure_is_in_the_list_of_those_that_occur_alone() -> None:
    assert {flag for flag, *_ in ALONE} == set(Fails)


def test_failures_add_up() -> None:
    worst = tank(
        total_volume=200,
        acceptance=5,
        diameter=30,
        height=80,
        max_working_pressure=60,
        factory_precharge=10,
        highest_precharge=20,
        potable_listed=False,
    )
    one = only(worst, door_width="28 in", headroom="70 in")
    assert one.fails == ~Fails(0) & ~Fails.RUN  # that one says that it gives enough


@pytest.mark.parametrize("cut_out", range(40, 81, 5))
@pytest.mark.parametrize("margin", [0, 5, 10, 15, 20, 25])
def test_a_tank_marked_for_exactly_what_is_needed_passes(cut_out: int, margin: int) -> None:
    """60 psi and 15 psi are 75 psi, although their floats in pascal add up to a little more."""
    one = only(
        tank(max_working_pressure=cut_out + margin, factory_precharge=28, highest_precharge=None),
        cut_in=f"{cut_out - 20} psi",
        cut_out=f"{cut_out} psi",
        pressure_margin=f"{margin} psi",
    )
    assert Fails.WORKING_PRESSURE not in one.fails


@pytest.mark.parametrize("cut_in", range(15, 91))
def test_a_tank_that_may_be_charged_to_exactly_the_precharge_passes(cut_in: int) -> None:
    one = only(
        tank(highest_precharge=cut_in - 2, factory_precharge=10),
        cut_in=f"{cut_in} psi",
        cut_out=f"{cut_in + 20} psi",
    )
    assert Fails.PRECHARGE_TOO_HIGH not in one.fails


@pytest.mark.parametrize("diameter", range(8, 40))
def test_a_tank_that_just_goes_through_the_door_passes(diameter: int) -> None:
    made = tank(diameter=diameter, total_volume=diameter**2 / 20, height=20)
    assert Fails.DOOR not in only(made, door_width=f"{diameter + 2} in").fails
    narrow = only(made, door_width=f"{diameter + 1.99} in")
    assert Fails.DOOR in narrow.fails


@pytest.mark.parametrize("flow", range(5, 26))
def test_a_membrane_that_lets_in_exactly_what_is_required_passes(flow: int) -> None:
    """With the precharge at cut-in the drawdown is the acceptance, to the last drop."""
    made = tank(total_volume=110, diameter=30, height=60, acceptance=float(flow))
    one = only(made, pump_flow=f"{flow} gpm", run_time="1 min", precharge_rule="cut_in")
    assert one.passes
    assert one.margin / GAL == pytest.approx(0, abs=1e-9)
    less = made.model_copy(update={"acceptance": flow * GAL * 0.999})
    short = only(less, pump_flow=f"{flow} gpm", run_time="1 min", precharge_rule="cut_in")
    assert short.fails == Fails.DRAWDOWN


def test_drawdown_run_starts_and_margin_are_those_of_the_tank() -> None:
    one = only(tank(), pump_flow="10 gpm", run_time="2 min")
    pp, pin, pout = (p * PSI + SEA for p in (28, 30, 50))
    water = 85 * (pp / pin - pp / pout)
    assert one.drawdown / GAL == pytest.approx(water, rel=1e-12)
    assert one.run_time / 60 == pytest.approx(water / 10, rel=1e-12)
    assert one.starts * 3600 == pytest.approx(15 / (water / 10), rel=1e-12)
    assert one.margin / GAL == pytest.approx(water - 20, rel=1e-9)
    assert (one.price, one.count) == (800.0, 1)


NOTED: list[tuple[Notes, dict[str, Any], dict[str, Any]]] = [
    (Notes.EMPTIES_EARLY, {}, {"precharge": "33 psi", "precharge_rule": "typed"}),
    (Notes.ACCEPTANCE_LIMITS, {"acceptance": 20}, {}),
    (Notes.ACCEPTANCE_NOT_STATED, {"acceptance": None}, {}),
    (Notes.HIGHEST_NOT_STATED, {"highest_precharge": None}, {}),
    (Notes.NOT_IN_STOCK, {"in_stock": False}, {}),
    (Notes.NO_PRICE, {"price": None}, {}),
    (Notes.ABOVE_CODE_VOLUME, {"total_volume": 121, "diameter": 30, "height": 60}, {}),
]


@pytest.mark.parametrize(("note", "made", "asked"), NOTED)
def test_a_note_tells_and_never_decides(
    note: Notes, made: dict[str, Any], asked: dict[str, Any]
) -> None:
    stated = {"acceptance": 80.0} | made
    one = only(tank(**stated), **asked)
    assert one.notes == note
    assert one.passes


def test_every_note_occurs_alone() -> None:
    assert {note for note, *_ in NOTED} == set(Notes)


@pytest.mark.parametrize(
    "made",
    [{"in_stock": None}, {"total_volume": 120, "diameter": 30, "height": 60}, {"acceptance": 30}],
)
def test_what_is_usual_is_not_noted(made: dict[str, Any]) -> None:
    assert only(tank(**{"acceptance": 80.0} | made)).notes == Notes(0)


def test_an_empty_catalogue_ranks_nothing() -> None:
    found = evaluate(job(), arranged(())).ranking
    assert found is not None
    assert len(found) == found.passing == 0


def test_a_large_catalogue_is_judged_as_its_tanks_are_one_at_a_time() -> None:
    rng = np.random.default_rng(11)
    tanks = [
        tank(
            f"Tank {number:03}",
            total_volume=float(volume),
            diameter=float(17 + 3 * rng.random()),
            height=float(42 + 6 * rng.random()),
            acceptance=float(volume * rng.uniform(0.2, 0.9)) if rng.random() < 0.5 else None,
            max_working_pressure=float(rng.choice([65.0, 75.0, 100.0, 125.0])),
            highest_precharge=float(rng.uniform(38, 60)) if rng.random() < 0.5 else None,
            potable_listed=[True, False, None][int(rng.integers(3))],
        )
        for number, volume in enumerate(rng.uniform(20, 40, 60))
    ]
    asked = {"door_width": "21 in", "headroom": "45 in", "pump_flow": "8 gpm"}
    together = {
        (one.tank.id, one.count): one
        for ranked in [ranking(*tanks, header_tanks=2, **asked)]
        for one in (ranked.row(k) for k in range(len(ranked)))
    }
    assert len(together) == 120
    for single in tanks:
        alone = ranking(single, header_tanks=2, **asked)
        for k in range(2):
            assert together[(single.id, alone.row(k).count)] == alone.row(k)
