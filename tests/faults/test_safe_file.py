"""The one way in which this program writes files, disturbed at every step."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.faults.harness import faulty_steps, full_disk, full_partition, killed
from workbench.safe_file import keep_backup, write_atomic

SMALL_OLD = b"the old quote\n" * 20
SMALL_NEW = b"the new quote, and longer\n" * 20
LARGE_OLD = b"the old quote\n" * 150_000
LARGE_NEW = b"the new quote, and longer\n" * 80_000

Saver = Callable[[Path, bytes], None]


def save(path: Path, data: bytes) -> None:
    write_atomic(path, data)


def save_with_backup(path: Path, data: bytes) -> None:
    keep_backup(path)
    write_atomic(path, data)


SAVERS = pytest.mark.parametrize("saver", [save, save_with_backup], ids=lambda s: s.__name__)


def test_a_kill_leaves_the_old_or_the_new_file_and_nothing_else(tmp_path: Path) -> None:
    killed(save, LARGE_OLD, LARGE_NEW, tmp_path / "quote.json", times=200)


def test_a_kill_leaves_each_of_file_and_backup_old_or_new(tmp_path: Path) -> None:
    killed(save_with_backup, LARGE_OLD, LARGE_NEW, tmp_path / "quote.json", times=50)


def test_a_kill_in_the_first_save_leaves_no_file_or_a_whole_one(tmp_path: Path) -> None:
    killed(save, None, LARGE_NEW, tmp_path / "quote.json", times=50)


@pytest.mark.soak
def test_five_thousand_kills_leave_the_old_or_the_new_file_and_nothing_else(tmp_path: Path) -> None:
    killed(save, LARGE_OLD, LARGE_NEW, tmp_path / "quote.json", times=5000)


@SAVERS
@pytest.mark.parametrize("old", [SMALL_OLD, None], ids=["old file", "no file yet"])
def test_a_full_disk_at_any_byte_leaves_the_old_file_and_says_so(
    saver: Saver, old: bytes | None, tmp_path: Path
) -> None:
    counts = full_disk(saver, old, SMALL_NEW, tmp_path / "quote.json")
    assert counts["refused"] >= len(SMALL_NEW)


@SAVERS
def test_a_full_partition_leaves_the_old_file_and_says_so(saver: Saver, tmp_path: Path) -> None:
    counts = full_partition(saver, LARGE_OLD[:90_000], LARGE_NEW[:150_000], tmp_path / "quote.json")
    assert counts["refused"] >= 30


@SAVERS
@pytest.mark.parametrize("old", [SMALL_OLD, None], ids=["old file", "no file yet"])
def test_a_fault_in_any_step_leaves_the_old_or_the_new_file_and_says_so(
    saver: Saver, old: bytes | None, tmp_path: Path
) -> None:
    counts = faulty_steps(saver, old, SMALL_NEW, tmp_path / "quote.json")
    assert counts["refused"] >= 50
