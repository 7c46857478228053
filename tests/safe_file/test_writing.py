"""How a file is written: what is kept of the old one, and what a person is told."""

from __future__ import annotations

import errno
import os
import stat
import sys
import tempfile
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.faults.child import in_child
from tests.faults.steps import steps_of, watched
from workbench import safe_file, words
from workbench.safe_file import SaveError, keep_backup, remove_leftovers, write_atomic

OLD, NEW = b"old", b"the new text"
posix = pytest.mark.skipif(sys.platform == "win32", reason="is so on POSIX systems only")
root = pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() != 0, reason="needs an administrator"
)


def mode_of(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


def names_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def refusal(path: Path, data: bytes = NEW) -> SaveError:
    with pytest.raises(SaveError) as caught:
        write_atomic(path, data)
    assert path.name in caught.value.message
    assert caught.value.remedy
    assert not caught.value.written
    return caught.value


def fails_with(code: int) -> Callable[..., Any]:
    def fail(*_args: object, **_options: object) -> Any:
        raise OSError(code, os.strerror(code))

    return fail


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


# What a person is told


def test_a_folder_that_is_gone_is_named(tmp_path: Path) -> None:
    error = refusal(tmp_path / "gone" / "quote.json")
    assert str(tmp_path / "gone") in error.message
    assert "share" in error.remedy


def test_a_file_in_the_folder_s_place_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "gone").write_bytes(OLD)
    assert "is not there" in refusal(tmp_path / "gone" / "quote.json").message


def test_a_folder_of_that_name_is_not_replaced(tmp_path: Path) -> None:
    (tmp_path / "quote.json").mkdir()
    assert "a folder of that name" in refusal(tmp_path / "quote.json").message
    assert (tmp_path / "quote.json").is_dir()
    assert names_in(tmp_path) == ["quote.json"]


@posix
def test_a_pipe_is_not_replaced(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "quote.json")
    assert "a pipe" in refusal(tmp_path / "quote.json").message
    assert (tmp_path / "quote.json").is_fifo()


def test_a_file_that_is_marked_read_only_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "quote.json"
    path.write_bytes(OLD)
    path.chmod(0o444)
    error = refusal(path)
    assert "marked read only" in error.message
    assert "another name" in error.remedy
    assert path.read_bytes() == OLD
    path.chmod(0o644)


def save_as_somebody_else(folder: Path) -> str:
    """Save as one who may not write in ``folder``; return the message and the remedy."""
    if os.geteuid() == 0:
        os.setgid(65534)
        os.setuid(65534)
    try:
        write_atomic(folder / "quote.json", NEW)
    except SaveError as error:
        return str(error)
    return "saved"


@posix
@pytest.mark.parametrize("there", [True, False], ids=["old file", "no file yet"])
def test_a_folder_without_the_right_to_write_is_told(there: bool) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        if there:
            (folder / "quote.json").write_bytes(OLD)
            (folder / "quote.json").chmod(0o666)
        folder.chmod(0o555)
        told = in_child(save_as_somebody_else, folder)
        assert "there is no permission to write there" in told
        assert "a folder of your own" in told
        folder.chmod(0o755)
        assert names_in(folder) == (["quote.json"] if there else [])


@posix
@root
def test_another_one_s_file_is_kept_though_the_folder_is_open_to_all() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "quote.json").write_bytes(OLD)
        (folder / "quote.json").chmod(0o644)
        folder.chmod(0o777)
        assert "no permission" in in_child(save_as_somebody_else, folder)
        assert (folder / "quote.json").read_bytes() == OLD


@posix
def test_a_link_in_a_circle_is_told(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to("b")
    (tmp_path / "b").symlink_to("a")
    assert "in a circle" in refusal(tmp_path / "a").message
    assert (tmp_path / "a").is_symlink()


@posix
@pytest.mark.parametrize("name", ["a" * 256, "a/" * 2500 + "a"])
def test_a_name_or_path_that_is_too_long_is_told(name: str, tmp_path: Path) -> None:
    error = refusal(tmp_path / name)
    assert "too long" in error.message
    assert "shorter" in error.remedy


@pytest.mark.parametrize("name", ["a\0b", "\ud800"])
def test_a_name_that_no_disk_allows_is_told(name: str, tmp_path: Path) -> None:
    assert "not allowed" in refusal(tmp_path / name).message
    assert names_in(tmp_path) == []


@pytest.mark.parametrize(
    ("code", "told", "remedy"),
    [
        (errno.ENOSPC, "the disk is full", "Make room"),
        (errno.EDQUOT, "the disk is full", "Make room"),
        (errno.EFBIG, "larger than this disk", "another disk"),
        (errno.EROFS, "the disk is read only", "another disk"),
        (errno.EACCES, "no permission", "your own"),
        (errno.EPERM, "no permission", "your own"),
        (errno.EBUSY, "open in another program", "Close it"),
        (errno.EIO, "the disk reported a fault", "another disk"),
        (errno.EINTR, "interrupted", "again"),
        (errno.ESTALE, "the shared folder does not answer", "another folder"),
        (errno.ETIMEDOUT, "the shared folder does not answer", "another folder"),
        (errno.ENAMETOOLONG, "too long", "shorter"),
        (errno.EMFILE, "the system says", "another folder"),
    ],
    ids=lambda x: errno.errorcode[x] if isinstance(x, int) else "",
)
def test_each_reason_has_its_words_and_its_remedy(
    code: int, told: str, remedy: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "quote.json").write_bytes(OLD)
    monkeypatch.setattr(os, "fsync", fails_with(code))
    error = refusal(tmp_path / "quote.json")
    assert told in error.message
    assert remedy in error.remedy
    assert "Errno" not in str(error)
    assert (tmp_path / "quote.json").read_bytes() == OLD
    assert names_in(tmp_path) == ["quote.json"]


def test_the_words_can_be_translated(tmp_path: Path) -> None:
    words.use_translation(lambda text: f"[{text}]")
    try:
        error = refusal(tmp_path / "gone" / "quote.json")
    finally:
        words.use_translation(lambda text: text)
    assert error.message.startswith("[“quote.json” could not be saved: [its folder “")
    assert error.remedy.startswith("[")


# When the system is not as it should be


@pytest.mark.parametrize("code", [errno.EINVAL, errno.ENOTSUP, errno.ENOSYS])
def test_a_share_that_knows_no_fsync_does_not_hinder(
    code: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "fsync", fails_with(code))
    write_atomic(tmp_path / "quote.json", NEW)
    assert (tmp_path / "quote.json").read_bytes() == NEW


def in_the_folder_s_fsync(code: int) -> Callable[[int], None]:
    def fsync(descriptor: int) -> None:
        if stat.S_ISDIR(os.fstat(descriptor).st_mode):
            raise OSError(code, os.strerror(code))

    return fsync


@posix
@pytest.mark.parametrize("code", [errno.EINVAL, errno.EBADF, errno.EACCES, errno.EPERM])
def test_a_folder_that_cannot_be_forced_to_the_disk_does_not_hinder(
    code: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "fsync", in_the_folder_s_fsync(code))
    write_atomic(tmp_path / "quote.json", NEW)
    assert (tmp_path / "quote.json").read_bytes() == NEW


@posix
def test_a_fault_after_the_new_file_is_in_place_is_told_as_such(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "quote.json"
    path.write_bytes(OLD)
    monkeypatch.setattr(os, "fsync", in_the_folder_s_fsync(errno.EIO))
    with pytest.raises(SaveError, match=r"“quote\.json” is saved, but not for certain") as caught:
        write_atomic(path, NEW)
    assert caught.value.written
    assert path.read_bytes() == NEW


def test_a_disk_that_takes_nothing_is_not_asked_for_ever(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "write", lambda *_: 0)
    assert "reported a fault" in refusal(tmp_path / "quote.json").message
    assert names_in(tmp_path) == []


def test_an_interrupt_at_any_step_leaves_no_temporary_file(tmp_path: Path) -> None:
    path = tmp_path / "quote.json"
    path.write_bytes(OLD)
    steps = steps_of(lambda: write_atomic(path, NEW))
    for number in range(len(steps)):
        path.write_bytes(OLD)
        count = -1

        def interrupt(step: str, call: Callable[..., Any], args: tuple[Any, ...]) -> Any:
            nonlocal count
            count += 1
            if count != number:  # noqa: B023 - called before the next round
                return call(*args)
            if step == "close":
                call(*args)
            raise KeyboardInterrupt

        with pytest.raises(KeyboardInterrupt), watched(interrupt):
            write_atomic(path, NEW)
        assert path.read_bytes() in (OLD, NEW)
        assert names_in(tmp_path) == ["quote.json"]


def test_if_cleaning_up_fails_too_the_first_reason_is_told_and_a_later_start_cleans_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", fails_with(errno.ENOSPC))
        patch.setattr(os, "unlink", fails_with(errno.EIO))
        assert "the disk is full" in refusal(tmp_path / "quote.json").message
    (left,) = names_in(tmp_path)
    monkeypatch.setattr(safe_file, "_alive", lambda pid: pid != os.getpid())
    assert [path.name for path in remove_leftovers(tmp_path)] == [left]
    assert names_in(tmp_path) == []


# Backups


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
