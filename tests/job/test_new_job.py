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
from workbench.job.fields import fields, label_of
from workbench.job.job import Job
from workbench.units import PRESSURE, Bands, Quantity, Unread, parse

NOT_ENTERED_AS_TEXT = {
    "schema_version",
    "demo",
    "title",
    "run_time_rule",
    "bands",
    "precharge_rule",
    "potable_required",
    "header_tanks",
    "order",
    "catalog",
}


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
    }
    assert isinstance(job.bands, Bands)
    assert [band.name for band in job.bands.bands] == ["20/40", "30/50", "40/60", "50/70"]
    assert job.precharge_rule is PrechargeRule.BELOW_2
    assert not job.demo
    assert job.catalog is None


def test_every_input_that_is_typed_has_a_description() -> None:
    assert set(Job.entries()) - NOT_ENTERED_AS_TEXT == set(fields())


def test_a_default_is_of_the_described_kind_or_may_be_empty() -> None:
    job = Job()
    for name, field in fields().items():
        value = getattr(job, name)
        if value is None:
            assert field.empty, name
        else:
            assert value.unit in field.kind.units, name
            assert not field.empty, name
        assert field.label
        assert field.help.endswith(".")
        assert label_of(name) == field.label


def test_a_name_that_is_no_quantity_is_its_own_label() -> None:
    assert label_of("bands") == "bands"


@pytest.mark.parametrize(
    ("choices", "members"),
    [(run_time_rules(), RunTimeRule), (precharge_rules(), PrechargeRule), (orders(), Order)],
)
def test_every_choice_says_what_it_rests_on(choices: dict[Any, Any], members: Any) -> None:
    assert set(choices) == set(members)
    assert len({choice.label for choice in choices.values()}) == len(choices)
    assert all(choice.source for choice in choices.values())


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
        {"schema_version": 2},
    ],
)
def test_a_change_is_checked_as_when_a_file_is_read(change: dict[str, Any]) -> None:
    with pytest.raises(UnfitError):
        Job().changed(**change)


@pytest.mark.parametrize(
    "name", ["reading_temperature", "reading_altitude", "door_width", "headroom"]
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


def test_the_jobs_json_schema_describes_its_own_files() -> None:
    schema = json_schema()
    json.dumps(schema, allow_nan=False)
    assert set(schema["properties"]) == set(Job.entries())
    assert schema["additionalProperties"] is False
    for name, field in fields().items():
        allowed = [option.get("type") for option in schema["properties"][name]["anyOf"]]
        assert allowed == ["string", "object", *(["null"] if field.empty else [])], name
