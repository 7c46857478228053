"""The firm's file: what every new job begins with; refused with a reason when it cannot be used."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import pytest

from workbench import paths
from workbench.job import document, firm, migrations, sealed
from workbench.job.firm import FIRM_ENTRIES, FirmError
from workbench.job.job import SCHEMA_VERSION, Job
from workbench.job.paper_choices import Currency, ItemKind
from workbench.safe_file import SaveError
from workbench.units import Unread

GOLDEN = Path(__file__).parent / "golden"


def golden_job() -> Job:
    """Every entry of it is another than a new job's."""
    return document.read(GOLDEN / "version-3.tankjob.json")


def content(**changes: Any) -> bytes:
    """The file of the golden job's firm with some entries replaced, as others may write it."""
    entries = json.loads(firm.to_bytes(golden_job())) | changes
    del entries["checksum"]
    return json.dumps(entries).encode()


def refusal(data: bytes) -> FirmError:
    with pytest.raises(FirmError) as refused:
        firm.from_bytes(data, "firm.json")
    assert refused.value.remedy
    assert "firm.json" in refused.value.message
    return refused.value


def test_every_entry_of_the_firm_is_one_of_the_job_and_named_once() -> None:
    assert set(FIRM_ENTRIES) <= set(Job.entries())
    assert len(set(FIRM_ENTRIES)) == len(FIRM_ENTRIES)
    firms = {name for name in Job.entries() if name.startswith(("firm_", "clause_", "with_"))}
    assert firms <= set(FIRM_ENTRIES)


def test_what_is_kept_is_read_back_and_written_again_byte_by_byte(tmp_path: Path) -> None:
    job = golden_job()
    firm.write_firm(job, tmp_path / "firm.json")
    first = (tmp_path / "firm.json").read_bytes()
    entries = firm.read_firm(tmp_path / "firm.json")
    assert set(entries) == set(FIRM_ENTRIES)
    again = Job().changed(**entries)
    firm.write_firm(again, tmp_path / "firm.json")
    assert (tmp_path / "firm.json").read_bytes() == first
    for name in set(FIRM_ENTRIES) - {"prices"}:
        assert entries[name] == getattr(job, name), name
    assert entries["prices"][0] == job.prices[0]
    assert isinstance(entries["prices"][1].cost, Unread)  # kept as typed, with a reason of today


def test_the_file_holds_what_is_the_firms_and_nothing_of_the_job() -> None:
    saved = json.loads(firm.to_bytes(golden_job()))
    assert set(saved) == {"format", "checksum", "schema_version", *FIRM_ENTRIES}
    text = firm.to_bytes(golden_job()).decode()
    for private in ("A customer (invented)", "The cabin", "golden-85", "It clicks."):
        assert private not in text


def test_the_file_that_comes_with_the_program_is_as_the_program_writes_it() -> None:
    shipped = firm.shipped_entries()
    job = Job().changed(**shipped)
    path = paths.resources() / "firm.json"
    assert firm.to_bytes(job) == path.read_bytes().replace(b"\r\n", b"\n")
    assert job.prices_invented
    assert not job.firm_name
    assert all(shipped[name] for name in FIRM_ENTRIES if name.startswith("clause_"))
    codes = [item.code for item in job.prices]
    assert len(set(codes)) == len(codes)
    assert {item.kind for item in job.prices} == set(ItemKind)
    assert not any(
        isinstance(value, Unread)
        for item in job.prices
        for value in (item.cost, item.price, item.hours)
    )


def test_a_new_job_begins_with_what_comes_with_the_program_until_the_firm_keeps_its_own() -> None:
    assert not firm.has_own_file()
    before = firm.new_job()
    assert firm.differing(before, firm.shipped_entries()) == ()
    firm.write_firm(golden_job(), firm.own_firm_path())
    assert firm.has_own_file()
    after = firm.new_job()
    assert after.firm_name == "Golden Well Works (invented)"
    assert after.currency is Currency.CAD
    others = set(Job.entries()) - set(FIRM_ENTRIES)
    assert {name: getattr(after, name) for name in others} == {
        name: getattr(Job(), name) for name in others
    }


def test_what_differs_is_named_in_its_order() -> None:
    job = firm.new_job()
    other = job.changed(clause_warranty="None.", markup="41 %", title="a job's own")
    assert firm.differing(other, firm.entries_of(job)) == ("markup", "clause_warranty")


def test_the_folder_is_made_and_a_folder_that_cannot_be_is_told(tmp_path: Path) -> None:
    firm.write_firm(Job(), tmp_path / "new" / "deep" / "firm.json")
    assert firm.read_firm(tmp_path / "new" / "deep" / "firm.json")["firm_name"] == ""
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    with pytest.raises(SaveError) as refused:
        firm.write_firm(Job(), tmp_path / "file" / "firm.json")
    assert "firm.json" in refused.value.message
    assert refused.value.remedy


def test_what_could_not_be_read_again_is_not_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sealed, "LARGEST_FILE", 500)
    with pytest.raises(SaveError, match="too large"):
        firm.write_firm(Job(), tmp_path / "firm.json")
    assert not (tmp_path / "firm.json").exists()


def test_a_missing_file_is_refused_with_its_name(tmp_path: Path) -> None:
    with pytest.raises(FirmError, match=r"firm\.json"):
        firm.read_firm(tmp_path / "firm.json")


@pytest.mark.skipif(sys.platform == "win32", reason="links need a right of their own there")
def test_a_file_that_is_a_link_to_nothing_is_none(tmp_path: Path) -> None:
    own = firm.own_firm_path()
    own.parent.mkdir(parents=True)
    own.symlink_to(tmp_path / "nowhere.json")
    assert not firm.has_own_file()
    assert firm.new_job().prices_invented


def test_a_job_is_no_firms_file_and_a_firms_file_no_job() -> None:
    assert "not a firm's file" in refusal(document.to_bytes(Job())).message
    with pytest.raises(document.JobError, match="not a job"):
        document.from_bytes(firm.to_bytes(Job()), "firm.json")


@pytest.mark.parametrize("data", [b"", b"{", b"\xff", b"[" * 100_000])
def test_a_damaged_file_is_refused(data: bytes) -> None:
    assert "damaged" in refusal(data).message


def test_a_flipped_digit_is_no_other_price() -> None:
    data = firm.to_bytes(golden_job())
    assert b"31.50" in data
    assert "damaged, or changed outside" in refusal(data.replace(b"31.50", b"37.50")).message


@pytest.mark.parametrize("version", [SCHEMA_VERSION + 1, 10**9])
def test_a_newer_version_is_refused_and_left_alone(version: int) -> None:
    error = refusal(content(schema_version=version))
    assert "newer version" in error.message
    assert "not changed" in error.remedy


@pytest.mark.parametrize("version", [2, 1, 0, "3", True, None])
def test_a_version_that_knew_no_firm_is_refused(version: Any) -> None:
    """Its steps would put empty texts in the place of what is missing, and nobody would know."""
    bare = json.dumps({"format": firm.FORMAT, "schema_version": version}).encode()
    assert "which version" in refusal(bare).message


def test_no_default_is_put_in_the_place_of_an_entry_that_is_left_out() -> None:
    entries = json.loads(content())
    del entries["markup"], entries["clause_payment"]
    told = refusal(json.dumps(entries).encode()).message
    assert "lacks these entries: markup, clause_payment." in told


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ({"surprise": 1}, "surprise"),
        ({"cut_in": "30 psi"}, "cut_in"),  # a job's, not the firm's: it would be lost in silence
        ({"title": "x"}, "title"),
        ({"firm_name": "x" * 4001}, "firm_name"),
        ({"firm_logo": None}, "firm_logo"),
        ({"currency": "XYZ"}, "currency"),
        ({"prices": [{"code": "tee"}]}, "prices.0.name"),
        ({"markup": 40}, "markup"),
        ({"with_plot": "perhaps"}, "with_plot"),
    ],
)
def test_an_entry_that_cannot_be_used_is_named(changes: dict[str, Any], named: str) -> None:
    message = refusal(content(**changes)).message
    assert "cannot be used" in message
    assert named in message


def test_a_file_of_an_older_version_takes_the_same_steps_as_a_job(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """As when a later version adds an entry of the firm and one of the job, and renames one."""

    def step(older: dict[str, Any]) -> dict[str, Any]:
        newer = {"clause_warranty": "as added", "lowest_fixture": "3 m"} | older
        newer["markup"] = newer.pop("surcharge")
        return newer | {"schema_version": SCHEMA_VERSION}

    entries = json.loads(firm.to_bytes(golden_job()))
    older = {name: entries[name] for name in entries if name not in ("clause_warranty", "checksum")}
    older["surcharge"] = older.pop("markup")
    older["schema_version"] = SCHEMA_VERSION - 1
    monkeypatch.setitem(migrations.STEPS, SCHEMA_VERSION - 1, step)
    monkeypatch.setattr(firm, "_FIRST_VERSION", SCHEMA_VERSION - 1)
    read = firm.from_bytes(json.dumps(older).encode(), "firm.json")
    assert set(read) == set(FIRM_ENTRIES)
    assert read["clause_warranty"] == "as added"
    assert str(read["markup"]) == "35 %"
    assert read["firm_name"] == "Golden Well Works (invented)"
    older["surprise"] = 1
    assert "surprise" in refusal(json.dumps(older).encode()).message
