"""``bands``: what it asks for, what it refuses, and what its text tells."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from workbench.job import document
from workbench.job.job import Job

if TYPE_CHECKING:
    from tests.cli.conftest import Run

BAND = ("--cut-in", "30 psi", "--cut-out", "50 psi", "--pump-flow", "10 gpm")
LABEL = ("--today-volume", "44 gal", "--today-rating", "100 psi")


@pytest.fixture
def saved(tmp_path: Path) -> Path:
    path = tmp_path / "job.tankjob.json"
    document.write(Job().changed(first_tank="usual", bands="20/40, 40/60 psi"), path)
    return path


def test_the_option_stands_in_the_place_of_the_jobs_bands(
    run: Run, saved: Path, catalog: Path
) -> None:
    names = [
        one["band"] for one in run("bands", saved, "--catalog", catalog, "--json").data["bands"]
    ]
    assert names == ["30/50 psi", "20/40 psi", "40/60 psi"]
    more = ("--bands", "35/55 psi", "--json")
    data = run("bands", saved, "--catalog", catalog, *more).data
    assert [one["band"] for one in data["bands"]] == ["30/50 psi", "35/55 psi"]
    assert data["bands"][1]["precharge_psi"] == 33.0
    assert data["tank"]["ids"] == ["usual"]


def test_a_tank_by_its_label_needs_no_minimum_run(run: Run, catalog: Path) -> None:
    ran = run("bands", *BAND, *LABEL, "--catalog", catalog, "--bands", "40/60 psi")
    assert ran.status == 0
    assert "11.4 gal a cycle in place of 13.0 gal (−13 %)" in ran.out
    assert "Left at 28.0 psi it gives 9.2 gal (−19 %)." in ran.out
    assert "Precharge 38.0 psi, 10.0 psi more than today." in ran.out
    assert "138.4 ft of head (+23.1 ft)" in ran.out
    assert "locked out" in ran.out
    assert "caution" not in ran.out


def test_a_band_out_of_reach_is_told_and_gets_no_precharge(run: Run, catalog: Path) -> None:
    flows = ("--flow-at-cut-in", "12 gpm", "--flow-at-cut-out", "8 gpm")
    where = (*BAND[:4], *flows, *LABEL, "--catalog", catalog, "--bands", "50/70 psi")
    text = run("bands", *where).out
    assert "The pump reaches 66.0 psi at most, so it would never stop." in text
    assert "stop: The pump reaches 66.0 psi at the tank" in text
    other = run("bands", *where, "--json").data["bands"][1]
    assert (other["never_stops"], other["precharge_psi"], other["drawdown_gal"]) == (
        True, None, None,
    )  # fmt: skip


def test_what_cannot_be_used_is_refused(
    refused: Callable[..., str], saved: Path, catalog: Path
) -> None:
    told = refused("bands", saved, "--catalog", catalog, "--bands", "60/40 psi")
    assert "--bands: In “60/40” the pump would stop below where it starts." in told
    assert "--run-time" in refused("bands", *BAND, "--catalog", catalog)
    assert "--cut-in" in refused("bands", *LABEL, "--catalog", catalog)
    told = refused("bands", saved, "--catalog", catalog, "--relief-setting", "150 psi")
    assert "--relief-setting: The relief valve opens at 150.0 psi" in told
