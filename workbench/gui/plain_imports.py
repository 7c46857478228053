"""Importing without PySide looking on."""

from __future__ import annotations

import builtins
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def plain_imports() -> Iterator[None]:
    """While this holds, Python's own import is used.

    PySide puts one of its own in its place, which reads the source of every module that imports
    something, in search of PySide's feature switches. Neither we nor NumPy nor pyqtgraph use any;
    the reading costs a tenth of the start and 15 MB.
    """
    watched = builtins.__import__
    builtins.__import__ = getattr(builtins, "__orig_import__", watched)
    try:
        yield
    finally:
        builtins.__import__ = watched
