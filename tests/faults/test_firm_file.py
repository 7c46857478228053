"""The firm's file, kept under every disturbance and read in every spoilt state."""

from __future__ import annotations

import base64
import random
from pathlib import Path

import pytest

from tests.faults.harness import faulty_steps, full_disk, full_partition, fuzzed, killed
from tests.faults.test_job_file import seal
from workbench.job import firm
from workbench.job.job import Job
from workbench.job.paper_choices import ItemKind
from workbench.job.prices import PriceItem
from workbench.units import MONEY, Unread, parse

NAME = "firm.json"


def _firm(name: str, items: int = 1, logo: int = 0) -> Job:
    items_sold = tuple(
        PriceItem(code=f"own-{number}", name="Té, Ø 1 po", kind=ItemKind.PART,
                  cost=parse("31.50", MONEY), price=Unread("a lot", "it is none", "type it again"))
        for number in range(items)
    )  # fmt: skip
    picture = base64.b64encode(random.Random(1).randbytes(logo)).decode()
    return Job(firm_name=name, prices=items_sold, firm_logo=picture, clause_payment="At once.\n")


OLD, NEW = _firm("the old firm"), _firm("the new firm", 2, 60)


def save(path: Path, job: Job) -> None:
    firm.write_firm(job, path)


def read(path: Path) -> bytes:
    """Read as the program does; whatever can be read must also be kept and read again."""
    data = firm.to_bytes(Job().changed(**firm.read_firm(path)))
    again = firm.to_bytes(Job().changed(**firm.from_bytes(data, path.name)))
    if again != data:
        raise AssertionError("kept again, it is another firm")
    return data


def test_a_kill_leaves_the_old_firm_or_the_new_one(tmp_path: Path) -> None:
    killed(save, _firm("old", 2000, 500_000), _firm("new", 3000, 500_000), tmp_path / NAME)


@pytest.mark.soak
def test_two_thousand_kills_leave_the_old_firm_or_the_new_one(tmp_path: Path) -> None:
    old, new = _firm("old", 2000, 500_000), _firm("new", 3000, 500_000)
    killed(save, old, new, tmp_path / NAME, times=2000)


def test_a_full_disk_at_any_byte_leaves_the_old_firm_and_says_so(tmp_path: Path) -> None:
    full_disk(save, OLD, NEW, tmp_path / NAME)


def test_a_full_partition_leaves_the_old_firm_and_says_so(tmp_path: Path) -> None:
    full_partition(save, OLD, _firm("new", 200, 60_000), tmp_path / NAME)


def test_a_fault_in_any_step_leaves_the_old_firm_or_the_new_one(tmp_path: Path) -> None:
    faulty_steps(save, OLD, NEW, tmp_path / NAME)


def test_a_spoilt_file_is_refused_in_plain_words_or_read_whole(tmp_path: Path) -> None:
    sample = firm.to_bytes(NEW)
    fuzzed(read, sample, (firm.FirmError,), tmp_path / NAME, sealed=True, reseal=seal)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(10, 20))
def test_many_spoilt_files_are_refused_in_plain_words(seed: int, tmp_path: Path) -> None:
    own = (firm.FirmError,)
    sample = firm.to_bytes(NEW)
    fuzzed(read, sample, own, tmp_path / NAME, rounds=2000, seed=seed, sealed=True, reseal=seal)
