"""How a file is read: whole, or refused with the reason and the remedy."""

from __future__ import annotations

import errno
import os
import sys
import tempfile
from pathlib import Path
from typing import Any

import pytest

from tests.faults.child import in_child
from workbench.safe_file import ReadError, digest, read_bytes

posix = pytest.mark.skipif(sys.platform == "win32", reason="is so on POSIX systems only")


def refusal(path: Path, limit: int = 100) -> ReadError:
    with pytest.raises(ReadError) as caught:
        read_bytes(path, limit)
    assert "".join(c if c.isprintable() else "·" for c in path.name) in caught.value.message
    assert caught.value.message.isprintable()
    assert caught.value.remedy
    assert "Errno" not in str(caught.value)
    return caught.value


@pytest.mark.parametrize("size", [0, 1, 99, 100])
def test_a_file_within_the_limit_is_read_as_it_is(size: int, tmp_path: Path) -> None:
    data = bytes(i % 256 for i in range(size))
    (tmp_path / "a").write_bytes(data)
    assert read_bytes(tmp_path / "a", 100) == data


def test_a_file_beyond_the_limit_is_refused_with_the_limit(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(bytes(50_001))
    error = refusal(tmp_path / "a", 50_000)
    assert "too large" in error.message
    assert "50,000" in error.remedy


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    assert "there is no such file" in refusal(tmp_path / "a").message
    (tmp_path / "file").write_bytes(b"")
    assert "there is no such file" in refusal(tmp_path / "file" / "a").message


def test_a_folder_is_told(tmp_path: Path) -> None:
    assert "a folder" in refusal(tmp_path).message


@posix
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "a")
    assert "a pipe" in refusal(tmp_path / "a").message


@posix
def test_a_device_without_an_end_is_not_read() -> None:
    assert "a device" in refusal(Path("/dev/zero")).message


@posix
def test_a_link_is_followed_and_a_circle_of_links_is_told(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"text")
    (tmp_path / "b").symlink_to("a")
    assert read_bytes(tmp_path / "b", 100) == b"text"
    (tmp_path / "c").symlink_to("c")
    assert "in a circle" in refusal(tmp_path / "c").message


@pytest.mark.parametrize("name", ["a\0b", "\ud800"])
def test_a_name_that_no_disk_allows_is_told(name: str, tmp_path: Path) -> None:
    assert "not allowed" in refusal(tmp_path / name).message


def read_as_somebody_else(path: Path) -> str:
    if os.geteuid() == 0:
        os.setgid(65534)
        os.setuid(65534)
    try:
        read_bytes(path, 100)
    except ReadError as error:
        return str(error)
    return "read"


@posix
def test_a_file_without_the_right_to_read_is_told() -> None:
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o755)
        path = Path(folder) / "a"
        path.write_bytes(b"text")
        path.chmod(0o200)
        assert "no permission to read it" in in_child(read_as_somebody_else, path)


@pytest.mark.parametrize(
    ("code", "told"),
    [
        (errno.EIO, "reported a fault"),
        (errno.ESTALE, "does not answer"),
        (errno.EBUSY, "another program"),
    ],
)
def test_a_fault_while_reading_is_told(
    code: int, told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: Any, **__: Any) -> Any:
        raise OSError(code, os.strerror(code))

    (tmp_path / "a").write_bytes(b"text")
    monkeypatch.setattr(Path, "open", fail)
    assert told in refusal(tmp_path / "a").message


def test_the_digest_is_that_of_the_standard() -> None:
    # FIPS 180-2, Secure Hash Standard (NIST, 2002), appendix B.1: SHA-256 of "abc".
    wanted = "ba7816bf 8f01cfea 414140de 5dae2223 b00361a3 96177a9c b410ff61 f20015ad"
    assert digest(b"abc") == wanted.replace(" ", "")
