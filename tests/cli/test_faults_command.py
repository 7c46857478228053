"""``faults``: every figure is the one that the window's page shows."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from workbench.job import document
from workbench.job.job import Job
from workbench.job.teach_choices import Degree, Fault
from workbench.study.desk import load_candidates
from workbench.study.evaluate import evaluate
from workbench.study.faults.view import FaultsView

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.cli.conftest import Run

FACTORS = {
    "psi": 6894.757293168361,
    "gal": 3.785411784e-3,
    "s": 1.0,
    "gpm": 3.785411784e-3 / 60,
    "/h": 1 / 3600,
    "%": 0.01,
}


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.tankjob.json"
    document.write(Job().changed(first_tank="usual"), path)
    return path


def view_of(catalog: Path, **entries: Any) -> FaultsView:
    job = Job().changed(first_tank="usual", **entries)
    return evaluate(job, load_candidates(catalog, job)[1]).faults


@pytest.mark.parametrize("fault", Fault)
def test_the_record_holds_the_readings_of_the_evaluation(
    fault: Fault, run: Run, catalog: Path, job: Path
) -> None:
    ran = run("faults", job, "--catalog", catalog, "--fault", fault.value, "--json")
    assert ran.status == 0, ran.err
    view = view_of(catalog, fault=fault)
    assert (ran.data["fault"], ran.data["degree"]) == (fault.value, "clear")
    assert [one["reading"] for one in ran.data["readings"]] == [r.reading.key for r in view.rows]
    for told, row in zip(ran.data["readings"], view.rows, strict=True):
        for name, taken in (("sound", row.healthy), ("faulty", row.faulty)):
            if taken.value is None or told["unit"] == "":
                assert told[name] == taken.value
                assert told[f"{name}_tolerance"] is None
            else:
                factor = FACTORS[told["unit"]]
                assert told[name] == pytest.approx(taken.value / factor, rel=1e-9, abs=1e-9)
                assert told[f"{name}_tolerance"] == pytest.approx(taken.tolerance / factor)
        assert told["differs"] is row.differs
    assert [one["told_apart_by"] for one in ran.data["others"]] == [
        [reading.key for reading in one.by] for one in view.others
    ]
    assert [one["fault"] for one in ran.data["others"] if one["alike"]] == [
        one.value for one in view.alike
    ]


def test_the_job_s_own_fault_is_told_where_no_other_is_named(
    run: Run, catalog: Path, tmp_path: Path
) -> None:
    path = tmp_path / "job.tankjob.json"
    entries = {"fault": Fault.PINHOLE, "degree": Degree.SEVERE}
    document.write(Job().changed(first_tank="usual", **entries), path)
    ran = run("faults", path, "--catalog", catalog, "--json")
    assert (ran.data["fault"], ran.data["degree"]) == ("pinhole_in_membrane", "severe")
    slight = run("faults", path, "--catalog", catalog, "--degree", "slight", "--json")
    assert (slight.data["fault"], slight.data["degree"]) == ("pinhole_in_membrane", "slight")
    assert slight.data["size"] != ran.data["size"]


def test_in_words_it_tells_what_is_read_and_what_looks_the_same(
    run: Run, catalog: Path, job: Path
) -> None:
    out = run("faults", job, "--catalog", catalog, "--fault", "lost_charge").out
    for part in (
        "Invented 85: Lost charge. 14.0 psi of the 28.0 psi precharge are gone",
        "Gauge: ",
        "Ear: ",
        "Tap: ",
        "Precharge, tank drained (tyre gauge, 25 min): sound 28.0 psi, now 14.0 psi ± 1.0 psi - d",
        "Old precharge on a new band: Looks the same",
        "Bubbles at the air valve (hand, 5 min) tells it from: Slow leak of air",
        "Remedy: With the tank drained set the air to 28.0 psi",
        "Power off at the breaker",
    ):
        assert part in out
    none = run("faults", job, "--catalog", catalog, "--fault", "old_precharge_on_new_band").out
    assert "Cut-in, on the gauge: The tank is empty by then" in none


def test_what_cannot_be_is_refused_in_one_line(
    refused: Callable[..., str], catalog: Path, job: Path
) -> None:
    drift = ("--fault", "drifted_switch", "--relief-setting", "52 psi")
    assert "--fault: This system cannot have it: the relief valve" in refused(
        "faults", job, "--catalog", catalog, *drift
    )
    assert "--fault" in refused("faults", job, "--fault", "gremlins")
    assert "--tol-watch" in refused("faults", job, "--catalog", catalog, "--tol-watch", "soon")
    assert "--tank" in refused("faults", job, "--catalog", catalog, "--tank", "elsewhere")
    assert "are needed" in refused("faults", "--fault", "lost_charge")
