"""Several tanks on a header, each with its own air: what they give together, and what is wrong."""

from __future__ import annotations

import inspect
import json
import re
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import GAL, GPM, PSI, SEA, TWO_FLOWS, results, tank
from workbench.job.choices import PrechargeRule
from workbench.study.findings import Finding, Level
from workbench.study.header import plain
from workbench.study.header import view as headers
from workbench.study.header.record import header_record, header_steps
from workbench.study.header.view import HeaderView, TankSet
from workbench.units import Display, System

NOTE, CAUTION, STOP = Level.NOTE, Level.CAUTION, Level.STOP


def view(*lines: str, **entries: Any) -> HeaderView:
    return results(header_set="\n".join(lines), **entries).header


def tanks(*lines: str, **entries: Any) -> TankSet:
    found = view(*lines, **entries)
    assert found.tanks is not None, found.findings
    return found.tanks


def by_code(found: HeaderView) -> dict[str, Finding]:
    codes = {finding.code: finding for finding in found.findings}
    assert len(codes) == len(found.findings)
    return codes


# --- published values ---


def test_119_gallons_at_30_50_give_the_published_36_8_each() -> None:
    # Trade magazine for water-well drillers, "Using multiple pressure tanks for larger systems",
    # 2008: 36.8 gal of a 119-gal tank on 30/50, which holds with the precharge at cut-in.
    found = tanks(*["119 gal 30 psi"] * 3, precharge_rule=PrechargeRule.AT_CUT_IN)
    assert [one.drawdown / GAL for one in found.tanks] == pytest.approx([36.8] * 3, abs=0.05)
    assert found.drawdown / GAL == pytest.approx(3 * 36.79, abs=0.02)
    assert found.of_matched == pytest.approx(1.0)


def test_28_psi_on_30_50_gives_the_published_three_tenths() -> None:
    # Trade magazine for ground water, article on the ratio of pre-charged tanks: 0.3.
    found = tanks("60 gal 28 psi", "40 gal 28 psi")
    assert found.drawdown / found.total_volume == pytest.approx(0.30, abs=0.005)


@pytest.mark.parametrize(
    ("charge", "share"),
    [(0, 0.0720), (10, 0.1209), (20, 0.1698), (30, 0.2188), (38, 0.2579), (40, 0.2677)],
)
def test_little_air_costs_what_boyles_law_says(charge: int, share: float) -> None:
    # Computed with 14.7 psi for the air at 40/60: (Pp + a)(1/(40 + a) − 1/(60 + a)).
    found = tanks(f"100 gal {charge} psi", cut_in="40 psi", cut_out="60 psi")
    assert found.drawdown / (100 * GAL) == pytest.approx(share, abs=1e-4)


# --- what they give ---


def test_a_tank_with_too_much_air_empties_first_and_is_told_by_its_line() -> None:
    found = tanks("85 gal 28 psi", "44 gal 38 psi", "44 gal 34 psi")
    assert found.first_to_empty == 2
    assert [one.empties_early for one in found.tanks] == [False, True, True]
    two = found.tanks[1]
    assert two.at_cut_in == 0.0
    expected = 44 * GAL * (1 - (38 * PSI + SEA) / (50 * PSI + SEA))
    assert two.drawdown == two.at_cut_out == pytest.approx(expected, rel=1e-12)
    assert found.gap == 0.0
    told = by_code(view("85 gal 28 psi", "44 gal 38 psi", "44 gal 34 psi"))
    assert (
        told["tank_empties_early"]
        .sentence(Display())
        .startswith("Tanks 2, 3 are empty above cut-in; tank 2 is the first, 8.0 psi above it.")
    )


def test_the_loss_of_each_tank_and_its_cost_add_up_to_the_set() -> None:
    found = tanks("85 gal 28 psi", "44 gal 38 psi", "44 gal 18 psi")
    assert sum(one.lost for one in found.tanks) == pytest.approx(found.matched - found.drawdown)
    right, _, low = found.tanks
    assert right.cost is None
    assert right.lost == 0.0
    # Below cut-in each psi costs the same: V (1/Pin − 1/Pout).
    one_psi = 44 * GAL * PSI * (1 / (30 * PSI + SEA) - 1 / (50 * PSI + SEA))
    assert low.cost is not None
    assert low.cost * PSI == pytest.approx(one_psi, rel=1e-9)
    assert low.lost == pytest.approx(10 * one_psi, rel=1e-9)
    assert found.cost is not None
    assert found.cost * PSI == pytest.approx(one_psi * 173 / 44, rel=1e-9)


def test_more_air_than_the_rule_asks_for_may_give_more() -> None:
    found = tanks("44 gal 30 psi", "44 gal 30 psi", precharge_rule=PrechargeRule.BELOW_5)
    assert found.of_matched is not None
    assert found.of_matched > 1.0
    assert found.tanks[0].lost < 0.0


def test_the_run_is_that_of_the_pump_at_no_demand() -> None:
    found = tanks("85 gal 28 psi", "44 gal 38 psi")
    assert found.run == pytest.approx(found.drawdown / (10 * GPM), rel=1e-9)
    assert found.required_run == pytest.approx(60.0)
    falling = tanks("85 gal 28 psi", "44 gal 38 psi", **TWO_FLOWS)
    assert falling.run is not None
    assert found.drawdown / (12 * GPM) < falling.run < found.drawdown / (8 * GPM)


def test_a_set_gives_what_the_ranking_says_of_the_same_tanks() -> None:
    whole = results(
        tank(total_volume=85, acceptance=None),
        header_tanks=2,
        header_set="85 gal 28 psi; 85 gal 28 psi",
        **TWO_FLOWS,
    )
    assert whole.ranking is not None
    pair = next(
        whole.ranking.row(place)
        for place in range(len(whole.ranking))
        if whole.ranking.row(place).count == 2
    )
    found = whole.header.tanks
    assert found is not None
    assert found.drawdown == pytest.approx(pair.drawdown, rel=1e-12)
    assert found.run == pytest.approx(pair.run_time, rel=1e-5)


def test_the_picture_has_the_numbers_of_the_answer() -> None:
    found = tanks("85 gal 28 psi", "44 gal 38 psi", "20 gal 55 psi")
    picture = found.picture
    at = {round(float(p) / PSI, 6): k for k, p in enumerate(picture.pressure)}
    assert {0.0, 28.0, 30.0, 38.0, 50.0} <= set(at)
    assert 55.0 not in at
    assert np.all(np.diff(picture.pressure) > 0)
    low, high = at[30.0], at[50.0]
    assert picture.total[high] - picture.total[low] == pytest.approx(found.drawdown)
    assert picture.matched[high] - picture.matched[low] == pytest.approx(found.matched)
    for one in found.tanks:
        assert picture.each[high, one.number - 1] == pytest.approx(one.at_cut_out)
        assert picture.each[low, one.number - 1] == pytest.approx(one.at_cut_in)


# --- what is wrong ---

PRODUCED: list[tuple[str, str, Level, str, dict[str, Any]]] = [
    ("unread", "header_set", STOP, "44 gal", {}),
    ("tank_volume_zero", "header_set", STOP, "0 gal 28 psi", {}),
    ("tank_precharge_below_zero", "header_set", STOP, "44 gal -1 psi", {}),
    ("tank_takes_no_water", "header_set", CAUTION, "44 gal 28 psi; 44 gal 50 psi", {}),
    ("tank_takes_no_water", "header_set", STOP, "44 gal 50 psi; 44 gal 70 psi", {}),
    ("tank_empties_early", "header_set", CAUTION, "44 gal 28 psi; 44 gal 31 psi", {}),
    ("header_no_water", "header_set", CAUTION, "44 gal 33 psi; 44 gal 38 psi", {}),
    ("precharges_differ", "header_set", CAUTION, "44 gal 28 psi; 44 gal 27 psi", {}),
    ("header_run_short", "header_set", CAUTION, "20 gal 28 psi", {}),
    ("service_valves", "", CAUTION, "85 gal 28 psi; 85 gal 28 psi", {}),
    ("residual_all_water", "plain_residual", STOP, "", {"plain_residual": "100 %"}),
    ("residual_all_water", "plain_residual", CAUTION, "",
     {"plain_residual": "100 %", "plain_volume": None}),
    ("share_range", "plain_residual", STOP, "", {"plain_residual": "101 %"}),
    ("unread", "plain_residual", STOP, "", {"plain_residual": "some"}),
    ("unread", "plain_residual", CAUTION, "", {"plain_residual": "some", "plain_volume": None}),
    ("unread", "plain_volume", STOP, "", {"plain_volume": "big"}),
    ("no_replacement", "plain_volume", NOTE, "", {"plain_volume": "2000 gal"}),
]  # fmt: skip


@pytest.mark.parametrize(("code", "field", "level", "lines", "entries"), PRODUCED)
def test_what_is_wrong_is_told_once_beside_its_entry(
    code: str, field: str, level: Level, lines: str, entries: dict[str, Any]
) -> None:
    about_plain = {"plain_volume": "120 gal"} if code in {
        "residual_all_water", "share_range", "unread"} and not lines else {}  # fmt: skip
    found = results(tank(), **{"header_set": lines or None} | about_plain | entries)
    (finding,) = [one for one in found.header.findings if one.code == code]
    assert (finding.field, finding.level) == (field, level)
    for display in (Display(), Display(System.METRIC, ",")):
        assert "{" not in finding.sentence(display)
    assert finding.remedy
    assert not any(one in found.findings for one in found.header.findings)


def test_no_finding_of_the_page_is_left_without_a_job_that_produces_it() -> None:
    source = inspect.getsource(headers) + inspect.getsource(plain)
    codes = set(re.findall(r'Level\.\w+(?: if .*)?,\n +"(\w+)",', source))
    codes |= set(re.findall(r'Finding\(level, "(\w+)"', source))
    assert len(codes) >= 10
    assert codes <= {code for code, *_ in PRODUCED}


def test_a_matched_set_is_not_remarked_on_but_for_its_valves() -> None:
    assert [one.code for one in view("85 gal 28 psi", "85 gal 28 psi").findings] == [
        "service_valves"
    ]
    assert view("85 gal 28 psi").findings == ()


def test_a_set_that_takes_no_water_gives_nothing_and_runs_never() -> None:
    found = tanks("44 gal 50 psi", "44 gal 70 psi")
    assert found.drawdown == 0.0
    assert found.run is None
    assert found.of_matched == 0.0
    assert found.first_to_empty is None
    assert found.gap == 0.0


def test_nothing_entered_is_nothing_wrong() -> None:
    empty = results(tank()).header
    assert (empty.tanks, empty.plain, empty.findings) == (None, None, ())


def test_an_unusable_band_leaves_the_set_unanswered() -> None:
    whole = results(tank(), header_set="44 gal 28 psi", cut_out="20 psi", plain_volume="120 gal")
    assert whole.header.tanks is None
    assert whole.header.plain is None
    assert whole.of_level(STOP)


# --- any set ---

volumes = st.sampled_from(["0.001 gal", "20 gal", "44 gal", "300 L", "119 gal", "99999999 gal"])
charges = st.sampled_from(["0 psi", "18 psi", "28 psi", "29.9 psi", "31 psi", "2 bar", "49 psi",
                           "50 psi", "90 psi"])  # fmt: skip
lines = st.lists(st.builds("{} {}".format, volumes, charges), min_size=1, max_size=6)
too_high = {"precharge_rule": PrechargeRule.TYPED, "precharge": "60 psi"}
pumps = st.sampled_from([{}, TWO_FLOWS, {"pump_flow": "x"}, {"exponent": "1.4"}, too_high])


@settings(max_examples=100, deadline=None, derandomize=True, database=None)
@given(lines, pumps)
def test_any_set_adds_up(some: list[str], pump: dict[str, Any]) -> None:
    whole = results(tank(), header_set="\n".join(some), plain_volume="120 gal", **pump)
    found = whole.header.tanks
    assert found is not None
    assert found.drawdown == pytest.approx(sum(one.drawdown for one in found.tanks))
    assert all(one.drawdown >= 0.0 for one in found.tanks)
    if found.drawdown > 0.0:
        assert sum(one.share for one in found.tanks) == pytest.approx(1.0)
    by_code(whole.header)
    json.dumps(header_record(whole), allow_nan=False)
    for display in (Display(), Display(System.METRIC, ",")):
        assert all(map(str, header_steps(found, display)))


def test_the_record_holds_us_units() -> None:
    whole = results(tank(), header_set="85 gal 28 psi; 44 gal 38 psi", plain_volume="120 gal")
    record = header_record(whole)["set"]
    assert record["matched_precharge_psi"] == 28.0
    assert record["tanks"][1]["precharge_psi"] == 38.0
    assert record["drawdown_gal"] == pytest.approx(33.26, abs=0.01)
    assert record["first_to_empty"] == 2
    assert record["run_time_min"] == pytest.approx(3.326, abs=0.001)
