"""What the tests of file writing share."""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from workbench.file_reasons import shown
from workbench.safe_file import SaveError, write_atomic

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
    assert shown(path.name) in caught.value.message
    assert caught.value.message.isprintable()
    assert caught.value.remedy
    assert not caught.value.written
    return caught.value


def fails_with(code: int) -> Callable[..., Any]:
    def fail(*_args: object, **_options: object) -> Any:
        raise OSError(code, os.strerror(code))

    return fail
