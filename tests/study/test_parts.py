"""What an arrangement takes, counted from it."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.study.build import only, tank
from workbench import paths
from workbench.catalog.tank import TankKind
from workbench.job.paper_choices import Answer, ItemKind, WorkKind
from workbench.study.pricing.parts import TANK, Arrangement, arrangement, counted, usual_items

HEADER = ("tee", "gauge", "switch", "relief", "drain", "union", "isolating_valve")


def of(
    work: WorkKind = WorkKind.SWAP_HEADER,
    tanks: int = 1,
    upright: int | None = None,
    *,
    band_moves: bool = False,
    permit: Answer = Answer.OPEN,
) -> dict[str, int]:
    one = Arrangement(work, tanks, tanks if upright is None else upright, band_moves, permit)
    return {code: count.quantity for code, count in counted(one).items()}


def taken(*args: Any, **kwargs: Any) -> set[str]:
    return {code for code, quantity in of(*args, **kwargs).items() if quantity}


ALWAYS = {"pad", "labour_tank", "labour_switch", "disinfection", "sample", "permit", "travel"}
OLD_GOES = {"removal", "disposal"}


def test_a_tank_alone_leaves_the_header_as_it_is() -> None:
    assert taken(WorkKind.SWAP) == ALWAYS | OLD_GOES


def test_another_band_needs_another_switch_even_for_a_tank_alone() -> None:
    assert taken(WorkKind.SWAP, band_moves=True) == ALWAYS | OLD_GOES | {"switch"}
    moved = counted(Arrangement(WorkKind.SWAP, 1, 1, True, Answer.OPEN))
    assert moved["switch"].reason == "the band moves"


def test_header_parts_are_renewed_once_whatever_stands_on_them() -> None:
    expected = ALWAYS | OLD_GOES | {*HEADER, "labour_header"}
    assert taken(WorkKind.SWAP_HEADER) == expected
    three = of(WorkKind.SWAP_HEADER, 3)
    assert all(three[code] == 1 for code in HEADER)


def test_a_new_system_has_the_check_valve_at_the_pump_and_no_old_tank() -> None:
    assert taken(WorkKind.NEW_SYSTEM) == ALWAYS | {*HEADER, "check_valve", "labour_system"}


def test_a_plain_tank_takes_its_air_control_with_it() -> None:
    assert taken(WorkKind.PLAIN_SWAP) == ALWAYS | OLD_GOES | {
        *HEADER,
        "plugs",
        "labour_header",
        "labour_plain",
    }


@pytest.mark.parametrize("work", WorkKind)
def test_of_several_tanks_one_has_no_valve_so_that_it_stays_open_to_the_relief_valve(
    work: WorkKind,
) -> None:
    for tanks in (1, 2, 3):
        found = of(work, tanks)
        assert found["service_valve"] == found["header_set"] == tanks - 1
        assert found["labour_tank"] == tanks


def test_only_upright_tanks_on_the_floor_get_a_pad() -> None:
    for kind, pads in (
        (TankKind.BLADDER_VERTICAL, 1),
        (TankKind.DIAPHRAGM_HORIZONTAL, 0),
        (TankKind.BLADDER_IN_GROUND, 0),
    ):
        one = only(tank(kind=kind))
        found = arrangement(of_job(), one, band_moves=False)
        assert (found.tanks, found.upright) == (1, pads)
        assert counted(found)["pad"].quantity == pads


def of_job() -> Any:
    from tests.study.build import job

    return job(work_kind="tank_alone", permit="not_needed")


def test_the_job_says_what_is_done_and_who_gets_the_permit() -> None:
    found = arrangement(of_job(), only(tank()), band_moves=True)
    assert found == Arrangement(WorkKind.SWAP, 1, 1, True, Answer.NOT_NEEDED)


def test_a_permit_is_charged_unless_it_is_not_needed_or_the_customers() -> None:
    answers = {answer: of(permit=answer)["permit"] for answer in Answer}
    assert answers == {
        Answer.OPEN: 1,
        Answer.FIRM: 1,
        Answer.NOT_NEEDED: 0,
        Answer.CUSTOMER: 0,
    }


def test_pipe_is_counted_by_hand() -> None:
    for work in WorkKind:
        assert of(work)["pipe"] == 0


@pytest.mark.parametrize("work", WorkKind)
def test_every_known_code_has_a_count_a_reason_and_a_name(work: WorkKind) -> None:
    found = counted(Arrangement(work, 2, 2, True, Answer.FIRM))
    usual = usual_items()
    assert list(found) == list(usual)
    assert TANK not in found
    for code, count in found.items():
        assert count.reason
        assert usual[code].code == code
        assert usual[code].name


def test_the_firms_starting_list_has_every_known_code_with_the_usual_name_and_kind() -> None:
    data = json.loads((paths.resources() / "firm.json").read_text(encoding="utf-8"))
    items = {
        item["code"]: (item["name"], item["unit"], ItemKind(item["kind"]))
        for item in data["prices"]
    }
    usual = {code: (i.name, i.unit, i.kind) for code, i in usual_items().items()}
    assert items == usual
