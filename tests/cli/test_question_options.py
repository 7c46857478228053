"""``pump`` to ``tolerance``: their options, help, defaults, and refusals in one line."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from workbench import cli
from workbench.__main__ import SUB_COMMANDS
from workbench.cli.entered import job_from
from workbench.cli.options import CHOICES
from workbench.cli.program import _parser
from workbench.cli.refusal import option_of, place_of
from workbench.job import document
from workbench.job.fields import fields, sizing_fields
from workbench.job.job import Job
from workbench.study.certainty.deviations import NAMES
from workbench.units import Unread

if TYPE_CHECKING:
    from tests.cli.conftest import Run

Refused = Callable[..., str]

BAND = ("--cut-in", "30 psi", "--cut-out", "50 psi")
USUAL = ("--pump-flow", "10 gpm", *BAND, "--run-time", "1 min")
DRIVE = (
    *("--drive-set", "60 psi", "--drive-wake", "45 psi", "--drive-tank", "4 gal"),
    *("--drive-share", "70 %", "--drive-ramp", "3 s"),
)
SET = ("--header-set", "44 gal 28 psi; 20 gal 35 psi")
ASKED = {
    "pump": USUAL,
    "cycle": USUAL,
    "day": USUAL,
    "demand": USUAL,
    "header": (*USUAL, *SET),
    "drive": DRIVE,
    "tolerance": (*USUAL, "--cases", "1000"),
}
MOTOR = {"motor_limit", "motor_power", "own_starts_hour", "own_starts_day", "own_rest"}
DRAWN = {
    "people", "washers", "dishwashers", "daily_use", "leak",
    "irrigation_flow", "irrigation_start", "irrigation_time", "seed",
}  # fmt: skip
FIXTURES = {
    "bathrooms", "toilets", "basins", "tubs", "showers", "kitchen_sinks", "dishwashers", "washers",
    "laundry_sinks", "hose_bibs",
}  # fmt: skip
OWN: dict[str, set[str]] = {
    "pump": {"first_tank"},
    "cycle": {"first_tank", "steady_draw"} | MOTOR,
    "day": {"first_tank", "second_tank", *DRAWN} | MOTOR,
    "demand": {"demand_method", "people", "bedrooms", "daily_use", "peak_demand"} | FIXTURES,
    "header": {"header_set", "plain_volume", "plain_residual"},
    "drive": {
        *("drive_set", "drive_wake", "drive_tank", "drive_share", "drive_ramp", "drive_step"),
        *("leak", "first_tank"),
    }
    | MOTOR
    | FIXTURES,
    "tolerance": {"first_tank", "seed", *(f"tol_{name}" for name in NAMES)},
}
MORE = {"day": {"--year"}, "tolerance": {"--cases"}}


def help_of(name: str, capsys: pytest.CaptureFixture[str]) -> str:
    with pytest.raises(SystemExit) as left:
        cli.main([name, "--help"])
    assert left.value.code == 0
    return capsys.readouterr().out


def offered(text: str) -> set[str]:
    return set(re.findall(r"^  (--[a-z-]+)", text, re.MULTILINE))


@pytest.mark.parametrize("name", OWN)
def test_each_offers_its_own_entries_on_top_of_those_of_size(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    usual = offered(help_of("size", capsys))
    found = offered(help_of(name, capsys))
    assert found == usual | set(map(option_of, OWN[name])) | MORE.get(name, set())


@pytest.mark.parametrize("name", OWN)
def test_help_tells_the_default_of_every_quantity_and_choice(
    name: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "1000")  # no word is broken
    text = " ".join(help_of(name, capsys).split())
    assert "%%" not in text
    new = Job()
    for entry in {*sizing_fields(), *OWN[name]} & fields().keys():
        default = getattr(new, entry)
        field = fields()[entry]
        told = f"left out: {field.empty}" if default is None else f"new job: {default}"
        assert f"{field.help} ({told})" in text, entry
    for entry in OWN[name] & CHOICES.keys():
        assert f"(new job: {getattr(new, entry).value})" in text
        assert all(f"{value.value}: " in text for value in CHOICES[entry])


def test_every_sub_command_of_the_parser_is_known_at_the_door() -> None:
    (action,) = (
        action for action in _parser()._actions if isinstance(action, argparse._SubParsersAction)
    )
    assert set(action.choices) == set(SUB_COMMANDS)


TEXTS: dict[str, tuple[str, Any]] = {
    "first_tank": ("usual", "usual"),
    "second_tank": (" small + usual ", "small + usual"),
    "motor_limit": ("public_system", "public_system"),
    "demand_method": ("two_hours", "two_hours"),
}
SAMPLES = {
    "header_set": "44 gal 28 psi; 20 gal 35 psi",
    "plain_residual": "12 %",
    "motor_power": "2 hp",
    "own_starts_hour": "9 /h",
    "own_starts_day": "90 /d",
    "daily_use": "310 gal/d",
    "leak": "33 gal/d",
    "tol_temperature": "7 °F",
}
BY_KIND = {
    "flow": "3.3 gpm", "volume": "77 gal", "pressure": "33 psi", "short time": "44 s",
    "time": "22 min", "number": "6", "percent": "17 %",
}  # fmt: skip


def sample(name: str) -> str:
    """A text for a quantity that is not its default."""
    if name in SAMPLES:
        return SAMPLES[name]
    units = fields()[name].one.units
    for text in BY_KIND.values():
        unit = text.partition(" ")[2]
        if unit in units or (not unit and not fields()[name].one.us):
            return text
    raise AssertionError(name)


@pytest.mark.parametrize("name", OWN)
def test_every_option_is_an_entry_of_the_job(name: str) -> None:
    for entry in OWN[name]:
        text, wanted = TEXTS.get(entry) or (sample(entry), sample(entry))
        options = _parser().parse_args([name, f"{option_of(entry)}={text}"])
        expected = Job().changed(**{entry: wanted})
        assert getattr(job_from(options, Job()), entry) == getattr(expected, entry) != ""
        assert getattr(expected, entry) != getattr(Job(), entry), "the sample is the default"


def test_a_figure_of_ones_own_chooses_its_own_rule(run: Run, catalog: Path) -> None:
    asked = (*USUAL, "--catalog", catalog, "--json")
    own = run("cycle", *asked, "--own-rest", "500 s").data
    assert own["motor_limit"] == "own"
    assert own["motor_stands"]["shortest_rest_s"] == 500.0
    assert own["passes"] is False
    typed = run("demand", *asked, "--peak-demand", "9.5 gpm").data
    assert (typed["method"], typed["peak_demand_gpm"]) == ("typed", 9.5)


@pytest.mark.parametrize(("key", "more"), [
    ("usual", ()), ("usual + usual", ("--tanks", "2")), ("small + usual", ("--mixed",)),
])  # fmt: skip
def test_a_tank_is_named_by_its_id_or_those_of_a_header(
    key: str, more: tuple[str, ...], run: Run, catalog: Path
) -> None:
    ran = run("cycle", *USUAL, "--tank", key, *more, "--catalog", catalog, "--json")
    assert ran.data["tank"]["ids"] == key.split(" + ")


def test_options_go_on_top_of_a_saved_job(run: Run, catalog: Path, tmp_path: Path) -> None:
    path = tmp_path / "site.tankjob.json"
    document.write(Job().changed(first_tank="large", steady_draw="2 gpm", people="2"), path)
    before = path.read_bytes()
    asked = (path, "--catalog", catalog, "--json")
    saved = run("cycle", *asked).data
    assert (saved["tank"]["ids"], saved["steady"]["draw_gpm"]) == (["large"], 2.0)
    other = run("cycle", *asked, "--tank", "small", "--steady-draw", "4 gpm").data
    assert (other["tank"]["ids"], other["steady"]["draw_gpm"]) == (["small"], 4.0)
    assert run("cycle", *asked, "--tank", "").data["tank"]["ids"] == ["usual"]
    assert run("day", *asked, "--people", "5").data["house"]["people"] == 5.0
    assert path.read_bytes() == before


@pytest.mark.parametrize("name", ASKED)
def test_an_unknown_tank_an_unreadable_job_and_text_are_refused(
    name: str, refused: Refused, catalog: Path, tmp_path: Path
) -> None:
    path = tmp_path / "site.tankjob.json"
    path.write_bytes(b"{not json")
    assert "site.tankjob.json" in refused(name, path, "--catalog", catalog)
    document.write(Job().changed(cut_in=Unread("about 30", "", "")), path)
    assert "--cut-in: " in refused(name, path, "--catalog", catalog)
    assert "--cut-in: " in refused(name, *ASKED[name], "--cut-in", "some", "--catalog", catalog)
    damaged = tmp_path / "damaged.csv"
    damaged.write_bytes(b"some,other\n1,2\n")
    assert "damaged.csv" in refused(name, *ASKED[name], "--catalog", damaged)
    if "first_tank" in OWN[name]:
        line = refused(name, *ASKED[name], "--tank", "nobody's", "--catalog", catalog)
        assert "--tank: No tank of the catalogue is called nobody's" in line


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (("day", *USUAL, "--seed", "1.5"), "--seed: "),
        (("day", *USUAL, "--seed", "-1"), "--seed: "),
        (("tolerance", *USUAL, "--seed", "0.5"), "--seed: "),
        (("day", *USUAL, "--second-tank", "nobody's"), "--second-tank: "),
        (("day", *USUAL, "--irrigation-flow", "3 gpm"), "--irrigation-time: "),
        (("tolerance", *USUAL, "--cases", "10"), "--cases: "),
        (("tolerance", *USUAL, "--cases", "2000.5"), "--cases: "),
        (("tolerance", *USUAL, "--cases", "2,000"), "--cases: "),
        (("tolerance", *USUAL, "--cases", "many"), "--cases: "),
        (("tolerance", *USUAL, "--tol-flow", "100 %"), "--tol-flow: "),
        (("cycle", *USUAL, "--tank", "usual + usual"), "--tank: "),
        (("cycle", *USUAL, "--motor", "fast"), "--motor"),
        (("cycle", *USUAL, "--motor", "nema_two_pole"), "--motor-power: "),
        (("cycle", *USUAL, "--motor", "own"), "--own-starts-hour: "),
        (("cycle", *USUAL, "--motor", "public_system", "--own-rest", "9 s"),
         "--own-rest: goes only with --motor own"),
        (("cycle", *USUAL, "--steady-draw", "-1 gpm"), "--steady-draw: "),
        (("demand", *USUAL, "--method", "guess"), "--method"),
        (("demand", *USUAL, "--method", "typed"), "--peak-demand: "),
        (("demand", *USUAL, "--method", "bedrooms", "--peak-demand", "9 gpm"),
         "--peak-demand: goes only with --method typed"),
        (("demand", *USUAL, "--bathrooms", "1.3", "--method", "seven_minutes"), "--bathrooms: "),
        (("header", *USUAL), "--header-set, --plain-volume"),
        (("header", *USUAL, "--header-set", "44 gal"), "--header-set: "),
        (("header", *USUAL, "--header-set", "44 gal 60 psi"), "--header-set: "),
        (("drive", *DRIVE, "--drive-wake", "61 psi"), "--drive-wake: "),
        (("drive", *DRIVE, "--tank", "small", "--drive-set", "120 psi"), "--tank: "),
    ],
)  # fmt: skip
def test_what_cannot_be_used_is_refused(
    arguments: tuple[str, ...], why: str, refused: Refused, catalog: Path
) -> None:
    assert why in refused(*arguments, "--catalog", catalog)


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (("pump", *BAND), ["--pump-flow"]),
        (("pump", "--pump-flow", "9 gpm"), ["--cut-in", "--cut-out"]),
        (("pump", *BAND, "--pump", "curve"), ["--curve", "--water-level"]),
        (("cycle", "--pump-flow", "9 gpm", *BAND), ["--run-time"]),
        (("cycle", *BAND, "--tank", "usual"), ["--pump-flow"]),
        (("day", "--pump-flow", "9 gpm", *BAND), ["--run-time"]),
        (("demand", "--pump-flow", "9 gpm", *BAND), ["--run-time"]),
        (("header", *SET, *BAND), ["--pump-flow", "--run-time"]),
        (("header", "--plain-volume", "82 gal"), ["--cut-in", "--cut-out"]),
        (("drive", *DRIVE[:-2]), ["--drive-ramp"]),
        (("drive",), ["--drive-set", "--drive-wake", "--drive-share", "--drive-tank"]),
        (("tolerance", "--pump-flow", "9 gpm", *BAND, "--tank", "usual"), ["--run-time"]),
    ],
)
def test_a_missing_option_is_named_and_no_default_taken(
    arguments: tuple[str, ...], named: list[str], refused: Refused, catalog: Path
) -> None:
    line = refused(*arguments, "--catalog", catalog)
    assert "these options are needed: " in line
    assert all(option in line for option in named)


def test_a_saved_job_without_the_makers_statements_is_refused(
    refused: Refused, catalog: Path, tmp_path: Path
) -> None:
    path = tmp_path / "site.tankjob.json"
    document.write(Job().changed(drive_set="60 psi"), path)
    line = refused("drive", path, "--catalog", catalog)
    assert "--drive-wake, " in line
    assert "--drive-set" not in line


def test_a_catalogue_without_tanks_is_refused(refused: Refused, run: Run, catalog: Path) -> None:
    header = catalog.read_text(encoding="utf-8").splitlines(keepends=True)[0]
    catalog.write_text(header, encoding="utf-8")
    for name in ("cycle", "day", "tolerance"):
        assert "tank" in refused(name, *ASKED[name], "--catalog", catalog)


def test_no_caution_stands_about_a_minimum_run_that_nobody_entered(run: Run, catalog: Path) -> None:
    asked = ("pump", "--pump-flow", "30 gpm", *BAND, "--catalog", catalog)
    assert "Shorter than the usual" not in run(*asked).out
    assert "Shorter than the usual 2 min" in run(*asked, "--run-time", "1 min").out


LEADS = {
    "pump": "One flow does not tell whether the pump reaches cut-out",
    "cycle": "Invented 85: drawdown 25.1 gal",
    "day": "Day 1: the house draws ",
    "demand": "Peak demand 11.0 gpm. One gpm per outlet",
    "header": "Together 17.6 gal; 18.9 gal with 28.0 psi in every tank",
    "drive": "Too little: reserve 0.8 gal, at wake 0.2 gal, drawn until at speed 0.4 gal",
    "tolerance": "Required run 1.00 min; 1000 cases",
}


@pytest.mark.parametrize("name", ASKED)
def test_the_text_leads_with_the_answer(name: str, run: Run, catalog: Path) -> None:
    tank = ("--tank", "usual") if name == "cycle" else ()
    ran = run(name, *ASKED[name], *tank, "--catalog", catalog)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith(LEADS[name])


def test_names_of_options_lead_back_to_their_entries() -> None:
    for name in (*CHOICES, "first_tank", "second_tank"):
        assert option_of(name) == "--" + place_of(name).replace("_", "-")
