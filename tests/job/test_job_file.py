"""The job's file: written and read back the same, and refused with a reason when it is not one."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.job import document, sealed
from workbench.job.document import JobError
from workbench.job.job import SCHEMA_VERSION, Job
from workbench.safe_file import SaveError
from workbench.units import Unread


def content(**changes: Any) -> bytes:
    """The file of a new job with some entries replaced, as another program may write it."""
    entries = json.loads(document.to_bytes(Job())) | changes
    del entries["checksum"]
    return json.dumps(entries).encode()


def refusal(data: bytes) -> JobError:
    with pytest.raises(JobError) as refused:
        document.from_bytes(data, "site.json")
    assert refused.value.remedy
    assert "site.json" in str(refused.value)
    return refused.value


def busy_job() -> Job:
    return Job().changed(
        title="Ø 20 in – “quoted”\nsecond line",
        cut_in="2,10 bar",
        cut_out="3.50 bar",
        bands="2/3,5; 3/4,5 bar",
        headroom="1.95 m",
        door_width="28,5 in",
        reading_temperature="70 f",
        pump_flow="ten gpm",
        pump_entry="curve",
        curve="0 gpm; 280 ft",
        header_set="44 gal @ 28 psi\n85 imp gal\t2,1 bar",
        pipe_size="1-1/4",
        fittings="12,5 percent",
        daily_use="250 gpd",
    )


def test_what_is_written_is_read_and_written_again_byte_by_byte(tmp_path: Path) -> None:
    for number, job in enumerate((Job(), busy_job())):
        path = tmp_path / f"{number}.tankjob.json"
        document.write(job, path)
        first = path.read_bytes()
        read = document.read(path)
        document.write(read, path)
        assert path.read_bytes() == first == document.to_bytes(job)


def test_a_job_of_readable_entries_is_read_back_equal(tmp_path: Path) -> None:
    job = busy_job().changed(pump_flow="10 gpm", curve="0 gpm 280 ft; 5 gpm 262 ft; 9 gpm 230 ft")
    document.write(job, tmp_path / "a")
    assert document.read(tmp_path / "a") == job


def test_the_file_is_plain_text_with_one_input_to_a_line() -> None:
    lines = document.to_bytes(busy_job()).decode("utf-8").splitlines()
    assert ' "cut_in": "2.10 bar",' in lines
    assert ' "door_width": "28.5 in",' in lines
    assert ' "reading_temperature": "70 °F",' in lines
    assert ' "header_set": "44 gal 28 psi\\n85 imp gal 2.1 bar",' in lines
    assert ' "fittings": "12.5 %",' in lines
    assert ' "pipe_size": "1-1/4",' in lines
    assert any("Ø 20 in" in line for line in lines)


@pytest.mark.parametrize("text", ["ten gpm", "1,500 gpm", "", " 10", "x" * 5000, "10 \ud800gpm"])
def test_a_text_that_could_not_be_read_survives_any_number_of_saves(text: str) -> None:
    job = Job().changed(pump_flow=Unread(text, "it could not be read", "type it again"))
    data = document.to_bytes(job)
    for _ in range(3):
        job = document.from_bytes(data, "site.json")
        assert isinstance(job.pump_flow, Unread)
        assert job.pump_flow.text == text
        assert job.pump_flow.why
        assert job.pump_flow.remedy
        assert document.to_bytes(job) == data


def test_a_text_in_the_file_that_cannot_be_read_becomes_an_entry_that_says_so() -> None:
    job = document.from_bytes(content(cut_in="30 psia", pump_flow="10 gal"), "site.json")
    assert isinstance(job.cut_in, Unread)
    assert "absolute" in job.cut_in.why
    assert isinstance(job.pump_flow, Unread)


def test_a_byte_order_mark_does_no_harm() -> None:
    assert document.from_bytes(b"\xef\xbb\xbf" + document.to_bytes(Job()), "site.json") == Job()


def test_no_default_is_put_in_the_place_of_an_entry_that_is_left_out() -> None:
    bare = json.dumps({"format": document.FORMAT, "schema_version": 1}).encode()
    assert "lacks these entries: pump_flow, " in str(refusal(bare))
    assert "cut_in and 15 more." in str(refusal(bare))
    entries = json.loads(document.to_bytes(Job()))
    del entries["altitude"], entries["checksum"]
    assert "lacks these entries: altitude." in str(refusal(json.dumps(entries).encode()))


@pytest.mark.parametrize("old_new", [("10 gpm", "30 gpm"), ("50 psi", "58 psi"), ("true", "null")])
def test_a_flipped_bit_is_no_other_job(old_new: tuple[str, str]) -> None:
    old, new = (text.encode() for text in old_new)
    data = document.to_bytes(Job())
    assert old in data
    message = str(refusal(data.replace(old, new, 1)))
    assert "damaged, or changed outside this program" in message
    assert "remove its line “checksum”" in message


def test_a_job_of_another_layout_is_the_same_job() -> None:
    entries = json.loads(document.to_bytes(Job()))
    shuffled = dict(sorted(entries.items(), reverse=True))
    assert document.from_bytes(json.dumps(shuffled).encode(), "site.json") == Job()


def test_a_job_that_could_not_be_read_again_is_not_saved(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sealed, "LARGEST_FILE", 500)
    with pytest.raises(SaveError, match="too large"):
        document.write(Job(), tmp_path / "a")
    assert not (tmp_path / "a").exists()


@pytest.mark.parametrize("version", [SCHEMA_VERSION + 1, SCHEMA_VERSION + 2, 10**9])
def test_a_newer_version_is_refused_and_says_so(version: int) -> None:
    error = refusal(content(schema_version=version))
    assert "newer version" in error.message
    assert "not changed" in error.remedy


@pytest.mark.parametrize("version", [0, -1, "1", 1.0, True, None])
def test_a_file_without_a_usable_version_is_refused(version: Any) -> None:
    assert "which version" in refusal(content(schema_version=version)).message


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"{}",
        b"[]",
        b"null",
        b'"text"',
        b'{"format": "another job", "schema_version": 1}',
        b'{"schema_version": 1}',
    ],
)
def test_a_file_of_another_kind_is_refused(data: bytes) -> None:
    message = refusal(data).message
    assert "not a job" in message if data else "damaged" in message


def _good() -> bytes:
    return document.to_bytes(Job())


@pytest.mark.parametrize(
    "data",
    [
        _good()[:-3],
        _good()[: len(_good()) // 2],
        _good() + b"}",
        _good().replace(b'"demo": false', b'"demo": NaN'),
        _good().replace(b'"header_tanks": 1', b'"header_tanks": Infinity'),
        _good().replace(b'"header_tanks": 1', b'"header_tanks": ' + b"9" * 5000),
        _good().replace(b'"demo": false', b'"demo": false, "demo": true'),
        _good().replace(b'"10 gpm"', b'{"unread": "a", "unread": "b"}'),
        _good().replace(b"30 psi", b"30 \xff psi"),
        b"\x00" * 100,
        b"[" * 100_000,
        b'{"format":' * 50_000,
    ],
    ids=range(12),
)
def test_a_damaged_file_is_refused(data: bytes) -> None:
    assert "damaged" in refusal(data).message


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ({"cut_in": 30}, "cut_in"),
        ({"cut_in": None}, "cut_in"),
        ({"bands": None}, "bands"),
        ({"bands": ["30/50"]}, "bands"),
        ({"cut_in": {"unread": 5}}, "cut_in"),
        ({"cut_in": {"unread": "5", "why": "?"}}, "cut_in"),
        ({"order": "dearest"}, "order"),
        ({"curve": [["0 gpm", "280 ft"]]}, "curve"),
        ({"pump_entry": "guess"}, "pump_entry"),
        ({"pipe_size": 1}, "pipe_size"),
        ({"motor_limit": None}, "motor_limit"),
        ({"fittings": None}, "fittings"),
        ({"seed": 1}, "seed"),
        ({"mixed_sets": "perhaps"}, "mixed_sets"),
        ({"first_tank": None}, "first_tank"),
        ({"header_tanks": 9}, "header_tanks"),
        ({"title": 5}, "title"),
        ({"title": "x" * 4001}, "title"),
        ({"surprise": 1}, "surprise"),
        ({"catalog": {"file": "a.csv"}}, "catalog.tanks"),
        ({"catalog": {"file": "a.csv", "tanks": [{"id": "a"}]}}, "catalog.tanks.0.name"),
    ],
)
def test_an_entry_that_cannot_be_used_is_named(changes: dict[str, Any], named: str) -> None:
    assert f"{named}: " in refusal(content(**changes)).message


def test_many_bad_entries_are_told_without_end_of_list() -> None:
    odd = {f"odd_{number}": 1 for number in range(20)}
    message = refusal(content(**odd)).message
    assert "and 15 more" in message
    assert len(message) < 1000


def test_a_missing_file_is_refused_with_its_name(tmp_path: Path) -> None:
    with pytest.raises(JobError, match=r"nowhere\.json") as refused:
        document.read(tmp_path / "nowhere.json")
    assert refused.value.remedy not in refused.value.message  # not said twice


def test_a_folder_is_no_job(tmp_path: Path) -> None:
    with pytest.raises(JobError):
        document.read(tmp_path)


ENTRIES = st.text(max_size=40)
LINES = st.text(alphabet="0123456789.,;@ \t\n\rgpmft-", max_size=80)


@settings(max_examples=100, deadline=None, derandomize=True, database=None)
@given(ENTRIES, ENTRIES, ENTRIES, st.text(max_size=80), st.one_of(LINES, st.text(max_size=80)))
def test_whatever_was_typed_is_saved_and_read_the_same(
    flow: str, band: str, door: str, title: str, curve: str
) -> None:
    job = Job().changed(pump_flow=flow, bands=band, door_width=door, title=title, curve=curve)
    data = document.to_bytes(job)
    again = document.from_bytes(data, "site.json")
    assert document.to_bytes(again) == data
    assert again.title == title
    for name in ("pump_flow", "bands", "door_width", "curve"):
        before, after = getattr(job, name), getattr(again, name)
        if isinstance(before, Unread):
            assert isinstance(after, Unread)
            assert after.text == before.text
        else:
            assert after == before
