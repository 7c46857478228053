"""``solve``: every number is the study's; what is looked for, and what is missing, is refused."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tests.cli.any_job import any_job
from tests.cli.figures import GAL, GPM, PSI, numbers
from tests.cli.test_without_a_display import run as run_alone
from workbench import cli
from workbench.job import document
from workbench.job.job import Job
from workbench.job.paper_choices import SolveFor
from workbench.study.evaluate import evaluate
from workbench.study.findings import Level
from workbench.study.solve.answers import Solution
from workbench.study.solve.view import SolveView

if TYPE_CHECKING:
    from tests.cli.conftest import Run

BAND = ("--cut-in", "30 psi", "--cut-out", "50 psi")
RUN, FLOW, VOLUME = ("--run-time", "1 min"), ("--pump-flow", "10 gpm"), ("--tank-volume", "44 gal")
HELD = {
    "tank_volume": (*BAND, *RUN, *FLOW),
    "run_time": (*BAND, *VOLUME, *FLOW),
    "pump_flow": (*BAND, *RUN, *VOLUME),
    "band_centre": (*BAND, *RUN, *FLOW, *VOLUME),
    "band_width": (*BAND, *RUN, *FLOW, *VOLUME),
    "precharge": (*BAND, *RUN, *FLOW, *VOLUME),
}
FIRST = {
    "tank_volume": "Total volume of the tank 33.9 gal",
    "run_time": "Run time 1.30 min",
    "pump_flow": "Pump flow 13.0 gpm",
    "band_centre": "Middle of the band 60.6 psi",
    "band_width": "Width of the band 14.7 psi",
    "precharge": "Precharge 18.2 psi",
}


def figures(view: SolveView) -> dict[str, Any]:
    """The figures of the record, worked out without the program's own units."""
    span = view.range
    return {
        "asked_run_time_min": view.known and view.known.run and view.known.run / 60,
        "answers": [_answer(one) for one in view.solutions],
        "range": span and {"low_psi": span.low / PSI, "high_psi": span.high / PSI},
    }


def _answer(one: Solution) -> dict[str, Any]:
    low, high = one.setting.cut_in / PSI, one.setting.cut_out / PSI
    return {
        "pump_flow_gpm": one.drawdown / one.run / GPM,
        "run_time_min": one.run / 60,
        "tank_volume_gal": one.volume / GAL,
        "band_centre_psi": (low + high) / 2,
        "band_width_psi": high - low,
        "precharge_psi": one.setting.precharge / PSI,
        "cut_in_psi": low,
        "cut_out_psi": high,
        "drawdown_gal": one.drawdown / GAL,
        "water_at_cut_out_gal": one.held / GAL,
        "no_water_gap_psi": one.gap / PSI,
        "reach_margin_psi": one.margin and one.margin / PSI,
    }


@pytest.mark.parametrize("looked_for", FIRST)
def test_the_answer_comes_first(run: Run, looked_for: str) -> None:
    ran = run("solve", "--for", looked_for, *HELD[looked_for])
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.splitlines()[0] == FIRST[looked_for]
    assert "Run with the answer" in ran.out


def test_every_number_is_the_one_evaluated(run: Run, tmp_path: Path) -> None:
    chance, path, answered, none, refused = random.Random(7), tmp_path / "job.tankjob.json", 0, 0, 0
    for _ in range(60):
        job = any_job(chance).changed(
            solve_for=chance.choice(list(SolveFor)),
            solve_volume=chance.choice(["20 gal", "44 gal", "300 L"]),
            run_time=chance.choice(["1 min", "40 s", "2 min"]),
        )
        document.write(job, path)
        ran = run("solve", path, "--json")
        view = evaluate(job, None).solved
        assert ran.status == (2 if view.blocked else 0), ran.err
        if view.blocked:
            assert ran.out == ""
            refused += 1
            continue
        printed, wanted = numbers(ran.data), numbers(figures(view))
        assert printed.keys() == wanted.keys()
        for place, value in wanted.items():
            assert printed[place] == pytest.approx(value, rel=1e-8, abs=1e-9), place
        assert bool(ran.data["answers"]) or ran.data["why"]
        assert all(one["level"] != "stop" for one in ran.data["findings"])
        answered += bool(view.solutions)
        none += not view.solutions
    assert min(answered, none, refused) >= 3


def test_no_answer_is_told_with_its_reason(run: Run) -> None:
    asked = ("solve", "--for", "precharge", *BAND, *RUN, *VOLUME, "--pump-flow", "20 gpm")
    ran = run(*asked)
    assert ran.status == 0
    assert ran.out.startswith(
        "No answer: Even with the precharge at cut-in this tank gives 13.6 gal of the 20.0 gal"
    )
    assert run(*asked, "--json").data["cause"] == "too_little"


def test_both_precharges_are_told(run: Run) -> None:
    out = run("solve", "--for", "precharge", *HELD["precharge"]).out
    assert "Also 35.3 psi. Above cut-in. The tank is empty 5.3 psi before the pump starts" in out
    assert "With the answer: Water stays in the tank at cut-in" in out


def test_a_known_pump_is_told_its_run(run: Run) -> None:
    out = run(
        *("solve", "--for", "pump_flow", *BAND, *RUN, *VOLUME),
        *("--flow-at-cut-in", "12 gpm", "--flow-at-cut-out", "7 gpm"),
    ).out
    assert out.startswith("Run time 1.32 min")
    assert "The flow of this pump is known" in out


@pytest.mark.parametrize(
    ("looked_for", "given"),
    [("tank_volume", VOLUME), ("run_time", RUN), ("pump_flow", FLOW),
     ("precharge", ("--precharge", "28 psi")), ("precharge", ("--precharge-rule", "cut_in"))],
)  # fmt: skip
def test_what_is_looked_for_cannot_be_given(
    refused: Callable[..., str], looked_for: str, given: tuple[str, ...]
) -> None:
    line = refused("solve", "--for", looked_for, *HELD[looked_for], *given)
    assert f"{given[0]}: is what is looked for" in line


@pytest.mark.parametrize("looked_for", FIRST)
def test_what_is_missing_is_named(refused: Callable[..., str], looked_for: str) -> None:
    held = HELD[looked_for]
    line = refused("solve", "--for", looked_for)
    assert line.count("--") == len(held[::2])
    assert all(option in line for option in held[::2])


def test_what_cannot_be_used_is_refused(refused: Callable[..., str]) -> None:
    assert "--tank-volume: " in refused("solve", "--for", "run_time", *BAND, *FLOW,
                                        "--tank-volume", "0 gal")  # fmt: skip
    assert "--cut-out: " in refused("solve", "--for", "tank_volume", *RUN, *FLOW, "--cut-in",
                                    "50 psi", "--cut-out", "30 psi")  # fmt: skip


def test_a_band_that_the_pump_does_not_reach_can_be_looked_for(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "job.tankjob.json"
    curve = "0 gpm 280 ft; 5 gpm 262 ft; 10 gpm 225 ft; 15 gpm 150 ft"
    job = Job().changed(
        pump_entry="curve", curve=curve, water_level="90 ft", pipe_length="120 ft",
        cut_in="70 psi", cut_out="90 psi", solve_for="band_centre", run_time="1.2 min",
    )  # fmt: skip
    assert any(one.level is Level.STOP for one in evaluate(job, None).findings)
    document.write(job, path)
    data = run("solve", path, "--json").data
    assert data["answers"][0]["cut_out_psi"] < 82


def test_help_lists_the_six(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        cli.main(["solve", "--help"])
    out = capsys.readouterr().out
    assert "--for CHOICE" in out
    assert "--tank-volume TEXT" in out
    assert all(one.value in out for one in SolveFor)


def test_it_needs_no_qt_and_no_pint() -> None:
    done, modules = run_alone("solve", "--for", "tank_volume", *HELD["tank_volume"], "--json")
    assert (done.returncode, done.stderr) == (0, "")
    foreign = {name.partition(".")[0] for name in modules}
    assert not foreign & {"PySide6", "shiboken6", "pyqtgraph", "pint"}
