"""The counter chart says what the bench says of each tank, band, flow and run, and no more."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.cli.figures import GPM as FILE_GPM
from tests.study.build import GAL, GPM, PSI, SEA, arranged, results, tank
from workbench.catalog.tank import TankKind
from workbench.job.job import Job
from workbench.study.candidates import Candidates
from workbench.study.chart.record import chart_record
from workbench.study.chart.view import MOST_TANKS, ChartView
from workbench.study.evaluate import Results, evaluate
from workbench.study.findings import Level
from workbench.study.ranking import Fails, Judged
from workbench.units import System, Unread

SHELF = (
    tank("Small 20", total_volume=20, diameter=16, height=30),
    tank("Capped 44", total_volume=44, acceptance=9, diameter=22, height=36, price="420"),
    tank("Weak 60", total_volume=60, max_working_pressure=75, highest_precharge=60),
    tank("Shy 62", total_volume=62, highest_precharge=40, price="650"),
    tank("Usual 85", in_stock=None),
    tank("Wide 86", total_volume=86, height=48, price=None),
    tank("Buried 120", kind=TankKind.BLADDER_IN_GROUND, total_volume=100, height=60),
    tank("Away 119", total_volume=119, height=66, in_stock=False),
    tank("Unlisted 50", total_volume=50, diameter=22, potable_listed=None),
)
MIXED = "20/40, 30/50, 40/60, 50/70, 35/47 psi"


def chart(*tanks: Any, **entries: Any) -> ChartView:
    return results(*(tanks or SHELF), **entries).chart


def codes(view: ChartView) -> list[tuple[Level, str]]:
    return [(one.level, one.code) for one in view.findings]


def at(job: Job, band: str, flow: float, run: float) -> Job:
    """The job at a band ("30/50", psi), a constant flow [m³/s] and run [s], nothing in its way."""
    low, high = band.split("/")
    return job.changed(
        cut_in=f"{low} psi",
        cut_out=f"{high} psi",
        pump_entry="constant",
        pump_flow=f"{flow / FILE_GPM!r} gpm",
        run_time_rule="typed",
        run_time=f"{run!r} s",
        door_width=None,
        headroom=None,
        header_tanks=2,
    )


def passing(found: Results) -> list[Judged]:
    """The single tanks and equal pairs that pass, as the bench ranks them."""
    assert found.ranking is not None
    return [found.ranking.row(place) for place in range(found.ranking.passing)]


def every(found: Results) -> dict[str, Judged]:
    """Every single tank by its id, as the bench judges it."""
    assert found.ranking is not None
    rows = [found.ranking.row(place) for place in range(len(found.ranking))]
    return {one.tank.id: one for one in rows if one.count == 1}


def shelf() -> Candidates:
    return arranged(SHELF, 2)


@pytest.mark.parametrize(
    "entries",
    [
        {"bands": MIXED},
        {"bands": MIXED, "altitude": "5280 ft", "precharge_rule": "cut_in_less_5_psi"},
        {"bands": MIXED, "exponent": "1.2", "pressure_margin": "0 psi"},
        {"bands": "30/50, 40/60 psi", "potable_required": False, "cut_in": "33.3 psi"},
    ],
)
def test_every_cell_is_what_the_bench_says_at_that_band(entries: dict[str, Any]) -> None:
    found = results(*SHELF, **entries)
    view = found.chart
    assert len(view.bands) == len(view.rows[0].cells)
    for column, band in enumerate(view.bands):
        name = f"{band.cut_in / PSI!r}/{band.cut_out / PSI!r}"
        bench = evaluate(at(found.job, name, 1 * GPM, 60.0), shelf())
        judged = every(bench)
        assert band.setting is not None
        assert bench.precharge is not None
        assert band.setting.precharge == pytest.approx(bench.precharge.in_service)
        for row in view.rows:
            cell, one = row.cells[column], judged[row.tank.id]
            assert cell is not None
            assert cell.drawdown == pytest.approx(one.drawdown)
            assert cell.fails == one.fails & ~(Fails.DRAWDOWN | Fails.RUN)


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(list(System)),
    st.integers(0, 2),
    st.integers(0, 6),
    st.integers(0, 4),
    st.sampled_from(["0 ft", "6000 ft"]),
)
def test_every_pick_is_the_smallest_that_passes_on_the_bench(
    system: System, run: int, flow: int, column: int, altitude: str
) -> None:
    found = results(*SHELF, bands=MIXED, altitude=altitude)
    view = found.chart
    table, band = view.runs[system][run], view.bands[column]
    bench = evaluate(at(found.job, band.name, table.flows[flow], table.run), shelf())
    fit = [one for one in passing(bench) if one.tank.in_stock is not False]
    fit = [one for one in fit if not one.tank.kind.in_ground and one.tank.potable_listed]
    pick = table.picks[flow][column]
    alone = [one for one in fit if one.count == 1]
    best = min(alone or fit, key=lambda one: one.total_volume, default=None)
    if best is None:
        assert pick is None
        return
    assert pick is not None
    assert (pick.tank.id, pick.count) == (best.tank.id, best.count)
    assert pick.drawdown == pytest.approx(best.drawdown)
    assert pick.drawdown >= table.flows[flow] * table.run * (1 - 1e-9)


def test_a_known_figure_by_boyle() -> None:
    (row,) = chart(tank("Usual 85"), bands="30/50 psi").rows
    charge, low, high = (p * PSI + SEA for p in (28, 30, 50))
    (cell,) = row.cells
    assert cell is not None
    assert cell.drawdown == pytest.approx(85 * GAL * charge * (1 / low - 1 / high))
    assert cell.can_be_used


def test_the_flows_and_runs_are_the_usual_ones_of_each_system() -> None:
    view = chart()
    flows = {system: tables[0].flows for system, tables in view.runs.items()}
    assert flows[System.US] == pytest.approx([n * GPM for n in (5, 7, 10, 12, 15, 20, 25)])
    litre = 1e-3 / 60
    assert flows[System.METRIC] == pytest.approx([n * litre for n in (20, 25, 40, 45, 60, 75, 100)])
    for tables in view.runs.values():
        assert [table.run for table in tables] == [60.0, 90.0, 120.0]


def test_the_jobs_own_band_joins_the_list_in_its_place_and_never_twice() -> None:
    view = chart(cut_in="35 psi", cut_out="55 psi")
    assert [band.name for band in view.bands] == ["20/40", "30/50", "35/55", "40/60", "50/70"]
    assert [band.is_own for band in view.bands] == [False, False, True, False, False]
    again = chart(bands="30/50, 40/60, 40/60 psi")
    assert [band.name for band in again.bands] == ["30/50", "40/60"]
    bars = chart(cut_in="2 bar", cut_out="3.5 bar", bands="40/60 psi")
    assert [(band.name, band.unit) for band in bars.bands] == [("2/3.5", "bar"), ("40/60", "psi")]


def test_only_what_is_in_stock_or_not_stated_stands_on_it_smallest_first() -> None:
    view = chart()
    names = [row.tank.name for row in view.rows]
    assert names == ["Small 20", "Capped 44", "Weak 60", "Shy 62", "Usual 85", "Wide 86",
                     "Buried 120"]  # fmt: skip
    assert (view.away, view.unlisted) == (1, 1)
    assert "Unlisted 50" in [row.tank.name for row in chart(potable_required=False).rows]


def test_door_headroom_pump_and_place_of_setting_have_no_say() -> None:
    plain = chart()
    other = chart(door_width="10 in", headroom="20 in", pump_flow="3 gpm", run_time="9 min",
                  reading_temperature="90 °F", reading_altitude="8000 ft", header_tanks=3,
                  order="longest_run")  # fmt: skip
    assert other.rows == plain.rows
    assert other.bands == plain.bands
    assert other.runs == plain.runs


def test_a_pump_that_fails_at_the_jobs_band_takes_no_chart_away() -> None:
    found = results(
        *SHELF,
        pump_entry="curve",
        water_level="50 ft",
        curve="0 gpm 150 ft; 5 gpm 130 ft; 9 gpm 90 ft",
    )
    assert "cannot_reach" in {one.code for one in found.findings}
    assert found.chart.rows == chart().rows


def test_a_typed_precharge_stays_as_far_from_each_cut_in() -> None:
    view = chart(precharge_rule="typed", precharge="27 psi", bands="40/60 psi")
    charges = [band.setting.precharge / PSI for band in view.bands if band.setting]
    assert charges == pytest.approx([27, 37])


def test_tanks_that_may_not_be_used_at_a_band_are_told_apart() -> None:
    view = chart(bands="40/60, 50/70 psi")
    by_name = {row.tank.name: row.cells for row in view.rows}
    weak, shy = by_name["Weak 60"][2], by_name["Shy 62"][2]
    assert weak is not None
    assert shy is not None
    assert weak.fails == Fails.WORKING_PRESSURE
    assert shy.fails == Fails.PRECHARGE_TOO_HIGH
    picked = {pick.tank.name for table in view.runs[System.US] for row in table.picks
              for pick in (row[2],) if pick}  # fmt: skip
    assert picked.isdisjoint({"Weak 60", "Shy 62", "Buried 120"})


def test_a_band_too_low_for_the_rule_stands_without_figures() -> None:
    view = chart(bands="1/20, 40/60 psi")
    assert view.bands[0].setting is None
    assert {row.cells[0] for row in view.rows} == {None}
    assert {row[0] for table in view.runs[System.US] for row in table.picks} == {None}
    assert (Level.CAUTION, "chart_band_low") in codes(view)
    assert (Level.CAUTION, "chart_band_low") not in codes(chart())


def test_a_precharge_that_keeps_water_out_gives_no_figures() -> None:
    view = chart(precharge_rule="typed", precharge="45 psi", bands="40/50 psi")
    assert [band.setting is None for band in view.bands] == [False, True]


def test_stock_that_is_not_stated_is_told() -> None:
    assert (Level.NOTE, "chart_stock_not_stated") in codes(chart())
    assert codes(chart(tank("Usual 85"))) == []


def test_without_stock_there_is_no_chart() -> None:
    for view in (chart(SHELF[-2]), chart(SHELF[-1]), results().chart):
        assert view.is_empty
        assert codes(view) == [(Level.STOP, "chart_no_stock")]


def test_more_tanks_than_a_chart_holds_are_refused() -> None:
    one = tank("Usual 85")
    many = [one.model_copy(update={"id": f"n{k}", "name": f"N {k}"}) for k in range(MOST_TANKS + 1)]
    assert codes(chart(*many)) == [(Level.STOP, "chart_too_many")]
    assert len(chart(*many[1:]).rows) == MOST_TANKS


@pytest.mark.parametrize(
    ("entries", "code"),
    [
        ({"cut_out": "20 psi"}, "band_upside_down"),
        ({"altitude": "99000 ft"}, "altitude_range"),
        ({"precharge_rule": "typed", "precharge": "60 psi"}, "precharge_above_cut_out"),
        ({"pressure_margin": Unread("x", "Not a number.", "Type one.")}, "unread"),
    ],
)
def test_what_stands_against_every_band_stops_the_chart(entries: dict[str, Any], code: str) -> None:
    view = chart(**entries)
    assert view.is_empty
    assert codes(view) == [(Level.STOP, code)]


def test_the_record_holds_the_figures_of_the_view() -> None:
    found = results(*SHELF, bands=MIXED)
    record = json.loads(json.dumps(chart_record(found)))
    view = found.chart
    assert [one["precharge_psi"] for one in record["bands"]] == pytest.approx(
        [band.setting.precharge / PSI for band in view.bands if band.setting]
    )
    for told, row in zip(record["tanks"], view.rows, strict=True):
        for number, cell, fails in zip(told["drawdown_gal"], row.cells, told["fails"], strict=True):
            assert cell is not None
            assert number == (pytest.approx(cell.drawdown / GAL) if cell.can_be_used else None)
            assert bool(fails) is not cell.can_be_used
    for told, table in zip(record["runs"], view.runs[System.US], strict=True):
        for line, picks in zip(told["flows"], table.picks, strict=True):
            for shown, pick in zip(line["picks"], picks, strict=True):
                assert (shown is None) is (pick is None)
                if pick is not None:
                    assert shown["id"] == pick.tank.id
                    assert shown["drawdown_gal"] == pytest.approx(pick.drawdown / GAL)


def test_the_same_stock_gives_the_same_chart_in_whatever_order_it_lies() -> None:
    found = results(*SHELF)
    turned = evaluate(found.job, arranged(SHELF[::-1], 1))
    assert turned.chart.rows == found.chart.rows
    assert turned.chart.runs == found.chart.runs
    assert replace(found.chart, findings=()) == replace(turned.chart, findings=())
