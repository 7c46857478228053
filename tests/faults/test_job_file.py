"""The job's file, saved under every disturbance and read in every spoilt state."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.faults.harness import faulty_steps, full_disk, full_partition, fuzzed, killed
from workbench.catalog.tank import Tank, TankKind
from workbench.job import document, sealed
from workbench.job.job import CatalogSnapshot, Job
from workbench.units import LENGTH, Unread, parse

NAME = "Example, Site 7.tankjob.json"


def _tank(number: int, notes: str = "") -> Tank:
    return Tank(
        id=f"invented-{number}",
        name=f"Invented tank {number}",
        kind=TankKind.BLADDER_VERTICAL,
        total_volume=0.3,
        diameter=0.6,
        height=1.2,
        max_working_pressure=700e3,
        factory_precharge=260e3,
        notes=notes,
    )


def _job(title: str, tanks: int = 1, notes: str = "Ø 20 in") -> Job:
    rows = tuple(_tank(number, notes) for number in range(tanks))
    return Job(
        title=title,
        door_width=parse("30 in", LENGTH),
        precharge=Unread("28 or so", "it could not be read", "type it again"),
        catalog=CatalogSnapshot(file="tanks.csv", tanks=rows),
    )


SMALL_OLD, SMALL_NEW = Job(title="the old job"), _job("the new job")


def _large() -> tuple[Job, Job]:
    return _job("old", 800, "o" * 2000), _job("new", 1000, "n" * 2000)


def save(path: Path, job: Job) -> None:
    document.write(job, path)


def read(path: Path) -> bytes:
    """Read as the program does; whatever can be read must also be saved and read again."""
    job = document.read(path)
    data = document.to_bytes(job)
    if document.to_bytes(document.from_bytes(data, path.name)) != data:
        raise AssertionError("saved again, it is another job")
    return data


def seal(data: bytes) -> bytes:
    """Give spoilt content a right checksum, so that what lies behind the checksum is tried too."""
    if len(data) > 10**6:
        return data  # the memory that sealing takes would be counted as the reader's
    try:
        content = json.loads(data)
    except (ValueError, RecursionError):
        return data
    if not isinstance(content, dict) or "checksum" not in content:
        return data
    values = {key: content[key] for key in content if key not in {"checksum", "format"}}
    try:
        return json.dumps(content | {"checksum": sealed.checksum(values)}).encode()
    except RecursionError:
        return data


def test_a_kill_leaves_the_old_job_or_the_new_one(tmp_path: Path) -> None:
    old, new = _large()
    assert len(document.to_bytes(new)) > 2_000_000
    killed(save, old, new, tmp_path / NAME)


@pytest.mark.soak
def test_two_thousand_kills_leave_the_old_job_or_the_new_one(tmp_path: Path) -> None:
    killed(save, *_large(), tmp_path / NAME, times=2000)


def test_a_full_disk_at_any_byte_leaves_the_old_job_and_says_so(tmp_path: Path) -> None:
    full_disk(save, SMALL_OLD, SMALL_NEW, tmp_path / NAME)


def test_a_full_partition_leaves_the_old_job_and_says_so(tmp_path: Path) -> None:
    full_partition(save, SMALL_OLD, _job("new", 60, "n" * 2000), tmp_path / NAME)


def test_a_fault_in_any_step_leaves_the_old_job_or_the_new_one(tmp_path: Path) -> None:
    faulty_steps(save, SMALL_OLD, SMALL_NEW, tmp_path / NAME)


@pytest.mark.parametrize("job", [SMALL_OLD, SMALL_NEW], ids=["bare", "with a catalogue"])
def test_a_spoilt_job_is_refused_in_plain_words_or_read_whole(job: Job, tmp_path: Path) -> None:
    sample = document.to_bytes(job)
    fuzzed(read, sample, (document.JobError,), tmp_path / NAME, sealed=True, reseal=seal)


def test_a_job_that_somebody_wrote_in_another_style_is_spoilt_no_worse(tmp_path: Path) -> None:
    entries = json.loads(document.to_bytes(SMALL_NEW))
    del entries["checksum"]
    compact = json.dumps(entries).encode()
    fuzzed(read, compact, (document.JobError,), tmp_path / NAME, rounds=60, seed=2)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(10, 20))
def test_many_spoilt_jobs_are_refused_in_plain_words(seed: int, tmp_path: Path) -> None:
    sample = document.to_bytes(SMALL_NEW)
    own = (document.JobError,)
    fuzzed(read, sample, own, tmp_path / NAME, rounds=2000, seed=seed, sealed=True, reseal=seal)
