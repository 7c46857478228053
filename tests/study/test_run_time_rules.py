"""The required drawdown by each rule, at the rules' boundaries, and all of them side by side."""

from __future__ import annotations

import pytest

from tests.study.build import GAL, GPM, PSI, SEA, results
from workbench.job.choices import RunTimeRule
from workbench.study.sizing import STEPS, RuleResult, Sizing, step_run_time


def sizing(**entries: object) -> Sizing:
    found = results(**entries).sizing
    assert found is not None
    return found


def rule(found: Sizing, name: RunTimeRule) -> RuleResult:
    return next(result for result in found.rules if result.rule is name)


def test_a_typed_run_time_times_the_pumps_flow() -> None:
    found = sizing(pump_flow="12 gpm", run_time="90 s")
    assert found.required / GAL == pytest.approx(18.0, rel=1e-12)
    assert found.chosen.run_time == pytest.approx(90.0, rel=1e-12)
    assert found.chosen.starts * 3600 == pytest.approx(10.0, rel=1e-12)  # 15 / 1.5 min


@pytest.mark.parametrize(
    ("flow", "minutes"),
    [
        ("0.1 gpm", 1.0),
        ("10 gpm", 1.0),
        ("10.0 gpm", 1.0),
        ("600 gph", 1.0),
        ("37.85411784 L/min", 1.0),
        ("10.001 gpm", 1.5),
        ("20 gpm", 1.5),
        ("1200 gph", 1.5),
        ("75.70823568 L/min", 1.5),
        ("20.001 gpm", 2.0),
        ("200 gpm", 2.0),
    ],
)
def test_the_steps_hold_up_to_and_with_their_own_limit(flow: str, minutes: float) -> None:
    found = sizing(pump_flow=flow, run_time_rule=RunTimeRule.STEPS)
    assert found.chosen.run_time / 60 == pytest.approx(minutes, rel=1e-9)


@pytest.mark.parametrize("gpm", [*range(1, 61), 10.5, 19.9])
def test_every_whole_flow_meets_its_step(gpm: float) -> None:
    expected = 1.0 if gpm <= 10 else 1.5 if gpm <= 20 else 2.0
    assert step_run_time(gpm * GPM) == expected * 60


def test_the_steps_are_the_published_limits_of_starts() -> None:
    # 15 and 7.5 starts an hour: Water Systems Council, PST performance standard, 2000; a cycle of
    # 6 min: MIL-HDBK-1005/9A, paragraph 2.5.3.6. Run at no demand = 15 / starts, in minutes.
    assert [15 / (run / 60) for _, run in STEPS] == pytest.approx([15.0, 10.0, 7.5])


@pytest.mark.parametrize(("flow", "starts"), [(10, 6), (7.5, 15), (25, 7.5), (40, 4)])
def test_a_limit_of_starts_asks_for_15_q_over_n(flow: float, starts: float) -> None:
    # Washington State Department of Health 331-123, 2009, equation 11-1.
    found = sizing(
        pump_flow=f"{flow} gpm", starts_limit=f"{starts} /h", run_time_rule=RunTimeRule.STARTS
    )
    assert found.required / GAL == pytest.approx(15 * flow / starts, rel=1e-9)
    assert found.chosen.starts * 3600 == pytest.approx(starts, rel=1e-9)


def test_every_rule_stands_beside_the_chosen_one() -> None:
    found = sizing(pump_flow="15 gpm", run_time="1 min", starts_limit="6 /h")
    gallons = {result.rule: result.drawdown / GAL for result in found.rules}
    assert gallons == pytest.approx(
        {RunTimeRule.TYPED: 15.0, RunTimeRule.STEPS: 22.5, RunTimeRule.STARTS: 37.5}
    )
    assert found.spread == pytest.approx(2.5)
    assert found.chosen == rule(found, RunTimeRule.TYPED)


def test_the_choice_changes_the_answer_but_not_the_comparison() -> None:
    by_rule = {
        name: sizing(pump_flow="15 gpm", starts_limit="6 /h", run_time_rule=name)
        for name in RunTimeRule
    }
    assert len({found.rules for found in by_rule.values()}) == 1
    for name, found in by_rule.items():
        assert found.chosen.rule is name
        assert found.required == rule(found, name).drawdown


def test_rules_that_agree_have_no_spread() -> None:
    found = sizing(pump_flow="10 gpm", run_time="1 min", starts_limit="15 /h")
    assert found.spread == pytest.approx(1.0, rel=1e-12)


def test_a_rule_whose_entry_cannot_be_read_is_left_out_of_the_comparison() -> None:
    found = results(starts_limit="six", run_time_rule=RunTimeRule.STEPS)
    assert found.sizing is not None
    assert {result.rule for result in found.sizing.rules} == {RunTimeRule.TYPED, RunTimeRule.STEPS}
    (finding,) = found.findings
    assert finding.field == "starts_limit"


def test_the_total_volume_gives_the_required_drawdown_at_this_setting() -> None:
    found = sizing(pump_flow="10 gpm", run_time="2 min")
    pp, pin, pout = (p * PSI + SEA for p in (28, 30, 50))
    factor = pp / pin - pp / pout
    assert found.factor == pytest.approx(factor, rel=1e-12)
    assert found.total_volume / GAL == pytest.approx(20 / factor, rel=1e-12)


@pytest.mark.parametrize(
    ("precharge_rule", "below"), [("cut_in_less_2_psi", 2), ("cut_in", 0), ("cut_in_less_5_psi", 5)]
)
def test_the_precharge_rule_sets_the_factor(precharge_rule: str, below: int) -> None:
    found = results(precharge_rule=precharge_rule, precharge="11 psi")
    assert found.setting is not None
    assert found.setting.precharge / PSI == pytest.approx(30 - below, rel=1e-12)
    assert found.setting.below_cut_in / PSI == pytest.approx(below, abs=1e-9)


def test_a_typed_precharge_counts_only_when_it_is_chosen() -> None:
    found = results(precharge_rule="typed", precharge="11 psi")
    assert found.setting is not None
    assert found.setting.precharge / PSI == pytest.approx(11, rel=1e-12)
