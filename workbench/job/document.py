"""The job's file: one JSON document with a schema version, written whole or not at all.

A checksum over the content tells a damaged file from a job: a flipped bit can turn "10 gpm" into
"30 gpm". A file written by another program may leave it out.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from workbench import safe_file
from workbench.job import migrations
from workbench.job.job import SCHEMA_VERSION, Job
from workbench.words import tr

FORMAT = "tank-workbench job"
SUFFIX = ".tankjob.json"
_CHECKSUM = "checksum"
_LARGEST_FILE = 8 * 1024 * 1024  # 15,000 tanks in the snapshot

MIGRATIONS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {1: migrations.from_1}
"""From each older schema version, the step to the next. A golden file of each is kept in tests."""


_MOST_TOLD = 5  # missing entries by name
_MAY_BE_MISSING = {"demo", "title", "catalog"}  # no inputs of the sizing


class JobError(safe_file.FileError):
    """A job file that cannot be read."""


def to_bytes(job: Job) -> bytes:
    """The file content of a job: UTF-8 JSON, one input to a line, the same every time."""
    from workbench.job.checking import plain  # pydantic: not needed before the first frame

    content = plain(job)
    sealed = {"format": FORMAT, _CHECKSUM: checksum(content)} | content
    text = json.dumps(sealed, ensure_ascii=False, indent=1) + "\n"
    return text.encode(errors="backslashreplace")  # half a character becomes JSON's own "\ud800"


def checksum(content: dict[str, Any]) -> str:
    """Of the values, not of the text: spaces and the order of the keys do not count."""
    text = json.dumps(content, ensure_ascii=True, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def write(job: Job, path: Path) -> None:
    """Write a job so that a crash or a full disk leaves the old file or the new one, whole.

    Raises:
        safe_file.SaveError: nothing was written; the old file is untouched.
    """
    data = to_bytes(job)
    if len(data) > _LARGEST_FILE:
        raise safe_file.SaveError(
            tr(
                "The job is too large to be saved: it would hold too many of the catalogue's tanks."
            ),
            tr("Narrow the limits so that fewer tanks pass, or split the catalogue."),
        )
    safe_file.write_atomic(path, data)


def read(path: Path) -> Job:
    """Read a job file.

    Raises:
        JobError: missing, not a job, damaged, or of a newer version of the program.
    """
    try:
        data = safe_file.read_bytes(path, _LARGEST_FILE)
    except safe_file.ReadError as error:
        raise JobError(error.message, error.remedy) from error
    return from_bytes(data, path.name)


def from_bytes(data: bytes, name: str) -> Job:
    """Read the content of a job file; ``name`` is for messages. Raises :class:`JobError`."""
    content = _as_json(data, name)
    if not isinstance(content, dict) or content.pop("format", None) != FORMAT:
        raise JobError(
            tr("{name} is not a job of this program.", name=name),
            tr("Open a file that this program has saved, ending in {suffix}.", suffix=SUFFIX),
        )
    _check_version(content.get("schema_version"), name)
    _check_sum(content, name)
    for version in range(content["schema_version"], SCHEMA_VERSION):
        content = MIGRATIONS[version](content)
    _check_complete(content, name)
    from workbench.job.checking import UnfitError, job_of

    try:
        return job_of(content)
    except UnfitError as error:
        raise JobError(
            tr("{name} has entries that cannot be used: {entries}", name=name, entries=error),
            tr("Mend these entries in a text editor, or open an older copy."),
        ) from error  # fmt: skip
    except RecursionError as error:
        raise _damaged(name) from error


def _check_sum(content: dict[str, Any], name: str) -> None:
    """Take the checksum out of the content; without one there is nothing to hold it against."""
    given = content.pop(_CHECKSUM, None)
    if given is not None and given != checksum(content):
        raise JobError(
            tr("{name} was damaged, or changed outside this program.", name=name),
            tr("Open an older copy. If it was changed on purpose, remove its line “checksum”."),
        )


def _check_complete(content: dict[str, Any], name: str) -> None:
    """Every input must stand in the file: a default put in its place would be a silent guess."""
    missing = [entry for entry in Job.entries() if entry not in {*content, *_MAY_BE_MISSING}]
    if missing:
        told = ", ".join(missing[:_MOST_TOLD])
        if len(missing) > _MOST_TOLD:
            told = tr("{some} and {count} more", some=told, count=len(missing) - _MOST_TOLD)
        raise JobError(
            tr("{name} lacks these entries: {entries}.", name=name, entries=told),
            tr("Open a file that this program has saved."),
        )


def _as_json(data: bytes, name: str) -> Any:
    try:
        text = data.decode("utf-8-sig")
        return json.loads(text, object_pairs_hook=_unique, parse_constant=_refuse)
    except (ValueError, RecursionError) as error:  # UnicodeDecodeError is a ValueError
        raise _damaged(name) from error


def _unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    content = dict(pairs)
    if len(content) < len(pairs):
        raise ValueError("a key stands twice")
    return content


def _refuse(word: str) -> Any:
    raise ValueError(f"{word} is no number of a job")


def _damaged(name: str) -> JobError:
    return JobError(
        tr("{name} is damaged: it is not complete JSON text.", name=name),
        tr("Open an older copy of the file."),
    )


def _check_version(version: Any, name: str) -> None:
    if type(version) is not int or version < 1:
        raise JobError(
            tr("{name} does not say which version of the job format it has.", name=name),
            tr("Open a file that this program has saved."),
        )
    if version > SCHEMA_VERSION:
        raise JobError(
            tr("{name} was saved by a newer version of this program.", name=name),
            tr("Update the program, then open the job again. The file was not changed."),
        )
