"""Results as plain data: every number with its unit in its key, and fit for strict JSON."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from tests.study.build import GAL, PSI, SEA, job, results, tank
from workbench.study.record import size_record, us
from workbench.study.single import drawdown_record
from workbench.units import PRESSURE, VOLUME

UNITS = ("_gal", "_psi", "_psia", "_min", "_gpm", "_per_hour", "_sq_in")
PLAIN_NUMBERS = {"exponent", "drawdown_factor", "rules_spread", "rank", "tanks", "price"}


def record(**entries: Any) -> dict[str, Any]:
    small = tank("Small", total_volume=20, height=20, price=None, acceptance=0.1)
    return size_record(results(tank(), small, **entries))


def numbers(data: Any, key: str = "") -> list[tuple[str, float]]:
    """Every number in nested data with the key that it stands under."""
    if isinstance(data, dict):
        return [pair for name, value in data.items() for pair in numbers(value, name)]
    if isinstance(data, list):
        return [pair for value in data for pair in numbers(value, key)]
    if isinstance(data, bool) or not isinstance(data, int | float):
        return []
    return [(key, data)]


def test_every_number_has_its_unit_in_its_key() -> None:
    single, _ = drawdown_record(job(), 85 * GAL, 40 * GAL)
    found = [*numbers(record()), *numbers(single)]
    assert len(found) > 40
    for key, _ in found:
        assert key in PLAIN_NUMBERS or key.endswith(UNITS), key


def test_a_record_is_strict_json_even_where_a_tank_gives_nothing() -> None:
    data = record()
    text = json.dumps(data, allow_nan=False)
    assert json.loads(text) == data
    empty = next(row for row in data["ranking"] if row["id"] == "small")
    assert empty["drawdown_gal"] == 0.0
    assert empty["worst_starts_per_hour"] is None  # starts without end
    assert empty["price"] is None
    assert (empty["rank"], empty["passes"]) == (None, False)


def test_the_sizing_in_a_record_is_that_of_the_formulas() -> None:
    data = record(pump_flow="12 gpm", run_time="1.5 min", altitude="0 ft")
    pp, pin, pout = (p * PSI + SEA for p in (28, 30, 50))
    factor = pp / pin - pp / pout
    assert data["required_drawdown_gal"] == pytest.approx(18.0)
    assert data["drawdown_factor"] == pytest.approx(factor)
    assert data["total_volume_gal"] == pytest.approx(18.0 / factor)
    assert data["worst_starts_per_hour"] == pytest.approx(10.0)
    assert data["ambient_psia"] == pytest.approx(14.696, abs=0.001)
    assert (data["cut_in_psi"], data["cut_out_psi"], data["precharge_psi"]) == (30.0, 50.0, 28.0)
    assert data["precharge_where_set_psi"] is None
    assert {rule["rule"] for rule in data["rules"]} == {"typed", "steps", "starts"}
    assert all(rule["source"] for rule in data["rules"])


def test_the_ranking_in_a_record_is_in_order_with_ranks_from_one() -> None:
    tanks = [tank(f"Tank {n}", price=str(900 - n)) for n in range(4)]
    data = size_record(results(*tanks, tank("Short", total_volume=20, height=20)))
    assert [row["rank"] for row in data["ranking"]] == [1, 2, 3, 4, None]
    assert [row["name"] for row in data["ranking"]][:2] == ["Tank 3", "Tank 2"]
    assert all(row["reasons"] for row in data["ranking"])


def test_findings_and_working_are_in_the_record() -> None:
    data = record(run_time="30 s")
    (finding,) = data["findings"]
    assert finding["level"] == "caution"
    assert finding["field"] == "run_time"
    assert set(finding) == {"level", "code", "field", "text", "remedy"}
    assert len(data["working"]) == 3


def test_a_record_is_refused_while_a_stop_stands() -> None:
    with pytest.raises(ValueError, match="a stop stands"):
        size_record(results(tank(), cut_in="thirty"))


def test_one_tank_holds_at_cut_out_what_it_gives_and_what_stays() -> None:
    data, _ = drawdown_record(job(), 85 * GAL)
    assert data["drawdown_gal"] == pytest.approx(25.1, abs=0.05)
    assert data["drawdown_gal"] + data["water_left_at_cut_in_gal"] == pytest.approx(
        data["water_at_cut_out_gal"]
    )
    assert data["acceptance_gal"] is None
    assert data["no_water_gap_psi"] == 0.0


def test_the_acceptance_limits_one_tank() -> None:
    free, _ = drawdown_record(job(), 85 * GAL)
    limited, _ = drawdown_record(job(), 85 * GAL, 20 * GAL)
    assert limited["water_at_cut_out_gal"] == pytest.approx(20.0)
    assert limited["drawdown_gal"] < free["drawdown_gal"]
    assert limited["drawdown_factor"] == free["drawdown_factor"]


def test_one_tank_with_too_much_air_tells_its_gap() -> None:
    data, findings = drawdown_record(job(precharge="36 psi", precharge_rule="typed"), 85 * GAL)
    assert data["no_water_gap_psi"] == pytest.approx(6.0)
    assert data["water_left_at_cut_in_gal"] == 0.0
    assert [finding.code for finding in findings] == ["precharge_above_cut_in"]


def test_without_a_setting_one_tank_has_no_record() -> None:
    data, findings = drawdown_record(job(cut_in="thirty"), 85 * GAL)
    assert data == {}
    assert findings


def test_a_number_comes_out_as_it_was_typed() -> None:
    for psi in range(1, 200):
        assert us(psi * PSI, PRESSURE) == float(psi)
    assert us(None, VOLUME) is None
    assert us(math.inf, VOLUME) is None
    assert us(math.nan, VOLUME) is None
