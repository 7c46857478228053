"""Files of every schema version open for good and come to the numbers that they came to then."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from scipy.integrate import quad

from workbench.job import document, migrations
from workbench.job.choices import Order, PrechargeRule, RunTimeRule
from workbench.job.house_choices import DemandMethod
from workbench.job.job import SCHEMA_VERSION, Job
from workbench.job.paper_choices import (
    Answer,
    Copy,
    Currency,
    ItemKind,
    MoneyForm,
    Paper,
    Rounding,
    SolveFor,
    TankPrice,
    WorkKind,
)
from workbench.job.pump_choices import MotorLimit, PipeMaterial, PipeSize, PumpEntry
from workbench.job.teach_choices import Degree, Fault, SheetFor
from workbench.study.desk import candidates_of
from workbench.study.evaluate import evaluate
from workbench.study.findings import Level
from workbench.units import Quantity, Unread

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
    assert set(migrations.STEPS) == set(range(1, SCHEMA_VERSION))


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


def entries_of(data: bytes) -> dict[str, Any]:
    content: dict[str, Any] = json.loads(data)
    del content["checksum"], content["schema_version"]
    return content


def test_version_1_keeps_every_entry_and_has_what_a_new_job_has_for_the_rest(
    version_1: Job,
) -> None:
    saved = entries_of((GOLDEN / "version-1.tankjob.json").read_bytes())
    new = entries_of(document.to_bytes(Job()))
    now = entries_of(document.to_bytes(version_1))
    assert {name: now[name] for name in saved} == saved
    later = set(now) - set(saved)
    assert len(later) > 50
    assert {name: now[name] for name in later} == {name: new[name] for name in later}
    # What version 2 began with, worked out by hand: a later default must not move an old job.
    assert (now["pump_entry"], now["mixed_sets"], now["curve"]) == ("constant", False, None)
    assert (now["fittings"], now["steady_draw"], now["pipe_size"]) == ("25 %", "5 gpm", "1")
    assert (now["tol_flow"], now["people"], now["seed"]) == ("10 %", "4", "1")


def test_version_1_is_saved_as_the_version_of_today_and_opens_as_the_same(version_1: Job) -> None:
    data = document.to_bytes(version_1)
    assert json.loads(data)["schema_version"] == SCHEMA_VERSION
    again = document.from_bytes(data, "again")
    assert document.to_bytes(again) == data
    assert evaluate(again, None).sizing == evaluate(version_1, None).sizing


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


# --- version 2: a flow that falls, exponent 1.2, everything away from the defaults ---

PSI = 6894.757293168361
CUBIC_METRE_AN_HOUR = 1 / 3600
PRECHARGE = 2.75 * BAR - 5 * PSI
CHARGE, LOW, HIGH = (p + AIR for p in (PRECHARGE, 2.75 * BAR, 4.15 * BAR))
FILL = CHARGE ** (1 / 1.2) * (LOW ** (-1 / 1.2) - HIGH ** (-1 / 1.2))  # drawdown of one cubic metre
K = (4.15 - 2.75) * BAR / ((2.9**2 - 1.7**2) * CUBIC_METRE_AN_HOUR**2)
SHUT_OFF = 2.75 * BAR + K * (2.9 * CUBIC_METRE_AN_HOUR) ** 2


def seconds_of_one(low: float, high: float) -> float:
    """Run of a tank of one cubic metre between two absolute pressures: ∫ dx / Q."""

    def slowness(p: float) -> float:
        water = CHARGE ** (1 / 1.2) / 1.2 * p ** (-1 / 1.2 - 1)
        return float(water / ((SHUT_OFF - (p - AIR)) / K) ** 0.5)

    return float(quad(slowness, low, high, epsabs=0, epsrel=1e-10)[0])


MEAN_FLOW = FILL / seconds_of_one(LOW, HIGH)
STEP = 90.0  # seconds, above 10 gpm and up to 20: the mean of the two flows is about 10.3 gpm


@pytest.fixture(scope="module")
def version_2() -> Job:
    return document.read(GOLDEN / "version-2.tankjob.json")


def test_version_2_keeps_every_entry_and_has_what_a_new_job_has_for_the_rest(
    version_2: Job,
) -> None:
    saved = entries_of((GOLDEN / "version-2.tankjob.json").read_bytes())
    new = entries_of(document.to_bytes(Job()))
    now = entries_of(document.to_bytes(version_2))
    assert {name: now[name] for name in saved} == saved
    later = set(now) - set(saved)
    assert len(later) > 80
    assert {name: now[name] for name in later} == {name: new[name] for name in later}
    # What version 3 began with, written out: a later default must not move an old job.
    assert (now["prices"], now["markup"], now["tax"]) == ([], "0 %", "0 %")
    assert (now["currency"], now["paper"], now["valid_days"]) == ("USD", "us_letter", "30")
    assert (now["firm_name"], now["clause_payment"], now["offer_a_band"]) == ("", "", None)
    assert (now["with_plot"], now["with_working"], now["permit"]) == (True, False, "not_answered")


def test_version_2_holds_nothing_that_a_new_job_has(version_2: Job) -> None:
    """So that an entry put in by a default would be seen."""
    saved = entries_of((GOLDEN / "version-2.tankjob.json").read_bytes()).keys() - {"format"}
    alike = {name for name in saved if getattr(version_2, name) == getattr(Job(), name)}
    assert alike == {"demo"}


def test_version_2_opens_with_every_entry_as_it_was_typed(version_2: Job) -> None:
    assert str(version_2.pump_flow) == "9.5 imp gpm"
    assert str(version_2.flow_at_cut_out) == "1.7 m³/h"
    assert str(version_2.pressure_margin) == "0.1 MPa"
    assert str(version_2.curve).splitlines()[2] == "0.8 L/s 66 m"
    assert str(version_2.header_set) == "320 L 1.9 bar\n44 gal 30 psi"
    assert str(version_2.tol_temperature) == "6 K"
    assert str(version_2.own_starts_day) == "150 /d"
    assert isinstance(version_2.well_yield, Unread)
    assert version_2.well_yield.text == "a trickle in August"
    assert version_2.pump_entry is PumpEntry.TWO_FLOWS
    assert version_2.pipe_material is PipeMaterial.GALVANIZED
    assert version_2.pipe_size is PipeSize.ONE_QUARTER
    assert version_2.motor_limit is MotorLimit.OWN
    assert version_2.demand_method is DemandMethod.TYPED
    assert version_2.mixed_sets
    assert version_2.first_tank == "golden-85 + golden-44"


def test_version_2_comes_to_the_same_sizing(version_2: Job) -> None:
    results = evaluate(version_2, None)
    assert [(f.level, f.code, f.field) for f in results.findings] == [
        (Level.CAUTION, "unread", "well_yield")
    ]
    assert results.setting is not None
    assert results.setting.precharge == pytest.approx(PRECHARGE, rel=SAME)
    assert results.duty is not None
    assert results.duty.pump_flow == pytest.approx(MEAN_FLOW, rel=SAME)
    assert 10 < MEAN_FLOW / 6.30901964e-5 < 20
    assert results.sizing is not None
    assert results.sizing.required == pytest.approx(MEAN_FLOW * STEP, rel=SAME)
    assert results.sizing.factor == pytest.approx(FILL, rel=SAME)
    assert results.sizing.total_volume == pytest.approx(MEAN_FLOW * STEP / FILL, rel=SAME)
    by_hand = (PRECHARGE + AIR) * 295 / 284.5 - AIR_WHERE_SET
    assert results.precharge is not None
    assert results.precharge.where_set == pytest.approx(by_hand, rel=SAME)


def test_version_2_ranks_the_tanks_it_was_saved_with(version_2: Job) -> None:
    assert version_2.catalog is not None
    arranged = candidates_of(version_2.catalog, version_2.header_tanks, mixed=version_2.mixed_sets)
    ranking = evaluate(version_2, arranged).ranking
    assert ranking is not None
    found = {}
    for k in range(len(ranking)):
        one = ranking.row(k)
        found[tuple(part.id for part in one.parts)] = (one.drawdown, one.run_time)
    large, small = 0.32176000164, 0.166558118496
    left = small * (1 - (CHARGE / LOW) ** (1 / 1.2))
    assert small * (1 - (CHARGE / HIGH) ** (1 / 1.2)) > 0.04  # its membrane ends the fill
    full_at = CHARGE * (1 - 0.04 / small) ** -1.2
    alone = (large * FILL, large * seconds_of_one(LOW, HIGH))
    limited = (0.04 - left, small * seconds_of_one(LOW, full_at))
    assert set(found) == {
        ("golden-85",),
        ("golden-44",),
        ("golden-85", "golden-85"),
        ("golden-44", "golden-44"),
        ("golden-44", "golden-85"),
    }
    for parts, (water, run) in found.items():
        each = [alone if part == "golden-85" else limited for part in parts]
        assert water == pytest.approx(sum(w for w, _ in each), rel=SAME), parts
        assert run == pytest.approx(sum(r for _, r in each), rel=2e-5), parts


# --- version 3: the firm with its prices, the estimate, the setting card, another band ---


@pytest.fixture(scope="module")
def version_3() -> Job:
    return document.read(GOLDEN / "version-3.tankjob.json")


def test_version_3_keeps_every_entry_and_has_what_a_new_job_has_for_the_rest(
    version_3: Job,
) -> None:
    saved = entries_of((GOLDEN / "version-3.tankjob.json").read_bytes())
    new = entries_of(document.to_bytes(Job()))
    now = entries_of(document.to_bytes(version_3))
    assert {name: now[name] for name in saved} == saved
    later = set(now) - set(saved)
    assert len(later) == 16
    assert {name: now[name] for name in later} == {name: new[name] for name in later}
    # What version 4 began with, written out: a later default must not move an old job.
    assert (now["live_volume"], now["live_air"], now["line_give"]) == (None, None, "0.005 gal")
    assert (now["start_delay"], now["fault"], now["degree"]) == ("1 s", "none", "clear")
    assert (now["topic_fault"], now["exercise_seed"], now["exercise_count"]) == (True, "1", "10")


def test_version_3_holds_nothing_that_a_new_job_has(version_3: Job) -> None:
    """So that an entry put in by a default would be seen."""
    saved = entries_of((GOLDEN / "version-3.tankjob.json").read_bytes()).keys() - {"format"}
    alike = {name for name in saved if getattr(version_3, name) == getattr(Job(), name)}
    assert alike == {"demo"}


def test_version_3_opens_with_every_entry_as_it_was_typed(version_3: Job) -> None:
    assert str(version_3.flow_in_at) == "2.2 bar"
    assert str(version_3.today_volume) == "90 L"
    assert str(version_3.highest_fixture) == "18 ft"
    assert version_3.solve_for is SolveFor.WIDTH
    assert version_3.firm_address == "1 Sample Lane\nNowhere"
    assert (version_3.currency, version_3.money_form) == (Currency.CAD, MoneyForm.FR_CA)
    assert (version_3.paper, version_3.rounding) == (Paper.A4, Rounding.FIVE)
    assert version_3.tank_price is TankPrice.COST
    assert version_3.work_kind is WorkKind.PLAIN_SWAP
    assert (version_3.permit, version_3.licence) == (Answer.FIRM, Answer.CUSTOMER)
    assert version_3.copy_for is Copy.OFFICE
    assert str(version_3.offer_a_band) == "2/3.5 bar"
    assert isinstance(version_3.offer_c_band, Unread)
    assert isinstance(version_3.found_precharge, Unread)
    assert version_3.found_precharge.text == "none at all"
    (sent,) = version_3.revisions
    assert (sent.number, sent.lines) == (1, (("Total", "$ 1"), ("Drawdown", "9 L")))


def test_version_3_opens_with_its_price_list_and_quantities(version_3: Job) -> None:
    tee, own = version_3.prices
    assert (tee.code, tee.name, tee.unit) == ("tee", "Té, 1 po", "pièce")
    assert (tee.kind, tee.taxed, str(tee.cost), tee.price) == (ItemKind.PART, False, "31.50", None)
    assert isinstance(own.cost, Unread)
    assert (own.cost.text, str(own.price), str(own.hours)) == ("a lot", "12.345", "0.25")
    pipe, some = version_3.counts
    assert (pipe.code, str(pipe.quantity)) == ("pipe", "12")
    assert isinstance(some.quantity, Unread)
    # Money keeps its digits: a third of a cent more is not lost in a float.
    assert isinstance(own.price, Quantity)
    assert Decimal(own.price.digits) * 3 == Decimal("37.035")
    assert isinstance(version_3.tax, Quantity)
    assert version_3.tax.si == pytest.approx(0.14975, rel=1e-15)


def test_version_3_comes_to_the_same_sizing(version_3: Job) -> None:
    """The flows were taken at 2.2 and 3.6 bar, not at cut-in and cut-out."""
    results = evaluate(version_3, None)
    assert results.setting is not None
    assert results.setting.precharge == pytest.approx(PRECHARGE, rel=SAME)
    assert results.duty is not None
    k = (3.6 - 2.2) * BAR / ((2.9**2 - 1.7**2) * CUBIC_METRE_AN_HOUR**2)
    shut_off = 2.2 * BAR + k * (2.9 * CUBIC_METRE_AN_HOUR) ** 2

    def slowness(p: float) -> float:
        water = CHARGE ** (1 / 1.2) / 1.2 * p ** (-1 / 1.2 - 1)
        return float(water / ((shut_off - (p - AIR)) / k) ** 0.5)

    flow = FILL / float(quad(slowness, LOW, HIGH, epsabs=0, epsrel=1e-10)[0])
    assert results.duty.pump_flow == pytest.approx(flow, rel=SAME)
    assert results.sizing is not None
    assert results.sizing.factor == pytest.approx(FILL, rel=SAME)


# --- version 4: the live tank, its faults, exercises ---


@pytest.fixture(scope="module")
def version_4() -> Job:
    return document.read(GOLDEN / "version-4.tankjob.json")


def test_version_4_is_saved_as_it_was(version_4: Job) -> None:
    saved = (GOLDEN / "version-4.tankjob.json").read_bytes()
    assert document.to_bytes(version_4) == saved.replace(b"\r\n", b"\n")


def test_version_4_holds_nothing_that_a_new_job_has(version_4: Job) -> None:
    """So that an entry put in by a default would be seen."""
    alike = {name for name in Job.entries() if getattr(version_4, name) == getattr(Job(), name)}
    assert alike == {"schema_version", "demo"}


def test_version_4_opens_with_every_entry_as_it_was_typed(version_4: Job) -> None:
    assert str(version_4.live_volume) == "90 L"
    assert str(version_4.live_air) == "41 °F"
    assert str(version_4.line_give) == "0.02 L"
    assert str(version_4.start_delay) == "1.5 s"
    assert (version_4.fault, version_4.degree) == (Fault.SWITCH_DRIFT, Degree.SEVERE)
    topics = [name for name in Job.entries() if name.startswith("topic_")]
    assert [getattr(version_4, name) for name in topics] == [False] * 5
    assert str(version_4.exercise_seed) == "77"
    assert isinstance(version_4.exercise_count, Unread)
    assert version_4.exercise_count.text == "a dozen"
    assert version_4.sheet_for is SheetFor.TRAINER
    assert (version_4.class_name, version_4.class_date) == (
        "Tuesday's group\nNowhere",
        "2026-11-24",
    )
