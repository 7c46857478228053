"""What differs on Windows and macOS, tried on any system with the calls replaced."""

from __future__ import annotations

import errno
import os
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from workbench import safe_file
from workbench.safe_file import SaveError, write_atomic

NEW = b"the new text"


@pytest.fixture
def windows(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """Act as on Windows; the list gets the pauses that would have been made."""
    pauses: list[float] = []
    monkeypatch.setattr(time, "sleep", pauses.append)
    monkeypatch.setattr(sys, "platform", "win32")
    return pauses


class _Apple:
    """Stands for ``fcntl`` on macOS; ``calls`` are those that force data to the disk."""

    F_FULLFSYNC = 51

    def __init__(self) -> None:
        self.calls: list[str] = []
        self.fault = 0

    def fcntl(self, _descriptor: int, command: int) -> None:
        assert command == self.F_FULLFSYNC
        if self.fault:
            raise OSError(self.fault, os.strerror(self.fault))
        self.calls.append("full")


@pytest.fixture
def apple(monkeypatch: pytest.MonkeyPatch) -> _Apple:
    """Act as on macOS."""
    if sys.platform == "win32":
        pytest.skip("needs folders that can be opened")
    fake = _Apple()
    monkeypatch.setattr(safe_file, "fcntl", fake)
    monkeypatch.setattr(os, "fsync", lambda _: fake.calls.append("fsync"))
    return fake


def denied(times: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the first ``times`` replacements be denied, as while another program has the file."""
    real, left = Path.replace, iter(range(times))

    def replace(this: Path, target: Path) -> Path:
        for _ in left:
            raise PermissionError(errno.EACCES, "denied")
        return real(this, target)

    monkeypatch.setattr(Path, "replace", replace)


def test_a_scanner_that_holds_the_file_for_a_moment_is_waited_for(
    windows: list[float], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    denied(3, monkeypatch)
    write_atomic(tmp_path / "quote.json", NEW)
    assert (tmp_path / "quote.json").read_bytes() == NEW
    assert len(windows) == 3
    assert sum(windows) < 1


def test_a_file_that_stays_open_elsewhere_is_told(
    windows: list[float], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "quote.json").write_bytes(b"old")
    denied(99, monkeypatch)
    with pytest.raises(SaveError, match="open in another program") as caught:
        write_atomic(tmp_path / "quote.json", NEW)
    assert "Close it there" in caught.value.remedy
    assert [path.name for path in tmp_path.iterdir()] == ["quote.json"]
    assert (tmp_path / "quote.json").read_bytes() == b"old"


def test_elsewhere_a_denial_is_no_matter_of_another_program(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    denied(99, monkeypatch)
    with pytest.raises(SaveError, match="no permission"):
        write_atomic(tmp_path / "quote.json", NEW)


def test_windows_has_no_folders_to_force_to_the_disk(
    windows: list[float], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.open

    def no_folders(path: Any, *args: Any) -> int:
        assert not Path(path).is_dir()
        return real(path, *args)

    monkeypatch.setattr(os, "open", no_folders)
    write_atomic(tmp_path / "quote.json", NEW)


@pytest.mark.parametrize(
    "name",
    [
        *("a:b", "a?b", "a*b", 'a"b', "a<b", "a>b", "a|b", "a\tb", "ends with dot.", "blank "),
        *("con", "NUL.json", "com1.txt", "Lpt9", "aux .json"),
    ],
)
def test_a_name_that_windows_would_change_or_take_for_a_device_is_refused(
    name: str, windows: list[float], tmp_path: Path
) -> None:
    with pytest.raises(SaveError, match="not allowed"):
        write_atomic(tmp_path / name, NEW)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "name", ["console.json", "a.con", "company1", "nulls", "com10.json", "ü.json", ".a", "a b"]
)
def test_a_name_that_windows_allows_is_not_refused(
    name: str, windows: list[float], tmp_path: Path
) -> None:
    write_atomic(tmp_path / name, NEW)
    assert (tmp_path / name).read_bytes() == NEW


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (19, "read only"),
        (32, "open in another program"),
        (112, "the disk is full"),
        (64, "the shared folder does not answer"),
        (123, "not allowed"),
        (206, "too long"),
    ],
)
def test_windows_own_numbers_have_plain_words(
    number: int, told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class WindowsError(OSError):
        winerror = number

    def replace(_this: Path, _target: Path) -> Path:
        raise WindowsError(errno.EACCES if number == 32 else errno.EINVAL, "as Windows says")

    monkeypatch.setattr(Path, "replace", replace)
    with pytest.raises(SaveError, match=told):
        write_atomic(tmp_path / "quote.json", NEW)


def test_macos_empties_the_drive_s_own_memory(apple: _Apple, tmp_path: Path) -> None:
    write_atomic(tmp_path / "quote.json", NEW)
    assert apple.calls == ["full", "full"]  # the file, then its folder


@pytest.mark.parametrize("code", [errno.ENOTSUP, errno.ENOTTY, errno.EINVAL])
def test_a_share_on_macos_that_cannot_do_so_gets_the_usual_call(
    code: int, apple: _Apple, tmp_path: Path
) -> None:
    apple.fault = code
    write_atomic(tmp_path / "quote.json", NEW)
    assert apple.calls == ["fsync", "fsync"]


def test_a_fault_of_the_drive_on_macos_is_told(apple: _Apple, tmp_path: Path) -> None:
    apple.fault = errno.EIO
    with pytest.raises(SaveError, match="the disk reported a fault"):
        write_atomic(tmp_path / "quote.json", NEW)
    assert list(tmp_path.iterdir()) == []
