"""Whatever is typed into a job: it evaluates, and a stop says why or every answer is there."""

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

TINY, HUGE = "0." + "0" * 30 + "1", "9" * 40
ODD = ["0", "-1", "49,9", "1,500", "1e5", "", TINY, HUGE]


def typed(usual: list[str], units: list[str], odd_units: list[str]) -> st.SearchStrategy[str]:
    """Mostly a text that can be used, now and then one that hardly can."""
    sound = st.builds("{} {}".format, st.sampled_from(usual), st.sampled_from(units))
    odd = st.builds("{} {}".format, st.sampled_from([*usual, *ODD]), st.sampled_from(odd_units))
    return st.integers(0, 5).flatmap(lambda die: odd if die == 0 else sound)


odd_pressures = ["psi", "bar", "", "psia", "gal"]
temperature = typed(["40", "55", "90"], ["°F"], ["°F", "°C", "K", ""])
place = typed(["0", "900", "5000"], ["ft", "m"], ["ft", "km", "gal"])
length = st.one_of(st.none(), typed(["24", "28", "74"], ["in"], ["in", "m", "x"]))
entries = st.fixed_dictionaries(
    {},
    optional={
        "pump_flow": typed(["5", "10", "12.5", "70"], ["gpm"], ["gpm", "L/min", "gal"]),
        "run_time": typed(["0.5", "1", "2"], ["min"], ["min", "s", "psi"]),
        "starts_limit": typed(["6", "15", "20"], ["/h"], ["/h", "h"]),
        "cut_in": typed(["20", "30", "40", "48"], ["psi"], odd_pressures),
        "cut_out": typed(["50", "60", "85"], ["psi"], odd_pressures),
        "precharge": typed(["0", "18", "28", "38", "55"], ["psi"], odd_pressures),
        "pressure_margin": typed(["0", "15", "80"], ["psi"], odd_pressures),
        "altitude": place,
        "reading_altitude": st.one_of(st.none(), place),
        "reading_temperature": st.one_of(st.none(), temperature),
        "tank_temperature": temperature,
        "exponent": typed(["1", "1.2", "1.4"], [""], ["", "psi"]),
        "door_width": length,
        "headroom": length,
        "bands": st.sampled_from(["20/40, 30/50 psi", "1/2 psi", "x", "", "2/3,5; 3/4,5 bar"]),
        "run_time_rule": st.sampled_from(list(RunTimeRule)),
        "precharge_rule": st.sampled_from(list(PrechargeRule)),
        "order": st.sampled_from(list(Order)),
        "potable_required": st.booleans(),
    },
)


@settings(max_examples=200, deadline=None, derandomize=True, database=None)
@given(entries)
@example({"pump_flow": f"{TINY} gpm", "run_time": f"{TINY} min"})
@example({"pump_flow": f"{HUGE} gpm", "run_time": f"{HUGE} min"})
@example({"precharge": "0 psi", "precharge_rule": PrechargeRule.TYPED, "cut_in": "0 psi"})
def test_any_job_has_a_stop_or_an_answer(given_entries: dict[str, Any]) -> None:
    wanted = job(**given_entries)
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
def test_the_same_job_always_comes_to_the_same(given_entries: dict[str, Any]) -> None:
    first, second = (evaluate(job(**given_entries), SHELF) for _ in range(2))
    assert first.findings == second.findings
    assert (first.setting, first.sizing, first.precharge) == (
        second.setting,
        second.sizing,
        second.precharge,
    )
    assert first.lines == second.lines
    if first.ranking is not None and second.ranking is not None:
        assert first.ranking.order.tolist() == second.ranking.order.tolist()
