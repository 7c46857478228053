"""Input that cannot be used: exit status 2 and one line that names the option and the remedy."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from workbench.job import document
from workbench.job.job import Job
from workbench.units import Unread

Refused = Callable[..., str]
POINTS = "0 gpm 280 ft; 5 gpm 262 ft; 10 gpm 225 ft"
FULL = {
    "--pump-flow": "10 gpm",
    "--cut-in": "30 psi",
    "--cut-out": "50 psi",
    "--run-time": "1 min",
}


def size(catalog: Path, **changes: str | None) -> list[str]:
    """Arguments of a usual ``size`` with some options changed, or left out where None."""
    given = FULL | {f"--{name.replace('_', '-')}": value for name, value in changes.items()}
    pairs = [(name, value) for name, value in given.items() if value is not None]
    return ["size", "--catalog", str(catalog), *(part for pair in pairs for part in pair)]


@pytest.mark.parametrize(
    ("option", "text", "why"),
    [
        ("cut_in", "thirty psi", "no number"),
        ("cut_in", "3..0 psi", "not a plain number"),
        ("pump_flow", "1,500 gpm", "could mean 1500 or 1.500"),
        ("cut_out", "50", "unit is missing"),
        ("cut_out", "50 gal", "not a unit of gauge pressure"),
        ("cut_out", "64.7 psia", "absolute pressure"),
        ("cut_out", "50 psx", "not a known unit"),
        ("run_time", "", "Nothing is entered"),
        ("exponent", "1.2 psi", "not a unit of plain number"),
        ("altitude", "9" * 80, "too long"),
        ("door_width", "2' 4\"", "not a unit of length"),
        ("headroom", "6 ft\n2 in", "not a known unit"),
    ],
)
def test_a_text_that_cannot_be_read(
    option: str, text: str, why: str, refused: Refused, catalog: Path
) -> None:
    line = refused(*size(catalog, **{option: text}))
    assert f"--{option.replace('_', '-')}: " in line
    assert why in line


@pytest.mark.parametrize(
    ("changes", "option", "why"),
    [
        ({"cut_in": "50 psi", "cut_out": "30 psi"}, "--cut-out", "above cut-in"),
        ({"cut_in": "50 psi"}, "--cut-out", "above cut-in"),
        ({"pump_flow": "0 gpm"}, "--pump-flow", "above zero"),
        ({"run_time": "-1 min"}, "--run-time", "above zero"),
        ({"exponent": "2"}, "--exponent", "between 1.0"),
        ({"altitude": "40000 ft"}, "--altitude", "standard atmosphere"),
        ({"precharge": "60 psi"}, "--precharge", "no water enters"),
        ({"cut_in": "1 psi"}, "--cut-in", "below zero"),
        ({"headroom": "0 in"}, "--headroom", "above zero"),
    ],
)
def test_a_setting_that_cannot_work(
    changes: dict[str, str], option: str, why: str, refused: Refused, catalog: Path
) -> None:
    line = refused(*size(catalog, **changes))
    assert f"{option}: " in line
    assert why in line


def test_all_stops_are_told_in_the_one_line(refused: Refused, catalog: Path) -> None:
    line = refused(*size(catalog, exponent="2", altitude="40000 ft", pump_flow="0 gpm"))
    for option in ("--exponent", "--altitude", "--pump-flow"):
        assert f"{option}: " in line


@pytest.mark.parametrize(
    ("left_out", "named"),
    [
        ({"pump_flow": None}, ["--pump-flow"]),
        ({"cut_in": None, "cut_out": None}, ["--cut-in", "--cut-out"]),
        ({"run_time": None}, ["--run-time"]),
        ({"run_time": None, "rule": "typed", "starts_limit": "6 /h"}, ["--run-time"]),
        ({"pump_flow": None, "curve": POINTS}, ["--water-level"]),
        ({"pump_flow": None, "pump": "curve", "water_level": "9 ft"}, ["--curve"]),
        ({"pump_flow": None, "flow_at_cut_out": "8 gpm"}, ["--flow-at-cut-in"]),
        ({"pump_flow": None, "bucket_time": "30 s"}, ["--bucket-volume"]),
        ({"pump": "two_flows"}, ["--flow-at-cut-in", "--flow-at-cut-out"]),
        ({"pump_flow": None, "water_level": "9 ft"}, ["--pump-flow"]),
    ],
)
def test_a_missing_option_is_named_and_no_default_taken(
    left_out: dict[str, str | None], named: list[str], refused: Refused, catalog: Path
) -> None:
    line = refused(*size(catalog, **left_out))
    assert "needed" in line
    for option in named:
        assert option in line


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["guess"],
        ["size", "--rule", "guess"],
        ["size", "--tanks", "4"],
        ["size", "--unheard-of"],
        ["size", "--cut-in"],
        ["drawdown", "--cut-in", "30 psi", "--cut-out", "50 psi"],
        ["drawdown", "--volume", "85 gal"],
        ["drawdown", "--volume", "0 gal", "--cut-in", "30 psi", "--cut-out", "50 psi"],
        ["drawdown", "--volume", "85", "--cut-in", "30 psi", "--cut-out", "50 psi"],
        ["drawdown", "--volume", "9 gal", "--cut-in", "50 psi", "--cut-out", "30 psi"],
        [
            *("drawdown", "--volume", "9 gal", "--cut-in", "30 psi", "--cut-out", "50 psi"),
            *("--precharge", "70 psi"),
        ],
        [
            *("drawdown", "--volume", "9 gal", "--cut-in", "30 psi", "--cut-out", "50 psi"),
            *("--acceptance", "-1 gal"),
        ],
        ["check-catalog"],
    ],
)
def test_a_command_that_is_not_understood(arguments: list[str], refused: Refused) -> None:
    assert len(refused(*arguments)) > len("tank-workbench: \n")


@pytest.mark.parametrize(
    "both",
    [
        {"curve": POINTS},
        {"flow_at_cut_in": "12 gpm"},
        {"bucket_volume": "5 gal"},
        {"pump_flow": None, "curve": POINTS, "bucket_time": "30 s"},
    ],
)
def test_two_ways_of_knowing_the_pump_are_not_chosen_between_in_silence(
    both: dict[str, str | None], refused: Refused, catalog: Path
) -> None:
    assert "say which with --pump" in refused(*size(catalog, **both))


@pytest.mark.parametrize(
    ("curve", "why"),
    [
        ("0 gpm 280 ft; 5 gpm", "--curve: Line 2: “5 gpm” is not a pair"),
        ("0 gpm 280 ft; 5 gpm 262", "--curve: Line 2: The unit is missing"),
        ("0 gpm 280 ft; 5 gpm 290 ft; 9 gpm 200 ft", "--curve: Point 2"),
        ("0 gpm 150 ft; 5 gpm 140 ft; 19 gpm 100 ft", "--cut-out: The pump reaches"),
        ("0 gpm 280 ft; 5 gpm 262 ft; 6 gpm 255 ft", "--curve: At the curve's last point"),
    ],
)
def test_a_curve_that_cannot_be_used(curve: str, why: str, refused: Refused, catalog: Path) -> None:
    arguments = size(catalog, pump_flow=None, curve=curve, water_level="90 ft")
    assert why in refused(*arguments)


def test_a_job_file_that_is_not_there(refused: Refused, catalog: Path, tmp_path: Path) -> None:
    line = refused("size", tmp_path / "nowhere.json", "--catalog", catalog)
    assert "nowhere.json" in line
    words = line.split(". ")
    assert len(words) == len(set(words)), "said twice"


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"", "damaged"),
        (b"{not json", "damaged"),
        (b"{}", "not a job"),
        (b'{"format": "tank-workbench job", "schema_version": 99}', "newer version"),
        (b'{"format": "tank-workbench job", "schema_version": 1, "cut_in": "1 psi"}', "lacks"),
        (document.to_bytes(Job()).replace(b"30 psi", b"38 psi"), "damaged, or changed outside"),
    ],
)
def test_a_job_file_that_cannot_be_used(
    content: bytes, why: str, refused: Refused, catalog: Path, tmp_path: Path
) -> None:
    path = tmp_path / "site.json"
    path.write_bytes(content)
    line = refused("size", path, "--catalog", catalog)
    assert "site.json" in line
    assert why in line


def test_a_saved_job_with_an_unread_entry_names_it(
    refused: Refused, catalog: Path, tmp_path: Path
) -> None:
    path = tmp_path / "site.json"
    document.write(Job().changed(cut_in=Unread("about 30", "", "")), path)
    line = refused("size", path, "--catalog", catalog)
    assert "--cut-in: " in line
    assert "about 30" in line


@pytest.mark.parametrize(
    "content", [b"", b"\x00\x01\x02", b"some,other,table\n1,2,3\n", b"PK\x03\x04"], ids=range(4)
)
def test_a_damaged_catalogue(content: bytes, refused: Refused, tmp_path: Path) -> None:
    path = tmp_path / "damaged.csv"
    path.write_bytes(content)
    assert "damaged.csv" in refused(*size(path))


def test_a_catalogue_that_is_not_there(refused: Refused, tmp_path: Path) -> None:
    line = refused(*size(tmp_path / "nowhere.csv"))
    assert "nowhere.csv" in line
    words = line.split(". ")
    assert len(words) == len(set(words)), "said twice"


def test_a_folder_in_place_of_a_file(refused: Refused, catalog: Path, tmp_path: Path) -> None:
    assert tmp_path.name in refused("size", tmp_path, "--catalog", catalog)
