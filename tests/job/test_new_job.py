"""A new job, its edits, and the description of every input."""

from __future__ import annotations

import json
from dataclasses import FrozenInstanceError
from typing import Any

import pytest

from workbench.job.checking import UnfitError, json_schema
from workbench.job.choices import (
    Order,
    PrechargeRule,
    RunTimeRule,
    orders,
    precharge_rules,
    run_time_rules,
)
from workbench.job.fields import fields, sizing_fields
from workbench.job.house_choices import DemandMethod, demand_methods
from workbench.job.job import SCHEMA_VERSION, Job
from workbench.job.labels import label_of
from workbench.job.options import option
from workbench.job.paper_choices import (
    Answer,
    Copy,
    Currency,
    ItemKind,
    MoneyForm,
    Paper,
    Rounding,
    SolveFor,
    TankPrice,
    WorkKind,
    answers,
    copies,
    currencies,
    item_kinds,
    money_forms,
    papers,
    roundings,
    solve_fors,
    tank_prices,
    work_kinds,
)
from workbench.job.pump_choices import (
    MotorLimit,
    PipeMaterial,
    PipeSize,
    PumpEntry,
    motor_limits,
    pipe_materials,
    pipe_sizes,
    pump_entries,
)
from workbench.job.teach_choices import (
    Degree,
    Fault,
    SheetFor,
    degrees,
    faults,
    sheets_for,
)
from workbench.job.texts import LARGEST_PICTURE, LONGEST_TEXT, texts
from workbench.physics.pipe import PIPES
from workbench.units import PRESSURE, Bands, Kind, Pairs, Quantity, Unread, parse

CHOSEN = {
    *("run_time_rule", "precharge_rule", "potable_required", "header_tanks", "mixed_sets", "order"),
    *("pump_entry", "pipe_material", "pipe_size", "motor_limit", "demand_method"),
    *("solve_for", "currency", "money_form", "paper", "prices_invented", "tank_price"),
    *("tank_taxed", "rounding", "work_kind", "permit", "licence", "copy_for"),
    *("fault", "degree", "sheet_for"),
    *(name for name in Job.entries() if name.startswith(("with_", "topic_"))),
}
IN_FREE_WORDS = set(texts())
BANDS = {"bands", "offer_a_band", "offer_b_band", "offer_c_band"}
TANKS = {"first_tank", "second_tank", "offer_a_tank", "offer_b_tank", "offer_c_tank"}
WHOLE = {"firm_logo", "prices", "counts", "revisions", "catalog"}
NO_INPUT = {"schema_version", "demo", "title"}
NOT_A_QUANTITY = CHOSEN | IN_FREE_WORDS | BANDS | TANKS | WHOLE | NO_INPUT


def test_a_new_job_has_the_usual_values_and_is_no_demo() -> None:
    job = Job()
    texts = {
        name: str(value) for name in fields() if isinstance(value := getattr(job, name), Quantity)
    }
    assert texts == {
        "pump_flow": "10 gpm",
        "run_time": "1 min",
        "starts_limit": "6 /h",
        "cut_in": "30 psi",
        "cut_out": "50 psi",
        "precharge": "28 psi",
        "altitude": "0 ft",
        "tank_temperature": "55 °F",
        "exponent": "1.0",
        "pressure_margin": "15 psi",
        "fittings": "25 %",
        "steady_draw": "5 gpm",
        "people": "4",
        "bedrooms": "3",
        "bathrooms": "2",
        "toilets": "2",
        "basins": "2",
        "tubs": "2",
        "showers": "0",
        "kitchen_sinks": "1",
        "dishwashers": "1",
        "washers": "1",
        "laundry_sinks": "0",
        "hose_bibs": "2",
        "leak": "0 gal/d",
        "irrigation_start": "5",
        "seed": "1",
        "tol_gauge": "2 psi",
        "tol_switch_in": "2 psi",
        "tol_switch_out": "2 psi",
        "tol_precharge": "1 psi",
        "tol_temperature": "10 °F",
        "tol_flow": "10 %",
        "tol_bucket": "0.25 gal",
        "tol_watch": "1 s",
        "solve_volume": "44 gal",
        "markup": "0 %",
        "tax": "0 %",
        "valid_days": "30",
        "line_give": "0.005 gal",
        "start_delay": "1 s",
        "exercise_seed": "1",
        "exercise_count": "10",
    }
    assert job.pump_entry is PumpEntry.CONSTANT
    assert not job.mixed_sets
    assert isinstance(job.bands, Bands)
    assert [band.name for band in job.bands.bands] == ["20/40", "30/50", "40/60", "50/70"]
    assert job.precharge_rule is PrechargeRule.BELOW_2
    assert not job.demo
    assert job.catalog is None
    assert job.prices == job.counts == job.revisions == ()
    assert {getattr(job, name) for name in IN_FREE_WORDS} == {""}
    assert job.firm_logo == ""
    ticked = {name for name in CHOSEN if name.startswith("with_") and getattr(job, name)}
    assert len(ticked) == 11
    assert "with_working" not in ticked


def test_every_input_that_is_typed_has_a_description() -> None:
    assert set(Job.entries()) - NOT_A_QUANTITY == set(fields())


def test_a_default_is_of_the_described_kind_or_may_be_empty() -> None:
    job = Job()
    for name, field in fields().items():
        value = getattr(job, name)
        if value is None:
            assert field.empty, name
        else:
            assert value.unit in field.one.units, name
            assert not field.empty, name
        assert field.label
        assert field.help.endswith(".")
        assert label_of(name) == field.label


def test_entries_that_are_no_quantities_have_labels_too() -> None:
    assert label_of("bands") == "Bands drawn"
    assert label_of("motor_limit") == "Limit"
    assert label_of("no such entry") == "no such entry"


@pytest.mark.parametrize("name", sorted(IN_FREE_WORDS))
def test_every_free_text_has_a_label_and_says_what_belongs_in_it(name: str) -> None:
    entry = texts()[name]
    assert label_of(name) == entry.label
    assert entry.help.endswith(".")
    assert entry.lines >= 1
    longest = "x" * LONGEST_TEXT
    assert getattr(Job().changed(**{name: longest}), name) == longest


@pytest.mark.parametrize(
    ("choices", "members"),
    [
        (solve_fors(), SolveFor),
        (faults(), Fault),
        (degrees(), Degree),
        (sheets_for(), SheetFor),
        (work_kinds(), WorkKind),
        (item_kinds(), ItemKind),
        (tank_prices(), TankPrice),
        (roundings(), Rounding),
        (currencies(), Currency),
        (money_forms(), MoneyForm),
        (answers(), Answer),
        (copies(), Copy),
        (papers(), Paper),
    ],
)
def test_every_choice_of_the_papers_has_a_label_of_its_own(
    choices: dict[Any, Any], members: Any
) -> None:
    assert set(choices) == set(members)
    assert len({choice.label for choice in choices.values()}) == len(choices)
    assert all(choice.label for choice in choices.values())


@pytest.mark.parametrize(
    ("choices", "members"),
    [
        (run_time_rules(), RunTimeRule),
        (precharge_rules(), PrechargeRule),
        (orders(), Order),
        (pump_entries(), PumpEntry),
        (pipe_materials(), PipeMaterial),
        (motor_limits(), MotorLimit),
        (demand_methods(), DemandMethod),
    ],
)
def test_every_choice_says_what_it_rests_on(choices: dict[Any, Any], members: Any) -> None:
    assert set(choices) == set(members)
    assert len({choice.label for choice in choices.values()}) == len(choices)
    assert all(choice.source for choice in choices.values())
    assert not any("{" in choice.source for choice in choices.values())


def test_every_pipe_that_can_be_chosen_has_a_bore_and_a_roughness() -> None:
    assert {material.value for material in PipeMaterial} == set(PIPES)
    assert set(pipe_sizes()) == set(PipeSize)
    for material, choice in pipe_materials().items():
        pipe = PIPES[material.value]
        assert set(pipe.bores) == {size.value for size in PipeSize}
        assert choice.label.endswith(f"C {pipe.roughness_c:g}")


@pytest.mark.parametrize("name", sorted(CHOSEN))
def test_every_input_that_is_chosen_has_a_label_and_its_choices(name: str) -> None:
    one = option(name)
    assert one.name == name
    assert one.label or one.tick
    assert label_of(name) == (one.label or one.tick)
    value = getattr(Job(), name)
    if one.labels:
        assert value in one.labels
        assert len(set(one.labels.values())) == len(one.labels)
        for choice in one.labels:
            assert getattr(Job().changed(**{name: choice}), name) == choice
    else:
        assert isinstance(value, bool)
        assert one.tick


def test_every_entry_is_of_one_sort_and_nothing_else_is_chosen() -> None:
    sorts = (CHOSEN, IN_FREE_WORDS, BANDS, TANKS, WHOLE, NO_INPUT, set(fields()))
    assert sorted(name for sort in sorts for name in sort) == sorted(Job.entries())
    with pytest.raises(KeyError):
        option("pump_flow")


def test_a_source_that_several_choices_share_is_told_with_each_label() -> None:
    text = option("motor_limit").help
    for choice in motor_limits().values():
        assert text.count(f"{choice.label}: ") == 1


def test_a_list_is_no_single_quantity() -> None:
    lists = {name for name, field in fields().items() if not isinstance(field.kind, Kind)}
    assert lists == {"curve", "header_set"}
    for name in lists:
        with pytest.raises(TypeError, match=name):
            _ = fields()[name].one


def test_sizing_reads_the_bench_the_pump_and_the_well() -> None:
    names = set(sizing_fields())
    assert names < set(fields())
    assert {"pump_flow", "headroom", "curve", "well_yield", "fittings"} <= names
    assert not {"motor_power", "people", "tol_flow", "drive_set", "header_set"} & names


def test_a_job_cannot_be_changed_only_replaced() -> None:
    job = Job()
    with pytest.raises(FrozenInstanceError):
        job.title = "another"
    other = job.changed(title="another", cut_in=parse("40 psi", PRESSURE))
    assert (job.title, other.title) == ("", "another")
    assert str(other.cut_in) == "40 psi"
    assert other.changed(title="", cut_in=job.cut_in) == job


@pytest.mark.parametrize(
    "change",
    [
        {"header_tanks": 0},
        {"header_tanks": 4},
        {"title": "x" * 4001},
        {"cut_in": 30},
        {"cut_in": None},
        {"pump_flow": None},
        {"altitude": None},
        {"bands": None},
        {"unheard_of": 1},
        {"order": "dearest first"},
        {"schema_version": SCHEMA_VERSION - 1},
        {"schema_version": SCHEMA_VERSION + 1},
        {"pump_entry": "guess"},
        {"pipe_size": "1 in"},
        {"demand_method": 1},
        {"curve": 5},
        {"steady_draw": None},
        {"mixed_sets": None},
        {"first_tank": "x" * 4001},
        {"firm_name": "x" * 4001},
        {"firm_logo": "x" * (LARGEST_PICTURE + 1)},
        {"firm_name": None},
        {"clause_payment": 5},
        {"currency": "XYZ"},
        {"paper": "a5"},
        {"prices": None},
        {"prices": [{"code": "tee"}]},
        {"prices": [{"code": "tee", "name": "Tee", "colour": "red"}]},
        {"counts": [{"code": "tee", "quantity": 2}]},
        {"markup": None},
        {"with_plot": None},
        {"revisions": [{"number": 1}]},
    ],
)
def test_a_change_is_checked_as_when_a_file_is_read(change: dict[str, Any]) -> None:
    with pytest.raises(UnfitError):
        Job().changed(**change)


@pytest.mark.parametrize(
    "name", ["reading_temperature", "reading_altitude", "door_width", "headroom", "highest_fixture"]
)
def test_what_may_be_empty_can_be_emptied_again(name: str) -> None:
    text = "70 °F" if "temperature" in name else "40 in"
    filled = Job().changed(**{name: text})
    assert str(getattr(filled, name)) == text
    assert filled.changed(**{name: None}) == Job()


def test_a_text_that_cannot_be_read_is_kept_with_its_reason() -> None:
    job = Job().changed(cut_in="thirty psi", bands="low/high")
    assert isinstance(job.cut_in, Unread)
    assert job.cut_in.text == "thirty psi"
    assert "no number" in job.cut_in.why
    assert job.cut_in.remedy
    assert isinstance(job.bands, Unread)


def test_a_list_with_one_line_that_cannot_be_read_is_kept_whole() -> None:
    job = Job().changed(curve="0 gpm 280 ft\n5 gpm", header_set="44 gal 28 psi\r\n20 gal 28 psi")
    assert isinstance(job.curve, Unread)
    assert job.curve.text == "0 gpm 280 ft\n5 gpm"
    assert "Line 2" in job.curve.why
    assert isinstance(job.header_set, Pairs)
    assert str(job.header_set) == "44 gal 28 psi\n20 gal 28 psi"
    assert job.changed(curve=None, header_set=None) == Job()


def test_the_jobs_json_schema_describes_its_own_files() -> None:
    schema = json_schema()
    json.dumps(schema, allow_nan=False)
    assert set(schema["properties"]) == set(Job.entries())
    assert schema["additionalProperties"] is False
    for name, field in fields().items():
        allowed = [option.get("type") for option in schema["properties"][name]["anyOf"]]
        assert allowed == ["string", "object", *(["null"] if field.empty else [])], name
