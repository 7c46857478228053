"""The demo catalogue, and the schema that describes catalogues to other programs."""

from __future__ import annotations

import datetime
import json
import re
from collections import Counter
from math import pi

import pytest

from tests.catalog.samples import GAL, INCH, LB, PSI
from workbench import paths
from workbench.catalog.headers import FLAGS, OUR_HEADER, required
from workbench.catalog.rules import MEASURES
from workbench.catalog.schema import schema_text, table_schema
from workbench.catalog.table import read_catalog
from workbench.catalog.tank import Tank, TankKind
from workbench.physics.air import absolute, ambient_pressure, gauge_pressure
from workbench.physics.tank import drawdown

FIELDS = {field["name"]: field for field in table_schema()["fields"]}


@pytest.fixture(scope="module")
def tanks() -> tuple[Tank, ...]:
    catalog = read_catalog(paths.default_catalog())
    assert catalog.all_problems == ()
    assert catalog.notes == ()
    return catalog.tanks


def test_the_schema_file_is_what_the_model_says() -> None:
    file = paths.shipped_catalogs() / "tanks.schema.json"
    assert file.read_text(encoding="utf-8") == schema_text()


def test_the_schema_has_what_the_standard_wants() -> None:
    schema = json.loads(schema_text())
    assert schema["$schema"].endswith("/profiles/2.0/tableschema.json")
    assert schema["primaryKey"] == ["id"]
    assert schema["missingValues"] == [""]
    assert list(FIELDS) == list(OUR_HEADER.values())
    types = {"string", "number", "boolean", "date"}
    for field in schema["fields"]:
        assert field["type"] in types
        assert field["title"]
        assert field["description"].endswith(".")
        assert {"required"} <= field["constraints"].keys()


def test_the_schema_tells_units_bounds_and_choices() -> None:
    volume = FIELDS["total_volume_gal"]
    assert volume["unit"] == "gal"
    assert volume["constraints"] == {"required": True, "exclusiveMinimum": 0.0, "maximum": 5000.0}
    assert FIELDS["factory_precharge_psi"]["constraints"]["minimum"] == 0.0
    assert FIELDS["factory_precharge_psi"]["constraints"]["maximum"] == 600.0
    assert FIELDS["kind"]["constraints"]["enum"] == [kind.value for kind in TankKind]
    assert FIELDS["id"]["constraints"]["unique"] is True
    assert FIELDS["price_usd"]["unit"] == "USD"
    assert FIELDS["price_usd"]["type"] == "number"
    assert FIELDS["date"]["type"] == "date"
    assert {f for f in OUR_HEADER if FIELDS[OUR_HEADER[f]]["type"] == "boolean"} == FLAGS
    assert {f for f in OUR_HEADER if "unit" in FIELDS[OUR_HEADER[f]]} == {*MEASURES, "price"}
    assert {f for f in OUR_HEADER if FIELDS[OUR_HEADER[f]]["constraints"]["required"]} == required()


def test_the_demo_says_on_every_row_that_it_is_invented(tanks: tuple[Tank, ...]) -> None:
    assert len(tanks) >= 44
    assert {tank.source for tank in tanks} == {"invented for the demo"}
    assert paths.default_catalog().name.startswith("demo-")
    assert all(tank.date and tank.date >= datetime.date(2026, 1, 1) for tank in tanks)
    # A day above the 12th tells month from day even if a spreadsheet rewrites the dates.
    assert all(tank.date and tank.date.day > 12 for tank in tanks)


def test_the_demo_names_follow_one_scheme_of_our_own(tanks: tuple[Tank, ...]) -> None:
    letters = {"vertical": "V", "horizontal": "H", "in-ground": "G"}
    for tank in tanks:
        match = re.fullmatch(r"([A-Z][a-z]+) (\d+) ([VHG])", tank.name)
        assert match
        assert int(match[2]) == pytest.approx(tank.total_volume / GAL)
        assert match[3] == letters[tank.kind.value.split()[1]]
        assert tank.id == tank.name.lower().replace(" ", "-")


def test_the_demo_is_varied_enough_to_show_every_finding(tanks: tuple[Tank, ...]) -> None:
    kinds = Counter(tank.kind for tank in tanks)
    assert set(kinds) == set(TankKind)
    assert min(kinds.values()) >= 3
    volumes = sorted(tank.total_volume / GAL for tank in tanks)
    assert (round(volumes[0]), round(volumes[-1])) == (2, 120)
    for wanted in (20, 32, 40, 52, 62, 80, 85, 100, 120):
        assert any(abs(volume - wanted) < 0.5 for volume in volumes)
    assert {round(t.max_working_pressure / PSI) for t in tanks} == {75, 100, 125, 150}
    precharges = {round(t.factory_precharge / PSI) for t in tanks}
    assert (min(precharges), max(precharges)) == (18, 40)
    for flag in FLAGS:
        assert {getattr(t, flag) for t in tanks} == {True, False, None}
    for field in ("acceptance", "highest_precharge", "empty_weight", "price"):
        assert 0 < sum(getattr(t, field) is None for t in tanks) < len(tanks) / 2
    assert sum(bool(t.acceptance and t.acceptance < 0.4 * t.total_volume) for t in tanks) >= 5


def test_the_demo_tanks_have_believable_shells(tanks: tuple[Tank, ...]) -> None:
    for tank in tanks:
        around = pi / 4 * tank.diameter**2 * tank.height
        assert 1.08 < around / tank.total_volume < 1.35
        assert 1.0 < tank.height / tank.diameter < 2.6
        if tank.empty_weight is not None:
            assert 0.8 < tank.empty_weight / LB / (tank.total_volume / GAL) < 5
        assert tank.height < 60 * INCH


def test_the_demo_has_a_tank_for_every_usual_drawdown(tanks: tuple[Tank, ...]) -> None:
    """From 5 to 40 gal at 20/40 in one tank; at 30/50 up to 32 gal in one, or more in several."""
    site = ambient_pressure(0.0)
    for cut_in, cut_out, most in ((20, 40, 40), (30, 50, 32)):
        precharge, low, high = (
            absolute(gauge_pressure(p * PSI), site) for p in (cut_in - 2, cut_in, cut_out)
        )
        given = sorted(
            float(drawdown(precharge, low, high, t.total_volume, t.acceptance or float("inf")))
            / GAL
            for t in tanks
        )
        for wanted in range(5, most + 1):
            enough = next(gallons for gallons in given if gallons >= wanted)
            assert enough < wanted * 1.25
