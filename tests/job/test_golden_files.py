"""Files of every schema version open for good and come to the numbers that they came to then."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbench.job import document
from workbench.job.choices import Order, PrechargeRule, RunTimeRule
from workbench.job.job import SCHEMA_VERSION, Job
from workbench.study.desk import candidates_of
from workbench.study.evaluate import evaluate
from workbench.units import Unread

GOLDEN = Path(__file__).parent / "golden"
BAR = 1e5

# The numbers below were worked by hand from the file's entries; they hold to one part in 10⁶.
SAME = 1e-6
AIR = 101_325 * (1 - 0.0065 * 1349.713347 / 288.15) ** 5.255876  # at 1350 m, geopotential 1349.71
AIR_WHERE_SET = 101_325 * (1 - 0.0065 * 59.999434 / 288.15) ** 5.255876


@pytest.fixture(scope="module")
def version_1() -> Job:
    return document.read(GOLDEN / "version-1.tankjob.json")


def test_there_is_a_golden_file_of_every_version() -> None:
    names = {path.name for path in GOLDEN.glob("*.tankjob.json")}
    assert names == {f"version-{n}.tankjob.json" for n in range(1, SCHEMA_VERSION + 1)}


def test_every_older_version_has_a_step_to_the_next() -> None:
    assert set(document.MIGRATIONS) == set(range(1, SCHEMA_VERSION))


def test_version_1_opens_with_every_entry_as_it_was_typed(version_1: Job) -> None:
    assert str(version_1.pump_flow) == "2.5 m³/h"
    assert str(version_1.cut_in) == "2.10 bar"
    assert str(version_1.reading_temperature) == "22 °C"
    assert str(version_1.bands) == "1.4/2.8, 2.1/3.5, 2.8/4.2 bar"
    assert isinstance(version_1.headroom, Unread)
    assert version_1.headroom.text == "about two metres"
    assert version_1.run_time_rule is RunTimeRule.STARTS
    assert version_1.precharge_rule is PrechargeRule.TYPED
    assert version_1.order is Order.STOCK
    assert version_1.header_tanks == 2
    assert version_1.catalog is not None
    (tank,) = version_1.catalog.tanks
    assert (tank.id, str(tank.price), str(tank.date)) == ("golden-85", "812.50", "2026-11-25")


def test_version_1_is_saved_as_it_was(version_1: Job) -> None:
    saved = (GOLDEN / "version-1.tankjob.json").read_bytes()
    assert document.to_bytes(version_1) == saved.replace(b"\r\n", b"\n")


def test_version_1_comes_to_the_same_sizing(version_1: Job) -> None:
    results = evaluate(version_1, None)
    assert results.setting is not None
    assert results.setting.ambient == pytest.approx(AIR, rel=SAME)
    assert results.sizing is not None
    # Vd = Q / (4 N): 2.5 m³/h and 7.5 starts an hour.
    assert results.sizing.required == pytest.approx(2.5 / (4 * 7.5), rel=SAME)
    pp, pin, pout = (p * BAR + AIR for p in (1.90, 2.10, 3.50))
    factor = pp / pin - pp / pout
    assert results.sizing.factor == pytest.approx(factor, rel=SAME)
    assert results.sizing.total_volume == pytest.approx(2.5 / (4 * 7.5) / factor, rel=SAME)


def test_version_1_comes_to_the_same_precharge(version_1: Job) -> None:
    results = evaluate(version_1, None)
    assert results.precharge is not None
    assert results.precharge.in_service == pytest.approx(1.90 * BAR)
    by_hand = (1.90 * BAR + AIR) * 295.15 / 284.65 - AIR_WHERE_SET
    assert results.precharge.where_set == pytest.approx(by_hand, rel=SAME)


def test_version_1_ranks_the_tanks_it_was_saved_with(version_1: Job) -> None:
    mended = version_1.changed(headroom="2 m")
    ranking = evaluate(mended, candidates_of(mended.catalog, mended.header_tanks)).ranking
    assert ranking is not None
    assert [(ranking.row(k).tank.id, ranking.row(k).count) for k in range(len(ranking))] == [
        ("golden-85", 1),
        ("golden-85", 2),
    ]
    pp, pin, pout = (p * BAR + AIR for p in (1.90, 2.10, 3.50))
    water = 0.32176000164 * (pp / pin - pp / pout)
    assert ranking.row(0).drawdown == pytest.approx(water, rel=SAME)
    assert ranking.row(1).drawdown == pytest.approx(2 * water, rel=SAME)
    assert ranking.passing == 2
