"""The class's file of results, kept under every disturbance and read in every spoilt state."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.faults.harness import faulty_steps, full_disk, full_partition, fuzzed, killed
from workbench.safe_file import FileError
from workbench.study.exercises import results
from workbench.study.exercises.exercise import Topic
from workbench.study.exercises.results import Row
from workbench.study.exercises.slip import Slip

NAME = "class of spring.csv"
OWN = (FileError,)


def row(number: int, answer: str = '=1+1, "quoted"\r\nand a second line') -> Row:
    """One answer; all in it is invented."""
    return Row(
        date="2026-03-31",
        time=f"09:{number % 60:02}",
        name="Ünal, Ø",
        seed=1,
        number=number,
        topic=Topic.FAULT,
        question="Find the hidden fault",
        answer=answer,
        right=number % 2 == 0,
        slip=None if number % 2 == 0 else Slip.GUESSED,
        minutes=12.5,
        program="0.1",
    )


Content = tuple[int, str]
"""How many rows, and what each has as its answer."""
OLD, NEW = (1, "old"), (3, "new")
LARGE_OLD, LARGE_NEW = (3000, "o" * 300), (1500, "n" * 700)


def save(path: Path, content: Content) -> None:
    """Add rows as the program does, to whatever is there."""
    count, answer = content
    results.append(path, [row(number, answer) for number in range(1, count + 1)])


def read(path: Path) -> str:
    """Read as the program does; what can be read can be added to and read again."""
    found = results.read(path)
    if any(len(str(problem)) > 500 for problem in found.problems):
        raise AssertionError(f"not told plainly: {max(map(str, found.problems), key=len)!r:.400}")
    copy = path.with_name("copy.csv")
    shutil.copy(path, copy)
    try:
        results.append(copy, [row(7)])
    except FileError:
        return repr((found.rows, found.problems))
    finally:
        after = results.read(copy)
        copy.unlink()
    if after.rows != (*found.rows, row(7)) or after.problems != found.problems:
        raise AssertionError("what was added spoilt what was there")
    return repr((found.rows, found.problems))


def test_a_kill_leaves_the_rows_of_before_or_all_that_were_added(tmp_path: Path) -> None:
    killed(save, LARGE_OLD, LARGE_NEW, tmp_path / NAME)


@pytest.mark.soak
def test_two_thousand_kills_lose_no_row(tmp_path: Path) -> None:
    killed(save, LARGE_OLD, LARGE_NEW, tmp_path / NAME, times=2000)


def test_a_full_disk_at_any_byte_leaves_the_rows_of_before_and_says_so(tmp_path: Path) -> None:
    full_disk(save, OLD, NEW, tmp_path / NAME, OWN)


def test_a_full_partition_leaves_the_rows_of_before_and_says_so(tmp_path: Path) -> None:
    full_partition(save, (100, "o" * 300), (200, "n" * 300), tmp_path / NAME, OWN)


def test_a_fault_in_any_step_leaves_the_rows_of_before_or_all(tmp_path: Path) -> None:
    faulty_steps(save, OLD, NEW, tmp_path / NAME, OWN)


def test_the_first_rows_begin_the_file_or_there_is_none(tmp_path: Path) -> None:
    full_disk(save, None, OLD, tmp_path / NAME, OWN)
    faulty_steps(save, None, OLD, tmp_path / NAME, OWN)


def _sample(folder: Path, separator: str) -> bytes:
    """A file of three rows, as a spreadsheet may have saved it again."""
    path = folder / "sample.csv"
    results.append(path, [row(number) for number in range(1, 4)])
    data = path.read_bytes()
    path.unlink()
    if separator == ",":
        return data
    head, _, _rest = data.partition(b"\r\n")
    path.write_bytes(head.replace(b",", separator.encode()) + b"\r\n")
    results.append(path, [row(number) for number in range(1, 4)])
    data = path.read_bytes()
    path.unlink()
    return data


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_a_spoilt_file_is_told_in_plain_words(tmp_path: Path, separator: str) -> None:
    rounds = 100 if separator == "," else 30
    fuzzed(read, _sample(tmp_path, separator), OWN, tmp_path / "read" / NAME, rounds=rounds)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(10, 20))
def test_many_spoilt_files_are_told_in_plain_words(seed: int, tmp_path: Path) -> None:
    sample = _sample(tmp_path, ",")
    fuzzed(read, sample, OWN, tmp_path / "read" / NAME, rounds=1000, seed=seed)
