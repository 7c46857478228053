"""What the program's own files have in common: JSON text with a schema version and a checksum.

A checksum over the content tells a damaged file from a good one: a flipped bit can turn "10 gpm"
into "30 gpm". A file written by another program may leave it out.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from workbench import safe_file
from workbench.catalog.problems import shown
from workbench.job.job import SCHEMA_VERSION
from workbench.words import tr

LARGEST_FILE = 8 * 1024 * 1024  # bytes: 15,000 tanks in a job's snapshot
_CHECKSUM = "checksum"
_MOST_TOLD = 5  # missing entries by name

Errors = type[safe_file.FileError]
"""The error of one kind of file, made of a message and a remedy."""


def to_bytes(file_format: str, content: dict[str, Any]) -> bytes:
    """The file of this content: UTF-8 JSON, one entry to a line, the same every time."""
    sealed = {"format": file_format, _CHECKSUM: checksum(content)} | content
    text = json.dumps(sealed, ensure_ascii=False, indent=1) + "\n"
    return text.encode(errors="backslashreplace")  # half a character becomes JSON's own "\ud800"


def checksum(content: dict[str, Any]) -> str:
    """Of the values, not of the text: spaces and the order of the keys do not count."""
    text = json.dumps(content, ensure_ascii=True, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def read(path: Path, error: Errors) -> bytes:
    """The bytes of a file that is not too large. Raises ``error``."""
    try:
        return safe_file.read_bytes(path, LARGEST_FILE)
    except safe_file.ReadError as problem:
        raise error(problem.message, problem.remedy) from problem


def unsealed(
    data: bytes, name: str, file_format: str, error: Errors, first: int = 1
) -> dict[str, Any] | None:
    """The content of a file, of its own schema version; None if it is of another format.

    ``name`` is for messages; ``first`` is the oldest schema version that such a file can have.
    Raises ``error``: damaged, or of a newer version of the program.
    """
    try:
        content = json.loads(
            data.decode("utf-8-sig"), object_pairs_hook=_unique, parse_constant=_refuse
        )
    except (ValueError, RecursionError) as problem:  # UnicodeDecodeError is a ValueError
        raise damaged(name, error) from problem
    if not isinstance(content, dict) or content.pop("format", None) != file_format:
        return None
    _check_version(content.get("schema_version"), name, error, first)
    _check_sum(content, name, error)
    return content


def require(content: dict[str, Any], entries: Iterable[str], name: str, error: Errors) -> None:
    """Every entry must stand in the file: a default put in its place would be a silent guess."""
    missing = [entry for entry in entries if entry not in content]
    if missing:
        raise error(
            tr("{name} lacks these entries: {entries}.", name=name, entries=listed(missing)),
            tr("Open a file that this program has saved."),
        )


def listed(entries: list[str]) -> str:
    """The names of some entries, whatever stands in them, in few words."""
    told = ", ".join(shown(entry) for entry in entries[:_MOST_TOLD])
    if len(entries) > _MOST_TOLD:
        return tr("{some} and {count} more", some=told, count=len(entries) - _MOST_TOLD)
    return told


def damaged(name: str, error: Errors) -> safe_file.FileError:
    """The error for a file that is no whole JSON text."""
    return error(
        tr("{name} is damaged: it is not complete JSON text.", name=name),
        tr("Open an older copy of the file."),
    )


def unusable(name: str, entries: object, error: Errors) -> safe_file.FileError:
    """The error for entries that cannot stand in a file."""
    return error(
        tr("{name} has entries that cannot be used: {entries}", name=name, entries=entries),
        tr("Mend these entries in a text editor, or open an older copy."),
    )


def _check_sum(content: dict[str, Any], name: str, error: Errors) -> None:
    """Take the checksum out of the content; without one there is nothing to hold it against."""
    given = content.pop(_CHECKSUM, None)
    if given is not None and given != checksum(content):
        raise error(
            tr("{name} was damaged, or changed outside this program.", name=name),
            tr("Open an older copy. If it was changed on purpose, remove its line “checksum”."),
        )


def _check_version(version: Any, name: str, error: Errors, first: int) -> None:
    if type(version) is not int or version < first:
        raise error(
            tr("{name} does not say which version of the format it has.", name=name),
            tr("Open a file that this program has saved."),
        )
    if version > SCHEMA_VERSION:
        raise error(
            tr("{name} was saved by a newer version of this program.", name=name),
            tr("Update the program, then open it again. The file was not changed."),
        )


def _unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    content = dict(pairs)
    if len(content) < len(pairs):
        raise ValueError("a key stands twice")
    return content


def _refuse(word: str) -> Any:
    raise ValueError(f"{word} is no number of a job")
