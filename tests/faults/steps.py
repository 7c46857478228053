"""Stands between a saver and the operating system, so that a test can decide what each call does.

``watched(around)`` sends every call that touches a file through ``around(step, call, args)``: the
functions of ``os``, and ``open`` with the ``write``, ``flush`` and ``close`` of the files it
returns. ``call(*args)`` does the real work.
"""

from __future__ import annotations

import _io
import builtins
import io
import os
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from typing import Any
from unittest import mock

Around = Callable[[str, Callable[..., Any], tuple[Any, ...]], Any]

_OF_OS = (
    *("open", "write", "fsync", "fdatasync", "replace", "rename", "link", "symlink", "close"),
    *("chmod", "fchmod", "fchown", "truncate", "ftruncate", "mkdir", "unlink", "remove"),
    *("stat", "lstat", "fstat"),
)


class _File:
    """A file whose writing goes through ``around``; all else goes to the real one."""

    def __init__(self, file: Any, around: Around) -> None:
        self._file = file
        self._around = around

    def write(self, data: Any) -> Any:
        return self._around("write", self._file.write, (data,))

    def writelines(self, lines: Any) -> None:
        for line in lines:
            self.write(line)

    def flush(self) -> Any:
        return self._around("flush", self._file.flush, ())

    def close(self) -> Any:
        return None if self._file.closed else self._around("close", self._file.close, ())

    def __enter__(self) -> _File:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def __iter__(self) -> Iterator[Any]:
        return iter(self._file)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)


@contextmanager
def watched(around: Around) -> Iterator[None]:
    """Send all file calls of this process through ``around`` until the block ends."""
    real_open = builtins.open

    def open_file(*args: Any, **options: Any) -> _File:
        def call(*given: Any) -> Any:
            return real_open(*given, **options)

        return _File(around("open", call, args), around)

    def through(step: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **options: Any) -> Any:
            return around(step, lambda *given: real(*given, **options), args)

        return call

    with ExitStack() as stack:
        for step in _OF_OS:
            if hasattr(os, step):
                stack.enter_context(mock.patch.object(os, step, through(step, getattr(os, step))))
        for module in (builtins, io, _io):
            stack.enter_context(mock.patch.object(module, "open", open_file))
        yield


def steps_of(action: Callable[[], object]) -> list[str]:
    """Do ``action`` and return the names of its file calls, in order."""
    names: list[str] = []

    def note(step: str, call: Callable[..., Any], args: tuple[Any, ...]) -> Any:
        names.append(step)
        return call(*args)

    with watched(note):
        action()
    return names


def failing(number: int, code: int, *, on: bool, names: list[str]) -> Around:
    """Return an ``around`` that fails call ``number`` with errno ``code``.

    With ``on``, later calls of the same name fail too, as on a disk that stays full. A ``close``
    fails only after it has closed, as the systems do it.
    """
    count = -1

    def around(step: str, call: Callable[..., Any], args: tuple[Any, ...]) -> Any:
        nonlocal count
        count += 1
        if count != number and not (on and count > number and step == names[number]):
            return call(*args)
        if step == "close":
            call(*args)
        raise OSError(code, os.strerror(code), *(str(a) for a in args[:1] if step == "open"))

    return around


def write_half(call: Callable[..., Any], args: tuple[Any, ...]) -> None:
    """Do a ``write`` with the first half of its data only."""
    *descriptor, data = args
    half = data[: len(data) // 2]
    call(*descriptor, half)
    if not descriptor:  # a file object, that may still hold what it was given
        call.__self__.flush()  # type: ignore[attr-defined]
