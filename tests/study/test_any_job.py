"""Whatever is typed into a job: it evaluates, and either a stop says why or every answer is there."""

from __future__ import annotations

import json
import math
from typing import Any

from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.study.build import arranged, job, tank
from workbench.job.choices import Order, PrechargeRule, RunTimeRule
from workbench.study.evaluate import evaluate
from workbench.study.findings import Level
from workbench.study.reasons import headline, reasons
from workbench.study.record import size_record
from workbench.study.single import drawdown_record
from workbench.units import Display, System

SHELF = arranged(
    [
        tank("A"),
        tank("B", total_volume=20, height=20, price=None, highest_precharge=None),
        tank("C", acceptance=5, in_stock=None, potable_listed=None),
    ],
    2,
)

number = st.sampled_from(
    [
        "0",
        "1",
        "-1",
        "2",
        "10",
        "28",
        "30",
        "49,9",
        "50",
        "60.5",
        "1e5",
        "",
        "9" * 40,
        "0." + "0" * 30 + "1",
    ]
)
pressure = st.builds("{} {}".format, number, st.sampled_from(["psi", "bar", "kPa", "", "psia"]))
length = st.one_of(st.none(), st.builds("{} {}".format, number, st.sampled_from(["in", "m", "x"])))
entries = st.fixed_dictionaries(
    {},
    optional={
        "pump_flow": st.builds("{} {}".format, number, st.sampled_from(["gpm", "L/min", "gal"])),
        "run_time": st.builds("{} {}".format, number, st.sampled_from(["min", "s", "psi"])),
        "starts_limit": st.builds("{} {}".format, number, st.sampled_from(["/h", "h"])),
        "cut_in": pressure,
        "cut_out": pressure,
        "precharge": pressure,
        "pressure_margin": pressure,
        "altitude": st.builds("{} {}".format, number, st.sampled_from(["ft", "m", "gal"])),
        "reading_altitude": length,
        "reading_temperature": st.one_of(
            st.none(), st.builds("{} {}".format, number, st.sampled_from(["°F", "°C", "K"]))
        ),
        "tank_temperature": st.builds("{} {}".format, number, st.sampled_from(["°F", "K", ""])),
        "exponent": st.sampled_from(["1", "1.2", "1.4", "0", "2", "-1", "x", "1 psi"]),
        "door_width": length,
        "headroom": length,
        "bands": st.sampled_from(["20/40, 30/50 psi", "1/2 psi", "x", "", "2/3,5; 3/4,5 bar"]),
        "run_time_rule": st.sampled_from(list(RunTimeRule)),
        "precharge_rule": st.sampled_from(list(PrechargeRule)),
        "order": st.sampled_from(list(Order)),
        "potable_required": st.booleans(),
    },
)


@settings(max_examples=300, deadline=None, derandomize=True, database=None)
@given(entries)
@example({"pump_flow": "0." + "0" * 30 + "1 gpm", "run_time": "0." + "0" * 30 + "1 min"})
@example({"pump_flow": "9" * 40 + " gpm", "run_time": "9" * 40 + " min"})
@example({"precharge": "0 psi", "precharge_rule": PrechargeRule.TYPED, "cut_in": "0 psi"})
def test_any_job_has_a_stop_or_an_answer(typed: dict[str, Any]) -> None:
    wanted = job(**typed)
    found = evaluate(wanted, SHELF)
    stops = found.of_level(Level.STOP)
    for finding in found.findings:
        assert finding.text
        assert finding.field
    complete = None not in (found.setting, found.sizing, found.precharge, found.ranking)
    assert complete or stops
    single, _ = drawdown_record(wanted, 0.3)
    json.dumps(single, allow_nan=False)
    if found.ranking is not None:
        assert len(found.ranking) == len(SHELF)
        for position in range(len(found.ranking)):
            one = found.ranking.row(position)
            assert one.drawdown >= 0
            assert not math.isnan(one.run_time)
            for display in (Display(), Display(System.METRIC, ",")):
                assert reasons(one, found.ranking, display)
                assert headline(one, found.ranking, display)
    if not stops:
        json.dumps(size_record(found), allow_nan=False)


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(entries)
def test_the_same_job_always_comes_to_the_same(typed: dict[str, Any]) -> None:
    first, second = (evaluate(job(**typed), SHELF) for _ in range(2))
    assert first.findings == second.findings
    assert (first.setting, first.sizing, first.precharge) == (
        second.setting,
        second.sizing,
        second.precharge,
    )
    assert first.lines == second.lines
    if first.ranking is not None and second.ranking is not None:
        assert first.ranking.order.tolist() == second.ranking.order.tolist()
