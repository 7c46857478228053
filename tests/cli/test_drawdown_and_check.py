"""``drawdown`` for one tank, and ``check-catalog``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from workbench import __version__, cli, paths
from workbench.units import VOLUME

if TYPE_CHECKING:
    from tests.cli.conftest import Run

GAL = VOLUME.units["gal"].factor
BAND = ("--cut-in", "30 psi", "--cut-out", "50 psi")


def test_the_published_example(run: Run) -> None:
    # Trade magazine for water-well drillers, technical column, February 2006, example 1: 85 gal,
    # precharge 28, switch 30/50, sea level: 25.1 gal.
    ran = run("drawdown", "--volume", "85 gal", *BAND, "--precharge", "28 psi", "--json")
    assert ran.status == 0
    assert ran.data["drawdown_gal"] == pytest.approx(25.1, abs=0.05)
    assert ran.data["drawdown_factor"] == pytest.approx(0.295, abs=0.0005)


def test_the_text_leads_with_the_answer_and_shows_the_working(run: Run) -> None:
    ran = run("drawdown", "--volume", "85 gal", *BAND)
    lines = ran.out.splitlines()
    assert lines[0] == "Drawdown 25.10 gal"
    assert "(42.696/44.696) − (42.696/64.696) = 0.2953" in ran.out
    assert ran.err == ""


def test_litres_and_bar_come_to_the_same(run: Run) -> None:
    us = run("drawdown", "--volume", "85 gal", *BAND, "--json").data
    metric = run(
        *("drawdown", "--volume", "321.76000164 L", "--cut-in", "206.842718795 kPa"),
        *("--cut-out", "344.737864658 kPa", "--json"),
    ).data
    assert metric["drawdown_gal"] == pytest.approx(us["drawdown_gal"], rel=1e-9)


def test_acceptance_altitude_and_exponent_count(run: Run) -> None:
    arguments = ("drawdown", "--volume", "85 gal", *BAND, "--json")
    usual = run(*arguments).data["drawdown_gal"]
    assert run(*arguments, "--acceptance", "20 gal").data["drawdown_gal"] < usual
    assert run(*arguments, "--altitude", "5000 ft").data["drawdown_gal"] > usual
    assert run(*arguments, "--exponent", "1.4").data["drawdown_gal"] < usual
    assert run(*arguments, "--precharge-rule", "cut_in").data["drawdown_gal"] > usual


def test_too_much_air_is_told_with_its_remedy(run: Run) -> None:
    out = run("drawdown", "--volume", "85 gal", *BAND, "--precharge", "38 psi").out
    assert "empty 8.0 psi before the pump starts" in out
    assert "Let air out" in out


def test_a_sound_catalogue_is_said_to_be_sound(run: Run, catalog: Path) -> None:
    ran = run("check-catalog", catalog)
    assert (ran.status, ran.err) == (0, "")
    assert "4 tanks can be used, 0 rows cannot." in ran.out
    assert run("check-catalog", paths.default_catalog()).status == 0


def test_everything_wrong_in_a_catalogue_is_listed(run: Run, catalog: Path) -> None:
    text = catalog.read_text(encoding="utf-8")
    catalog.write_text(
        text.replace("30,,18,35", "thirty,,18,35").replace("unlisted,", "usual,"), encoding="utf-8"
    )
    ran = run("check-catalog", catalog)
    assert ran.status == 1
    assert "row 2" in ran.out
    assert "thirty" in ran.out
    assert len(ran.out.splitlines()) >= 3


def test_a_catalogue_that_is_not_there_is_told(run: Run, tmp_path: Path) -> None:
    ran = run("check-catalog", tmp_path / "nowhere.csv")
    assert (ran.status, ran.out) == (2, "")
    assert "nowhere.csv" in ran.err


@pytest.mark.parametrize("arguments", [["--version"], ["--help"], ["size", "--help"]])
def test_help_and_version_are_printed_with_status_0(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        cli.main(arguments)
    assert left.value.code == 0
    out = capsys.readouterr().out
    assert (__version__ if arguments == ["--version"] else "usage:") in out
