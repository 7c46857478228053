"""What a person is told when a file could not be saved, and what then is left."""

from __future__ import annotations

import errno
import os
import stat
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.faults.child import in_child
from tests.faults.steps import steps_of, watched
from tests.safe_file.helpers import NEW, OLD, fails_with, names_in, posix, refusal, root
from workbench import safe_file, words
from workbench.safe_file import SaveError, remove_leftovers, write_atomic


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
