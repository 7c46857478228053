"""The job's file: one JSON document with a schema version, written whole or not at all."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from workbench import safe_file
from workbench.job import migrations, sealed
from workbench.job.job import Job
from workbench.words import tr

FORMAT = "tank-workbench job"
SUFFIX = ".tankjob.json"

_MAY_BE_MISSING = {"demo", "title", "catalog"}  # no inputs of the sizing


class JobError(safe_file.FileError):
    """A job file that cannot be read."""


def to_bytes(job: Job) -> bytes:
    """The file content of a job: UTF-8 JSON, one input to a line, the same every time."""
    from workbench.job.checking import plain  # pydantic: not needed before the first frame

    return sealed.to_bytes(FORMAT, plain(job))


def write(job: Job, path: Path) -> None:
    """Write a job so that a crash or a full disk leaves the old file or the new one, whole.

    Raises:
        safe_file.SaveError: nothing was written; the old file is untouched.
    """
    data = to_bytes(job)
    if len(data) > sealed.LARGEST_FILE:
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
    return from_bytes(sealed.read(path, JobError), path.name)


def from_bytes(data: bytes, name: str) -> Job:
    """Read the content of a job file; ``name`` is for messages. Raises :class:`JobError`."""
    content = sealed.unsealed(data, name, FORMAT, JobError)
    if content is None:
        raise JobError(
            tr("{name} is not a job of this program.", name=name),
            tr("Open a file that this program has saved, ending in {suffix}.", suffix=SUFFIX),
        )
    content = migrations.migrated(content)
    inputs = (entry for entry in Job.entries() if entry not in _MAY_BE_MISSING)
    sealed.require(content, inputs, name, JobError)
    return job_from(content, name, JobError)


def job_from(content: dict[str, Any], name: str, error: sealed.Errors) -> Job:
    """The job with the entries of a file of that name. Raises ``error``: one cannot be used."""
    from workbench.job.checking import UnfitError, job_of

    try:
        return job_of(content)
    except UnfitError as problem:
        raise sealed.unusable(name, problem, error) from problem
    except RecursionError as problem:
        raise sealed.damaged(name, error) from problem
