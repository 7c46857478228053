"""What pydantic does for a job: it checks every entry, and turns a job into plain data and back."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from workbench.catalog.problems import shown
from workbench.job.job import Job
from workbench.words import tr

_MOST_TOLD = 5
_LONGEST_LIST = 400  # characters


class UnfitError(ValueError):
    """Entries that cannot stand in a job; the text lists them with the reasons."""


@lru_cache(maxsize=1)
def _adapter() -> TypeAdapter[Job]:
    return TypeAdapter(Job)


def job_of(content: dict[str, Any]) -> Job:
    """The job with these entries, each as text or as a value.

    Raises:
        UnfitError: an entry is unknown or cannot be used. A quantity that cannot be read can.
    """
    try:
        return _adapter().validate_python(content)
    except ValidationError as error:
        raise UnfitError(_told(error)) from error


def plain(job: Job) -> dict[str, Any]:
    """The job's entries as they stand in a file."""
    data: dict[str, Any] = _adapter().dump_python(job, mode="json")
    return data


def json_schema() -> dict[str, Any]:
    """A JSON Schema of a job's entries, for other programs that write job files."""
    return _adapter().json_schema()


def _told(error: ValidationError) -> str:
    problems = error.errors(include_url=False, include_input=False)
    lines = [
        f"{shown('.'.join(str(part) for part in problem['loc'])) or '?'}: {shown(problem['msg'])}"
        for problem in problems[:_MOST_TOLD]
    ]
    if len(problems) > _MOST_TOLD:
        lines.append(tr("and {count} more", count=len(problems) - _MOST_TOLD))
    return "; ".join(lines)[:_LONGEST_LIST]
