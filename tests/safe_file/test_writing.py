"""How a file is written, and what is kept of the old one."""

from __future__ import annotations

import errno
import os
import secrets
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.faults.steps import steps_of, watched
from tests.safe_file.helpers import NEW, OLD, fails_with, mode_of, names_in, posix, root
from workbench import safe_file
from workbench.safe_file import SaveError, keep_backup, write_atomic


def test_a_new_file_holds_the_data_and_nothing_else_is_left(tmp_path: Path) -> None:
    for data in (NEW, b"", bytes(range(256)) * 10_000):
        write_atomic(tmp_path / "quote.json", data)
        assert (tmp_path / "quote.json").read_bytes() == data
        assert names_in(tmp_path) == ["quote.json"]


@pytest.mark.parametrize(
    "name", ["é 水.json", ".hidden", "no suffix", "a" * 255, "水" * 85, "x.part", "two\nlines"]
)
@posix
def test_any_name_that_the_disk_allows_can_be_saved(name: str, tmp_path: Path) -> None:
    write_atomic(tmp_path / name, OLD)
    write_atomic(tmp_path / name, NEW)
    assert (tmp_path / name).read_bytes() == NEW
    assert names_in(tmp_path) == [name]


def test_a_path_may_be_relative(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    write_atomic(Path("quote.json"), NEW)
    assert (tmp_path / "quote.json").read_bytes() == NEW


@posix
def test_the_data_is_on_the_disk_before_it_takes_the_old_one_s_place(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(OLD)
    steps = [s for s in steps_of(lambda: write_atomic(tmp_path / "a", NEW)) if "stat" not in s]
    # The first pair only asks whether the old file may be written; the last three are the folder.
    wanted = ["open", "close", "open", "write", "fsync", "close", "replace"]
    assert steps == [*wanted, "open", "fsync", "close"]


@posix
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664, 0o755, 0o200])
def test_the_mode_bits_of_a_replaced_file_are_kept(mode: int, tmp_path: Path) -> None:
    path = tmp_path / "quote.json"
    path.write_bytes(OLD)
    path.chmod(mode)
    write_atomic(path, NEW)
    assert mode_of(path) == mode


@posix
def test_a_new_file_has_the_mode_bits_that_the_user_has_set_for_new_files(tmp_path: Path) -> None:
    usual = os.umask(0o027)
    try:
        write_atomic(tmp_path / "quote.json", NEW)
    finally:
        os.umask(usual)
    assert mode_of(tmp_path / "quote.json") == 0o640


@posix
def test_a_private_file_is_at_no_moment_open_to_others(tmp_path: Path) -> None:
    path = tmp_path / "quote.json"
    path.write_bytes(OLD)
    path.chmod(0o600)
    seen: list[int] = []

    def look(step: str, call: Callable[..., Any], args: tuple[Any, ...]) -> Any:
        answer = call(*args)
        if step in {"open", "write", "close"}:
            seen.extend(mode_of(file) for file in tmp_path.iterdir())
        return answer

    with watched(look):
        write_atomic(path, NEW)
    assert set(seen) == {0o600}
    assert len(seen) > 5


@posix
@root
def test_the_group_of_a_replaced_file_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "quote.json"
    path.write_bytes(OLD)
    os.chown(path, -1, 12345)
    path.chmod(0o660)
    write_atomic(path, NEW)
    assert (path.stat().st_gid, mode_of(path)) == (12345, 0o660)


@posix
def test_a_disk_without_mode_bits_does_not_hinder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "quote.json"
    path.write_bytes(OLD)
    path.chmod(0o777)
    monkeypatch.setattr(os, "fchmod", fails_with(errno.EPERM))
    write_atomic(path, NEW)
    assert path.read_bytes() == NEW


@posix
def test_a_link_stays_and_the_file_behind_it_is_replaced(tmp_path: Path) -> None:
    (tmp_path / "far").mkdir()
    target = tmp_path / "far" / "quote.json"
    target.write_bytes(OLD)
    (tmp_path / "second").symlink_to(Path("far") / "quote.json")
    (tmp_path / "first").symlink_to("second")
    write_atomic(tmp_path / "first", NEW)
    assert target.read_bytes() == NEW
    assert (tmp_path / "first").is_symlink()
    assert (tmp_path / "second").is_symlink()
    assert names_in(tmp_path / "far") == ["quote.json"]


@posix
def test_a_link_to_no_file_yet_gets_its_file(tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to("quote.json")
    write_atomic(tmp_path / "link", NEW)
    assert (tmp_path / "quote.json").read_bytes() == NEW
    assert (tmp_path / "link").is_symlink()


@posix
def test_a_hard_link_keeps_the_old_text(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(OLD)
    (tmp_path / "b").hardlink_to(tmp_path / "a")
    write_atomic(tmp_path / "a", NEW)
    assert (tmp_path / "b").read_bytes() == OLD


def test_two_threads_that_save_at_once_leave_one_whole_file(tmp_path: Path) -> None:
    path = tmp_path / "quote.json"
    texts = [bytes([n]) * 100_000 for n in range(4)]
    failed: list[BaseException] = []

    def save_often(data: bytes) -> None:
        try:
            for _ in range(20):
                write_atomic(path, data)
        except BaseException as error:
            failed.append(error)

    threads = [threading.Thread(target=save_often, args=(text,)) for text in texts]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not failed
    assert path.read_bytes() in texts
    assert names_in(tmp_path) == ["quote.json"]


def test_there_is_no_backup_of_no_file(tmp_path: Path) -> None:
    assert keep_backup(tmp_path / "quote.json") is None
    assert names_in(tmp_path) == []


@posix
def test_a_backup_has_the_text_and_the_mode_bits_of_the_file(tmp_path: Path) -> None:
    path, backup = tmp_path / "quote.json", tmp_path / "quote.json.bak"
    for text, mode in ((OLD, 0o600), (NEW, 0o640)):
        path.write_bytes(text)
        path.chmod(mode)
        assert keep_backup(path) == backup
        assert (backup.read_bytes(), mode_of(backup)) == (text, mode)
    assert names_in(tmp_path) == ["quote.json", "quote.json.bak"]


def test_a_backup_that_fails_leaves_the_older_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "quote.json").write_bytes(NEW)
    (tmp_path / "quote.json.bak").write_bytes(OLD)
    monkeypatch.setattr(os, "fsync", fails_with(errno.ENOSPC))
    with pytest.raises(SaveError, match=r"“quote\.json\.bak” could not be saved: the disk is full"):
        keep_backup(tmp_path / "quote.json")
    assert (tmp_path / "quote.json.bak").read_bytes() == OLD
    assert names_in(tmp_path) == ["quote.json", "quote.json.bak"]


def test_a_file_that_cannot_be_read_has_no_backup(tmp_path: Path) -> None:
    (tmp_path / "quote.json").mkdir()
    with pytest.raises(SaveError, match=r"No backup of “quote\.json” could be made"):
        keep_backup(tmp_path / "quote.json")
    assert names_in(tmp_path) == ["quote.json"]


def test_a_temporary_file_never_takes_the_place_of_another_one_s(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(secrets, "token_hex", lambda _: "0123456789ab")
    taken = tmp_path / f".quote.json.{safe_file._host()}-{os.getpid()}.0123456789ab.part"
    taken.write_bytes(OLD)
    with pytest.raises(SaveError):
        write_atomic(tmp_path / "quote.json", NEW)
    assert taken.read_bytes() == OLD
    assert names_in(tmp_path) == [taken.name]
