"""Whatever is typed into a job: it evaluates, and a stop says why or every answer is there."""

from __future__ import annotations

import json
import math
from typing import Any

from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.study.build import TWO_FLOWS, arranged, job, tank
from workbench.job.choices import Order, PrechargeRule, RunTimeRule
from workbench.job.pump_choices import PipeMaterial, PipeSize, PumpEntry
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
    mixed=True,
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
flow = typed(["4", "6", "9", "12"], ["gpm"], ["gpm", "L/min", "psi"])
depth = typed(["0", "60", "110", "-20"], ["ft"], ["ft", "m", "psi"])
points = st.tuples(st.sampled_from([0, 3, 5]), st.sampled_from([150, 230, 290]))
pump = {
    "pump_entry": st.sampled_from(list(PumpEntry)),
    "flow_at_cut_in": st.one_of(st.none(), flow),
    "flow_at_cut_out": st.one_of(st.none(), flow),
    "curve": st.one_of(
        st.none(),
        st.builds(
            lambda start, last: f"{start[0]} gpm {start[1]} ft; 8 gpm 140 ft; {last} gpm 20 ft",
            points,
            st.sampled_from([9, 14, 20]),
        ),
        st.sampled_from(["", "0 gpm 280 ft", "x", f"0 gpm {HUGE} ft; 1 gpm 9 ft; {HUGE} gpm 1 ft"]),
    ),
    "bucket_volume": st.one_of(st.none(), typed(["4", "5"], ["gal"], ["gal", "L", "s"])),
    "bucket_time": st.one_of(st.none(), typed(["25", "40"], ["s"], ["s", "min", "gal"])),
    "water_level": st.one_of(st.none(), depth),
    "pipe_length": st.one_of(st.none(), depth),
    "pipe_material": st.sampled_from(list(PipeMaterial)),
    "pipe_size": st.sampled_from(list(PipeSize)),
    "pipe_bore": st.one_of(st.none(), typed(["0.8", "1"], ["in"], ["in", "mm", "gal"])),
    "pipe_roughness": st.one_of(st.none(), typed(["100", "140"], [""], ["", "psi"])),
    "fittings": typed(["0", "25", "1000", "1001"], ["%"], ["%", "ft"]),
    "pump_efficiency": st.one_of(st.none(), typed(["40", "100", "101"], ["%"], ["%", "W"])),
    "well_yield": st.one_of(st.none(), flow),
}
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
        "mixed_sets": st.booleans(),
    }
    | pump,
)


CURVE = {"pump_entry": "curve", "water_level": "90 ft"}
TYPED = {"precharge_rule": "typed"}


@settings(max_examples=300, deadline=None, derandomize=True, database=None)
@given(entries)
@example(TWO_FLOWS | TYPED | {"precharge": "49.99999999999999 psi"})
@example(TWO_FLOWS | {"flow_at_cut_out": f"{TINY} gpm"})
@example(TWO_FLOWS | {"flow_at_cut_out": "11.99999 gpm"})
@example(TWO_FLOWS | {"flow_at_cut_in": f"{HUGE} gpm"})
@example(TWO_FLOWS | {"cut_in": "49.99999999999 psi", "precharge_rule": "cut_in"})
@example(TWO_FLOWS | {"cut_in": "0 psi", "cut_out": f"{TINY} psi", "precharge_rule": "cut_in"})
@example(TWO_FLOWS | {"cut_out": f"{HUGE} psi"})
@example(CURVE | {"curve": f"0 gpm {HUGE} ft; 1 gpm 9 ft; {HUGE} gpm 1 ft"})
@example(CURVE | {"curve": f"0 gpm 300 ft; {TINY} gpm 200 ft; 20 gpm 20 ft"})
@example(CURVE | {"curve": "0 gpm 300 ft; 9 gpm 200 ft; 20 gpm 20 ft", "pipe_length": f"{HUGE} ft"})
@example(
    CURVE | {"curve": "0 gpm 300 ft; 9 gpm 200 ft; 20 gpm 20 ft", "water_level": f"-{HUGE} ft"}
)
@example(
    CURVE
    | {
        "curve": "0 gpm 300 ft; 9 gpm 200 ft; 20 gpm 20 ft",
        "pipe_length": "9 ft",
        "pipe_bore": f"{TINY} in",
    }
)
@example(
    CURVE
    | {
        "curve": "0 gpm 300 ft; 9 gpm 200 ft; 20 gpm 20 ft",
        "pipe_length": "9 ft",
        "pipe_roughness": TINY,
    }
)
@example({"pump_entry": "bucket", "bucket_volume": f"{HUGE} gal", "bucket_time": f"{TINY} s"})
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
