"""What a killed save left behind goes at the next start, and nothing else does."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pytest

from tests.faults.child import in_child
from workbench import safe_file
from workbench.safe_file import remove_leftovers

DAY = 24 * 3600
OTHER_HOST = "0123abcd"


def leftover(
    folder: Path, pid: int, host: str = "", age: float = 0.0, name: str = "a.json"
) -> Path:
    path = folder / f".{name}.{host or safe_file._host()}-{pid}.0123456789ab.part"
    path.write_bytes(b"half a text")
    os.utime(path, (time.time() - age,) * 2)
    return path


@pytest.fixture
def ended() -> int:
    """The number of a process that has ended."""
    process = subprocess.Popen([sys.executable, "-c", ""])
    process.wait()
    return process.pid


def test_what_an_ended_process_left_is_deleted(ended: int, tmp_path: Path) -> None:
    paths = [leftover(tmp_path, ended, name=name) for name in ("a.json", "two\nlines", "水" * 40)]
    assert sorted(remove_leftovers(tmp_path)) == sorted(paths)
    assert list(tmp_path.iterdir()) == []


def test_what_a_running_process_is_writing_stays(tmp_path: Path) -> None:
    paths = {leftover(tmp_path, os.getpid()), leftover(tmp_path, os.getppid())}
    assert remove_leftovers(tmp_path) == []
    assert set(tmp_path.iterdir()) == paths


def _deleted_by_somebody_else(folder: Path) -> list[Path]:
    os.setuid(65534)
    return remove_leftovers(folder)


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() != 0, reason="needs an administrator"
)
def test_what_another_one_s_running_process_is_writing_stays() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o777)
        leftover(folder, os.getpid())
        old = leftover(folder, os.getpid(), age=DAY + 600, name="b")
        assert in_child(_deleted_by_somebody_else, folder) == [old]


def test_what_another_computer_is_writing_stays_for_a_day(ended: int, tmp_path: Path) -> None:
    young = leftover(tmp_path, ended, OTHER_HOST, age=DAY - 600)
    assert remove_leftovers(tmp_path) == []
    old = leftover(tmp_path, ended, OTHER_HOST, age=DAY + 600, name="b.json")
    assert remove_leftovers(tmp_path) == [old]
    assert young.exists()


def test_after_a_day_it_goes_whatever_process_has_that_number_now(tmp_path: Path) -> None:
    assert remove_leftovers(tmp_path) == []
    old = leftover(tmp_path, os.getpid(), age=DAY + 600)
    assert remove_leftovers(tmp_path) == [old]


def test_a_number_that_no_process_can_have_does_no_harm(tmp_path: Path) -> None:
    old = leftover(tmp_path, 9_999_999_999)
    assert remove_leftovers(tmp_path) == [old]


@pytest.mark.parametrize(
    "name",
    [
        "a.json",
        ".a.json.part",
        "a.json.{host}-{pid}.0123456789ab.part",
        ".a.json.{host}-{pid}.0123456789ab.part.bak",
        ".a.json.{host}-{pid}.0123456789abc.part",
        ".a.json.{host}-{pid}.0123456789AB.part",
        ".a.json.{host}-{pid}.0123456789ab.PART",
        ".a.json.{host}-x.0123456789ab.part",
        ".a.json.{pid}.0123456789ab.part",
        "..{host}-{pid}.0123456789ab.part",
        "x.a.json.{host}-{pid}.0123456789ab.part",
        "." + "a" * 41 + ".{host}-{pid}.0123456789ab.part",
    ],
)
def test_a_file_of_any_other_name_stays(name: str, ended: int, tmp_path: Path) -> None:
    path = tmp_path / name.format(host=safe_file._host(), pid=ended)
    path.write_bytes(b"somebody's text")
    os.utime(path, (time.time() - 2 * DAY,) * 2)
    assert remove_leftovers(tmp_path) == []
    assert path.read_bytes() == b"somebody's text"


def test_a_folder_or_a_link_of_that_name_stays(ended: int, tmp_path: Path) -> None:
    folder, link = leftover(tmp_path, ended), leftover(tmp_path, ended, name="b")
    (tmp_path / "text").write_bytes(b"somebody's text")
    folder.unlink()
    folder.mkdir()
    link.unlink()
    link.symlink_to("text")
    assert remove_leftovers(tmp_path) == []
    assert folder.is_dir()
    assert link.is_symlink()


def test_no_folder_has_no_leftovers(tmp_path: Path) -> None:
    assert remove_leftovers(tmp_path / "gone") == []
    assert remove_leftovers(tmp_path / "\0") == []


def test_what_cannot_be_deleted_does_not_keep_the_rest(
    ended: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept, gone = leftover(tmp_path, ended), leftover(tmp_path, ended, name="b")
    real = Path.unlink

    def unlink(this: Path) -> None:
        if this == kept:
            raise PermissionError
        real(this)

    monkeypatch.setattr(Path, "unlink", unlink)
    assert remove_leftovers(tmp_path) == [gone]
    assert list(tmp_path.iterdir()) == [kept]


def test_the_name_of_the_computer_is_not_told() -> None:
    import platform

    assert platform.node() not in safe_file._host() or not platform.node()
    assert len(safe_file._host()) == 8
