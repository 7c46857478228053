"""The harness finds each fault it was made for: here are the savers and readers that have them."""

from __future__ import annotations

import contextlib
import itertools
import json
import os
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.faults import disturb
from tests.faults.case import rehearse
from tests.faults.child import in_child
from tests.faults.harness import faulty_steps, full_disk, full_partition, fuzzed, killed
from tests.faults.steps import steps_of
from workbench.safe_file import SaveError, digest, remove_leftovers, write_atomic

OLD = b"old " * 10_000
NEW = b"new, and longer " * 10_000
SAMPLE = json.dumps({"name": "a tank", "volume": 1.5, "tags": ["x", "y"]}).encode()
_calls = itertools.count()

Save = Callable[[Path, bytes], None]


class OwnError(Exception):
    pass


def into_the_file(path: Path, data: bytes) -> None:
    path.write_bytes(data)


def through_a_text_file(path: Path, data: bytes) -> None:
    with path.open("w", encoding="ascii", newline="") as file:
        file.write(data.decode("ascii"))


def piece_by_piece(path: Path, data: bytes) -> None:
    """So slowly that a kill falls into it on any machine, however busy."""
    with path.open("wb") as file:
        for start in range(0, len(data), 16_000):
            file.write(data[start : start + 16_000])
            file.flush()
            time.sleep(0.002)


def without_cleaning_up(path: Path, data: bytes) -> None:
    other = path.with_suffix(".new")
    try:
        other.write_bytes(data)
        other.replace(path)
    except OSError:
        raise SaveError(f"“{path.name}” could not be saved.", "Save it elsewhere.") from None


def with_the_system_s_error(path: Path, data: bytes) -> None:
    try:
        write_atomic(path, data)
    except SaveError as error:
        raise error.__cause__ or error from None


def with_a_riddle(path: Path, data: bytes) -> None:
    try:
        write_atomic(path, data)
    except SaveError as error:
        raise SaveError(f"{path.name}: {error.__cause__!r}", "Try again.") from None


def without_a_remedy(path: Path, data: bytes) -> None:
    try:
        write_atomic(path, data)
    except SaveError as error:
        raise SaveError(error.message, "") from None


def in_silence(path: Path, data: bytes) -> None:
    with contextlib.suppress(SaveError):
        write_atomic(path, data)


def without_counting(path: Path, data: bytes) -> None:
    other = path.with_suffix(".new")
    try:
        descriptor = os.open(other, os.O_WRONLY | os.O_CREAT)
        try:
            os.write(descriptor, data)  # may take less than all of it
        finally:
            os.close(descriptor)
        other.replace(path)
    except OSError:
        other.unlink(missing_ok=True)
        raise SaveError(f"“{path.name}” could not be saved.", "Save it elsewhere.") from None


def leaving_it_open(path: Path, data: bytes) -> None:
    os.dup(0)
    write_atomic(path, data)


def ever_different(path: Path, data: bytes) -> None:
    write_atomic(path, data + str(next(_calls)).encode())


def nothing(_folder: Path) -> None:
    pass


BAD = [
    (into_the_file, "of 0 bytes"),
    (through_a_text_file, "of 0 bytes"),
    (without_cleaning_up, "stray"),
    (with_the_system_s_error, "raised OSError"),
    (with_a_riddle, "not plain"),
    (without_a_remedy, "no remedy"),
    (in_silence, "saved all the same"),
    (without_counting, "bytes at once: a.bin is of 54 bytes"),
]


@pytest.mark.parametrize(("saver", "fault"), BAD, ids=lambda x: getattr(x, "__name__", ""))
def test_a_full_disk_shows_what_is_wrong(saver: Save, fault: str, tmp_path: Path) -> None:
    with pytest.raises(AssertionError, match=fault):
        full_disk(saver, OLD[:80], NEW[:160], tmp_path / "a.bin")


@pytest.mark.parametrize(
    ("saver", "fault"),
    [(into_the_file, "a.bin is of"), (in_silence, "a.bin is of"), (without_cleaning_up, "stray")],
    ids=lambda x: getattr(x, "__name__", ""),
)
def test_a_full_partition_shows_what_is_wrong(saver: Save, fault: str, tmp_path: Path) -> None:
    with pytest.raises(AssertionError, match=fault):
        full_partition(saver, OLD, NEW, tmp_path / "a.bin")


@pytest.mark.parametrize(
    ("saver", "fault"),
    [
        (into_the_file, "raised OSError"),
        (without_cleaning_up, "stray"),
        (with_the_system_s_error, "raised PermissionError"),
        (with_a_riddle, "not plain"),
        (in_silence, "a.bin is of"),
        (leaving_it_open, "stayed open"),
    ],
    ids=lambda x: getattr(x, "__name__", ""),
)
def test_a_faulty_step_shows_what_is_wrong(saver: Save, fault: str, tmp_path: Path) -> None:
    with pytest.raises(AssertionError, match=fault):
        faulty_steps(saver, OLD[:80], NEW[:160], tmp_path / "a.bin")


@pytest.mark.parametrize("saver", [into_the_file, through_a_text_file], ids=lambda s: s.__name__)
def test_a_kill_shows_a_torn_file(saver: Save, tmp_path: Path) -> None:
    with pytest.raises(
        AssertionError, match=r"killed in call 1 \(write\): a.bin is of 80000 bytes"
    ):
        killed(saver, OLD, NEW, tmp_path / "a.bin", times=5)


def test_a_kill_at_some_moment_shows_a_torn_file(tmp_path: Path) -> None:
    case = rehearse(piece_by_piece, OLD, NEW, tmp_path / "a.bin", ())
    log = in_child(disturb.kill_at_moments, case, remove_leftovers, 20)
    torn = [problem for label, problem in log.complaints if label.startswith("killed after")]
    assert torn
    assert torn[0].startswith("a.bin is of ")


def test_a_kill_shows_a_stray_file_that_no_start_removes(tmp_path: Path) -> None:
    with pytest.raises(AssertionError, match="stray"):
        killed(write_atomic, OLD, NEW, tmp_path / "a.bin", times=5, start=nothing)


def test_a_saver_that_never_writes_the_same_is_not_judged(tmp_path: Path) -> None:
    with pytest.raises(AssertionError, match="two different files"):
        faulty_steps(ever_different, OLD, NEW, tmp_path / "a.bin")


def test_every_call_that_touches_a_file_is_seen(tmp_path: Path) -> None:
    steps = steps_of(lambda: write_atomic(tmp_path / "a", b"1"))
    assert [step for step in steps if "stat" not in step] == [
        *("open", "write", "fsync", "close", "replace"),
        *("open", "fsync", "close"),
    ]
    assert steps_of(lambda: into_the_file(tmp_path / "b", b"1")) == ["open", "write", "close"]


def parsed(path: Path) -> Any:
    if path.stat().st_size > 1_000_000:
        raise OwnError(f"“{path.name}” is too large.")
    try:
        return json.loads(path.read_bytes().decode())
    except (ValueError, RecursionError):
        raise OwnError(f"“{path.name}” is not such a file.") from None


def parsed_with_deep_fault(path: Path) -> Any:
    try:
        return json.loads(path.read_bytes().decode())
    except ValueError:
        raise OwnError(f"“{path.name}” is not such a file.") from None


def parsed_with_python_s_error(path: Path) -> Any:
    return json.loads(path.read_bytes())


def parsed_for_ever(path: Path) -> Any:
    if path.stat().st_size == 0:
        time.sleep(3600)
    return parsed(path)


def parsed_to_the_end_of_the_program(path: Path) -> Any:
    if path.stat().st_size == 0:
        sys.exit(0)
    return parsed(path)


def parsed_with_much_memory(path: Path) -> Any:
    return parsed(path) if path.stat().st_size < 10**6 else (path.read_bytes() * 40)[:1]


def parsed_telling_all(path: Path) -> Any:
    try:
        return parsed(path)
    except OwnError as error:
        raise OwnError(f"{error} It says: {path.read_bytes()!r}") from None


def test_a_reader_that_refuses_plainly_passes(tmp_path: Path) -> None:
    counts = fuzzed(parsed, SAMPLE, (OwnError,), tmp_path / "a.json")
    assert counts["refused"] > 500
    assert counts["read"] > 100


@pytest.mark.parametrize(
    ("reader", "fault"),
    [
        (parsed_with_deep_fault, "open brackets: raised RecursionError"),
        (parsed_with_python_s_error, "raised JSONDecodeError"),
        (parsed_to_the_end_of_the_program, "raised SystemExit"),
        (parsed_telling_all, "not plain"),
        (parsed_with_much_memory, "MB were used"),
        (parsed_for_ever, "parsed_for_ever"),
    ],
    ids=lambda x: getattr(x, "__name__", ""),
)
def test_fuzzing_shows_what_is_wrong(
    reader: Callable[[Path], Any], fault: str, tmp_path: Path
) -> None:
    with pytest.raises(AssertionError, match=fault):
        fuzzed(reader, SAMPLE, (OwnError,), tmp_path / "a.json", rounds=10, hang=2.0)


def test_fuzzing_shows_a_sealed_file_that_is_read_wrongly(tmp_path: Path) -> None:
    with pytest.raises(AssertionError, match="something else, without a word"):
        fuzzed(parsed, SAMPLE, (OwnError,), tmp_path / "a.json", rounds=10, sealed=True)


def sealed(data: bytes) -> bytes:
    return data.split(b"\n#")[0] + b"\n#" + digest(data.split(b"\n#")[0]).encode()


def parsed_if_sealed(path: Path) -> Any:
    data = path.read_bytes()
    if sealed(data) != data:
        raise OwnError(f"“{path.name}” is damaged.")
    return json.loads(data.split(b"\n#")[0])["name"]


def test_a_seal_refuses_all_that_was_spoilt(tmp_path: Path) -> None:
    path = tmp_path / "a.json"
    counts = fuzzed(parsed_if_sealed, sealed(SAMPLE), (OwnError,), path, sealed=True)
    assert counts["refused"] > 500


def test_fuzzing_behind_a_seal_shows_what_is_wrong_there(tmp_path: Path) -> None:
    path = tmp_path / "a.json"
    with pytest.raises(AssertionError, match="sealed again: raised"):
        fuzzed(parsed_if_sealed, sealed(SAMPLE), (OwnError,), path, rounds=10, reseal=sealed)


def _fails() -> None:
    raise ValueError("on purpose")


def test_a_failure_in_the_child_is_told() -> None:
    with pytest.raises(AssertionError, match="ValueError: on purpose"):
        in_child(_fails)
